/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where the parts of a chart go: title, legend, panels, foot line from top to bottom; nothing over anything else. */
#include "paint.h"

#include <math.h>
#include <string.h>

/* All in sizes of axis numbers. */
#define MARGIN         SB_PAGE_MARGIN
#define TITLE_GAP      0.5
#define PANEL_GAP      1.5
#define CAPTION_MARGIN 0.9
#define LABEL_GAP      0.5
#define FOOT_GAP       0.7
#define Y_TICK_SPACING 2.6
#define X_TICK_SPACING 4.5

/* A value axis has so many numbers, though they stand closer, down to so many lines apart. */
#define FEWEST_NUMBERS     3
#define MOST_TRIED_NUMBERS 8
#define NUMBERS_APART      1.15

#define SMALLEST_HEIGHT 4.5
#define SMALLEST_WIDTH  8.0
#define LOW_HEIGHT      9.0 /* brief captions below */

/* Names of value axes beside low panels: no smaller than this share of their size, and a hair less than the panel. */
#define SMALLEST_NAME 0.6
#define WORD_SLACK    0.99

#define DIFFERENCE_WEIGHT 1.5 /* a response has 1 */

/* A size at which the plots get too small is tried again with smaller text. */
#define SHRINK     0.86
#define MAX_SHRINK 24

/* From this try on a spread may cut its names. */
#define CUT_FROM 3

SbAxisScale
sb_page_x_scale (const SbPage *page, gsize i)
{
  return (SbAxisScale){ page->x[i].low, page->x[i].high, page->plot[i].x, page->plot[i].x + page->plot[i].width,
                        page->x[i].logarithmic };
}

SbAxisScale
sb_page_y_scale (const SbPage *page, gsize i)
{
  return (SbAxisScale){ page->y_low[i], page->y_high[i], page->plot[i].y + page->plot[i].height, page->plot[i].y,
                        page->y_log[i] };
}

/* Ranges that doubles can tell apart and ticks can be put on. */
static void
set_range (double low, double high, double *set_low, double *set_high)
{
  double least = 1e-11 * fmax (fabs (low), fabs (high));
  if (!isfinite (low) || !isfinite (high) || !isfinite (high - low)) {
    low = 0;
    high = 1;
  } else if (!(high - low > least)) {
    double middle = (low + high) / 2;
    low = middle - fmax (least, 1e-300);
    high = middle + fmax (least, 1e-300);
  }
  *set_low = low;
  *set_high = high;
}

double
sb_page_widest_label (SbPaint *paint, const SbTicks *ticks)
{
  double widest = 0;
  for (gint64 i = ticks->first; i <= ticks->last; i++) {
    g_autofree char *label = sb_ticks_label (ticks, i);
    double width, height;
    sb_text_measure (paint, SB_TEXT_TICK, label, 0, 1, &width, &height);
    widest = fmax (widest, width);
  }
  return widest;
}

double
sb_page_lay_title (SbPaint *paint, SbPage *page, double left, double width, double top)
{
  const char *title = paint->model->title;
  page->title = (SbRect){ left, top, width, 0 };
  if (title[0] == '\0' || paint->model->title_is_above)
    return top;
  double text_width;
  sb_text_measure (paint, SB_TEXT_TITLE, title, width, SB_TITLE_LINES, &text_width, &page->title.height);
  return top + page->title.height + TITLE_GAP * paint->font_pt;
}

double
sb_page_lay_foot (SbPaint *paint, SbPage *page, double left, double width, double bottom)
{
  double text_width, top = bottom;
  page->foot = page->below = (SbRect){ left, bottom, width, 0 };
  if (paint->model->foot[0] != '\0' && !paint->model->paper.no_foot) {
    g_autofree char *text = sb_text_keep_numbers (paint->model->foot);
    sb_text_measure (paint, SB_TEXT_FOOT, text, width, SB_FOOT_LINES, &text_width, &page->foot.height);
    top = page->foot.y = bottom - page->foot.height;
  }
  if (paint->below_text != NULL && paint->below_text[0] != '\0') {
    g_autofree char *text = sb_text_keep_numbers (paint->below_text);
    sb_text_measure (paint, SB_TEXT_FOOT, text, width, SB_BELOW_LINES, &text_width, &page->below.height);
    top = page->below.y = top - page->below.height;
  }
  return top < bottom ? top - FOOT_GAP * paint->font_pt : bottom;
}

double
sb_page_least_spacing (const SbTicks *ticks, const SbAxisScale *scale)
{
  double least = HUGE_VAL;
  for (gint64 k = ticks->first; k < ticks->last; k++)
    least = fmin (least, fabs (sb_axis_scale_at (scale, sb_ticks_value (ticks, k + 1))
                               - sb_axis_scale_at (scale, sb_ticks_value (ticks, k))));
  return least;
}

static SbTicks
make_ticks (double low, double high, int max_n, gboolean logarithmic)
{
  return logarithmic ? sb_ticks_new_log (low, high, max_n) : sb_ticks_new (low, high, max_n);
}

double
sb_page_lay_x_ticks (SbPaint *paint, SbPageAxis *x, double left, double end)
{
  double font = paint->font_pt, margin = MARGIN * font, low = x->low * x->factor, high = x->high * x->factor;
  int n = (int) fmax (2, floor ((end - left) / (X_TICK_SPACING * font)) + 1);
  for (;; n--) {
    x->ticks = make_ticks (low, high, n, x->logarithmic);
    double label = sb_page_widest_label (paint, &x->ticks), right = fmax (margin, label / 2 + 0.5 * font);
    SbAxisScale scale = { low, high, left, end - right, x->logarithmic };
    if (sb_page_least_spacing (&x->ticks, &scale) > label + font)
      return right;
    if (n <= 2) { /* one number is better than two that run together */
      x->ticks.last = x->ticks.first;
      return right;
    }
  }
}

/* Of a logarithmic axis the numbers of a decade draw together towards its end: fewer, where they would touch. */
static SbTicks
value_ticks (SbPaint *paint, const SbPage *page, gsize i, double height, int n)
{
  double unused, line;
  SbAxisScale scale = { page->y_low[i], page->y_high[i], height, 0, page->y_log[i] };
  sb_text_measure (paint, SB_TEXT_TICK, "0", 0, 1, &unused, &line);
  SbTicks ticks = make_ticks (page->y_low[i], page->y_high[i], n, page->y_log[i]);
  for (int more = n + 1; !page->y_log[i] && ticks.last - ticks.first + 1 < FEWEST_NUMBERS && more <= MOST_TRIED_NUMBERS;
       more++) {
    SbTicks denser = make_ticks (page->y_low[i], page->y_high[i], more, FALSE);
    if (sb_page_least_spacing (&denser, &scale) >= NUMBERS_APART * line)
      ticks = denser;
  }
  for (; page->y_log[i] && n > 1 && sb_page_least_spacing (&ticks, &scale) < line; n--)
    ticks = make_ticks (page->y_low[i], page->y_high[i], n - 1, TRUE);
  return ticks;
}

double
sb_page_lay_y_ticks (SbPaint *paint, SbPage *page, gsize i, double height)
{
  int n = (int) fmax (3, floor (height / (Y_TICK_SPACING * paint->font_pt)) + 1);
  page->y_ticks[i] = value_ticks (paint, page, i, height, n);
  return sb_page_widest_label (paint, &page->y_ticks[i]);
}

/* Of the longest piece that is not broken, at the usual size. */
static double
longest_word (SbPaint *paint, const char *label)
{
  g_auto (GStrv) words = g_strsplit (label, " ", -1);
  double longest = 0, width, height;
  for (gsize k = 0; words[k] != NULL; k++) {
    sb_text_measure (paint, SB_TEXT_VALUE, words[k], 0, 1, &width, &height);
    longest = fmax (longest, width / paint->value_size);
  }
  return longest;
}

void
sb_page_fit_value_name (SbPaint *paint, const char *label, double panel_height)
{
  double longest = longest_word (paint, label);
  if (longest * paint->value_size > panel_height)
    paint->value_size = fmax (WORD_SLACK * panel_height / longest, SMALLEST_NAME);
}

char *
sb_page_value_label (SbPaint *paint, const char *label, double panel_height)
{
  double width, height;
  sb_text_measure (paint, SB_TEXT_VALUE, label, 0, 1, &width, &height);
  const char *unit = strrchr (label, '[');
  if (width <= panel_height || unit == NULL || unit == label)
    return g_strdup (label);
  g_autofree char *name = g_strndup (label, (gsize) (unit - 1 - label));
  return g_strdup_printf ("%s\n%s", name, unit);
}

/* Of the height of all panels: a difference is what its view is for, the responses are there to tell of what. */
static double
share_of_height (const SbPaint *paint, gsize i)
{
  double sum = 0, own = 1;
  for (guint k = 0; k < paint->model->panels->len; k++) {
    const SbChartPanel *panel = g_ptr_array_index (paint->model->panels, k);
    double weight = panel->difference ? DIFFERENCE_WEIGHT : 1;
    sum += weight;
    own = k == i ? weight : own;
  }
  return own / sum;
}

/* Width across of the turned labels. */
static double
label_depth (SbPaint *paint, double all_heights)
{
  double deepest = 0;
  paint->value_size = 1;
  for (guint i = 0; i < paint->model->panels->len; i++)
    sb_page_fit_value_name (paint, ((SbChartPanel *) g_ptr_array_index (paint->model->panels, i))->label,
                            share_of_height (paint, i) * all_heights);
  for (guint i = 0; i < paint->model->panels->len; i++) {
    const SbChartPanel *panel = g_ptr_array_index (paint->model->panels, i);
    double panel_height = share_of_height (paint, i) * all_heights;
    g_autofree char *label = sb_page_value_label (paint, panel->label, panel_height);
    double width, height;
    sb_text_measure (paint, SB_TEXT_VALUE, label, panel_height, SB_VALUE_LABEL_LINES, &width, &height);
    deepest = fmax (deepest, height);
  }
  return deepest;
}

const char *
sb_page_caption (const SbPage *page, const SbChartPanel *panel)
{
  return page->brief && panel->brief != NULL ? panel->brief : panel->caption;
}

/* Room above panel i for its caption; 0 when it has none. */
static double
caption_room (SbPaint *paint, const SbPage *page, gsize i, double width)
{
  const SbChartPanel *panel = g_ptr_array_index (paint->model->panels, (guint) i);
  double unused, height;
  if (panel->caption[0] == '\0')
    return 0;
  g_autofree char *caption = sb_text_keep_numbers (sb_page_caption (page, panel));
  sb_text_measure (paint, SB_TEXT_TICK, caption, width, SB_CAPTION_LINES, &unused, &height);
  return height + SB_CAPTION_GAP * paint->font_pt;
}

/* What lies above panel i, between it and the one before it. */
static double
room_above (SbPaint *paint, const SbPage *page, gsize i, double width)
{
  double caption = caption_room (paint, page, i, width);
  return i == 0 ? caption : caption > 0 ? caption + CAPTION_MARGIN * paint->font_pt : PANEL_GAP * paint->font_pt;
}

static gboolean
is_low (const SbPaint *paint, const SbPage *page)
{
  for (gsize i = 0; i < page->n_plots; i++)
    if (((SbChartPanel *) g_ptr_array_index (paint->model->panels, (guint) i))->brief != NULL
        && page->plot[i].height < LOW_HEIGHT * paint->font_pt)
      return TRUE;
  return FALSE;
}

/* One go with the present size of text and the plots' left edge as guessed; TRUE when the guess holds, else the new
 * left edge is in *left. */
static gboolean
lay_out_once (SbPaint *paint, double width_pt, double height_pt, SbPage *page, double *left)
{
  double font = paint->font_pt, margin = MARGIN * font, unused, line;
  double inner = fmax (width_pt - *left - margin, 1);
  double top = sb_page_lay_title (paint, page, *left, inner, margin);
  double bottom = sb_page_lay_foot (paint, page, margin, fmax (width_pt - 2 * margin, 1), height_pt - margin);
  SbFree room = { *left, inner, top, bottom };
  page->legend_fits = sb_page_lay_legend (paint, page, &room);
  double end = width_pt - (inner - room.width);
  inner = room.width;
  top = room.top;
  bottom = room.bottom;

  sb_text_measure (paint, SB_TEXT_AXIS, paint->model->x_label, inner, 1, &unused, &line);
  double label_y = bottom - line;
  sb_text_measure (paint, SB_TEXT_TICK, "0", 0, 1, &unused, &line);
  bottom = label_y - line - (SB_TICK_LENGTH + SB_TICK_GAP) * font;

  /* Half a number stands above the top panel's edge. */
  top += 0.3 * font;
  double above = 0;
  for (gsize i = 0; i < page->n_plots; i++)
    above += room_above (paint, page, i, inner);
  double heights = fmax (bottom - top - above, (double) page->n_plots);
  double numbers = 0, labels_right = margin + label_depth (paint, heights);
  for (gsize i = 0; i < page->n_plots; i++)
    numbers = fmax (numbers, sb_page_lay_y_ticks (paint, page, i, share_of_height (paint, i) * heights));
  double new_left = labels_right + LABEL_GAP * font + numbers + (SB_TICK_LENGTH + SB_TICK_GAP) * font;
  double right = sb_page_lay_x_ticks (paint, &page->x[0], new_left, end);
  double width = fmax (end - new_left - right, 1);
  for (gsize i = 0; i < page->n_plots; i++) {
    double height = share_of_height (paint, i) * heights;
    top += room_above (paint, page, i, inner);
    page->plot[i] = (SbRect){ new_left, top, width, height };
    page->y_labels_right[i] = labels_right;
    page->x[i] = page->x[0];
    page->x[i].label_y = NAN;
    top += height;
  }
  if (page->n_plots > 0)
    page->x[page->n_plots - 1].label_y = label_y;
  gboolean holds = fabs (new_left - *left) < 0.01;
  *left = new_left;
  return holds;
}

/* With the present size of text. */
static void
lay_out_rows (SbPaint *paint, double width_pt, double height_pt, SbPage *page)
{
  page->brief = FALSE;
  for (int pass = 0; pass < 2; pass++) {
    double left = 6 * paint->font_pt;
    for (int guess = 0; guess < 4; guess++)
      if (lay_out_once (paint, width_pt, height_pt, page, &left))
        break;
    if (page->brief || !is_low (paint, page))
      return;
    page->brief = TRUE;
  }
}

/* `panel` NULL: the chart's own. */
static void
set_x_axis (const SbChartModel *model, const SbChartPanel *panel, SbPageAxis *x)
{
  static const SbOwnAxis none = { 0 };
  const SbOwnAxis *own = panel != NULL ? &panel->x : &none;
  *x = (SbPageAxis){ .label_y = NAN };
  x->label = own->label != NULL ? own->label : model->x_label;
  x->factor = own->label != NULL ? own->factor : model->x_display_factor;
  x->logarithmic = own->label == NULL && model->x_log;
  set_range (own->label != NULL ? own->low : model->x_min, own->label != NULL ? own->high : model->x_max, &x->low,
             &x->high);
}

void
sb_page_lay_out (SbPaint *paint, double width_pt, double height_pt, double font_pt, SbPage *page)
{
  sb_page_lay_out_with (paint, width_pt, height_pt, font_pt, page);
  sb_page_lay_labels (paint, width_pt, height_pt, font_pt, page);
}

void
sb_page_lay_out_with (SbPaint *paint, double width_pt, double height_pt, double font_pt, SbPage *page)
{
  const SbChartModel *model = paint->model;
  *page = (SbPage){ .n_plots = MIN (model->panels->len, SB_CHART_MAX_PANELS) };
  for (gsize i = 0; i < page->n_plots; i++) {
    const SbChartPanel *panel = g_ptr_array_index (model->panels, (guint) i);
    set_range (panel->y_min, panel->y_max, &page->y_low[i], &page->y_high[i]);
    page->y_log[i] = panel->y_log;
    set_x_axis (model, panel, &page->x[i]);
  }
  if (page->n_plots == 0)
    set_x_axis (model, NULL, &page->x[0]);
  for (int attempt = 0; attempt < MAX_SHRINK; attempt++) {
    sb_paint_set_font (paint, font_pt * pow (SHRINK, attempt));
    if (model->view == SB_VIEW_SPREAD) {
      if (sb_page_lay_out_spread (paint, width_pt, height_pt, attempt >= CUT_FROM, page))
        return;
      continue;
    }
    if (page->n_plots > 0 && ((SbChartPanel *) g_ptr_array_index (model->panels, 0))->x.label != NULL) {
      if (sb_page_lay_out_apart (paint, width_pt, height_pt, page))
        return;
      continue;
    }
    lay_out_rows (paint, width_pt, height_pt, page);
    if (page->n_plots == 0
        || (page->legend_fits && page->plot[0].height >= SMALLEST_HEIGHT * paint->font_pt
            && page->plot[0].width >= SMALLEST_WIDTH * paint->font_pt))
      return;
  }
}
