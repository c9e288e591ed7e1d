/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "chart_choices.h"

#include <math.h>
#include <string.h>

G_STATIC_ASSERT (SB_N_MEASURES <= 32);

SbChannel
sb_panel_channel (SbPanel panel)
{
  static const SbChannel channels[SB_N_PANELS] = {
    [SB_PANEL_VELOCITY] = SB_CHANNEL_VELOCITY,
    [SB_PANEL_TORQUE] = SB_CHANNEL_TORQUE,
    [SB_PANEL_ANGLE] = SB_CHANNEL_ANGLE,
    [SB_PANEL_COMMAND] = SB_CHANNEL_COMMAND,
  };
  return channels[panel];
}

const char *
sb_view_key (SbView view)
{
  static const char *const keys[SB_N_VIEWS] = {
    [SB_VIEW_RESPONSE] = "response", [SB_VIEW_DIFFERENCE] = "difference",
    [SB_VIEW_SPREAD] = "spread",     [SB_VIEW_SWEEP] = "sweep",
    [SB_VIEW_SLOPE] = "slope",       [SB_VIEW_RINGING] = "ringing",
    [SB_VIEW_PHASE] = "phase",       [SB_VIEW_PLAN] = "plan",
  };
  return keys[view];
}

const char *
sb_view_name (SbView view)
{
  static const char *const names[SB_N_VIEWS] = {
    [SB_VIEW_RESPONSE] = "Response", [SB_VIEW_DIFFERENCE] = "Difference", [SB_VIEW_SPREAD] = "Spread",
    [SB_VIEW_SWEEP] = "Sweep",       [SB_VIEW_SLOPE] = "Slope",           [SB_VIEW_RINGING] = "Ringing",
    [SB_VIEW_PHASE] = "Phase",       [SB_VIEW_PLAN] = "Repeats",
  };
  return names[view];
}

gboolean
sb_view_from_key (const char *key, SbView *view)
{
  for (int v = 0; v < SB_N_VIEWS; v++)
    if (strcmp (sb_view_key ((SbView) v), key) == 0) {
      *view = (SbView) v;
      return TRUE;
    }
  return FALSE;
}

const char *
sb_label_kind_key (SbLabelKind kind)
{
  static const char *const keys[SB_N_LABELS] = { [SB_LABEL_PEAKS] = "peaks",
                                                 [SB_LABEL_SLOPE] = "slope",
                                                 [SB_LABEL_OVERSHOOT] = "overshoot",
                                                 [SB_LABEL_RINGING] = "ringing" };
  return keys[kind];
}

const char *
sb_label_kind_name (SbLabelKind kind)
{
  static const char *const names[SB_N_LABELS] = { [SB_LABEL_PEAKS] = "Peaks",
                                                  [SB_LABEL_SLOPE] = "Peak slope of the torque",
                                                  [SB_LABEL_OVERSHOOT] = "Overshoot",
                                                  [SB_LABEL_RINGING] = "Ringing" };
  return names[kind];
}

guint
sb_label_bit_from_key (const char *key)
{
  for (int kind = 0; kind < SB_N_LABELS; kind++)
    if (strcmp (sb_label_kind_key ((SbLabelKind) kind), key) == 0)
      return 1u << kind;
  return 0;
}

gboolean
sb_view_has_label (SbView view, SbLabelKind kind)
{
  if (view == SB_VIEW_RINGING)
    return kind == SB_LABEL_RINGING;
  return sb_view_is_over_time (view) && view != SB_VIEW_PHASE;
}

SbChartChoices
sb_chart_choices_init (void)
{
  return (SbChartChoices){
    .view = SB_VIEW_RESPONSE,
    .panels = 1u << SB_PANEL_VELOCITY | 1u << SB_PANEL_TORQUE,
    .moving_band = FALSE, /* a mean over time rises before the step does: only who asks for it gets it */
    .view_s = { NAN, NAN },
    .title = g_strdup (""),
    .measures = 1u << SB_MEASURE_PEAK_TORQUE_SLOPE,
    .setting = g_strdup (""),
    .paper = sb_paper_preset (0)->paper,
  };
}

SbChartChoices
sb_chart_choices_copy (const SbChartChoices *choices)
{
  SbChartChoices copy = *choices;
  copy.title = g_strdup (choices->title);
  copy.setting = g_strdup (choices->setting);
  return copy;
}

void
sb_chart_choices_clear (SbChartChoices *choices)
{
  g_clear_pointer (&choices->title, g_free);
  g_clear_pointer (&choices->setting, g_free);
}

gsize
sb_chart_choices_measures (const SbChartChoices *choices, SbMeasureId measures[SB_N_MEASURES])
{
  gsize n = 0;
  for (int id = 0; id < SB_N_MEASURES; id++)
    if ((choices->measures & 1u << id) != 0)
      measures[n++] = (SbMeasureId) id;
  return n;
}
