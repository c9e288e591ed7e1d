/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "crossing_again.h"

#include "passage.h"
#include "smooth_curve.h"

#include <math.h>

/* The curve is looked at for so many transitions before the first crossing, and behind the last. */
#define BEFORE 2
#define BEHIND 8
/* It is the local quadratic over this share of the shorter half of the transition, on either side, so that a crest in
 * it stays one, and no more samples than leave a third of the noise: its own is that of a sample times 1.5 / sqrt (n)
 * (Savitzky & Golay 1964). */
#define SMOOTH_SHARE   0.125
#define SMOOTH_SAMPLES 10
/* The curve's height is known to so many of the standard deviations that are left in it. */
#define KNOWN_TO 2
/* Noise lifts a crest to a level that it is below by no more than this; what is farther below is a base, not a crest.
 */
#define LIFTED_NOISES 1
/* Another instant is one when it is farther than so many standard uncertainties, and this share of the transition. */
#define SURE_ERRORS 3
#define APART_SHARE 0.05
/* A fall below the level by less than this share of the step is no matter to anyone. */
#define SHALLOW_SHARE 0.01

typedef struct {
  gsize n;
  const double *t;    /* of the log */
  double *y;          /* without noise; owned */
  double noise, left; /* of a sample; what of it is left in the curve */
} Curve;

static gsize
smooth_half (const SbReading *reading)
{
  const SbTransition *transition = &reading->measures->transition;
  double shorter_s = fmin (transition->t50_s - transition->t10_s, transition->t90_s - transition->t50_s);
  return (gsize) CLAMP (SMOOTH_SHARE * shorter_s / reading->trial->sample_interval_s, 2, SMOOTH_SAMPLES);
}

static Curve
smooth_rise (const SbReading *reading, gsize found)
{
  const SbTrial *trial = reading->trial;
  gsize rise = MAX (reading->i90 - reading->i10, 1), half = smooth_half (reading);
  gsize first = reading->i10 > BEFORE * rise ? reading->i10 - BEFORE * rise : 0;
  gsize last = MIN (reading->last, MAX (reading->i90, found) + BEHIND * rise);
  double noise = reading->measures->transition.noise_nm, left = 1.5 * noise / sqrt ((double) (2 * half + 1));
  return (Curve){
    .n = last - first + 1,
    .t = trial->time_s + first,
    .y = sb_smooth_curve (trial->time_s, trial->signal[SB_CHANNEL_TORQUE], trial->n_samples, first, last, half),
    .noise = noise,
    .left = left,
  };
}

static gsize
index_at (const Curve *curve, double t_s)
{
  gsize i = 0;
  while (i + 1 < curve->n && curve->t[i + 1] <= t_s)
    i++;
  return i;
}

/* Between two instants the curve falls below `level` by more than what is left of the noise in it. */
static gboolean
falls_between (const Curve *curve, double a_s, double b_s, double level)
{
  for (gsize i = index_at (curve, fmin (a_s, b_s)); i < curve->n && curve->t[i] <= fmax (a_s, b_s); i++)
    if (curve->y[i] < level - SURE_ERRORS * curve->left)
      return TRUE;
  return FALSE;
}

/* Of the curve's passages up through `level` until `late_s`, the one farthest from `found_s` with a fall between them;
 * NaN when there is none. Those before the last time until `early_s` that it is sure to be below are no choice of the
 * noise's. A crest that only noise lifts to the level is passed where it is that high. */
static double
farthest_passage (const Curve *curve, double level, double sure, double early_s, double late_s, double found_s)
{
  gsize early = index_at (curve, early_s), from = 0;
  double farthest_s = NAN;
  if (curve->y[early] > level - LIFTED_NOISES * curve->noise)
    level = fmin (level, curve->y[early]);
  for (gsize i = 0; i <= early; i++)
    if (curve->y[i] < level - sure)
      from = i;
  for (gsize i = from; i + 1 < curve->n && curve->t[i] <= late_s; i++) {
    double below = curve->y[i] - level, above = curve->y[i + 1] - level;
    if (!(below < 0) || !(above >= 0))
      continue;
    double at_s = curve->t[i] - below / (above - below) * (curve->t[i + 1] - curve->t[i]);
    if (!(fabs (at_s - found_s) <= fabs (farthest_s - found_s)) && falls_between (curve, at_s, found_s, level))
      farthest_s = at_s;
  }
  return farthest_s;
}

/* When the noisy curve, from its point `from` on, may first be above `level`. */
static SbPassage
first_clear (const Curve *curve, gsize from, double level)
{
  g_autofree double *beyond = g_new (double, curve->n);
  for (gsize i = 0; i < curve->n; i++)
    beyond[i] = curve->y[i] - level;
  return sb_first_passage (curve->t + from, beyond + from, curve->n - from, curve->noise);
}

/* The crossing that is found is the one before the torque is first clear of the level, by as much as crossing.c asks
 * for: the distribution of that first passage, of a curve a little higher or lower, tells which crests it may be. */
double
sb_crossing_again (const SbReading *reading, gsize k)
{
  const SbTransition *transition = &reading->measures->transition;
  double step = transition->top_nm - transition->base_nm;
  if (!(transition->noise_nm > 0))
    return NAN;
  double level = transition->base_nm + (k == 0 ? 0.1 : 0.9) * step;
  double clear = sb_crossing_clear (step, transition->noise_nm), found_s = reading->crossing[k].t_s;
  Curve curve = smooth_rise (reading, reading->i90);
  g_autofree double *owned = curve.y;
  SbPassage early = first_clear (&curve, 0, level + clear - KNOWN_TO * curve.left);
  SbPassage late = first_clear (&curve, 0, level + clear + KNOWN_TO * curve.left);
  if (!(early.chance > 0) || !(late.chance > 0))
    return NAN;
  double sure = clear + SURE_ERRORS * curve.noise;
  double other_s = farthest_passage (&curve, level, sure, early.early_s, late.late_s, found_s);
  double apart_s
      = fmax (SURE_ERRORS * reading->crossing[k].uncertainty_s, APART_SHARE * (transition->t90_s - transition->t10_s));
  return fabs (other_s - found_s) > apart_s ? other_s - reading->trial->onset_s : (double) NAN;
}

/* What comes behind its top level is ringing, and told as that. A corner that the curve does not follow is no fall:
 * some sample has to be down there too. */
SbFall
sb_crossing_left (const SbReading *reading, gsize k)
{
  const SbTransition *transition = &reading->measures->transition;
  double step = transition->top_nm - transition->base_nm, level = transition->base_nm + (k == 0 ? 0.1 : 0.9) * step;
  Curve curve = smooth_rise (reading, reading->i90);
  g_autofree double *owned = curve.y;
  double left = curve.left > 0 ? curve.left : 0, lowest = level, end_s = reading->crossing[2].t_s;
  const double *samples = reading->trial->signal[SB_CHANNEL_TORQUE] + (curve.t - reading->trial->time_s);
  double lowest_sample = level;
  gsize at = 0;
  for (gsize i = index_at (&curve, reading->crossing[k].t_s) + 1; i < curve.n; i++) {
    if (k == 0 ? curve.t[i] > end_s : curve.y[i] >= transition->top_nm - KNOWN_TO * left)
      break;
    lowest_sample = fmin (lowest_sample, samples[i]);
    if (curve.y[i] < lowest) {
      lowest = curve.y[i];
      at = i;
    }
  }
  return (SbFall){
    .found = level - fmax (lowest, lowest_sample) > fmax (SURE_ERRORS * left, SHALLOW_SHARE * step),
    .lowest_share = (lowest - transition->base_nm) / step,
    .at_s = curve.t[at] - reading->trial->onset_s,
  };
}

gboolean
sb_top_passage (const SbReading *reading, gsize found, double *early_s, double *late_s)
{
  const SbTransition *transition = &reading->measures->transition;
  if (!(transition->noise_nm > 0))
    return FALSE;
  Curve curve = smooth_rise (reading, found);
  g_autofree double *owned = curve.y;
  gsize from = index_at (&curve, reading->trial->time_s[reading->i90]);
  if (curve.n - from < 2)
    return FALSE;
  SbPassage early = first_clear (&curve, from, transition->top_nm - KNOWN_TO * curve.left);
  SbPassage late = first_clear (&curve, from, transition->top_nm + KNOWN_TO * curve.left);
  *early_s = early.early_s;
  *late_s = late.late_s;
  return early.chance > 0 && late.chance > 0;
}
