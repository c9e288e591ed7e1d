/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "dragging.h"

#include "arrange_edits.h"

struct _SbDragged {
  GObject parent_instance;
  SbDocument *document; /* only compared */
  guint configuration;
  GArray *trials;
};

G_DEFINE_FINAL_TYPE (SbDragged, sb_dragged, G_TYPE_OBJECT)

static const char *const marks[] = { "drop-before", "drop-behind", "drop-into" };

static void
sb_dragged_finalize (GObject *object)
{
  g_clear_pointer (&SB_DRAGGED (object)->trials, g_array_unref);
  G_OBJECT_CLASS (sb_dragged_parent_class)->finalize (object);
}

static void
sb_dragged_class_init (SbDraggedClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = sb_dragged_finalize;
}

static void
sb_dragged_init (SbDragged *dragged)
{
}

SbDragged *
sb_dragged_new (SbDocument *document, guint configuration, GArray *trials)
{
  SbDragged *dragged = g_object_new (SB_TYPE_DRAGGED, NULL);
  dragged->document = document;
  dragged->configuration = configuration;
  dragged->trials = trials;
  return dragged;
}

typedef struct {
  SbDragBegin begin;
  gpointer user_data;
} Offer;

static void
offer_free (gpointer data, GClosure *closure)
{
  g_free (data);
}

static GdkContentProvider *
on_prepare (GtkDragSource *source, double x, double y, Offer *offer)
{
  GtkWidget *widget = gtk_event_controller_get_widget (GTK_EVENT_CONTROLLER (source));
  g_autoptr (SbDragged) dragged = offer->begin (widget, offer->user_data);
  if (dragged == NULL)
    return NULL;
  g_autoptr (GdkPaintable) picture = gtk_widget_paintable_new (widget);
  gtk_drag_source_set_icon (source, picture, (int) x, (int) y);
  return gdk_content_provider_new_typed (SB_TYPE_DRAGGED, dragged);
}

void
sb_dragging_offer (GtkWidget *widget, SbDragBegin begin, gpointer user_data)
{
  GtkDragSource *source = gtk_drag_source_new ();
  Offer *offer = g_new (Offer, 1);
  *offer = (Offer){ begin, user_data };
  gtk_drag_source_set_actions (source, GDK_ACTION_MOVE);
  g_signal_connect_data (source, "prepare", G_CALLBACK (on_prepare), offer, offer_free, 0);
  gtk_widget_add_controller (widget, GTK_EVENT_CONTROLLER (source));
}

typedef struct {
  SbDocument *document;
  const guint *index;
} Place;

static void
mark (GtkWidget *row, const char *with)
{
  for (guint i = 0; i < G_N_ELEMENTS (marks); i++)
    gtk_widget_remove_css_class (row, marks[i]);
  if (with != NULL)
    gtk_widget_add_css_class (row, with);
}

static GtkWidget *
row_of (GtkDropTarget *target)
{
  return gtk_event_controller_get_widget (GTK_EVENT_CONTROLLER (target));
}

static gboolean
is_lower_half (GtkWidget *row, double y)
{
  return y > gtk_widget_get_height (row) / 2.0;
}

static GdkDragAction
on_motion (GtkDropTarget *target, double x, double y, Place *place)
{
  const GValue *value = gtk_drop_target_get_value (target);
  const SbDragged *dragged = value != NULL ? g_value_get_object (value) : NULL;
  if (dragged == NULL || dragged->document != place->document)
    return dragged == NULL ? GDK_ACTION_MOVE : 0;
  if (dragged->trials != NULL)
    mark (row_of (target), dragged->configuration != *place->index ? "drop-into" : NULL);
  else
    mark (row_of (target), is_lower_half (row_of (target), y) ? "drop-behind" : "drop-before");
  return GDK_ACTION_MOVE;
}

static void
on_leave (GtkDropTarget *target, Place *place)
{
  mark (row_of (target), NULL);
}

/* The bench may have changed while something was dragged: what is not there any more is not moved. */
static gboolean
on_drop (GtkDropTarget *target, const GValue *value, double x, double y, Place *place)
{
  const SbDragged *dragged = g_value_get_object (value);
  const SbBench *bench = sb_document_bench (place->document);
  guint from = dragged->configuration, to = *place->index;
  mark (row_of (target), NULL);
  if (dragged->document != place->document || from >= bench->configurations->len)
    return FALSE;
  if (dragged->trials != NULL) {
    guint last = g_array_index (dragged->trials, guint, dragged->trials->len - 1);
    if (last < sb_bench_configuration (bench, from)->entries->len)
      sb_edit_move_trials (place->document, from, dragged->trials, to);
    return TRUE;
  }
  guint behind = to + (is_lower_half (row_of (target), y) ? 1 : 0);
  sb_edit_reorder (place->document, from, behind > from ? behind - 1 : behind);
  return TRUE;
}

static void
place_free (gpointer data, GClosure *closure)
{
  g_free (data);
}

void
sb_dragging_accept (GtkWidget *row, SbDocument *document, const guint *index)
{
  GtkDropTarget *target = gtk_drop_target_new (SB_TYPE_DRAGGED, GDK_ACTION_MOVE);
  Place *place = g_new (Place, 1);
  *place = (Place){ document, index };
  gtk_drop_target_set_preload (target, TRUE);
  g_signal_connect (target, "motion", G_CALLBACK (on_motion), place);
  g_signal_connect (target, "leave", G_CALLBACK (on_leave), place);
  g_signal_connect_data (target, "drop", G_CALLBACK (on_drop), place, place_free, 0);
  gtk_widget_add_controller (row, GTK_EVENT_CONTROLLER (target));
}
