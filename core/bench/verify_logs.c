/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "verify_logs.h"

#include "digest.h"
#include "path_order.h"

#include <glib/gstdio.h>
#include <string.h>
#include <unistd.h>

/* A folder given by mistake, a whole disk say, is not looked through for ever. */
#define MOST_FILES 200000
#define DEEPEST    32

#define BLOCK ((gsize) 1 << 20)

/* The files of a folder, by what can be asked of them without reading them. */
typedef struct {
  GPtrArray *paths;    /* char * */
  GHashTable *by_name; /* base name (borrowed) -> GPtrArray of paths (borrowed) */
  GHashTable *by_size; /* guint64 -> GPtrArray of paths (borrowed) */
  GHashTable *digests; /* path -> SHA-256, of files read so far */
  GHashTable *wanted;  /* SHA-256 of every log of the proof (borrowed) */
  GHashTable *taken;   /* paths that serve for a log (borrowed) */
  GHashTable *folders; /* char *: that hold a log of the proof */
  GCancellable *cancellable;
} Files;

static void
add_to (GHashTable *lists, gpointer key, char *path)
{
  GPtrArray *list = g_hash_table_lookup (lists, key);
  if (list != NULL)
    g_free (key);
  else
    g_hash_table_insert (lists, key, list = g_ptr_array_new ());
  g_ptr_array_add (list, path);
}

static void
add_file (Files *files, const char *path, guint64 n_bytes)
{
  char *kept = g_strdup (path);
  g_ptr_array_add (files->paths, kept);
  add_to (files->by_name, g_path_get_basename (path), kept);
  add_to (files->by_size, g_memdup2 (&n_bytes, sizeof n_bytes), kept);
}

/* In an order of their own: what serves for a log must not hang on that of the disk. */
static GPtrArray *
names_in (const char *folder)
{
  GPtrArray *names = g_ptr_array_new_with_free_func (g_free);
  g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);
  for (const char *name; dir != NULL && names->len < MOST_FILES && (name = g_dir_read_name (dir)) != NULL;)
    g_ptr_array_add (names, g_strdup (name));
  g_ptr_array_sort (names, sb_path_order_bytes);
  return names;
}

/* Links to folders are not followed: they can lead in a circle. */
static void
list_folder (Files *files, const char *folder, guint depth)
{
  if (depth >= DEEPEST)
    return;
  g_autoptr (GPtrArray) names = names_in (folder);
  for (guint i = 0; i < names->len && files->paths->len < MOST_FILES; i++) {
    if (g_cancellable_is_cancelled (files->cancellable))
      return;
    g_autofree char *path = g_build_filename (folder, g_ptr_array_index (names, i), NULL);
    GStatBuf facts;
    if (g_stat (path, &facts) != 0)
      continue;
    if (S_ISREG (facts.st_mode))
      add_file (files, path, (guint64) facts.st_size);
    else if (S_ISDIR (facts.st_mode) && !g_file_test (path, G_FILE_TEST_IS_SYMLINK))
      list_folder (files, path, depth + 1);
  }
}

static char *
digest_of_file (const char *path, GCancellable *cancellable)
{
  g_autoptr (GFile) file = g_file_new_for_path (path);
  g_autoptr (GFileInputStream) stream = g_file_read (file, cancellable, NULL);
  g_autofree char *block = g_malloc (BLOCK);
  SbDigest *digest = sb_digest_new ();
  gssize n = stream != NULL ? 0 : -1;
  while (stream != NULL && (n = g_input_stream_read (G_INPUT_STREAM (stream), block, BLOCK, cancellable, NULL)) > 0)
    sb_digest_add (digest, block, (gsize) n);
  char text[65];
  sb_digest_finish (digest, text);
  sb_digest_free (digest);
  return n == 0 ? g_strdup (text) : NULL;
}

/* Each file is read once; NULL when it cannot be. */
static const char *
digest_of (Files *files, const char *path)
{
  char *digest = g_hash_table_lookup (files->digests, path);
  if (digest == NULL && (digest = digest_of_file (path, files->cancellable)) != NULL)
    g_hash_table_insert (files->digests, g_strdup (path), digest);
  return digest;
}

static guint64
size_of (const char *path)
{
  GStatBuf facts;
  return g_stat (path, &facts) == 0 && S_ISREG (facts.st_mode) ? (guint64) facts.st_size : 0;
}

/* How much of the log's name, from its end on, the path has. */
static gsize
likeness (const char *path, const char *name)
{
  gsize n_path = strlen (path), n_name = strlen (name), same = 0;
  while (same < MIN (n_path, n_name) && path[n_path - 1 - same] == name[n_name - 1 - same])
    same++;
  return same;
}

static void
take_file (SbVerifiedLog *found, const char *path, const char *digest, SbVerifiedState state)
{
  found->path = g_strdup (path);
  found->sha256 = g_strdup (digest);
  found->n_bytes = size_of (path);
  found->state = state;
}

static void
take_same (Files *files, const char *path, SbVerifiedLog *found)
{
  g_autofree char *wanted = g_path_get_basename (found->log->file), *name = g_path_get_basename (path);
  take_file (found, path, found->log->sha256, SB_VERIFIED_SAME);
  found->renamed = strcmp (wanted, name) != 0;
  g_hash_table_add (files->taken, found->path);
  g_hash_table_add (files->folders, g_path_get_dirname (path));
}

/* What has another size is not read. */
static gboolean
is_that_log (Files *files, const char *path, const SbProofLog *log)
{
  if (!g_file_test (path, G_FILE_TEST_IS_REGULAR) || size_of (path) != log->n_bytes)
    return FALSE;
  const char *digest = digest_of (files, path);
  return digest != NULL && strcmp (digest, log->sha256) == 0;
}

/* Any file with the log's bytes is the log. Of several copies the one that serves for no other log yet, then the one
 * that is called most alike: but one that serves already serves again. */
static void
find_same (Files *files, const char *const *roots, SbVerifiedLog *found)
{
  for (gsize i = 0; roots[i] != NULL; i++) {
    g_autofree char *named = g_build_filename (roots[i], found->log->file, NULL);
    if (is_that_log (files, named, found->log)) {
      take_same (files, named, found);
      return;
    }
  }
  const GPtrArray *list = g_hash_table_lookup (files->by_size, &found->log->n_bytes);
  const char *best = NULL;
  for (guint i = 0; list != NULL && i < list->len; i++) {
    const char *path = g_ptr_array_index (list, i);
    if (!is_that_log (files, path, found->log))
      continue;
    gboolean is_free = !g_hash_table_contains (files->taken, path);
    gboolean best_is_free = best != NULL && !g_hash_table_contains (files->taken, best);
    if (best == NULL || (is_free && !best_is_free)
        || (is_free == best_is_free && likeness (path, found->log->file) > likeness (best, found->log->file)))
      best = path;
  }
  if (best != NULL)
    take_same (files, best, found);
}

/* Whether a file of the log's base name is likely to be the log, changed, and not a stranger's of the same name: logs
 * of many benches are called run-1.csv. */
static gboolean
stands_for (Files *files, const char *path, const SbProofLog *log)
{
  g_autofree char *ending = g_strconcat ("/", log->file, NULL), *folder = g_path_get_dirname (path);
  gboolean has_folder = strchr (log->file, '/') != NULL;
  return (has_folder && g_str_has_suffix (path, ending)) || size_of (path) == log->n_bytes
         || g_hash_table_contains (files->folders, folder);
}

/* The digest of a file that is none of the logs of the proof; NULL of others. */
static const char *
other_digest (Files *files, const char *path)
{
  const char *digest = g_file_test (path, G_FILE_TEST_IS_REGULAR) ? digest_of (files, path) : NULL;
  return digest != NULL && !g_hash_table_contains (files->wanted, digest) ? digest : NULL;
}

static void
find_changed (Files *files, const char *const *roots, SbVerifiedLog *found)
{
  const char *name = found->log->file, *best = NULL, *digest;
  for (gsize i = 0; roots[i] != NULL; i++) {
    g_autofree char *named = g_build_filename (roots[i], name, NULL);
    if ((digest = other_digest (files, named)) != NULL) {
      take_file (found, named, digest, SB_VERIFIED_CHANGED);
      return;
    }
  }
  g_autofree char *base = g_path_get_basename (name);
  const GPtrArray *list = g_hash_table_lookup (files->by_name, base);
  for (guint i = 0; list != NULL && i < list->len; i++) {
    const char *path = g_ptr_array_index (list, i);
    if (stands_for (files, path, found->log) && other_digest (files, path) != NULL
        && (best == NULL || likeness (path, name) > likeness (best, name)))
      best = path;
  }
  if (best != NULL)
    take_file (found, best, other_digest (files, best), SB_VERIFIED_CHANGED);
}

/* Of a log that was found by its bytes: a file that stands where the log stood and is another one now. */
static void
find_other_of_its_name (Files *files, const char *const *roots, SbVerifiedLog *found)
{
  g_autofree char *ending = g_strconcat ("/", found->log->file, NULL), *base = g_path_get_basename (found->log->file);
  for (gsize i = 0; roots[i] != NULL && found->other == NULL; i++) {
    g_autofree char *named = g_build_filename (roots[i], found->log->file, NULL);
    found->other = other_digest (files, named) != NULL ? g_steal_pointer (&named) : NULL;
  }
  const GPtrArray *list = g_hash_table_lookup (files->by_name, base);
  for (guint i = 0; list != NULL && i < list->len && found->other == NULL; i++) {
    const char *path = g_ptr_array_index (list, i);
    if (strchr (found->log->file, '/') != NULL && g_str_has_suffix (path, ending) && other_digest (files, path) != NULL)
      found->other = g_strdup (path);
  }
}

/* A log that could not be read when the proof was made has no checksum in it; its name is all that is known. A log of
 * the proof is another one, whatever its name. */
static void
find_unread (Files *files, const char *const *roots, GHashTable *unread)
{
  GHashTableIter iter;
  gpointer name;
  g_hash_table_iter_init (&iter, unread);
  while (g_hash_table_iter_next (&iter, &name, NULL)) {
    g_autofree char *base = g_path_get_basename (name), *best = NULL;
    const GPtrArray *list = g_hash_table_lookup (files->by_name, base);
    for (gsize i = 0; roots[i] != NULL && best == NULL; i++) {
      g_autofree char *named = g_build_filename (roots[i], name, NULL);
      best = other_digest (files, named) != NULL ? g_steal_pointer (&named) : NULL;
    }
    for (guint i = 0; best == NULL && list != NULL && i < list->len; i++) {
      const char *path = g_ptr_array_index (list, i);
      g_autofree char *folder = g_path_get_dirname (path);
      if ((list->len == 1 || g_hash_table_contains (files->folders, folder)) && other_digest (files, path) != NULL)
        best = g_strdup (path);
    }
    g_hash_table_iter_replace (&iter, g_steal_pointer (&best));
  }
}

static void
verified_log_clear (gpointer data)
{
  SbVerifiedLog *log = data;
  g_free (log->path);
  g_free (log->sha256);
  g_free (log->other);
}

/* (transfer full) */
static GArray *
find_logs (Files *files, const SbProof *proof, const char *const *roots)
{
  GArray *logs = g_array_new (FALSE, TRUE, sizeof (SbVerifiedLog));
  g_array_set_clear_func (logs, verified_log_clear);
  for (guint i = 0; i < proof->logs->len && !g_cancellable_is_cancelled (files->cancellable); i++) {
    SbVerifiedLog log = { .log = g_ptr_array_index (proof->logs, i), .state = SB_VERIFIED_MISSING };
    find_same (files, roots, &log);
    g_array_append_val (logs, log);
  }
  for (guint i = 0; i < logs->len && !g_cancellable_is_cancelled (files->cancellable); i++) {
    SbVerifiedLog *log = &g_array_index (logs, SbVerifiedLog, i);
    if (log->state == SB_VERIFIED_MISSING)
      find_changed (files, roots, log);
    else if (!g_str_has_suffix (log->path, log->log->file))
      find_other_of_its_name (files, roots, log);
  }
  return logs;
}

/* Whether what is in the one is listed with the other. */
static gboolean
is_within (const char *inner, const char *outer)
{
  g_autofree char *in = g_canonicalize_filename (inner, NULL), *out = g_canonicalize_filename (outer, NULL);
  return strcmp (in, out) == 0 || (g_str_has_prefix (in, out) && in[strlen (out)] == G_DIR_SEPARATOR);
}

GArray *
sb_verify_find_logs (const SbProof *proof, const char *beside, const char *folder, GHashTable *unread,
                     GCancellable *cancellable)
{
  g_autoptr (GPtrArray) paths = g_ptr_array_new_with_free_func (g_free);
  g_autoptr (GHashTable) by_name
      = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, (GDestroyNotify) g_ptr_array_unref);
  g_autoptr (GHashTable) by_size
      = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, (GDestroyNotify) g_ptr_array_unref);
  g_autoptr (GHashTable) digests = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_free);
  g_autoptr (GHashTable) wanted = g_hash_table_new (g_str_hash, g_str_equal);
  g_autoptr (GHashTable) taken = g_hash_table_new (g_str_hash, g_str_equal);
  g_autoptr (GHashTable) folders = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  for (guint i = 0; i < proof->logs->len; i++)
    g_hash_table_add (wanted, ((SbProofLog *) g_ptr_array_index (proof->logs, i))->sha256);
  Files files = { paths, by_name, by_size, digests, wanted, taken, folders, cancellable };
  if (folder == NULL || !is_within (beside, folder))
    list_folder (&files, beside, DEEPEST - 1); /* itself alone */
  if (folder != NULL)
    list_folder (&files, folder, 0);
  const char *roots[] = { beside, folder, NULL };
  g_autoptr (GArray) logs = find_logs (&files, proof, roots);
  find_unread (&files, roots, unread);
  return g_cancellable_is_cancelled (cancellable) ? NULL : g_steal_pointer (&logs);
}
