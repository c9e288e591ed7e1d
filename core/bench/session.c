/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "session_parts.h"

#include "durable_file.h"
#include "json_file.h"
#include "json_members.h"
#include "unknown_members.h"

#include <string.h>

G_DEFINE_QUARK (sb_session_error_quark, sb_session_error)

char *
sb_session_text (const SbBench *bench, const SbAnalysis *analysis, const char *folder)
{
  g_autoptr (JsonBuilder) builder = json_builder_new ();
  sb_session_build (builder, bench, analysis, folder);
  g_autoptr (JsonNode) root = json_builder_get_root (builder);
  sb_unknown_members_put_back (bench, json_node_get_object (root));
  return sb_json_node_text (root);
}

/* The first path that JSON could not bring back; NULL when there is none. */
static const char *
find_unwritable_path (const SbBench *bench)
{
  for (guint c = 0; c < bench->configurations->len; c++) {
    const SbConfiguration *configuration = sb_bench_configuration (bench, c);
    for (guint t = 0; t < configuration->entries->len; t++) {
      const char *path = sb_configuration_entry (configuration, t)->path;
      if (!g_utf8_validate (path, -1, NULL))
        return path;
    }
  }
  return NULL;
}

char *
sb_session_digest (const char *path)
{
  g_autofree char *text = NULL;
  gsize n_bytes = 0;
  if (!g_file_get_contents (path, &text, &n_bytes, NULL))
    return NULL;
  return g_compute_checksum_for_data (G_CHECKSUM_SHA256, (const guchar *) text, n_bytes);
}

/* A file that is gone cannot be lost by writing. */
static gboolean
is_as_expected (const char *path, const char *expected, GError **error)
{
  g_autofree char *found = expected != NULL ? sb_session_digest (path) : NULL;
  if (found == NULL || strcmp (found, expected) == 0)
    return TRUE;
  g_autofree char *readable = g_filename_display_name (path);
  g_set_error (
      error, SB_SESSION_ERROR, SB_SESSION_ERROR_CHANGED,
      "The session was not saved: %s was changed since it was opened here, and what was written there would be "
      "lost.",
      readable);
  return FALSE;
}

gboolean
sb_session_save (const SbBench *bench, const SbAnalysis *analysis, const char *path, GError **error)
{
  return sb_session_save_over (bench, analysis, path, NULL, NULL, error);
}

gboolean
sb_session_save_over (const SbBench *bench, const SbAnalysis *analysis, const char *path, const char *expected,
                      char **digest, GError **error)
{
  const char *unwritable = find_unwritable_path (bench);
  if (unwritable != NULL) {
    g_autofree char *readable = g_filename_display_name (unwritable);
    g_set_error (error, SB_SESSION_ERROR, SB_SESSION_ERROR_WRITE,
                 "The session was not saved: the name of the log %s is not in UTF-8 and could not be found again. "
                 "Rename the log or its folder and open it anew.",
                 readable);
    return FALSE;
  }
  g_autofree char *absolute = g_canonicalize_filename (path, NULL);
  g_autofree char *folder = g_path_get_dirname (absolute);
  g_autofree char *text = sb_session_text (bench, analysis, folder);
  g_autoptr (GError) cause = NULL;
  if (!is_as_expected (absolute, expected, error))
    return FALSE;
  if (sb_durable_file_write (absolute, text, strlen (text), &cause)) {
    if (digest != NULL)
      *digest = g_compute_checksum_for_string (G_CHECKSUM_SHA256, text, -1);
    return TRUE;
  }
  gboolean was_there = g_file_test (absolute, G_FILE_TEST_EXISTS);
  g_set_error (error, SB_SESSION_ERROR, SB_SESSION_ERROR_WRITE, "The session was not saved: %s. %s to another folder.",
               cause->message, was_there ? "What was in that place before is still there; save" : "Save it");
  return FALSE;
}

/* NULL, with file and remedy around what is wrong. */
static SbBench *
fail_to_load (const char *path, const char *before, const GError *cause, GError **error)
{
  if (g_error_matches (cause, SB_SESSION_ERROR, SB_SESSION_ERROR_VERSION))
    g_set_error (error, SB_SESSION_ERROR, SB_SESSION_ERROR_VERSION, "%s: %s", path, cause->message);
  else
    g_set_error (error, SB_SESSION_ERROR, SB_SESSION_ERROR_READ,
                 "%s: %s%s. The logs are untouched: open them to begin anew.", path, before, cause->message);
  return NULL;
}

SbBench *
sb_session_load (const char *path, GError **error)
{
  g_autofree char *absolute = g_canonicalize_filename (path, NULL);
  g_autofree char *folder = g_path_get_dirname (absolute);
  g_autoptr (JsonParser) parser = json_parser_new_immutable ();
  g_autoptr (GError) cause = NULL;
  if (!sb_json_parse_file (parser, absolute, &cause))
    return fail_to_load (path, "the session cannot be read: ", cause, error);
  SbBench *bench = sb_session_read (json_parser_get_root (parser), folder, &cause);
  return bench != NULL ? bench : fail_to_load (path, "", cause, error);
}
