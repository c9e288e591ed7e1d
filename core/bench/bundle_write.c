/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "bundle_parts.h"

#include "durable_file.h"
#include "proof.h"
#include "proof_names.h"

#include <archive.h>
#include <archive_entry.h>
#include <string.h>

G_DEFINE_QUARK (sb_bundle_error_quark, sb_bundle_error)

struct SbBundle {
  struct archive *archive;
  guint64 n_bytes; /* of the files in it */
  guint n_entries;
  char *path;
  SbDurableFile *file; /* NULL: it is in its place, or was never begun */
  int code;            /* errno of a write that failed; 0: none did */
};

gboolean
sb_bundle_is_name (const char *name)
{
  g_autofree char *lower = g_ascii_strdown (name, -1);
  return g_str_has_suffix (lower, SB_BUNDLE_SUFFIX);
}

static la_ssize_t
append_bytes (struct archive *archive, void *data, const void *bytes, size_t n)
{
  SbBundle *bundle = data;
  bundle->code = sb_durable_file_append (bundle->file, bytes, n);
  if (bundle->code == 0)
    return (la_ssize_t) n;
  archive_set_error (archive, bundle->code, "%s", g_strerror (bundle->code));
  return -1;
}

/* `why` as durable_file.h says it. */
static gboolean
not_written (const SbBundle *bundle, const char *why, GError **error)
{
  g_autofree char *shown = g_filename_display_name (bundle->path);
  g_set_error (error, SB_BUNDLE_ERROR, SB_BUNDLE_ERROR_WRITE,
               "The archive %s was not written: %s. Choose another folder or name, or make room there.", shown, why);
  return FALSE;
}

static gboolean
failed (const SbBundle *bundle, GError **error)
{
  if (bundle->code != 0) {
    g_autofree char *reason = sb_durable_file_reason (bundle->code, bundle->path);
    return not_written (bundle, reason, error);
  }
  const char *why = archive_error_string (bundle->archive);
  return not_written (bundle, why != NULL ? why : "its library gave no reason", error);
}

static gboolean
too_much (const char *what, GError **error)
{
  g_set_error (error, SB_BUNDLE_ERROR, SB_BUNDLE_ERROR_WRITE,
               "The logs are too much for one archive, which opens with no more than %s. Write the report into a "
               "folder instead, and pass the logs on beside it.",
               what);
  return FALSE;
}

/* No owner and no time: archives of the same files are the same. */
gboolean
sb_bundle_add (SbBundle *bundle, const char *name, GBytes *bytes, GError **error)
{
  gsize n;
  const void *data = g_bytes_get_data (bytes, &n);
  bundle->n_bytes += n;
  if (bundle->n_bytes > SB_BUNDLE_MOST_BYTES)
    return too_much ("4 GB", error);
  if (++bundle->n_entries > SB_BUNDLE_MOST_ENTRIES)
    return too_much (G_STRINGIFY (SB_BUNDLE_MOST_ENTRIES) " files", error);
  struct archive_entry *entry = archive_entry_new ();
  archive_entry_set_pathname_utf8 (entry, name);
  archive_entry_set_filetype (entry, AE_IFREG);
  archive_entry_set_perm (entry, 0644);
  archive_entry_set_size (entry, (la_int64_t) n);
  gboolean done = archive_write_header (bundle->archive, entry) == ARCHIVE_OK
                  && (n == 0 || archive_write_data (bundle->archive, data, n) == (la_ssize_t) n)
                  && archive_write_finish_entry (bundle->archive) == ARCHIVE_OK;
  archive_entry_free (entry);
  return done || failed (bundle, error);
}

static gboolean
add_log (SbBundle *bundle, const char *path, const char *name, GError **error)
{
  g_autofree char *in_archive = g_strconcat (SB_BUNDLE_LOGS "/", name, NULL), *content = NULL;
  gsize n;
  if (!g_file_get_contents (path, &content, &n, NULL))
    return TRUE; /* the session tells of it as of any log that is missing */
  g_autoptr (GBytes) bytes = g_bytes_new_take (g_steal_pointer (&content), n);
  return sb_bundle_add (bundle, in_archive, bytes, error);
}

static gboolean
add_logs (SbBundle *bundle, const SbAnalysis *analysis, GHashTable *names, GError **error)
{
  g_autoptr (GHashTable) added = g_hash_table_new (g_str_hash, g_str_equal);
  for (guint c = 0; c < analysis->bench->configurations->len; c++) {
    const SbConfiguration *configuration = sb_bench_configuration (analysis->bench, c);
    for (guint t = 0; t < configuration->entries->len; t++) {
      char *path = sb_configuration_entry (configuration, t)->path;
      if (g_hash_table_add (added, path) && !add_log (bundle, path, g_hash_table_lookup (names, path), error))
        return FALSE;
    }
  }
  return TRUE;
}

static gboolean
open_archive (SbBundle *bundle, GError **error)
{
  g_autoptr (GError) cause = NULL;
  bundle->file = sb_durable_file_begin (bundle->path, &cause);
  if (bundle->file == NULL)
    return not_written (bundle, cause->message, error);
  archive_write_set_format_zip (bundle->archive);
  archive_write_set_options (bundle->archive, "hdrcharset=UTF-8");
  archive_write_set_bytes_in_last_block (bundle->archive, 1);
  return archive_write_open (bundle->archive, bundle, NULL, append_bytes, NULL) == ARCHIVE_OK || failed (bundle, error);
}

SbBundle *
sb_bundle_new (const SbAnalysis *analysis, const char *path, GError **error)
{
  g_autoptr (SbBundle) bundle = g_new0 (SbBundle, 1);
  bundle->path = g_strdup (path);
  bundle->archive = archive_write_new ();
  if (!open_archive (bundle, error))
    return NULL;
  g_autoptr (GHashTable) names = sb_proof_names (analysis->bench);
  char *session = sb_proof_session_text (analysis, names, SB_BUNDLE_LOGS);
  g_autoptr (GBytes) bytes = g_bytes_new_take (session, strlen (session));
  if (!sb_bundle_add (bundle, SB_BUNDLE_SESSION, bytes, error) || !add_logs (bundle, analysis, names, error))
    return NULL;
  return g_steal_pointer (&bundle);
}

gboolean
sb_bundle_finish (SbBundle *bundle, GError **error)
{
  g_autoptr (SbBundle) owned = bundle;
  if (archive_write_close (owned->archive) != ARCHIVE_OK)
    return failed (owned, error);
  g_autoptr (GError) cause = NULL;
  if (!sb_durable_file_finish (g_steal_pointer (&owned->file), &cause))
    return not_written (owned, cause->message, error);
  return TRUE;
}

/* What is not finished leaves nothing behind. */
void
sb_bundle_free (SbBundle *bundle)
{
  if (bundle == NULL)
    return;
  archive_write_free (bundle->archive);
  sb_durable_file_drop (bundle->file);
  g_free (bundle->path);
  g_free (bundle);
}
