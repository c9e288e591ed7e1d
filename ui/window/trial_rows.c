/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "trial_rows.h"

#include "edits.h"

/* The widgets of one trial. */
typedef struct {
  GtkWidget *box, *line, *check, *icon, *state;
  GtkWidget *reason; /* NULL until the trial is left out for the first time */
} TrialRow;

struct _SbTrialRows {
  GtkBox parent_instance;
  SbDocument *document; /* borrowed: the window outlives its views */
  guint configuration;
  GArray *rows; /* TrialRow */
  gboolean updating;
};

G_DEFINE_FINAL_TYPE (SbTrialRows, sb_trial_rows, GTK_TYPE_BOX)

static void
on_toggled (GtkCheckButton *check, SbTrialRows *rows)
{
  if (rows->updating)
    return;
  for (guint i = 0; i < rows->rows->len; i++)
    if (g_array_index (rows->rows, TrialRow, i).check == GTK_WIDGET (check))
      sb_edit_include (rows->document, rows->configuration, i, gtk_check_button_get_active (check));
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
  gtk_widget_set_tooltip_text (row->line, tooltip);
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
  } else if (result->facts->n_rows_left_out > 0) {
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
  g_autofree char *name = g_filename_display_basename (entry->path);
  gtk_check_button_set_label (GTK_CHECK_BUTTON (row->check), name);
  gtk_check_button_set_active (GTK_CHECK_BUTTON (row->check), entry->included);
  g_autofree char *label = g_strdup_printf ("Include %s", name);
  gtk_accessible_update_property (GTK_ACCESSIBLE (row->check), GTK_ACCESSIBLE_PROPERTY_LABEL, label, -1);
  show_result (row, entry, result);
  show_reason (rows, row, entry, name);
}

/* Results of an older bench may have other trials: they are told apart by path. */
static const SbTrialResult *
result_of (const SbConfigurationResult *results, guint index, const char *path)
{
  if (results == NULL)
    return NULL;
  if (index < results->trials->len) {
    const SbTrialResult *result = sb_configuration_result_trial (results, index);
    if (g_str_equal (result->path, path))
      return result;
  }
  for (guint i = 0; i < results->trials->len; i++) {
    const SbTrialResult *result = sb_configuration_result_trial (results, i);
    if (g_str_equal (result->path, path))
      return result;
  }
  return NULL;
}

void
sb_trial_rows_update (SbTrialRows *rows)
{
  const SbConfiguration *configuration
      = sb_bench_configuration (sb_document_bench (rows->document), rows->configuration);
  const SbConfigurationResult *results = sb_document_result (rows->document, rows->configuration);
  rows->updating = TRUE;
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
    update_row (rows, &g_array_index (rows->rows, TrialRow, i), entry, result_of (results, i, entry->path));
  }
  rows->updating = FALSE;
}

void
sb_trial_rows_focus (SbTrialRows *rows, guint trial)
{
  if (trial < rows->rows->len)
    gtk_widget_grab_focus (g_array_index (rows->rows, TrialRow, trial).check);
}

static void
sb_trial_rows_finalize (GObject *object)
{
  g_array_unref (SB_TRIAL_ROWS (object)->rows);
  G_OBJECT_CLASS (sb_trial_rows_parent_class)->finalize (object);
}

static void
sb_trial_rows_class_init (SbTrialRowsClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = sb_trial_rows_finalize;
}

static void
sb_trial_rows_init (SbTrialRows *rows)
{
  rows->rows = g_array_new (FALSE, FALSE, sizeof (TrialRow));
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
