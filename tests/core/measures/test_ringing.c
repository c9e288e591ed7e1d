/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measured.h"

#include <complex.h>

static void
assert_ringing (const SbMeasures *r, double hz, double zeta, double hz_ratio, double zeta_ratio)
{
  assert_int_equal (r->ringing.ringing_class, SB_RINGING_DECAYING);
  assert_close_relative (value_of (r, SB_MEASURE_RINGING_FREQUENCY), hz, hz_ratio);
  assert_close_relative (value_of (r, SB_MEASURE_RINGING_DAMPING), zeta, zeta_ratio);
}

/* Damped frequency wd / 2 pi and zeta are the parameters that the clean response was made with. */
static void
clean_step_gives_its_frequency_and_damping (void **state)
{
  Measured *m = *state;
  static const struct {
    const char *source;
    double zeta, wn;
  } cases[] = {
    { "Thomson, Theory of Vibration, Example 2.7-1 (from memory): wn 34.0, zeta 0.0681", 0.068059, 34.0294 },
    { "Rao, Mechanical Vibrations, motorcycle shock absorber: zeta 0.4037, wn 3.4338", 0.403713, 3.433863 },
    { "Ogata, Modern Control Engineering, Example 5-1 (from memory): wd 4", 0.6, 5 },
    { "a steering motor", 0.02, 2 * G_PI * 95 },
    { "a steering motor", 0.15, 2 * G_PI * 18 },
  };
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++) {
    double zeta = cases[i].zeta, wn = cases[i].wn, hz = wn * sqrt (1 - zeta * zeta) / (2 * G_PI);
    MadeLog log = make_second_order (m->made, zeta, wn, 6, 500, 4000, 60 / (hz * 4000));
    const SbMeasures *r = measure_log (m, &log, NULL);
    assert_ringing (r, hz, zeta, 1e-3, 1e-2);
    assert_int_equal (r->ringing.n_modes, 1);
    assert_no_doubts (r, SB_MEASURE_RINGING_FREQUENCY);
  }
}

/* Crest k of the response stands Mp^(2k - 1) above the level: 8 N·m * 0.7292476^(2k - 1) at zeta 0.1 stays above
 * 2 * 0.05 N·m for k <= 7 (0.132 N·m; the eighth has 0.070). Noise blurs the last one. */
static void
crests_are_counted_above_twice_the_noise (void **state)
{
  Measured *m = *state;
  MadeNoise noise = { 21 };
  MadeLog log = make_second_order (m->made, 0.1, 2 * G_PI * 30, 8, 600, 3000, 2.5e-4);
  for (gsize i = 0; i < log.n; i++)
    log.torque[i] += 0.05 * made_normal (&noise);
  const SbMeasures *r = measure_log (m, &log, NULL);
  assert_ringing (r, 30 * sqrt (0.99), 0.1, 0.02, 0.1);
  assert_close (value_of (r, SB_MEASURE_RINGING_CYCLES), 7, 1);
  assert_true (r->measure[SB_MEASURE_RINGING_FREQUENCY].uncertainty > 0);
  /* the first crests, on the curve */
  const SbMeasure *cycles = &r->measure[SB_MEASURE_RINGING_CYCLES];
  assert_int_equal (cycles->evidence[0].kind, SB_EVIDENCE_CREST);
  assert_close (cycles->evidence[0].t_s, G_PI / (2 * G_PI * 30 * sqrt (0.99)), 1.5e-3);
}

/* RMS of A sin over whole cycles is A / √2; adding noise of standard deviation s must not change it. */
static void
amplitude_is_the_rms_without_the_noise (void **state)
{
  Measured *m = *state;
  MadeNoise noise = { 4 };
  MadeLog log = make_step_log (m->made, 5000, 1000, 5e-4, 10);
  log.torque = make_column (m->made, log.n);
  for (gsize i = 0; i < log.n; i++) {
    double ringing = log.t[i] > 0.01 ? 0.5 * sin (2 * G_PI * 25 * (log.t[i] - 0.01)) : 0;
    log.torque[i] = ramp (log.t[i], 0.005, 0.01, 0, 10) + ringing + 0.1 * made_normal (&noise);
  }
  const SbMeasures *r = measure_log (m, &log, NULL);
  assert_int_equal (r->ringing.ringing_class, SB_RINGING_SUSTAINED);
  assert_close_relative (value_of (r, SB_MEASURE_RINGING_FREQUENCY), 25, 2e-3);
  assert_close (value_of (r, SB_MEASURE_RINGING_DAMPING), 0, 2e-3);
  assert_close (value_of (r, SB_MEASURE_RINGING_AMPLITUDE), 0.5 / sqrt (2), 0.02);
  assert_close (value_of (r, SB_MEASURE_RINGING_CYCLES), 1.99 * 25, 2);
}

/* Step response of 1/((1 + tau s)(1 + 2 zeta s/wn + s²/wn²)), by partial fractions. */
static double
third_order_step (double tau, double zeta, double wn, double t)
{
  double pole = 1 / tau, wd = wn * sqrt (1 - zeta * zeta), sigma = zeta * wn, gain = pole * wn * wn;
  if (t <= 0)
    return 0;
  double complex i_wd = CMPLX (0, wd), pair = -sigma + i_wd, residue = gain / (pair * (pair + pole) * (2 * i_wd));
  double rise = -gain / (pole * ((sigma - pole) * (sigma - pole) + wd * wd));
  return 1 + rise * exp (-pole * t) + 2 * creal (residue * cexp (pair * t));
}

/* The first-order lag of a current loop is not over when the torque first reaches its level. The frequency and damping
 * are those that the response was made with: a fit without the lag was wrong by up to 5 % of the frequency. */
static void
rest_of_the_rise_does_not_pull_the_frequency (void **state)
{
  Measured *m = *state;
  static const double taus[] = { 0.004, 0.006, 0.01 };
  double wn = 2 * G_PI * 45, zeta = 0.1, hz = 45 * sqrt (1 - zeta * zeta);
  for (gsize i = 0; i < G_N_ELEMENTS (taus); i++)
    for (int noisy = 0; noisy < 2; noisy++) {
      MadeNoise noise = { 77 };
      MadeLog log = make_step_log (m->made, 2300, 300, 5e-4, 8);
      log.torque = make_column (m->made, log.n);
      for (gsize k = 0; k < log.n; k++)
        log.torque[k]
            = 8 * third_order_step (taus[i], zeta, wn, log.t[k] - 2e-3) + (noisy ? 0.016 : 1e-6) * made_normal (&noise);
      const SbMeasures *r = measure_log (m, &log, NULL);
      const SbMeasure *frequency = &r->measure[SB_MEASURE_RINGING_FREQUENCY];
      assert_ringing (r, hz, zeta, noisy ? 2e-3 : 1e-5, noisy ? 2e-2 : 1e-4);
      assert_true (fabs (frequency->value - hz) < 4 * frequency->uncertainty);
      assert_int_equal (r->ringing.n_modes, 1);
      assert_close_relative (r->ringing.rest_decay_per_s, 1 / taus[i], noisy ? 0.2 : 1e-3);
    }
}

/* A second mode that is damped heavily is no rest of the rise, in whatever phase: both modes are found, and the first
 * one's frequency and damping are those it was made with. */
static void
damped_second_mode_is_no_rest_of_the_rise (void **state)
{
  Measured *m = *state;
  const double hz = 30, zeta = 0.1, second_hz = 12, second_zeta = 0.6;
  double decay = zeta / sqrt (1 - zeta * zeta) * 2 * G_PI * hz;
  double second_decay = second_zeta / sqrt (1 - second_zeta * second_zeta) * 2 * G_PI * second_hz;
  for (int k = 0; k < 8; k++) {
    MadeNoise noise = { 5 };
    MadeLog log = make_step_log (m->made, 1400, 200, 5e-4, 8);
    log.torque = make_column (m->made, log.n);
    for (gsize i = 0; i < log.n; i++) {
      double u = log.t[i] - 0.01;
      double rings = u < 0 ? 0
                           : exp (-decay * u) * sin (2 * G_PI * hz * u)
                                 + 0.5 * exp (-second_decay * u) * sin (2 * G_PI * second_hz * u + k * G_PI / 4);
      log.torque[i] = ramp (log.t[i], 0.002, 0.01, 0, 8) + rings + 0.02 * made_normal (&noise);
    }
    const SbMeasures *r = measure_log (m, &log, NULL);
    assert_ringing (r, hz, zeta, 5e-3, 5e-2);
    assert_int_equal (r->ringing.n_modes, 2);
  }
}

static void
two_modes_are_told_apart_strongest_first (void **state)
{
  Measured *m = *state;
  MadeLog log = make_step_log (m->made, 4500, 500, 2.5e-4, 8);
  log.torque = make_column (m->made, log.n);
  for (gsize i = 0; i < log.n; i++) {
    double u = log.t[i] - 0.005;
    log.torque[i] = ramp (log.t[i], 0.001, 0.005, 0, 8);
    if (u > 0)
      log.torque[i] += 1.5 * exp (-12 * u) * sin (2 * G_PI * 35 * u) + 0.6 * exp (-20 * u) * sin (2 * G_PI * 90 * u);
  }
  const SbMeasures *r = measure_log (m, &log, NULL);
  assert_int_equal (r->ringing.n_modes, 2);
  assert_close_relative (r->ringing.mode[0].frequency_hz, 35, 1e-3);
  assert_close_relative (r->ringing.mode[0].decay_per_s, 12, 1e-2);
  assert_close_relative (r->ringing.mode[1].frequency_hz, 90, 1e-3);
  assert_close_relative (r->ringing.mode[1].decay_per_s, 20, 1e-2);
  /* at the start of the window, which is the end of the rise: sin is cos a quarter behind */
  assert_close_relative (r->ringing.mode[0].amplitude, 1.5, 1e-2);
  assert_close (r->ringing.mode[0].phase_rad, -G_PI_2, 0.1);
  assert_close_relative (value_of (r, SB_MEASURE_RINGING_FREQUENCY), 35, 1e-3);
}

/* Two modes of nearly one size: crests follow neither 30 Hz nor each other evenly, and the figure has to say so. */
static void
crests_that_do_not_follow_the_fit_are_a_doubt (void **state)
{
  Measured *m = *state;
  MadeLog log = make_step_log (m->made, 4500, 500, 2.5e-4, 8);
  log.torque = make_column (m->made, log.n);
  for (gsize i = 0; i < log.n; i++) {
    double u = log.t[i] - 0.005;
    log.torque[i] = ramp (log.t[i], 0.001, 0.005, 0, 8);
    if (u > 0)
      log.torque[i] += exp (-5 * u) * (sin (2 * G_PI * 30 * u) + 0.95 * sin (2 * G_PI * 85 * u));
  }
  const SbMeasures *r = measure_log (m, &log, NULL);
  assert_close_relative (value_of (r, SB_MEASURE_RINGING_FREQUENCY), 30, 1e-3);
  assert_doubt (r, SB_MEASURE_RINGING_FREQUENCY, "cross-check by counting crests", "30 Hz");
}

/* Noise that goes on after the ringing has its own crests; they are not the ringing's. */
static void
late_noise_is_not_counted_nor_held_against_the_fit (void **state)
{
  Measured *m = *state;
  for (guint64 seed = 1; seed <= 30; seed++) {
    MadeNoise noise = { seed };
    MadeLog log = make_second_order (m->made, 0.05, 2 * G_PI * 90, 8, 400, 1600, 5e-4);
    for (gsize i = 0; i < log.n; i++)
      log.torque[i] += 0.08 * made_normal (&noise);
    const SbMeasures *r = measure_log (m, &log, NULL);
    assert_no_doubts (r, SB_MEASURE_RINGING_FREQUENCY);
    /* 8 * 0.8545^(2k - 1) N·m stands above 0.16 N·m for k <= 12; noise blurs the last ones */
    assert_close (value_of (r, SB_MEASURE_RINGING_CYCLES), 12, 1);
  }
}

/* A million samples are averaged in blocks before the fit; poles do not change by that. */
static void
far_oversampled_log_keeps_frequency_damping_and_amplitude (void **state)
{
  Measured *m = *state;
  double zeta = 0.05, hz = 40, wn = 2 * G_PI * hz / sqrt (1 - zeta * zeta);
  MadeLog log = make_second_order (m->made, zeta, wn, 8, 10000, 90000, 1e-5);
  const SbMeasures *r = measure_log (m, &log, NULL);
  assert_ringing (r, hz, zeta, 1e-3, 1e-2);
  /* The residual is -8/√(1 - zeta²) e^(-zeta wn t) cos (wd t - phi); the window starts where it is 0: amplitude there.
   */
  double start = r->ringing.window_s[0];
  assert_close_relative (r->ringing.mode[0].amplitude, 8 / sqrt (1 - zeta * zeta) * exp (-zeta * wn * start), 1e-3);
}

static void
make_noise_step (Measured *m, MadeLog *log, guint64 seed, double base_sd, double top_sd)
{
  MadeNoise noise = { seed };
  *log = make_step_log (m->made, 1000, 200, 1e-3, 8);
  log->torque = make_column (m->made, log->n);
  for (gsize i = 0; i < log->n; i++)
    log->torque[i] = ramp (log->t[i], 0.002, 0.012, 0, 8) + (log->t[i] < 0 ? base_sd : top_sd) * made_normal (&noise);
}

static void
noise_alone_never_rings (void **state)
{
  Measured *m = *state;
  for (guint64 seed = 1; seed <= 200; seed++) {
    MadeLog log;
    make_noise_step (m, &log, seed, 0.08, 0.08);
    const SbMeasures *r = measure_log (m, &log, NULL);
    assert_int_equal (r->ringing.ringing_class, SB_RINGING_NONE);
    assert_absent (r, SB_MEASURE_RINGING_FREQUENCY, "none above noise");
    assert_absent (r, SB_MEASURE_RINGING_DAMPING, "none above noise");
    assert_close (value_of (r, SB_MEASURE_RINGING_CYCLES), 0, 0);
    assert_true (value_of (r, SB_MEASURE_RINGING_AMPLITUDE) < 0.08);
    assert_doubt (r, SB_MEASURE_RINGING_AMPLITUDE, "none above noise", "not ringing");
  }
}

static void
plateau_noisier_than_the_base_does_not_ring (void **state)
{
  Measured *m = *state;
  for (guint64 seed = 1; seed <= 200; seed++) {
    MadeLog log;
    make_noise_step (m, &log, seed, 0.002, 0.08);
    assert_int_equal (measure_log (m, &log, NULL)->ringing.ringing_class, SB_RINGING_NONE);
  }
}

static void
creep_of_the_plateau_does_not_ring (void **state)
{
  Measured *m = *state;
  MadeNoise noise = { 6 };
  MadeLog log = make_step_log (m->made, 2500, 500, 1e-3, 8);
  log.torque = make_column (m->made, log.n);
  for (gsize i = 0; i < log.n; i++)
    log.torque[i] = ramp (log.t[i], 0.002, 0.012, 0, 8) + (log.t[i] > 0.012 ? 0.3 * exp (-(log.t[i] - 0.012) / 0.4) : 0)
                    + 0.01 * made_normal (&noise);
  const SbMeasures *r = measure_log (m, &log, NULL);
  assert_int_equal (r->ringing.ringing_class, SB_RINGING_NONE);
  assert_close (value_of (r, SB_MEASURE_RINGING_CYCLES), 0, 0);
}

/* A level written in steps of 0.01 N·m flickers by one step: that is rounding, not ringing. */
static void
rounding_of_the_log_is_noise (void **state)
{
  Measured *m = *state;
  MadeLog log = make_second_order (m->made, 0.3, 2 * G_PI * 20, 8, 500, 2000, 5e-4);
  for (gsize i = 0; i < log.n; i++)
    log.torque[i] = round (log.torque[i] / 0.01) * 0.01;
  const SbMeasures *r = measure_log (m, &log, NULL);
  assert_close_relative (r->ringing.floor_nm, 0.01 / sqrt (12), 0.5);
  assert_ringing (r, 20 * sqrt (0.91), 0.3, 0.02, 0.1);
  /* crests of 2.98, 0.41, 0.057 and 0.0079 N·m (8 Mp^(2k - 1), Mp = 0.3723): three or four stand above 0.0058 N·m */
  assert_close (value_of (r, SB_MEASURE_RINGING_CYCLES), 3.5, 0.5);
}

static void
perfectly_still_plateau_does_not_ring (void **state)
{
  Measured *m = *state;
  MadeLog log = make_step_log (m->made, 1200, 200, 1e-4, 8);
  log.torque = make_column (m->made, log.n);
  for (gsize i = 0; i < log.n; i++)
    log.torque[i] = ramp (log.t[i], 3e-3, 7e-3, 0, 8);
  const SbMeasures *r = measure_log (m, &log, NULL);
  assert_int_equal (r->ringing.ringing_class, SB_RINGING_NONE);
  assert_close (value_of (r, SB_MEASURE_RINGING_AMPLITUDE), 0, 1e-9);
  assert_close (value_of (r, SB_MEASURE_RINGING_CYCLES), 0, 0);
}

static void
window_too_short_for_ringing_is_a_reason (void **state)
{
  Measured *m = *state;
  MadeLog log = make_step_log (m->made, 120, 100, 1e-3, 8);
  log.torque = make_column (m->made, log.n);
  for (gsize i = 0; i < log.n; i++)
    log.torque[i] = ramp (log.t[i], 1e-3, 6e-3, 0, 8);
  const SbMeasures *r = measure_log (m, &log, NULL);
  assert_int_equal (r->ringing.ringing_class, SB_RINGING_UNKNOWN);
  assert_absent (r, SB_MEASURE_RINGING_FREQUENCY, "no ringing window");
  assert_absent (r, SB_MEASURE_RINGING_AMPLITUDE, "no ringing window");
}

static void
velocity_rings_where_there_is_no_torque (void **state)
{
  Measured *m = *state;
  MadeLog log = make_step_log (m->made, 3000, 500, 5e-4, 8);
  log.velocity = make_column (m->made, log.n);
  for (gsize i = 0; i < log.n; i++) {
    double u = log.t[i] - 0.02;
    log.velocity[i] = ramp (log.t[i], 0, 0.02, 0, 40);
    if (u > 0)
      log.velocity[i] += 5 * u + 2 * exp (-8 * u) * sin (2 * G_PI * 22 * u);
  }
  const SbMeasures *r = measure_log (m, &log, NULL);
  assert_int_equal (r->ringing.channel, SB_CHANNEL_VELOCITY);
  assert_close_relative (value_of (r, SB_MEASURE_RINGING_FREQUENCY), 22, 0.02);
  assert_close_relative (value_of (r, SB_MEASURE_RINGING_DAMPING), 8 / hypot (8, 2 * G_PI * 22), 0.1);
  assert_doubt (r, SB_MEASURE_RINGING_FREQUENCY, "read from the velocity", "no torque");
  assert_absent (r, SB_MEASURE_RINGING_AMPLITUDE, "no torque");
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
#define T(name) cmocka_unit_test_setup_teardown (name, measured_setup, measured_teardown)
    T (clean_step_gives_its_frequency_and_damping),
    T (crests_are_counted_above_twice_the_noise),
    T (amplitude_is_the_rms_without_the_noise),
    T (rest_of_the_rise_does_not_pull_the_frequency),
    T (damped_second_mode_is_no_rest_of_the_rise),
    T (two_modes_are_told_apart_strongest_first),
    T (crests_that_do_not_follow_the_fit_are_a_doubt),
    T (late_noise_is_not_counted_nor_held_against_the_fit),
    T (far_oversampled_log_keeps_frequency_damping_and_amplitude),
    T (noise_alone_never_rings),
    T (plateau_noisier_than_the_base_does_not_ring),
    T (creep_of_the_plateau_does_not_ring),
    T (rounding_of_the_log_is_noise),
    T (perfectly_still_plateau_does_not_ring),
    T (window_too_short_for_ringing_is_a_reason),
    T (velocity_rings_where_there_is_no_torque),
  };
  return cmocka_run_group_tests (tests, NULL, NULL);
}
