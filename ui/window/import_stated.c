/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "import_stated.h"

#include "bench_layouts.h"
#include "layout_store.h"

SbLayout *
sb_import_stated_layout (SbDocument *document, const char *path)
{
  const SbAnalysis *results = sb_document_results (document);
  for (guint c = 0; results != NULL && c < results->configurations->len; c++) {
    const SbConfigurationResult *configuration = sb_analysis_configuration (results, c);
    for (guint t = 0; t < configuration->trials->len; t++) {
      const SbTrialResult *trial = sb_configuration_result_trial (configuration, t);
      if (trial->facts != NULL && g_str_equal (trial->path, path))
        return trial->facts->layout;
    }
  }
  return NULL;
}

const SbLayoutChoice *
sb_import_stated_choice (SbDocument *document, const char *path, const SbLayout *known)
{
  const SbBench *bench = sb_document_bench (document);
  g_autoptr (GHashTable) own = sb_bench_log_layouts (bench);
  const SbLayoutChoice *choice = g_hash_table_lookup (own, path);
  for (guint i = 0; choice == NULL && known != NULL && bench->layouts != NULL && i < bench->layouts->len; i++)
    if (sb_layout_choice_fits (g_ptr_array_index (bench->layouts, i), known))
      choice = g_ptr_array_index (bench->layouts, i);
  return choice;
}

guint
sb_import_stated_same_shape (SbDocument *document, const SbLayout *of)
{
  const SbAnalysis *results = sb_document_results (document);
  g_autofree char *own = sb_layout_signature (of);
  guint n_columns = of->columns->len;
  g_autoptr (GHashTable) paths = g_hash_table_new (g_str_hash, g_str_equal);
  for (guint c = 0; results != NULL && c < results->configurations->len; c++) {
    const SbConfigurationResult *configuration = sb_analysis_configuration (results, c);
    for (guint t = 0; t < configuration->trials->len; t++) {
      const SbTrialResult *trial = sb_configuration_result_trial (configuration, t);
      const SbLayout *layout = trial->facts != NULL ? trial->facts->layout : NULL;
      if (layout == NULL || layout->columns->len != n_columns || g_hash_table_contains (paths, trial->path))
        continue;
      g_autofree char *signature = sb_layout_signature (layout);
      if (g_str_equal (signature, own))
        g_hash_table_add (paths, trial->path);
    }
  }
  return g_hash_table_size (paths);
}

void
sb_import_stated_push (SbDocument *document, const char *path, SbLayoutChoice *choice, gboolean for_all)
{
  g_autofree char *file = g_filename_display_basename (path);
  g_autofree char *step = g_strdup_printf ("columns of %s", file);
  SbBench *edited = sb_bench_edit (sb_document_bench (document));
  sb_bench_state_log_layout (edited, path, for_all ? NULL : choice);
  if (for_all)
    sb_bench_state_layout (edited, choice);
  sb_document_push_to_cut (document, edited, step);
}

static void
remember_in_worker (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *store = sb_layout_store_path ();
  g_autoptr (GPtrArray) choices = sb_layout_choices_new ();
  g_ptr_array_add (choices, sb_layout_choice_ref (data));
  if (sb_layout_store_remember (store, choices, &error))
    g_task_return_boolean (task, TRUE);
  else
    g_task_return_error (task, g_steal_pointer (&error));
}

void
sb_import_stated_remember_async (SbLayoutChoice *choice, GAsyncReadyCallback callback, gpointer user_data)
{
  g_autoptr (GTask) task = g_task_new (NULL, NULL, callback, user_data);
  g_task_set_task_data (task, sb_layout_choice_ref (choice), (GDestroyNotify) sb_layout_choice_unref);
  g_task_run_in_thread (task, remember_in_worker);
}

gboolean
sb_import_stated_remember_finish (GAsyncResult *result, GError **error)
{
  return g_task_propagate_boolean (G_TASK (result), error);
}
