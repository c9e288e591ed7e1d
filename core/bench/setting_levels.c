/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "setting_levels.h"

#include "unit.h"

#include <math.h>
#include <string.h>

/* Settings are typed: closer numbers are one level. */
#define SAME_RATIO 1e-9

static const SbTrialFacts *
facts_of (const SbConfigurationResult *configuration)
{
  for (guint t = 0; configuration->drawn && t < configuration->trials->len; t++) {
    const SbTrialResult *trial = sb_configuration_result_trial (configuration, t);
    if (trial->included && trial->facts != NULL && trial->measures != NULL)
      return trial->facts;
  }
  return NULL;
}

/* FALSE when it is not stated as a number. `unit` is borrowed. */
static gboolean
find_level (const SbTrialFacts *facts, const char *name, double *level, const char **unit)
{
  if (strcmp (name, SB_ROTATION_SETTING) == 0) {
    *level = facts->rotation_deg;
    *unit = "deg";
    return isfinite (facts->rotation_deg);
  }
  for (guint s = 0; s < facts->settings->len; s++) {
    const SbSetting *setting = g_ptr_array_index (facts->settings, s);
    if (strcmp (setting->name, name) == 0 && isfinite (setting->value)) {
      *level = setting->value;
      *unit = setting->unit != NULL ? setting->unit : "";
      return TRUE;
    }
  }
  return FALSE;
}

static gboolean
same_level (double a, double b)
{
  return fabs (a - b) <= SAME_RATIO * fmax (fabs (a), fabs (b));
}

static guint
count_levels (const SbSettingLevels *levels)
{
  guint n = 0;
  for (guint i = 0; i < levels->levels->len; i++) {
    double level = g_array_index (levels->levels, SbSettingLevel, i).level;
    gboolean known = FALSE;
    for (guint k = 0; k < i; k++)
      known = known || same_level (g_array_index (levels->levels, SbSettingLevel, k).level, level);
    n += known ? 0 : 1;
  }
  return n;
}

/* Names in the order in which they are first stated. */
static void
collect_names (const SbAnalysis *analysis, GPtrArray *names)
{
  for (guint c = 0; c < analysis->configurations->len; c++) {
    const SbTrialFacts *facts = facts_of (sb_analysis_configuration (analysis, c));
    for (guint s = 0; facts != NULL && s < facts->settings->len; s++) {
      const SbSetting *setting = g_ptr_array_index (facts->settings, s);
      if (!g_ptr_array_find_with_equal_func (names, setting->name, g_str_equal, NULL))
        g_ptr_array_add (names, g_strdup (setting->name));
    }
  }
  if (!g_ptr_array_find_with_equal_func (names, SB_ROTATION_SETTING, g_str_equal, NULL))
    g_ptr_array_add (names, g_strdup (SB_ROTATION_SETTING));
}

GPtrArray *
sb_setting_names (const SbAnalysis *analysis)
{
  g_autoptr (GPtrArray) stated = g_ptr_array_new_with_free_func (g_free);
  g_autoptr (GArray) counts = g_array_new (FALSE, FALSE, sizeof (guint));
  GPtrArray *names = g_ptr_array_new_with_free_func (g_free);
  collect_names (analysis, stated);
  for (guint i = 0; i < stated->len; i++) {
    g_autoptr (SbSettingLevels) levels = sb_setting_levels_new (analysis, g_ptr_array_index (stated, i));
    guint n = count_levels (levels), place = 0;
    if (n < 2)
      continue;
    while (place < counts->len && g_array_index (counts, guint, place) >= n)
      place++;
    g_array_insert_val (counts, place, n);
    g_ptr_array_insert (names, (int) place, g_strdup (g_ptr_array_index (stated, i)));
  }
  return names;
}

static char *
rotation_words (double rotation_deg)
{
  char number[G_ASCII_DTOSTR_BUF_SIZE];
  g_ascii_formatd (number, sizeof number, "%.6g", rotation_deg);
  return g_strdup_printf ("%s %s deg", SB_ROTATION_SETTING, number);
}

/* All that a configuration states but the setting itself: configurations of a series have the same. The device comes
 * first, so that it leads the words that tell series apart. (transfer full) */
static GPtrArray *
other_facts (const SbTrialFacts *facts, const char *name)
{
  GPtrArray *others = g_ptr_array_new_with_free_func (g_free);
  g_ptr_array_add (others, g_strdup (facts->device != NULL ? facts->device : ""));
  if (isfinite (facts->rotation_deg) && strcmp (name, SB_ROTATION_SETTING) != 0)
    g_ptr_array_add (others, rotation_words (facts->rotation_deg));
  for (guint s = 0; s < facts->settings->len; s++) {
    const SbSetting *setting = g_ptr_array_index (facts->settings, s);
    if (strcmp (setting->name, name) != 0)
      g_ptr_array_add (others, g_strdup_printf ("%s %s", setting->name, setting->text));
  }
  return others;
}

static gboolean
all_in (const GPtrArray *texts, GPtrArray *others)
{
  for (guint i = 0; i < texts->len; i++)
    if (!g_ptr_array_find_with_equal_func (others, g_ptr_array_index (texts, i), g_str_equal, NULL))
      return FALSE;
  return TRUE;
}

static guint
find_series (GPtrArray *series, GPtrArray *others)
{
  for (guint i = 0; i < series->len; i++) {
    GPtrArray *known = g_ptr_array_index (series, i);
    if (all_in (known, others) && all_in (others, known))
      return i;
  }
  g_ptr_array_add (series, g_ptr_array_ref (others));
  return series->len - 1;
}

/* What of a series is not said of all the others too. (transfer full) */
static char *
series_words (const GPtrArray *series, guint index)
{
  const GPtrArray *own = g_ptr_array_index (series, index);
  GString *words = g_string_new (NULL);
  for (guint k = 0; k < own->len; k++) {
    const char *text = g_ptr_array_index (own, k);
    gboolean shared = TRUE;
    for (guint i = 0; i < series->len; i++)
      shared = shared && g_ptr_array_find_with_equal_func (g_ptr_array_index (series, i), text, g_str_equal, NULL);
    if (!shared && text[0] != '\0')
      g_string_append_printf (words, "%s%s", words->len > 0 ? ", " : "", text);
  }
  if (words->len == 0 && series->len > 1)
    g_string_append (words, "others");
  return g_string_free (words, FALSE);
}

static void
take_level (SbSettingLevels *levels, GPtrArray *series, const SbAnalysis *analysis, guint index)
{
  const SbConfigurationResult *configuration = sb_analysis_configuration (analysis, index);
  const SbTrialFacts *facts = facts_of (configuration);
  const char *unit;
  SbSettingLevel level = { .configuration = index };
  if (facts == NULL)
    return;
  gboolean stated = find_level (facts, levels->name, &level.level, &unit);
  if (stated && levels->unit == NULL)
    levels->unit = g_strdup (unit);
  if (!stated || strcmp (unit, levels->unit) != 0) {
    g_ptr_array_add (levels->without, g_strdup (configuration->name));
    return;
  }
  g_autoptr (GPtrArray) others = other_facts (facts, levels->name);
  level.series = find_series (series, others);
  g_array_append_val (levels->levels, level);
}

SbSettingLevels *
sb_setting_levels_new (const SbAnalysis *analysis, const char *name)
{
  SbSettingLevels *levels = g_new0 (SbSettingLevels, 1);
  levels->name = g_strdup (name);
  levels->levels = g_array_new (FALSE, TRUE, sizeof (SbSettingLevel));
  levels->series = g_ptr_array_new_with_free_func (g_free);
  levels->without = g_ptr_array_new_with_free_func (g_free);
  g_autoptr (GPtrArray) series = g_ptr_array_new_with_free_func ((GDestroyNotify) g_ptr_array_unref);
  for (guint c = 0; c < analysis->configurations->len; c++)
    take_level (levels, series, analysis, c);
  for (guint i = 0; i < series->len; i++)
    g_ptr_array_add (levels->series, series_words (series, i));
  if (levels->unit == NULL)
    levels->unit = g_strdup ("");
  return levels;
}

void
sb_setting_levels_free (SbSettingLevels *levels)
{
  if (levels == NULL)
    return;
  g_free (levels->name);
  g_free (levels->unit);
  g_array_unref (levels->levels);
  g_ptr_array_unref (levels->series);
  g_ptr_array_unref (levels->without);
  g_free (levels);
}

/* A unit, or one by another. */
typedef struct {
  int above, below; /* SbDimension; -1: none */
  double size;
} Size;

static gboolean
find_size (const char *text, Size *size)
{
  const SbUnit *whole = sb_unit_find (text);
  if (whole != NULL) {
    *size = (Size){ (int) whole->dimension, -1, whole->factor * pow (10, whole->power_of_ten) };
    return TRUE;
  }
  const char *slash = strrchr (text, '/');
  if (slash == NULL)
    return FALSE;
  g_autofree char *before = g_strndup (text, (gsize) (slash - text));
  const SbUnit *above = sb_unit_find (g_strstrip (before)), *below = sb_unit_find (slash + 1);
  if (above == NULL || below == NULL)
    return FALSE;
  int power = above->power_of_ten - below->power_of_ten;
  *size = (Size){ (int) above->dimension, (int) below->dimension, above->factor / below->factor * pow (10, power) };
  return TRUE;
}

double
sb_setting_unit_ratio (const char *from, const char *to)
{
  Size a, b;
  if (!find_size (from, &a) || !find_size (to, &b) || a.above != b.above || a.below != b.below)
    return NAN;
  return a.size / b.size;
}
