/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "json_members.h"

#include "session.h"

#include <math.h>
#include <string.h>

JsonNode *
sb_json_value (JsonObject *object, const char *name, GType type)
{
  JsonNode *node = json_object_get_member (object, name);
  if (node == NULL || !JSON_NODE_HOLDS_VALUE (node))
    return NULL;
  GType held = json_node_get_value_type (node);
  return held == type || (type == G_TYPE_DOUBLE && held == G_TYPE_INT64) ? node : NULL;
}

JsonArray *
sb_json_array (JsonObject *object, const char *name)
{
  JsonNode *node = json_object_get_member (object, name);
  return node != NULL && JSON_NODE_HOLDS_ARRAY (node) ? json_node_get_array (node) : NULL;
}

JsonObject *
sb_json_object (JsonObject *object, const char *name)
{
  JsonNode *node = json_object_get_member (object, name);
  return node != NULL && JSON_NODE_HOLDS_OBJECT (node) ? json_node_get_object (node) : NULL;
}

double
sb_json_number_or_nan (JsonObject *object, const char *name)
{
  JsonNode *node = sb_json_value (object, name, G_TYPE_DOUBLE);
  return node != NULL ? json_node_get_double (node) : (double) NAN;
}

gboolean
sb_json_boolean_or (JsonObject *object, const char *name, gboolean otherwise)
{
  JsonNode *node = sb_json_value (object, name, G_TYPE_BOOLEAN);
  return node != NULL ? json_node_get_boolean (node) : otherwise;
}

gboolean
sb_json_check_booleans (JsonObject *object, const char *const *names, gsize n, GError **error)
{
  for (gsize i = 0; i < n; i++) {
    if (!json_object_has_member (object, names[i]) || sb_json_value (object, names[i], G_TYPE_BOOLEAN) != NULL)
      continue;
    g_set_error (error, SB_SESSION_ERROR, SB_SESSION_ERROR_READ, "'%s' must be true or false", names[i]);
    return FALSE;
  }
  return TRUE;
}

void
sb_json_add_string (JsonBuilder *builder, const char *name, const char *value)
{
  g_autofree char *readable = g_utf8_make_valid (value, -1); /* file names need not be UTF-8, JSON has to be */
  json_builder_set_member_name (builder, name);
  json_builder_add_string_value (builder, readable);
}

void
sb_json_add_boolean (JsonBuilder *builder, const char *name, gboolean value)
{
  json_builder_set_member_name (builder, name);
  json_builder_add_boolean_value (builder, value);
}

void
sb_json_add_integer (JsonBuilder *builder, const char *name, gint64 value)
{
  json_builder_set_member_name (builder, name);
  json_builder_add_int_value (builder, value);
}

/* The generator writes 1e+22.0, which is no JSON, of a number that its 17 digits need no point for: the number next to
 * it has one. */
static double
writable (double value)
{
  char digits[G_ASCII_DTOSTR_BUF_SIZE];
  g_ascii_dtostr (digits, sizeof digits, value);
  return strchr (digits, 'e') != NULL && strchr (digits, '.') == NULL ? nextafter (value, 0) : value;
}

void
sb_json_add_element (JsonBuilder *builder, double value)
{
  if (isfinite (value))
    json_builder_add_double_value (builder, writable (value));
  else
    json_builder_add_null_value (builder);
}

void
sb_json_add_number (JsonBuilder *builder, const char *name, double value)
{
  json_builder_set_member_name (builder, name);
  sb_json_add_element (builder, value);
}

void
sb_json_begin (JsonBuilder *builder, const char *name)
{
  json_builder_set_member_name (builder, name);
  json_builder_begin_object (builder);
}

void
sb_json_begin_list (JsonBuilder *builder, const char *name)
{
  json_builder_set_member_name (builder, name);
  json_builder_begin_array (builder);
}

void
sb_json_add_pair (JsonBuilder *builder, const char *name, const double pair[2])
{
  sb_json_begin_list (builder, name);
  json_builder_add_double_value (builder, writable (pair[0]));
  json_builder_add_double_value (builder, writable (pair[1]));
  json_builder_end_array (builder);
}

char *
sb_json_text (JsonBuilder *builder)
{
  g_autoptr (JsonNode) root = json_builder_get_root (builder);
  return sb_json_node_text (root);
}

char *
sb_json_node_text (JsonNode *root)
{
  g_autoptr (JsonGenerator) generator = json_generator_new ();
  json_generator_set_root (generator, root);
  json_generator_set_pretty (generator, TRUE);
  json_generator_set_indent (generator, 2);
  g_autofree char *text = json_generator_to_data (generator, NULL);
  return g_strconcat (text, "\n", NULL);
}
