/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "roles_of_table.h"

#include "roles.h"

#include <string.h>

/* The first rows show what a cell is; the course of the numbers, a step among them, takes more. */
#define FEW_ROWS  30
#define MANY_ROWS 2000
/* A file of thousands of columns is not looked at for long. */
#define MOST_CELLS 40000

static void
set_row (SbShape *shapes, guint n_columns, guint row, const SbCells *cells, const SbLayout *layout)
{
  for (guint i = 0; i < MIN (n_columns, sb_cells_count (cells)); i++) {
    g_autofree char *text = g_strstrip (g_strdup (sb_cells_get (cells, i, NULL)));
    sb_shape_set_cell (&shapes[i], row, text, layout->decimal, layout->thousands);
  }
}

/* How many lines of the table are there, from its first row on; *first is their place among the lines. */
static guint
count_lines (const SbLines *lines, const SbTable *table, guint *first)
{
  if (table->first_line < lines->first_line || table->first_line >= lines->first_line + lines->n_lines)
    return 0;
  *first = (guint) (table->first_line - lines->first_line);
  guint64 n = lines->n_lines - *first;
  return (guint) (table->last_line > 0 ? MIN (n, table->last_line - table->first_line + 1) : n);
}

/* (transfer full) */
static SbShape *
read_shapes (const SbLayout *layout, const SbFoundTable *found, const SbLines *lines, guint most_rows)
{
  guint n_columns = layout->columns->len, first = 0, n_rows = 0;
  guint n_lines
      = MIN (count_lines (lines, &found->table, &first), MIN (most_rows, MOST_CELLS / MAX (n_columns, 1) + 1));
  g_autoptr (SbCells) cells = sb_cells_new ();
  g_autofree guint *rows = g_new (guint, MAX (n_lines, 1));
  sb_cells_set_quote (cells, layout->quote);
  for (guint i = 0; i < n_lines; i++) {
    const SbLine *line = &lines->lines[first + i];
    gsize blanks = 0;
    while (blanks < line->length && (line->text[blanks] == ' ' || line->text[blanks] == '\t'))
      blanks++;
    gboolean comment
        = layout->comment_prefix[0] != '\0' && blanks < line->length && line->text[blanks] == layout->comment_prefix[0];
    if (blanks < line->length && !comment)
      rows[n_rows++] = first + i;
  }
  SbShape *shapes = sb_shapes_new (n_columns, n_rows);
  for (guint row = 0; row < n_rows; row++) {
    const SbLine *line = &lines->lines[rows[row]];
    sb_cells_split (cells, line->text, line->length, found->delimiter);
    set_row (shapes, n_columns, row, cells, layout);
  }
  return shapes;
}

static void
propose (SbLayout *layout, const SbFoundTable *found, const SbLines *lines, const SbStated *stated, guint most_rows)
{
  guint n = layout->columns->len;
  g_autofree const char **unit_cells = g_new0 (const char *, n + 1);
  SbShape *shapes = read_shapes (layout, found, lines, most_rows);
  for (guint i = 0; found->unit_cells != NULL && i < MIN (n, found->unit_cells->len); i++)
    unit_cells[i] = g_ptr_array_index (found->unit_cells, i);
  sb_roles_propose (layout, unit_cells, shapes, stated);
  sb_shapes_free (shapes, n);
}

/* Whether the course of the numbers would have a say. */
static gboolean
needs_more_rows (const SbLayout *layout)
{
  for (guint i = 0; i < layout->columns->len; i++) {
    const SbLayoutColumn *column = sb_layout_column (layout, i);
    gboolean counts = column->unit != NULL && column->unit->dimension == SB_DIMENSION_COUNTS;
    gboolean bare_angle = column->role == SB_ROLE_ANGLE && column->unit == NULL;
    gboolean asked_about = column->role == SB_ROLE_OTHER && column->certainty == SB_CERTAINTY_MISSING;
    if (column->certainty == SB_CERTAINTY_GUESSED || asked_about || bare_angle
        || (counts && !(column->wrap > 0)))
      return TRUE;
  }
  return FALSE;
}

void
sb_roles_of_table (SbLayout *layout, const SbFoundTable *found, const SbLines *lines, const SbStated *stated)
{
  propose (layout, found, lines, stated, FEW_ROWS);
  if (needs_more_rows (layout))
    propose (layout, found, lines, stated, MANY_ROWS);
}
