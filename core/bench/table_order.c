/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "table_order.h"

#include <math.h>
#include <string.h>

static const char *const row_keys[SB_N_ROW_ORDERS] = { "as defined", "by name", "by p", "by effect" };
static const char *const row_words[SB_N_ROW_ORDERS]
    = { "As defined", "By name", "Smallest p first", "Largest effect first" };
static const char *const column_keys[SB_N_COLUMN_ORDERS] = { "as listed", "rising", "falling" };

const char *
sb_row_order_key (SbRowOrder order)
{
  return row_keys[order];
}

const char *
sb_row_order_words (SbRowOrder order)
{
  return row_words[order];
}

const char *
sb_column_order_key (SbColumnOrder order)
{
  return column_keys[order];
}

/* What a row is ordered by, the smallest first; what is not compared has infinity. */
static double
rank_of (const SbAnalysis *analysis, SbRowOrder order, SbMeasureId id)
{
  const SbMeasureComparison *measure = analysis->comparison != NULL ? &analysis->comparison->measure[id] : NULL;
  if (measure == NULL || !measure->present)
    return HUGE_VAL;
  double rank = order == SB_ROWS_BY_P ? measure->p_holm : -fabs (measure->hedges_g);
  return isnan (rank) ? HUGE_VAL : rank;
}

static gboolean
comes_before (const SbAnalysis *analysis, SbRowOrder order, SbMeasureId a, SbMeasureId b)
{
  switch (order) {
  case SB_ROWS_BY_NAME:
    return strcmp (sb_measure_info (a)->name, sb_measure_info (b)->name) < 0;
  case SB_ROWS_BY_P:
  case SB_ROWS_BY_EFFECT:
    return rank_of (analysis, order, a) < rank_of (analysis, order, b);
  case SB_ROWS_AS_DEFINED:
  case SB_N_ROW_ORDERS:
    break;
  }
  return FALSE;
}

/* Insertion keeps equal rows as they are defined. */
gsize
sb_table_rows (const SbAnalysis *analysis, SbMeasureId rows[SB_N_MEASURES])
{
  const SbTableChoices *table = &analysis->bench->table;
  gsize n = 0;
  for (int m = 0; m < SB_N_MEASURES; m++) {
    if (table->hidden & 1u << m)
      continue;
    gsize at = n++;
    for (; at > 0 && comes_before (analysis, table->rows, (SbMeasureId) m, rows[at - 1]); at--)
      rows[at] = rows[at - 1];
    rows[at] = (SbMeasureId) m;
  }
  return n;
}

static double
mean_of (const SbAnalysis *analysis, guint configuration)
{
  const SbSummary *summary = sb_analysis_configuration (analysis, configuration)->summary;
  SbMeasureId id = analysis->bench->table.columns_by;
  return summary != NULL && summary->measure[id].present ? summary->measure[id].mean : (double) NAN;
}

static int
compare_columns (gconstpointer a, gconstpointer b, gpointer user_data)
{
  const SbAnalysis *analysis = user_data;
  double first = mean_of (analysis, *(const guint *) a), second = mean_of (analysis, *(const guint *) b);
  if (isnan (first) || isnan (second))
    return (int) isnan (first) - (int) isnan (second);
  int rising = (first > second) - (first < second);
  return analysis->bench->table.columns == SB_COLUMNS_RISING ? rising : -rising;
}

GArray *
sb_table_configurations (const SbAnalysis *analysis)
{
  GArray *configurations = g_array_new (FALSE, FALSE, sizeof (guint));
  for (guint c = 0; c < analysis->configurations->len; c++)
    if (sb_analysis_configuration (analysis, c)->drawn)
      g_array_append_val (configurations, c);
  if (analysis->bench->table.columns != SB_COLUMNS_AS_LISTED)
    g_array_sort_with_data (configurations, compare_columns, (gpointer) (guintptr) analysis); /* stable */
  return configurations;
}
