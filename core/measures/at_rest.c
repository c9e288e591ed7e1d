/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "at_rest.h"

#include "measure_result.h"
#include "ringing_look.h"

#include <math.h>

/* Neighbouring samples of an oscillation are alike at the least by this: what is less is not looked at. */
#define SWING_LAG1 0.5
/* From this share of the step on, an oscillation before it is told. */
#define SWING_SHARE 0.01

/* Clear of the noise between neighbours, as ringing after the rise has to be; by its size at the onset. */
void
sb_reading_look_at_rest (SbReading *reading, double step)
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
}
