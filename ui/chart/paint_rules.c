/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Straight lines of the data: trends, and where a figure would be as it was set. One that was not made for logarithmic
 * axes is a curve on them.
 */
#include "paint.h"

#include <math.h>

#define TREND_WIDTH    0.9
#define IDENTITY_WIDTH 0.6
#define STATED_WIDTH   1.2
#define N_PIECES       64

static const double stated_dash[] = { 3.2, 1.6 }, tolerance_dash[] = { 2, 2.5 };
const SbStyle sb_stated_style = { .dash = stated_dash, .n_dash = G_N_ELEMENTS (stated_dash) };
static const SbStyle tolerance_style = { .dash = tolerance_dash, .n_dash = G_N_ELEMENTS (tolerance_dash) };

static const SbColour identity_colour = { 0.45, 0.47, 0.50 };

static double
place_at (const SbRule *rule, const SbAxisScale *at, int k)
{
  double share = (double) k / N_PIECES;
  return at->logarithmic ? rule->at[0] * pow (rule->at[1] / rule->at[0], share)
                         : rule->at[0] + share * (rule->at[1] - rule->at[0]);
}

static double
value_of (const SbRule *rule, double at)
{
  double value = rule->intercept + rule->slope * (rule->at_log ? log10 (at) : at);
  return rule->value_log ? pow (10, value) : value;
}

static void
trace (cairo_t *cr, const SbRule *rule, const SbAxisScale *at, const SbAxisScale *value, gboolean across)
{
  gboolean is_straight = !rule->at_log == !at->logarithmic && !rule->value_log == !value->logarithmic;
  int step = is_straight ? N_PIECES : 1;
  gboolean is_open = FALSE;
  for (int k = 0; k <= N_PIECES; k += step) {
    double level = place_at (rule, at, k), figure = value_of (rule, level);
    if (value->logarithmic && figure <= 0) {
      is_open = FALSE;
      continue;
    }
    double along = sb_paint_at (at, level), up = sb_paint_at (value, figure);
    double x = across ? up : along, y = across ? along : up;
    if (is_open)
      cairo_line_to (cr, x, y);
    else
      cairo_move_to (cr, x, y);
    is_open = TRUE;
  }
}

static void
trace_upright (cairo_t *cr, const SbRule *rule, const SbAxisScale *at, const SbAxisScale *value)
{
  double along = sb_paint_at (at, rule->at[0]);
  cairo_move_to (cr, along, value->at_low);
  cairo_line_to (cr, along, value->at_high);
}

static void
paint_rule (SbPaint *paint, const SbRule *rule, const SbAxisScale *at, const SbAxisScale *value, gboolean across)
{
  if (rule->upright)
    trace_upright (paint->cr, rule, at, value);
  else
    trace (paint->cr, rule, at, value, across);
  switch (rule->kind) {
  case SB_RULE_TREND:
    sb_paint_pen (paint, sb_style_get (rule->style)->colour, 1, TREND_WIDTH);
    sb_paint_dash (paint, sb_style_get (rule->series), TREND_WIDTH);
    break;
  case SB_RULE_IDENTITY:
    sb_paint_pen (paint, identity_colour, 1, IDENTITY_WIDTH);
    break;
  case SB_RULE_STATED:
    sb_paint_pen (paint, sb_paint_ink, 1, STATED_WIDTH);
    sb_paint_dash (paint, &sb_stated_style, STATED_WIDTH);
    break;
  case SB_RULE_TOLERANCE:
    sb_paint_pen (paint, sb_paint_ink, 1, IDENTITY_WIDTH);
    sb_paint_dash (paint, &tolerance_style, IDENTITY_WIDTH);
    break;
  }
  cairo_stroke (paint->cr);
}

void
sb_paint_rules (SbPaint *paint, gsize i, const SbAxisScale *at, const SbAxisScale *value, gboolean across)
{
  const SbChartPanel *panel = g_ptr_array_index (paint->model->panels, (guint) i);
  for (guint k = 0; k < panel->rules->len; k++)
    paint_rule (paint, &g_array_index (panel->rules, SbRule, k), at, value, across);
}
