/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "comparison.h"

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

/* Scatter below this share of the figures is the rounding of sums: the same curve at another time of its log gives it.
 */
#define ROUNDING_RATIO 1e-12

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

static char *
reason_of_side (const char *side, const SbMeasureSummary *summary)
{
  return g_strdup_printf ("the %s has no such figure: %s", side,
                          summary->absent_reason != NULL ? summary->absent_reason : "no repeat has one");
}

/* Why two summaries cannot be compared; NULL when they can. */
static char *
why_not (SbMeasureId id, const SbMeasureSummary *reference, const SbMeasureSummary *other, gboolean alike_rates)
{
  if (sb_measure_info (id)->of_configuration)
    return g_strdup ("it is one figure for each configuration: without scatter there is nothing to judge it by");
  if (!reference->present)
    return reason_of_side ("reference", reference);
  if (!other->present)
    return reason_of_side ("other configuration", other);
  if (id == SB_MEASURE_TORQUE_SMOOTHNESS && !alike_rates)
    return g_strdup (
        "not computed alike: its slope window, cut-off and spectrum hang on the sample rate, which differs; "
        "log both at one rate");
  if (reference->channel != other->channel)
    return g_strdup_printf (
        "different signals: the reference reads it from the %s, the other configuration from the %s",
        sb_channel_key (reference->channel), sb_channel_key (other->channel));
  if (reference->n < 2 || other->n < 2)
    return g_strdup_printf ("needs two trials on either side; there are %" G_GSIZE_FORMAT " and %" G_GSIZE_FORMAT,
                            reference->n, other->n);
  double size = fmax (fabs (reference->mean), fabs (other->mean));
  if (!(reference->sd + other->sd > ROUNDING_RATIO * size))
    return g_strdup ("every trial of a side gives the very same figure: without scatter there is nothing to judge by");
  return NULL;
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
  result->absent_reason = why_not (id, reference, other, alike_rates);
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

/* A comparison and the level of its verdict. */
typedef struct {
  const SbMeasureComparison *measure;
  double level;
} Judged;

static int
verdict_without (gconstpointer subject, double share)
{
  const Judged *judged = subject;
  const SbMeasureComparison *measure = judged->measure;
  const SbWelch *welch = &measure->welch;
  double left = welch->difference - share * measure->by_noise;
  double p = 2 * gsl_cdf_tdist_Q (fabs (left) / welch->standard_error, welch->df);
  return (int) verdict_on (measure, left, sb_noise_corrected (p, measure->p_holm, welch->p), judged->level);
}

/* Whether the true difference, wherever the commands jumped, leaves the verdict as it is. An undecided one is the
 * sampling's where the difference may be nothing by it alone. */
static gboolean
sampling_may_account (const SbMeasureComparison *measure, double level)
{
  const SbWelch *welch = &measure->welch;
  const double *beyond = measure->by_late_onsets;
  double low = welch->difference + beyond[0], high = welch->difference + beyond[1];
  if (!(beyond[1] > beyond[0]) || (measure->verdict != SB_VERDICT_PRACTICALLY_EQUAL && low <= 0 && high >= 0))
    return beyond[1] > beyond[0];
  for (int end = 0; end < 2; end++) {
    double left = welch->difference + beyond[end],
           p = 2 * gsl_cdf_tdist_Q (fabs (left) / welch->standard_error, welch->df);
    if (verdict_on (measure, left, sb_noise_corrected (p, measure->p_holm, welch->p), level) != measure->verdict)
      return measure->verdict != SB_VERDICT_UNDECIDED;
  }
  return FALSE;
}

gboolean
sb_sides_are_in_noise (const SbMeasureSummary *reference, const SbMeasureSummary *other)
{
  return 2 * reference->n_in_noise > reference->n && 2 * other->n_in_noise > other->n;
}

static void
decide (SbMeasureComparison *measure, gboolean in_noise, double level)
{
  double difference = measure->welch.difference;
  Judged judged = { measure, level };
  measure->verdict = verdict_on (measure, difference, measure->p_holm, level);
  measure->in_noise = in_noise && measure->verdict != SB_VERDICT_PRACTICALLY_EQUAL;
  measure->within_noise = fabs (measure->by_noise) > 0 && measure->verdict != SB_VERDICT_UNDECIDED
                          && sb_noise_may_account ((int) measure->verdict, measure->verdict == SB_VERDICT_DIFFERS,
                                                   difference, measure->by_noise, verdict_without, &judged);
  if (measure->verdict == SB_VERDICT_DIFFERS && fabs (difference) <= measure->by_crests)
    measure->within_noise = TRUE;
  measure->within_sampling = sampling_may_account (measure, level);
  double wide = hypot (sb_student_t (1 - level, measure->welch.df) * measure->welch.standard_error, measure->by_steps);
  measure->within_steps
      = measure->by_steps > 0
        && ((measure->verdict == SB_VERDICT_DIFFERS && fabs (difference) <= wide)
            || (measure->verdict == SB_VERDICT_PRACTICALLY_EQUAL && !(fabs (difference) + wide < measure->margin)));
  if (measure->in_noise || measure->within_noise || measure->within_steps || measure->cut_off
      || measure->within_sampling || measure->unit_doubted)
    measure->verdict = SB_VERDICT_UNDECIDED;
}

/* The size of the difference that is found, or that is left of it without what noise is expected to have made, or a
 * quarter more than that: the largest of the three, or the smallest; 0 when one points the other way, or when noise's
 * choice of crests may have made all of it. A verdict has to hold for each. */
static double
left_by_noise (const SbMeasureComparison *measure, gboolean largest)
{
  static const double shares[] = { 0, 1, 1 + SB_NOISE_KNOWN_TO };
  double found = measure->welch.difference, least = fabs (found), most = fabs (found);
  for (gsize i = 0; i < G_N_ELEMENTS (shares); i++) {
    double left = found - shares[i] * measure->by_noise;
    least = left * found > 0 ? fmin (least, fabs (left)) : 0;
    most = fmax (most, fabs (left));
  }
  return largest ? most : fabs (found) > measure->by_crests ? least : 0;
}

static SbSettle
settle (const SbMeasureSummary *reference, const SbMeasureSummary *other, const SbMeasureComparison *measure,
        const SbComparison *comparison)
{
  SbScatter scatter = { .sd = { reference->sd, other->sd }, .n = { (double) reference->n, (double) other->n } };
  double level = comparison->level, shared = level / (double) comparison->n_compared;
  double least = left_by_noise (measure, FALSE), most = left_by_noise (measure, TRUE);
  SbSettle settle = {
    .n_differs = least > 0 ? sb_t_repeats (&scatter, least, shared, SB_SETTLE_POWER) : 0,
    .n_equal = sb_tost_repeats (&scatter, most, measure->margin, level, SB_SETTLE_POWER),
    .noise_hides = !(least > 0),
  };
  if (reference->n == other->n)
    return settle;
  int fewer = reference->n < other->n ? 0 : 1;
  if (least > 0)
    settle.n_differs_beside = sb_repeats_beside (&scatter, fewer, least, NAN, shared, SB_SETTLE_POWER);
  settle.n_equal_beside = sb_repeats_beside (&scatter, fewer, most, measure->margin, level, SB_SETTLE_POWER);
  return settle;
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
        && !measures[i].cut_off && !measures[i].within_sampling && !measures[i].unit_doubted
        && !measures[i].within_steps)
      measures[i].settle = settle (&reference->measure[i], &other->measure[i], &measures[i], comparison);
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
