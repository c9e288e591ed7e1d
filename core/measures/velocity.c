/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure_result.h"

#include "coarse.h"
#include "extremum.h"
#include "flat_tops.h"
#include "levels.h"
#include "noise.h"
#include "passage.h"
#include "smooth_curve.h"
#include "statistics.h"
#include "still_rising.h"

#include <math.h>
#include <string.h>

/* The velocity of samples start..last as it is, or smoothed; y[i] belongs to sample start + i. */
typedef struct {
  const double *y;
  double *owned;
  gsize start, n, half; /* smoothed over 2 * half + 1 samples */
} Curve;

/* Centred moving mean over as many samples as the window holds; cut short at the ends of the log. */
static double *
smooth (const double *y, gsize n_samples, gsize start, gsize n, gsize half)
{
  double *out = g_new0 (double, n);
  double sum = 0;
  gsize from = start > half ? start - half : 0, to = from; /* the sum is over from..to - 1 */
  for (gsize i = 0; i < n; i++) {
    gsize centre = start + i;
    gsize want_from = centre > half ? centre - half : 0, want_to = MIN (centre + half + 1, n_samples);
    while (to < want_to)
      sum += y[to++];
    while (from < want_from)
      sum -= y[from++];
    out[i] = sum / (double) (to - from);
  }
  return out;
}

static Curve
velocity_curve (const SbReading *reading)
{
  const double *y = reading->trial->signal[SB_CHANNEL_VELOCITY];
  gsize start = sb_reading_start (reading), n = reading->last + 1 - start;
  double window_s = reading->choices.smoothing_s;
  gsize half = window_s > 0 ? (gsize) fmin (floor (window_s / (2 * reading->trial->sample_interval_s) + 0.5), 1e9) : 0;
  if (half == 0)
    return (Curve){ .y = y + start, .start = start, .n = n };
  double *smoothed = smooth (y, reading->trial->n_samples, start, n, half);
  return (Curve){ .y = smoothed, .owned = smoothed, .start = start, .n = n, .half = half };
}

/* Over the active window, which may begin and end between two samples. */
static double
time_integral (const SbReading *reading, const double *y)
{
  const double *t = reading->trial->time_s;
  gsize first = reading->first, last = reading->last;
  double twice[4] = { 0 };
  gsize i = first;
  for (; i + 4 <= last; i += 4)
    for (gsize k = 0; k < 4; k++)
      twice[k] += (t[i + k + 1] - t[i + k]) * (y[i + k] + y[i + k + 1]);
  for (; i < last; i++)
    twice[0] += (t[i + 1] - t[i]) * (y[i] + y[i + 1]);
  double sum = (twice[0] + twice[1]) + (twice[2] + twice[3]);

  double onset = reading->trial->onset_s, end = reading->trial->active_end_s;
  if (first > 0 && t[first] > onset) {
    double at = y[first] + (y[first - 1] - y[first]) * ((t[first] - onset) / (t[first] - t[first - 1]));
    sum += (t[first] - onset) * (at + y[first]);
  }
  if (last + 1 < reading->trial->n_samples && t[last] < end) {
    double at = y[last] + (y[last + 1] - y[last]) * ((end - t[last]) / (t[last + 1] - t[last]));
    sum += (end - t[last]) * (at + y[last]);
  }
  return sum / 2;
}

/* The noise of a trapezoidal mean, sd √(Σ w²), w the samples' shares of the time; and of the onset, which the window
 * begins at. */
static double
mean_uncertainty (const SbReading *reading, const double *y, double mean, double length_s, double sd)
{
  const double *t = reading->trial->time_s;
  double squares = 0, onset_s = reading->trial->onset_uncertainty_s;
  for (gsize i = reading->first; i <= reading->last; i++) {
    double before = i > reading->first ? t[i] - t[i - 1] : 0, after = i < reading->last ? t[i + 1] - t[i] : 0;
    double share = (before + after) / (2 * length_s);
    squares += share * share;
  }
  return hypot (sd * sqrt (squares), onset_s * (mean - y[reading->first]) / length_s);
}

static void
set_mean (SbReading *reading, double sd)
{
  const SbTrial *trial = reading->trial;
  double from = fmax (trial->onset_s, trial->time_s[0]) - trial->onset_s, to = reading->end_s;
  double mean = time_integral (reading, trial->signal[SB_CHANNEL_VELOCITY]) / (to - from);
  SbMeasure *measure = sb_reading_set (reading, SB_MEASURE_MEAN_VELOCITY, mean, from, to);
  sb_measure_add_evidence (measure, SB_EVIDENCE_LEVEL, from, mean, 0);
  measure->by_late_onset
      = -trial->onset_late_s * (mean - trial->signal[SB_CHANNEL_VELOCITY][reading->first]) / (to - from);
  if (sd > 0) {
    const double *y = trial->signal[SB_CHANNEL_VELOCITY];
    measure->uncertainty = mean_uncertainty (reading, y, mean, to - from, sd);
    sb_measure_doubt_noise (measure, sb_noise_lag1 (y, reading->first, sb_mean (y, reading->first), sd),
                            reading->first);
  }
  sb_reading_doubt_onset (reading, measure);
}

/* The curve without its noise, about `level`: over a quarter of the rise. `n` samples, up to where it has been above
 * the level for as long as the rise. */
static double *
smooth_rise (const SbReading *reading, const Curve *curve, double level, gsize at, gsize *n)
{
  *n = MIN (2 * at + 8, curve->n);
  double *rise
      = sb_smooth_curve (reading->trial->time_s + curve->start, curve->y, curve->n, 0, *n - 1, MAX (at / 8, 2));
  for (gsize i = 0; i < *n; i++)
    rise[i] -= level;
  return rise;
}

/* Noise passes the level early, and the peak that the level is a share of is itself noisy. `i` is the sample before the
 * passage. */
static void
set_rise_uncertainty (const SbReading *reading, const Curve *curve, const SbLargest *peak, double sd, gsize i,
                      SbMeasure *measure)
{
  const double *t = reading->trial->time_s + curve->start;
  double level = 0.9 * reading->measures->measure[SB_MEASURE_PEAK_VELOCITY].value;
  gsize n;
  g_autofree double *rise = smooth_rise (reading, curve, level, i, &n);
  SbPassage passage = sb_first_passage (t, rise, n, sd);
  gsize true_at = 0;
  while (true_at + 1 < n && rise[true_at + 1] < -0.9 * peak->bias)
    true_at++;
  if (true_at + 1 >= n || !(passage.chance > 0.5))
    return;
  double dy = rise[true_at + 1] - rise[true_at], share = (-0.9 * peak->bias - rise[true_at]) / dy;
  double dt = t[true_at + 1] - t[true_at], true_s = t[true_at] + dt * CLAMP (share, 0, 1);
  measure->bias = passage.mean_s - true_s;
  double by_peak = 0.9 * hypot (peak->scatter, peak->sampling) * dt / fabs (dy);
  measure->uncertainty
      = hypot (hypot (passage.sd_s, by_peak), hypot (measure->bias, reading->trial->onset_uncertainty_s));
}

static void
set_rise_time (SbReading *reading, const Curve *curve, double peak, const SbLargest *largest, double sd)
{
  if (!(peak > 0)) {
    sb_reading_set_absent (reading, SB_MEASURE_VELOCITY_RISE_TIME,
                           "no rise: the velocity does not go along the step, its largest value is not above zero");
    return;
  }
  gsize i = sb_first_crossing (curve->y, 0, curve->n - 1, 0.9 * peak);
  if (curve->y[0] >= 0.9 * peak || i == curve->n - 1) {
    sb_reading_set_absent (reading, SB_MEASURE_VELOCITY_RISE_TIME,
                           "no rise: the velocity is already at 90 %% of its peak at the onset");
    return;
  }
  double rise_s
      = sb_crossing_time (reading->trial->time_s + curve->start, curve->y, i, 0.9 * peak) - reading->trial->onset_s;
  SbMeasure *measure = sb_reading_set (reading, SB_MEASURE_VELOCITY_RISE_TIME, rise_s, 0, fmax (0, rise_s));
  if (rise_s < 0)
    sb_measure_add_doubt (measure, SB_DOUBT_TOLD,
                          "before the onset: the velocity passes 90 %% of its peak %.3g ms before the onset, within a "
                          "sample interval of it",
                          -1e3 * rise_s);
  sb_measure_add_evidence (measure, SB_EVIDENCE_CROSSING, rise_s, 0.9 * peak, 0);
  if (curve->half == 0 && sd > 0)
    set_rise_uncertainty (reading, curve, largest, sd, i, measure);
  double bias = reading->measures->measure[SB_MEASURE_PEAK_VELOCITY].bias;
  g_autofree char *by = sb_figure (SB_MEASURE_PEAK_VELOCITY, bias, 2);
  if (bias > SB_BIAS_SHARE * peak)
    sb_measure_add_doubt (measure, fabs (measure->bias) > 0 ? SB_DOUBT_BIAS : SB_DOUBT_TOLD,
                          "raised by noise: it counts to 90 %% of a peak that noise raises by about %s; a smoothing of "
                          "the velocity lowers that",
                          by);
  sb_reading_count_from_onset (reading, measure);
}

/* Of the velocity as logged. A coarse one leaves its largest value and comes back to it: only a run that its noise
 * would not make counts. */
static SbFlatTops
flat_tops (const SbReading *reading)
{
  return sb_flat_tops (reading->trial->signal[SB_CHANNEL_VELOCITY], reading->first, reading->last, G_MAXDOUBLE);
}

static void
doubt_flat_tops (SbReading *reading, const SbFlatTops *tops)
{
  const double *y = reading->trial->signal[SB_CHANNEL_VELOCITY];
  double top = y[reading->first];
  for (gsize i = reading->first + 1; i <= reading->last; i++)
    top = fmax (top, y[i]);
  static const SbMeasureId ids[]
      = { SB_MEASURE_PEAK_VELOCITY, SB_MEASURE_MEAN_VELOCITY, SB_MEASURE_VELOCITY_RISE_TIME };
  for (gsize i = 0; i < G_N_ELEMENTS (ids); i++)
    if (reading->measures->measure[ids[i]].present)
      sb_measure_doubt_flat_tops (sb_reading_measure (reading, ids[i]), "velocity", SB_MEASURE_PEAK_VELOCITY, top,
                                  tops);
}

/* A peak that is the end of the active window belongs to the window's length, and so does the time to it. */
static void
doubt_still_rising (SbReading *reading, double sd)
{
  const SbTrial *trial = reading->trial;
  const double *y = trial->signal[SB_CHANNEL_VELOCITY];
  double base = reading->first > 0 ? sb_mean (y, reading->first) : y[0], share;
  double gain = sb_still_rising (trial->time_s, y, reading->first, reading->last, base, sd, &share);
  if (!(gain > 0))
    return;
  g_autofree char *by = sb_figure (SB_MEASURE_PEAK_VELOCITY, gain, 3);
  static const SbMeasureId ids[] = { SB_MEASURE_PEAK_VELOCITY, SB_MEASURE_VELOCITY_RISE_TIME };
  sb_reading_measure (reading, SB_MEASURE_PEAK_VELOCITY)->is_cut_short = TRUE;
  sb_reading_measure (reading, SB_MEASURE_MEAN_VELOCITY)->is_cut_short = TRUE;
  sb_reading_measure (reading, SB_MEASURE_VELOCITY_RISE_TIME)->is_cut_short = TRUE;
  for (gsize i = 0; i < G_N_ELEMENTS (ids); i++)
    if (reading->measures->measure[ids[i]].present)
      sb_measure_add_doubt (sb_reading_measure (reading, ids[i]), SB_DOUBT_TOLD,
                            "still rising: the velocity gains %s, %.2g %% of its rise, over the last quarter "
                            "of the active window, which ends %.3g ms after the onset: a longer window would give more",
                            by, 100 * share, 1e3 * reading->end_s);
}

/* A counter's velocity goes to and fro between two counts, each rounded: a triangular error of ± one step, step / √6
 * (GUM 4.3.9). */
static double
noise_of (double sd, double step, const double *y, const SbReading *reading)
{
  gboolean to_and_fro = step > 0 && sb_step_to_and_fro (y + reading->first, reading->last + 1 - reading->first) > 0;
  return to_and_fro ? fmax (isfinite (sd) ? sd : 0, step / sqrt (6)) : sd;
}

void
sb_measure_velocity (SbReading *reading)
{
  if (reading->trial->signal[SB_CHANNEL_VELOCITY] == NULL)
    return;
  Curve curve = velocity_curve (reading);
  gsize peak = reading->first - curve.start;
  for (gsize i = peak + 1; i < curve.n; i++)
    if (curve.y[i] > curve.y[peak])
      peak = i;
  SbMeasure *measure = sb_reading_set (reading, SB_MEASURE_PEAK_VELOCITY, curve.y[peak], 0, reading->end_s);
  sb_measure_add_evidence (measure, SB_EVIDENCE_PEAK, sb_reading_time (reading, curve.start + peak), curve.y[peak], 0);
  const double *y = reading->trial->signal[SB_CHANNEL_VELOCITY];
  gsize before = reading->first - curve.start, n = reading->last + 1 - reading->first;
  double sd = sb_noise_sd (y, reading->first);
  SbLargest largest = { 0 };
  SbFlatTops tops = flat_tops (reading);
  if (curve.half == 0 && sd > 0 && tops.n_runs == 0) {
    largest = sb_largest_of_noisy (curve.y + before, n, peak - before, 1, sd);
    sb_measure_doubt_largest (measure, SB_MEASURE_PEAK_VELOCITY, &largest, "a smoothing of the velocity lowers that");
  }
  double step = sb_coarse_step (y, reading->last + 1, sd);
  reading->measures->velocity_step_rad_s = step;
  reading->measures->velocity_noise_rad_s = noise_of (sd, step, y, reading);
  set_mean (reading, sd);
  set_rise_time (reading, &curve, curve.y[peak], &largest, sd);
  doubt_still_rising (reading, sd);
  doubt_flat_tops (reading, &tops);
  sb_measure_doubt_against_step (measure);
  g_free (curve.owned);
}
