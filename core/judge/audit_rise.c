/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The shape of a rise, and how slopes stand to levels. */
#include "audit_parts.h"

#include "steady_math.h"

#include <gsl/gsl_cdf.h>
#include <gsl/gsl_statistics_double.h>
#include <math.h>

#define LEVEL 0.05

/* Quarters over mean slope of one trial; FALSE when some quarter is not known. */
static gboolean
quarter_ratios (const SbMeasures *measures, double ratio[SB_RISE_QUARTERS])
{
  const SbMeasure *mean = &measures->measure[SB_MEASURE_MEAN_TORQUE_SLOPE];
  if (!mean->present || !(mean->value > 0))
    return FALSE;
  for (int q = 0; q < SB_RISE_QUARTERS; q++) {
    ratio[q] = measures->transition.quarter_nm_per_s[q] / mean->value;
    if (isnan (ratio[q]))
      return FALSE;
  }
  return TRUE;
}

/* A quarter of the rise that is off the mean slope by more than this share makes it no straight one. Quarters of a
 * straight rise are 1; of half a cosine 0.88 and 1.12; of a bell's integral 0.80 and 1.20; of two equal
 * lags 1.49, 1.25, 0.80, 0.46; of one lag 1.90, 1.10, 0.63, 0.37 (algebra, by the chords). */
SbRise
sb_audit_rise (const SbAuditInput *level, double straight_ratio)
{
  SbRise rise = { SB_RISE_UNCLEAR, { NAN, NAN, NAN, NAN }, NAN, NAN };
  g_autofree double *ratios = g_new (double, SB_RISE_QUARTERS *(level->n + 1));
  gsize n = 0;
  for (gsize i = 0; i < level->n; i++)
    n += quarter_ratios (level->measures[i], ratios + SB_RISE_QUARTERS * n) ? 1 : 0;
  if (n < 2)
    return rise;
  double squares = 0, off = 0;
  for (gsize q = 0; q < SB_RISE_QUARTERS; q++) {
    rise.quarter[q] = gsl_stats_mean (ratios + q, SB_RISE_QUARTERS, n);
    squares += gsl_stats_tss_m (ratios + q, SB_RISE_QUARTERS, n, rise.quarter[q]);
    off = fmax (off, fabs (rise.quarter[q] - 1));
  }
  double df = (double) (SB_RISE_QUARTERS * (n - 1)); /* quarters have as many samples each, and so one scatter */
  rise.u = sqrt (squares / df / (double) n);
  rise.half_width = gsl_cdf_tdist_Pinv (1 - LEVEL / 2 / SB_RISE_QUARTERS, df) * rise.u;
  if (off + rise.half_width < straight_ratio)
    rise.kind = SB_RISE_STRAIGHT;
  else if (off - rise.half_width > straight_ratio)
    rise.kind = SB_RISE_ROUNDED;
  return rise;
}

/* Mean and deviation of the logarithm of slope over level, or of slope times level, before the rig. */
static gboolean
log_share (const SbAuditWork *work, gsize index, gboolean inverse, double *mean, double *sd, gsize *n)
{
  double x = sb_audit_level (work->audit, (guint) index)->x;
  g_autofree double *values = sb_audit_values (work->level[index], SB_MEASURE_MEAN_TORQUE_SLOPE, n);
  for (gsize i = 0; i < *n; i++) {
    if (!(values[i] > 0))
      return FALSE;
    values[i] = sb_log (inverse ? values[i] * x : values[i] / x);
  }
  const SbRigRamp *ramp = &work->ramp[index];
  if (*n < 2 || isnan (ramp->steeper))
    return FALSE;
  *mean = gsl_stats_mean (values, 1, *n) + sb_log (ramp->steeper);
  *sd = ramp->power * gsl_stats_sd (values, 1, *n);
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
  share.ratio = sb_exp (welch.difference);
  share.ci95[0] = sb_exp (welch.ci95[0]);
  share.ci95[1] = sb_exp (welch.ci95[1]);
  double least = 1 - work->choices.proportion_ratio, most = 1 / least;
  if (share.ci95[1] < least)
    share.kind = SB_SHARE_BEHIND;
  else if (share.ci95[0] > most)
    share.kind = SB_SHARE_AHEAD;
  else if (share.ci95[0] >= least && share.ci95[1] <= most)
    share.kind = SB_SHARE_FOLLOWS;
  return share;
}
