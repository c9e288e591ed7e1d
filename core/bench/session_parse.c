/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "session_parts.h"

#include "bench_claims.h"
#include "callout_json.h"
#include "chart_point_json.h"
#include "choices_json.h"
#include "json_members.h"
#include "layout_json.h"
#include "table_choices_json.h"
#include "unknown_members.h"

#include <string.h>

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
read_exported_as (JsonObject *root, SbChartFormat *format, GError **error)
{
  JsonNode *node = sb_json_value (root, "exported_as", G_TYPE_STRING);
  if (!json_object_has_member (root, "exported_as")
      || (node != NULL && sb_chart_format_from_key (json_node_get_string (node), format)))
    return TRUE;
  return wrong (error, "'exported_as' must be one of png, svg, pdf");
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
      || !read_role (root, "other", bench, &bench->other, error)
      || !read_exported_as (root, &bench->exported_as, error))
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
  if (json_node_get_int (format) > SB_SESSION_FORMAT) {
    g_set_error (error, SB_SESSION_ERROR, SB_SESSION_ERROR_VERSION,
                 "this session is of format %" G_GINT64_FORMAT "; this version reads up to %d. Use a later version.",
                 json_node_get_int (format), SB_SESSION_FORMAT);
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
  sb_session_build (builder, bench, NULL, folder);
  g_autoptr (JsonNode) written = json_builder_get_root (builder);
  sb_unknown_members_keep (bench, root, json_node_get_object (written));
  return g_steal_pointer (&bench);
}
