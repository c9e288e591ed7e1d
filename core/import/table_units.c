/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "table_units.h"

#include "header.h"
#include "log_build.h"
#include "number_style.h"

#include <string.h>

static gint64
fixed_units (const SbTableFinder *finder)
{
  return finder->view->fixed != NULL ? finder->view->fixed->units_line : SB_AUTOMATIC;
}

guint
sb_table_next_cells (const SbTableFinder *finder, guint index, char delimiter)
{
  guint i = sb_table_next_line (finder, index);
  while (i < finder->lines->n_lines && sb_table_shape_at (finder, i, delimiter).n_cells == 0)
    i = sb_table_next_line (finder, i + 1);
  return i;
}

/* "10us" is a unit above plain numbers, and a number with its unit in a row of such. */
static gboolean
is_number_with_unit (const SbTableFinder *finder, guint index, char delimiter)
{
  guint next = sb_table_next_line (finder, index + 1);
  if (!sb_dialect_has_units_in_numbers (finder->cells) || next >= finder->lines->n_lines)
    return FALSE;
  const SbLine *line = &finder->lines->lines[next];
  sb_cells_split (finder->cells, line->text, line->length, delimiter);
  gsize n;
  const char *first = sb_cells_count (finder->cells) > 0 ? sb_cells_get (finder->cells, 0, &n) : NULL;
  return first == NULL || !sb_number_looks_like_one (first, n, TRUE);
}

gboolean
sb_table_is_units (const SbTableFinder *finder, guint index, char delimiter)
{
  gint64 fixed = fixed_units (finder);
  if (fixed >= 0)
    return fixed > 0 && sb_table_line_number (finder, index) == (guint64) fixed;
  const SbLine *line = &finder->lines->lines[index];
  sb_cells_split (finder->cells, line->text, line->length, delimiter);
  if (!sb_dialect_is_units_row (finder->cells) || is_number_with_unit (finder, index, delimiter))
    return FALSE;
  sb_cells_split (finder->cells, line->text, line->length, delimiter);
  return TRUE;
}

/* Splits the line without the prefix of a comment. */
static SbLineShape
shape_of_text (const SbTableFinder *finder, guint index, char delimiter)
{
  const SbLine *line = &finder->lines->lines[index];
  gsize n = sb_dialect_comment_length (line->text, line->length, finder->view->comment_prefix);
  return sb_dialect_shape (finder->cells, line->text + n, line->length - n, delimiter);
}

/* The line above, blank ones and those of delimiters alone passed over; G_MAXUINT when there is none. */
static guint
line_above (const SbTableFinder *finder, guint index, char delimiter)
{
  while (index > 0 && shape_of_text (finder, index - 1, delimiter).n_cells == 0)
    index--;
  return index > 0 ? index - 1 : G_MAXUINT;
}

/* Of `n_cells` columns, the last of which may have none. */
static gboolean
is_all_units (const SbTableFinder *finder, guint index, char delimiter, guint n_cells)
{
  SbLineShape shape = shape_of_text (finder, index, delimiter);
  gboolean of_all = 2 * shape.n_words >= n_cells || sb_cells_count (finder->cells) >= n_cells;
  return shape.n_cells <= n_cells && of_all && shape.n_words >= 2 && sb_dialect_is_mostly_units (finder->cells);
}

/* A comment of units between the names and the rows; G_MAXUINT when there is none. */
static guint
comment_below (const SbTableFinder *finder, const SbTableStart *start)
{
  for (guint i = start->header_end; i < start->first; i++)
    if (sb_table_is_comment (finder, i) && is_all_units (finder, i, start->delimiter, start->n_cells))
      return i;
  return G_MAXUINT;
}

/* Names of as many columns, one of which says what it is. */
static gboolean
are_names (const SbTableFinder *finder, guint index, char delimiter, guint n_cells)
{
  SbLineShape shape = shape_of_text (finder, index, delimiter);
  gboolean words = shape.n_numbers == 0 && shape.n_words + 1 >= shape.n_cells && shape.n_cells == n_cells;
  return words && !sb_dialect_is_all_units (finder->cells) && sb_dialect_roles (finder->cells) != 0;
}

/* Whether a column of the header but the time leaves its unit open. */
static gboolean
leaves_unit_open (const SbTableFinder *finder, const SbTableStart *start)
{
  guint end;
  gboolean open = FALSE;
  g_autofree char *text = sb_table_header_text (finder, start, &end);
  sb_cells_split (finder->cells, text != NULL ? text : "", text != NULL ? strlen (text) : 0, start->delimiter);
  for (guint i = 0; i < MIN (sb_cells_count (finder->cells), start->n_cells) && !open; i++) {
    gsize n;
    const char *cell = sb_cells_get (finder->cells, i, &n);
    g_autofree char *name = sb_text_to_utf8 (cell, n);
    SbColumnMeaning meaning;
    sb_column_meaning_read (&meaning, name);
    open = meaning.unit == NULL && meaning.role != SB_ROLE_TIME;
    sb_column_meaning_clear (&meaning);
  }
  return open;
}

/* "Vertical Units,V,V" among the lines above the header, down from the last table: a unit for each column, or for each
 * but the time. The line nearest to the header; G_MAXUINT when there is none. */
static guint
labelled_units (const SbTableFinder *finder, const SbTableStart *start)
{
  gint64 fixed = fixed_units (finder);
  if (start->delimiter == ' ' || !leaves_unit_open (finder, start))
    return G_MAXUINT;
  for (guint i = start->header; i > 0; i--) {
    SbLineShape shape = shape_of_text (finder, i - 1, start->delimiter);
    gboolean asked = fixed == SB_AUTOMATIC || (guint64) fixed == sb_table_line_number (finder, i - 1);
    gboolean as_many = shape.n_cells == start->n_cells || shape.n_cells == start->n_cells + 1;
    if (asked && as_many && sb_dialect_is_labelled_units (finder->cells, shape.n_cells > start->n_cells))
      return i - 1;
    if (shape.n_cells > 1 && shape.n_numbers == shape.n_cells)
      return G_MAXUINT;
  }
  return G_MAXUINT;
}

void
sb_table_settle_units (const SbTableFinder *finder, SbTableStart *start)
{
  gint64 fixed = fixed_units (finder);
  char delimiter = start->delimiter;
  if (start->header == G_MAXUINT || start->units != G_MAXUINT || fixed == 0)
    return;
  guint above = line_above (finder, start->header, delimiter);
  gboolean of_units = start->form == SB_HEADER_LINE && is_all_units (finder, start->header, delimiter, start->n_cells);
  if (above != G_MAXUINT && of_units && sb_table_fixed_header (finder) == SB_AUTOMATIC
      && are_names (finder, above, delimiter, start->n_cells)) {
    start->units = start->header;
    start->header = above;
  } else if (above != G_MAXUINT && !of_units && is_all_units (finder, above, delimiter, start->n_cells)
             && (fixed == SB_AUTOMATIC || (guint64) fixed == sb_table_line_number (finder, above))) {
    start->units = above;
  } else if (!of_units) {
    guint below = comment_below (finder, start);
    gboolean asked
        = fixed == SB_AUTOMATIC || (below != G_MAXUINT && (guint64) fixed == sb_table_line_number (finder, below));
    start->units = below != G_MAXUINT && asked ? below : labelled_units (finder, start);
  }
}

void
sb_table_split_units (const SbTableFinder *finder, const SbTableStart *start)
{
  if (start->units != G_MAXUINT)
    shape_of_text (finder, start->units, start->delimiter);
  else
    sb_cells_split (finder->cells, "", 0, start->delimiter);
}

/* Where the name of the time stands; the first column where none does. */
static guint
find_time_name (const SbFoundTable *found)
{
  for (guint i = 0; i < found->names->len; i++) {
    SbColumnMeaning meaning;
    sb_column_meaning_read (&meaning, g_ptr_array_index (found->names, i));
    gboolean time = meaning.role == SB_ROLE_TIME;
    sb_column_meaning_clear (&meaning);
    if (time)
      return i;
  }
  return 0;
}

void
sb_table_take_label_off (const SbTableFinder *finder, SbFoundTable *found)
{
  if (!sb_dialect_is_labelled_units (finder->cells, TRUE))
    return;
  g_ptr_array_remove_index (found->unit_cells, 0);
  while (found->unit_cells->len > 0
         && *(const char *) g_ptr_array_index (found->unit_cells, found->unit_cells->len - 1) == '\0')
    g_ptr_array_set_size (found->unit_cells, (gint) found->unit_cells->len - 1);
  if (found->unit_cells->len < found->table.n_columns)
    g_ptr_array_insert (found->unit_cells, (gint) MIN (find_time_name (found), found->unit_cells->len), g_strdup (""));
}
