/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "input.h"

#include "bench_layouts.h"
#include "bundle.h"
#include "path_order.h"
#include "session.h"

#include <string.h>

G_DEFINE_QUARK (sb_input_error_quark, sb_input_error)

static gboolean
has_suffix_of (const char *name, const char *const *suffixes)
{
  g_autofree char *lower = g_ascii_strdown (name, -1);
  for (gsize i = 0; suffixes[i] != NULL; i++)
    if (g_str_has_suffix (lower, suffixes[i]))
      return TRUE;
  return FALSE;
}

gboolean
sb_input_is_log_name (const char *name)
{
  static const char *const suffixes[]
      = { ".csv", ".tsv", ".txt", ".log", ".dat", ".csv.gz", ".tsv.gz", ".txt.gz", ".log.gz", ".dat.gz", NULL };
  return name[0] != '.' && has_suffix_of (name, suffixes);
}

static gboolean
is_session (const char *path)
{
  static const char *const suffixes[] = { SB_SESSION_SUFFIX, NULL };
  return has_suffix_of (path, suffixes);
}

/* What a folder holds, in natural order; NULL with an error when it cannot be listed. */
static gboolean
list_folder (const char *folder, GPtrArray *logs, GPtrArray *folders, GCancellable *cancellable, GError **error)
{
  g_autoptr (GDir) dir = g_dir_open (folder, 0, error);
  if (dir == NULL)
    return FALSE;
  const char *name;
  while ((name = g_dir_read_name (dir)) != NULL) {
    if (g_cancellable_set_error_if_cancelled (cancellable, error))
      return FALSE;
    g_autofree char *path = g_build_filename (folder, name, NULL);
    if (g_file_test (path, G_FILE_TEST_IS_DIR)) {
      if (name[0] != '.')
        g_ptr_array_add (folders, g_steal_pointer (&path));
    } else if (sb_input_is_log_name (name)) {
      g_ptr_array_add (logs, g_steal_pointer (&path));
    }
  }
  g_ptr_array_sort (logs, sb_path_order_natural);
  g_ptr_array_sort (folders, sb_path_order_natural);
  return TRUE;
}

/* A folder with logs becomes a configuration. The folders in the one that was `opened` are looked into too. Adds to
 * `n_logs`. */
static gboolean
add_folder (SbBench *edited, const char *folder, const char *opened, gsize *n_logs, GCancellable *cancellable,
            GError **error)
{
  g_autoptr (GPtrArray) logs = g_ptr_array_new_with_free_func (g_free);
  g_autoptr (GPtrArray) folders = g_ptr_array_new_with_free_func (g_free);
  if (!list_folder (folder, logs, folders, cancellable, error))
    return FALSE;
  if (logs->len > 0) {
    g_autofree char *name = g_path_get_basename (folder);
    guint index = sb_bench_add_configuration (edited, name, (const char *const *) logs->pdata, logs->len);
    sb_bench_set_folder (edited, index, folder, opened);
    *n_logs += logs->len;
  }
  for (guint i = 0; folder == opened && i < folders->len; i++)
    if (!add_folder (edited, g_ptr_array_index (folders, i), opened, n_logs, cancellable, error))
      return FALSE;
  return TRUE;
}

static gboolean
add_whole_folder (SbBench *edited, const char *folder, GCancellable *cancellable, GError **error)
{
  gsize n_logs = 0;
  if (!add_folder (edited, folder, folder, &n_logs, cancellable, error))
    return FALSE;
  if (n_logs == 0) {
    g_set_error (
        error, SB_INPUT_ERROR, SB_INPUT_ERROR_NOTHING,
        "%s: no log in this folder or in the folders directly in it. Logs end in .csv, .tsv, .txt, .log or .dat, "
        "with .gz behind it when they are compressed.",
        folder);
    return FALSE;
  }
  return TRUE;
}

static gboolean
is_filler (char c)
{
  return g_ascii_isdigit (c) || strchr ("-_ .#(", c) != NULL;
}

/* What the names of several logs share, unless it is a word that every log is called by; then their folder's name. */
static char *
shared_name (const GPtrArray *logs)
{
  static const char *const usual[] = { "run", "log", "test", "trial", "rep", "repeat", "data", "measurement", NULL };
  g_autofree char *name = g_path_get_basename (g_ptr_array_index (logs, 0));
  gsize shared = strlen (name);
  for (guint i = 1; i < logs->len; i++) {
    g_autofree char *other = g_path_get_basename (g_ptr_array_index (logs, i));
    gsize same = 0;
    while (same < shared && name[same] == other[same])
      same++;
    shared = same;
  }
  if (logs->len == 1) {
    const char *dot = strrchr (name, '.');
    shared = dot != NULL ? (gsize) (dot - name) : shared;
  } else {
    while (shared > 0 && is_filler (name[shared - 1]))
      shared--;
  }
  name[shared] = '\0';
  g_autofree char *lower = g_ascii_strdown (name, -1);
  if (shared > 1 && g_utf8_validate (name, -1, NULL) && !g_strv_contains (usual, lower))
    return g_steal_pointer (&name);
  g_autofree char *folder = g_path_get_dirname (g_ptr_array_index (logs, 0));
  return g_path_get_basename (folder);
}

static void
take_passed_over (SbBench *edited, const SbBench *session)
{
  GPtrArray *both = g_ptr_array_new_with_free_func (g_free);
  const GPtrArray *const lists[] = { edited->passed_over, session->passed_over };
  for (gsize l = 0; l < G_N_ELEMENTS (lists); l++)
    for (guint i = 0; lists[l] != NULL && i < lists[l]->len; i++)
      g_ptr_array_add (both, g_strdup (g_ptr_array_index (lists[l], i)));
  g_clear_pointer (&edited->passed_over, g_ptr_array_unref);
  edited->passed_over = both;
}

static void
take_configurations (SbBench *edited, const SbBench *session)
{
  if (session->passed_over != NULL)
    take_passed_over (edited, session);
  sb_bench_take_layouts (edited, session->layouts);
  for (guint c = 0; c < session->configurations->len; c++) {
    const SbConfiguration *from = sb_bench_configuration (session, c);
    guint index = sb_bench_add_configuration (edited, from->name, NULL, 0);
    for (guint t = 0; t < from->entries->len; t++)
      sb_bench_append_entry (edited, index, sb_configuration_entry (from, t)); /* it was empty */
    SbConfiguration *own = sb_bench_edit_configuration (edited, index);
    own->drawn = from->drawn;
    own->unknown = from->unknown != NULL ? g_ref_string_acquire (from->unknown) : NULL;
    sb_bench_set_folder (edited, index, from->folder, from->opened_folder);
  }
}

/* Swaps the contents of two benches, so that an edited bench can become what a session holds. */
static void
swap_benches (SbBench *a, SbBench *b)
{
  SbBench held = *a;
  *a = *b;
  *b = held;
  gatomicrefcount count = a->ref_count;
  a->ref_count = b->ref_count;
  b->ref_count = count;
}

static gboolean
add_session (SbBench *edited, const char *path, GError **error)
{
  g_autoptr (SbBench) session = sb_session_load (path, error);
  if (session == NULL)
    return FALSE;
  if (sb_bench_is_empty (edited))
    swap_benches (edited, session);
  else
    take_configurations (edited, session);
  return TRUE;
}

static gboolean
add_bundle (SbBench *edited, const char *path, GCancellable *cancellable, GError **error)
{
  g_autofree char *folder = sb_bundle_unpack (path, cancellable, error);
  g_autofree char *session = folder != NULL ? sb_bundle_session (folder) : NULL;
  return session != NULL && add_session (edited, session, error);
}

gboolean
sb_input_add (SbBench *edited, const char *const *paths, gsize n_paths, GCancellable *cancellable, GError **error)
{
  g_autoptr (GPtrArray) logs = g_ptr_array_new_with_free_func (g_free);
  g_autoptr (GError) first_error = NULL;
  for (gsize i = 0; i < n_paths && !g_cancellable_is_cancelled (cancellable); i++) {
    g_autofree char *path = g_canonicalize_filename (paths[i], NULL);
    GError **slot = first_error == NULL ? &first_error : NULL;
    if (g_file_test (path, G_FILE_TEST_IS_DIR))
      add_whole_folder (edited, path, cancellable, slot);
    else if (is_session (path))
      add_session (edited, path, slot);
    else if (sb_bundle_is_name (path) && g_file_test (path, G_FILE_TEST_IS_REGULAR))
      add_bundle (edited, path, cancellable, slot);
    else if (g_file_test (path, G_FILE_TEST_EXISTS))
      g_ptr_array_add (logs, g_steal_pointer (&path));
    else
      g_set_error (slot, SB_INPUT_ERROR, SB_INPUT_ERROR_NOTHING, "%s: there is no such file or folder.", paths[i]);
  }
  if (g_cancellable_set_error_if_cancelled (cancellable, error))
    return FALSE;
  if (logs->len > 0) {
    g_ptr_array_sort (logs, sb_path_order_natural);
    g_autofree char *name = shared_name (logs);
    sb_bench_add_configuration (edited, name, (const char *const *) logs->pdata, logs->len);
  }
  if (first_error != NULL) {
    g_propagate_error (error, g_steal_pointer (&first_error));
    return FALSE;
  }
  return TRUE;
}
