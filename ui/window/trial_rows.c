/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "trial_rows.h"

#include "arrange_edits.h"
#include "chosen_trials.h"
#include "dragging.h"
#include "edits.h"
#include "seen_part.h"
#include "step_sheet.h"
#include "tooltip.h"
#include "trial_menu.h"

/* The widgets of one trial. */
typedef struct {
  GtkWidget *box, *line, *check, *icon, *state, *menu;
  GtkWidget *reason; /* NULL until the trial is left out for the first time */
} TrialRow;

struct _SbTrialRows {
  GtkBox parent_instance;
  SbDocument *document; /* borrowed: the window outlives its views */
  guint configuration;
  GArray *rows; /* TrialRow */
  gboolean updating;
  GArray *selected; /* guint, sorted: trials that are chosen together */
};

G_DEFINE_FINAL_TYPE (SbTrialRows, sb_trial_rows, GTK_TYPE_BOX)

static void
show_selection (SbTrialRows *rows)
{
  for (guint i = 0; i < rows->rows->len; i++) {
    GtkWidget *line = g_array_index (rows->rows, TrialRow, i).line;
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
offer_reason (const TrialRow *row)
{
  GtkRoot *root = gtk_widget_get_root (row->line);
  if (row->reason != NULL && gtk_widget_get_visible (row->reason) && GTK_IS_WINDOW (root)
      && !gtk_window_get_focus_visible (GTK_WINDOW (root)))
    gtk_widget_grab_focus (row->reason);
}

static void
on_toggled (GtkCheckButton *check, SbTrialRows *rows)
{
  if (rows->updating)
    return;
  for (guint i = 0; i < rows->rows->len; i++) {
    if (g_array_index (rows->rows, TrialRow, i).check != GTK_WIDGET (check))
      continue;
    gboolean included = gtk_check_button_get_active (check);
    sb_edit_include (rows->document, rows->configuration, i, included);
    if (!included && i < rows->rows->len)
      offer_reason (&g_array_index (rows->rows, TrialRow, i));
  }
}

static void
take_reason (SbTrialRows *rows, GtkWidget *entry)
{
  if (rows->updating)
    return;
  for (guint i = 0; i < rows->rows->len; i++)
    if (g_array_index (rows->rows, TrialRow, i).reason == entry)
      sb_edit_set_reason (rows->document, rows->configuration, i, gtk_editable_get_text (GTK_EDITABLE (entry)));
}

static void
on_reason_activate (GtkEntry *entry, SbTrialRows *rows)
{
  take_reason (rows, GTK_WIDGET (entry));
}

static void
on_reason_left (GtkEventControllerFocus *controller, SbTrialRows *rows)
{
  take_reason (rows, gtk_event_controller_get_widget (GTK_EVENT_CONTROLLER (controller)));
}

static GtkWidget *
make_reason (SbTrialRows *rows)
{
  GtkWidget *entry = gtk_entry_new ();
  gtk_entry_set_placeholder_text (GTK_ENTRY (entry), "Why it is left out");
  gtk_editable_set_width_chars (GTK_EDITABLE (entry), 10);
  gtk_widget_add_css_class (entry, "reason");
  g_signal_connect (entry, "activate", G_CALLBACK (on_reason_activate), rows);
  GtkEventController *focus = gtk_event_controller_focus_new ();
  g_signal_connect (focus, "leave", G_CALLBACK (on_reason_left), rows);
  gtk_widget_add_controller (entry, focus);
  return entry;
}

static gboolean
is_of (const SbTrialResult *result, const SbTrialEntry *entry)
{
  SbTrialEntry of = { .path = result->path, .choices = { .from_s = result->from_s, .to_s = result->to_s } };
  return result->step == entry->step && sb_trial_entry_same_stretch (&of, entry);
}

/* Results of an older bench may have other trials: they are told apart by log and stretch. */
static const SbTrialResult *
result_of (const SbConfigurationResult *results, guint index, const SbTrialEntry *entry)
{
  if (results == NULL)
    return NULL;
  if (index < results->trials->len) {
    const SbTrialResult *result = sb_configuration_result_trial (results, index);
    if (is_of (result, entry))
      return result;
  }
  for (guint i = 0; i < results->trials->len; i++) {
    const SbTrialResult *result = sb_configuration_result_trial (results, i);
    if (is_of (result, entry))
      return result;
  }
  return NULL;
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
  const SbTrialResult *result = result_of (results, index, sb_configuration_entry (configuration_of (rows), index));
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
  const SbTrialResult *result = result_of (results, index, entry);
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

static void
on_choose_focused (GtkWidget *widget, const char *name, GVariant *parameter)
{
  SbTrialRows *rows = SB_TRIAL_ROWS (widget);
  int index = sb_trial_rows_focused (rows);
  if (index < 0)
    return;
  sb_chosen_set (rows->selected, (guint) index, !sb_chosen_contain (rows->selected, (guint) index));
  show_selection (rows);
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
  while (g_array_index (rows->rows, TrialRow, index).menu != GTK_WIDGET (button))
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
    if (g_array_index (rows->rows, TrialRow, i).line == line)
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

static TrialRow
make_row (SbTrialRows *rows)
{
  TrialRow row = { .box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 2) };
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

static void
set_state (const TrialRow *row, const char *icon, const char *state, const char *tooltip)
{
  gtk_widget_set_visible (row->icon, icon != NULL);
  gtk_image_set_from_icon_name (GTK_IMAGE (row->icon), icon);
  gtk_label_set_text (GTK_LABEL (row->state), state);
  sb_tooltip_set (row->line, tooltip);
}

static void
show_result (const TrialRow *row, const SbTrialEntry *entry, const SbTrialResult *result)
{
  if (result != NULL && result->failure != NULL) {
    set_state (row, "dialog-error-symbolic", "not usable", result->failure);
  } else if (result == NULL || result->facts == NULL) {
    set_state (row, NULL, "not read yet", NULL);
  } else if (!entry->included) {
    set_state (row, NULL, "left out", entry->exclusion_reason);
  } else if (!result->log_told && result->facts->n_rows_left_out > 0) {
    gsize n = result->facts->n_rows_left_out;
    g_autofree char *rows = g_strdup_printf ("%" G_GSIZE_FORMAT " %s", n, n == 1 ? "bad row" : "bad rows");
    const SbFault *first = result->facts->faults->len > 0 ? g_ptr_array_index (result->facts->faults, 0) : NULL;
    set_state (row, "dialog-warning-symbolic", rows, first != NULL ? first->what : NULL);
  } else {
    set_state (row, NULL, "", entry->path);
  }
}

/* A text that is being written is left alone. */
static void
show_reason (SbTrialRows *rows, TrialRow *row, const SbTrialEntry *entry, const char *name)
{
  if (row->reason == NULL && entry->included)
    return;
  if (row->reason == NULL) {
    row->reason = make_reason (rows);
    gtk_box_append (GTK_BOX (row->box), row->reason);
  }
  gtk_widget_set_visible (row->reason, !entry->included);
  const char *reason = entry->exclusion_reason != NULL ? entry->exclusion_reason : "";
  gboolean writing = !entry->included && gtk_widget_get_focus_child (row->reason) != NULL;
  if (!writing && !g_str_equal (gtk_editable_get_text (GTK_EDITABLE (row->reason)), reason))
    gtk_editable_set_text (GTK_EDITABLE (row->reason), reason);
  g_autofree char *label = g_strdup_printf ("Why %s is left out", name);
  gtk_accessible_update_property (GTK_ACCESSIBLE (row->reason), GTK_ACCESSIBLE_PROPERTY_LABEL, label, -1);
}

static void
update_row (SbTrialRows *rows, TrialRow *row, const SbTrialEntry *entry, const SbTrialResult *result)
{
  g_autofree char *name = result != NULL ? sb_trial_result_label (result) : sb_trial_entry_label (entry);
  gtk_check_button_set_label (GTK_CHECK_BUTTON (row->check), name);
  gtk_check_button_set_active (GTK_CHECK_BUTTON (row->check), entry->included);
  g_autofree char *label = g_strdup_printf ("Include %s", name);
  gtk_accessible_update_property (GTK_ACCESSIBLE (row->check), GTK_ACCESSIBLE_PROPERTY_LABEL, label, -1);
  g_autofree char *menu_label = g_strdup_printf ("Menu of %s", name);
  gtk_accessible_update_property (GTK_ACCESSIBLE (row->menu), GTK_ACCESSIBLE_PROPERTY_LABEL, menu_label, -1);
  show_result (row, entry, result);
  show_reason (rows, row, entry, name);
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
    gtk_box_remove (GTK_BOX (rows), g_array_index (rows->rows, TrialRow, rows->rows->len - 1).box);
    g_array_set_size (rows->rows, rows->rows->len - 1);
  }
  for (guint i = 0; i < configuration->entries->len; i++) {
    if (i == rows->rows->len) {
      TrialRow row = make_row (rows);
      g_array_append_val (rows->rows, row);
    }
    const SbTrialEntry *entry = sb_configuration_entry (configuration, i);
    update_row (rows, &g_array_index (rows->rows, TrialRow, i), entry, result_of (results, i, entry));
  }
  rows->updating = FALSE;
  show_selection (rows);
}

void
sb_trial_rows_note_seen (SbTrialRows *rows, GtkWidget *view)
{
  for (guint i = 0; i < rows->rows->len; i++)
    sb_seen_part_note (g_array_index (rows->rows, TrialRow, i).box, view);
}

void
sb_trial_rows_focus (SbTrialRows *rows, guint trial)
{
  if (trial < rows->rows->len)
    gtk_widget_grab_focus (g_array_index (rows->rows, TrialRow, trial).check);
}

int
sb_trial_rows_focused (SbTrialRows *rows)
{
  for (guint i = 0; i < rows->rows->len; i++)
    if (gtk_widget_get_focus_child (GTK_WIDGET (rows)) == g_array_index (rows->rows, TrialRow, i).box)
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
  gtk_widget_class_install_action (widget_class, "trials.choose-focused", NULL, on_choose_focused);
  gtk_widget_class_install_action (widget_class, "trials.choose-all", NULL, on_choose_all);
  gtk_widget_class_add_binding_action (widget_class, GDK_KEY_space, GDK_CONTROL_MASK, "trials.choose-focused", NULL);
  gtk_widget_class_add_binding_action (widget_class, GDK_KEY_a, GDK_CONTROL_MASK, "trials.choose-all", NULL);
}

static void
sb_trial_rows_init (SbTrialRows *rows)
{
  rows->rows = g_array_new (FALSE, FALSE, sizeof (TrialRow));
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
