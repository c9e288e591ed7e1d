/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "step_cuts.h"

#include <math.h>

static double
first_time (const SbLog *log)
{
  return log->channel[SB_CHANNEL_TIME][0];
}

static double
last_time (const SbLog *log)
{
  return log->channel[SB_CHANNEL_TIME][log->n_rows - 1];
}

static int
by_start (gconstpointer a, gconstpointer b)
{
  double left = ((const SbCut *) a)->from_s, right = ((const SbCut *) b)->from_s;
  return left < right ? -1 : (left > right ? 1 : 0);
}

/* Half way between the end of one and the beginning of the next, which may lie before it. */
static GArray *
cuts_between (GArray *stretches)
{
  GArray *cuts = g_array_new (FALSE, FALSE, sizeof (double));
  g_array_sort (stretches, by_start);
  for (guint s = 1; s < stretches->len; s++) {
    double cut = (g_array_index (stretches, SbCut, s - 1).to_s + g_array_index (stretches, SbCut, s).from_s) / 2;
    if (cuts->len == 0 || cut > g_array_index (cuts, double, cuts->len - 1))
      g_array_append_val (cuts, cut);
  }
  return cuts;
}

GArray *
sb_step_cuts_found (const SbLog *log)
{
  g_autoptr (GArray) stretches = g_array_new (FALSE, FALSE, sizeof (SbCut));
  const double *command = log->channel[SB_CHANNEL_COMMAND];
  if (command != NULL) {
    g_autoptr (GArray) steps = sb_steps_find (log->channel[SB_CHANNEL_TIME], command, log->n_rows);
    for (guint s = 0; s < steps->len; s++) {
      const SbStep *step = &g_array_index (steps, SbStep, s);
      SbCut stretch = { .from_s = step->from_s, .to_s = step->to_s };
      if (!step->is_release)
        g_array_append_val (stretches, stretch);
    }
  }
  return cuts_between (stretches);
}

GArray *
sb_step_cuts_of (const SbBench *bench, const char *path, const SbLog *log)
{
  g_autoptr (GArray) stretches = g_array_new (FALSE, FALSE, sizeof (SbCut));
  for (guint c = 0; c < bench->configurations->len; c++) {
    const SbConfiguration *configuration = sb_bench_configuration (bench, c);
    for (guint t = 0; t < configuration->entries->len; t++) {
      const SbTrialEntry *entry = sb_configuration_entry (configuration, t);
      const SbTrialChoices *choices = &entry->choices;
      if (!g_str_equal (entry->path, path) || sb_trial_choices_whole (choices))
        continue;
      SbCut stretch = { .from_s = isnan (choices->from_s) ? first_time (log) : choices->from_s,
                        .to_s = isnan (choices->to_s) ? last_time (log) : choices->to_s };
      g_array_append_val (stretches, stretch);
    }
  }
  return cuts_between (stretches);
}

static void
stretch_clear (gpointer data)
{
  g_free (((SbStretch *) data)->what);
}

static char *
describe (const SbTrial *trial, const SbCut *cut)
{
  char digits[G_ASCII_DTOSTR_BUF_SIZE];
  g_ascii_formatd (digits, sizeof digits, "%.3f", fabs (trial->onset_s));
  g_autofree char *levels = sb_step_levels_text (cut->base_nm, cut->top_nm);
  g_autofree char *how
      = levels != NULL ? g_strdup (levels) : g_strdup_printf ("by the %s", sb_onset_from_key (trial->onset_from));
  return g_strdup_printf ("%s at %s%s s", how, trial->onset_s < 0 ? "−" : "", digits);
}

static SbStretch
try_stretch (SbLog *log, double from_s, double to_s)
{
  SbStretch stretch = { .cut = { from_s, to_s, NAN, NAN } };
  SbTrialChoices choices = SB_TRIAL_CHOICES_NONE;
  choices.from_s = from_s;
  choices.to_s = to_s;
  g_autoptr (SbTrial) trial = sb_trial_new (log, &choices, NULL);
  stretch.has_step = trial != NULL;
  if (trial == NULL) {
    stretch.what = g_strdup ("no step");
    return stretch;
  }
  int direction = trial->mirrored ? -1 : 1;
  stretch.cut.base_nm = direction * trial->command_base_nm;
  stretch.cut.top_nm = direction * trial->command_top_nm;
  stretch.what = describe (trial, &stretch.cut);
  return stretch;
}

GArray *
sb_step_cuts_try (SbLog *log, const GArray *cuts)
{
  GArray *stretches = g_array_new (FALSE, FALSE, sizeof (SbStretch));
  g_array_set_clear_func (stretches, stretch_clear);
  for (guint s = 0; s <= cuts->len; s++) {
    SbStretch stretch = try_stretch (log, s == 0 ? (double) NAN : g_array_index (cuts, double, s - 1),
                                     s == cuts->len ? (double) NAN : g_array_index (cuts, double, s));
    g_array_append_val (stretches, stretch);
  }
  return stretches;
}

double
sb_step_cuts_gap (const SbLog *log, const GArray *cuts)
{
  double longest = -1, middle = NAN, from = first_time (log);
  for (guint s = 0; s <= cuts->len; s++) {
    double to = s == cuts->len ? last_time (log) : g_array_index (cuts, double, s);
    if (to - from > longest) {
      longest = to - from;
      middle = (from + to) / 2;
    }
    from = to;
  }
  return middle;
}
