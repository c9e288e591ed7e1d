/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Reading: each member is looked at, and what is wrong names it and what it may be. */
#include "layout_json.h"

#include "json_members.h"
#include "layout_values.h"
#include "layout_words.h"

#include <math.h>
#include <string.h>

#define MOST_LINES ((gint64) 1 << 40)

static gboolean wrong (GError **error, const char *format, ...) G_GNUC_PRINTF (2, 3);

static gboolean
wrong (GError **error, const char *format, ...)
{
  va_list arguments;
  va_start (arguments, format);
  g_autofree char *what = g_strdup_vprintf (format, arguments);
  va_end (arguments);
  g_set_error_literal (error, SB_LAYOUT_FILE_ERROR, SB_LAYOUT_FILE_ERROR_READ, what);
  return FALSE;
}

static const char *
text_of (JsonNode *node)
{
  gboolean is_text = JSON_NODE_HOLDS_VALUE (node) && json_node_get_value_type (node) == G_TYPE_STRING;
  return is_text ? json_node_get_string (node) : NULL;
}

/* NaN when it is no number. */
static double
number_of (JsonNode *node)
{
  GType type = JSON_NODE_HOLDS_VALUE (node) ? json_node_get_value_type (node) : G_TYPE_INVALID;
  return type == G_TYPE_DOUBLE || type == G_TYPE_INT64 ? json_node_get_double (node) : (double) NAN;
}

/* A layout while its members are read. */
typedef struct {
  SbLayout *layout;
  SbDialectChoices fixed; /* its comment_prefix belongs to the JSON */
  const char *signature;
  SbUnknownMembers unknown;
} Draft;

typedef gboolean (*MemberReader) (Draft *draft, JsonNode *node, const char *name, GError **error);

static gboolean
read_name (Draft *draft, JsonNode *node, const char *name, GError **error)
{
  if (text_of (node) == NULL)
    return wrong (error, "the member '%s' must be a text", name);
  g_free (draft->layout->name);
  draft->layout->name = g_strdup (text_of (node));
  return TRUE;
}

static gboolean
read_signature (Draft *draft, JsonNode *node, const char *name, GError **error)
{
  draft->signature = text_of (node);
  return draft->signature != NULL || wrong (error, "the member '%s' must be a text", name);
}

static gboolean
read_encoding (Draft *draft, JsonNode *node, const char *name, GError **error)
{
  SbEncoding encoding;
  if (text_of (node) == NULL || !sb_encoding_find (text_of (node), &encoding))
    return wrong (error, "the member '%s' must be UTF-8, Latin-1, UTF-16 LE, UTF-16 BE or Windows-1250", name);
  draft->fixed.encoding = (int) encoding;
  return TRUE;
}

static gboolean
read_sign (JsonNode *node, const char *name, SbWordKind kind, char *sign, GError **error)
{
  if (text_of (node) != NULL && sb_sign_find (kind, text_of (node), sign))
    return TRUE;
  g_autofree char *list = sb_sign_list (kind);
  return wrong (error, "the member '%s' must be %s", name, list);
}

static gboolean
read_delimiter (Draft *draft, JsonNode *node, const char *name, GError **error)
{
  return read_sign (node, name, SB_WORD_DELIMITER, &draft->fixed.delimiter, error);
}

static gboolean
read_decimal (Draft *draft, JsonNode *node, const char *name, GError **error)
{
  return read_sign (node, name, SB_WORD_DECIMAL, &draft->fixed.decimal, error);
}

static gboolean
read_thousands (Draft *draft, JsonNode *node, const char *name, GError **error)
{
  char sign = 0;
  if (!read_sign (node, name, SB_WORD_THOUSANDS, &sign, error))
    return FALSE;
  draft->fixed.thousands = (unsigned char) sign;
  return TRUE;
}

static gboolean
read_quote (Draft *draft, JsonNode *node, const char *name, GError **error)
{
  char sign = 0;
  if (!read_sign (node, name, SB_WORD_QUOTE, &sign, error))
    return FALSE;
  draft->fixed.quote = (unsigned char) sign;
  return TRUE;
}

static gboolean
read_comment_prefix (Draft *draft, JsonNode *node, const char *name, GError **error)
{
  draft->fixed.comment_prefix = text_of (node);
  return draft->fixed.comment_prefix != NULL
         || wrong (error, "the member '%s' must be a text, \"\" when no line is a comment", name);
}

static gboolean
read_whole (JsonNode *node, const char *name, gint64 least, gint64 most, gint64 *whole, GError **error)
{
  gboolean is_whole = JSON_NODE_HOLDS_VALUE (node) && json_node_get_value_type (node) == G_TYPE_INT64;
  *whole = is_whole ? json_node_get_int (node) : least - 1;
  if (*whole >= least && *whole <= most)
    return TRUE;
  return wrong (error, "the member '%s' must be a whole number from %" G_GINT64_FORMAT " on", name, least);
}

static gboolean
read_header_line (Draft *draft, JsonNode *node, const char *name, GError **error)
{
  return read_whole (node, name, 0, MOST_LINES, &draft->fixed.header_line, error);
}

static gboolean
read_units_line (Draft *draft, JsonNode *node, const char *name, GError **error)
{
  return read_whole (node, name, 0, MOST_LINES, &draft->fixed.units_line, error);
}

static gboolean
read_table (Draft *draft, JsonNode *node, const char *name, GError **error)
{
  gint64 table = 0;
  if (!read_whole (node, name, 1, G_MAXINT, &table, error))
    return FALSE;
  draft->fixed.table = (int) table - 1;
  return TRUE;
}

static gboolean
read_value (JsonNode *node, SbLayoutValue value, SbRole role, double *place, GError **error)
{
  double number = number_of (node);
  g_autofree char *range = sb_layout_value_range (value);
  if (!sb_layout_value_takes (value, role, number))
    return wrong (error, "the member '%s' must be %s", sb_layout_value_name (value), range);
  *place = number;
  return TRUE;
}

static gboolean
read_sample_rate (Draft *draft, JsonNode *node, const char *name, GError **error)
{
  return read_value (node, SB_LAYOUT_SAMPLE_RATE, SB_ROLE_TIME, &draft->layout->sample_rate_hz, error);
}

static gboolean read_columns (Draft *draft, JsonNode *node, const char *name, GError **error);

/* Its value is looked at where a file is read. */
static gboolean
pass_over_format (Draft *draft, JsonNode *node, const char *name, GError **error)
{
  return TRUE;
}

static const struct {
  const char *name;
  MemberReader read;
} members[] = {
  { "slewbench_layouts", pass_over_format }, { "name", read_name },
  { "signature", read_signature },           { "encoding", read_encoding },
  { "delimiter", read_delimiter },           { "decimal", read_decimal },
  { "thousands", read_thousands },           { "quote", read_quote },
  { "comment_prefix", read_comment_prefix }, { "header_line", read_header_line },
  { "units_line", read_units_line },         { "table", read_table },
  { "sample_rate_hz", read_sample_rate },    { "columns", read_columns },
};

static gboolean
read_role (SbLayoutColumn *column, JsonObject *object, GError **error)
{
  JsonNode *role = json_object_get_member (object, "role");
  if (role != NULL && text_of (role) != NULL && sb_role_find (text_of (role), &column->role))
    return TRUE;
  GString *list = g_string_new (NULL);
  for (int r = 0; r < SB_N_ROLES; r++)
    g_string_append_printf (list, "%s%s", r == 0 ? "" : (r + 1 < SB_N_ROLES ? ", " : " or "), sb_role_key ((SbRole) r));
  wrong (error, "the member 'role' is needed and must be %s", list->str);
  g_string_free (list, TRUE);
  return FALSE;
}

static gboolean
read_unit (SbLayoutColumn *column, JsonNode *node, GError **error)
{
  const char *text = text_of (node);
  column->unit = text != NULL ? sb_unit_find (text) : NULL;
  if (column->unit != NULL && (column->role == SB_ROLE_OTHER || sb_unit_suits_role (column->unit, column->role)))
    return TRUE;
  if (column->role == SB_ROLE_OTHER)
    return wrong (error, "the member 'unit' is no unit that is known");
  g_autofree char *list = sb_role_unit_list (column->role);
  return wrong (error, "the member 'unit' of a column for the %s must be %s", sb_role_key (column->role), list);
}

static gboolean
read_column_member (SbLayoutColumn *column, JsonNode *node, const char *name, SbUnknownMembers unknown, GError **error)
{
  static const char *const read_elsewhere[] = { "name", "role", "question", NULL };
  if (g_strv_contains (read_elsewhere, name) || JSON_NODE_HOLDS_NULL (node))
    return TRUE;
  if (strcmp (name, "unit") == 0)
    return read_unit (column, node, error);
  for (SbLayoutValue value = 0; value < SB_N_COLUMN_VALUES; value++)
    if (sb_layout_value_is_named (value, name))
      return read_value (node, value, column->role, sb_layout_value_place (column, value), error);
  return unknown == SB_UNKNOWN_MEMBERS_PASSED
         || wrong (error, "there is no member '%s' of a column; take it out or mend its name", name);
}

static gboolean
read_column (SbLayout *layout, JsonNode *node, SbUnknownMembers unknown, GError **error)
{
  JsonObject *object = JSON_NODE_HOLDS_OBJECT (node) ? json_node_get_object (node) : NULL;
  if (object == NULL)
    return wrong (error, "it is no object with 'name' and 'role'");
  JsonNode *name = json_object_get_member (object, "name");
  if (name != NULL && text_of (name) == NULL)
    return wrong (error, "the member 'name' must be a text");
  SbLayoutColumn *column = sb_layout_add_column (layout, name != NULL ? text_of (name) : "");
  column->certainty = SB_CERTAINTY_CONFIRMED;
  if (!read_role (column, object, error))
    return FALSE;
  JsonObjectIter iter;
  const char *member = NULL;
  JsonNode *value = NULL;
  json_object_iter_init_ordered (&iter, object);
  while (json_object_iter_next_ordered (&iter, &member, &value))
    if (!read_column_member (column, value, member, unknown, error))
      return FALSE;
  return TRUE;
}

static gboolean
read_columns (Draft *draft, JsonNode *node, const char *name, GError **error)
{
  if (!JSON_NODE_HOLDS_ARRAY (node))
    return wrong (error, "the member '%s' must be a list", name);
  JsonArray *columns = json_node_get_array (node);
  for (guint i = 0; i < json_array_get_length (columns); i++) {
    JsonNode *column = json_array_get_element (columns, i);
    if (read_column (draft->layout, column, draft->unknown, error))
      continue;
    JsonNode *named
        = JSON_NODE_HOLDS_OBJECT (column) ? sb_json_value (json_node_get_object (column), "name", G_TYPE_STRING) : NULL;
    if (named != NULL)
      g_prefix_error (error, "column '%s': ", json_node_get_string (named));
    else
      g_prefix_error (error, "column %u of the list: ", i + 1);
    return FALSE;
  }
  return TRUE;
}

static gboolean
read_member (Draft *draft, JsonNode *node, const char *name, GError **error)
{
  for (gsize i = 0; i < G_N_ELEMENTS (members); i++)
    if (strcmp (name, members[i].name) == 0)
      return JSON_NODE_HOLDS_NULL (node) || members[i].read (draft, node, name, error);
  return draft->unknown == SB_UNKNOWN_MEMBERS_PASSED
         || wrong (error, "there is no member '%s' of a layout; take it out or mend its name", name);
}

static gboolean
check_signature (const Draft *draft, GError **error)
{
  g_autofree char *signature = sb_layout_signature (draft->layout);
  if (draft->signature == NULL || strcmp (signature, draft->signature) == 0)
    return TRUE;
  return wrong (error,
                "the member 'signature' is not that of these columns: a name was changed or a column is missing. "
                "Take the signature out, and the layout is for every log that has the columns it names");
}

static SbLayoutChoice *
read_layout (JsonObject *object, SbLayout *layout, SbUnknownMembers unknown, GError **error)
{
  Draft draft = { .layout = layout, .fixed = SB_DIALECT_AUTOMATIC, .unknown = unknown };
  JsonObjectIter iter;
  const char *name = NULL;
  JsonNode *value = NULL;
  json_object_iter_init_ordered (&iter, object);
  while (json_object_iter_next_ordered (&iter, &name, &value))
    if (!read_member (&draft, value, name, error))
      return NULL;
  if (!check_signature (&draft, error))
    return NULL;
  SbLayoutChoice *choice = sb_layout_choice_new (sb_layout_ref (layout), &draft.fixed, draft.signature != NULL);
  if (layout->columns->len > 0 || !isnan (layout->sample_rate_hz) || sb_layout_choice_fixes_dialect (choice))
    return choice;
  wrong (error, "it states nothing: name its delimiter, its columns or what else is known");
  sb_layout_choice_unref (choice);
  return NULL;
}

SbLayoutChoice *
sb_layout_choice_parse (JsonNode *node, SbUnknownMembers unknown, GError **error)
{
  if (!JSON_NODE_HOLDS_OBJECT (node)) {
    wrong (error, "a layout must be an object");
    return NULL;
  }
  g_autoptr (SbLayout) layout = sb_layout_new ();
  return read_layout (json_node_get_object (node), layout, unknown, error);
}

GPtrArray *
sb_layout_choices_parse (JsonNode *node, SbUnknownMembers unknown, GError **error)
{
  if (!JSON_NODE_HOLDS_ARRAY (node)) {
    wrong (error, "the layouts must be a list");
    return NULL;
  }
  g_autoptr (GPtrArray) choices = sb_layout_choices_new ();
  JsonArray *array = json_node_get_array (node);
  for (guint i = 0; i < json_array_get_length (array); i++) {
    SbLayoutChoice *choice = sb_layout_choice_parse (json_array_get_element (array, i), unknown, error);
    if (choice == NULL) {
      g_prefix_error (error, "layout %u of the list: ", i + 1);
      return NULL;
    }
    g_ptr_array_add (choices, choice);
  }
  return g_steal_pointer (&choices);
}
