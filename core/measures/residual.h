/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The residual in the ringing window: the signal minus its level (torque) or minus a quadratic trend (velocity). It is
 * never copied whole: block means of it are, as many as a fit needs. For the files of this folder only. */
#pragma once

#include <glib.h>

typedef struct {
  const double *t, *y; /* the log's samples */
  gsize first, n;      /* samples of the window */
  double start_s;      /* time of the log at which the window starts */
  double interval_s;   /* between samples */
  double baseline[3];  /* taken off: b0 + b1 u + b2 u², u in s from start_s */
} SbResidual;

static inline double
sb_residual_at (const SbResidual *residual, gsize i)
{
  gsize k = residual->first + i;
  double u = residual->t[k] - residual->start_s;
  return residual->y[k] - (residual->baseline[0] + u * (residual->baseline[1] + u * residual->baseline[2]));
}

/* Least-squares quadratic of the window as the baseline. */
void sb_residual_fit_trend (SbResidual *residual);

/* Noise of the last quarter, from second differences, which smooth ringing hardly enters: sqrt (mean d² / 6). */
double sb_residual_tail_noise (const SbResidual *residual);

/* Standard deviation of rounding (its unit / sqrt (12)) when the values are whole multiples of a unit, else 0: a log
 * written with few digits has this noise even where it looks still. */
double sb_residual_rounding_noise (const SbResidual *residual);

/* RMS over the whole window. Into `n_loud` the number of samples, from the start, that the ringing lasts: until it
 * stays within the noise floor, and as long again; 0 when it never leaves it. */
double sb_residual_rms (const SbResidual *residual, double noise, gsize *n_loud);

/* Block means of the residual, `block` samples each. */
typedef struct {
  double *t_s; /* mean time of the block, from the window's start */
  double *y;
  gsize n, block;
  double step_s;
} SbRecord;

/* From the first `n_samples` samples, at most `n_max` means. */
void sb_record_init (SbRecord *record, const SbResidual *residual, gsize n_samples, gsize block, gsize n_max);
void sb_record_clear (SbRecord *record);

/* Frequency of the highest peak of the periodogram of the first `n_samples` samples, Hz; 0 when there is none above 1.5
 * cycles in them. `peak_hz` of a decaying oscillation lies a little low. */
double sb_residual_peak_hz (const SbResidual *residual, gsize n_samples);

#define SB_MAX_CRESTS 15

/* What is looked for, and what the fit says is not oscillation: an offset, a drift that ends at drift_end_s, and a rest
 * of the rise that dies away. */
typedef struct {
  gsize n_samples, block; /* so many samples from the start, read in block means */
  double limit;           /* crests stand above it */
  double period_s;        /* expected; the noise's crests are told by their distance */
  double offset, drift_per_s, drift_end_s;
  double rest, rest_decay_per_s;
} SbCrestSearch;

typedef struct {
  gsize n;                     /* crests, one between two falls below zero, until three periods pass without one */
  gsize sample[SB_MAX_CRESTS]; /* the first of them: index into the window of the sample at the top */
  gsize n_run;                 /* crests that follow one another without a miss */
  double first_s, last_s;      /* instants of the first and the last one of these */
} SbCrests;

SbCrests sb_residual_crests (const SbResidual *residual, const SbCrestSearch *search);
