/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "header_join.h"

#include "dialect.h"

#include <string.h>

/* What a line of names says. */
typedef struct {
  GPtrArray *names;  /* char *, trimmed */
  guint n_words;     /* names that are not empty */
  guint roles;       /* how many roles they state */
  guint n_namesakes; /* names that stand there already */
} Names;

static void
names_clear (Names *names)
{
  g_clear_pointer (&names->names, g_ptr_array_unref);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Names, names_clear)

/* "-7," is a number that is written wrongly. */
static gboolean
begins_like_number (const char *text)
{
  return g_ascii_isdigit (text[strspn (text, "+-.,")]);
}

/* FALSE when the line holds anything but names. */
static gboolean
read_names (Names *names, SbCells *cells, const char *text, gsize length, char delimiter)
{
  g_autoptr (GHashTable) seen = g_hash_table_new (g_str_hash, g_str_equal);
  SbLineShape shape = sb_dialect_shape (cells, text, length, delimiter);
  names->names = g_ptr_array_new_with_free_func (g_free);
  if (!sb_dialect_is_names_row (cells, &shape) || sb_dialect_is_units_row (cells))
    return FALSE;
  names->n_words = shape.n_words;
  names->roles = (guint) __builtin_popcount (sb_dialect_roles (cells));
  for (guint i = 0; i < sb_cells_count (cells); i++) {
    char *name = g_strstrip (g_strdup (sb_cells_get (cells, i, NULL)));
    g_ptr_array_add (names->names, name);
    if (begins_like_number (name))
      return FALSE;
    if (*name != '\0' && !g_hash_table_add (seen, name))
      names->n_namesakes++;
  }
  return TRUE;
}

static const char *
name_at (const Names *names, guint index)
{
  return index < names->names->len ? g_ptr_array_index (names->names, index) : "";
}

/* "Torque" and "command" -> "Torque command"; "Dreh-" and "moment" -> "Drehmoment". (transfer full) */
static char *
join_name (const char *upper, const char *lower)
{
  gsize n = strlen (upper);
  if (n > 1 && upper[n - 1] == '-' && g_ascii_islower (*lower))
    return g_strdup_printf ("%.*s%s", (int) n - 1, upper, lower);
  return g_strdup_printf ("%s%s%s", upper, *upper != '\0' && *lower != '\0' ? " " : "", lower);
}

static void
append_quoted (GString *text, const char *name, char quote)
{
  if (quote == '\0') {
    g_string_append (text, name);
    return;
  }
  g_string_append_c (text, quote);
  for (const char *p = name; *p != '\0'; p++) {
    if (*p == quote)
      g_string_append_c (text, quote);
    g_string_append_c (text, *p);
  }
  g_string_append_c (text, quote);
}

static char *
join_line (const Names *upper, const Names *lower, char delimiter, char quote, SbHeaderForm form)
{
  GString *text = g_string_new (NULL);
  const char *group = "";
  for (guint i = 0; i < MAX (upper->names->len, lower->names->len); i++) {
    const char *above = name_at (upper, i), *below = name_at (lower, i);
    if (*above != '\0')
      group = above;
    g_autofree char *name = join_name (form == SB_HEADER_GROUPS && *below != '\0' ? group : above, below);
    if (i > 0)
      g_string_append_c (text, delimiter);
    append_quoted (text, name, quote);
  }
  return g_string_free (text, FALSE);
}

/* More quantities are named than before, or names that stood there twice are told apart by groups over all columns. */
static gboolean
says_more (const Names *joined, const Names *upper, const Names *lower)
{
  if (joined->roles < 2 || joined->roles < upper->roles)
    return FALSE;
  gboolean apart = joined->n_namesakes < lower->n_namesakes && upper->n_words + 1 >= joined->names->len;
  return joined->roles > lower->roles || (joined->roles == lower->roles && apart);
}

char *
sb_header_join (SbCells *cells, const SbLine *upper, const SbLine *lower, char delimiter, char quote, SbHeaderForm form)
{
  g_auto (Names) above = { 0 }, below = { 0 }, joined = { 0 };
  if (!read_names (&above, cells, upper->text, upper->length, delimiter)
      || !read_names (&below, cells, lower->text, lower->length, delimiter))
    return NULL;
  g_autofree char *text = join_line (&above, &below, delimiter, quote, form);
  if (!read_names (&joined, cells, text, strlen (text), delimiter) || !says_more (&joined, &above, &below))
    return NULL;
  return g_steal_pointer (&text);
}
