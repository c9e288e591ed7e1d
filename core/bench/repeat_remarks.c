/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "repeat_remarks.h"

#include "doubt.h"
#include "outlying.h"
#include "trend.h"

#include <gsl/gsl_statistics_double.h>
#include <math.h>

#define LEVEL 0.05
/* Share of the mean that a repeat must be off, or the repeats drift in all, to be worth a word. */
#define SMALLEST_RATIO 0.01
/* Noise accounts for a figure within so many standard uncertainties, of the others, of their mean. */
#define REACH_OF_NOISE 3
/* A repeat is pointed to when it is so many times as far from the mean curve as the next one: of four to six that
 * scatter normally along one line over the rise, and along another over the rest, that happens in one set of twenty
 * (found by simulation), of three never. */
#define FARTHER_THAN_NEXT 2.5
/* Fewer repeats cannot show a trend: of four that all fall p is 2/24. */
#define FEWEST_FOR_TREND 5

/* The used trials in order, and their values of one measure after the other. */
typedef struct {
  GPtrArray *trials; /* SbTrialResult, borrowed */
  double *values;    /* of the measure at hand */
  gsize n_measures;  /* that every trial has */
  gsize n_tested;    /* of them, that are tested for repeats that stand apart */
  SbUnits units;     /* of the sentences */
} Repeats;

static gboolean
take_values (Repeats *repeats, guint id)
{
  for (guint i = 0; i < repeats->trials->len; i++) {
    const SbTrialResult *trial = g_ptr_array_index (repeats->trials, i);
    if (!trial->measures->measure[id].present)
      return FALSE;
    repeats->values[i] = trial->measures->measure[id].value;
  }
  return TRUE;
}

/* Tests for a repeat that stands apart ask for figures that scatter about one value. Those that noise reads at one
 * crest or another are of two; a count jumps by one, and an arc with the whole samples and frequencies that it begins
 * and ends at. */
static gboolean
scatters_about_one (const Repeats *repeats, guint id)
{
  if (id == SB_MEASURE_RINGING_CYCLES || id == SB_MEASURE_TORQUE_SMOOTHNESS)
    return FALSE;
  for (guint i = 0; i < repeats->trials->len; i++) {
    const SbTrialResult *trial = g_ptr_array_index (repeats->trials, i);
    if (sb_doubts_have (trial->measures->measure[id].doubts, SB_DOUBT_EITHER))
      return FALSE;
  }
  return TRUE;
}

static void
take_trials (Repeats *repeats, const SbConfigurationResult *configuration)
{
  repeats->trials = g_ptr_array_new ();
  for (guint t = 0; t < configuration->trials->len; t++) {
    SbTrialResult *trial = g_ptr_array_index (configuration->trials, t);
    if (trial->included && trial->measures != NULL)
      g_ptr_array_add (repeats->trials, trial);
  }
  repeats->values = g_new (double, repeats->trials->len + 1);
  for (guint id = 0; id < SB_N_MEASURES; id++)
    if (take_values (repeats, id)) {
      repeats->n_measures++;
      repeats->n_tested += scatters_about_one (repeats, id) ? 1 : 0;
    }
}

static double
mean_size (const Repeats *repeats)
{
  double sum = 0;
  for (guint i = 0; i < repeats->trials->len; i++)
    sum += repeats->values[i];
  return fabs (sum / repeats->trials->len);
}

/* "Peak velocity" -> "peak velocity". */
static char *
name_in_sentence (guint id)
{
  return g_utf8_strdown (sb_measure_info ((SbMeasureId) id)->name, -1);
}

static const SbMeasure *
measure_of (const Repeats *repeats, gsize index, guint id)
{
  return &((const SbTrialResult *) g_ptr_array_index (repeats->trials, index))->measures->measure[id];
}

/* A figure that does not stand above the noise is noise's, whose extremes have a long tail: where another repeat's does
 * not either. One alone that is lost in noise is what is looked for. */
static gboolean
are_in_noise (const Repeats *repeats, gsize index, guint id)
{
  gsize n_others = 0;
  for (gsize i = 0; i < repeats->trials->len; i++)
    n_others += i != index && sb_doubts_have (measure_of (repeats, i, id)->doubts, SB_DOUBT_IN_NOISE) ? 1 : 0;
  return n_others > 0 && sb_doubts_have (measure_of (repeats, index, id)->doubts, SB_DOUBT_IN_NOISE);
}

/* How far the noise of the other repeats alone reaches, SI: the median of their standard uncertainties, less the bias,
 * which is in all of them alike. That of the repeat itself would excuse one that is only noisier. 0 where it is not
 * known. */
static double
reach_of_noise (const Repeats *repeats, gsize index, guint id)
{
  g_autofree double *squares = g_new (double, repeats->trials->len);
  gsize n = 0;
  for (gsize i = 0; i < repeats->trials->len; i++) {
    const SbMeasure *measure = measure_of (repeats, i, id);
    if (i != index && isfinite (measure->uncertainty))
      squares[n++] = fmax (0, measure->uncertainty * measure->uncertainty - measure->bias * measure->bias);
  }
  return n > 0 ? REACH_OF_NOISE * sqrt (gsl_stats_median (squares, 1, n)) : 0;
}

/* Adds the measure's name to the list of each repeat that stands apart in it. Grubbs' and Rosner's tests suppose a
 * normal scatter, and the extremes of noise have longer tails: what noise may have done is passed over. */
static void
collect_outlying (const Repeats *repeats, guint id, GString **names)
{
  SbOutlying found[SB_MAX_OUTLYING];
  gsize n = repeats->trials->len;
  gsize n_found = sb_outlying_find (repeats->values, n, LEVEL / (double) repeats->n_tested, found);
  double mean = mean_size (repeats);
  for (gsize k = 0; k < n_found; k++) {
    if (are_in_noise (repeats, found[k].index, id))
      continue;
    double others = (mean * (double) n - fabs (repeats->values[found[k].index])) / (double) (n - 1);
    double least = fmax (SMALLEST_RATIO * others, reach_of_noise (repeats, found[k].index, id));
    if (fabs (fabs (repeats->values[found[k].index]) - others) <= least)
      continue;
    GString **list = &names[found[k].index];
    g_autofree char *name = name_in_sentence (id);
    if (*list == NULL)
      *list = g_string_new (name);
    else
      g_string_append_printf (*list, ", %s", name);
  }
}

static void
remark_on_outlying (Repeats *repeats, SbRepeatRemark remark)
{
  g_autofree GString **names = g_new0 (GString *, repeats->trials->len + 1);
  for (guint id = 0; id < SB_N_MEASURES; id++)
    if (take_values (repeats, id) && scatters_about_one (repeats, id))
      collect_outlying (repeats, id, names);
  g_autofree char *shared = repeats->n_tested > 1
                                ? g_strdup_printf (" shared by %" G_GSIZE_FORMAT " measures", repeats->n_tested)
                                : g_strdup ("");
  for (guint i = 0; i < repeats->trials->len; i++) {
    if (names[i] == NULL)
      continue;
    remark (g_ptr_array_index (repeats->trials, i),
            g_strdup_printf ("stands apart from the other repeats in %s (%s test, 5 %%%s)", names[i]->str,
                             repeats->trials->len < 15 ? "Grubbs'" : "Rosner's", shared),
            "Look at its curve; leave it out only for a reason that you can state");
    g_string_free (names[i], TRUE);
  }
}

/* The channel's distance in the units shown, to two digits. */
static char *
distance_text (SbChannel channel, SbUnits units, double value)
{
  SbShownUnit unit = sb_channel_shown_unit (channel, units);
  char digits[G_ASCII_DTOSTR_BUF_SIZE];
  g_ascii_formatd (digits, sizeof digits, "%.2g", value * unit.factor);
  return g_strdup_printf ("%s %s", digits, unit.name);
}

/* In ms. (transfer full) */
static char *
time_text (double time_s)
{
  char digits[G_ASCII_DTOSTR_BUF_SIZE];
  return g_strdup (g_ascii_formatd (digits, sizeof digits, "%.4g", 1e3 * time_s));
}

/* Of few repeats there is no test, and always a farthest one: it is a place to look at, and named only where it is
 * plain to see. */
static void
remark_on_farthest (const SbConfigurationResult *configuration, const Repeats *repeats, SbRepeatRemark remark)
{
  SbTrialResult *farthest = NULL;
  double most = 0, next = 0;
  for (guint i = 0; i < repeats->trials->len; i++) {
    SbTrialResult *trial = g_ptr_array_index (repeats->trials, i);
    if (isnan (trial->off_mean))
      return;
    if (trial->off_mean > most) {
      next = most;
      most = trial->off_mean;
      farthest = trial;
    } else {
      next = fmax (next, trial->off_mean);
    }
  }
  if (farthest == NULL || most <= FARTHER_THAN_NEXT * next || most <= SMALLEST_RATIO * configuration->off.size)
    return;
  SbChannel channel = configuration->off.channel;
  g_autofree char *from = time_text (configuration->off.from_s), *to = time_text (configuration->off.to_s);
  g_autofree char *off = distance_text (channel, repeats->units, most);
  g_autofree char *others = distance_text (channel, repeats->units, next);
  remark (farthest,
          g_strdup_printf ("farthest from the mean curve of the %u repeats: its %s is %s off it (root mean square from "
                           "%s to %s ms after the onset), the next repeat's %s; so few allow no test",
                           repeats->trials->len, channel == SB_CHANNEL_TORQUE ? "torque" : "velocity", off, from, to,
                           others),
          "Look at its curve first; this alone is no reason to leave it out");
}

static char *
describe_drift (guint id, SbUnits units, const SbTheilSen *trend, gsize n, double p)
{
  g_autofree char *name = name_in_sentence (id);
  double whole = trend->slope * (double) (n - 1);
  double error = fabs (trend->ci95[1] - trend->ci95[0]) / 4 * (double) (n - 1);
  g_autofree char *size = sb_measure_format_in ((SbMeasureId) id, units, fabs (whole), error, TRUE);
  char digits[G_ASCII_DTOSTR_BUF_SIZE];
  g_ascii_formatd (digits, sizeof digits, "%.1g", p);
  return g_strdup_printf ("%s %s by %s (p = %s)", name, whole > 0 ? "rises" : "falls", size, digits);
}

/* Whether the repeats' figures of one measure, which are taken, drift. */
static gboolean
find_drift (const Repeats *repeats, SbJonckheere *test, SbTheilSen *trend)
{
  gsize n = repeats->trials->len;
  g_autofree double *order = g_new (double, n + 1);
  for (gsize i = 0; i < n; i++)
    order[i] = (double) i;
  return n >= FEWEST_FOR_TREND && sb_jonckheere (order, repeats->values, n, test)
         && test->p * (double) repeats->n_measures < LEVEL && sb_theil_sen (order, repeats->values, n, trend)
         && fabs (trend->slope) * (double) (n - 1) > SMALLEST_RATIO * mean_size (repeats);
}

static void
remark_on_drift (Repeats *repeats, SbRepeatRemark remark)
{
  gsize n = repeats->trials->len;
  g_autoptr (GString) drifts = g_string_new (NULL);
  for (guint id = 0; id < SB_N_MEASURES; id++) {
    SbJonckheere test;
    SbTheilSen trend;
    if (!take_values (repeats, id) || !find_drift (repeats, &test, &trend))
      continue;
    g_autofree char *drift = describe_drift (id, repeats->units, &trend, n, test.p);
    g_string_append_printf (drifts, "%s%s", drifts->len > 0 ? ", " : "", drift);
  }
  if (drifts->len > 0)
    remark (
        g_ptr_array_index (repeats->trials, n - 1),
        g_strdup_printf ("from the first repeat to this one %s (Mann's and Kendall's test of a trend, 5 %% shared by "
                         "%" G_GSIZE_FORMAT " measure%s): the repeats are no scatter about one value",
                         drifts->str, repeats->n_measures, repeats->n_measures == 1 ? "" : "s"),
        "Let the motor reach a steady temperature, or say how it was");
}

guint
sb_repeats_drifting (const SbConfigurationResult *configuration)
{
  Repeats repeats = { 0 };
  guint drifting = 0;
  take_trials (&repeats, configuration);
  for (guint id = 0; id < SB_N_MEASURES && repeats.trials->len > 0; id++) {
    SbJonckheere test;
    SbTheilSen trend;
    if (take_values (&repeats, id) && find_drift (&repeats, &test, &trend))
      drifting |= 1u << id;
  }
  g_ptr_array_unref (repeats.trials);
  g_free (repeats.values);
  return drifting;
}

void
sb_repeat_remarks_find (const SbConfigurationResult *configuration, SbUnits units, SbRepeatRemark remark)
{
  Repeats repeats = { .units = units };
  take_trials (&repeats, configuration);
  if (repeats.trials->len > 0)
    remark_on_farthest (configuration, &repeats, remark);
  if (repeats.trials->len > 0 && repeats.n_measures > 0) {
    remark_on_outlying (&repeats, remark);
    remark_on_drift (&repeats, remark);
  }
  g_ptr_array_unref (repeats.trials);
  g_free (repeats.values);
}
