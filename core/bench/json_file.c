/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "json_file.h"

#include <string.h>

G_DEFINE_QUARK (sb_json_file_error_quark, sb_json_file_error)

/* Lists and objects within one another; a session has six. */
#define DEEPEST     100
#define MOST_VALUES 2000000 /* a session of ten thousand logs has some 60,000; each takes some 80 bytes */

static gboolean
refuse (GError **error, const char *what)
{
  g_set_error_literal (error, SB_JSON_FILE_ERROR, SB_JSON_FILE_ERROR_SYNTAX, what);
  return FALSE;
}

/* The 16 bits of an escape \ud83d at `text`, which ends in a NUL; -1 when there is none. */
static int
escaped_unit (const char *text)
{
  int unit = 0;
  if (text[0] != '\\' || text[1] != 'u')
    return -1;
  for (int i = 2; i < 6; i++) {
    if (!g_ascii_isxdigit (text[i]))
      return -1;
    unit = unit * 16 + g_ascii_xdigit_value (text[i]);
  }
  return unit;
}

/* How much of a string its escape at `text` takes; 0 when JSON has no such escape, or when it is half of a character:
 * the parser makes bytes of them that are no UTF-8. */
static gsize
escape_length (const char *text)
{
  int unit = escaped_unit (text);
  if (unit < 0)
    return text[1] != '\0' && strchr ("\"\\/bfnrt", text[1]) != NULL ? 2 : 0;
  if (unit < 0xd800 || unit > 0xdfff)
    return 6;
  int second = unit < 0xdc00 ? escaped_unit (text + 6) : -1;
  return second >= 0xdc00 && second <= 0xdfff ? 12 : 0;
}

/* The parser calls itself for every list in a list, and a file of nothing but brackets would take all of its stack. So
 * brackets are counted first. What JSON does not have outside of strings is refused here, since the parser passes over
 * some of it (comments), where a quote would lead the count astray; so is a second value, for which it forgets the
 * first. */
static gboolean
is_readable (const char *text, gsize n_bytes, GError **error)
{
  gboolean in_string = FALSE, ended = FALSE;
  guint depth = 0, n_values = 1;
  for (const char *c = text; c < text + n_bytes; c++) {
    if (depth == 0 && !g_ascii_isspace (*c) && (ended || (*c != '[' && *c != '{')))
      return refuse (error, ended ? "something follows after its end" : "this is no JSON");
    if (in_string && *c == '\\') {
      gsize length = escape_length (c);
      if (length == 0)
        return refuse (error, "a text in it has an escape (\\) that is no character");
      c += length - 1;
    } else if (*c == '"')
      in_string = !in_string;
    else if (in_string || g_ascii_isalnum (*c) || g_ascii_isspace (*c))
      continue;
    else if (*c == '[' || *c == '{')
      depth++;
    else if (*c == ']' || *c == '}')
      ended = --depth == 0;
    else if (*c == '\0' || strchr (":,+-.", *c) == NULL)
      return refuse (error, "this is no JSON");
    if (depth > DEEPEST)
      return refuse (error, "its lists and objects are nested too deeply");
    if (*c == ',' && ++n_values > MOST_VALUES)
      return refuse (error, "it holds more values than any file of ours");
  }
  return TRUE;
}

/* Counts the members of the objects that are being read. Of a member that comes twice the parser keeps one, silently.
 */
typedef struct {
  GHashTable *n_members; /* JsonObject -> how many have come */
  char *twice;           /* the first name that came again; NULL: none did */
  guint line;
} Members;

static void
on_member (JsonParser *parser, JsonObject *object, const char *name, gpointer user_data)
{
  Members *members = user_data;
  guint n = GPOINTER_TO_UINT (g_hash_table_lookup (members->n_members, object)) + 1;
  g_hash_table_insert (members->n_members, object, GUINT_TO_POINTER (n));
  if (members->twice == NULL && n > json_object_get_size (object)) {
    members->twice = g_strdup (name);
    members->line = json_parser_get_current_line (parser);
  }
}

static void
on_object_end (JsonParser *parser, JsonObject *object, gpointer user_data)
{
  (void) parser;
  g_hash_table_remove (((Members *) user_data)->n_members, object);
}

static gboolean
load (JsonParser *parser, const char *name, const char *text, gsize n_bytes, GError **cause, GError **error)
{
  g_autoptr (GHashTable) n_members = g_hash_table_new (NULL, NULL);
  Members members = { .n_members = n_members };
  gulong member = g_signal_connect (parser, "object-member", G_CALLBACK (on_member), &members);
  gulong end = g_signal_connect (parser, "object-end", G_CALLBACK (on_object_end), &members);
  gboolean loaded = json_parser_load_from_data (parser, text, (gssize) n_bytes, cause);
  g_signal_handler_disconnect (parser, member);
  g_signal_handler_disconnect (parser, end);
  if (loaded && members.twice != NULL) {
    g_autofree char *shown = g_utf8_make_valid (members.twice, -1);
    g_set_error (error, SB_JSON_FILE_ERROR, SB_JSON_FILE_ERROR_SYNTAX,
                 "%s:%u: the member '%s' is there twice in one object. Take one of them out", name, members.line,
                 shown);
  }
  g_free (members.twice);
  return loaded;
}

gboolean
sb_json_parse_text (JsonParser *parser, const char *name, const char *text, gsize n_bytes, GError **error)
{
  g_autoptr (GError) cause = NULL, twice = NULL;
  if (!is_readable (text, n_bytes, error))
    return FALSE;
  if (load (parser, name, text, n_bytes, &cause, &twice)) {
    gboolean once = twice == NULL;
    if (!once)
      g_propagate_error (error, g_steal_pointer (&twice));
    return once;
  }
  /* The parser knows line and column, but not the file's name: "<data>:3:29: ...". It cuts long texts anywhere. */
  static const char no_name[] = "<data>:";
  gboolean has_place = g_str_has_prefix (cause->message, no_name);
  g_autofree char *message = g_utf8_make_valid (cause->message + (has_place ? strlen (no_name) : 0), -1);
  g_set_error (error, SB_JSON_FILE_ERROR, SB_JSON_FILE_ERROR_SYNTAX, "%s%s%s", has_place ? name : "",
               has_place ? ":" : "", message);
  return FALSE;
}

gboolean
sb_json_parse_file (JsonParser *parser, const char *path, GError **error)
{
  g_autofree char *text = NULL, *name = g_path_get_basename (path);
  gsize n_bytes = 0;
  return g_file_get_contents (path, &text, &n_bytes, error) && sb_json_parse_text (parser, name, text, n_bytes, error);
}
