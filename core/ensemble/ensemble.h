/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Repeats brought together: aligned on their onsets, on one grid, with mean and spread at each instant.
 * Definitions: 'Averaging of repeats' of docs/methods.md. Immutable; shared between threads. */
#pragma once

#include "trial.h"

typedef enum {
  SB_BAND_SD,         /* mean ± k s */
  SB_BAND_CONFIDENCE, /* 95 % confidence of the mean, Student t */
  SB_BAND_RANGE,      /* smallest to largest */
  SB_BAND_QUARTILES,  /* first to third quartile; needs kept trials */
  SB_N_BANDS,
} SbBandKind;

const char *sb_band_key (SbBandKind band);                   /* "sd", "confidence", "range", "quartiles" */
char *sb_band_words (SbBandKind band, double k); /* "mean ± 1 standard deviation"; (transfer full) */

typedef enum {
  SB_SPAN_COMMON, /* what all trials cover */
  SB_SPAN_UNION,  /* what any trial covers; then count[] varies, and means are NaN where it is 0 */
} SbSpan;

/* One channel over the grid; every array has n_points values. */
typedef struct {
  double *mean;
  double *sd; /* divisor n - 1; NaN where fewer than 2 trials */
  double *lowest, *highest;
} SbMeanCurve;

typedef struct {
  gsize n_trials;
  double grid_step_s;
  gint64 first;                      /* grid point k lies at (first + k) * grid_step_s after the onset */
  gsize n_points;                    /* may be 0: the trials have no time in common */
  SbMeanCurve *curve[SB_N_CHANNELS]; /* NULL unless every trial has the channel; TIME is always NULL */
  guint *count;                      /* trials at each point; NULL with SB_SPAN_COMMON (all of them) */
  double active_end_s;               /* earliest end of the active windows, after the onset */
  GPtrArray *kept;                   /* SbTrial: the trials, when kept; else NULL */
  gatomicrefcount ref_count;
} SbEnsemble;

/* Adds trials one by one and keeps none of them, unless `keep` is TRUE: so a batch run holds grids, not logs. The
 * order of adding is the order of the result's arithmetic: same order, same bytes. Channels other than those in
 * `channels` (a bit mask, 1u << SbChannel) are not averaged. A log whose clock jumps far ahead is followed for 16 grid
 * points per sample and no further: a grid over the jump would not fit in memory. */
typedef struct SbEnsembleBuilder SbEnsembleBuilder;
SbEnsembleBuilder *sb_ensemble_builder_new (double grid_step_s, SbSpan span, guint channels, gboolean keep);

/* FALSE, with nothing changed, when the trial's sample interval is larger than the grid step: begin again with it. */
gboolean sb_ensemble_builder_add (SbEnsembleBuilder *builder, SbTrial *trial);

/* Ends the builder and gives the ensemble; NULL when nothing was added. (transfer full) */
SbEnsemble *sb_ensemble_builder_finish (SbEnsembleBuilder *builder);
void sb_ensemble_builder_free (SbEnsembleBuilder *builder);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SbEnsembleBuilder, sb_ensemble_builder_free)

/* All at once, the grid step being the largest sample interval; keeps the trials. NULL when n is 0. (transfer full) */
SbEnsemble *sb_ensemble_new (SbTrial *const *trials, gsize n, SbSpan span, guint channels);

/* The band around the mean into `lower` and `upper`, n_points each. FALSE, outputs untouched, when there is no band:
 * one trial, no such channel, or quartiles without kept trials. `k` is for SB_BAND_SD. */
gboolean sb_ensemble_band (const SbEnsemble *ensemble, SbChannel channel, SbBandKind band, double k, double *lower,
                           double *upper);

/* Linear interpolation of one trial's channel at the n_points grid points (NaN outside its samples). */
void sb_ensemble_resample (const SbEnsemble *ensemble, const SbTrial *trial, SbChannel channel, double *values);

/* √ of the time mean of s(t)² from the onset to active_end_s; NaN when there is no spread. */
double sb_ensemble_deviation (const SbEnsemble *ensemble, SbChannel channel);

SbEnsemble *sb_ensemble_ref (SbEnsemble *ensemble);
void sb_ensemble_unref (SbEnsemble *ensemble);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SbEnsemble, sb_ensemble_unref)
