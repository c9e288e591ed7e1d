/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "audit_rig_search.h"

#include "steady_math.h"

#include <math.h>

/* Where rigs are looked for: frequencies evenly on a logarithmic scale, then nearer and nearer the best. */
#define LEAST_HZ      8.0
#define MOST_HZ       250.0
#define LEAST_DAMPING 0.03
#define MOST_DAMPING  0.6
#define N_HZ          16
#define N_REFINED     4
#define REFINE_SHARE  0.5
#define DAMPING_RATIO 1.7 /* between neighbours */

/* Modes of trials share what is wrong with them, so they count once together: standard uncertainties of a mode beside
 * another, and twice the logarithm of odds of 20 to 1 that the rig is among them. */
#define MODE_HZ_SHARE      0.03
#define MODE_DAMPING_SHARE 0.3
#define NOT_AMONG_MODES    6
#define LEAST_TRIED        5 /* trials whose modes are tried as rigs, where there are as many; below twice as many */

static const double dampings[] = { 0.04, 0.1, 0.18, 0.3 };

/* Squares of the differences of the figures that are known, each 1 at most: 1 for each when the form does not fit. */
static double
squares_of (const SbRig *rig, SbRiseForm form, const SbSeenRise *seen, gsize *n_figures)
{
  double length_s, squares = 0;
  SbSeenRise fitted;
  gboolean fits = sb_rig_fit (rig, form, seen->transition_s, &length_s, &fitted);
  *n_figures = 0;
  for (int q = 0; q <= SB_RISE_QUARTERS; q++) {
    double figure = q < SB_RISE_QUARTERS ? seen->quarter[q] : seen->overshoot;
    if (isnan (figure))
      continue;
    double off = fits ? figure - (q < SB_RISE_QUARTERS ? fitted.quarter[q] : fitted.overshoot) : 1;
    squares += fmin (1, off * off);
    ++*n_figures;
  }
  return squares;
}

double
sb_rig_off_ramps (const SbRig *rig, const SbSeenLevel *levels, gsize n)
{
  double squares = 0;
  gsize counted = 0;
  for (gsize i = 0; i < n; i++) {
    gsize here;
    squares += squares_of (rig, SB_RISE_FORM_RAMP, &levels[i].seen, &here);
    counted += here;
  }
  return counted > 0 ? sqrt (squares / (double) counted) : HUGE_VAL;
}

typedef struct {
  const SbSeenRises *seen;
  gboolean (*may_be) (const void *search, gsize level, SbRiseForm form);
  gsize level; /* the one that is asked for */
  SbRigFit best;
  GCancellable *cancellable;
} Search;

static gboolean
all_are_ramps (const void *search, gsize level, SbRiseForm form)
{
  return form == SB_RISE_FORM_RAMP;
}

static gboolean
one_is_a_ramp (const void *search, gsize level, SbRiseForm form)
{
  return level != ((const Search *) search)->level || form == SB_RISE_FORM_RAMP;
}

static gboolean
one_is_rounded (const void *search, gsize level, SbRiseForm form)
{
  return level != ((const Search *) search)->level || form != SB_RISE_FORM_RAMP;
}

/* Of the forms that the level may have. */
static double
least_chi2 (const Search *search, const SbRig *rig, gsize level)
{
  double least = HUGE_VAL;
  for (int form = SB_RISE_FORM_RAMP; form < SB_N_RISE_FORMS; form++) {
    gsize n_figures;
    double cost = form == SB_RISE_FORM_RAMP ? 0 : 2 * sb_log (SB_N_RISE_FORMS - 1);
    if (search->may_be (search, level, (SbRiseForm) form) && cost < least)
      least = fmin (least, cost
                               + squares_of (rig, (SbRiseForm) form, &search->seen->levels[level].seen, &n_figures)
                                     / search->seen->levels[level].variance);
  }
  return least;
}

/* Whether it is among what is seen to ring, trial by trial. */
static double
cost_of_modes (const SbSeenRises *seen, const SbRig *rig)
{
  double sum = 0;
  for (gsize i = 0; i < seen->n_modes; i++) {
    double least = NOT_AMONG_MODES;
    for (gsize m = 0; m < seen->modes[i].n; m++) {
      double off = sb_log (rig->hz / seen->modes[i].hz[m]) / MODE_HZ_SHARE;
      double damping_off = sb_log (rig->damping / seen->modes[i].damping[m]) / MODE_DAMPING_SHARE;
      least = fmin (least, off * off + damping_off * damping_off);
    }
    sum += least;
  }
  return seen->n_modes > 0 ? sum / (double) seen->n_modes : 0;
}

static void
try_rig (Search *search, double hz, double damping)
{
  if (g_cancellable_is_cancelled (search->cancellable))
    return;
  SbRig rig = { TRUE, hz, damping };
  double chi2 = cost_of_modes (search->seen, &rig);
  chi2 += least_chi2 (search, &rig, search->level); /* first: it rules most rigs out */
  for (gsize i = 0; i < search->seen->n && chi2 < search->best.chi2; i++)
    if (i != search->level)
      chi2 += least_chi2 (search, &rig, i);
  if (chi2 < search->best.chi2)
    search->best = (SbRigFit){ rig, chi2 };
}

/* What is seen to ring lies between the points of the grid. */
static void
try_modes (Search *search)
{
  const SbSeenRises *seen = search->seen;
  gsize step = MAX (1, seen->n_modes / LEAST_TRIED);
  for (gsize i = 0; i < seen->n_modes; i += step)
    for (gsize m = 0; m < seen->modes[i].n; m++)
      try_rig (search, fmin (MOST_HZ, fmax (LEAST_HZ, seen->modes[i].hz[m])),
               fmin (MOST_DAMPING, fmax (LEAST_DAMPING, seen->modes[i].damping[m])));
}

static SbRigFit
find_best (Search *search)
{
  double step = sb_log (MOST_HZ / LEAST_HZ) / (N_HZ - 1), damping_step = sb_log (DAMPING_RATIO);
  search->best.chi2 = HUGE_VAL;
  for (int k = 0; k < N_HZ; k++)
    for (gsize d = 0; d < G_N_ELEMENTS (dampings); d++)
      try_rig (search, LEAST_HZ * sb_exp (k * step), dampings[d]);
  try_modes (search);
  for (int r = 0; r < N_REFINED; r++) {
    step *= REFINE_SHARE;
    damping_step *= r > 0 ? REFINE_SHARE : 1;
    SbRig centre = search->best.rig;
    for (int k = -1; k <= 1; k++)
      for (int d = -1; d <= 1; d++)
        if (k != 0 || d != 0)
          try_rig (search, centre.hz * sb_exp (k * step),
                   fmin (MOST_DAMPING, fmax (LEAST_DAMPING, centre.damping * sb_exp (d * damping_step))));
  }
  return search->best;
}

SbRigFit
sb_rig_search_ramps (const SbSeenRises *seen, GCancellable *cancellable)
{
  Search search = { .seen = seen, .may_be = all_are_ramps, .cancellable = cancellable };
  return find_best (&search);
}

SbRigFit
sb_rig_search_straight (const SbSeenRises *seen, gsize level, GCancellable *cancellable)
{
  Search search = { .seen = seen, .may_be = one_is_a_ramp, .level = level, .cancellable = cancellable };
  return find_best (&search);
}

SbRigFit
sb_rig_search_rounded (const SbSeenRises *seen, gsize level, GCancellable *cancellable)
{
  Search search = { .seen = seen, .may_be = one_is_rounded, .level = level, .cancellable = cancellable };
  return find_best (&search);
}
