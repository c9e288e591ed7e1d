/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure_result.h"

#include "crossing_again.h"
#include "levels.h"
#include "modes.h"
#include "noise.h"
#include "residual.h"
#include "steady_math.h"

#include <gsl/gsl_errno.h>

#include <float.h>
#include <math.h>

#define FEWEST_SAMPLES 16
/* The record that is fitted: this many points, at least so many to a cycle. */
#define FIT_POINTS             400
#define FIT_POINTS_PER_CYCLE   12
#define CREST_POINTS_PER_CYCLE 12
/* Ringing: two crests above twice the floor, a cycle and a half, and an amplitude clear of what the fit leaves. */
#define CREST_FLOORS  2
#define FEWEST_CRESTS 2
#define FEWEST_CYCLES 1.5
#define CLEAR_OF_REST 3
/* Noise of n points has an oscillation with an energy of about 2 ln n of their variance; this is out of its reach. */
#define ENERGY_OF_NOISE 30
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

/* What becomes known of one window. */
typedef struct {
  SbChannel channel;
  SbResidual residual;
  double noise; /* noise floor */
  double rms;
  gsize n_loud;
  double peak_hz;
  SbModeFit fit;
  gsize n_fit;      /* points fitted */
  double fit_end_s; /* the last of them, after the window's start */
  SbCrests crests;
} Look;

static const SbMeasureId ids[] = { SB_MEASURE_RINGING_FREQUENCY, SB_MEASURE_RINGING_DAMPING,
                                   SB_MEASURE_RINGING_AMPLITUDE, SB_MEASURE_RINGING_CYCLES };

static void
set_all_absent (SbReading *reading, const char *reason)
{
  for (gsize i = 0; i < G_N_ELEMENTS (ids); i++)
    sb_reading_set_absent (reading, ids[i], "%s", reason);
}

static void
open_window (const SbReading *reading, Look *look, gsize first, double start_s)
{
  const SbTrial *trial = reading->trial;
  look->residual = (SbResidual){
    .t = trial->time_s,
    .y = trial->signal[look->channel],
    .first = first,
    .n = reading->last + 1 - first,
    .start_s = start_s,
    .interval_s = trial->sample_interval_s,
  };
}

/* From the first crossing of the top level. A level that is the plateau's own value may be met, not crossed. */
static gboolean
open_torque_window (SbReading *reading, Look *look)
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
  open_window (reading, look, over + 1, sb_crossing_time (t, y, over, level));
  look->residual.baseline[0] = transition->top_nm;
  look->noise = transition->noise_nm;
  if (!isfinite (look->noise) || reading->n_base < FEWEST_SAMPLES)
    look->noise = sb_residual_tail_noise (&look->residual);
  look->noise = fmax (look->noise, SMALLEST_FLOOR * step);
  return TRUE;
}

/* Without a torque: from where the velocity has risen, about a quadratic trend. */
static gboolean
open_velocity_window (SbReading *reading, Look *look)
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
  open_window (reading, look, first, start_s);
  if (look->residual.n >= FEWEST_SAMPLES)
    sb_residual_fit_trend (&look->residual);
  look->noise
      = reading->first >= FEWEST_SAMPLES ? sb_noise_sd (y, reading->first) : sb_residual_tail_noise (&look->residual);
  look->noise = fmax (look->noise, SMALLEST_FLOOR * peak);
  return TRUE;
}

static gsize
block_for (const Look *look, double points_per_cycle, gsize at_least)
{
  double most = floor (1 / (look->peak_hz * look->residual.interval_s * points_per_cycle));
  return CLAMP (at_least, 1, (gsize) fmax (1, most));
}

static gboolean
fit (Look *look)
{
  gsize block = block_for (look, FIT_POINTS_PER_CYCLE, (look->n_loud + FIT_POINTS - 1) / FIT_POINTS);
  SbRecord record;
  sb_record_init (&record, &look->residual, look->n_loud, block, FIT_POINTS);
  double spread = sqrt ((double) block);
  gboolean fitted = sb_modes_fit (&record, look->residual.interval_s, look->peak_hz, look->noise / spread, &look->fit);
  if (fitted) {
    look->n_fit = record.n;
    look->fit_end_s = record.t_s[record.n - 1];
    /* A plateau noisier than the base: both its own roughness and what the fit leaves have to say so. */
    look->noise = fmax (look->noise, fmin (sb_residual_tail_noise (&look->residual), look->fit.rms * spread));
  }
  sb_record_clear (&record);
  return fitted;
}

/* Energy of the strongest mode over the record, in units of the variance of what the fit leaves. */
static double
energy_over_rest (const Look *look)
{
  const SbMode *mode = &look->fit.mode[0];
  double decays = 2 * mode->decay_per_s * look->fit_end_s;
  double mean = fabs (decays) > 1e-6 ? -sb_expm1 (-decays) / decays : 1;
  double rest = fmax (look->fit.rms * look->fit.rms, DBL_MIN);
  return (double) look->n_fit * mean * mode->amplitude * mode->amplitude / (2 * rest);
}

/* Samples until the fitted modes together have sunk below `limit`: what crosses it later is noise. */
static gsize
samples_above (const Look *look, double limit)
{
  double step_s = 1 / (4 * look->fit.mode[0].frequency_hz);
  double end_s = (double) look->n_loud * look->residual.interval_s;
  for (gsize k = 0; (double) k * step_s < end_s; k++) {
    double envelope = 0, t = (double) k * step_s;
    for (gsize m = 0; m < look->fit.n_modes; m++)
      envelope += look->fit.mode[m].amplitude * sb_exp (-look->fit.mode[m].decay_per_s * t);
    if (envelope < limit)
      return MIN (look->n_loud, (gsize) ((t + step_s) / look->residual.interval_s));
  }
  return look->n_loud;
}

static gboolean
is_ringing (Look *look)
{
  if (look->n_loud < FEWEST_SAMPLES)
    return FALSE;
  look->peak_hz = sb_residual_peak_hz (&look->residual, look->n_loud);
  if (!(look->peak_hz > 0) || !fit (look))
    return FALSE;
  const SbMode *mode = &look->fit.mode[0];
  SbCrestSearch search = {
    .n_samples = samples_above (look, CREST_FLOORS * look->noise),
    .block = block_for (look, CREST_POINTS_PER_CYCLE, G_MAXSIZE),
    .limit = CREST_FLOORS * look->noise,
    .period_s = 1 / mode->frequency_hz,
    .offset = look->fit.offset,
    .drift_per_s = look->fit.drift_per_s,
    .drift_end_s = look->fit_end_s,
    .rest = look->fit.rest,
    .rest_decay_per_s = look->fit.rest_decay_per_s,
  };
  look->crests = sb_residual_crests (&look->residual, &search);
  return look->crests.n >= FEWEST_CRESTS && mode->frequency_hz * look->fit_end_s >= FEWEST_CYCLES
         && mode->amplitude >= CREST_FLOORS * look->noise && mode->amplitude >= CLEAR_OF_REST * look->fit.rms
         && energy_over_rest (look) >= ENERGY_OF_NOISE;
}

static void
add_common_doubts (const SbReading *reading, const Look *look, SbMeasure *measure)
{
  if (look->channel == SB_CHANNEL_TORQUE) {
    sb_reading_doubt_levels (reading, measure);
    return;
  }
  sb_measure_add_doubt (measure, "read from the velocity: the log has no torque");
  sb_reading_doubt_derived (reading, measure, SB_CHANNEL_VELOCITY);
}

static void
doubt_cross_check (const Look *look, SbMeasure *measure)
{
  const SbMode *mode = &look->fit.mode[0];
  double hz = mode->frequency_hz, counted = hz, peak = hz;
  if (look->crests.n_run >= COUNTED_CRESTS)
    counted = (double) (look->crests.n_run - 1) / (look->crests.last_s - look->crests.first_s);
  if (hz * (double) look->n_loud * look->residual.interval_s >= PERIODOGRAM_CYCLES
      && mode->damping_ratio <= PERIODOGRAM_DAMPING)
    peak = look->peak_hz;
  if (fabs (counted - hz) > CROSS_CHECK * hz)
    sb_measure_add_doubt (measure, "cross-check by counting crests: %.4g Hz, the fit gives %.4g Hz", counted, hz);
  if (fabs (peak - hz) > CROSS_CHECK * hz)
    sb_measure_add_doubt (measure, "cross-check by periodogram: %.4g Hz, the fit gives %.4g Hz", peak, hz);
}

/* The mean of two fits says so where they do not agree and neither is out of question. */
static void
doubt_rest (const Look *look, SbMeasure *measure)
{
  double apart = fabs (look->fit.damping_with[0] - look->fit.damping_without[0]);
  if (look->fit.weight < UNLIKELY_WEIGHT || look->fit.weight > 1 - UNLIKELY_WEIGHT
      || !(apart > APART_ERRORS * measure->uncertainty))
    return;
  sb_measure_add_doubt (measure,
                        "rest of the rise: the noise hides whether the rise is over when the ringing window opens; "
                        "the damping ratio is %.3g if it is, %.3g if not, and the figure is their mean weighed by how "
                        "likely each is",
                        look->fit.damping_without[0], look->fit.damping_with[0]);
}

static void
add_crests (const SbReading *reading, const Look *look, SbMeasure *measure)
{
  for (gsize i = 0; i < MIN (look->crests.n, SB_MAX_CRESTS); i++) {
    gsize sample = look->residual.first + look->crests.sample[i];
    sb_measure_add_evidence (measure, SB_EVIDENCE_CREST, sb_reading_time (reading, sample), look->residual.y[sample],
                             0);
  }
}

static void
set_frequency_and_damping (SbReading *reading, const Look *look)
{
  const SbRinging *ringing = &reading->measures->ringing;
  if (ringing->ringing_class == SB_RINGING_NONE) {
    for (gsize i = 0; i < 2; i++)
      sb_reading_set_absent (reading, ids[i],
                             "none above noise: no two crests of one oscillation stand above twice the noise floor of "
                             "%.3g %s",
                             look->noise, sb_channel_unit (look->channel));
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
    sb_measure_add_doubt (measure, "growing: the oscillation does not decay but builds up");
}

/* Of a mean of n squares of residual and noise, less the floor's square: the noise beats with the residual and with
 * itself (variances of a normal value and of its square), the floor is known from its own samples, and a level that is
 * off adds to the mean residual. For a small amplitude the root is no longer linear. */
static double
amplitude_uncertainty (const SbReading *reading, const Look *look, double above)
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
amplitude_from (const SbReading *reading, const Look *look, double start_s)
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
doubt_start (const SbReading *reading, const Look *look, SbMeasure *measure)
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
  sb_measure_add_doubt (
      measure,
      "window opened by chance: within the noise the torque first passes its top level either %.4g ms "
      "or %.4g ms after the onset, so that the amplitude could as well be %.3g N·m",
      1e3 * (look->residual.start_s - reading->trial->onset_s), 1e3 * (other_s - reading->trial->onset_s), other);
}

static void
set_amplitude (SbReading *reading, const Look *look)
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
  else
    sb_measure_add_doubt (measure,
                          "none above noise: what is left over a noise floor of %.3g N·m is drift or more noise, "
                          "not ringing",
                          look->noise);
}

static void
set_cycles (SbReading *reading, const Look *look)
{
  const SbRinging *ringing = &reading->measures->ringing;
  gboolean none = ringing->ringing_class == SB_RINGING_NONE;
  SbMeasure *measure = sb_reading_set (reading, SB_MEASURE_RINGING_CYCLES, none ? 0 : (double) look->crests.n,
                                       ringing->window_s[0], ringing->window_s[1]);
  if (!none)
    add_crests (reading, look, measure);
  add_common_doubts (reading, look, measure);
}

static void
record_ringing (SbReading *reading, const Look *look, gboolean ringing_found)
{
  SbRinging *ringing = &reading->measures->ringing;
  const SbMode *mode = &look->fit.mode[0];
  ringing->channel = look->channel;
  ringing->window_s[0] = look->residual.start_s - reading->trial->onset_s;
  ringing->window_s[1] = reading->end_s;
  ringing->level_nm = look->residual.baseline[0];
  ringing->floor_nm = look->noise;
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

void
sb_measure_ringing (SbReading *reading)
{
  const SbTrial *trial = reading->trial;
  Look look = { 0 };
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
  if (look.residual.n < FEWEST_SAMPLES) {
    set_all_absent (reading, "no ringing window: fewer than 16 samples are left after the rise");
    return;
  }
  look.noise = fmax (look.noise, sb_residual_rounding_noise (&look.residual));
  look.rms = sb_residual_rms (&look.residual, look.noise, &look.n_loud);
  record_ringing (reading, &look, is_ringing (&look));
  set_frequency_and_damping (reading, &look);
  set_amplitude (reading, &look);
  set_cycles (reading, &look);
}
