/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "view_options.h"

#include "measure_words.h"

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
      "Of spread, sweep and plan: one or more keys or names; a wrong one is answered with all of them "
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

static char *
apply_measures (const char *list, SbChartChoices *chart)
{
  guint measures = 0;
  g_auto (GStrv) words = g_strsplit (list, ",", -1);
  for (gsize i = 0; words[i] != NULL; i++) {
    SbMeasureId id;
    if (!sb_measure_id_from_words (words[i], &id)) {
      g_autofree char *unknown = sb_measure_unknown_words (g_strstrip (words[i]));
      return g_strdup_printf ("--measure: %s.", unknown);
    }
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
