/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A band of very many points is laid on tile by tile (lay_ink.h). It looks like a polygon all the same. */
#include "chart_fixture.h"

#include "chart_painter.h"

#define WIDTH     400
#define HEIGHT    266
#define PX_PER_PT (4.0 / 3)

/* 8 bits are rounded this differently. */
#define HAIR 2

/* A mean from 2 to 8 N·m within 1.2 s and a band of 1.5 N·m to either side, in so many steps. (transfer full) */
static cairo_surface_t *
paint_slanted_band (ChartFixture *chart, gsize n_steps, SbRect *plot)
{
  double *y = g_new (double, n_steps + 1);
  for (gsize i = 0; i <= n_steps; i++)
    y[i] = 2 + 6 * (double) i / (double) n_steps;
  g_clear_pointer (&chart->model, sb_chart_model_unref);
  g_clear_pointer (&chart->analysis, sb_analysis_unref);
  chart->analysis = sample_analysis_of_curve (y, n_steps + 1, 0, 1.2 / (double) n_steps, 2);
  SbConfigurationResult *configuration = g_ptr_array_index (chart->analysis->configurations, 0);
  for (gsize i = 0; i <= n_steps; i++)
    configuration->ensemble->curve[SB_CHANNEL_TORQUE]->sd[i] = 1.5;
  chart->model = sb_chart_model_new (chart->analysis, -1);
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_RGB24, WIDTH, HEIGHT);
  cairo_t *cr = cairo_create (surface);
  SbChartLayout layout;
  cairo_scale (cr, PX_PER_PT, PX_PER_PT);
  sb_chart_paint (chart->model, cr, WIDTH / PX_PER_PT, HEIGHT / PX_PER_PT, 8, &layout);
  assert_int_equal (cairo_status (cr), CAIRO_STATUS_SUCCESS);
  cairo_destroy (cr);
  cairo_surface_flush (surface);
  *plot = layout.plot[0];
  return surface;
}

static guint32
pixel (cairo_surface_t *surface, int x, int y)
{
  guint32 value;
  memcpy (&value, cairo_image_surface_get_data (surface) + y * cairo_image_surface_get_stride (surface) + 4 * x, 4);
  return value & 0xffffff;
}

/* The most by which red, green or blue differ. */
static int
apart (guint32 one, guint32 other)
{
  int most = 0;
  for (int shift = 0; shift < 24; shift += 8)
    most = MAX (most, abs ((int) (one >> shift & 0xff) - (int) (other >> shift & 0xff)));
  return most;
}

/* No line's edge is near: the two pixels above and below are the same. */
static gboolean
is_even (cairo_surface_t *surface, int x, int y)
{
  int most = 0;
  for (int k = -2; k <= 2; k++)
    most = MAX (most, apart (pixel (surface, x, y), pixel (surface, x, y + k)));
  return most <= HAIR;
}

/* That of 41 points is a polygon of cairo's. Where that is white or tinted evenly so is the other, and no seam shows;
 * at lines' edges the antialiasing is of another kind. The band takes 3 N·m of an axis of about 10. */
static void
band_of_very_many_points_is_painted_as_that_of_few (void **state)
{
  ChartFixture *chart = *state;
  SbRect plot, other_plot;
  cairo_surface_t *few = paint_slanted_band (chart, 40, &plot), *many = paint_slanted_band (chart, 120000, &other_plot);
  int left = (int) (plot.x * PX_PER_PT) + 2, right = (int) ((plot.x + plot.width) * PX_PER_PT) - 2;
  int top = (int) (plot.y * PX_PER_PT) + 2, bottom = (int) ((plot.y + plot.height) * PX_PER_PT) - 2;
  int n = (right - left) * (bottom - top), n_white = 0, n_tinted = 0;
  assert_memory_equal (&plot, &other_plot, sizeof plot);
  for (int y = top; y < bottom; y++)
    for (int x = left; x < right; x++) {
      if (!is_even (few, x, y))
        continue;
      assert_in_range (apart (pixel (few, x, y), pixel (many, x, y)), 0, HAIR);
      gboolean tinted = apart (pixel (few, x, y), 0xffffff) > 20;
      n_white += tinted ? 0 : 1;
      n_tinted += tinted ? 1 : 0;
    }
  cairo_surface_destroy (few);
  cairo_surface_destroy (many);
  assert_true (n_tinted > n / 8);
  assert_true (n_white > n / 3);
}

int
main (void)
{
  const struct CMUnitTest tests[] = { CHART_TEST (band_of_very_many_points_is_painted_as_that_of_few) };
  return cmocka_run_group_tests (tests, NULL, NULL);
}
