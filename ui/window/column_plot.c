/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "column_plot.h"

#include <math.h>

#define WIDTH_PX  120
#define HEIGHT_PX 34
#define MARGIN_PX 3

struct _SbColumnPlot {
  GtkWidget parent_instance;
  double *values;
  gsize n;
};

G_DEFINE_FINAL_TYPE (SbColumnPlot, sb_column_plot, GTK_TYPE_WIDGET)

void
sb_column_plot_reduce (const double *values, gsize n, SbPlotSpan *spans, gsize n_spans)
{
  for (gsize s = 0; s < n_spans; s++) {
    gsize first = s * n / n_spans, end = MAX ((s + 1) * n / n_spans, first + 1);
    spans[s] = (SbPlotSpan){ (double) NAN, (double) NAN };
    for (gsize i = first; i < end && i < n; i++) {
      spans[s].low = fmin (spans[s].low, values[i]);
      spans[s].high = fmax (spans[s].high, values[i]);
    }
  }
}

/* Neighbouring columns of pixels touch, so that a jump is a line and not two dots. */
static void
trace (cairo_t *cr, const SbPlotSpan *spans, gsize n_spans, double low, double high, double height)
{
  double scale = high > low ? (height - 2 * MARGIN_PX) / (high - low) : 0;
  double base = high > low ? height - MARGIN_PX : height / 2;
  gboolean drawing = FALSE;
  for (gsize s = 0; s < n_spans; s++) {
    double x = MARGIN_PX + (double) s + 0.5;
    if (isnan (spans[s].low)) {
      drawing = FALSE;
      continue;
    }
    double top = base - scale * (spans[s].high - low), bottom = base - scale * (spans[s].low - low);
    if (!drawing)
      cairo_move_to (cr, x, bottom);
    else
      cairo_line_to (cr, x, bottom);
    cairo_line_to (cr, x, top);
    drawing = TRUE;
  }
}

static void
draw (SbColumnPlot *plot, cairo_t *cr, double width, double height)
{
  gsize n_spans = width > 2 * MARGIN_PX ? (gsize) (width - 2 * MARGIN_PX) : 0;
  if (n_spans == 0 || plot->n == 0)
    return;
  g_autofree SbPlotSpan *spans = g_new (SbPlotSpan, n_spans);
  sb_column_plot_reduce (plot->values, plot->n, spans, n_spans);
  double low = (double) NAN, high = (double) NAN;
  for (gsize s = 0; s < n_spans; s++) {
    low = fmin (low, spans[s].low);
    high = fmax (high, spans[s].high);
  }
  if (isnan (low))
    return;
  trace (cr, spans, n_spans, low, high, height);
  cairo_set_line_width (cr, 1.2);
  cairo_set_line_join (cr, CAIRO_LINE_JOIN_ROUND);
  cairo_stroke (cr);
}

static void
sb_column_plot_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  float width = (float) gtk_widget_get_width (widget), height = (float) gtk_widget_get_height (widget);
  GdkRGBA colour;
  gtk_style_context_get_color (gtk_widget_get_style_context (widget), &colour);
  cairo_t *cr = gtk_snapshot_append_cairo (snapshot, &GRAPHENE_RECT_INIT (0, 0, width, height));
  gdk_cairo_set_source_rgba (cr, &colour);
  draw (SB_COLUMN_PLOT (widget), cr, (double) width, (double) height);
  cairo_destroy (cr);
}

static void
sb_column_plot_measure (GtkWidget *widget, GtkOrientation orientation, int for_size, int *minimum, int *natural,
                        int *minimum_baseline, int *natural_baseline)
{
  *minimum = *natural = orientation == GTK_ORIENTATION_HORIZONTAL ? WIDTH_PX : HEIGHT_PX;
}

void
sb_column_plot_set (SbColumnPlot *plot, const char *name, const char *words, const double *values, gsize n)
{
  g_free (plot->values);
  plot->values = g_memdup2 (values, n * sizeof *values);
  plot->n = n;
  g_autofree char *label = g_strdup_printf ("Plot of %s", name);
  gtk_accessible_update_property (GTK_ACCESSIBLE (plot), GTK_ACCESSIBLE_PROPERTY_LABEL, label,
                                  GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, words, -1);
  gtk_widget_queue_draw (GTK_WIDGET (plot));
}

static void
sb_column_plot_finalize (GObject *object)
{
  g_free (SB_COLUMN_PLOT (object)->values);
  G_OBJECT_CLASS (sb_column_plot_parent_class)->finalize (object);
}

static void
sb_column_plot_class_init (SbColumnPlotClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);
  G_OBJECT_CLASS (klass)->finalize = sb_column_plot_finalize;
  widget_class->snapshot = sb_column_plot_snapshot;
  widget_class->measure = sb_column_plot_measure;
  gtk_widget_class_set_css_name (widget_class, "columnplot");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_IMG);
}

static void
sb_column_plot_init (SbColumnPlot *plot)
{
}

GtkWidget *
sb_column_plot_new (void)
{
  return g_object_new (SB_TYPE_COLUMN_PLOT, NULL);
}
