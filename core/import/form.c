/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "form.h"

#include "number.h"

#include <string.h>

/* Names come again and again, remarks do not. */
#define LEAST_REPEATS 3
#define NAMES_SHOWN   3
/* A line of such cells shows at its beginning. */
#define LONGEST_LOOKED_AT 2000

/* Nearly all cells are words, of which there are a few that repeat. */
static gboolean
holds_names (const SbShape *shape)
{
  return shape->n_words >= 2 * LEAST_REPEATS && 10 * shape->n_words >= 9 * shape->n_rows && shape->words->len >= 2
         && shape->words->len < SB_SHAPE_MOST_WORDS && shape->n_words >= LEAST_REPEATS * shape->words->len;
}

static gboolean
is_read (const SbLayoutColumn *column)
{
  return column->role != SB_ROLE_TIME && sb_role_channel (column->role) >= 0;
}

/* "'torque_Nm', 'speed_rpm'" */
static char *
list_words (const GPtrArray *words)
{
  GString *list = g_string_new (NULL);
  for (guint i = 0; i < MIN (words->len, NAMES_SHOWN); i++)
    g_string_append_printf (list, "%s'%s'", i > 0 ? ", " : "", (const char *) words->pdata[i]);
  if (words->len > NAMES_SHOWN)
    g_string_append (list, " …");
  return g_string_free (list, FALSE);
}

/* Time, name, value: the first column of names, and the first of numbers behind it. */
static gboolean
ask_about_signal_a_row (SbLayout *layout, const SbShape *shapes)
{
  int names = -1, values = -1;
  for (guint i = 0; i < layout->columns->len; i++) {
    if (is_read (sb_layout_column (layout, i)))
      return FALSE;
    if (names < 0 && holds_names (&shapes[i]))
      names = (int) i;
    else if (names >= 0 && values < 0 && sb_shape_is_numeric (&shapes[i]))
      values = (int) i;
  }
  if (names < 0 || values < 0)
    return FALSE;
  g_autofree char *list = list_words (shapes[names].words);
  sb_layout_column_set_aside (
      sb_layout_column (layout, (guint) values), SB_CERTAINTY_MISSING,
      g_strdup_printf ("each row holds one signal, which the column '%s' names (%s): export the log, or turn it in a "
                       "spreadsheet, so that each signal has a column of its own and each row is one time",
                       sb_layout_column (layout, (guint) names)->name, list));
  return TRUE;
}

/* "t=0.1": a word, a sign and a number. */
static gboolean
says_its_name (const char *cell)
{
  double value;
  const char *sign = strpbrk (cell, "=:");
  if (sign == NULL || sign == cell || !g_ascii_isalpha (*cell))
    return FALSE;
  g_autofree char *number = g_strstrip (g_strdup (sign + 1));
  return sb_number_read (number, strlen (number), '.', 0, &value)
         || sb_number_read (number, strlen (number), ',', 0, &value);
}

/* Its first row is taken for the header. A header may number its channels, too ("AI:0"), over cells of numbers. */
static void
ask_about_names_in_cells (SbLayout *layout, const SbShape *shapes)
{
  guint n = layout->columns->len, n_named = 0;
  for (guint i = 0; i < n; i++)
    n_named += says_its_name (sb_layout_column (layout, i)->name) && !sb_shape_is_numeric (&shapes[i]) ? 1 : 0;
  if (n_named < 2 || 2 * n_named < n)
    return;
  for (guint i = 0; i < n; i++)
    sb_layout_column_set_aside (sb_layout_column (layout, i), i == 0 ? SB_CERTAINTY_MISSING : SB_CERTAINTY_STATED,
                                i == 0 ? g_strdup (SB_FORM_NAMES_IN_CELLS) : NULL);
}

gboolean
sb_form_says_names (const char *line, gsize length)
{
  g_autofree char *text = g_strndup (line, MIN (length, LONGEST_LOOKED_AT));
  g_auto (GStrv) cells = g_strsplit_set (text, " \t,;|", -1);
  guint n_named = 0, n_others = 0;
  for (guint i = 0; cells[i] != NULL; i++) {
    gboolean named = says_its_name (cells[i]);
    n_named += named ? 1 : 0;
    n_others += !named && *cells[i] != '\0' ? 1 : 0;
  }
  return n_named >= 2 && n_named >= n_others;
}

void
sb_form_ask (SbLayout *layout, const SbShape *shapes)
{
  if (!ask_about_signal_a_row (layout, shapes))
    ask_about_names_in_cells (layout, shapes);
}
