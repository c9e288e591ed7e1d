/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What was stated, beside its line: where it hides no figure, or else the verdict alone. */
#include "model_parts.h"
#include "paint.h"

#include <math.h>

/* In a row of a spread. */
#define LABEL_PLACE 0.82

/* In sizes of axis numbers. */
#define LABEL_GAP 0.4
#define LINE_GAP  0.1

/* A figure's mark reaches so far beyond its middle. */
#define FIGURE_AIR 0.35

/* And the middle of its question mark is so far from there. */
#define DOUBT_ASIDE 0.9
#define DOUBT_ABOVE 0.6

#define LABEL_ROWS 3

typedef struct {
  SbPaint *paint;
  const SbRect *plot;
  const SbChartPanel *panel;
  const SbAxisScale *at, *value;
  GArray *placed;    /* SbRect: labels of this panel so far */
  gboolean on_lines; /* there is no room beside them */
} Labels;

static SbRect
box_of (const Labels *labels, const char *text)
{
  SbRect box = { 0 };
  sb_text_measure (labels->paint, SB_TEXT_FOOT, text, 0, 1, &box.width, &box.height);
  return box;
}

static gboolean
contains (const SbRect *box, double x, double y)
{
  return x >= box->x && x <= box->x + box->width && y >= box->y && y <= box->y + box->height;
}

static gboolean
is_inside (const Labels *labels, const SbRect *box)
{
  const SbRect *plot = labels->plot;
  return box->x >= plot->x && box->x + box->width <= plot->x + plot->width && box->y >= plot->y
         && box->y + box->height <= plot->y + plot->height;
}

/* Some level line of what is stated goes through it. */
static gboolean
is_on_line (const Labels *labels, const SbRect *box)
{
  for (guint k = 0; labels->paint->model->view != SB_VIEW_SPREAD && k < labels->panel->rules->len; k++) {
    const SbRule *rule = &g_array_index (labels->panel->rules, SbRule, k);
    if (rule->upright || fabs (rule->slope) > 0)
      continue;
    double y = sb_paint_at (labels->value, rule->intercept);
    if ((rule->kind == SB_RULE_STATED || rule->kind == SB_RULE_TOLERANCE) && y > box->y && y < box->y + box->height)
      return TRUE;
  }
  return FALSE;
}

static gboolean
is_free (const Labels *labels, const SbRect *box)
{
  if (!labels->on_lines && is_on_line (labels, box))
    return FALSE;
  for (guint i = 0; i < labels->placed->len; i++) {
    const SbRect *other = &g_array_index (labels->placed, SbRect, i);
    if (box->x < other->x + other->width && other->x < box->x + box->width && box->y < other->y + other->height
        && other->y < box->y + box->height)
      return FALSE;
  }
  return is_inside (labels, box);
}

/* Of a sweep: whether a repeat or a mean lies under the box. */
static gboolean
hides_figure (const Labels *labels, const SbRect *box)
{
  double font = labels->paint->font_pt, air = FIGURE_AIR * font;
  SbRect with_air = { box->x - air, box->y - air, box->width + 2 * air, box->height + 2 * air };
  for (guint i = 0; i < labels->panel->points->len; i++) {
    const SbPoint *point = &g_array_index (labels->panel->points, SbPoint, i);
    if (contains (&with_air, sb_paint_at (labels->at, point->at) + point->aside * font,
                  sb_paint_at (labels->value, point->value)))
      return TRUE;
  }
  for (guint i = 0; i < labels->panel->means->len; i++) {
    const SbMeanMark *mark = &g_array_index (labels->panel->means, SbMeanMark, i);
    double x = sb_paint_at (labels->at, mark->at), y = sb_paint_at (labels->value, mark->mean);
    gboolean on_sign = mark->doubted && contains (&with_air, x + DOUBT_ASIDE * font, y - DOUBT_ABOVE * font);
    if (on_sign || contains (&with_air, x, y))
      return TRUE;
  }
  return FALSE;
}

static void
paint_label (Labels *labels, const char *text, SbRect box)
{
  SbPaint *paint = labels->paint;
  g_array_append_val (labels->placed, box);
  sb_text_paint_on_ground (paint, SB_TEXT_FOOT, text, &box, LINE_GAP * paint->font_pt);
}

/* What the figures of a row take up across. */
static void
extent_of_row (const Labels *labels, double row, double *left, double *right)
{
  double lowest = HUGE_VAL, highest = -HUGE_VAL, air = 0.6 * labels->paint->font_pt;
  gboolean doubted = FALSE; /* a question mark stands at the right of it */
  for (guint i = 0; i < labels->panel->points->len; i++) {
    const SbPoint *point = &g_array_index (labels->panel->points, SbPoint, i);
    if (point->at > row && point->at < row + 1) {
      lowest = fmin (lowest, point->value);
      highest = fmax (highest, point->value);
      doubted = doubted || point->doubted;
    }
  }
  for (guint i = 0; i < labels->panel->means->len; i++) {
    const SbMeanMark *mark = &g_array_index (labels->panel->means, SbMeanMark, i);
    if (mark->at > row && mark->at < row + 1 && !isnan (mark->low)) {
      lowest = fmin (lowest, mark->low);
      highest = fmax (highest, mark->high);
      doubted = doubted || mark->doubted;
    }
  }
  *left = sb_paint_at (labels->value, lowest) - air;
  *right = sb_paint_at (labels->value, highest) + (doubted ? 2.5 : 1) * air;
}

/* Right or left of the line, clear of the figures. */
static gboolean
try_in_row (Labels *labels, const SbRule *rule, const char *text, double left, double right)
{
  SbRect box = box_of (labels, text);
  double gap = LABEL_GAP * labels->paint->font_pt, line = sb_paint_at (labels->value, rule->intercept);
  gboolean amid = line > left && line < right;
  double places[] = { amid ? right : line + gap, (amid ? left : line - gap) - box.width };
  box.y = sb_axis_scale_at (labels->at, rule->at[0] + LABEL_PLACE) - box.height / 2;
  for (gsize i = 0; i < G_N_ELEMENTS (places); i++) {
    box.x = places[i];
    if ((box.x >= right || box.x + box.width <= left) && is_free (labels, &box)) {
      paint_label (labels, text, box);
      return TRUE;
    }
  }
  return FALSE;
}

/* Left, right or between, above or below the line, next to it or farther where lines lie on one another. */
static gboolean
try_at_level (Labels *labels, const SbRule *rule, const char *text)
{
  SbRect box = box_of (labels, text);
  double font = labels->paint->font_pt, line = sb_paint_at (labels->value, rule->intercept);
  double left = labels->plot->x + LABEL_GAP * font, room = labels->plot->width - 2 * LABEL_GAP * font - box.width;
  double ends[] = { left, left + room, left + room / 2, left + room / 4, left + room * 3 / 4 };
  for (gsize e = 0; e < G_N_ELEMENTS (ends); e++)
    for (int k = 0; k < 2 * LABEL_ROWS; k++) {
      double away = k / 2 * box.height + LINE_GAP * font;
      box.x = ends[e];
      box.y = k % 2 == 0 ? line - away - box.height : line + away;
      if (is_free (labels, &box) && !hides_figure (labels, &box)) {
        paint_label (labels, text, box);
        return TRUE;
      }
    }
  return FALSE;
}

/* What the box would hide of the panel's curves: the share of its width that they cross. */
static double
hidden_share (const Labels *labels, const SbRect *box)
{
  enum { N_LOOKS = 12 };
  guint n_hidden = 0;
  for (guint i = 0; i < labels->panel->curves->len; i++) {
    const SbCurve *curve = &g_array_index (labels->panel->curves, SbCurve, i);
    for (int k = 0; k < N_LOOKS && !curve->thin; k++) {
      double x = sb_axis_scale_value (labels->at, box->x + (k + 0.5) / N_LOOKS * box->width);
      double y = sb_axis_scale_at (labels->value, sb_chart_curve_value_at (curve, x));
      n_hidden += y > box->y && y < box->y + box->height ? 1 : 0;
    }
  }
  return (double) n_hidden / N_LOOKS;
}

/* Beside an upright line, or beside a slanting one: right or left of it, from the top down, where it hides least. */
static gboolean
try_beside (Labels *labels, const SbRule *rule, const char *text)
{
  enum { N_HEIGHTS = 7 };
  SbRect box = box_of (labels, text), best = { 0 };
  double gap = LABEL_GAP * labels->paint->font_pt, least = HUGE_VAL;
  for (int k = 0; k < 2 * N_HEIGHTS; k++) {
    box.y = labels->plot->y + gap + (labels->plot->height - 2 * gap - box.height) * (k / 2) / (N_HEIGHTS - 1);
    double middle = sb_axis_scale_value (labels->value, box.y + box.height / 2);
    double at = rule->upright ? rule->at[0] : (middle - rule->intercept) / rule->slope;
    double line = sb_paint_at (labels->at, at), aside = rule->upright ? gap : gap + box.height / 2;
    box.x = k % 2 == 0 ? line + aside : line - aside - box.width;
    double hidden = hidden_share (labels, &box);
    if (is_free (labels, &box) && hidden < least) {
      least = hidden;
      best = box;
    }
  }
  if (least < HUGE_VAL)
    paint_label (labels, text, best);
  return least < HUGE_VAL;
}

void
sb_paint_rule_labels (SbPaint *paint, const SbPage *page, gsize i, const SbAxisScale *at, const SbAxisScale *value)
{
  const SbChartPanel *panel = g_ptr_array_index (paint->model->panels, (guint) i);
  g_autoptr (GArray) placed = g_array_new (FALSE, FALSE, sizeof (SbRect));
  Labels labels = { paint, &page->plot[i], panel, at, value, placed, FALSE };
  for (guint k = 0; k < panel->rules->len; k++) {
    const SbRule *rule = &g_array_index (panel->rules, SbRule, k);
    double left, right;
    if (rule->label == NULL)
      continue;
    if (paint->model->view == SB_VIEW_SPREAD) {
      extent_of_row (&labels, rule->at[0], &left, &right);
      if (!try_in_row (&labels, rule, rule->label, left, right))
        try_in_row (&labels, rule, rule->brief, left, right);
    } else if (rule->upright || fabs (rule->slope) > 0) {
      if (!try_beside (&labels, rule, rule->label))
        try_beside (&labels, rule, rule->brief);
    } else {
      labels.on_lines = FALSE;
      gboolean done = try_at_level (&labels, rule, rule->label) || try_at_level (&labels, rule, rule->brief);
      labels.on_lines = TRUE;
      if (!done && !try_at_level (&labels, rule, rule->label))
        try_at_level (&labels, rule, rule->brief);
    }
  }
}
