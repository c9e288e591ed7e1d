/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "table_choices_json.h"

#include "json_members.h"
#include "session.h"

typedef const char *(*KeyOf) (int value);

static const char *
row_key (int order)
{
  return sb_row_order_key ((SbRowOrder) order);
}

static const char *
column_key (int order)
{
  return sb_column_order_key ((SbColumnOrder) order);
}

void
sb_table_choices_build (JsonBuilder *builder, const SbTableChoices *table)
{
  sb_json_begin_list (builder, "hidden");
  for (int m = 0; m < SB_N_MEASURES; m++)
    if (table->hidden & 1u << m)
      json_builder_add_string_value (builder, sb_measure_info ((SbMeasureId) m)->key);
  json_builder_end_array (builder);
  sb_json_add_string (builder, "rows", sb_row_order_key (table->rows));
  sb_json_add_string (builder, "columns", sb_column_order_key (table->columns));
  sb_json_add_string (builder, "columns_by", sb_measure_info (table->columns_by)->key);
}

static gboolean
wrong (GError **error, const char *name, const char *what)
{
  g_set_error (error, SB_SESSION_ERROR, SB_SESSION_ERROR_READ, "the choice '%s' of the table must be %s", name, what);
  return FALSE;
}

/* Measures of a later version are passed over. A table without a row would be no table. */
static guint
read_hidden (JsonObject *object, guint otherwise)
{
  JsonArray *array = sb_json_array (object, "hidden");
  if (array == NULL)
    return otherwise;
  guint hidden = 0;
  for (guint i = 0; i < json_array_get_length (array); i++) {
    JsonNode *element = json_array_get_element (array, i);
    const char *key = JSON_NODE_HOLDS_VALUE (element) ? json_node_get_string (element) : NULL;
    SbMeasureId id;
    if (key != NULL && sb_measure_id_from_key (key, &id))
      hidden |= 1u << id;
  }
  return hidden == (1u << SB_N_MEASURES) - 1 ? 0 : hidden;
}

/* The value whose key the member is; `otherwise` when it is missing, -1 when it is no such key. */
static int
read_key (JsonObject *object, const char *name, KeyOf key_of, int n, int otherwise)
{
  if (!json_object_has_member (object, name))
    return otherwise;
  JsonNode *node = sb_json_value (object, name, G_TYPE_STRING);
  for (int value = 0; node != NULL && value < n; value++)
    if (g_str_equal (json_node_get_string (node), key_of (value)))
      return value;
  return -1;
}

gboolean
sb_table_choices_read (JsonObject *object, SbTableChoices *table, GError **error)
{
  int rows = read_key (object, "rows", row_key, SB_N_ROW_ORDERS, (int) table->rows);
  int columns = read_key (object, "columns", column_key, SB_N_COLUMN_ORDERS, (int) table->columns);
  if (rows < 0)
    return wrong (error, "rows", "one of as defined, by name, by p, by effect");
  if (columns < 0)
    return wrong (error, "columns", "one of as listed, rising, falling");
  table->rows = (SbRowOrder) rows;
  table->columns = (SbColumnOrder) columns;
  table->hidden = read_hidden (object, table->hidden);
  JsonNode *by = sb_json_value (object, "columns_by", G_TYPE_STRING);
  if (by != NULL)
    sb_measure_id_from_key (json_node_get_string (by), &table->columns_by);
  return TRUE;
}
