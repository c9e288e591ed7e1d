/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How far two configurations are apart at each instant: mean of the other minus mean of the reference, with two bands
 * of 95 %: one for an instant that was chosen beforehand, and one that holds at all instants at once. Definitions:
 * 'Difference curve' of docs/methods.md. Immutable; shared between threads; the same data give the same bytes. */
#pragma once

#include "ensemble.h"

/* A stretch of time over which the band of all instants lies on one side of zero, returns to it that tell nothing
 * included: see 'Difference curve' of docs/methods.md. */
typedef struct {
  double from_s, to_s;  /* its first and last instant, after the onset; equal when it is one instant */
  int sign;             /* 1: the other lies above the reference; -1: below */
  double largest, at_s; /* the difference that is farthest from zero, in the channel's SI unit, and where */
  double area;          /* the difference over time, summed without sign: SI unit times s */
  gsize n, n_beyond;    /* its instants, and those of them at which the band does lie on that side */
} SbDifferenceStretch;

typedef struct {
  gboolean present;
  char *absent_reason; /* NULL when present */
  SbChannel channel;
  gsize n_reference, n_other; /* repeats */
  double step_s;              /* the larger of the two grid steps */
  gint64 first;               /* point k lies at (first + k) * step_s after the onset */
  gsize n_points;             /* instants that all repeats of both sides cover */
  double *difference;         /* other - reference */
  double *half_pointwise; /* half widths of the two bands; NaN where neither side scatters: nothing is judged there */
  double *half_simultaneous;
  double shift_s[2];   /* by what the reference's time may have to be moved, 0 or less and 0 or more, as commands
                        * jump somewhere in sample intervals that are not alike; both 0 where they are */
  double *by_shift[2]; /* the least (0 or less) and the most (0 or more) of the difference that such a shift makes;
                        * NULL without one */
  double df;           /* of the studentized difference (Welch & Satterthwaite), one figure for the whole curve */
  double critical;     /* half_simultaneous in standard errors */
  gboolean by_bound;   /* it is Bonferroni's bound over the instants: two repeats a side do not show how their scatter
                        * hangs together in time */
  GArray *stretches;   /* SbDifferenceStretch in order of time; may be empty */
  gatomicrefcount ref_count;
} SbDifferenceCurve;

/* Repeats of a side that are looked at for how the scatter hangs together in time; means and standard deviations are
 * those of all. */
#define SB_DIFFERENCE_MOST_REPEATS 20

/* `reference_trials` and `other_trials` are the first repeats of the two ensembles, all of them or
 * SB_DIFFERENCE_MOST_REPEATS. Absent, with the reason, when a side has fewer than two repeats or not the channel, when
 * there is no time that all cover, or when nothing scatters. (transfer full) */
SbDifferenceCurve *sb_difference_curve_new (const SbEnsemble *reference, SbTrial *const *reference_trials,
                                            const SbEnsemble *other, SbTrial *const *other_trials, SbChannel channel);
SbDifferenceCurve *sb_difference_curve_ref (SbDifferenceCurve *curve);
void sb_difference_curve_unref (SbDifferenceCurve *curve);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SbDifferenceCurve, sb_difference_curve_unref)

/* Whether stretch `index` is one of the `n` with the most area among those that reach into from_s..to_s: those that are
 * told where not all are. */
gboolean
sb_difference_stretch_is_large (const SbDifferenceCurve *curve, guint index, guint n, double from_s, double to_s);

/* The time of point k, after the onset. */
double sb_difference_curve_time (const SbDifferenceCurve *curve, gsize k);
