/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How long a chart takes to be painted while the hand pans and zooms: ten curves of a million samples each, on the
 * surface that the window paints on.
 *
 *     bench_chart [WIDTH HEIGHT]      pixels; 1280 720 unless told
 *
 * Prints median and 99th percentile of the frames, by the wall clock and of the processor. Not part of the tests:
 * figures mean something only on a machine that has nothing else to do. */
#include "chart_painter.h"
#include "sample_analysis.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <time.h>

#define CURVES    10
#define SAMPLES   1000000
#define FRAMES    200
#define ROUNDS    3
#define PX_PER_PT (96.0 / 72.0)
#define FONT_PT   8.0

static double *
make_samples (guint c)
{
  double *y = g_new (double, SAMPLES);
  guint32 seed = 1 + c;
  for (gsize i = 0; i < SAMPLES; i++) {
    seed = seed * 1664525u + 1013904223u;
    double t = (double) i / SAMPLES;
    y[i] = (8 + 0.4 * c) * (1 - exp (-t * 30)) + 0.5 * exp (-3 * t) * sin (800 * t) + 1e-10 * (double) (seed >> 4);
  }
  return y;
}

/* A spread of the repeats that fills a band. */
static void
widen (const SbMeanCurve *curve)
{
  for (gsize i = 0; i < SAMPLES; i++)
    curve->sd[i] = 0.1 + 0.02 * sin (2e-4 * (double) i);
}

static SbAnalysis *
make_analysis (gsize n_trials)
{
  SbAnalysis *all = NULL;
  for (guint c = 0; c < CURVES; c++) {
    SbAnalysis *one = sample_analysis_of_curve (make_samples (c), SAMPLES, -SAMPLES / 20, 1e-5, n_trials);
    SbConfigurationResult *configuration = g_ptr_array_index (one->configurations, 0);
    configuration->style = c;
    widen (configuration->ensemble->curve[SB_CHANNEL_TORQUE]);
    if (all == NULL) {
      all = one;
      continue;
    }
    g_ptr_array_add (all->configurations, g_ptr_array_steal_index (one->configurations, 0));
    sb_analysis_unref (one);
  }
  return all;
}

static int
by_value (const void *a, const void *b)
{
  const double *first = a, *second = b;
  return (*first > *second) - (*first < *second);
}

/* What the frames of one run took: all by the clock on the wall, and each at its quickest of the processor, which tells
 * something on a machine that has other things to do too. */
typedef struct {
  double wall_ms[ROUNDS * FRAMES], processor_ms[FRAMES];
} Times;

static double
processor_now_ms (void)
{
  struct timespec now;
  clock_gettime (CLOCK_THREAD_CPUTIME_ID, &now);
  return 1e3 * (double) now.tv_sec + 1e-6 * (double) now.tv_nsec;
}

static void
say (const char *what, Times *times)
{
  qsort (times->wall_ms, ROUNDS * FRAMES, sizeof (double), by_value);
  qsort (times->processor_ms, FRAMES, sizeof (double), by_value);
  printf ("%-28s median %6.2f ms, 99th percentile %6.2f ms (goal: 8); of the processor %6.2f and %6.2f ms\n", what,
          times->wall_ms[ROUNDS * FRAMES / 2], times->wall_ms[ROUNDS * FRAMES * 99 / 100],
          times->processor_ms[FRAMES / 2], times->processor_ms[FRAMES * 99 / 100]);
}

/* The frames of a pan over a half of the time, or of a zoom to a thousandth of it. */
static void
run (SbChartModel *model, cairo_t *cr, double width_pt, double height_pt, gboolean zooms, Times *times)
{
  double from = model->x_min, length = model->x_max - model->x_min;
  SbChartLayout layout;
  for (int frame = 0; frame < ROUNDS * FRAMES; frame++) {
    int i = frame % FRAMES;
    double share = (double) i / FRAMES;
    model->x_min = from + (zooms ? 0.3 * share : 0.1 * share) * length;
    model->x_max = zooms ? model->x_min + length * pow (1e-3, share) : model->x_min + 0.9 * length;
    gint64 start = g_get_monotonic_time ();
    double processor_start_ms = processor_now_ms ();
    sb_chart_paint (model, cr, width_pt, height_pt, FONT_PT, &layout);
    double took_ms = processor_now_ms () - processor_start_ms;
    times->wall_ms[frame] = (double) (g_get_monotonic_time () - start) / 1000;
    times->processor_ms[i] = frame < FRAMES ? took_ms : MIN (took_ms, times->processor_ms[i]);
  }
  model->x_min = from;
  model->x_max = from + length;
}

int
main (int argc, char **argv)
{
  int width = argc > 2 ? atoi (argv[1]) : 1280, height = argc > 2 ? atoi (argv[2]) : 720;
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_ARGB32, width, height);
  cairo_t *cr = cairo_create (surface);
  cairo_scale (cr, PX_PER_PT, PX_PER_PT);
  for (gsize n_trials = 1; n_trials <= 2; n_trials++) {
    Times times;
    g_autoptr (SbAnalysis) analysis = make_analysis (n_trials);
    g_autoptr (SbChartModel) model = sb_chart_model_new (analysis, -1);
    sb_chart_paint (model, cr, width / PX_PER_PT, height / PX_PER_PT, FONT_PT, NULL); /* fonts are found */
    run (model, cr, width / PX_PER_PT, height / PX_PER_PT, FALSE, &times);
    say (n_trials == 1 ? "pan, curves" : "pan, curves and bands", &times);
    run (model, cr, width / PX_PER_PT, height / PX_PER_PT, TRUE, &times);
    say (n_trials == 1 ? "zoom, curves" : "zoom, curves and bands", &times);
  }
  cairo_destroy (cr);
  cairo_surface_destroy (surface);
  return 0;
}
