/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Drives with known parameters, for the tests of the drive model. The curves come from the differential equations
 * themselves, in Runge–Kutta steps of fourth order that are far finer than the samples: nothing of the closed forms
 * that the model is fitted with is in them. */
#pragma once

#include "drive_model.h"
#include "make_trial.h"

typedef struct {
  double command_nm, command_ramp_s; /* 0: a jump */
  double delay_s, slope_nm_per_s, ceiling_nm;
  int lag_order;             /* 0, 1, 2 */
  double lag_s, lag_damping; /* time constant; of second order 1 / natural angular frequency */
  double ring_nm, ring_hz, ring_decay_per_s;
  double inertia_kg_m2, damping_nm_s, friction_nm;
  double stop_s; /* the end of travel is hit then; 0: never */
} Drive;

static const Drive plain_drive = {
  .command_nm = 8,
  .delay_s = 0.004,
  .slope_nm_per_s = 500,
  .ceiling_nm = 100,
  .lag_order = 1,
  .lag_s = 0.003,
  .inertia_kg_m2 = 0.03,
  .damping_nm_s = 0.15,
  .friction_nm = 0.5,
};

/* Sampling of a test log: the sample `onset` is at time 0. */
typedef struct {
  gsize n, onset;
  double interval_s;
} Sampling;

static const Sampling usual_sampling = { 700, 60, 0.0005 };

#define FINE_STEPS 20

typedef struct {
  double y, rate, velocity;
} DriveState;

/* What slope limit and ceiling let through of the delayed command; `u` is where the limiter stands. */
static inline double
drive_asked (const Drive *drive, double t)
{
  double target = fmin (drive->command_nm, drive->ceiling_nm), rising = t - drive->delay_s,
         slope = drive->slope_nm_per_s;
  if (drive->command_ramp_s > 0) {
    rising += drive->command_ramp_s / 2;
    slope = fmin (slope, drive->command_nm / drive->command_ramp_s);
  }
  return rising <= 0 ? 0 : fmin (slope * rising, target);
}

static inline double
drive_ringing (const Drive *drive, double t)
{
  double since
      = t - drive->delay_s - fmin (drive->command_nm, drive->ceiling_nm) / drive->slope_nm_per_s - 2 * drive->lag_s;
  if (since <= 0)
    return 0;
  return drive->ring_nm * exp (-drive->ring_decay_per_s * since) * sin (2 * G_PI * drive->ring_hz * since);
}

static inline double
drive_torque (const Drive *drive, const DriveState *state, double t)
{
  return (drive->lag_order == 0 ? drive_asked (drive, t) : state->y) + drive_ringing (drive, t);
}

static inline DriveState
drive_rates (const Drive *drive, const DriveState *state, double t)
{
  double asked = drive_asked (drive, t);
  double net = drive_torque (drive, state, t) - drive->damping_nm_s * state->velocity - drive->friction_nm;
  DriveState rates = { 0, 0, state->velocity <= 0 && net < 0 ? 0 : net / drive->inertia_kg_m2 };
  if (drive->lag_order == 1)
    rates.y = (asked - state->y) / drive->lag_s;
  if (drive->lag_order == 2) {
    rates.y = state->rate;
    rates.rate = ((asked - state->y) / drive->lag_s - 2 * drive->lag_damping * state->rate) / drive->lag_s;
  }
  return rates;
}

static inline DriveState
drive_moved (const DriveState *state, const DriveState *rates, double h)
{
  return (DriveState){ state->y + h * rates->y, state->rate + h * rates->rate, state->velocity + h * rates->velocity };
}

static inline void
drive_step (const Drive *drive, DriveState *state, double t, double h)
{
  DriveState k1 = drive_rates (drive, state, t), at = drive_moved (state, &k1, h / 2);
  DriveState k2 = drive_rates (drive, &at, t + h / 2);
  at = drive_moved (state, &k2, h / 2);
  DriveState k3 = drive_rates (drive, &at, t + h / 2);
  at = drive_moved (state, &k3, h);
  DriveState k4 = drive_rates (drive, &at, t + h);
  *state = drive_moved (state, &k1, h / 6);
  *state = drive_moved (state, &k2, h / 3);
  *state = drive_moved (state, &k3, h / 3);
  *state = drive_moved (state, &k4, h / 6);
}

/* Torque and velocity at the samples. */
static inline void
drive_run (const Drive *drive, const Sampling *sampling, double *torque, double *velocity)
{
  DriveState state = { 0 };
  double h = sampling->interval_s / FINE_STEPS;
  for (gsize i = 0; i < sampling->n; i++) {
    double t = ((double) i - (double) sampling->onset) * sampling->interval_s;
    torque[i] = drive_torque (drive, &state, t);
    velocity[i] = drive->stop_s > 0 && t > drive->stop_s ? 0 : state.velocity;
    for (int k = 0; k < FINE_STEPS; k++)
      drive_step (drive, &state, t + k * h, h);
  }
}

/* How repeats differ: white noise of the sensors, and parameters that scatter (relative standard deviation). */
typedef struct {
  double torque_noise_nm, velocity_noise_rad_s, scatter;
  guint n_repeats;
} Scatter;

static const Scatter usual_scatter = { 0.02, 0.05, 0.004, 10 };

typedef struct {
  MadeTrials *made;
  SbEnsemble *ensemble;
  SbDriveModel *model;
} Fitted;

static inline int
fitted_setup (void **state)
{
  Fitted *fitted = g_new0 (Fitted, 1);
  fitted->made = made_trials_new ();
  *state = fitted;
  return 0;
}

static inline void
fitted_clear (Fitted *fitted)
{
  g_clear_pointer (&fitted->model, sb_drive_model_unref);
  g_clear_pointer (&fitted->ensemble, sb_ensemble_unref);
  g_clear_pointer (&fitted->made, made_trials_free);
}

static inline int
fitted_teardown (void **state)
{
  fitted_clear (*state);
  g_free (*state);
  return 0;
}

static inline double
scattered (MadeNoise *noise, double value, double scatter)
{
  return value * (1 + scatter * made_normal (noise));
}

/* Which columns a log has, beside the time. */
enum { WITH_COMMAND = 1, WITH_VELOCITY = 2, WITH_TORQUE = 4, WITH_ALL = 7 };

static inline void
fitted_add (Fitted *fitted, const Drive *drive, const Sampling *sampling, const Scatter *scatter, guint columns,
            const char *comment, MadeNoise *noise)
{
  MadeLog log = make_step_log (fitted->made, sampling->n, sampling->onset, sampling->interval_s, drive->command_nm);
  Drive own = *drive;
  own.delay_s = scattered (noise, drive->delay_s, scatter->scatter);
  own.slope_nm_per_s = scattered (noise, drive->slope_nm_per_s, scatter->scatter);
  own.lag_s = scattered (noise, drive->lag_s, scatter->scatter);
  own.inertia_kg_m2 = scattered (noise, drive->inertia_kg_m2, scatter->scatter);
  own.damping_nm_s = scattered (noise, drive->damping_nm_s, scatter->scatter);
  own.friction_nm = scattered (noise, drive->friction_nm, scatter->scatter);
  double *torque = make_column (fitted->made, sampling->n), *velocity = make_column (fitted->made, sampling->n);
  drive_run (&own, sampling, torque, velocity);
  for (gsize i = 0; i < sampling->n; i++) {
    torque[i] += scatter->torque_noise_nm * made_normal (noise);
    velocity[i] += scatter->velocity_noise_rad_s * made_normal (noise);
    if (drive->command_ramp_s > 0)
      log.command[i] = drive->command_nm * CLAMP (log.t[i] / drive->command_ramp_s + 0.5, 0, 1);
  }
  log.torque = columns & WITH_TORQUE ? torque : NULL;
  log.velocity = columns & WITH_VELOCITY ? velocity : NULL;
  log.command = columns & WITH_COMMAND ? log.command : NULL;
  log.comment = comment;
  make_trial (fitted->made, &log, NULL);
}

/* The model of repeats already added. */
static inline SbDriveModel *
fitted_finish (Fitted *fitted)
{
  GPtrArray *trials = fitted->made->trials;
  fitted->ensemble = sb_ensemble_new ((SbTrial *const *) trials->pdata, trials->len, SB_SPAN_COMMON, ~0u);
  g_autoptr (GPtrArray) facts = g_ptr_array_new_with_free_func ((GDestroyNotify) sb_trial_facts_unref);
  for (guint i = 0; i < trials->len; i++)
    g_ptr_array_add (facts, sb_trial_facts_new (g_ptr_array_index (trials, i)));
  fitted->model = sb_drive_model_new (fitted->ensemble, (SbTrialFacts *const *) facts->pdata, facts->len);
  return fitted->model;
}

static inline SbDriveModel *
fit_drive (Fitted *fitted, const Drive *drive, const Sampling *sampling, const Scatter *scatter, guint64 seed)
{
  MadeNoise noise = { seed };
  for (guint k = 0; k < scatter->n_repeats; k++)
    fitted_add (fitted, drive, sampling, scatter, WITH_ALL, NULL, &noise);
  return fitted_finish (fitted);
}
