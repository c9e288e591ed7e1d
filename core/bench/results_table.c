/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "results.h"

#include "fairness.h"
#include "results_cells.h"
#include "results_drive.h"
#include "results_grid.h"
#include "results_judgements.h"
#include "results_notes.h"
#include "results_pair.h"
#include "results_remarks.h"
#include "table_order.h"

#include <math.h>
#include <string.h>

/* a grid of texts, set in columns */

typedef struct {
  GPtrArray *cells; /* char *, row by row */
  guint n_columns;
} Grid;

static void
grid_add (Grid *grid, char *text)
{
  g_ptr_array_add (grid->cells, text);
}

static const char *
grid_cell (const Grid *grid, guint row, guint column)
{
  return g_ptr_array_index (grid->cells, row * grid->n_columns + column);
}

static glong
column_width (const Grid *grid, guint column)
{
  glong width = 0;
  for (guint row = 0; row * grid->n_columns < grid->cells->len; row++)
    width = MAX (width, g_utf8_strlen (grid_cell (grid, row, column), -1));
  return width;
}

/* First column flush left, the others flush right, two spaces between, a rule under the heading. */
static char *
grid_text (const Grid *grid)
{
  GString *text = g_string_new (NULL);
  glong rule = 0;
  for (guint row = 0; row * grid->n_columns < grid->cells->len; row++) {
    for (guint column = 0; column < grid->n_columns; column++) {
      const char *cell = grid_cell (grid, row, column);
      glong width = column_width (grid, column);
      int pad = (int) (width - g_utf8_strlen (cell, -1));
      gboolean left = column == 0 || column + 1 == grid->n_columns;
      gboolean last = column + 1 == grid->n_columns;
      g_string_append_printf (text, "%s%*s%s%*s", column > 0 ? "  " : "", left ? 0 : pad, "", cell,
                              left && !last ? pad : 0, "");
      rule += row == 0 ? width + (column > 0 ? 2 : 0) : 0;
    }
    g_string_append_c (text, '\n');
    for (glong i = 0; row == 0 && i < rule; i++)
      g_string_append (text, "─");
    if (row == 0)
      g_string_append_c (text, '\n');
  }
  return g_string_free (text, FALSE);
}

/* what stands in it */

/* Indices of those drawn that have a trial that could be measured. */
static GArray *
shown_configurations (const SbAnalysis *analysis)
{
  GArray *shown = sb_table_configurations (analysis);
  for (guint i = shown->len; i > 0; i--)
    if (sb_analysis_configuration (analysis, g_array_index (shown, guint, i - 1))->summary == NULL)
      g_array_remove_index (shown, i - 1);
  return shown;
}

/* The cell with the numbers of its foot notes; takes over the text. */
static void
grid_add_noted (Grid *grid, char *text, const SbResultNotes *notes, int configuration, SbMeasureId id)
{
  g_autofree char *cell = text, *mark = sb_result_notes_mark (notes, configuration, id);
  grid_add (grid, g_strconcat (cell, mark, NULL));
}

static void
add_summary_cell (Grid *grid, const SbResultNotes *notes, const SbAnalysis *analysis, guint c, SbMeasureId id)
{
  const SbMeasureSummary *measure = &sb_analysis_configuration (analysis, c)->summary->measure[id];
  grid_add_noted (grid, sb_summary_cell (id, analysis->bench->units, measure), notes, (int) c, id);
}

/* Why there is no comparison is noted at the verdict's place. */
static void
add_comparison_cells (Grid *grid, const SbResultNotes *notes, const SbAnalysis *analysis, SbMeasureId id)
{
  char *cells[SB_COMPARISON_CELLS];
  sb_comparison_cells (id, analysis->bench, &analysis->comparison->measure[id], cells);
  for (gsize i = 0; i + 1 < SB_COMPARISON_CELLS; i++)
    grid_add (grid, cells[i]);
  grid_add_noted (grid, cells[SB_COMPARISON_CELLS - 1], notes, SB_NOTE_OF_COMPARISON, id);
}

static char *
measure_heading (SbMeasureId id, SbUnits units)
{
  const SbMeasureInfo *info = sb_measure_info (id);
  const char *unit = sb_measure_shown_unit (id, units).name;
  return strcmp (unit, "1") == 0 ? g_strdup (info->name) : g_strdup_printf ("%s [%s]", info->name, unit);
}

static void
add_heading (Grid *grid, const SbAnalysis *analysis, const GArray *shown)
{
  grid_add (grid, g_strdup ("Measure"));
  for (guint i = 0; i < shown->len; i++) {
    const SbConfigurationResult *configuration = sb_analysis_configuration (analysis, g_array_index (shown, guint, i));
    grid_add (grid, g_strdup_printf ("%s (n = %" G_GSIZE_FORMAT ")", configuration->name, configuration->n_used));
  }
  for (gsize i = 0; analysis->comparison != NULL && i < SB_COMPARISON_CELLS; i++)
    grid_add (grid, g_strdup (sb_comparison_headings[i]));
}

char *
sb_results_grid_legend (const SbAnalysis *analysis)
{
  GString *text
      = g_string_new ("Mean ± sample standard deviation of the repeats. A ? marks a figure with doubts, a – one "
                      "that is missing.\n");
  g_autoptr (SbResultNotes) notes = sb_result_notes_new (analysis, FALSE);
  for (guint i = 0; i < sb_result_notes_count (notes); i++) {
    g_autofree char *note = sb_result_notes_text (notes, i);
    g_string_append_printf (text, "[%u] %s\n", i + 1, note);
  }
  g_autoptr (GPtrArray) remarks = sb_results_remarks (analysis);
  for (guint i = 0; i < remarks->len; i++)
    g_string_append_printf (text, "Look at %s.\n", (const char *) g_ptr_array_index (remarks, i));
  if (analysis->comparison == NULL)
    return g_string_free (text, FALSE);
  const SbBench *bench = analysis->bench;
  g_string_append_printf (text, "Difference: %s minus %s.\n",
                          sb_analysis_configuration (analysis, (guint) bench->other)->name,
                          sb_analysis_configuration (analysis, (guint) bench->reference)->name);
  g_autofree char *rules = sb_pair_rules (analysis);
  g_string_append (text, rules);
  for (guint i = 0; i < analysis->comparison->fairness->len; i++) {
    const SbFairness *fairness = g_ptr_array_index (analysis->comparison->fairness, i);
    g_autofree char *sentence = sb_fairness_text (fairness);
    g_string_append_printf (text, "%s: %s.\n", sb_fairness_heading (fairness), sentence);
  }
  return g_string_free (text, FALSE);
}

GPtrArray *
sb_results_grid (const SbAnalysis *analysis, guint *n_columns)
{
  GPtrArray *cells = g_ptr_array_new_with_free_func (g_free);
  Grid grid = { .cells = cells };
  g_autoptr (SbResultNotes) notes = sb_result_notes_new (analysis, FALSE);
  g_autoptr (GArray) shown = shown_configurations (analysis);
  SbMeasureId rows[SB_N_MEASURES];
  gsize n_rows = sb_table_rows (analysis, rows);
  add_heading (&grid, analysis, shown);
  *n_columns = cells->len;
  for (gsize r = 0; r < n_rows; r++) {
    grid_add (&grid, measure_heading (rows[r], analysis->bench->units));
    for (guint i = 0; i < shown->len; i++)
      add_summary_cell (&grid, notes, analysis, g_array_index (shown, guint, i), rows[r]);
    if (analysis->comparison != NULL)
      add_comparison_cells (&grid, notes, analysis, rows[r]);
  }
  return cells;
}

char *
sb_results_table_text (const SbAnalysis *analysis)
{
  Grid grid = { NULL, 0 };
  g_autoptr (GPtrArray) cells = grid.cells = sb_results_grid (analysis, &grid.n_columns);
  if (grid.n_columns == 1)
    return g_strdup ("No configuration with a usable trial.\n");
  g_autofree char *table = grid_text (&grid);
  GString *text = g_string_new (table);
  g_autofree char *legend = sb_results_grid_legend (analysis);
  g_string_append_printf (text, "\n%s", legend);
  g_autofree char *settle = sb_settle_text (analysis), *curves = sb_difference_curves_text (analysis);
  g_autofree char *plan = sb_plan_text (analysis);
  g_string_append_printf (text, "%s%s%s", settle, curves, plan);
  g_autofree char *judgements = sb_judgements_text (analysis);
  g_string_append (text, judgements);
  g_autofree char *drives = sb_drive_models_text (analysis);
  g_string_append (text, drives);
  return g_string_free (text, FALSE);
}

/* CSV (RFC 4180). The figures keep digits for calculating with them, as GUM 7.2.6 allows; the last column is for print.
 */

static void
append_quoted (GString *csv, const char *text)
{
  g_string_append_c (csv, '"');
  for (const char *c = text; *c != '\0'; c++) {
    if (*c == '"')
      g_string_append_c (csv, '"');
    g_string_append_c (csv, *c);
  }
  g_string_append_c (csv, '"');
}

static void
append_number (GString *csv, double value)
{
  char text[G_ASCII_DTOSTR_BUF_SIZE];
  g_string_append_c (csv, ',');
  if (isfinite (value))
    g_string_append (csv, g_ascii_formatd (text, sizeof text, "%.10g", value));
}

static void
append_csv_row (GString *csv, const SbConfigurationResult *configuration, SbMeasureId id, SbUnits units)
{
  const SbMeasureInfo *info = sb_measure_info (id);
  const SbMeasureSummary *measure = &configuration->summary->measure[id];
  append_quoted (csv, configuration->name);
  g_string_append_printf (csv, ",%s,", info->key);
  SbShownUnit unit = sb_measure_shown_unit (id, units);
  append_quoted (csv, unit.name);
  double factor = measure->present ? unit.factor : (double) NAN;
  append_number (csv, measure->mean * factor);
  append_number (csv, measure->sd * factor);
  append_number (csv, measure->ci95[0] * factor);
  append_number (csv, measure->ci95[1] * factor);
  append_number (csv, measure->standard_uncertainty * factor);
  append_number (csv, measure->repeatability * factor);
  g_string_append_printf (csv, ",%" G_GSIZE_FORMAT ",", measure->present ? measure->n : 0);
  append_quoted (csv, measure->present ? "" : measure->absent_reason);
  g_autofree char *rounded = sb_summary_cell (id, units, measure);
  g_string_append_c (csv, ',');
  append_quoted (csv, rounded);
  g_string_append (csv, "\r\n");
}

char *
sb_results_table_csv (const SbAnalysis *analysis)
{
  GString *csv = g_string_new (
      "configuration,measure,unit,mean,sd,ci95_low,ci95_high,standard_uncertainty,repeatability,n,absent,rounded\r\n");
  for (guint c = 0; c < analysis->configurations->len; c++) {
    const SbConfigurationResult *configuration = sb_analysis_configuration (analysis, c);
    for (int m = 0; configuration->summary != NULL && m < SB_N_MEASURES; m++)
      append_csv_row (csv, configuration, (SbMeasureId) m, analysis->bench->units);
  }
  return g_string_free (csv, FALSE);
}
