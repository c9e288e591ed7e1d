/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "audit_sheet.h"

#include "judgement_edits.h"
#include "number_entry.h"
#include "sheet.h"

#define WIDTH 560

#define SB_TYPE_AUDIT_SHEET (sb_audit_sheet_get_type ())
G_DECLARE_FINAL_TYPE (SbAuditSheet, sb_audit_sheet, SB, AUDIT_SHEET, GtkWindow)

/* A number of SbAuditChoices as a person sees it. */
typedef struct {
  const char *name, *unit, *tip;
  double shown_per_value, least, most; /* ends as shown */
  const char *range;
} Field;

enum { LEVEL, PROPORTION, STRAIGHT, N_FIELDS };

static const Field fields[N_FIELDS] = {
  [LEVEL] = { "A measure moves when its p is below", "(0.01: one in a hundred)",
              "p is corrected after Holm over the measures; many are looked at, so this is stricter than for a pair", 1,
              1e-6, 0.2, "0.000001 to 0.2" },
  [PROPORTION] = { "A slope is in proportion to the level within ±", "%",
                   "Slope over level has to be the same at all levels within this share", 100, 0.1, 50, "0.1 to 50" },
  [STRAIGHT]
  = { "A rise is straight when its quarters agree within ±", "%",
      "Each quarter of the rise has to be as steep as all of it within this share", 100, 0.1, 50, "0.1 to 50" },
};

struct _SbAuditSheet {
  GtkWindow parent_instance;
  SbDocument *document; /* owned */
  GtkWidget *entry[N_FIELDS], *said, *accept;
};

G_DEFINE_FINAL_TYPE (SbAuditSheet, sb_audit_sheet, GTK_TYPE_WINDOW)

static double *
value_of (SbAuditChoices *choices, int field)
{
  double *const values[N_FIELDS] = { &choices->level, &choices->proportion_ratio, &choices->straight_ratio };
  return values[field];
}

/* The first field that is out of its range; -1: none is, and `read` holds all. */
static int
read_fields (SbAuditSheet *sheet, SbAuditChoices *read)
{
  for (int i = 0; i < N_FIELDS; i++) {
    double shown = sb_number_entry_get (sheet->entry[i]);
    if (!(shown >= fields[i].least && shown <= fields[i].most))
      return i;
    *value_of (read, i) = shown / fields[i].shown_per_value;
  }
  return -1;
}

static void
on_changed (SbAuditSheet *sheet)
{
  SbAuditChoices read = sb_audit_choices_default ();
  int wrong = read_fields (sheet, &read);
  gtk_widget_set_sensitive (sheet->accept, wrong < 0);
  g_autofree char *text = wrong < 0 ? g_strdup ("All are kept in the session and told in the methods text.")
                                    : g_strdup_printf ("%s: a number from %g to %g is needed.", fields[wrong].name,
                                                       fields[wrong].least, fields[wrong].most);
  gtk_label_set_text (GTK_LABEL (sheet->said), text);
}

static void
on_accept (SbAuditSheet *sheet)
{
  SbAuditChoices read = sb_audit_choices_default ();
  if (read_fields (sheet, &read) >= 0)
    return;
  sb_edit_set_audit_choices (sheet->document, &read);
  gtk_window_destroy (GTK_WINDOW (sheet));
}

static void
show_choices (SbAuditSheet *sheet, SbAuditChoices choices)
{
  for (int i = 0; i < N_FIELDS; i++)
    sb_number_entry_set (sheet->entry[i], *value_of (&choices, i) * fields[i].shown_per_value);
}

static void
on_usual (SbAuditSheet *sheet)
{
  show_choices (sheet, sb_audit_choices_default ());
}

static void
sb_audit_sheet_finalize (GObject *object)
{
  g_clear_object (&SB_AUDIT_SHEET (object)->document);
  G_OBJECT_CLASS (sb_audit_sheet_parent_class)->finalize (object);
}

static void
sb_audit_sheet_class_init (SbAuditSheetClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = sb_audit_sheet_finalize;
}

static void
attach_field (SbAuditSheet *sheet, GtkGrid *grid, int field)
{
  GtkWidget *label = gtk_label_new (fields[field].name), *unit = gtk_label_new (fields[field].unit);
  sheet->entry[field] = sb_number_entry_new ();
  gtk_accessible_update_property (GTK_ACCESSIBLE (sheet->entry[field]), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                  fields[field].name, -1);
  gtk_widget_set_tooltip_text (sheet->entry[field], fields[field].tip);
  g_signal_connect_swapped (sheet->entry[field], "changed", G_CALLBACK (on_changed), sheet);
  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_widget_set_hexpand (label, TRUE);
  gtk_label_set_xalign (GTK_LABEL (unit), 0);
  gtk_grid_attach (grid, label, 0, field, 1, 1);
  gtk_grid_attach (grid, sheet->entry[field], 1, field, 1, 1);
  gtk_grid_attach (grid, unit, 2, field, 1, 1);
}

static GtkWidget *
make_fields (SbAuditSheet *sheet)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 12), *grid = gtk_grid_new ();
  GtkWidget *usual = gtk_button_new_with_label ("Usual values");
  gtk_grid_set_row_spacing (GTK_GRID (grid), 6);
  gtk_grid_set_column_spacing (GTK_GRID (grid), 10);
  for (int i = 0; i < N_FIELDS; i++)
    attach_field (sheet, GTK_GRID (grid), i);
  gtk_widget_set_halign (usual, GTK_ALIGN_START);
  g_signal_connect_swapped (usual, "clicked", G_CALLBACK (on_usual), sheet);
  sheet->said = gtk_label_new (NULL);
  gtk_label_set_xalign (GTK_LABEL (sheet->said), 0);
  gtk_label_set_wrap (GTK_LABEL (sheet->said), TRUE);
  gtk_widget_add_css_class (sheet->said, "dim-label");
  gtk_widget_add_css_class (box, "sheet");
  gtk_box_append (GTK_BOX (box), grid);
  gtk_box_append (GTK_BOX (box), usual);
  gtk_box_append (GTK_BOX (box), sheet->said);
  return box;
}

static void
sb_audit_sheet_init (SbAuditSheet *sheet)
{
  sheet->accept = gtk_button_new_with_label ("Set");
  g_signal_connect_swapped (sheet->accept, "clicked", G_CALLBACK (on_accept), sheet);
  sb_sheet_set_buttons (GTK_WINDOW (sheet), sheet->accept);
  gtk_window_set_title (GTK_WINDOW (sheet), "How settings are audited");
  gtk_window_set_default_size (GTK_WINDOW (sheet), WIDTH, -1);
  gtk_window_set_child (GTK_WINDOW (sheet), make_fields (sheet));
  sb_sheet_set_up (GTK_WINDOW (sheet));
}

void
sb_audit_sheet_present (GtkWindow *parent, SbDocument *document)
{
  SbAuditSheet *sheet = g_object_new (SB_TYPE_AUDIT_SHEET, "transient-for", parent, NULL);
  sheet->document = g_object_ref (document);
  show_choices (sheet, sb_document_bench (document)->audit);
  on_changed (sheet);
  gtk_window_present (GTK_WINDOW (sheet));
}
