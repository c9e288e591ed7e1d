/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measured.h"

#include <math.h>

static void
quarters_of_a_straight_rise_are_as_steep_as_the_whole (void **state)
{
  /* 8 N·m in 4 ms: 2000 N·m/s by construction. */
  Measured *m = *state;
  MadeLog log = make_step_log (m->made, 1200, 200, 1e-4, 8);
  log.torque = make_column (m->made, log.n);
  for (gsize i = 0; i < log.n; i++)
    log.torque[i] = ramp (log.t[i], 3e-3, 7e-3, 0, 8);
  const SbMeasures *r = measure_log (m, &log, NULL);
  for (int q = 0; q < SB_RISE_QUARTERS; q++)
    assert_close_relative (r->transition.quarter_nm_per_s[q], 2000, 1e-9);
}

/* Two equal lags: 1 - (1 + x / tau) e^(-x / tau) (control texts). */
static double
two_lags (double x, double tau)
{
  return x <= 0 ? 0 : 1 - (1 + x / tau) * exp (-x / tau);
}

/* The least-squares slope over from..to is 12 / h³ ∫ (t - middle) y dt, here by ten thousand midpoints. */
static double
slope_over (double from, double to, double tau)
{
  double sum = 0, h = to - from;
  for (int i = 0; i < 10000; i++) {
    double t = from + (i + 0.5) * h / 10000;
    sum += (t - (from + to) / 2) * two_lags (t, tau);
  }
  return 12 / (h * h * h) * sum * h / 10000;
}

static void
quarters_of_a_lagged_rise_are_those_of_its_formula (void **state)
{
  Measured *m = *state;
  MadeLog log = make_step_log (m->made, 30000, 2000, 1e-5, 8);
  log.torque = make_column (m->made, log.n);
  for (gsize i = 0; i < log.n; i++)
    log.torque[i] = 8 * two_lags (log.t[i], 0.01);
  const SbMeasures *r = measure_log (m, &log, NULL);
  double t10 = r->transition.t10_s, quarter = (r->transition.t90_s - t10) / SB_RISE_QUARTERS;
  assert_close (t10, 0.531812e-2, 2e-5); /* where 1 - (1 + x) e^(-x) is 0.1: x = 0.531812 */
  for (int q = 0; q < SB_RISE_QUARTERS; q++)
    assert_close_relative (r->transition.quarter_nm_per_s[q],
                           8 * slope_over (t10 + q * quarter, t10 + (q + 1) * quarter, 0.01), 2e-3);
}

static void
quarters_of_too_few_samples_are_not_known (void **state)
{
  /* 10 to 90 % of 8 ms in steps of 1 ms: 6.4 ms, less than two samples to a quarter. */
  Measured *m = *state;
  MadeLog log = make_step_log (m->made, 300, 50, 1e-3, 8);
  log.torque = make_column (m->made, log.n);
  for (gsize i = 0; i < log.n; i++)
    log.torque[i] = ramp (log.t[i], 3e-3, 11e-3, 0, 8);
  const SbMeasures *r = measure_log (m, &log, NULL);
  assert_true (r->transition.has_torque_step);
  for (int q = 0; q < SB_RISE_QUARTERS; q++)
    assert_true (isnan (r->transition.quarter_nm_per_s[q]));
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    cmocka_unit_test_setup_teardown (quarters_of_a_straight_rise_are_as_steep_as_the_whole, measured_setup,
                                     measured_teardown),
    cmocka_unit_test_setup_teardown (quarters_of_a_lagged_rise_are_those_of_its_formula, measured_setup,
                                     measured_teardown),
    cmocka_unit_test_setup_teardown (quarters_of_too_few_samples_are_not_known, measured_setup, measured_teardown),
  };
  return cmocka_run_group_tests_name ("shape of a rise", tests, NULL, NULL);
}
