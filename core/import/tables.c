/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "tables.h"

#include "dialect.h"
#include "header.h"
#include "log_build.h"
#include "table_end.h"
#include "table_start.h"
#include "table_units.h"

#include <string.h>

/* Comments come early. */
#define LINES_FOR_PREFIX 200
/* More names than a person has given; bounds the time that faulty files take. */
#define MAX_COLUMNS 100000

void
sb_found_table_free (SbFoundTable *found)
{
  if (found == NULL)
    return;
  g_free (found->table.title);
  g_free (found->header);
  g_ptr_array_unref (found->names);
  g_ptr_array_unref (found->rows);
  if (found->unit_cells != NULL)
    g_ptr_array_unref (found->unit_cells);
  g_free (found);
}

/* ";time;torque" is a header without a first name, "; made by hand" a comment. */
static const char *
prefix_of (const SbLine *line)
{
  gsize n = sb_table_blanks_before (line);
  const char *text = line->text + n;
  gsize length = line->length - n;
  if (length == 0)
    return NULL;
  if (*text == '#' || *text == '%')
    return *text == '#' ? "#" : "%";
  if (length >= 2 && text[0] == '/' && text[1] == '/')
    return "//";
  gboolean remark = *text == ';' && length > 1 && (text[1] == ' ' || text[1] == ';' || g_ascii_isalpha (text[1]));
  return remark ? ";" : NULL;
}

/* Semicolons that part cells begin no comments. */
static gboolean
parts_cells_by_semicolons (const SbLines *lines)
{
  for (guint i = 0; i < MIN (lines->n_lines, LINES_FOR_PREFIX); i++)
    if (sb_table_first_of (&lines->lines[i]) != ';'
        && memchr (lines->lines[i].text, ';', lines->lines[i].length) != NULL)
      return TRUE;
  return FALSE;
}

const char *
sb_tables_comment_prefix (const SbLines *lines)
{
  for (guint i = 0; i < MIN (lines->n_lines, LINES_FOR_PREFIX); i++) {
    const SbLine *line = &lines->lines[i];
    const char *prefix = prefix_of (line);
    if (prefix != NULL && (*prefix != ';' || !parts_cells_by_semicolons (lines)))
      return prefix;
    if (g_ascii_isdigit (sb_table_first_of (line)))
      break;
  }
  return "#";
}

char
sb_tables_quote (const SbLines *lines)
{
  for (guint i = 0; i < MIN (lines->n_lines, LINES_FOR_PREFIX); i++) {
    const SbLine *line = &lines->lines[i];
    gsize n = line->length;
    while (n > 0 && g_ascii_isspace (line->text[n - 1]))
      n--;
    if (memchr (line->text, '"', n) != NULL)
      return '"';
    if (sb_table_first_of (line) == '\'' && n > 2 && line->text[n - 1] == '\'')
      return '\'';
  }
  return '"';
}

static char *
name_of (const SbTableFinder *finder, const char *cell, guint index)
{
  char *name = sb_text_to_utf8_from (cell, strlen (cell), finder->view->encoding);
  g_strdelimit (name, "\x1f\r\n\t", ' ');
  g_strstrip (name);
  if (*name != '\0')
    return name;
  g_free (name);
  return g_strdup_printf ("column %u", index + 1);
}

static GPtrArray *
cells_as_text (const SbTableFinder *finder)
{
  GPtrArray *texts = g_ptr_array_new_with_free_func (g_free);
  for (guint i = 0; i < sb_cells_count (finder->cells); i++) {
    gsize length;
    const char *text = sb_cells_get (finder->cells, i, &length);
    g_ptr_array_add (texts, sb_text_to_utf8_from (text, length, finder->view->encoding));
  }
  return texts;
}

/* With those that have no name. */
static guint
cells_of_header (const SbTableFinder *finder, const SbTableStart *candidate)
{
  guint end;
  if (candidate->header == G_MAXUINT)
    return MIN (candidate->n_cells, MAX_COLUMNS);
  g_autofree char *text = sb_table_header_text (finder, candidate, &end);
  sb_cells_split (finder->cells, text, strlen (text), candidate->delimiter);
  return MIN (sb_cells_count (finder->cells), MAX_COLUMNS);
}

static void
sample_rows (const SbTableFinder *finder, const SbTableStart *candidate, SbFoundTable *found)
{
  guint n_most = cells_of_header (finder, candidate), n_cells = candidate->n_cells;
  for (guint i = sb_table_next_line (finder, candidate->first);
       i < finder->lines->n_lines && found->rows->len < SB_SAMPLE_ROWS; i = sb_table_next_line (finder, i + 1)) {
    SbLineShape shape = sb_table_shape_at (finder, i, candidate->delimiter);
    if (shape.n_numbers == 0)
      continue;
    /* The header may have an empty name for a column that the first rows have. */
    if (found->rows->len == 0)
      n_cells = MAX (n_cells, MIN (n_most, shape.n_cells));
    g_ptr_array_add (found->rows, cells_as_text (finder));
  }
  found->table.n_columns = n_cells;
}

/* A number, or cells: a comma between words is one of a sentence where the table parts its cells otherwise. */
static gboolean
is_row_like (const SbTableFinder *finder, guint index, char delimiter)
{
  const SbLine *line = &finder->lines->lines[index];
  for (const char *d = SB_DELIMITERS; *d != '\0'; d++)
    if (*d != ' ' && memchr (line->text, *d, line->length) != NULL
        && (*d != ',' || delimiter == ',' || sb_table_shape_at (finder, index, *d).n_numbers > 0))
      return TRUE;
  return sb_table_shape_at (finder, index, ';').n_numbers > 0;
}

/* A line of words directly before the header. */
static char *
title_before (const SbTableFinder *finder, guint index, char delimiter)
{
  for (guint i = index; i > 0; i--) {
    const SbLine *line = &finder->lines->lines[i - 1];
    if (sb_table_first_of (line) == '\0')
      continue;
    gboolean words
        = !sb_table_is_comment (finder, i - 1) && line->length < 200 && !is_row_like (finder, i - 1, delimiter);
    return words ? g_strstrip (sb_text_to_utf8_from (line->text, line->length, finder->view->encoding)) : g_strdup ("");
  }
  return g_strdup ("");
}

static void
read_names (const SbTableFinder *finder, const SbTableStart *candidate, SbFoundTable *found)
{
  guint end;
  sb_cells_split (finder->cells, "", 0, candidate->delimiter);
  if (candidate->header != G_MAXUINT) {
    const SbLine *line = &finder->lines->lines[candidate->header];
    g_autofree char *text = sb_table_header_text (finder, candidate, &end);
    sb_cells_split (finder->cells, text, strlen (text), candidate->delimiter);
    found->header = g_strndup (line->text, line->length);
    found->table.header_line = sb_table_line_number (finder, candidate->header);
  }
  for (guint i = 0; i < found->table.n_columns; i++)
    g_ptr_array_add (
        found->names,
        name_of (finder, i < sb_cells_count (finder->cells) ? sb_cells_get (finder->cells, i, NULL) : "", i));
}

/* An empty cell in the first of two lines may belong to the group before it, or to none. */
static guint64
find_unclear (const SbTableFinder *finder, const SbTableStart *candidate, const SbFoundTable *found)
{
  guint64 unclear = 0;
  guint end;
  SbTableStart other = *candidate;
  if (candidate->header == G_MAXUINT || (candidate->form != SB_HEADER_TWO_LINES && candidate->form != SB_HEADER_GROUPS))
    return 0;
  other.form = candidate->form == SB_HEADER_GROUPS ? SB_HEADER_TWO_LINES : SB_HEADER_GROUPS;
  g_autofree char *text = sb_table_header_text (finder, &other, &end);
  if (text == NULL)
    return 0;
  sb_cells_split (finder->cells, text, strlen (text), candidate->delimiter);
  for (guint i = 0; i < MIN (MIN (found->names->len, sb_cells_count (finder->cells)), 64); i++) {
    SbColumnMeaning here, there;
    g_autofree char *name = name_of (finder, sb_cells_get (finder->cells, i, NULL), i);
    sb_column_meaning_read (&here, g_ptr_array_index (found->names, i));
    sb_column_meaning_read (&there, name);
    gboolean differ = here.role != there.role && here.channel >= 0 && there.role != SB_ROLE_OTHER;
    sb_column_meaning_clear (&here);
    sb_column_meaning_clear (&there);
    unclear |= differ ? G_GUINT64_CONSTANT (1) << i : 0;
  }
  return unclear;
}

/* Between runs of blanks a unit that is left out leaves no cell, and one with blanks in it several: the others would be
 * those of their neighbours. */
static void
doubt_units (SbFoundTable *found)
{
  guint n = found->unit_cells->len, n_columns = found->table.n_columns;
  g_ptr_array_set_size (found->unit_cells, 0);
  while (found->unit_cells->len < n_columns)
    g_ptr_array_add (found->unit_cells, g_strdup_printf ("one of %u for %u columns", n, n_columns));
}

static void
read_units (const SbTableFinder *finder, const SbTableStart *candidate, SbFoundTable *found)
{
  if (candidate->units == G_MAXUINT)
    return;
  found->units_line = sb_table_line_number (finder, candidate->units);
  sb_table_split_units (finder, candidate);
  found->unit_cells = cells_as_text (finder);
  for (guint i = 0; i < found->unit_cells->len; i++)
    g_strstrip (g_ptr_array_index (found->unit_cells, i));
  if (candidate->units < candidate->header)
    sb_table_take_label_off (finder, found);
  if (candidate->delimiter == ' ' && found->unit_cells->len != found->table.n_columns)
    doubt_units (found);
  while (found->unit_cells->len < found->table.n_columns)
    g_ptr_array_add (found->unit_cells, g_strdup (""));
}

/* Behind the lines of names and units. */
static guint
end_of_names (const SbTableFinder *finder, const SbTableStart *start)
{
  gboolean below = start->units != G_MAXUINT && start->units >= start->header_end;
  guint end = below ? sb_table_behind_rule (finder, start->units + 1) : start->header_end;
  guint first = sb_table_next_cells (finder, end, start->delimiter);
  /* Lines of delimiters alone before the first row are no rows. */
  return start->header != G_MAXUINT && first < finder->lines->n_lines && first != sb_table_next_line (finder, end)
             ? first
             : end;
}

static SbFoundTable *
take_table (const SbTableFinder *finder, const SbTableStart *taken)
{
  SbTableStart settled = *taken, *candidate = &settled;
  sb_table_settle_units (finder, &settled);
  SbFoundTable *found = g_new0 (SbFoundTable, 1);
  found->names = g_ptr_array_new_with_free_func (g_free);
  found->rows = g_ptr_array_new_with_free_func ((GDestroyNotify) g_ptr_array_unref);
  found->delimiter = candidate->delimiter;
  found->sure = candidate->consistent;
  guint start = candidate->header != G_MAXUINT ? candidate->header : candidate->first;
  found->table.title = title_before (finder, start, found->delimiter);
  found->table.first_line = sb_table_line_number (finder, end_of_names (finder, candidate));
  sample_rows (finder, candidate, found);
  read_names (finder, candidate, found);
  found->unclear = find_unclear (finder, candidate, found);
  read_units (finder, candidate, found);
  sb_table_find_time (found);
  return found;
}

static GPtrArray *
copy_texts (const GPtrArray *texts)
{
  GPtrArray *copy = g_ptr_array_new_with_free_func (g_free);
  for (guint i = 0; i < texts->len; i++)
    g_ptr_array_add (copy, g_strdup (g_ptr_array_index (texts, i)));
  return copy;
}

/* The recording that begins at the line, in the columns of the one before it. */
static SbFoundTable *
take_recording (const SbTableFinder *finder, guint index, const SbFoundTable *before)
{
  SbFoundTable *found = g_new0 (SbFoundTable, 1);
  SbTableStart start = { .delimiter = before->delimiter, .header = G_MAXUINT, .first = index };
  *found = *before;
  found->before = found->behind = (SbTableTimes){ 0 };
  found->n_undecided = 0;
  found->restarts = FALSE;
  found->header = g_strdup (before->header);
  found->names = copy_texts (before->names);
  found->unit_cells = before->unit_cells != NULL ? copy_texts (before->unit_cells) : NULL;
  found->rows = g_ptr_array_new_with_free_func ((GDestroyNotify) g_ptr_array_unref);
  found->table.first_line = sb_table_line_number (finder, index);
  found->table.last_line = 0;
  found->table.title = g_strdup_printf ("the time starts again at line %" G_GUINT64_FORMAT, found->table.first_line);
  sample_rows (finder, &start, found);
  found->table.n_columns = before->table.n_columns;
  return found;
}

/* A header of other cells than those of the table: its names state a time and a signal. Blanks part words as well. */
static gboolean
is_header_of_others (SbCells *cells, char delimiter, const char *line, gsize length)
{
  for (const char *d = SB_DELIMITERS; *d != '\0'; d++) {
    if (*d == delimiter || *d == ' ' || memchr (line, *d, length) == NULL)
      continue;
    SbLineShape shape = sb_dialect_shape (cells, line, length, *d);
    if (!sb_dialect_is_names_row (cells, &shape) || sb_dialect_is_units_row (cells))
      continue;
    guint roles = sb_dialect_roles (cells);
    if ((roles & (1u << SB_ROLE_TIME)) != 0 && __builtin_popcount (roles) >= 2)
      return TRUE;
  }
  return FALSE;
}

SbLineKind
sb_tables_line_kind (SbCells *cells, const SbTableBreak *at, const char *line, gsize length)
{
  if (at->header != NULL && strlen (at->header) == length && memcmp (line, at->header, length) == 0)
    return SB_LINE_IS_HEADER;
  SbLineShape shape = sb_dialect_shape (cells, line, length, at->delimiter);
  gboolean words = shape.n_words > 0 && shape.n_numbers == 0;
  if (words && is_header_of_others (cells, at->delimiter, line, length))
    return SB_LINE_BEGINS_ANOTHER;
  shape = sb_dialect_shape (cells, line, length, at->delimiter);
  if (at->after_blank && words && shape.n_cells == 1)
    return SB_LINE_IS_TITLE;
  if (!words || sb_dialect_is_units_row (cells) || !sb_dialect_is_names_row (cells, &shape))
    return SB_LINE_IS_ROW;
  guint channels = at->after_blank ? 2 : (guint) __builtin_popcount (sb_dialect_roles (cells));
  return channels >= 2 ? SB_LINE_BEGINS_ANOTHER : SB_LINE_IS_ROW;
}

/* A header without rows that suit it, "time_s,torque_Nm" before a row of "n/a" or before rows of three cells: it counts
 * when it is of one piece with what was found. */
static gboolean
prefer_earlier (const SbTableStart *earlier, const SbTableStart *found)
{
  gboolean named = found->header != G_MAXUINT && found->channels >= 2;
  gboolean adjacent = found->header == G_MAXUINT && earlier->first == found->first;
  return earlier->channels >= 2 && earlier->delimiter == found->delimiter && !named
         && (adjacent || earlier->n_cells == found->n_cells);
}

static guint
first_to_look_at (const SbTableFinder *finder)
{
  gint64 fixed = sb_table_fixed_header (finder);
  guint64 first = finder->lines->first_line;
  if (finder->view->open != NULL)
    return sb_table_next_line (finder, sb_table_find_end (finder, 0, finder->view->open));
  /* A header that is stated may stand in a comment. */
  if (fixed > 0 && (guint64) fixed >= first)
    return (guint) MIN ((guint64) fixed - first, finder->lines->n_lines);
  return sb_table_next_line (finder, 0);
}

GPtrArray *
sb_tables_find (const SbLines *lines, const SbTableView *view)
{
  GPtrArray *tables = g_ptr_array_new_with_free_func ((GDestroyNotify) sb_found_table_free);
  g_autoptr (SbCells) cells = sb_cells_new ();
  SbTableFinder finder = { lines, view, cells };
  SbTableStart earlier = { 0 };
  sb_cells_set_quote (cells, view->quote);
  const SbFoundTable *last = view->open;
  for (guint i = first_to_look_at (&finder); i < lines->n_lines;) {
    SbTableStart candidate;
    gint64 fixed = sb_table_fixed_header (&finder);
    gboolean begins = (last == NULL || !last->restarts) && sb_table_begins (&finder, i, &candidate);
    if (begins || (last != NULL && last->restarts)) {
      const SbTableStart *best = begins && prefer_earlier (&earlier, &candidate) ? &earlier : &candidate;
      SbFoundTable *found = begins ? take_table (&finder, best) : take_recording (&finder, i, last);
      g_ptr_array_add (tables, found);
      earlier = (SbTableStart){ 0 };
      i = sb_table_next_line (&finder, sb_table_find_end (&finder, begins ? candidate.first : i, found));
      last = found;
      continue;
    }
    if (fixed < 0 && earlier.channels < 2 && sb_table_best_header (&finder, i, FALSE, &candidate)
        && candidate.channels >= 2)
      earlier = candidate;
    i = sb_table_next_line (&finder, i + 1);
  }
  if (tables->len == 0 && earlier.channels >= 2)
    g_ptr_array_add (tables, take_table (&finder, &earlier));
  return tables;
}
