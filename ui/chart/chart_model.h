/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A chart as data: panels, curves, bands, marks, legend, foot line. Built from results, asserted on without a pixel,
 * painted by chart_painter.h. Values are in display units; nothing is smoothed or rounded here. */
#pragma once

#include "blocks.h"
#include "chart_points.h"
#include "style.h"

/* A curve over time; arrays are owned by the model or borrowed from the analysis it keeps. */
typedef struct {
  guint configuration; /* index in the analysis */
  guint style;
  gsize n_points;
  const double *x; /* s after the onset; NULL: x0 + i * dx */
  double x0, dx;
  const double *y;      /* NaN: a break in the line */
  gboolean thin;        /* a trial's own line beside its mean; the log itself beside the moving mean of a lone trial */
  gboolean fit;         /* the fitted model of the drive; thin too */
  SbBlocks blocks;      /* of y */
} SbCurve;

/* The area between two curves. */
typedef struct {
  guint configuration;
  guint style;
  gsize n_points;
  double x0, dx;
  const double *x; /* NULL: x0 + i * dx */
  const double *lower, *upper;
  SbBlocks lower_blocks, upper_blocks;
} SbBandArea;

/* A mark that shows where a measure comes from. */
typedef struct {
  SbEvidenceKind kind;
  guint configuration, style;
  double x, y, slope; /* y per s */
  double x_end;       /* of a level */
} SbMark;

/* A stretch of time that is shaded, with its number. */
typedef struct {
  double from_s, to_s;
  guint number;
} SbTimeStretch;

/* A callout on a mean curve, as callout.h has it, at its point. */
typedef struct {
  guint configuration, index; /* which of its callouts */
  guint style;
  double x, y;
  double label[2];  /* from the point, in sizes of axis numbers */
  const char *text; /* borrowed from the bench */
} SbCalloutMark;

/* Of a stated figure that holds for every configuration. */
#define SB_LABEL_OF_ALL G_MAXUINT

/* The name of what a mean curve shows, at its point; where there is no room for it beside the curves, or the mean curve
 * does not reach its instant, the words go below the panels. */
typedef struct {
  SbLabelKind kind;
  guint configuration, style;
  double x, y;  /* NaN: nowhere on the chart; the words go below */
  double slope; /* of a tangent through the point, y per unit of x; else NaN */
  char *text;   /* "peak 12.30 N·m" */
  gboolean doubted;
  gboolean out_of_view; /* its point lies outside of what is shown: it is not drawn, and that is told */
} SbLabelMark;

/* An axis along x that is a panel's own, in place of the chart's. */
typedef struct {
  char *label; /* NULL: there is none */
  double low, high, factor;
} SbOwnAxis;

typedef struct {
  SbPanel panel;
  char *label;         /* "Torque [N·m]" */
  double y_min, y_max; /* values of what is drawn within the time range, a little air included; across in a spread */
  GArray *bands;       /* SbBandArea */
  GArray *curves;      /* SbCurve; thin ones first, fits last */
  GArray *marks;       /* SbMark */
  GArray *callouts;    /* SbCalloutMark */
  GArray *labels;      /* SbLabelMark */

  const char *derived; /* what it shows that is no channel as it is: "torque slope"; NULL: it is one, or a difference */
  gboolean is_path;    /* its curves lead anywhere: x may fall */
  SbOwnAxis x;
  gboolean difference; /* of the pair, not of single configurations */
  GArray *stretches;   /* SbTimeStretch, of a difference */

  /* Of spread, sweep and plan, in place of the above. */
  SbMeasureId measure;
  gboolean y_log; /* the values are on a logarithmic axis */
  GArray *points; /* SbPoint, by configuration and repeat */
  GArray *means;  /* SbMeanMark */
  GArray *rules;  /* SbRule */
  GPtrArray
      *notes;    /* char *, one for each row of a spread: why it has no figure, or few; "" when nothing is to be said */
  char *caption; /* a line above the panel; "" when none */
  char *brief;   /* in its place where panels are low; NULL: none */
} SbChartPanel;

typedef struct {
  guint configuration, style;
  char *text;                /* "Slope 0.3 (n = 8), rim 320 mm" */
  int series;                /* of a sweep: stands for a shape; -1: for a curve */
  gsize count_at, count_end; /* bytes of text before and up to the end of "(n = 8)"; both 0: it has none */
} SbLegendEntry;

typedef struct {
  SbAnalysis *analysis; /* kept: curves may point into it */
  int evidence;         /* SbMeasureId whose evidence is marked; -1: none */
  SbView view;
  SbPaper paper;           /* no width until it is set (sb_chart_model_set_paper); then white, in colours */
  char *title;             /* "" when none */
  gboolean title_is_above; /* the page that the picture stands on has it as its own: it is not painted */
  char *x_label;           /* "Time after the step [s]" or [ms]; of a sweep the setting; "" in a spread */
  double x_min, x_max;     /* s after the onset; levels in a sweep; % in a plan */
  gboolean x_log;          /* levels or shares on a logarithmic axis */
  double x_display_factor; /* axis number = s * factor */
  GPtrArray *panels;       /* SbChartPanel, top to bottom; empty: nothing to draw */
  char *absent_reason; /* why there is nothing to draw, a sentence; NULL when there is, or no configuration is drawn */
  GArray *rows;        /* SbRow, of a spread */
  GArray *legend;      /* SbLegendEntry */
  gboolean legend_gives_way; /* to the panels: of many names a few are drawn, and how many more there are */
  char *foot;                /* what the band is, how slopes were taken, the data's checksum */
  gpointer owned;            /* private */
  gatomicrefcount ref_count;
} SbChartModel;

/* The model of what the bench's choices ask for. `evidence` is the SbMeasureId whose evidence is marked (of the
 * first used trial of each drawn configuration), or -1. (transfer full) */
SbChartModel *sb_chart_model_new (SbAnalysis *analysis, int evidence);
/* The plan of repeats alone, of `measures` (bit mask, 1u << SbMeasureId), whatever the bench's view is. (transfer full)
 */
SbChartModel *sb_chart_model_new_plan (SbAnalysis *analysis, guint measures);

SbChartModel *sb_chart_model_ref (SbChartModel *model);
void sb_chart_model_unref (SbChartModel *model);

/* Without title, captions and foot, for a picture beside words that say as much; of a model that is not shared yet. */
void sb_chart_model_shorten (SbChartModel *model);

/* For a screen, where names can be read elsewhere; of a model that is not shared yet. */
void sb_chart_model_let_legend_give_way (SbChartModel *model);

/* Ground and colours of a model that is not shared yet: the screen shows charts on white, whatever is exported. */
void sb_chart_model_set_paper (SbChartModel *model, const SbPaper *paper);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SbChartModel, sb_chart_model_unref)

/* "Two panels ... 3 configurations, ...": what a screen reader says of the chart. (transfer full) */
char *sb_chart_model_describe (const SbChartModel *model);

/* "labels not drawn, as they lie outside what is shown: torque of Alder: peak 10.2 N·m": of the labels that were asked
 * for, which are not on the chart and why; NULL when all are. (transfer full) */
char *sb_chart_model_labels_left_out (const SbChartModel *model);

/* Drawn faint, behind the others. */
gboolean sb_chart_model_is_dimmed (const SbChartModel *model, guint configuration);

/* y of the drawn mean curve of `configuration` in `panel` at time x_s, linear; NaN where it is not drawn. */
double sb_chart_model_value_at (const SbChartModel *model, gsize panel, guint configuration, double x_s);
