/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the painters of the parts of a chart share; for the files of this folder and its tests only. */
#pragma once

#include "axis_scale.h"
#include "chart_painter.h"
#include "reduce.h"

#include <pango/pangocairo.h>

typedef enum {
  SB_TEXT_TICK,
  SB_TEXT_AXIS,
  SB_TEXT_VALUE, /* the turned name of a value axis, not broken within a word */
  SB_TEXT_LEGEND,
  SB_TEXT_TITLE,
  SB_TEXT_FOOT,
  SB_N_TEXTS,
} SbTextRole;

/* What a leader runs to: the sample at the head of a label, so long, in a line so high, pt; 0 of a callout's frame. */
typedef struct {
  double sample, line;
} SbLead;

/* A label or a callout that has its place. */
typedef struct {
  SbLabelMark *mark; /* borrowed from the model, not changed; NULL: it is a callout */
  gsize panel;
  double x, y; /* its point */
  SbRect box;  /* of its dash and words */
  SbLead lead;
  gboolean stacked;       /* its figures below one another */
  SbCalloutMark *callout; /* borrowed likewise */
  double widest;          /* its words, in sizes of axis numbers */
  gboolean below;         /* they are below the panels; the box is that of its ring */
} SbPlacedLabel;

/* One painting. Lengths of lines and gaps are multiples of `unit`, an eighth of the size of axis numbers, so that a
 * chart for a slide is a larger chart and not one with thinner lines. */
typedef struct {
  const SbChartModel *model;
  cairo_t *cr;
  PangoContext *fonts;
  PangoLayout *measured; /* used in turn for texts that only their size is asked of */
  double font_pt;
  double unit;
  double value_size;         /* of the names of value axes, as a share of their usual size (sb_page_fit_value_name) */
  GArray *labels;            /* SbPlacedLabel; NULL: the model has none */
  GArray *callouts;          /* SbPlacedLabel, of those in view; NULL: none has its place yet */
  GPtrArray *callouts_below; /* SbCalloutMark whose words are below */
  GPtrArray *below;          /* SbLabelMark of those that have no room */
  guint n_tried;             /* places for labels, in all */
  gboolean counts_below;     /* they are counted, not written out: the words would take too much of the panels */
  char *below_text;          /* and their words; NULL or "": none */
  GArray *boxes;             /* SbRect: where text was painted; NULL when nobody asks */
} SbPaint;

/* The axis along x of a panel. */
typedef struct {
  double low, high;
  double factor; /* number on the axis = value * factor */
  gboolean logarithmic;
  SbTicks ticks;     /* in the axis's numbers */
  const char *label; /* borrowed from the model */
  double label_y;    /* its top; NaN: the numbers stand below another panel */
} SbPageAxis;

/* Where everything goes. */
typedef struct {
  SbRect title, legend, below, foot; /* height 0: not there */
  SbRect plot[SB_CHART_MAX_PANELS];
  gsize n_plots;
  SbPageAxis x[SB_CHART_MAX_PANELS]; /* alike in all panels, unless the panels have axes of their own */
  double y_low[SB_CHART_MAX_PANELS], y_high[SB_CHART_MAX_PANELS];
  gboolean y_log[SB_CHART_MAX_PANELS];
  SbTicks y_ticks[SB_CHART_MAX_PANELS];
  double y_labels_right[SB_CHART_MAX_PANELS]; /* right edge of the turned labels */
  /* Of a spread, whose panels stand side by side: columns of them, the names at the left of each row of panels, and the
   * top of each value axis's label. The range of values is y_low to y_high, across. */
  guint columns;
  double names_width;
  int names_lines;
  double label_top[SB_CHART_MAX_PANELS];
  guint legend_columns, legend_shown;      /* shown: entries; the others are counted behind them */
  double legend_column_width, legend_room; /* room: for text */
  int legend_lines;
  gboolean legend_fits;
  gboolean legend_short; /* without settings */
  gboolean legend_moved; /* below, as a word of it is too wide for the right side */
  gboolean brief;        /* panels are low: brief captions where there are such */
} SbPage;

/* Numbers of a dash. */
#define SB_MAX_DASH 8

/* Smaller text is not read in print; journals ask for 5 to 7 pt. The foot is no smaller than this, as long as the axis
 * numbers are not. */
#define SB_LEAST_READ_PT 5.0

/* paint_text.c */
void sb_paint_begin (SbPaint *paint, const SbChartModel *model, cairo_t *cr);
void sb_paint_end (SbPaint *paint);
void sb_paint_set_font (SbPaint *paint, double font_pt);

/* Size of `text`, wrapped at `wrap` (<= 0: one line as long as it is) into `max_lines`, the rest cut with an ellipsis.
 */
void sb_text_measure (SbPaint *paint, SbTextRole role, const char *text, double wrap, int max_lines, double *width,
                      double *height);

/* The size that text of this role is set at now. */
double sb_text_pt (const SbPaint *paint, SbTextRole role);

/* Whether some of it is cut there. */
gboolean sb_text_is_cut (SbPaint *paint, SbTextRole role, const char *text, double wrap, int max_lines);

/* Paints with the top left at x, y; `align` 0: text begins at x, 0.5: x is its middle, 1: it ends at x. */
void sb_text_paint (SbPaint *paint, SbTextRole role, const char *text, double wrap, int max_lines, double x, double y,
                    double align);

/* One line in its box, on the chart's ground with `air` at either side, so that it can be read over lines. */
void sb_text_paint_on_ground (SbPaint *paint, SbTextRole role, const char *text, const SbRect *box, double air);

/* Paints reading upwards, centred on `middle_y`, its lower side at `right`. */
void sb_text_paint_upwards (SbPaint *paint, SbTextRole role, const char *text, double wrap, int max_lines, double right,
                            double middle_y);

/* The same words, kept together where a line should not end: between numbers and what they belong to, in "N·m/ms",
 * after the sign of a series; from byte `from` on, that of a legend's "(n = 8)", within it and each setting. (transfer
 * full) */
char *sb_text_keep_numbers (const char *text);
char *sb_text_keep_settings (const char *text, gsize from);

/* What is left of the page for panels while it is laid out. */
typedef struct {
  double left, width, top, bottom;
} SbFree;

/* page.c */
void sb_page_lay_out (SbPaint *paint, double width_pt, double height_pt, double font_pt, SbPage *page);

/* page_labels.c: finds places for labels on the page as laid out, which is laid out anew where words go below. */
void sb_page_lay_labels (SbPaint *paint, double width_pt, double height_pt, double font_pt, SbPage *page);
/* page_callouts.c: gives all callouts in view their places: where a person put them, else clear of curves and bands. */
void sb_page_place_callouts (SbPaint *paint, const SbPage *page);
/* Those that no one has moved. */
void sb_page_put_callouts_below (SbPaint *paint);
void sb_page_append_callouts_below (GString *text, const SbPaint *paint);
/* Of page.c, for them: everything but labels. */
void sb_page_lay_out_with (SbPaint *paint, double width_pt, double height_pt, double font_pt, SbPage *page);

/* Sets the names of value axes smaller where a word of this one would not fit beside its panel. Begins anew with
 * sb_paint_set_font(). */
void sb_page_fit_value_name (SbPaint *paint, const char *label, double panel_height);

/* The label of a value axis, its unit on a second line when the panel is lower than the label is long. (transfer full)
 */
char *sb_page_value_label (SbPaint *paint, const char *label, double panel_height);

/* Of page.c, for page_spread.c too. A range is widened to one that doubles can tell apart and ticks can be put on. */
double sb_page_lay_title (SbPaint *paint, SbPage *page, double left, double width, double top);
double sb_page_lay_foot (SbPaint *paint, SbPage *page, double left, double width, double bottom);
double sb_page_widest_label (SbPaint *paint, const SbTicks *ticks);
double sb_page_least_spacing (const SbTicks *ticks, const SbAxisScale *scale);

/* page_spread.c: one go with the present size of text. TRUE when everything has room; `may_cut`: when names are cut. */
gboolean sb_page_lay_out_spread (SbPaint *paint, double width_pt, double height_pt, gboolean may_cut, SbPage *page);

/* "Slope 0.3 (n = 8)" in so many lines of `room`, with the name cut where it is longer. (transfer full) */
char *sb_page_row_label (SbPaint *paint, const SbRow *row, double room, int lines);

/* page_apart.c: the same for panels that have axes of their own. */
gboolean sb_page_lay_out_apart (SbPaint *paint, double width_pt, double height_pt, SbPage *page);

/* page_legend.c: takes the legend's room from what is free, at the side where the paper has it. FALSE: it is too high
 * for its side. */
gboolean sb_page_lay_legend (SbPaint *paint, SbPage *page, SbFree *room);

/* What is written of an entry, its settings kept together. (transfer full) */
char *sb_legend_words (const SbPage *page, const SbLegendEntry *entry);

/* As high as the highest entry of the row, with the gap to the next. */
double sb_legend_row_height (SbPaint *paint, const SbPage *page, guint row);

/* Of page.c, for page_apart.c too. Numbers of axis `x`, as many as fit side by side from `left` to `end`; returns the
 * margin before `end` that half of the last number needs. Then those of value axis i, and the width of the widest. */
double sb_page_lay_x_ticks (SbPaint *paint, SbPageAxis *x, double left, double end);
double sb_page_lay_y_ticks (SbPaint *paint, SbPage *page, gsize i, double height);

/* Scales of panel i; the one of time takes s. */
SbAxisScale sb_page_x_scale (const SbPage *page, gsize i);
SbAxisScale sb_page_y_scale (const SbPage *page, gsize i);

/* The parts, in the order in which they are painted. */
void sb_paint_stretches (SbPaint *paint, const SbPage *page, gsize i);
void sb_paint_stretch_numbers (SbPaint *paint, const SbPage *page, gsize i);
void sb_paint_grid (SbPaint *paint, const SbPage *page, gsize i);
void sb_paint_bands (SbPaint *paint, const SbPage *page, gsize i);
void sb_paint_curves (SbPaint *paint, const SbPage *page, gsize i);
void sb_paint_marks (SbPaint *paint, const SbPage *page, gsize i);
void sb_paint_axes (SbPaint *paint, const SbPage *page, gsize i);

/* Panel i of a spread, whole. */
void sb_paint_spread (SbPaint *paint, const SbPage *page, gsize i);

/* Lines of the data, then points and means of panel i. `across`: values run along x. */
void sb_paint_rules (SbPaint *paint, gsize i, const SbAxisScale *at, const SbAxisScale *value, gboolean across);
void
sb_paint_rule_labels (SbPaint *paint, const SbPage *page, gsize i, const SbAxisScale *at, const SbAxisScale *value);
void sb_paint_points (SbPaint *paint, gsize i, const SbAxisScale *at, const SbAxisScale *value, gboolean across);

/* How the line of a stated figure is drawn. */
extern const SbStyle sb_stated_style;

/* The shape of a series, its outline as a path. */
void sb_paint_shape (cairo_t *cr, guint series, double x, double y, double radius);
/* The same as a mean has it in a sweep: its repeats are seen within. */
void sb_paint_ring (SbPaint *paint, guint series, SbColour colour, double x, double y);
void sb_paint_legend (SbPaint *paint, const SbPage *page);

/* 1, or the opacity of what is dimmed. */
double sb_paint_faintness (const SbPaint *paint, const SbChartPanel *panel, guint configuration);

/* The words of a label, in a line or below one another. (transfer full) */
char *sb_label_words (const SbLabelMark *mark, gboolean stacked);
/* Length of a label up to its words, in sizes of axis numbers: the sample of its dash, and a gap. */
double sb_label_sample (const SbLabelMark *mark);
SbLead sb_label_lead (SbPaint *paint, const SbLabelMark *mark);

/* paint_labels.c. How far a tangent goes from its point; FALSE: there is none, as its slope is NaN. */
gboolean
sb_paint_tangent_reach (const SbPaint *paint, const SbPage *page, gsize i, double slope, double *dx, double *dy);
void sb_paint_label_tangents (SbPaint *paint, const SbPage *page, gsize i);
void sb_paint_labels (SbPaint *paint, gsize i, SbChartLayout *layout);

/* paint_ink.c: curves and bands of very many points, straight onto the pixels, in the source that is set or `look`.
 * Lengths in units. `dash` may be NULL; it is left out when the line goes up and down by more than `restless` times the
 * plot's width. FALSE when they are few enough for a path, or the picture has no pixels: nothing is painted then. */
typedef struct {
  SbColour colour;
  double area_alpha, edge_alpha, edge_width;
} SbBandInk;
gboolean sb_paint_ink_curve (SbPaint *paint, const SbPage *page, gsize i, const SbCurve *curve, double width,
                             const SbStyle *dash, double restless);
gboolean sb_paint_ink_band (SbPaint *paint, const SbPage *page, gsize i, const SbBandArea *band, const SbBandInk *look);

void sb_paint_callouts (SbPaint *paint, gsize i, SbChartLayout *layout);

/* Of what is laid over curves: a colour that no configuration has. */
extern const SbColour sb_paint_ink;

/* The colour, chosen for a white ground, as it is on the model's own. */
void sb_paint_source (SbPaint *paint, SbColour colour, double alpha);

/* Sets colour and width of the coming line; width in units. */
void sb_paint_pen (SbPaint *paint, SbColour colour, double alpha, double width);
void sb_paint_dash (SbPaint *paint, const SbStyle *style, double width);

/* A sample of the line, `length` pt long from x on: whole periods of its dash, two or more. */
void sb_paint_sample (SbPaint *paint, const SbStyle *style, double width, double x, double y, double length);

/* paint_device.c */
double sb_paint_px_per_pt (cairo_t *cr);
void sb_paint_clip (cairo_t *cr, const SbRect *rect); /* in a picture of pixels to whole ones: the nearest */
SbColumns sb_paint_columns (cairo_t *cr, const SbPage *page, gsize i);
double sb_paint_tolerance (cairo_t *cr);                     /* how far, in pt, a line may pass a point */
double sb_paint_at (const SbAxisScale *scale, double value); /* kept where cairo can count */

/* The text's gap to the lines around it, legend and page: multiples of the size of axis numbers. */
#define SB_PAGE_MARGIN 0.9
#define SB_TICK_LENGTH 0.38
#define SB_TICK_GAP    0.32

/* Length of a legend entry up to its text. */
#define SB_LEGEND_SAMPLE     4.2
#define SB_LEGEND_ROW_GAP    0.3
#define SB_LEGEND_HAIR       0.05 /* more room than was measured: rounding must not wrap an entry */
#define SB_TITLE_LINES       3
#define SB_VALUE_LABEL_LINES 3 /* beside a low panel: the name in two, then the unit */
#define SB_BELOW_LINES       40

/* Of a callout: its words are no wider where they have the room, in no more lines, and so far from the frame. */
#define SB_CALLOUT_WIDEST 16.0
#define SB_CALLOUT_LINES  4
#define SB_CALLOUT_AIR    0.35

#define SB_FOOT_LINES 6

/* Above a panel: more lines than a caption has, as none of its numbers may be cut. What the panel lacks then is asked
 * of the size of text, and told (chart_fit.h). */
#define SB_CAPTION_LINES 40
#define SB_CAPTION_GAP   0.3

/* What stands above the panel. Borrowed. */
const char *sb_page_caption (const SbPage *page, const SbChartPanel *panel);

/* Of a spread: from the names to the axis, from the numbers to the label. */
#define SB_NAMES_GAP       0.9
#define SB_LABEL_LINES     2
#define SB_VALUE_LABEL_GAP 0.15

/* Lines of the axes and behind the data. */
#define SB_AXIS_WIDTH 0.7
#define SB_GRID_WIDTH 0.5
extern const SbColour sb_axis_colour, sb_grid_colour, sb_zero_colour;

/* sb_chart_paint(), noting where text went. `boxes` of SbRect, or NULL. */
void sb_chart_paint_noting (const SbChartModel *model, cairo_t *cr, double width_pt, double height_pt, double font_pt,
                            SbChartLayout *layout, GArray *boxes);
