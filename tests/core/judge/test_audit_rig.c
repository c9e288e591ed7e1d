/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Rises behind a rig that rings. Expected: a slow twin, which solves x'' = w^2 (u - x) - 2 zeta w x' (standard
 * vibration texts) by Runge and Kutta's method and looks at the curve as the definitions say. */
#include "audit_rig_search.h"
#include "close.h"

#include <math.h>

#define STEP_S 2e-5
#define END_S  0.4
#define N      ((gsize) (END_S / STEP_S))
#define HZ     40.0
#define ZETA   0.1

typedef double (*Input) (double t, double length_s);

static double
ramp (double t, double length_s)
{
  return t < 0 ? 0 : fmin (1, t / length_s);
}

static double
two_lags (double t, double length_s)
{
  return t < 0 ? 0 : 1 - (1 + t / length_s) * exp (-t / length_s);
}

static void
solve (Input input, double length_s, double *x)
{
  double w = 2 * G_PI * HZ / sqrt (1 - ZETA * ZETA), at = 0, v = 0;
  for (gsize i = 0; i < N; i++) {
    double t = (double) i * STEP_S, k[4][2];
    x[i] = at;
    for (int s = 0; s < 4; s++) {
      double part = s == 0 ? 0 : s < 3 ? STEP_S / 2 : STEP_S;
      double here = at + (s > 0 ? part * k[s - 1][0] : 0), speed = v + (s > 0 ? part * k[s - 1][1] : 0);
      k[s][0] = speed;
      k[s][1] = w * w * (input (t + part, length_s) - here) - 2 * ZETA * w * speed;
    }
    at += STEP_S / 6 * (k[0][0] + 2 * k[1][0] + 2 * k[2][0] + k[3][0]);
    v += STEP_S / 6 * (k[0][1] + 2 * k[1][1] + 2 * k[2][1] + k[3][1]);
  }
}

static gsize
first_above (const double *x, double level)
{
  gsize i = 0;
  while (x[i] < level)
    i++;
  return i;
}

static double
line_slope (const double *x, gsize from, gsize to)
{
  double mean_t = (double) (from + to) / 2, tt = 0, tx = 0;
  for (gsize i = from; i <= to; i++) {
    tt += ((double) i - mean_t) * ((double) i - mean_t);
    tx += ((double) i - mean_t) * x[i];
  }
  return tx / tt;
}

static SbSeenRise
twin (Input input, double length_s)
{
  g_autofree double *x = g_new (double, N);
  solve (input, length_s, x);
  gsize t10 = first_above (x, 0.1), t90 = first_above (x, 0.9);
  SbSeenRise seen = { .transition_s = (double) (t90 - t10) * STEP_S };
  for (gsize q = 0; q < SB_RISE_QUARTERS; q++)
    seen.quarter[q]
        = line_slope (x, t10 + q * (t90 - t10) / 4, t10 + (q + 1) * (t90 - t10) / 4) * (double) (t90 - t10) / 0.8;
  for (gsize i = t90; i < N; i++)
    seen.overshoot = fmax (seen.overshoot, x[i] - 1);
  return seen;
}

static void
a_ramp_behind_a_rig_looks_as_the_equation_says (void **state)
{
  (void) state;
  static const double lengths_s[] = { 0.01, 0.03, 0.08 };
  const SbRig rig = { TRUE, HZ, ZETA };
  for (gsize i = 0; i < G_N_ELEMENTS (lengths_s); i++) {
    SbSeenRise expected = twin (ramp, lengths_s[i]), fitted;
    double length_s;
    assert_true (sb_rig_fit (&rig, SB_RISE_FORM_RAMP, expected.transition_s, &length_s, &fitted));
    assert_close (length_s, lengths_s[i], 0.01 * lengths_s[i]);
    assert_true (sb_seen_rise_distance (&expected, &fitted) < 0.005);
  }
}

static void
fill (SbSeenLevel levels[3], Input input, double last_s)
{
  const double lengths_s[] = { 0.02, 0.035, last_s };
  for (gsize i = 0; i < 3; i++)
    levels[i] = (SbSeenLevel){ twin (i < 2 ? ramp : input, lengths_s[i]), 0.03 * 0.03 };
}

/* The search halves its steps to 1.5 % of the frequency. */
static void
the_rig_of_ramps_is_found (void **state)
{
  (void) state;
  SbSeenLevel levels[3];
  fill (levels, ramp, 0.06);
  SbRigFit fit = sb_rig_search_ramps (&(SbSeenRises){ levels, 3, NULL, 0 }, NULL);
  assert_close (fit.rig.hz, HZ, 0.02 * HZ);
  assert_close (fit.rig.damping, ZETA, 0.2 * ZETA);
  assert_true (fit.chi2 < 15); /* as many figures */
  assert_true (sb_rig_off_ramps (&fit.rig, levels, 3) < sb_rig_off_ramps (NULL, levels, 3) / 2);
}

/* How much better a straight rise at this level explains what is seen than a rounded one. */
static double
evidence_of_straight (const SbSeenLevel *levels, gsize level)
{
  const SbSeenRises seen = { levels, 3, NULL, 0 };
  return sb_rig_search_rounded (&seen, level, NULL).chi2 - sb_rig_search_straight (&seen, level, NULL).chi2;
}

/* 6: odds of 20 to 1. */
static void
ramps_and_a_rounded_rise_are_told_apart (void **state)
{
  (void) state;
  SbSeenLevel levels[3];
  fill (levels, ramp, 0.06);
  assert_true (evidence_of_straight (levels, 2) > 6);
  fill (levels, two_lags, 0.02);
  assert_true (evidence_of_straight (levels, 2) < -6);
}

/* A ceiling that a filter rounds, at the steepest level, makes no rounded rise of the limited one. */
static void
a_lag_at_the_steepest_level_leaves_the_limited_one_straight (void **state)
{
  (void) state;
  SbSeenLevel levels[3];
  fill (levels, ramp, 0.06);
  levels[0].seen = twin (two_lags, 0.005);
  assert_true (evidence_of_straight (levels, 2) > 6);
}

/* Both explanations allow the other levels the same, so that all ramps are one of those with a straight rise; and of
 * six ways to be rounded the best costs 2 ln 6, whatever it explains. */
static void
forms_cost_what_their_choice_is_worth (void **state)
{
  (void) state;
  SbSeenLevel levels[3];
  fill (levels, ramp, 0.06);
  assert_true (sb_rig_search_straight (&(SbSeenRises){ levels, 3, NULL, 0 }, 2, NULL).chi2
               <= sb_rig_search_ramps (&(SbSeenRises){ levels, 3, NULL, 0 }, NULL).chi2);
  for (gsize i = 0; i < 3; i++)
    levels[i].variance = 1e9; /* nothing is known */
  assert_close (evidence_of_straight (levels, 2), 2 * log (6), 1e-6);
}

/* Where rises tell nothing, the rig is what is seen to ring; one that is not costs odds of 20 to 1, and no more. */
static void
what_rings_after_the_rise_speaks_for_the_rig (void **state)
{
  (void) state;
  SbSeenLevel levels[3];
  fill (levels, ramp, 0.06);
  const SbSeenModes modes[2] = { { 1, { HZ }, { ZETA } }, { 2, { 3 * HZ, HZ }, { ZETA, ZETA } } };
  const SbSeenModes others[2] = { { 1, { 3 * HZ }, { ZETA } }, { 1, { 3 * HZ }, { ZETA } } };
  double plain = sb_rig_search_ramps (&(SbSeenRises){ levels, 3, NULL, 0 }, NULL).chi2;
  SbRigFit fit = sb_rig_search_ramps (&(SbSeenRises){ levels, 3, modes, 2 }, NULL);
  assert_close (fit.chi2, plain, 1);
  SbRigFit unlike = sb_rig_search_ramps (&(SbSeenRises){ levels, 3, others, 2 }, NULL);
  assert_close (unlike.chi2, plain + 6, 0.5);
  assert_close (unlike.rig.hz, HZ, 0.02 * HZ);
  for (gsize i = 0; i < 3; i++)
    levels[i].variance = 1e9;
  fit = sb_rig_search_ramps (&(SbSeenRises){ levels, 3, others, 2 }, NULL);
  assert_close (fit.rig.hz, 3 * HZ, 0.01 * HZ);
  assert_close (fit.rig.damping, ZETA, 0.05 * ZETA);
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    cmocka_unit_test (a_ramp_behind_a_rig_looks_as_the_equation_says),
    cmocka_unit_test (the_rig_of_ramps_is_found),
    cmocka_unit_test (ramps_and_a_rounded_rise_are_told_apart),
    cmocka_unit_test (a_lag_at_the_steepest_level_leaves_the_limited_one_straight),
    cmocka_unit_test (forms_cost_what_their_choice_is_worth),
    cmocka_unit_test (what_rings_after_the_rise_speaks_for_the_rig),
  };
  return cmocka_run_group_tests_name ("rises behind a rig", tests, NULL, NULL);
}
