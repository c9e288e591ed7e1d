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

/* Puts a box of coverage where it lies on the sheet. */
static void
fill_box (Sheet *sheet, const SbInk *inks, gsize n_inks, const SbInkBox *box)
{
  guint8 tile[SB_INK_TILE_ROWS][SB_INK_TILE_COLUMNS];
  sb_ink_fill (inks, n_inks, box, tile);
  for (int row = box->top; row < box->bottom; row++)
    memcpy (&sheet->mask[row][box->left], tile[row - box->top], (gsize) (box->right - box->left));
}

static void
fill_sheet (Sheet *sheet, const SbInk *inks, gsize n_inks)
{
  for (int left = 0; left < COLUMNS; left += SB_INK_TILE_COLUMNS)
    fill_box (sheet, inks, n_inks, &(SbInkBox){ left, MIN (left + SB_INK_TILE_COLUMNS, COLUMNS), 0, ROWS });
}

/* Covered area in pixels of what the pen draws. */
static double
fill (Sheet *sheet, double pen)
{
  double area = 0;
  sb_ink_join (&sheet->ink);
  sb_ink_widen (&sheet->ink, pen / 2);
  fill_sheet (sheet, &sheet->ink, 1);
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
      sheet->ink.top[s] = sheet->ink.bottom[s] = (float) (10.3 + slopes[k] * slice_x (s));
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

/* Masks are made for parts of the picture: they are the parts of the whole mask, whatever rows they begin at. */
static void
boxes_of_covered_rows_are_parts_of_the_whole (void **state)
{
  Sheet *sheet = *state;
  Sheet *parts = g_new0 (Sheet, 1);
  for (gsize s = 0; s < sheet->ink.n_slices; s++)
    sheet->ink.top[s] = sheet->ink.bottom[s] = (float) (10.3 + 0.3 * slice_x (s));
  fill (sheet, PEN);
  for (int left = 0; left < COLUMNS; left += 20) {
    SbInkBox box = { left, MIN (left + 20, COLUMNS), 0, ROWS };
    assert_true (sb_ink_rows (&sheet->ink, &box));
    assert_true (box.bottom - box.top < 20);
    fill_box (parts, &sheet->ink, 1, &box);
  }
  assert_memory_equal (parts->mask, sheet->mask, sizeof sheet->mask);
  g_free (parts);
}

/* Two inks, rows 10 to 20 and 15.5 to 30: as one, where they overlap nothing is more than whole. */
static void
two_inks_cover_together_at_most_a_whole_pixel (void **state)
{
  Sheet *sheet = *state;
  SbInk inks[2] = { sheet->ink };
  sb_ink_init (&inks[1], COLUMNS);
  for (gsize s = 0; s < sheet->ink.n_slices; s++) {
    inks[0].top[s] = 10;
    inks[0].bottom[s] = 20;
    inks[1].top[s] = 20.5;
    inks[1].bottom[s] = 30;
    if (s >= 150)
      inks[1].top[s] = 15.5;
  }
  fill_sheet (sheet, inks, 2);
  sb_ink_clear (&inks[1]);
  assert_int_equal (sheet->mask[9][10], 0);
  assert_int_equal (sheet->mask[19][10], 255);
  assert_in_range (sheet->mask[20][10], 127, 129);
  for (int row = 10; row < 30; row++)
    assert_int_equal (sheet->mask[row][100], 255);
}

/* What a slice covers of each row of pixels, by hand: tall, within one row, on the rows' edges, over the sheet's. */
static void
slice_covers_of_each_row_what_lies_in_it (void **state)
{
  static const double slices[][2] = { { 10.25, 110.5 }, { 20.2, 20.6 }, { 30, 40 }, { -5, 130 }, { 50.5, 51.5 } };
  Sheet *sheet = *state;
  for (gsize k = 0; k < G_N_ELEMENTS (slices); k++) {
    sheet->ink.top[SB_INK_SLICES * k] = (float) slices[k][0];
    sheet->ink.bottom[SB_INK_SLICES * k] = (float) slices[k][1];
  }
  fill_sheet (sheet, &sheet->ink, 1);
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
    sheet->ink.top[s] = (float) low;
    sheet->ink.bottom[s] = (float) high;
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
    CASE (straight_line_covers_length_times_width),      CASE (nothing_is_drawn_where_nothing_is),
    CASE (boxes_of_covered_rows_are_parts_of_the_whole), CASE (two_inks_cover_together_at_most_a_whole_pixel),
    CASE (slice_covers_of_each_row_what_lies_in_it),     CASE (steep_waves_cover_what_cairo_s_stroke_covers),
  };
  return cmocka_run_group_tests (tests, NULL, NULL);
}
