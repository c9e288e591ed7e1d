/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "methods_table.h"

#include "markup_table.h"
#include "value_range.h"

static const char *const headings[] = { "Configuration", "Device",   "Firmware",           "Settings",
                                        "Repeats used",  "Left out", "Samples per second", "Onset from" };

/* Texts that differ among the repeats, each once, with commas between them; "–" when there is none. */
typedef struct {
  GString *text;
  GHashTable *told; /* owns its keys */
} Different;

static Different
different_new (void)
{
  return (Different){ g_string_new (NULL), g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL) };
}

/* Takes over `words`; NULL: nothing to add. */
static void
different_add (Different *different, char *words, const char *between)
{
  if (words == NULL)
    return;
  if (g_hash_table_add (different->told, words))
    g_string_append_printf (different->text, "%s%s", different->text->len > 0 ? between : "", words);
}

static char *
different_end (Different *different)
{
  g_hash_table_unref (different->told);
  if (different->text->len == 0)
    g_string_append (different->text, "–");
  return g_string_free (different->text, FALSE);
}

static char *
device_of (const SbTrialResult *trial)
{
  return g_strdup (trial->facts->device);
}

static char *
firmware_of (const SbTrialResult *trial)
{
  return g_strdup (trial->facts->firmware);
}

static char *
settings_of (const SbTrialResult *trial)
{
  const GPtrArray *settings = trial->facts->settings;
  if (settings->len == 0)
    return NULL;
  GString *text = g_string_new (NULL);
  for (guint i = 0; i < settings->len; i++) {
    const SbSetting *setting = g_ptr_array_index (settings, i);
    g_string_append_printf (text, "%s%s %s", i > 0 ? ", " : "", setting->name, setting->text);
  }
  return g_string_free (text, FALSE);
}

static char *
onset_of (const SbTrialResult *trial)
{
  static const char *const from[] = { [SB_ONSET_FROM_COMMAND] = "command",
                                      [SB_ONSET_FROM_TORQUE] = "torque",
                                      [SB_ONSET_FROM_VELOCITY] = "velocity",
                                      [SB_ONSET_BY_HAND] = "by hand" };
  return g_strdup (from[trial->facts->onset_from]);
}

/* What the used repeats say, each once. */
static char *
cell_of_used (const SbConfigurationResult *configuration, char *(*words_of) (const SbTrialResult *trial),
              const char *between)
{
  Different different = different_new ();
  for (guint t = 0; t < configuration->trials->len; t++) {
    const SbTrialResult *trial = sb_configuration_result_trial (configuration, t);
    if (sb_trial_result_is_used (trial))
      different_add (&different, words_of (trial), between);
  }
  return different_end (&different);
}

static char *
left_out_cell (const SbConfigurationResult *configuration)
{
  Different different = different_new ();
  for (guint t = 0; t < configuration->trials->len; t++) {
    const SbTrialResult *trial = sb_configuration_result_trial (configuration, t);
    if (sb_trial_result_is_used (trial))
      continue;
    g_autofree char *label = sb_trial_result_label (trial);
    const char *why = trial->failure != NULL            ? trial->failure
                      : trial->exclusion_reason != NULL ? trial->exclusion_reason
                                                        : "no reason given";
    different_add (&different, g_strdup_printf ("%s: %s", label, why), "; ");
  }
  return different_end (&different);
}

static char *
repeats_cell (const SbConfigurationResult *configuration)
{
  return configuration->n_used == configuration->trials->len
             ? g_strdup_printf ("%" G_GSIZE_FORMAT, configuration->n_used)
             : g_strdup_printf ("%" G_GSIZE_FORMAT " of %u", configuration->n_used, configuration->trials->len);
}

static char *
rate_cell (const SbConfigurationResult *configuration)
{
  SbValueRange rate = { 0 };
  for (guint t = 0; t < configuration->trials->len; t++) {
    const SbTrialResult *trial = sb_configuration_result_trial (configuration, t);
    if (sb_trial_result_is_used (trial))
      sb_value_range_add (&rate, 1 / trial->facts->sample_interval_s);
  }
  GString *text = g_string_new (rate.n == 0 ? "–" : NULL);
  if (rate.n > 0)
    sb_value_range_append (text, &rate);
  return g_string_free (text, FALSE);
}

GPtrArray *
sb_methods_cells (const SbAnalysis *analysis, guint *n_columns)
{
  GPtrArray *cells = g_ptr_array_new_with_free_func (g_free);
  *n_columns = G_N_ELEMENTS (headings);
  for (guint i = 0; i < *n_columns; i++)
    g_ptr_array_add (cells, g_strdup (headings[i]));
  for (guint c = 0; c < analysis->configurations->len; c++) {
    const SbConfigurationResult *configuration = sb_analysis_configuration (analysis, c);
    g_ptr_array_add (cells, g_strdup (configuration->name));
    g_ptr_array_add (cells, cell_of_used (configuration, device_of, ", "));
    g_ptr_array_add (cells, cell_of_used (configuration, firmware_of, ", "));
    g_ptr_array_add (cells, cell_of_used (configuration, settings_of, "; or "));
    g_ptr_array_add (cells, repeats_cell (configuration));
    g_ptr_array_add (cells, left_out_cell (configuration));
    g_ptr_array_add (cells, rate_cell (configuration));
    g_ptr_array_add (cells, cell_of_used (configuration, onset_of, ", "));
  }
  return cells;
}

char *
sb_methods_table_markdown (const SbAnalysis *analysis)
{
  SbMarkupTable table = { .all_words = TRUE };
  g_autoptr (GPtrArray) cells = sb_methods_cells (analysis, &table.n_columns);
  table.cells = cells;
  table.n_rows = cells->len / table.n_columns;
  GString *text = g_string_new (NULL);
  sb_markup_append_markdown (text, &table);
  return g_string_free (text, FALSE);
}
