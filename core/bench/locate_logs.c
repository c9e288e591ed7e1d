/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "locate_logs.h"

#include "path_order.h"

#include <glib/gstdio.h>
#include <string.h>

#define DEEPEST    12
#define MOST_FILES 500000
#define CHUNK      65536
#define MOST_NAMES 4 /* in a report */

void
sb_locate_report_clear (SbLocateReport *report)
{
  g_clear_pointer (&report->others, g_ptr_array_unref);
  g_clear_pointer (&report->left, g_ptr_array_unref);
}

static void
append_names (GString *text, const GPtrArray *names)
{
  for (guint i = 0; i < MIN (names->len, MOST_NAMES); i++)
    g_string_append_printf (text, "%s%s", i > 0 ? ", " : "", (const char *) g_ptr_array_index (names, i));
  if (names->len > MOST_NAMES)
    g_string_append_printf (text, " and %u more", names->len - MOST_NAMES);
}

char *
sb_locate_report_text (const SbLocateReport *report)
{
  if (report->n_lost == 0)
    return g_strdup ("Every log is where it was, and what it was.");
  GString *text = g_string_new (NULL);
  g_string_printf (text, "%u of %u %s found.", report->n_found, report->n_lost,
                   report->n_lost == 1 ? "log was" : "logs were");
  if (report->n_by_name > 0)
    g_string_append_printf (text, " Of %u only the name was known, not the content.", report->n_by_name);
  if (report->others->len > 0) {
    g_string_append (text, " Another content than the session's, and not taken: ");
    append_names (text, report->others);
    g_string_append_c (text, '.');
  }
  if (report->left->len > 0) {
    g_string_append (text, " Not there: ");
    append_names (text, report->left);
    g_string_append_c (text, '.');
  }
  return g_string_free (text, FALSE);
}

/* NULL when it cannot be read to its end. */
static char *
digest_file (const char *path, GCancellable *cancellable)
{
  g_autoptr (GFile) file = g_file_new_for_path (path);
  g_autoptr (GFileInputStream) stream = g_file_read (file, cancellable, NULL);
  g_autoptr (GChecksum) checksum = g_checksum_new (G_CHECKSUM_SHA256);
  g_autofree guchar *chunk = g_malloc (CHUNK);
  gssize n = stream != NULL ? 1 : -1;
  while (n > 0) {
    n = g_input_stream_read (G_INPUT_STREAM (stream), chunk, CHUNK, cancellable, NULL);
    if (n > 0)
      g_checksum_update (checksum, chunk, n);
  }
  return n == 0 ? g_strdup (g_checksum_get_string (checksum)) : NULL;
}

/* What is known of a log that is not there. */
typedef struct {
  const char *digest; /* SHA-256, borrowed from bench or analysis; "" when not known */
  guint64 size_bytes; /* 0 when not known */
} Lost;

typedef struct {
  GHashTable *lost;    /* path -> Lost; paths borrowed from the bench */
  GHashTable *names;   /* basename -> GPtrArray of char *: where files of this name are */
  GHashTable *digests; /* path -> SHA-256 of the files that were read, "" of one that cannot be */
  GCancellable *cancellable;
  guint n_files;
} Search;

/* Repeats of many configurations have the same names: each file is read once. Borrowed. */
static const char *
digest_of (Search *search, const char *path)
{
  const char *known = g_hash_table_lookup (search->digests, path);
  if (known != NULL)
    return known;
  char *digest = digest_file (path, search->cancellable);
  digest = digest != NULL ? digest : g_strdup ("");
  g_hash_table_insert (search->digests, g_strdup (path), digest);
  return digest;
}

/* (transfer full) */
static Lost *
lost_new (const SbTrialEntry *entry, const SbTrialResult *result)
{
  Lost lost = { .digest = "" };
  if (entry->sha256 != NULL)
    lost = (Lost){ entry->sha256, entry->size_bytes };
  else if (result != NULL && result->facts != NULL)
    lost = (Lost){ result->facts->sha256, result->facts->n_bytes };
  return g_memdup2 (&lost, sizeof lost);
}

/* The result of the same trial; NULL when the analysis is of other trials. */
static const SbTrialResult *
result_of (const SbAnalysis *analysis, guint c, guint t, const char *path)
{
  if (analysis == NULL || c >= analysis->configurations->len)
    return NULL;
  const SbConfigurationResult *configuration = sb_analysis_configuration (analysis, c);
  const SbTrialResult *result
      = t < configuration->trials->len ? sb_configuration_result_trial (configuration, t) : NULL;
  return result != NULL && strcmp (result->path, path) == 0 ? result : NULL;
}

/* Another log than the session's is one that was read and found to be so. */
static gboolean
is_lost (const SbTrialEntry *entry, const SbTrialResult *result)
{
  gboolean is_another = entry->sha256 != NULL && result != NULL && result->facts != NULL
                        && strcmp (entry->sha256, result->facts->sha256) != 0;
  return is_another || !g_file_test (entry->path, G_FILE_TEST_EXISTS);
}

static void
collect_lost (Search *search, const SbBench *bench, const SbAnalysis *analysis)
{
  g_autoptr (GHashTable) looked_at = g_hash_table_new (g_str_hash, g_str_equal);
  for (guint c = 0; c < bench->configurations->len; c++) {
    const SbConfiguration *configuration = sb_bench_configuration (bench, c);
    for (guint t = 0; t < configuration->entries->len && !g_cancellable_is_cancelled (search->cancellable); t++) {
      SbTrialEntry *entry = sb_configuration_entry (configuration, t);
      const SbTrialResult *result = result_of (analysis, c, t, entry->path);
      if (!g_hash_table_add (looked_at, entry->path) || !is_lost (entry, result))
        continue;
      g_hash_table_insert (search->lost, entry->path, lost_new (entry, result));
      g_autofree char *name = g_path_get_basename (entry->path);
      if (!g_hash_table_contains (search->names, name))
        g_hash_table_insert (search->names, g_steal_pointer (&name), g_ptr_array_new_with_free_func (g_free));
    }
  }
}

/* Links to folders are not followed: they may lead round in a circle. */
static void
walk (Search *search, const char *folder, guint depth)
{
  g_autoptr (GDir) dir = depth < DEEPEST ? g_dir_open (folder, 0, NULL) : NULL;
  for (const char *name = NULL; dir != NULL && (name = g_dir_read_name (dir)) != NULL;) {
    if (g_cancellable_is_cancelled (search->cancellable) || ++search->n_files > MOST_FILES)
      return;
    g_autofree char *path = g_build_filename (folder, name, NULL);
    gboolean is_folder = g_file_test (path, G_FILE_TEST_IS_DIR);
    GPtrArray *places = g_hash_table_lookup (search->names, name);
    if (is_folder && !g_file_test (path, G_FILE_TEST_IS_SYMLINK))
      walk (search, path, depth + 1);
    else if (!is_folder && places != NULL)
      g_ptr_array_add (places, g_steal_pointer (&path));
  }
}

/* A file of another size need not be read to know that it is another. */
static gboolean
is_that_log (Search *search, const char *path, const Lost *lost)
{
  GStatBuf there;
  if (lost->size_bytes > 0 && (g_stat (path, &there) != 0 || (guint64) there.st_size != lost->size_bytes))
    return FALSE;
  return strcmp (digest_of (search, path), lost->digest) == 0;
}

/* Where the log that was at `path` is; NULL when it is nowhere. Borrowed. */
static const char *
find_place (Search *search, const char *path, const Lost *lost, SbLocateReport *report)
{
  g_autofree char *name = g_path_get_basename (path);
  GPtrArray *places = g_hash_table_lookup (search->names, name);
  g_ptr_array_sort (places, sb_path_order_bytes);
  const char *found = NULL;
  gboolean by_name = *lost->digest == '\0';
  if (by_name)
    found = places->len == 1 ? g_ptr_array_index (places, 0) : NULL;
  for (guint i = 0; !by_name && i < places->len && found == NULL; i++)
    if (is_that_log (search, g_ptr_array_index (places, i), lost))
      found = g_ptr_array_index (places, i);
  report->n_found += found != NULL ? 1 : 0;
  report->n_by_name += found != NULL && by_name ? 1 : 0;
  if (found == NULL)
    g_ptr_array_add (places->len > 0 ? report->others : report->left, g_filename_display_name (name));
  return found;
}

static gboolean
has_log_in (const SbConfiguration *configuration, const char *folder)
{
  for (guint t = 0; t < configuration->entries->len; t++) {
    g_autofree char *own = g_path_get_dirname (sb_configuration_entry (configuration, t)->path);
    if (strcmp (own, folder) == 0)
      return TRUE;
  }
  return FALSE;
}

/* The folder whose logs join goes where its logs went, all of them: else another log of the name of one that was not
 * found would join in its place. */
static void
move_folder (SbBench *edited, guint index, const char *to)
{
  const SbConfiguration *configuration = sb_bench_configuration (edited, index);
  if (configuration->folder == NULL || has_log_in (configuration, configuration->folder))
    return;
  gboolean in_another = g_strcmp0 (configuration->opened_folder, configuration->folder) != 0;
  g_autofree char *new = g_path_get_dirname (to), *around = g_path_get_dirname (new);
  sb_bench_set_folder (edited, index, new, in_another ? around : new);
}

static gboolean
has_trial (const SbConfiguration *configuration, const SbTrialEntry *like, const char *path)
{
  SbTrialEntry wanted = *like;
  wanted.path = (char *) (gsize) path; /* only compared */
  for (guint t = 0; t < configuration->entries->len; t++)
    if (sb_trial_entry_same_stretch (sb_configuration_entry (configuration, t), &wanted))
      return TRUE;
  return FALSE;
}

/* `places`: path -> path. A trial that would be there twice stays as it is. */
static void
move_logs (SbBench *edited, GHashTable *places)
{
  for (guint c = 0; c < edited->configurations->len; c++) {
    guint n = sb_bench_configuration (edited, c)->entries->len;
    const char *last = NULL; /* of those from the folder */
    for (guint t = 0; t < n; t++) {
      const SbTrialEntry *old = sb_configuration_entry (sb_bench_configuration (edited, c), t);
      const char *place = g_hash_table_lookup (places, old->path);
      if (place == NULL || has_trial (sb_bench_configuration (edited, c), old, place))
        continue;
      SbTrialEntry *entry = sb_configuration_entry (sb_bench_edit_configuration (edited, c), t);
      g_autofree char *from = g_path_get_dirname (entry->path);
      if (g_strcmp0 (from, sb_bench_configuration (edited, c)->folder) == 0)
        last = place;
      g_ref_string_release (entry->path);
      entry->path = g_ref_string_new (place);
    }
    if (last != NULL)
      move_folder (edited, c, last);
  }
}

SbBench *
sb_bench_locate_logs (const SbBench *bench, const SbAnalysis *analysis, const char *folder, GCancellable *cancellable,
                      SbLocateReport *report)
{
  sb_locate_report_clear (report);
  *report = (SbLocateReport){ .others = g_ptr_array_new_with_free_func (g_free),
                              .left = g_ptr_array_new_with_free_func (g_free) };
  g_autoptr (GHashTable) lost = g_hash_table_new_full (g_str_hash, g_str_equal, NULL, g_free);
  g_autoptr (GHashTable) names
      = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, (GDestroyNotify) g_ptr_array_unref);
  g_autoptr (GHashTable) places = g_hash_table_new (g_str_hash, g_str_equal);
  g_autoptr (GHashTable) digests = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_free);
  Search search = { lost, names, digests, cancellable, 0 };
  collect_lost (&search, bench, analysis);
  report->n_lost = g_hash_table_size (lost);
  g_autofree char *absolute = g_canonicalize_filename (folder, NULL);
  if (report->n_lost > 0)
    walk (&search, absolute, 0);
  GHashTableIter iter;
  gpointer path, what;
  g_hash_table_iter_init (&iter, lost);
  while (g_hash_table_iter_next (&iter, &path, &what)) {
    const char *place = find_place (&search, path, what, report);
    if (place != NULL)
      g_hash_table_insert (places, path, (gpointer) (gsize) place);
  }
  g_ptr_array_sort (report->others, sb_path_order_bytes);
  g_ptr_array_sort (report->left, sb_path_order_bytes);
  if (g_hash_table_size (places) == 0 || g_cancellable_is_cancelled (cancellable))
    return NULL;
  SbBench *edited = sb_bench_edit (bench);
  move_logs (edited, places);
  return edited;
}
