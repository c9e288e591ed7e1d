/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure_result.h"

#include "coarse.h"
#include "crossing_again.h"
#include "levels.h"
#include "noise.h"
#include "ringing_look.h"

#include <gsl/gsl_errno.h>

#include <float.h>
#include <math.h>

/* A further mode has a frequency when it is so many standard errors from 0. */
#define CLEAR_FREQUENCY 3
/* Rounding of doubles, as a share of the step. */
#define SMALLEST_FLOOR 1e-9
/* A cross-check may differ by this share. Counting needs three cycles; a periodogram many, and little damping. */
#define CROSS_CHECK         0.1
#define COUNTED_CRESTS      4
#define PERIODOGRAM_CYCLES  8
#define PERIODOGRAM_DAMPING 0.1
/* Another start of the window is told when it changes the amplitude by this share. */
#define ANOTHER_AMPLITUDE 0.05
/* A fit of less weight than this is out of question; two differ beyond so many standard uncertainties of their mean. */
#define UNLIKELY_WEIGHT 0.05
#define APART_ERRORS    1.5

/* A window that opens so many rise times after the 90 % level may have missed what swung before, about a quadratic
 * trend; it is told of when it is an oscillation beyond question, and no shape of the rise. */
#define LATE_RISES    1
#define LIGHT_DAMPING 0.3
#define CRESTS_BEFORE 4

static const SbMeasureId ids[] = { SB_MEASURE_RINGING_FREQUENCY, SB_MEASURE_RINGING_DAMPING,
                                   SB_MEASURE_RINGING_AMPLITUDE, SB_MEASURE_RINGING_CYCLES };

static void
set_all_absent (SbReading *reading, const char *reason)
{
  for (gsize i = 0; i < G_N_ELEMENTS (ids); i++)
    sb_reading_set_absent (reading, ids[i], "%s", reason);
}

/* From the first crossing of the top level. A level that is the plateau's own value may be met, not crossed. */
static gboolean
open_torque_window (SbReading *reading, SbRingingLook *look)
{
  const SbTransition *transition = &reading->measures->transition;
  const double *t = reading->trial->time_s, *y = reading->trial->signal[SB_CHANNEL_TORQUE];
  double step = transition->top_nm - transition->base_nm, level = transition->top_nm - SMALLEST_FLOOR * step;
  gsize over = sb_first_crossing (y, reading->i90, reading->last, level);
  look->channel = SB_CHANNEL_TORQUE;
  if (over == reading->last) {
    set_all_absent (reading, "no ringing window: the torque does not reach its top level again after the rise");
    return FALSE;
  }
  sb_look_open (reading, look, over + 1, sb_crossing_time (t, y, over, level));
  look->residual.baseline[0] = transition->top_nm;
  look->noise = sb_coarse_noise (transition->noise_nm, transition->step_of_log_nm);
  if (!isfinite (look->noise) || reading->n_base < SB_LOOK_FEWEST_SAMPLES)
    look->noise = sb_residual_tail_noise (&look->residual);
  look->noise = fmax (look->noise, SMALLEST_FLOOR * step);
  return TRUE;
}

/* Without a torque: from where the velocity has risen, about a quadratic trend. */
static gboolean
open_velocity_window (SbReading *reading, SbRingingLook *look)
{
  const SbMeasure *rise = &reading->measures->measure[SB_MEASURE_VELOCITY_RISE_TIME];
  if (!rise->present)
    return FALSE;
  const double *y = reading->trial->signal[SB_CHANNEL_VELOCITY];
  double peak = reading->measures->measure[SB_MEASURE_PEAK_VELOCITY].value;
  double start_s = reading->trial->onset_s + rise->value;
  gsize first = reading->first;
  while (first < reading->last && reading->trial->time_s[first] < start_s)
    first++;
  look->channel = SB_CHANNEL_VELOCITY;
  sb_look_open (reading, look, first, start_s);
  if (look->residual.n >= SB_LOOK_FEWEST_SAMPLES)
    sb_residual_fit_trend (&look->residual);
  look->noise = reading->first >= SB_LOOK_FEWEST_SAMPLES ? sb_noise_sd (y, reading->first)
                                                         : sb_residual_tail_noise (&look->residual);
  look->noise = fmax (look->noise, SMALLEST_FLOOR * peak);
  return TRUE;
}

static void
add_common_doubts (const SbReading *reading, const SbRingingLook *look, SbMeasure *measure)
{
  if (look->channel == SB_CHANNEL_TORQUE) {
    sb_reading_doubt_levels (reading, measure);
    return;
  }
  sb_measure_add_doubt (measure, SB_DOUBT_TOLD, "read from the velocity: the log has no torque");
  sb_reading_doubt_derived (reading, measure, SB_CHANNEL_VELOCITY);
}

static void
doubt_cross_check (const SbRingingLook *look, SbMeasure *measure)
{
  const SbMode *mode = &look->fit.mode[0];
  double hz = mode->frequency_hz, counted = hz, peak = hz;
  if (look->crests.n_run >= COUNTED_CRESTS)
    counted = (double) (look->crests.n_run - 1) / (look->crests.last_s - look->crests.first_s);
  if (hz * (double) look->n_loud * look->residual.interval_s >= PERIODOGRAM_CYCLES
      && mode->damping_ratio <= PERIODOGRAM_DAMPING)
    peak = look->peak_hz;
  if (fabs (counted - hz) > CROSS_CHECK * hz)
    sb_measure_add_doubt (measure, SB_DOUBT_ONE_MODE, "cross-check by counting crests: %.4g Hz, the fit gives %.4g Hz",
                          counted, hz);
  if (fabs (peak - hz) > CROSS_CHECK * hz)
    sb_measure_add_doubt (measure, SB_DOUBT_ONE_MODE, "cross-check by periodogram: %.4g Hz, the fit gives %.4g Hz",
                          peak, hz);
}

/* The mean of two fits says so where they do not agree and neither is out of question. */
static void
doubt_rest (const SbRingingLook *look, SbMeasure *measure)
{
  double apart = fabs (look->fit.damping_with[0] - look->fit.damping_without[0]);
  if (look->fit.weight < UNLIKELY_WEIGHT || look->fit.weight > 1 - UNLIKELY_WEIGHT
      || !(apart > APART_ERRORS * measure->uncertainty))
    return;
  sb_measure_add_doubt (measure, SB_DOUBT_ONE_MODE,
                        "rest of the rise: the noise hides whether the rise is over when the ringing window opens; "
                        "the damping ratio is %.3g if it is, %.3g if not, and the figure is their mean weighed by how "
                        "likely each is",
                        look->fit.damping_without[0], look->fit.damping_with[0]);
}

static void
add_crests (const SbReading *reading, const SbRingingLook *look, SbMeasure *measure)
{
  for (gsize i = 0; i < MIN (look->crests.n, SB_MAX_CRESTS); i++) {
    gsize sample = look->residual.first + look->crests.sample[i];
    sb_measure_add_evidence (measure, SB_EVIDENCE_CREST, sb_reading_time (reading, sample), look->residual.y[sample],
                             0);
  }
}

static void
doubt_before (const SbRingingLook *look, SbMeasure *measure)
{
  const SbMode *mode = look->before != NULL ? &look->before->fit.mode[0] : NULL;
  if (mode != NULL)
    sb_measure_add_doubt (
        measure, SB_DOUBT_TOLD,
        "ringing before the window: from the 90 %% level on the torque swings at %.3g Hz with %.2g N·m, "
        "and the ringing window opens only where it first reaches its top level, %.3g ms later",
        mode->frequency_hz, mode->amplitude, 1e3 * (look->residual.start_s - look->before->residual.start_s));
}

static void
set_none_absent (SbReading *reading, SbMeasureId id, const SbRingingLook *look)
{
  const SbMode *mode = look->before != NULL ? &look->before->fit.mode[0] : NULL;
  if (mode != NULL)
    sb_reading_set_absent (
        reading, id,
        "none in the ringing window, which opens where the torque first reaches its top level; before "
        "that, from the 90 %% level on, it swings at %.3g Hz with %.2g N·m",
        mode->frequency_hz, mode->amplitude);
  else
    sb_reading_set_absent (reading, id,
                           "none above noise: no two crests of one oscillation stand above twice the noise floor of "
                           "%.3g %s",
                           look->noise, sb_channel_unit (look->channel));
}

static void
set_frequency_and_damping (SbReading *reading, const SbRingingLook *look)
{
  const SbRinging *ringing = &reading->measures->ringing;
  if (ringing->ringing_class == SB_RINGING_NONE) {
    set_none_absent (reading, SB_MEASURE_RINGING_FREQUENCY, look);
    set_none_absent (reading, SB_MEASURE_RINGING_DAMPING, look);
    return;
  }
  const SbMode *mode = &ringing->mode[0];
  double from = ringing->window_s[0], to = from + look->fit_end_s;
  SbMeasure *measure = sb_reading_set (reading, SB_MEASURE_RINGING_FREQUENCY, mode->frequency_hz, from, to);
  measure->uncertainty = mode->frequency_sd_hz;
  add_crests (reading, look, measure);
  add_common_doubts (reading, look, measure);
  doubt_cross_check (look, measure);

  measure = sb_reading_set (reading, SB_MEASURE_RINGING_DAMPING, mode->damping_ratio, from, to);
  measure->uncertainty = mode->damping_ratio_sd;
  add_crests (reading, look, measure);
  add_common_doubts (reading, look, measure);
  doubt_rest (look, measure);
  if (mode->damping_ratio < -2 * mode->damping_ratio_sd)
    sb_measure_add_doubt (measure, SB_DOUBT_ONE_MODE, "growing: the oscillation does not decay but builds up");
}

/* Of a mean of n squares of residual and noise, less the floor's square: the noise beats with the residual and with
 * itself (variances of a normal value and of its square), the floor is known from its own samples, and a level that is
 * off adds to the mean residual. For a small amplitude the root is no longer linear. */
static double
amplitude_uncertainty (const SbReading *reading, const SbRingingLook *look, double above)
{
  double n = (double) look->residual.n, noise = look->noise, squares = noise * noise, mean = 0;
  for (gsize i = 0; i < look->residual.n; i++)
    mean += sb_residual_at (&look->residual, i) / n;
  double size = fmax (0, above);
  double by_noise = 4 * squares * size / n + 2 * squares * squares * (1 / n + 1 / fmax (1, (double) reading->n_base));
  double of_square = hypot (sqrt (by_noise), 2 * mean * reading->top_u_nm);
  return of_square / (sqrt (size) + sqrt (size + of_square));
}

/* Amplitude of the window that begins at `start_s`, from the 90 % crossing on. */
static double
amplitude_from (const SbReading *reading, const SbRingingLook *look, double start_s)
{
  const SbTrial *trial = reading->trial;
  double squares = 0;
  gsize n = 0;
  for (gsize i = reading->i90; i <= reading->last; i++) {
    if (trial->time_s[i] < start_s)
      continue;
    double off = look->residual.y[i] - look->residual.baseline[0];
    squares += off * off;
    n++;
  }
  return sqrt (fmax (0, squares / (double) MAX (n, 1) - look->noise * look->noise));
}

/* A torque that comes to its top level within the noise, and turns back, opens the window a half-period sooner or later
 * by chance; the first swings are most of the amplitude. */
static void
doubt_start (const SbReading *reading, const SbRingingLook *look, SbMeasure *measure)
{
  double start_s[2], other = measure->value, other_s = NAN;
  if (!sb_top_passage (reading, look->residual.first - 1, &start_s[0], &start_s[1]))
    return;
  for (int k = 0; k < 2; k++) {
    double amplitude = amplitude_from (reading, look, start_s[k]);
    if (fabs (amplitude - measure->value) > fabs (other - measure->value)) {
      other = amplitude;
      other_s = start_s[k];
    }
  }
  double apart = fabs (other - measure->value);
  if (!(apart > fmax (2 * measure->uncertainty, ANOTHER_AMPLITUDE * measure->value)))
    return;
  measure->uncertainty = hypot (measure->uncertainty, apart / sqrt (2));
  measure->other = other;
  sb_measure_add_doubt (
      measure, SB_DOUBT_EITHER,
      "window opened by chance: within the noise the torque first passes its top level either %.4g ms "
      "or %.4g ms after the onset, so that the amplitude could as well be %.3g N·m",
      1e3 * (look->residual.start_s - reading->trial->onset_s), 1e3 * (other_s - reading->trial->onset_s), other);
}

static void
set_amplitude (SbReading *reading, const SbRingingLook *look)
{
  const SbRinging *ringing = &reading->measures->ringing;
  if (look->channel != SB_CHANNEL_TORQUE) {
    sb_reading_set_absent (reading, SB_MEASURE_RINGING_AMPLITUDE,
                           "no torque: only the velocity's ringing is known, and that is no torque");
    return;
  }
  double above = look->rms * look->rms - look->noise * look->noise;
  SbMeasure *measure = sb_reading_set (reading, SB_MEASURE_RINGING_AMPLITUDE, sqrt (fmax (0, above)),
                                       ringing->window_s[0], ringing->window_s[1]);
  measure->uncertainty = amplitude_uncertainty (reading, look, above);
  sb_measure_add_evidence (measure, SB_EVIDENCE_LEVEL, ringing->window_s[0], ringing->level_nm, 0);
  add_common_doubts (reading, look, measure);
  if (ringing->ringing_class != SB_RINGING_NONE)
    doubt_start (reading, look, measure);
  g_autofree char *floor = sb_figure (SB_MEASURE_RINGING_AMPLITUDE, look->noise, 3);
  if (ringing->ringing_class == SB_RINGING_NONE)
    sb_measure_add_doubt (measure, SB_DOUBT_IN_NOISE,
                          "none above noise: what is left over a noise floor of %s is drift or more noise, "
                          "not ringing",
                          floor);
  doubt_before (look, measure);
}

static void
set_cycles (SbReading *reading, const SbRingingLook *look)
{
  const SbRinging *ringing = &reading->measures->ringing;
  gboolean none = ringing->ringing_class == SB_RINGING_NONE;
  SbMeasure *measure = sb_reading_set (reading, SB_MEASURE_RINGING_CYCLES, none ? 0 : (double) look->crests.n,
                                       ringing->window_s[0], ringing->window_s[1]);
  if (!none)
    add_crests (reading, look, measure);
  add_common_doubts (reading, look, measure);
  doubt_before (look, measure);
}

/* A torque that creeps up to its top level reaches it long after it has rung. */
static gboolean
rings_before (const SbReading *reading, const SbRingingLook *look, SbRingingLook *before)
{
  double from_s = reading->crossing[2].t_s, rise_s = from_s - reading->crossing[0].t_s;
  if (look->channel != SB_CHANNEL_TORQUE || !(look->residual.start_s - from_s > LATE_RISES * rise_s))
    return FALSE;
  *before = *look;
  sb_look_open (reading, before, reading->i90 + 1, from_s);
  before->residual.n = look->residual.first - before->residual.first;
  if (before->residual.n < SB_LOOK_FEWEST_SAMPLES)
    return FALSE;
  sb_residual_fit_trend (&before->residual);
  before->rms = sb_residual_rms (&before->residual, before->noise, &before->n_loud);
  return sb_look_is_ringing (before) && before->fit.mode[0].damping_ratio < LIGHT_DAMPING
         && before->crests.n >= CRESTS_BEFORE;
}

static void
record_ringing (SbReading *reading, const SbRingingLook *look, gboolean ringing_found)
{
  SbRinging *ringing = &reading->measures->ringing;
  const SbMode *mode = &look->fit.mode[0];
  ringing->channel = look->channel;
  ringing->window_s[0] = look->residual.start_s - reading->trial->onset_s;
  ringing->window_s[1] = reading->end_s;
  ringing->level_nm = look->residual.baseline[0];
  ringing->floor_nm = look->noise;
  ringing->rms_nm = look->rms;
  ringing->ringing_class = SB_RINGING_NONE;
  if (!ringing_found)
    return;
  ringing->ringing_class
      = mode->damping_ratio > 2 * mode->damping_ratio_sd ? SB_RINGING_DECAYING : SB_RINGING_SUSTAINED;
  ringing->rest_nm = look->fit.rest;
  ringing->rest_decay_per_s = look->fit.rest_decay_per_s;
  for (gsize m = 0; m < look->fit.n_modes; m++) /* one of no certain frequency takes up what is no oscillation */
    if (m == 0 || look->fit.mode[m].frequency_hz > CLEAR_FREQUENCY * look->fit.mode[m].frequency_sd_hz)
      ringing->mode[ringing->n_modes++] = look->fit.mode[m];
}

/* For others to know the torque by. */
static void
hand_on_curve (SbReading *reading, const SbRingingLook *look)
{
  const SbResidual *residual = &look->residual;
  reading->quiet = (SbQuietCurve){
    .fit = look->fit,
    .level_nm = residual->baseline[0],
    .start_s = residual->start_s,
    .end_s = residual->start_s + look->fit_end_s,
    .n_fitted = look->n_loud,
  };
}

void
sb_measure_ringing (SbReading *reading)
{
  const SbTrial *trial = reading->trial;
  SbRingingLook look = { 0 }, before;
  reading->measures->ringing.level_nm = reading->measures->ringing.floor_nm = NAN;
  if (trial->signal[SB_CHANNEL_TORQUE] == NULL) {
    if (trial->signal[SB_CHANNEL_VELOCITY] == NULL || !open_velocity_window (reading, &look))
      return; /* the reasons of the missing torque stand */
  } else if (reading->no_step != NULL || reading->no_top != NULL) {
    set_all_absent (reading, reading->no_step != NULL ? reading->no_step : reading->no_top);
    return;
  } else if (!open_torque_window (reading, &look)) {
    return;
  }
  if (look.residual.n < SB_LOOK_FEWEST_SAMPLES) {
    set_all_absent (reading, "no ringing window: fewer than 16 samples are left after the rise");
    return;
  }
  look.noise = fmax (look.noise, sb_residual_rounding_noise (&look.residual));
  look.rms = sb_residual_rms (&look.residual, look.noise, &look.n_loud);
  gboolean found = sb_look_is_ringing (&look);
  if (!found && rings_before (reading, &look, &before))
    look.before = &before;
  if (found && look.channel == SB_CHANNEL_TORQUE)
    hand_on_curve (reading, &look);
  record_ringing (reading, &look, found);
  set_frequency_and_damping (reading, &look);
  set_amplitude (reading, &look);
  set_cycles (reading, &look);
}
