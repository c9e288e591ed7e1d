/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Signals in steps that are coarser than their noise, of known curves: the torque rises straight to 9.7 N·m within 10
 * ms, the velocity at 170 rad/s²; both are written in whole steps. An even spread over a step has the standard
 * deviation step/√12 (GUM F.2.2.1), and 95 % of it lie within 0.95 of half a step. */
#include "coarse.h"
#include "measured.h"
#include "quantum.h"

#include <math.h>

#define BEFORE   100
#define AFTER    500
#define INTERVAL 0.0005
#define TOP      9.7
#define RISE     0.01

/* Each repeat's rise begins a little later, by `late_s`, and has its own noise. */
static MadeLog
torque_in_steps (Measured *m, double step, double noise_nm, double late_s, MadeNoise *noise)
{
  MadeLog log = make_step_log (m->made, BEFORE + AFTER, BEFORE, INTERVAL, 10);
  log.torque = make_column (m->made, log.n);
  for (gsize i = 0; i < log.n; i++) {
    double y = ramp (log.t[i], 0.004 + late_s, 0.004 + late_s + RISE, 0, TOP) + noise_nm * made_normal (noise);
    log.torque[i] = step > 0 ? step * round (y / step) : y;
  }
  return log;
}

/* A counter of 1024 to the turn: what it turns by within an interval, in whole counts. The start lies between two
 * counts. */
static MadeLog
velocity_by_counts (Measured *m, double acceleration, double start_counts)
{
  double count = 2 * G_PI / 1024, before = start_counts;
  MadeLog log = make_step_log (m->made, BEFORE + AFTER, BEFORE, INTERVAL, 10);
  log.velocity = make_column (m->made, log.n);
  for (gsize i = 0; i < log.n; i++) {
    double t = fmax (0, log.t[i]), now = start_counts + acceleration * t * t / 2 / count;
    log.velocity[i] = (floor (now) - floor (before)) * count / INTERVAL;
    before = now;
  }
  return log;
}

static void
steps_are_found_where_a_signal_has_them (void **state)
{
  Measured *m = *state;
  MadeNoise noise = { 11 };
  static const double steps[] = { 0.5, 0.25, 0.1 };
  for (gsize i = 0; i < G_N_ELEMENTS (steps); i++) {
    MadeLog log = torque_in_steps (m, steps[i], 0.02, 0.00013, &noise);
    assert_close (sb_quantum (log.torque, log.n), steps[i], 1e-9);
  }
  MadeLog log = torque_in_steps (m, 0, 0.02, 0, &noise);
  assert_true (sb_quantum (log.torque, log.n) <= 0);
  log = torque_in_steps (m, 0, 0, 0, &noise); /* straight, and level: even changes are no steps */
  assert_true (sb_quantum (log.torque, log.n) <= 0);
  log = velocity_by_counts (m, 170, 0.3);
  assert_close (sb_quantum (log.velocity, log.n), 2 * G_PI / 1024 / INTERVAL, 1e-6);
}

/* Noise of half a step and more spreads the rounding: the figures are those of any noise. */
static void
steps_below_the_noise_change_nothing (void **state)
{
  Measured *m = *state;
  MadeNoise noise = { 12 };
  MadeLog log = torque_in_steps (m, 0.05, 0.03, 0, &noise);
  const SbMeasures *measures = measure_log (m, &log, NULL);
  assert_true (measures->transition.step_of_log_nm <= 0);
  for (int id = 0; id < SB_N_MEASURES; id++)
    assert_true (measures->measure[id].resolution <= 0);
}

static void
rounded_torque_knows_its_figures_to_its_steps (void **state)
{
  Measured *m = *state;
  MadeNoise noise = { 13 };
  MadeLog log = torque_in_steps (m, 0.25, 0, 0.00021, &noise);
  const SbMeasures *measures = measure_log (m, &log, NULL);
  assert_close (value_of (measures, SB_MEASURE_PEAK_TORQUE), 9.75, 1e-9);
  assert_close (measures->measure[SB_MEASURE_PEAK_TORQUE].resolution, 0.25 / sqrt (12), 1e-9);
  assert_true (fabs (9.75 - TOP) < SB_EVEN_95 * measures->measure[SB_MEASURE_PEAK_TORQUE].uncertainty);
  assert_doubt (measures, SB_MEASURE_OVERSHOOT, "coarse steps", "in steps of 0.25 N·m");
  static const struct {
    SbMeasureId id;
    double truth;
  } truths[] = { { SB_MEASURE_MEAN_TORQUE_SLOPE, TOP / RISE },
                 { SB_MEASURE_PEAK_TORQUE_SLOPE, TOP / RISE },
                 { SB_MEASURE_TORQUE_TRANSITION_TIME, 0.8 * RISE },
                 { SB_MEASURE_DEAD_TIME, 0.00421 + 0.1 * RISE } };
  for (gsize i = 0; i < G_N_ELEMENTS (truths); i++) {
    const SbMeasure *measure = &measures->measure[truths[i].id];
    double off = fabs (value_of (measures, truths[i].id) - measure->bias - truths[i].truth);
    if (!(off <= 2 * measure->uncertainty))
      fail_msg ("%s: off by %g, of ± %g", sb_measure_info (truths[i].id)->key, off, measure->uncertainty);
  }
}

/* What is within one step may be none, a band within one cannot be judged, and slopes are raised. */
static void
excursion_of_one_step_may_be_none (void **state)
{
  Measured *m = *state;
  MadeNoise noise = { 14 };
  for (int k = 0; k < 8; k++) {
    MadeLog log = torque_in_steps (m, 0.5, 0.03, 0.00005 * k, &noise);
    g_ptr_array_add (m->all, sb_measures_ref ((SbMeasures *) (gsize) measure_log (m, &log, NULL)));
    const SbMeasure *overshoot = &m->measures->measure[SB_MEASURE_OVERSHOOT];
    assert_true (overshoot->value <= 0 || sb_doubts_have (overshoot->doubts, SB_DOUBT_IN_NOISE));
    assert_true (overshoot->value - overshoot->bias <= 1e-9);
    assert_absent (m->measures, SB_MEASURE_SETTLING_TIME, "narrower than the steps of 0.5 N·m");
    const SbMeasure *slope = &m->measures->measure[SB_MEASURE_PEAK_TORQUE_SLOPE];
    assert_true (slope->bias > 0);
    assert_true (fabs (slope->value - slope->bias - TOP / RISE) <= 2 * slope->uncertainty);
  }
  m->summary = sb_summary_new ((SbMeasures *const *) m->all->pdata, m->all->len, NULL);
  const SbMeasureSummary *peak = &m->summary->measure[SB_MEASURE_PEAK_TORQUE];
  assert_true (peak->ci95[0] - fmax (0, peak->bias) <= TOP && TOP <= peak->ci95[1]);
  assert_true (peak->ci95[1] - peak->ci95[0] >= 2 * SB_EVEN_95 * 0.5 / sqrt (12) - 1e-9);
  assert_true (m->summary->measure[SB_MEASURE_OVERSHOOT].ci95[0] >= 0);
}

/* The largest count is as much too large as it goes to and fro: 170 · 0.2495 = 42.4 rad/s are 3.46 counts of 12.27
 * rad/s, which read 3 or 4. Repeats that all read 4 have no scatter, and yet an interval. */
static void
velocity_of_a_counter_is_raised_and_known_to_its_counts (void **state)
{
  Measured *m = *state;
  double step = 2 * G_PI / 1024 / INTERVAL, truth = 170 * (AFTER - 1) * INTERVAL;
  for (int k = 0; k < 5; k++) {
    MadeLog log = velocity_by_counts (m, 170, 0.17 * k);
    g_ptr_array_add (m->all, sb_measures_ref ((SbMeasures *) (gsize) measure_log (m, &log, NULL)));
    assert_doubt (m->measures, SB_MEASURE_PEAK_VELOCITY, "raised by its steps", "steps of 12.3 rad/s");
    assert_doubt (m->measures, SB_MEASURE_MEAN_VELOCITY, "coarse steps", "steps of 12.3 rad/s");
  }
  m->summary = sb_summary_new ((SbMeasures *const *) m->all->pdata, m->all->len, NULL);
  const SbMeasureSummary *peak = &m->summary->measure[SB_MEASURE_PEAK_VELOCITY];
  assert_close (peak->mean, 4 * step, 1e-6);
  assert_close (peak->sd, 0, 1e-6);
  assert_close (peak->standard_uncertainty, step / sqrt (12), 1e-6);
  assert_true (fabs (peak->mean - peak->bias - truth) <= SB_EVEN_95 * peak->standard_uncertainty);
  assert_true (peak->bias > 0.25 * step); /* truly 0.54 of it */
}

/* Two of five files are copies of another one: each figure that there is says so. */
static void
copies_put_every_figure_in_doubt (void **state)
{
  Measured *m = *state;
  MadeNoise noise = { 15 };
  MadeLog log = torque_in_steps (m, 0, 0.02, 0, &noise);
  for (int k = 0; k < 5; k++)
    g_ptr_array_add (m->all, sb_measures_ref ((SbMeasures *) (gsize) measure_log (m, &log, NULL)));
  m->summary = sb_summary_new ((SbMeasures *const *) m->all->pdata, m->all->len, NULL);
  sb_summary_doubt_copies (m->summary, 2, 5);
  for (int id = 0; id < SB_N_MEASURES; id++) {
    const SbMeasureSummary *measure = &m->summary->measure[id];
    guint n = sb_doubts_count (measure->doubts);
    assert_true (!measure->present || n > 0);
    if (measure->present)
      assert_non_null (strstr (sb_doubts_get (measure->doubts, n - 1)->text, "2 of 5 are copies"));
  }
}

int
main (void)
{
#define COARSE_TEST(name) cmocka_unit_test_setup_teardown (name, measured_setup, measured_teardown)
  const struct CMUnitTest tests[] = {
    COARSE_TEST (steps_are_found_where_a_signal_has_them),
    COARSE_TEST (steps_below_the_noise_change_nothing),
    COARSE_TEST (rounded_torque_knows_its_figures_to_its_steps),
    COARSE_TEST (excursion_of_one_step_may_be_none),
    COARSE_TEST (copies_put_every_figure_in_doubt),
    COARSE_TEST (velocity_of_a_counter_is_raised_and_known_to_its_counts),
  };
  return cmocka_run_group_tests (tests, NULL, NULL);
}
