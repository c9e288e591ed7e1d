/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "layout_file.h"

#include "durable_file.h"
#include "json_file.h"
#include "json_members.h"

#include <string.h>

/* Raised when a reader of the older format could no longer read the file. */
#define FORMAT 1

char *
sb_layout_file_text (const GPtrArray *choices)
{
  g_autoptr (JsonBuilder) builder = json_builder_new ();
  json_builder_begin_object (builder);
  sb_json_add_integer (builder, "slewbench_layouts", FORMAT);
  json_builder_set_member_name (builder, "layouts");
  sb_layout_choices_build (builder, choices);
  json_builder_end_object (builder);
  return sb_json_text (builder);
}

gboolean
sb_layout_file_write (const char *path, const GPtrArray *choices, GError **error)
{
  g_autofree char *text = sb_layout_file_text (choices);
  g_autoptr (GError) cause = NULL;
  if (sb_durable_file_write (path, text, strlen (text), &cause))
    return TRUE;
  g_set_error (error, SB_LAYOUT_FILE_ERROR, SB_LAYOUT_FILE_ERROR_WRITE,
               "The layouts were not written: %s. What was in that place before is still there.", cause->message);
  return FALSE;
}

static gboolean
check_format (JsonObject *object, GError **error)
{
  if (!json_object_has_member (object, "slewbench_layouts"))
    return TRUE;
  JsonNode *format = sb_json_value (object, "slewbench_layouts", G_TYPE_INT64);
  if (format != NULL && json_node_get_int (format) <= FORMAT)
    return TRUE;
  g_set_error (error, SB_LAYOUT_FILE_ERROR, SB_LAYOUT_FILE_ERROR_VERSION,
               "this layout file is of a later format; this version reads up to %d. Use a later version", FORMAT);
  return FALSE;
}

/* The list of a file that has nothing beside it. */
static GPtrArray *
parse_list (JsonObject *object, GError **error)
{
  JsonObjectIter iter;
  const char *name = NULL;
  json_object_iter_init_ordered (&iter, object);
  while (json_object_iter_next_ordered (&iter, &name, NULL)) {
    static const char *const known[] = { "slewbench_layouts", "layouts", NULL };
    if (g_strv_contains (known, name))
      continue;
    g_set_error (error, SB_LAYOUT_FILE_ERROR, SB_LAYOUT_FILE_ERROR_READ,
                 "there is no member '%s' beside a list of layouts; take it out or mend its name", name);
    return NULL;
  }
  return sb_layout_choices_parse (json_object_get_member (object, "layouts"), SB_UNKNOWN_MEMBERS_REFUSED, error);
}

static GPtrArray *
parse_one (JsonNode *root, GError **error)
{
  SbLayoutChoice *choice = sb_layout_choice_parse (root, SB_UNKNOWN_MEMBERS_REFUSED, error);
  if (choice == NULL)
    return NULL;
  GPtrArray *choices = sb_layout_choices_new ();
  g_ptr_array_add (choices, choice);
  return choices;
}

static GPtrArray *
parse_root (JsonNode *root, GError **error)
{
  JsonObject *object = root != NULL && JSON_NODE_HOLDS_OBJECT (root) ? json_node_get_object (root) : NULL;
  if (object == NULL) {
    g_set_error_literal (error, SB_LAYOUT_FILE_ERROR, SB_LAYOUT_FILE_ERROR_READ,
                         "this is no layout: it must be a JSON object");
    return NULL;
  }
  if (!check_format (object, error))
    return NULL;
  return json_object_has_member (object, "layouts") ? parse_list (object, error) : parse_one (root, error);
}

GPtrArray *
sb_layout_file_read (const char *path, GError **error)
{
  g_autoptr (JsonParser) parser = json_parser_new_immutable ();
  g_autoptr (GError) cause = NULL;
  GPtrArray *choices = NULL;
  if (sb_json_parse_file (parser, path, &cause))
    choices = parse_root (json_parser_get_root (parser), &cause);
  if (choices != NULL)
    return choices;
  g_autofree char *name = g_filename_display_name (path);
  int code = g_error_matches (cause, SB_LAYOUT_FILE_ERROR, SB_LAYOUT_FILE_ERROR_VERSION) ? SB_LAYOUT_FILE_ERROR_VERSION
                                                                                         : SB_LAYOUT_FILE_ERROR_READ;
  g_set_error (error, SB_LAYOUT_FILE_ERROR, code, "%s: %s.", name, cause->message);
  return NULL;
}

SbLayoutChoice *
sb_layout_file_draft (const SbLayout *found)
{
  SbDialectChoices fixed = SB_DIALECT_AUTOMATIC;
  fixed.encoding = (int) found->encoding;
  fixed.delimiter = found->delimiter;
  fixed.decimal = found->decimal;
  /* None among the lines that were looked at is no statement about those far behind. */
  if (found->thousands != '\0' || found->is_thousands_stated)
    fixed.thousands = (unsigned char) found->thousands;
  fixed.quote = (unsigned char) found->quote;
  fixed.comment_prefix = found->comment_prefix;
  if (found->n_tables > 1)
    fixed.table = (int) found->table;
  g_autoptr (SbLayoutChoice) stated = sb_layout_choice_of_shape (found, &fixed);
  SbLayout *layout = sb_layout_copy (stated->layout);
  for (guint i = 0; i < layout->columns->len; i++) {
    const SbLayoutColumn *as_found = sb_layout_column (found, i);
    sb_layout_column (layout, i)->question = g_strdup (as_found->question);
    sb_layout_column (layout, i)->certainty = as_found->certainty;
  }
  return sb_layout_choice_new (layout, &fixed, TRUE);
}
