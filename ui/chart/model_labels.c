/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Labels of what the drawn curves show: the configuration's figure, at the mean instant of its repeats on the mean
 * curve. */
#include "model_parts.h"

#include <math.h>

#define SAME_INSTANT_S 1e-9

typedef struct {
  SbLabelKind kind;
  SbMeasureId id;
  SbEvidenceKind evidence; /* that tells the instant */
  const char *words;       /* before the figure */
} LabelSource;

static const LabelSource sources[] = {
  { SB_LABEL_PEAKS, SB_MEASURE_PEAK_VELOCITY, SB_EVIDENCE_PEAK, "peak" },
  { SB_LABEL_PEAKS, SB_MEASURE_PEAK_TORQUE, SB_EVIDENCE_PEAK, "peak" },
  { SB_LABEL_SLOPE, SB_MEASURE_PEAK_TORQUE_SLOPE, SB_EVIDENCE_TANGENT, "slope" },
  { SB_LABEL_OVERSHOOT, SB_MEASURE_OVERSHOOT, SB_EVIDENCE_PEAK, "overshoot" },
  { SB_LABEL_RINGING, SB_MEASURE_RINGING_FREQUENCY, SB_EVIDENCE_CREST, "rings at" },
};

/* Where the evidence of a kind is; the second crest of a ringing, as the first is the peak, which has a label of its
 * own. NaN: there is none. */
static double
instant_s (const SbMeasure *measure, SbEvidenceKind kind)
{
  double found_s = NAN;
  for (gsize i = 0, n = 0; i < measure->n_evidence; i++)
    if (measure->evidence[i].kind == kind && n++ <= (kind == SB_EVIDENCE_CREST ? 1 : 0))
      found_s = measure->evidence[i].t_s;
  return found_s;
}

/* The mean of the instants of the included repeats; NaN: none has any. */
static double
mean_instant_s (const SbConfigurationResult *configuration, const LabelSource *source)
{
  double sum = 0;
  gsize n = 0;
  for (guint t = 0; t < configuration->trials->len; t++) {
    const SbTrialResult *trial = sb_configuration_result_trial (configuration, t);
    if (!trial->included || trial->measures == NULL || !trial->measures->measure[source->id].present)
      continue;
    double at_s = instant_s (&trial->measures->measure[source->id], source->evidence);
    if (!isnan (at_s)) {
      sum += at_s;
      n++;
    }
  }
  return n > 0 ? sum / (double) n : (double) NAN;
}

static gboolean
is_doubted (const SbMeasureSummary *summary)
{
  return summary->doubts != NULL && summary->doubts->len > 0;
}

/* ", damping 0.050", or how many cycles there are where no damping is known; "" when neither is. (transfer full) */
static char *
ringing_words (const SbConfigurationResult *configuration, SbUnits units, gboolean *doubted)
{
  static const SbMeasureId ids[] = { SB_MEASURE_RINGING_DAMPING, SB_MEASURE_RINGING_CYCLES };
  for (gsize i = 0; i < G_N_ELEMENTS (ids); i++) {
    const SbMeasureSummary *summary = &configuration->summary->measure[ids[i]];
    if (!summary->present)
      continue;
    *doubted = *doubted || is_doubted (summary);
    g_autofree char *figure = sb_measure_format_in (ids[i], units, summary->mean, sb_summary_rounding (summary), FALSE);
    return i == 0 ? g_strdup_printf (", damping %s", figure) : g_strdup_printf (", %s cycles", figure);
  }
  return g_strdup ("");
}

static char *
label_text (const SbConfigurationResult *configuration, const LabelSource *source, SbUnits units, gboolean *doubted)
{
  const SbMeasureSummary *summary = &configuration->summary->measure[source->id];
  *doubted = is_doubted (summary);
  g_autofree char *figure
      = sb_measure_format_in (source->id, units, summary->mean, sb_summary_rounding (summary), TRUE);
  g_autofree char *more
      = source->kind == SB_LABEL_RINGING ? ringing_words (configuration, units, doubted) : g_strdup ("");
  return g_strdup_printf ("%s %s%s%s", source->words, figure, more, *doubted ? " ?" : "");
}

/* Two figures of one point share a label: the overshoot is that of the peak. FALSE: there is none at the point yet. */
static gboolean
join_label (SbChartPanel *panel, SbLabelMark *label)
{
  for (guint i = 0; i < panel->labels->len; i++) {
    SbLabelMark *other = &g_array_index (panel->labels, SbLabelMark, i);
    if (other->configuration != label->configuration || label->kind == SB_LABEL_SLOPE || other->kind == SB_LABEL_SLOPE
        || !(fabs (other->x - label->x) < SAME_INSTANT_S))
      continue;
    g_autofree char *first = other->text, *second = label->text;
    other->text = g_strconcat (first, ", ", second, NULL);
    other->doubted = other->doubted || label->doubted;
    return TRUE;
  }
  return FALSE;
}

static void
add_label (SbChartModel *model, guint p, guint c, const LabelSource *source)
{
  SbChartPanel *panel = g_ptr_array_index (model->panels, p);
  const SbConfigurationResult *configuration = sb_analysis_configuration (model->analysis, c);
  if (configuration->summary == NULL || !configuration->summary->measure[source->id].present)
    return;
  const SbMeasureSummary *summary = &configuration->summary->measure[source->id];
  gboolean ringing = source->kind == SB_LABEL_RINGING;
  SbChannel channel = ringing ? summary->channel : sb_measure_info (source->id)->channel;
  if (channel != sb_panel_channel (panel->panel))
    return;
  SbUnits units = model->analysis->bench->units;
  double x = mean_instant_s (configuration, source);
  SbLabelMark label = {
    .kind = source->kind,
    .configuration = c,
    .style = configuration->style,
    .x = x,
    .y = sb_chart_model_value_at (model, p, c, x),
    .slope = NAN,
  };
  label.text = label_text (configuration, source, units, &label.doubted);
  if (join_label (panel, &label))
    return;
  if (source->kind == SB_LABEL_SLOPE)
    label.slope = summary->mean * sb_channel_shown_unit (channel, units).factor;
  g_array_append_val (panel->labels, label);
}

/* Of what is drawn faint nothing is named. */
void
sb_chart_model_add_labels (SbChartModel *model)
{
  guint wanted = model->analysis->bench->chart.labels;
  for (guint p = 0; p < model->panels->len && wanted != 0; p++) {
    const SbChartPanel *panel = g_ptr_array_index (model->panels, p);
    if (panel->difference || panel->derived != NULL)
      continue;
    for (gsize s = 0; s < G_N_ELEMENTS (sources); s++)
      for (guint c = 0; c < model->analysis->configurations->len && (wanted & 1u << sources[s].kind) != 0; c++)
        if (sb_chart_is_drawn (model->analysis, c) && !sb_chart_model_is_dimmed (model, c))
          add_label (model, p, c, &sources[s]);
  }
}

/* Whether a person chose a time to be shown that x is not in. */
static gboolean
is_beyond_choice (const SbChartModel *model, const SbChartPanel *panel, double x)
{
  const double *view_s = model->analysis->bench->chart.view_s;
  return panel->x.label == NULL && (x < view_s[0] || x > view_s[1]); /* NaN: open */
}

/* Off its curve a label's words go below the panels, unless what is shown was chosen and it lies outside of that. */
void
sb_chart_model_settle_labels (SbChartModel *model)
{
  for (guint p = 0; p < model->panels->len; p++) {
    const SbChartPanel *panel = g_ptr_array_index (model->panels, p);
    double low = panel->x.label != NULL ? panel->x.low : model->x_min;
    double high = panel->x.label != NULL ? panel->x.high : model->x_max;
    for (guint i = 0; i < panel->labels->len; i++) {
      SbLabelMark *label = &g_array_index (panel->labels, SbLabelMark, i);
      if (isnan (label->y) && !is_beyond_choice (model, panel, label->x))
        label->x = NAN;
      label->out_of_view = label->x < low || label->x > high;
    }
  }
}

void
sb_chart_append_labels (GString *foot, const SbChartModel *model)
{
  gboolean any = FALSE, stated = FALSE, doubted = FALSE;
  guint n_out = 0;
  for (guint p = 0; p < model->panels->len; p++) {
    const SbChartPanel *panel = g_ptr_array_index (model->panels, p);
    for (guint i = 0; i < panel->labels->len; i++) {
      const SbLabelMark *label = &g_array_index (panel->labels, SbLabelMark, i);
      n_out += label->out_of_view ? 1 : 0;
      if (label->out_of_view)
        continue;
      any = any || label->style != SB_STYLE_INK;
      stated = stated || label->style == SB_STYLE_INK;
      doubted = doubted || label->doubted;
    }
  }
  if (any)
    g_string_append_printf (foot, "Labels: %s%s. ",
                            model->view == SB_VIEW_RINGING
                                ? "the fitted modes"
                                : "means of the repeats’ figures, at the mean of their instants",
                            doubted ? "; ? in doubt" : "");
  if (stated)
    g_string_append (foot, "Heavy dashes: stated figures. ");
  if (n_out > 0)
    g_string_append_printf (foot, "Outside what is shown: %u label%s. ", n_out, n_out == 1 ? "" : "s");
}

/* "torque of Alder: peak 10.2 N·m"; a stated figure names its own. */
static void
append_label (GString *text, const SbChartModel *model, const SbChartPanel *panel, const SbLabelMark *label)
{
  if (label->style != SB_STYLE_INK) {
    const SbConfigurationResult *configuration = sb_analysis_configuration (model->analysis, label->configuration);
    g_autofree char *channel = g_utf8_strdown (sb_channel_name (sb_panel_channel (panel->panel)), -1);
    g_string_append_printf (text, "%s of %s: ", channel, configuration->name);
  }
  g_string_append (text, label->text);
}

void
sb_chart_append_label_words (GString *text, const SbChartModel *model)
{
  for (guint p = 0; p < model->panels->len; p++) {
    const SbChartPanel *panel = g_ptr_array_index (model->panels, p);
    for (guint i = 0; i < panel->labels->len; i++) {
      const SbLabelMark *label = &g_array_index (panel->labels, SbLabelMark, i);
      if (label->out_of_view)
        continue;
      g_string_append (text, "; ");
      append_label (text, model, panel, label);
    }
  }
}

static gboolean
has_places (SbView view, guint wanted)
{
  for (guint kind = 0; kind < SB_N_LABELS; kind++)
    if ((wanted & 1u << kind) != 0 && sb_view_has_label (view, (SbLabelKind) kind))
      return TRUE;
  return FALSE;
}

char *
sb_chart_model_labels_left_out (const SbChartModel *model)
{
  guint wanted = model->analysis->bench->chart.labels;
  if (wanted != 0 && !has_places (model->view, wanted))
    return g_strdup (model->view == SB_VIEW_RINGING
                         ? "labels were asked for; this view has those of ringing alone, on the modes"
                         : "labels were asked for; this view has none. They are on curves over time and on the modes "
                           "of ringing");
  GString *text = g_string_new (NULL);
  for (guint p = 0; p < model->panels->len; p++) {
    const SbChartPanel *panel = g_ptr_array_index (model->panels, p);
    for (guint i = 0; i < panel->labels->len; i++) {
      const SbLabelMark *label = &g_array_index (panel->labels, SbLabelMark, i);
      if (!label->out_of_view)
        continue;
      g_string_append (text, text->len > 0 ? "; " : "labels not drawn, as they lie outside what is shown: ");
      append_label (text, model, panel, label);
    }
  }
  return g_string_free (text, text->len == 0);
}
