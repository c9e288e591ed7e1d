/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Command-line options that several batch commands share, and the road from them to an analysis (analyse.c). */
#pragma once

#include "exit_status.h"

#include "analysis.h"
#include "chart_export.h"
#include "layout_options.h"
#include "view_options.h"

/* Options that shape numbers. Unset ones are NaN or NULL and leave the session's or the default choice. */
typedef struct {
  double slope_window_ms, smoothing_ms, settling_band_percent, band_k, verdict_level;
  double audit_level, audit_proportion_percent, audit_straight_percent;
  gboolean drive_model, drive_residuals;
  char *band, *span, *steps, *reference, *other;
  char *units; /* names of units, with commas */
  gboolean difference_curves;
  char *plan;     /* PERCENT or "margin" */
  char **margin;  /* PERCENT[%], KEY=PERCENT% or KEY=VALUE in the display unit */
  char **onset;   /* FILE=SECONDS or FILE@STEP=SECONDS */
  char **audit;   /* names of settings */
  char **word;    /* VERDICT=WORDS */
  char **claim;   /* as sb_claim_parse() reads them */
  char **exclude; /* FILE or FILE@STEP, with =REASON or without */
  SbLayoutOptions layout;
  char **inputs;
} SbNumberOptions;

/* Options that shape a chart. */
typedef struct {
  char *panels, *title, *evidence, *labels;
  gboolean trial_lines;
  double from_s, to_s;
  double moving_band_ms;         /* NaN: none */
  char *paper, *ground, *legend; /* keys (paper.h) */
  gboolean grey, no_foot;
  double width_mm, height_mm, dpi, font_pt; /* NaN: that of the paper */
  SbViewOptions view;
} SbChartOptions;

void sb_number_options_init (SbNumberOptions *options);
void sb_number_options_clear (SbNumberOptions *options);
void sb_chart_options_init (SbChartOptions *options);
void sb_chart_options_clear (SbChartOptions *options);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (SbNumberOptions, sb_number_options_clear)
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (SbChartOptions, sb_chart_options_clear)

/* What a command that analyses inputs says of itself and takes beside the options above. */
typedef struct {
  const char *command, *use, *what; /* "chart", "-o FILE INPUT... - one chart", a sentence or two */
  const GOptionEntry *entries;
} SbAnalysisCommand;

/* Parses the arguments of such a command; as sb_arguments_parse(). */
gboolean sb_arguments_parse_analysis (const SbAnalysisCommand *command, SbNumberOptions *numbers, SbChartOptions *chart,
                                      char **arguments);

/* Parses `arguments` of `command`; a wrong one is said on stderr with where to find help, and FALSE is returned. */
gboolean sb_arguments_parse (GOptionContext *context, const char *command, char **arguments);

/* A wrong use of `command`: says so on stderr. */
SbExitStatus sb_arguments_wrong (const char *command, const char *format, ...) G_GNUC_PRINTF (2, 3);

/* Reads the inputs and applies the options; `chart` may be NULL. On success SB_EXIT_DONE or SB_EXIT_LEFT_OUT (what was
 * left out has been said on stderr) with an analysis (transfer full) in which something can be measured; else another
 * status. */
SbExitStatus sb_arguments_analyse (const char *command, const SbNumberOptions *numbers, const SbChartOptions *chart,
                                   SbAnalysis **analysis);

/* On stderr: labels that were asked for and are not on the chart, and text that is smaller than asked for on `paper`.
 */
void sb_arguments_say_left_out (const SbChartModel *model, const SbPaper *paper);

/* A chart that was not written: says so on stderr. A size that cannot be made is a wrong use. */
SbExitStatus sb_arguments_chart_failed (const char *command, const GError *error);

/* The id of the measure whose evidence is asked for, or -1. */
int sb_chart_options_evidence (const SbChartOptions *options);
