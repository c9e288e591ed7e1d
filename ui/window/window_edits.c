/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "window_edits.h"

#include <math.h>

/* An active window is no shorter. */
#define SHORTEST_S 1e-3

typedef struct {
  SbDocument *document;
  guint configuration;
  int trial;
  double s;
} Request;

typedef void (*EntryEdit) (SbTrialEntry *entry, const SbTrialFacts *facts, double s);

static void
move_onset (SbTrialEntry *entry, const SbTrialFacts *facts, double by_s)
{
  entry->choices.onset_s = facts->onset_s + by_s;
}

static void
set_end (SbTrialEntry *entry, const SbTrialFacts *facts, double end_s)
{
  entry->choices.active_end_s = facts->onset_s + end_s;
}

static void
find_again (SbTrialEntry *entry, const SbTrialFacts *facts, double unused)
{
  entry->choices.onset_s = entry->choices.active_end_s = NAN;
}

static void
edit_entries (const Request *request, EntryEdit edit, const char *what)
{
  const SbBench *bench = sb_document_bench (request->document);
  const SbConfiguration *old = sb_bench_configuration (bench, request->configuration);
  const SbConfigurationResult *result = sb_document_result (request->document, request->configuration);
  if (result == NULL || result->trials->len != old->entries->len)
    return;
  SbBench *edited = sb_bench_edit (bench);
  SbConfiguration *changed = sb_bench_edit_configuration (edited, request->configuration);
  guint n = 0;
  for (guint t = 0; t < changed->entries->len; t++) {
    const SbTrialResult *trial = sb_configuration_result_trial (result, t);
    if (trial->facts == NULL || (request->trial != SB_EVERY_TRIAL && request->trial != (int) t))
      continue;
    edit (sb_configuration_entry (changed, t), trial->facts, request->s);
    n++;
  }
  if (n == 0) {
    sb_bench_unref (edited);
    return;
  }
  g_autofree char *label = request->trial == SB_EVERY_TRIAL
                               ? g_strdup (old->name)
                               : sb_trial_entry_label (sb_configuration_entry (old, (guint) request->trial));
  g_autofree char *step = g_strdup_printf ("%s of %s", what, label);
  sb_document_push (request->document, edited, step);
}

void
sb_edit_move_onset (SbDocument *document, guint configuration, int trial, double by_s)
{
  Request request = { document, configuration, trial, by_s };
  if (fabs (by_s) > 0)
    edit_entries (&request, move_onset, "move the onset");
}

void
sb_edit_set_active_end (SbDocument *document, guint configuration, int trial, double end_s)
{
  Request request = { document, configuration, trial, fmax (end_s, SHORTEST_S) };
  edit_entries (&request, set_end, "move the end of the active window");
}

void
sb_edit_find_window (SbDocument *document, guint configuration, int trial)
{
  Request request = { document, configuration, trial, 0 };
  edit_entries (&request, find_again, "find onset and end anew");
}

/* (transfer full); "–" when there is none */
static char *
mean_text (SbMeasureId id, SbUnits units, const SbMeasureSummary *summary, gboolean with_unit)
{
  if (!summary->present)
    return g_strdup ("–");
  return sb_measure_format_in (id, units, summary->mean, summary->standard_uncertainty, with_unit);
}

char *
sb_figures_changed (const SbConfigurationResult *before, const SbConfigurationResult *after, SbUnits units, guint most)
{
  GString *text = g_string_new (NULL);
  guint n = 0;
  for (int id = 0; id < SB_N_MEASURES && before->summary != NULL && after->summary != NULL; id++) {
    g_autofree char *old = mean_text ((SbMeasureId) id, units, &before->summary->measure[id], FALSE);
    g_autofree char *new = mean_text ((SbMeasureId) id, units, &after->summary->measure[id], FALSE);
    if (g_str_equal (old, new) || n++ >= most)
      continue;
    g_autofree char *shown = mean_text ((SbMeasureId) id, units, &after->summary->measure[id], TRUE);
    g_string_append_printf (text, "%s%s %s → %s", n > 1 ? "; " : "", sb_measure_info ((SbMeasureId) id)->name, old,
                            shown);
  }
  if (n > most)
    g_string_append_printf (text, "; and %u more", n - most);
  if (n == 0)
    g_string_append (text, "No figure changes.");
  return g_string_free (text, FALSE);
}
