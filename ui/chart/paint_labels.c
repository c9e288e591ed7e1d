/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Labels: a dot on the point, a thin leader in the configuration's colour, a sample of its dash before the words. */
#include "page_room.h"

#include <math.h>

#define LEADER_WIDTH  0.6
#define SAMPLE_WIDTH  1.3
#define TANGENT_WIDTH 0.9
#define DOT_RADIUS    1.6

/* In sizes of axis numbers: the length of the sample, that of a long dash, and the gap to the
 * words. */
#define SAMPLE_LENGTH 1.9
#define LONG_SAMPLE   2.6
#define SAMPLE_GAP    0.4

/* In line widths: a dash that comes again no sooner takes the long sample. */
#define LONG_PERIOD 8.0

/* Half length of a tangent, units. */
#define TANGENT_REACH 26.0
#define TANGENT_SHARE 0.28 /* of the plot's height, at most */

gboolean
sb_paint_tangent_reach (const SbPaint *paint, const SbPage *page, gsize i, double slope, double *dx, double *dy)
{
  SbAxisScale x = sb_page_x_scale (page, i), y = sb_page_y_scale (page, i);
  double rise = slope * (y.at_high - y.at_low) / (y.high - y.low);
  double run = (x.at_high - x.at_low) / (x.high - x.low), length = hypot (rise, run);
  if (!(length > 0) || !isfinite (length))
    return FALSE;
  double reach = fmin (TANGENT_REACH * paint->unit, TANGENT_SHARE * page->plot[i].height);
  *dx = reach * run / length;
  *dy = reach * rise / length;
  return TRUE;
}

void
sb_paint_label_tangents (SbPaint *paint, const SbPage *page, gsize i)
{
  for (guint k = 0; paint->labels != NULL && k < paint->labels->len; k++) {
    const SbPlacedLabel *label = &g_array_index (paint->labels, SbPlacedLabel, k);
    double dx, dy;
    if (label->panel != i || !sb_paint_tangent_reach (paint, page, i, label->mark->slope, &dx, &dy))
      continue;
    cairo_move_to (paint->cr, label->x - dx, label->y - dy);
    cairo_line_to (paint->cr, label->x + dx, label->y + dy);
    sb_paint_pen (paint, sb_paint_ink, 1, TANGENT_WIDTH);
    cairo_stroke (paint->cr);
  }
}

static const SbStyle *
style_of (const SbLabelMark *mark)
{
  return mark->style == SB_STYLE_INK ? &sb_stated_style : sb_style_get (mark->style);
}

static double
sample_length (const SbStyle *style)
{
  double period = 0;
  for (int i = 0; i < style->n_dash; i++)
    period += style->dash[i];
  return period > LONG_PERIOD ? LONG_SAMPLE : SAMPLE_LENGTH;
}

double
sb_label_sample (const SbLabelMark *mark)
{
  return sample_length (style_of (mark)) + SAMPLE_GAP;
}

SbLead
sb_label_lead (SbPaint *paint, const SbLabelMark *mark)
{
  double unused, line;
  sb_text_measure (paint, SB_TEXT_TICK, "0", 0, 1, &unused, &line);
  return (SbLead){ sample_length (style_of (mark)) * paint->font_pt, line };
}

static void
paint_label (SbPaint *paint, const SbPlacedLabel *label)
{
  const SbStyle *style = style_of (label->mark);
  const SbRect *box = &label->box;
  cairo_t *cr = paint->cr;
  double font = paint->font_pt, middle = box->y + label->lead.line / 2;
  SbSpot end = sb_leader_end (box, label->lead, label->x, label->y);
  cairo_move_to (cr, label->x, label->y);
  cairo_line_to (cr, end.x, end.y);
  sb_paint_pen (paint, style->colour, 1, LEADER_WIDTH);
  cairo_stroke (cr);
  if (paint->model->view != SB_VIEW_RINGING) { /* whose arrow heads are there */
    cairo_new_path (cr);
    cairo_arc (cr, label->x, label->y, DOT_RADIUS * paint->unit, 0, 2 * G_PI);
    sb_paint_source (paint, style->colour, 1);
    cairo_fill (cr);
  }
  sb_paint_pen (paint, style->colour, 1, SAMPLE_WIDTH);
  sb_paint_sample (paint, style, SAMPLE_WIDTH, box->x, middle, sample_length (style) * font);
  g_autofree char *words = sb_label_words (label->mark, label->stacked);
  sb_text_paint (paint, SB_TEXT_TICK, words, 0, 1, box->x + sb_label_sample (label->mark) * font, box->y, 0);
}

void
sb_paint_labels (SbPaint *paint, gsize i, SbChartLayout *layout)
{
  for (guint k = 0; paint->labels != NULL && k < paint->labels->len; k++) {
    const SbPlacedLabel *label = &g_array_index (paint->labels, SbPlacedLabel, k);
    if (label->panel != i)
      continue;
    paint_label (paint, label);
    if (layout != NULL && layout->n_labels < SB_CHART_MAX_LABELS)
      layout->label[layout->n_labels++] = (SbLabelPlace){ i, label->x, label->y, label->box };
  }
}
