/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "configuration_row.h"

#include "arrange_edits.h"
#include "configuration_menu.h"
#include "curve_sample.h"
#include "dragging.h"
#include "edits.h"
#include "menu_keys.h"
#include "name_field.h"
#include "seen_part.h"
#include "tooltip.h"
#include "trial_rows.h"

struct _SbConfigurationRow {
  GtkListBoxRow parent_instance;
  SbDocument *document; /* borrowed: the window outlives its views */
  guint index;
  gboolean updating; /* widgets are being set from the document, not by the person */

  GtkWidget *box, *style_button, *name, *drawn_switch;
  GtkWidget *unfold_button, *facts_label, *settings_label, *menu_button;
  GtkWidget *role_button[2];
  GtkWidget *trials; /* NULL until unfolded for the first time */
};

G_DEFINE_FINAL_TYPE (SbConfigurationRow, sb_configuration_row, GTK_TYPE_LIST_BOX_ROW)

static const char *const role_names[] = { [SB_SIDE_REFERENCE] = "Reference", [SB_SIDE_OTHER] = "Other" };

static void
on_style_chosen (guint style, gpointer user_data)
{
  SbConfigurationRow *row = user_data;
  sb_edit_set_style (row->document, row->index, style);
}

static void
on_drawn (GtkSwitch *drawn_switch, GParamSpec *pspec, SbConfigurationRow *row)
{
  if (!row->updating)
    sb_edit_set_drawn (row->document, row->index, gtk_switch_get_active (drawn_switch));
}

static void
on_role_toggled (GtkToggleButton *button, SbConfigurationRow *row)
{
  SbSide role = GTK_WIDGET (button) == row->role_button[SB_SIDE_REFERENCE] ? SB_SIDE_REFERENCE : SB_SIDE_OTHER;
  if (!row->updating)
    sb_edit_set_role (row->document, row->index, role, gtk_toggle_button_get_active (button));
}

static void
on_unfold_toggled (GtkToggleButton *button, SbConfigurationRow *row)
{
  gboolean open = gtk_toggle_button_get_active (button);
  if (open && row->trials == NULL) {
    row->trials = sb_trial_rows_new (row->document, row->index);
    gtk_box_append (GTK_BOX (row->box), row->trials);
    sb_trial_rows_update (SB_TRIAL_ROWS (row->trials));
  }
  if (row->trials != NULL)
    gtk_widget_set_visible (row->trials, open);
  gtk_button_set_icon_name (GTK_BUTTON (button), open ? "pan-down-symbolic" : "pan-end-symbolic");
}

void
sb_configuration_row_rename (SbConfigurationRow *row)
{
  sb_name_field_edit (row->name);
}

void
sb_configuration_row_show_trial (SbConfigurationRow *row, guint trial)
{
  gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (row->unfold_button), TRUE);
  sb_trial_rows_focus (SB_TRIAL_ROWS (row->trials), trial);
}

static void
on_named (const char *name, gpointer user_data)
{
  SbConfigurationRow *row = user_data;
  sb_edit_rename (row->document, row->index, name);
}

static void
on_rename_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  sb_configuration_row_rename (SB_CONFIGURATION_ROW (widget));
}

static gboolean
is_open_question (const SbTrialResult *trial)
{
  return trial->failure != NULL
         || (trial->facts != NULL && trial->facts->layout != NULL && !sb_layout_is_certain (trial->facts->layout));
}

const char *
sb_configuration_row_log (SbConfigurationRow *row)
{
  const SbConfiguration *configuration = sb_bench_configuration (sb_document_bench (row->document), row->index);
  const SbConfigurationResult *result = sb_document_result (row->document, row->index);
  int focused = row->trials != NULL ? sb_trial_rows_focused (SB_TRIAL_ROWS (row->trials)) : -1;
  if (focused >= 0)
    return sb_configuration_entry (configuration, (guint) focused)->path;
  for (guint t = 0; result != NULL && t < result->trials->len; t++)
    if (is_open_question (sb_configuration_result_trial (result, t)))
      return sb_configuration_result_trial (result, t)->path;
  return configuration->entries->len > 0 ? sb_configuration_entry (configuration, 0)->path : NULL;
}

static void
on_columns_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  const char *path = sb_configuration_row_log (SB_CONFIGURATION_ROW (widget));
  if (path != NULL)
    gtk_widget_activate_action (widget, "win.columns-of", "^ay", path);
}

static void
on_include_all_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  SbConfigurationRow *row = SB_CONFIGURATION_ROW (widget);
  sb_edit_include_all (row->document, row->index);
}

static void
on_remove_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  SbConfigurationRow *row = SB_CONFIGURATION_ROW (widget);
  sb_edit_remove (row->document, row->index);
}

static void
on_move_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  SbConfigurationRow *row = SB_CONFIGURATION_ROW (widget);
  int to = (int) row->index + g_variant_get_int32 (parameter);
  if (to >= 0)
    sb_edit_reorder (row->document, row->index, (guint) to);
}

static void
on_merge_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  SbConfigurationRow *row = SB_CONFIGURATION_ROW (widget);
  guint into = g_variant_get_uint32 (parameter);
  if (into >= sb_document_bench (row->document)->configurations->len)
    return;
  sb_menu_let_keys_go (widget);
  sb_edit_merge (row->document, row->index, into);
}

static void
on_duplicate_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  SbConfigurationRow *row = SB_CONFIGURATION_ROW (widget);
  sb_edit_duplicate (row->document, row->index);
}

static void
on_menu_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  gtk_menu_button_popup (GTK_MENU_BUTTON (SB_CONFIGURATION_ROW (widget)->menu_button));
}

static void
on_role_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  GtkWidget *button = SB_CONFIGURATION_ROW (widget)->role_button[g_variant_get_int32 (parameter)];
  gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (button), !gtk_toggle_button_get_active (GTK_TOGGLE_BUTTON (button)));
}

static void
on_draw_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  GtkSwitch *drawn = GTK_SWITCH (SB_CONFIGURATION_ROW (widget)->drawn_switch);
  gtk_switch_set_active (drawn, !gtk_switch_get_active (drawn));
}

static void
on_style_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  gtk_menu_button_popup (GTK_MENU_BUTTON (SB_CONFIGURATION_ROW (widget)->style_button));
}

static void
on_unfold_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  GtkToggleButton *button = GTK_TOGGLE_BUTTON (SB_CONFIGURATION_ROW (widget)->unfold_button);
  gtk_toggle_button_set_active (button, !gtk_toggle_button_get_active (button));
}

static SbDragged *
begin_drag (GtkWidget *widget, gpointer user_data)
{
  SbConfigurationRow *row = user_data;
  return sb_dragged_new (row->document, row->index, NULL);
}

/* Made when it is asked for: it names the other configurations. */
static void
fill_menu (GtkMenuButton *button, gpointer user_data)
{
  SbConfigurationRow *row = user_data;
  g_autoptr (GMenuModel) menu = sb_configuration_menu_new (row->document, row->index);
  gtk_menu_button_set_menu_model (button, menu);
}

static GtkWidget *
make_menu_button (SbConfigurationRow *row)
{
  GtkWidget *button = gtk_menu_button_new ();
  gtk_menu_button_set_icon_name (GTK_MENU_BUTTON (button), "view-more-symbolic");
  gtk_menu_button_set_has_frame (GTK_MENU_BUTTON (button), FALSE);
  gtk_menu_button_set_create_popup_func (GTK_MENU_BUTTON (button), fill_menu, row, NULL);
  return button;
}

static GtkWidget *
make_heading (SbConfigurationRow *row)
{
  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  sb_dragging_offer (line, begin_drag, row);
  row->style_button = sb_style_button_new (on_style_chosen, row);
  row->name = sb_name_field_new ("Name of the configuration", GTK_WIDGET (row), on_named, row);
  gtk_widget_add_css_class (row->name, "configuration-name");
  gtk_widget_set_hexpand (row->name, TRUE);
  row->drawn_switch = gtk_switch_new ();
  gtk_widget_set_valign (row->drawn_switch, GTK_ALIGN_CENTER);
  g_signal_connect (row->drawn_switch, "notify::active", G_CALLBACK (on_drawn), row);
  gtk_box_append (GTK_BOX (line), row->style_button);
  gtk_box_append (GTK_BOX (line), row->name);
  gtk_box_append (GTK_BOX (line), row->drawn_switch);
  return line;
}

static GtkWidget *
make_roles (SbConfigurationRow *row)
{
  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 4);
  row->unfold_button = gtk_toggle_button_new ();
  gtk_button_set_icon_name (GTK_BUTTON (row->unfold_button), "pan-end-symbolic");
  gtk_widget_add_css_class (row->unfold_button, "flat");
  gtk_widget_set_tooltip_text (row->unfold_button, "Show the trials");
  g_signal_connect (row->unfold_button, "toggled", G_CALLBACK (on_unfold_toggled), row);
  row->facts_label = gtk_label_new (NULL);
  gtk_label_set_xalign (GTK_LABEL (row->facts_label), 0);
  gtk_label_set_ellipsize (GTK_LABEL (row->facts_label), PANGO_ELLIPSIZE_END);
  gtk_widget_set_hexpand (row->facts_label, TRUE);
  gtk_widget_add_css_class (row->facts_label, "small-text");
  gtk_box_append (GTK_BOX (line), row->unfold_button);
  gtk_box_append (GTK_BOX (line), row->facts_label);
  GtkWidget *roles = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 0);
  gtk_widget_add_css_class (roles, "linked");
  for (int i = 0; i < 2; i++) {
    row->role_button[i] = gtk_toggle_button_new_with_label (role_names[i]);
    gtk_widget_add_css_class (row->role_button[i], "role");
    gtk_widget_set_tooltip_text (row->role_button[i], i == SB_SIDE_REFERENCE ? "Compare with this one"
                                                                             : "Compare this one with the reference");
    g_signal_connect (row->role_button[i], "toggled", G_CALLBACK (on_role_toggled), row);
    gtk_box_append (GTK_BOX (roles), row->role_button[i]);
  }
  row->menu_button = make_menu_button (row);
  gtk_box_append (GTK_BOX (line), roles);
  gtk_box_append (GTK_BOX (line), row->menu_button);
  return line;
}

static void
label_accessibly (GtkWidget *widget, const char *format, const char *name)
{
  g_autoptr (GString) label = g_string_new (format);
  g_string_replace (label, "%", name, 1);
  gtk_accessible_update_property (GTK_ACCESSIBLE (widget), GTK_ACCESSIBLE_PROPERTY_LABEL, label->str, -1);
}

/* "n = 8", "7 of 8": there is no room for more beside the roles */
static void
show_counts (SbConfigurationRow *row, const SbConfiguration *configuration, const SbConfigurationResult *result)
{
  guint n_included = 0, n_all = configuration->entries->len;
  for (guint i = 0; i < n_all; i++)
    n_included += sb_configuration_entry (configuration, i)->included ? 1 : 0;
  /* Results of these very choices know better, also while only a part of the logs is read. */
  const SbAnalysis *results = sb_document_results (row->document);
  gboolean known = result != NULL && results->bench == sb_document_bench (row->document);
  guint n = known ? (guint) result->n_used : n_included;
  g_autofree char *text = n == n_all ? g_strdup_printf ("n = %u", n) : g_strdup_printf ("%u of %u", n, n_all);
  gtk_label_set_text (GTK_LABEL (row->facts_label), text);
  g_autofree char *whole = n == n_all ? NULL : g_strconcat ("n = ", text, NULL);
  sb_tooltip_set (row->facts_label, whole);
  gtk_accessible_update_property (GTK_ACCESSIBLE (row->facts_label), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                  whole != NULL ? whole : text, -1);
}

/* Lines break between settings, not between a value and its unit. */
static char *
keep_together (const char *settings)
{
  g_auto (GStrv) parts = g_strsplit (settings, ", ", -1);
  for (guint i = 0; parts[i] != NULL; i++) {
    g_autoptr (GString) part = g_string_new (parts[i]);
    g_string_replace (part, " ", "\u00a0", 0);
    g_free (parts[i]);
    parts[i] = g_string_free (g_steal_pointer (&part), FALSE);
  }
  return g_strjoinv (", ", parts);
}

static void
show_settings (SbConfigurationRow *row)
{
  SbAnalysis *results = sb_document_results (row->document);
  if (results == NULL || results->bench != sb_document_bench (row->document))
    return; /* those of before stand until the new ones are there */
  g_autofree char *settings = sb_analysis_differing_settings (results, row->index);
  g_autofree char *shown = keep_together (settings);
  gtk_label_set_text (GTK_LABEL (row->settings_label), shown);
  sb_tooltip_set (row->settings_label, *settings != '\0' ? settings : NULL);
  gtk_widget_set_visible (row->settings_label, *settings != '\0');
}

void
sb_configuration_row_update (SbConfigurationRow *row)
{
  const SbBench *bench = sb_document_bench (row->document);
  const SbConfiguration *configuration = sb_bench_configuration (bench, row->index);
  row->updating = TRUE;
  sb_style_button_set (row->style_button, configuration->style, configuration->name);
  sb_name_field_set (row->name, configuration->name);
  gtk_switch_set_active (GTK_SWITCH (row->drawn_switch), configuration->drawn);
  sb_tooltip_set (row->drawn_switch, configuration->drawn ? "Drawn on the chart and listed in the table"
                                                          : "Neither drawn on the chart nor listed in the table");
  gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (row->role_button[SB_SIDE_REFERENCE]),
                                bench->reference == (int) row->index);
  gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (row->role_button[SB_SIDE_OTHER]), bench->other == (int) row->index);
  show_counts (row, configuration, sb_document_result (row->document, row->index));
  show_settings (row);
  label_accessibly (row->drawn_switch, "Draw %", configuration->name);
  label_accessibly (row->unfold_button, "Trials of %", configuration->name);
  label_accessibly (row->menu_button, "Menu of %", configuration->name);
  label_accessibly (row->role_button[SB_SIDE_REFERENCE], "Use % as reference", configuration->name);
  label_accessibly (row->role_button[SB_SIDE_OTHER], "Use % as other", configuration->name);
  label_accessibly (GTK_WIDGET (row), "%", configuration->name);
  if (row->trials != NULL)
    sb_trial_rows_update (SB_TRIAL_ROWS (row->trials));
  row->updating = FALSE;
}

void
sb_configuration_row_note_seen (SbConfigurationRow *row, GtkWidget *view)
{
  if (sb_seen_part_note (GTK_WIDGET (row), view) && row->trials != NULL && gtk_widget_get_visible (row->trials))
    sb_trial_rows_note_seen (SB_TRIAL_ROWS (row->trials), view);
}

static void
sb_configuration_row_class_init (SbConfigurationRowClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);
  gtk_widget_class_install_action (widget_class, "configuration.rename", NULL, on_rename_action);
  gtk_widget_class_install_action (widget_class, "configuration.include-all", NULL, on_include_all_action);
  gtk_widget_class_install_action (widget_class, "configuration.columns", NULL, on_columns_action);
  gtk_widget_class_install_action (widget_class, "configuration.remove", NULL, on_remove_action);
  gtk_widget_class_install_action (widget_class, "configuration.move", "i", on_move_action);
  gtk_widget_class_install_action (widget_class, "configuration.merge", "u", on_merge_action);
  gtk_widget_class_install_action (widget_class, "configuration.duplicate", NULL, on_duplicate_action);
  gtk_widget_class_install_action (widget_class, "configuration.menu", NULL, on_menu_action);
  gtk_widget_class_install_action (widget_class, "configuration.role", "i", on_role_action);
  gtk_widget_class_install_action (widget_class, "configuration.draw", NULL, on_draw_action);
  gtk_widget_class_install_action (widget_class, "configuration.style", NULL, on_style_action);
  gtk_widget_class_install_action (widget_class, "configuration.unfold", NULL, on_unfold_action);
  gtk_widget_class_add_binding_action (widget_class, GDK_KEY_r, GDK_ALT_MASK, "configuration.role", "i",
                                       SB_SIDE_REFERENCE);
  gtk_widget_class_add_binding_action (widget_class, GDK_KEY_o, GDK_ALT_MASK, "configuration.role", "i", SB_SIDE_OTHER);
  gtk_widget_class_add_binding_action (widget_class, GDK_KEY_d, GDK_ALT_MASK, "configuration.draw", NULL);
  gtk_widget_class_add_binding_action (widget_class, GDK_KEY_c, GDK_ALT_MASK, "configuration.style", NULL);
  gtk_widget_class_add_binding_action (widget_class, GDK_KEY_t, GDK_ALT_MASK, "configuration.unfold", NULL);
  gtk_widget_class_add_binding_action (widget_class, GDK_KEY_Menu, 0, "configuration.menu", NULL);
  gtk_widget_class_add_binding_action (widget_class, GDK_KEY_F10, GDK_SHIFT_MASK, "configuration.menu", NULL);
  gtk_widget_class_add_binding_action (widget_class, GDK_KEY_i, GDK_CONTROL_MASK, "configuration.include-all", NULL);
  gtk_widget_class_add_binding_action (widget_class, GDK_KEY_Up, GDK_ALT_MASK, "configuration.move", "i", -1);
  gtk_widget_class_add_binding_action (widget_class, GDK_KEY_Down, GDK_ALT_MASK, "configuration.move", "i", 1);
  gtk_widget_class_add_binding_action (widget_class, GDK_KEY_d, GDK_CONTROL_MASK, "configuration.duplicate", NULL);
  gtk_widget_class_add_binding_action (widget_class, GDK_KEY_F2, 0, "configuration.rename", NULL);
  gtk_widget_class_add_binding_action (widget_class, GDK_KEY_Delete, 0, "configuration.remove", NULL);
}

static void
sb_configuration_row_init (SbConfigurationRow *row)
{
  row->box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 2);
  gtk_box_append (GTK_BOX (row->box), make_heading (row));
  row->settings_label = gtk_label_new (NULL);
  gtk_label_set_xalign (GTK_LABEL (row->settings_label), 0);
  gtk_label_set_wrap (GTK_LABEL (row->settings_label), TRUE);
  gtk_label_set_wrap_mode (GTK_LABEL (row->settings_label), PANGO_WRAP_WORD_CHAR);
  gtk_widget_add_css_class (row->settings_label, "dim-label");
  gtk_widget_add_css_class (row->settings_label, "settings-apart");
  gtk_widget_set_visible (row->settings_label, FALSE);
  gtk_box_append (GTK_BOX (row->box), row->settings_label);
  gtk_box_append (GTK_BOX (row->box), make_roles (row));
  gtk_widget_add_css_class (GTK_WIDGET (row), "configuration");
  gtk_list_box_row_set_child (GTK_LIST_BOX_ROW (row), row->box);
}

GtkWidget *
sb_configuration_row_new (SbDocument *document, guint index)
{
  SbConfigurationRow *row = g_object_new (SB_TYPE_CONFIGURATION_ROW, NULL);
  row->document = document;
  row->index = index;
  sb_dragging_accept (GTK_WIDGET (row), document, &row->index);
  sb_configuration_row_update (row);
  return GTK_WIDGET (row);
}
