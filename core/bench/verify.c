/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "verify_logs.h"

#include "path_order.h"
#include "proof_names.h"

#include <math.h>
#include <string.h>

static gboolean
same_value (double a, double b)
{
  return (isnan (a) && isnan (b)) || (!isnan (a) && !(fabs (a - b) > 0));
}

static gboolean
same_to_the_bit (const SbProofFigure *a, const SbProofFigure *b)
{
  if (a->present != b->present || g_strcmp0 (a->verdict, b->verdict) != 0)
    return FALSE;
  for (gsize v = 0; v < SB_PROOF_VALUES; v++)
    if (!same_value (a->value[v], b->value[v]))
      return FALSE;
  return TRUE;
}

static SbProofFigure
without_dust (const SbProofFigure *figure)
{
  SbProofFigure clean = *figure;
  for (gsize v = 0; v < SB_PROOF_VALUES; v++)
    if (fabs (clean.value[v]) < SB_PROOF_DUST)
      clean.value[v] = 0;
  return clean;
}

static gboolean
same_as_printed (const SbProofFigure *recorded, const SbProofFigure *found)
{
  SbProofFigure was = without_dust (recorded), is = without_dust (found);
  g_autofree char *one = sb_proof_figure_text (&was, &was), *other = sb_proof_figure_text (&is, &was);
  return strcmp (one, other) == 0;
}

/* A figure that the analysis does not have is absent. */
static SbProofFigure
find_figure (const GArray *figures, const SbProofFigure *like)
{
  for (guint i = 0; i < figures->len; i++) {
    const SbProofFigure *figure = &g_array_index (figures, SbProofFigure, i);
    if (figure->configuration == like->configuration && figure->id == like->id)
      return *figure;
  }
  return (SbProofFigure){ like->configuration, like->id, FALSE, { NAN, NAN, NAN, NAN }, NULL };
}

/* Whether a log that `configuration` includes is missing: its figures cannot come out. */
static gboolean
lacks_logs (const SbBench *bench, int configuration, GHashTable *missing)
{
  if (configuration < 0)
    return (bench->reference >= 0 && lacks_logs (bench, bench->reference, missing))
           || (bench->other >= 0 && lacks_logs (bench, bench->other, missing));
  if ((guint) configuration >= bench->configurations->len)
    return FALSE;
  const SbConfiguration *of = sb_bench_configuration (bench, (guint) configuration);
  for (guint t = 0; t < of->entries->len; t++) {
    const SbTrialEntry *entry = sb_configuration_entry (of, t);
    const char *name = sb_proof_name_of (entry->path);
    if (entry->included && name != NULL && g_hash_table_contains (missing, name))
      return TRUE;
  }
  return FALSE;
}

static void
count_figure (SbVerification *verification, const SbVerifiedFigure *figure)
{
  switch (figure->match) {
  case SB_VERIFIED_TO_THE_BIT:
    verification->n_to_the_bit++;
    break;
  case SB_VERIFIED_AS_PRINTED:
    verification->n_as_printed++;
    break;
  case SB_VERIFIED_DIFFERS:
    verification->n_differ++;
    break;
  case SB_VERIFIED_UNCHECKED:
    verification->n_unchecked++;
    break;
  case SB_N_VERIFIED_MATCHES:
    break;
  }
}

static void
compare_figures (SbVerification *verification, GHashTable *missing)
{
  const GArray *recorded = verification->proof->figures;
  for (guint i = 0; i < recorded->len; i++) {
    SbVerifiedFigure figure = { .recorded = g_array_index (recorded, SbProofFigure, i) };
    figure.found = find_figure (verification->found, &figure.recorded);
    figure.match = lacks_logs (verification->analysis->bench, figure.recorded.configuration, missing)
                       ? SB_VERIFIED_UNCHECKED
                   : same_to_the_bit (&figure.recorded, &figure.found) ? SB_VERIFIED_TO_THE_BIT
                   : same_as_printed (&figure.recorded, &figure.found) ? SB_VERIFIED_AS_PRINTED
                                                                       : SB_VERIFIED_DIFFERS;
    count_figure (verification, &figure);
    g_array_append_val (verification->figures, figure);
  }
}

/* Paths of the logs by their names in the proof, and the names of those that are missing; both borrowed. */
static void
sort_logs (SbVerification *verification, GHashTable *paths, GHashTable *missing)
{
  for (guint i = 0; i < verification->logs->len; i++) {
    const SbVerifiedLog *log = &g_array_index (verification->logs, SbVerifiedLog, i);
    if (log->path != NULL)
      g_hash_table_insert (paths, log->log->file, log->path);
    else
      g_hash_table_add (missing, log->log->file);
    verification->n_same += log->state == SB_VERIFIED_SAME ? 1 : 0;
    verification->n_changed += log->state == SB_VERIFIED_CHANGED ? 1 : 0;
    verification->n_missing += log->state == SB_VERIFIED_MISSING ? 1 : 0;
  }
}

static void
sort_unread (SbVerification *verification, GHashTable *unread, GHashTable *paths)
{
  GHashTableIter iter;
  gpointer name, path;
  g_hash_table_iter_init (&iter, unread);
  while (g_hash_table_iter_next (&iter, &name, &path))
    if (path != NULL)
      g_hash_table_insert (paths, name, path);
    else
      g_ptr_array_add (verification->unread, g_strdup (name));
  g_ptr_array_sort (verification->unread, sb_path_order_bytes);
}

/* What a picture may be drawn from beside means and deviations. */
static gboolean
needs_trials (const SbVerification *verification)
{
  const SbBench *bench = verification->bench;
  return bench->band == SB_BAND_QUARTILES || bench->chart.trial_lines || bench->chart.moving_band
         || bench->chart.view == SB_VIEW_RINGING || verification->proof->evidence != NULL;
}

static void
not_readable (const GError *cause, GError **error)
{
  g_set_error (error, SB_PROOF_ERROR, SB_PROOF_ERROR_DAMAGED, "the choices in the proof cannot be read: %s",
               cause->message);
}

/* (transfer full) char * -> NULL; NULL with an error when the choices make no bench. */
static GHashTable *
unread_names (const SbProof *proof, GError **error)
{
  g_autoptr (GError) cause = NULL;
  g_autoptr (GHashTable) nothing = g_hash_table_new (g_str_hash, g_str_equal);
  g_autoptr (SbBench) by_name = sb_proof_bench_by_name (proof, nothing, &cause);
  if (by_name == NULL) {
    not_readable (cause, error);
    return NULL;
  }
  GHashTable *unread = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_free);
  sb_proof_unread_names (proof, by_name, unread);
  return unread;
}

/* A log that could not be read when the proof was made, and can be now, would give other figures than those printed.
 * TRUE when there is one: it is left out from `paths`, and told. */
static gboolean
leave_readable_out (SbVerification *verification, GHashTable *unread, GHashTable *paths)
{
  guint n_before = verification->readable->len;
  for (guint c = 0; c < verification->analysis->configurations->len; c++) {
    const SbConfigurationResult *configuration = sb_analysis_configuration (verification->analysis, c);
    for (guint t = 0; t < configuration->trials->len; t++) {
      const SbTrialResult *trial = sb_configuration_result_trial (configuration, t);
      const char *name = sb_proof_name_of (trial->path);
      if (trial->failure == NULL && name != NULL && g_hash_table_contains (unread, name)
          && g_hash_table_remove (paths, name))
        g_ptr_array_add (verification->readable, g_strdup (name));
    }
  }
  return verification->readable->len > n_before;
}

static gboolean
analyse (SbVerification *verification, GHashTable *paths, GCancellable *cancellable, GError **error)
{
  g_clear_pointer (&verification->bench, sb_bench_unref);
  g_clear_pointer (&verification->analysis, sb_analysis_unref);
  g_autoptr (GError) cause = NULL;
  g_autoptr (SbBench) by_name = sb_proof_bench_by_name (verification->proof, paths, &cause);
  verification->bench = by_name != NULL ? sb_proof_bench (verification->proof, paths, &cause) : NULL;
  if (verification->bench == NULL) {
    not_readable (cause, error);
    return FALSE;
  }
  SbAnalysisFlags flags = needs_trials (verification) ? SB_ANALYSIS_KEEP_TRIALS : SB_ANALYSIS_DEFAULT;
  verification->analysis = sb_analysis_run (by_name, NULL, flags, NULL, NULL, cancellable, error);
  return verification->analysis != NULL;
}

SbVerification *
sb_verify (SbProof *proof, const char *beside, const char *folder, GCancellable *cancellable, GError **error)
{
  g_autoptr (SbVerification) verification = g_new0 (SbVerification, 1);
  verification->proof = proof;
  verification->figures = g_array_new (FALSE, FALSE, sizeof (SbVerifiedFigure));
  verification->unread = g_ptr_array_new_with_free_func (g_free);
  verification->readable = g_ptr_array_new_with_free_func (g_free);
  g_autoptr (GHashTable) unread = unread_names (proof, error);
  verification->logs = unread != NULL ? sb_verify_find_logs (proof, beside, folder, unread, cancellable) : NULL;
  if (verification->logs == NULL) {
    if (unread != NULL)
      g_cancellable_set_error_if_cancelled (cancellable, error);
    return NULL;
  }
  g_autoptr (GHashTable) paths = g_hash_table_new (g_str_hash, g_str_equal);
  g_autoptr (GHashTable) missing = g_hash_table_new (g_str_hash, g_str_equal);
  sort_logs (verification, paths, missing);
  sort_unread (verification, unread, paths);
  if (!analyse (verification, paths, cancellable, error)
      || (leave_readable_out (verification, unread, paths) && !analyse (verification, paths, cancellable, error)))
    return NULL;
  verification->found = sb_proof_figures_of (verification->analysis);
  compare_figures (verification, missing);
  sb_verify_judgements (verification);
  return g_steal_pointer (&verification);
}

void
sb_verification_free (SbVerification *verification)
{
  if (verification == NULL)
    return;
  sb_proof_free (verification->proof);
  g_clear_pointer (&verification->logs, g_array_unref);
  g_clear_pointer (&verification->figures, g_array_unref);
  g_clear_pointer (&verification->facts, g_array_unref);
  g_clear_pointer (&verification->unread, g_ptr_array_unref);
  g_clear_pointer (&verification->readable, g_ptr_array_unref);
  g_clear_pointer (&verification->analysis, sb_analysis_unref);
  g_clear_pointer (&verification->found, g_array_unref);
  g_free (verification->picture_what);
  g_clear_pointer (&verification->bench, sb_bench_unref);
  g_free (verification);
}

void
sb_verification_set_picture (SbVerification *verification, SbVerifiedPicture picture, char *what)
{
  verification->picture = picture;
  g_free (verification->picture_what);
  verification->picture_what = what;
}

gboolean
sb_verification_can_draw (const SbVerification *verification)
{
  const gsize *n_facts = verification->n_facts;
  return verification->n_changed == 0 && verification->n_missing == 0 && verification->n_differ == 0
         && verification->n_unchecked == 0 && verification->proof->n_unknown == 0 && n_facts[SB_VERIFIED_DIFFERS] == 0
         && n_facts[SB_VERIFIED_UNCHECKED] == 0;
}

gboolean
sb_verification_is_same (const SbVerification *verification)
{
  return verification->proof->is_whole && sb_verification_can_draw (verification)
         && verification->picture != SB_PICTURE_DIFFERS && verification->picture != SB_PICTURE_EDITED;
}
