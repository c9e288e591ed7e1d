/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "analysis.h"

#include "judgements.h"

#include <string.h>

/* Those of the first used trial, borrowed from it; NULL: none is used. */
static const GPtrArray *
settings_of (const SbConfigurationResult *configuration)
{
  g_autoptr (GPtrArray) used = sb_configuration_used_facts (configuration);
  return used->len > 0 ? ((const SbTrialFacts *) g_ptr_array_index (used, 0))->settings : NULL;
}

/* The setting called `name`; NULL when it is not stated there. */
static const SbSetting *
find_setting (const SbConfigurationResult *configuration, const char *name)
{
  const GPtrArray *settings = settings_of (configuration);
  for (guint s = 0; settings != NULL && s < settings->len; s++) {
    const SbSetting *setting = g_ptr_array_index (settings, s);
    if (strcmp (setting->name, name) == 0)
      return setting;
  }
  return NULL;
}

static gboolean
differs_from_others (const SbAnalysis *analysis, guint index, const SbSetting *setting)
{
  for (guint c = 0; c < analysis->configurations->len; c++) {
    const SbConfigurationResult *other = sb_analysis_configuration (analysis, c);
    if (c == index || !other->drawn || other->n_used == 0)
      continue;
    const SbSetting *same = find_setting (other, setting->name);
    if (same == NULL || strcmp (same->text, setting->text) != 0)
      return TRUE;
  }
  return FALSE;
}

char *
sb_analysis_differing_settings (const SbAnalysis *analysis, guint index)
{
  GString *text = g_string_new (NULL);
  const GPtrArray *settings = settings_of (sb_analysis_configuration (analysis, index));
  for (guint s = 0; settings != NULL && s < settings->len; s++) {
    const SbSetting *setting = g_ptr_array_index (settings, s);
    if (differs_from_others (analysis, index, setting))
      g_string_append_printf (text, "%s%s %s", text->len > 0 ? ", " : "", setting->name, setting->text);
  }
  return g_string_free (text, FALSE);
}
