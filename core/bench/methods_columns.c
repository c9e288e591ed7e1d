/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "methods_columns.h"

#include "number_text.h"

#include <math.h>

/* What there is to say of a column, NULL for nothing. (transfer full) */
typedef char *(*ColumnWords) (const SbLayout *layout, const SbLayoutColumn *column);

/* Columns that a figure rests on and nobody confirmed. */
static char *
guess_words (const SbLayout *layout, const SbLayoutColumn *column)
{
  if (column->certainty != SB_CERTAINTY_GUESSED || column->question == NULL)
    return NULL;
  return g_strdup_printf ("Column '%s' was read by a guess (%s).", column->name, column->question);
}

static char *
overruled_words (const SbLayout *layout, const SbLayoutColumn *column)
{
  g_autofree char *clause = sb_layout_column_overruled (column);
  return clause != NULL ? g_strdup_printf ("C%s.", clause + 1) : NULL;
}

/* "Column 'T' is the signal of a transducer of 2 N·m/V with 2.5 V at no torque." */
static char *
volts_words (const SbLayoutColumn *column)
{
  g_autofree char *factor = sb_number_plain (column->torque_per_volt_nm);
  g_autofree char *zero = sb_number_plain (column->torque_zero_v);
  gboolean zeroed = isfinite (column->torque_zero_v);
  return g_strdup_printf ("Column '%s' is the signal of a transducer of %s N·m/V%s%s%s.", column->name, factor,
                          zeroed ? " with " : "", zeroed ? zero : "", zeroed ? " V at no torque" : "");
}

/* What a unit without a size of its own stands for. */
static char *
size_words (const SbLayout *layout, const SbLayoutColumn *column)
{
  if (sb_layout_column_has (column, SB_DIMENSION_VOLTAGE) && isfinite (column->torque_per_volt_nm))
    return volts_words (column);
  if (sb_layout_column_has (column, SB_DIMENSION_CURRENT) && isfinite (column->torque_constant_nm_per_a)) {
    g_autofree char *factor = sb_number_plain (column->torque_constant_nm_per_a);
    return g_strdup_printf ("Column '%s' is a current; an ampere stands for %s N·m, as was stated.", column->name,
                            factor);
  }
  if (sb_layout_column_has (column, SB_DIMENSION_PERCENT) && isfinite (column->full_scale)) {
    g_autofree char *full = sb_number_plain (column->full_scale);
    return g_strdup_printf ("Column '%s' is in percent of %s %s.", column->name, full, sb_role_unit (column->role));
  }
  if (sb_layout_column_has (column, SB_DIMENSION_COUNTS) && isfinite (column->counts_per_turn)) {
    g_autofree char *counts = sb_number_plain (column->counts_per_turn);
    return g_strdup_printf ("Column '%s' counts %s to the turn.", column->name, counts);
  }
  if (sb_layout_column_has (column, SB_DIMENSION_SAMPLES) && isfinite (layout->sample_rate_hz)) {
    g_autofree char *rate = sb_number_plain (layout->sample_rate_hz);
    return g_strdup_printf ("Column '%s' is the number of the sample, at %s samples per second.", column->name, rate);
  }
  return NULL;
}

static char *
factor_words (const SbLayout *layout, const SbLayoutColumn *column)
{
  if (!isfinite (column->factor))
    return NULL;
  g_autofree char *factor = sb_number_plain (column->factor);
  return g_strdup_printf ("The written values of column '%s' were multiplied by %s, as was stated.", column->name,
                          factor);
}

/* Of the columns that were read, each sentence once. */
static void
append_columns (GString *text, const SbConfigurationResult *configuration, ColumnWords column_words)
{
  g_autoptr (GHashTable) told = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  for (guint t = 0; t < configuration->trials->len; t++) {
    const SbTrialResult *trial = sb_configuration_result_trial (configuration, t);
    const SbLayout *layout = trial->included && trial->facts != NULL ? trial->facts->layout : NULL;
    for (guint i = 0; layout != NULL && i < layout->columns->len; i++) {
      const SbLayoutColumn *column = sb_layout_column (layout, i);
      char *words = column->role != SB_ROLE_OTHER ? column_words (layout, column) : NULL;
      if (words != NULL && !g_hash_table_contains (told, words))
        g_string_append_printf (text, " %s", words);
      if (words != NULL)
        g_hash_table_add (told, words);
    }
  }
}

/* What a trial notes of its units is of the whole log, and a sentence once it is closed. */
static void
append_notes_of_units (GString *text, const SbConfigurationResult *configuration)
{
  g_autoptr (GHashTable) told = g_hash_table_new (g_str_hash, g_str_equal);
  for (guint t = 0; t < configuration->trials->len; t++) {
    const SbTrialResult *trial = sb_configuration_result_trial (configuration, t);
    const GPtrArray *notes = trial->included && trial->facts != NULL ? trial->facts->notes : NULL;
    for (guint i = 0; notes != NULL && i < notes->len; i++) {
      const SbNote *note = sb_notes_get (notes, i);
      gboolean of_units = note->kind == SB_NOTE_UNITS_ASSUMED || note->kind == SB_NOTE_UNITS_CONFLICT;
      if (of_units && g_hash_table_add (told, note->text))
        g_string_append_printf (text, " %c%s.", g_ascii_toupper (note->text[0]), note->text + 1);
    }
  }
}

void
sb_methods_columns_append (GString *text, const SbConfigurationResult *configuration)
{
  append_columns (text, configuration, guess_words);
  append_columns (text, configuration, overruled_words);
  append_columns (text, configuration, size_words);
  append_columns (text, configuration, factor_words);
  append_notes_of_units (text, configuration);
}
