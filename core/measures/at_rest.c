/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "at_rest.h"

#include "levels.h"
#include "measure_result.h"
#include "ringing_look.h"

#include <math.h>

/* Neighbouring samples of an oscillation are alike at the least by this: what is less is not looked at. */
#define SWING_LAG1 0.5
/* From this share of the step on, an oscillation before it is told. */
#define SWING_SHARE 0.01
/* The standard uncertainty of a coarse step, as a share of the step of the torque, from which on it counts. */
#define COARSE_SHARE 1e-3
#define SAME_STEP    1e-6

/* Clear of the noise between neighbours, as ringing after the rise has to be; by its size at the onset. */
static void
look_for_swing (SbReading *reading, double step)
{
  const SbTrial *trial = reading->trial;
  SbRingingLook look = { .channel = SB_CHANNEL_TORQUE };
  if (reading->n_base < SB_LOOK_FEWEST_SAMPLES || !(reading->measures->transition.noise_lag1 > SWING_LAG1)
      || !(reading->measures->transition.noise_nm > SWING_SHARE / 2 * step))
    return;
  sb_look_open (reading, &look, 0, trial->time_s[0]);
  look.residual.n = reading->n_base;
  look.residual.baseline[0] = reading->measures->transition.base_nm;
  look.noise = fmax (sb_residual_tail_noise (&look.residual), sb_residual_rounding_noise (&look.residual));
  look.rms = sb_residual_rms (&look.residual, look.noise, &look.n_loud);
  if (!sb_look_is_ringing (&look))
    return;
  const SbMode *mode = &look.fit.mode[0];
  double left = mode->amplitude * exp (-mode->decay_per_s * (trial->onset_s - trial->time_s[0]));
  if (!(left > SWING_SHARE * step))
    return;
  reading->swing_hz = mode->frequency_hz;
  reading->swing_nm = left;
}

/* A signal that goes to and fro by a step, and only by whole ones, is rounded to it (GUM F.2.2.1: its unit / √12); a
 * ramp of equal steps is not. */
static double
rounding_of (const SbReading *reading)
{
  const SbTrial *trial = reading->trial;
  SbResidual all = { .t = trial->time_s, .y = trial->signal[SB_CHANNEL_TORQUE], .n = trial->n_samples };
  double unit = sb_step_to_and_fro (all.y, all.n), sd = sb_residual_rounding_noise (&all);
  return fabs (sd * sqrt (12) - unit) <= SAME_STEP * unit ? sd : 0;
}

void
sb_reading_look_at_rest (SbReading *reading, double step)
{
  double noise = reading->measures->transition.noise_nm;
  look_for_swing (reading, step);
  if (!isfinite (noise) || noise > 0)
    return; /* what noise there is has the rounding in it */
  double sd = rounding_of (reading);
  if (!(sd > COARSE_SHARE * step))
    return;
  reading->rounding_nm = reading->base_u_nm = reading->top_u_nm = sd;
}

void
sb_reading_doubt_at_rest (const SbReading *reading, SbMeasure *measure)
{
  const SbTransition *transition = &reading->measures->transition;
  double step = transition->top_nm - transition->base_nm;
  if (reading->swing_hz > 0)
    sb_measure_add_doubt (measure, SB_DOUBT_TOLD,
                          "swinging before the onset: the torque swings at %.3g Hz by ± %.2g N·m when the step comes, "
                          "%.2g %% of the step, and what is left of that is in the response",
                          reading->swing_hz, reading->swing_nm, 100 * reading->swing_nm / step);
  if (reading->rounding_nm > 0)
    sb_measure_add_doubt (measure, SB_DOUBT_TOLD,
                          "coarse steps: the torque is logged in steps of %.3g N·m, %.2g %% of the step, without a "
                          "noise that it could be averaged by",
                          reading->rounding_nm * sqrt (12), 100 * reading->rounding_nm * sqrt (12) / step);
}
