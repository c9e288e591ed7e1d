/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Ink is laid on as cairo lays a mask of the same coverage on: cairo is the measure here. */
#include "lay_ink.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#define WIDTH  101
#define HEIGHT 310

static const cairo_rectangle_int_t frame = { 7, 5, 83, 290 };

/* Premultiplied pixels of every kind. (transfer full) */
static cairo_surface_t *
make_ground (cairo_format_t format)
{
  cairo_surface_t *surface = cairo_image_surface_create (format, WIDTH, HEIGHT);
  guint8 *bytes = cairo_image_surface_get_data (surface);
  int stride = cairo_image_surface_get_stride (surface);
  guint32 seed = 7;
  for (int y = 0; y < HEIGHT; y++)
    for (int x = 0; x < WIDTH; x++) {
      guint32 pixel = 0, alpha = format == CAIRO_FORMAT_ARGB32 ? (guint32) (x * 255 / WIDTH) : 255;
      for (int k = 0; k < 3; k++) {
        seed = seed * 1664525u + 1013904223u;
        pixel = pixel << 8 | (seed >> 24) * alpha / 255;
      }
      pixel |= alpha << 24;
      memcpy (bytes + y * stride + 4 * x, &pixel, 4);
    }
  cairo_surface_mark_dirty (surface);
  return surface;
}

/* Two waves with gaps, thin and tall, partly wholly covered, that cross and go beyond the frame. */
static void
make_inks (SbInk inks[2])
{
  for (int k = 0; k < 2; k++) {
    sb_ink_init (&inks[k], (gsize) frame.width);
    for (gsize s = 0; s < inks[k].n_slices; s++) {
      float slant = k == 0 ? (float) s : 300 - 1.3f * (float) s;
      if (s % 50 < 3 || (s > 150 && s < 180))
        continue;
      inks[k].top[s] = slant - 20;
      inks[k].bottom[s] = slant - 20 + (s % 100 > 60 ? 170 : 0.3f * (float) (s % 9));
    }
  }
}

static void
lay_by_cairo (cairo_t *cr, const SbInk *inks, gsize n)
{
  int stride = cairo_format_stride_for_width (CAIRO_FORMAT_A8, frame.width);
  g_autofree guint8 *mask = g_malloc0 ((gsize) (stride * frame.height));
  guint8 tile[SB_INK_TILE_ROWS][SB_INK_TILE_COLUMNS];
  for (int left = 0; left < frame.width; left += SB_INK_TILE_COLUMNS)
    for (int top = 0; top < frame.height; top += SB_INK_TILE_ROWS) {
      SbInkBox box
          = { left, MIN (left + SB_INK_TILE_COLUMNS, frame.width), top, MIN (top + SB_INK_TILE_ROWS, frame.height) };
      sb_ink_fill (inks, n, &box, tile);
      for (int row = box.top; row < box.bottom; row++)
        memcpy (mask + row * stride + left, tile[row - top], (gsize) (box.right - left));
    }
  cairo_surface_t *surface
      = cairo_image_surface_create_for_data (mask, CAIRO_FORMAT_A8, frame.width, frame.height, stride);
  cairo_mask_surface (cr, surface, frame.x, frame.y);
  cairo_surface_finish (surface);
  cairo_surface_destroy (surface);
}

/* The most by which a colour of a pixel differs. */
static int
apart (cairo_surface_t *one, cairo_surface_t *other, gboolean alpha)
{
  int most = 0, stride = cairo_image_surface_get_stride (one);
  const guint8 *a = cairo_image_surface_get_data (one), *b = cairo_image_surface_get_data (other);
  for (int y = 0; y < HEIGHT; y++)
    for (int x = 0; x < WIDTH; x++) {
      guint32 first, second;
      memcpy (&first, a + y * stride + 4 * x, 4);
      memcpy (&second, b + y * stride + 4 * x, 4);
      for (int shift = 0; shift < (alpha ? 32 : 24); shift += 8)
        most = MAX (most, abs ((int) (first >> shift & 0xff) - (int) (second >> shift & 0xff)));
    }
  return most;
}

static void
compare (cairo_format_t format, double alpha, gsize n_inks, gboolean clipped)
{
  cairo_surface_t *surface[2];
  SbInk inks[2];
  make_inks (inks);
  for (int way = 0; way < 2; way++) {
    surface[way] = make_ground (format);
    cairo_t *cr = cairo_create (surface[way]);
    cairo_scale (cr, 1.5, 1.5); /* the clip and the frame are in pixels all the same */
    cairo_set_source_rgba (cr, 0.84, 0.37, 0.01, alpha);
    if (clipped) {
      cairo_identity_matrix (cr);
      cairo_rectangle (cr, 20, 15, 37, 111);
      cairo_rectangle (cr, 70, 140, 60, 90);
      cairo_clip (cr);
    }
    assert_true (sb_lay_ink_can (cr));
    if (way == 0) {
      sb_lay_ink (cr, &frame, inks, n_inks);
    } else {
      cairo_identity_matrix (cr);
      lay_by_cairo (cr, inks, n_inks);
    }
    cairo_destroy (cr);
    cairo_surface_flush (surface[way]);
  }
  assert_in_range (apart (surface[0], surface[1], format == CAIRO_FORMAT_ARGB32), 0, 1);
  cairo_surface_t *before = make_ground (format);
  assert_true (apart (surface[0], before, FALSE) > 20); /* it is there */
  cairo_surface_destroy (before);
  for (int k = 0; k < 2; k++) {
    cairo_surface_destroy (surface[k]);
    sb_ink_clear (&inks[k]);
  }
}

static void
pixels_are_those_of_cairo_s_mask (void **state)
{
  static const double alphas[] = { 1, 0.5, 0.16 };
  for (gsize k = 0; k < G_N_ELEMENTS (alphas); k++)
    for (gsize n_inks = 1; n_inks <= 2; n_inks++)
      for (int clipped = 0; clipped < 2; clipped++) {
        compare (CAIRO_FORMAT_ARGB32, alphas[k], n_inks, clipped);
        compare (CAIRO_FORMAT_RGB24, alphas[k], n_inks, clipped);
      }
}

static void
other_pictures_and_clips_are_not_laid_on (void **state)
{
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_A8, 10, 10);
  cairo_t *cr = cairo_create (surface);
  assert_false (sb_lay_ink_can (cr));
  cairo_destroy (cr);
  cairo_surface_destroy (surface);
  surface = cairo_image_surface_create (CAIRO_FORMAT_RGB24, 10, 10);
  cr = cairo_create (surface);
  assert_true (sb_lay_ink_can (cr));
  cairo_rectangle (cr, 1.5, 1.5, 5, 5);
  cairo_clip (cr);
  assert_false (sb_lay_ink_can (cr));
  cairo_destroy (cr);
  cairo_surface_destroy (surface);
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    cmocka_unit_test (pixels_are_those_of_cairo_s_mask),
    cmocka_unit_test (other_pictures_and_clips_are_not_laid_on),
  };
  return cmocka_run_group_tests (tests, NULL, NULL);
}
