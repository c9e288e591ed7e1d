/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Is the difference between two configurations real? Per measure: Welch's interval, Holm's correction over the measures
 * compared, Hedges' g, and two one-sided tests within a margin. Definitions: 'Judgements' of docs/methods.md. */
#pragma once

#include "measure_table.h"
#include "trial_facts.h"

typedef enum {
  SB_VERDICT_UNDECIDED,
  SB_VERDICT_DIFFERS,           /* Holm-corrected p below the level, and not practically equal */
  SB_VERDICT_PRACTICALLY_EQUAL, /* both one-sided tests at the level: at 5 % the 90 % interval lies within ± margin. A
                                 * difference that is certain and within the margin is practically equal: the margin
                                 * says what matters */
} SbVerdict;

const char *sb_verdict_words (SbVerdict verdict); /* "differs", "practically equal", "undecided" */

/* Welch 1947; degrees of freedom after Welch-Satterthwaite. */
typedef struct {
  double difference; /* other - reference */
  double standard_error;
  double df, t, p; /* p two-sided */
  double ci95[2], ci90[2];
} SbWelch;

/* FALSE, with nothing written, when either n is below 2 or both standard deviations are 0. */
gboolean sb_welch (double reference_mean, double reference_sd, gsize reference_n, double other_mean, double other_sd,
                   gsize other_n, SbWelch *welch);

/* Holm 1979: adjusted p values in place of p[0..n), each at least the raw one, capped at 1. */
void sb_holm (double *p, gsize n);

/* What counts as equal in a measure: a share of the reference mean, or a difference. */
typedef struct {
  double ratio;    /* of |reference mean|; NaN: `absolute` counts */
  double absolute; /* SI; NaN: `ratio` counts */
} SbMargin;

/* Half width of practical equality, SI. */
double sb_margin_size (const SbMargin *margin, double reference_mean);

/* Repeats on either side that would settle an undecided comparison with a power of SB_SETTLE_POWER, scatter and
 * difference being those found, and the verdict to hold without what noise may have made of it too; 0: not with
 * SB_MOST_REPEATS (power.h), or not at all. */
#define SB_SETTLE_POWER 0.8
typedef struct {
  gsize n_differs; /* to show a difference as large as the one found, at the level shared among the measures compared */
  gsize n_equal;   /* to show equality within the margin */
  gsize n_differs_beside, n_equal_beside; /* of the side with fewer repeats alone, the other keeping those it has; 0 too
                                           * where both have as many */
  gboolean noise_hides;    /* no number shows a difference as large as the one found: noise may have made all of it */
  gboolean sampling_hides; /* likewise: where the commands jumped may account for all of it */
} SbSettle;

typedef struct {
  gboolean present;
  SbWelch welch;
  double p_holm;
  double hedges_g;  /* bias-corrected, pooled standard deviation (Hedges 1981) */
  double margin;    /* SI, the half width of practical equality */
  double by_noise;  /* SI, how much of the difference noise is expected to have made (SbMeasureSummary.bias) */
  double by_crests; /* SI, 0 or more: how much of it noise may have made by the crests at which a figure is read, or
                     * that stand above it (crest_rule.h) */
  double by_late_onsets[2];    /* SI, 0 or less and 0 or more: how far the true difference may lie beside the one found,
                                * since the commands jump somewhere in their sample intervals (sampling_rule.h) */
  gboolean onsets_average_out; /* both sides are as late on average where clocks run free: it is not weighed, and a
                                * verdict that it could turn is doubted */
  double by_steps; /* SI, 0 or more: half width of what the steps that the sides' signals are logged in leave unknown
                    * (SbMeasureSummary.resolution); it is in the intervals of `welch` */
  gboolean within_sampling; /* undecided for that: no number of repeats tells */
  gboolean within_noise;    /* undecided for that: without it there would be another verdict */
  gboolean cut_off;         /* undecided since a side's sensor looks to be at the end of its range (SB_DOUBT_CUT_OFF) */
  gboolean in_noise;        /* undecided since neither side's figure stands above the noise in most of its repeats */
  gboolean within_steps;    /* undecided since by_steps alone may make the verdict another */
  gboolean unit_doubted;    /* undecided since other signals speak against the unit of one side alone (SB_DOUBT_UNIT) */
  SbVerdict verdict;
  SbSettle settle;      /* of an undecided one that repeats can settle */
  gsize n[2];           /* repeats of the reference and the other that have the measure */
  gboolean of_two_ways; /* a side's repeats up and down differ: more of them settle nothing */
  gboolean drifts;      /* a side's repeats drift from the first to the last: more of them settle nothing */
  gboolean doubted;     /* one of the two figures has doubts (SbMeasureSummary.doubts) besides a bias that cannot turn
                         * the verdict, or the comparison has: so has the verdict */
  char *doubt;          /* of the comparison itself, which neither figure has; NULL: none */
  char *absent_reason;  /* NULL when present */
} SbMeasureComparison;

/* Something other than the setting under study that differs between the two sides. It warns; it blocks nothing. */
typedef struct {
  char *what; /* "rotation range", "sample rate", "repeats" */
  char *reference, *other;
  gboolean same; /* the warning is that nothing can differ: both sides are the same recordings */
} SbFairness;

typedef struct {
  SbMeasureComparison measure[SB_N_MEASURES];
  double level;        /* of the verdicts; intervals are of 95 % whatever it is */
  gsize n_compared;    /* measures that could be compared: what Holm's correction counts */
  GPtrArray *fairness; /* SbFairness; may be empty */
  gatomicrefcount ref_count;
} SbComparison;

/* `margin` says what counts as equal, per measure; `level` (0.05) what is rare enough for a verdict. Configuration
 * figures (velocity_deviation) are absent: one figure a side has no scatter. The facts of the included trials serve the
 * fairness list: rotation range, sample rate, command size, firmware, supply, filters not at zero, repeats.
 * (transfer full) */
SbComparison *sb_comparison_new (const SbSummary *reference, SbTrialFacts *const *reference_facts, gsize n_reference,
                                 const SbSummary *other, SbTrialFacts *const *other_facts, gsize n_other,
                                 const SbMargin margin[SB_N_MEASURES], double level);

/* Most repeats of both sides do not stand above the noise: that one noise is larger than the other is no difference. */
gboolean sb_sides_are_in_noise (const SbMeasureSummary *reference, const SbMeasureSummary *other);

/* Measures, as bits 1u << SbMeasureId, that drift over the repeats of the reference and of the other: a fairness entry,
 * and a doubt on each of them. For a comparison that nobody else holds yet. */
void sb_comparison_note_drifts (SbComparison *comparison, const guint drifting[2]);

/* Likewise of measures that differ between the repeats of a side that step up and those that step down. */
void sb_comparison_note_ways (SbComparison *comparison, const guint differing[2]);
SbComparison *sb_comparison_ref (SbComparison *comparison);
void sb_comparison_unref (SbComparison *comparison);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SbComparison, sb_comparison_unref)
