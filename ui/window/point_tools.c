/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "point_tools.h"

#include "setting_levels.h"
#include "view_edits.h"

#define LIST_HEIGHT_PX 380

struct _SbPointTools {
  GtkBox parent_instance;
  SbDocument *document; /* borrowed: the window outlives its views */
  gboolean updating;
  GtkWidget *measures_button, *measures_label, *check[SB_N_MEASURES];
  GtkWidget *setting_choice, *order_button, *excluded_button;
};

G_DEFINE_FINAL_TYPE (SbPointTools, sb_point_tools, GTK_TYPE_BOX)

static void
on_measure_toggled (GtkCheckButton *check, SbPointTools *tools)
{
  if (tools->updating)
    return;
  for (guint id = 0; id < SB_N_MEASURES; id++)
    if (tools->check[id] == GTK_WIDGET (check))
      sb_edit_show_measure (tools->document, (SbMeasureId) id, gtk_check_button_get_active (check));
  sb_point_tools_update (tools); /* the last measure stays */
}

static void
on_setting_chosen (GtkDropDown *choice, GParamSpec *pspec, SbPointTools *tools)
{
  gpointer item = gtk_drop_down_get_selected_item (choice);
  if (!tools->updating && item != NULL)
    sb_edit_set_setting (tools->document, gtk_string_object_get_string (GTK_STRING_OBJECT (item)));
}

static void
on_order_toggled (GtkToggleButton *button, SbPointTools *tools)
{
  if (!tools->updating)
    sb_edit_set_in_order (tools->document, gtk_toggle_button_get_active (button));
}

static void
on_excluded_toggled (GtkToggleButton *button, SbPointTools *tools)
{
  if (!tools->updating)
    sb_edit_show_excluded (tools->document, gtk_toggle_button_get_active (button));
}

static void
update_measures (SbPointTools *tools, const SbChartChoices *chart)
{
  SbMeasureId measures[SB_N_MEASURES];
  gsize n = sb_chart_choices_measures (chart, measures);
  for (guint id = 0; id < SB_N_MEASURES; id++)
    gtk_check_button_set_active (GTK_CHECK_BUTTON (tools->check[id]), (chart->measures & 1u << id) != 0);
  g_autofree char *several = g_strdup_printf ("%" G_GSIZE_FORMAT " measures", n);
  const char *label = n == 1 ? sb_measure_info (measures[0])->name : several;
  gtk_label_set_text (GTK_LABEL (tools->measures_label), label);
  g_autofree char *said = g_strdup_printf ("Measures on the chart: %s", label);
  gtk_accessible_update_property (GTK_ACCESSIBLE (tools->measures_button), GTK_ACCESSIBLE_PROPERTY_LABEL, said, -1);
}

static gboolean
has_names (GListModel *shown, const GPtrArray *names)
{
  gboolean same = g_list_model_get_n_items (shown) == names->len;
  for (guint i = 0; same && i < names->len; i++)
    same = g_str_equal (gtk_string_list_get_string (GTK_STRING_LIST (shown), i), g_ptr_array_index (names, i));
  return same;
}

/* Settings to choose from; the one that a session names stays among them when no log states it. */
static void
update_settings (SbPointTools *tools, const SbChartChoices *chart)
{
  SbAnalysis *results = sb_document_results (tools->document);
  g_autoptr (GPtrArray) names = results != NULL ? sb_setting_names (results) : g_ptr_array_new_with_free_func (g_free);
  guint chosen = 0;
  if (chart->setting[0] != '\0' && !g_ptr_array_find_with_equal_func (names, chart->setting, g_str_equal, &chosen)) {
    chosen = names->len;
    g_ptr_array_add (names, g_strdup (chart->setting));
  }
  GtkDropDown *choice = GTK_DROP_DOWN (tools->setting_choice);
  if (!has_names (gtk_drop_down_get_model (choice), names)) {
    GtkStringList *list = gtk_string_list_new (NULL);
    for (guint i = 0; i < names->len; i++)
      gtk_string_list_append (list, g_ptr_array_index (names, i));
    gtk_drop_down_set_model (choice, G_LIST_MODEL (list));
    g_object_unref (list);
  }
  if (names->len > 0)
    gtk_drop_down_set_selected (choice, chosen);
  gtk_widget_set_visible (tools->setting_choice, chart->view == SB_VIEW_SWEEP && names->len > 0);
}

void
sb_point_tools_update (SbPointTools *tools)
{
  const SbChartChoices *chart = &sb_document_bench (tools->document)->chart;
  tools->updating = TRUE;
  update_measures (tools, chart);
  if (chart->view == SB_VIEW_SWEEP)
    update_settings (tools, chart);
  gtk_widget_set_visible (tools->setting_choice, chart->view == SB_VIEW_SWEEP);
  gtk_widget_set_visible (tools->order_button, chart->view == SB_VIEW_SPREAD);
  gtk_widget_set_visible (tools->excluded_button, chart->view == SB_VIEW_SPREAD);
  gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (tools->order_button), chart->in_order);
  gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (tools->excluded_button), chart->excluded_repeats);
  tools->updating = FALSE;
}

static GtkWidget *
make_list (SbPointTools *tools)
{
  GtkWidget *list = gtk_box_new (GTK_ORIENTATION_VERTICAL, 2);
  for (guint id = 0; id < SB_N_MEASURES; id++) {
    tools->check[id] = gtk_check_button_new_with_label (sb_measure_info ((SbMeasureId) id)->name);
    g_signal_connect (tools->check[id], "toggled", G_CALLBACK (on_measure_toggled), tools);
    gtk_box_append (GTK_BOX (list), tools->check[id]);
  }
  GtkWidget *scrolled = gtk_scrolled_window_new ();
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (scrolled), GTK_POLICY_NEVER, GTK_POLICY_AUTOMATIC);
  gtk_scrolled_window_set_propagate_natural_height (GTK_SCROLLED_WINDOW (scrolled), TRUE);
  gtk_scrolled_window_set_max_content_height (GTK_SCROLLED_WINDOW (scrolled), LIST_HEIGHT_PX);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (scrolled), list);
  return scrolled;
}

static void
add_measures (SbPointTools *tools)
{
  GtkWidget *popover = gtk_popover_new ();
  gtk_popover_set_child (GTK_POPOVER (popover), make_list (tools));
  GtkWidget *inside = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  tools->measures_label = gtk_label_new (NULL);
  gtk_box_append (GTK_BOX (inside), tools->measures_label);
  gtk_box_append (GTK_BOX (inside), gtk_image_new_from_icon_name ("pan-down-symbolic"));
  tools->measures_button = gtk_menu_button_new ();
  gtk_menu_button_set_child (GTK_MENU_BUTTON (tools->measures_button), inside);
  gtk_menu_button_set_popover (GTK_MENU_BUTTON (tools->measures_button), popover);
  gtk_widget_set_tooltip_text (tools->measures_button,
                               "Measures on the chart. A row chosen in the table shows it alone");
  gtk_box_append (GTK_BOX (tools), tools->measures_button);
}

static GtkWidget *
add_toggle (SbPointTools *tools, const char *label, const char *tooltip, GCallback on_toggled)
{
  GtkWidget *button = gtk_toggle_button_new_with_label (label);
  gtk_widget_set_tooltip_text (button, tooltip);
  g_signal_connect (button, "toggled", on_toggled, tools);
  gtk_box_append (GTK_BOX (tools), button);
  return button;
}

static void
sb_point_tools_class_init (SbPointToolsClass *klass)
{
}

static void
sb_point_tools_init (SbPointTools *tools)
{
  gtk_box_set_spacing (GTK_BOX (tools), 6);
  add_measures (tools);
  tools->setting_choice = gtk_drop_down_new (G_LIST_MODEL (gtk_string_list_new (NULL)), NULL);
  gtk_widget_set_tooltip_text (tools->setting_choice, "The setting whose levels are on the axis");
  gtk_accessible_update_property (GTK_ACCESSIBLE (tools->setting_choice), GTK_ACCESSIBLE_PROPERTY_LABEL, "Setting", -1);
  g_signal_connect (tools->setting_choice, "notify::selected", G_CALLBACK (on_setting_chosen), tools);
  gtk_box_append (GTK_BOX (tools), tools->setting_choice);
  tools->order_button
      = add_toggle (tools, "In order", "The repeats of a row from top to bottom as they were made: a drift shows",
                    G_CALLBACK (on_order_toggled));
  tools->excluded_button
      = add_toggle (tools, "Left out", "Repeats that were left out too, hollow", G_CALLBACK (on_excluded_toggled));
}

GtkWidget *
sb_point_tools_new (SbDocument *document)
{
  SbPointTools *tools = g_object_new (SB_TYPE_POINT_TOOLS, NULL);
  tools->document = document;
  sb_point_tools_update (tools);
  return GTK_WIDGET (tools);
}
