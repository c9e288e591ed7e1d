/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "png_writer.h"

#include "deflate.h"

#include <isa-l/crc.h>
#include <math.h>
#include <string.h>

#define METRES_PER_INCH 0.0254
#define BYTES_PER_PIXEL 3 /* 4 with transparency */

static void
append_32 (GByteArray *bytes, guint32 value)
{
  guint32 big_endian = GUINT32_TO_BE (value);
  g_byte_array_append (bytes, (const guint8 *) &big_endian, sizeof big_endian);
}

static void
append_chunk (GByteArray *png, const char *type, const guint8 *data, gsize n)
{
  append_32 (png, (guint32) n);
  guint start = png->len;
  g_byte_array_append (png, (const guint8 *) type, 4);
  if (n > 0)
    g_byte_array_append (png, data, (guint) n);
  append_32 (png, crc32_gzip_refl (0, png->data + start, png->len - start)); /* ISO 3309, as PNG has it */
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

static GByteArray *
compress_pixels (cairo_surface_t *surface)
{
  const guint8 *pixels = cairo_image_surface_get_data (surface);
  gsize stride = (gsize) cairo_image_surface_get_stride (surface);
  int width = cairo_image_surface_get_width (surface), height = cairo_image_surface_get_height (surface);
  gboolean transparent = cairo_image_surface_get_format (surface) == CAIRO_FORMAT_ARGB32;
  gsize pixel_bytes = transparent ? BYTES_PER_PIXEL + 1u : BYTES_PER_PIXEL;
  SbDeflate *deflate = sb_deflate_new (1 + pixel_bytes * (gsize) width, pixel_bytes);
  for (int y = 0; y < height; y++) {
    (transparent ? pack_transparent_row : pack_row) (pixels + (gsize) y * stride, width, sb_deflate_row (deflate));
    sb_deflate_push (deflate);
  }
  return sb_deflate_finish (deflate);
}

static void
append_header (GByteArray *png, cairo_surface_t *surface)
{
  g_autoptr (GByteArray) data = g_byte_array_new ();
  append_32 (data, (guint32) cairo_image_surface_get_width (surface));
  append_32 (data, (guint32) cairo_image_surface_get_height (surface));
  /* 8 bits, red green blue (and alpha), deflate, the usual filters, not interlaced. */
  gboolean transparent = cairo_image_surface_get_format (surface) == CAIRO_FORMAT_ARGB32;
  g_byte_array_append (data, (const guint8 *) (transparent ? "\10\6\0\0\0" : "\10\2\0\0\0"), 5);
  append_chunk (png, "IHDR", data->data, data->len);
}

GBytes *
sb_png_write (cairo_surface_t *surface, const SbPngFacts *facts)
{
  g_autoptr (GByteArray) pixels = compress_pixels (surface);
  GByteArray *png = g_byte_array_sized_new (pixels->len + 512);
  g_byte_array_append (png, (const guint8 *) "\x89PNG\r\n\x1a\n", 8);
  append_header (png, surface);
  append_density (png, facts->dpi);
  for (gsize i = 0; i < facts->n_texts; i++)
    append_text (png, facts->texts[i].keyword, facts->texts[i].text);
  append_chunk (png, "IDAT", pixels->data, pixels->len);
  append_chunk (png, "IEND", NULL, 0);
  return g_byte_array_free_to_bytes (png);
}
