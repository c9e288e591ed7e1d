/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "encoding.h"

#include <string.h>

/* Enough to tell text of two bytes a character from bytes that are no text. */
#define ZEROS_LOOKED_FOR 4096

/* Of a log in UTF-16 nearly every other byte is zero: digits and delimiters are ASCII. */
static gboolean
find_by_zeros (const char *bytes, gsize n_bytes, SbEncoding *encoding)
{
  gsize n_text = n_bytes;
  while (n_text > 0 && bytes[n_text - 1] == '\0') /* room that the logger reserved */
    n_text--;
  gsize n_pairs = MIN (MIN (n_text + 1, n_bytes), ZEROS_LOOKED_FOR) / 2, n_even = 0, n_odd = 0;
  if (memchr (bytes, '\0', 2 * n_pairs) == NULL)
    return FALSE;
  for (gsize i = 0; i < n_pairs; i++) {
    n_even += bytes[2 * i] == '\0';
    n_odd += bytes[2 * i + 1] == '\0';
  }
  *encoding = n_odd > n_even ? SB_ENCODING_UTF16_LE : SB_ENCODING_UTF16_BE;
  return MIN (n_even, n_odd) == 0 && 10 * MAX (n_even, n_odd) >= 8 * n_pairs;
}

/* How many bytes from the start are surely ASCII: nearly all of a log, and eight at a time are soon looked at. */
static gsize
ascii_bytes (const char *bytes, gsize n_bytes)
{
  gsize n = 0;
  for (guint64 word; n + sizeof word <= n_bytes; n += sizeof word) {
    memcpy (&word, bytes + n, sizeof word);
    if ((word & G_GUINT64_CONSTANT (0x8080808080808080)) != 0)
      break;
  }
  return n;
}

SbEncoding
sb_encoding_detect (const char *bytes, gsize n_bytes)
{
  SbEncoding encoding;
  if (n_bytes >= 2 && memcmp (bytes, "\xff\xfe", 2) == 0)
    return SB_ENCODING_UTF16_LE;
  if (n_bytes >= 2 && memcmp (bytes, "\xfe\xff", 2) == 0)
    return SB_ENCODING_UTF16_BE;
  if (find_by_zeros (bytes, n_bytes, &encoding))
    return encoding;
  const char *valid_end;
  gsize n_ascii = ascii_bytes (bytes, n_bytes);
  if (g_utf8_validate_len (bytes + n_ascii, n_bytes - n_ascii, &valid_end))
    return SB_ENCODING_UTF8;
  /* The last character may be cut; a zero byte is no text in either. */
  gboolean cut = (gsize) (bytes + n_bytes - valid_end) < 4
                 && g_utf8_get_char_validated (valid_end, bytes + n_bytes - valid_end) == (gunichar) -2;
  return cut || *valid_end == '\0' ? SB_ENCODING_UTF8 : SB_ENCODING_LATIN1;
}

static gsize
put_unit (SbUtf16 *state, guint16 unit, char *utf8)
{
  gsize n = 0;
  gboolean low = unit >= 0xdc00 && unit < 0xe000;
  if (state->high_surrogate != 0) {
    gunichar high = state->high_surrogate;
    state->high_surrogate = 0;
    if (low)
      return (gsize) g_unichar_to_utf8 (0x10000 + ((high - 0xd800) << 10) + (unit - 0xdc00u), utf8);
    n += (gsize) g_unichar_to_utf8 (0xfffd, utf8);
  }
  if (unit >= 0xd800 && unit < 0xdc00) {
    state->high_surrogate = unit;
    return n;
  }
  return n + (gsize) g_unichar_to_utf8 (low ? 0xfffd : unit, utf8 + n);
}

gsize
sb_utf16_read (SbUtf16 *state, SbEncoding encoding, const char *bytes, gsize n_bytes, char *utf8)
{
  gsize n = 0;
  for (gsize i = 0; i < n_bytes; i++) {
    guint8 byte = (guint8) bytes[i];
    if (!state->has_odd_byte) {
      state->odd_byte = byte;
      state->has_odd_byte = TRUE;
      continue;
    }
    guint first = state->odd_byte, second = byte;
    state->has_odd_byte = FALSE;
    guint unit = encoding == SB_ENCODING_UTF16_LE ? first | second << 8 : first << 8 | second;
    n += put_unit (state, (guint16) unit, utf8 + n);
  }
  return n;
}
