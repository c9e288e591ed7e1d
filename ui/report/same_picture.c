/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "same_picture.h"

#include "proof_file.h"

#include <cairo.h>
#include <stdlib.h>
#include <string.h>

#define SHOWN 60 /* characters of an element that are told */

/* pixels */

typedef struct {
  const guint8 *bytes;
  gsize left;
} Source;

static cairo_status_t
take_bytes (void *closure, unsigned char *data, unsigned int length)
{
  Source *source = closure;
  if (source->left < length)
    return CAIRO_STATUS_READ_ERROR;
  memcpy (data, source->bytes, length);
  source->bytes += length;
  source->left -= length;
  return CAIRO_STATUS_SUCCESS;
}

static cairo_surface_t *
read_png (GBytes *bytes)
{
  Source source;
  source.bytes = g_bytes_get_data (bytes, &source.left);
  return cairo_image_surface_create_from_png_stream (take_bytes, &source);
}

typedef struct {
  gsize n;
  int left, top, right, bottom;
} Difference;

/* Three colours and transparency; the fourth byte of a picture without it means nothing. */
static guint32
pixel_at (cairo_surface_t *surface, int x, int y)
{
  guint32 pixel;
  const guint8 *row = cairo_image_surface_get_data (surface) + y * cairo_image_surface_get_stride (surface);
  memcpy (&pixel, row + 4 * x, sizeof pixel);
  return cairo_image_surface_get_format (surface) == CAIRO_FORMAT_ARGB32 ? pixel : pixel | 0xff000000;
}

static Difference
count_pixels (cairo_surface_t *a, cairo_surface_t *b, int width, int height)
{
  Difference different = { 0, width, height, 0, 0 };
  for (int y = 0; y < height; y++)
    for (int x = 0; x < width; x++)
      if (pixel_at (a, x, y) != pixel_at (b, x, y))
        different = (Difference){ different.n + 1, MIN (different.left, x), MIN (different.top, y),
                                  MAX (different.right, x), MAX (different.bottom, y) };
  return different;
}

static gboolean
is_plain (cairo_surface_t *surface)
{
  cairo_format_t format = cairo_image_surface_get_format (surface);
  return cairo_surface_status (surface) == CAIRO_STATUS_SUCCESS
         && (format == CAIRO_FORMAT_ARGB32 || format == CAIRO_FORMAT_RGB24);
}

static SbVerifiedPicture
compare_images (cairo_surface_t *found, cairo_surface_t *expected, gboolean *set_otherwise, char **what)
{
  if (!is_plain (found) || !is_plain (expected)) {
    *what = g_strdup ("It cannot be read: the file is damaged, or its colours are stored in another way.");
    return SB_PICTURE_DIFFERS;
  }
  *set_otherwise = TRUE;
  int width = cairo_image_surface_get_width (found), height = cairo_image_surface_get_height (found);
  int own_width = cairo_image_surface_get_width (expected), own_height = cairo_image_surface_get_height (expected);
  if (width != own_width || height != own_height) {
    *what = g_strdup_printf ("It has %d by %d pixels, and the choices give %d by %d.", width, height, own_width,
                             own_height);
    return SB_PICTURE_DIFFERS;
  }
  Difference different = count_pixels (found, expected, width, height);
  gsize n_all = (gsize) width * (gsize) height;
  if (different.n == 0) {
    *what = g_strdup_printf ("Every one of its %" G_GSIZE_FORMAT " pixels is; the file was written anew.", n_all);
    return SB_PICTURE_SAME;
  }
  *what = g_strdup_printf ("%" G_GSIZE_FORMAT " of %" G_GSIZE_FORMAT " pixel%s differ%s, within %d to %d from the left "
                           "and %d to %d from the top.",
                           different.n, n_all, n_all == 1 ? "" : "s", different.n == 1 ? "s" : "", different.left,
                           different.right, different.top, different.bottom);
  return SB_PICTURE_DIFFERS;
}

static SbVerifiedPicture
compare_png (GBytes *found, GBytes *expected, gboolean *set_otherwise, char **what)
{
  cairo_surface_t *a = read_png (found), *b = read_png (expected);
  SbVerifiedPicture result = compare_images (a, b, set_otherwise, what);
  cairo_surface_destroy (a);
  cairo_surface_destroy (b);
  return result;
}

/* parts of text */

/* The file as a list of parts that mean something each; blanks between them do not. */
typedef GPtrArray *(*Split) (const char *bytes, gsize n);

static void
add_part (GPtrArray *parts, const char *begin, const char *end)
{
  g_autofree char *part = g_strndup (begin, (gsize) (end - begin));
  if (g_strstrip (part)[0] != '\0')
    g_ptr_array_add (parts, g_steal_pointer (&part));
}

/* Whether the element that begins here holds a proof, which has been checked already. */
static gboolean
holds_proof (const char *at, const char *end)
{
  const char *close = memchr (at, '>', (gsize) (end - at));
  return close != NULL
         && memmem (at, (gsize) (close - at), "id=\"" SB_PROOF_ID "\"", strlen ("id=\"" SB_PROOF_ID "\""));
}

/* Tags and the text between them, without the text of a proof. */
static GPtrArray *
split_elements (const char *bytes, gsize n)
{
  GPtrArray *parts = g_ptr_array_new_with_free_func (g_free);
  const char *at = bytes, *end = bytes + n;
  gboolean in_proof = FALSE;
  while (at < end) {
    const char *next = *at == '<' ? memchr (at, '>', (gsize) (end - at)) : memchr (at, '<', (gsize) (end - at));
    next = next == NULL ? end : *at == '<' ? next + 1 : next;
    if (!in_proof || *at == '<')
      add_part (parts, at, next);
    if (*at == '<')
      in_proof = holds_proof (at, end);
    at = next;
  }
  return parts;
}

/* Objects (ISO 32000-1, 7.3.10), without the document information, in which the proof stands; the table of where they
 * lie goes after it. */
static GPtrArray *
split_objects (const char *bytes, gsize n)
{
  static const char mark[] = "endobj";
  GPtrArray *parts = g_ptr_array_new_with_free_func (g_free);
  const char *at = bytes, *end = bytes + n, *next;
  while ((next = memmem (at, (gsize) (end - at), mark, strlen (mark))) != NULL) {
    gsize length = (gsize) (next - at);
    if (memmem (at, length, "/Keywords", strlen ("/Keywords")) == NULL) {
      g_autoptr (GBytes) object = g_bytes_new_static (at, length);
      g_autofree char *sum = g_compute_checksum_for_bytes (G_CHECKSUM_SHA256, object);
      g_ptr_array_add (parts, g_steal_pointer (&sum));
    }
    at = next + strlen (mark);
  }
  return parts;
}

/* The text about where it begins to differ from the other one. */
static char *
shortened (const char *text, const char *other)
{
  glong same = 0, length;
  g_autofree char *valid = g_utf8_make_valid (text, -1), *valid_other = g_utf8_make_valid (other, -1);
  for (const char *a = valid, *b = valid_other; *a != '\0' && g_utf8_get_char (a) == g_utf8_get_char (b); same++) {
    a = g_utf8_next_char (a);
    b = g_utf8_next_char (b);
  }
  length = g_utf8_strlen (valid, -1);
  glong from = MAX (0, same - SHOWN / 2), to = MIN (length, from + SHOWN);
  g_autofree char *part = g_utf8_substring (valid, from, to);
  return g_strconcat (from > 0 ? "…" : "", part, to < length ? "…" : "", NULL);
}

/* How many parts both have at the end, after the first `from`. */
static guint
same_at_end (const GPtrArray *a, const GPtrArray *b, guint from)
{
  guint n = 0;
  while (n < a->len - from && n < b->len - from
         && strcmp (g_ptr_array_index (a, a->len - 1 - n), g_ptr_array_index (b, b->len - 1 - n)) == 0)
    n++;
  return n;
}

static const char *
part_or_end (const GPtrArray *parts, guint index)
{
  return index < parts->len ? g_ptr_array_index (parts, index) : "the end";
}

static SbVerifiedPicture
compare_parts (const GPtrArray *found, const GPtrArray *expected, const char *noun, gboolean readable, char **what)
{
  guint first = 0;
  while (first < found->len && first < expected->len
         && strcmp (g_ptr_array_index (found, first), g_ptr_array_index (expected, first)) == 0)
    first++;
  if (first == found->len && first == expected->len) {
    *what = g_strdup_printf ("Every one of its %u %ss is; the file was written anew.", found->len, noun);
    return SB_PICTURE_SAME;
  }
  guint n_other = MAX (found->len, expected->len) - first - same_at_end (found, expected, first);
  const char *found_part = part_or_end (found, first), *own_part = part_or_end (expected, first);
  g_autofree char *is = shortened (found_part, own_part), *should = shortened (own_part, found_part);
  *what = readable
              ? g_strdup_printf ("The first of %u other %s%s is number %u of %u: “%s”, where the choices give “%s”.",
                                 n_other, noun, n_other == 1 ? "" : "s", first + 1, found->len, is, should)
              : g_strdup_printf ("Object %u of %u is the first of %u others.", first + 1, found->len, n_other);
  return SB_PICTURE_DIFFERS;
}

static SbVerifiedPicture
compare_split (GBytes *found, GBytes *expected, Split split, const char *noun, gboolean readable, char **what)
{
  gsize n_a, n_b;
  const char *a = g_bytes_get_data (found, &n_a), *b = g_bytes_get_data (expected, &n_b);
  g_autoptr (GPtrArray) parts_a = split (a, n_a), parts_b = split (b, n_b);
  return compare_parts (parts_a, parts_b, noun, readable, what);
}

static SbVerifiedPicture
compare_bytes (GBytes *found, GBytes *expected, char **what)
{
  gsize n_a, n_b, at = 0, line = 1;
  const char *a = g_bytes_get_data (found, &n_a), *b = g_bytes_get_data (expected, &n_b);
  for (; at < n_a && at < n_b && a[at] == b[at]; at++)
    line += a[at] == '\n' ? 1 : 0;
  *what = g_strdup_printf ("It has other text from line %" G_GSIZE_FORMAT " on.", line);
  return SB_PICTURE_DIFFERS;
}

static gboolean
begins_with (GBytes *bytes, const char *text)
{
  gsize n;
  const char *data = g_bytes_get_data (bytes, &n);
  return n >= strlen (text) && g_ascii_strncasecmp (data, text, strlen (text)) == 0;
}

SbVerifiedPicture
sb_same_picture (GBytes *found, GBytes *expected, gboolean *set_otherwise, char **what)
{
  if (g_bytes_equal (found, expected)) {
    *what = g_strdup ("The file is, to the last byte.");
    return SB_PICTURE_SAME;
  }
  if (begins_with (expected, "\x89PNG"))
    return compare_png (found, expected, set_otherwise, what);
  gboolean is_page = begins_with (expected, "%PDF-") || begins_with (expected, "<");
  *set_otherwise = *set_otherwise || is_page;
  if (begins_with (expected, "%PDF-"))
    return compare_split (found, expected, split_objects, "object", FALSE, what);
  if (begins_with (expected, "<"))
    return compare_split (found, expected, split_elements, "element", TRUE, what);
  return compare_bytes (found, expected, what);
}
