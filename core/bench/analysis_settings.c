/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "analysis.h"

#include <string.h>

/* The setting called `name` in the first used trial of a configuration; NULL when not stated there. */
static const SbSetting *
find_setting (const SbConfigurationResult *configuration, const char *name)
{
  for (guint t = 0; t < configuration->trials->len; t++) {
    const SbTrialResult *trial = sb_configuration_result_trial (configuration, t);
    if (!sb_trial_result_is_used (trial))
      continue;
    for (guint s = 0; s < trial->facts->settings->len; s++) {
      const SbSetting *setting = g_ptr_array_index (trial->facts->settings, s);
      if (strcmp (setting->name, name) == 0)
        return setting;
    }
    return NULL;
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
  const SbConfigurationResult *configuration = sb_analysis_configuration (analysis, index);
  for (guint t = 0; t < configuration->trials->len; t++) {
    const SbTrialResult *trial = sb_configuration_result_trial (configuration, t);
    if (!sb_trial_result_is_used (trial))
      continue;
    for (guint s = 0; s < trial->facts->settings->len; s++) {
      const SbSetting *setting = g_ptr_array_index (trial->facts->settings, s);
      if (differs_from_others (analysis, index, setting))
        g_string_append_printf (text, "%s%s %s", text->len > 0 ? ", " : "", setting->name, setting->text);
    }
    break;
  }
  return g_string_free (text, FALSE);
}
