/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Members of JSON objects, read with their type checked and written in one line. */
#pragma once

#include <json-glib/json-glib.h>

/* The member when it is there and of this kind (G_TYPE_DOUBLE takes whole numbers too); NULL else. Borrowed. */
JsonNode *sb_json_value (JsonObject *object, const char *name, GType type);
JsonArray *sb_json_array (JsonObject *object, const char *name);
JsonObject *sb_json_object (JsonObject *object, const char *name);

double sb_json_number_or_nan (JsonObject *object, const char *name);
/* FALSE with SB_SESSION_ERROR_READ when one of the n members is there and neither true nor false. */
gboolean sb_json_check_booleans (JsonObject *object, const char *const *names, gsize n, GError **error);
gboolean sb_json_boolean_or (JsonObject *object, const char *name, gboolean otherwise);

void sb_json_add_string (JsonBuilder *builder, const char *name, const char *value);
void sb_json_add_boolean (JsonBuilder *builder, const char *name, gboolean value);
void sb_json_add_integer (JsonBuilder *builder, const char *name, gint64 value);
void sb_json_add_number (JsonBuilder *builder, const char *name, double value); /* null when not finite */
void sb_json_add_element (JsonBuilder *builder, double value);                  /* the same, of a list */

void sb_json_begin (JsonBuilder *builder, const char *name);      /* an object, to be ended */
void sb_json_begin_list (JsonBuilder *builder, const char *name); /* a list, to be ended */
void sb_json_add_pair (JsonBuilder *builder, const char *name, const double pair[2]);

/* Deterministic text of what was built, with a line end. (transfer full) */
char *sb_json_text (JsonBuilder *builder);
char *sb_json_node_text (JsonNode *root);
