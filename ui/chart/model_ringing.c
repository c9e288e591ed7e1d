/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Ringing: what is left of each configuration's first repeat after the rise, with the fitted modes over it, and below
 * it the spectrum, in which the modes are marked. */
#include "model_parts.h"

#include "doubt.h"
#include "ringing_curve.h"

#include <math.h>

/* The spectrum goes on to so many times the highest mode; to this frequency when there is none. */
#define BEYOND_MODE 4.0
#define NO_MODE_HZ  200.0

/* For the arrow heads above the peaks. */
#define HEADS_ROOM 1.22

typedef struct {
  SbChartModel *model;
  SbChannel channel;
  SbChartPanel *rest, *spectrum; /* NULL until there is something to draw */
} Ringing;

static void
open_panels (Ringing *ringing)
{
  if (ringing->rest != NULL)
    return;
  gboolean torque = ringing->channel == SB_CHANNEL_TORQUE;
  const char *unit = sb_channel_shown_unit (ringing->channel, ringing->model->analysis->bench->units).name;
  ringing->rest = sb_chart_model_add_panel (
      ringing->model, g_strdup_printf ("%s [%s]", torque ? "Torque less its level" : "Velocity less its trend", unit));
  ringing->rest->derived = torque ? "torque less its level" : "velocity less its trend";
  ringing->rest->x = (SbOwnAxis){ g_strdup ("Time after the step [ms]"), HUGE_VAL, -HUGE_VAL, 1000 };
  ringing->spectrum = sb_chart_model_add_panel (ringing->model, g_strdup_printf ("Amplitude [%s]", unit));
  ringing->spectrum->derived = "its spectrum";
  ringing->spectrum->x = (SbOwnAxis){ g_strdup ("Frequency [Hz]"), 0, 0, 1 };
  ringing->rest->panel = ringing->spectrum->panel = torque ? SB_PANEL_TORQUE : SB_PANEL_VELOCITY;
}

static void
add_curve (const Ringing *ringing, SbChartPanel *panel, guint c, gsize n, double **x, double **y, gboolean fit)
{
  const SbConfigurationResult *configuration = sb_analysis_configuration (ringing->model->analysis, c);
  SbCurve curve = {
    .configuration = c,
    .style = configuration->style,
    .n_points = n,
    .x = *x,
    .y = sb_chart_model_keep (ringing->model, g_steal_pointer (y)),
    .thin = fit,
    .fit = fit,
  };
  g_array_append_val (panel->curves, curve);
}

/* The first mode is what the trial's frequency and damping are of, and their doubts count for it. Of the others those
 * do that tell of the signal that all modes were read from. */
static gboolean
is_doubted (const SbMeasures *measures, const SbMode *mode)
{
  static const SbMeasureId ids[] = { SB_MEASURE_RINGING_FREQUENCY, SB_MEASURE_RINGING_DAMPING };
  gboolean is_first = mode == &measures->ringing.mode[0];
  for (gsize i = 0; i < G_N_ELEMENTS (ids); i++) {
    const GPtrArray *doubts = measures->measure[ids[i]].doubts;
    for (guint d = 0; d < sb_doubts_count (doubts); d++)
      if (is_first || sb_doubts_get (doubts, d)->kind != SB_DOUBT_ONE_MODE)
        return TRUE;
  }
  return FALSE;
}

/* A fit's own error is that of one repeat; the table rounds by the scatter of all, and no mode of it is known better
 * than the first is from repeat to repeat. */
static double
rounding_of (const SbConfigurationResult *configuration, SbMeasureId id, double fit_sd)
{
  const SbMeasureSummary *all = configuration->summary != NULL ? &configuration->summary->measure[id] : NULL;
  return all != NULL && all->present ? fmax (sb_summary_rounding (all), fit_sd) : fit_sd;
}

static void
label_mode (const Ringing *ringing, const SbMeasures *measures, const SbMode *mode, const SbMark *mark)
{
  SbUnits units = ringing->model->analysis->bench->units;
  const SbConfigurationResult *of = sb_analysis_configuration (ringing->model->analysis, mark->configuration);
  double frequency_sd = rounding_of (of, SB_MEASURE_RINGING_FREQUENCY, mode->frequency_sd_hz);
  double damping_sd = rounding_of (of, SB_MEASURE_RINGING_DAMPING, mode->damping_ratio_sd);
  g_autofree char *frequency
      = sb_measure_format_in (SB_MEASURE_RINGING_FREQUENCY, units, mode->frequency_hz, frequency_sd, TRUE);
  g_autofree char *damping
      = sb_measure_format_in (SB_MEASURE_RINGING_DAMPING, units, mode->damping_ratio, damping_sd, FALSE);
  SbLabelMark label = {
    .kind = SB_LABEL_RINGING,
    .configuration = mark->configuration,
    .style = mark->style,
    .x = mark->x,
    .y = mark->y,
    .slope = NAN,
    .doubted = is_doubted (measures, mode),
  };
  label.text = g_strdup_printf ("%s, damping %s%s", frequency, damping, label.doubted ? " ?" : "");
  g_array_append_val (ringing->spectrum->labels, label);
}

static void
mark_modes (const Ringing *ringing, guint c, const SbMeasures *measures, const SbRingingCurve *curve)
{
  const SbRinging *found = &measures->ringing;
  guint style = sb_analysis_configuration (ringing->model->analysis, c)->style;
  for (gsize m = 0; m < found->n_modes; m++) {
    double hz = found->mode[m].frequency_hz, step = curve->hz[0], amplitude = NAN;
    gsize bin = (gsize) fmax (floor (hz / step + 0.5), 1) - 1;
    if (bin < curve->n_bins)
      amplitude = curve->amplitude[bin];
    SbMark mark = { SB_EVIDENCE_CREST, c, style, hz, amplitude, 0, hz };
    if (isnan (amplitude))
      continue;
    g_array_append_val (ringing->spectrum->marks, mark);
    if ((ringing->model->analysis->bench->chart.labels & 1u << SB_LABEL_RINGING) != 0)
      label_mode (ringing, measures, &found->mode[m], &mark);
  }
}

/* Up to where the spectra are shown: all modes are in it. */
static void
end_spectrum (const Ringing *ringing)
{
  const GArray *marks = ringing->spectrum->marks, *curves = ringing->spectrum->curves;
  double highest = 0, last = 0;
  for (guint i = 0; i < marks->len; i++)
    highest = fmax (highest, g_array_index (marks, SbMark, i).x);
  for (guint i = 0; i < curves->len; i++) {
    const SbCurve *curve = &g_array_index (curves, SbCurve, i);
    last = fmax (last, curve->x[curve->n_points - 1]);
  }
  ringing->spectrum->x.high = fmin (highest > 0 ? BEYOND_MODE * highest : NO_MODE_HZ, last);
}

static void
add_legend (SbChartModel *model, guint c, const SbTrialResult *trial)
{
  const SbConfigurationResult *configuration = sb_analysis_configuration (model->analysis, c);
  g_autofree char *label = sb_trial_result_label (trial);
  SbLegendEntry entry = { .configuration = c, .style = configuration->style, .series = -1 };
  entry.text = g_strdup_printf ("%s, %s", configuration->name, label);
  g_array_append_val (model->legend, entry);
}

static void
add_configuration (Ringing *ringing, guint c)
{
  SbChartModel *model = ringing->model;
  const SbTrialResult *trial = sb_chart_first_used_trial (sb_analysis_configuration (model->analysis, c));
  if (trial == NULL || trial->measures == NULL || trial->trial == NULL
      || trial->measures->ringing.channel != ringing->channel)
    return;
  const SbRinging *found = &trial->measures->ringing;
  g_autoptr (SbRingingCurve) curve = sb_ringing_curve_new (trial->trial, found);
  if (curve == NULL)
    return;
  open_panels (ringing);
  double *t_s = sb_chart_model_keep (model, g_steal_pointer (&curve->t_s));
  ringing->rest->x.low = fmin (ringing->rest->x.low, t_s[0]);
  ringing->rest->x.high = fmax (ringing->rest->x.high, t_s[curve->n - 1]);
  mark_modes (ringing, c, trial->measures, curve);
  add_curve (ringing, ringing->rest, c, curve->n, &t_s, &curve->rest, FALSE);
  if (curve->fit != NULL)
    add_curve (ringing, ringing->rest, c, curve->n, &t_s, &curve->fit, TRUE);
  double *hz = sb_chart_model_keep (model, g_steal_pointer (&curve->hz));
  add_curve (ringing, ringing->spectrum, c, curve->n_bins, &hz, &curve->amplitude, FALSE);
  add_legend (model, c, trial);
}

/* Fits lie over what they were fitted to. */
static int
by_fit (gconstpointer a, gconstpointer b)
{
  const SbCurve *first = a, *second = b;
  if (first->fit != second->fit)
    return first->fit ? 1 : -1;
  return first->configuration < second->configuration ? -1 : first->configuration > second->configuration;
}

static void
finish_panels (const Ringing *ringing)
{
  if (ringing->rest == NULL)
    return;
  g_array_sort (ringing->rest->curves, by_fit);
  sb_chart_model_apply_unit (ringing->model, ringing->rest);
  sb_chart_model_apply_unit (ringing->model, ringing->spectrum);
  sb_chart_set_value_range (ringing->model, ringing->rest);
  sb_chart_set_value_range (ringing->model, ringing->spectrum);
  ringing->spectrum->y_min = 0;
  ringing->spectrum->y_max *= HEADS_ROOM;
  end_spectrum (ringing);
}

void
sb_chart_model_add_ringing (SbChartModel *model)
{
  static const SbChannel channels[] = { SB_CHANNEL_TORQUE, SB_CHANNEL_VELOCITY };
  sb_chart_model_set_time_range (model);
  for (gsize k = 0; k < G_N_ELEMENTS (channels); k++) {
    Ringing ringing = { .model = model, .channel = channels[k] };
    for (guint c = 0; c < model->analysis->configurations->len; c++)
      if (sb_chart_is_drawn (model->analysis, c))
        add_configuration (&ringing, c);
    finish_panels (&ringing);
  }
  if (model->panels->len == 0)
    model->absent_reason = g_strdup ("Of what is drawn no first repeat has a stretch after its rise to look for "
                                     "ringing in.");
  sb_chart_model_settle_labels (model);
  sb_chart_model_set_foot (model, -1);
}

void
sb_chart_append_ringing (GString *foot, const SbChartModel *model)
{
  g_string_append (foot, "Each configuration’s first repeat, after its rise. ");
  gboolean has_modes = FALSE;
  for (guint p = 0; p < model->panels->len; p++)
    has_modes = has_modes || ((SbChartPanel *) g_ptr_array_index (model->panels, p))->marks->len > 0;
  if (has_modes)
    g_string_append (foot, "Dark dashes: the fitted decaying oscillations; arrow heads: their frequencies. ");
  else
    g_string_append (foot, "No oscillation stands above the noise. ");
  g_string_append (foot, "Spectrum: amplitude of a steady oscillation that would give it. ");
}
