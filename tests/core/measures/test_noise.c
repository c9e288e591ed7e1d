/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What noise does to a passage and what noise that is not white does to an uncertainty. */
#include "measured.h"
#include "noise.h"
#include "passage.h"

/* A level of white noise, or of a first-order autoregression x[i] = r x[i - 1] + sqrt (1 - r²) e[i], whose lag-1
 * autocorrelation is r (any text on time series), and a straight rise. */
static void
fill_noisy_ramp (MadeLog *log, double r, guint64 seed)
{
  MadeNoise noise = { seed };
  double x = made_normal (&noise);
  for (gsize i = 0; i < log->n; i++) {
    x = r * x + sqrt (1 - r * r) * made_normal (&noise);
    log->torque[i] = ramp (log->t[i], 3e-3, 43e-3, 0, 8) + 0.02 * x;
  }
}

static void
noise_that_is_not_white_is_a_doubt_about_uncertainties (void **state)
{
  Measured *m = *state;
  MadeLog log = make_step_log (m->made, 4000, 1000, 1e-4, 8);
  log.torque = make_column (m->made, log.n);
  fill_noisy_ramp (&log, 0.6, 7);
  const SbMeasures *r = measure_log (m, &log, NULL);
  assert_close (r->transition.noise_lag1, 0.6, 4 / sqrt (1000));
  /* sqrt (1.6 / 0.4) = 2 */
  assert_doubt (r, SB_MEASURE_MEAN_TORQUE_SLOPE, "noise not white", "factor of up to 2");
  assert_doubt (r, SB_MEASURE_PEAK_TORQUE_SLOPE, "noise not white", "lag-1 autocorrelation 0.6");
  assert_null (doubt_of (r, SB_MEASURE_PEAK_TORQUE, "noise not white")); /* one sample: nothing is averaged */
}

static void
white_noise_is_no_doubt (void **state)
{
  Measured *m = *state;
  MadeLog log = make_step_log (m->made, 4000, 1000, 1e-4, 8);
  log.torque = make_column (m->made, log.n);
  fill_noisy_ramp (&log, 0, 7);
  const SbMeasures *r = measure_log (m, &log, NULL);
  assert_close (r->transition.noise_lag1, 0, 4 / sqrt (1000));
  assert_null (doubt_of (r, SB_MEASURE_MEAN_TORQUE_SLOPE, "noise not white"));
}

static void
few_samples_tell_nothing_of_the_noise (void **state)
{
  static const double y[] = { 0, 1, 0, 1, 0, 1, 0, 1, 0, 1, 0, 1, 0, 1, 0, 1, 0, 1, 0, 1 };
  assert_true (isnan (sb_noise_lag1 (y, 19, 0.5, 0.51)));
  assert_close (sb_noise_lag1 (y, 20, 0.5, 0.51), -0.95, 1e-14); /* -(n - 1) / n */
}

#define N_PASSAGE 200

/* Slow twin: the passages of 20,000 noisy curves. */
static void
passages_scatter_as_in_simulation (void **state)
{
  static const double steps[] = { 0.02, 0.2, 1, 5 }; /* of the curve from one sample to the next, in noises */
  MadeNoise noise = { 41 };
  double t[N_PASSAGE], d[N_PASSAGE];
  for (gsize s = 0; s < G_N_ELEMENTS (steps); s++) {
    double sum = 0, squares = 0;
    enum { DRAWS = 20000 };
    for (gsize i = 0; i < N_PASSAGE; i++) {
      t[i] = 3 + 0.5 * (double) i;
      d[i] = steps[s] * ((double) i - 150.3);
    }
    for (int k = 0; k < DRAWS; k++) {
      double before = d[0] + made_normal (&noise), at = t[0];
      for (gsize i = 1; i < N_PASSAGE && !(before > 0); i++) {
        double now = d[i] + made_normal (&noise);
        at = t[i - 1] + 0.5 * before / (before - now);
        before = now;
      }
      sum += at / DRAWS;
      squares += (at - 70) * (at - 70) / DRAWS;
    }
    double sd = sqrt (squares - (sum - 70) * (sum - 70));
    SbPassage passage = sb_first_passage (t, d, N_PASSAGE, 1);
    print_message ("           step %g: mean %.3f told %.3f, sd %.4f told %.4f\n", steps[s], sum, passage.mean_s, sd,
                   passage.sd_s);
    assert_close (passage.chance, 1, 1e-6);
    assert_close (passage.mean_s, sum, 0.05 * sd + 0.02);
    assert_close_relative (passage.sd_s, sd, 0.1);
  }
}

/* Turned round in time, a first passage is a last one. */
static void
last_passage_is_the_first_of_the_curve_turned_round (void **state)
{
  double t[N_PASSAGE], d[N_PASSAGE], turned[N_PASSAGE];
  for (gsize i = 0; i < N_PASSAGE; i++) {
    t[i] = 0.5 * (double) i;
    d[i] = 0.3 * ((double) i - 80.3);
    turned[N_PASSAGE - 1 - i] = d[i];
  }
  SbPassage first = sb_first_passage (t, d, N_PASSAGE, 1), last = sb_last_passage (t, turned, N_PASSAGE, 1);
  assert_close (last.mean_s, t[N_PASSAGE - 1] - first.mean_s, 1e-9);
  assert_close (last.sd_s, first.sd_s, 1e-9);
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    cmocka_unit_test_setup_teardown (noise_that_is_not_white_is_a_doubt_about_uncertainties, measured_setup,
                                     measured_teardown),
    cmocka_unit_test_setup_teardown (white_noise_is_no_doubt, measured_setup, measured_teardown),
    cmocka_unit_test (few_samples_tell_nothing_of_the_noise),
    cmocka_unit_test (passages_scatter_as_in_simulation),
    cmocka_unit_test (last_passage_is_the_first_of_the_curve_turned_round),
  };
  return cmocka_run_group_tests_name ("noise", tests, NULL, NULL);
}
