/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "header.h"

#include "name_parts.h"
#include "number_unit.h"
#include "unit_multiple.h"
#include "vocabulary.h"

#include <string.h>

/* A longer name is no name; looking for units in it would take time with the square of its length. */
#define LONGEST_NAME 1000
/* "motor sensor channel 3": where and how, but not what. */
#define SAYS_NOTHING (SB_WORD_PLAIN | SB_WORD_MOTOR | SB_WORD_ACTUAL | SB_WORD_ESTIMATED)

/* What the words of a name say together. */
typedef struct {
  guint n_words;
  guint kinds;      /* SbWordKinds of all words */
  guint symbol;     /* what a lone letter in front may stand for */
  gboolean strange; /* the last of several words is none of ours: it may be a unit */
} Words;

static gboolean
is_letter (const char *word)
{
  return g_utf8_strlen (word, -1) == 1;
}

static Words
read_words (const char *text)
{
  g_autoptr (GPtrArray) list = sb_words_split (text);
  Words words = { .n_words = list->len };
  for (guint i = 0; i < list->len; i++) {
    const char *word = list->pdata[i];
    guint kinds = sb_word_kinds (word);
    /* "n" is a speed in front of other words and newtons behind them. */
    gboolean symbol = i == 0 && is_letter (word);
    if (symbol)
      words.symbol = sb_word_symbol (word);
    if (!symbol || !(kinds & SB_WORD_FOREIGN))
      words.kinds |= kinds;
    words.strange = i > 0 && kinds == 0 && !g_ascii_isdigit (word[0]);
  }
  return words;
}

/* The words that suit a unit; none for percent, which suits many. */
static guint
kinds_of_unit (const SbUnit *unit)
{
  static const guint kinds[SB_N_DIMENSIONS] = {
    [SB_DIMENSION_TIME] = SB_WORD_TIME,
    [SB_DIMENSION_ANGLE] = SB_WORD_ANGLE,
    [SB_DIMENSION_VELOCITY] = SB_WORD_VELOCITY,
    [SB_DIMENSION_TORQUE] = SB_WORD_TORQUE,
    [SB_DIMENSION_CURRENT] = SB_WORD_CURRENT,
    [SB_DIMENSION_VOLTAGE] = SB_WORD_VOLTAGE | SB_WORD_SUPPLY,
    [SB_DIMENSION_TEMPERATURE] = SB_WORD_TEMPERATURE,
    [SB_DIMENSION_COUNTS] = SB_WORD_ANGLE,
    [SB_DIMENSION_SAMPLES] = SB_WORD_TIME | SB_WORD_SAMPLE,
    [SB_DIMENSION_CLOCK] = SB_WORD_TIME,
  };
  return unit != NULL ? kinds[unit->dimension] : 0;
}

/* Of several quantities the one a reader would take: a rotation speed is a speed, and the current angle the present
 * one. */
static guint
reduce (guint quantity)
{
  if (quantity & (SB_WORD_ANGLE | SB_WORD_VELOCITY))
    quantity &= ~(guint) SB_WORD_CURRENT;
  if (quantity & SB_WORD_CURRENT)
    quantity &= ~(guint) SB_WORD_TORQUE;
  if (quantity & SB_WORD_VELOCITY)
    quantity &= ~(guint) SB_WORD_ANGLE;
  if (quantity & SB_WORD_SUPPLY)
    quantity &= ~(guint) SB_WORD_VOLTAGE;
  if (quantity & SB_WORD_TIME)
    quantity &= ~(guint) SB_WORD_SAMPLE;
  return quantity;
}

/* What is measured, as one or no SbWordKind. *guessed tells that it rests on a bare letter or on the unit alone. */
static guint
quantity_of (const Words *words, const SbUnit *unit, gboolean *guessed)
{
  guint quantity = words->kinds & SB_WORD_QUANTITIES;
  guint fitting = kinds_of_unit (unit);
  if ((quantity & SB_WORD_SUPPLY) && (quantity & SB_WORD_CURRENT))
    return 0; /* of the supply, not of the motor */
  if ((quantity & SB_WORD_TORQUE) && unit != NULL && unit->dimension == SB_DIMENSION_VOLTAGE)
    return SB_WORD_TORQUE; /* the voltage of its transducer */
  if (quantity & fitting)
    return reduce (quantity & fitting);
  if (quantity != 0)
    return reduce (quantity);
  if (words->symbol & fitting)
    return reduce (words->symbol & fitting);
  if (unit != NULL && !(words->kinds & SB_WORD_COMMAND)) {
    *guessed = words->n_words > 0;
    return fitting & ~(guint) (SB_WORD_SUPPLY | SB_WORD_SAMPLE);
  }
  if (unit == NULL && words->n_words > 1 && (words->kinds & (SB_WORD_COMMAND | SB_WORD_ACTUAL | SB_WORD_ESTIMATED))) {
    *guessed = TRUE;
    return words->symbol & -words->symbol;
  }
  return 0;
}

static SbRole
role_of_quantity (guint quantity, const Words *words, gboolean *guessed)
{
  switch (quantity) {
  case SB_WORD_TIME:
    return SB_ROLE_TIME;
  case SB_WORD_SAMPLE:
    *guessed |= words->n_words > 1;
    return SB_ROLE_TIME;
  case SB_WORD_ANGLE:
    return SB_ROLE_ANGLE;
  case SB_WORD_VELOCITY:
    return SB_ROLE_VELOCITY;
  case SB_WORD_TORQUE:
    return SB_ROLE_TORQUE;
  case SB_WORD_CURRENT:
    return SB_ROLE_CURRENT;
  case SB_WORD_TEMPERATURE:
    return SB_ROLE_TEMPERATURE;
  case SB_WORD_SUPPLY:
    return SB_ROLE_SUPPLY;
  case SB_WORD_VOLTAGE:
    *guessed = TRUE;
    return words->kinds & SB_WORD_MOTOR ? SB_ROLE_OTHER : SB_ROLE_SUPPLY;
  default: /* none, or several at once */
    return SB_ROLE_OTHER;
  }
}

/* The role that words and unit make; SB_ROLE_OTHER for none. */
static SbRole
role_of (const Words *words, const SbUnit *unit, gboolean *guessed)
{
  *guessed = FALSE;
  if (words->kinds & SB_WORD_OTHER)
    return SB_ROLE_OTHER;
  if (words->n_words == 1 && unit == NULL && words->symbol != 0 && !(words->kinds & SB_WORD_QUANTITIES)) {
    *guessed = (words->symbol & SB_WORD_COMMAND) != 0;
    return words->symbol & SB_WORD_COMMAND ? SB_ROLE_COMMAND
           : words->symbol & SB_WORD_TIME  ? SB_ROLE_TIME
                                           : SB_ROLE_OTHER;
  }
  guint quantity = quantity_of (words, unit, guessed);
  gboolean command = (words->kinds & SB_WORD_COMMAND)
                     || (words->n_words == 1 && (words->symbol & SB_WORD_COMMAND) && quantity == SB_WORD_TORQUE);
  if (!command)
    return role_of_quantity (quantity, words, guessed);
  *guessed = FALSE;
  return quantity == 0 || quantity == SB_WORD_TORQUE || quantity == SB_WORD_CURRENT ? SB_ROLE_COMMAND : SB_ROLE_OTHER;
}

/* A range or a resolution may stand there as well. */
static void
ask_for_number (SbColumnMeaning *meaning, const char *spelling)
{
  if (!sb_unit_is_in_numbers (spelling))
    return;
  meaning->certainty = SB_CERTAINTY_GUESSED;
  meaning->problem = g_strdup_printf ("its unit is written '%s': each number is taken for so many times %s", spelling,
                                      meaning->unit->name);
}

/* Takes the unit a role can have; anything else is a problem to tell. */
static void
settle (SbColumnMeaning *meaning, SbRole role, gboolean guessed, const char *spelling, const SbUnit *unit)
{
  meaning->role = SB_ROLE_OTHER;
  meaning->says_nothing = FALSE;
  if (role == SB_ROLE_OTHER)
    return;
  if (unit != NULL && sb_unit_suits_role (unit, role)) {
    meaning->role = role;
    meaning->unit = unit;
    meaning->certainty = guessed ? SB_CERTAINTY_GUESSED : SB_CERTAINTY_STATED;
    ask_for_number (meaning, spelling);
    return;
  }
  g_autofree char *list = sb_role_unit_list (role);
  meaning->problem = g_strdup_printf ("the unit '%s' is not one for %s (%s); the column is read past", spelling,
                                      sb_role_key (role), list);
}

static void
settle_without_unit (SbColumnMeaning *meaning, const Words *words, SbRole role, gboolean guessed)
{
  meaning->role = role;
  meaning->certainty = guessed ? SB_CERTAINTY_GUESSED : SB_CERTAINTY_ASSUMED;
  if (role == SB_ROLE_TIME && (words->kinds & SB_WORD_SAMPLE) && !(words->kinds & SB_WORD_TIME)) {
    meaning->unit = sb_unit_find ("samples");
    meaning->certainty = guessed ? SB_CERTAINTY_GUESSED : SB_CERTAINTY_STATED;
  }
  if (role == SB_ROLE_OTHER)
    meaning->certainty = SB_CERTAINTY_STATED;
}

/* A bracket without a unit: empty, a dash, the zone of a clock. */
static gboolean
says_nothing (const char *bracketed)
{
  return *bracketed == '\0' || strcmp (bracketed, "-") == 0 || g_ascii_strcasecmp (bracketed, "utc") == 0
         || g_ascii_strcasecmp (bracketed, "gmt") == 0;
}

/* "Grad" is a degree beside a German or Swedish word, and else no unit of ours. */
static const SbUnit *
find_unit (const char *spelling, const char *base)
{
  const SbUnit *unit = sb_unit_find (spelling);
  gboolean grad = unit == NULL && g_ascii_strncasecmp (spelling, "grad", 4) == 0;
  g_autoptr (GPtrArray) words = grad ? sb_words_split (base) : NULL;
  for (guint i = 0; grad && i < words->len; i++)
    if (sb_word_says_grad_for_degree (words->pdata[i]))
      return spelling[4] == '\0' ? sb_unit_find ("deg") : sb_unit_find (strcmp (spelling + 4, "/s") == 0 ? "dps" : "");
  return unit;
}

/* Many times a unit, be it one that we do not know so: "0.25 deg", "kilo-°F". No mere remark. */
static gboolean
is_multiple (const char *inside)
{
  const SbUnit *unit = NULL;
  int power_of_ten;
  const char *behind = sb_unit_multiplier_read (inside, &power_of_ten);
  if (behind == NULL)
    return sb_number_before_unit (inside, strlen (inside), &unit) > 0;
  return sb_unit_find (behind) != NULL;
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
    gboolean is_unit = find_unit (inside, name) != NULL;
    gboolean remark
        = says_nothing (inside) || (*p == '(' && !is_unit && !is_multiple (inside) && g_utf8_strlen (inside, -1) > 4);
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

/* A name that is nothing but a unit speaks of what is measured in it, if it is not a letter or word of many meanings
 * ("A", "count"). */
static gboolean
may_stand_alone (const char *base, const char *spelling, const SbUnit *unit)
{
  if (*base != '\0')
    return TRUE;
  switch (unit->dimension) {
  case SB_DIMENSION_PERCENT:
  case SB_DIMENSION_COUNTS:
    return FALSE;
  case SB_DIMENSION_CURRENT:
  case SB_DIMENSION_VOLTAGE:
  case SB_DIMENSION_TEMPERATURE:
    return strlen (spelling) > 1;
  case SB_DIMENSION_TIME:
    return !unit->scaled; /* "min" is a minimum as well */
  case SB_DIMENSION_ANGLE:
  case SB_DIMENSION_VELOCITY:
  case SB_DIMENSION_TORQUE:
  case SB_DIMENSION_SAMPLES:
  case SB_DIMENSION_CLOCK:
  case SB_N_DIMENSIONS:
    break;
  }
  return TRUE;
}

/* "Channel A", "Sonde K": a capital behind words that do not say what is measured counts them, and is no unit. */
static gboolean
is_letter_of_a_channel (const char *suffix, const Words *words)
{
  gboolean says = (words->kinds & ~(guint) SB_WORD_PLAIN) != 0 || words->symbol != 0;
  return g_ascii_isupper (suffix[0]) && suffix[1] == '\0' && words->n_words > 0 && !says;
}

/* "velocity_rad_s": tries what follows each separator, the longest first, as a unit of what precedes it. */
static gboolean
read_with_suffix (SbColumnMeaning *meaning, const char *name)
{
  for (const char *p = name; *p != '\0'; p++) {
    gboolean separator = *p == '_' || *p == ' ' || *p == '/';
    if (p > name && !separator && strcmp (p, "%") != 0)
      continue;
    const char *suffix = p + (separator ? 1 : 0);
    suffix += strspn (suffix, " ");
    g_autofree char *base = g_strstrip (g_strndup (name, (gsize) (p - name)));
    const SbUnit *unit = find_unit (suffix, base);
    /* "Torque 1 Nm": the number may count sensors. */
    if (unit == NULL || !may_stand_alone (base, suffix, unit) || sb_unit_is_in_numbers (suffix))
      continue;
    gboolean guessed;
    Words words = read_words (base);
    SbRole role = role_of (&words, unit, &guessed);
    if (role == SB_ROLE_OTHER || !sb_unit_suits_role (unit, role))
      continue;
    if (separator && *p != '/' && is_letter_of_a_channel (suffix, &words))
      continue;
    /* A bare N·m may as well be the commanded one. */
    guessed |= role == SB_ROLE_TORQUE && words.n_words == 0;
    settle (meaning, role, guessed, suffix, unit);
    return TRUE;
  }
  return FALSE;
}

/* "encoder", "enc 1", "position raw": the angle in counts, to be confirmed. */
static gboolean
is_counter (const Words *words, SbRole role)
{
  if (words->strange)
    return FALSE;
  if (role == SB_ROLE_ANGLE)
    return (words->kinds & SB_WORD_RAW) != 0;
  guint beside = SAYS_NOTHING | SB_WORD_ENCODER | (words->kinds & SB_WORD_RAW ? SB_WORD_RAW | SB_WORD_FOREIGN : 0);
  return role == SB_ROLE_OTHER && (words->kinds & SB_WORD_ENCODER) != 0 && (words->kinds & ~beside) == 0;
}

static void
settle_as_counter (SbColumnMeaning *meaning)
{
  meaning->role = SB_ROLE_ANGLE;
  meaning->unit = sb_unit_find ("counts");
  meaning->certainty = SB_CERTAINTY_GUESSED;
  meaning->problem = g_strdup ("names an encoder or raw numbers: taken for the angle in counts");
}

static void
read_without_unit (SbColumnMeaning *meaning, const char *name)
{
  gboolean guessed;
  Words words = read_words (name);
  SbRole role = role_of (&words, NULL, &guessed);
  if (is_counter (&words, role)) {
    settle_as_counter (meaning);
    return;
  }
  g_autofree char *word = sb_name_last_word (name);
  const SbUnit *unit = word != NULL ? sb_unit_find (word) : NULL;
  gboolean is_word
      = word != NULL && (sb_word_kinds (word) & ~(guint) (SB_WORD_FOREIGN | SB_WORD_ENCODER | SB_WORD_RAW)) != 0;
  gboolean foreign = (words.kinds & SB_WORD_FOREIGN) != 0 || (unit != NULL && !is_word) || words.strange;
  meaning->says_nothing = role == SB_ROLE_OTHER && (words.kinds & ~(guint) SAYS_NOTHING) == 0;
  if (foreign && role != SB_ROLE_OTHER)
    settle (meaning, role, guessed, word != NULL ? word : name, unit);
  else
    settle_without_unit (meaning, &words, role, guessed);
}

static void
read_with_spelling (SbColumnMeaning *meaning, const char *base, const char *spelling)
{
  gboolean guessed;
  const SbUnit *unit = find_unit (spelling, base);
  Words words = read_words (base);
  SbRole role = role_of (&words, unit, &guessed);
  settle (meaning, role, guessed, spelling, unit);
}

/* "Nm", "[Nm]" or "(Nm)" of a units row, without brackets; NULL when it says nothing. */
static char *
unit_of_cell (const char *cell)
{
  if (cell == NULL)
    return NULL;
  g_autofree char *text = g_strstrip (g_strdup (cell));
  gsize length = strlen (text);
  gboolean bracketed
      = length > 2 && ((text[0] == '[' && text[length - 1] == ']') || (text[0] == '(' && text[length - 1] == ')'));
  char *inside = bracketed ? g_strstrip (g_strndup (text + 1, length - 2)) : g_steal_pointer (&text);
  if (!says_nothing (inside))
    return inside;
  g_free (inside);
  return NULL;
}

/* What a guess rests on. */
static char *
explain_guess (const SbColumnMeaning *meaning)
{
  const char *role = sb_role_key (meaning->role);
  return meaning->unit != NULL ? g_strdup_printf ("taken for the %s because its unit is %s", role, meaning->unit->name)
                               : g_strdup_printf ("taken for the %s because of its first letter", role);
}

/* TRUE when the unit alone makes SI of the numbers. */
static gboolean
is_readable (const SbColumnMeaning *meaning)
{
  return meaning->unit == NULL || (meaning->unit->dimension == sb_channel_dimension ((SbChannel) meaning->role));
}

static void
finish (SbColumnMeaning *meaning)
{
  gboolean guessed = meaning->role != SB_ROLE_OTHER && meaning->certainty == SB_CERTAINTY_GUESSED;
  meaning->channel = guessed ? -1 : sb_role_channel (meaning->role);
  if (guessed && meaning->problem == NULL)
    meaning->problem = explain_guess (meaning);
  if (meaning->channel < 0 || is_readable (meaning))
    return;
  meaning->channel = -1;
  meaning->problem
      = g_strdup_printf ("%s cannot be read from %s alone", sb_role_key (meaning->role), meaning->unit->name);
}

/* Nobody knows whether the numbers are to be divided by it. */
static void
ask_for_factor (SbColumnMeaning *meaning)
{
  g_autofree char *factor = meaning->role != SB_ROLE_OTHER ? sb_name_factor (meaning->name) : NULL;
  if (factor == NULL || meaning->problem != NULL)
    return;
  meaning->certainty = SB_CERTAINTY_GUESSED;
  meaning->problem = g_strdup_printf ("its name says %s: the numbers are taken as they are written, which is too large "
                                      "or too small if they were multiplied by that",
                                      factor);
}

void
sb_column_meaning_read_with_unit (SbColumnMeaning *meaning, const char *name, const char *unit_cell)
{
  g_autofree char *rest = NULL;
  *meaning = (SbColumnMeaning){ .name = g_strstrip (g_strdup (name)), .role = SB_ROLE_OTHER, .channel = -1 };
  if (strlen (meaning->name) > LONGEST_NAME)
    return;
  g_autofree char *bracketed = unit_in_brackets (meaning->name, &rest);
  g_autofree char *cell = unit_of_cell (unit_cell);
  if (bracketed != NULL)
    read_with_spelling (meaning, rest, bracketed);
  else if (!read_with_suffix (meaning, rest)) {
    if (cell != NULL)
      read_with_spelling (meaning, rest, cell);
    else
      read_without_unit (meaning, rest);
  }
  ask_for_factor (meaning);
  finish (meaning);
}

void
sb_column_meaning_read (SbColumnMeaning *meaning, const char *name)
{
  sb_column_meaning_read_with_unit (meaning, name, NULL);
}

void
sb_column_meaning_clear (SbColumnMeaning *meaning)
{
  g_free (meaning->name);
  g_free (meaning->problem);
}
