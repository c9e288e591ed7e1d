/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measured.h"

#include "arc_length.h"

/* exp (-5 t²), t = -1, -0.99, .., 0.99: the first author of the 2015 paper prints -1.41403 for it
 * (scripts/smoothness.py of the public repository siva82kb/SPARC). */
static void
gaussian_has_the_published_arc_length (void **state)
{
  double v[200];
  for (int i = 0; i < 200; i++) {
    double t = -1 + 0.01 * i;
    v[i] = exp (-5 * t * t);
  }
  assert_close (sb_spectral_arc_length (v, 200, 100, 10), -1.41403, 5e-6);
}

/* 30 (x² - 2 x³ + x⁴) (1 + h sin (2 pi 8 x)), 101 points at 100 Hz, worked out from the definition with an FFT of
 * another library; the steps are those of the published value. */
static void
minimum_jerk_with_ripple_has_the_computed_arc_lengths (void **state)
{
  static const struct {
    double ripple, cutoff_hz, expected;
  } cases[] = { { 0, 10, -1.4058293 }, { 0.1, 10, -1.4058293 }, { 0.2, 10, -1.8891295 }, { 0.2, 20, -1.8891295 } };
  for (gsize c = 0; c < G_N_ELEMENTS (cases); c++) {
    double v[101];
    for (int i = 0; i <= 100; i++) {
      double x = i / 100.0;
      v[i] = 30 * (x * x - 2 * x * x * x + x * x * x * x) * (1 + cases[c].ripple * sin (2 * G_PI * 8 * x));
    }
    assert_close (sb_spectral_arc_length (v, 101, 100, cases[c].cutoff_hz), cases[c].expected, 1e-6);
  }
}

static void
size_does_not_matter_and_nothing_has_no_arc (void **state)
{
  double v[64], tenfold[64], nothing[64] = { 0 };
  for (int i = 0; i < 64; i++) {
    v[i] = exp (-0.01 * (i - 30) * (i - 30));
    tenfold[i] = 10 * v[i];
  }
  assert_close (sb_spectral_arc_length (tenfold, 64, 1000, 200), sb_spectral_arc_length (v, 64, 1000, 200), 1e-12);
  assert_true (isnan (sb_spectral_arc_length (nothing, 64, 1000, 200)));
}

/* The derivatives by the values, against differences of the arc itself, for arcs that the cut-off ends. Where the
 * threshold ends one, at a whole bin, differences are none or jump; but the size of the profile does not matter there
 * either, so the gradient is at right angles to the profile. */
static void
gradient_is_that_of_the_arc (void **state)
{
  static const double cutoffs_hz[] = { 1.5, 1 };
  double v[64], moved[64], gradient[64], other[64];
  for (int i = 0; i < 64; i++)
    v[i] = exp (-0.002 * (i - 30) * (i - 30)) * (1 + 0.3 * sin (0.4 * i));
  for (gsize c = 0; c < G_N_ELEMENTS (cutoffs_hz); c++) {
    const double h = 1e-6, at = sb_spectral_arc_length (v, 64, 100, cutoffs_hz[c]);
    assert_true (sb_spectral_arc_gradient (v, 64, 100, cutoffs_hz[c], gradient));
    for (gsize k = 0; k < 64; k++) {
      for (gsize i = 0; i < 64; i++)
        moved[i] = v[i] + (i == k ? h : 0);
      assert_close (gradient[k], (sb_spectral_arc_length (moved, 64, 100, cutoffs_hz[c]) - at) / h, 1e-5);
    }
  }
  double along = 0, size = 0;
  assert_true (sb_spectral_arc_gradient (v, 64, 100, 40, other));
  for (gsize i = 0; i < 64; i++) {
    along += other[i] * v[i];
    size += fabs (other[i] * v[i]);
  }
  assert_true (fabs (along) < 1e-9 * size);
}

/* Slow twin of the whole measure: slopes by the sums of k y, their Fourier transform by its definition. */
static double
slow_smoothness (const double *y, gsize first, gsize last, int half, double interval_s, double cutoff_hz)
{
  gsize n = last - first + 1, padded = 16;
  for (gsize whole = 1; whole < n; whole *= 2)
    padded *= 2;
  g_autofree double *magnitude = g_new (double, padded / 2 + 1);
  double largest = 0;
  for (gsize b = 0; b <= padded / 2; b++) {
    double real = 0, imaginary = 0;
    for (gsize i = 0; i < n; i++) {
      double slope = 0, squares = 0;
      for (int k = -half; k <= half; k++) {
        slope += k * y[(int) (first + i) + k];
        squares += k * k;
      }
      double angle = 2 * G_PI * (double) (b * i) / (double) padded;
      real += slope / squares * cos (angle);
      imaginary -= slope / squares * sin (angle);
    }
    magnitude[b] = hypot (real, imaginary);
    largest = fmax (largest, magnitude[b]);
  }
  gsize from = 0, to = (gsize) (cutoff_hz * (double) padded * interval_s + 1e-9);
  while (magnitude[to] < 0.05 * largest)
    to--;
  double arc = 0;
  for (gsize b = from; b < to; b++)
    arc += hypot (1 / (double) (to - from), (magnitude[b + 1] - magnitude[b]) / largest);
  return -arc;
}

static void
transition_is_measured_as_by_the_definition (void **state)
{
  Measured *m = *state;
  MadeLog log = make_second_order (m->made, 0.5, 100, 5, 200, 1800, 1e-3);
  const SbMeasures *r = measure_log (m, &log, NULL);
  const SbMeasure *measure = &r->measure[SB_MEASURE_TORQUE_SMOOTHNESS];
  gsize first = (gsize) lround (measure->window_s[0] / 1e-3) + 200,
        last = (gsize) lround (measure->window_s[1] / 1e-3) + 200;
  assert_close (value_of (r, SB_MEASURE_TORQUE_SMOOTHNESS), slow_smoothness (log.torque, first, last, 2, 1e-3, 200),
                1e-9);
  assert_close (r->smoothness_cutoff_hz, 200, 0);
  assert_true (measure->window_s[0] <= r->transition.t10_s && measure->window_s[1] >= r->transition.t90_s);
}

/* A rise that halts half way and goes on is less smooth than one that does not. */
static void
halting_rise_is_less_smooth (void **state)
{
  Measured *m = *state;
  MadeLog log = make_step_log (m->made, 1500, 300, 1e-3, 8);
  log.torque = make_column (m->made, log.n);
  for (gsize i = 0; i < log.n; i++)
    log.torque[i] = ramp (log.t[i], 0.01, 0.11, 0, 8);
  double straight = value_of (measure_log (m, &log, NULL), SB_MEASURE_TORQUE_SMOOTHNESS);
  for (gsize i = 0; i < log.n; i++)
    log.torque[i] = ramp (log.t[i], 0.01, 0.04, 0, 4) + ramp (log.t[i], 0.08, 0.11, 0, 4);
  double halting = value_of (measure_log (m, &log, NULL), SB_MEASURE_TORQUE_SMOOTHNESS);
  assert_true (halting < straight - 0.1);
}

/* 0.4 of 250 Hz is less than 200 Hz. */
static void
slow_log_has_a_lower_cut_off (void **state)
{
  Measured *m = *state;
  MadeLog log = make_second_order (m->made, 0.5, 20, 5, 200, 1800, 4e-3);
  assert_close (measure_log (m, &log, NULL)->smoothness_cutoff_hz, 100, 1e-9);
  log.torque = NULL;
  log.velocity = make_column (m->made, log.n);
  log.velocity[log.n - 1] = 1;
  assert_true (isnan (measure_log (m, &log, NULL)->smoothness_cutoff_hz));
}

static void
cut_off_past_half_the_rate_is_a_doubt (void **state)
{
  Measured *m = *state;
  MadeLog log = make_second_order (m->made, 0.5, 100, 5, 200, 1800, 1e-3);
  SbMeasureChoices choices = SB_MEASURE_CHOICES_DEFAULT;
  choices.smoothness_cutoff_hz = 800;
  assert_doubt (measure_log (m, &log, &choices), SB_MEASURE_TORQUE_SMOOTHNESS, "cut-off out of reach", "500 Hz");
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
#define T(name) cmocka_unit_test_setup_teardown (name, measured_setup, measured_teardown)
    T (gaussian_has_the_published_arc_length),
    T (minimum_jerk_with_ripple_has_the_computed_arc_lengths),
    T (size_does_not_matter_and_nothing_has_no_arc),
    T (transition_is_measured_as_by_the_definition),
    T (gradient_is_that_of_the_arc),
    T (halting_rise_is_less_smooth),
    T (slow_log_has_a_lower_cut_off),
    T (cut_off_past_half_the_rate_is_a_doubt),
  };
  return cmocka_run_group_tests (tests, NULL, NULL);
}
