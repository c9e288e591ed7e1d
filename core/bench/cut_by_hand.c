/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cut_steps.h"
#include "step_pieces.h"

#include <math.h>
#include <string.h>

/* Takes every trial of the log out. Gives the first of them as a whole log, taken in when any of them was: an entry of
 * its own, to be cleared. */
static SbTrialEntry
take_out (SbBench *edited, const char *path)
{
  SbTrialEntry whole = { .path = g_ref_string_new (path), .choices = SB_TRIAL_CHOICES_NONE };
  for (guint c = 0; c < edited->configurations->len; c++) {
    guint n = sb_bench_configuration (edited, c)->entries->len;
    for (guint t = n; t-- > 0;) {
      const SbTrialEntry *entry = sb_configuration_entry (sb_bench_configuration (edited, c), t);
      if (strcmp (entry->path, path) != 0)
        continue;
      whole.included = whole.included || entry->included;
      if (whole.layout == NULL && entry->layout != NULL)
        whole.layout = sb_layout_choice_ref (entry->layout);
      if (whole.sha256 == NULL)
        whole.sha256 = sb_pieces_acquire (entry->sha256);
      if (whole.exclusion_reason == NULL)
        whole.exclusion_reason = sb_pieces_acquire (entry->exclusion_reason);
      g_array_remove_index (sb_bench_edit_configuration (edited, c)->entries, t);
    }
  }
  if (whole.included)
    g_clear_pointer (&whole.exclusion_reason, g_ref_string_release);
  return whole;
}

/* Those that a log was taken out of and that have no other, unless logs may join them. */
static void
remove_empty (SbBench *edited, const SbBench *before)
{
  for (guint c = edited->configurations->len; c-- > 0;) {
    const SbConfiguration *configuration = sb_bench_configuration (edited, c);
    int old = sb_pieces_find_configuration (before, configuration->name);
    if (configuration->entries->len == 0 && configuration->folder == NULL && old >= 0
        && sb_bench_configuration (before, (guint) old)->entries->len > 0)
      sb_bench_remove_configuration (edited, c);
  }
}

SbBench *
sb_bench_cut_at (const SbBench *bench, guint index, const char *path, const SbCut *cuts, gsize n, const SbCut *others)
{
  g_return_val_if_fail (n >= 1 && index < bench->configurations->len, NULL);
  SbBench *edited = sb_bench_edit (bench);
  SbTrialEntry whole = take_out (edited, path);
  g_autoptr (GArray) pieces = sb_pieces_new ();
  for (gsize k = 0; k < n; k++) {
    sb_pieces_add (pieces, &whole, cuts[k].from_s, cuts[k].to_s, cuts[k].base_nm, cuts[k].top_nm);
    sb_piece_at (pieces, (guint) k)->entry.step = (guint) k + 1;
    sb_piece_at (pieces, (guint) k)->entry.n_steps = (guint) n;
  }
  sb_trial_entry_clear (&whole);
  g_autoptr (GPtrArray) groups = sb_pieces_group (pieces);
  SbPiece home = { .base = others != NULL ? others->base_nm : (double) NAN,
                   .top = others != NULL ? others->top_nm : (double) NAN };
  gboolean alone = sb_bench_configuration (edited, index)->entries->len == 0 || isnan (home.base);
  if (groups->len == 1 && (alone || sb_pieces_alike (sb_piece_at (pieces, 0), &home))) {
    sb_pieces_put (edited, index, g_ptr_array_index (groups, 0));
  } else {
    gsize n_made = 0;
    g_autoptr (GPtrArray) names = sb_pieces_place (edited, index, groups, alone ? NULL : &home, &n_made);
    SbPiece levels = { .base = NAN, .top = NAN };
    if (sb_bench_configuration (edited, index)->entries->len == 0)
      sb_pieces_pass_on (edited, index, groups, names, &levels);
  }
  remove_empty (edited, bench);
  return edited;
}

/* Gives a configuration in which nothing is cut any more the name that it had before the cut. */
static void
rename_joined (SbBench *edited, guint index)
{
  const SbConfiguration *configuration = sb_bench_configuration (edited, index);
  for (guint t = 0; t < configuration->entries->len; t++)
    if (sb_configuration_entry (configuration, t)->n_steps > 0)
      return;
  g_autofree char *name = sb_pieces_name_without_levels (configuration->name);
  if (sb_pieces_find_configuration (edited, name) >= 0)
    return;
  SbConfiguration *own = sb_bench_edit_configuration (edited, index);
  g_free (own->name);
  own->name = g_steal_pointer (&name);
}

static SbBench *
join (const SbBench *bench, guint index, const char *path, gboolean keep_whole)
{
  SbBench *edited = sb_bench_edit (bench);
  SbTrialEntry whole = take_out (edited, path);
  whole.kept_whole = keep_whole;
  sb_bench_add_entry (edited, index, &whole);
  sb_trial_entry_clear (&whole);
  rename_joined (edited, index);
  remove_empty (edited, bench);
  return edited;
}

SbBench *
sb_bench_join_steps (const SbBench *bench, guint index, const char *path)
{
  return join (bench, index, path, TRUE);
}

/* A configuration and a trial in it that is a stretch of its log; FALSE when there is none. */
static gboolean
find_cut (const SbBench *bench, guint *index, const char **path)
{
  for (guint c = 0; c < bench->configurations->len; c++) {
    const SbConfiguration *configuration = sb_bench_configuration (bench, c);
    for (guint t = 0; t < configuration->entries->len; t++) {
      const SbTrialEntry *entry = sb_configuration_entry (configuration, t);
      if (sb_trial_choices_whole (&entry->choices))
        continue;
      *index = c;
      *path = entry->path;
      return TRUE;
    }
  }
  return FALSE;
}

SbBench *
sb_bench_set_steps (const SbBench *bench, SbStepsChoice steps)
{
  SbBench *edited = sb_bench_edit (bench);
  edited->steps = steps;
  guint index;
  const char *path;
  while (steps == SB_STEPS_FIRST && find_cut (edited, &index, &path)) {
    SbBench *joined = join (edited, index, path, FALSE);
    sb_bench_unref (edited);
    edited = joined;
  }
  return edited;
}
