/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "png_writer.h"

#include <math.h>
#include <string.h>

#define METRES_PER_INCH 0.0254
#define BYTES_PER_PIXEL 3

/* The picture is compressed in strips side by side; each is cut off at a byte, so that together they are one stream. */
#define N_STRIPS 4

/* Rows handed to the compressor at once. */
#define ROWS_PER_BLOCK 16

/* zlib's fastest. */
#define LEVEL 1

#define ADLER_MODULUS 65521u
#define ADLER_BLOCK   256u

static void
append_32 (GByteArray *bytes, guint32 value)
{
  guint32 big_endian = GUINT32_TO_BE (value);
  g_byte_array_append (bytes, (const guint8 *) &big_endian, sizeof big_endian);
}

/* CRC of ISO 3309 as the PNG specification, annex D, uses it. */
static guint32
crc_of (const guint8 *data, gsize n)
{
  guint32 table[256];
  for (guint32 i = 0; i < 256; i++) {
    table[i] = i;
    for (int bit = 0; bit < 8; bit++)
      table[i] = (table[i] & 1) != 0 ? 0xedb88320u ^ (table[i] >> 1) : table[i] >> 1;
  }
  guint32 crc = 0xffffffffu;
  for (gsize i = 0; i < n; i++)
    crc = table[(crc ^ data[i]) & 0xff] ^ (crc >> 8);
  return crc ^ 0xffffffffu;
}

static void
append_chunk (GByteArray *png, const char *type, const guint8 *data, gsize n)
{
  append_32 (png, (guint32) n);
  guint start = png->len;
  g_byte_array_append (png, (const guint8 *) type, 4);
  if (n > 0)
    g_byte_array_append (png, data, (guint) n);
  append_32 (png, crc_of (png->data + start, png->len - start));
}

static void
append_density (GByteArray *png, double dpi)
{
  g_autoptr (GByteArray) data = g_byte_array_new ();
  guint32 per_metre = (guint32) lround (dpi / METRES_PER_INCH);
  append_32 (data, per_metre);
  append_32 (data, per_metre);
  g_byte_array_append (data, (const guint8 *) "\1", 1);
  append_chunk (png, "pHYs", data->data, data->len);
}

static void
append_text (GByteArray *png, const char *keyword, const char *text)
{
  g_autoptr (GByteArray) data = g_byte_array_new ();
  g_byte_array_append (data, (const guint8 *) keyword, (guint) strlen (keyword) + 1);
  gsize n;
  g_autofree char *latin = g_convert (text, -1, "ISO-8859-1", "UTF-8", NULL, &n, NULL);
  if (latin != NULL) {
    g_byte_array_append (data, (const guint8 *) latin, (guint) n);
    append_chunk (png, "tEXt", data->data, data->len);
    return;
  }
  /* Not compressed, no language, no translated keyword. */
  g_byte_array_append (data, (const guint8 *) "\0\0\0\0", 4);
  g_byte_array_append (data, (const guint8 *) text, (guint) strlen (text));
  append_chunk (png, "iTXt", data->data, data->len);
}

/* Adler-32 (RFC 1950, 8.2) of the bytes before, carried on. The sum of sums over a block of m bytes is m times the sum
 * before it and each byte as often as there are bytes from it to the block's end: so a block's bytes need not wait for
 * each other. */
static guint32
adler_of (guint32 adler, const guint8 *data, gsize n)
{
  guint64 low = adler & 0xffff, high = adler >> 16;
  for (; n >= ADLER_BLOCK; data += ADLER_BLOCK, n -= ADLER_BLOCK) {
    guint32 sum = 0, weighted = 0;
    for (guint32 i = 0; i < ADLER_BLOCK; i++) {
      sum += data[i];
      weighted += (ADLER_BLOCK - i) * data[i];
    }
    high = (high + ADLER_BLOCK * low + weighted) % ADLER_MODULUS;
    low = (low + sum) % ADLER_MODULUS;
  }
  for (gsize i = 0; i < n; i++) {
    low += data[i];
    high += low;
  }
  return (guint32) (high % ADLER_MODULUS << 16 | low % ADLER_MODULUS);
}

/* Adler-32 of two stretches from theirs; `n_second` bytes are in the second. */
static guint32
adler_join (guint32 first, guint32 second, guint64 n_second)
{
  guint64 low_first = first & 0xffff, low_second = second & 0xffff;
  guint64 low = low_first + low_second + ADLER_MODULUS - 1;
  guint64 high = (first >> 16) + (second >> 16) + (n_second % ADLER_MODULUS) * (low_first + ADLER_MODULUS - 1);
  return (guint32) (high % ADLER_MODULUS) << 16 | (guint32) (low % ADLER_MODULUS);
}

typedef struct {
  const guint8 *pixels;
  int width, first_row, end_row, stride;
  gboolean is_last;
  GByteArray *deflated;
  guint32 adler;
  guint64 n_bytes;
  GError *error;
} Strip;

/* A row as PNG has it: no filter, then red, green and blue of each pixel. Writes one byte beyond, four at a time being
 * faster than three. */
static void
pack_row (const guint8 *pixels, int width, guint8 *row)
{
  *row++ = 0;
  for (int x = 0; x < width; x++) {
    guint32 pixel;
    memcpy (&pixel, pixels + 4 * (gsize) x, sizeof pixel);
    guint32 packed = GUINT32_TO_BE (pixel << 8);
    memcpy (row, &packed, sizeof packed);
    row += BYTES_PER_PIXEL;
  }
}

/* Feeds `n` bytes; `flags` ends the stream or cuts it off at a byte. */
static gboolean
deflate (Strip *strip, GConverter *converter, const guint8 *data, gsize n, GConverterFlags flags)
{
  guint8 out[32768];
  for (;;) {
    gsize n_read, n_written;
    GConverterResult result
        = g_converter_convert (converter, data, n, out, sizeof out, flags, &n_read, &n_written, &strip->error);
    if (result == G_CONVERTER_ERROR)
      return FALSE;
    g_byte_array_append (strip->deflated, out, (guint) n_written);
    data += n_read;
    n -= n_read;
    gboolean is_done = flags == G_CONVERTER_NO_FLAGS ? n == 0 : result != G_CONVERTER_CONVERTED;
    if (is_done)
      return TRUE;
  }
}

static gpointer
deflate_strip (gpointer data)
{
  Strip *strip = data;
  gsize row_bytes = 1 + BYTES_PER_PIXEL * (gsize) strip->width;
  g_autofree guint8 *rows = g_malloc0 (row_bytes * ROWS_PER_BLOCK + 1);
  g_autoptr (GZlibCompressor) compressor = g_zlib_compressor_new (G_ZLIB_COMPRESSOR_FORMAT_RAW, LEVEL);
  for (int y = strip->first_row; y < strip->end_row; y += ROWS_PER_BLOCK) {
    int n = MIN (ROWS_PER_BLOCK, strip->end_row - y);
    gboolean ends = y + n == strip->end_row;
    for (int k = 0; k < n; k++)
      pack_row (strip->pixels + (gsize) (y + k) * (gsize) strip->stride, strip->width, rows + (gsize) k * row_bytes);
    gsize n_bytes = (gsize) n * row_bytes;
    strip->adler = adler_of (strip->adler, rows, n_bytes);
    strip->n_bytes += n_bytes;
    GConverterFlags at_end = strip->is_last ? G_CONVERTER_INPUT_AT_END : G_CONVERTER_FLUSH;
    if (!deflate (strip, G_CONVERTER (compressor), rows, n_bytes, ends ? at_end : G_CONVERTER_NO_FLAGS))
      break;
  }
  return NULL;
}

/* The first strip is done on the calling thread. */
static void
deflate_strips (Strip *strips, int n)
{
  GThread *threads[N_STRIPS] = { NULL };
  for (int i = 1; i < n; i++)
    threads[i] = g_thread_new ("png strip", deflate_strip, &strips[i]);
  deflate_strip (&strips[0]);
  for (int i = 1; i < n; i++)
    g_thread_join (threads[i]);
}

static GByteArray *
join_strips (Strip *strips, int n, GError **error)
{
  GByteArray *stream = g_byte_array_new ();
  g_byte_array_append (stream, (const guint8 *) "\x78\x01", 2);
  guint32 adler = 1;
  for (int i = 0; i < n; i++) {
    if (strips[i].error != NULL && error != NULL && *error == NULL)
      g_propagate_error (error, g_steal_pointer (&strips[i].error));
    g_clear_error (&strips[i].error);
    g_byte_array_append (stream, strips[i].deflated->data, strips[i].deflated->len);
    adler = adler_join (adler, strips[i].adler, strips[i].n_bytes);
    g_byte_array_unref (strips[i].deflated);
  }
  append_32 (stream, adler);
  return stream;
}

static GByteArray *
compress_pixels (cairo_surface_t *surface, GError **error)
{
  int height = cairo_image_surface_get_height (surface);
  int n = MIN (N_STRIPS, height);
  Strip strips[N_STRIPS] = { 0 };
  for (int i = 0; i < n; i++)
    strips[i] = (Strip){
      .pixels = cairo_image_surface_get_data (surface),
      .width = cairo_image_surface_get_width (surface),
      .first_row = height * i / n,
      .end_row = height * (i + 1) / n,
      .stride = cairo_image_surface_get_stride (surface),
      .is_last = i == n - 1,
      .deflated = g_byte_array_new (),
      .adler = 1,
    };
  deflate_strips (strips, n);
  return join_strips (strips, n, error);
}

static void
append_header (GByteArray *png, cairo_surface_t *surface)
{
  g_autoptr (GByteArray) data = g_byte_array_new ();
  append_32 (data, (guint32) cairo_image_surface_get_width (surface));
  append_32 (data, (guint32) cairo_image_surface_get_height (surface));
  /* 8 bits, red green blue, deflate, the usual filters, not interlaced. */
  g_byte_array_append (data, (const guint8 *) "\10\2\0\0\0", 5);
  append_chunk (png, "IHDR", data->data, data->len);
}

GBytes *
sb_png_write (cairo_surface_t *surface, const SbPngFacts *facts, GError **error)
{
  g_autoptr (GError) failure = NULL;
  g_autoptr (GByteArray) pixels = compress_pixels (surface, &failure);
  if (failure != NULL) {
    g_propagate_error (error, g_steal_pointer (&failure));
    return NULL;
  }
  GByteArray *png = g_byte_array_sized_new (pixels->len + 512);
  g_byte_array_append (png, (const guint8 *) "\x89PNG\r\n\x1a\n", 8);
  append_header (png, surface);
  append_density (png, facts->dpi);
  if (facts->title[0] != '\0')
    append_text (png, "Title", facts->title);
  append_text (png, "Software", facts->software);
  append_chunk (png, "IDAT", pixels->data, pixels->len);
  append_chunk (png, "IEND", NULL, 0);
  return g_byte_array_free_to_bytes (png);
}
