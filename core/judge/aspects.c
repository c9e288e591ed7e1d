/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "aspects.h"

#include <math.h>
#include <string.h>

#define ALIKE_RATIO 0.01
static double
rotation_deg (const SbTrialFacts *facts)
{
  return facts->rotation_deg;
}

static double
sample_rate_hz (const SbTrialFacts *facts)
{
  return sb_trial_facts_rate_hz (facts);
}

static double
command_size_nm (const SbTrialFacts *facts)
{
  return facts->command_top_nm - facts->command_base_nm;
}

static double
inertia_kg_m2 (const SbTrialFacts *facts)
{
  return facts->inertia_kg_m2;
}

/* Time means and settling depend on how long the step lasted. */
static double
active_length_ms (const SbTrialFacts *facts)
{
  return 1000 * facts->active_end_s;
}

static const char *
direction (const SbTrialFacts *facts)
{
  return facts->mirrored ? "down" : "up";
}

static const char *
onset_source (const SbTrialFacts *facts)
{
  return sb_onset_from_key (facts->onset_from);
}

static const char *
device (const SbTrialFacts *facts)
{
  return facts->device;
}

static const char *
firmware (const SbTrialFacts *facts)
{
  return facts->firmware;
}

static const struct {
  const char *name, *unit;
  double (*number) (const SbTrialFacts *facts); /* NaN: not stated */
  const char *(*text) (const SbTrialFacts *facts);
  gboolean of_repeats;
} aspects[] = {
  { "rotation range", "deg", rotation_deg, NULL, TRUE },
  { "sample rate", "Hz", sample_rate_hz, NULL, TRUE },
  { "command size", "N·m", command_size_nm, NULL, TRUE },
  { "inertia", "kg·m²", inertia_kg_m2, NULL, TRUE },
  { "length of the active window", "ms", active_length_ms, NULL, FALSE },
  { "direction of the step", NULL, NULL, direction, FALSE },
  { "onset taken from", NULL, NULL, onset_source, FALSE },
  { "device", NULL, NULL, device, TRUE },
  { "firmware", NULL, NULL, firmware, TRUE },
};

const gsize sb_n_aspects = G_N_ELEMENTS (aspects);

const char *
sb_aspect_name (gsize aspect)
{
  return aspects[aspect].name;
}

gboolean
sb_aspect_is_of_repeats (gsize aspect)
{
  return aspects[aspect].of_repeats;
}

SbValues *
sb_aspect_values (gsize aspect, SbSide side)
{
  SbValues *values = sb_values_new (aspects[aspect].unit, ALIKE_RATIO);
  for (gsize i = 0; i < side.n; i++) {
    if (aspects[aspect].number != NULL)
      sb_values_add_number (values, aspects[aspect].number (side.facts[i]));
    else
      sb_values_add_text (values, aspects[aspect].text (side.facts[i]), NAN, "");
  }
  return values;
}

GPtrArray *
sb_side_setting_names (SbSide reference, SbSide other)
{
  GPtrArray *names = g_ptr_array_new ();
  g_autoptr (GHashTable) seen = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  for (gsize i = 0; i < reference.n + other.n; i++) {
    const SbTrialFacts *facts = i < reference.n ? reference.facts[i] : other.facts[i - reference.n];
    for (guint k = 0; k < facts->settings->len; k++) {
      const SbSetting *setting = g_ptr_array_index (facts->settings, k);
      if (g_hash_table_add (seen, g_utf8_casefold (setting->name, -1)))
        g_ptr_array_add (names, setting->name);
    }
  }
  return names;
}

static const SbSetting *
find_setting (const SbTrialFacts *facts, const char *name)
{
  g_autofree char *wanted = g_utf8_casefold (name, -1);
  for (guint k = 0; k < facts->settings->len; k++) {
    const SbSetting *setting = g_ptr_array_index (facts->settings, k);
    g_autofree char *folded = g_utf8_casefold (setting->name, -1);
    if (g_str_equal (folded, wanted))
      return setting;
  }
  return NULL;
}

SbValues *
sb_side_setting_values (const char *name, SbSide side, double ratio)
{
  SbValues *values = sb_values_new (NULL, ratio);
  for (gsize i = 0; i < side.n; i++) {
    const SbSetting *setting = find_setting (side.facts[i], name);
    if (setting != NULL)
      sb_values_add_text (values, setting->text, setting->value, setting->unit);
    else
      sb_values_add_text (values, NULL, NAN, "");
  }
  return values;
}

static gboolean
speaks_of (const char *name, const char *const *words)
{
  g_autofree char *folded = g_utf8_casefold (name, -1);
  for (gsize i = 0; words[i] != NULL; i++)
    if (strstr (folded, words[i]) != NULL)
      return TRUE;
  return FALSE;
}

gboolean
sb_setting_is_filter (const char *name)
{
  static const char *const words[]
      = { "filter", "friction", "damp", "inertia", "smooth", "interpolation", "reconstruction", "spring", NULL };
  return speaks_of (name, words);
}

gboolean
sb_setting_is_supply (const char *name)
{
  static const char *const words[] = { "supply", "voltage", NULL };
  return speaks_of (name, words);
}
