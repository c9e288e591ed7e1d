/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure_words.h"

#include <string.h>

gboolean
sb_measure_id_from_words (const char *words, SbMeasureId *id)
{
  g_autofree char *bare = g_strstrip (g_strdup (words));
  if (sb_measure_id_from_key (bare, id))
    return TRUE;
  for (int m = 0; m < SB_N_MEASURES; m++)
    if (g_ascii_strcasecmp (bare, sb_measure_info ((SbMeasureId) m)->name) == 0) {
      *id = (SbMeasureId) m;
      return TRUE;
    }
  return FALSE;
}

/* Letters that must be put in, left out or changed to make one word of the other (Levenshtein 1966), be they large or
 * small. */
static guint
distance (const char *a, const char *b)
{
  gsize n = strlen (b);
  g_autofree guint *row = g_new (guint, n + 1);
  for (gsize k = 0; k <= n; k++)
    row[k] = (guint) k;
  for (gsize i = 0; a[i] != '\0'; i++) {
    guint before = row[0]++;
    for (gsize k = 1; k <= n; k++) {
      guint changed = before + (g_ascii_tolower (a[i]) == g_ascii_tolower (b[k - 1]) ? 0 : 1);
      before = row[k];
      row[k] = MIN (changed, MIN (row[k], row[k - 1]) + 1);
    }
  }
  return row[n];
}

/* From what was written to the key or the name of a measure, whichever is nearer. */
static guint
distance_to (const char *words, SbMeasureId id)
{
  const SbMeasureInfo *info = sb_measure_info (id);
  guint to_key = distance (words, info->key), to_name = distance (words, info->name);
  return MIN (to_key, to_name);
}

char *
sb_measure_unknown_words (const char *words)
{
  SbMeasureId nearest = 0;
  for (int m = 1; m < SB_N_MEASURES; m++)
    if (distance_to (words, (SbMeasureId) m) < distance_to (words, nearest))
      nearest = (SbMeasureId) m;
  GString *text = g_string_new (NULL);
  g_string_printf (text, "no measure is called '%s'; nearest is '%s'. The keys are", words,
                   sb_measure_info (nearest)->key);
  for (int m = 0; m < SB_N_MEASURES; m++)
    g_string_append_printf (text, "%s %s", m > 0 ? "," : "", sb_measure_info ((SbMeasureId) m)->key);
  return g_string_free (text, FALSE);
}
