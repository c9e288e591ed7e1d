/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "chart_menu.h"

#include "window_edits.h"

/* More trials than this have no entry of their own. */
#define MOST_TRIALS 40

/* Underscores are no keys of the menu's. (transfer full) */
static char *
plain (const char *text)
{
  g_autoptr (GString) plain = g_string_new (text);
  g_string_replace (plain, "_", "__", 0);
  return g_string_free (g_steal_pointer (&plain), FALSE);
}

/* "Onset here" of every trial, or of one. */
static GMenuModel *
menu_of_trials (const SbConfiguration *configuration, const char *action)
{
  GMenu *menu = g_menu_new ();
  g_autofree char *name = plain (configuration->name);
  g_autofree char *every = g_strdup_printf ("Every repeat of %s", name);
  g_autofree char *detailed = g_strdup_printf ("chart.%s(%d)", action, SB_EVERY_TRIAL);
  g_menu_append (menu, every, detailed);
  for (guint t = 0; t < MIN (configuration->entries->len, MOST_TRIALS); t++) {
    g_autofree char *label = sb_trial_entry_label (sb_configuration_entry (configuration, t));
    g_autofree char *shown = plain (label);
    g_autofree char *of_trial = g_strdup_printf ("chart.%s(%u)", action, t);
    g_menu_append (menu, shown, of_trial);
  }
  return G_MENU_MODEL (menu);
}

static void
add_submenu (GMenu *menu, const char *label, const SbConfiguration *configuration, const char *action)
{
  g_autoptr (GMenuModel) trials = menu_of_trials (configuration, action);
  g_menu_append_submenu (menu, label, trials);
}

static void
add_configuration (GMenu *menu, const SbConfiguration *configuration)
{
  g_autofree char *name = plain (configuration->name);
  g_autofree char *dim = g_strdup_printf (configuration->dimmed ? "No longer dim %s" : "Dim %s", name);
  g_autofree char *solo = g_strdup_printf ("Draw %s alone, or all", name);
  g_autofree char *hide = g_strdup_printf ("Hide %s", name);
  g_menu_append (menu, dim, "chart.dim");
  g_menu_append (menu, solo, "chart.solo");
  g_menu_append (menu, hide, "chart.hide");
}

static void
on_closed (GtkPopover *popover, gpointer user_data)
{
  /* Once what was chosen has been done. */
  g_idle_add_full (G_PRIORITY_LOW, (GSourceFunc) G_CALLBACK (gtk_widget_unparent), popover, NULL);
}

static void
pop_up (SbChartView *view, GtkWidget *popover)
{
  GdkRectangle place = sb_chart_view_place (view);
  gtk_widget_set_parent (popover, GTK_WIDGET (view));
  gtk_popover_set_pointing_to (GTK_POPOVER (popover), &place);
  g_signal_connect (popover, "closed", G_CALLBACK (on_closed), NULL);
  gtk_popover_popup (GTK_POPOVER (popover));
}

void
sb_chart_menu_show (SbChartView *view, const SbChartMenu *wanted)
{
  g_autoptr (GMenu) menu = g_menu_new (), callouts = g_menu_new (), curves = g_menu_new (), window = g_menu_new ();
  g_menu_append (callouts, "Callout here…", "chart.callout");
  if (wanted->on_callout) {
    g_menu_append (callouts, "Change the callout…", "chart.edit-callout");
    g_menu_append (callouts, "Delete the callout", "chart.delete-callout");
  }
  g_menu_append (callouts, "Point to compare", "chart.point");
  add_configuration (curves, wanted->configuration);
  g_menu_append (curves, "Swap reference and other", "win.flip");
  add_submenu (window, "Onset here", wanted->configuration, "onset");
  add_submenu (window, "Active window ends here", wanted->configuration, "end");
  add_submenu (window, "Find onset and end anew", wanted->configuration, "find-window");
  g_menu_append_section (menu, NULL, G_MENU_MODEL (callouts));
  g_menu_append_section (menu, NULL, G_MENU_MODEL (curves));
  g_menu_append_section (menu, NULL, G_MENU_MODEL (window));
  pop_up (view, gtk_popover_menu_new_from_model (G_MENU_MODEL (menu)));
}

typedef struct {
  SbChartTextFunc given;
  gpointer user_data;
} Asking;

static void
on_activate (GtkEntry *entry, Asking *asking)
{
  g_autofree char *text = g_strdup (gtk_editable_get_text (GTK_EDITABLE (entry)));
  SbChartTextFunc given = asking->given;
  gpointer user_data = asking->user_data;
  gtk_popover_popdown (GTK_POPOVER (gtk_widget_get_ancestor (GTK_WIDGET (entry), GTK_TYPE_POPOVER)));
  given (text, user_data);
}

static void
asking_free (gpointer data, GClosure *closure)
{
  g_free (data);
}

void
sb_chart_menu_ask_text (SbChartView *view, const char *text, SbChartTextFunc given, gpointer user_data)
{
  Asking *asking = g_new0 (Asking, 1);
  asking->given = given;
  asking->user_data = user_data;
  GtkWidget *entry = gtk_entry_new ();
  gtk_editable_set_text (GTK_EDITABLE (entry), text);
  gtk_editable_set_width_chars (GTK_EDITABLE (entry), 28);
  gtk_entry_set_placeholder_text (GTK_ENTRY (entry), "Words beside this point");
  gtk_accessible_update_property (GTK_ACCESSIBLE (entry), GTK_ACCESSIBLE_PROPERTY_LABEL, "Callout", -1);
  g_signal_connect_data (entry, "activate", G_CALLBACK (on_activate), asking, asking_free, 0);
  GtkWidget *popover = gtk_popover_new ();
  gtk_popover_set_child (GTK_POPOVER (popover), entry);
  pop_up (view, popover);
  gtk_widget_grab_focus (entry);
}
