/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the torque does after its rise: IEEE Std 181-2011 (overshoot, undershoot); settling counts from the onset, with
 * the band a share of the step. */
#include "measure_result.h"

#include "levels.h"
#include "settled.h"

#include <gsl/gsl_cdf.h>
#include <math.h>

/* A level is known to be clear of the noise by so many standard deviations. */
#define CLEAR_NOISES 3
/* A torque that is inside the band for less than this share of the active window has not been seen to stay there. */
#define SETTLED_SHARE 0.05
/* An extremum is looked for among many samples: the largest of n noise values reaches far. It counts as the noise's
 * when noise alone reaches as far in more than one log of so many. */
#define ONE_LOG_OF 100
/* What noise adds to an excursion is told from here on, as a share of it: it does not average out over repeats. */
#define EXCURSION_BIAS_SHARE 0.02
/* A settling time that noise may move by this share of the transition, and of itself, is another crest's. */
#define ANOTHER_CREST 0.5
#define ANOTHER_TIME  0.05

static gsize
index_of_largest (const double *y, gsize first, gsize last, double sign)
{
  gsize largest = first;
  double best = sign * y[first];
  for (gsize i = first + 1; i <= last; i++)
    if (sign * y[i] > best) {
      best = sign * y[i];
      largest = i;
    }
  return largest;
}

static void
add_level (const SbReading *reading, SbMeasure *measure)
{
  sb_measure_add_evidence (measure, SB_EVIDENCE_LEVEL, measure->window_s[0], reading->measures->transition.top_nm, 0);
}

/* `distance_nm` is that of the farthest of `n` samples. */
static void
doubt_noise (const SbReading *reading, SbMeasure *measure, double distance_nm, gsize n)
{
  double noise = reading->measures->transition.noise_nm;
  double reach = fmax (CLEAR_NOISES, gsl_cdf_ugaussian_Qinv (1.0 / (ONE_LOG_OF * (double) n)));
  g_autofree char *distance = sb_figure (SB_MEASURE_PEAK_TORQUE, distance_nm, 3);
  g_autofree char *before = sb_figure (SB_MEASURE_PEAK_TORQUE, noise, 3);
  if (isfinite (noise) && noise > 0 && distance_nm > 0 && distance_nm <= reach * noise)
    sb_measure_add_doubt (measure, SB_DOUBT_IN_NOISE,
                          "in the noise: %s from the level, with a noise of %s before the onset", distance, before);
}

/* A share of the step: of its extremum, of the top that it counts from and of the step's two levels. */
static void
set_uncertainty (const SbReading *reading, SbMeasure *measure, const SbLargest *largest, double share)
{
  const SbTransition *transition = &reading->measures->transition;
  double step = transition->top_nm - transition->base_nm;
  double of_levels = hypot ((1 + share) * reading->top_u_nm, share * reading->base_u_nm);
  measure->bias = largest->bias / step;
  measure->uncertainty = hypot (sb_largest_uncertainty (largest), of_levels) / step;
  g_autofree char *by = sb_figure (SB_MEASURE_OVERSHOOT, measure->bias, 2);
  if (measure->bias > SB_BIAS_SHARE || measure->bias > EXCURSION_BIAS_SHARE * measure->value)
    sb_measure_add_doubt (
        measure, SB_DOUBT_BIAS,
        "raised by noise: the farthest of many noisy samples lies farther out than the true one, here "
        "by about %s of the step",
        by);
}

/* `sign` +1: the largest of first..last lies above the top; -1: the smallest lies below it. */
static void
set_excursion (SbReading *reading, SbMeasureId id, const double *y, gsize first, double sign, double from_s)
{
  const SbTransition *transition = &reading->measures->transition;
  double top = transition->top_nm, step = top - transition->base_nm, noise = transition->noise_nm;
  gsize at = index_of_largest (y, first, reading->last, sign), n = reading->last + 1 - first;
  double beyond = fmax (0, sign * (y[at] - top));
  SbMeasure *measure = sb_reading_set (reading, id, beyond / step, from_s, reading->end_s);
  sb_measure_add_evidence (measure, SB_EVIDENCE_PEAK, sb_reading_time (reading, at), y[at], 0);
  add_level (reading, measure);
  /* The crest may be the first sample of those looked at: its neighbours are the log's. */
  double sampling = sb_crest_between_samples (y, reading->trial->n_samples, at);
  SbLargest largest = { 0 };
  if (noise > 0)
    largest = sb_largest_of_noisy (y + first, n, at - first, sign, noise);
  largest.sampling = sampling;
  if (largest.scatter > 0)
    set_uncertainty (reading, measure, &largest, sign * beyond / step);
  if (beyond > 0)
    sb_measure_doubt_sampling (measure, id, sampling / step, 1);
  sb_reading_doubt_levels (reading, measure);
  doubt_noise (reading, measure, beyond, n);
}

static void
set_overshoot (SbReading *reading, const double *y)
{
  set_excursion (reading, SB_MEASURE_OVERSHOOT, y, reading->i90 + 1, 1, reading->measures->transition.t90_s);
}

static void
set_undershoot (SbReading *reading, const double *t, const double *y)
{
  const SbTransition *transition = &reading->measures->transition;
  gsize over = sb_first_crossing (y, reading->i90, reading->last, transition->top_nm);
  if (over < reading->last) {
    double from_s = sb_crossing_time (t, y, over, transition->top_nm) - reading->trial->onset_s;
    set_excursion (reading, SB_MEASURE_UNDERSHOOT, y, over + 1, -1, from_s);
    return;
  }
  SbMeasure *measure = sb_reading_set (reading, SB_MEASURE_UNDERSHOOT, 0, transition->t90_s, reading->end_s);
  add_level (reading, measure);
  sb_reading_doubt_levels (reading, measure);
}

static void
set_never_settles (SbReading *reading, const SbSettled *settled)
{
  if (settled->noise_leaves) {
    sb_reading_set_absent (reading, SB_MEASURE_SETTLING_TIME,
                           "in the noise: a noise of %.3g N·m leaves the band of ± %.3g N·m by itself, even as a local "
                           "mean over twice the transition; a band of ± %.2g %% of the step would do",
                           reading->measures->transition.noise_nm, settled->band_nm, 100 * settled->enough_ratio);
    return;
  }
  sb_reading_set_absent (reading, SB_MEASURE_SETTLING_TIME,
                         "never settles: the active window ends %.3g N·m from the top level, outside the band of ± "
                         "%.3g N·m",
                         settled->end_off_nm, settled->band_nm);
}

/* Where a crest of the response comes as near to the band's edge as the noise, it is in or out by chance, and the time
 * is another half-period's. A passage that is only blurred by the noise stays within its transition. */
static void
doubt_other_crest (const SbReading *reading, SbMeasure *measure, const SbSettled *settled)
{
  const SbTransition *transition = &reading->measures->transition;
  double jump_s = fmax (ANOTHER_CREST * (transition->t90_s - transition->t10_s), ANOTHER_TIME * measure->value);
  double sooner_s = settled->at_s - settled->early_s, later_s = settled->late_s - settled->at_s;
  if (!(fmax (sooner_s, later_s) > jump_s))
    return;
  double other_s = later_s > sooner_s ? settled->late_s : settled->early_s;
  measure->other = other_s - reading->trial->onset_s;
  sb_measure_add_doubt (
      measure, SB_DOUBT_EITHER,
      "near the band's edge: the torque comes within the noise of the edge of its band of ± %.3g N·m, "
      "so that the settling time could as well be %.3g ms",
      settled->band_nm, 1e3 * measure->other);
}

static void
set_settling_time (SbReading *reading)
{
  const SbTrial *trial = reading->trial;
  const SbTransition *transition = &reading->measures->transition;
  double top = transition->top_nm;
  SbSettled settled;
  if (!sb_find_settled (reading, &settled)) {
    set_never_settles (reading, &settled);
    return;
  }
  reading->measures->transition.settling_half = settled.half;
  reading->measures->transition.settling_band_nm = settled.band_nm;
  double stays_s = trial->time_s[reading->last] - settled.at_s,
         active_s = trial->time_s[reading->last] - trial->onset_s;
  if (stays_s < SETTLED_SHARE * active_s) {
    sb_reading_set_absent (reading, SB_MEASURE_SETTLING_TIME,
                           "not seen to settle: the torque is last outside the band of ± %.3g N·m %.3g ms before the "
                           "end of the active window; %s",
                           settled.band_nm, 1e3 * stays_s, sb_reading_remedy (reading));
    return;
  }
  double settled_s = settled.at_s - trial->onset_s;
  if (settled_s < 0) {
    sb_reading_set_absent (reading, SB_MEASURE_SETTLING_TIME,
                           "before the onset: the torque is inside its band of ± %.3g N·m from %.3g ms before the "
                           "onset on; the onset may lie too late",
                           settled.band_nm, -1e3 * settled_s);
    return;
  }
  SbMeasure *measure = sb_reading_set (reading, SB_MEASURE_SETTLING_TIME, settled_s, 0, reading->end_s);
  if (settled.uncertainty_s > 0) {
    measure->uncertainty = hypot (settled.uncertainty_s, trial->onset_uncertainty_s);
    measure->bias = settled.bias_s;
  }
  sb_measure_add_evidence (measure, SB_EVIDENCE_CROSSING, settled_s, settled.edge_nm, 0);
  sb_measure_add_evidence (measure, SB_EVIDENCE_LEVEL, 0, top - settled.band_nm, 0);
  sb_measure_add_evidence (measure, SB_EVIDENCE_LEVEL, 0, top + settled.band_nm, 0);
  sb_reading_doubt_levels (reading, measure);
  sb_reading_count_from_onset (reading, measure);
  doubt_other_crest (reading, measure, &settled);
  if (settled.half > 0)
    sb_measure_add_doubt (
        measure, SB_DOUBT_TOLD,
        "in the noise: a noise of %.3g N·m leaves the band of ± %.3g N·m by itself, so that the local "
        "mean of the torque, a quadratic over %" G_GSIZE_FORMAT " samples (%.3g ms), is what settles",
        transition->noise_nm, settled.band_nm, 2 * settled.half + 1,
        1e3 * (double) (2 * settled.half) * trial->sample_interval_s);
}

void
sb_measure_settling (SbReading *reading)
{
  static const SbMeasureId ids[] = { SB_MEASURE_OVERSHOOT, SB_MEASURE_UNDERSHOOT, SB_MEASURE_SETTLING_TIME };
  const char *reason = reading->no_step != NULL ? reading->no_step : reading->no_top;
  if (reason != NULL) {
    for (gsize i = 0; i < G_N_ELEMENTS (ids); i++)
      sb_reading_set_absent (reading, ids[i], "%s", reason);
    return;
  }
  const double *t = reading->trial->time_s, *y = reading->trial->signal[SB_CHANNEL_TORQUE];
  set_overshoot (reading, y);
  set_undershoot (reading, t, y);
  set_settling_time (reading);
}
