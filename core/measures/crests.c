/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "residual.h"

#include "steady_math.h"

#include <math.h>

/* Distances in expected periods: a crest nearer than the first belongs to the one before it; after the second one has
 * been missed; after the third the ringing is over and what still comes is noise. */
#define NEAREST 0.3
#define MISSED  1.5
#define OVER    3

/* The part of the curve above zero that is being walked along. */
typedef struct {
  gboolean open;
  double highest;
  gsize block; /* where it is highest */
} Lobe;

typedef struct {
  const SbResidual *residual;
  const SbCrestSearch *search;
  SbCrests crests;
  double latest_s; /* the last crest, in the run or not */
  gboolean missed, over;
} Walk;

static gsize
top_sample (const SbResidual *residual, gsize block, gsize block_size)
{
  gsize top = block * block_size;
  for (gsize i = top + 1; i < (block + 1) * block_size; i++)
    if (residual->y[residual->first + i] > residual->y[residual->first + top])
      top = i;
  return top;
}

static void
add_crest (Walk *walk, gsize sample)
{
  SbCrests *crests = &walk->crests;
  double at_s = walk->residual->t[walk->residual->first + sample] - walk->residual->start_s;
  double periods = crests->n > 0 ? (at_s - walk->latest_s) / walk->search->period_s : 1;
  walk->over = walk->over || periods > OVER;
  walk->missed = walk->missed || periods > MISSED;
  if (walk->over || periods < NEAREST)
    return;
  if (crests->n < SB_MAX_CRESTS)
    crests->sample[crests->n] = sample;
  if (crests->n == 0)
    crests->first_s = at_s;
  crests->n++;
  walk->latest_s = at_s;
  if (!walk->missed) {
    crests->n_run++;
    crests->last_s = at_s;
  }
}

static void
close_lobe (Walk *walk, Lobe *lobe)
{
  if (lobe->open && lobe->highest > walk->search->limit)
    add_crest (walk, top_sample (walk->residual, lobe->block, walk->search->block));
  lobe->open = FALSE;
}

static double
block_mean (const Walk *walk, gsize k)
{
  const SbCrestSearch *search = walk->search;
  double sum = 0;
  for (gsize i = k * search->block; i < (k + 1) * search->block; i++)
    sum += sb_residual_at (walk->residual, i);
  double t = walk->residual->t[walk->residual->first + k * search->block] - walk->residual->start_s;
  double half_block_s = (double) (search->block - 1) / 2 * walk->residual->interval_s;
  return sum / (double) search->block - search->offset - search->drift_per_s * fmin (t, search->drift_end_s)
         - search->rest * sb_exp (-search->rest_decay_per_s * (t + half_block_s));
}

SbCrests
sb_residual_crests (const SbResidual *residual, const SbCrestSearch *search)
{
  Walk walk = { .residual = residual, .search = search };
  Lobe lobe = { 0 };
  gsize n = search->n_samples / search->block;
  for (gsize k = 0; k < n && !walk.over; k++) {
    double value = block_mean (&walk, k);
    if (value < 0)
      close_lobe (&walk, &lobe);
    else if (!lobe.open || value > lobe.highest)
      lobe = (Lobe){ TRUE, value, k };
  }
  if (lobe.open && lobe.block + 1 < n) /* still rising at the end: no crest yet */
    close_lobe (&walk, &lobe);
  return walk.crests;
}
