/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "simulation.h"

#include <gsl/gsl_errno.h>

void
simulation_init (Simulation *simulation, const Case *c, guint64 seed)
{
  gsl_set_error_handler_off (); /* as the program does */
  gsize before = (gsize) lround (c->before_s * c->rate_hz), n = before + (gsize) lround (c->after_s * c->rate_hz) + 1;
  *simulation = (Simulation){ .c = *c, .made = made_trials_new (), .n = n, .random = { seed } };
  simulation->noise_nm = c->noise_ratio * c->step_nm;
  simulation->noise_rad_per_s = c->noise_ratio * c->velocity_rad_per_s;
  for (int i = 0; i < 16; i++) /* seeds of few bits need some turns */
    made_uniform (&simulation->random);
  MadeLog log = make_step_log (simulation->made, n, before, 1 / c->rate_hz, c->step_nm);
  log.torque = make_column (simulation->made, n);
  log.velocity = make_column (simulation->made, n);
  simulation->trial = make_trial (simulation->made, &log, NULL);
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
    channel[SB_CHANNEL_VELOCITY][i] = (u > 0 ? -c->velocity_rad_per_s * expm1 (-u / c->velocity_lag_s) : 0)
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
  case SB_MEASURE_RINGING_CYCLES:     /* depends on the noise by definition */
  case SB_MEASURE_VELOCITY_DEVIATION: /* of several trials */
  case SB_MEASURE_TORQUE_SMOOTHNESS:  /* no closed form */
  case SB_N_MEASURES:
    break;
  }
  return NAN;
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
