/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The compressor of pictures against another program's decompressor (zlib, through GLib), which checks the stream's
 * codes and its checksum (RFC 1950, RFC 1951). */
#include "close.h"
#include "deflate.h"
#include "png_writer.h"
#include "prefix_code.h"

#include <string.h>

typedef struct {
  GRand *random;
  GByteArray *rows, *packed, *unpacked;
  GBytes *png[2];
} Fixture;

static int
setup (void **state)
{
  Fixture *fixture = g_new0 (Fixture, 1);
  fixture->random = g_rand_new_with_seed (20261126);
  *state = fixture;
  return 0;
}

static int
teardown (void **state)
{
  Fixture *fixture = *state;
  g_rand_free (fixture->random);
  g_clear_pointer (&fixture->rows, g_byte_array_unref);
  g_clear_pointer (&fixture->packed, g_byte_array_unref);
  g_clear_pointer (&fixture->unpacked, g_byte_array_unref);
  g_clear_pointer (&fixture->png[0], g_bytes_unref);
  g_clear_pointer (&fixture->png[1], g_bytes_unref);
  g_free (fixture);
  return 0;
}

#define deflate_test(name) cmocka_unit_test_setup_teardown (name, setup, teardown)

static GByteArray *
pack (const GByteArray *rows, gsize row_bytes, gsize pixel_bytes)
{
  SbDeflate *deflate = sb_deflate_new (row_bytes, pixel_bytes);
  for (gsize at = 0; at < rows->len; at += row_bytes) {
    memcpy (sb_deflate_row (deflate), rows->data + at, row_bytes);
    sb_deflate_push (deflate);
  }
  return sb_deflate_finish (deflate);
}

/* What zlib makes of it. */
static GByteArray *
unpack (const GByteArray *packed, gsize n_expected)
{
  g_autoptr (GConverter) converter = G_CONVERTER (g_zlib_decompressor_new (G_ZLIB_COMPRESSOR_FORMAT_ZLIB));
  GByteArray *bytes = g_byte_array_new ();
  g_byte_array_set_size (bytes, (guint) n_expected + 1);
  gsize n_in = 0, n_out = 0;
  GConverterResult result = G_CONVERTER_CONVERTED;
  while (result == G_CONVERTER_CONVERTED) {
    gsize took = 0, gave = 0;
    result = g_converter_convert (converter, packed->data + n_in, packed->len - n_in, bytes->data + n_out,
                                  bytes->len - n_out, G_CONVERTER_INPUT_AT_END, &took, &gave, NULL);
    n_in += took;
    n_out += gave;
  }
  g_byte_array_set_size (bytes, result == G_CONVERTER_FINISHED && n_in == packed->len ? (guint) n_out : 0);
  return bytes;
}

static void
check (Fixture *fixture, gsize row_bytes, gsize pixel_bytes)
{
  g_clear_pointer (&fixture->packed, g_byte_array_unref);
  g_clear_pointer (&fixture->unpacked, g_byte_array_unref);
  fixture->packed = pack (fixture->rows, row_bytes, pixel_bytes);
  fixture->unpacked = unpack (fixture->packed, fixture->rows->len);
  assert_int_equal (fixture->unpacked->len, fixture->rows->len);
  if (fixture->rows->len > 0)
    assert_memory_equal (fixture->unpacked->data, fixture->rows->data, fixture->rows->len);
}

/* A byte of a picture of kind `kind`: noise, one colour, few colours, rows alike with a change here and there. */
static guint8
byte_of (Fixture *fixture, int kind, gsize at, gsize row_bytes)
{
  const GByteArray *rows = fixture->rows;
  switch (kind) {
  case 0:
    return (guint8) g_rand_int_range (fixture->random, 0, 256);
  case 1:
    return 255;
  case 2:
    return (guint8) (g_rand_int_range (fixture->random, 0, 20) == 0 ? 7 : 9);
  default:
    return at >= row_bytes && g_rand_int_range (fixture->random, 0, 400) > 0
               ? rows->data[at - row_bytes]
               : (guint8) g_rand_int_range (fixture->random, 0, 256);
  }
}

static void
every_picture_comes_back_as_it_was (void **state)
{
  Fixture *fixture = *state;
  static const gsize sizes[] = { 4, 5, 31, 260, 3001, 32768, 40001 }; /* the row above is out of reach in the last */
  for (gsize s = 0; s < G_N_ELEMENTS (sizes); s++)
    for (int kind = 0; kind < 4; kind++) {
      gsize n = sizes[s] * (gsize) g_rand_int_range (fixture->random, 1, sizes[s] > 1000 ? 19 : 70);
      g_clear_pointer (&fixture->rows, g_byte_array_unref);
      fixture->rows = g_byte_array_new ();
      g_byte_array_set_size (fixture->rows, (guint) n);
      memset (fixture->rows->data, 0, n);
      for (gsize at = 0; at < n; at++)
        fixture->rows->data[at] = byte_of (fixture, kind, at, sizes[s]);
      check (fixture, sizes[s], 3 + (gsize) (kind & 1));
    }
}

/* Lengths about 258, the longest that one code says, and twice that: a rest of 1 or 2 has no code. */
static void
runs_of_every_length_come_back_as_they_were (void **state)
{
  Fixture *fixture = *state;
  for (guint length = 1; length < 800; length++) {
    g_clear_pointer (&fixture->rows, g_byte_array_unref);
    fixture->rows = g_byte_array_new ();
    g_byte_array_set_size (fixture->rows, length + 8);
    memset (fixture->rows->data, 5, length + 8);
    memcpy (fixture->rows->data, "abcd", 4);
    memcpy (fixture->rows->data + length + 4, "efgh", 4);
    check (fixture, length + 8, 3);
  }
}

/* Kraft's inequality, as an equality: the code leaves nothing unused, which zlib asks for (inftrees.c). Counts that
 * grow as Fibonacci's numbers would give a code as long as there are symbols. */
static void
code_is_complete_and_short_for_the_most_lopsided_counts (void **state)
{
  guint32 count[SB_PREFIX_SYMBOLS] = { 0 };
  for (guint n = 2; n <= 45; n++) {
    guint32 a = 1, b = 1;
    for (guint s = 0; s < n; s++) {
      count[s] = a;
      guint32 next = a + b;
      a = b;
      b = next;
    }
    SbPrefixCode code;
    sb_prefix_code_init (&code, count, n);
    guint sum = 0;
    for (guint s = 0; s < n; s++) {
      assert_in_range (code.length[s], 1, SB_PREFIX_LONGEST);
      sum += 1u << (SB_PREFIX_LONGEST - code.length[s]);
    }
    assert_int_equal (sum, 1u << SB_PREFIX_LONGEST);
  }
}

/* Fills the stack below and the heap with what a run might leave there. */
static void
leave_dirt (GRand *random)
{
  volatile guint8 dirt[1 << 18];
  for (gsize i = 0; i < sizeof dirt; i++)
    dirt[i] = (guint8) g_rand_int (random);
  for (gsize size = 1 << 10; size <= 1 << 21; size *= 2) {
    guint8 *block = g_malloc (size);
    memset (block, (int) g_rand_int_range (random, 0, 256), size);
    g_free (block);
  }
}

static GBytes *
draw_and_write (void)
{
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_RGB24, 700, 500);
  cairo_t *cr = cairo_create (surface);
  cairo_set_source_rgb (cr, 1, 1, 1);
  cairo_paint (cr);
  cairo_set_source_rgb (cr, 0.1, 0.4, 0.7);
  for (int i = 0; i < 60; i++) {
    cairo_arc (cr, 20.5 + 11 * i, 250 + 3.7 * ((i * i) % 61), 5 + i % 17, 0, 6.3);
    cairo_stroke (cr);
  }
  cairo_destroy (cr);
  cairo_surface_flush (surface);
  SbPngFacts facts = { 100, NULL, 0 };
  GBytes *png = sb_png_write (surface, &facts);
  cairo_surface_destroy (surface);
  return png;
}

/* Compressors that look at memory before it was written to find other repetitions each time: all of them unpack to the
 * same picture, and no two have the same checksum. */
static void
picture_has_the_same_bytes_whatever_was_in_memory (void **state)
{
  Fixture *fixture = *state;
  fixture->png[0] = draw_and_write ();
  for (int run = 0; run < 12; run++) {
    leave_dirt (fixture->random);
    g_clear_pointer (&fixture->png[1], g_bytes_unref);
    fixture->png[1] = draw_and_write ();
    assert_true (g_bytes_equal (fixture->png[0], fixture->png[1]));
  }
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    deflate_test (every_picture_comes_back_as_it_was),
    deflate_test (runs_of_every_length_come_back_as_they_were),
    deflate_test (code_is_complete_and_short_for_the_most_lopsided_counts),
    deflate_test (picture_has_the_same_bytes_whatever_was_in_memory),
  };
  return cmocka_run_group_tests (tests, NULL, NULL);
}
