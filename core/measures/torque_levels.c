/* SPDX-License-Identifier: GPL-3.0-or-later */
/* State levels by the mode of the amplitude histogram: IEEE Std 181-2011. */
#include "measure_result.h"

#include "levels.h"

#include <math.h>

/* A bin should hold so many samples on average, or its fullest neighbour is a matter of chance. */
#define SAMPLES_PER_BIN 16
/* The base level's noise is clipped at so many standard deviations, in so many passes at most. */
#define BASE_BINS   32
#define BASE_PASSES 16
#define CLIP_SDS    3
/* Half width, as a share of the step, of the band that a plateau keeps to; half of the samples after the rise must. */
#define PLATEAU_BAND  0.02
#define PLATEAU_SHARE 0.5
/* A step has to stand out of the base level's noise by so many standard deviations. */
#define STEP_NOISES 5

static gsize
bins_for (gsize n)
{
  return CLAMP (n / SAMPLES_PER_BIN, 1, SB_LEVEL_BINS);
}

static double
mean_of (const double *y, gsize n)
{
  double sum = 0;
  for (gsize i = 0; i < n; i++)
    sum += y[i] - y[0];
  return y[0] + sum / (double) n;
}

/* Mean of the values within `half_width` of `centre`, and the share of all values that they are. Four lanes: a single
 * sum would wait for its own last addition. */
static double
mean_near (const double *y, gsize n, double centre, double half_width, double *share)
{
  double sum[4] = { 0 }, count[4] = { 0 };
  for (gsize i = 0; i + 4 <= n; i += 4)
    for (gsize k = 0; k < 4; k++) {
      double d = y[i + k] - centre;
      double inside = fabs (d) <= half_width ? 1 : 0;
      sum[k] += inside * d;
      count[k] += inside;
    }
  for (gsize i = n - n % 4; i < n; i++) {
    double d = y[i] - centre;
    double inside = fabs (d) <= half_width ? 1 : 0;
    sum[0] += inside * d;
    count[0] += inside;
  }
  double m = (count[0] + count[1]) + (count[2] + count[3]);
  *share = m / (double) n;
  return m > 0 ? centre + ((sum[0] + sum[1]) + (sum[2] + sum[3])) / m : centre;
}

/* The mode of what lies before the onset, refined: mean and standard deviation of the values within three standard
 * deviations of their mean, until no value comes or goes. So the first of a rise that begins before the onset (a
 * command that takes its time; an onset that is an estimate) stays out of both level and noise. */
static void
find_base (SbReading *reading, const double *y)
{
  SbTransition *transition = &reading->measures->transition;
  gsize n = reading->n_base;
  double share, base = sb_level_mode (y, n, CLAMP (n / SAMPLES_PER_BIN, 1, BASE_BINS), NULL);
  double reach = 0, squares = 0, m = 0, before = -1;
  for (gsize i = 0; i < n; i++)
    squares += (y[i] - base) * (y[i] - base);
  double widest = sqrt (squares / (double) n);
  for (int pass = 0; pass < BASE_PASSES && fabs (m - before) > 0; pass++) {
    before = m;
    reach = pass == 0 ? widest : CLIP_SDS * sqrt (squares / fmax (m, 1));
    base = mean_near (y, n, base, reach, &share);
    squares = m = 0;
    for (gsize i = 0; i < n; i++) {
      double d = y[i] - base, inside = fabs (d) <= reach ? 1 : 0;
      squares += inside * d * d;
      m += inside;
    }
  }
  transition->base_nm = base;
  transition->noise_nm = m >= 2 ? sqrt (squares / (m - 1)) : (double) NAN;
}

static void
set_peak_torque (SbReading *reading, const double *y)
{
  gsize peak = reading->first;
  for (gsize i = reading->first + 1; i <= reading->last; i++)
    if (y[i] > y[peak])
      peak = i;
  reading->peak = peak;
  SbMeasure *measure = sb_reading_set (reading, SB_MEASURE_PEAK_TORQUE, y[peak], 0, reading->end_s);
  sb_measure_add_evidence (measure, SB_EVIDENCE_PEAK, sb_reading_time (reading, peak), y[peak], 0);
}

/* The mode of what comes after the middle of the rise; on a noisy plateau the mean of what lies within the noise around
 * it, which a single bin is too narrow for. */
static void
find_top (SbReading *reading, const double *y)
{
  SbTransition *transition = &reading->measures->transition;
  double base = transition->base_nm, height = y[reading->peak] - base;
  gsize start = sb_reading_start (reading);
  gsize rise = sb_first_crossing (y, start, reading->last, base + height / 2);
  gsize after = (rise < reading->last ? rise : start) + 1, n = reading->last + 1 - after;

  /* Fine bins that hold the plateau find it at any length; those of a short noisy log hold a sample or two each, and
   * which of them is fullest is a matter of chance: then wider ones. */
  double share, top = sb_level_mode (y + after, n, SB_LEVEL_BINS, &share);
  if (share < PLATEAU_SHARE && bins_for (n) < SB_LEVEL_BINS)
    top = sb_level_mode (y + after, n, bins_for (n), NULL);
  double reach = isfinite (transition->noise_nm) ? 3 * transition->noise_nm : 0;
  if (reach > 1.5 * height / SB_LEVEL_BINS)
    for (int pass = 0; pass < 2; pass++)
      top = mean_near (y + after, n, top, reach, &share);
  mean_near (y + after, n, top, fmax (reach, PLATEAU_BAND * fabs (top - base)), &share);
  transition->plateau = share >= PLATEAU_SHARE && top > base;
  if (transition->plateau) {
    transition->top_nm = top;
    return;
  }
  gsize quarter = MAX ((reading->last + 1 - reading->first) / 4, 1);
  transition->top_nm = mean_of (y + (reading->last + 1 - quarter), quarter);
}

void
sb_measure_torque_levels (SbReading *reading)
{
  const double *y = reading->trial->signal[SB_CHANNEL_TORQUE];
  SbTransition *transition = &reading->measures->transition;
  transition->base_nm = transition->top_nm = NAN;
  if (y == NULL) {
    reading->no_step = g_strdup (reading->measures->measure[SB_MEASURE_PEAK_TORQUE].absent_reason);
    return;
  }
  set_peak_torque (reading, y);
  reading->n_base = reading->first;
  if (reading->n_base == 0) {
    reading->no_step = g_strdup ("no base level: the log has no samples before the onset");
    return;
  }
  find_base (reading, y);
  find_top (reading, y);

  double step = transition->top_nm - transition->base_nm;
  double noise = isfinite (transition->noise_nm) ? transition->noise_nm : 0;
  if (!(step > STEP_NOISES * noise) || !(step > 1e-9 * fabs (y[reading->peak])))
    reading->no_step = g_strdup_printf ("no torque step: the torque goes from %.4g to %.4g N·m, with a noise of %.2g "
                                        "N·m before the onset",
                                        transition->base_nm, transition->top_nm, noise);
}
