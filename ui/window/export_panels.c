/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "export_panels.h"

#include "edits.h"

typedef struct {
  SbDocument *document; /* owned */
  GtkWidget *box;       /* that this belongs to */
  GtkWidget *check[SB_N_PANELS];
  gboolean updating;
} Panels;

static void
panels_free (gpointer data)
{
  Panels *panels = data;
  g_object_unref (panels->document);
  g_free (panels);
}

static void
update (Panels *panels)
{
  const SbChartChoices *chart = &sb_document_bench (panels->document)->chart;
  panels->updating = TRUE;
  gtk_widget_set_visible (panels->box, chart->view == SB_VIEW_RESPONSE || chart->view == SB_VIEW_DIFFERENCE);
  for (guint i = 0; i < SB_N_PANELS; i++)
    gtk_check_button_set_active (GTK_CHECK_BUTTON (panels->check[i]), (chart->panels & 1u << i) != 0);
  panels->updating = FALSE;
}

static void
on_bench_changed (SbDocument *document, GtkWidget *box)
{
  update (g_object_get_data (G_OBJECT (box), "panels"));
}

static void
on_toggled (GtkCheckButton *check, Panels *panels)
{
  for (guint i = 0; i < SB_N_PANELS && !panels->updating; i++)
    if (panels->check[i] == GTK_WIDGET (check)) {
      sb_edit_show_panel (panels->document, (SbPanel) i, gtk_check_button_get_active (check));
      update (panels); /* the last panel stays */
      return;
    }
}

GtkWidget *
sb_export_panels_new (SbDocument *document)
{
  GtkWidget *name = gtk_label_new ("Panels"), *row = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 12);
  Panels *panels = g_new0 (Panels, 1);
  panels->document = g_object_ref (document);
  panels->box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 3);
  gtk_label_set_xalign (GTK_LABEL (name), 0);
  gtk_widget_add_css_class (name, "field-name");
  gtk_box_append (GTK_BOX (panels->box), name);
  gtk_box_append (GTK_BOX (panels->box), row);
  for (guint i = 0; i < SB_N_PANELS; i++) {
    panels->check[i] = gtk_check_button_new_with_label (sb_channel_name (sb_panel_channel ((SbPanel) i)));
    g_signal_connect (panels->check[i], "toggled", G_CALLBACK (on_toggled), panels);
    gtk_box_append (GTK_BOX (row), panels->check[i]);
  }
  g_object_set_data_full (G_OBJECT (panels->box), "panels", panels, panels_free);
  g_signal_connect_object (document, "bench-changed", G_CALLBACK (on_bench_changed), panels->box, 0);
  update (panels);
  return panels->box;
}
