/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "json_file.h"

#include <string.h>

G_DEFINE_QUARK (sb_json_file_error_quark, sb_json_file_error)

/* Lists and objects within one another; a session has six. */
#define DEEPEST 100

static gboolean
refuse (GError **error, const char *what)
{
  g_set_error_literal (error, SB_JSON_FILE_ERROR, SB_JSON_FILE_ERROR_SYNTAX, what);
  return FALSE;
}

/* The parser calls itself for every list in a list, and a file of nothing but brackets would take all of its stack. So
 * brackets are counted first. What JSON does not have outside of strings is refused here, since the parser passes over
 * some of it (comments), where a quote would lead the count astray. */
static gboolean
is_shallow (const char *text, gsize n_bytes, GError **error)
{
  gboolean in_string = FALSE;
  guint depth = 0;
  for (const char *c = text; c < text + n_bytes; c++) {
    if (*c == '"')
      in_string = !in_string;
    else if (in_string && *c == '\\')
      c++;
    else if (in_string || g_ascii_isalnum (*c) || g_ascii_isspace (*c))
      continue;
    else if (*c == '[' || *c == '{')
      depth++;
    else if (*c == ']' || *c == '}')
      depth = depth > 0 ? depth - 1 : 0;
    else if (*c == '\0' || strchr (":,+-.", *c) == NULL)
      return refuse (error, "this is no JSON");
    if (depth > DEEPEST)
      return refuse (error, "its lists and objects are nested too deeply");
  }
  return TRUE;
}

gboolean
sb_json_parse_file (JsonParser *parser, const char *path, GError **error)
{
  g_autofree char *text = NULL;
  g_autoptr (GError) cause = NULL;
  gsize n_bytes = 0;
  if (!g_file_get_contents (path, &text, &n_bytes, error) || !is_shallow (text, n_bytes, error))
    return FALSE;
  if (json_parser_load_from_data (parser, text, (gssize) n_bytes, &cause))
    return TRUE;
  /* The parser knows line and column, but not the file's name: "<data>:3:29: ...". */
  static const char no_name[] = "<data>:";
  gboolean has_place = g_str_has_prefix (cause->message, no_name);
  g_autofree char *name = g_path_get_basename (path);
  g_set_error (error, SB_JSON_FILE_ERROR, SB_JSON_FILE_ERROR_SYNTAX, "%s%s%s", has_place ? name : "",
               has_place ? ":" : "", cause->message + (has_place ? strlen (no_name) : 0));
  return FALSE;
}
