/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cut_steps.h"
#include "step_pieces.h"

#include <math.h>
#include <string.h>

/* Takes over of a trial of the log what holds for the log as a whole. */
static void
absorb (SbTrialEntry *whole, const SbTrialEntry *entry)
{
  whole->included = whole->included || entry->included;
  if (whole->layout == NULL && entry->layout != NULL)
    whole->layout = sb_layout_choice_ref (entry->layout);
  if (whole->sha256 == NULL) {
    whole->sha256 = sb_pieces_acquire (entry->sha256);
    whole->size_bytes = entry->size_bytes;
  }
  if (whole->exclusion_reason == NULL)
    whole->exclusion_reason = sb_pieces_acquire (entry->exclusion_reason);
  if (whole->included)
    g_clear_pointer (&whole->exclusion_reason, g_ref_string_release);
}

/* Gives each log in `logs` (path -> SbTrialEntry *, which becomes the whole log, taken in when any of its trials was)
 * what its trials say, and takes these out. Linear in the trials: a bench has tens of thousands. */
static void
take_out (SbBench *edited, GHashTable *logs)
{
  for (guint c = 0; c < edited->configurations->len; c++) {
    const SbConfiguration *configuration = sb_bench_configuration (edited, c);
    guint t = 0;
    while (t < configuration->entries->len) {
      guint n = 0;
      SbTrialEntry *whole;
      while (t + n < configuration->entries->len
             && (whole = g_hash_table_lookup (logs, sb_configuration_entry (configuration, t + n)->path)) != NULL)
        absorb (whole, sb_configuration_entry (configuration, t + n++));
      if (n > 0) {
        g_array_remove_range (sb_bench_edit_configuration (edited, c)->entries, t, n);
        configuration = sb_bench_configuration (edited, c);
      } else {
        t++;
      }
    }
  }
}

/* The same for one log. To be cleared. */
static SbTrialEntry
take_out_log (SbBench *edited, const char *path)
{
  SbTrialEntry whole = { .path = g_ref_string_new (path), .choices = SB_TRIAL_CHOICES_NONE };
  g_autoptr (GHashTable) logs = g_hash_table_new (g_str_hash, g_str_equal);
  g_hash_table_insert (logs, whole.path, &whole);
  take_out (edited, logs);
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

/* How long two stretches are the same, s; below 0 when they are apart. A missing end is that of the log. */
static double
overlap_s (const SbTrialChoices *trial, const SbCut *cut)
{
  double from_s = fmax (trial->from_s, cut->from_s), to_s = fmin (trial->to_s, cut->to_s); /* passing over NaN */
  return (isnan (to_s) ? (double) INFINITY : to_s) - (isnan (from_s) ? -(double) INFINITY : from_s);
}

/* The trial of the log that a new stretch is most of; NULL when it is of none. Borrowed. */
static const SbTrialEntry *
find_forerunner (const SbBench *bench, const char *path, const SbCut *cut)
{
  const SbTrialEntry *found = NULL;
  double longest_s = 0;
  for (guint c = 0; c < bench->configurations->len; c++) {
    const SbConfiguration *configuration = sb_bench_configuration (bench, c);
    for (guint t = 0; t < configuration->entries->len; t++) {
      const SbTrialEntry *entry = sb_configuration_entry (configuration, t);
      if (strcmp (entry->path, path) != 0 || overlap_s (&entry->choices, cut) <= longest_s)
        continue;
      longest_s = overlap_s (&entry->choices, cut);
      found = entry;
    }
  }
  return found;
}

/* Who moves one line means none of what was said of the other trials to be unsaid. */
static void
take_judgement (SbTrialEntry *entry, const SbTrialEntry *forerunner)
{
  entry->included = forerunner->included;
  g_clear_pointer (&entry->exclusion_reason, g_ref_string_release);
  entry->exclusion_reason = sb_pieces_acquire (forerunner->exclusion_reason);
  if (!sb_trial_entry_same_stretch (entry, forerunner))
    return;
  entry->choices.onset_s = forerunner->choices.onset_s;
  entry->choices.active_end_s = forerunner->choices.active_end_s;
}

static GArray *
make_pieces (const SbBench *bench, const SbTrialEntry *whole, const SbCut *cuts, gsize n)
{
  GArray *pieces = sb_pieces_new ();
  for (gsize k = 0; k < n; k++) {
    sb_pieces_add (pieces, whole, cuts[k].from_s, cuts[k].to_s, cuts[k].base_nm, cuts[k].top_nm);
    SbTrialEntry *entry = &sb_piece_at (pieces, (guint) k)->entry;
    const SbTrialEntry *forerunner = find_forerunner (bench, whole->path, &cuts[k]);
    if (forerunner != NULL)
      take_judgement (entry, forerunner);
    entry->step = (guint) k + 1;
    entry->n_steps = (guint) n;
  }
  return pieces;
}

SbBench *
sb_bench_cut_at (const SbBench *bench, guint index, const char *path, const SbCut *cuts, gsize n, const SbCut *others)
{
  g_return_val_if_fail (n >= 1 && index < bench->configurations->len, NULL);
  SbBench *edited = sb_bench_edit (bench);
  SbTrialEntry whole = take_out_log (edited, path);
  g_autoptr (GArray) pieces = make_pieces (bench, &whole, cuts, n);
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

SbBench *
sb_bench_join_steps (const SbBench *bench, guint index, const char *path)
{
  SbBench *edited = sb_bench_edit (bench);
  SbTrialEntry whole = take_out_log (edited, path);
  whole.kept_whole = TRUE;
  sb_bench_add_entry (edited, index, &whole);
  sb_trial_entry_clear (&whole);
  rename_joined (edited, index);
  remove_empty (edited, bench);
  return edited;
}

/* A log that becomes whole again. */
typedef struct {
  SbTrialEntry whole;
  guint home; /* the configuration that has its first stretch */
} Joined;

static void
joined_free (gpointer data)
{
  Joined *joined = data;
  sb_trial_entry_clear (&joined->whole);
  g_free (joined);
}

/* Joined, of every log that is cut, in their order; noted by path in `logs` for take_out(). */
static GPtrArray *
find_cut_logs (const SbBench *bench, GHashTable *logs)
{
  GPtrArray *all = g_ptr_array_new_with_free_func (joined_free);
  for (guint c = 0; c < bench->configurations->len; c++) {
    const SbConfiguration *configuration = sb_bench_configuration (bench, c);
    for (guint t = 0; t < configuration->entries->len; t++) {
      const SbTrialEntry *entry = sb_configuration_entry (configuration, t);
      if (sb_trial_choices_whole (&entry->choices) || g_hash_table_contains (logs, entry->path))
        continue;
      Joined *joined = g_new0 (Joined, 1);
      joined->home = c;
      joined->whole = (SbTrialEntry){ .path = g_ref_string_acquire (entry->path), .choices = SB_TRIAL_CHOICES_NONE };
      g_ptr_array_add (all, joined);
      g_hash_table_insert (logs, joined->whole.path, &joined->whole);
    }
  }
  return all;
}

SbBench *
sb_bench_set_steps (const SbBench *bench, SbStepsChoice steps)
{
  SbBench *edited = sb_bench_edit (bench);
  edited->steps = steps;
  if (steps != SB_STEPS_FIRST)
    return edited;
  g_autoptr (GHashTable) logs = g_hash_table_new (g_str_hash, g_str_equal);
  g_autoptr (GPtrArray) cut = find_cut_logs (bench, logs);
  take_out (edited, logs);
  for (guint i = 0; i < cut->len; i++) {
    const Joined *joined = g_ptr_array_index (cut, i);
    sb_bench_add_entry (edited, joined->home, &joined->whole);
  }
  for (guint i = 0; i < cut->len; i++)
    if (i == 0 || ((Joined *) cut->pdata[i - 1])->home != ((Joined *) cut->pdata[i])->home)
      rename_joined (edited, ((Joined *) cut->pdata[i])->home);
  remove_empty (edited, bench);
  return edited;
}
