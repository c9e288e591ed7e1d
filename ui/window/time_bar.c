/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "time_bar.h"

#include "chart_reading.h"

#include <math.h>

struct _SbTimeBar {
  GtkBox parent_instance;
  SbChartView *chart; /* borrowed */
  GtkWidget *entry[2], *unit, *go[2];
};

G_DEFINE_FINAL_TYPE (SbTimeBar, sb_time_bar, GTK_TYPE_BOX)

gboolean
sb_time_bar_parse (const char *text, double *number)
{
  g_autoptr (GString) plain = g_string_new (text);
  g_string_replace (plain, "−", "-", 0);
  g_string_replace (plain, ",", ".", 0);
  char *end;
  g_strstrip (plain->str);
  *number = g_ascii_strtod (plain->str, &end);
  return end != plain->str && *end == '\0' && isfinite (*number);
}

static double
factor_of (SbTimeBar *bar)
{
  const SbChartModel *model = sb_chart_view_model (bar->chart);
  return model != NULL && model->x_display_factor > 0 ? model->x_display_factor : 1;
}

static void
show_time (SbTimeBar *bar, guint i, double time_s)
{
  g_autofree char *text = sb_chart_reading_time (sb_chart_view_model (bar->chart), time_s);
  *strchr (text, ' ') = '\0'; /* the unit stands beside the fields */
  if (g_strcmp0 (gtk_editable_get_text (GTK_EDITABLE (bar->entry[i])), text) != 0)
    gtk_editable_set_text (GTK_EDITABLE (bar->entry[i]), text);
  gtk_widget_remove_css_class (bar->entry[i], "error");
}

static gboolean
is_typed_in (SbTimeBar *bar)
{
  GtkRoot *root = gtk_widget_get_root (GTK_WIDGET (bar));
  GtkWidget *focus = root != NULL ? gtk_root_get_focus (root) : NULL;
  return focus != NULL
         && (gtk_widget_is_ancestor (focus, bar->entry[0]) || gtk_widget_is_ancestor (focus, bar->entry[1]));
}

static void
show_range (SbTimeBar *bar)
{
  SbTimeRange range;
  gboolean has_time = sb_chart_view_get_range (bar->chart, &range);
  gtk_widget_set_visible (GTK_WIDGET (bar), has_time);
  if (!has_time)
    return;
  show_time (bar, 0, range.from_s);
  show_time (bar, 1, range.to_s);
  gtk_label_set_text (GTK_LABEL (bar->unit), factor_of (bar) > 1 ? "ms" : "s");
  for (int i = 0; i < 2; i++)
    gtk_widget_set_sensitive (bar->go[i], sb_chart_view_can_go (bar->chart, i == 0 ? -1 : 1));
}

static void
on_range_changed (SbChartView *chart, SbTimeBar *bar)
{
  if (!is_typed_in (bar))
    show_range (bar);
  else
    for (int i = 0; i < 2; i++)
      gtk_widget_set_sensitive (bar->go[i], sb_chart_view_can_go (bar->chart, i == 0 ? -1 : 1));
}

static void
on_activate (GtkEntry *entry, SbTimeBar *bar)
{
  double shown[2];
  gboolean well = TRUE;
  for (guint i = 0; i < 2; i++) {
    gboolean is_number = sb_time_bar_parse (gtk_editable_get_text (GTK_EDITABLE (bar->entry[i])), &shown[i]);
    if (is_number)
      gtk_widget_remove_css_class (bar->entry[i], "error");
    else
      gtk_widget_add_css_class (bar->entry[i], "error");
    well = well && is_number;
  }
  if (well && !(shown[1] > shown[0])) {
    gtk_widget_add_css_class (bar->entry[1], "error");
    well = FALSE;
  }
  if (!well)
    return;
  sb_chart_view_set_range (bar->chart, (SbTimeRange){ shown[0] / factor_of (bar), shown[1] / factor_of (bar) });
  show_range (bar);
}

static gboolean
on_left (gpointer user_data)
{
  if (!is_typed_in (user_data))
    show_range (user_data);
  return G_SOURCE_REMOVE;
}

/* Where the focus goes is known afterwards. */
static void
on_leave (GtkEventControllerFocus *controller, SbTimeBar *bar)
{
  g_idle_add_full (G_PRIORITY_DEFAULT_IDLE, on_left, g_object_ref (bar), g_object_unref);
}

static gboolean
on_key (GtkEventControllerKey *controller, guint key, guint code, GdkModifierType state, SbTimeBar *bar)
{
  if (key != GDK_KEY_Escape)
    return GDK_EVENT_PROPAGATE;
  gtk_widget_grab_focus (GTK_WIDGET (bar->chart));
  return GDK_EVENT_STOP;
}

static GtkWidget *
make_entry (SbTimeBar *bar, const char *label)
{
  GtkWidget *entry = gtk_entry_new ();
  gtk_editable_set_width_chars (GTK_EDITABLE (entry), 7);
  gtk_editable_set_max_width_chars (GTK_EDITABLE (entry), 7);
  gtk_entry_set_alignment (GTK_ENTRY (entry), 1);
  gtk_widget_set_tooltip_text (entry, label);
  gtk_accessible_update_property (GTK_ACCESSIBLE (entry), GTK_ACCESSIBLE_PROPERTY_LABEL, label, -1);
  g_signal_connect (entry, "activate", G_CALLBACK (on_activate), bar);
  GtkEventController *focus = gtk_event_controller_focus_new ();
  g_signal_connect (focus, "leave", G_CALLBACK (on_leave), bar);
  gtk_widget_add_controller (entry, focus);
  GtkEventController *key = gtk_event_controller_key_new ();
  gtk_event_controller_set_propagation_phase (key, GTK_PHASE_CAPTURE);
  g_signal_connect (key, "key-pressed", G_CALLBACK (on_key), bar);
  gtk_widget_add_controller (entry, key);
  gtk_box_append (GTK_BOX (bar), entry);
  return entry;
}

static GtkWidget *
add_button (SbTimeBar *bar, const char *icon, const char *action, const char *label)
{
  GtkWidget *button = icon != NULL ? gtk_button_new_from_icon_name (icon) : gtk_button_new ();
  gtk_widget_add_css_class (button, "flat");
  gtk_actionable_set_action_name (GTK_ACTIONABLE (button), action);
  gtk_widget_set_tooltip_text (button, label);
  gtk_accessible_update_property (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_PROPERTY_LABEL, label, -1);
  gtk_box_append (GTK_BOX (bar), button);
  return button;
}

static GtkWidget *
add_label (SbTimeBar *bar, const char *text)
{
  GtkWidget *label = gtk_label_new (text);
  gtk_widget_add_css_class (label, "small-text");
  gtk_box_append (GTK_BOX (bar), label);
  return label;
}

static void
sb_time_bar_class_init (SbTimeBarClass *klass)
{
}

static void
sb_time_bar_init (SbTimeBar *bar)
{
  gtk_box_set_spacing (GTK_BOX (bar), 5);
  gtk_widget_add_css_class (GTK_WIDGET (bar), "time-bar");
  add_label (bar, "Time shown");
  bar->entry[0] = make_entry (bar, "Time shown, from (Ctrl+G)");
  add_label (bar, "to");
  bar->entry[1] = make_entry (bar, "Time shown, to");
  bar->unit = add_label (bar, "ms");
  gtk_widget_set_hexpand (bar->unit, TRUE);
  gtk_widget_set_halign (bar->unit, GTK_ALIGN_START);
  bar->go[0] = add_button (bar, "go-previous-symbolic", "win.zoom-back", "The time shown before (Alt+Left)");
  bar->go[1] = add_button (bar, "go-next-symbolic", "win.zoom-forward", "The time shown after that (Alt+Right)");
  add_button (bar, "zoom-out-symbolic", "win.zoom-out", "Show more of the time");
  add_button (bar, "zoom-in-symbolic", "win.zoom-in", "Show less of the time");
  add_button (bar, "zoom-fit-best-symbolic", "win.fit", "Show all of the time (Ctrl+0)");
  GtkWidget *rise = add_button (bar, NULL, "win.fit-rise", "Show the rise (Ctrl+9)");
  gtk_button_set_label (GTK_BUTTON (rise), "Rise");
  gtk_accessible_update_property (GTK_ACCESSIBLE (rise), GTK_ACCESSIBLE_PROPERTY_LABEL, "Show the rise (Ctrl+9)", -1);
}

void
sb_time_bar_type (SbTimeBar *bar)
{
  gtk_widget_grab_focus (bar->entry[0]);
}

GtkWidget *
sb_time_bar_new (SbChartView *chart)
{
  SbTimeBar *bar = g_object_new (SB_TYPE_TIME_BAR, NULL);
  bar->chart = chart;
  g_signal_connect_object (chart, "range-changed", G_CALLBACK (on_range_changed), bar, 0);
  show_range (bar);
  return GTK_WIDGET (bar);
}
