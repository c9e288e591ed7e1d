/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "alike_sentences.h"

#include <string.h>

#define MINUS "\u2212"

/* Before a bound, of which the largest holds for all. */
#define MOST "up to "

/* A figure of a sentence: its place, in bytes. */
typedef struct {
  gsize from, to;
} Figure;

static gboolean
ends_with (const char *text, gsize n, const char *end)
{
  gsize length = strlen (end);
  return n >= length && memcmp (text + n - length, end, length) == 0;
}

/* "0.19", "1.4e+03": the bytes of the number that begins here. */
static gsize
number_length (const char *text)
{
  gsize n = strspn (text, "0123456789");
  if (text[n] == '.' && g_ascii_isdigit (text[n + 1]))
    n += 1 + strspn (text + n + 1, "0123456789");
  if (text[n] == 'e' && (text[n + 1] == '+' || text[n + 1] == '-') && g_ascii_isdigit (text[n + 2]))
    n += 2 + strspn (text + n + 2, "0123456789");
  return n;
}

/* Whether the number is one of its own, and neither signed nor the end of a stretch. */
static gboolean
is_figure (const char *sentence, gsize from, gsize to)
{
  const char before = from > 0 ? sentence[from - 1] : ' ', after = sentence[to];
  gboolean in_name = g_ascii_isalnum (before) || strchr ("-._/#", before) != NULL || g_ascii_isalpha (after)
                     || (after != '\0' && strchr ("-_/", after) != NULL)
                     || (after == '.' && g_ascii_isalnum (sentence[to + 1]));
  gboolean ends_stretch = ends_with (sentence, from, " to ") && !ends_with (sentence, from, MOST);
  return !in_name && !ends_with (sentence, from, MINUS) && !ends_stretch && !g_str_has_prefix (sentence + to, " to ");
}

/* Figure, in order. (transfer full) */
static GArray *
find_figures (const char *sentence)
{
  GArray *figures = g_array_new (FALSE, FALSE, sizeof (Figure));
  for (gsize at = 0; sentence[at] != '\0';) {
    Figure figure = { at, at + number_length (sentence + at) };
    if (figure.to == at) {
      at++;
      continue;
    }
    if (is_figure (sentence, figure.from, figure.to))
      g_array_append_val (figures, figure);
    at = figure.to;
  }
  return figures;
}

char *
sb_sentence_words (const char *sentence)
{
  g_autoptr (GArray) figures = find_figures (sentence);
  GString *words = g_string_new (NULL);
  gsize at = 0;
  for (guint i = 0; i < figures->len; i++) {
    const Figure *figure = &g_array_index (figures, Figure, i);
    g_string_append_len (words, sentence + at, (gssize) (figure->from - at));
    g_string_append_c (words, '\x1a');
    at = figure->to;
  }
  g_string_append (words, sentence + at);
  return g_string_free (words, FALSE);
}

/* (transfer full) */
static char *
figure_text (const char *sentence, guint index)
{
  g_autoptr (GArray) figures = find_figures (sentence);
  const Figure *figure = &g_array_index (figures, Figure, index);
  return g_strndup (sentence + figure->from, figure->to - figure->from);
}

static void
append_span (GString *text, const GPtrArray *sentences, guint index)
{
  gboolean is_bound = ends_with (text->str, text->len, MOST);
  g_autofree char *least = figure_text (g_ptr_array_index (sentences, 0), index), *most = g_strdup (least);
  for (guint i = 1; i < sentences->len; i++) {
    g_autofree char *figure = figure_text (g_ptr_array_index (sentences, i), index);
    double value = g_ascii_strtod (figure, NULL);
    if (value < g_ascii_strtod (least, NULL)) {
      g_free (least);
      least = g_strdup (figure);
    }
    if (value > g_ascii_strtod (most, NULL)) {
      g_free (most);
      most = g_strdup (figure);
    }
  }
  g_string_append (text, is_bound ? most : least);
  if (!is_bound && strcmp (least, most) != 0)
    g_string_append_printf (text, " to %s", most);
}

char *
sb_sentences_as_one (const GPtrArray *sentences)
{
  const char *first = g_ptr_array_index (sentences, 0);
  g_autoptr (GArray) figures = find_figures (first);
  GString *text = g_string_new (NULL);
  gsize at = 0;
  for (guint i = 0; i < figures->len; i++) {
    const Figure *figure = &g_array_index (figures, Figure, i);
    g_string_append_len (text, first + at, (gssize) (figure->from - at));
    append_span (text, sentences, i);
    at = figure->to;
  }
  g_string_append (text, first + at);
  return g_string_free (text, FALSE);
}
