/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "arrange.h"

#include "bench_claims.h"

#include <string.h>

/* Where the configuration at `index` is after the one at `from` went to `to`. */
static int
place_after (int index, int from, int to)
{
  if (index == from)
    return to;
  if (from < index && index <= to)
    return index - 1;
  return to <= index && index < from ? index + 1 : index;
}

static void
reorder_claims (SbBench *edited, int from, int to)
{
  for (guint i = 0; i < sb_bench_n_claims (edited); i++) {
    const SbClaim *claim = sb_bench_claim (edited, i);
    int place = claim->configuration < 0 ? -1 : place_after (claim->configuration, from, to);
    if (place == claim->configuration)
      continue;
    SbClaim *moved = sb_claim_copy (claim);
    moved->configuration = place;
    sb_bench_set_claim (edited, i, moved);
    sb_claim_free (moved);
  }
}

void
sb_bench_reorder (SbBench *edited, guint from, guint to)
{
  g_return_if_fail (from < edited->configurations->len && to < edited->configurations->len);
  gpointer *all = edited->configurations->pdata;
  gpointer moved = all[from];
  if (from < to)
    memmove (all + from, all + from + 1, (to - from) * sizeof *all);
  else
    memmove (all + to + 1, all + to, (from - to) * sizeof *all);
  all[to] = moved;
  edited->reference = place_after (edited->reference, (int) from, (int) to);
  edited->other = place_after (edited->other, (int) from, (int) to);
  reorder_claims (edited, (int) from, (int) to);
}

void
sb_bench_move_trials (SbBench *edited, guint from, const guint *trials, gsize n, guint to)
{
  SbConfiguration *source = sb_bench_edit_configuration (edited, from);
  g_autofree const SbTrialEntry **moved = g_new (const SbTrialEntry *, n);
  for (gsize i = 0; i < n; i++)
    moved[i] = sb_configuration_entry (source, trials[i]);
  sb_bench_add_entries (edited, to, moved, n);
  GArray *kept = g_array_new (FALSE, TRUE, sizeof (SbTrialEntry));
  g_array_set_clear_func (kept, sb_trial_entry_clear);
  for (guint t = 0, i = 0; t < source->entries->len; t++) {
    if (i < n && trials[i] == t) {
      i++;
      continue;
    }
    SbTrialEntry entry = sb_trial_entry_copy (sb_configuration_entry (source, t));
    g_array_append_val (kept, entry);
  }
  g_array_unref (source->entries);
  source->entries = kept;
}

/* The role of the one that goes, for the one that stays. */
static void
take_role (int *role, int theirs, int from, int into)
{
  if (*role == from && theirs != into)
    *role = into;
}

void
sb_bench_merge (SbBench *edited, guint from, guint into)
{
  g_return_if_fail (from != into);
  guint n = sb_bench_configuration (edited, from)->entries->len;
  g_autofree guint *all = g_new (guint, n);
  for (guint t = 0; t < n; t++)
    all[t] = t;
  sb_bench_move_trials (edited, from, all, n, into);
  const SbConfiguration *going = sb_bench_configuration (edited, from);
  if (sb_bench_configuration (edited, into)->folder == NULL && going->folder != NULL) {
    g_autofree char *folder = g_strdup (going->folder), *opened = g_strdup (going->opened_folder);
    sb_bench_set_folder (edited, into, folder, opened);
  }
  for (guint i = 0; i < going->callouts->len; i++) {
    const SbCallout *callout = sb_callouts_get (going->callouts, i);
    GArray *callouts = sb_bench_edit_configuration (edited, into)->callouts;
    sb_callouts_add (callouts, callout->panel, callout->time_s, callout->text, callout->label);
  }
  for (int k = 0; k < SB_N_CHART_POINTS; k++)
    if (going->point[k].is_put)
      sb_bench_edit_configuration (edited, into)->point[k] = going->point[k];
  sb_bench_move_claims (edited, from, into);
  take_role (&edited->reference, edited->other, (int) from, (int) into);
  take_role (&edited->other, edited->reference, (int) from, (int) into);
  sb_bench_remove_configuration (edited, from);
}

/* An empty configuration behind `index`, drawn as that one is. */
static guint
add_behind (SbBench *edited, guint index)
{
  const SbConfiguration *like = sb_bench_configuration (edited, index);
  g_autofree char *name = g_strdup (like->name);
  gboolean drawn = like->drawn;
  guint last = sb_bench_add_configuration (edited, name, NULL, 0);
  sb_bench_edit_configuration (edited, last)->drawn = drawn;
  sb_bench_reorder (edited, last, index + 1);
  return index + 1;
}

guint
sb_bench_split (SbBench *edited, guint index, const guint *trials, gsize n)
{
  guint own = add_behind (edited, index);
  sb_bench_move_trials (edited, index, trials, n, own);
  return own;
}

guint
sb_bench_duplicate (SbBench *edited, guint index)
{
  guint own = add_behind (edited, index);
  const SbConfiguration *from = sb_bench_configuration (edited, index);
  for (guint t = 0; t < from->entries->len; t++)
    sb_bench_append_entry (edited, own, sb_configuration_entry (from, t)); /* it was empty */
  SbConfiguration *copy = sb_bench_edit_configuration (edited, own);
  g_array_unref (copy->callouts);
  copy->callouts = sb_callouts_copy (from->callouts);
  return own;
}
