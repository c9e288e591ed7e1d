/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "configuration_list.h"

#include "configuration_row.h"
#include "seen_part.h"

#include <string.h>

/* Of fewer, one sees at once which is which. */
#define SEARCHED_FROM 11

struct _SbConfigurationList {
  GtkBox parent_instance;
  SbDocument *document; /* borrowed: the window outlives its views */
  GtkWidget *list_box, *search, *scrolled;
  guint n_rows;
};

G_DEFINE_FINAL_TYPE (SbConfigurationList, sb_configuration_list, GTK_TYPE_BOX)

static SbConfigurationRow *
row_at (SbConfigurationList *list, guint index)
{
  return SB_CONFIGURATION_ROW (gtk_list_box_get_row_at_index (GTK_LIST_BOX (list->list_box), (int) index));
}

void
sb_configuration_list_update (SbConfigurationList *list)
{
  guint n = sb_document_bench (list->document)->configurations->len;
  for (; list->n_rows > n; list->n_rows--)
    gtk_list_box_remove (GTK_LIST_BOX (list->list_box), GTK_WIDGET (row_at (list, list->n_rows - 1)));
  for (guint i = 0; i < list->n_rows; i++)
    sb_configuration_row_update (row_at (list, i));
  if (n < SEARCHED_FROM)
    gtk_editable_set_text (GTK_EDITABLE (list->search), "");
  gtk_widget_set_visible (list->search, n >= SEARCHED_FROM);
  gtk_list_box_invalidate_filter (GTK_LIST_BOX (list->list_box));
}

/* Letter case does not count. */
static gboolean
is_shown (GtkListBoxRow *row, gpointer user_data)
{
  SbConfigurationList *list = user_data;
  const SbBench *bench = sb_document_bench (list->document);
  guint index = (guint) gtk_list_box_row_get_index (row);
  g_autofree char *wanted = g_utf8_casefold (gtk_editable_get_text (GTK_EDITABLE (list->search)), -1);
  if (*wanted == '\0' || index >= bench->configurations->len)
    return TRUE;
  g_autofree char *name = g_utf8_casefold (sb_bench_configuration (bench, index)->name, -1);
  return strstr (name, wanted) != NULL;
}

static void
on_search_changed (GtkSearchEntry *entry, SbConfigurationList *list)
{
  gtk_list_box_invalidate_filter (GTK_LIST_BOX (list->list_box));
}

gboolean
sb_configuration_list_step (SbConfigurationList *list)
{
  if (list->n_rows == sb_document_bench (list->document)->configurations->len)
    return FALSE;
  gtk_list_box_append (GTK_LIST_BOX (list->list_box), sb_configuration_row_new (list->document, list->n_rows));
  list->n_rows++;
  return TRUE;
}

/* The first one when none is selected; NULL when there is none. */
static SbConfigurationRow *
selected_row (SbConfigurationList *list)
{
  GtkListBoxRow *row = gtk_list_box_get_selected_row (GTK_LIST_BOX (list->list_box));
  if (row == NULL)
    row = gtk_list_box_get_row_at_index (GTK_LIST_BOX (list->list_box), 0);
  return row != NULL ? SB_CONFIGURATION_ROW (row) : NULL;
}

void
sb_configuration_list_rename_selected (SbConfigurationList *list)
{
  SbConfigurationRow *row = selected_row (list);
  if (row != NULL)
    sb_configuration_row_rename (row);
}

const char *
sb_configuration_list_log (SbConfigurationList *list)
{
  SbConfigurationRow *row = selected_row (list);
  for (guint i = 0; i < list->n_rows; i++)
    if (gtk_widget_get_focus_child (list->list_box) == GTK_WIDGET (row_at (list, i)))
      row = row_at (list, i);
  return row != NULL ? sb_configuration_row_log (row) : NULL;
}

void
sb_configuration_list_select (SbConfigurationList *list, guint configuration, int trial)
{
  if (configuration >= list->n_rows)
    return;
  SbConfigurationRow *row = row_at (list, configuration);
  gtk_list_box_select_row (GTK_LIST_BOX (list->list_box), GTK_LIST_BOX_ROW (row));
  if (trial >= 0)
    sb_configuration_row_show_trial (row, (guint) trial);
  else
    gtk_widget_grab_focus (GTK_WIDGET (row));
}

static void
sb_configuration_list_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  SbConfigurationList *list = SB_CONFIGURATION_LIST (widget);
  for (guint i = 0; i < list->n_rows; i++)
    sb_configuration_row_note_seen (row_at (list, i), list->scrolled);
  GTK_WIDGET_CLASS (sb_configuration_list_parent_class)->snapshot (widget, snapshot);
}

static void
sb_configuration_list_class_init (SbConfigurationListClass *klass)
{
  GTK_WIDGET_CLASS (klass)->snapshot = sb_configuration_list_snapshot;
}

static void
sb_configuration_list_init (SbConfigurationList *list)
{
  GtkWidget *heading = gtk_label_new ("Configurations");
  gtk_label_set_xalign (GTK_LABEL (heading), 0);
  gtk_widget_add_css_class (heading, "pane-heading");
  list->list_box = gtk_list_box_new ();
  gtk_widget_add_css_class (list->list_box, "configurations");
  gtk_accessible_update_property (GTK_ACCESSIBLE (list->list_box), GTK_ACCESSIBLE_PROPERTY_LABEL, "Configurations", -1);
  list->scrolled = gtk_scrolled_window_new ();
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (list->scrolled), GTK_POLICY_NEVER, GTK_POLICY_AUTOMATIC);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (list->scrolled), list->list_box);
  gtk_widget_set_vexpand (list->scrolled, TRUE);
  list->search = gtk_search_entry_new ();
  gtk_widget_set_visible (list->search, FALSE);
  gtk_widget_add_css_class (list->search, "configuration-search");
  gtk_accessible_update_property (GTK_ACCESSIBLE (list->search), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                  "Search configurations by name", -1);
  g_signal_connect (list->search, "search-changed", G_CALLBACK (on_search_changed), list);
  gtk_list_box_set_filter_func (GTK_LIST_BOX (list->list_box), is_shown, list, NULL);
  gtk_box_append (GTK_BOX (list), heading);
  gtk_box_append (GTK_BOX (list), list->search);
  gtk_box_append (GTK_BOX (list), list->scrolled);
}

GtkWidget *
sb_configuration_list_new (SbDocument *document)
{
  SbConfigurationList *list = g_object_new (SB_TYPE_CONFIGURATION_LIST, "orientation", GTK_ORIENTATION_VERTICAL, NULL);
  list->document = document;
  return GTK_WIDGET (list);
}
