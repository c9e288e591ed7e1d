/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure_columns.h"

#include "table_order.h"

/* Characters in a line of a heading: where lines are broken, and where a word is cut. */
#define HEADING_CHARS      11
#define HEADING_WORD_CHARS 16

static void
add (GArray *columns, SbMeasureColumnKind kind, guint configuration)
{
  SbMeasureColumn column = { kind, configuration };
  g_array_append_val (columns, column);
}

static gboolean
add_if_drawn (GArray *columns, const SbAnalysis *results, int configuration)
{
  if (!sb_analysis_configuration (results, (guint) configuration)->drawn)
    return FALSE;
  add (columns, SB_COLUMN_CONFIGURATION, (guint) configuration);
  return TRUE;
}

GArray *
sb_measure_columns_new (const SbAnalysis *results)
{
  GArray *columns = g_array_new (FALSE, FALSE, sizeof (SbMeasureColumn));
  int reference = results->bench->reference, other = results->bench->other;
  gboolean pair = reference >= 0 && other >= 0;
  if (pair) {
    gboolean one_is_drawn = add_if_drawn (columns, results, reference);
    one_is_drawn = add_if_drawn (columns, results, other) || one_is_drawn;
    if (one_is_drawn) { /* else nothing would say of what they are */
      add (columns, SB_COLUMN_DIFFERENCE, 0);
      add (columns, SB_COLUMN_VERDICT, 0);
    }
  }
  g_autoptr (GArray) drawn = sb_table_configurations (results);
  for (guint i = 0; i < drawn->len; i++) {
    guint index = g_array_index (drawn, guint, i);
    if (!pair || ((int) index != reference && (int) index != other))
      add (columns, SB_COLUMN_CONFIGURATION, index);
  }
  return columns;
}

const char *
sb_measure_column_title (const SbMeasureColumn *column, const SbAnalysis *results)
{
  switch (column->kind) {
  case SB_COLUMN_CONFIGURATION:
    return sb_analysis_configuration (results, column->configuration)->name;
  case SB_COLUMN_DIFFERENCE:
    return "Difference";
  case SB_COLUMN_VERDICT:
    return "Verdict";
  }
  return "";
}

const char *
sb_measure_column_word (const SbMeasureColumn *column, const SbAnalysis *results)
{
  switch (column->kind) {
  case SB_COLUMN_CONFIGURATION:
    return sb_measure_column_title (column, results);
  case SB_COLUMN_DIFFERENCE:
    return "difference";
  case SB_COLUMN_VERDICT:
    return "verdict";
  }
  return "";
}

/* A narrow column needs a heading of several short lines. */
static char *
break_lines (const char *title)
{
  g_auto (GStrv) words = g_strsplit (title, " ", -1);
  g_autoptr (GString) text = g_string_new (NULL);
  glong length = 0;
  for (guint i = 0; words[i] != NULL; i++) {
    glong word = g_utf8_strlen (words[i], -1);
    gboolean fits = length + 1 + word <= HEADING_CHARS;
    if (i > 0)
      g_string_append_c (text, fits ? ' ' : '\n');
    length = i > 0 && fits ? length + 1 + word : word;
    if (word > HEADING_WORD_CHARS) { /* the tooltip has it whole */
      g_autofree char *start = g_utf8_substring (words[i], 0, HEADING_WORD_CHARS - 1);
      g_string_append_printf (text, "%s…", start);
    } else {
      g_string_append (text, words[i]);
    }
  }
  return g_string_free (g_steal_pointer (&text), FALSE);
}

char *
sb_measure_column_heading (const SbMeasureColumn *column, const SbAnalysis *results)
{
  return break_lines (sb_measure_column_title (column, results));
}

static char *
detail_of_configuration (const SbAnalysis *results, guint index)
{
  gboolean reference = results->bench->reference == (int) index, other = results->bench->other == (int) index;
  const char *role = reference ? "reference\n" : other ? "other\n" : "";
  return g_strdup_printf ("%sn = %" G_GSIZE_FORMAT, role, sb_analysis_configuration (results, index)->n_used);
}

char *
sb_measure_column_detail (const SbMeasureColumn *column, const SbAnalysis *results)
{
  switch (column->kind) {
  case SB_COLUMN_CONFIGURATION:
    return detail_of_configuration (results, column->configuration);
  case SB_COLUMN_DIFFERENCE:
    return g_strconcat ("95 % interval", results->bench->table.rows == SB_ROWS_BY_EFFECT ? " ▾" : "", NULL);
  case SB_COLUMN_VERDICT:
    return g_strconcat ("p (Holm)", results->bench->table.rows == SB_ROWS_BY_P ? " ▴" : "", NULL);
  }
  return g_strdup ("");
}

int
sb_measure_column_style (const SbMeasureColumn *column, const SbAnalysis *results)
{
  return column->kind == SB_COLUMN_CONFIGURATION
             ? (int) sb_analysis_configuration (results, column->configuration)->style
             : -1;
}

SbMeasureCell
sb_measure_column_cell (const SbMeasureColumn *column, const SbAnalysis *results, SbMeasureId id)
{
  SbUnits units = results->bench->units;
  switch (column->kind) {
  case SB_COLUMN_CONFIGURATION:
    return sb_measure_cell_mean (sb_analysis_configuration (results, column->configuration), id, units);
  case SB_COLUMN_DIFFERENCE:
    return sb_measure_cell_difference (results->comparison, id, units);
  case SB_COLUMN_VERDICT:
    break;
  }
  return sb_measure_cell_verdict (results->comparison, id, results->bench);
}

const char *
sb_measure_unit_words (SbMeasureId id, SbUnits units)
{
  const char *unit = sb_measure_shown_unit (id, units).name;
  if (!g_str_equal (unit, "1"))
    return unit;
  return id == SB_MEASURE_RINGING_DAMPING ? "ratio" : "";
}

char *
sb_measure_column_tooltip (const SbMeasureColumn *column, const SbAnalysis *results)
{
  const char *title = sb_measure_column_title (column, results);
  if (column->kind == SB_COLUMN_CONFIGURATION)
    return g_strdup (title);
  const SbBench *bench = results->bench;
  return g_strdup_printf ("%s: %s against %s", title, sb_analysis_configuration (results, (guint) bench->other)->name,
                          sb_analysis_configuration (results, (guint) bench->reference)->name);
}
