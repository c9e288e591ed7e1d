/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "preview.h"

#include "cells.h"
#include "clock.h"
#include "convert.h"
#include "line.h"
#include "number.h"
#include "number_unit.h"

#include <math.h>
#include <string.h>

#define MOST_BYTES ((gsize) 8 << 20)
#define MOST_ROWS  20000
/* Further columns are not looked at: nobody says what thousands of them are one by one. */
#define MOST_COLUMNS 256
#define LONGEST_CELL 64

static void
column_free (gpointer data)
{
  SbPreviewColumn *column = data;
  g_free (column->values);
  g_free (column);
}

void
sb_preview_free (SbPreview *preview)
{
  if (preview == NULL)
    return;
  g_ptr_array_unref (preview->columns);
  g_free (preview);
}

/* The first bytes of the file as they are stored, unpacked. */
static GBytes *
read_head (const char *path, GCancellable *cancellable, GError **error)
{
  static const guint8 packed[] = { 0x1f, 0x8b };
  g_autoptr (GFile) file = g_file_new_for_path (path);
  g_autoptr (GInputStream) stream = G_INPUT_STREAM (g_file_read (file, cancellable, error));
  if (stream == NULL)
    return NULL;
  guint8 first[2] = { 0 };
  gsize n = 0;
  if (!g_input_stream_read_all (stream, first, sizeof first, &n, cancellable, error)
      || !g_seekable_seek (G_SEEKABLE (stream), 0, G_SEEK_SET, cancellable, error))
    return NULL;
  if (memcmp (first, packed, sizeof packed) == 0) {
    g_autoptr (GConverter) unpack = G_CONVERTER (g_zlib_decompressor_new (G_ZLIB_COMPRESSOR_FORMAT_GZIP));
    g_autoptr (GInputStream) plain = g_converter_input_stream_new (stream, unpack);
    g_object_unref (stream);
    stream = g_steal_pointer (&plain);
  }
  guint8 *bytes = g_malloc (MOST_BYTES);
  if (!g_input_stream_read_all (stream, bytes, MOST_BYTES, &n, cancellable, error)) {
    g_free (bytes);
    return NULL;
  }
  return g_bytes_new_take (bytes, n);
}

/* Numbers and delimiters are the same bytes in Latin-1 and UTF-8; UTF-16 is turned into UTF-8. A character cut in two
 * at the end goes. */
static GBytes *
as_utf8 (GBytes *bytes, SbEncoding encoding)
{
  if (encoding != SB_ENCODING_UTF16_LE && encoding != SB_ENCODING_UTF16_BE)
    return g_bytes_ref (bytes);
  gsize n = 0, n_read = 0, n_written = 0;
  const char *data = g_bytes_get_data (bytes, &n);
  const char *name = encoding == SB_ENCODING_UTF16_LE ? "UTF-16LE" : "UTF-16BE";
  char *text = g_convert_with_fallback (data, (gssize) (n & ~(gsize) 1), "UTF-8", name, "\xef\xbf\xbd", &n_read,
                                        &n_written, NULL);
  return text != NULL ? g_bytes_new_take (text, n_written) : g_bytes_new (NULL, 0);
}

/* Without the signs between groups of digits; blanks of any kind count as one sign. */
static gsize
ungroup (const char *cell, gsize length, char thousands, char *plain)
{
  gsize n = 0;
  for (gsize i = 0; i < length && n < LONGEST_CELL; i++) {
    gboolean blank = cell[i] == ' ' || cell[i] == '\xa0' || cell[i] == '\xc2' || cell[i] == '\xe2' || cell[i] == '\x80'
                     || cell[i] == '\xaf';
    if (thousands == 0 || (thousands == ' ' ? !blank : cell[i] != thousands))
      plain[n++] = cell[i];
  }
  return n;
}

/* What reading one column needs. */
typedef struct {
  SbConversion conversion;
  SbClock clock;
} Reading;

static double
read_clock (SbClock *clock, const char *cell, gsize length)
{
  SbClockTime time;
  double seconds;
  if (!sb_clock_time_read (cell, length, &time) || !sb_clock_seconds (clock, &time, &seconds))
    return (double) NAN;
  sb_clock_take (clock);
  return seconds;
}

static double
read_cell (const SbLayout *layout, Reading *reading, const char *cell, gsize length)
{
  const SbConversion *conversion = &reading->conversion;
  char plain[LONGEST_CELL];
  double value;
  if (conversion->kind == SB_CONVERT_CLOCK)
    return read_clock (&reading->clock, cell, length);
  gsize n = ungroup (cell, length, layout->thousands, plain);
  gboolean shifted = conversion->kind == SB_CONVERT_NUMBER || conversion->kind == SB_CONVERT_TRANSDUCER;
  int shift = shifted && !conversion->aside ? conversion->power_of_ten : 0;
  const SbUnit *unit;
  if (n == LONGEST_CELL)
    return (double) NAN;
  if (!sb_number_read (plain, n, layout->decimal, shift, &value)) {
    n = sb_number_before_unit (plain, n, &unit);
    if (n == 0 || unit != conversion->unit || !sb_number_read (plain, n, layout->decimal, shift, &value))
      return (double) NAN;
  }
  if (conversion->aside)
    return sb_conversion_apply_aside (conversion, value);
  return conversion->kind == SB_CONVERT_NUMBER && conversion->scaled ? value * conversion->factor : value;
}

static void
finish_column (SbPreviewColumn *column, gsize n_rows, SbRole role, const SbConversion *conversion)
{
  if (conversion->kind == SB_CONVERT_COUNTER || conversion->kind == SB_CONVERT_SAMPLES
      || conversion->kind == SB_CONVERT_TRANSDUCER)
    sb_conversion_finish (conversion, column->values, n_rows);
  if (conversion->kind != SB_CONVERT_NOTHING)
    column->unit = sb_role_unit (conversion->from_current ? SB_ROLE_TORQUE : role);
  column->lowest = column->highest = (double) NAN;
  for (gsize i = 0; i < n_rows; i++) {
    column->n_numbers += isnan (column->values[i]) ? 0 : 1;
    column->lowest = fmin (column->lowest, column->values[i]);
    column->highest = fmax (column->highest, column->values[i]);
  }
}

static gboolean
is_comment (const SbLayout *layout, const SbLine *line)
{
  gsize length = strlen (layout->comment_prefix), at = 0;
  while (at < line->length && (line->text[at] == ' ' || line->text[at] == '\t'))
    at++;
  return length > 0 && line->length - at >= length && memcmp (line->text + at, layout->comment_prefix, length) == 0;
}

static void
take_row (SbPreview *preview, const SbLayout *layout, Reading *readings, SbCells *cells, const SbLine *line)
{
  sb_cells_split (cells, line->text, line->length, layout->delimiter);
  if (sb_cells_count (cells) == 0)
    return;
  for (guint c = 0; c < preview->columns->len; c++) {
    SbPreviewColumn *column = g_ptr_array_index (preview->columns, c);
    gsize length = 0;
    const char *cell = c < sb_cells_count (cells) ? sb_cells_get (cells, c, &length) : NULL;
    column->values[preview->n_rows] = cell != NULL ? read_cell (layout, &readings[c], cell, length) : (double) NAN;
  }
  preview->n_rows++;
}

static void
take_rows (SbPreview *preview, const SbLayout *layout, Reading *readings, const char *text, gsize n_bytes,
           gboolean to_end, GCancellable *cancellable)
{
  g_autoptr (SbCells) cells = sb_cells_new ();
  sb_cells_set_quote (cells, layout->quote);
  guint64 number = 0;
  SbLine line;
  const char *end = text + n_bytes;
  preview->whole = to_end;
  for (const char *p = text; p < end && sb_line_find (p, end, to_end, &line); p = line.next) {
    number++;
    if (layout->last_line > 0 && number > layout->last_line) {
      preview->whole = TRUE;
      return;
    }
    if (number < layout->first_line || is_comment (layout, &line))
      continue;
    if (preview->n_rows == MOST_ROWS || g_cancellable_is_cancelled (cancellable)) {
      preview->whole = FALSE;
      return;
    }
    take_row (preview, layout, readings, cells, &line);
  }
}

SbPreview *
sb_preview_read (const char *path, const SbLayout *layout, GCancellable *cancellable, GError **error)
{
  g_autoptr (GBytes) stored = read_head (path, cancellable, error);
  if (stored == NULL)
    return NULL;
  g_autoptr (GBytes) text = as_utf8 (stored, layout->encoding);
  g_autoptr (SbPreview) preview = g_new0 (SbPreview, 1);
  preview->columns = g_ptr_array_new_with_free_func (column_free);
  g_autofree Reading *readings = g_new0 (Reading, MOST_COLUMNS);
  for (guint c = 0; c < MIN (layout->columns->len, MOST_COLUMNS); c++) {
    SbPreviewColumn *column = g_new0 (SbPreviewColumn, 1);
    column->values = g_new (double, MOST_ROWS);
    g_ptr_array_add (preview->columns, column);
    readings[c].conversion = sb_conversion_of (layout, c);
  }
  gsize n = 0;
  const char *bytes = g_bytes_get_data (text, &n);
  take_rows (preview, layout, readings, bytes, n, g_bytes_get_size (stored) < MOST_BYTES, cancellable);
  for (guint c = 0; c < preview->columns->len; c++)
    finish_column (g_ptr_array_index (preview->columns, c), preview->n_rows, sb_layout_column (layout, c)->role,
                   &readings[c].conversion);
  if (g_cancellable_set_error_if_cancelled (cancellable, error))
    return NULL;
  return g_steal_pointer (&preview);
}
