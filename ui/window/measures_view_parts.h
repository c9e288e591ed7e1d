/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The measures table, taken apart: for the files measures_view*.c only. */
#pragma once

#include "measure_columns.h"
#include "measures_view.h"
#include "table_line.h"

/* The names of the measures stand still while the numbers move sideways beneath their headings: four parts that share
 * their adjustments and the widths of their columns. */
struct _SbMeasuresView {
  GtkBox parent_instance;
  SbDocument *document; /* borrowed: the window outlives its views */
  SbAnalysis *shown;    /* the results in the table; NULL: none */
  gboolean stale;       /* there are newer ones */
  guint n_filled;       /* rows that tell of the results shown */
  GArray *columns;      /* SbMeasureColumn, right of the names */
  SbTableColumns *widths;
  GtkWidget *tools, *explain, *choices, *table_choices, *heading, *names, *list_box;
  GtkWidget *more; /* tells of columns beyond the edge */
  GtkAdjustment *across;
  guint more_source;
  int place[SB_N_MEASURES]; /* of each row; -1: hidden */
  GtkWidget *row[SB_N_MEASURES], *line[SB_N_MEASURES], *name[SB_N_MEASURES];
};

/* measures_view_rows.c */
int sb_measures_view_index_of (GtkWidget *const *widgets, GtkWidget *widget); /* the measure; -1: none */
const SbMeasureColumn *sb_measures_view_column_at (SbMeasuresView *view, GtkWidget *line, int x); /* NULL: none */
GtkWidget *sb_measures_view_make_heading (SbMeasuresView *view);
void sb_measures_view_fill_heading (SbMeasuresView *view);
void sb_measures_view_fill_some (SbMeasuresView *view);
int sb_measures_view_compare_rows (GtkListBoxRow *a, GtkListBoxRow *b, gpointer view);
