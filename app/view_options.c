/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "view_options.h"

#include <string.h>

void
sb_view_options_clear (SbViewOptions *options)
{
  g_clear_pointer (&options->view, g_free);
  g_clear_pointer (&options->measures, g_free);
  g_clear_pointer (&options->setting, g_free);
}

void
sb_view_options_add (GOptionContext *context, SbViewOptions *o)
{
  GOptionEntry entries[] = {
    { "view", 0, 0, G_OPTION_ARG_STRING, &o->view,
      "Of response, difference, spread, sweep, slope, ringing, phase, plan (response)", "VIEW" },
    { "measure", 0, 0, G_OPTION_ARG_STRING, &o->measures,
      "Of spread, sweep and plan: one or more keys, as in the JSON; a wrong one is answered with all of them "
      "(peak_torque_slope)",
      "KEY[,KEY]" },
    { "setting", 0, 0, G_OPTION_ARG_FILENAME, &o->setting, "Of the sweep (the one with most levels)", "NAME" },
    { "in-order", 0, 0, G_OPTION_ARG_NONE, &o->in_order, "Spread: the repeats of a row in their order, top to bottom",
      NULL },
    { "show-excluded", 0, 0, G_OPTION_ARG_NONE, &o->excluded, "Spread: repeats that were left out too, hollow", NULL },
    { "difference-only", 0, 0, G_OPTION_ARG_NONE, &o->difference_only,
      "Difference: in place of the response, not under it", NULL },
    { NULL, 0, 0, G_OPTION_ARG_NONE, NULL, NULL, NULL },
  };
  g_option_context_add_main_entries (context, entries, NULL);
}

/* Letters that must be put in, left out or changed to make one word of the other (Levenshtein 1966). */
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
      guint changed = before + (a[i] == b[k - 1] ? 0 : 1);
      before = row[k];
      row[k] = MIN (changed, MIN (row[k], row[k - 1]) + 1);
    }
  }
  return row[n];
}

/* (transfer full) */
static char *
refuse_measure (const char *key)
{
  SbMeasureId nearest = 0;
  GString *text = g_string_new (NULL);
  for (int m = 1; m < SB_N_MEASURES; m++)
    if (distance (key, sb_measure_info ((SbMeasureId) m)->key) < distance (key, sb_measure_info (nearest)->key))
      nearest = (SbMeasureId) m;
  g_string_printf (text, "--measure: no measure is called '%s'; nearest is '%s'. The keys are", key,
                   sb_measure_info (nearest)->key);
  for (int m = 0; m < SB_N_MEASURES; m++)
    g_string_append_printf (text, "%s %s", m > 0 ? "," : "", sb_measure_info ((SbMeasureId) m)->key);
  g_string_append (text, ".");
  return g_string_free (text, FALSE);
}

static char *
apply_measures (const char *list, SbChartChoices *chart)
{
  guint measures = 0;
  g_auto (GStrv) words = g_strsplit (list, ",", -1);
  for (gsize i = 0; words[i] != NULL; i++) {
    SbMeasureId id;
    if (!sb_measure_id_from_key (g_strstrip (words[i]), &id))
      return refuse_measure (words[i]);
    measures |= 1u << id;
  }
  if (measures == 0)
    return g_strdup ("--measure names no measure.");
  chart->measures = measures;
  return NULL;
}

char *
sb_view_options_apply (const SbViewOptions *options, SbChartChoices *chart)
{
  if (options->view != NULL && !sb_view_from_key (options->view, &chart->view))
    return g_strdup ("--view takes response, difference, spread, sweep, slope, ringing, phase or plan.");
  char *wrong = options->measures != NULL ? apply_measures (options->measures, chart) : NULL;
  if (wrong != NULL)
    return wrong;
  if (options->setting != NULL) {
    if (!g_utf8_validate (options->setting, -1, NULL))
      return g_strdup ("--setting has to be text in UTF-8.");
    g_free (chart->setting);
    chart->setting = g_strdup (options->setting);
  }
  chart->in_order = chart->in_order || options->in_order;
  chart->excluded_repeats = chart->excluded_repeats || options->excluded;
  chart->difference_only = chart->difference_only || options->difference_only;
  return NULL;
}
