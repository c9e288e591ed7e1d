/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "arrange_edits.h"

#include "arrange.h"

static const char *
name_of (SbDocument *document, guint configuration)
{
  return sb_bench_configuration (sb_document_bench (document), configuration)->name;
}

static const guint *
indices_of (const GArray *trials)
{
  return (const guint *) (gconstpointer) trials->data;
}

/* "run-03.csv" or "3 trials" */
static char *
words_for (SbDocument *document, guint configuration, const GArray *trials)
{
  const SbConfiguration *owner = sb_bench_configuration (sb_document_bench (document), configuration);
  if (trials->len == 1)
    return sb_trial_entry_label (sb_configuration_entry (owner, indices_of (trials)[0]));
  return g_strdup_printf ("%u trials", trials->len);
}

void
sb_edit_reorder (SbDocument *document, guint from, guint to)
{
  if (from == to || to >= sb_document_bench (document)->configurations->len)
    return;
  g_autofree char *step = g_strdup_printf ("move %s %s", name_of (document, from), to < from ? "up" : "down");
  SbBench *edited = sb_bench_edit (sb_document_bench (document));
  sb_bench_reorder (edited, from, to);
  sb_document_push (document, edited, step);
}

void
sb_edit_move_trials (SbDocument *document, guint from, const GArray *trials, guint to)
{
  if (from == to)
    return;
  g_autofree char *what = words_for (document, from, trials);
  g_autofree char *step = g_strdup_printf ("move %s to %s", what, name_of (document, to));
  SbBench *edited = sb_bench_edit (sb_document_bench (document));
  sb_bench_move_trials (edited, from, indices_of (trials), trials->len, to);
  sb_document_push (document, edited, step);
}

void
sb_edit_include_trials (SbDocument *document, guint configuration, const GArray *trials, gboolean included)
{
  g_autofree char *what = words_for (document, configuration, trials);
  g_autofree char *step = g_strdup_printf ("%s %s", included ? "include" : "exclude", what);
  SbBench *edited = sb_bench_edit (sb_document_bench (document));
  SbConfiguration *changed = sb_bench_edit_configuration (edited, configuration);
  gboolean any = FALSE;
  for (guint i = 0; i < trials->len; i++) {
    SbTrialEntry *entry = sb_configuration_entry (changed, indices_of (trials)[i]);
    any = any || !entry->included != !included;
    entry->included = included;
    if (included)
      g_clear_pointer (&entry->exclusion_reason, g_ref_string_release);
  }
  if (any)
    sb_document_push (document, edited, step);
  else
    sb_bench_unref (edited);
}

void
sb_edit_split (SbDocument *document, guint configuration, const GArray *trials)
{
  g_autofree char *what = words_for (document, configuration, trials);
  g_autofree char *step = g_strdup_printf ("split %s off %s", what, name_of (document, configuration));
  SbBench *edited = sb_bench_edit (sb_document_bench (document));
  sb_bench_split (edited, configuration, indices_of (trials), trials->len);
  sb_document_push (document, edited, step);
}

void
sb_edit_merge (SbDocument *document, guint from, guint into)
{
  if (from == into)
    return;
  g_autofree char *step = g_strdup_printf ("merge %s into %s", name_of (document, from), name_of (document, into));
  SbBench *edited = sb_bench_edit (sb_document_bench (document));
  sb_bench_merge (edited, from, into);
  sb_document_push (document, edited, step);
}

void
sb_edit_duplicate (SbDocument *document, guint configuration)
{
  g_autofree char *step = g_strdup_printf ("duplicate %s", name_of (document, configuration));
  SbBench *edited = sb_bench_edit (sb_document_bench (document));
  sb_bench_duplicate (edited, configuration);
  sb_document_push (document, edited, step);
}
