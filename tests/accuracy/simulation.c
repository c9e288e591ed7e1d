/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "simulation.h"

#include <gsl/gsl_errno.h>

#define SMOOTHNESS_SHIFTS 16
#define SMOOTHNESS_CUTOFF 200.0

/* Magnitude of the Fourier transform at one frequency, by its definition. */
static double
slow_magnitude (const double *v, gsize n, double per_sample)
{
  double real = 0, imaginary = 0;
  for (gsize i = 0; i < n; i++) {
    real += v[i] * cos (2 * G_PI * per_sample * (double) i);
    imaginary += v[i] * sin (2 * G_PI * per_sample * (double) i);
  }
  return hypot (real, imaginary);
}

/* Arc of the magnitudes up to the cut-off, from the first to the last that reaches a twentieth of the largest. */
static double
slow_arc (const double *v, gsize n, double rate_hz)
{
  gsize padded = 16, first = 0;
  for (gsize whole = 1; whole < n; whole *= 2)
    padded *= 2;
  gsize last = (gsize) (fmin (SMOOTHNESS_CUTOFF, 0.4 * rate_hz) * (double) padded / rate_hz);
  g_autofree double *m = g_new (double, last + 1);
  double largest = 0, arc = 0;
  for (gsize k = 0; k <= last; k++)
    largest = fmax (largest, m[k] = slow_magnitude (v, n, (double) k / (double) padded));
  while (m[first] < largest / 20)
    first++;
  while (m[last] < largest / 20)
    last--;
  for (gsize k = first; k < last; k++)
    arc += hypot (1 / (double) (last - first), (m[k + 1] - m[k]) / largest);
  return -arc;
}

/* Spectral arc length of a noiseless torque's rate: slopes by sums of k y over 1 ms or five samples, from a window
 * before the last sample under 10 % to one after the first over 90 %, every so many samples that 20 times the cut-off
 * remain; mean over places between two samples. */
static double
slow_smoothness (const Case *c)
{
  gsize half = MAX (2, (gsize) floor (1e-3 * c->rate_hz / 2 + 0.5)), wide = 2 * half + 1;
  gsize skip = MAX (1, (gsize) (c->rate_hz / (20 * SMOOTHNESS_CUTOFF)));
  double t10 = rise_instant (c->torque, 0.1), t90 = rise_instant (c->torque, 0.9), sum = 0;
  for (int s = 0; s < SMOOTHNESS_SHIFTS; s++) {
    double shift = (s + 0.5) / SMOOTHNESS_SHIFTS;
    double first = floor (t10 * c->rate_hz + shift) - (double) wide;
    double last = floor (t90 * c->rate_hz + shift) + 1 + (double) wide;
    gsize n = (gsize) ((last - first) / (double) skip + 1e-6) + 1;
    g_autofree double *slope = g_new0 (double, n);
    for (gsize k = 0; k < n; k++)
      for (gsize j = 1; j <= half; j++) {
        double at = first + (double) (k * skip) - shift, up = (at + (double) j) / c->rate_hz;
        double down = (at - (double) j) / c->rate_hz;
        slope[k] += (double) j * (response (c->torque, up) - response (c->torque, down));
      }
    sum += slow_arc (slope, n, c->rate_hz / (double) skip);
  }
  return sum / SMOOTHNESS_SHIFTS;
}

void
simulation_init (Simulation *simulation, const Case *c, guint64 seed)
{
  gsl_set_error_handler_off (); /* as the program does */
  gsize before = (gsize) lround (c->before_s * c->rate_hz), n = before + (gsize) lround (c->after_s * c->rate_hz) + 1;
  *simulation = (Simulation){ .c = *c, .made = made_trials_new (), .n = n, .random = { seed }, .gain = 1 };
  simulation->noise_nm = c->noise_ratio * c->step_nm;
  simulation->noise_rad_per_s = c->noise_ratio * c->velocity_rad_per_s;
  for (int i = 0; i < 16; i++) /* seeds of few bits need some turns */
    made_uniform (&simulation->random);
  MadeLog log = make_step_log (simulation->made, n, before, 1 / c->rate_hz, c->step_nm);
  log.torque = make_column (simulation->made, n);
  log.velocity = make_column (simulation->made, n);
  simulation->trial = make_trial (simulation->made, &log, NULL);
  simulation->smoothness = slow_smoothness (c);
}

void
simulation_clear (Simulation *simulation)
{
  if (simulation->made != NULL)
    made_trials_free (simulation->made);
  *simulation = (Simulation){ 0 };
}

/* The trial borrows the log's values, and the command alone places its onset: so a draw overwrites torque and velocity.
 */
SbMeasures *
simulation_draw (Simulation *simulation, const SbMeasureChoices *choices)
{
  const Case *c = &simulation->c;
  double *const *channel = simulation->trial->log->channel;
  const double *t = channel[SB_CHANNEL_TIME];
  simulation->shift_s = c->dead_s + made_uniform (&simulation->random) / c->rate_hz;
  for (gsize i = 0; i < simulation->n; i++) {
    double u = t[i] - simulation->shift_s;
    channel[SB_CHANNEL_TORQUE][i]
        = c->step_nm * response (c->torque, u) + simulation->noise_nm * made_normal (&simulation->random);
    channel[SB_CHANNEL_VELOCITY][i]
        = (u > 0 ? -simulation->gain * c->velocity_rad_per_s * expm1 (-u / c->velocity_lag_s) : 0)
          + simulation->noise_rad_per_s * made_normal (&simulation->random);
  }
  return sb_measures_new (simulation->trial, choices);
}

static double
velocity_truth (const Simulation *simulation, SbMeasureId id)
{
  const Case *c = &simulation->c;
  double lag = c->velocity_lag_s, length = c->after_s - simulation->shift_s, reached = -expm1 (-length / lag);
  if (id == SB_MEASURE_PEAK_VELOCITY)
    return c->velocity_rad_per_s * reached;
  if (id == SB_MEASURE_MEAN_VELOCITY)
    return c->velocity_rad_per_s * (length - lag * reached) / c->after_s;
  return simulation->shift_s - lag * log1p (-0.9 * reached);
}

double
simulation_truth (const Simulation *simulation, SbMeasureId id)
{
  const Case *c = &simulation->c;
  SecondOrder s = c->torque;
  double t10 = rise_instant (s, 0.1), t90 = rise_instant (s, 0.9);
  double cross = (G_PI - acos (s.zeta)) / damped_rad_per_s (s);
  switch (id) {
  case SB_MEASURE_PEAK_VELOCITY:
  case SB_MEASURE_MEAN_VELOCITY:
  case SB_MEASURE_VELOCITY_RISE_TIME:
    return velocity_truth (simulation, id);
  case SB_MEASURE_PEAK_TORQUE:
    return c->step_nm * (1 + extremum (s, 1));
  case SB_MEASURE_MEAN_TORQUE_SLOPE:
    return 0.8 * c->step_nm / (t90 - t10);
  case SB_MEASURE_PEAK_TORQUE_SLOPE:
    return c->step_nm * steepest_rate (s);
  case SB_MEASURE_TORQUE_TRANSITION_TIME:
    return t90 - t10;
  case SB_MEASURE_DEAD_TIME:
    return simulation->shift_s + t10;
  case SB_MEASURE_OVERSHOOT:
    return extremum (s, 1);
  case SB_MEASURE_UNDERSHOOT:
    return -extremum (s, 2);
  case SB_MEASURE_SETTLING_TIME:
    return simulation->shift_s + settling_instant (s, 0.02);
  case SB_MEASURE_RINGING_FREQUENCY:
    return damped_rad_per_s (s) / (2 * G_PI);
  case SB_MEASURE_RINGING_DAMPING:
    return s.zeta;
  case SB_MEASURE_RINGING_AMPLITUDE:
    return c->step_nm * ringing_rms (s, c->after_s - simulation->shift_s - cross);
  case SB_MEASURE_RINGING_CYCLES:
    return crests_above (s, 2 * c->noise_ratio);
  case SB_MEASURE_TORQUE_SMOOTHNESS:
    return simulation->smoothness;
  case SB_MEASURE_VELOCITY_DEVIATION: /* of several trials */
  case SB_N_MEASURES:
    break;
  }
  return NAN;
}

double
simulation_truth_of_jump (const Simulation *simulation, SbMeasureId id)
{
  const Case *c = &simulation->c;
  double interval_s = 1 / c->rate_hz, off_s = simulation->shift_s - c->dead_s - interval_s / 2;
  if (id == SB_MEASURE_MEAN_VELOCITY)
    return velocity_truth (simulation, id) * c->after_s / (c->after_s - off_s);
  gboolean from_onset
      = id == SB_MEASURE_DEAD_TIME || id == SB_MEASURE_SETTLING_TIME || id == SB_MEASURE_VELOCITY_RISE_TIME;
  return simulation_truth (simulation, id) - (from_onset ? off_s : 0);
}

void
tally_add (Tally *tally, const SbMeasure *measure, double truth)
{
  if (!measure->present) {
    tally->n_absent++;
    return;
  }
  double error = measure->value - truth;
  tally->n++;
  tally->n_doubted += measure->doubts != NULL ? 1 : 0;
  tally->truth += truth;
  tally->error += error;
  tally->square += error * error;
  tally->told_bias += measure->bias;
  if (measure->uncertainty > 0) {
    tally->n_known++;
    tally->u_square += measure->uncertainty * measure->uncertainty;
    tally->z_square += error * error / (measure->uncertainty * measure->uncertainty);
  }
}

double
tally_bias (const Tally *tally)
{
  return tally->n > 0 ? tally->error / (double) tally->n : (double) NAN;
}

double
tally_rmse (const Tally *tally)
{
  return tally->n > 0 ? sqrt (tally->square / (double) tally->n) : (double) NAN;
}

double
tally_sd (const Tally *tally)
{
  double bias = tally_bias (tally), rmse = tally_rmse (tally);
  return sqrt (fmax (0, rmse * rmse - bias * bias));
}

double
tally_z (const Tally *tally)
{
  return tally->n_known > 0 ? sqrt (tally->z_square / (double) tally->n_known) : (double) NAN;
}

double
tally_u_ratio (const Tally *tally)
{
  return tally->n_known > 0 ? sqrt (tally->u_square / (double) tally->n_known) / tally_rmse (tally) : (double) NAN;
}
