/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "name_unit.h"

#include "number_unit.h"
#include "unit_multiple.h"
#include "vocabulary.h"

#include <string.h>

/* A bracket without a unit: empty, a dash, the zone of a clock. */
static gboolean
says_nothing (const char *bracketed)
{
  return *bracketed == '\0' || strcmp (bracketed, "-") == 0 || g_ascii_strcasecmp (bracketed, "utc") == 0
         || g_ascii_strcasecmp (bracketed, "gmt") == 0;
}

/* "MM/DD/YYYY h:mm:ss.fff": how a clock is written. */
static gboolean
is_pattern_of_clock (const char *spelling)
{
  g_autofree char *small = g_ascii_strdown (spelling, -1);
  return strstr (small, "mm:ss") != NULL && strspn (small, "ymdhsfaptz0 .:/,-") == strlen (small);
}

const SbUnit *
sb_name_unit_find (const char *spelling, const char *base)
{
  const SbUnit *unit = sb_unit_find (spelling);
  if (unit == NULL && is_pattern_of_clock (spelling))
    return sb_unit_find ("clock time");
  gboolean grad = unit == NULL && g_ascii_strncasecmp (spelling, "grad", 4) == 0;
  g_autoptr (GPtrArray) words = grad ? sb_words_split (base) : NULL;
  for (guint i = 0; grad && i < words->len; i++)
    if (sb_word_says_grad_for_degree (words->pdata[i]))
      return spelling[4] == '\0' ? sb_unit_find ("deg") : sb_unit_find (strcmp (spelling + 4, "/s") == 0 ? "dps" : "");
  return unit;
}

/* Many times a unit, be it one that we do not know so: "0.25 deg", "kilo-°F". No mere remark. */
static gboolean
is_multiple (const char *inside)
{
  const SbUnit *unit = NULL;
  int power_of_ten;
  const char *behind = sb_unit_multiplier_read (inside, &power_of_ten);
  if (behind == NULL)
    return sb_number_before_unit (inside, strlen (inside), &unit) > 0;
  return sb_unit_find (behind) != NULL;
}

char *
sb_name_unit_in_brackets (const char *name, char **rest)
{
  g_autofree char *found = NULL;
  gboolean known = FALSE;
  GString *outside = g_string_new (NULL);
  const char *p = name;
  while (*p != '\0') {
    const char *close = *p == '[' ? strchr (p, ']') : *p == '(' ? strchr (p, ')') : NULL;
    if (close == NULL) {
      g_string_append_c (outside, *p++);
      continue;
    }
    g_autofree char *inside = g_strstrip (g_strndup (p + 1, (gsize) (close - p - 1)));
    gboolean is_unit = sb_name_unit_find (inside, name) != NULL;
    gboolean remark = says_nothing (inside)
                      || (*p == '(' && !is_unit && !is_multiple (inside) && strstr (inside, " per ") == NULL
                          && g_utf8_strlen (inside, -1) > 4);
    if (!known && !remark && (is_unit || found == NULL || *p == '[')) {
      g_free (found);
      found = g_strdup (inside);
      known = is_unit;
    }
    g_string_append_c (outside, ' ');
    p = close + 1;
  }
  *rest = g_strstrip (g_string_free (outside, FALSE));
  return g_steal_pointer (&found);
}

gboolean
sb_name_unit_may_stand_alone (const char *base, const char *spelling, const SbUnit *unit)
{
  if (*base != '\0')
    return TRUE;
  switch (unit->dimension) {
  case SB_DIMENSION_PERCENT:
  case SB_DIMENSION_COUNTS:
    return FALSE;
  case SB_DIMENSION_CURRENT:
  case SB_DIMENSION_VOLTAGE:
  case SB_DIMENSION_TEMPERATURE:
    return strlen (spelling) > 1;
  case SB_DIMENSION_TIME:
    return !unit->scaled; /* "min" is a minimum as well */
  case SB_DIMENSION_ANGLE:
  case SB_DIMENSION_VELOCITY:
  case SB_DIMENSION_TORQUE:
  case SB_DIMENSION_SAMPLES:
  case SB_DIMENSION_CLOCK:
  case SB_N_DIMENSIONS:
    break;
  }
  return TRUE;
}

char *
sb_name_unit_of_cell (const char *cell)
{
  if (cell == NULL)
    return NULL;
  g_autofree char *text = g_strstrip (g_strdup (cell));
  gsize length = strlen (text);
  gboolean bracketed
      = length > 2 && ((text[0] == '[' && text[length - 1] == ']') || (text[0] == '(' && text[length - 1] == ')'));
  char *inside = bracketed ? g_strstrip (g_strndup (text + 1, length - 2)) : g_steal_pointer (&text);
  if (!says_nothing (inside))
    return inside;
  g_free (inside);
  return NULL;
}
