/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "edits.h"

#include <math.h>

static const char *const panel_words[SB_N_PANELS] = {
  [SB_PANEL_VELOCITY] = "velocity",
  [SB_PANEL_TORQUE] = "torque",
  [SB_PANEL_ANGLE] = "angle",
  [SB_PANEL_COMMAND] = "command",
};

static const SbConfiguration *
configuration_of (SbDocument *document, guint configuration)
{
  return sb_bench_configuration (sb_document_bench (document), configuration);
}

static SbBench *
begin (SbDocument *document)
{
  return sb_bench_edit (sb_document_bench (document));
}

void
sb_edit_set_drawn (SbDocument *document, guint configuration, gboolean drawn)
{
  const SbConfiguration *old = configuration_of (document, configuration);
  if (!old->drawn == !drawn)
    return;
  g_autofree char *step = g_strdup_printf ("%s %s", drawn ? "draw" : "hide", old->name);
  SbBench *edited = begin (document);
  sb_bench_edit_configuration (edited, configuration)->drawn = drawn;
  sb_document_push (document, edited, step);
}

static gboolean
name_is_taken (const SbBench *bench, const char *name)
{
  for (guint i = 0; i < bench->configurations->len; i++)
    if (g_str_equal (sb_bench_configuration (bench, i)->name, name))
      return TRUE;
  return FALSE;
}

void
sb_edit_rename (SbDocument *document, guint configuration, const char *name)
{
  const SbConfiguration *old = configuration_of (document, configuration);
  g_autofree char *wanted = g_strstrip (g_strdup (name));
  if (*wanted == '\0' || g_str_equal (old->name, wanted))
    return;
  g_autofree char *unique = g_strdup (wanted);
  for (guint i = 2; name_is_taken (sb_document_bench (document), unique); i++) {
    g_free (unique);
    unique = g_strdup_printf ("%s (%u)", wanted, i);
  }
  g_autofree char *step = g_strdup_printf ("rename %s", old->name);
  SbBench *edited = begin (document);
  SbConfiguration *changed = sb_bench_edit_configuration (edited, configuration);
  g_free (changed->name);
  changed->name = g_steal_pointer (&unique);
  sb_document_push (document, edited, step);
}

void
sb_edit_set_style (SbDocument *document, guint configuration, guint style)
{
  const SbConfiguration *old = configuration_of (document, configuration);
  if (old->style == style)
    return;
  g_autofree char *step = g_strdup_printf ("recolour %s", old->name);
  SbBench *edited = begin (document);
  sb_bench_edit_configuration (edited, configuration)->style = style;
  sb_document_push (document, edited, step);
}

void
sb_edit_set_role (SbDocument *document, guint configuration, SbSide role, gboolean on)
{
  const SbBench *bench = sb_document_bench (document);
  int index = (int) configuration;
  int mine = role == SB_SIDE_REFERENCE ? bench->reference : bench->other;
  int theirs = role == SB_SIDE_REFERENCE ? bench->other : bench->reference;
  if ((mine == index) == !!on)
    return;
  /* One that changes its role trades places with the one that had it. */
  if (on && theirs == index)
    theirs = mine;
  mine = on ? index : -1;
  g_autofree char *step = g_strdup_printf (on ? "make %s the %s" : "no longer %s the %s",
                                           configuration_of (document, configuration)->name,
                                           role == SB_SIDE_REFERENCE ? "reference" : "other");
  SbBench *edited = begin (document);
  edited->reference = role == SB_SIDE_REFERENCE ? mine : theirs;
  edited->other = role == SB_SIDE_REFERENCE ? theirs : mine;
  sb_document_push (document, edited, step);
}

void
sb_edit_remove (SbDocument *document, guint configuration)
{
  g_autofree char *step = g_strdup_printf ("remove %s", configuration_of (document, configuration)->name);
  SbBench *edited = begin (document);
  sb_bench_remove_configuration (edited, configuration);
  sb_document_push (document, edited, step);
}

static void
include_entry (SbTrialEntry *entry, gboolean included)
{
  entry->included = included;
  if (included)
    g_clear_pointer (&entry->exclusion_reason, g_ref_string_release);
}

void
sb_edit_include (SbDocument *document, guint configuration, guint trial, gboolean included)
{
  const SbTrialEntry *old = sb_configuration_entry (configuration_of (document, configuration), trial);
  if (!old->included == !included)
    return;
  g_autofree char *file = sb_trial_entry_label (old);
  g_autofree char *step = g_strdup_printf ("%s %s", included ? "include" : "exclude", file);
  SbBench *edited = begin (document);
  SbConfiguration *changed = sb_bench_edit_configuration (edited, configuration);
  include_entry (sb_configuration_entry (changed, trial), included);
  sb_document_push (document, edited, step);
}

void
sb_edit_set_reason (SbDocument *document, guint configuration, guint trial, const char *reason)
{
  const SbTrialEntry *old = sb_configuration_entry (configuration_of (document, configuration), trial);
  g_autofree char *wanted = g_strstrip (g_strdup (reason));
  if (old->included || g_str_equal (old->exclusion_reason != NULL ? old->exclusion_reason : "", wanted))
    return;
  g_autofree char *file = sb_trial_entry_label (old);
  g_autofree char *step = g_strdup_printf ("say why %s is left out", file);
  SbBench *edited = begin (document);
  SbTrialEntry *entry = sb_configuration_entry (sb_bench_edit_configuration (edited, configuration), trial);
  g_clear_pointer (&entry->exclusion_reason, g_ref_string_release);
  if (*wanted != '\0')
    entry->exclusion_reason = g_ref_string_new (wanted);
  sb_document_push (document, edited, step);
}

void
sb_edit_include_all (SbDocument *document, guint configuration)
{
  const SbConfiguration *old = configuration_of (document, configuration);
  gboolean all = TRUE;
  for (guint i = 0; i < old->entries->len; i++)
    all = all && sb_configuration_entry (old, i)->included;
  if (all)
    return;
  g_autofree char *step = g_strdup_printf ("include every trial of %s", old->name);
  SbBench *edited = begin (document);
  SbConfiguration *changed = sb_bench_edit_configuration (edited, configuration);
  for (guint i = 0; i < changed->entries->len; i++)
    include_entry (sb_configuration_entry (changed, i), TRUE);
  sb_document_push (document, edited, step);
}

/* Levels of the trials of a configuration that are of other logs; NaN when they are not known. */
static SbCut
levels_of_others (SbDocument *document, guint configuration, const char *path)
{
  SbCut levels = { NAN, NAN, NAN, NAN };
  const SbConfigurationResult *result = sb_document_result (document, configuration);
  for (guint t = 0; result != NULL && t < result->trials->len; t++) {
    const SbTrialResult *trial = sb_configuration_result_trial (result, t);
    if (trial->facts == NULL || isnan (trial->facts->command_top_nm) || g_str_equal (trial->path, path))
      continue;
    int direction = trial->facts->mirrored ? -1 : 1;
    levels.base_nm = direction * trial->facts->command_base_nm;
    levels.top_nm = direction * trial->facts->command_top_nm;
    break;
  }
  return levels;
}

void
sb_edit_cut_at (SbDocument *document, guint configuration, const char *path, const SbCut *cuts, gsize n)
{
  g_autofree char *file = g_filename_display_basename (path);
  g_autofree char *step = g_strdup_printf ("cut %s into %" G_GSIZE_FORMAT " %s", file, n, n == 1 ? "step" : "steps");
  SbCut others = levels_of_others (document, configuration, path);
  SbBench *edited = sb_bench_cut_at (sb_document_bench (document), configuration, path, cuts, n, &others);
  sb_document_push (document, edited, step);
}

void
sb_edit_join (SbDocument *document, guint configuration, guint trial)
{
  const SbTrialEntry *old = sb_configuration_entry (configuration_of (document, configuration), trial);
  if (sb_trial_choices_whole (&old->choices))
    return;
  g_autofree char *file = g_filename_display_basename (old->path);
  g_autofree char *step = g_strdup_printf ("join the steps of %s", file);
  SbBench *edited = sb_bench_join_steps (sb_document_bench (document), configuration, old->path);
  sb_document_push (document, edited, step);
}

void
sb_edit_set_steps (SbDocument *document, SbStepsChoice steps)
{
  const SbBench *bench = sb_document_bench (document);
  if (bench->steps == steps)
    return;
  SbBench *edited = sb_bench_set_steps (bench, steps);
  if (steps == SB_STEPS_ALL)
    sb_document_push_to_cut (document, edited, "make each step of a log a trial");
  else
    sb_document_push (document, edited, "measure the first step of a log only");
}

void
sb_edit_show_panel (SbDocument *document, SbPanel panel, gboolean shown)
{
  guint old = sb_document_bench (document)->chart.panels;
  guint panels = shown ? old | (1u << panel) : old & ~(1u << panel);
  if (panels == old || panels == 0)
    return;
  g_autofree char *step = g_strdup_printf ("%s the %s panel", shown ? "show" : "hide", panel_words[panel]);
  SbBench *edited = begin (document);
  edited->chart.panels = panels;
  sb_document_push (document, edited, step);
}

void
sb_edit_set_band (SbDocument *document, SbBandKind band)
{
  if (sb_document_bench (document)->band == band)
    return;
  SbBench *edited = begin (document);
  edited->band = band;
  sb_document_push (document, edited, "change the band");
}

void
sb_edit_set_trial_lines (SbDocument *document, gboolean shown)
{
  if (!sb_document_bench (document)->chart.trial_lines == !shown)
    return;
  SbBench *edited = begin (document);
  edited->chart.trial_lines = shown;
  sb_document_push (document, edited, shown ? "show a line per trial" : "hide the lines of trials");
}

/* Residuals that a session asked for stay asked for only while the model is fitted. */
void
sb_edit_set_drive_model (SbDocument *document, gboolean fitted)
{
  if ((sb_document_bench (document)->drive_model != SB_DRIVE_MODEL_NONE) == !!fitted)
    return;
  SbBench *edited = begin (document);
  edited->drive_model = fitted ? SB_DRIVE_MODEL_FIT : SB_DRIVE_MODEL_NONE;
  sb_document_push (document, edited, fitted ? "fit a model of the drive" : "take the model of the drive away");
}

void
sb_edit_set_title (SbDocument *document, const char *title)
{
  const char *old = sb_document_bench (document)->chart.title;
  g_autofree char *wanted = g_strstrip (g_strdup (title));
  if (g_str_equal (old != NULL ? old : "", wanted))
    return;
  SbBench *edited = begin (document);
  g_free (edited->chart.title);
  edited->chart.title = g_steal_pointer (&wanted);
  sb_document_push (document, edited, "change the title");
}

static gboolean
same_paper (const SbPaper *a, const SbPaper *b)
{
  return fabs (a->width_mm - b->width_mm) < 1e-9 && fabs (a->height_mm - b->height_mm) < 1e-9
         && fabs (a->dpi - b->dpi) < 1e-9 && fabs (a->font_pt - b->font_pt) < 1e-9 && a->ground == b->ground
         && a->grey == b->grey && a->legend == b->legend && a->no_foot == b->no_foot;
}

void
sb_edit_set_export (SbDocument *document, const SbPaper *paper, SbChartFormat format)
{
  const SbBench *bench = sb_document_bench (document);
  gboolean of_same_paper = same_paper (&bench->chart.paper, paper);
  if (of_same_paper && bench->exported_as == format)
    return;
  SbBench *edited = begin (document);
  edited->chart.paper = *paper;
  edited->exported_as = format;
  sb_document_push (document, edited,
                    of_same_paper ? "choose the format of the export" : "choose the size of the export");
}

static gboolean
same_time (double a, double b)
{
  return (isnan (a) && isnan (b)) || fabs (a - b) < 1e-12;
}

void
sb_edit_set_view (SbDocument *document, double from_s, double to_s)
{
  const double *old = sb_document_bench (document)->chart.view_s;
  if (same_time (old[0], from_s) && same_time (old[1], to_s))
    return;
  SbBench *edited = begin (document);
  edited->chart.view_s[0] = from_s;
  edited->chart.view_s[1] = to_s;
  sb_document_push (document, edited, isnan (from_s) ? "show all of the time" : "change the time shown");
}
