/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Derivative weights, state levels, reference-level instants and units against published values. */
#include "levels.h"
#include "local_fit.h"
#include "table.h"
#include "unit.h"

/* What the fit makes of a unit impulse, at the centre, is the weight of the sample that it stands at. */
static double
weight_of_sample (const double *t, gsize k, gsize half, gsize degree, gsize derivative)
{
  double impulse[11] = { 0 };
  impulse[k] = 1;
  SbLocalFit fit = sb_local_fit (t, impulse, half, half, degree);
  return derivative == 0 ? fit.value : derivative == 1 ? fit.slope : fit.curvature;
}

/* Savitzky & Golay 1964, corrected by Steinier et al. 1972: all nineteen rows of 5 to 11 points, smoothing by
 * quadratics and quartics, first derivatives of both, second derivatives. The weights come out one by one. */
static void
local_fit_has_the_published_weights (void **state)
{
  const double h = 0.0005;
  g_autoptr (GPtrArray) rows = table_read ("savgol.csv");
  assert_int_equal (rows->len, 19);
  for (guint i = 0; i < rows->len; i++) {
    gsize points = (gsize) table_number (rows, i, 0), half = points / 2, degree = (gsize) table_number (rows, i, 1);
    gsize derivative = (gsize) table_number (rows, i, 2);
    double norm = table_number (rows, i, 3), t[11];
    g_auto (GStrv) weights = g_strsplit (((char **) g_ptr_array_index (rows, i))[4], " ", -1);
    assert_int_equal (g_strv_length (weights), points);
    for (gsize k = 0; k < points; k++)
      t[k] = ((double) k - (double) half) * h;
    for (gsize k = 0; k < points; k++) {
      double weight = weight_of_sample (t, k, half, degree, derivative) * pow (h, (double) derivative);
      assert_close (weight, g_ascii_strtod (weights[k], NULL) / norm, 1e-12);
      assert_close (weight * norm, round (weight * norm), 1e-9); /* the integer that is printed, exactly */
    }
  }
}

/* The quadratic's first derivative, which the peak slope is taken with: its closed form on even times and its fit on
 * the times as they are; and the noise that it leaves, 1/sqrt (10) of 5 points and 1/sqrt (110) of 11. */
static void
slopes_of_unit_impulses_are_the_published_weights (void **state)
{
  const double h = 0.0005;
  g_autoptr (GPtrArray) rows = table_read ("savgol.csv");
  int n_checked = 0;
  for (guint i = 0; i < rows->len; i++) {
    if ((int) table_number (rows, i, 1) != 2 || (int) table_number (rows, i, 2) != 1)
      continue;
    gsize points = (gsize) table_number (rows, i, 0), half = points / 2;
    double norm = table_number (rows, i, 3), t[11], squares = 0;
    g_auto (GStrv) weights = g_strsplit (((char **) g_ptr_array_index (rows, i))[4], " ", -1);
    for (gsize k = 0; k < points; k++)
      t[k] = 3 + (double) k * h;
    for (gsize k = 0; k < points; k++) {
      double impulse[11] = { 0 }, weight = g_ascii_strtod (weights[k], NULL) / norm;
      impulse[k] = 1;
      squares += weight * weight;
      assert_close (sb_local_slope (t, impulse, half, half, h) * h, weight, 1e-14);
      assert_close (sb_local_slope (t, impulse, half, half, 0) * h, weight, 1e-11); /* 3 + k h is rounded */
    }
    assert_close_relative (sb_local_slope_noise_gain (half), sqrt (squares), 1e-14);
    n_checked++;
  }
  assert_int_equal (n_checked, 4);
}

/* IEEE Std 181 (clauses from memory, values computed): the ramp (0,0) (1,0) (2,1) (4,1) at 401 points on [0, 4]. */
#define RAMP_POINTS 401

static void
fill_ramp (double *t, double *y)
{
  for (int i = 0; i < RAMP_POINTS; i++) {
    t[i] = i / 100.0;
    y[i] = CLAMP (t[i] - 1, 0.0, 1.0);
  }
}

static double
duration_10_90 (const double *t, const double *y, double base, double top)
{
  double low = base + 0.1 * (top - base), high = base + 0.9 * (top - base);
  gsize i = sb_first_crossing (y, 0, RAMP_POINTS - 1, low), j = sb_first_crossing (y, 0, RAMP_POINTS - 1, high);
  return sb_crossing_time (t, y, j, high) - sb_crossing_time (t, y, i, low);
}

/* The standard's answer is the centre of the fullest of 256 bins, 1/512 and 511/512, and from it 0.796875. Ours is the
 * mean of the values in and beside that bin: it may differ by half a bin, 1/512, and here lies on the states
 * themselves, 0 and 1, with the exact duration of 0.8. */
static void
state_levels_agree_within_half_a_bin (void **state)
{
  double t[RAMP_POINTS], y[RAMP_POINTS];
  fill_ramp (t, y);
  gsize middle = 151; /* samples at or below 0.5; half the range, so half the bins: the same width */
  double base = sb_level_mode (y, middle, 128, NULL);
  double top = sb_level_mode (y + middle, RAMP_POINTS - middle, 128, NULL);
  assert_close (base, 1.0 / 512, 1.0 / 512 + 1e-15);
  assert_close (top, 511.0 / 512, 1.0 / 512 + 1e-15);
  assert_close (base, 0, 1e-12);
  assert_close (top, 1, 1e-12);
  assert_close (duration_10_90 (t, y, base, top), 0.8, 1e-12);
  assert_close (duration_10_90 (t, y, 1.0 / 512, 511.0 / 512), 0.796875, 1e-12);
}

/* Case 'ramp': t10 = 1.1, t50 = 1.5, t90 = 1.9 for states given as 0 and 1. */
static void
reference_level_instants_of_the_ramp (void **state)
{
  double t[RAMP_POINTS], y[RAMP_POINTS];
  fill_ramp (t, y);
  static const double percent[] = { 10, 50, 90 }, instant[] = { 1.1, 1.5, 1.9 };
  for (int k = 0; k < 3; k++) {
    gsize i = sb_first_crossing (y, 0, RAMP_POINTS - 1, percent[k] / 100);
    assert_close (sb_crossing_time (t, y, i, percent[k] / 100), instant[k], 1e-12);
  }
}

/* Case 'kink': (0,0) (1,0) (2,1.2) (3,0.9) (4,1) (10,1) crosses 10, 50 and 90 % at 13/12, 17/12 and 1.75. */
static void
reference_level_instants_of_the_kink (void **state)
{
  static const double t[] = { 0, 1, 2, 3, 4, 10 }, y[] = { 0, 0, 1.2, 0.9, 1, 1 };
  static const double level[] = { 0.1, 0.5, 0.9 }, instant[] = { 13 / 12.0, 17 / 12.0, 1.75 };
  for (int k = 0; k < 3; k++) {
    gsize i = sb_first_crossing (y, 0, 5, level[k]);
    assert_close (sb_crossing_time (t, y, i, level[k]), instant[k], 1e-15);
  }
}

/* NIST SP 811 (2008), appendix B: seven digits as printed (from memory), and the exact size that follows from the pound
 * of 0.45359237 kg, the inch of 0.0254 m, standard gravity 9.80665 m/s² and the turn of 2 pi rad. */
static void
units_have_their_published_size (void **state)
{
  static const struct {
    const char *spelling;
    SbDimension dimension;
    double printed, exact;
  } units[] = {
    { "rpm", SB_DIMENSION_VELOCITY, 1.047198e-1, G_PI / 30 },
    { "r/s", SB_DIMENSION_VELOCITY, 6.283185, 2 * G_PI },
    { "deg", SB_DIMENSION_ANGLE, 1.745329e-2, G_PI / 180 },
    { "lbf ft", SB_DIMENSION_TORQUE, 1.355818, 0.45359237 * 9.80665 * 0.3048 },
    { "lbf in", SB_DIMENSION_TORQUE, 1.129848e-1, 0.45359237 * 9.80665 * 0.0254 },
    { "ozf in", SB_DIMENSION_TORQUE, 7.061552e-3, 0.45359237 / 16 * 9.80665 * 0.0254 },
    { "kgf m", SB_DIMENSION_TORQUE, 9.80665, 9.80665 },
    { "kgf cm", SB_DIMENSION_TORQUE, 9.80665e-2, 0.0980665 },
  };
  for (gsize i = 0; i < G_N_ELEMENTS (units); i++) {
    const SbUnit *unit = sb_unit_find (units[i].spelling);
    if (unit == NULL)
      print_error ("'%s' is not known\n", units[i].spelling);
    assert_non_null (unit);
    assert_int_equal (unit->dimension, units[i].dimension);
    double size = unit->factor * pow (10, unit->power_of_ten);
    assert_close_relative (size, units[i].printed, 5e-7);
    assert_close_relative (size, units[i].exact, 1e-15);
  }
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    cmocka_unit_test (local_fit_has_the_published_weights),
    cmocka_unit_test (slopes_of_unit_impulses_are_the_published_weights),
    cmocka_unit_test (state_levels_agree_within_half_a_bin),
    cmocka_unit_test (reference_level_instants_of_the_ramp),
    cmocka_unit_test (reference_level_instants_of_the_kink),
    cmocka_unit_test (units_have_their_published_size),
  };
  return cmocka_run_group_tests_name ("published signal figures", tests, NULL, NULL);
}
