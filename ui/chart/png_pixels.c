/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "png_pixels.h"

#include <string.h>
#include <zlib.h>

#define N_BANDS           4
#define OPAQUE_BYTES      3 /* red, green, blue */
#define TRANSPARENT_BYTES 4 /* and alpha */
#define SPARE_BYTES       8 /* pack_row() writes whole words */

/* Rows `top` to `bottom` - 1, compressed on a thread of their own. */
typedef struct {
  cairo_surface_t *surface; /* borrowed, read only */
  int top, bottom;
  gboolean is_last;
  GByteArray *deflated; /* raw deflate that ends at a byte's border; of the last band with the end of the stream */
  uLong adler;          /* of the rows before compression */
  gsize n_bytes;        /* of the same */
} Band;

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
    row += OPAQUE_BYTES;
  }
}

/* A colour of 0 to 255 that was multiplied by its alpha, as it was before. */
static guint8
unmultiply (guint32 value, guint32 alpha)
{
  if (alpha == 0)
    return 0;
  guint32 whole = (value * 255 + alpha / 2) / alpha;
  return (guint8) MIN (whole, 255);
}

/* The same with transparency: the fourth byte is alpha, by which PNG multiplies nothing (specification, 12.4). */
static void
pack_transparent_row (const guint8 *pixels, int width, guint8 *row)
{
  *row++ = 0;
  for (int x = 0; x < width; x++) {
    guint32 pixel;
    memcpy (&pixel, pixels + 4 * (gsize) x, sizeof pixel);
    guint32 alpha = pixel >> 24;
    *row++ = unmultiply (pixel >> 16 & 0xff, alpha);
    *row++ = unmultiply (pixel >> 8 & 0xff, alpha);
    *row++ = unmultiply (pixel & 0xff, alpha);
    *row++ = (guint8) alpha;
  }
}

/* Takes all of `stream`'s input, or ends what `flush` ends; output is appended. */
static void
deflate_all (z_stream *stream, int flush, GByteArray *deflated)
{
  guint8 block[16384];
  do {
    stream->next_out = block;
    stream->avail_out = sizeof block;
    int status = deflate (stream, flush);
    g_assert (status != Z_STREAM_ERROR);
    g_byte_array_append (deflated, block, (guint) (sizeof block - stream->avail_out));
  } while (stream->avail_out == 0);
}

static gpointer
deflate_band (gpointer user_data)
{
  Band *band = user_data;
  const guint8 *pixels = cairo_image_surface_get_data (band->surface);
  gsize stride = (gsize) cairo_image_surface_get_stride (band->surface);
  int width = cairo_image_surface_get_width (band->surface);
  gboolean transparent = cairo_image_surface_get_format (band->surface) == CAIRO_FORMAT_ARGB32;
  gsize row_bytes = 1 + (gsize) width * (transparent ? TRANSPARENT_BYTES : OPAQUE_BYTES);
  g_autofree guint8 *row = g_malloc (row_bytes + SPARE_BYTES);
  z_stream stream = { 0 };
  int status = deflateInit2 (&stream, Z_BEST_SPEED, Z_DEFLATED, -MAX_WBITS, MAX_MEM_LEVEL, Z_DEFAULT_STRATEGY);
  g_assert (status == Z_OK);
  for (int y = band->top; y < band->bottom; y++) {
    (transparent ? pack_transparent_row : pack_row) (pixels + (gsize) y * stride, width, row);
    band->adler = adler32 (band->adler, row, (uInt) row_bytes);
    band->n_bytes += row_bytes;
    stream.next_in = row;
    stream.avail_in = (uInt) row_bytes;
    deflate_all (&stream, Z_NO_FLUSH, band->deflated);
  }
  deflate_all (&stream, band->is_last ? Z_FINISH : Z_SYNC_FLUSH, band->deflated);
  deflateEnd (&stream);
  return NULL;
}

static void
append_checksum (GByteArray *pixels, const Band *band)
{
  uLong adler = band[0].adler;
  for (int i = 1; i < N_BANDS; i++)
    adler = adler32_combine (adler, band[i].adler, (z_off_t) band[i].n_bytes);
  guint32 big_endian = GUINT32_TO_BE ((guint32) adler);
  g_byte_array_append (pixels, (const guint8 *) &big_endian, sizeof big_endian);
}

GByteArray *
sb_png_pixels (cairo_surface_t *surface)
{
  int height = cairo_image_surface_get_height (surface);
  Band band[N_BANDS];
  GThread *thread[N_BANDS];
  for (int i = 0; i < N_BANDS; i++) {
    band[i] = (Band){ .surface = surface,
                      .top = height * i / N_BANDS,
                      .bottom = height * (i + 1) / N_BANDS,
                      .is_last = i == N_BANDS - 1,
                      .deflated = g_byte_array_new (),
                      .adler = adler32 (0, NULL, 0) };
    thread[i] = g_thread_new ("png", deflate_band, &band[i]);
  }
  GByteArray *pixels = g_byte_array_new ();
  g_byte_array_append (pixels, (const guint8 *) "\x78\x01", 2); /* RFC 1950: window of 32 K, fastest */
  for (int i = 0; i < N_BANDS; i++) {
    g_thread_join (thread[i]);
    g_byte_array_append (pixels, band[i].deflated->data, band[i].deflated->len);
    g_byte_array_unref (band[i].deflated);
  }
  append_checksum (pixels, band);
  return pixels;
}
