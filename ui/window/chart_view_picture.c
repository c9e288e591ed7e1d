/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The chart's picture, kept as a texture: the reading line moves over it without the curves being stroked again. A
 * chart of many curves is painted by a worker, and the picture of before stands until it is done: hundreds of bands
 * and curves take longer than a key or a click may wait. */
#include "chart_view_parts.h"

#include "chart_painter.h"
#include "hold_program.h"
#include "workers.h"

#define FULL_SIZE_PX 860.0 /* a chart of this width has numbers of the interface's size */
#define LEAST_SIZE   0.85

/* Bands and curves that are painted at once: about a quarter of a millisecond each. */
#define MOST_AT_ONCE 48

typedef struct {
  SbChartModel *kept; /* what `model` borrows from */
  SbChartModel model; /* with the range and the callouts of that moment, which the view moves meanwhile */
  guint wanted;
  int width, height, scale; /* px; pixels of the picture for each */
  double font_pt;
  SbChartLayout layout;
  GBytes *pixels;
  gsize stride;
} Job;

static void
job_free (gpointer data)
{
  Job *job = data;
  g_ptr_array_unref (job->model.panels);
  sb_chart_model_unref (job->kept);
  g_clear_pointer (&job->pixels, g_bytes_unref);
  g_free (job);
}

/* The numbers on the axes beside the interface's own text: as large where there is room, smaller on a small chart. */
static double
font_pt (SbChartView *view, int width)
{
  const PangoFontDescription *font
      = pango_context_get_font_description (gtk_widget_get_pango_context (GTK_WIDGET (view)));
  double size = (double) pango_font_description_get_size (font) / PANGO_SCALE;
  double interface_pt = pango_font_description_get_size_is_absolute (font) ? size / SB_PX_PER_PT : size;
  return interface_pt * CLAMP (width / FULL_SIZE_PX, LEAST_SIZE, 1);
}

static void
panel_free (gpointer data)
{
  SbChartPanel *panel = data;
  g_array_unref (panel->callouts);
  g_free (panel);
}

/* All else of a panel stays as it is while the model lives. */
static GPtrArray *
panels_of_now (const SbChartModel *model)
{
  GPtrArray *panels = g_ptr_array_new_with_free_func (panel_free);
  for (guint p = 0; p < model->panels->len; p++) {
    SbChartPanel *panel = g_memdup2 (g_ptr_array_index (model->panels, p), sizeof (SbChartPanel));
    panel->callouts = g_array_copy (panel->callouts);
    g_ptr_array_add (panels, panel);
  }
  return panels;
}

static Job *
job_new (SbChartView *view)
{
  Job *job = g_new0 (Job, 1);
  job->kept = sb_chart_model_ref (view->model);
  job->model = *view->model;
  job->model.panels = panels_of_now (view->model);
  job->wanted = view->wanted;
  job->width = gtk_widget_get_width (GTK_WIDGET (view));
  job->height = gtk_widget_get_height (GTK_WIDGET (view));
  job->scale = gtk_widget_get_scale_factor (GTK_WIDGET (view));
  job->font_pt = font_pt (view, job->width);
  return job;
}

static void
paint (Job *job)
{
  int width = job->width * job->scale, height = job->height * job->scale;
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_ARGB32, width, height);
  cairo_t *cr = cairo_create (surface);
  cairo_scale (cr, job->scale * SB_PX_PER_PT, job->scale * SB_PX_PER_PT);
  sb_chart_paint (&job->model, cr, job->width / SB_PX_PER_PT, job->height / SB_PX_PER_PT, job->font_pt, &job->layout);
  cairo_destroy (cr);
  cairo_surface_flush (surface);
  job->stride = (gsize) cairo_image_surface_get_stride (surface);
  job->pixels = g_bytes_new_with_free_func (cairo_image_surface_get_data (surface), job->stride * (gsize) height,
                                            (GDestroyNotify) cairo_surface_destroy, surface);
}

static gboolean
has_size_of (const Job *job, SbChartView *view)
{
  return job->width == gtk_widget_get_width (GTK_WIDGET (view))
         && job->height == gtk_widget_get_height (GTK_WIDGET (view));
}

/* Of a model that went meanwhile, or of another size, the picture bridges the time until the next; where things lie on
 * it is of no use. */
static void
take (SbChartView *view, const Job *job)
{
  g_clear_object (&view->picture);
  view->picture = gdk_memory_texture_new (job->width * job->scale, job->height * job->scale, GDK_MEMORY_DEFAULT,
                                          job->pixels, job->stride);
  view->stale = job->wanted != view->wanted;
  if (job->kept == view->model && has_size_of (job, view))
    view->layout = job->layout;
}

static void
paint_in_worker (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  sb_worker_give_way (); /* to the window, as all that GTask runs */
  paint (data);
  g_task_return_boolean (task, TRUE);
}

static void
painted (GObject *source, GAsyncResult *result, gpointer user_data)
{
  SbChartView *view = SB_CHART_VIEW (source);
  view->is_painting = FALSE;
  if (view->stale && sb_chart_view_has_chart (view)) { /* else it is shown no more, or was painted since */
    take (view, g_task_get_task_data (G_TASK (result)));
    gtk_widget_queue_draw (GTK_WIDGET (view));
  }
  sb_release_program ();
}

static void
paint_behind (SbChartView *view)
{
  if (view->is_painting)
    return; /* the next is begun when that one comes */
  view->is_painting = TRUE;
  g_autoptr (GTask) task = g_task_new (view, NULL, painted, NULL);
  g_task_set_task_data (task, job_new (view), job_free);
  sb_hold_program ();
  g_task_run_in_thread (task, paint_in_worker);
}

static gboolean
is_quickly_painted (const SbChartModel *model)
{
  guint n = 0;
  for (guint p = 0; p < model->panels->len; p++) {
    const SbChartPanel *panel = g_ptr_array_index (model->panels, p);
    n += panel->bands->len + panel->curves->len;
  }
  return n <= MOST_AT_ONCE;
}

static gboolean
is_picture_of_size (SbChartView *view, int width, int height)
{
  int scale = gtk_widget_get_scale_factor (GTK_WIDGET (view));
  return gdk_texture_get_width (view->picture) == width * scale
         && gdk_texture_get_height (view->picture) == height * scale;
}

void
sb_chart_view_repaint (SbChartView *view)
{
  view->stale = TRUE;
  view->wanted++;
  gtk_widget_queue_draw (GTK_WIDGET (view));
}

void
sb_chart_view_snapshot_picture (SbChartView *view, GtkSnapshot *snapshot, int width, int height)
{
  if (view->stale && is_quickly_painted (view->model)) {
    Job *job = job_new (view);
    paint (job);
    take (view, job);
    job_free (job);
  } else if (view->stale) {
    if (view->picture != NULL && !is_picture_of_size (view, width, height))
      view->layout.n_plots = view->layout.n_callouts = 0; /* until the worker is done nothing lies where it did */
    paint_behind (view);
  }
  if (view->picture != NULL)
    gtk_snapshot_append_texture (snapshot, view->picture, &GRAPHENE_RECT_INIT (0, 0, (float) width, (float) height));
}
