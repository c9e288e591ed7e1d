/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ensemble.h"
#include "grid.h"

#include <math.h>
#include <string.h>

/* The sums of one channel; element i stands for grid point held.first + i. */
typedef struct {
  double *mean, *m2, *lowest, *highest; /* m2: sum of squared distances from the mean (Welford 1962) */
} Sums;

struct SbEnsembleBuilder {
  double grid_step_s;
  SbSpan span_kind;
  guint channels;
  gsize n_trials;
  SbGridSpan held; /* what the arrays stand for */
  SbGridSpan span; /* what the result will cover; within `held` */
  Sums *sums[SB_N_CHANNELS];
  guint *count; /* per point; NULL with SB_SPAN_COMMON */
  double active_end_s;
  GPtrArray *kept;
};

static gsize
points_of (SbGridSpan span)
{
  return (gsize) (span.end - span.first);
}

static void
sums_free (Sums *sums)
{
  if (sums == NULL)
    return;
  g_free (sums->mean);
  g_free (sums->m2);
  g_free (sums->lowest);
  g_free (sums->highest);
  g_free (sums);
}

/* Memory that is zero from the start need not be touched before its first value comes. */
static Sums *
sums_new (gsize n)
{
  Sums *sums = g_new (Sums, 1);
  *sums = (Sums){ g_new0 (double, n), g_new0 (double, n), g_new0 (double, n), g_new0 (double, n) };
  return sums;
}

SbEnsembleBuilder *
sb_ensemble_builder_new (double grid_step_s, SbSpan span, guint channels, gboolean keep)
{
  g_return_val_if_fail (grid_step_s > 0, NULL);
  SbEnsembleBuilder *builder = g_new0 (SbEnsembleBuilder, 1);
  builder->grid_step_s = grid_step_s;
  builder->span_kind = span;
  builder->channels = channels & ~(1u << SB_CHANNEL_TIME);
  builder->active_end_s = INFINITY;
  if (keep)
    builder->kept = g_ptr_array_new_with_free_func ((GDestroyNotify) sb_trial_unref);
  return builder;
}

void
sb_ensemble_builder_free (SbEnsembleBuilder *builder)
{
  if (builder == NULL)
    return;
  for (int c = 0; c < SB_N_CHANNELS; c++)
    sums_free (builder->sums[c]);
  g_clear_pointer (&builder->kept, g_ptr_array_unref);
  g_free (builder->count);
  g_free (builder);
}

static void
begin (SbEnsembleBuilder *builder, const SbTrial *trial, SbGridSpan span)
{
  builder->held = builder->span = span;
  for (int c = 0; c < SB_N_CHANNELS; c++)
    if ((builder->channels & (1u << c)) != 0 && trial->signal[c] != NULL)
      builder->sums[c] = sums_new (points_of (span));
  if (builder->span_kind == SB_SPAN_UNION)
    builder->count = g_new0 (guint, points_of (span));
}

static void
move_array (double **array, gsize n_old, gsize n_new, gsize shift)
{
  double *moved = g_new0 (double, n_new);
  memcpy (moved + shift, *array, n_old * sizeof *moved);
  g_free (*array);
  *array = moved;
}

/* Makes room for all of `span` (a union only grows). */
static void
grow (SbEnsembleBuilder *builder, SbGridSpan span)
{
  gsize n_old = points_of (builder->held), n_new = points_of (span);
  gsize shift = (gsize) (builder->held.first - span.first);
  if (n_old == n_new)
    return;
  for (int c = 0; c < SB_N_CHANNELS; c++) {
    Sums *sums = builder->sums[c];
    if (sums == NULL)
      continue;
    move_array (&sums->mean, n_old, n_new, shift);
    move_array (&sums->m2, n_old, n_new, shift);
    move_array (&sums->lowest, n_old, n_new, shift);
    move_array (&sums->highest, n_old, n_new, shift);
  }
  guint *count = g_new0 (guint, n_new);
  memcpy (count + shift, builder->count, n_old * sizeof *count);
  g_free (builder->count);
  builder->count = count;
  builder->held = builder->span = span;
}

/* The first value at a point: no sums to read. */
static void
start_block (Sums *sums, gsize from, gsize n, const SbGridWeights *weights, const double *y)
{
  for (gsize k = 0; k < n; k++) {
    double value = sb_grid_value (weights, y, k);
    sums->mean[from + k] = sums->lowest[from + k] = sums->highest[from + k] = value;
  }
}

static inline void
add_value (Sums *sums, gsize i, double value, double one_over_n)
{
  double distance = value - sums->mean[i];
  sums->mean[i] += distance * one_over_n;
  sums->m2[i] += distance * (value - sums->mean[i]);
  sums->lowest[i] = MIN (sums->lowest[i], value);
  sums->highest[i] = MAX (sums->highest[i], value);
}

static void
add_block (Sums *sums, gsize from, gsize n, const SbGridWeights *weights, const double *y, gsize n_trials)
{
  double one_over_n = 1.0 / (double) n_trials;
  Sums s = *sums;
  for (gsize k = 0; k < n; k++)
    add_value (&s, from + k, sb_grid_value (weights, y, k), one_over_n);
}

/* With a union the number of values differs from point to point; count[] already holds the new one. */
static void
add_block_counted (Sums *sums, gsize from, gsize n, const SbGridWeights *weights, const double *y, const guint *count)
{
  Sums s = *sums;
  for (gsize k = 0; k < n; k++) {
    double value = sb_grid_value (weights, y, k);
    if (count[from + k] == 1)
      s.mean[from + k] = s.lowest[from + k] = s.highest[from + k] = value;
    else
      add_value (&s, from + k, value, 1.0 / (double) count[from + k]);
  }
}

static void
add_channels (SbEnsembleBuilder *builder, const SbTrial *trial, gsize from, gsize n, const SbGridWeights *weights)
{
  for (gsize k = 0; builder->count != NULL && k < n; k++)
    builder->count[from + k]++;
  for (int c = 0; c < SB_N_CHANNELS; c++) {
    Sums *sums = builder->sums[c];
    if (sums == NULL)
      continue;
    if (builder->count != NULL)
      add_block_counted (sums, from, n, weights, trial->signal[c], builder->count);
    else if (builder->n_trials == 1)
      start_block (sums, from, n, weights, trial->signal[c]);
    else
      add_block (sums, from, n, weights, trial->signal[c], builder->n_trials);
  }
}

gboolean
sb_ensemble_builder_add (SbEnsembleBuilder *builder, SbTrial *trial)
{
  g_return_val_if_fail (builder != NULL && trial != NULL && trial->n_samples >= 2, FALSE);
  if (trial->sample_interval_s > builder->grid_step_s)
    return FALSE;

  SbGridSpan own = sb_grid_span (trial, builder->grid_step_s);
  if (builder->n_trials++ == 0)
    begin (builder, trial, own);
  else if (builder->span_kind == SB_SPAN_UNION)
    grow (builder, sb_grid_union (builder->held, own));
  else
    builder->span = own = sb_grid_common (builder->span, own);
  for (int c = 0; c < SB_N_CHANNELS; c++)
    if (builder->sums[c] != NULL && trial->signal[c] == NULL)
      g_clear_pointer (&builder->sums[c], sums_free);

  SbGridWalk walk;
  sb_grid_walk_init (&walk, trial, builder->grid_step_s, own.first);
  while (walk.next < own.end) {
    SbGridWeights weights;
    gsize from = (gsize) (walk.next - builder->held.first);
    gsize n = (gsize) MIN (own.end - walk.next, SB_GRID_BLOCK);
    sb_grid_walk (&walk, n, &weights);
    add_channels (builder, trial, from, n, &weights);
  }

  builder->active_end_s = MIN (builder->active_end_s, trial->active_end_s - trial->onset_s);
  if (builder->kept != NULL)
    g_ptr_array_add (builder->kept, sb_trial_ref (trial));
  return TRUE;
}

/* The part of an array that the result covers, at its front; what was held beyond it is given back. */
static double *
trimmed (double **array, gsize shift, gsize n)
{
  double *all = g_steal_pointer (array);
  memmove (all, all + shift, n * sizeof *all);
  return g_renew (double, all, MAX (n, 1));
}

static SbMeanCurve *
curve_of (const SbEnsembleBuilder *builder, Sums *sums)
{
  gsize shift = (gsize) (builder->span.first - builder->held.first), n = points_of (builder->span);
  if (n == 0)
    shift = 0;
  SbMeanCurve *curve = g_new0 (SbMeanCurve, 1);
  curve->mean = trimmed (&sums->mean, shift, n);
  curve->sd = trimmed (&sums->m2, shift, n);
  curve->lowest = trimmed (&sums->lowest, shift, n);
  curve->highest = trimmed (&sums->highest, shift, n);
  for (gsize k = 0; k < n; k++) {
    gsize count = builder->count != NULL ? builder->count[k] : builder->n_trials;
    curve->sd[k] = count > 1 ? sqrt (curve->sd[k] / (double) (count - 1)) : (double) NAN;
    if (count == 0)
      curve->mean[k] = curve->lowest[k] = curve->highest[k] = NAN;
  }
  return curve;
}

SbEnsemble *
sb_ensemble_builder_finish (SbEnsembleBuilder *builder)
{
  SbEnsemble *ensemble = NULL;
  if (builder->n_trials > 0) {
    ensemble = g_new0 (SbEnsemble, 1);
    g_atomic_ref_count_init (&ensemble->ref_count);
    ensemble->n_trials = builder->n_trials;
    ensemble->grid_step_s = builder->grid_step_s;
    ensemble->first = builder->span.first;
    ensemble->n_points = points_of (builder->span);
    for (int c = 0; c < SB_N_CHANNELS; c++)
      if (builder->sums[c] != NULL)
        ensemble->curve[c] = curve_of (builder, builder->sums[c]);
    ensemble->count = g_steal_pointer (&builder->count);
    ensemble->active_end_s = builder->active_end_s;
    ensemble->kept = g_steal_pointer (&builder->kept);
  }
  sb_ensemble_builder_free (builder);
  return ensemble;
}
