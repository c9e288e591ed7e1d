/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "bundle_parts.h"

#include "proof_names.h"

#include <archive.h>
#include <archive_entry.h>
#include <errno.h>
#include <glib/gstdio.h>
#include <stdio.h>
#include <string.h>

#define BLOCK ((gsize) 1 << 16)

typedef struct {
  struct archive *archive;
  const char *folder;
  guint64 n_bytes; /* unpacked so far */
  guint n_entries;
  GCancellable *cancellable;
} Unpacking;

static gboolean refuse (GError **error, const char *format, ...) G_GNUC_PRINTF (2, 3);

static gboolean
refuse (GError **error, const char *format, ...)
{
  va_list args;
  va_start (args, format);
  g_autofree char *text = g_strdup_vprintf (format, args);
  va_end (args);
  g_set_error_literal (error, SB_BUNDLE_ERROR, SB_BUNDLE_ERROR_READ, text);
  return FALSE;
}

static gboolean
refuse_archive (const Unpacking *unpacking, GError **error)
{
  const char *why = archive_error_string (unpacking->archive);
  return refuse (error, "the archive cannot be read: %s", why != NULL ? why : "it is damaged");
}

static gboolean
copy_data (Unpacking *unpacking, FILE *file, const char *name, GError **error)
{
  g_autofree char *block = g_malloc (BLOCK);
  la_ssize_t n;
  while ((n = archive_read_data (unpacking->archive, block, BLOCK)) > 0) {
    unpacking->n_bytes += (guint64) n;
    if (unpacking->n_bytes > SB_BUNDLE_MOST_BYTES)
      return refuse (error, "the archive holds more than 4 GB");
    if (g_cancellable_set_error_if_cancelled (unpacking->cancellable, error))
      return FALSE;
    if (fwrite (block, 1, (gsize) n, file) != (gsize) n)
      return refuse (error, "%s cannot be unpacked: %s", name, g_strerror (errno));
  }
  return n == 0 || refuse_archive (unpacking, error);
}

/* What was unpacked before goes first: a link in its place would lead elsewhere. */
static gboolean
unpack_file (Unpacking *unpacking, const char *name, GError **error)
{
  g_autofree char *path = g_build_filename (unpacking->folder, name, NULL), *above = g_path_get_dirname (path);
  if (g_mkdir_with_parents (above, 0700) != 0)
    return refuse (error, "the folder %s cannot be made: %s", above, g_strerror (errno));
  g_unlink (path);
  FILE *file = g_fopen (path, "wbx");
  if (file == NULL)
    return refuse (error, "%s cannot be unpacked: %s", name, g_strerror (errno));
  gboolean done = copy_data (unpacking, file, name, error);
  if (fclose (file) != 0 && done)
    return refuse (error, "%s cannot be unpacked: %s", name, g_strerror (errno));
  return done;
}

static gboolean
unpack_entry (Unpacking *unpacking, struct archive_entry *entry, GError **error)
{
  const char *name = archive_entry_pathname_utf8 (entry);
  if (++unpacking->n_entries > SB_BUNDLE_MOST_ENTRIES)
    return refuse (error, "the archive holds more than %d files", SB_BUNDLE_MOST_ENTRIES);
  if (archive_entry_filetype (entry) == AE_IFDIR)
    return TRUE; /* made with the files in it */
  if (archive_entry_filetype (entry) != AE_IFREG)
    return refuse (error, "the archive holds a link or a device, which no bundle does");
  if (name == NULL || !g_utf8_validate (name, -1, NULL) || !sb_proof_name_is_safe (name) || strchr (name, '\\') != NULL)
    return refuse (error, "a file in the archive has a name that leads out of it or cannot be read");
  return unpack_file (unpacking, name, error);
}

static gboolean
unpack_all (Unpacking *unpacking, const char *path, GError **error)
{
  archive_read_support_format_zip (unpacking->archive);
  if (archive_read_open_filename (unpacking->archive, path, BLOCK) != ARCHIVE_OK)
    return refuse_archive (unpacking, error);
  struct archive_entry *entry;
  int result;
  while ((result = archive_read_next_header (unpacking->archive, &entry)) == ARCHIVE_OK || result == ARCHIVE_WARN)
    if (!unpack_entry (unpacking, entry, error))
      return FALSE;
  return result == ARCHIVE_EOF || refuse_archive (unpacking, error);
}

static gboolean
unpack_into (const char *path, const char *folder, GCancellable *cancellable, GError **error)
{
  Unpacking unpacking = { archive_read_new (), folder, 0, 0, cancellable };
  gboolean done = unpack_all (&unpacking, path, error);
  archive_read_free (unpacking.archive);
  g_autofree char *session = sb_bundle_session (folder);
  if (done && !g_file_test (session, G_FILE_TEST_IS_REGULAR))
    return refuse (error, "there is no session (%s) in the archive; where it holds logs, unpack it and open them",
                   SB_BUNDLE_SESSION);
  return done;
}

char *
sb_bundle_unpack (const char *path, GCancellable *cancellable, GError **error)
{
  g_autofree char *digest = sb_session_digest (path), *name = g_filename_display_basename (path);
  g_autoptr (GError) cause = NULL;
  if (digest == NULL) {
    g_set_error (error, SB_BUNDLE_ERROR, SB_BUNDLE_ERROR_READ, "%s cannot be read.", name);
    return NULL;
  }
  g_autofree char *folder = g_build_filename (g_get_user_cache_dir (), "slewbench", "bundles", digest, NULL);
  if (unpack_into (path, folder, cancellable, &cause))
    return g_steal_pointer (&folder);
  if (g_error_matches (cause, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    g_propagate_error (error, g_steal_pointer (&cause));
  else
    g_set_error (error, SB_BUNDLE_ERROR, SB_BUNDLE_ERROR_READ, "%s: %s.", name, cause->message);
  return NULL;
}

char *
sb_bundle_session (const char *folder)
{
  return g_build_filename (folder, SB_BUNDLE_SESSION, NULL);
}
