/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "chart_tools.h"

#include "edits.h"
#include "point_tools.h"
#include "view_edits.h"

struct _SbChartTools {
  GtkBox parent_instance;
  SbDocument *document; /* borrowed: the window outlives its views */
  gboolean updating;
  GtkWidget *view_button[SB_N_VIEWS], *curve_row, *point_row;
  GtkWidget *panel_button[SB_N_PANELS], *band_choice, *trials_button, *model_button, *alone_button, *panel_box;
  GtkWidget *label_check[SB_N_LABELS];
};

G_DEFINE_FINAL_TYPE (SbChartTools, sb_chart_tools, GTK_TYPE_BOX)

static const char *const band_words[SB_N_BANDS + 1] = {
  [SB_BAND_SD] = "Mean ± s",
  [SB_BAND_CONFIDENCE] = "95 % of the mean",
  [SB_BAND_RANGE] = "Lowest to highest",
  [SB_BAND_QUARTILES] = "Quartiles",
  NULL,
};

static void
on_panel_toggled (GtkToggleButton *button, SbChartTools *tools)
{
  if (tools->updating)
    return;
  for (guint i = 0; i < SB_N_PANELS; i++)
    if (tools->panel_button[i] == GTK_WIDGET (button))
      sb_edit_show_panel (tools->document, (SbPanel) i, gtk_toggle_button_get_active (button));
  sb_chart_tools_update (tools); /* the last panel stays */
}

static void
on_band_chosen (GtkDropDown *choice, GParamSpec *pspec, SbChartTools *tools)
{
  if (!tools->updating && gtk_drop_down_get_selected (choice) < SB_N_BANDS)
    sb_edit_set_band (tools->document, (SbBandKind) gtk_drop_down_get_selected (choice));
}

static void
on_trials_toggled (GtkToggleButton *button, SbChartTools *tools)
{
  if (!tools->updating)
    sb_edit_set_trial_lines (tools->document, gtk_toggle_button_get_active (button));
}

static void
on_model_toggled (GtkToggleButton *button, SbChartTools *tools)
{
  if (!tools->updating)
    sb_edit_set_drive_model (tools->document, gtk_toggle_button_get_active (button));
}

static void
on_alone_toggled (GtkToggleButton *button, SbChartTools *tools)
{
  if (!tools->updating)
    sb_edit_set_difference_only (tools->document, gtk_toggle_button_get_active (button));
}

static void
on_label_toggled (GtkCheckButton *check, SbChartTools *tools)
{
  for (guint kind = 0; kind < SB_N_LABELS && !tools->updating; kind++)
    if (tools->label_check[kind] == GTK_WIDGET (check))
      sb_edit_show_label (tools->document, (SbLabelKind) kind, gtk_check_button_get_active (check));
}

static void
update_labels (SbChartTools *tools, const SbChartChoices *chart)
{
  for (guint kind = 0; kind < SB_N_LABELS; kind++) {
    gboolean is_shown = (chart->labels & 1u << kind) != 0;
    gtk_check_button_set_active (GTK_CHECK_BUTTON (tools->label_check[kind]), is_shown);
    gtk_widget_set_sensitive (tools->label_check[kind], chart->view != SB_VIEW_RINGING || kind == SB_LABEL_RINGING);
  }
}

void
sb_chart_tools_update (SbChartTools *tools)
{
  const SbBench *bench = sb_document_bench (tools->document);
  tools->updating = TRUE;
  for (guint v = 0; v < SB_N_VIEWS; v++)
    gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (tools->view_button[v]), bench->chart.view == v);
  gboolean has_panels = bench->chart.view == SB_VIEW_RESPONSE || bench->chart.view == SB_VIEW_DIFFERENCE;
  gboolean over_time = sb_view_is_over_time (bench->chart.view);
  gtk_widget_set_visible (tools->curve_row, over_time || bench->chart.view == SB_VIEW_RINGING);
  gtk_widget_set_visible (tools->band_choice, over_time);
  gtk_widget_set_visible (tools->trials_button, over_time);
  update_labels (tools, &bench->chart);
  gtk_widget_set_visible (tools->panel_box, has_panels);
  gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (tools->alone_button), bench->chart.difference_only);
  gtk_widget_set_visible (tools->alone_button, bench->chart.view == SB_VIEW_DIFFERENCE);
  gtk_widget_set_visible (tools->model_button, bench->chart.view == SB_VIEW_RESPONSE);
  gtk_widget_set_visible (tools->point_row, sb_view_is_of_points (bench->chart.view));
  for (guint i = 0; i < SB_N_PANELS; i++)
    gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (tools->panel_button[i]), (bench->chart.panels & (1u << i)) != 0);
  gtk_drop_down_set_selected (GTK_DROP_DOWN (tools->band_choice), bench->band);
  gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (tools->trials_button), bench->chart.trial_lines);
  gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (tools->model_button), bench->drive_model != SB_DRIVE_MODEL_NONE);
  tools->updating = FALSE;
  sb_point_tools_update (SB_POINT_TOOLS (tools->point_row));
}

/* The page knows which measure a spread should be of: its action does it. */
static void
on_view_toggled (GtkToggleButton *button, SbChartTools *tools)
{
  if (tools->updating)
    return;
  for (guint v = 0; v < SB_N_VIEWS; v++)
    if (tools->view_button[v] == GTK_WIDGET (button)) {
      g_autofree char *action = g_strdup_printf ("win.view-%s", sb_view_key ((SbView) v));
      gtk_widget_activate_action (GTK_WIDGET (tools), action, NULL);
    }
  sb_chart_tools_update (tools); /* one of them stays pressed */
}

static void
add_views (SbChartTools *tools, GtkWidget *row)
{
  static const char *const tooltips[SB_N_VIEWS] = {
    [SB_VIEW_RESPONSE] = "Mean curves over time (Alt+1)",
    [SB_VIEW_DIFFERENCE] = "Other minus reference over time (Alt+2)",
    [SB_VIEW_SPREAD] = "A point for every repeat, by configuration (Alt+3)",
    [SB_VIEW_SWEEP] = "A measure over the level of a setting (Alt+4)",
    [SB_VIEW_SLOPE] = "Torque and its slope over time (Alt+5)",
    [SB_VIEW_RINGING] = "What is left after the rise, its fit and its spectrum (Alt+6)",
    [SB_VIEW_PHASE] = "Velocity over angle, torque over velocity (Alt+7)",
    [SB_VIEW_PLAN] = "How many repeats show a difference (Alt+8)",
  };
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 0);
  gtk_widget_add_css_class (box, "linked");
  for (guint v = 0; v < SB_N_VIEWS; v++) {
    tools->view_button[v] = gtk_toggle_button_new_with_label (sb_view_name ((SbView) v));
    gtk_widget_set_tooltip_text (tools->view_button[v], tooltips[v]);
    g_signal_connect (tools->view_button[v], "toggled", G_CALLBACK (on_view_toggled), tools);
    gtk_box_append (GTK_BOX (box), tools->view_button[v]);
  }
  gtk_box_append (GTK_BOX (row), box);
}

static void
add_panels (SbChartTools *tools)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 0);
  gtk_widget_add_css_class (box, "linked");
  for (guint i = 0; i < SB_N_PANELS; i++) {
    const char *name = sb_channel_name (sb_panel_channel ((SbPanel) i));
    tools->panel_button[i] = gtk_toggle_button_new_with_label (name);
    g_autofree char *tooltip
        = g_strdup_printf ("Show the panel of the %s", sb_channel_key (sb_panel_channel ((SbPanel) i)));
    gtk_widget_set_tooltip_text (tools->panel_button[i], tooltip);
    g_signal_connect (tools->panel_button[i], "toggled", G_CALLBACK (on_panel_toggled), tools);
    gtk_box_append (GTK_BOX (box), tools->panel_button[i]);
  }
  gtk_box_append (GTK_BOX (tools->curve_row), box);
  tools->panel_box = box;
}

static void
add_labels (SbChartTools *tools)
{
  GtkWidget *list = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6), *popover = gtk_popover_new ();
  for (guint kind = 0; kind < SB_N_LABELS; kind++) {
    tools->label_check[kind] = gtk_check_button_new_with_label (sb_label_kind_name ((SbLabelKind) kind));
    g_signal_connect (tools->label_check[kind], "toggled", G_CALLBACK (on_label_toggled), tools);
    gtk_box_append (GTK_BOX (list), tools->label_check[kind]);
  }
  gtk_popover_set_child (GTK_POPOVER (popover), list);
  GtkWidget *button = gtk_menu_button_new ();
  gtk_menu_button_set_label (GTK_MENU_BUTTON (button), "Labels");
  gtk_menu_button_set_popover (GTK_MENU_BUTTON (button), popover);
  gtk_widget_set_tooltip_text (button, "Name what the curves show: peaks, peak slope, overshoot, ringing");
  gtk_box_append (GTK_BOX (tools->curve_row), button);
}

static void
sb_chart_tools_class_init (SbChartToolsClass *klass)
{
}

static void
sb_chart_tools_init (SbChartTools *tools)
{
  gtk_box_set_spacing (GTK_BOX (tools), 6);
  gtk_orientable_set_orientation (GTK_ORIENTABLE (tools), GTK_ORIENTATION_VERTICAL);
  gtk_widget_add_css_class (GTK_WIDGET (tools), "chart-tools");
  GtkWidget *view_row = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  gtk_box_append (GTK_BOX (tools), view_row);
  add_views (tools, view_row);
  tools->curve_row = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  gtk_box_append (GTK_BOX (tools), tools->curve_row);
  add_panels (tools);
  tools->band_choice = gtk_drop_down_new_from_strings (band_words);
  gtk_widget_set_tooltip_text (tools->band_choice, "What the band around a mean curve shows");
  gtk_accessible_update_property (GTK_ACCESSIBLE (tools->band_choice), GTK_ACCESSIBLE_PROPERTY_LABEL, "Band", -1);
  g_signal_connect (tools->band_choice, "notify::selected", G_CALLBACK (on_band_chosen), tools);
  gtk_box_append (GTK_BOX (tools->curve_row), tools->band_choice);
  tools->trials_button = gtk_toggle_button_new_with_label ("Trials");
  gtk_widget_set_tooltip_text (tools->trials_button, "Show a thin line for each trial");
  g_signal_connect (tools->trials_button, "toggled", G_CALLBACK (on_trials_toggled), tools);
  gtk_box_append (GTK_BOX (tools->curve_row), tools->trials_button);
  add_labels (tools);
  tools->model_button = gtk_toggle_button_new_with_label ("Model");
  gtk_widget_set_tooltip_text (tools->model_button, "Fit a model of the drive and draw it over each mean");
  g_signal_connect (tools->model_button, "toggled", G_CALLBACK (on_model_toggled), tools);
  gtk_box_append (GTK_BOX (tools->curve_row), tools->model_button);
  tools->alone_button = gtk_toggle_button_new_with_label ("Alone");
  gtk_widget_set_tooltip_text (tools->alone_button, "The difference in place of the response, not under it");
  g_signal_connect (tools->alone_button, "toggled", G_CALLBACK (on_alone_toggled), tools);
  gtk_box_append (GTK_BOX (tools->curve_row), tools->alone_button);
}

GtkWidget *
sb_chart_tools_new (SbDocument *document)
{
  SbChartTools *tools = g_object_new (SB_TYPE_CHART_TOOLS, NULL);
  tools->document = document;
  tools->point_row = sb_point_tools_new (document);
  gtk_box_append (GTK_BOX (tools), tools->point_row);
  sb_chart_tools_update (tools);
  return GTK_WIDGET (tools);
}
