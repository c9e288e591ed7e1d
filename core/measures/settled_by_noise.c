/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "settled_by_noise.h"

#include "passage.h"
#include "smooth_curve.h"

#include <math.h>

/* The smoothed curve is surely outside by so many standard deviations of its own noise. */
#define SURE_OUTSIDE 3
/* A curve so many standard deviations inside or outside stays there. */
#define CERTAIN 8
/* The envelope of the fit is looked at so many times for where it comes into reach. */
#define LOOKS 256
/* The fit may leave this share more than the noise, and what the scatter of a standard deviation comes to. */
#define LEAVES_MORE  0.1
#define LEAVES_ERROR 3

/* The curve about its last passage. */
typedef struct {
  gsize n;
  double *t;            /* of the log */
  double *d;            /* of the curve as it is judged from the band, positive outside */
  double out_s;         /* last passage of the curve itself */
  double pace_nm_per_s; /* of d there */
  double left;          /* standard deviation of the noise that is left in it */
} About;

static void
about_clear (About *about)
{
  g_free (about->t);
  g_free (about->d);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (About, about_clear)

/* The last passage of n distances; FALSE when there is none. */
static gboolean
find_passage (const double *t, const double *d, gsize n, About *about)
{
  gsize k = n - 1;
  while (k > 0 && !(d[k - 1] > 0))
    k--;
  if (n < 2 || k == 0)
    return FALSE;
  about->pace_nm_per_s = (d[k] - d[k - 1]) / (t[k] - t[k - 1]);
  about->out_s = t[k] - d[k] / about->pace_nm_per_s;
  return TRUE;
}

static gsize
stride_of (const SbSettled *settled)
{
  return settled->half / 3 + 1;
}

static gboolean
about_smoothed (const SbReading *reading, gsize out, gsize end, const SbSettled *settled, About *about)
{
  const SbTrial *trial = reading->trial;
  double top = reading->measures->transition.top_nm;
  gsize stride = stride_of (settled), transition = MAX (reading->i90 - reading->i10, 1), first = reading->i10;
  gsize last = MIN (end, out + 4 * transition + 2 * settled->half);
  gsize half = MAX (2 * settled->half, MAX (transition / 4, 2));
  g_autofree double *smooth
      = sb_smooth_curve (trial->time_s, trial->signal[SB_CHANNEL_TORQUE], trial->n_samples, first, last, half);
  about->n = (last - first) / stride + 1;
  about->d = g_new (double, about->n);
  about->t = g_new (double, about->n);
  for (gsize k = 0; k < about->n; k++) {
    about->d[k] = fabs (smooth[k * stride] - top) - settled->band_nm;
    about->t[k] = trial->time_s[first + k * stride];
  }
  about->left = sb_smoothing_noise_gain (half) * reading->measures->transition.noise_nm;
  return find_passage (about->t, about->d, about->n, about);
}

/* The last sample of first..end at which the curve may come near enough to the band's edge for the noise. */
static gsize
last_in_reach (const SbReading *reading, gsize first, gsize end, double near_nm)
{
  const double *t = reading->trial->time_s;
  double off = fabs (reading->quiet.level_nm - reading->measures->transition.top_nm);
  gsize stride = (end - first) / LOOKS + 1, i = end;
  while (i > first + stride && off + sb_quiet_curve_reach (&reading->quiet, t[i - stride]) < near_nm)
    i -= stride;
  return i;
}

/* What the fit is at samples from..last. */
typedef struct {
  gsize from, last;
  double *c;
} Values;

/* From the last sample that is certainly outside, and a window before it, to `last`; FALSE when the fit begins behind
 * that. */
static gboolean
quiet_values (const SbReading *reading, gsize last, double certain_nm, gsize window, Values *values)
{
  const SbQuietCurve *quiet = &reading->quiet;
  const double *t = reading->trial->time_s;
  double top = reading->measures->transition.top_nm;
  gsize first = reading->i10, n_behind = 0; /* so many samples before the certain one */
  gboolean certain = FALSE;
  g_autofree double *c = g_new (double, last + 1 - first);
  for (gsize i = last; i > first && t[i] >= quiet->start_s; i--) {
    c[i - first] = sb_quiet_curve_at (quiet, t[i]);
    certain = certain || fabs (c[i - first] - top) >= certain_nm;
    if (!certain || n_behind++ < window)
      continue;
    *values = (Values){ i, last, g_memdup2 (c + (i - first), (last + 1 - i) * sizeof *c) };
    return TRUE;
  }
  return FALSE;
}

static gboolean
describes_torque (const SbReading *reading, const Values *values)
{
  const double *y = reading->trial->signal[SB_CHANNEL_TORQUE];
  double squares = 0, n = (double) (values->last + 1 - values->from);
  for (gsize i = values->from; i <= values->last; i++)
    squares += (y[i] - values->c[i - values->from]) * (y[i] - values->c[i - values->from]);
  double most = 1 + LEAVES_MORE + LEAVES_ERROR / sqrt (2 * n);
  return sqrt (squares / n) <= most * reading->measures->transition.noise_nm;
}

/* Of every `stride`-th sample, a window from either end, counted from the last. */
static void
judge_values (const SbReading *reading, const SbSettled *settled, const Values *values, About *about)
{
  double top = reading->measures->transition.top_nm;
  gsize half = settled->half, stride = stride_of (settled), n = values->last + 1 - values->from;
  about->n = (n - 2 * half - 1) / stride + 1;
  about->d = g_new (double, about->n);
  about->t = g_new (double, about->n);
  for (gsize k = 0; k < about->n; k++) {
    gsize i = n - 1 - half - (about->n - 1 - k) * stride;
    about->t[k] = reading->trial->time_s[values->from + i];
    about->d[k] = fabs (sb_smoothed (values->c, i, half) - top) - settled->band_nm;
  }
}

static gboolean
about_fitted (const SbReading *reading, gsize end, const SbSettled *settled, About *about)
{
  const SbQuietCurve *quiet = &reading->quiet;
  double noise = reading->measures->transition.noise_nm, top = reading->measures->transition.top_nm;
  double reach = CERTAIN * sb_smoothing_noise_gain (settled->half) * noise;
  if (quiet->fit.n_modes == 0)
    return FALSE;
  gsize last = last_in_reach (reading, reading->i10, end, settled->band_nm - reach) + settled->half;
  if (settled->half > 0 && !(sb_reading_even_interval (reading, reading->i10, last) > 0))
    return FALSE; /* the local mean of the fit is worked out on an even time base */
  Values values;
  if (!quiet_values (reading, last, settled->band_nm + reach, 2 * settled->half + 1, &values))
    return FALSE;
  g_autofree double *c = values.c;
  gsize n = last + 1 - values.from;
  g_autofree double *d = g_new (double, n);
  for (gsize i = 0; i < n; i++)
    d[i] = fabs (c[i] - top) - settled->band_nm;
  if (n < 2 * settled->half + 2 || !describes_torque (reading, &values)
      || !find_passage (reading->trial->time_s + values.from, d, n, about))
    return FALSE;
  about->left = sb_quiet_curve_left (quiet, noise);
  judge_values (reading, settled, &values, about);
  return TRUE;
}

/* When the curve comes into the band after the last time that it is surely outside: beyond the edge by more than the
 * noise that is left in it. What it does behind that may be the noise's. NaN when it never is. */
static double
surely_outside_until (const About *about)
{
  gsize k = about->n - 1;
  while (k > 0 && !(about->d[k] > SURE_OUTSIDE * about->left))
    k--;
  if (!(about->d[k] > SURE_OUTSIDE * about->left))
    return NAN;
  while (k + 1 < about->n && about->d[k] > 0)
    k++;
  return about->t[k];
}

void
sb_settled_by_noise (const SbReading *reading, gsize out, gsize end, SbSettled *settled)
{
  double sd = sb_smoothing_noise_gain (settled->half) * reading->measures->transition.noise_nm;
  if (!(sd > 0))
    return;
  g_auto (About) about = { 0 };
  if (!about_fitted (reading, end, settled, &about) && !about_smoothed (reading, out, end, settled, &about))
    return;
  SbPassage passage = sb_last_passage (about.t, about.d, about.n, sd);
  double edge_u = hypot (reading->top_u_nm, reading->choices.settling_band_ratio * reading->base_u_nm);
  settled->bias_s = passage.mean_s - about.out_s;
  settled->early_s = fmin (passage.early_s, surely_outside_until (&about));
  settled->late_s = passage.late_s;
  settled->uncertainty_s = hypot (hypot (passage.sd_s, settled->bias_s), edge_u / fabs (about.pace_nm_per_s));
}
