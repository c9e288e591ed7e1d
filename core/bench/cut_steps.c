/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cut_steps.h"

#include "step_pieces.h"

#include <math.h>

static gboolean
may_be_cut (const SbTrialEntry *entry, const SbTrialFacts *facts)
{
  const SbTrialChoices *choices = &entry->choices;
  return facts != NULL && !entry->kept_whole && sb_trial_choices_whole (choices) && isnan (choices->onset_s)
         && isnan (choices->active_end_s) && sb_steps_count (facts->steps) > 1;
}

/* A piece per step. */
static void
add_steps (GArray *pieces, const SbTrialEntry *entry, const SbTrialFacts *facts)
{
  guint n = (guint) sb_steps_count (facts->steps), k = 0;
  for (guint s = 0; s < facts->steps->len; s++) {
    const SbStep *step = &g_array_index (facts->steps, SbStep, s);
    if (step->is_release)
      continue;
    sb_pieces_add (pieces, entry, step->from_s, step->to_s, step->base_nm, step->top_nm);
    sb_piece_at (pieces, pieces->len - 1)->entry.step = ++k;
    sb_piece_at (pieces, pieces->len - 1)->entry.n_steps = n;
  }
}

static void
add_as_it_is (GArray *pieces, const SbTrialEntry *entry, const SbTrialFacts *facts)
{
  int direction = facts != NULL && facts->mirrored ? -1 : 1;
  sb_pieces_add (pieces, entry, entry->choices.from_s, entry->choices.to_s,
                 facts != NULL ? direction * facts->command_base_nm : (double) NAN,
                 facts != NULL ? direction * facts->command_top_nm : (double) NAN);
}

static gboolean
any_may_be_cut (const SbConfiguration *configuration, const SbConfigurationResult *result)
{
  for (guint t = 0; t < configuration->entries->len; t++)
    if (may_be_cut (sb_configuration_entry (configuration, t), sb_configuration_result_trial (result, t)->facts))
      return TRUE;
  return FALSE;
}

/* The trials of a configuration as they are to be; NULL when they stay as they are. */
static GArray *
cut_configuration (const SbConfiguration *configuration, const SbConfigurationResult *result, SbCutReport *report)
{
  if (!any_may_be_cut (configuration, result))
    return NULL;
  GArray *pieces = sb_pieces_new ();
  for (guint t = 0; t < configuration->entries->len; t++) {
    const SbTrialEntry *entry = sb_configuration_entry (configuration, t);
    const SbTrialFacts *facts = sb_configuration_result_trial (result, t)->facts;
    if (!may_be_cut (entry, facts)) {
      add_as_it_is (pieces, entry, facts);
      continue;
    }
    add_steps (pieces, entry, facts);
    report->n_steps += sb_steps_count (facts->steps);
    g_ptr_array_add (report->logs, g_strdup (entry->path));
  }
  return pieces;
}

/* Levels of the first trial of a configuration that has a step; NaN when there is none. */
static SbPiece
levels_of (const SbConfigurationResult *result)
{
  for (guint t = 0; t < result->trials->len; t++) {
    const SbTrialFacts *facts = sb_configuration_result_trial (result, t)->facts;
    int direction = facts != NULL && facts->mirrored ? -1 : 1;
    if (facts != NULL && !isnan (facts->command_top_nm))
      return (SbPiece){ .base = direction * facts->command_base_nm, .top = direction * facts->command_top_nm };
  }
  return (SbPiece){ .base = NAN, .top = NAN };
}

/* Configuration `index` with these trials in place of the first n_old of its own, behind which stand what another one
 * has put there; gives the index of the next configuration. */
static guint
put_in_place (SbBench *edited, guint index, guint n_old, const GArray *pieces, SbPiece *levels, SbCutReport *report)
{
  g_autoptr (GPtrArray) groups = sb_pieces_group (pieces);
  g_array_remove_range (sb_bench_edit_configuration (edited, index)->entries, 0, n_old);
  if (groups->len == 1) {
    sb_pieces_put (edited, index, g_ptr_array_index (groups, 0));
    return index + 1;
  }
  gsize n_made = 0;
  g_autoptr (GPtrArray) names = sb_pieces_place (edited, index, groups, NULL, &n_made);
  report->n_configurations += n_made;
  if (sb_bench_configuration (edited, index)->entries->len > 0)
    return index + 1 + (guint) n_made;
  sb_pieces_pass_on (edited, index, groups, names, levels);
  return index + (guint) n_made;
}

SbBench *
sb_bench_cut_steps (const SbAnalysis *analysis, SbCutReport *report)
{
  const SbBench *bench = analysis->bench;
  sb_cut_report_clear (report);
  *report = (SbCutReport){ .logs = g_ptr_array_new_with_free_func (g_free) };
  if (bench->steps != SB_STEPS_ALL)
    return NULL;
  g_autoptr (SbBench) edited = sb_bench_edit (bench);
  SbPiece levels = bench->reference >= 0 ? levels_of (sb_analysis_configuration (analysis, (guint) bench->reference))
                                         : (SbPiece){ .base = NAN, .top = NAN };
  guint next = 0;
  for (guint c = 0; c < bench->configurations->len; c++) {
    g_autoptr (GArray) pieces
        = cut_configuration (sb_bench_configuration (bench, c), sb_analysis_configuration (analysis, c), report);
    guint n_old = sb_bench_configuration (bench, c)->entries->len;
    next = pieces != NULL ? put_in_place (edited, next, n_old, pieces, &levels, report) : next + 1;
  }
  return report->logs->len > 0 ? g_steal_pointer (&edited) : NULL;
}

static void
append_configurations (GString *text, const SbCutReport *report)
{
  if (report->n_configurations > 0)
    g_string_append_printf (text, ", in %" G_GSIZE_FORMAT " configurations by their levels", report->n_configurations);
}

char *
sb_cut_report_text (const SbCutReport *report)
{
  GString *text = g_string_new (NULL);
  g_string_printf (text, "%" G_GSIZE_FORMAT " steps of ", report->n_steps);
  if (report->logs->len == 1) {
    g_autofree char *name = g_filename_display_basename (g_ptr_array_index (report->logs, 0));
    g_string_append (text, name);
  } else {
    g_string_append_printf (text, "%u logs", report->logs->len);
  }
  g_string_append (text, " are a trial each");
  append_configurations (text, report);
  g_string_append_c (text, '.');
  return g_string_free (text, FALSE);
}

char *
sb_cut_report_did (const SbCutReport *report)
{
  GString *text = g_string_new (NULL);
  g_string_printf (text, "%s cut into %" G_GSIZE_FORMAT " steps, a trial each", report->logs->len == 1 ? "was" : "were",
                   report->n_steps);
  append_configurations (text, report);
  return g_string_free (text, FALSE);
}

void
sb_cut_report_clear (SbCutReport *report)
{
  g_clear_pointer (&report->logs, g_ptr_array_unref);
}
