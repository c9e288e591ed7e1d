/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The steps of building a chart model; for the files of this folder only. Each fills its own members of the model and
 * relies on those that the steps above it filled. */
#pragma once

#include "chart_model.h"

/* Memory that curves and bands point into, freed with the model. `values` is taken over. */
double *sb_chart_model_keep (SbChartModel *model, double *values);

/* x_min, x_max and how the axis counts them. */
void sb_chart_model_set_time_range (SbChartModel *model);

/* Panels with their curves and bands; `evidence` asks for the line of the trial that is marked. */
void sb_chart_model_add_panels (SbChartModel *model, int evidence);
/* Fitted models of the drives, over everything that is there. */
void sb_chart_model_add_fits (SbChartModel *model);
void sb_chart_model_add_marks (SbChartModel *model, int evidence);
/* model_units.c: in the units that are shown. */
void sb_chart_model_apply_units (SbChartModel *model);
void sb_chart_model_apply_unit (SbChartModel *model, SbChartPanel *panel); /* of one whose range is not set yet */
void sb_chart_model_set_value_ranges (SbChartModel *model);

void sb_chart_model_add_legend (SbChartModel *model);
void sb_chart_model_set_foot (SbChartModel *model, int evidence);

/* Of model_difference.c: the panel of a difference, where there is one; what it is; why there is none at all. */
void sb_chart_model_add_difference (SbChartModel *model, SbPanel which);
void sb_chart_append_difference (GString *foot, const SbChartModel *model);
void sb_chart_model_explain_no_difference (SbChartModel *model);

/* model_slope.c: a panel of the torque's slope. */
void sb_chart_model_add_slopes (SbChartModel *model);

/* model_blocks.c: the blocks of all long curves and bands. */
void sb_chart_model_add_blocks (SbChartModel *model);

/* Callouts on the mean curves that are drawn. */
void sb_chart_model_add_callouts (SbChartModel *model);

/* Labels that the choices ask for; the words about them in the foot line and for a screen reader. */
void sb_chart_model_add_labels (SbChartModel *model);
void sb_chart_model_settle_labels (SbChartModel *model); /* which are out of view, when ranges are known */
void sb_chart_append_labels (GString *foot, const SbChartModel *model);
void sb_chart_append_label_words (GString *text, const SbChartModel *model);

/* All of ringing and phase; the words of their foot lines. */
void sb_chart_model_add_ringing (SbChartModel *model);
void sb_chart_model_add_phase (SbChartModel *model);
void sb_chart_append_ringing (GString *foot, const SbChartModel *model);
void sb_chart_append_phase (GString *foot, const SbChartModel *model);

/* Of the curve of a configuration; its text is (transfer full). */
SbLegendEntry sb_chart_legend_entry (const SbAnalysis *analysis, guint index);

/* Smallest and largest of what is drawn in a panel, with air. */
void sb_chart_set_value_range (const SbChartModel *model, SbChartPanel *panel);

/* All of a spread or a sweep. */
void sb_chart_model_add_spread (SbChartModel *model);
void sb_chart_model_add_sweep (SbChartModel *model);

/* All of a plan of repeats, of `measures`. */
void sb_chart_model_add_plan (SbChartModel *model, guint measures);

/* An empty panel, added to the model. Borrowed. */
SbChartPanel *sb_chart_model_add_panel (SbChartModel *model, char *label);

/* model_points.c: a panel of a measure. */
SbChartPanel *sb_chart_model_add_measure_panel (SbChartModel *model, SbMeasureId id);

/* FALSE when the trial has no such figure. */
gboolean sb_chart_trial_value (const SbTrialResult *trial, SbMeasureId id, SbUnits units, double *value);

/* The mean mark of a configuration, without a place. FALSE when it has no such figure. */
gboolean
sb_chart_mean_mark (const SbConfigurationResult *configuration, SbMeasureId id, SbUnits units, SbMeanMark *mark);

/* The mean of one repeat is its point, and has the doubts of the mean. */
void sb_chart_doubt_point (SbChartPanel *panel, guint configuration, const SbMeanMark *mark);

/* 0 to 1 for repeat 0, 1, 2 ...: neighbours far apart, the same at every painting. */
double sb_chart_scatter (guint i);

/* The values of a panel's points and means, with air, and with zero where it is near. */
void sb_chart_set_point_range (SbChartPanel *panel);

/* model_stated.c: the figures that are stated of the panel's measure; its range takes them in. */
void sb_chart_add_stated (const SbChartModel *model, SbChartPanel *panel);

/* Likewise over time, as labelled lines where labels are asked for. */
void sb_chart_model_add_stated (SbChartModel *model);

/* Pieces of a foot line. */
void sb_chart_append_stated (GString *foot, const SbChartModel *model);
void sb_chart_append_number (GString *text, double value);
void sb_chart_append_slope_window (GString *foot, const SbBench *bench);
void sb_chart_append_means (GString *foot, const SbChartModel *model);
void sb_chart_append_source (GString *foot, const SbChartModel *model);

/* What a screen reader says of a spread, a sweep or a plan. */
void sb_chart_append_point_words (GString *text, const SbChartModel *model);

/* The first used trial of a configuration, NULL when there is none. */
const SbTrialResult *sb_chart_first_used_trial (const SbConfigurationResult *configuration);

/* Whether a configuration is to be drawn over time and has something to draw: of the difference view, the pair. */
gboolean sb_chart_is_drawn (const SbAnalysis *analysis, guint index);

/* Whether the single-log moving band is drawn for it. */
gboolean sb_chart_has_moving_band (const SbChartModel *model, const SbConfigurationResult *configuration);

/* y of the curve at x, linear; NaN where it is not. */
double sb_chart_curve_value_at (const SbCurve *curve, double x);

/* Time of point i. */
static inline double
sb_curve_x (const SbCurve *curve, gsize i)
{
  return curve->x != NULL ? curve->x[i] : curve->x0 + (double) i * curve->dx;
}
