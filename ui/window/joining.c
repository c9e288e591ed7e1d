/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "joining.h"

static int
find_configuration (const SbBench *bench, const char *folder)
{
  for (guint i = 0; i < bench->configurations->len; i++)
    if (g_strcmp0 (sb_bench_configuration (bench, i)->folder, folder) == 0)
      return (int) i;
  return -1;
}

static const char *
name_of_owner (const SbBench *bench, const char *path)
{
  for (guint c = 0; c < bench->configurations->len; c++) {
    const SbConfiguration *configuration = sb_bench_configuration (bench, c);
    for (guint t = 0; t < configuration->entries->len; t++)
      if (g_str_equal (sb_configuration_entry (configuration, t)->path, path))
        return configuration->name;
  }
  return "";
}

static guint
join (SbBench *edited, const char *folder, const char *opened_folder, const char *const *paths)
{
  guint n = g_strv_length ((char **) (gsize) paths); /* reads only */
  int index = find_configuration (edited, folder);
  if (index >= 0) {
    sb_bench_add_logs (edited, (guint) index, paths, n);
    return (guint) index;
  }
  g_autofree char *name = g_path_get_basename (folder);
  guint added = sb_bench_add_configuration (edited, name, paths, n);
  sb_bench_set_folder (edited, added, folder, opened_folder);
  return added;
}

static void
on_found (SbFolderWatch *watch, const char *folder, const char *opened_folder, char **paths, SbDocument *document)
{
  const char *const *found = (const char *const *) paths;
  SbBench *edited = sb_bench_edit (sb_document_bench (document));
  gboolean is_new = find_configuration (edited, folder) < 0;
  guint index = join (edited, folder, opened_folder, found);
  const char *name = sb_bench_configuration (edited, index)->name;
  g_autofree char *subject = sb_news_subject (found);
  g_autofree char *step = g_strdup_printf ("add %s", is_new ? name : subject);
  g_autofree char *did
      = is_new ? g_strdup_printf ("made a new configuration, %s", name) : g_strdup_printf ("joined %s", name);
  sb_news_tell (sb_document_news (document), found, did);
  sb_document_take_in (document, edited, step);
  sb_document_tell_news (document);
}

static void
on_changed (SbFolderWatch *watch, char **paths, SbDocument *document)
{
  const char *const *changed = (const char *const *) paths;
  g_autofree char *did
      = g_strdup_printf ("of %s changed on disk and %s read again",
                         name_of_owner (sb_document_bench (document), paths[0]), paths[1] == NULL ? "was" : "were");
  sb_news_tell (sb_document_news (document), changed, did);
  sb_document_read_anew (document, changed);
  sb_document_tell_news (document);
}

static void
note_failing (SbNews *news, SbFolderWatch *watch, const char *folder)
{
  const char *why = folder != NULL ? sb_folder_watch_failure (watch, folder) : NULL;
  if (why != NULL)
    g_hash_table_replace (news->failing, g_strdup (folder), g_strdup (why));
}

static void
on_missing_changed (SbFolderWatch *watch, SbDocument *document)
{
  SbNews *news = sb_document_news (document);
  g_hash_table_remove_all (news->missing);
  g_hash_table_remove_all (news->failing);
  g_autoptr (GPtrArray) missing = sb_folder_watch_missing (watch);
  for (guint i = 0; i < missing->len; i++)
    g_hash_table_add (news->missing, g_strdup (g_ptr_array_index (missing, i)));
  const SbBench *bench = sb_document_bench (document);
  for (guint c = 0; c < bench->configurations->len; c++) {
    const SbConfiguration *configuration = sb_bench_configuration (bench, c);
    note_failing (news, watch, configuration->folder);
    for (guint t = 0; t < configuration->entries->len; t++) {
      g_autofree char *folder = g_path_get_dirname (sb_configuration_entry (configuration, t)->path);
      note_failing (news, watch, folder);
    }
  }
  sb_document_tell_news (document);
}

void
sb_joining_connect (SbDocument *document, SbFolderWatch *watch)
{
  g_signal_connect (watch, "found", G_CALLBACK (on_found), document);
  g_signal_connect (watch, "changed", G_CALLBACK (on_changed), document);
  g_signal_connect (watch, "missing-changed", G_CALLBACK (on_missing_changed), document);
}
