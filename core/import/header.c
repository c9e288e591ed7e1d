/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "header.h"

#include "name_parts.h"
#include "name_unit.h"
#include "name_words.h"
#include "vocabulary.h"

#include <string.h>

/* A longer name is no name; looking for units in it would take time with the square of its length. */
#define LONGEST_NAME 1000

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

/* Turns are counted so, and radians are. */
static const SbUnit *
unit_of_frequency (const char *spelling, const char *name)
{
  static const char *const spellings[] = { "1/s", "s-1", "s^-1", "s⁻¹", "hz", "1/sec", "1/sek" };
  g_autofree char *small = g_utf8_strdown (spelling, -1);
  for (guint i = 0; i < G_N_ELEMENTS (spellings); i++)
    if (strcmp (small, spellings[i]) == 0)
      return sb_unit_find (strcmp (small, "hz") != 0 && sb_words_say_angular (name) ? "rad/s" : "turns/s");
  return NULL;
}

static gboolean
take_frequency (SbColumnMeaning *meaning, SbRole role, const char *spelling)
{
  const SbUnit *unit = role == SB_ROLE_VELOCITY ? unit_of_frequency (spelling, meaning->name) : NULL;
  if (unit == NULL)
    return FALSE;
  meaning->role = role;
  meaning->unit = unit;
  meaning->certainty = SB_CERTAINTY_GUESSED;
  meaning->problem = g_strdup_printf (
      "its unit is written '%s', which may be turns or radians in a second: taken for %s", spelling, unit->name);
  return TRUE;
}

/* Takes the unit a role can have; anything else is a problem to tell. */
static void
settle (SbColumnMeaning *meaning, SbRole role, gboolean guessed, const char *spelling, const SbUnit *unit)
{
  meaning->role = SB_ROLE_OTHER;
  meaning->says_nothing = FALSE;
  if (role == SB_ROLE_OTHER)
    return;
  /* "time [ticks]": their length is another statement. */
  if (role == SB_ROLE_TIME && unit != NULL && unit->dimension == SB_DIMENSION_COUNTS)
    unit = sb_unit_find ("samples");
  if (unit != NULL && sb_unit_suits_role (unit, role)) {
    meaning->role = role;
    meaning->unit = unit;
    meaning->certainty = guessed ? SB_CERTAINTY_GUESSED : SB_CERTAINTY_STATED;
    ask_for_number (meaning, spelling);
    return;
  }
  if (unit == NULL && take_frequency (meaning, role, spelling))
    return;
  g_autofree char *list = sb_role_unit_list (role);
  meaning->problem = g_strdup_printf ("the unit '%s' is not one for %s (%s); the column is read past", spelling,
                                      sb_role_key (role), list);
}

static void
settle_without_unit (SbColumnMeaning *meaning, const SbNameWords *words, SbRole role, gboolean guessed)
{
  meaning->role = role;
  meaning->certainty = guessed ? SB_CERTAINTY_GUESSED : SB_CERTAINTY_ASSUMED;
  if (role == SB_ROLE_TIME && (words->kinds & SB_WORD_SAMPLE)
      && (!(words->kinds & SB_WORD_TIME) || sb_words_say_tick (meaning->name))) {
    meaning->unit = sb_unit_find ("samples");
    meaning->certainty = guessed ? SB_CERTAINTY_GUESSED : SB_CERTAINTY_STATED;
  }
  if (role == SB_ROLE_OTHER)
    meaning->certainty = SB_CERTAINTY_STATED;
}

/* "tick", "sample", "t": what follows in numbers is the time of one of them. */
static gboolean
counts_time (const char *base)
{
  g_autoptr (GPtrArray) words = sb_words_split (base);
  for (guint i = 0; i < words->len; i++) {
    const SbUnit *unit = sb_unit_find (words->pdata[i]);
    gboolean counts
        = unit != NULL && (unit->dimension == SB_DIMENSION_COUNTS || unit->dimension == SB_DIMENSION_SAMPLES);
    if (!counts && (sb_word_kinds (words->pdata[i]) & (SB_WORD_TIME | SB_WORD_SAMPLE)) == 0
        && (sb_word_symbol (words->pdata[i]) & SB_WORD_TIME) == 0)
      return FALSE;
  }
  return words->len > 0;
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
    const SbUnit *unit = sb_name_unit_find (suffix, base);
    if (unit == NULL || !sb_name_unit_may_stand_alone (base, suffix, unit))
      continue;
    /* "Torque 1 Nm": the number may count sensors. */
    if (sb_unit_is_in_numbers (suffix) && !(unit->dimension == SB_DIMENSION_TIME && counts_time (base)))
      continue;
    gboolean guessed;
    SbNameWords words = sb_name_words_read (base);
    SbRole role = sb_name_words_role (&words, unit, &guessed);
    if (role == SB_ROLE_OTHER || !sb_unit_suits_role (unit, role))
      continue;
    if (separator && *p != '/' && sb_name_words_before_letter (&words, suffix))
      continue;
    /* A bare N·m may as well be the commanded one. */
    guessed |= role == SB_ROLE_TORQUE && words.n_words == 0;
    settle (meaning, role, guessed, suffix, unit);
    return TRUE;
  }
  return FALSE;
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
  SbNameWords words = sb_name_words_read (name);
  SbRole role = sb_name_words_role (&words, NULL, &guessed);
  if (sb_name_words_count (&words, role)) {
    settle_as_counter (meaning);
    return;
  }
  g_autofree char *sign = sb_name_sign (name);
  if (sign != NULL && role != SB_ROLE_OTHER) {
    settle (meaning, role, guessed, sign, sb_unit_find (sign));
    return;
  }
  g_autofree char *word = sb_name_last_word (name);
  const SbUnit *unit = word != NULL ? sb_unit_find (word) : NULL;
  gboolean is_word
      = word != NULL && (sb_word_kinds (word) & ~(guint) (SB_WORD_FOREIGN | SB_WORD_ENCODER | SB_WORD_RAW)) != 0;
  gboolean foreign = (words.kinds & SB_WORD_FOREIGN) != 0 || (unit != NULL && !is_word) || words.strange;
  if (sb_words_say_tick (name) && counts_time (name))
    foreign = FALSE; /* "tick_count" */
  meaning->says_nothing = role == SB_ROLE_OTHER && (words.kinds & ~(guint) SB_WORDS_SAY_NOTHING) == 0;
  if (foreign && role != SB_ROLE_OTHER)
    settle (meaning, role, guessed, word != NULL ? word : name, unit);
  else
    settle_without_unit (meaning, &words, role, guessed);
}

static void
read_with_spelling (SbColumnMeaning *meaning, const char *base, const char *spelling)
{
  gboolean guessed;
  const SbUnit *unit = sb_name_unit_find (spelling, base);
  SbNameWords words = sb_name_words_read (base);
  SbRole role = sb_name_words_role (&words, unit, &guessed);
  /* "CH1 (50 ms)" speaks of a filter or a range. */
  if (guessed && unit != NULL && unit->dimension == SB_DIMENSION_TIME && sb_unit_is_in_numbers (spelling)
      && !counts_time (base))
    role = SB_ROLE_OTHER;
  settle (meaning, role, guessed, spelling, unit);
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

/* The number of pole pairs is not in the file: neither the angle nor its derivative is that of the shaft. */
static void
pass_electrical_over (SbColumnMeaning *meaning)
{
  if ((meaning->role != SB_ROLE_ANGLE && meaning->role != SB_ROLE_VELOCITY)
      || !sb_words_say (meaning->name, SB_WORD_ELECTRICAL))
    return;
  g_free (meaning->problem);
  meaning->problem = g_strdup_printf (
      "its name says that it is the electrical %s, which is that of the shaft times the pole pairs of "
      "the motor; the column is read past. Divide it by the pole pairs, and leave the word out",
      sb_role_key (meaning->role));
  meaning->role = SB_ROLE_OTHER;
  meaning->unit = NULL;
  meaning->certainty = SB_CERTAINTY_STATED;
}

/* "Arms", "A eff": torque constants are stated for either. */
static void
ask_about_effective_value (SbColumnMeaning *meaning, const char *unit_cell)
{
  if (meaning->role == SB_ROLE_OTHER || meaning->problem != NULL || meaning->unit == NULL
      || meaning->unit->dimension != SB_DIMENSION_CURRENT)
    return;
  g_autofree char *text = g_strconcat (meaning->name, " ", unit_cell, NULL), *small = g_utf8_strdown (text, -1);
  if (strstr (small, "rms") == NULL && strstr (small, "aeff") == NULL && strstr (small, "a eff") == NULL)
    return;
  meaning->certainty = SB_CERTAINTY_GUESSED;
  meaning->problem = g_strdup_printf ("is an effective value: taken for %s as it is written; a torque constant for the "
                                      "amplitude would be 1.414 times too small for it",
                                      meaning->unit->name);
}

void
sb_column_meaning_read_with_unit (SbColumnMeaning *meaning, const char *name, const char *unit_cell)
{
  g_autofree char *rest = NULL;
  *meaning = (SbColumnMeaning){ .name = g_strstrip (g_strdup (name)), .role = SB_ROLE_OTHER, .channel = -1 };
  if (strlen (meaning->name) > LONGEST_NAME)
    return;
  g_autofree char *bracketed = sb_name_unit_in_brackets (meaning->name, &rest);
  g_autofree char *cell = sb_name_unit_of_cell (unit_cell);
  if (bracketed != NULL)
    read_with_spelling (meaning, rest, bracketed);
  else if (!read_with_suffix (meaning, rest)) {
    if (cell != NULL)
      read_with_spelling (meaning, rest, cell);
    else
      read_without_unit (meaning, rest);
  }
  pass_electrical_over (meaning);
  ask_about_effective_value (meaning, unit_cell);
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
