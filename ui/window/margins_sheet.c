/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "margins_sheet.h"

#include "judgement_edits.h"
#include "number_entry.h"
#include "sheet.h"

#include <math.h>

#define WIDTH         520
#define ROWS_HEIGHT   330
#define LARGEST_LEVEL 0.2
#define LEAST_LEVEL   1e-6

#define SB_TYPE_MARGINS_SHEET (sb_margins_sheet_get_type ())
G_DECLARE_FINAL_TYPE (SbMarginsSheet, sb_margins_sheet, SB, MARGINS_SHEET, GtkWindow)

struct _SbMarginsSheet {
  GtkWindow parent_instance;
  SbDocument *document; /* owned */
  GtkWidget *all, *level, *said, *accept;
  GtkWidget *value[SB_N_MEASURES], *unit[SB_N_MEASURES]; /* unit 0: %; 1: the measure's own */
};

G_DEFINE_FINAL_TYPE (SbMarginsSheet, sb_margins_sheet, GTK_TYPE_WINDOW)

static SbShownUnit
shown_unit (SbMarginsSheet *sheet, int id)
{
  return sb_measure_shown_unit ((SbMeasureId) id, sb_document_bench (sheet->document)->units);
}

static const char *
own_unit (SbMarginsSheet *sheet, int id)
{
  const char *unit = shown_unit (sheet, id).name;
  return g_str_equal (unit, "1") ? "as it counts" : unit;
}

/* A margin of 0 is one within which nothing can be shown to be equal. FALSE: no such margin. */
static gboolean
read_margin (SbMarginsSheet *sheet, int id, SbMargin *margin)
{
  *margin = (SbMargin){ .ratio = NAN, .absolute = NAN };
  if (sb_number_entry_is_empty (sheet->value[id]))
    return TRUE;
  double value = sb_number_entry_get (sheet->value[id]);
  if (gtk_drop_down_get_selected (GTK_DROP_DOWN (sheet->unit[id])) == 0) {
    margin->ratio = value / 100;
    return value >= 1e-4 && value <= 100;
  }
  margin->absolute = value / shown_unit (sheet, id).factor;
  return value > 0;
}

/* What is wrong in a field, a sentence; NULL: all is well, and `read` holds it. */
static char *
read_fields (SbMarginsSheet *sheet, SbMarginChoices *read)
{
  double percent = sb_number_entry_get (sheet->all);
  read->ratio = percent / 100;
  read->level = sb_number_entry_get (sheet->level);
  if (!(percent >= 1e-4 && percent <= 100))
    return g_strdup ("The margin of all measures has to be from 0.0001 to 100 %.");
  if (!(read->level >= LEAST_LEVEL && read->level <= LARGEST_LEVEL))
    return g_strdup ("The level has to be from 0.000001 to 0.2.");
  for (int m = 0; m < SB_N_MEASURES; m++)
    if (!read_margin (sheet, m, &read->margin[m]))
      return g_strdup_printf ("%s: a number above 0 is needed, of %% up to 100, or an empty field.",
                              sb_measure_info ((SbMeasureId) m)->name);
  return NULL;
}

static void
on_changed (SbMarginsSheet *sheet)
{
  SbMarginChoices read;
  g_autofree char *wrong = read_fields (sheet, &read);
  gtk_widget_set_sensitive (sheet->accept, wrong == NULL);
  gtk_label_set_text (GTK_LABEL (sheet->said),
                      wrong != NULL ? wrong : "An empty field stands for the margin of all measures.");
}

static void
on_accept (SbMarginsSheet *sheet)
{
  SbMarginChoices read;
  g_autofree char *wrong = read_fields (sheet, &read);
  if (wrong != NULL)
    return;
  sb_edit_set_margins (sheet->document, &read);
  gtk_window_destroy (GTK_WINDOW (sheet));
}

static void
sb_margins_sheet_finalize (GObject *object)
{
  g_clear_object (&SB_MARGINS_SHEET (object)->document);
  G_OBJECT_CLASS (sb_margins_sheet_parent_class)->finalize (object);
}

static void
sb_margins_sheet_class_init (SbMarginsSheetClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = sb_margins_sheet_finalize;
}

static GtkWidget *
make_number (SbMarginsSheet *sheet, const char *name)
{
  GtkWidget *entry = sb_number_entry_new ();
  gtk_accessible_update_property (GTK_ACCESSIBLE (entry), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
  g_signal_connect_swapped (entry, "changed", G_CALLBACK (on_changed), sheet);
  return entry;
}

static void
attach (GtkGrid *grid, int row, const char *name, GtkWidget *entry, GtkWidget *unit)
{
  GtkWidget *label = gtk_label_new (name);
  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_widget_set_hexpand (label, TRUE);
  gtk_grid_attach (grid, label, 0, row, 1, 1);
  gtk_grid_attach (grid, entry, 1, row, 1, 1);
  gtk_grid_attach (grid, unit, 2, row, 1, 1);
}

static GtkWidget *
make_grid (void)
{
  GtkWidget *grid = gtk_grid_new ();
  gtk_grid_set_row_spacing (GTK_GRID (grid), 6);
  gtk_grid_set_column_spacing (GTK_GRID (grid), 10);
  return grid;
}

static GtkWidget *
make_unit (const char *text)
{
  GtkWidget *label = gtk_label_new (text);
  gtk_label_set_xalign (GTK_LABEL (label), 0);
  return label;
}

static GtkWidget *
make_common (SbMarginsSheet *sheet)
{
  GtkWidget *grid = make_grid ();
  sheet->all = make_number (sheet, "Margin of all measures");
  sheet->level = make_number (sheet, "Level of the verdicts");
  gtk_widget_set_tooltip_text (sheet->level, "How rare a chance finding has to be for a verdict: 0.05 unless chosen "
                                             "otherwise. Intervals are of 95 % whatever it is.");
  attach (GTK_GRID (grid), 0, "All measures are equal within ±", sheet->all, make_unit ("% of the reference mean"));
  attach (GTK_GRID (grid), 1, "Level of the verdicts", sheet->level, make_unit ("(0.05: one in twenty)"));
  return grid;
}

static GtkWidget *
make_rows (SbMarginsSheet *sheet)
{
  GtkWidget *grid = make_grid (), *scrolled = gtk_scrolled_window_new ();
  for (int m = 0; m < SB_N_MEASURES; m++) {
    const char *name = sb_measure_info ((SbMeasureId) m)->name, *const units[]
                                                                = { "% of the mean", own_unit (sheet, m), NULL };
    g_autofree char *said = g_strdup_printf ("Margin of %s", name);
    g_autofree char *unit = g_strdup_printf ("Unit of the margin of %s", name);
    sheet->value[m] = make_number (sheet, said);
    gtk_entry_set_placeholder_text (GTK_ENTRY (sheet->value[m]), "as for all");
    sheet->unit[m] = gtk_drop_down_new_from_strings (units);
    gtk_accessible_update_property (GTK_ACCESSIBLE (sheet->unit[m]), GTK_ACCESSIBLE_PROPERTY_LABEL, unit, -1);
    g_signal_connect_swapped (sheet->unit[m], "notify::selected", G_CALLBACK (on_changed), sheet);
    attach (GTK_GRID (grid), m, name, sheet->value[m], sheet->unit[m]);
  }
  gtk_widget_set_margin_end (grid, 14); /* clear of the scroll bar */
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (scrolled), GTK_POLICY_NEVER, GTK_POLICY_AUTOMATIC);
  gtk_scrolled_window_set_min_content_height (GTK_SCROLLED_WINDOW (scrolled), ROWS_HEIGHT);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (scrolled), grid);
  gtk_widget_set_vexpand (scrolled, TRUE);
  return scrolled;
}

static GtkWidget *
make_fields (SbMarginsSheet *sheet)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 10), *heading = gtk_label_new ("Single measures, within ±");
  gtk_widget_add_css_class (box, "sheet");
  gtk_label_set_xalign (GTK_LABEL (heading), 0);
  gtk_widget_add_css_class (heading, "heading");
  sheet->said = gtk_label_new (NULL);
  gtk_label_set_xalign (GTK_LABEL (sheet->said), 0);
  gtk_label_set_wrap (GTK_LABEL (sheet->said), TRUE);
  gtk_widget_add_css_class (sheet->said, "dim-label");
  gtk_box_append (GTK_BOX (box), make_common (sheet));
  gtk_box_append (GTK_BOX (box), heading);
  gtk_box_append (GTK_BOX (box), make_rows (sheet));
  gtk_box_append (GTK_BOX (box), sheet->said);
  return box;
}

static void
show_choices (SbMarginsSheet *sheet, const SbBench *bench)
{
  sb_number_entry_set (sheet->all, 100 * bench->margin_ratio);
  sb_number_entry_set (sheet->level, bench->verdict_level);
  for (int m = 0; m < SB_N_MEASURES; m++) {
    const SbMargin *margin = &bench->margin[m];
    gtk_drop_down_set_selected (GTK_DROP_DOWN (sheet->unit[m]), isnan (margin->absolute) ? 0u : 1u);
    if (!isnan (margin->absolute))
      sb_number_entry_set (sheet->value[m], margin->absolute * shown_unit (sheet, m).factor);
    else if (!isnan (margin->ratio))
      sb_number_entry_set (sheet->value[m], 100 * margin->ratio);
  }
}

static void
sb_margins_sheet_init (SbMarginsSheet *sheet)
{
  sheet->accept = gtk_button_new_with_label ("Set");
  g_signal_connect_swapped (sheet->accept, "clicked", G_CALLBACK (on_accept), sheet);
  sb_sheet_set_buttons (GTK_WINDOW (sheet), sheet->accept);
  gtk_window_set_title (GTK_WINDOW (sheet), "What counts as equal");
  gtk_window_set_default_size (GTK_WINDOW (sheet), WIDTH, -1);
  sb_sheet_set_up (GTK_WINDOW (sheet));
}

void
sb_margins_sheet_present (GtkWindow *parent, SbDocument *document)
{
  SbMarginsSheet *sheet = g_object_new (SB_TYPE_MARGINS_SHEET, "transient-for", parent, NULL);
  sheet->document = g_object_ref (document);
  gtk_window_set_child (GTK_WINDOW (sheet), make_fields (sheet));
  show_choices (sheet, sb_document_bench (document));
  on_changed (sheet);
  gtk_window_present (GTK_WINDOW (sheet));
}
