/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "tables.h"

#include "dialect.h"
#include "log_build.h"
#include "number_style.h"

#include <string.h>

/* A header whose quoted names go on over several lines ends soon or never. */
#define MAX_HEADER_LINES 8
/* Rows that tell one delimiter from another. */
#define ROWS_COMPARED 5
/* Comments come early. */
#define LINES_FOR_PREFIX 200
/* More names than a person has given; bounds the time that faulty files take. */
#define MAX_COLUMNS 100000

typedef struct {
  const SbLines *lines;
  const SbTableView *view;
  SbCells *cells;
} Finder;

/* One way to see a header at a line. */
typedef struct {
  char delimiter;
  guint header;        /* index of the line; G_MAXUINT: none */
  guint header_end;    /* behind the header's last line */
  guint units;         /* index; G_MAXUINT: none */
  guint first;         /* of the data rows */
  guint n_cells;       /* of the header, else of the rows */
  guint channels;      /* the names speak of so many */
  gboolean consistent; /* the first row has as many cells, and a number */
  gboolean numeric;    /* the first two rows are numbers, two or more */
  gboolean wide;       /* names are parted by two blanks or more */
  double score;
} Candidate;

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

static gsize
blanks_before (const SbLine *line)
{
  gsize n = 0;
  while (n < line->length && (line->text[n] == ' ' || line->text[n] == '\t'))
    n++;
  return n;
}

static char
first_of (const SbLine *line)
{
  gsize n = blanks_before (line);
  return n < line->length ? line->text[n] : '\0';
}

static gboolean
contains (const SbLine *line, char delimiter)
{
  gsize n = delimiter == ' ' ? blanks_before (line) : 0;
  return memchr (line->text + n, delimiter, line->length - n) != NULL
         || (delimiter == ' ' && memchr (line->text + n, '\t', line->length - n) != NULL);
}

/* ";time;torque" is a header without a first name, "; made by hand" a comment. */
static const char *
prefix_of (const SbLine *line)
{
  gsize n = blanks_before (line);
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
    if (first_of (&lines->lines[i]) != ';' && memchr (lines->lines[i].text, ';', lines->lines[i].length) != NULL)
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
    if (g_ascii_isdigit (first_of (line)))
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
    if (first_of (line) == '\'' && n > 2 && line->text[n - 1] == '\'')
      return '\'';
  }
  return '"';
}

static gboolean
is_comment (const Finder *finder, guint index)
{
  const SbLine *line = &finder->lines->lines[index];
  return sb_dialect_comment_length (line->text, line->length, finder->view->comment_prefix) > 0;
}

/* The first line from `index` on that is neither blank nor a comment; n_lines when there is none. */
static guint
next_line (const Finder *finder, guint index)
{
  while (index < finder->lines->n_lines
         && (first_of (&finder->lines->lines[index]) == '\0' || is_comment (finder, index)))
    index++;
  return index;
}

static guint64
number_of (const Finder *finder, guint index)
{
  return finder->lines->first_line + index;
}

static gint64
fixed_header (const Finder *finder)
{
  return finder->view->fixed != NULL ? finder->view->fixed->header_line : SB_AUTOMATIC;
}

static gint64
fixed_units (const Finder *finder)
{
  return finder->view->fixed != NULL ? finder->view->fixed->units_line : SB_AUTOMATIC;
}

static SbLineShape
shape_at (const Finder *finder, guint index, char delimiter)
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

/* The header's bytes: more than one line when a quoted name goes on in the next, the prefix of a comment taken off. */
static char *
header_text (const Finder *finder, guint index, char delimiter, gboolean wide, guint *end)
{
  const SbLines *lines = finder->lines;
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
  if (delimiter != ' ')
    return g_string_free (text, FALSE);
  char *joined = join_names (text->str, text->len, wide);
  g_string_free (text, TRUE);
  return joined;
}

/* Whether the line is a units row; `cells` hold it then. */
static gboolean
is_units (const Finder *finder, guint index, char delimiter)
{
  gint64 fixed = fixed_units (finder);
  if (fixed >= 0)
    return fixed > 0 && number_of (finder, index) == (guint64) fixed;
  const SbLine *line = &finder->lines->lines[index];
  sb_cells_split (finder->cells, line->text, line->length, delimiter);
  return sb_dialect_is_units_row (finder->cells);
}

/* The share of the first rows that have as many cells as the header. */
static double
alike_rows (const Finder *finder, const Candidate *candidate)
{
  guint n_rows = 0, n_alike = 0;
  for (guint i = candidate->first; i < finder->lines->n_lines && n_rows < ROWS_COMPARED;
       i = next_line (finder, i + 1)) {
    n_alike += shape_at (finder, i, candidate->delimiter).n_cells == candidate->n_cells;
    n_rows++;
  }
  return n_rows > 0 ? (double) n_alike / n_rows : 0;
}

static void
look_at_rows (const Finder *finder, Candidate *candidate)
{
  guint n_lines = finder->lines->n_lines;
  guint first = next_line (finder, candidate->header_end);
  candidate->units = G_MAXUINT;
  if (first < n_lines && is_units (finder, first, candidate->delimiter)) {
    candidate->units = first;
    first = next_line (finder, first + 1);
  }
  candidate->first = first;
  if (first == n_lines)
    return;
  SbLineShape one = shape_at (finder, first, candidate->delimiter);
  guint second = next_line (finder, first + 1);
  SbLineShape two = second < n_lines ? shape_at (finder, second, candidate->delimiter) : one;
  candidate->consistent = one.n_cells == candidate->n_cells && one.n_numbers > 0;
  candidate->numeric = candidate->consistent && one.n_numbers >= 2 && two.n_cells == one.n_cells && two.n_numbers >= 2;
  double share = (double) one.n_numbers / MAX (one.n_cells, 1);
  candidate->score = (candidate->consistent ? 1000 : 0) + 100 * MIN (candidate->channels, 5) + 50 * share
                     + 20 * alike_rows (finder, candidate);
}

/* How the line looks as a header cut by `delimiter`. FALSE when it is none. */
static gboolean
try_header (const Finder *finder, guint index, char delimiter, gboolean wide, gboolean forced, Candidate *candidate)
{
  *candidate = (Candidate){ .delimiter = delimiter, .header = index, .wide = wide };
  g_autofree char *text = header_text (finder, index, delimiter, wide, &candidate->header_end);
  SbLineShape shape = sb_dialect_shape (finder->cells, text, strlen (text), delimiter);
  candidate->n_cells = shape.n_cells;
  if (!forced && (shape.n_cells < 2 || shape.n_words <= shape.n_numbers))
    return FALSE;
  candidate->channels = (guint) __builtin_popcount (sb_dialect_roles (finder->cells));
  if (!forced && shape.n_numbers > 0 && candidate->channels < 2)
    return FALSE;
  look_at_rows (finder, candidate);
  return TRUE;
}

static char
fixed_delimiter (const Finder *finder)
{
  return finder->view->fixed != NULL ? finder->view->fixed->delimiter : '\0';
}

static void
keep_better (const Candidate *candidate, gboolean *any, Candidate *best)
{
  if (!*any || candidate->score > best->score)
    *best = *candidate;
  *any = TRUE;
}

static gboolean
best_header (const Finder *finder, guint index, gboolean forced, Candidate *best)
{
  const SbLine *line = &finder->lines->lines[index];
  char fixed = fixed_delimiter (finder);
  gboolean any = FALSE, open = sb_dialect_is_open (line->text, line->length, finder->view->quote);
  for (const char *d = SB_DELIMITERS; *d != '\0'; d++) {
    Candidate candidate;
    char delimiter = fixed != '\0' ? fixed : *d;
    gboolean worth = open || contains (line, delimiter) || (fixed != '\0' && forced);
    if (worth && try_header (finder, index, delimiter, FALSE, forced, &candidate))
      keep_better (&candidate, &any, best);
    if (worth && delimiter == ' ' && try_header (finder, index, delimiter, TRUE, forced, &candidate))
      keep_better (&candidate, &any, best);
    if (fixed != '\0')
      break;
  }
  if (!any && forced)
    any = try_header (finder, index, fixed != '\0' ? fixed : ',', FALSE, TRUE, best);
  return any;
}

/* The share of numbers in the rows from `first` on, when they are alike; 0: they are no rows without header. */
static double
numbers_without_header (const Finder *finder, guint first, char delimiter, guint *n_cells)
{
  double sum = 0;
  guint n_rows = 0;
  for (guint i = first; i < finder->lines->n_lines && n_rows < ROWS_COMPARED; i = next_line (finder, i + 1), n_rows++) {
    SbLineShape shape = shape_at (finder, i, delimiter);
    gsize length;
    const char *text = sb_cells_get (finder->cells, 0, &length);
    gboolean begins = shape.n_cells > 0 && (length == 0 || sb_number_looks_like_one (text, length, TRUE));
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
take_comment_as_header (const Finder *finder, Candidate *candidate)
{
  guint first = candidate->first, end;
  if (first == 0 || !is_comment (finder, first - 1) || fixed_header (finder) == 0)
    return;
  for (int wide = 0; wide < 2; wide++) {
    g_autofree char *text = header_text (finder, first - 1, candidate->delimiter, wide == 1, &end);
    SbLineShape shape = sb_dialect_shape (finder->cells, text, strlen (text), candidate->delimiter);
    gboolean names = shape.n_numbers == 0 && shape.n_words + 1 >= shape.n_cells;
    if (candidate->header == G_MAXUINT && shape.n_cells == candidate->n_cells && names && end == first) {
      candidate->header = first - 1;
      candidate->wide = wide == 1;
    }
  }
}

static gboolean
best_without_header (const Finder *finder, guint index, Candidate *best)
{
  char fixed = fixed_delimiter (finder);
  *best = (Candidate){ .header = G_MAXUINT, .units = G_MAXUINT, .first = index, .header_end = index };
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
static gboolean
begins_table (const Finder *finder, guint index, Candidate *candidate)
{
  gint64 fixed = fixed_header (finder);
  if (fixed > 0)
    return number_of (finder, index) == (guint64) fixed && best_header (finder, index, TRUE, candidate);
  if (fixed != 0 && best_header (finder, index, FALSE, candidate)
      && ((candidate->consistent && candidate->channels >= 2) || candidate->numeric))
    return TRUE;
  char first = first_of (&finder->lines->lines[index]);
  gboolean digits = g_ascii_isdigit (first) || strchr ("+-.,;|\"'", first) != NULL;
  return digits && best_without_header (finder, index, candidate);
}

static char *
name_of (const Finder *finder, const char *cell, guint index)
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
cells_as_text (const Finder *finder)
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
cells_of_header (const Finder *finder, const Candidate *candidate)
{
  guint end;
  if (candidate->header == G_MAXUINT)
    return MIN (candidate->n_cells, MAX_COLUMNS);
  g_autofree char *text = header_text (finder, candidate->header, candidate->delimiter, candidate->wide, &end);
  sb_cells_split (finder->cells, text, strlen (text), candidate->delimiter);
  return MIN (sb_cells_count (finder->cells), MAX_COLUMNS);
}

static void
sample_rows (const Finder *finder, const Candidate *candidate, SbFoundTable *found)
{
  guint n_most = cells_of_header (finder, candidate), n_cells = candidate->n_cells;
  for (guint i = next_line (finder, candidate->first); i < finder->lines->n_lines && found->rows->len < SB_SAMPLE_ROWS;
       i = next_line (finder, i + 1)) {
    SbLineShape shape = shape_at (finder, i, candidate->delimiter);
    if (shape.n_numbers == 0)
      continue;
    /* The header may have an empty name for a column that the first rows have. */
    if (found->rows->len == 0)
      n_cells = MAX (n_cells, MIN (n_most, shape.n_cells));
    g_ptr_array_add (found->rows, cells_as_text (finder));
  }
  found->table.n_columns = n_cells;
}

/* A line of words directly before the header. */
static char *
title_before (const Finder *finder, guint index)
{
  for (guint i = index; i > 0; i--) {
    const SbLine *line = &finder->lines->lines[i - 1];
    if (first_of (line) == '\0')
      continue;
    gboolean words = !is_comment (finder, i - 1) && line->length < 200 && shape_at (finder, i - 1, ';').n_numbers == 0
                     && memchr (line->text, ';', line->length) == NULL
                     && memchr (line->text, '\t', line->length) == NULL;
    return words ? g_strstrip (sb_text_to_utf8_from (line->text, line->length, finder->view->encoding)) : g_strdup ("");
  }
  return g_strdup ("");
}

static void
read_names (const Finder *finder, const Candidate *candidate, SbFoundTable *found)
{
  guint end;
  sb_cells_split (finder->cells, "", 0, candidate->delimiter);
  if (candidate->header != G_MAXUINT) {
    const SbLine *line = &finder->lines->lines[candidate->header];
    g_autofree char *text = header_text (finder, candidate->header, candidate->delimiter, candidate->wide, &end);
    sb_cells_split (finder->cells, text, strlen (text), candidate->delimiter);
    found->header = g_strndup (line->text, line->length);
    found->table.header_line = number_of (finder, candidate->header);
  }
  for (guint i = 0; i < found->table.n_columns; i++)
    g_ptr_array_add (
        found->names,
        name_of (finder, i < sb_cells_count (finder->cells) ? sb_cells_get (finder->cells, i, NULL) : "", i));
}

static void
read_units (const Finder *finder, const Candidate *candidate, SbFoundTable *found)
{
  if (candidate->units == G_MAXUINT)
    return;
  const SbLine *line = &finder->lines->lines[candidate->units];
  found->units_line = number_of (finder, candidate->units);
  sb_cells_split (finder->cells, line->text, line->length, candidate->delimiter);
  found->unit_cells = cells_as_text (finder);
  for (guint i = 0; i < found->unit_cells->len; i++)
    g_strstrip (g_ptr_array_index (found->unit_cells, i));
  while (found->unit_cells->len < found->table.n_columns)
    g_ptr_array_add (found->unit_cells, g_strdup (""));
}

static SbFoundTable *
take_table (const Finder *finder, const Candidate *candidate)
{
  SbFoundTable *found = g_new0 (SbFoundTable, 1);
  found->names = g_ptr_array_new_with_free_func (g_free);
  found->rows = g_ptr_array_new_with_free_func ((GDestroyNotify) g_ptr_array_unref);
  found->delimiter = candidate->delimiter;
  found->sure = candidate->consistent;
  guint start = candidate->header != G_MAXUINT ? candidate->header : candidate->first;
  found->table.title = title_before (finder, start);
  guint behind = candidate->units != G_MAXUINT ? candidate->units + 1 : candidate->header_end;
  found->table.first_line = number_of (finder, behind);
  sample_rows (finder, candidate, found);
  read_names (finder, candidate, found);
  read_units (finder, candidate, found);
  return found;
}

SbLineKind
sb_tables_line_kind (SbCells *cells, const SbTableBreak *at, const char *line, gsize length)
{
  if (at->header != NULL && strlen (at->header) == length && memcmp (line, at->header, length) == 0)
    return SB_LINE_IS_HEADER;
  SbLineShape shape = sb_dialect_shape (cells, line, length, at->delimiter);
  gboolean words = shape.n_words > 0 && shape.n_numbers == 0;
  if (at->after_blank && words && shape.n_cells == 1)
    return SB_LINE_IS_TITLE;
  if (!words || sb_dialect_is_units_row (cells) || !sb_dialect_is_names_row (cells, &shape))
    return SB_LINE_IS_ROW;
  guint channels = at->after_blank ? 2 : (guint) __builtin_popcount (sb_dialect_roles (cells));
  return channels >= 2 ? SB_LINE_BEGINS_ANOTHER : SB_LINE_IS_ROW;
}

/* Rows nearly always begin so; they need no closer look. */
static gboolean
begins_like_row (const SbLine *line)
{
  char first = first_of (line);
  return g_ascii_isdigit (first) || (first != '\0' && strchr ("+-.,;|\t", first) != NULL);
}

static double
first_number (const Finder *finder, guint index, char delimiter)
{
  if (index >= finder->lines->n_lines)
    return 0;
  shape_at (finder, index, delimiter);
  g_autofree char *text
      = sb_cells_count (finder->cells) > 0 ? g_strdup (sb_cells_get (finder->cells, 0, NULL)) : g_strdup ("");
  return g_ascii_strtod (g_strdelimit (text, ",", '.'), NULL);
}

/* The row behind a repeated header is before the row before it: the test was started again. */
static gboolean
restarts (const Finder *finder, guint header, guint last_row, const SbFoundTable *found)
{
  guint next = next_line (finder, header + 1);
  if (next < finder->lines->n_lines && !begins_like_row (&finder->lines->lines[next]))
    next = next_line (finder, next + 1); /* the units */
  return next < finder->lines->n_lines
         && first_number (finder, next, found->delimiter) < first_number (finder, last_row, found->delimiter);
}

/* The index of the line that begins another table, or n_lines. Sets table.last_line when there is one. */
static guint
find_end (const Finder *finder, guint first, SbFoundTable *found)
{
  SbTableBreak at = { .delimiter = found->delimiter, .header = found->header };
  guint last = first, title = G_MAXUINT, last_row = G_MAXUINT;
  for (guint i = first; i < finder->lines->n_lines; i++) {
    const SbLine *line = &finder->lines->lines[i];
    if (begins_like_row (line)) {
      last = last_row = i;
      at.after_blank = FALSE;
      title = G_MAXUINT;
      continue;
    }
    if (first_of (line) == '\0' || is_comment (finder, i)) {
      at.after_blank = at.after_blank || first_of (line) == '\0';
      continue;
    }
    SbLineKind kind = sb_tables_line_kind (finder->cells, &at, line->text, line->length);
    gboolean again = kind == SB_LINE_IS_HEADER && last_row != G_MAXUINT && restarts (finder, i, last_row, found);
    if (kind == SB_LINE_BEGINS_ANOTHER || again) {
      found->table.last_line = number_of (finder, last);
      return title != G_MAXUINT ? title : i;
    }
    title = kind == SB_LINE_IS_TITLE ? i : G_MAXUINT;
    if (kind != SB_LINE_IS_TITLE) {
      last = i;
      at.after_blank = FALSE;
    }
  }
  return finder->lines->n_lines;
}

/* A header without rows that suit it, "time_s,torque_Nm" before a row of "n/a" or before rows of three cells: it counts
 * when it is of one piece with what was found. */
static gboolean
prefer_earlier (const Candidate *earlier, const Candidate *found)
{
  gboolean named = found->header != G_MAXUINT && found->channels >= 2;
  gboolean adjacent = found->header == G_MAXUINT && earlier->first == found->first;
  return earlier->channels >= 2 && earlier->delimiter == found->delimiter && !named
         && (adjacent || earlier->n_cells == found->n_cells);
}

static guint
first_to_look_at (const Finder *finder)
{
  gint64 fixed = fixed_header (finder);
  guint64 first = finder->lines->first_line;
  if (finder->view->open != NULL)
    return next_line (finder, find_end (finder, 0, finder->view->open));
  /* A header that is stated may stand in a comment. */
  if (fixed > 0 && (guint64) fixed >= first)
    return (guint) MIN ((guint64) fixed - first, finder->lines->n_lines);
  return next_line (finder, 0);
}

GPtrArray *
sb_tables_find (const SbLines *lines, const SbTableView *view)
{
  GPtrArray *tables = g_ptr_array_new_with_free_func ((GDestroyNotify) sb_found_table_free);
  g_autoptr (SbCells) cells = sb_cells_new ();
  Finder finder = { lines, view, cells };
  Candidate earlier = { 0 };
  sb_cells_set_quote (cells, view->quote);
  for (guint i = first_to_look_at (&finder); i < lines->n_lines;) {
    Candidate candidate;
    gint64 fixed = fixed_header (&finder);
    if (begins_table (&finder, i, &candidate)) {
      const Candidate *best = prefer_earlier (&earlier, &candidate) ? &earlier : &candidate;
      SbFoundTable *found = take_table (&finder, best);
      g_ptr_array_add (tables, found);
      earlier = (Candidate){ 0 };
      i = next_line (&finder, find_end (&finder, candidate.first, found));
      continue;
    }
    if (fixed < 0 && earlier.channels < 2 && best_header (&finder, i, FALSE, &candidate) && candidate.channels >= 2)
      earlier = candidate;
    i = next_line (&finder, i + 1);
  }
  if (tables->len == 0 && earlier.channels >= 2)
    g_ptr_array_add (tables, take_table (&finder, &earlier));
  return tables;
}
