/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the torque does after its rise: IEEE Std 181-2011 (overshoot, undershoot); settling counts from the onset, with
 * the band a share of the step. */
#include "measure_result.h"

#include "levels.h"

#include <gsl/gsl_cdf.h>
#include <math.h>

/* A level is known to be clear of the noise by so many standard deviations. */
#define CLEAR_NOISES 3
/* A torque that is inside the band for less than this share of the active window has not been seen to stay there. */
#define SETTLED_SHARE 0.05
/* An extremum is looked for among many samples: the largest of n noise values reaches far. It counts as the noise's
 * when noise alone reaches as far in more than one log of so many. */
#define ONE_LOG_OF 100

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
  if (isfinite (noise) && noise > 0 && distance_nm > 0 && distance_nm <= reach * noise)
    sb_measure_add_doubt (measure, "in the noise: %.3g N·m from the level, with a noise of %.3g N·m before the onset",
                          distance_nm, noise);
}

static void
set_overshoot (SbReading *reading, const double *y)
{
  const SbTransition *transition = &reading->measures->transition;
  double top = transition->top_nm, step = top - transition->base_nm;
  gsize after = reading->i90 + 1;
  gsize peak = reading->peak >= after ? reading->peak : index_of_largest (y, after, reading->last, 1);
  double above = fmax (0, y[peak] - top);
  SbMeasure *measure = sb_reading_set (reading, SB_MEASURE_OVERSHOOT, above / step, transition->t90_s, reading->end_s);
  sb_measure_add_evidence (measure, SB_EVIDENCE_PEAK, sb_reading_time (reading, peak), y[peak], 0);
  add_level (reading, measure);
  sb_reading_doubt_levels (reading, measure);
  doubt_noise (reading, measure, above, reading->last + 1 - after);
}

static void
set_undershoot (SbReading *reading, const double *t, const double *y)
{
  const SbTransition *transition = &reading->measures->transition;
  double top = transition->top_nm, step = top - transition->base_nm;
  gsize over = sb_first_crossing (y, reading->i90, reading->last, top);
  if (over == reading->last) {
    SbMeasure *measure = sb_reading_set (reading, SB_MEASURE_UNDERSHOOT, 0, transition->t90_s, reading->end_s);
    add_level (reading, measure);
    sb_reading_doubt_levels (reading, measure);
    return;
  }
  double from_s = sb_crossing_time (t, y, over, top) - reading->trial->onset_s;
  gsize dip = index_of_largest (y, over + 1, reading->last, -1);
  double below = fmax (0, top - y[dip]);
  SbMeasure *measure = sb_reading_set (reading, SB_MEASURE_UNDERSHOOT, below / step, from_s, reading->end_s);
  sb_measure_add_evidence (measure, SB_EVIDENCE_PEAK, sb_reading_time (reading, dip), y[dip], 0);
  add_level (reading, measure);
  sb_reading_doubt_levels (reading, measure);
  doubt_noise (reading, measure, below, reading->last - over);
}

/* Where the line from sample i (outside) to i + 1 (inside) meets the edge of the band. */
static double
entry_time (const double *t, const double *y, gsize i, double edge)
{
  return t[i] + (t[i + 1] - t[i]) * ((edge - y[i]) / (y[i + 1] - y[i]));
}

static void
set_settling_time (SbReading *reading, const double *t, const double *y)
{
  const SbTransition *transition = &reading->measures->transition;
  double top = transition->top_nm, band = reading->choices.settling_band_ratio * (top - transition->base_nm);
  gsize out = reading->last + 1;
  while (out > reading->i10 + 1 && fabs (y[out - 1] - top) <= band)
    out--;
  gboolean noisy = transition->noise_nm * CLEAR_NOISES > band;
  if (out > reading->last) {
    sb_reading_set_absent (reading, SB_MEASURE_SETTLING_TIME,
                           "never settles: the active window ends %.3g N·m from the top level, outside the band of ± "
                           "%.3g N·m%s",
                           fabs (y[reading->last] - top), band,
                           noisy ? "; the noise alone leaves this band, choose a wider one" : "");
    return;
  }
  gsize i = out - 1; /* the last sample outside the band */
  double stays_s = t[reading->last] - t[i], active_s = t[reading->last] - reading->trial->onset_s;
  if (stays_s < SETTLED_SHARE * active_s) {
    sb_reading_set_absent (
        reading, SB_MEASURE_SETTLING_TIME,
        "not seen to settle: the torque is last outside the band of ± %.3g N·m %.3g ms before the end of "
        "the active window; log for longer%s",
        band, 1e3 * stays_s, noisy ? ", or choose a wider band: the noise alone leaves this one" : "");
    return;
  }
  double edge = y[i] > top ? top + band : top - band;
  double settled_s = entry_time (t, y, i, edge) - reading->trial->onset_s;
  SbMeasure *measure = sb_reading_set (reading, SB_MEASURE_SETTLING_TIME, settled_s, 0, reading->end_s);
  sb_measure_add_evidence (measure, SB_EVIDENCE_CROSSING, settled_s, edge, 0);
  sb_measure_add_evidence (measure, SB_EVIDENCE_LEVEL, 0, top - band, 0);
  sb_measure_add_evidence (measure, SB_EVIDENCE_LEVEL, 0, top + band, 0);
  sb_reading_doubt_levels (reading, measure);
  sb_reading_doubt_onset (reading, measure);
  if (noisy)
    sb_measure_add_doubt (measure,
                          "in the noise: the band of ± %.3g N·m is no wider than %d times the noise of %.3g N·m", band,
                          CLEAR_NOISES, transition->noise_nm);
}

void
sb_measure_settling (SbReading *reading)
{
  static const SbMeasureId ids[] = { SB_MEASURE_OVERSHOOT, SB_MEASURE_UNDERSHOOT, SB_MEASURE_SETTLING_TIME };
  if (reading->no_step != NULL) {
    for (gsize i = 0; i < G_N_ELEMENTS (ids); i++)
      sb_reading_set_absent (reading, ids[i], "%s", reading->no_step);
    return;
  }
  const double *t = reading->trial->time_s, *y = reading->trial->signal[SB_CHANNEL_TORQUE];
  set_overshoot (reading, y);
  set_undershoot (reading, t, y);
  set_settling_time (reading, t, y);
}
