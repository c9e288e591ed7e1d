/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The shape of a rise, and how slopes stand to levels. */
#include "audit_parts.h"

#include <gsl/gsl_cdf.h>
#include <gsl/gsl_statistics_double.h>
#include <math.h>

/* Steepest over mean slope: 1 for a straight rise, 1.16 for half a cosine, 1.28 for the integral of a bell, 1.5 for two
 * equal lags, 2.7 for one (algebra). */
#define STRAIGHT 1.2
/* A rise of fewer slope windows is straightened by the window itself. */
#define FEWEST_WINDOWS 2
/* Slope over level counts as in proportion within this share. */
#define SHARE_TOLERANCE 0.1

static double
straightness (const SbMeasures *measures)
{
  const SbMeasure *mean = &measures->measure[SB_MEASURE_MEAN_TORQUE_SLOPE];
  const SbMeasure *peak = &measures->measure[SB_MEASURE_PEAK_TORQUE_SLOPE];
  const SbTransition *transition = &measures->transition;
  if (!mean->present || !peak->present || !(mean->value > 0))
    return NAN;
  double window_s = peak->window_s[1] - peak->window_s[0];
  return transition->t90_s - transition->t10_s >= FEWEST_WINDOWS * window_s ? (peak->value - peak->bias) / mean->value
                                                                            : (double) NAN;
}

SbRise
sb_audit_rise (const SbAuditInput *level)
{
  SbRise rise = { SB_RISE_UNCLEAR, NAN, { NAN, NAN } };
  g_autofree double *ratios = g_new (double, level->n + 1);
  gsize n = 0;
  for (gsize i = 0; i < level->n; i++) {
    double ratio = straightness (level->measures[i]);
    if (!isnan (ratio))
      ratios[n++] = ratio;
  }
  if (n < 2)
    return rise;
  rise.ratio = gsl_stats_mean (ratios, 1, n);
  double half = gsl_cdf_tdist_Pinv (0.975, (double) n - 1) * gsl_stats_sd (ratios, 1, n) / sqrt ((double) n);
  rise.ci95[0] = rise.ratio - half;
  rise.ci95[1] = rise.ratio + half;
  if (rise.ci95[1] < STRAIGHT)
    rise.kind = SB_RISE_STRAIGHT;
  else if (rise.ci95[0] > STRAIGHT)
    rise.kind = SB_RISE_ROUNDED;
  return rise;
}

/* Mean and deviation of the logarithm of slope over level, or of slope times level. */
static gboolean
log_share (const SbAuditWork *work, gsize index, gboolean inverse, double *mean, double *sd, gsize *n)
{
  double x = sb_audit_level (work->audit, (guint) index)->x;
  g_autofree double *values = sb_audit_values (work->level[index], SB_MEASURE_MEAN_TORQUE_SLOPE, n);
  for (gsize i = 0; i < *n; i++) {
    if (!(values[i] > 0))
      return FALSE;
    values[i] = log (inverse ? values[i] * x : values[i] / x);
  }
  if (*n < 2)
    return FALSE;
  *mean = gsl_stats_mean (values, 1, *n);
  *sd = gsl_stats_sd (values, 1, *n);
  return TRUE;
}

SbShare
sb_audit_share (const SbAuditWork *work, gsize base, gsize level, gboolean inverse)
{
  SbShare share = { SB_SHARE_UNCLEAR, NAN, { NAN, NAN } };
  double mean[2], sd[2];
  gsize n[2];
  SbWelch welch;
  if (!log_share (work, base, inverse, &mean[0], &sd[0], &n[0])
      || !log_share (work, level, inverse, &mean[1], &sd[1], &n[1])
      || !sb_welch (mean[0], sd[0], n[0], mean[1], sd[1], n[1], &welch))
    return share;
  share.ratio = exp (welch.difference);
  share.ci95[0] = exp (welch.ci95[0]);
  share.ci95[1] = exp (welch.ci95[1]);
  double least = 1 - SHARE_TOLERANCE, most = 1 / least;
  if (share.ci95[1] < least)
    share.kind = SB_SHARE_BEHIND;
  else if (share.ci95[0] > most)
    share.kind = SB_SHARE_AHEAD;
  else if (share.ci95[0] >= least && share.ci95[1] <= most)
    share.kind = SB_SHARE_FOLLOWS;
  return share;
}
