/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "unit_checks.h"

#include <math.h>

/* A rise stands clear of the noise by so many standard deviations. */
#define CLEAR_NOISES 10
/* Fewer samples make no impulse, and no local mean. */
#define FEWEST_SAMPLES 8
#define LOCAL_MEAN     5

static double
mean_of (const double *y, gsize first, gsize n)
{
  double sum = 0;
  for (gsize i = first; i < first + n; i++)
    sum += y[i] / (double) n;
  return sum;
}

/* Level and noise before the onset; both 0 of a log that begins at it. */
static double
base_of (const SbTrial *trial, const double *y, double *sd)
{
  gsize n = trial->active_first;
  double mean = n > 0 ? mean_of (y, 0, n) : 0, squares = 0;
  for (gsize i = 0; i < n; i++)
    squares += (y[i] - mean) * (y[i] - mean);
  *sd = n > 1 ? sqrt (squares / (double) (n - 1)) : 0;
  return mean;
}

static double
share_of_way (const SbTrial *trial)
{
  const double *t = trial->time_s, *angle = trial->signal[SB_CHANNEL_ANGLE],
               *velocity = trial->signal[SB_CHANNEL_VELOCITY];
  if (angle == NULL || velocity == NULL || trial->derived[SB_CHANNEL_VELOCITY])
    return NAN;
  double way = angle[trial->active_last] - angle[trial->active_first], sum = 0;
  for (gsize i = trial->active_first; i < trial->active_last; i++)
    sum += (t[i + 1] - t[i]) * (velocity[i] + velocity[i + 1]) / 2;
  return fabs (way) >= SB_UNIT_CHECKS_LEAST_WAY_RAD ? sum / way : (double) NAN;
}

static double
largest_local_mean (const double *y, gsize first, gsize last)
{
  double largest = -INFINITY;
  for (gsize i = first; i + LOCAL_MEAN <= last + 1; i++)
    largest = fmax (largest, mean_of (y, i, LOCAL_MEAN));
  return largest;
}

static double
share_of_command (const SbTrial *trial)
{
  const double *torque = trial->signal[SB_CHANNEL_TORQUE];
  double step = trial->command_top_nm - trial->command_base_nm, sd;
  gsize n = trial->active_last + 1 - trial->active_first;
  if (torque == NULL || trial->derived[SB_CHANNEL_TORQUE] || !(step > 0) || n < FEWEST_SAMPLES)
    return NAN;
  double base = base_of (trial, torque, &sd), quarter = (double) (n / 4);
  double most = largest_local_mean (torque, trial->active_first, trial->active_last) - base;
  double end = mean_of (torque, trial->active_last + 1 - (gsize) quarter, (gsize) quarter) - base;
  if (!(most > CLEAR_NOISES * sd) || !(most > 0))
    return NAN;
  return most < step ? most / step : fmax (end, step) / step;
}

/* First sample from the onset on at which the velocity has half of its largest value above `base`. */
static gsize
half_way (const SbTrial *trial, const double *velocity, double base, double largest)
{
  gsize i = trial->active_first;
  while (i < trial->active_last && velocity[i] - base < largest / 2)
    i++;
  return i;
}

/* The velocity's gain over a tenth of the window, where it is largest. */
static double
largest_acceleration (const SbTrial *trial, const double *velocity)
{
  const double *t = trial->time_s;
  gsize span = MAX ((trial->active_last - trial->active_first) / 10, 2 * LOCAL_MEAN);
  double largest = 0;
  for (gsize i = trial->active_first; i + span + LOCAL_MEAN <= trial->active_last + 1; i += LOCAL_MEAN) {
    double gain = mean_of (velocity, i + span, LOCAL_MEAN) - mean_of (velocity, i, LOCAL_MEAN);
    largest = fmax (largest, gain / (t[i + span] - t[i]));
  }
  return largest;
}

static void
compare_with_motion (const SbTrial *trial, SbUnitChecks *checks)
{
  const double *t = trial->time_s, *torque = trial->signal[SB_CHANNEL_TORQUE],
               *velocity = trial->signal[SB_CHANNEL_VELOCITY];
  double inertia = trial->log->inertia_kg_m2, sd, torque_sd, impulse = 0;
  if (torque == NULL || velocity == NULL || trial->derived[SB_CHANNEL_TORQUE] || !(inertia > 0))
    return;
  double base = base_of (trial, velocity, &sd), torque_base = base_of (trial, torque, &torque_sd);
  double largest = largest_local_mean (velocity, trial->active_first, trial->active_last) - base;
  gsize end = half_way (trial, velocity, base, largest);
  if (!(largest > CLEAR_NOISES * sd) || end < trial->active_first + FEWEST_SAMPLES)
    return;
  for (gsize i = trial->active_first; i < end; i++)
    impulse += (t[i + 1] - t[i]) * ((torque[i] + torque[i + 1]) / 2 - torque_base);
  checks->of_motion = impulse / (inertia * (velocity[end] - base));
  checks->by_motion_nm = inertia * largest_acceleration (trial, velocity) + torque_base;
}

SbUnitChecks
sb_unit_checks (const SbTrial *trial)
{
  SbUnitChecks checks = { share_of_way (trial), share_of_command (trial), NAN, NAN };
  compare_with_motion (trial, &checks);
  return checks;
}
