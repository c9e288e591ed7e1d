/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Ink covers as much as geometry says of a line of the pen's width, and as cairo's own stroke of the same points does.
 */
#include "close.h"
#include "ink.h"

#include <cairo.h>
#include <math.h>
#include <string.h>

#define COLUMNS 300
#define ROWS    120
#define PEN     3.0

typedef struct {
  SbInk ink;
  guint8 mask[ROWS][COLUMNS];
} Sheet;

static int
set_up (void **state)
{
  Sheet *sheet = g_new0 (Sheet, 1);
  sb_ink_init (&sheet->ink, COLUMNS);
  *state = sheet;
  return 0;
}

static int
tear_down (void **state)
{
  Sheet *sheet = *state;
  sb_ink_clear (&sheet->ink);
  g_free (sheet);
  return 0;
}

static double
slice_x (gsize s)
{
  return ((double) s + 0.5) / SB_INK_SLICES;
}

/* Covered area in pixels of what the pen draws. */
static double
fill (Sheet *sheet, double pen)
{
  double area = 0;
  sb_ink_join (&sheet->ink);
  sb_ink_widen (&sheet->ink, pen / 2);
  sb_ink_fill (&sheet->ink, &(SbInkBox){ 0, COLUMNS, 0, ROWS }, &sheet->mask[0][0], COLUMNS);
  for (int y = 0; y < ROWS; y++)
    for (int x = 0; x < COLUMNS; x++)
      area += sheet->mask[y][x] / 255.0;
  return area;
}

/* Level and slanted lines: length times width, less a round end that the sheet cuts. */
static void
straight_line_covers_length_times_width (void **state)
{
  static const double slopes[] = { 0, 0.1, 0.3 };
  Sheet *sheet = *state;
  for (gsize k = 0; k < G_N_ELEMENTS (slopes); k++) {
    memset (sheet->mask, 0, sizeof sheet->mask);
    for (gsize s = 0; s < sheet->ink.n_slices; s++)
      sheet->ink.top[s] = sheet->ink.bottom[s] = 10.3 + slopes[k] * slice_x (s);
    double length = COLUMNS * hypot (1, slopes[k]);
    assert_close_relative (fill (sheet, PEN), length * PEN, 0.015);
    sb_ink_clear (&sheet->ink);
    sb_ink_init (&sheet->ink, COLUMNS);
  }
}

static void
nothing_is_drawn_where_nothing_is (void **state)
{
  Sheet *sheet = *state;
  SbInkBox box = { 0, COLUMNS, 0, ROWS }, right = { 13, COLUMNS, 0, ROWS };
  assert_false (sb_ink_rows (&sheet->ink, &box));
  for (gsize s = 0; s < 30; s++)
    sheet->ink.top[s] = sheet->ink.bottom[s] = 50;
  fill (sheet, PEN);
  assert_true (sb_ink_rows (&sheet->ink, &box));
  assert_int_equal (box.top, 48);
  assert_int_equal (box.bottom, 52);
  assert_false (sb_ink_rows (&sheet->ink, &right));
  assert_int_equal (sheet->mask[50][5], 255);
  for (int y = 0; y < ROWS; y++)
    for (int x = 13; x < COLUMNS; x++)
      assert_int_equal (sheet->mask[y][x], 0);
}

/* Masks are made for parts of the picture: they are the parts of the whole mask. */
static void
boxes_side_by_side_are_the_whole (void **state)
{
  Sheet *sheet = *state;
  static guint8 parts[ROWS][COLUMNS];
  memset (parts, 0, sizeof parts);
  for (gsize s = 0; s < sheet->ink.n_slices; s++)
    sheet->ink.top[s] = sheet->ink.bottom[s] = 10.3 + 0.3 * slice_x (s);
  fill (sheet, PEN);
  for (int left = 0; left < COLUMNS; left += 32) {
    SbInkBox box = { left, MIN (left + 32, COLUMNS), 0, ROWS };
    assert_true (sb_ink_rows (&sheet->ink, &box));
    sb_ink_fill (&sheet->ink, &box, &parts[box.top][left], COLUMNS);
  }
  assert_memory_equal (parts, sheet->mask, sizeof parts);
}

/* A wedge from row 10.3 down to a bottom that rises from 100 to 70: the rows wholly covered everywhere are those from
 * 11 up to 70, between columns 0 and 30 those up to 97; none are where a slice has nothing. */
static void
rows_that_are_wholly_covered_lie_inside_of_every_slice (void **state)
{
  Sheet *sheet = *state;
  SbInkBox all = { 0, COLUMNS, 0, ROWS }, left = { 0, 30, 0, ROWS }, low = { 0, COLUMNS, 80, ROWS };
  for (gsize s = 0; s < sheet->ink.n_slices; s++) {
    sheet->ink.top[s] = 10.3;
    sheet->ink.bottom[s] = 100 - 30.0 * (double) (s + 1) / (double) sheet->ink.n_slices;
  }
  assert_true (sb_ink_whole_rows (&sheet->ink, &all));
  assert_int_equal (all.top, 11);
  assert_int_equal (all.bottom, 70);
  assert_true (sb_ink_whole_rows (&sheet->ink, &left));
  assert_int_equal (left.bottom, 97);
  assert_false (sb_ink_whole_rows (&sheet->ink, &low));
  sheet->ink.top[40] = sheet->ink.bottom[40] = NAN;
  left = (SbInkBox){ 0, 30, 0, ROWS };
  assert_false (sb_ink_whole_rows (&sheet->ink, &left));
}

/* What a slice covers of each row of pixels, by hand: tall, within one row, on the rows' edges, over the sheet's. */
static void
slice_covers_of_each_row_what_lies_in_it (void **state)
{
  static const double slices[][2] = { { 10.25, 110.5 }, { 20.2, 20.6 }, { 30, 40 }, { -5, 130 }, { 50.5, 51.5 } };
  Sheet *sheet = *state;
  for (gsize k = 0; k < G_N_ELEMENTS (slices); k++) {
    sheet->ink.top[SB_INK_SLICES * k] = slices[k][0];
    sheet->ink.bottom[SB_INK_SLICES * k] = slices[k][1];
  }
  sb_ink_fill (&sheet->ink, &(SbInkBox){ 0, COLUMNS, 0, ROWS }, &sheet->mask[0][0], COLUMNS);
  for (gsize k = 0; k < G_N_ELEMENTS (slices); k++)
    for (int row = 0; row < ROWS; row++) {
      double covered = fmin (row + 1, slices[k][1]) - fmax (row, slices[k][0]);
      assert_int_equal (sheet->mask[row][k], (int) (255.0 / SB_INK_SLICES * fmax (covered, 0) + 0.5));
    }
}

static double
wave_y (double x)
{
  return 60 + 40 * sin (x / 9) * exp (-x / 120);
}

/* 60 points to a pixel, by cairo as a path of all of them. */
static cairo_surface_t *
stroke_wave (void)
{
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_A8, COLUMNS, ROWS);
  cairo_t *cr = cairo_create (surface);
  cairo_set_line_width (cr, PEN);
  cairo_set_line_join (cr, CAIRO_LINE_JOIN_ROUND);
  for (int i = -600; i <= 60 * (COLUMNS + 10); i++)
    cairo_line_to (cr, i / 60.0, wave_y (i / 60.0));
  cairo_stroke (cr);
  cairo_destroy (cr);
  cairo_surface_flush (surface);
  return surface;
}

static void
steep_waves_cover_what_cairo_s_stroke_covers (void **state)
{
  Sheet *sheet = *state;
  for (gsize s = 0; s < sheet->ink.n_slices; s++) {
    double low = HUGE_VAL, high = -HUGE_VAL;
    for (int i = 0; i < 20; i++) {
      double y = wave_y (((double) s + i / 20.0) / SB_INK_SLICES);
      low = fmin (low, y);
      high = fmax (high, y);
    }
    sheet->ink.top[s] = low;
    sheet->ink.bottom[s] = high;
  }
  double area = fill (sheet, PEN), expected = 0, apart = 0;
  cairo_surface_t *stroked = stroke_wave ();
  const guint8 *pixels = cairo_image_surface_get_data (stroked);
  int stride = cairo_image_surface_get_stride (stroked);
  for (int y = 0; y < ROWS; y++)
    for (int x = 2; x < COLUMNS - 2; x++) {
      expected += pixels[y * stride + x] / 255.0;
      apart += fabs (pixels[y * stride + x] / 255.0 - sheet->mask[y][x] / 255.0);
    }
  cairo_surface_destroy (stroked);
  assert_close_relative (area, expected, 0.03);
  assert_true (apart < 0.06 * expected);
}

#define CASE(name) cmocka_unit_test_setup_teardown (name, set_up, tear_down)

int
main (void)
{
  const struct CMUnitTest tests[] = {
    CASE (straight_line_covers_length_times_width),  CASE (nothing_is_drawn_where_nothing_is),
    CASE (boxes_side_by_side_are_the_whole),         CASE (rows_that_are_wholly_covered_lie_inside_of_every_slice),
    CASE (slice_covers_of_each_row_what_lies_in_it), CASE (steep_waves_cover_what_cairo_s_stroke_covers),
  };
  return cmocka_run_group_tests (tests, NULL, NULL);
}
