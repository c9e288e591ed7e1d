/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "dialect.h"

#include "header.h"
#include "log_build.h"
#include "number_style.h"
#include "number_unit.h"
#include "vocabulary.h"

#include <string.h>

/* The delimiter is plain from the first names of a header; more would only cost time. */
#define MAX_NAMES_TRIED 64
/* A longer word is none that stands for a unit. */
#define LONGEST_STRANGE_UNIT 12

gboolean
sb_dialect_is_number (const char *text, gsize length, gboolean blanks_group)
{
  const SbUnit *unit;
  if (sb_number_looks_like_one (text, length, blanks_group))
    return TRUE;
  gsize n = sb_number_before_unit (text, length, &unit);
  return n > 0 && sb_number_looks_like_one (text, n, blanks_group);
}

SbLineShape
sb_dialect_shape_of (const SbCells *cells, gboolean blanks_group)
{
  SbLineShape shape = { 0 };
  for (guint i = 0; i < sb_cells_count (cells); i++) {
    gsize n;
    const char *text = sb_cells_get (cells, i, &n);
    text = sb_text_trim (text, &n);
    if (n == 0)
      continue;
    shape.n_cells = i + 1;
    if (sb_dialect_is_number (text, n, blanks_group))
      shape.n_numbers++;
    else
      shape.n_words++;
  }
  return shape;
}

SbLineShape
sb_dialect_shape (SbCells *cells, const char *line, gsize length, char delimiter)
{
  sb_cells_split (cells, line, length, delimiter);
  /* Cells that commas part have blanks within words, unless they are quoted: "1 234,5". */
  return sb_dialect_shape_of (cells, delimiter != ',' || memchr (line, '"', length) != NULL);
}

guint
sb_dialect_roles (const SbCells *cells)
{
  guint found = 0;
  for (guint i = 0; i < MIN (sb_cells_count (cells), MAX_NAMES_TRIED); i++) {
    SbColumnMeaning meaning;
    gsize n;
    const char *text = sb_cells_get (cells, i, &n);
    if (!g_utf8_validate_len (text, n, NULL))
      continue;
    sb_column_meaning_read (&meaning, text);
    if (meaning.role != SB_ROLE_OTHER && meaning.certainty != SB_CERTAINTY_GUESSED)
      found |= 1u << meaning.role;
    sb_column_meaning_clear (&meaning);
  }
  return found;
}

/* "Nm", "[Nm]" or "(Nm)", in UTF-8 or not. */
static const SbUnit *
unit_of_cell (const char *text)
{
  gsize length = strlen (text);
  gboolean bracketed
      = length > 2 && ((text[0] == '[' && text[length - 1] == ']') || (text[0] == '(' && text[length - 1] == ')'));
  g_autofree char *inside = bracketed ? g_strndup (text + 1, length - 2) : g_strdup (text);
  g_autofree char *spelling = sb_text_to_utf8 (inside, strlen (inside));
  return sb_unit_find (g_strstrip (spelling));
}

gboolean
sb_dialect_is_units_row (const SbCells *cells)
{
  gboolean any = FALSE;
  for (guint i = 0; i < MIN (sb_cells_count (cells), MAX_NAMES_TRIED); i++) {
    gsize n;
    const char *text = sb_cells_get (cells, i, &n);
    text = sb_text_trim (text, &n);
    if (sb_number_looks_like_one (text, n, TRUE))
      return FALSE;
    const SbUnit *unit = unit_of_cell (text);
    /* "min" is a minimum as well, and "sample" the name of a column. */
    any = any
          || (unit != NULL && !(unit->dimension == SB_DIMENSION_TIME && unit->scaled)
              && unit->dimension != SB_DIMENSION_SAMPLES);
  }
  return any;
}

gboolean
sb_dialect_is_all_units (const SbCells *cells)
{
  gboolean any = FALSE;
  for (guint i = 0; i < MIN (sb_cells_count (cells), MAX_NAMES_TRIED); i++) {
    gsize n;
    const char *text = sb_cells_get (cells, i, &n);
    text = sb_text_trim (text, &n);
    if (n > 0 && unit_of_cell (text) == NULL)
      return FALSE;
    any = any || n > 0;
  }
  return any;
}

/* No number, no name of a quantity and no sentence: it may be a unit that is not known. */
static gboolean
may_be_unit (const char *text, gsize length)
{
  if (length > LONGEST_STRANGE_UNIT || memchr (text, ' ', length) != NULL || g_ascii_isdigit (*text)
      || !g_utf8_validate_len (text, length, NULL))
    return FALSE;
  g_autofree char *cell = g_strndup (text, length);
  SbColumnMeaning meaning;
  sb_column_meaning_read (&meaning, cell);
  gboolean strange = meaning.role == SB_ROLE_OTHER && meaning.problem == NULL;
  sb_column_meaning_clear (&meaning);
  return strange;
}

gboolean
sb_dialect_is_mostly_units (const SbCells *cells)
{
  guint n_units = 0, n_strange = 0;
  for (guint i = 0; i < MIN (sb_cells_count (cells), MAX_NAMES_TRIED); i++) {
    gsize n;
    const char *text = sb_cells_get (cells, i, &n);
    text = sb_text_trim (text, &n);
    gboolean unit = n > 0 && unit_of_cell (text) != NULL;
    if (n > 0 && !unit && !may_be_unit (text, n))
      return FALSE;
    n_units += unit ? 1 : 0;
    n_strange += n > 0 && !unit ? 1 : 0;
  }
  return n_units > n_strange && (n_strange == 0 || n_units >= 2);
}

gboolean
sb_dialect_begins_with_unit (const SbCells *cells)
{
  gsize n = 0;
  const char *text = sb_cells_count (cells) > 0 ? sb_cells_get (cells, 0, &n) : "";
  text = sb_text_trim (text, &n);
  return (*text == '[' || *text == '(') && unit_of_cell (text) != NULL;
}

gboolean
sb_dialect_has_units_in_numbers (const SbCells *cells)
{
  for (guint i = 0; i < MIN (sb_cells_count (cells), MAX_NAMES_TRIED); i++) {
    gsize n;
    const char *text = sb_cells_get (cells, i, &n);
    text = sb_text_trim (text, &n);
    gboolean bracketed = *text == '[' || *text == '(';
    if (g_ascii_isdigit (text[bracketed ? 1 : 0]) && unit_of_cell (text) != NULL)
      return TRUE;
  }
  return FALSE;
}

/* Words that instruments write where a number is missing. */
static gboolean
stands_for_nothing (const char *text)
{
  static const char *const words[]
      = { "n/a",      "na",    "nan", "-nan", "null", "none",     "inf",  "-inf",  "+inf", "-",   "--", "---",
          "infinity", "error", "err", "x",    "?",    "overflow", "true", "false", "on",   "off", NULL };
  g_autofree char *lower = g_ascii_strdown (text, -1);
  return g_strv_contains (words, g_strstrip (lower));
}

gboolean
sb_dialect_is_names_row (const SbCells *cells, const SbLineShape *shape)
{
  const char *first = NULL;
  gboolean differ = FALSE;
  if (shape->n_words < 2 || shape->n_numbers > 0)
    return FALSE;
  for (guint i = 0; i < MIN (sb_cells_count (cells), MAX_NAMES_TRIED); i++) {
    const char *text = sb_cells_get (cells, i, NULL);
    if (stands_for_nothing (text))
      return FALSE;
    if (first == NULL && *text != '\0')
      first = text;
    differ = differ || (first != NULL && *text != '\0' && strcmp (first, text) != 0);
  }
  return differ;
}

gboolean
sb_dialect_is_labelled_units (const SbCells *cells, gboolean of_time_too)
{
  gboolean measured = FALSE;
  gsize n = 0;
  const char *text = sb_cells_count (cells) > 1 ? sb_cells_get (cells, 0, &n) : "";
  g_autofree char *label = sb_text_to_utf8 (text, n);
  guint n_strange = 0;
  if (!sb_words_say_unit (label, NULL))
    return FALSE;
  for (guint i = 1; i < MIN (sb_cells_count (cells), MAX_NAMES_TRIED); i++) {
    text = sb_cells_get (cells, i, &n);
    g_autofree char *cell = g_strndup (sb_text_trim (text, &n), n);
    const SbUnit *unit = *cell != '\0' ? unit_of_cell (cell) : NULL;
    gboolean time = unit != NULL && unit->dimension == SB_DIMENSION_TIME;
    gboolean strange = unit == NULL && *cell != '\0';
    if ((strange && !may_be_unit (cell, strlen (cell))) || (time && !of_time_too))
      return FALSE;
    n_strange += strange ? 1 : 0;
    measured = measured || (unit != NULL && !time);
  }
  return measured && n_strange <= (sb_cells_count (cells) - 1) / 2;
}

gboolean
sb_dialect_is_name_and_unit (const SbCells *cells)
{
  gsize n;
  if (sb_cells_count (cells) != 2)
    return FALSE;
  const char *text = sb_cells_get (cells, 1, &n);
  g_autofree char *second = g_strndup (sb_text_trim (text, &n), n);
  const SbUnit *unit = unit_of_cell (second);
  text = sb_cells_get (cells, 0, &n);
  g_autofree char *name = sb_text_to_utf8 (text, n);
  if (unit == NULL)
    return FALSE;
  if (sb_words_say_unit (name, NULL))
    return TRUE;
  SbColumnMeaning meaning;
  sb_column_meaning_read (&meaning, name);
  gboolean of_its_role = meaning.role != SB_ROLE_OTHER && meaning.unit == NULL
                         && unit->dimension == sb_unit_find (sb_role_unit (meaning.role))->dimension;
  gboolean pair = of_its_role || (meaning.role == SB_ROLE_OTHER && unit->dimension == SB_DIMENSION_TIME);
  sb_column_meaning_clear (&meaning);
  return pair;
}

gsize
sb_dialect_comment_length (const char *line, gsize length, const char *prefix)
{
  gsize n_prefix = strlen (prefix), blanks = 0;
  while (blanks < length && (line[blanks] == ' ' || line[blanks] == '\t'))
    blanks++;
  gboolean is_comment = n_prefix > 0 && length - blanks >= n_prefix && memcmp (line + blanks, prefix, n_prefix) == 0;
  return is_comment ? blanks + n_prefix : 0;
}

gboolean
sb_dialect_is_open (const char *line, gsize length, char quote)
{
  gboolean open = FALSE;
  const char *end = line + length;
  if (quote == '\0')
    return FALSE;
  for (const char *p = line; (p = memchr (p, quote, (gsize) (end - p))) != NULL; p++)
    open = !open;
  return open;
}
