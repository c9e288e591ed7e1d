/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Analyses made in memory: step responses with known values, no file, no thread. */
#pragma once

#include "chart_model.h"

/* One configuration of the sample. Trial i of n answers a step of 10 N·m at t = 0 with torque
 * level_nm + spread_nm * (i - (n - 1) / 2) from 0.02 s on (linear from 0), and velocity 4 rad/s per s times its torque
 * level. Sampled every ms from -0.1 s to 0.4 s. */
typedef struct {
  const char *name;
  gsize n_trials;
  double level_nm, spread_nm;
  const char *setting; /* "0.3 N·m/ms", of "torque slope"; NULL: none */
  const char *device;  /* NULL: not stated */
  gboolean undrawn;
  gboolean without_velocity;
} SampleConfiguration;

/* The choices that shape the chart are those of `bench` (transfer full). (transfer full) */
SbAnalysis *sample_analysis_new (SbBench *bench, const SampleConfiguration *configurations, gsize n);

/* Measure `id` of the first trial of configuration `c`, for evidence to be put into. */
SbMeasure *sample_measure (SbAnalysis *analysis, guint c, SbMeasureId id);

/* Gives the trials of configuration `c` the figures `values` (SI) of measure `id`, one each, with the uncertainties
 * that the test has put in or else without any, and the configuration its summary of those that are included. */
void sample_set_figures (SbAnalysis *analysis, guint c, SbMeasureId id, const double *values);

/* States `value` (SI) at least of measure `id`, of all configurations, and that configuration 0 reaches it and the
 * others do not. */
void sample_state (SbAnalysis *analysis, SbMeasureId id, double value);

/* Makes configurations 0 and 1 reference and other, whose torque differs by 2 N·m from 0.1 to 0.2 s, else not, at 0 to
 * 0.3 s in steps of 0.1 s; half widths 0.5 (one instant) and 1 N·m (all instants), 2 standard errors; 3 repeats each.
 */
void sample_set_difference (SbAnalysis *analysis);

/* An analysis of one configuration "Long" whose torque is `y` (transfer full), n values from x0 on in steps of dx, with
 * n_trials repeats without spread. */
SbAnalysis *sample_analysis_of_curve (double *y, gsize n, gint64 first, double dx, gsize n_trials);
