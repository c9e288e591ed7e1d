/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "busy_strip.h"

/* Work that is done sooner shows no progress: a strip that flashes is only unrest. */
#define SHOWN_AFTER_MS 200

struct _SbBusyStrip {
  GtkBox parent_instance;
  SbDocument *document; /* borrowed: the window outlives its parts */
  GtkWidget *revealer, *label, *bar;
  guint source;
};

G_DEFINE_FINAL_TYPE (SbBusyStrip, sb_busy_strip, GTK_TYPE_BOX)

static void
show (SbBusyStrip *strip)
{
  gsize n_done, n_total;
  gboolean busy = sb_document_busy (strip->document, &n_done, &n_total);
  gtk_revealer_set_reveal_child (GTK_REVEALER (strip->revealer), busy);
  if (!busy)
    return;
  g_autofree char *text
      = n_total > 0 ? g_strdup_printf ("Reading logs: %" G_GSIZE_FORMAT " of %" G_GSIZE_FORMAT, n_done, n_total)
                    : g_strdup ("Looking for logs…");
  gtk_label_set_text (GTK_LABEL (strip->label), text);
  if (n_total > 0)
    gtk_progress_bar_set_fraction (GTK_PROGRESS_BAR (strip->bar), (double) n_done / (double) n_total);
  else
    gtk_progress_bar_pulse (GTK_PROGRESS_BAR (strip->bar));
}

static gboolean
on_due (gpointer user_data)
{
  SbBusyStrip *strip = user_data;
  strip->source = 0;
  show (strip);
  return G_SOURCE_REMOVE;
}

static void
on_busy_changed (SbDocument *document, SbBusyStrip *strip)
{
  gsize n_done, n_total;
  gboolean busy = sb_document_busy (document, &n_done, &n_total);
  if (busy && !gtk_revealer_get_reveal_child (GTK_REVEALER (strip->revealer))) {
    if (strip->source == 0)
      strip->source = g_timeout_add (SHOWN_AFTER_MS, on_due, strip);
    return;
  }
  g_clear_handle_id (&strip->source, g_source_remove);
  show (strip);
}

static void
sb_busy_strip_dispose (GObject *object)
{
  g_clear_handle_id (&SB_BUSY_STRIP (object)->source, g_source_remove);
  G_OBJECT_CLASS (sb_busy_strip_parent_class)->dispose (object);
}

static void
sb_busy_strip_class_init (SbBusyStripClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = sb_busy_strip_dispose;
}

static void
sb_busy_strip_init (SbBusyStrip *strip)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 12);
  gtk_widget_add_css_class (box, "busy");
  strip->label = gtk_label_new (NULL);
  strip->bar = gtk_progress_bar_new ();
  gtk_widget_set_hexpand (strip->bar, TRUE);
  gtk_widget_set_valign (strip->bar, GTK_ALIGN_CENTER);
  gtk_accessible_update_property (GTK_ACCESSIBLE (strip->bar), GTK_ACCESSIBLE_PROPERTY_LABEL, "Logs read", -1);
  GtkWidget *cancel = gtk_button_new_with_label ("Cancel");
  gtk_actionable_set_action_name (GTK_ACTIONABLE (cancel), "win.stop");
  gtk_box_append (GTK_BOX (box), strip->label);
  gtk_box_append (GTK_BOX (box), strip->bar);
  gtk_box_append (GTK_BOX (box), cancel);
  strip->revealer = gtk_revealer_new ();
  gtk_revealer_set_transition_type (GTK_REVEALER (strip->revealer), GTK_REVEALER_TRANSITION_TYPE_SLIDE_UP);
  gtk_revealer_set_child (GTK_REVEALER (strip->revealer), box);
  gtk_box_append (GTK_BOX (strip), strip->revealer);
}

GtkWidget *
sb_busy_strip_new (SbDocument *document)
{
  SbBusyStrip *strip = g_object_new (SB_TYPE_BUSY_STRIP, "orientation", GTK_ORIENTATION_VERTICAL, NULL);
  strip->document = document;
  g_signal_connect_object (document, "busy-changed", G_CALLBACK (on_busy_changed), strip, 0);
  on_busy_changed (document, strip);
  return GTK_WIDGET (strip);
}
