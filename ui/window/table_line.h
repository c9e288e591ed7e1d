/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A line of the measures table, drawn as one widget: hundreds of labels would take longer to lay out than the curves
 * beside them take to draw. Lines of one table share the widths of its columns and the height of a row. */
#pragma once

#include <gtk/gtk.h>

/* What the lines of a table share. */
typedef struct SbTableColumns SbTableColumns;
SbTableColumns *sb_table_columns_new (void);
SbTableColumns *sb_table_columns_ref (SbTableColumns *columns);
void sb_table_columns_unref (SbTableColumns *columns);

/* Which part of the scrolled columns can be seen, in px from the left of the first scrolled one: cells that it would cut
 * are not drawn. */
void sb_table_columns_set_view (SbTableColumns *columns, double from, double to);

#define SB_TYPE_TABLE_LINE (sb_table_line_get_type ())
G_DECLARE_FINAL_TYPE (SbTableLine, sb_table_line, SB, TABLE_LINE, GtkWidget)

typedef struct {
  const char *value;  /* may have several lines */
  const char *detail; /* below, in small type */
  gboolean left;      /* else at the right of its column */
  gboolean heading;   /* in bold type */
  gboolean dim;
  gboolean doubt; /* a question mark before it */
  int style;      /* of a curve shown above it; -1: none */
} SbTableCell;

/* A line that begins with column `first` of the table; `role` is what it is to assistive technology. */
GtkWidget *sb_table_line_new (SbTableColumns *columns, guint first, GtkAccessibleRole role);

/* Takes the cells (their texts are copied) in place of those of before. */
void sb_table_line_set_cells (SbTableLine *line, const SbTableCell *cells, guint n_cells);

/* The cell at x, in px from the line's left edge; -1: none. */
int sb_table_line_cell_at (SbTableLine *line, double x);

/* How many cells end to the right of x. */
guint sb_table_line_cells_beyond (SbTableLine *line, double x);

/* Where the first of those begins; the line's end when there is none. */
double sb_table_line_cell_beyond (SbTableLine *line, double x);
