/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "claim_side.h"

#include "doubt.h"
#include "power.h"

#include <gsl/gsl_cdf.h>
#include <math.h>
#include <string.h>

/* More repeats than anyone makes. */
#define MOST_REPEATS 10000
#define LEVEL        0.05
#define POWER        0.8
/* Scatter below this share of the mean is the rounding of sums, as in a comparison. */
#define ROUNDING_RATIO 1e-12
/* A bias below this share of the interval's half is not worth a word. */
#define BIAS_SHARE 0.25

static char *
stated_number (const SbClaim *claim, SbUnits units, double value)
{
  SbShownUnit unit = sb_measure_shown_unit (claim->measure, units);
  g_autofree char *digits = sb_number_plain (value * unit.factor);
  return strcmp (unit.name, "1") == 0 ? g_steal_pointer (&digits) : g_strdup_printf ("%s %s", digits, unit.name);
}

char *
sb_claim_value_text (const SbClaim *claim, SbUnits units)
{
  char *value = stated_number (claim, units, claim->value);
  if (claim->relation != SB_CLAIM_ABOUT)
    return value;
  g_autofree char *stated = value;
  g_autofree char *tolerance = stated_number (claim, units, claim->tolerance);
  return g_strdup_printf ("%s ± %s", stated, tolerance);
}

static gboolean
is_slope (SbMeasureId id)
{
  return id == SB_MEASURE_MEAN_TORQUE_SLOPE || id == SB_MEASURE_PEAK_TORQUE_SLOPE;
}

/* The onset is the first sample at the new command: up to an interval late, in every repeat. */
static gboolean
counts_from_onset (SbMeasureId id)
{
  return id == SB_MEASURE_DEAD_TIME || id == SB_MEASURE_VELOCITY_RISE_TIME || id == SB_MEASURE_SETTLING_TIME;
}

/* Of a repeat: from one sample to the next, or from one value of the torque to the next. */
static double
interval_of (const SbClaimInput *input, gsize i)
{
  return fmax (input->facts[i]->sample_interval_s, input->measures[i]->transition.torque_interval_s);
}

static double
longest_interval (const SbClaimInput *input)
{
  double longest = 0;
  for (gsize i = 0; i < input->n; i++)
    longest = fmax (longest, interval_of (input, i));
  return longest;
}

/* Some repeat's figure lies nearer to what `one` might as well have had than to what it has. */
static gboolean
is_read_at_both (const SbClaimInput *input, SbMeasureId id, const SbMeasure *one)
{
  for (gsize k = 0; k < input->n; k++) {
    const SbMeasure *two = &input->measures[k]->measure[id];
    if (two->present && fabs (two->value - one->other) < fabs (two->value - one->value))
      return TRUE;
  }
  return FALSE;
}

/* Of repeats that noise reads at one crest or at another, how far these are apart at most; their scatter does not
 * count. */
static double
crests_apart (const SbClaimInput *input, SbMeasureId id)
{
  double apart = 0;
  for (gsize i = 0; i < input->n; i++) {
    const SbMeasure *one = &input->measures[i]->measure[id];
    if (one->present && sb_doubts_have (one->doubts, SB_DOUBT_EITHER) && is_read_at_both (input, id, one))
      apart = fmax (apart, fabs (one->value - one->other));
  }
  return apart;
}

/* What the test itself can tell, apart from the scatter of the repeats. */
static void
find_resolution (const SbClaimInput *input, SbMeasureId id, SbClaimSide *side)
{
  double bias = 0, uncertainty = 0, interval_s = longest_interval (input);
  gsize n_bias = 0, n_uncertainty = 0;
  for (gsize i = 0; i < input->n; i++) {
    const SbMeasure *measure = &input->measures[i]->measure[id];
    const SbTransition *transition = &input->measures[i]->transition;
    if (!measure->present)
      continue;
    bias += measure->bias;
    side->n_cut_short += measure->is_cut_short ? 1 : 0;
    side->n_cut_off += sb_doubts_have (measure->doubts, SB_DOUBT_CUT_OFF) ? 1 : 0;
    n_bias++;
    if (measure->uncertainty > 0) {
      uncertainty += measure->uncertainty;
      n_uncertainty++;
    }
    if (is_slope (id) && transition->has_torque_step)
      side->steepest_nm_per_s = fmin (side->steepest_nm_per_s, /* NaN at first, which fmin passes over */
                                      0.8 * (transition->top_nm - transition->base_nm) / (4 * interval_of (input, i)));
  }
  side->by_late_onset = input->summary->measure[id].by_late_onset;
  side->bias = n_bias > 0 ? bias / (double) n_bias : 0;
  side->resolution = n_uncertainty > 0 ? uncertainty / (double) n_uncertainty : (double) NAN;
  side->crests_apart = crests_apart (input, id);
  if (counts_from_onset (id))
    side->resolution = fmax (interval_s, isnan (side->resolution) ? 0 : side->resolution);
}

/* Chance that the interval of n repeats leaves out what is `distance` from the true mean: of the one-sample t test. */
static double
chance (double n, double sd, double distance, gsize n_sides)
{
  double critical = gsl_cdf_tdist_Pinv (1 - LEVEL / 2 / (double) n_sides, n - 1), away = distance / sd * sqrt (n);
  return 1 - sb_noncentral_t (critical, n - 1, away) + sb_noncentral_t (-critical, n - 1, away);
}

/* Smallest n with which the verdict is settled with the chance POWER, by doubling and halving; 0 when none is. */
static gsize
repeats_needed (double sd, double distance, gsize n_sides)
{
  gsize enough = 2, short_of = 1;
  while (chance ((double) enough, sd, distance, n_sides) < POWER) {
    short_of = enough;
    enough *= 2;
    if (enough > MOST_REPEATS)
      return 0;
  }
  while (enough - short_of > 1) {
    gsize middle = (enough + short_of) / 2;
    if (chance ((double) middle, sd, distance, n_sides) < POWER)
      short_of = middle;
    else
      enough = middle;
  }
  return enough;
}

/* Distance of the mean from where the verdict turns. */
static double
distance_from_edge (const SbClaim *claim, double mean)
{
  double apart = fabs (mean - claim->value);
  return claim->relation == SB_CLAIM_ABOUT ? fabs (apart - claim->tolerance) : apart;
}

/* Of an edge from the mean, from the mean less what noise may have raised it and from where a late onset may have put
 * it; 0 when it lies among them, where no number of repeats settles it. */
static double
distance_with_bias (const SbClaimSide *side, double edge)
{
  double low = side->mean - fmax (0, side->bias) + fmin (0, side->by_late_onset);
  double high = side->mean - fmin (0, side->bias) + fmax (0, side->by_late_onset);
  return fmax (0, fmax (edge - high, low - edge));
}

/* What repeats have to resolve for a verdict. */
static double
distance_to_settle (const SbClaim *claim, const SbClaimSide *side)
{
  return fmin (distance_with_bias (side, claim->value - claim->tolerance),
               distance_with_bias (side, claim->value + claim->tolerance));
}

/* Repeats that are the very same do not show how far a mean is known; counts may well be the same. */
static gboolean
lacks_scatter (const SbClaim *claim, const SbClaimSide *side)
{
  return claim->measure != SB_MEASURE_RINGING_CYCLES && !(side->by_steps > 0)
         && !(side->sd > ROUNDING_RATIO * fabs (side->mean));
}

/* Some repeat stands in the configuration twice, be it as a copy of its file. */
static gboolean
has_copies (const SbClaimInput *input)
{
  g_autoptr (GHashTable) first_of = g_hash_table_new (g_str_hash, g_str_equal); /* borrowed SHA-256 -> 1 + index */
  for (gsize i = 0; i < input->n; i++) {
    gsize first = GPOINTER_TO_SIZE (g_hash_table_lookup (first_of, input->facts[i]->sha256));
    for (gsize k = first; first > 0 && k <= i; k++)
      if (sb_trial_facts_are_of_one_repeat (input->facts[k - 1], input->facts[i]))
        return TRUE;
    if (first == 0)
      g_hash_table_insert (first_of, input->facts[i]->sha256, GSIZE_TO_POINTER (i + 1));
  }
  return FALSE;
}

/* Where the mean's interval, made wider by what noise may have raised or lowered it and by how late its onset may be,
 * lies. */
static SbClaimVerdict
verdict_on (const SbClaim *claim, const SbClaimSide *side, double bias, double by_late_onset)
{
  double low = side->interval[0] - fmax (0, bias) + fmin (0, by_late_onset);
  double high = side->interval[1] - fmin (0, bias) + fmax (0, by_late_onset);
  double least = claim->value - claim->tolerance, most = claim->value + claim->tolerance;
  gboolean bounded_below = claim->relation != SB_CLAIM_AT_MOST, bounded_above = claim->relation != SB_CLAIM_AT_LEAST;
  if ((bounded_below && high < least) || (bounded_above && low > most))
    return SB_CLAIM_NOT_REACHED;
  return (!bounded_below || low >= least) && (!bounded_above || high <= most) ? SB_CLAIM_REACHED : SB_CLAIM_CANNOT_TELL;
}

static char *
sensor_at_its_end (const SbClaimSide *side)
{
  return g_strdup_printf ("in %" G_GSIZE_FORMAT " of %" G_GSIZE_FORMAT
                          " repeats the sensor looks to be at the end of its range; a sensor, or an input, with a "
                          "larger one would tell",
                          side->n_cut_off, side->n);
}

static char *
unit_in_doubt (void)
{
  return g_strdup ("another signal speaks against the unit that it is in; a layout that states the units would tell");
}

/* Why repeats show no scatter, and what would make them. */
static char *
why_no_scatter (const SbClaimSide *side, gboolean copies)
{
  if (side->is_unit_doubted)
    return unit_in_doubt ();
  if (side->n_cut_off > 0)
    return sensor_at_its_end (side);
  if (copies)
    return g_strdup ("copies of one log do not show how far repeats lie apart; measure others in their place");
  return g_strdup ("the log's resolution hides by how much the repeats scatter; logged with more digits, or a finer "
                   "input, they would tell");
}

/* What is stated lies within what the steps of the log leave unknown: repeats take nothing off that. */
static gboolean
steps_alone_hide (const SbClaim *claim, const SbClaimSide *side)
{
  return side->by_steps > 0 && (!(side->sd > 0) || distance_from_edge (claim, side->mean) <= side->by_steps);
}

/* Why the verdict cannot stand for all its interval; NULL when it can. */
static char *
why_unresolved (const SbClaim *claim, SbUnits units, const SbClaimSide *side, double interval_s)
{
  if (side->is_unit_doubted)
    return unit_in_doubt ();
  if (distance_from_edge (claim, side->mean) < side->crests_apart) {
    g_autofree char *apart = sb_measure_format_in (claim->measure, units, side->crests_apart, NAN, TRUE);
    return g_strdup_printf ("noise decides in which repeat it is read at which crest, up to %s apart, and what is "
                            "stated is nearer to the mean than that; less noise would tell, not more repeats",
                            apart);
  }
  if (counts_from_onset (claim->measure) && distance_from_edge (claim, side->mean) < interval_s) {
    g_autofree char *interval = sb_measure_format_in (claim->measure, units, interval_s, NAN, TRUE);
    return g_strdup_printf ("the distance is below one sample interval, %s; a higher sample rate would tell", interval);
  }
  if (side->verdict == SB_CLAIM_CANNOT_TELL && steps_alone_hide (claim, side)) {
    g_autofree char *by = sb_measure_format_in (claim->measure, units, side->by_steps, side->by_steps, TRUE);
    return g_strdup_printf (
        "the steps that it is logged in leave ± %s of it unknown; logged with more digits, or a finer "
        "input, it would tell, not more repeats",
        by);
  }
  if (side->verdict == SB_CLAIM_CANNOT_TELL)
    return NULL;
  if (claim->relation != SB_CLAIM_AT_MOST && side->verdict == SB_CLAIM_NOT_REACHED && is_slope (claim->measure)
      && claim->value - claim->tolerance > side->steepest_nm_per_s) {
    g_autofree char *steepest = sb_measure_format_in (claim->measure, units, side->steepest_nm_per_s, NAN, TRUE);
    return g_strdup_printf (
        "of slopes above %s this test has too few samples on the rise, and may show less than there is; a higher "
        "sample rate or a larger step would tell",
        steepest);
  }
  gboolean is_short = side->verdict == SB_CLAIM_NOT_REACHED && side->mean < claim->value - claim->tolerance;
  gboolean may_pass = side->verdict == SB_CLAIM_REACHED && claim->relation != SB_CLAIM_AT_LEAST;
  if ((is_short || may_pass) && side->n_cut_short > 0)
    return g_strdup_printf ("it still rises when the log ends in %" G_GSIZE_FORMAT " of %" G_GSIZE_FORMAT
                            " repeats; log for longer",
                            side->n_cut_short, side->n);
  return (is_short || may_pass) && side->n_cut_off > 0 ? sensor_at_its_end (side) : NULL;
}

static char *
verdict_sentence (const SbClaim *claim, const SbClaimSide *side, const char *unresolved)
{
  if (unresolved != NULL)
    return g_strdup_printf ("cannot tell: %s", unresolved);
  gboolean practical = side->n_needed > 0 && side->n_needed <= SB_MOST_PRACTICAL_REPEATS;
  if (side->verdict == SB_CLAIM_CANNOT_TELL && practical)
    return g_strdup_printf ("cannot tell; with this mean and scatter %" G_GSIZE_FORMAT
                            " repeats would settle it in 80 of 100 cases",
                            MAX (side->n_needed, side->n + 1));
  if (side->verdict == SB_CLAIM_CANNOT_TELL
      && fabs (side->bias) > BIAS_SHARE * (side->interval[1] - side->interval[0]) / 2
      && !(distance_to_settle (claim, side) > 0))
    return g_strdup (
        "cannot tell; what is stated lies within what noise may account for: less noise would tell, not more "
        "repeats");
  if (side->verdict == SB_CLAIM_CANNOT_TELL && fabs (side->by_late_onset) > 0
      && !(distance_to_settle (claim, side) > 0))
    return g_strdup ("cannot tell; what is stated lies within what sampling may account for, as the command jumps "
                     "somewhere in the sample interval before the onset: a higher sample rate would tell, not more "
                     "repeats");
  if (side->verdict == SB_CLAIM_CANNOT_TELL)
    return g_strdup_printf ("cannot tell; the mean is too near to what is stated for a practical number of repeats (up "
                            "to %d) to settle it",
                            SB_MOST_PRACTICAL_REPEATS);
  double share = fabs (side->mean - claim->value) / fabs (claim->value);
  if (side->verdict == SB_CLAIM_REACHED || !(share < G_MAXDOUBLE))
    return g_strdup (sb_claim_verdict_words (side->verdict));
  char percent[G_ASCII_DTOSTR_BUF_SIZE];
  g_ascii_formatd (percent, sizeof percent, 100 * share < 9.95 ? "%.1f" : "%.0f", 100 * share);
  return g_strdup_printf ("not reached, %s %% %s", percent, side->mean < claim->value ? "short" : "above");
}

/* "MEASURED: SAID", where SAID begins with the verdict. */
static void
say (SbClaimSide *side, const char *measured, const char *said)
{
  side->reason = g_strconcat (measured, ": ", said, NULL);
  side->verdict_at = strlen (measured) + strlen (": ");
}

/* "95 %", or what is left of it for each of several configurations (Bonferroni): "97.5 %". (transfer full) */
static char *
interval_level (gsize n_sides)
{
  char percent[G_ASCII_DTOSTR_BUF_SIZE];
  return g_strdup_printf ("%s %%",
                          g_ascii_formatd (percent, sizeof percent, "%.3g", 100 * (1 - LEVEL / (double) n_sides)));
}

static void
say_why (const SbClaim *claim, SbUnits units, SbClaimSide *side, gsize n_sides, gboolean copies, gboolean drifts,
         const char *unresolved)
{
  SbMeasureId id = claim->measure;
  double half = sb_interval_rounding (side->interval);
  g_autofree char *mean = sb_measure_format_in (id, units, side->mean, half, TRUE);
  g_autofree char *low = sb_measure_format_in (id, units, side->interval[0], half, FALSE);
  g_autofree char *high = sb_measure_format_in (id, units, side->interval[1], half, FALSE);
  g_autofree char *said = verdict_sentence (claim, side, unresolved);
  g_autofree char *level = interval_level (n_sides);
  g_autofree char *shared
      = n_sides > 1 ? g_strdup_printf ("5 %% shared by %" G_GSIZE_FORMAT " configurations, ", n_sides) : g_strdup ("");
  g_autofree char *by
      = fabs (side->bias) > BIAS_SHARE * half ? sb_measure_format_in (id, units, fabs (side->bias), half, TRUE) : NULL;
  g_autofree char *measured
      = g_strdup_printf ("%s: %s (%s interval %s to %s, %s%" G_GSIZE_FORMAT " repeats%s%s%s%s)", side->name, mean,
                         level, low, high, shared, side->n, copies ? ", some of them copies of one log" : "",
                         drifts ? ", which drift from the first to the last" : "",
                         by == NULL       ? ""
                         : side->bias > 0 ? ", the mean perhaps raised by noise by "
                                          : ", the mean perhaps lowered by noise by ",
                         by != NULL ? by : "");
  say (side, measured, said);
}

SbClaimSide *
sb_claim_side_new (const SbClaim *claim, const SbClaimInput *input, gsize n_sides, SbUnits units)
{
  const SbMeasureSummary *summary = &input->summary->measure[claim->measure];
  SbClaimSide *side = g_new0 (SbClaimSide, 1);
  *side = (SbClaimSide){ .name = g_strdup (input->name),
                         .n = summary->present ? summary->n : 0,
                         .mean = NAN,
                         .sd = NAN,
                         .interval = { NAN, NAN },
                         .resolution = NAN,
                         .steepest_nm_per_s = NAN };
  if (!summary->present) {
    side->reason = g_strdup_printf ("%s: no such figure: %s", input->name, summary->absent_reason);
    return side;
  }
  side->mean = summary->mean;
  side->sd = summary->sd;
  gboolean copies = has_copies (input);
  side->by_steps = SB_EVEN_95 * summary->resolution;
  gboolean drifts = (input->drifting & 1u << claim->measure) != 0;
  side->doubted = copies || drifts || sb_doubts_beside_weighed (summary->doubts);
  side->is_unit_doubted = sb_doubts_have (summary->doubts, SB_DOUBT_UNIT);
  find_resolution (input, claim->measure, side);
  if (side->n < 2 || isnan (side->sd)) {
    g_autofree char *mean = sb_measure_format_in (claim->measure, units, side->mean, NAN, TRUE);
    g_autofree char *measured = g_strdup_printf ("%s: %s, one figure without an interval", input->name, mean);
    say (side, measured, sb_claim_verdict_words (side->verdict));
    return side;
  }
  if (lacks_scatter (claim, side)) {
    g_autofree char *mean = sb_measure_format_in (claim->measure, units, side->mean, NAN, TRUE);
    g_autofree char *measured
        = g_strdup_printf ("%s: %s in each of %" G_GSIZE_FORMAT " repeats, without any scatter%s", input->name, mean,
                           side->n, copies ? " (some are copies of one log)" : "");
    g_autofree char *why = why_no_scatter (side, copies);
    g_autofree char *said = verdict_sentence (claim, side, why);
    say (side, measured, said);
    return side;
  }
  double by_repeats = gsl_cdf_tdist_Pinv (1 - LEVEL / 2 / (double) n_sides, (double) side->n - 1) * side->sd
                      / sqrt ((double) side->n);
  double half = hypot (by_repeats, side->by_steps);
  side->interval[0] = side->mean - half;
  if (sb_measure_info (claim->measure)->never_negative)
    side->interval[0] = fmax (0, side->interval[0]);
  side->interval[1] = side->mean + half;
  side->verdict = verdict_on (claim, side, side->bias, side->by_late_onset);
  /* What is weighed in the verdict casts doubt on it only where there would be another one without. */
  side->doubted = side->doubted
                  || (sb_doubts_have (summary->doubts, SB_DOUBT_BIAS)
                      && verdict_on (claim, side, 0, side->by_late_onset) != side->verdict)
                  || (sb_doubts_have (summary->doubts, SB_DOUBT_COARSE)
                      && verdict_on (claim, side, side->bias, 0) != side->verdict);
  g_autofree char *unresolved = why_unresolved (claim, units, side, longest_interval (input));
  if (unresolved != NULL)
    side->verdict = SB_CLAIM_CANNOT_TELL;
  else if (!steps_alone_hide (claim, side))
    side->n_needed = repeats_needed (side->sd, distance_to_settle (claim, side), n_sides);
  say_why (claim, units, side, n_sides, copies, drifts, unresolved);
  return side;
}

void
sb_claim_side_free (gpointer data)
{
  SbClaimSide *side = data;
  g_free (side->name);
  g_free (side->reason);
  g_free (side);
}
