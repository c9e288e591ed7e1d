/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "settled.h"

#include "local_fit.h"
#include "settled_by_noise.h"
#include "smooth_curve.h"

#include <gsl/gsl_cdf.h>
#include <math.h>

/* Noise alone may leave the band in one log of so many. */
#define ONE_LOG_OF 10000
/* The noise is itself known from a base of few samples: so many of its standard deviations are added. */
#define SURE_NOISES 2
/* The local mean's window is at most so many transitions: it takes less than a hundredth off a ringing whose rise that
 * transition is. */
#define MOST_TRANSITIONS 2

static double
judged (const SbReading *reading, gsize i, gsize half)
{
  const double *t = reading->trial->time_s, *y = reading->trial->signal[SB_CHANNEL_TORQUE];
  return half == 0 ? y[i] : sb_local_fit (t, y, i, half, 2).value;
}

/* Sums over the window about a sample, on an even time base: that of the quadratic by least squares takes them alone
 * (Savitzky & Golay 1964). Torques are taken from the top level, so that sums stay small. */
typedef struct {
  const double *y;
  gsize half;
  double top, s0, s1, s2; /* Σ y, Σ k y, Σ k² y over k = -half .. half */
  gsize n_moves;
} Sums;

static void
sums_begin (Sums *sums, gsize centre)
{
  sums->s0 = sums->s1 = sums->s2 = 0;
  sums->n_moves = 0;
  for (gsize i = centre - sums->half; i <= centre + sums->half; i++) {
    double k = (double) i - (double) centre, v = sums->y[i] - sums->top;
    sums->s0 += v;
    sums->s1 += k * v;
    sums->s2 += k * k * v;
  }
}

/* From the sample behind `centre` to it. Rounding adds up: the sums are begun anew once in a window's length. */
static void
sums_move (Sums *sums, gsize centre)
{
  if (++sums->n_moves > 2 * sums->half) {
    sums_begin (sums, centre);
    return;
  }
  double m = (double) sums->half, gone = sums->y[centre + 1 + sums->half] - sums->top;
  double come = sums->y[centre - sums->half] - sums->top;
  double s0 = sums->s0 - gone, s1 = sums->s1 - m * gone, s2 = sums->s2 - m * m * gone; /* k runs to half - 1 now */
  sums->s0 = s0 + come;
  sums->s1 = s1 + s0 - m * come;
  sums->s2 = s2 + 2 * s1 + s0 + m * m * come;
}

/* Distance of the local quadratic's value from the top. */
static double
sums_distance (const Sums *sums)
{
  double m = (double) sums->half, n = 2 * m + 1, square = m * (m + 1) * n / 3;
  double fourth = square * (3 * m * m + 3 * m - 1) / 5;
  return fabs ((fourth * sums->s0 - square * sums->s2) / (n * fourth - square * square));
}

/* The last sample of first..end that may be outside the band, a hundredth of it to spare, so that those behind it need
 * no fit of their own; `end` without an even time base. first - 1 when there is none. */
static gsize
last_doubtful (const SbReading *reading, const SbSettled *settled, gsize first, gsize end)
{
  Sums sums = { .y = reading->trial->signal[SB_CHANNEL_TORQUE],
                .half = settled->half,
                .top = reading->measures->transition.top_nm };
  if (settled->half == 0 || end < first)
    return end;
  gsize i = end;
  for (sums_begin (&sums, i); sums_distance (&sums) <= 0.99 * settled->band_nm; sums_move (&sums, --i))
    if (i == first)
      return first - 1;
  return i;
}

/* The shortest window that is quiet enough; TRUE when there is one. */
static gboolean
choose_window (const SbReading *reading, SbSettled *settled)
{
  const SbTransition *transition = &reading->measures->transition;
  double noise = isfinite (transition->noise_nm) ? transition->noise_nm : 0;
  double n = (double) (reading->last - reading->i90 + 1);
  double known = 1 + SURE_NOISES / sqrt (2 * fmax (1, (double) reading->n_base));
  double reach = gsl_cdf_ugaussian_Qinv (1 / (2 * ONE_LOG_OF * n)) * noise * known;
  double widest_s = MOST_TRANSITIONS * (transition->t90_s - transition->t10_s);
  gsize most = (gsize) fmin (widest_s / (2 * reading->trial->sample_interval_s), n / 8);
  settled->half = 0;
  while (sb_smoothing_noise_gain (settled->half) * reach > settled->band_nm && settled->half < most)
    settled->half += settled->half == 0 ? 2 : 1;
  settled->enough_ratio = sb_smoothing_noise_gain (settled->half) * reach / (transition->top_nm - transition->base_nm);
  settled->noise_leaves = sb_smoothing_noise_gain (settled->half) * reach > settled->band_nm;
  return !settled->noise_leaves;
}

/* The last sample of first..end outside the band, and its torque as it is judged; first - 1 when there is none. */
static gsize
last_outside (const SbReading *reading, const SbSettled *settled, gsize first, gsize end, double *outside)
{
  double top = reading->measures->transition.top_nm;
  gboolean even = sb_reading_even_interval (reading, first - settled->half, end + settled->half) > 0;
  for (gsize i = end; i >= first; i--) {
    i = even ? last_doubtful (reading, settled, first, i) : i;
    if (i < first)
      break;
    *outside = judged (reading, i, settled->half);
    if (fabs (*outside - top) > settled->band_nm)
      return i;
  }
  return first - 1;
}

gboolean
sb_find_settled (const SbReading *reading, SbSettled *settled)
{
  const SbTransition *transition = &reading->measures->transition;
  const double *t = reading->trial->time_s;
  double top = transition->top_nm;
  *settled = (SbSettled){ .early_s = NAN,
                          .late_s = NAN,
                          .band_nm = reading->choices.settling_band_ratio * (top - transition->base_nm) };
  if (!choose_window (reading, settled))
    return FALSE;
  gsize end = MIN (reading->last, reading->trial->n_samples - 1 - settled->half);
  gsize first = MAX (reading->i10 + 1, settled->half);
  double outside = top;
  gsize i = last_outside (reading, settled, first, end, &outside);
  if (i < first) /* before the rise it is outside */
    outside = reading->trial->signal[SB_CHANNEL_TORQUE][first - 1];
  if (i >= end) {
    settled->end_off_nm = fabs (outside - top);
    return FALSE;
  }
  double inside = judged (reading, i + 1, settled->half);
  settled->edge_nm = outside > top ? top + settled->band_nm : top - settled->band_nm;
  settled->at_s = t[i] + (t[i + 1] - t[i]) * ((settled->edge_nm - outside) / (inside - outside));
  sb_settled_by_noise (reading, i, end, settled);
  return TRUE;
}
