/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "table_start.h"

#include "dialect.h"
#include "log_build.h"
#include "number_style.h"
#include "table_units.h"

#include <string.h>

/* A header whose quoted names go on over several lines ends soon or never. */
#define MAX_HEADER_LINES 8
/* Rows that tell one delimiter from another. */
#define ROWS_COMPARED 5
/* Fewer dashes stand for a missing value. */
#define SHORTEST_RULE 3

gsize
sb_table_blanks_before (const SbLine *line)
{
  gsize n = 0;
  while (n < line->length && (line->text[n] == ' ' || line->text[n] == '\t'))
    n++;
  return n;
}

char
sb_table_first_of (const SbLine *line)
{
  gsize n = sb_table_blanks_before (line);
  return n < line->length ? line->text[n] : '\0';
}

static gboolean
contains (const SbLine *line, char delimiter)
{
  gsize n = delimiter == ' ' ? sb_table_blanks_before (line) : 0;
  return memchr (line->text + n, delimiter, line->length - n) != NULL
         || (delimiter == ' ' && memchr (line->text + n, '\t', line->length - n) != NULL);
}

gboolean
sb_table_is_comment (const SbTableFinder *finder, guint index)
{
  const SbLine *line = &finder->lines->lines[index];
  return sb_dialect_comment_length (line->text, line->length, finder->view->comment_prefix) > 0;
}

/* The first line from `index` on that is neither blank nor a comment; n_lines when there is none. */
guint
sb_table_next_line (const SbTableFinder *finder, guint index)
{
  while (index < finder->lines->n_lines
         && (sb_table_first_of (&finder->lines->lines[index]) == '\0' || sb_table_is_comment (finder, index)))
    index++;
  return index;
}

guint
sb_table_behind_rule (const SbTableFinder *finder, guint index)
{
  const SbLine *line = index < finder->lines->n_lines ? &finder->lines->lines[index] : NULL;
  guint run = 0, longest = 0;
  for (gsize i = 0; line != NULL && i < line->length; i++) {
    gboolean dash = line->text[i] == '-' || line->text[i] == '=';
    if (!dash && strchr ("|:+ \t", line->text[i]) == NULL)
      return index;
    run = dash ? run + 1 : 0;
    longest = MAX (longest, run);
  }
  return longest >= SHORTEST_RULE ? index + 1 : index;
}

guint64
sb_table_line_number (const SbTableFinder *finder, guint index)
{
  return finder->lines->first_line + index;
}

gint64
sb_table_fixed_header (const SbTableFinder *finder)
{
  return finder->view->fixed != NULL ? finder->view->fixed->header_line : SB_AUTOMATIC;
}

SbLineShape
sb_table_shape_at (const SbTableFinder *finder, guint index, char delimiter)
{
  const SbLine *line = &finder->lines->lines[index];
  return sb_dialect_shape (finder->cells, line->text, line->length, delimiter);
}

/* Of a header cut at blanks: "speed [rpm]" is one name; so is "motor speed" where two blanks or more part the names. */
static char *
join_names (const char *text, gsize length, gboolean wide)
{
  GString *joined = g_string_new (NULL);
  for (const char *p = text, *end = text + length; p < end; p++) {
    gboolean blank = *p == ' ' || *p == '\t', lone = *p == ' ' && p > text && p[-1] != ' ' && p[-1] != '\t';
    gboolean bracket = p + 1 == end || p[1] == '[' || p[1] == '(';
    gboolean within = wide && lone && p + 1 < end && p[1] != ' ' && p[1] != '\t';
    g_string_append_c (joined, (blank && bracket) || within ? '\x1f' : *p);
  }
  return g_string_free (joined, FALSE);
}

/* Rows follow the two lines at once, or below a line of units: names in the midst of words are not worth the look. */
static gboolean
is_before_rows (const SbTableFinder *finder, guint lower)
{
  guint next = lower + 1;
  for (int i = 0; i < 2; i++, next++) {
    next = sb_table_next_line (finder, next);
    if (next >= finder->lines->n_lines)
      return FALSE;
    char first = sb_table_first_of (&finder->lines->lines[next]);
    if (g_ascii_isdigit (first) || (first != '\0' && strchr ("+-.,;|\t\"'", first) != NULL))
      return TRUE;
  }
  return FALSE;
}

/* Of a header over two lines, none of them blank or a comment. */
static char *
joined_text (const SbTableFinder *finder, const SbTableStart *start, guint *end)
{
  guint upper = start->header, lower = upper + 1;
  if (lower >= finder->lines->n_lines || sb_table_next_line (finder, lower) != lower
      || sb_table_is_comment (finder, upper) || !is_before_rows (finder, lower))
    return NULL;
  *end = lower + 1;
  return sb_header_join (finder->cells, &finder->lines->lines[upper], &finder->lines->lines[lower], start->delimiter,
                         finder->view->quote, start->form);
}

/* The header's bytes: more than one line when a quoted name goes on in the next, the prefix of a comment taken off. */
char *
sb_table_header_text (const SbTableFinder *finder, const SbTableStart *start, guint *end)
{
  const SbLines *lines = finder->lines;
  guint index = start->header;
  if (start->form == SB_HEADER_TWO_LINES || start->form == SB_HEADER_GROUPS)
    return joined_text (finder, start, end);
  GString *text = g_string_new_len (lines->lines[index].text, (gssize) lines->lines[index].length);
  *end = index + 1;
  while (sb_dialect_is_open (text->str, text->len, finder->view->quote) && *end < lines->n_lines
         && *end - index < MAX_HEADER_LINES) {
    g_string_append_c (text, ' ');
    g_string_append_len (text, lines->lines[*end].text, (gssize) lines->lines[*end].length);
    ++*end;
  }
  if (sb_dialect_is_open (text->str, text->len, finder->view->quote)) {
    g_string_truncate (text, lines->lines[index].length);
    *end = index + 1;
  }
  g_string_erase (text, 0, (gssize) sb_dialect_comment_length (text->str, text->len, finder->view->comment_prefix));
  if (start->delimiter != ' ')
    return g_string_free (text, FALSE);
  char *joined = join_names (text->str, text->len, start->form == SB_HEADER_WIDE);
  g_string_free (text, TRUE);
  return joined;
}

/* The last cells of a row may be empty: a column for remarks that nobody made. `cells` are those of the row. */
static gboolean
has_cells_of_header (const SbTableFinder *finder, const SbTableStart *candidate, const SbLineShape *row)
{
  gboolean empty_at_end = candidate->delimiter != ' ' && row->n_cells > 1 && row->n_cells < candidate->n_cells
                          && sb_cells_count (finder->cells) >= candidate->n_cells;
  return row->n_cells == candidate->n_cells || empty_at_end;
}

/* The share of the first rows that have as many cells as the header. */
static double
alike_rows (const SbTableFinder *finder, const SbTableStart *candidate)
{
  guint n_rows = 0, n_alike = 0;
  for (guint i = candidate->first; i < finder->lines->n_lines && n_rows < ROWS_COMPARED;
       i = sb_table_next_line (finder, i + 1)) {
    n_alike += sb_table_shape_at (finder, i, candidate->delimiter).n_cells == candidate->n_cells;
    n_rows++;
  }
  return n_rows > 0 ? (double) n_alike / n_rows : 0;
}

/* More cells than names are those of other words, below a title, unless they begin with a unit: "[ms] [rad / s]". */
static gboolean
is_units_of (const SbTableFinder *finder, guint index, const SbTableStart *candidate)
{
  return sb_table_is_units (finder, index, candidate->delimiter)
         && (sb_table_shape_at (finder, index, candidate->delimiter).n_cells <= candidate->n_cells
             || sb_dialect_begins_with_unit (finder->cells));
}

static void
look_at_rows (const SbTableFinder *finder, SbTableStart *candidate)
{
  guint n_lines = finder->lines->n_lines;
  guint first = sb_table_next_cells (finder, candidate->header_end, candidate->delimiter);
  candidate->units = G_MAXUINT;
  if (first < n_lines && is_units_of (finder, first, candidate)) {
    candidate->units = first;
    first = sb_table_next_cells (finder, sb_table_behind_rule (finder, first + 1), candidate->delimiter);
  }
  candidate->first = first;
  if (first == n_lines)
    return;
  SbLineShape one = sb_table_shape_at (finder, first, candidate->delimiter);
  candidate->consistent = has_cells_of_header (finder, candidate, &one) && one.n_numbers > 0;
  guint second = sb_table_next_line (finder, first + 1);
  SbLineShape two = second < n_lines ? sb_table_shape_at (finder, second, candidate->delimiter) : one;
  candidate->numeric = candidate->consistent && one.n_numbers >= 2 && two.n_cells == one.n_cells && two.n_numbers >= 2;
  double share = (double) one.n_numbers / MAX (one.n_cells, 1);
  candidate->score = (candidate->consistent ? 1000 : 0) + 100 * MIN (candidate->channels, 5) + 50 * share
                     + 20 * alike_rows (finder, candidate);
}

/* How the line looks as a header cut by `delimiter`. FALSE when it is none. */
static gboolean
try_header (const SbTableFinder *finder, guint index, char delimiter, SbHeaderForm form, gboolean forced,
            SbTableStart *candidate)
{
  *candidate = (SbTableStart){ .delimiter = delimiter, .header = index, .form = form };
  gboolean as_it_is = forced && form == SB_HEADER_LINE;
  g_autofree char *text = sb_table_header_text (finder, candidate, &candidate->header_end);
  if (text == NULL)
    return FALSE;
  candidate->header_end = sb_table_behind_rule (finder, candidate->header_end);
  SbLineShape shape = sb_dialect_shape (finder->cells, text, strlen (text), delimiter);
  candidate->n_cells = shape.n_cells;
  /* A stated header may be cut at every blank; names of several words have to suit as they do elsewhere. */
  if (!as_it_is && (shape.n_cells < 2 || shape.n_words <= shape.n_numbers))
    return FALSE;
  candidate->channels = (guint) __builtin_popcount (sb_dialect_roles (finder->cells));
  if (!as_it_is && ((shape.n_numbers > 0 && candidate->channels < 2) || sb_dialect_is_name_and_unit (finder->cells)))
    return FALSE;
  look_at_rows (finder, candidate);
  return TRUE;
}

static char
fixed_delimiter (const SbTableFinder *finder)
{
  return finder->view->fixed != NULL ? finder->view->fixed->delimiter : '\0';
}

static void
keep_better (const SbTableStart *candidate, gboolean *any, SbTableStart *best)
{
  if (!*any || candidate->score > best->score)
    *best = *candidate;
  *any = TRUE;
}

/* Blanks do not show which column a name in the second line belongs to. */
static gboolean
may_be_written (SbHeaderForm form, char delimiter)
{
  return form == SB_HEADER_LINE || (form == SB_HEADER_WIDE) == (delimiter == ' ');
}

gboolean
sb_table_best_header (const SbTableFinder *finder, guint index, gboolean forced, SbTableStart *best)
{
  const SbLine *line = &finder->lines->lines[index];
  char fixed = fixed_delimiter (finder);
  gboolean any = FALSE, open = sb_dialect_is_open (line->text, line->length, finder->view->quote);
  for (const char *d = SB_DELIMITERS; *d != '\0'; d++) {
    SbTableStart candidate;
    char delimiter = fixed != '\0' ? fixed : *d;
    gboolean worth = open || contains (line, delimiter) || (fixed != '\0' && forced);
    for (SbHeaderForm form = SB_HEADER_LINE; worth && form <= SB_HEADER_GROUPS; form++)
      if (may_be_written (form, delimiter) && try_header (finder, index, delimiter, form, forced, &candidate))
        keep_better (&candidate, &any, best);
    if (fixed != '\0')
      break;
  }
  if (!any && forced)
    any = try_header (finder, index, fixed != '\0' ? fixed : ',', SB_HEADER_LINE, TRUE, best);
  return any;
}

/* The share of numbers in the rows from `first` on, when they are alike; 0: they are no rows without header. */
static double
numbers_without_header (const SbTableFinder *finder, guint first, char delimiter, guint *n_cells)
{
  double sum = 0;
  guint n_rows = 0;
  for (guint i = first; i < finder->lines->n_lines && n_rows < ROWS_COMPARED;
       i = sb_table_next_line (finder, i + 1), n_rows++) {
    SbLineShape shape = sb_table_shape_at (finder, i, delimiter);
    gsize length;
    const char *text = sb_cells_get (finder->cells, 0, &length);
    gboolean begins = shape.n_cells > 0 && (length == 0 || sb_dialect_is_number (text, length, TRUE));
    if (n_rows == 0)
      *n_cells = shape.n_cells;
    if (shape.n_numbers < 2 || shape.n_cells != *n_cells || !begins)
      return 0;
    sum += (double) shape.n_numbers / shape.n_cells;
  }
  return n_rows > 0 ? sum / n_rows : 0;
}

/* A comment directly before the rows may be their header: "# time torque". */
static void
take_comment_as_header (const SbTableFinder *finder, SbTableStart *candidate)
{
  guint first = candidate->first, end;
  if (first == 0 || !sb_table_is_comment (finder, first - 1) || sb_table_fixed_header (finder) == 0)
    return;
  for (SbHeaderForm form = SB_HEADER_LINE; form <= SB_HEADER_WIDE; form++) {
    SbTableStart comment = { .header = first - 1, .delimiter = candidate->delimiter, .form = form };
    g_autofree char *text = sb_table_header_text (finder, &comment, &end);
    SbLineShape shape = sb_dialect_shape (finder->cells, text, strlen (text), candidate->delimiter);
    gboolean names = shape.n_numbers == 0 && shape.n_words + 1 >= shape.n_cells;
    if (candidate->header == G_MAXUINT && shape.n_cells == candidate->n_cells && names && end == first) {
      candidate->header = first - 1;
      candidate->form = form;
    }
  }
}

static gboolean
best_without_header (const SbTableFinder *finder, guint index, SbTableStart *best)
{
  char fixed = fixed_delimiter (finder);
  *best = (SbTableStart){ .header = G_MAXUINT, .units = G_MAXUINT, .first = index, .header_end = index };
  for (const char *d = SB_DELIMITERS; *d != '\0'; d++) {
    guint n_cells = 0;
    char delimiter = fixed != '\0' ? fixed : *d;
    double share = contains (&finder->lines->lines[index], delimiter)
                       ? numbers_without_header (finder, index, delimiter, &n_cells)
                       : 0;
    if (share > best->score) {
      best->score = share;
      best->delimiter = delimiter;
      best->n_cells = n_cells;
    }
    if (fixed != '\0')
      break;
  }
  best->consistent = best->numeric = best->score > 0;
  if (best->consistent)
    take_comment_as_header (finder, best);
  return best->consistent;
}

/* The table that begins at the line, if any does. */
gboolean
sb_table_begins (const SbTableFinder *finder, guint index, SbTableStart *candidate)
{
  gint64 fixed = sb_table_fixed_header (finder);
  if (fixed > 0)
    return sb_table_line_number (finder, index) == (guint64) fixed
           && sb_table_best_header (finder, index, TRUE, candidate);
  if (fixed != 0 && sb_table_best_header (finder, index, FALSE, candidate)
      && ((candidate->consistent && candidate->channels >= 2) || candidate->numeric))
    return TRUE;
  char first = sb_table_first_of (&finder->lines->lines[index]);
  gboolean digits = g_ascii_isdigit (first) || strchr ("+-.,;|\"'", first) != NULL;
  return digits && best_without_header (finder, index, candidate);
}
