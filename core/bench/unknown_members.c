/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "unknown_members.h"

#include "json_members.h"

/* Known, and left out by this version where they say nothing: an old value must not come back. */
static const char *const known_when_absent[]
    = { "passed_over",  "layouts", "folder",   "opened_folder", "sha256", "size_bytes", "exclusion_reason", "onset_s",
        "active_end_s", "from_s",  "to_s",     "step",          "steps",  "kept_whole", "layout",           "audits",
        "claims",       "dimmed",  "callouts", "labels",        "points", NULL };

static JsonNode *unknown_of_value (JsonNode *read, JsonNode *written);

static void
set_if_any (JsonObject *unknown, const char *name, JsonNode *value)
{
  if (value != NULL)
    json_object_set_member (unknown, name, value);
}

/* An object of the members of `read` that `written` lacks, also in the objects within; NULL when there are none. */
static JsonNode *
unknown_of_object (JsonObject *read, JsonObject *written, const char *const *apart)
{
  JsonObject *unknown = json_object_new ();
  JsonObjectIter iter;
  const char *name = NULL;
  JsonNode *value = NULL;
  json_object_iter_init_ordered (&iter, read);
  while (json_object_iter_next_ordered (&iter, &name, &value)) {
    if (apart != NULL && g_strv_contains (apart, name))
      continue;
    if (json_object_has_member (written, name))
      set_if_any (unknown, name, unknown_of_value (value, json_object_get_member (written, name)));
    else if (!g_strv_contains (known_when_absent, name))
      json_object_set_member (unknown, name, json_node_copy (value));
  }
  JsonNode *node = json_object_get_size (unknown) > 0 ? json_node_init_object (json_node_alloc (), unknown) : NULL;
  json_object_unref (unknown);
  return node;
}

/* A list of what is unknown of each object in the list; NULL when nothing is. */
static JsonNode *
unknown_of_list (JsonArray *read, JsonArray *written)
{
  guint n = json_array_get_length (read);
  gboolean any = FALSE;
  JsonArray *list = json_array_new ();
  for (guint i = 0; n == json_array_get_length (written) && i < n; i++) {
    JsonNode *unknown = unknown_of_value (json_array_get_element (read, i), json_array_get_element (written, i));
    any = any || unknown != NULL;
    json_array_add_element (list, unknown != NULL ? unknown : json_node_new (JSON_NODE_NULL));
  }
  JsonNode *node = any ? json_node_init_array (json_node_alloc (), list) : NULL;
  json_array_unref (list);
  return node;
}

static JsonNode *
unknown_of_value (JsonNode *read, JsonNode *written)
{
  if (JSON_NODE_HOLDS_OBJECT (read) && JSON_NODE_HOLDS_OBJECT (written))
    return unknown_of_object (json_node_get_object (read), json_node_get_object (written), NULL);
  if (JSON_NODE_HOLDS_ARRAY (read) && JSON_NODE_HOLDS_ARRAY (written))
    return unknown_of_list (json_node_get_array (read), json_node_get_array (written));
  return NULL;
}

/* A GRefString, which threads may share as they do not share JSON; NULL when nothing is unknown. */
static char *
keep (JsonObject *read, JsonObject *written, const char *const *apart)
{
  g_autoptr (JsonNode) unknown = unknown_of_object (read, written, apart);
  g_autofree char *text = unknown != NULL ? json_to_string (unknown, FALSE) : NULL;
  return text != NULL ? g_ref_string_new (text) : NULL;
}

static JsonObject *
object_at (JsonArray *array, guint index)
{
  return json_array_get_object_element (array, index);
}

static void
keep_of_layout (SbLayoutChoice *choice, JsonObject *read, JsonObject *written)
{
  choice->unknown = keep (read, written, NULL);
}

static void
keep_of_configuration (const SbConfiguration *configuration, JsonObject *read, JsonObject *written)
{
  static const char *const apart[] = { "layout", NULL };
  JsonArray *trials = sb_json_array (read, "trials"), *own = sb_json_array (written, "trials");
  for (guint t = 0; t < configuration->entries->len; t++) {
    SbTrialEntry *entry = sb_configuration_entry (configuration, t);
    entry->unknown = keep (object_at (trials, t), object_at (own, t), apart);
    if (entry->layout != NULL)
      keep_of_layout (entry->layout, sb_json_object (object_at (trials, t), "layout"),
                      sb_json_object (object_at (own, t), "layout"));
  }
}

void
sb_unknown_members_keep (SbBench *bench, JsonObject *read, JsonObject *written)
{
  static const char *const apart[] = { "configurations", "layouts", NULL }, *const apart_of_one[] = { "trials", NULL };
  JsonArray *configurations = sb_json_array (read, "configurations");
  JsonArray *own = sb_json_array (written, "configurations");
  bench->unknown = keep (read, written, apart);
  for (guint c = 0; c < bench->configurations->len; c++) {
    SbConfiguration *configuration = sb_bench_edit_configuration (bench, c);
    configuration->unknown = keep (object_at (configurations, c), object_at (own, c), apart_of_one);
    keep_of_configuration (configuration, object_at (configurations, c), object_at (own, c));
  }
  for (guint i = 0; bench->layouts != NULL && i < bench->layouts->len; i++)
    keep_of_layout (g_ptr_array_index (bench->layouts, i), object_at (sb_json_array (read, "layouts"), i),
                    object_at (sb_json_array (written, "layouts"), i));
}

/* What `into` has stays. */
static void
merge_object (JsonObject *into, JsonObject *unknown)
{
  JsonObjectIter iter;
  const char *name = NULL;
  JsonNode *value = NULL;
  json_object_iter_init_ordered (&iter, unknown);
  while (json_object_iter_next_ordered (&iter, &name, &value)) {
    JsonNode *there = json_object_get_member (into, name);
    if (there == NULL) {
      json_object_set_member (into, name, json_node_copy (value));
    } else if (JSON_NODE_HOLDS_OBJECT (there) && JSON_NODE_HOLDS_OBJECT (value)) {
      merge_object (json_node_get_object (there), json_node_get_object (value));
    } else if (JSON_NODE_HOLDS_ARRAY (there) && JSON_NODE_HOLDS_ARRAY (value)) {
      JsonArray *list = json_node_get_array (there), *more = json_node_get_array (value);
      for (guint i = 0; i < MIN (json_array_get_length (list), json_array_get_length (more)); i++)
        if (JSON_NODE_HOLDS_OBJECT (json_array_get_element (list, i))
            && JSON_NODE_HOLDS_OBJECT (json_array_get_element (more, i)))
          merge_object (object_at (list, i), object_at (more, i));
    }
  }
}

static void
put_back (JsonObject *into, const char *unknown)
{
  g_autoptr (JsonNode) node = unknown != NULL ? json_from_string (unknown, NULL) : NULL;
  if (node != NULL && into != NULL)
    merge_object (into, json_node_get_object (node));
}

void
sb_unknown_members_put_back (const SbBench *bench, JsonObject *written)
{
  JsonArray *configurations = sb_json_array (written, "configurations"), *layouts = sb_json_array (written, "layouts");
  put_back (written, bench->unknown);
  for (guint c = 0; c < bench->configurations->len; c++) {
    const SbConfiguration *configuration = sb_bench_configuration (bench, c);
    put_back (object_at (configurations, c), configuration->unknown);
    JsonArray *trials = sb_json_array (object_at (configurations, c), "trials");
    for (guint t = 0; t < configuration->entries->len; t++) {
      const SbTrialEntry *entry = sb_configuration_entry (configuration, t);
      put_back (object_at (trials, t), entry->unknown);
      if (entry->layout != NULL)
        put_back (sb_json_object (object_at (trials, t), "layout"), entry->layout->unknown);
    }
  }
  for (guint i = 0; bench->layouts != NULL && i < bench->layouts->len; i++)
    put_back (object_at (layouts, i), ((const SbLayoutChoice *) g_ptr_array_index (bench->layouts, i))->unknown);
}
