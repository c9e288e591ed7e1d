/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "export_preview.h"

#include "chart_fit.h"
#include "chart_painter.h"

#include <math.h>

#define PT_PER_MM (72 / 25.4)

/* Of a screen that does not say how large it is, as CSS has it. */
#define USUAL_PX_PER_MM (96 / 25.4)

/* Of the chequers that stand for what is transparent. */
#define SQUARE 8

#define SB_TYPE_EXPORT_PREVIEW (sb_export_preview_get_type ())
G_DECLARE_FINAL_TYPE (SbExportPreview, sb_export_preview, SB, EXPORT_PREVIEW, GtkWidget)

struct _SbExportPreview {
  GtkWidget parent_instance;
  SbChartModel *model; /* owned; NULL: none */
  SbPaper paper;
  gboolean true_size;
  gulong entered; /* handler of the surface, for another monitor */
};

G_DEFINE_FINAL_TYPE (SbExportPreview, sb_export_preview, GTK_TYPE_WIDGET)

static void
paint_chequers (cairo_t *cr, double width, double height, gboolean dark)
{
  double plain = dark ? 0.10 : 1, other = dark ? 0.17 : 0.88;
  cairo_set_source_rgb (cr, plain, plain, plain);
  cairo_rectangle (cr, 0, 0, width, height);
  cairo_fill (cr);
  cairo_set_source_rgb (cr, other, other, other);
  for (int row = 0; row * SQUARE < height; row++)
    for (int column = row % 2; column * SQUARE < width; column += 2)
      cairo_rectangle (cr, column * SQUARE, row * SQUARE, fmin (SQUARE, width - column * SQUARE),
                       fmin (SQUARE, height - row * SQUARE));
  cairo_fill (cr);
}

static double
screen_px_per_mm (GtkWidget *widget)
{
  GtkNative *native = gtk_widget_get_native (widget);
  GdkSurface *surface = native != NULL ? gtk_native_get_surface (native) : NULL;
  GdkMonitor *monitor
      = surface != NULL ? gdk_display_get_monitor_at_surface (gtk_widget_get_display (widget), surface) : NULL;
  if (monitor == NULL || gdk_monitor_get_width_mm (monitor) <= 0)
    return USUAL_PX_PER_MM;
  GdkRectangle all;
  gdk_monitor_get_geometry (monitor, &all);
  return (double) all.width / gdk_monitor_get_width_mm (monitor);
}

/* At its true size it asks for the room, on the screen that it is on at that moment. */
static void
sb_export_preview_measure (GtkWidget *widget, GtkOrientation orientation, int for_size, int *minimum, int *natural,
                           int *minimum_baseline, int *natural_baseline)
{
  const SbExportPreview *preview = SB_EXPORT_PREVIEW (widget);
  double mm = orientation == GTK_ORIENTATION_HORIZONTAL ? preview->paper.width_mm : preview->paper.height_mm;
  *minimum = *natural = preview->true_size ? (int) ceil (mm * screen_px_per_mm (widget)) : 0;
  *minimum_baseline = *natural_baseline = -1;
}

/* Another screen has another size for a millimetre. */
static void
sb_export_preview_realize (GtkWidget *widget)
{
  GTK_WIDGET_CLASS (sb_export_preview_parent_class)->realize (widget);
  GdkSurface *surface = gtk_native_get_surface (gtk_widget_get_native (widget));
  SB_EXPORT_PREVIEW (widget)->entered
      = g_signal_connect_swapped (surface, "enter-monitor", G_CALLBACK (gtk_widget_queue_resize), widget);
  gtk_widget_queue_resize (widget);
}

static void
sb_export_preview_unrealize (GtkWidget *widget)
{
  GdkSurface *surface = gtk_native_get_surface (gtk_widget_get_native (widget));
  g_clear_signal_handler (&SB_EXPORT_PREVIEW (widget)->entered, surface);
  GTK_WIDGET_CLASS (sb_export_preview_parent_class)->unrealize (widget);
}

static void
sb_export_preview_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  SbExportPreview *preview = SB_EXPORT_PREVIEW (widget);
  const SbPaper *paper = &preview->paper;
  double room_x = gtk_widget_get_width (widget), room_y = gtk_widget_get_height (widget);
  if (preview->model == NULL || !(paper->width_mm > 0 && paper->height_mm > 0))
    return;
  double width_pt = paper->width_mm * PT_PER_MM, height_pt = paper->height_mm * PT_PER_MM;
  double scale
      = preview->true_size ? screen_px_per_mm (widget) / PT_PER_MM : fmin (room_x / width_pt, room_y / height_pt);
  double width = width_pt * scale, height = height_pt * scale;
  graphene_rect_t all = GRAPHENE_RECT_INIT (0, 0, (float) room_x, (float) room_y);
  cairo_t *cr = gtk_snapshot_append_cairo (snapshot, &all);
  cairo_translate (cr, (room_x - width) / 2, (room_y - height) / 2);
  if (sb_ground_is_transparent (paper->ground))
    paint_chequers (cr, width, height, sb_ground_is_dark (paper->ground));
  cairo_scale (cr, scale, scale);
  sb_chart_paint (preview->model, cr, width_pt, height_pt, paper->font_pt, NULL);
  cairo_destroy (cr);
}

static void
sb_export_preview_dispose (GObject *object)
{
  g_clear_pointer (&SB_EXPORT_PREVIEW (object)->model, sb_chart_model_unref);
  G_OBJECT_CLASS (sb_export_preview_parent_class)->dispose (object);
}

static void
sb_export_preview_class_init (SbExportPreviewClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = sb_export_preview_dispose;
  GTK_WIDGET_CLASS (klass)->measure = sb_export_preview_measure;
  GTK_WIDGET_CLASS (klass)->realize = sb_export_preview_realize;
  GTK_WIDGET_CLASS (klass)->unrealize = sb_export_preview_unrealize;
  GTK_WIDGET_CLASS (klass)->snapshot = sb_export_preview_snapshot;
  gtk_widget_class_set_accessible_role (GTK_WIDGET_CLASS (klass), GTK_ACCESSIBLE_ROLE_IMG);
}

static void
sb_export_preview_init (SbExportPreview *preview)
{
  preview->paper = sb_paper_preset (0)->paper;
  gtk_accessible_update_property (GTK_ACCESSIBLE (preview), GTK_ACCESSIBLE_PROPERTY_LABEL, "Preview of the export", -1);
}

GtkWidget *
sb_export_preview_new (void)
{
  return g_object_new (SB_TYPE_EXPORT_PREVIEW, NULL);
}

void
sb_export_preview_set_model (GtkWidget *widget, SbChartModel *model)
{
  SbExportPreview *preview = SB_EXPORT_PREVIEW (widget);
  g_clear_pointer (&preview->model, sb_chart_model_unref);
  preview->model = model != NULL ? sb_chart_model_ref (model) : NULL;
  gtk_widget_queue_draw (widget);
}

void
sb_export_preview_show (GtkWidget *widget, const SbPaper *paper)
{
  SbExportPreview *preview = SB_EXPORT_PREVIEW (widget);
  preview->paper = *paper;
  if (preview->model != NULL)
    sb_chart_model_set_paper (preview->model, paper);
  gtk_widget_queue_resize (widget);
}

void
sb_export_preview_set_true_size (GtkWidget *widget, gboolean true_size)
{
  SbExportPreview *preview = SB_EXPORT_PREVIEW (widget);
  preview->true_size = true_size;
  gtk_widget_queue_resize (widget);
}

char *
sb_export_preview_advice (GtkWidget *widget)
{
  const SbExportPreview *preview = SB_EXPORT_PREVIEW (widget);
  SbChartSize size = sb_chart_size_of (&preview->paper);
  return preview->model != NULL && preview->paper.width_mm > 0 ? sb_chart_fit_advice (preview->model, &size) : NULL;
}
