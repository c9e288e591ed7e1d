/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "png_chunks.h"

#include <math.h>
#include <string.h>

#define METRES_PER_INCH 0.0254

static void
append_32 (GByteArray *bytes, guint32 value)
{
  guint32 big_endian = GUINT32_TO_BE (value);
  g_byte_array_append (bytes, (const guint8 *) &big_endian, sizeof big_endian);
}

/* CRC of ISO 3309 as the PNG specification, annex D, uses it; chunks here are short, so bit by bit. */
static guint32
crc_of (const guint8 *data, gsize n)
{
  guint32 crc = 0xffffffffu;
  for (gsize i = 0; i < n; i++) {
    crc ^= data[i];
    for (int bit = 0; bit < 8; bit++)
      crc = (crc & 1) != 0 ? 0xedb88320u ^ (crc >> 1) : crc >> 1;
  }
  return crc ^ 0xffffffffu;
}

void
sb_png_append_chunk (GByteArray *png, const char *type, const guint8 *data, gsize n)
{
  append_32 (png, (guint32) n);
  guint start = png->len;
  g_byte_array_append (png, (const guint8 *) type, 4);
  if (n > 0)
    g_byte_array_append (png, data, (guint) n);
  append_32 (png, crc_of (png->data + start, png->len - start));
}

void
sb_png_append_density (GByteArray *png, double dpi)
{
  g_autoptr (GByteArray) data = g_byte_array_new ();
  guint32 per_metre = (guint32) lround (dpi / METRES_PER_INCH);
  append_32 (data, per_metre);
  append_32 (data, per_metre);
  g_byte_array_append (data, (const guint8 *) "\1", 1);
  sb_png_append_chunk (png, "pHYs", data->data, data->len);
}

void
sb_png_append_text (GByteArray *png, const char *keyword, const char *text)
{
  g_autoptr (GByteArray) data = g_byte_array_new ();
  g_byte_array_append (data, (const guint8 *) keyword, (guint) strlen (keyword) + 1);
  gsize n;
  g_autofree char *latin = g_convert (text, -1, "ISO-8859-1", "UTF-8", NULL, &n, NULL);
  if (latin != NULL) {
    g_byte_array_append (data, (const guint8 *) latin, (guint) n);
    sb_png_append_chunk (png, "tEXt", data->data, data->len);
    return;
  }
  /* Not compressed, no language, no translated keyword. */
  g_byte_array_append (data, (const guint8 *) "\0\0\0\0", 4);
  g_byte_array_append (data, (const guint8 *) text, (guint) strlen (text));
  sb_png_append_chunk (png, "iTXt", data->data, data->len);
}
