/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Peak slope by a local quadratic least-squares fit: Savitzky & Golay 1964. */
#include "measure_result.h"

#include "coarse.h"
#include "extremum.h"
#include "local_fit.h"
#include "slope.h"
#include "steady_math.h"
#include "transition.h"

#include <math.h>

#define DEFAULT_WINDOW_S 1e-3
#define SMALLEST_HALF    2
/* The running sums are taken anew after so many steps, so that rounding does not pile up. */
#define REFRESH_STEPS 1024
/* On an uneven base neighbouring windows share nearly all their samples: this many to a half window are looked at
 * first, and so on around the steepest of them. */
#define COARSE_LOOKS 16

/* Times that jitter more make no slope. */
#define MOST_BY_STAMPS 0.5
/* A time that is off by this share of an interval bends a quartic more than a rise does. */
#define BENT_BY_STAMPS 0.1
/* The window that tells where the slope is largest, over the slope window. */
#define WIDER 3
/* A peak within so many noise floors is as likely the noise's. */
#define CLEAR_FLOORS 3
/* Over jittering times: a rise of fewer windows need not be straight, nor one whose largest slope without its bias is
 * so many standard uncertainties above the mean slope, which such times move too. */
#define STRAIGHT_WINDOWS (4.0 / 3)
#define CLEARLY_STEEPER  5

gsize
sb_slope_half (const SbMeasureChoices *choices, double interval_s)
{
  double window_s = choices->slope_window_s > 0 ? choices->slope_window_s : DEFAULT_WINDOW_S;
  double half = floor (window_s / (2 * interval_s) + 0.5);
  return half <= SMALLEST_HALF ? SMALLEST_HALF : (gsize) fmin (half, 1e9);
}

/* Sum of k y and of y over the window around c, y taken from `offset`. */
static void
window_sums (const double *y, gsize c, gsize half, double offset, double *weighted, double *plain)
{
  double ky = 0, sum = y[c] - offset;
  for (gsize k = 1; k <= half; k++) {
    ky += (double) k * (y[c + k] - y[c - k]);
    sum += (y[c + k] - offset) + (y[c - k] - offset);
  }
  *weighted = ky;
  *plain = sum;
}

/* The window moves on by one: sum of k y falls by the plain sum and gains at both ends. So a long window costs no more
 * than a short one. */
static gsize
steepest_even (const double *y, gsize first, gsize last, gsize half)
{
  double offset = y[first], weighted = 0, plain = 0, best = -INFINITY;
  gsize steepest = first;
  for (gsize c = first; c <= last; c++) {
    if ((c - first) % REFRESH_STEPS == 0)
      window_sums (y, c, half, offset, &weighted, &plain);
    if (weighted > best) {
      best = weighted;
      steepest = c;
    }
    if (c == last)
      break;
    double out = y[c - half] - offset, in = y[c + half + 1] - offset;
    weighted += (double) (half + 1) * out + (double) half * in - plain;
    plain += in - out;
  }
  return steepest;
}

static gsize
steepest_uneven (const double *t, const double *y, gsize first, gsize last, gsize half, gsize stride)
{
  gsize steepest = first;
  double best = -INFINITY;
  for (gsize c = first; c <= last; c += stride) {
    double slope = sb_local_slope (t, y, c, half, 0);
    if (slope > best) {
      best = slope;
      steepest = c;
    }
  }
  return steepest;
}

static gsize
find_steepest (const double *t, const double *y, gsize first, gsize last, gsize half, double even_s)
{
  if (even_s > 0)
    return steepest_even (y, first, last, half);
  gsize stride = MAX (half / COARSE_LOOKS, 1);
  gsize steepest = steepest_uneven (t, y, first, last, half, stride);
  while (stride > 1) {
    gsize from = steepest > first + stride ? steepest - stride : first, to = MIN (steepest + stride, last);
    stride = MAX (stride / COARSE_LOOKS, 1);
    steepest = steepest_uneven (t, y, from, to, half, stride);
  }
  return steepest;
}

/* The noise of a value that k rows say weighs √k times as much as that of k values. */
static double
repeats_root (const SbReading *reading)
{
  return sqrt (sb_reading_torque_interval (reading) / reading->trial->sample_interval_s);
}

/* Of the torque by its noise, and by times that are not those of the samples: the slope makes a torque of what they are
 * off by. Whether the samples were taken when the times say is not to be seen. */
static void
doubt_noise (const SbReading *reading, SbMeasure *measure, gsize half)
{
  const SbTrial *trial = reading->trial;
  const SbTransition *transition = &reading->measures->transition;
  double noise = sb_coarse_noise (transition->noise_nm, transition->step_of_log_nm);
  double gain_per_s = sb_local_slope_noise_gain (half) / trial->sample_interval_s;
  double by_stamps = fabs (measure->value) * trial->stamp_sd_s * gain_per_s;
  if (by_stamps > 0)
    measure->uncertainty = by_stamps;
  if (!(noise > 0)) /* unknown, or none to be seen */
    return;
  double floor_nm_per_s = noise * gain_per_s * repeats_root (reading);
  measure->uncertainty = hypot (floor_nm_per_s, by_stamps);
  reading->measures->transition.slope_floor_nm_per_s = floor_nm_per_s;
  g_autofree char *left = sb_figure (SB_MEASURE_PEAK_TORQUE_SLOPE, floor_nm_per_s, 4);
  if (measure->value <= CLEAR_FLOORS * floor_nm_per_s)
    sb_measure_add_doubt (measure, SB_DOUBT_IN_NOISE,
                          "in the noise: the noise alone leaves slopes of %s over this window", left);
}

/* Samples at which the slope is as good as the largest: within one standard deviation of it. Over a wider window, so
 * that the noise itself hardly enters. */
static gsize
count_as_steep (const SbReading *reading, gsize half, double even_s, double sd)
{
  const double *t = reading->trial->time_s, *y = reading->trial->signal[SB_CHANNEL_TORQUE];
  gsize wide = CLAMP ((reading->i90 - reading->i10) / 4, half, WIDER * half), first, last, n = 0;
  if (!sb_slope_range (reading, wide, &first, &last))
    return 1;
  first = MAX (first, reading->i10 > wide ? reading->i10 - half : 0);
  last = MIN (last, reading->i90 + 1 + half);
  double largest = -INFINITY;
  for (gsize i = first; i <= last; i++)
    largest = fmax (largest, sb_local_slope (t, y, i, wide, even_s));
  for (gsize i = first; i <= last; i++)
    n += sb_local_slope (t, y, i, wide, even_s) >= largest - sd ? 1 : 0;
  return MAX (n, 1);
}

/* By noise z standard deviations of a slope. Times that are off by ε make Σ(k + ε)k/Σ(k + ε)² of a slope, which is
 * 1 + e/(1 - 2e) of it for e = -Σkε/Σk²; of the slope that is found, e/(1 - e) with e z standard deviations. */
static double
bias_of_largest (const SbReading *reading, double slope, gsize half, double z)
{
  const SbTrial *trial = reading->trial;
  const SbTransition *transition = &reading->measures->transition;
  double noise = sb_coarse_noise (transition->noise_nm, transition->step_of_log_nm);
  double gain_per_s = sb_local_slope_noise_gain (half) / trial->sample_interval_s;
  double e = fmin (z * trial->stamp_sd_s * gain_per_s, MOST_BY_STAMPS);
  return hypot (z * (noise > 0 ? noise : 0) * gain_per_s * repeats_root (reading), slope * e / (1 - e));
}

/* What the times make of the torque is more than its noise. */
static gboolean
is_of_stamps (const SbReading *reading, double slope)
{
  double noise = reading->measures->transition.noise_nm;
  return slope * reading->trial->stamp_sd_s > (noise > 0 ? noise : 0);
}

static void
doubt_raised (const SbReading *reading, SbMeasure *measure)
{
  g_autofree char *by = sb_figure (SB_MEASURE_PEAK_TORQUE_SLOPE, measure->bias, 2);
  if (!(measure->bias > SB_BIAS_SHARE * measure->value))
    return;
  if (is_of_stamps (reading, measure->value))
    sb_measure_add_doubt (
        measure, SB_DOUBT_BIAS,
        "raised by jitter: the times are those of the samples to about %.2g ms only, if these were taken "
        "evenly, and the largest of many slopes over wrong times lies above the true one, here by about %s; "
        "even times, or a longer slope window, lower that",
        1e3 * reading->trial->stamp_sd_s, by);
  else
    sb_measure_add_doubt (measure, SB_DOUBT_BIAS,
                          "raised by noise: the largest of many noisy slopes lies above the true one, here by about "
                          "%s; a longer slope window lowers that",
                          by);
}

/* The largest of noisy slopes lies above the largest slope: of m independent ones by the mean of the largest of m
 * normal values (Blom 1958, from memory). Windows that overlap are not independent; how many they are worth was found
 * by simulation, to a tenth of the bias. Over times that jitter more than the torque is noisy, which bends wide windows
 * too, the rise is taken to be straight. */
static void
find_bias_of_largest (const SbReading *reading, SbMeasure *measure, gsize half, double even_s)
{
  double sd = measure->uncertainty;
  if (!(sd > 0))
    return;
  gsize n_steep = is_of_stamps (reading, measure->value) ? reading->measures->transition.n_rise + 1
                                                         : count_as_steep (reading, half, even_s, sd);
  double m = 1 + 3.7 * sb_pow ((double) half, 0.27) * (double) (n_steep - 1) / (double) (2 * half + 1);
  measure->bias = bias_of_largest (reading, measure->value, half, sb_largest_of_normal (m));
  measure->uncertainty = sd * sb_largest_scatter (m);
}

/* Times that bend a quartic more than a rise does hide what the window flattens, unless the rise is seen to be
 * straight: longer than the window by a third, and its mean slope no clearly lower one. */
static gboolean
times_hide_flattening (const SbReading *reading, const SbMeasure *measure, gsize half)
{
  const SbTransition *transition = &reading->measures->transition;
  double interval_s = reading->trial->sample_interval_s, duration_s = transition->t90_s - transition->t10_s;
  if (!(reading->trial->stamp_sd_s > BENT_BY_STAMPS * interval_s))
    return FALSE;
  double mean = 0.8 * (transition->top_nm - transition->base_nm) / duration_s;
  return duration_s < STRAIGHT_WINDOWS * (double) (2 * half + 1) * interval_s
         || measure->value - measure->bias > mean + CLEARLY_STEEPER * measure->uncertainty;
}

/* Whether it is higher or lower than the true one is not known then. */
static void
doubt_hidden_flattening (const SbReading *reading, SbMeasure *measure, gsize half)
{
  const SbTrial *trial = reading->trial;
  if (is_of_stamps (reading, measure->value))
    measure->bias = 0;
  sb_measure_add_doubt (
      measure, SB_DOUBT_TOLD,
      "flattening not judged: the times are off by about %.2g ms, and where the rise bends within the "
      "slope window of %.3g ms the true largest slope is higher by what they hide; even times, or a "
      "higher sample rate, would tell",
      1e3 * trial->stamp_sd_s, 1e3 * (double) (2 * half) * trial->sample_interval_s);
}

/* What the quadratic flattens, a quartic over the same window does not (Savitzky & Golay 1964, first derivative, cubic
 * and quartic): where the two differ beyond the noise of their difference, the window is too long for the rise or the
 * rate too low for the window. 0 where it cannot be told. */
static double
flattened_by (const SbReading *reading, gsize steepest, gsize half, double slope)
{
  const SbTrial *trial = reading->trial;
  const double *t = trial->time_s, *y = trial->signal[SB_CHANNEL_TORQUE];
  if (trial->stamp_sd_s > BENT_BY_STAMPS * trial->sample_interval_s)
    return 0;
  double by = sb_local_fit (t, y, steepest, half, 4).slope - slope;
  const SbTransition *transition = &reading->measures->transition;
  double base_nm = sb_coarse_noise (transition->noise_nm, transition->step_of_log_nm);
  double noise = hypot (base_nm > 0 ? base_nm : 0, slope * trial->stamp_sd_s);
  double sd = noise > 0 ? noise * sb_local_quartic_extra_gain (half) / trial->sample_interval_s : 0;
  return by > CLEAR_FLOORS * sd ? by : 0;
}

static void
doubt_flattened (const SbReading *reading, SbMeasure *measure, gsize half, double by)
{
  if (measure->uncertainty > 0)
    measure->uncertainty = hypot (measure->uncertainty, measure->bias - by);
  if (!(by > SB_BIAS_SHARE * measure->value))
    return;
  gboolean shortest = half == SMALLEST_HALF;
  g_autofree char *higher = sb_figure (SB_MEASURE_PEAK_TORQUE_SLOPE, by, 2);
  sb_measure_add_doubt (measure, SB_DOUBT_TOLD,
                        "flattened: the rise bends within the slope window of %.3g ms, and the true largest slope is "
                        "higher by about %s or more; %s lowers that",
                        1e3 * (double) (2 * half) * reading->trial->sample_interval_s, higher,
                        shortest ? "the window has the fewest samples it can, so only a higher sample rate"
                                 : "a shorter window");
}

gboolean
sb_slope_range (const SbReading *reading, gsize half, gsize *first, gsize *last)
{
  gsize n = reading->trial->n_samples, wide = 2 * half + 1;
  if (n < wide)
    return FALSE;
  gsize from = reading->i10 > wide ? reading->i10 - wide : 0;
  *first = CLAMP (from, half, n - 1 - half);
  *last = CLAMP (reading->i90 + 1 + wide, half, n - 1 - half);
  return TRUE;
}

/* Five values at least: of a torque that is held as many rows as say them. */
static gsize
half_window (const SbReading *reading)
{
  const SbTrial *trial = reading->trial;
  double rows = sb_reading_torque_interval (reading) / trial->sample_interval_s;
  return MAX (sb_slope_half (&reading->choices, trial->sample_interval_s), (gsize) rint (SMALLEST_HALF * rows));
}

void
sb_measure_slope (SbReading *reading)
{
  const SbTrial *trial = reading->trial;
  const double *t = trial->time_s, *y = trial->signal[SB_CHANNEL_TORQUE];
  gsize half = half_window (reading), first, last;
  reading->measures->transition.slope_half = half;
  if (reading->no_step != NULL) {
    sb_reading_set_absent (reading, SB_MEASURE_PEAK_TORQUE_SLOPE, "%s", reading->no_step);
    return;
  }
  if (!sb_slope_range (reading, half, &first, &last)) {
    sb_reading_set_absent (reading, SB_MEASURE_PEAK_TORQUE_SLOPE,
                           "the slope window of %" G_GSIZE_FORMAT " samples is longer than the log", 2 * half + 1);
    return;
  }
  double even_s = sb_reading_even_interval (reading, first - half, last + half);
  gsize steepest = find_steepest (t, y, first, last, half, even_s);
  double slope = sb_local_slope (t, y, steepest, half, even_s);
  SbMeasure *measure
      = sb_reading_set (reading, SB_MEASURE_PEAK_TORQUE_SLOPE, slope, sb_reading_time (reading, steepest - half),
                        sb_reading_time (reading, steepest + half));
  sb_measure_add_evidence (measure, SB_EVIDENCE_TANGENT, sb_reading_time (reading, steepest), y[steepest], slope);
  sb_reading_doubt_levels (reading, measure);
  sb_reading_doubt_resolution (reading, measure);
  sb_reading_doubt_held (
      reading, measure, SB_CHANNEL_TORQUE,
      "and the slope window is five of them long at least; the steps between them may still raise it");
  doubt_noise (reading, measure, half);
  find_bias_of_largest (reading, measure, half, even_s);
  if (times_hide_flattening (reading, measure, half))
    doubt_hidden_flattening (reading, measure, half);
  doubt_raised (reading, measure);
  doubt_flattened (reading, measure, half, flattened_by (reading, steepest, half, slope));
}
