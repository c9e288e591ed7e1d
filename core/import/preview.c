/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "preview.h"

#include "cells.h"
#include "clock.h"
#include "convert.h"
#include "line.h"
#include "log_build.h"
#include "number.h"
#include "number_style.h"
#include "number_unit.h"
#include "ticks.h"
#include "turns.h"

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

/* The text of the file, unpacked, as UTF-8 where it is UTF-16: numbers and delimiters are the same bytes in Latin-1. */
static GInputStream *
open_text (const char *path, SbEncoding encoding, GCancellable *cancellable, GError **error)
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
  if (encoding != SB_ENCODING_UTF16_LE && encoding != SB_ENCODING_UTF16_BE)
    return g_steal_pointer (&stream);
  const char *name = encoding == SB_ENCODING_UTF16_LE ? "UTF-16LE" : "UTF-16BE";
  g_autoptr (GCharsetConverter) convert = g_charset_converter_new ("UTF-8", name, error);
  if (convert == NULL)
    return NULL;
  g_charset_converter_set_use_fallback (convert, TRUE);
  return g_converter_input_stream_new (stream, G_CONVERTER (convert));
}

/* A part of a text that begins with a line. */
typedef struct {
  char *bytes; /* room for MOST_BYTES */
  gsize n;
  guint64 n_lines_before;
  gboolean to_end; /* it ends with the text */
} Part;

/* Reads as much as there is room for. A character cut in two at the end of the file, and whatever follows bytes that
 * cannot be unpacked, goes: reading the log tells of it. */
static gboolean
fill (Part *part, GInputStream *stream, GCancellable *cancellable, GError **error)
{
  gsize n = 0;
  g_autoptr (GError) broken = NULL;
  gboolean whole
      = g_input_stream_read_all (stream, part->bytes + part->n, MOST_BYTES - part->n, &n, cancellable, &broken);
  part->n += n;
  part->to_end = part->n < MOST_BYTES;
  if (whole || !g_error_matches (broken, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    return TRUE;
  g_propagate_error (error, g_steal_pointer (&broken));
  return FALSE;
}

/* Takes out the lines before `first_line`, as far as they are there whole. */
static void
drop_lines (Part *part, guint64 first_line)
{
  const char *p = part->bytes, *end = p + part->n;
  SbLine line;
  while (p < end && part->n_lines_before + 1 < first_line && sb_line_find (p, end, part->to_end, &line)) {
    p = line.next;
    part->n_lines_before++;
  }
  part->n = (gsize) (end - p);
  memmove (part->bytes, p, part->n);
}

/* The text from `first_line` on. Nothing when a line before it is longer than there is room for. */
static gboolean
find_table (Part *part, GInputStream *stream, guint64 first_line, GCancellable *cancellable, GError **error)
{
  do {
    if (!fill (part, stream, cancellable, error))
      return FALSE;
    drop_lines (part, first_line);
    if (part->n == MOST_BYTES && part->n_lines_before + 1 < first_line) {
      part->n = 0;
      return TRUE;
    }
  } while (!part->to_end && part->n_lines_before + 1 < first_line);
  return part->to_end || fill (part, stream, cancellable, error);
}

/* As the rows of a log are read. */
static gboolean
read_number (const SbLayout *layout, const char *text, gsize length, int shift, double *value)
{
  char decimal = layout->decimal != '\0' ? layout->decimal : '.', plain[LONGEST_CELL];
  if (sb_number_read (text, length, decimal, shift, value))
    return TRUE;
  gsize n = layout->thousands != '\0'
                ? sb_number_ungroup (text, length, layout->thousands, decimal, plain, sizeof plain)
                : 0;
  return n > 0 && sb_number_read (plain, n, decimal, shift, value);
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
  double value;
  cell = sb_text_trim (cell, &length);
  if (conversion->kind == SB_CONVERT_CLOCK)
    return read_clock (&reading->clock, cell, length);
  gboolean shifted = conversion->kind == SB_CONVERT_NUMBER || conversion->kind == SB_CONVERT_TRANSDUCER;
  int shift = shifted && !conversion->aside ? conversion->power_of_ten : 0;
  const SbUnit *unit;
  if (!read_number (layout, cell, length, shift, &value)) {
    gsize n = sb_number_before_unit (cell, length, &unit);
    if (n == 0 || unit != conversion->unit || !read_number (layout, cell, n, shift, &value))
      return (double) NAN;
  }
  if (conversion->aside)
    return sb_conversion_apply_aside (conversion, value);
  return conversion->kind == SB_CONVERT_NUMBER && conversion->scaled ? value * conversion->factor : value;
}

/* As reading does, from the first of these rows on. */
static void
follow_ticks (const SbConversion *conversion, double *values, gsize n)
{
  SbTicks ticks = { 0 };
  gboolean samples = conversion->kind == SB_CONVERT_SAMPLES;
  double size = samples ? 1.0 : conversion->factor * pow (10.0, conversion->power_of_ten);
  if (conversion->channel != SB_CHANNEL_TIME || (!samples && conversion->kind != SB_CONVERT_NUMBER))
    return;
  for (gsize i = 0; i < n; i++) {
    double counts = sb_ticks_count (values[i], size);
    if (isnan (counts))
      continue;
    if (counts + ticks.offset < ticks.rows.last)
      sb_ticks_begin_again (&ticks, counts);
    if (ticks.offset > 0)
      values[i] = (counts + ticks.offset) * size;
    if (ticks.rows.n_rows == 0 || counts + ticks.offset > ticks.rows.last)
      sb_ticks_add (&ticks, counts + ticks.offset);
  }
}

static void
finish_column (SbPreviewColumn *column, gsize n_rows, SbRole role, const SbConversion *conversion)
{
  follow_ticks (conversion, column->values, n_rows);
  if (conversion->kind == SB_CONVERT_COUNTER || conversion->kind == SB_CONVERT_SAMPLES
      || conversion->kind == SB_CONVERT_TRANSDUCER)
    sb_conversion_finish (conversion, column->values, n_rows);
  gsize n_followed;
  sb_conversion_scale (conversion, column->values, n_rows, &n_followed);
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
take_rows (SbPreview *preview, const SbLayout *layout, guint64 end_line, Reading *readings, const Part *part,
           GCancellable *cancellable)
{
  g_autoptr (SbCells) cells = sb_cells_new ();
  sb_cells_set_quote (cells, layout->quote);
  guint64 number = part->n_lines_before;
  SbLine line;
  const char *end = part->bytes + part->n;
  preview->whole = part->to_end;
  for (const char *p = part->bytes; p < end && sb_line_find (p, end, part->to_end, &line); p = line.next) {
    number++;
    if ((layout->last_line > 0 && number > layout->last_line) || (end_line > 0 && number >= end_line)) {
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
sb_preview_read (const char *path, const SbLayout *layout, guint64 end_line, GCancellable *cancellable, GError **error)
{
  g_autoptr (GInputStream) stream = open_text (path, layout->encoding, cancellable, error);
  if (stream == NULL)
    return NULL;
  g_autofree char *bytes = g_malloc (MOST_BYTES);
  Part part = { .bytes = bytes };
  if (!find_table (&part, stream, layout->first_line, cancellable, error))
    return NULL;
  g_autoptr (SbPreview) preview = g_new0 (SbPreview, 1);
  preview->columns = g_ptr_array_new_with_free_func (column_free);
  g_autofree Reading *readings = g_new0 (Reading, MOST_COLUMNS);
  for (guint c = 0; c < MIN (layout->columns->len, MOST_COLUMNS); c++) {
    SbPreviewColumn *column = g_new0 (SbPreviewColumn, 1);
    column->values = g_new (double, MOST_ROWS);
    g_ptr_array_add (preview->columns, column);
    readings[c].conversion = sb_conversion_of (layout, c);
    readings[c].clock.form = sb_layout_column (layout, c)->clock_form;
  }
  take_rows (preview, layout, end_line, readings, &part, cancellable);
  for (guint c = 0; c < preview->columns->len; c++)
    finish_column (g_ptr_array_index (preview->columns, c), preview->n_rows, sb_layout_column (layout, c)->role,
                   &readings[c].conversion);
  if (g_cancellable_set_error_if_cancelled (cancellable, error))
    return NULL;
  return g_steal_pointer (&preview);
}
