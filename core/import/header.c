/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "header.h"

#include <string.h>

/* A longer name is no name; looking for units in it would take time with the square of its length. */
#define LONGEST_NAME 1000

/* Words that make a name speak of a quantity. */
enum {
  IS_TIME = 1 << 0,
  IS_COMMAND = 1 << 1,
  IS_ANGLE = 1 << 2,
  IS_VELOCITY = 1 << 3,
  IS_TORQUE = 1 << 4,
  IS_OTHER = 1 << 5,   /* of something derived, or not of ours: "torque error", "motor temperature" */
  IS_FOREIGN = 1 << 6, /* a unit no channel is written in: "torque_pct" */
  IS_PLAIN = 1 << 7,   /* says where or how, and nothing of the unit: "rim torque measured" */
};

static const struct {
  guint kind;
  const char *words;
} vocabulary[] = {
  { IS_TIME, " time timestamp elapsed t " },
  { IS_COMMAND,
    " command commanded cmd setpoint set demand demanded target desired requested request reference ref u " },
  { IS_ANGLE, " angle position pos theta phi rotation θ φ " },
  { IS_VELOCITY, " velocity vel speed omega ω " },
  { IS_TORQUE, " torque trq tq moment tau τ " },
  { IS_OTHER, " error err slope derivative rate acceleration accel acc jerk sd std sigma noise limit max min power "
              "current voltage temperature temp gain offset " },
  { IS_FOREIGN, " m mm cm km a ma v mv w n kn kg percent pct counts count ticks raw lsb adc " },
  { IS_PLAIN,
    " motor rim wheel shaft steering steer base drive axis joint output out input in sensor encoder resolver "
    "estimated est measured meas actual act real filtered filt smoothed signal value channel ch feedback fb mean "
    "average avg total log logged x y z q d " },
};

static guint
kind_of_word (const char *word)
{
  g_autofree char *whole = g_strdup_printf (" %s ", word);
  for (guint i = 0; i < G_N_ELEMENTS (vocabulary); i++)
    if (strstr (vocabulary[i].words, whole) != NULL)
      return vocabulary[i].kind;
  return 0;
}

/* "MotorTorque_raw" -> motor, torque, raw. */
static GPtrArray *
words_of (const char *text)
{
  GPtrArray *words = g_ptr_array_new_with_free_func (g_free);
  GString *word = g_string_new (NULL);
  gboolean after_small = FALSE;
  const char *p = text;
  for (gunichar letter = 1; letter != 0; p += g_utf8_skip[(guchar) *p]) {
    letter = g_utf8_get_char (p);
    gboolean in_word = g_unichar_isalnum (letter) || letter == '%';
    if (word->len > 0 && (!in_word || (after_small && g_unichar_isupper (letter)))) {
      g_ptr_array_add (words, g_strdup (word->str));
      g_string_truncate (word, 0);
    }
    if (in_word)
      g_string_append_unichar (word, g_unichar_tolower (letter));
    after_small = g_unichar_islower (letter);
  }
  g_string_free (word, TRUE);
  return words;
}

/* The channel a name speaks of; -1 when of none, or of several at once. *foreign tells of a unit we do not know. */
static int
channel_of_name (const char *text, gboolean *foreign)
{
  g_autoptr (GPtrArray) words = words_of (text);
  guint kinds = 0;
  for (guint i = 0; i < words->len; i++) {
    const char *word = words->pdata[i];
    guint kind = strcmp (word, "%") == 0 ? IS_FOREIGN : kind_of_word (word);
    /* A letter is a name when it stands alone and a unit, at most, when it follows one. */
    gboolean letter = g_utf8_strlen (word, -1) == 1;
    if (!letter || words->len == 1 || (kind == IS_FOREIGN && i > 0))
      kinds |= kind;
  }
  *foreign = (kinds & IS_FOREIGN) != 0;
  guint quantities = kinds & (IS_TIME | IS_ANGLE | IS_VELOCITY | IS_TORQUE);
  if ((kinds & IS_OTHER) || (quantities & (quantities - 1)))
    return -1;
  if (kinds & IS_COMMAND)
    return (quantities & ~(guint) IS_TORQUE) ? -1 : SB_CHANNEL_COMMAND;
  static const struct {
    guint kind;
    int channel;
  } channels[] = { { IS_TIME, SB_CHANNEL_TIME },
                   { IS_ANGLE, SB_CHANNEL_ANGLE },
                   { IS_VELOCITY, SB_CHANNEL_VELOCITY },
                   { IS_TORQUE, SB_CHANNEL_TORQUE } };
  for (guint i = 0; i < G_N_ELEMENTS (channels); i++)
    if (quantities == channels[i].kind)
      return channels[i].channel;
  return -1;
}

/* A name that is a unit and nothing else, "rpm", speaks of what is measured in it. */
static int
channel_of_unit (const SbUnit *unit)
{
  switch (unit->dimension) {
  case SB_DIMENSION_TIME:
    return SB_CHANNEL_TIME;
  case SB_DIMENSION_ANGLE:
    return SB_CHANNEL_ANGLE;
  case SB_DIMENSION_VELOCITY:
    return SB_CHANNEL_VELOCITY;
  case SB_DIMENSION_TORQUE:
    return SB_CHANNEL_TORQUE;
  }
  g_assert_not_reached ();
}

/* Takes the unit a channel can have; anything else is a problem to tell. */
static void
settle (SbColumnMeaning *meaning, int channel, const char *spelling, const SbUnit *unit)
{
  if (channel < 0)
    return;
  SbDimension wanted = sb_channel_dimension ((SbChannel) channel);
  if (unit != NULL && unit->dimension == wanted) {
    meaning->channel = channel;
    meaning->unit = unit;
    return;
  }
  g_autofree char *list = sb_unit_list (wanted);
  meaning->problem = g_strdup_printf ("the unit '%s' is not one for %s (%s); the column is read past", spelling,
                                      sb_channel_key ((SbChannel) channel), list);
}

/* The lone letter T is torque when its unit says so, and time otherwise. */
static int
channel_with_unit (const char *base, const SbUnit *unit)
{
  gboolean foreign;
  if (unit != NULL && unit->dimension == SB_DIMENSION_TORQUE && g_ascii_strcasecmp (base, "t") == 0)
    return SB_CHANNEL_TORQUE;
  if (*base == '\0')
    return unit != NULL ? channel_of_unit (unit) : -1;
  return channel_of_name (base, &foreign);
}

static gboolean
says_nothing (const char *bracketed)
{
  return *bracketed == '\0' || strcmp (bracketed, "-") == 0;
}

/* "Torque (filtered) [Nm]": the bracket that is a unit, else the last square one, else a short round one (a word in
 * round brackets is a remark). *rest is the name without brackets. NULL when there is no unit in brackets. */
static char *
unit_in_brackets (const char *name, char **rest)
{
  g_autofree char *found = NULL;
  gboolean known = FALSE;
  GString *outside = g_string_new (NULL);
  const char *p = name;
  while (*p != '\0') {
    const char *close = *p == '[' ? strchr (p, ']') : *p == '(' ? strchr (p, ')') : NULL;
    if (close == NULL) {
      g_string_append_c (outside, *p++);
      continue;
    }
    g_autofree char *inside = g_strstrip (g_strndup (p + 1, (gsize) (close - p - 1)));
    gboolean is_unit = sb_unit_find (inside) != NULL;
    gboolean remark = says_nothing (inside) || (*p == '(' && !is_unit && g_utf8_strlen (inside, -1) > 4);
    if (!known && !remark && (is_unit || found == NULL || *p == '[')) {
      g_free (found);
      found = g_strdup (inside);
      known = is_unit;
    }
    g_string_append_c (outside, ' ');
    p = close + 1;
  }
  *rest = g_strstrip (g_string_free (outside, FALSE));
  return g_steal_pointer (&found);
}

/* "velocity_rad_s": tries what follows each separator, the longest first, as a unit of what precedes it. */
static gboolean
read_with_suffix (SbColumnMeaning *meaning, const char *name)
{
  for (const char *p = name; *p != '\0'; p++) {
    gboolean separator = *p == '_' || *p == ' ' || *p == '/';
    if (p > name && !separator)
      continue;
    const char *suffix = p + (separator ? 1 : 0);
    suffix += strspn (suffix, " ");
    const SbUnit *unit = sb_unit_find (suffix);
    if (unit == NULL)
      continue;
    g_autofree char *base = g_strndup (name, (gsize) (p - name));
    int channel = channel_with_unit (g_strstrip (base), unit);
    if (channel < 0 || unit->dimension != sb_channel_dimension ((SbChannel) channel))
      continue;
    settle (meaning, channel, suffix, unit);
    return TRUE;
  }
  return FALSE;
}

/* The last word of "SpeedRpm", or of "torque_kgfmm": a unit, or something that might be one, written close. */
static char *
last_word (const char *name)
{
  g_autoptr (GPtrArray) words = words_of (name);
  return words->len > 1 ? g_strdup (words->pdata[words->len - 1]) : NULL;
}

static void
read_without_brackets (SbColumnMeaning *meaning, const char *name)
{
  gboolean foreign = FALSE;
  if (read_with_suffix (meaning, name))
    return;
  int channel = channel_of_name (name, &foreign);
  if (channel < 0)
    return;
  g_autofree char *word = last_word (name);
  const SbUnit *unit = word != NULL ? sb_unit_find (word) : NULL;
  /* A last word that is none of ours may be a unit: "torque_kgmm". */
  gboolean strange = word != NULL && kind_of_word (word) == 0 && !g_ascii_isdigit (word[0]);
  if (foreign || unit != NULL || strange)
    settle (meaning, channel, word != NULL ? word : name, unit);
  else
    meaning->channel = channel;
}

void
sb_column_meaning_read (SbColumnMeaning *meaning, const char *name)
{
  g_autofree char *rest = NULL;
  *meaning = (SbColumnMeaning){ .name = g_strstrip (g_strdup (name)), .channel = -1 };
  if (strlen (meaning->name) > LONGEST_NAME)
    return;
  g_autofree char *spelling = unit_in_brackets (meaning->name, &rest);
  if (spelling == NULL) {
    read_without_brackets (meaning, rest);
    return;
  }
  const SbUnit *unit = sb_unit_find (spelling);
  settle (meaning, channel_with_unit (rest, unit), spelling, unit);
}

void
sb_column_meaning_clear (SbColumnMeaning *meaning)
{
  g_free (meaning->name);
  g_free (meaning->problem);
}
