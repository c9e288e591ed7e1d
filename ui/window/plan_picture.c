/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plan_picture.h"

#include "chart_painter.h"

#define PX_PER_PT 1.3333333
#define HEIGHT_PX 230
#define FONT_PT   7.5

static void
paint (GtkDrawingArea *area, cairo_t *cr, int width, int height, gpointer model)
{
  cairo_scale (cr, PX_PER_PT, PX_PER_PT);
  sb_chart_paint (model, cr, width / PX_PER_PT, height / PX_PER_PT, FONT_PT, NULL);
}

GtkWidget *
sb_plan_picture_new (SbAnalysis *analysis, SbMeasureId measure)
{
  SbChartModel *model = sb_chart_model_new_plan (analysis, 1u << measure);
  g_autofree char *said = sb_chart_model_describe (model);
  sb_chart_model_shorten (model);
  GtkWidget *area = g_object_new (GTK_TYPE_DRAWING_AREA, "accessible-role", GTK_ACCESSIBLE_ROLE_IMG, "height-request",
                                  HEIGHT_PX, NULL);
  gtk_widget_add_css_class (area, "paper");
  gtk_drawing_area_set_draw_func (GTK_DRAWING_AREA (area), paint, model, (GDestroyNotify) sb_chart_model_unref);
  gtk_accessible_update_property (GTK_ACCESSIBLE (area), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                  "Repeats over the difference to be shown", GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, said,
                                  -1);
  return area;
}
