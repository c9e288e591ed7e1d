/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "comparison.h"

#include "comparable.h"
#include "crest_rule.h"
#include "doubt.h"
#include "fairness.h"
#include "noise_rule.h"
#include "power.h"
#include "sampling_rule.h"
#include "statistics.h"
#include "steady_math.h"

#include <gsl/gsl_cdf.h>
#include <math.h>

const char *
sb_verdict_words (SbVerdict verdict)
{
  switch (verdict) {
  case SB_VERDICT_UNDECIDED:
    return "undecided";
  case SB_VERDICT_DIFFERS:
    return "differs";
  case SB_VERDICT_PRACTICALLY_EQUAL:
    return "practically equal";
  }
  return "undecided";
}

double
sb_margin_size (const SbMargin *margin, double reference_mean)
{
  return isnan (margin->absolute) ? margin->ratio * fabs (reference_mean) : margin->absolute;
}

/* Hedges 1981: the standardized difference times the exact factor c(m) that makes it unbiased, m = n1 + n2 - 2. */
static double
hedges_g (const SbMeasureSummary *reference, const SbMeasureSummary *other)
{
  double n1 = (double) reference->n, n2 = (double) other->n, m = n1 + n2 - 2;
  double pooled = sqrt (((n1 - 1) * reference->sd * reference->sd + (n2 - 1) * other->sd * other->sd) / m);
  int sign; /* both gammas are positive */
  double c = sb_exp (lgamma_r (m / 2, &sign) - lgamma_r ((m - 1) / 2, &sign)) / sqrt (m / 2);
  return c * (other->mean - reference->mean) / pooled;
}

static double
middle (const double ends[2])
{
  return (ends[0] + ends[1]) / 2;
}

/* Each side's windows may be alike and yet not those of the other side. */
static char *
doubt_of_windows (SbMeasureId id, const SbMeasureSummary *reference, const SbMeasureSummary *other)
{
  double a = middle (reference->window_end_s), b = middle (other->window_end_s);
  if (!sb_measure_info (id)->over_window || !(fmax (a, b) > SB_ALIKE_WINDOWS * fmin (a, b)))
    return NULL;
  return g_strdup_printf ("windows of unequal length: they end %.4g ms after the onset in the reference and %.4g ms in "
                          "the other configuration, and %s",
                          1e3 * a, 1e3 * b, SB_HANGS_ON_WINDOW);
}

static void
widen (double interval[2], double by)
{
  double half = (interval[1] - interval[0]) / 2, wider = hypot (half, by);
  interval[0] -= wider - half;
  interval[1] += wider - half;
}

static void
widen_by_steps (SbMeasureComparison *result, double by)
{
  result->by_steps = by;
  widen (result->welch.ci95, by);
  widen (result->welch.ci90, by);
}

static void
compare_measure (SbMeasureId id, const SbMeasureSummary *reference, const SbMeasureSummary *other,
                 const SbMargin *margin, gboolean alike_rates, SbMeasureComparison *result)
{
  result->absent_reason = sb_why_not_comparable (id, reference, other, alike_rates);
  if (result->absent_reason != NULL)
    return;
  result->present
      = sb_welch (reference->mean, reference->sd, reference->n, other->mean, other->sd, other->n, &result->welch);
  if (!result->present) {
    result->absent_reason = g_strdup ("the scatter of the trials is not known");
    return;
  }
  result->hedges_g = hedges_g (reference, other);
  result->margin = sb_margin_size (margin, reference->mean);
  result->by_noise = other->bias - reference->bias;
  sb_by_late_onsets (reference, other, result->by_late_onsets);
  widen_by_steps (result, SB_EVEN_95 * hypot (reference->resolution, other->resolution));
  result->onsets_average_out = sb_late_onsets_average_out (reference, other);
  result->by_crests = sb_by_crests (id, reference, other);
  result->n[0] = reference->n;
  result->n[1] = other->n;
  result->cut_off
      = sb_doubts_have (reference->doubts, SB_DOUBT_CUT_OFF) || sb_doubts_have (other->doubts, SB_DOUBT_CUT_OFF);
  result->unit_doubted
      = sb_doubts_have (reference->doubts, SB_DOUBT_UNIT) != sb_doubts_have (other->doubts, SB_DOUBT_UNIT);
  result->doubt = doubt_of_windows (id, reference, other);
  result->doubted = sb_doubts_beside_weighed (reference->doubts) || sb_doubts_beside_weighed (other->doubts)
                    || result->doubt != NULL;
}

/* A difference that is certain and yet within the margin is practically equal: the margin says what matters. */
static SbVerdict
verdict_on (const SbMeasureComparison *measure, double difference, double p_holm, double level)
{
  double half = sb_student_t (1 - level, measure->welch.df) * measure->welch.standard_error;
  if (fabs (difference) + half < measure->margin)
    return SB_VERDICT_PRACTICALLY_EQUAL;
  return p_holm < level ? SB_VERDICT_DIFFERS : SB_VERDICT_UNDECIDED;
}

/* A comparison, the level of its verdict, and how far beside the difference found it is judged. */
typedef struct {
  const SbMeasureComparison *measure;
  double level, beside;
} Judged;

static int
verdict_without (gconstpointer subject, double share)
{
  const Judged *judged = subject;
  const SbMeasureComparison *measure = judged->measure;
  const SbWelch *welch = &measure->welch;
  double left = welch->difference + judged->beside - share * measure->by_noise;
  double p = 2 * gsl_cdf_tdist_Q (fabs (left) / welch->standard_error, welch->df);
  return (int) verdict_on (measure, left, sb_noise_corrected (p, measure->p_holm, welch->p), judged->level);
}

/* Whether the verdict would be another one, or a difference the other way round, at an end of where the true difference
 * may lie, wherever the commands jumped; less what noise is expected to have made of it too, unless noise turns it by
 * itself. */
static gboolean
late_onsets_turn (const SbMeasureComparison *measure, double level)
{
  double found = measure->welch.difference;
  int verdict = (int) measure->verdict;
  gboolean differs = measure->verdict == SB_VERDICT_DIFFERS;
  for (int end = 0; end < 2; end++) {
    Judged judged = { measure, level, measure->by_late_onsets[end] };
    double left = found + judged.beside;
    if (verdict_without (&judged, 0) != verdict || (differs && !(left * found > 0)))
      return TRUE;
    if (!measure->within_noise
        && ((differs && fabs (left) <= measure->by_crests)
            || sb_noise_may_account (verdict, differs, left, measure->by_noise, verdict_without, &judged)))
      return TRUE;
  }
  return FALSE;
}

gboolean
sb_sides_are_in_noise (const SbMeasureSummary *reference, const SbMeasureSummary *other)
{
  return 2 * reference->n_in_noise > reference->n && 2 * other->n_in_noise > other->n;
}

static gboolean
late_onsets_matter (const SbMeasureComparison *measure)
{
  return measure->by_late_onsets[1] > measure->by_late_onsets[0];
}

static void
doubt_free_clocks (SbMeasureComparison *measure)
{
  measure->doubted = TRUE;
  if (measure->doubt == NULL)
    measure->doubt
        = g_strdup ("coarse onsets: the verdict takes the jumps of both sides to be as late on average, as they are "
                    "where the log's clock runs free of the command; their place in the sample interval could turn it");
}

static void
decide (SbMeasureComparison *measure, gboolean in_noise, double level)
{
  double difference = measure->welch.difference;
  Judged judged = { measure, level, 0 };
  measure->verdict = verdict_on (measure, difference, measure->p_holm, level);
  measure->in_noise = in_noise && measure->verdict != SB_VERDICT_PRACTICALLY_EQUAL;
  measure->within_noise = fabs (measure->by_noise) > 0 && measure->verdict != SB_VERDICT_UNDECIDED
                          && sb_noise_may_account ((int) measure->verdict, measure->verdict == SB_VERDICT_DIFFERS,
                                                   difference, measure->by_noise, verdict_without, &judged);
  if (measure->verdict == SB_VERDICT_DIFFERS && fabs (difference) <= measure->by_crests)
    measure->within_noise = TRUE;
  gboolean turned
      = late_onsets_matter (measure) && measure->verdict != SB_VERDICT_UNDECIDED && late_onsets_turn (measure, level);
  measure->within_sampling = turned && !measure->onsets_average_out;
  if (turned && measure->onsets_average_out)
    doubt_free_clocks (measure);
  double wide = hypot (sb_student_t (1 - level, measure->welch.df) * measure->welch.standard_error, measure->by_steps);
  measure->within_steps
      = measure->by_steps > 0
        && ((measure->verdict == SB_VERDICT_DIFFERS && fabs (difference) <= wide)
            || (measure->verdict == SB_VERDICT_PRACTICALLY_EQUAL && !(fabs (difference) + wide < measure->margin)));
  if (measure->in_noise || measure->within_noise || measure->within_steps || measure->cut_off
      || measure->within_sampling || measure->unit_doubted)
    measure->verdict = SB_VERDICT_UNDECIDED;
}

/* Sizes of the difference, least and most, for each of which a verdict has to hold: as found, and what is left of it
 * without what noise is expected to have made, or a quarter more than that; `beyond` moves it by what sampling may
 * account for. The least is 0 when one points the other way, or when noise's choice of crests may have made all. */
typedef struct {
  double least, most;
} Sizes;

static Sizes
sizes_left (const SbMeasureComparison *measure, const double beyond[2])
{
  static const double shares[] = { 0, 1, 1 + SB_NOISE_KNOWN_TO };
  double found = measure->welch.difference;
  Sizes sizes = { fabs (found), fabs (found) };
  for (gsize i = 0; i < 2 * G_N_ELEMENTS (shares); i++) {
    double left = found + beyond[i % 2] - shares[i / 2] * measure->by_noise;
    gboolean by_crests = i / 2 == 0 && fabs (left) <= measure->by_crests;
    sizes.least = left * found > 0 && !by_crests ? fmin (sizes.least, fabs (left)) : 0;
    sizes.most = fmax (sizes.most, fabs (left));
  }
  return sizes;
}

/* However many repeats there are, some of these sizes are within the margin and others are not. */
static gboolean
straddle (const Sizes *sizes, double margin)
{
  return sizes->least < margin && !(sizes->most < margin);
}

/* Of an undecided one; or it is left to the sampling, when that lets no number of repeats settle it. */
static void
settle (const SbMeasureSummary *reference, const SbMeasureSummary *other, const SbComparison *comparison,
        SbMeasureComparison *measure)
{
  static const double nothing[2] = { 0, 0 };
  SbScatter scatter = { .sd = { reference->sd, other->sd }, .n = { (double) reference->n, (double) other->n } };
  double level = comparison->level, shared = level / (double) comparison->n_compared;
  Sizes found = sizes_left (measure, nothing),
        sizes = sizes_left (measure, measure->onsets_average_out ? nothing : measure->by_late_onsets);
  measure->within_sampling = straddle (&sizes, measure->margin) && late_onsets_matter (measure)
                             && !measure->onsets_average_out
                             && (measure->within_sampling || !straddle (&found, measure->margin));
  if (measure->within_sampling)
    return;
  SbSettle *settle = &measure->settle;
  *settle = (SbSettle){
    .n_differs = sizes.least > 0 ? sb_t_repeats (&scatter, sizes.least, shared, SB_SETTLE_POWER) : 0,
    .n_equal = sb_tost_repeats (&scatter, sizes.most, measure->margin, level, SB_SETTLE_POWER),
    .noise_hides = !(found.least > 0),
    .sampling_hides = found.least > 0 && !(sizes.least > 0),
  };
  if (reference->n == other->n)
    return;
  int fewer = reference->n < other->n ? 0 : 1;
  if (sizes.least > 0)
    settle->n_differs_beside = sb_repeats_beside (&scatter, fewer, sizes.least, NAN, shared, SB_SETTLE_POWER);
  settle->n_equal_beside = sb_repeats_beside (&scatter, fewer, sizes.most, measure->margin, level, SB_SETTLE_POWER);
}

/* Holm's correction counts the measures that could be compared. */
static void
judge (SbComparison *comparison, const SbSummary *reference, const SbSummary *other)
{
  SbMeasureComparison *measures = comparison->measure;
  double p[SB_N_MEASURES];
  gsize n = 0;
  for (int i = 0; i < SB_N_MEASURES; i++)
    if (measures[i].present)
      p[n++] = measures[i].welch.p;
  sb_holm (p, n);
  comparison->n_compared = n;
  n = 0;
  for (int i = 0; i < SB_N_MEASURES; i++) {
    if (!measures[i].present)
      continue;
    measures[i].p_holm = p[n++];
    decide (&measures[i], sb_sides_are_in_noise (&reference->measure[i], &other->measure[i]), comparison->level);
    measures[i].doubted = measures[i].doubted
                          || (measures[i].within_noise
                              && (sb_doubts_have (reference->measure[i].doubts, SB_DOUBT_BIAS)
                                  || sb_doubts_have (other->measure[i].doubts, SB_DOUBT_BIAS)));
    if (measures[i].verdict == SB_VERDICT_UNDECIDED && !measures[i].within_noise && !measures[i].in_noise
        && !measures[i].cut_off && !measures[i].unit_doubted && !measures[i].within_steps)
      settle (&reference->measure[i], &other->measure[i], comparison, &measures[i]);
  }
}

SbComparison *
sb_comparison_new (const SbSummary *reference, SbTrialFacts *const *reference_facts, gsize n_reference,
                   const SbSummary *other, SbTrialFacts *const *other_facts, gsize n_other,
                   const SbMargin margin[SB_N_MEASURES], double level)
{
  g_return_val_if_fail (reference != NULL && other != NULL && level > 0 && level < 0.5, NULL);
  SbComparison *comparison = g_new0 (SbComparison, 1);
  g_atomic_ref_count_init (&comparison->ref_count);
  comparison->level = level;
  gboolean alike_rates = sb_rates_are_alike (reference_facts, n_reference, other_facts, n_other);
  for (int i = 0; i < SB_N_MEASURES; i++)
    compare_measure ((SbMeasureId) i, &reference->measure[i], &other->measure[i], &margin[i], alike_rates,
                     &comparison->measure[i]);
  judge (comparison, reference, other);
  comparison->fairness = sb_fairness_list (reference_facts, n_reference, other_facts, n_other);
  return comparison;
}

static const char *
sides_words (const guint measures[2], int id)
{
  return (measures[0] & 1u << id) == 0   ? "the other configuration"
         : (measures[1] & 1u << id) == 0 ? "the reference"
                                         : "both sides";
}

/* Scatter that is none about one value: repeats settle nothing. `doubt` (transfer full) stands where there is none. */
static void
note_no_scatter (SbMeasureComparison *measure, char *doubt)
{
  measure->doubted = TRUE;
  measure->settle = (SbSettle){ 0 };
  if (measure->doubt == NULL)
    measure->doubt = doubt;
  else
    g_free (doubt);
}

void
sb_comparison_note_ways (SbComparison *comparison, const guint differing[2])
{
  for (int m = 0; m < SB_N_MEASURES; m++) {
    SbMeasureComparison *measure = &comparison->measure[m];
    if (!measure->present || ((differing[0] | differing[1]) & 1u << m) == 0)
      continue;
    measure->of_two_ways = TRUE;
    note_no_scatter (measure, g_strdup_printf ("the repeats of %s that step up and those that step down differ: a mean "
                                               "over both describes neither, and what lies between them is no scatter",
                                               sides_words (differing, m)));
  }
}

void
sb_comparison_note_drifts (SbComparison *comparison, const guint drifting[2])
{
  for (int m = 0; m < SB_N_MEASURES; m++) {
    SbMeasureComparison *measure = &comparison->measure[m];
    gboolean drifts = ((drifting[0] | drifting[1]) & 1u << m) != 0;
    if (!measure->present || !drifts)
      continue;
    measure->drifts = TRUE;
    note_no_scatter (measure, g_strdup_printf ("drift over the repeats of %s: they are no scatter about one value, and "
                                               "the difference hangs on when they were made",
                                               sides_words (drifting, m)));
  }
  sb_fairness_add_drifts (comparison->fairness, drifting);
}

SbComparison *
sb_comparison_ref (SbComparison *comparison)
{
  g_atomic_ref_count_inc (&comparison->ref_count);
  return comparison;
}

void
sb_comparison_unref (SbComparison *comparison)
{
  if (comparison == NULL || !g_atomic_ref_count_dec (&comparison->ref_count))
    return;
  for (int i = 0; i < SB_N_MEASURES; i++) {
    g_free (comparison->measure[i].absent_reason);
    g_free (comparison->measure[i].doubt);
  }
  g_ptr_array_unref (comparison->fairness);
  g_free (comparison);
}
