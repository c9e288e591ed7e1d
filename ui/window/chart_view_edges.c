/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The onset and the end of the active window of the configuration that is followed, to be dragged by a tab at the top
 * of the chart. */
#include "chart_view_parts.h"

#include "chart_reading.h"

#include <math.h>

#define TAB_HALF_PX   6.0
#define TAB_HEIGHT_PX 13.0
#define REACH_PX      8.0

double
sb_chart_view_edge_time (SbChartView *view, SbChartEdge edge)
{
  guint configuration;
  if (!sb_chart_view_has_time (view) || view->model->view == SB_VIEW_DIFFERENCE
      || !sb_chart_view_followed (view, &configuration))
    return NAN;
  const SbEnsemble *ensemble = sb_analysis_configuration (view->model->analysis, configuration)->ensemble;
  if (edge == SB_EDGE_ONSET)
    return 0;
  return ensemble != NULL ? ensemble->active_end_s : (double) NAN;
}

static gboolean
x_of_edge (SbChartView *view, SbChartEdge edge, double *x)
{
  gboolean is_dragged = view->drag.kind == SB_DRAG_EDGE && view->drag.edge == edge;
  double time_s = is_dragged ? view->drag.edge_s : sb_chart_view_edge_time (view, edge);
  if (!sb_chart_view_is_laid_out (view) || !(time_s >= view->layout.x_min && time_s <= view->layout.x_max))
    return FALSE;
  *x = sb_chart_view_x_of (view, time_s);
  return TRUE;
}

gboolean
sb_chart_view_edge_at (SbChartView *view, double x_px, double y_px, SbChartEdge *edge)
{
  double x, top = view->layout.plot[0].y * SB_PX_PER_PT;
  if (!sb_chart_view_is_laid_out (view) || y_px < top - REACH_PX || y_px > top + TAB_HEIGHT_PX + REACH_PX)
    return FALSE;
  for (int e = SB_EDGE_END; e >= SB_EDGE_ONSET; e--)
    if (x_of_edge (view, (SbChartEdge) e, &x) && fabs (x - x_px) <= REACH_PX) {
      *edge = (SbChartEdge) e;
      return TRUE;
    }
  return FALSE;
}

static void
draw_tab (cairo_t *cr, const SbStyle *style, double x, double top)
{
  cairo_move_to (cr, x - TAB_HALF_PX, top);
  cairo_rel_line_to (cr, 2 * TAB_HALF_PX, 0);
  cairo_rel_line_to (cr, 0, TAB_HEIGHT_PX - TAB_HALF_PX);
  cairo_line_to (cr, x, top + TAB_HEIGHT_PX);
  cairo_line_to (cr, x - TAB_HALF_PX, top + TAB_HEIGHT_PX - TAB_HALF_PX);
  cairo_close_path (cr);
  cairo_set_source_rgb (cr, style->colour.red, style->colour.green, style->colour.blue);
  cairo_fill_preserve (cr);
  cairo_set_source_rgb (cr, 1, 1, 1);
  cairo_set_line_width (cr, 1);
  cairo_stroke (cr);
}

/* (transfer full) */
static char *
drag_text (SbChartView *view)
{
  double by_s = view->drag.edge_s - sb_chart_view_edge_time (view, view->drag.edge);
  g_autofree char *by = sb_chart_reading_time (view->model, fabs (by_s));
  const char *name = sb_analysis_configuration (view->model->analysis, view->configuration)->name;
  return g_strdup_printf ("%s of %s %s%s", view->drag.edge == SB_EDGE_ONSET ? "Onset" : "End of the active window",
                          name, by_s < 0 ? "−" : "+", by);
}

static void
draw_dragged (SbChartView *view, GtkSnapshot *snapshot, cairo_t *cr, double x)
{
  const SbRect *first = &view->layout.plot[0], *last = &view->layout.plot[view->layout.n_plots - 1];
  cairo_move_to (cr, floor (x) + 0.5, first->y * SB_PX_PER_PT);
  cairo_line_to (cr, floor (x) + 0.5, (last->y + last->height) * SB_PX_PER_PT);
  cairo_set_source_rgb (cr, 0.1, 0.1, 0.12);
  cairo_set_line_width (cr, 1);
  cairo_stroke (cr);
  g_autofree char *text = drag_text (view);
  sb_chart_reading_box (GTK_WIDGET (view), snapshot, text, x + 12, first->y * SB_PX_PER_PT + 4);
}

/* Only where a hand is: a chart that is looked at has no tabs. */
void
sb_chart_view_snapshot_edges (SbChartView *view, GtkSnapshot *snapshot)
{
  guint configuration;
  gboolean in_hand = view->has_pointer || view->drag.kind == SB_DRAG_EDGE || gtk_widget_has_focus (GTK_WIDGET (view));
  if (!in_hand || !sb_chart_view_is_laid_out (view) || !sb_chart_view_followed (view, &configuration))
    return;
  int width = gtk_widget_get_width (GTK_WIDGET (view)), height = gtk_widget_get_height (GTK_WIDGET (view));
  cairo_t *cr = gtk_snapshot_append_cairo (snapshot, &GRAPHENE_RECT_INIT (0, 0, (float) width, (float) height));
  const SbStyle *style = sb_style_get (sb_analysis_configuration (view->model->analysis, configuration)->style);
  double x, top = view->layout.plot[0].y * SB_PX_PER_PT;
  for (int e = SB_EDGE_ONSET; e <= SB_EDGE_END; e++) {
    if (!x_of_edge (view, (SbChartEdge) e, &x))
      continue;
    if (view->drag.kind == SB_DRAG_EDGE && (int) view->drag.edge == e)
      draw_dragged (view, snapshot, cr, x);
    draw_tab (cr, style, x, top);
  }
  cairo_destroy (cr);
}
