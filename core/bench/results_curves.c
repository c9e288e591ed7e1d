/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "results_curves.h"

#include <math.h>

static const struct {
  SbChannel channel;
  const char *name, *unit;
} columns[] = {
  { SB_CHANNEL_COMMAND, "command", "N·m" },
  { SB_CHANNEL_TORQUE, "torque", "N·m" },
  { SB_CHANNEL_VELOCITY, "velocity", "rad/s" },
  { SB_CHANNEL_ANGLE, "angle", "rad" },
};

char *
sb_results_curves_name (const SbAnalysis *analysis, guint index)
{
  GString *name = g_string_new (NULL);
  g_string_append_printf (name, "curves/%u-", index + 1);
  for (const char *c = sb_analysis_configuration (analysis, index)->name; *c != '\0'; c++)
    if (g_ascii_isalnum (*c) || *c == '.')
      g_string_append_c (name, *c);
    else if (name->str[name->len - 1] != '-')
      g_string_append_c (name, '-');
  if (name->str[name->len - 1] == '-')
    g_string_truncate (name, name->len - 1);
  g_string_append (name, ".csv");
  return g_string_free (name, FALSE);
}

static void
append_number (GString *csv, double value)
{
  char text[G_ASCII_DTOSTR_BUF_SIZE];
  g_string_append_c (csv, ',');
  if (isfinite (value))
    g_string_append (csv, g_ascii_formatd (text, sizeof text, "%.9g", value));
}

static void
append_row (GString *csv, const SbEnsemble *ensemble, gsize k)
{
  char text[G_ASCII_DTOSTR_BUF_SIZE];
  double time_s = ((double) ensemble->first + (double) k) * ensemble->grid_step_s;
  g_string_append (csv, g_ascii_formatd (text, sizeof text, "%.9g", time_s));
  for (gsize i = 0; i < G_N_ELEMENTS (columns); i++) {
    const SbMeanCurve *curve = ensemble->curve[columns[i].channel];
    if (curve == NULL)
      continue;
    append_number (csv, curve->mean[k]);
    append_number (csv, curve->sd[k]);
  }
  gsize n = ensemble->count != NULL ? ensemble->count[k] : ensemble->n_trials;
  g_string_append_printf (csv, ",%" G_GSIZE_FORMAT "\r\n", n);
}

char *
sb_results_curves_csv (const SbAnalysis *analysis, guint index)
{
  const SbEnsemble *ensemble = sb_analysis_configuration (analysis, index)->ensemble;
  if (ensemble == NULL)
    return NULL;
  GString *csv = g_string_sized_new (64 * (ensemble->n_points + 1));
  g_string_append (csv, "time after onset [s]");
  for (gsize i = 0; i < G_N_ELEMENTS (columns); i++)
    if (ensemble->curve[columns[i].channel] != NULL)
      g_string_append_printf (csv, ",%s mean [%s],%s sd [%s]", columns[i].name, columns[i].unit, columns[i].name,
                              columns[i].unit);
  g_string_append (csv, ",n\r\n");
  for (gsize k = 0; k < ensemble->n_points; k++)
    append_row (csv, ensemble, k);
  return g_string_free (csv, FALSE);
}
