/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "table_end.h"

#include "header.h"
#include "log_build.h"
#include "number.h"
#include "number_style.h"
#include "number_unit.h"

#include <string.h>

#define LONGEST_NUMBER 64

static gboolean
read_number (const SbFoundTable *found, const char *text, gsize length, double *value)
{
  char plain[LONGEST_NUMBER], decimal = found->decimal != '\0' ? found->decimal : '.';
  /* A first sign may part decimals or thousands. */
  if (found->decimal == '\0' && (memchr (text, '.', length) != NULL || memchr (text, ',', length) != NULL))
    return FALSE;
  if (sb_number_read (text, length, decimal, 0, value))
    return TRUE;
  gsize n
      = found->thousands != '\0' ? sb_number_ungroup (text, length, found->thousands, decimal, plain, sizeof plain) : 0;
  return n > 0 && sb_number_read (plain, n, decimal, 0, value);
}

static gboolean
read_time_cell (const SbFoundTable *found, SbClock *clock, const char *text, gsize length, double *time)
{
  SbClockTime stamp;
  text = sb_text_trim (text, &length);
  const SbUnit *unit;
  if (read_number (found, text, length, time))
    return TRUE;
  gsize n = sb_number_before_unit (text, length, &unit);
  if (n > 0)
    return read_number (found, text, n, time);
  return sb_clock_time_read (text, length, &stamp) && sb_clock_seconds (clock, &stamp, time);
}

/* Where no name states the time, the first column is it when its numbers rise. */
static gboolean
first_column_rises (const SbFoundTable *found)
{
  SbClock clock = { 0 };
  double last = 0.0, time;
  guint n_rising = 0, n_rows = 0;
  for (guint i = 0; i < found->rows->len; i++) {
    const GPtrArray *cells = g_ptr_array_index (found->rows, i);
    const char *text = cells->len > 0 ? g_ptr_array_index (cells, 0) : "";
    if (!read_time_cell (found, &clock, text, strlen (text), &time))
      continue;
    sb_clock_take (&clock);
    n_rising += n_rows > 0 && time > last ? 1 : 0;
    last = time;
    n_rows++;
  }
  return n_rows > 1 && 4 * n_rising >= 3 * (n_rows - 1);
}

static int
find_time_column (const SbFoundTable *found)
{
  for (guint i = 0; i < found->names->len; i++) {
    SbColumnMeaning meaning;
    sb_column_meaning_read (&meaning, g_ptr_array_index (found->names, i));
    gboolean time = meaning.role == SB_ROLE_TIME && meaning.certainty != SB_CERTAINTY_GUESSED;
    sb_column_meaning_clear (&meaning);
    if (time)
      return (int) i;
  }
  return first_column_rises (found) ? 0 : -1;
}

void
sb_table_find_time (SbFoundTable *found)
{
  SbNumberStyle style = { 0 };
  for (guint row = 0; row < found->rows->len; row++) {
    const GPtrArray *cells = g_ptr_array_index (found->rows, row);
    for (guint i = 0; i < cells->len; i++) {
      gsize length = strlen (g_ptr_array_index (cells, i));
      const char *text = sb_text_trim (g_ptr_array_index (cells, i), &length);
      sb_number_style_add (&style, text, length, i);
    }
  }
  sb_number_style_decide (&style, found->delimiter, &found->decimal, &found->thousands);
  found->time_column = find_time_column (found);
}

/* The time of a row with as many cells as the table has columns; those behind them may be empty. */
static gboolean
read_time (const SbTableFinder *finder, const SbFoundTable *found, guint index, SbClock *clock, double *time)
{
  gsize length;
  if (found->time_column < 0)
    return FALSE;
  SbLineShape shape = sb_table_shape_at (finder, index, found->delimiter);
  if (shape.n_cells > found->table.n_columns || sb_cells_count (finder->cells) < found->table.n_columns)
    return FALSE;
  const char *text = sb_cells_get (finder->cells, (guint) found->time_column, &length);
  return read_time_cell (found, clock, text, length, time);
}

/* Rows nearly always begin so; they need no closer look. */
static gboolean
begins_like_row (const SbLine *line)
{
  char first = sb_table_first_of (line);
  return g_ascii_isdigit (first) || (first != '\0' && strchr ("+-.,;|\t", first) != NULL);
}

typedef enum {
  GOES_ON,
  STARTED_AGAIN,
  UNDECIDED, /* the lines end too early */
} Again;

/* The row behind a repeated header is before the row before it: the test was started again. */
static Again
restarts_behind (const SbTableFinder *finder, guint header, const SbFoundTable *found, SbTableTimes *times)
{
  double time;
  guint next = sb_table_next_line (finder, header + 1);
  for (guint64 below = found->table.header_line + 1; next < finder->lines->n_lines && below < found->table.first_line;
       below++) {
    if (begins_like_row (&finder->lines->lines[next]))
      break;
    next = sb_table_next_line (finder, next + 1); /* more names, the units */
  }
  if (next >= finder->lines->n_lines)
    return finder->lines->to_end ? GOES_ON : UNDECIDED;
  return times->span.n_rows > 0 && read_time (finder, found, next, &times->clock, &time)
                 && time + times->ticks.offset < times->span.last
             ? STARTED_AGAIN
             : GOES_ON;
}

/* The table on its way to its end. */
typedef struct {
  SbTableBreak at;
  guint last;  /* line of it */
  guint title; /* a line that another header may follow; G_MAXUINT: none */
  SbTableTimes times;
  SbFall fall;
  guint fall_index; /* of its first row */
  guint before_fall;
} Way;

/* What a row's time is when the counter that it is of has begun again, or begins to (ticks.h). */
static double
follow_ticks (Way *way, double written)
{
  SbTicks *ticks = &way->times.ticks;
  if (written + ticks->offset < way->times.span.last && way->fall.n_rows == 0)
    sb_ticks_begin_again (ticks, written);
  return written + ticks->offset;
}

/* TRUE when another recording begins at way->fall_index. */
static gboolean
take_row (const SbTableFinder *finder, guint index, SbFoundTable *found, Way *way)
{
  double time;
  guint before = way->last;
  way->last = index;
  way->at.after_blank = FALSE;
  way->title = G_MAXUINT;
  if (!read_time (finder, found, index, &way->times.clock, &time))
    return FALSE;
  time = follow_ticks (way, time);
  switch (sb_fall_take (&way->fall, &way->times.span, time, sb_table_line_number (finder, index))) {
  case SB_FALL_NONE:
    if (way->times.span.n_rows == 0 || time > way->times.span.last)
      sb_clock_take (&way->times.clock);
    if (way->times.span.n_rows == 0 || time > way->times.span.last)
      sb_ticks_add (&way->times.ticks, time);
    sb_time_span_add (&way->times.span, time);
    return FALSE;
  case SB_FALL_BEGINS:
    way->fall_index = index;
    way->before_fall = before;
    return FALSE;
  case SB_FALL_GOES_ON:
    return FALSE;
  case SB_FALL_LAST_ALONE:
    sb_clock_take_instead (&way->times.clock);
    sb_time_span_replace (&way->times.span, time);
    sb_ticks_replace (&way->times.ticks, time);
    return FALSE;
  case SB_FALL_RESTARTS:
    return TRUE;
  }
  g_assert_not_reached ();
}

static guint
end_at (const SbTableFinder *finder, SbFoundTable *found, guint last, guint index)
{
  /* The lines may begin with that one, when the ones before it are no longer kept. */
  found->table.last_line = sb_table_line_number (finder, index) - 1;
  if (last < index)
    found->table.last_line = sb_table_line_number (finder, last);
  return index;
}

/* The line is no row by its first letter. Its own index or that of its title when it ends the table, else n_lines. */
static guint
take_words (const SbTableFinder *finder, guint index, SbFoundTable *found, Way *way, gboolean *row)
{
  const SbLine *line = &finder->lines->lines[index];
  SbLineKind kind = sb_tables_line_kind (finder->cells, &way->at, line->text, line->length);
  Again again = kind == SB_LINE_IS_HEADER ? restarts_behind (finder, index, found, &way->times) : GOES_ON;
  if (kind == SB_LINE_BEGINS_ANOTHER || again == STARTED_AGAIN)
    return end_at (finder, found, way->last, way->title != G_MAXUINT ? way->title : index);
  if (again == UNDECIDED)
    found->n_undecided = MAX (found->n_undecided, finder->lines->n_lines - index);
  *row = kind == SB_LINE_IS_ROW;
  way->title = kind == SB_LINE_IS_TITLE ? index : G_MAXUINT;
  if (kind == SB_LINE_IS_HEADER) {
    way->last = index;
    way->at.after_blank = FALSE;
  }
  return finder->lines->n_lines;
}

guint
sb_table_find_end (const SbTableFinder *finder, guint first, SbFoundTable *found)
{
  const guint n_lines = finder->lines->n_lines;
  Way way = { .at = { .delimiter = found->delimiter, .header = found->header },
              .last = first,
              .title = G_MAXUINT,
              .times = found->before };
  found->n_undecided = 0;
  found->restarts = FALSE;
  for (guint i = first; i < n_lines; i++) {
    const SbLine *line = &finder->lines->lines[i];
    gboolean row = begins_like_row (line), blank = sb_table_first_of (line) == '\0';
    if (!row && (blank || sb_table_is_comment (finder, i))) {
      way.at.after_blank = way.at.after_blank || blank;
      continue;
    }
    guint end = row ? n_lines : take_words (finder, i, found, &way, &row);
    if (end < n_lines)
      return end;
    if (row && take_row (finder, i, found, &way)) {
      found->restarts = TRUE;
      return end_at (finder, found, way.before_fall, way.fall_index);
    }
  }
  if (way.fall.n_rows > 0 && !finder->lines->to_end)
    found->n_undecided = MAX (found->n_undecided, n_lines - way.fall_index);
  found->behind = way.times;
  return n_lines;
}
