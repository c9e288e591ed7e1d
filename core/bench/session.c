/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "session.h"

#include "bench_claims.h"
#include "callout_json.h"
#include "chart_point_json.h"
#include "choices_json.h"
#include "durable_file.h"
#include "json_file.h"
#include "json_members.h"
#include "layout_json.h"
#include "table_choices_json.h"
#include "unknown_members.h"

#include <math.h>
#include <string.h>

G_DEFINE_QUARK (sb_session_error_quark, sb_session_error)

/* Raised when a reader of the older format could no longer read the file. */
#define FORMAT 1

/* Relative to the session's folder when the log lies in or beside it, so that a folder can be moved whole. */
static char *
relative_path (const char *path, const char *folder)
{
  g_auto (GStrv) to = g_strsplit (path, "/", -1);
  g_auto (GStrv) from = g_strsplit (folder, "/", -1);
  guint shared = 0;
  while (to[shared] != NULL && from[shared] != NULL && strcmp (to[shared], from[shared]) == 0)
    shared++;
  guint up = g_strv_length (from) - shared;
  if (shared <= 1 || up > 3)
    return g_strdup (path);
  GString *relative = g_string_new (NULL);
  for (guint i = 0; i < up; i++)
    g_string_append (relative, "../");
  g_autofree char *rest = g_strjoinv ("/", to + shared);
  g_string_append (relative, rest);
  if (relative->len == 0)
    g_string_append_c (relative, '.');
  return g_string_free (relative, FALSE);
}

static void
add_trial (JsonBuilder *builder, const SbTrialEntry *entry, const SbTrialFacts *facts, const char *folder)
{
  g_autofree char *file = relative_path (entry->path, folder);
  json_builder_begin_object (builder);
  sb_json_add_string (builder, "file", file);
  const char *sha256 = facts != NULL ? facts->sha256 : entry->sha256;
  if (sha256 != NULL)
    sb_json_add_string (builder, "sha256", sha256);
  guint64 size_bytes = facts != NULL ? facts->n_bytes : entry->size_bytes;
  if (size_bytes > 0)
    sb_json_add_integer (builder, "size_bytes", (gint64) size_bytes);
  sb_json_add_boolean (builder, "included", entry->included);
  if (entry->exclusion_reason != NULL)
    sb_json_add_string (builder, "exclusion_reason", entry->exclusion_reason);
  if (!isnan (entry->choices.onset_s))
    sb_json_add_number (builder, "onset_s", entry->choices.onset_s);
  if (!isnan (entry->choices.active_end_s))
    sb_json_add_number (builder, "active_end_s", entry->choices.active_end_s);
  if (!isnan (entry->choices.from_s))
    sb_json_add_number (builder, "from_s", entry->choices.from_s);
  if (!isnan (entry->choices.to_s))
    sb_json_add_number (builder, "to_s", entry->choices.to_s);
  if (entry->n_steps > 0) {
    sb_json_add_integer (builder, "step", entry->step);
    sb_json_add_integer (builder, "steps", entry->n_steps);
  }
  if (entry->kept_whole)
    sb_json_add_boolean (builder, "kept_whole", TRUE);
  if (entry->layout != NULL) {
    json_builder_set_member_name (builder, "layout");
    sb_layout_choice_build (builder, entry->layout);
  }
  json_builder_end_object (builder);
}

/* A folder whose name JSON cannot hold is not watched when the session is opened again. */
static void
add_path (JsonBuilder *builder, const char *name, const char *path, const char *folder)
{
  if (path == NULL || !g_utf8_validate (path, -1, NULL))
    return;
  g_autofree char *relative = relative_path (path, folder);
  sb_json_add_string (builder, name, relative);
}

static void
add_passed_over (JsonBuilder *builder, const GPtrArray *passed_over, const char *folder)
{
  if (passed_over == NULL || passed_over->len == 0)
    return;
  json_builder_set_member_name (builder, "passed_over");
  json_builder_begin_array (builder);
  for (guint i = 0; i < passed_over->len; i++) {
    g_autofree char *relative = relative_path (g_ptr_array_index (passed_over, i), folder);
    if (g_utf8_validate (relative, -1, NULL))
      json_builder_add_string_value (builder, relative);
  }
  json_builder_end_array (builder);
}

static void
add_configuration (JsonBuilder *builder, const SbConfiguration *configuration, const SbConfigurationResult *result,
                   const char *folder)
{
  json_builder_begin_object (builder);
  sb_json_add_string (builder, "name", configuration->name);
  sb_json_add_integer (builder, "style", configuration->style);
  sb_json_add_boolean (builder, "drawn", configuration->drawn);
  if (configuration->dimmed)
    sb_json_add_boolean (builder, "dimmed", TRUE);
  sb_callouts_build (builder, configuration->callouts);
  sb_chart_points_build (builder, configuration->point);
  add_path (builder, "folder", configuration->folder, folder);
  add_path (builder, "opened_folder", configuration->opened_folder, folder);
  json_builder_set_member_name (builder, "trials");
  json_builder_begin_array (builder);
  for (guint t = 0; t < configuration->entries->len; t++) {
    const SbTrialFacts *facts = result != NULL ? sb_configuration_result_trial (result, t)->facts : NULL;
    add_trial (builder, sb_configuration_entry (configuration, t), facts, folder);
  }
  json_builder_end_array (builder);
  json_builder_end_object (builder);
}

static void
add_role (JsonBuilder *builder, const char *name, int role)
{
  if (role >= 0)
    sb_json_add_integer (builder, name, role);
  else
    sb_json_add_number (builder, name, NAN);
}

/* The session without what a later version wrote. */
static void
build_session (JsonBuilder *builder, const SbBench *bench, const SbAnalysis *analysis, const char *folder)
{
  json_builder_begin_object (builder);
  sb_json_add_integer (builder, "slewbench_session", FORMAT);
  sb_json_add_string (builder, "written_by", SB_VERSION);
  json_builder_set_member_name (builder, "configurations");
  json_builder_begin_array (builder);
  for (guint c = 0; c < bench->configurations->len; c++) {
    /* Checksums belong to the logs of the configuration that was analysed; another one has none to give. */
    gboolean same = analysis != NULL && c < analysis->bench->configurations->len
                    && sb_bench_configuration (analysis->bench, c) == sb_bench_configuration (bench, c);
    add_configuration (builder, sb_bench_configuration (bench, c),
                       same ? sb_analysis_configuration (analysis, c) : NULL, folder);
  }
  json_builder_end_array (builder);
  add_passed_over (builder, bench->passed_over, folder);
  if (bench->layouts != NULL && bench->layouts->len > 0) {
    json_builder_set_member_name (builder, "layouts");
    sb_layout_choices_build (builder, bench->layouts);
  }
  sb_bench_claims_build (builder, bench);
  add_role (builder, "reference", bench->reference);
  add_role (builder, "other", bench->other);
  json_builder_set_member_name (builder, "choices");
  json_builder_begin_object (builder);
  sb_choices_build (builder, bench);
  json_builder_end_object (builder);
  json_builder_set_member_name (builder, "chart");
  json_builder_begin_object (builder);
  sb_chart_choices_build (builder, bench);
  json_builder_end_object (builder);
  sb_json_begin (builder, "table");
  sb_table_choices_build (builder, &bench->table);
  json_builder_end_object (builder);
  json_builder_end_object (builder);
}

char *
sb_session_text (const SbBench *bench, const SbAnalysis *analysis, const char *folder)
{
  g_autoptr (JsonBuilder) builder = json_builder_new ();
  build_session (builder, bench, analysis, folder);
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
  g_set_error (error, SB_SESSION_ERROR, SB_SESSION_ERROR_WRITE,
               "The session was not saved: %s. What was in that place before is still there; save to another folder.",
               cause->message);
  return FALSE;
}

static gboolean
wrong (GError **error, const char *what)
{
  g_set_error_literal (error, SB_SESSION_ERROR, SB_SESSION_ERROR_READ, what);
  return FALSE;
}

/* A GRefString, or NULL. */
static char *
read_text (JsonObject *object, const char *name)
{
  JsonNode *node = sb_json_value (object, name, G_TYPE_STRING);
  return node != NULL ? g_ref_string_new (json_node_get_string (node)) : NULL;
}

static guint
read_count (JsonObject *object, const char *name)
{
  JsonNode *node = sb_json_value (object, name, G_TYPE_INT64);
  return node != NULL ? (guint) CLAMP (json_node_get_int (node), 0, G_MAXINT) : 0;
}

static void
read_entry (JsonObject *object, SbTrialEntry *entry)
{
  entry->included = sb_json_boolean_or (object, "included", TRUE);
  entry->kept_whole = sb_json_boolean_or (object, "kept_whole", FALSE);
  entry->choices = (SbTrialChoices){
    .onset_s = sb_json_number_or_nan (object, "onset_s"),
    .active_end_s = sb_json_number_or_nan (object, "active_end_s"),
    .from_s = sb_json_number_or_nan (object, "from_s"),
    .to_s = sb_json_number_or_nan (object, "to_s"),
  };
  guint step = read_count (object, "step"), n_steps = read_count (object, "steps");
  if (!sb_trial_choices_whole (&entry->choices) && step >= 1 && step <= n_steps) {
    entry->step = step;
    entry->n_steps = n_steps;
  }
  entry->exclusion_reason = read_text (object, "exclusion_reason");
  entry->sha256 = read_text (object, "sha256");
  JsonNode *size = sb_json_value (object, "size_bytes", G_TYPE_INT64);
  entry->size_bytes = size != NULL ? (guint64) MAX (0, json_node_get_int (size)) : 0;
}

static gboolean
read_own_layout (JsonObject *object, SbTrialEntry *entry, GError **error)
{
  JsonNode *layout = json_object_get_member (object, "layout");
  if (layout == NULL || JSON_NODE_HOLDS_NULL (layout))
    return TRUE;
  entry->layout = sb_layout_choice_parse (layout, SB_UNKNOWN_MEMBERS_PASSED, error);
  if (entry->layout == NULL)
    g_prefix_error (error, "the layout of the log %s: ", json_object_get_string_member (object, "file"));
  return entry->layout != NULL;
}

/* `seen`: keys of the configuration's trials so far. */
static gboolean
read_trial (JsonNode *node, SbBench *bench, guint index, const char *folder, GHashTable *seen, GError **error)
{
  JsonObject *object = JSON_NODE_HOLDS_OBJECT (node) ? json_node_get_object (node) : NULL;
  JsonNode *file = object != NULL ? sb_json_value (object, "file", G_TYPE_STRING) : NULL;
  if (file == NULL)
    return wrong (error, "a trial names no file");
  static const char *const switches[] = { "included", "kept_whole" };
  if (!sb_json_check_booleans (object, switches, G_N_ELEMENTS (switches), error)) {
    g_prefix_error (error, "the trial %s: ", json_node_get_string (file));
    return FALSE;
  }
  g_autofree char *path = g_canonicalize_filename (json_node_get_string (file), folder);
  SbTrialEntry entry = { .path = g_ref_string_new (path) };
  read_entry (object, &entry);
  gboolean readable = read_own_layout (object, &entry, error);
  gboolean added = readable && g_hash_table_add (seen, sb_trial_entry_stretch_key (&entry));
  if (added)
    sb_bench_append_entry (bench, index, &entry);
  sb_trial_entry_clear (&entry);
  if (!readable)
    return FALSE;
  if (entry.choices.from_s >= entry.choices.to_s)
    return wrong (error, "a trial's stretch of its log ends before it begins");
  return added || wrong (error, "a configuration names a file, or the same stretch of one, twice");
}

static char *
read_path (JsonObject *object, const char *name, const char *folder)
{
  JsonNode *node = sb_json_value (object, name, G_TYPE_STRING);
  return node != NULL ? g_canonicalize_filename (json_node_get_string (node), folder) : NULL;
}

static GPtrArray *
read_passed_over (JsonObject *root, const char *folder)
{
  JsonArray *array = sb_json_array (root, "passed_over");
  if (array == NULL)
    return NULL;
  GPtrArray *passed_over = g_ptr_array_new_with_free_func (g_free);
  for (guint i = 0; i < json_array_get_length (array); i++) {
    JsonNode *node = json_array_get_element (array, i);
    if (JSON_NODE_HOLDS_VALUE (node) && json_node_get_value_type (node) == G_TYPE_STRING)
      g_ptr_array_add (passed_over, g_canonicalize_filename (json_node_get_string (node), folder));
  }
  return passed_over;
}

static gboolean
read_configuration (JsonNode *node, SbBench *bench, const char *folder, GError **error)
{
  JsonObject *object = JSON_NODE_HOLDS_OBJECT (node) ? json_node_get_object (node) : NULL;
  JsonNode *name = object != NULL ? sb_json_value (object, "name", G_TYPE_STRING) : NULL;
  JsonArray *trials = object != NULL ? sb_json_array (object, "trials") : NULL;
  if (name == NULL || trials == NULL)
    return wrong (error, "a configuration has no name or no list of trials");
  guint index = sb_bench_add_configuration (bench, json_node_get_string (name), NULL, 0);
  SbConfiguration *configuration = sb_bench_edit_configuration (bench, index);
  JsonNode *style = sb_json_value (object, "style", G_TYPE_INT64);
  if (style != NULL)
    configuration->style = (guint) CLAMP (json_node_get_int (style), 0, G_MAXINT);
  static const char *const switches[] = { "drawn", "dimmed" };
  if (!sb_json_check_booleans (object, switches, G_N_ELEMENTS (switches), error)) {
    g_prefix_error (error, "the configuration %s: ", json_node_get_string (name));
    return FALSE;
  }
  configuration->drawn = sb_json_boolean_or (object, "drawn", TRUE);
  configuration->dimmed = sb_json_boolean_or (object, "dimmed", FALSE);
  if (!sb_callouts_read (object, configuration->callouts, error)
      || !sb_chart_points_read (object, configuration->point, error))
    return FALSE;
  g_autofree char *own_folder = read_path (object, "folder", folder);
  g_autofree char *opened_folder = read_path (object, "opened_folder", folder);
  sb_bench_set_folder (bench, index, own_folder, opened_folder);
  g_autoptr (GHashTable) seen = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  for (guint t = 0; t < json_array_get_length (trials); t++)
    if (!read_trial (json_array_get_element (trials, t), bench, index, folder, seen, error))
      return FALSE;
  return TRUE;
}

static gboolean
read_role (JsonObject *root, const char *name, const SbBench *bench, int *role, GError **error)
{
  *role = -1;
  JsonNode *node = sb_json_value (root, name, G_TYPE_INT64);
  if (node == NULL)
    return TRUE;
  gint64 index = json_node_get_int (node);
  if (index < 0 || index >= bench->configurations->len)
    return wrong (error, "reference or other names a configuration that is not there");
  *role = (int) index;
  return TRUE;
}

static gboolean
read_session (JsonObject *root, SbBench *bench, const char *folder, GError **error)
{
  JsonArray *configurations = sb_json_array (root, "configurations");
  if (configurations == NULL)
    return wrong (error, "there is no list of configurations");
  for (guint c = 0; c < json_array_get_length (configurations); c++)
    if (!read_configuration (json_array_get_element (configurations, c), bench, folder, error))
      return FALSE;
  if (!sb_chart_points_check (bench, error))
    return FALSE;
  bench->passed_over = read_passed_over (root, folder);
  JsonNode *layouts = json_object_get_member (root, "layouts");
  if (layouts != NULL && (bench->layouts = sb_layout_choices_parse (layouts, SB_UNKNOWN_MEMBERS_PASSED, error)) == NULL)
    return FALSE;
  if (!sb_bench_claims_read (root, bench, error))
    return FALSE;
  if (!read_role (root, "reference", bench, &bench->reference, error)
      || !read_role (root, "other", bench, &bench->other, error))
    return FALSE;
  JsonObject *choices = sb_json_object (root, "choices"), *chart = sb_json_object (root, "chart");
  JsonObject *table = sb_json_object (root, "table");
  return (choices == NULL || sb_choices_read (choices, bench, error))
         && (chart == NULL || sb_chart_choices_read (chart, bench, error))
         && (table == NULL || sb_table_choices_read (table, &bench->table, error));
}

static JsonObject *
object_of (JsonNode *root, GError **error)
{
  JsonObject *object = root != NULL && JSON_NODE_HOLDS_OBJECT (root) ? json_node_get_object (root) : NULL;
  JsonNode *format = object != NULL ? sb_json_value (object, "slewbench_session", G_TYPE_INT64) : NULL;
  if (format == NULL) {
    wrong (error, "this is no session: the member 'slewbench_session' is missing");
    return NULL;
  }
  if (json_node_get_int (format) > FORMAT) {
    g_set_error (error, SB_SESSION_ERROR, SB_SESSION_ERROR_VERSION,
                 "this session is of format %" G_GINT64_FORMAT "; this version reads up to %d. Use a later version.",
                 json_node_get_int (format), FORMAT);
    return NULL;
  }
  return object;
}

SbBench *
sb_session_read (JsonNode *node, const char *folder, GError **error)
{
  g_autoptr (SbBench) bench = sb_bench_new ();
  JsonObject *root = object_of (node, error);
  if (root == NULL || !read_session (root, bench, folder, error))
    return NULL;
  g_autoptr (JsonBuilder) builder = json_builder_new ();
  build_session (builder, bench, NULL, folder);
  g_autoptr (JsonNode) written = json_builder_get_root (builder);
  sb_unknown_members_keep (bench, root, json_node_get_object (written));
  return g_steal_pointer (&bench);
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
