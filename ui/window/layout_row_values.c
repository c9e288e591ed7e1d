/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "layout_row_values.h"

#include "layout_values.h"

#include <math.h>

typedef enum { EXTRA, ZERO, WRAP, FACTOR, N_FIELDS } Which;

typedef struct {
  SbLayoutRowValues *of;
  Which which;
  GtkWidget *line, *name, *entry;
} Field;

struct SbLayoutRowValues {
  SbImportDraft *draft;
  guint column;
  SbLayoutRowValuesChanged changed;
  gpointer user_data;
  gboolean updating;
  GtkWidget *box;
  Field fields[N_FIELDS];
};

static const struct {
  const char *name; /* NULL: as the unit wants */
  const char *empty, *tip;
} words[N_FIELDS] = {
  [EXTRA] = { NULL, NULL, NULL },
  [ZERO] = { "At no torque [V]", NULL, NULL },
  [WRAP]
  = { "Begins again after", "as seen", "What is written starts again after so much of its unit; 0: it never does" },
  [FACTOR] = { "Factor", "1", "What is written is multiplied by it; −1 turns the sign" },
};

void
sb_layout_row_name_accessibly (GtkWidget *widget, const char *what, const char *column)
{
  g_autofree char *label = g_strdup_printf ("%s of %s", what, column);
  gtk_accessible_update_property (GTK_ACCESSIBLE (widget), GTK_ACCESSIBLE_PROPERTY_LABEL, label, -1);
}

static const SbLayoutColumn *
column_of (const SbLayoutRowValues *values)
{
  return sb_layout_column (values->draft->layout, values->column);
}

/* A number with a decimal point or comma; NaN for anything else. */
static double
read_number (const char *text)
{
  g_autofree char *plain = g_strstrip (g_strdup (text));
  g_strdelimit (plain, ",", '.');
  char *end = NULL;
  double value = g_ascii_strtod (plain, &end);
  return *plain != '\0' && *end == '\0' && isfinite (value) ? value : (double) NAN;
}

/* What the field states; SB_N_LAYOUT_VALUES where the column does not take it. */
static SbLayoutValue
value_of (const Field *field)
{
  static const SbLayoutValue others[N_FIELDS]
      = { [ZERO] = SB_LAYOUT_TORQUE_ZERO, [WRAP] = SB_LAYOUT_WRAP, [FACTOR] = SB_LAYOUT_FACTOR };
  const SbLayoutRowValues *values = field->of;
  if (field->which == EXTRA)
    return sb_import_draft_extra_kind (values->draft, values->column);
  SbLayoutValue value = others[field->which];
  return sb_import_draft_takes (values->draft, values->column, value) ? value : SB_N_LAYOUT_VALUES;
}

static const char *
text_of (const Field *field)
{
  return gtk_editable_get_text (GTK_EDITABLE (field->entry));
}

/* NaN for what a layout cannot state. */
static double
written_in (const Field *field)
{
  double number = read_number (text_of (field));
  return sb_layout_value_takes (value_of (field), column_of (field->of)->role, number) ? number : (double) NAN;
}

/* NULL when nothing is wrong, or nothing was written. (transfer full) */
static char *
fault_of (const Field *field)
{
  const char *text = text_of (field);
  if (*text == '\0' || value_of (field) == SB_N_LAYOUT_VALUES)
    return NULL;
  g_autofree char *fault = sb_layout_value_fault (value_of (field), column_of (field->of)->role, read_number (text));
  return fault != NULL ? g_strdup_printf ("'%s' %s", text, fault) : NULL;
}

char *
sb_layout_row_values_wrong (const SbLayoutRowValues *values)
{
  char *wrong = NULL;
  for (int i = 0; i < N_FIELDS && wrong == NULL; i++)
    wrong = fault_of (&values->fields[i]);
  return wrong;
}

static void
note_wrong (SbLayoutRowValues *values)
{
  g_autofree char *wrong = sb_layout_row_values_wrong (values);
  sb_import_draft_set_wrong (values->draft, values->column, wrong);
}

static void
on_entry (GtkEditable *entry, Field *field)
{
  SbLayoutRowValues *values = field->of;
  if (values->updating || value_of (field) == SB_N_LAYOUT_VALUES)
    return;
  double number = written_in (field);
  if (isnan (number) && *text_of (field) != '\0')
    gtk_widget_add_css_class (field->entry, "error");
  else
    gtk_widget_remove_css_class (field->entry, "error");
  sb_import_draft_set_value (values->draft, values->column, value_of (field), number);
  note_wrong (values);
  values->changed (values->user_data);
}

/* What is being written keeps its form. */
static void
show_number (const Field *field)
{
  char digits[G_ASCII_DTOSTR_BUF_SIZE];
  double held = sb_import_draft_value (field->of->draft, field->of->column, value_of (field)),
         shown = written_in (field);
  gboolean same = isnan (held) ? isnan (shown) : fabs (held - shown) <= 0;
  if (!same)
    gtk_editable_set_text (GTK_EDITABLE (field->entry),
                           isnan (held) ? "" : g_ascii_formatd (digits, sizeof digits, "%.10g", held));
}

static void
show_field (const Field *field)
{
  gboolean taken = value_of (field) != SB_N_LAYOUT_VALUES;
  const SbLayoutRowValues *values = field->of;
  gtk_widget_set_visible (field->line, taken);
  if (!taken)
    return;
  g_autofree char *name = field->which == EXTRA ? sb_import_draft_extra_name (values->draft, values->column)
                                                : g_strdup (words[field->which].name);
  gtk_label_set_text (GTK_LABEL (field->name), name);
  sb_layout_row_name_accessibly (field->entry, field->which == ZERO ? "Volts at no torque" : name,
                                 column_of (values)->name);
  show_number (field);
}

void
sb_layout_row_values_show (SbLayoutRowValues *values)
{
  values->updating = TRUE;
  for (int i = 0; i < N_FIELDS; i++)
    show_field (&values->fields[i]);
  note_wrong (values);
  values->updating = FALSE;
}

static void
make_field (SbLayoutRowValues *values, Which which)
{
  Field *field = &values->fields[which];
  *field = (Field){ .of = values, .which = which };
  field->line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  field->name = gtk_label_new (NULL);
  gtk_label_set_xalign (GTK_LABEL (field->name), 0);
  gtk_widget_add_css_class (field->name, "small-text");
  gtk_widget_set_hexpand (field->name, TRUE);
  field->entry = gtk_entry_new ();
  gtk_editable_set_width_chars (GTK_EDITABLE (field->entry), 8);
  gtk_editable_set_max_width_chars (GTK_EDITABLE (field->entry), 8);
  gtk_entry_set_input_purpose (GTK_ENTRY (field->entry), GTK_INPUT_PURPOSE_NUMBER);
  gtk_entry_set_activates_default (GTK_ENTRY (field->entry), TRUE);
  if (words[which].empty != NULL)
    gtk_entry_set_placeholder_text (GTK_ENTRY (field->entry), words[which].empty);
  gtk_widget_set_tooltip_text (field->entry, words[which].tip);
  g_signal_connect (field->entry, "changed", G_CALLBACK (on_entry), field);
  gtk_box_append (GTK_BOX (field->line), field->name);
  gtk_box_append (GTK_BOX (field->line), field->entry);
  gtk_box_append (GTK_BOX (values->box), field->line);
}

SbLayoutRowValues *
sb_layout_row_values_new (SbImportDraft *draft, guint column, SbLayoutRowValuesChanged changed, gpointer user_data)
{
  SbLayoutRowValues *values = g_new0 (SbLayoutRowValues, 1);
  values->draft = draft;
  values->column = column;
  values->changed = changed;
  values->user_data = user_data;
  values->box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 3);
  gtk_widget_set_halign (values->box, GTK_ALIGN_START); /* beside their names, however wide the column is */
  for (int i = 0; i < N_FIELDS; i++)
    make_field (values, (Which) i);
  return values;
}

void
sb_layout_row_values_free (SbLayoutRowValues *values)
{
  for (int i = 0; i < N_FIELDS; i++)
    g_signal_handlers_disconnect_by_data (values->fields[i].entry, &values->fields[i]);
  g_free (values);
}

GtkWidget *
sb_layout_row_values_widget (const SbLayoutRowValues *values)
{
  return values->box;
}
