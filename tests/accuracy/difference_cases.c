/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "difference_cases.h"

#define RATE_HZ 1000.0
#define STEP_NM 10.0

const DifferenceCase difference_cases[] = {
  { .name = "sensor noise", .noise = 0.01, .other_factor = 1 },
  { .name = "filtered noise", .lagged = 0.01, .lag_s = 0.02, .other_factor = 1 },
  { .name = "smooth wander", .wander = 0.01, .wander_s = 0.015, .other_factor = 1 },
  { .name = "gain, delay and sensor noise", .gain = 0.02, .delay_s = 0.001, .noise = 0.01, .other_factor = 1 },
  { .name = "gain, delay, filtered and sensor noise",
    .gain = 0.02,
    .delay_s = 0.0005,
    .noise = 0.003,
    .lagged = 0.01,
    .lag_s = 0.005,
    .other_factor = 1 },
  { .name = "the same, other side three times as much",
    .gain = 0.02,
    .delay_s = 0.0005,
    .noise = 0.003,
    .lagged = 0.01,
    .lag_s = 0.005,
    .other_factor = 3 },
};
const gsize n_difference_cases = G_N_ELEMENTS (difference_cases);

typedef struct {
  const DifferenceCase *c;
  gsize n_points, onset;
  MadeNoise random;
  double *bell; /* weights of the wander, and the noise that it averages */
  gsize half;
  double *raw;
} Maker;

/* A torque that rises in 30 ms and rings at 20 Hz: mean curve of either side but for a factor. */
static double
mean_curve (double t_s)
{
  return t_s <= 0 ? 0 : STEP_NM * (1 - exp (-t_s / 0.03) * (cos (125 * t_s) + 0.2 * sin (125 * t_s)));
}

static void
maker_init (Maker *maker, const DifferenceCase *c, gsize n_points, guint64 seed)
{
  *maker = (Maker){ .c = c, .n_points = n_points, .onset = n_points / 5, .random = { seed * 0x9e3779b97f4a7c15u } };
  double width = c->wander_s * RATE_HZ, square = 0;
  maker->half = (gsize) (3 * width);
  maker->bell = g_new (double, 2 * maker->half + 1);
  maker->raw = g_new (double, n_points + 2 * maker->half);
  for (gsize k = 0; k <= 2 * maker->half; k++) {
    double away = width > 0 ? ((double) k - (double) maker->half) / width : 0;
    maker->bell[k] = exp (-away * away / 2);
    square += maker->bell[k] * maker->bell[k];
  }
  for (gsize k = 0; k <= 2 * maker->half; k++)
    maker->bell[k] /= sqrt (square);
}

static void
maker_clear (Maker *maker)
{
  g_free (maker->bell);
  g_free (maker->raw);
}

/* One repeat: `factor` times the mean curve, with deviations `spread` times as large as those of the case. The delay
 * acts by the slope of the mean curve, so that the mean over repeats stays what it is. */
static void
make_repeat (Maker *maker, double factor, double spread, double *torque)
{
  const DifferenceCase *c = maker->c;
  double gain = spread * c->gain * made_normal (&maker->random), lagged = made_normal (&maker->random);
  double delay_s = spread * c->delay_s * made_normal (&maker->random), hold = 0;
  if (c->lag_s > 0)
    hold = exp (-1 / (RATE_HZ * c->lag_s));
  for (gsize k = 0; c->wander > 0 && k < maker->n_points + 2 * maker->half; k++)
    maker->raw[k] = made_normal (&maker->random);
  for (gsize i = 0; i < maker->n_points; i++) {
    double t_s = ((double) i - (double) maker->onset) / RATE_HZ, wander = 0, tiny_s = 1e-5;
    double slope = (mean_curve (t_s + tiny_s) - mean_curve (t_s - tiny_s)) / (2 * tiny_s);
    for (gsize k = 0; c->wander > 0 && k <= 2 * maker->half; k++)
      wander += maker->bell[k] * maker->raw[i + k];
    lagged = hold * lagged + sqrt (1 - hold * hold) * made_normal (&maker->random);
    double noise = c->noise * made_normal (&maker->random) + c->lagged * lagged + c->wander * wander;
    torque[i] = (factor + gain) * mean_curve (t_s) - delay_s * slope + spread * STEP_NM * noise;
  }
}

static void
tally_curve (DifferenceTally *tally, const SbDifferenceCurve *curve, double truth_factor)
{
  gsize n_outside = 0;
  for (gsize k = 0; k < curve->n_points; k++) {
    double away = fabs (curve->difference[k] - truth_factor * mean_curve (sb_difference_curve_time (curve, k)));
    n_outside += away > curve->half_simultaneous[k] ? 1 : 0;
    tally->n_outside += away > curve->half_pointwise[k] ? 1 : 0;
  }
  tally->n_instants += curve->n_points;
  tally->n_draws++;
  tally->n_covered += n_outside == 0 ? 1 : 0;
  tally->critical += curve->critical;
}

/* Trials whose values are overwritten by each draw: the command alone places their onset. */
static void
make_trials (MadeTrials *made, const Maker *maker, SbTrial **trials, gsize n)
{
  MadeLog log = make_step_log (made, maker->n_points, maker->onset, 1 / RATE_HZ, STEP_NM);
  log.torque = make_column (made, maker->n_points);
  for (gsize i = 0; i < n; i++)
    trials[i] = make_trial (made, &log, NULL);
}

DifferenceTally
simulate_difference (const DifferenceCase *c, gsize n_reference, gsize n_other, gsize n_points, gsize n_draws,
                     guint64 seed)
{
  DifferenceTally tally = { 0 };
  SbTrial *trials[40];
  Maker maker;
  MadeTrials *made = made_trials_new ();
  maker_init (&maker, c, n_points, seed);
  make_trials (made, &maker, trials, n_reference + n_other);
  for (gsize d = 0; d < n_draws; d++) {
    for (gsize i = 0; i < n_reference + n_other; i++)
      make_repeat (&maker, i < n_reference ? 1 : 1.1, i < n_reference ? 1 : c->other_factor,
                   trials[i]->log->channel[SB_CHANNEL_TORQUE]);
    guint channels = 1u << SB_CHANNEL_TORQUE;
    g_autoptr (SbEnsemble) reference = sb_ensemble_new (trials, n_reference, SB_SPAN_COMMON, channels);
    g_autoptr (SbEnsemble) other = sb_ensemble_new (trials + n_reference, n_other, SB_SPAN_COMMON, channels);
    g_autoptr (SbDifferenceCurve) curve
        = sb_difference_curve_new (reference, trials, other, trials + n_reference, SB_CHANNEL_TORQUE);
    if (curve->present)
      tally_curve (&tally, curve, 0.1);
  }
  tally.critical /= (double) MAX (tally.n_draws, 1);
  maker_clear (&maker);
  made_trials_free (made);
  return tally;
}
