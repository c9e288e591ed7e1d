/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "trial_rows_parts.h"

#include "arrange_edits.h"
#include "chosen_trials.h"
#include "dragging.h"
#include "edits.h"
#include "menu_keys.h"
#include "seen_part.h"
#include "step_sheet.h"
#include "trial_menu.h"

G_DEFINE_FINAL_TYPE (SbTrialRows, sb_trial_rows, GTK_TYPE_BOX)

static void
show_selection (SbTrialRows *rows)
{
  for (guint i = 0; i < rows->rows->len; i++) {
    GtkWidget *line = g_array_index (rows->rows, SbTrialRow, i).line;
    if (sb_chosen_contain (rows->selected, i))
      gtk_widget_add_css_class (line, "chosen");
    else
      gtk_widget_remove_css_class (line, "chosen");
    gtk_accessible_update_state (GTK_ACCESSIBLE (line), GTK_ACCESSIBLE_STATE_SELECTED,
                                 sb_chosen_contain (rows->selected, i), -1);
  }
}

/* Who left a trial out with the pointer types the reason next. With the keys one goes on to the next trial. */
static void
offer_reason (const SbTrialRow *row)
{
  GtkRoot *root = gtk_widget_get_root (row->line);
  if (row->reason == NULL || !gtk_widget_get_visible (row->reason) || !GTK_IS_WINDOW (root)
      || gtk_window_get_focus_visible (GTK_WINDOW (root)))
    return;
  gtk_widget_grab_focus (row->reason);
  sb_seen_part_bring (row->reason);
}

static void
on_toggled (GtkCheckButton *check, SbTrialRows *rows)
{
  if (rows->updating)
    return;
  for (guint i = 0; i < rows->rows->len; i++) {
    if (g_array_index (rows->rows, SbTrialRow, i).check != GTK_WIDGET (check))
      continue;
    gboolean included = gtk_check_button_get_active (check);
    sb_edit_include (rows->document, rows->configuration, i, included);
    if (!included && i < rows->rows->len)
      offer_reason (&g_array_index (rows->rows, SbTrialRow, i));
  }
}

static const SbConfiguration *
configuration_of (SbTrialRows *rows)
{
  return sb_bench_configuration (sb_document_bench (rows->document), rows->configuration);
}

/* The log of trial `index` when it has been read; NULL else. Borrowed. */
static SbLog *
log_of (SbTrialRows *rows, guint index)
{
  const SbConfigurationResult *results = sb_document_result (rows->document, rows->configuration);
  const SbTrialResult *result
      = sb_trial_rows_result_of (results, index, sb_configuration_entry (configuration_of (rows), index));
  return result != NULL && result->trial != NULL ? result->trial->log : NULL;
}

static void
on_cut (GtkWidget *widget, const char *name, GVariant *parameter)
{
  SbTrialRows *rows = SB_TRIAL_ROWS (widget);
  guint index = g_variant_get_uint32 (parameter);
  const SbConfiguration *configuration = configuration_of (rows);
  SbLog *log = index < configuration->entries->len ? log_of (rows, index) : NULL;
  if (log == NULL)
    return;
  GtkWindow *parent = GTK_WINDOW (gtk_widget_get_root (widget));
  const char *path = sb_configuration_entry (configuration, index)->path;
  gtk_window_present (GTK_WINDOW (sb_step_sheet_new (parent, rows->document, path, log)));
}

static void
on_join (GtkWidget *widget, const char *name, GVariant *parameter)
{
  SbTrialRows *rows = SB_TRIAL_ROWS (widget);
  guint index = g_variant_get_uint32 (parameter);
  if (index < configuration_of (rows)->entries->len)
    sb_edit_join (rows->document, rows->configuration, index);
}

/* Also one that went while the window was open, of which there are results. */
static gboolean
is_lost (SbTrialRows *rows, guint index)
{
  const SbTrialEntry *entry = sb_configuration_entry (configuration_of (rows), index);
  const SbConfigurationResult *results = sb_document_result (rows->document, rows->configuration);
  const SbTrialResult *result = sb_trial_rows_result_of (results, index, entry);
  return (result != NULL && result->is_lost)
         || g_hash_table_contains (sb_document_news (rows->document)->missing, entry->path);
}

/* Takes the trials of an action; NULL when the trial is not there any more. (transfer full) */
static GArray *
trials_for (SbTrialRows *rows, guint index)
{
  return index < configuration_of (rows)->entries->len ? sb_chosen_meant_by (rows->selected, index) : NULL;
}

static void
on_move (GtkWidget *widget, const char *name, GVariant *parameter)
{
  SbTrialRows *rows = SB_TRIAL_ROWS (widget);
  guint index, to;
  g_variant_get (parameter, "(uu)", &index, &to);
  g_autoptr (GArray) trials = trials_for (rows, index);
  if (trials == NULL || to >= sb_document_bench (rows->document)->configurations->len)
    return;
  g_array_set_size (rows->selected, 0);
  sb_menu_let_keys_go (widget);
  sb_edit_move_trials (rows->document, rows->configuration, trials, to);
}

static void
on_split (GtkWidget *widget, const char *name, GVariant *parameter)
{
  SbTrialRows *rows = SB_TRIAL_ROWS (widget);
  g_autoptr (GArray) trials = trials_for (rows, g_variant_get_uint32 (parameter));
  if (trials == NULL)
    return;
  g_array_set_size (rows->selected, 0);
  sb_edit_split (rows->document, rows->configuration, trials);
}

static void
on_include (GtkWidget *widget, const char *name, GVariant *parameter)
{
  SbTrialRows *rows = SB_TRIAL_ROWS (widget);
  guint index;
  gboolean included;
  g_variant_get (parameter, "(ub)", &index, &included);
  g_autoptr (GArray) trials = trials_for (rows, index);
  if (trials != NULL)
    sb_edit_include_trials (rows->document, rows->configuration, trials, included);
}

static void
on_choose (GtkWidget *widget, const char *name, GVariant *parameter)
{
  SbTrialRows *rows = SB_TRIAL_ROWS (widget);
  guint index = g_variant_get_uint32 (parameter);
  sb_chosen_set (rows->selected, index, !sb_chosen_contain (rows->selected, index));
  show_selection (rows);
}

/* The action of this name on the trial that has the keys. */
static void
on_focused (GtkWidget *widget, const char *name, GVariant *parameter)
{
  SbTrialRows *rows = SB_TRIAL_ROWS (widget);
  int index = sb_trial_rows_focused (rows);
  if (index < 0)
    return;
  const char *action = g_variant_get_string (parameter, NULL);
  if (g_str_equal (action, "menu"))
    gtk_menu_button_popup (GTK_MENU_BUTTON (g_array_index (rows->rows, SbTrialRow, index).menu));
  else if (g_str_equal (action, "include") || g_str_equal (action, "exclude"))
    gtk_widget_activate_action (widget, "trials.include", "(ub)", (guint) index, g_str_equal (action, "include"));
  else
    gtk_widget_activate_action (widget, action, "u", (guint) index);
}

static void
on_choose_all (GtkWidget *widget, const char *name, GVariant *parameter)
{
  SbTrialRows *rows = SB_TRIAL_ROWS (widget);
  gboolean all = rows->selected->len == rows->rows->len;
  for (guint i = 0; i < rows->rows->len; i++)
    sb_chosen_set (rows->selected, i, !all);
  show_selection (rows);
}

/* The menu of a trial is made when it is asked for: what it offers depends on the trial. */
static void
fill_menu (GtkMenuButton *button, gpointer user_data)
{
  SbTrialRows *rows = user_data;
  guint index = 0;
  while (g_array_index (rows->rows, SbTrialRow, index).menu != GTK_WIDGET (button))
    index++;
  gboolean is_chosen = sb_chosen_contain (rows->selected, index);
  SbTrialMenu of = {
    .document = rows->document,
    .configuration = rows->configuration,
    .index = index,
    .can_be_cut = log_of (rows, index) != NULL,
    .is_lost = is_lost (rows, index),
    .is_chosen = is_chosen,
    .n_meant = is_chosen ? rows->selected->len : 1,
  };
  g_autoptr (GMenuModel) menu = sb_trial_menu_new (&of);
  gtk_menu_button_set_menu_model (button, menu);
}

static GtkWidget *
make_menu (SbTrialRows *rows)
{
  GtkWidget *button = gtk_menu_button_new ();
  gtk_menu_button_set_icon_name (GTK_MENU_BUTTON (button), "view-more-symbolic");
  gtk_menu_button_set_has_frame (GTK_MENU_BUTTON (button), FALSE);
  gtk_menu_button_set_create_popup_func (GTK_MENU_BUTTON (button), fill_menu, rows, NULL);
  return button;
}

static int
index_of_line (SbTrialRows *rows, GtkWidget *line)
{
  for (guint i = 0; i < rows->rows->len; i++)
    if (g_array_index (rows->rows, SbTrialRow, i).line == line)
      return (int) i;
  return -1;
}

static SbDragged *
begin_drag (GtkWidget *line, gpointer user_data)
{
  SbTrialRows *rows = user_data;
  int index = index_of_line (rows, line);
  return index >= 0
             ? sb_dragged_new (rows->document, rows->configuration, sb_chosen_meant_by (rows->selected, (guint) index))
             : NULL;
}

/* With Ctrl or Shift a click chooses, and leaves the check as it is. */
static void
on_pressed (GtkGestureClick *click, int n_press, double x, double y, SbTrialRows *rows)
{
  GdkModifierType state = gtk_event_controller_get_current_event_state (GTK_EVENT_CONTROLLER (click));
  int index = index_of_line (rows, gtk_event_controller_get_widget (GTK_EVENT_CONTROLLER (click)));
  if (!(state & (GDK_CONTROL_MASK | GDK_SHIFT_MASK)) || index < 0)
    return;
  gtk_gesture_set_state (GTK_GESTURE (click), GTK_EVENT_SEQUENCE_CLAIMED);
  if ((state & GDK_SHIFT_MASK) && rows->selected->len > 0) {
    guint first = g_array_index (rows->selected, guint, 0);
    for (guint i = MIN (first, (guint) index); i <= MAX (first, (guint) index); i++)
      sb_chosen_set (rows->selected, i, TRUE);
  } else {
    sb_chosen_set (rows->selected, (guint) index, !sb_chosen_contain (rows->selected, (guint) index));
  }
  show_selection (rows);
}

static void
let_arrange (SbTrialRows *rows, GtkWidget *line)
{
  GtkGesture *click = gtk_gesture_click_new ();
  gtk_event_controller_set_propagation_phase (GTK_EVENT_CONTROLLER (click), GTK_PHASE_CAPTURE);
  g_signal_connect (click, "pressed", G_CALLBACK (on_pressed), rows);
  gtk_widget_add_controller (line, GTK_EVENT_CONTROLLER (click));
  sb_dragging_offer (line, begin_drag, rows);
}

static SbTrialRow
make_row (SbTrialRows *rows)
{
  SbTrialRow row = { .box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 2) };
  row.line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  row.check = gtk_check_button_new_with_label ("");
  gtk_widget_set_hexpand (row.check, TRUE);
  GtkWidget *label = gtk_widget_get_last_child (row.check);
  if (GTK_IS_LABEL (label))
    gtk_label_set_ellipsize (GTK_LABEL (label), PANGO_ELLIPSIZE_MIDDLE);
  row.icon = gtk_image_new ();
  row.state = gtk_label_new (NULL);
  gtk_widget_add_css_class (row.state, "small-text");
  gtk_widget_add_css_class (row.state, "dim-label");
  g_signal_connect (row.check, "toggled", G_CALLBACK (on_toggled), rows);
  gtk_box_append (GTK_BOX (row.line), row.check);
  gtk_box_append (GTK_BOX (row.line), row.icon);
  gtk_box_append (GTK_BOX (row.line), row.state);
  row.menu = make_menu (rows);
  let_arrange (rows, row.line);
  gtk_box_append (GTK_BOX (row.line), row.menu);
  gtk_box_append (GTK_BOX (row.box), row.line);
  gtk_box_append (GTK_BOX (rows), row.box);
  return row;
}

void
sb_trial_rows_update (SbTrialRows *rows)
{
  const SbConfiguration *configuration
      = sb_bench_configuration (sb_document_bench (rows->document), rows->configuration);
  const SbConfigurationResult *results = sb_document_result (rows->document, rows->configuration);
  rows->updating = TRUE;
  if (rows->rows->len != configuration->entries->len)
    g_array_set_size (rows->selected, 0); /* they are others now */
  while (rows->rows->len > configuration->entries->len) {
    gtk_box_remove (GTK_BOX (rows), g_array_index (rows->rows, SbTrialRow, rows->rows->len - 1).box);
    g_array_set_size (rows->rows, rows->rows->len - 1);
  }
  for (guint i = 0; i < configuration->entries->len; i++) {
    if (i == rows->rows->len) {
      SbTrialRow row = make_row (rows);
      g_array_append_val (rows->rows, row);
    }
    const SbTrialEntry *entry = sb_configuration_entry (configuration, i);
    sb_trial_rows_update_row (rows, &g_array_index (rows->rows, SbTrialRow, i), entry,
                              sb_trial_rows_result_of (results, i, entry));
  }
  rows->updating = FALSE;
  show_selection (rows);
}

void
sb_trial_rows_note_seen (SbTrialRows *rows, GtkWidget *view)
{
  for (guint i = 0; i < rows->rows->len; i++)
    sb_seen_part_note (g_array_index (rows->rows, SbTrialRow, i).box, view);
}

void
sb_trial_rows_focus (SbTrialRows *rows, guint trial)
{
  if (trial < rows->rows->len)
    gtk_widget_grab_focus (g_array_index (rows->rows, SbTrialRow, trial).check);
}

int
sb_trial_rows_focused (SbTrialRows *rows)
{
  for (guint i = 0; i < rows->rows->len; i++)
    if (gtk_widget_get_focus_child (GTK_WIDGET (rows)) == g_array_index (rows->rows, SbTrialRow, i).box)
      return (int) i;
  return -1;
}

static void
sb_trial_rows_finalize (GObject *object)
{
  g_array_unref (SB_TRIAL_ROWS (object)->rows);
  g_array_unref (SB_TRIAL_ROWS (object)->selected);
  G_OBJECT_CLASS (sb_trial_rows_parent_class)->finalize (object);
}

static void
sb_trial_rows_class_init (SbTrialRowsClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = sb_trial_rows_finalize;
  gtk_widget_class_install_action (GTK_WIDGET_CLASS (klass), "trials.cut", "u", on_cut);
  gtk_widget_class_install_action (GTK_WIDGET_CLASS (klass), "trials.join", "u", on_join);
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);
  gtk_widget_class_install_action (widget_class, "trials.move", "(uu)", on_move);
  gtk_widget_class_install_action (widget_class, "trials.split", "u", on_split);
  gtk_widget_class_install_action (widget_class, "trials.include", "(ub)", on_include);
  gtk_widget_class_install_action (widget_class, "trials.choose", "u", on_choose);
  gtk_widget_class_install_action (widget_class, "trials.choose-all", NULL, on_choose_all);
  gtk_widget_class_install_action (widget_class, "trials.focused", "s", on_focused);
  static const struct {
    guint key;
    GdkModifierType modifiers;
    const char *action;
  } keys[] = {
    { GDK_KEY_Menu, 0, "menu" },
    { GDK_KEY_F10, GDK_SHIFT_MASK, "menu" },
    { GDK_KEY_i, GDK_CONTROL_MASK, "include" },
    { GDK_KEY_x, GDK_CONTROL_MASK | GDK_SHIFT_MASK, "exclude" },
    { GDK_KEY_n, GDK_CONTROL_MASK | GDK_SHIFT_MASK, "trials.split" },
    { GDK_KEY_t, GDK_CONTROL_MASK, "trials.cut" },
    { GDK_KEY_j, GDK_CONTROL_MASK, "trials.join" },
    { GDK_KEY_space, GDK_CONTROL_MASK, "trials.choose" },
  };
  for (guint i = 0; i < G_N_ELEMENTS (keys); i++)
    gtk_widget_class_add_binding_action (widget_class, keys[i].key, keys[i].modifiers, "trials.focused", "s",
                                         keys[i].action);
  gtk_widget_class_add_binding_action (widget_class, GDK_KEY_a, GDK_CONTROL_MASK, "trials.choose-all", NULL);
}

static void
sb_trial_rows_init (SbTrialRows *rows)
{
  rows->rows = g_array_new (FALSE, FALSE, sizeof (SbTrialRow));
  rows->selected = g_array_new (FALSE, FALSE, sizeof (guint));
}

GtkWidget *
sb_trial_rows_new (SbDocument *document, guint configuration)
{
  SbTrialRows *rows = g_object_new (SB_TYPE_TRIAL_ROWS, "orientation", GTK_ORIENTATION_VERTICAL, NULL);
  gtk_widget_add_css_class (GTK_WIDGET (rows), "trials");
  rows->document = document;
  rows->configuration = configuration;
  return GTK_WIDGET (rows);
}
