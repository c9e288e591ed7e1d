/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "unsaved_strip.h"

#include "session.h"

#include <string.h>

/* More lines than these are scrolled, in this height. */
#define MOST_LINES     3
#define MOST_HEIGHT_PX 148

struct _SbUnsavedStrip {
  GtkBox parent_instance;
  GPtrArray *found; /* SbUnsavedWork, one for each row */
  GtkWidget *rows, *scrolled;
};

G_DEFINE_FINAL_TYPE (SbUnsavedStrip, sb_unsaved_strip, GTK_TYPE_BOX)

enum { OPEN, N_SIGNALS };
static guint signals[N_SIGNALS];

static char *
time_text (gint64 kept_us, GDateTime *now)
{
  g_autoptr (GDateTime) utc = g_date_time_new_from_unix_utc (kept_us / G_TIME_SPAN_SECOND);
  g_autoptr (GDateTime) kept = utc != NULL ? g_date_time_to_timezone (utc, g_date_time_get_timezone (now)) : NULL;
  if (kept == NULL)
    return g_strdup ("an unknown time");
  gboolean today = g_date_time_get_year (kept) == g_date_time_get_year (now)
                   && g_date_time_get_day_of_year (kept) == g_date_time_get_day_of_year (now);
  return g_date_time_format (kept, today ? "%H:%M" : "%Y-%m-%d %H:%M");
}

static char *
name_of (const SbUnsavedWork *work)
{
  if (work->session_path == NULL)
    return g_strdup ("a new session");
  char *name = g_filename_display_basename (work->session_path);
  if (g_str_has_suffix (name, SB_SESSION_SUFFIX))
    name[strlen (name) - strlen (SB_SESSION_SUFFIX)] = '\0';
  return name;
}

char *
sb_unsaved_strip_text (const SbUnsavedWork *work, GDateTime *now)
{
  g_autofree char *when = time_text (work->kept_us, now), *name = name_of (work);
  if (work->failure != NULL)
    return g_strdup_printf ("Unsaved work of %s was found and cannot be read: %s. It is in %s.", when, work->failure,
                            work->path);
  return g_strdup_printf ("Unsaved work of %s was found: %s, %u %s with %u %s.", when, name, work->n_configurations,
                          work->n_configurations == 1 ? "configuration" : "configurations", work->n_trials,
                          work->n_trials == 1 ? "trial" : "trials");
}

static guint
index_of (SbUnsavedStrip *strip, GtkWidget *button)
{
  guint index = 0;
  GtkWidget *row = gtk_widget_get_parent (button);
  while ((row = gtk_widget_get_prev_sibling (row)) != NULL)
    index++;
  return index;
}

/* The row goes; the work is the caller's. */
static SbUnsavedWork *
take (SbUnsavedStrip *strip, GtkWidget *button)
{
  SbUnsavedWork *work = g_ptr_array_steal_index (strip->found, index_of (strip, button));
  gtk_box_remove (GTK_BOX (strip->rows), gtk_widget_get_parent (button));
  gtk_widget_set_visible (GTK_WIDGET (strip), strip->found->len > 0);
  return work;
}

static void
on_open (GtkButton *button, SbUnsavedStrip *strip)
{
  g_signal_emit (strip, signals[OPEN], 0, take (strip, GTK_WIDGET (button)));
}

static void
on_discard (GtkButton *button, SbUnsavedStrip *strip)
{
  g_autoptr (SbUnsavedWork) work = take (strip, GTK_WIDGET (button));
  sb_unsaved_work_forget (work);
}

static GtkWidget *
add_button (SbUnsavedStrip *strip, GtkWidget *row, const char *label, const char *what, GCallback clicked)
{
  GtkWidget *button = gtk_button_new_with_label (label);
  g_autofree char *full = g_strdup_printf ("%s: %s", label, what);
  gtk_accessible_update_property (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_PROPERTY_LABEL, full, -1);
  g_signal_connect (button, "clicked", clicked, strip);
  gtk_box_append (GTK_BOX (row), button);
  return button;
}

static void
add_row (SbUnsavedStrip *strip, const SbUnsavedWork *work)
{
  g_autoptr (GDateTime) now = g_date_time_new_now_local ();
  g_autofree char *text = sb_unsaved_strip_text (work, now);
  GtkWidget *row = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8), *label = gtk_label_new (text);
  GtkWidget *icon = gtk_image_new_from_icon_name ("document-revert-symbolic");
  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_label_set_wrap_mode (GTK_LABEL (label), PANGO_WRAP_WORD_CHAR);
  gtk_widget_set_hexpand (label, TRUE);
  gtk_widget_set_tooltip_text (row, work->session_path);
  gtk_box_append (GTK_BOX (row), icon);
  gtk_box_append (GTK_BOX (row), label);
  add_button (strip, row, "Discard", text, G_CALLBACK (on_discard));
  if (work->failure == NULL) {
    GtkWidget *open = add_button (strip, row, "Open", text, G_CALLBACK (on_open));
    gtk_widget_add_css_class (open, "suggested-action");
  }
  gtk_box_append (GTK_BOX (strip->rows), row);
}

static void
sb_unsaved_strip_finalize (GObject *object)
{
  g_clear_pointer (&SB_UNSAVED_STRIP (object)->found, g_ptr_array_unref);
  G_OBJECT_CLASS (sb_unsaved_strip_parent_class)->finalize (object);
}

static void
sb_unsaved_strip_class_init (SbUnsavedStripClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = sb_unsaved_strip_finalize;
  signals[OPEN] = g_signal_new ("open", SB_TYPE_UNSAVED_STRIP, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 1,
                                G_TYPE_POINTER);
}

static void
sb_unsaved_strip_init (SbUnsavedStrip *strip)
{
  strip->rows = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  GtkWidget *scrolled = gtk_scrolled_window_new ();
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (scrolled), GTK_POLICY_NEVER, GTK_POLICY_NEVER);
  gtk_scrolled_window_set_propagate_natural_height (GTK_SCROLLED_WINDOW (scrolled), TRUE);
  gtk_scrolled_window_set_max_content_height (GTK_SCROLLED_WINDOW (scrolled), MOST_HEIGHT_PX);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (scrolled), strip->rows);
  gtk_widget_set_hexpand (scrolled, TRUE);
  gtk_widget_add_css_class (GTK_WIDGET (strip), "unsaved");
  gtk_box_append (GTK_BOX (strip), scrolled);
  strip->scrolled = scrolled;
}

GtkWidget *
sb_unsaved_strip_new (GPtrArray *found)
{
  SbUnsavedStrip *strip = g_object_new (SB_TYPE_UNSAVED_STRIP, NULL);
  strip->found = found;
  for (guint i = 0; i < found->len; i++)
    add_row (strip, g_ptr_array_index (found, i));
  if (found->len > MOST_LINES)
    gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (strip->scrolled), GTK_POLICY_NEVER, GTK_POLICY_AUTOMATIC);
  return GTK_WIDGET (strip);
}
