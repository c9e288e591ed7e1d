/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "report_folder.h"

#include "chart_export.h"
#include "durable_file.h"
#include "proof_names.h"

#include <errno.h>
#include <glib/gstdio.h>
#include <string.h>

#define SHA256_DIGITS 64

/* Every report has these. */
static const char *const marks[] = { "results.json", "report.html" };

/* "<path> <what>". */
static gboolean
failed (GError **error, const char *path, const char *what)
{
  g_autofree char *shown = g_filename_display_name (path);
  g_set_error (error, SB_CHART_ERROR, SB_CHART_ERROR_WRITE, "%s %s", shown, what);
  return FALSE;
}

static gboolean
failed_because (GError **error, const char *path, const char *what, int code)
{
  g_autofree char *text = g_strdup_printf ("%s: %s. Choose another folder for the report.", what, g_strerror (code));
  return failed (error, path, text);
}

/* Takes "<digits>  <name>", as sha256sum writes it. FALSE: it is something else. */
static gboolean
read_line (const char *line, GHashTable *digests)
{
  if (line[0] == '\0')
    return TRUE;
  if (strspn (line, "0123456789abcdef") != SHA256_DIGITS || strncmp (line + SHA256_DIGITS, "  ", 2) != 0)
    return FALSE;
  g_hash_table_insert (digests, g_strdup (line + SHA256_DIGITS + 2), g_strndup (line, SHA256_DIGITS));
  return TRUE;
}

/* Name -> SHA-256 of the files of the report that was there; empty when there was none. NULL with an error: the list is
 * somebody else's. (transfer full) */
static GHashTable *
read_former (const char *folder, GError **error)
{
  g_autoptr (GHashTable) digests = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_free);
  g_autofree char *path = g_build_filename (folder, SB_REPORT_SUMS, NULL), *text = NULL;
  if (!g_file_test (path, G_FILE_TEST_EXISTS))
    return g_steal_pointer (&digests);
  gboolean is_ours = g_file_get_contents (path, &text, NULL, NULL);
  g_auto (GStrv) lines = g_strsplit (is_ours ? text : "", "\n", -1);
  for (gsize i = 0; lines[i] != NULL; i++)
    is_ours = is_ours && read_line (lines[i], digests);
  for (gsize i = 0; i < G_N_ELEMENTS (marks); i++)
    is_ours = is_ours && g_hash_table_contains (digests, marks[i]);
  if (is_ours)
    return g_steal_pointer (&digests);
  failed (error, path,
          "is a list of checksums that no report wrote, and would be lost. Choose another folder for the report.");
  return NULL;
}

/* Curves lie in a folder of their own. */
static gboolean
write_file (const char *folder, const SbReportFile *file, GError **error)
{
  g_autofree char *path = g_build_filename (folder, file->name, NULL), *above = g_path_get_dirname (path);
  if (g_mkdir_with_parents (above, 0755) != 0)
    return failed_because (error, above, "cannot be made", errno);
  gsize n;
  const char *bytes = g_bytes_get_data (file->bytes, &n);
  g_autoptr (GError) failure = NULL;
  if (sb_durable_file_write (path, bytes, n, &failure))
    return TRUE;
  g_autofree char *what
      = g_strdup_printf ("could not be written: %s. Choose another folder for the report.", failure->message);
  return failed (error, path, what);
}

static gboolean
has_digest (const char *path, const char *digest)
{
  g_autofree char *bytes = NULL;
  gsize n;
  if (g_file_test (path, G_FILE_TEST_IS_SYMLINK) || !g_file_test (path, G_FILE_TEST_IS_REGULAR)
      || !g_file_get_contents (path, &bytes, &n, NULL))
    return FALSE;
  g_autofree char *found = g_compute_checksum_for_data (G_CHECKSUM_SHA256, (const guchar *) bytes, n);
  return strcmp (found, digest) == 0;
}

/* What a person put there, or changed since, is not written over. */
static gboolean
may_be_written (const char *folder, const SbReportFile *file, GHashTable *former, GError **error)
{
  g_autofree char *path = g_build_filename (folder, file->name, NULL);
  g_autofree char *new = g_compute_checksum_for_bytes (G_CHECKSUM_SHA256, file->bytes);
  const char *digest = g_hash_table_lookup (former, file->name);
  if (!g_file_test (path, G_FILE_TEST_EXISTS) || has_digest (path, new)
      || (digest != NULL && has_digest (path, digest)))
    return TRUE;
  return failed (
      error, path,
      "is not as a report wrote it, and would be lost. Move it away, or choose another folder for the report.");
}

/* A folder that is empty by it goes too. */
static gboolean
remove_former (const char *folder, const char *name, const char *digest, GPtrArray *kept, GError **error)
{
  g_autofree char *path = g_build_filename (folder, name, NULL), *above = g_path_get_dirname (path);
  if (!sb_proof_name_is_safe (name) || !g_file_test (path, G_FILE_TEST_IS_REGULAR))
    return TRUE;
  if (!has_digest (path, digest)) {
    if (kept != NULL)
      g_ptr_array_add (kept, g_strdup (name));
    return TRUE;
  }
  if (g_unlink (path) != 0)
    return failed_because (error, path, "is of the report that was there, and cannot be taken away", errno);
  if (strchr (name, '/') != NULL)
    g_rmdir (above);
  return TRUE;
}

static gboolean
remove_rest_of_former (GHashTable *former, const char *folder, GPtrArray *kept, GError **error)
{
  g_autoptr (GList) names = g_list_sort (g_hash_table_get_keys (former), (GCompareFunc) strcmp);
  for (const GList *name = names; name != NULL; name = name->next)
    if (!remove_former (folder, name->data, g_hash_table_lookup (former, name->data), kept, error))
      return FALSE;
  return TRUE;
}

gboolean
sb_report_folder_write (const GPtrArray *files, const char *folder, GPtrArray *kept, GError **error)
{
  g_autoptr (GHashTable) former = read_former (folder, error);
  if (former == NULL)
    return FALSE;
  for (guint i = 0; i + 1 < files->len; i++)
    if (!may_be_written (folder, g_ptr_array_index (files, i), former, error))
      return FALSE;
  for (guint i = 0; i < files->len; i++) {
    const SbReportFile *file = g_ptr_array_index (files, i);
    g_hash_table_remove (former, file->name);
    gboolean is_last = i + 1 == files->len; /* the list of checksums: of what is there by then */
    if ((is_last && !remove_rest_of_former (former, folder, kept, error)) || !write_file (folder, file, error))
      return FALSE;
  }
  return TRUE;
}

/* No report has control characters in the names of its files; a terminal would obey them. */
static gboolean
may_be_of_a_report (const char *name)
{
  for (const char *c = name; *c != '\0'; c++)
    if (g_ascii_iscntrl (*c))
      return FALSE;
  return sb_proof_name_is_safe (name);
}

GPtrArray *
sb_report_folder_changed (const char *folder, guint *n_listed)
{
  g_autoptr (GHashTable) digests = read_former (folder, NULL);
  *n_listed = digests != NULL ? g_hash_table_size (digests) : 0;
  if (*n_listed == 0)
    return NULL;
  GPtrArray *changed = g_ptr_array_new_with_free_func (g_free);
  g_autoptr (GList) names = g_list_sort (g_hash_table_get_keys (digests), (GCompareFunc) strcmp);
  for (const GList *name = names; name != NULL; name = name->next) {
    g_autofree char *path = g_build_filename (folder, name->data, NULL);
    if (!may_be_of_a_report (name->data))
      g_ptr_array_add (changed, g_strescape (name->data, NULL));
    else if (!has_digest (path, g_hash_table_lookup (digests, name->data)))
      g_ptr_array_add (changed, g_strdup (name->data));
  }
  return changed;
}
