/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "residual.h"

#include <math.h>

/* The part of the curve above zero that is being walked along. */
typedef struct {
  gboolean open;
  double highest;
  gsize block; /* where it is highest */
} Lobe;

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
close_lobe (SbCrests *crests, const SbResidual *residual, Lobe *lobe, gsize block_size, double limit)
{
  if (lobe->open && lobe->highest > limit) {
    gsize sample = top_sample (residual, lobe->block, block_size);
    double at_s = residual->t[residual->first + sample] - residual->start_s;
    if (crests->n < SB_MAX_CRESTS)
      crests->sample[crests->n] = sample;
    if (crests->n == 0)
      crests->first_s = at_s;
    crests->last_s = at_s;
    crests->n++;
  }
  lobe->open = FALSE;
}

SbCrests
sb_residual_crests (const SbResidual *residual, gsize n_samples, gsize block, double limit, double offset, double drift,
                    double drift_end_s)
{
  SbCrests crests = { 0 };
  Lobe lobe = { 0 };
  gsize n = n_samples / block;
  for (gsize k = 0; k < n; k++) {
    double sum = 0;
    for (gsize i = k * block; i < (k + 1) * block; i++)
      sum += sb_residual_at (residual, i);
    double t = residual->t[residual->first + k * block] - residual->start_s;
    double value = sum / (double) block - offset - drift * fmin (t, drift_end_s);
    if (value < 0)
      close_lobe (&crests, residual, &lobe, block, limit);
    else if (!lobe.open || value > lobe.highest)
      lobe = (Lobe){ TRUE, value, k };
  }
  if (lobe.open && lobe.block + 1 < n) /* still rising at the end: no crest yet */
    close_lobe (&crests, residual, &lobe, block, limit);
  return crests;
}
