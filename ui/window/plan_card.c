/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plan_card.h"

#include "judgement_edits.h"
#include "plan_picture.h"
#include "power.h"
#include "results_pair.h"
#include "view_edits.h"

#include <math.h>

#define NOTE_CHARS 46

static const struct {
  const char *words;
  double ratio; /* 0: each measure's own margin */
} shares[]
    = { { "its margin", 0 }, { "1 %", 0.01 }, { "2 %", 0.02 }, { "5 %", 0.05 }, { "10 %", 0.1 }, { "20 %", 0.2 } };

static GtkWidget *
make_label (const char *text, double xalign, const char *css_class)
{
  GtkWidget *label = gtk_label_new (text);
  gtk_label_set_xalign (GTK_LABEL (label), (float) xalign);
  if (css_class != NULL)
    gtk_widget_add_css_class (label, css_class);
  return label;
}

static void
on_share (GtkDropDown *choice, GParamSpec *pspec, SbDocument *document)
{
  guint chosen = gtk_drop_down_get_selected (choice);
  if (chosen < G_N_ELEMENTS (shares))
    sb_edit_set_plan_ratio (document, shares[chosen].ratio);
}

/* A share from a terminal or a session that is none of the list stands below it. */
static GtkWidget *
make_share (SbDocument *document, double ratio)
{
  static const char explanation[] = "The difference that is to be seen, as a share of the reference mean";
  const char *words[G_N_ELEMENTS (shares) + 2] = { NULL };
  guint chosen = G_N_ELEMENTS (shares);
  for (guint i = 0; i < G_N_ELEMENTS (shares); i++) {
    words[i] = shares[i].words;
    if (fabs (shares[i].ratio - ratio) < 1e-9)
      chosen = i;
  }
  g_autofree char *own = g_strdup_printf ("%.4g %%", 100 * ratio);
  if (chosen == G_N_ELEMENTS (shares))
    words[chosen] = own;
  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  GtkWidget *choice = gtk_drop_down_new_from_strings (words);
  gtk_drop_down_set_selected (GTK_DROP_DOWN (choice), chosen);
  gtk_widget_set_tooltip_text (choice, explanation);
  gtk_accessible_update_property (GTK_ACCESSIBLE (choice), GTK_ACCESSIBLE_PROPERTY_LABEL, explanation, -1);
  g_signal_connect (choice, "notify::selected", G_CALLBACK (on_share), document);
  gtk_box_append (GTK_BOX (line), make_label ("To see a difference of", 0, NULL));
  gtk_box_append (GTK_BOX (line), choice);
  return line;
}

static void
attach_number (GtkGrid *grid, int column, int row, gsize n)
{
  g_autofree char *text = sb_repeats_words (n);
  gboolean is_practical = n > 0 && n <= SB_MOST_PRACTICAL_REPEATS;
  gtk_grid_attach (grid, make_label (text, 1, is_practical ? NULL : "dim-label"), column, row, 1, 1);
}

static GtkWidget *
make_table (const SbPlan *plan, SbUnits units)
{
  GtkWidget *table = gtk_grid_new ();
  GtkGrid *grid = GTK_GRID (table);
  gtk_grid_set_column_spacing (grid, 18);
  gtk_grid_set_row_spacing (grid, 2);
  gtk_grid_attach (grid, make_label ("Repeats on either side, for a power of", 0, "dim-label"), 0, 0, 1, 1);
  gtk_grid_attach (grid, make_label ("80 %", 1, "dim-label"), 1, 0, 1, 1);
  gtk_grid_attach (grid, make_label ("90 %", 1, "dim-label"), 2, 0, 1, 1);
  for (int m = 0, row = 1; m < SB_N_MEASURES; m++) {
    const SbMeasurePlan *measure = &plan->measure[m];
    if (!measure->present)
      continue;
    g_autofree char *difference = sb_measure_format_in ((SbMeasureId) m, units, measure->difference, NAN, TRUE);
    g_autofree char *name = g_strdup_printf ("%s, %s", sb_measure_info ((SbMeasureId) m)->name, difference);
    gtk_grid_attach (grid, make_label (name, 0, NULL), 0, row, 1, 1);
    attach_number (grid, 1, row, measure->n_80);
    attach_number (grid, 2, row++, measure->n_90);
  }
  return table;
}

/* What the picture and its choice share; freed with the card. */
typedef struct {
  SbDocument *document; /* borrowed */
  SbAnalysis *analysis;
  SbMeasureId *measure; /* borrowed */
  SbMeasureId planned[SB_N_MEASURES];
  guint n_planned;
  GtkWidget *place; /* of the picture */
} Curve;

static void
curve_free (gpointer data)
{
  Curve *curve = data;
  sb_analysis_unref (curve->analysis);
  g_free (curve);
}

static void
draw_curve (Curve *curve)
{
  for (GtkWidget *old; (old = gtk_widget_get_first_child (curve->place)) != NULL;)
    gtk_box_remove (GTK_BOX (curve->place), old);
  gtk_box_append (GTK_BOX (curve->place), sb_plan_picture_new (curve->analysis, *curve->measure));
}

static void
on_measure (GtkDropDown *choice, GParamSpec *pspec, Curve *curve)
{
  guint chosen = gtk_drop_down_get_selected (choice);
  if (chosen >= curve->n_planned || curve->planned[chosen] == *curve->measure)
    return;
  *curve->measure = curve->planned[chosen];
  draw_curve (curve);
}

static void
on_large (GtkButton *button, Curve *curve)
{
  sb_edit_show_plan (curve->document, *curve->measure);
}

static Curve *
curve_new (SbDocument *document, SbAnalysis *analysis, const SbPlan *plan, SbMeasureId *measure)
{
  Curve *curve = g_new0 (Curve, 1);
  gboolean is_there = FALSE;
  curve->document = document;
  curve->analysis = sb_analysis_ref (analysis);
  curve->measure = measure;
  curve->place = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  for (int m = 0; m < SB_N_MEASURES; m++) {
    if (!plan->measure[m].present)
      continue;
    curve->planned[curve->n_planned++] = (SbMeasureId) m;
    is_there = is_there || *measure == (SbMeasureId) m;
  }
  if (!is_there && curve->n_planned > 0)
    *measure = curve->planned[0];
  return curve;
}

static GtkWidget *
make_curve_line (Curve *curve)
{
  const char *names[SB_N_MEASURES + 1] = { NULL };
  guint chosen = 0;
  for (guint i = 0; i < curve->n_planned; i++) {
    names[i] = sb_measure_info (curve->planned[i])->name;
    chosen = curve->planned[i] == *curve->measure ? i : chosen;
  }
  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  GtkWidget *choice = gtk_drop_down_new_from_strings (names);
  GtkWidget *large = gtk_button_new_with_label ("Show large");
  gtk_drop_down_set_selected (GTK_DROP_DOWN (choice), chosen);
  gtk_widget_set_hexpand (choice, TRUE);
  gtk_accessible_update_property (GTK_ACCESSIBLE (choice), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                  "Measure whose repeats are drawn", -1);
  gtk_widget_set_tooltip_text (large, "Draw it on the chart, where it can be exported");
  g_signal_connect (choice, "notify::selected", G_CALLBACK (on_measure), curve);
  g_signal_connect (large, "clicked", G_CALLBACK (on_large), curve);
  gtk_box_append (GTK_BOX (line), choice);
  gtk_box_append (GTK_BOX (line), large);
  return line;
}

static GtkWidget *
make_note (const char *text)
{
  GtkWidget *label = make_label (text, 0, "dim-label");
  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_label_set_max_width_chars (GTK_LABEL (label), NOTE_CHARS);
  return label;
}

/* What the numbers stand for, and which measures have none. */
static void
append_notes (GtkBox *card, const SbPlan *plan)
{
  g_autofree char *notes = sb_plan_notes (plan, SB_ALL_MEASURES);
  if (notes[0] != '\0')
    gtk_box_append (card, make_note (g_strchomp (notes)));
  g_autoptr (GPtrArray) absent = sb_plan_absent (plan);
  for (guint i = 0; i < absent->len; i++) {
    g_autofree char *text = g_strdup_printf ("Not planned: %s.", (const char *) g_ptr_array_index (absent, i));
    gtk_box_append (card, make_note (text));
  }
}

GtkWidget *
sb_plan_card_new (SbDocument *document, SbAnalysis *analysis, SbMeasureId *measure)
{
  g_autoptr (SbPlan) made = NULL;
  const SbPlan *plan = sb_analysis_planned (analysis, SB_ALL_MEASURES, &made);
  if (plan == NULL)
    return NULL;
  GtkWidget *card = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  gtk_widget_add_css_class (card, "judgement");
  gtk_widget_add_css_class (card, "small-text");
  gtk_box_append (GTK_BOX (card), make_share (document, analysis->bench->plan_ratio));
  Curve *curve = curve_new (document, analysis, plan, measure);
  g_object_set_data_full (G_OBJECT (card), "curve", curve, curve_free);
  gtk_box_append (GTK_BOX (card), make_curve_line (curve));
  gtk_box_append (GTK_BOX (card), curve->place);
  gtk_box_append (GTK_BOX (card), make_table (plan, analysis->bench->units));
  append_notes (GTK_BOX (card), plan);
  return card;
}

void
sb_plan_card_draw (GtkWidget *card)
{
  Curve *curve = g_object_get_data (G_OBJECT (card), "curve");
  if (curve->n_planned > 0)
    draw_curve (curve);
}
