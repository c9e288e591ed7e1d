/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "scroll_place.h"

/* The focus moves on, and the last size is known, so many frames after all is there. */
#define FRAMES_TO_SETTLE 3

/* What is asked of an adjustment to tell a hand that scrolls from contents that get longer or shorter. */
typedef struct {
  double value, upper, page_size;
} Seen;

typedef struct {
  GtkScrolledWindow *scrolled; /* borrowed, as is its adjustment */
  GtkAdjustment *adjustment;
  double place;
  Seen seen; /* after the contents' length last changed, or since scrolled to */
  gboolean goes_back;
  guint n_frames;
  SbMoreToComeFunc more_to_come;
  gpointer user_data;
} Keeper;

static Seen
look_at (GtkAdjustment *adjustment)
{
  return (Seen){ gtk_adjustment_get_value (adjustment), gtk_adjustment_get_upper (adjustment),
                 gtk_adjustment_get_page_size (adjustment) };
}

static gboolean
is_near (double a, double b)
{
  return a - b < 1e-6 && b - a < 1e-6;
}

/* The hand's: with contents as long as before the value is another. */
static void
on_value_changed (GtkAdjustment *adjustment, Keeper *keeper)
{
  Seen now = look_at (adjustment);
  if (keeper->goes_back || !is_near (now.upper, keeper->seen.upper) || !is_near (now.page_size, keeper->seen.page_size)
      || is_near (now.value, keeper->seen.value))
    return;
  keeper->place = now.value;
  keeper->seen = now;
}

/* As near to the place as the contents go. Not set when it is there already: that would end a scrolling under way. */
static void
go_back (GtkAdjustment *adjustment, Keeper *keeper)
{
  double last = gtk_adjustment_get_upper (adjustment) - gtk_adjustment_get_page_size (adjustment);
  double place = MAX (MIN (keeper->place, last), gtk_adjustment_get_lower (adjustment));
  keeper->goes_back = TRUE;
  if (!is_near (place, gtk_adjustment_get_value (adjustment)))
    gtk_adjustment_set_value (adjustment, place);
  keeper->goes_back = FALSE;
  keeper->seen = look_at (adjustment);
}

/* A focus that moves on when what had it is taken away would scroll to where it moves. */
static void
let_focus_scroll (Keeper *keeper, gboolean lets)
{
  GtkWidget *child = gtk_scrolled_window_get_child (keeper->scrolled);
  if (GTK_IS_VIEWPORT (child))
    gtk_viewport_set_scroll_to_focus (GTK_VIEWPORT (child), lets);
}

static void
keeper_free (gpointer data)
{
  Keeper *keeper = data;
  g_signal_handlers_disconnect_by_data (keeper->adjustment, keeper);
  g_object_unref (keeper->adjustment);
  g_free (keeper);
}

static gboolean
on_frame (GtkWidget *widget, GdkFrameClock *clock, gpointer user_data)
{
  Keeper *keeper = user_data;
  if (keeper->more_to_come (keeper->user_data) || ++keeper->n_frames < FRAMES_TO_SETTLE)
    return G_SOURCE_CONTINUE;
  let_focus_scroll (keeper, TRUE);
  g_object_set_data (G_OBJECT (widget), "place-kept", NULL);
  return G_SOURCE_REMOVE;
}

void
sb_scroll_place_keep (GtkScrolledWindow *scrolled, SbMoreToComeFunc more_to_come, gpointer user_data)
{
  if (g_object_get_data (G_OBJECT (scrolled), "place-kept") != NULL)
    return;
  Keeper *keeper = g_new0 (Keeper, 1);
  *keeper = (Keeper){ .scrolled = scrolled, .more_to_come = more_to_come, .user_data = user_data };
  keeper->adjustment = g_object_ref (gtk_scrolled_window_get_vadjustment (scrolled));
  keeper->seen = look_at (keeper->adjustment);
  keeper->place = keeper->seen.value;
  g_signal_connect (keeper->adjustment, "changed", G_CALLBACK (go_back), keeper);
  g_signal_connect (keeper->adjustment, "value-changed", G_CALLBACK (on_value_changed), keeper);
  let_focus_scroll (keeper, FALSE);
  g_object_set_data (G_OBJECT (scrolled), "place-kept", GINT_TO_POINTER (TRUE));
  gtk_widget_add_tick_callback (GTK_WIDGET (scrolled), on_frame, keeper, keeper_free);
}
