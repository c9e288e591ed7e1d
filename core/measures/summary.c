/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A measure over repeats: JCGM 100:2008 (GUM), type A. */
#include "doubt.h"
#include "measure_table.h"

#include "extremum.h"
#include "statistics.h"

#include <math.h>
#include <string.h>

/* 1.96 sqrt (2), as ISO 5725-6 rounds it. */
#define REPEATABILITY_FACTOR 2.8
#define CONFIDENCE           0.95
/* An autocorrelation of fewer tells nothing; one so many standard deviations from what chance does, in one of some 700
 * sets of independent repeats, is told. */
#define FEWEST_FOR_LAG1 10
#define BEYOND_CHANCE   3
/* A standard deviation of fewer repeats is uncertain by half of itself or more. */
#define FEWEST_FOR_DEVIATION 4
/* An interval that a bias takes up by more than this share of its half width holds the true value in fewer than nine of
 * ten sets of repeats instead of 19 of 20. */
#define BIAS_OF_INTERVAL 0.5

/* Doubts of one topic: the figures are not alike in every trial. */
typedef struct {
  const SbDoubt *first; /* the first trial's */
  gsize n_trials;
  gboolean alike; /* every trial says the same, figures and all */
} Kind;

static void
count_kind (GArray *kinds, const SbDoubt *doubt)
{
  for (guint i = 0; i < kinds->len; i++) {
    Kind *kind = &g_array_index (kinds, Kind, i);
    if (strcmp (kind->first->topic, doubt->topic) == 0) {
      kind->n_trials++;
      kind->alike = kind->alike && strcmp (kind->first->text, doubt->text) == 0;
      return;
    }
  }
  Kind kind = { doubt, 1, TRUE };
  g_array_append_val (kinds, kind);
}

/* Takes the doubt over. */
static void
add (SbMeasureSummary *summary, SbDoubt *doubt)
{
  if (summary->doubts == NULL)
    summary->doubts = g_ptr_array_new_with_free_func (sb_doubt_free);
  g_ptr_array_add (summary->doubts, doubt);
}

/* Takes the sentence over. */
static void
add_doubt (SbMeasureSummary *summary, SbDoubtKind kind, char *marked)
{
  add (summary, sb_doubt_new (kind, marked));
}

static char *
say_kind (const Kind *kind, gsize n)
{
  if (n == 1)
    return g_strdup (kind->first->marked);
  g_autofree char *n_trials = sb_count_figure (kind->n_trials), *all = sb_count_figure (n);
  if (kind->n_trials == n) {
    const char *figures = kind->alike ? "" : " (figures of the first)";
    return n == 2 ? g_strdup_printf ("in both trials: %s%s", kind->first->marked, figures)
                  : g_strdup_printf ("in all %s trials: %s%s", all, kind->first->marked, figures);
  }
  return g_strdup_printf ("in %s of %s trials: %s%s", n_trials, all, kind->first->marked,
                          kind->alike ? "" : " (figures of the first of them)");
}

static void
merge_doubts (SbMeasureSummary *summary, SbMeasures *const *measures, gsize n, SbMeasureId id)
{
  g_autoptr (GArray) kinds = g_array_new (FALSE, FALSE, sizeof (Kind));
  for (gsize i = 0; i < n; i++) {
    const SbMeasure *measure = &measures[i]->measure[id];
    for (guint d = 0; measure->present && d < sb_doubts_count (measure->doubts); d++)
      count_kind (kinds, sb_doubts_get (measure->doubts, d));
  }
  for (guint i = 0; i < kinds->len; i++) {
    const Kind *kind = &g_array_index (kinds, Kind, i);
    add (summary, sb_doubt_reword (kind->first, say_kind (kind, n)));
  }
}

static const char *
first_reason (SbMeasures *const *measures, gsize n, SbMeasureId id)
{
  for (gsize i = 0; i < n; i++)
    if (!measures[i]->measure[id].present)
      return measures[i]->measure[id].absent_reason;
  return "no trial is included";
}

/* Of n independent values it lies about -1/n and scatters by (n - 2) / (n sqrt (n - 1)) (Moran 1948, from memory). */
static void
doubt_dependence (SbMeasureSummary *summary, const double *values)
{
  double n = (double) summary->n;
  if (summary->n < FEWEST_FOR_LAG1 || !(summary->sd > 1e-9 * fabs (summary->mean)))
    return;
  summary->lag1 = sb_lag1_autocorrelation (values, summary->n);
  double z = (summary->lag1 + 1 / n) / ((n - 2) / (n * sqrt (n - 1)));
  if (z > BEYOND_CHANCE)
    add_doubt (
        summary, SB_DOUBT_TOLD,
        g_strdup_printf ("repeats not independent: neighbours in the list are alike (lag-1 autocorrelation %.2f), so "
                         "that the standard uncertainty of the mean, sd/√n, and its interval may be too small",
                         summary->lag1));
}

double
sb_summary_rounding (const SbMeasureSummary *summary)
{
  double by = isfinite (summary->sd) ? fmax (summary->sd, summary->resolution) : summary->lone_uncertainty;
  return by > 0 ? by : (double) NAN;
}

double
sb_deviation_uncertainty (double deviation, double n)
{
  return deviation / sqrt (2 * (n - 1));
}

/* FALSE when repeats read it from different signals, whose figures have no mean. */
static gboolean
take_channel (SbMeasureSummary *summary, SbMeasures *const *measures, gsize n, SbMeasureId id)
{
  gsize n_velocity = 0;
  for (gsize i = 0; i < n; i++)
    if (measures[i]->measure[id].present) {
      summary->channel = sb_measures_channel (measures[i], id);
      n_velocity += summary->channel == SB_CHANNEL_VELOCITY ? 1 : 0;
    }
  return n_velocity == 0 || n_velocity == summary->n;
}

static double
own_uncertainty (SbMeasures *const *measures, gsize n, SbMeasureId id)
{
  for (gsize i = 0; i < n; i++)
    if (measures[i]->measure[id].present)
      return measures[i]->measure[id].uncertainty;
  return NAN;
}

/* A mean over time, or a root of one, hangs on how long it is taken for. */
static void
doubt_unequal_windows (SbMeasureSummary *summary, SbMeasureId id)
{
  const double *end_s = summary->window_end_s;
  if (sb_measure_info (id)->over_window && end_s[1] > SB_ALIKE_WINDOWS * end_s[0])
    add_doubt (summary, SB_DOUBT_TOLD,
               g_strdup_printf ("windows of unequal length: they end %.4g to %.4g ms after the onset, and %s",
                                1e3 * end_s[0], 1e3 * end_s[1], SB_HANGS_ON_WINDOW));
}

static gsize
n_saying (SbMeasures *const *measures, gsize n, SbMeasureId id, SbDoubtKind kind)
{
  gsize n_of_them = 0;
  for (gsize i = 0; i < n; i++) {
    const SbMeasure *measure = &measures[i]->measure[id];
    n_of_them += measure->present && sb_doubts_have (measure->doubts, kind) ? 1 : 0;
  }
  return n_of_them;
}

/* What noise raises every repeat by does not average out: an interval of the mean that is not much wider than it misses
 * the true value, however small a share of the figure it is. Where every repeat says so by itself it is said. */
static void
doubt_bias_against_interval (SbMeasureSummary *summary, SbMeasures *const *measures, gsize n, SbMeasureId id)
{
  double half = (summary->ci95[1] - summary->ci95[0]) / 2, bias = fabs (summary->bias);
  if (!(bias > BIAS_OF_INTERVAL * half) || !(bias > 0) || n_saying (measures, n, id, SB_DOUBT_BIAS) == summary->n)
    return;
  g_autofree char *by = sb_figure (id, bias, 2), *interval = sb_figure (id, half, 2);
  add_doubt (summary, SB_DOUBT_BIAS,
             g_strdup_printf ("%s by noise: by about %s in every repeat, and the interval of ± %s about the mean says "
                              "nothing of that",
                              summary->bias > 0 ? "raised" : "lowered", by, interval));
}

/* The command jumps anywhere in the sample interval before the onset, half of it on average in repeats that know
 * nothing of the clock: all of them are off one way, and the mean with them. Where every repeat says so by itself it is
 * said; where some do, the mean's stands for theirs. */
static void
doubt_late_onset (SbMeasureSummary *summary, SbMeasures *const *measures, gsize n, SbMeasureId id)
{
  double half = summary->n > 1 ? (summary->ci95[1] - summary->ci95[0]) / 2 : 2 * summary->lone_uncertainty;
  double by = fabs (summary->by_late_onset);
  if (!(by / 2 > BIAS_OF_INTERVAL * half) || !(by > 0) || n_saying (measures, n, id, SB_DOUBT_COARSE) == summary->n)
    return;
  g_autofree char *most = sb_figure (id, by, 2), *interval = sb_figure (id, half, 2);
  g_autofree char *nothing
      = summary->n > 1 ? g_strdup_printf (", and the interval of ± %s about the mean says nothing of that", interval)
                       : g_strdup ("");
  for (guint d = sb_doubts_count (summary->doubts); d > 0; d--)
    if (sb_doubts_get (summary->doubts, d - 1)->kind == SB_DOUBT_COARSE)
      g_ptr_array_remove_index (summary->doubts, d - 1);
  add_doubt (
      summary, SB_DOUBT_COARSE,
      g_strdup_printf ("coarse: the command jumps up to one sample interval of %.3g ms before the onset, so that "
                       "the true figure is %s by up to %s, on average by half of that%s",
                       1e3 * summary->onset_late_s, summary->by_late_onset > 0 ? "larger" : "smaller", most, nothing));
}

/* Where the steps of the log make more of the interval than the scatter of the repeats does, whatever share of the
 * figure that is. Where every repeat says so by itself it is said. */
static void
doubt_resolution_against_interval (SbMeasureSummary *summary, SbMeasures *const *measures, gsize n, SbMeasureId id,
                                   double by_repeats)
{
  if (!(SB_EVEN_95 * summary->resolution > by_repeats) || n_saying (measures, n, id, SB_DOUBT_STEPS) == summary->n)
    return;
  g_autofree char *known = sb_figure (id, summary->resolution, 2);
  add_doubt (
      summary, SB_DOUBT_STEPS,
      g_strdup_printf ("coarse steps: those of the log hide by how much the repeats scatter: the mean is known to ± "
                       "%s (standard) at best, however many there are",
                       known));
}

/* What noise decides of a figure that is read at crests, or counts them. */
static void
take_crests (SbMeasureSummary *summary, SbMeasures *const *measures, gsize n, SbMeasureId id)
{
  gsize n_ringing = 0, n_counted = 0;
  for (gsize i = 0; i < n; i++) {
    const SbMeasure *measure = &measures[i]->measure[id];
    const SbRinging *ringing = &measures[i]->ringing;
    if (!measure->present)
      continue;
    if (sb_doubts_have (measure->doubts, SB_DOUBT_EITHER) && isfinite (measure->other))
      summary->apart_by_crests = fmax (summary->apart_by_crests, fabs (measure->other - measure->value));
    if (id != SB_MEASURE_RINGING_CYCLES)
      continue;
    n_counted++;
    summary->crest_floor += ringing->floor_nm;
    summary->n_without_ringing += ringing->n_modes == 0 ? 1 : 0;
    if (ringing->n_modes > 0 && ringing->mode[0].decay_per_s > 0) {
      summary->crests_per_fold += ringing->mode[0].frequency_hz / ringing->mode[0].decay_per_s;
      n_ringing++;
    }
  }
  summary->crest_floor /= (double) MAX (n_counted, 1);
  summary->crests_per_fold /= (double) MAX (n_ringing, 1);
}

static void
take_late_onset (SbMeasureSummary *summary, SbMeasures *const *measures, gsize n, SbMeasureId id)
{
  for (gsize i = 0; i < n; i++) {
    const SbMeasure *measure = &measures[i]->measure[id];
    if (!measure->present || !(fabs (measure->by_late_onset) > 0))
      continue;
    summary->by_late_onset += measure->by_late_onset / (double) summary->n;
    summary->onset_late_s += measures[i]->onset_late_s / (double) summary->n;
  }
}

static void
summarize (SbMeasureSummary *summary, SbMeasures *const *measures, gsize n, SbMeasureId id)
{
  g_autofree double *values = g_new (double, MAX (n, 1));
  double bias = 0;
  for (gsize i = 0; i < n; i++)
    if (measures[i]->measure[id].present) {
      values[summary->n++] = measures[i]->measure[id].value;
      bias += measures[i]->measure[id].bias;
      summary->resolution += measures[i]->measure[id].resolution;
      summary->n_in_noise += sb_doubts_have (measures[i]->measure[id].doubts, SB_DOUBT_IN_NOISE) ? 1 : 0;
      summary->window_end_s[0] = fmin (summary->window_end_s[0], measures[i]->measure[id].window_s[1]);
      summary->window_end_s[1] = fmax (summary->window_end_s[1], measures[i]->measure[id].window_s[1]);
    }
  summary->n_absent = n - summary->n;
  if (summary->n == 0) {
    summary->absent_reason = g_strdup (first_reason (measures, n, id));
    return;
  }
  if (!take_channel (summary, measures, n, id)) {
    summary->n = 0;
    summary->n_absent = n;
    summary->absent_reason = g_strdup (
        "different signals: some repeats read it from the torque, others, which have none, from the velocity");
    return;
  }
  summary->present = TRUE;
  take_crests (summary, measures, n, id);
  summary->mean = sb_mean (values, summary->n);
  summary->bias = bias / (double) summary->n;
  take_late_onset (summary, measures, n, id);
  summary->sd = sb_sd (values, summary->n);
  summary->resolution /= (double) summary->n;
  summary->standard_uncertainty = hypot (summary->sd / sqrt ((double) summary->n), summary->resolution);
  summary->repeatability = REPEATABILITY_FACTOR * summary->sd;
  summary->lone_uncertainty = summary->n == 1 ? own_uncertainty (measures, n, id) : (double) NAN;
  double by_repeats = sb_mean_half_width (summary->sd, summary->n, CONFIDENCE);
  double half = hypot (by_repeats, SB_EVEN_95 * summary->resolution);
  double low = summary->mean - half;
  summary->ci95[0] = sb_measure_info (id)->never_negative && low < 0 ? 0 : low;
  summary->ci95[1] = summary->mean + half;
  merge_doubts (summary, measures, n, id);
  doubt_bias_against_interval (summary, measures, n, id);
  doubt_late_onset (summary, measures, n, id);
  doubt_resolution_against_interval (summary, measures, n, id, by_repeats);
  doubt_unequal_windows (summary, id);
  doubt_dependence (summary, values);
  g_autofree char *n_absent = sb_count_figure (summary->n_absent), *all = sb_count_figure (n);
  if (summary->n_absent > 0)
    add_doubt (summary, SB_DOUBT_TOLD,
               g_strdup_printf ("missing in %s of %s trials: %s", n_absent, all, first_reason (measures, n, id)));
}

/* Of the repeats' mean velocity, those that are the deviation's too. */
static void
pass_on_doubts (SbMeasureSummary *summary, const SbMeasureSummary *from)
{
  for (guint i = 0; i < sb_doubts_count (from->doubts); i++) {
    const SbDoubt *doubt = sb_doubts_get (from->doubts, i);
    if (doubt->kind == SB_DOUBT_DERIVED || doubt->kind == SB_DOUBT_ONSET || doubt->kind == SB_DOUBT_UNIT)
      add_doubt (summary, doubt->kind, g_strdup (doubt->marked));
  }
}

/* The noise of each repeat's own samples is in the variance between them, at most as a whole: interpolation between
 * samples takes up to a third of it. */
static void
doubt_noise_of_deviation (SbMeasureSummary *summary, SbMeasures *const *measures, gsize n)
{
  double squares = 0, deviation = summary->mean;
  for (gsize i = 0; i < n; i++)
    squares += measures[i]->velocity_noise_rad_s * measures[i]->velocity_noise_rad_s / (double) n;
  double without = sqrt (fmax (0, deviation * deviation - squares));
  if (!isfinite (squares) || !(deviation - without > SB_BIAS_SHARE * deviation))
    return;
  summary->bias = deviation - without;
  g_autofree char *noise = sb_figure (SB_MEASURE_VELOCITY_DEVIATION, sqrt (squares), 2);
  add_doubt (summary, SB_DOUBT_BIAS,
             g_strdup_printf ("raised by noise: the repeats' own noise of %s is in it, and makes up to %.0f %% of it",
                              noise, 100 * summary->bias / deviation));
}

static void
doubt_few_repeats (SbMeasureSummary *summary)
{
  if (summary->n < FEWEST_FOR_DEVIATION)
    add_doubt (summary, SB_DOUBT_TOLD,
               g_strdup_printf ("few repeats: a standard deviation of %" G_GSIZE_FORMAT
                                " is itself uncertain by about %.0f %%",
                                summary->n, 100 / sqrt (2 * ((double) summary->n - 1))));
}

static void
summarize_deviation (SbSummary *all, SbMeasures *const *measures, gsize n, const SbEnsemble *ensemble)
{
  SbMeasureSummary *summary = &all->measure[SB_MEASURE_VELOCITY_DEVIATION];
  const SbMeasureSummary *velocity = &all->measure[SB_MEASURE_MEAN_VELOCITY];
  double deviation = ensemble != NULL ? sb_ensemble_deviation (ensemble, SB_CHANNEL_VELOCITY) : (double) NAN;
  if (ensemble != NULL && isfinite (deviation)) {
    summary->present = TRUE;
    summary->mean = deviation;
    summary->n = ensemble->n_trials;
    summary->lone_uncertainty = sb_deviation_uncertainty (deviation, (double) summary->n);
    pass_on_doubts (summary, velocity);
    doubt_noise_of_deviation (summary, measures, n);
    doubt_few_repeats (summary);
    return;
  }
  summary->n_absent = n;
  if (n < 2)
    summary->absent_reason = g_strdup (n == 0 ? "no trial is included"
                                              : "a deviation between repeats needs two trials or more; there is one");
  else if (velocity->n_absent > 0)
    summary->absent_reason = g_strdup (first_reason (measures, n, SB_MEASURE_MEAN_VELOCITY));
  else if (ensemble == NULL)
    summary->absent_reason = g_strdup ("the repeats have not been brought together");
  else
    summary->absent_reason = g_strdup ("the repeats have no time in common after the onset");
}

SbSummary *
sb_summary_new (SbMeasures *const *measures, gsize n, const SbEnsemble *ensemble)
{
  g_return_val_if_fail (n == 0 || measures != NULL, NULL);
  SbSummary *summary = g_new0 (SbSummary, 1);
  g_atomic_ref_count_init (&summary->ref_count);
  for (int i = 0; i < SB_N_MEASURES; i++) {
    SbMeasureSummary *one = &summary->measure[i];
    one->mean = one->sd = one->ci95[0] = one->ci95[1] = one->standard_uncertainty = one->repeatability = one->lag1
        = one->lone_uncertainty = one->window_end_s[0] = one->window_end_s[1] = NAN;
    if (!sb_measure_info ((SbMeasureId) i)->of_configuration)
      summarize (one, measures, n, (SbMeasureId) i);
  }
  summarize_deviation (summary, measures, n, ensemble);
  return summary;
}

void
sb_summary_doubt_copies (SbSummary *summary, gsize n_copies, gsize n)
{
  for (int i = 0; i < SB_N_MEASURES && n_copies > 0; i++)
    if (summary->measure[i].present)
      add_doubt (&summary->measure[i], SB_DOUBT_TOLD,
                 g_strdup_printf ("copies among the repeats: %" G_GSIZE_FORMAT " of %" G_GSIZE_FORMAT
                                  " are copies of another one's log, which tell nothing of how far repeats lie apart; "
                                  "leave them out",
                                  n_copies, n));
}

SbSummary *
sb_summary_ref (SbSummary *summary)
{
  g_atomic_ref_count_inc (&summary->ref_count);
  return summary;
}

void
sb_summary_unref (SbSummary *summary)
{
  if (summary == NULL || !g_atomic_ref_count_dec (&summary->ref_count))
    return;
  for (int i = 0; i < SB_N_MEASURES; i++) {
    g_free (summary->measure[i].absent_reason);
    g_clear_pointer (&summary->measure[i].doubts, g_ptr_array_unref);
  }
  g_free (summary);
}
