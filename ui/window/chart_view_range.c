/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Which time is shown: zoom, pan, back and forward. */
#include "chart_view_parts.h"

#include "model_reach.h"

#include <math.h>

#define REST_MS 350

double
sb_chart_view_time_at (const SbChartView *view, double x_px)
{
  return sb_chart_layout_time_at (&view->layout, x_px / SB_PX_PER_PT);
}

double
sb_chart_view_x_of (const SbChartView *view, double time_s)
{
  return sb_chart_layout_x_of (&view->layout, time_s) * SB_PX_PER_PT;
}

double
sb_chart_view_seconds_per_px (const SbChartView *view)
{
  return (view->layout.x_max - view->layout.x_min) / (view->layout.plot[0].width * SB_PX_PER_PT);
}

SbTimeRange
sb_chart_view_shown (const SbChartView *view)
{
  return (SbTimeRange){ view->model->x_min, view->model->x_max };
}

static void
apply_range (SbChartView *view, SbTimeRange range)
{
  view->model->x_min = range.from_s;
  view->model->x_max = range.to_s;
  sb_chart_view_repaint (view);
  sb_chart_view_emit (view, SB_CHART_RANGE_CHANGED);
}

void
sb_chart_view_take_range (SbChartView *view)
{
  view->all = sb_model_reach (view->model);
  if (view->is_pending)
    apply_range (view, view->pending);
  else if (!sb_zoom_history_can_go (view->history, -1) && !sb_zoom_history_can_go (view->history, 1))
    sb_zoom_history_visit (view->history, sb_chart_view_shown (view));
}

static void
choose (SbChartView *view)
{
  g_clear_handle_id (&view->rest_source, g_source_remove);
  if (!view->is_pending)
    return;
  view->is_pending = FALSE;
  gboolean all = sb_time_range_covers (view->pending, view->all);
  sb_chart_view_emit (view, SB_CHART_VIEW_CHOSEN, all ? (double) NAN : view->pending.from_s,
                      all ? (double) NAN : view->pending.to_s);
}

void
sb_chart_view_rest (SbChartView *view)
{
  if (view->is_pending)
    sb_zoom_history_visit (view->history, view->pending);
  choose (view);
  sb_chart_view_emit (view, SB_CHART_RANGE_CHANGED);
  sb_chart_view_describe (view);
}

static gboolean
on_rest (gpointer user_data)
{
  SbChartView *view = user_data;
  view->rest_source = 0;
  sb_chart_view_rest (view);
  return G_SOURCE_REMOVE;
}

void
sb_chart_view_move_to (SbChartView *view, SbTimeRange range)
{
  apply_range (view, range);
  view->pending = range;
  view->is_pending = TRUE;
  g_clear_handle_id (&view->rest_source, g_source_remove);
  view->rest_source = g_timeout_add (REST_MS, on_rest, view);
}

void
sb_chart_view_pan (SbChartView *view, double by_s)
{
  sb_chart_view_move_to (view, sb_time_range_pan (sb_chart_view_shown (view), view->all, by_s));
}

void
sb_chart_view_zoom_at (SbChartView *view, SbTimeRange range, double centre_s, double factor)
{
  sb_chart_view_move_to (view, sb_time_range_zoom (range, view->all, centre_s, factor));
}

void
sb_chart_view_fit (SbChartView *view)
{
  if (!sb_chart_view_has_time (view))
    return;
  sb_chart_view_move_to (view, view->all);
  sb_chart_view_rest (view);
}

void
sb_chart_view_zoom (SbChartView *view, double factor)
{
  if (!sb_chart_view_has_time (view))
    return;
  SbTimeRange range = sb_chart_view_shown (view);
  double centre = isnan (view->reading_s) ? (range.from_s + range.to_s) / 2 : view->reading_s;
  sb_chart_view_zoom_at (view, range, centre, factor);
}

gboolean
sb_chart_view_get_range (SbChartView *view, SbTimeRange *range)
{
  if (!sb_chart_view_has_time (view))
    return FALSE;
  *range = sb_chart_view_shown (view);
  return TRUE;
}

gboolean
sb_chart_view_set_range (SbChartView *view, SbTimeRange range)
{
  if (!sb_chart_view_has_time (view))
    return FALSE;
  /* To the digits that were asked for, but for what is beyond the curves or too short. */
  SbTimeRange kept = sb_time_range_pan (range, view->all, 0);
  SbTimeRange least = sb_time_range_zoom (kept, view->all, (kept.from_s + kept.to_s) / 2, 1);
  sb_chart_view_move_to (view, least.to_s - least.from_s > 1.001 * (kept.to_s - kept.from_s) ? least : kept);
  sb_chart_view_rest (view);
  return TRUE;
}

gboolean
sb_chart_view_can_go (SbChartView *view, int direction)
{
  return sb_chart_view_has_time (view) && sb_zoom_history_can_go (view->history, direction);
}

void
sb_chart_view_go (SbChartView *view, int direction)
{
  if (view->is_pending)
    sb_chart_view_rest (view);
  if (!sb_chart_view_can_go (view, direction))
    return;
  sb_chart_view_move_to (view, sb_zoom_history_go (view->history, direction));
  choose (view);
  sb_chart_view_emit (view, SB_CHART_RANGE_CHANGED);
  sb_chart_view_describe (view);
}
