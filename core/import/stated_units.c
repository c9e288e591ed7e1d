/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "stated_units.h"

#include "log_build.h"
#include "vocabulary.h"

#include <string.h>

#define DELIMITERS ";\t,|"

/* Scopes write "S" and "mS" for seconds; nothing of a bench is in siemens. */
static const SbUnit *
find_unit (const char *spelling, gboolean of_time)
{
  const SbUnit *unit = sb_unit_find (spelling);
  if (unit != NULL || !of_time)
    return unit;
  g_autofree char *lower = g_ascii_strdown (spelling, -1);
  unit = sb_unit_find (lower);
  return unit != NULL && unit->dimension == SB_DIMENSION_TIME ? unit : NULL;
}

/* The axis that the time runs along, and words for the time itself. */
static gboolean
is_of_time (const char *words)
{
  static const char *const axes[] = { "horizontal", "x", "x axis", "time base", "timebase", "temps", "de temps", NULL };
  return g_strv_contains (axes, words) || sb_words_say (words, SB_WORD_TIME);
}

void
sb_stated_units_take (SbStatedUnits *units, const char *key, const char *value, guint64 line)
{
  g_autofree char *of = NULL;
  gsize length = strcspn (value, DELIMITERS);
  gboolean alone = value[length + strspn (value + length, DELIMITERS " \"")] == '\0';
  if (units->n == SB_STATED_MOST_UNITS || !alone || length == 0 || !g_utf8_validate (key, -1, NULL)
      || !sb_words_say_unit (key, &of))
    return;
  g_autofree char *utf8 = sb_text_to_utf8 (value, length);
  char *spelling = utf8 + strspn (utf8, " [(\"'");
  spelling[strcspn (spelling, "])\"'")] = '\0';
  g_strchomp (spelling);
  SbStatedUnit *stated = &units->list[units->n];
  if (*of == '\0' || *spelling == '\0' || g_ascii_isdigit (*spelling) || strlen (of) >= sizeof stated->of
      || strlen (spelling) >= sizeof stated->spelling)
    return;
  *stated = (SbStatedUnit){ .unit = find_unit (spelling, is_of_time (of)), .line = line };
  g_strlcpy (stated->of, of, sizeof stated->of);
  g_strlcpy (stated->spelling, spelling, sizeof stated->spelling);
  units->n++;
}

static gboolean
is_for (const SbStatedUnit *stated, const char *words, gboolean is_time)
{
  return strcmp (stated->of, words) == 0 || (is_time && is_of_time (stated->of));
}

const SbStatedUnit *
sb_stated_units_find (const SbStatedUnits *units, const char *name, gboolean is_time)
{
  if (units->n == 0)
    return NULL;
  g_autoptr (GPtrArray) list = sb_words_split (name);
  g_ptr_array_add (list, NULL);
  g_autofree char *words = g_strjoinv (" ", (char **) list->pdata);
  for (guint i = 0; i < units->n; i++)
    if (is_for (&units->list[i], words, is_time))
      return &units->list[i];
  return NULL;
}
