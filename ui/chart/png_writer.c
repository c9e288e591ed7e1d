/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "png_writer.h"

#include "png_pixels.h"

#include <math.h>
#include <string.h>
#include <zlib.h>

#define METRES_PER_INCH 0.0254

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
  append_32 (png, (guint32) crc32 (0, png->data + start, (uInt) (png->len - start)));
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
  g_autoptr (GByteArray) pixels = sb_png_pixels (surface);
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
