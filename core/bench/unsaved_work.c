/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "unsaved_work.h"

#include "durable_file.h"
#include "json_file.h"
#include "json_members.h"
#include "session.h"

#include <errno.h>
#include <fcntl.h>
#include <glib/gstdio.h>
#include <string.h>
#include <sys/file.h>
#include <unistd.h>

#define FORMAT 1
#define SUFFIX ".unsaved"
#define LOCKED ".lock" /* behind that */

/* Logs are named by their whole paths, as seen from here. */
#define NO_FOLDER "/"

char *
sb_unsaved_work_folder (void)
{
  return g_build_filename (g_get_user_state_dir (), "slewbench", "unsaved", NULL);
}

static char *
lock_path_of (const char *path)
{
  return g_strconcat (path, LOCKED, NULL);
}

/* -1 when another has the lock, or with errno. */
static int
lock (const char *path)
{
  g_autofree char *lock_path = lock_path_of (path);
  int fd = g_open (lock_path, O_RDWR | O_CREAT | O_CLOEXEC, 0600);
  if (fd >= 0 && flock (fd, LOCK_EX | LOCK_NB) == 0)
    return fd;
  int code = errno;
  if (fd >= 0)
    close (fd);
  errno = code;
  return -1;
}

SbUnsavedWork *
sb_unsaved_work_new (const char *folder, GError **error)
{
  g_autofree char *id = g_uuid_string_random ();
  g_autofree char *name = g_strconcat (id, SUFFIX, NULL);
  g_autofree char *path = g_build_filename (folder, name, NULL);
  int fd = g_mkdir_with_parents (folder, 0700) == 0 ? lock (path) : -1;
  if (fd < 0) {
    g_autofree char *shown = g_filename_display_name (folder);
    g_set_error (error, G_FILE_ERROR, (int) g_file_error_from_errno (errno),
                 "Unsaved choices cannot be kept for the case of a crash: %s cannot be written to (%s). Save often.",
                 shown, g_strerror (errno));
    return NULL;
  }
  SbUnsavedWork *work = g_new0 (SbUnsavedWork, 1);
  work->path = g_steal_pointer (&path);
  work->lock_fd = fd;
  return work;
}

void
sb_unsaved_work_free (SbUnsavedWork *work)
{
  if (work == NULL)
    return;
  if (!g_file_test (work->path, G_FILE_TEST_EXISTS)) {
    g_autofree char *lock_path = lock_path_of (work->path);
    g_unlink (lock_path);
  }
  close (work->lock_fd);
  g_free (work->path);
  g_free (work->session_path);
  g_free (work->digest);
  g_free (work->failure);
  g_free (work);
}

static guint
count_trials (const SbBench *bench)
{
  guint n = 0;
  for (guint c = 0; c < bench->configurations->len; c++)
    n += sb_bench_configuration (bench, c)->entries->len;
  return n;
}

/* A path that JSON cannot hold is left out: the work then counts as a new session's. */
static void
add_path (JsonBuilder *builder, const char *name, const char *path)
{
  if (path != NULL && g_utf8_validate (path, -1, NULL))
    sb_json_add_string (builder, name, path);
}

static char *
text_of (const SbBench *bench, const SbAnalysis *analysis, const char *session_path, const char *digest)
{
  g_autofree char *session = sb_session_text (bench, analysis, NO_FOLDER);
  g_autoptr (JsonBuilder) builder = json_builder_new ();
  json_builder_begin_object (builder);
  sb_json_add_integer (builder, "slewbench_unsaved", FORMAT);
  sb_json_add_integer (builder, "kept_us", g_get_real_time ());
  sb_json_add_integer (builder, "n_configurations", bench->configurations->len);
  sb_json_add_integer (builder, "n_trials", count_trials (bench));
  add_path (builder, "session_path", session_path);
  if (digest != NULL)
    sb_json_add_string (builder, "digest", digest);
  json_builder_set_member_name (builder, "session");
  json_builder_add_value (builder, json_from_string (session, NULL));
  json_builder_end_object (builder);
  return sb_json_text (builder);
}

gboolean
sb_unsaved_work_keep (SbUnsavedWork *work, const SbBench *bench, const SbAnalysis *analysis, const char *session_path,
                      const char *digest, GError **error)
{
  g_autofree char *text = text_of (bench, analysis, session_path, digest);
  if (sb_durable_file_write (work->path, text, strlen (text), error))
    return TRUE;
  g_prefix_error (error, "Unsaved choices cannot be kept for the case of a crash: ");
  return FALSE;
}

void
sb_unsaved_work_forget (SbUnsavedWork *work)
{
  g_unlink (work->path);
}

/* The root of a file of unsaved work, borrowed from the parser; NULL with an error. */
static JsonObject *
parse (JsonParser *parser, const char *path, GError **error)
{
  if (!sb_json_parse_file (parser, path, error))
    return NULL;
  JsonNode *root = json_parser_get_root (parser);
  JsonObject *object = root != NULL && JSON_NODE_HOLDS_OBJECT (root) ? json_node_get_object (root) : NULL;
  JsonNode *format = object != NULL ? sb_json_value (object, "slewbench_unsaved", G_TYPE_INT64) : NULL;
  if (format != NULL && json_node_get_int (format) <= FORMAT)
    return object;
  g_set_error_literal (error, SB_SESSION_ERROR, SB_SESSION_ERROR_VERSION,
                       format != NULL ? "a later version kept it; open it with that one" : "it is no unsaved work");
  return NULL;
}

static char *
text_in (JsonObject *object, const char *name)
{
  JsonNode *node = sb_json_value (object, name, G_TYPE_STRING);
  return node != NULL ? json_node_dup_string (node) : NULL;
}

static gint64
number_in (JsonObject *object, const char *name)
{
  JsonNode *node = sb_json_value (object, name, G_TYPE_INT64);
  return node != NULL ? json_node_get_int (node) : 0;
}

static void
describe (SbUnsavedWork *work)
{
  g_autoptr (JsonParser) parser = json_parser_new_immutable ();
  g_autoptr (GError) error = NULL;
  JsonObject *object = parse (parser, work->path, &error);
  GStatBuf file;
  if (g_stat (work->path, &file) == 0)
    work->kept_us = file.st_mtime * G_TIME_SPAN_SECOND;
  if (object == NULL) {
    work->failure = g_strdup (error->message);
    return;
  }
  work->kept_us = number_in (object, "kept_us");
  work->n_configurations = (guint) CLAMP (number_in (object, "n_configurations"), 0, G_MAXINT);
  work->n_trials = (guint) CLAMP (number_in (object, "n_trials"), 0, G_MAXINT);
  work->session_path = text_in (object, "session_path");
  work->digest = text_in (object, "digest");
}

/* The work in the file `name` of `folder`; NULL when somebody works on it. */
static SbUnsavedWork *
claim (const char *folder, const char *name)
{
  g_autofree char *path = g_build_filename (folder, name, NULL);
  int fd = lock (path);
  if (fd < 0)
    return NULL;
  SbUnsavedWork *work = g_new0 (SbUnsavedWork, 1);
  work->path = g_steal_pointer (&path);
  work->lock_fd = fd;
  if (g_file_test (work->path, G_FILE_TEST_EXISTS)) { /* it may have been saved a moment ago */
    describe (work);
    return work;
  }
  sb_unsaved_work_free (work);
  return NULL;
}

static int
latest_first (gconstpointer a, gconstpointer b)
{
  const SbUnsavedWork *left = *(const SbUnsavedWork *const *) a, *right = *(const SbUnsavedWork *const *) b;
  return left->kept_us > right->kept_us ? -1 : (left->kept_us < right->kept_us ? 1 : strcmp (left->path, right->path));
}

GPtrArray *
sb_unsaved_work_find (const char *folder)
{
  GPtrArray *found = g_ptr_array_new_with_free_func ((GDestroyNotify) sb_unsaved_work_free);
  g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);
  g_autoptr (GPtrArray) names = g_ptr_array_new_with_free_func (g_free);
  for (const char *name = NULL; dir != NULL && (name = g_dir_read_name (dir)) != NULL;) {
    if (g_str_has_suffix (name, SUFFIX))
      g_ptr_array_add (names, g_strdup (name));
    else if (g_str_has_suffix (name, SUFFIX LOCKED)) /* may be left over: claiming takes it away */
      g_ptr_array_add (names, g_strndup (name, strlen (name) - strlen (LOCKED)));
  }
  for (guint i = 0; i < names->len; i++) {
    SbUnsavedWork *work = claim (folder, g_ptr_array_index (names, i));
    if (work != NULL)
      g_ptr_array_add (found, work);
  }
  g_ptr_array_sort (found, latest_first);
  return found;
}

SbBench *
sb_unsaved_work_read (const SbUnsavedWork *work, GError **error)
{
  g_autoptr (JsonParser) parser = json_parser_new_immutable ();
  JsonObject *object = parse (parser, work->path, error);
  SbBench *bench = object != NULL && json_object_has_member (object, "session")
                       ? sb_session_read (json_object_get_member (object, "session"), NO_FOLDER, error)
                       : NULL;
  if (bench != NULL)
    return bench;
  g_autofree char *shown = g_filename_display_name (work->path);
  if (error != NULL && *error == NULL)
    g_set_error_literal (error, SB_SESSION_ERROR, SB_SESSION_ERROR_READ, "it holds no session");
  g_prefix_error (error, "The unsaved work in %s cannot be read: ", shown);
  return NULL;
}
