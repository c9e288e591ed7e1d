/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the row of a trial says: its name, whether it is included, what is wrong with its log, why it is left out. */
#include "trial_rows_parts.h"

#include "edits.h"
#include "tooltip.h"

/* The reason that the bench had when the field last agreed with it. */
#define AGREED "slewbench-agreed-reason"

static void
note_agreed (GtkWidget *entry, const char *reason)
{
  g_object_set_data_full (G_OBJECT (entry), AGREED, g_strdup (reason), g_free);
}

/* Whether something was typed that the bench does not have yet. */
static gboolean
is_edited (GtkWidget *entry)
{
  const char *agreed = g_object_get_data (G_OBJECT (entry), AGREED);
  return g_strcmp0 (gtk_editable_get_text (GTK_EDITABLE (entry)), agreed) != 0;
}

/* A field that was not edited says nothing: it may show what has been undone since. */
static void
take_reason (SbTrialRows *rows, GtkWidget *entry)
{
  if (rows->updating || !is_edited (entry))
    return;
  g_autofree char *reason = g_strdup (gtk_editable_get_text (GTK_EDITABLE (entry)));
  note_agreed (entry, reason);
  for (guint i = 0; i < rows->rows->len; i++)
    if (g_array_index (rows->rows, SbTrialRow, i).reason == entry)
      sb_edit_set_reason (rows->document, rows->configuration, i, reason);
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
  note_agreed (entry, "");
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
const SbTrialResult *
sb_trial_rows_result_of (const SbConfigurationResult *results, guint index, const SbTrialEntry *entry)
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

static void
set_state (const SbTrialRow *row, const char *icon, const char *state, const char *tooltip)
{
  gtk_widget_set_visible (row->icon, icon != NULL);
  gtk_image_set_from_icon_name (GTK_IMAGE (row->icon), icon);
  gtk_label_set_text (GTK_LABEL (row->state), state);
  sb_tooltip_set (row->line, tooltip);
}

static void
show_result (const SbTrialRow *row, const SbTrialEntry *entry, const SbTrialResult *result)
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

/* A text that is being written is left alone; one that was taken follows the bench when it is undone or done again. */
static void
show_reason (SbTrialRows *rows, SbTrialRow *row, const SbTrialEntry *entry, const char *name)
{
  if (row->reason == NULL && entry->included)
    return;
  if (row->reason == NULL) {
    row->reason = make_reason (rows);
    gtk_box_append (GTK_BOX (row->box), row->reason);
  }
  gtk_widget_set_visible (row->reason, !entry->included);
  const char *reason = entry->exclusion_reason != NULL ? entry->exclusion_reason : "";
  gboolean writing = !entry->included && gtk_widget_get_focus_child (row->reason) != NULL && is_edited (row->reason);
  if (!writing) {
    note_agreed (row->reason, reason);
    if (!g_str_equal (gtk_editable_get_text (GTK_EDITABLE (row->reason)), reason))
      gtk_editable_set_text (GTK_EDITABLE (row->reason), reason);
  }
  g_autofree char *label = g_strdup_printf ("Why %s is left out", name);
  gtk_accessible_update_property (GTK_ACCESSIBLE (row->reason), GTK_ACCESSIBLE_PROPERTY_LABEL, label, -1);
}

void
sb_trial_rows_update_row (SbTrialRows *rows, SbTrialRow *row, const SbTrialEntry *entry, const SbTrialResult *result)
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
