/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "claim_sheet.h"

#include "bench_claims.h"
#include "judgement_edits.h"
#include "number_entry.h"
#include "sheet.h"

#include <math.h>

/* What a figure can be stated of, in the order of the list. */
typedef struct {
  int configuration; /* -1: not one */
  char *device;      /* NULL: not one; neither: all of the bench */
} Owner;

#define SB_TYPE_CLAIM_SHEET (sb_claim_sheet_get_type ())
G_DECLARE_FINAL_TYPE (SbClaimSheet, sb_claim_sheet, SB, CLAIM_SHEET, GtkWindow)

struct _SbClaimSheet {
  GtkWindow parent_instance;
  SbDocument *document; /* owned */
  int index;            /* of the claim; -1: a new one */
  GArray *owners;       /* Owner */
  GtkWidget *owner, *measure, *relation, *value, *unit, *tolerance, *tolerance_unit, *said, *accept;
};

G_DEFINE_FINAL_TYPE (SbClaimSheet, sb_claim_sheet, GTK_TYPE_WINDOW)

static void
clear_owner (gpointer owner)
{
  g_free (((Owner *) owner)->device);
}

static gboolean
is_known (const GArray *owners, const char *device)
{
  for (guint i = 0; i < owners->len; i++)
    if (g_strcmp0 (g_array_index (owners, Owner, i).device, device) == 0)
      return TRUE;
  return FALSE;
}

static void
add_owner (GArray *owners, int configuration, const char *device)
{
  Owner owner = { configuration, g_strdup (device) };
  g_array_append_val (owners, owner);
}

/* All, each device that logs name, each configuration. */
static GArray *
find_owners (SbDocument *document)
{
  GArray *owners = g_array_new (FALSE, FALSE, sizeof (Owner));
  g_array_set_clear_func (owners, clear_owner);
  add_owner (owners, -1, NULL);
  const SbBench *bench = sb_document_bench (document);
  for (guint c = 0; c < bench->configurations->len; c++) {
    const SbConfigurationResult *result = sb_document_result (document, c);
    for (guint t = 0; result != NULL && t < result->trials->len; t++) {
      const SbTrialFacts *facts = sb_configuration_result_trial (result, t)->facts;
      if (facts != NULL && facts->device != NULL && !is_known (owners, facts->device))
        add_owner (owners, -1, facts->device);
    }
  }
  for (guint i = 0; i < sb_bench_n_claims (bench); i++) {
    const SbClaim *claim = sb_bench_claim (bench, i);
    if (claim->device != NULL && !is_known (owners, claim->device))
      add_owner (owners, -1, claim->device);
  }
  for (guint c = 0; c < bench->configurations->len; c++)
    add_owner (owners, (int) c, NULL);
  return owners;
}

static const Owner *
chosen_owner (SbClaimSheet *sheet)
{
  return &g_array_index (sheet->owners, Owner, gtk_drop_down_get_selected (GTK_DROP_DOWN (sheet->owner)));
}

static SbMeasureId
chosen_measure (SbClaimSheet *sheet)
{
  return (SbMeasureId) gtk_drop_down_get_selected (GTK_DROP_DOWN (sheet->measure));
}

static SbShownUnit
shown_unit (SbClaimSheet *sheet, SbMeasureId id)
{
  return sb_measure_shown_unit (id, sb_document_bench (sheet->document)->units);
}

/* The claim as it stands in the fields; its device is borrowed. FALSE while a number is missing. */
static gboolean
read_fields (SbClaimSheet *sheet, SbClaim *claim)
{
  double factor = shown_unit (sheet, chosen_measure (sheet)).factor;
  const Owner *owner = chosen_owner (sheet);
  claim->configuration = owner->configuration;
  claim->device = owner->device;
  claim->measure = chosen_measure (sheet);
  claim->relation = (SbClaimRelation) gtk_drop_down_get_selected (GTK_DROP_DOWN (sheet->relation));
  claim->value = sb_number_entry_get (sheet->value) / factor;
  gboolean about = claim->relation == SB_CLAIM_ABOUT;
  claim->tolerance = about ? sb_number_entry_get (sheet->tolerance) / factor : 0;
  return isfinite (claim->value) && isfinite (claim->tolerance) && claim->tolerance >= 0;
}

static void
on_changed (SbClaimSheet *sheet)
{
  SbClaim claim = { 0 };
  gboolean good = read_fields (sheet, &claim);
  const char *unit = shown_unit (sheet, claim.measure).name;
  gboolean bare = g_str_equal (unit, "1"), about = claim.relation == SB_CLAIM_ABOUT;
  gtk_label_set_text (GTK_LABEL (sheet->unit), bare ? "" : unit);
  gtk_label_set_text (GTK_LABEL (sheet->tolerance_unit), bare ? "" : unit);
  gtk_widget_set_sensitive (sheet->tolerance, about);
  gtk_widget_set_sensitive (sheet->accept, good);
  g_autofree char *said = good ? sb_claim_text (&claim, sb_document_bench (sheet->document)->units)
                               : g_strdup ("A number is still missing.");
  gtk_label_set_text (GTK_LABEL (sheet->said), said);
}

static void
on_accept (SbClaimSheet *sheet)
{
  SbClaim read = { 0 };
  if (!read_fields (sheet, &read))
    return;
  read.device = read.device != NULL ? g_ref_string_new (read.device) : NULL;
  SbClaim *claim = sb_claim_copy (&read);
  g_clear_pointer (&read.device, g_ref_string_release);
  if (sheet->index >= 0 && (guint) sheet->index < sb_bench_n_claims (sb_document_bench (sheet->document)))
    sb_edit_set_claim (sheet->document, (guint) sheet->index, claim);
  else
    sb_edit_add_claim (sheet->document, claim);
  sb_claim_free (claim);
  gtk_window_destroy (GTK_WINDOW (sheet));
}

static void
sb_claim_sheet_finalize (GObject *object)
{
  SbClaimSheet *sheet = SB_CLAIM_SHEET (object);
  g_clear_pointer (&sheet->owners, g_array_unref);
  g_clear_object (&sheet->document);
  G_OBJECT_CLASS (sb_claim_sheet_parent_class)->finalize (object);
}

static void
sb_claim_sheet_class_init (SbClaimSheetClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = sb_claim_sheet_finalize;
}

static GtkWidget *
make_choice (SbClaimSheet *sheet, const char *const *words)
{
  GtkWidget *choice = gtk_drop_down_new_from_strings (words);
  gtk_widget_set_hexpand (choice, TRUE);
  g_signal_connect_swapped (choice, "notify::selected", G_CALLBACK (on_changed), sheet);
  return choice;
}

static GtkWidget *
make_number (SbClaimSheet *sheet, GtkWidget **unit)
{
  GtkWidget *entry = sb_number_entry_new ();
  g_signal_connect_swapped (entry, "changed", G_CALLBACK (on_changed), sheet);
  *unit = gtk_label_new (NULL);
  gtk_label_set_xalign (GTK_LABEL (*unit), 0);
  return entry;
}

static void
attach (GtkGrid *grid, int row, const char *name, GtkWidget *field, GtkWidget *behind)
{
  GtkWidget *label = gtk_label_new (name);
  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_widget_add_css_class (label, "field-name");
  gtk_accessible_update_property (GTK_ACCESSIBLE (field), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
  gtk_grid_attach (grid, label, 0, row, 1, 1);
  gtk_grid_attach (grid, field, 1, row, behind != NULL ? 1 : 2, 1);
  if (behind != NULL)
    gtk_grid_attach (grid, behind, 2, row, 1, 1);
}

static GtkWidget *
make_owner_choice (SbClaimSheet *sheet)
{
  const SbBench *bench = sb_document_bench (sheet->document);
  g_autoptr (GStrvBuilder) builder = g_strv_builder_new ();
  for (guint i = 0; i < sheet->owners->len; i++) {
    const Owner *owner = &g_array_index (sheet->owners, Owner, i);
    SbClaim claim = { .configuration = owner->configuration, .device = owner->device };
    g_autofree char *name = sb_bench_claim_owner (bench, &claim);
    g_strv_builder_add (builder, name);
  }
  g_auto (GStrv) names = g_strv_builder_end (builder);
  return make_choice (sheet, (const char *const *) names);
}

static GtkWidget *
make_measure_choice (SbClaimSheet *sheet)
{
  const char *names[SB_N_MEASURES + 1] = { NULL };
  for (int m = 0; m < SB_N_MEASURES; m++)
    names[m] = sb_measure_info ((SbMeasureId) m)->name;
  return make_choice (sheet, names);
}

static GtkWidget *
make_fields (SbClaimSheet *sheet)
{
  static const char *const relations[] = { "at least", "at most", "about", NULL }; /* by SbClaimRelation */
  GtkWidget *grid = gtk_grid_new ();
  gtk_grid_set_row_spacing (GTK_GRID (grid), 10);
  gtk_grid_set_column_spacing (GTK_GRID (grid), 12);
  gtk_widget_add_css_class (grid, "sheet");
  sheet->said = gtk_label_new (NULL);
  sheet->value = make_number (sheet, &sheet->unit);
  sheet->tolerance = make_number (sheet, &sheet->tolerance_unit);
  sheet->owner = make_owner_choice (sheet);
  sheet->measure = make_measure_choice (sheet);
  sheet->relation = make_choice (sheet, relations);
  attach (GTK_GRID (grid), 0, "Stated of", sheet->owner, NULL);
  attach (GTK_GRID (grid), 1, "Measure", sheet->measure, NULL);
  attach (GTK_GRID (grid), 2, "Is", sheet->relation, NULL);
  attach (GTK_GRID (grid), 3, "Value", sheet->value, sheet->unit);
  attach (GTK_GRID (grid), 4, "± tolerance", sheet->tolerance, sheet->tolerance_unit);
  gtk_label_set_xalign (GTK_LABEL (sheet->said), 0);
  gtk_widget_add_css_class (sheet->said, "dim-label");
  gtk_grid_attach (GTK_GRID (grid), sheet->said, 0, 5, 3, 1);
  return grid;
}

static void
show_claim (SbClaimSheet *sheet, const SbClaim *claim)
{
  double factor = shown_unit (sheet, claim->measure).factor;
  for (guint i = 0; i < sheet->owners->len; i++) {
    const Owner *owner = &g_array_index (sheet->owners, Owner, i);
    if (owner->configuration == claim->configuration && g_strcmp0 (owner->device, claim->device) == 0)
      gtk_drop_down_set_selected (GTK_DROP_DOWN (sheet->owner), i);
  }
  gtk_drop_down_set_selected (GTK_DROP_DOWN (sheet->measure), claim->measure);
  gtk_drop_down_set_selected (GTK_DROP_DOWN (sheet->relation), claim->relation);
  sb_number_entry_set (sheet->value, claim->value * factor);
  if (claim->relation == SB_CLAIM_ABOUT)
    sb_number_entry_set (sheet->tolerance, claim->tolerance * factor);
}

static void
sb_claim_sheet_init (SbClaimSheet *sheet)
{
  sheet->accept = gtk_button_new_with_label ("State");
  g_signal_connect_swapped (sheet->accept, "clicked", G_CALLBACK (on_accept), sheet);
  sb_sheet_set_buttons (GTK_WINDOW (sheet), sheet->accept);
  gtk_window_set_title (GTK_WINDOW (sheet), "Stated figure");
  gtk_window_set_resizable (GTK_WINDOW (sheet), FALSE);
  sb_sheet_set_up (GTK_WINDOW (sheet));
}

void
sb_claim_sheet_present (GtkWindow *parent, SbDocument *document, int index)
{
  const SbBench *bench = sb_document_bench (document);
  if (index >= 0 && (guint) index >= sb_bench_n_claims (bench))
    return; /* taken away meanwhile */
  SbClaimSheet *sheet = g_object_new (SB_TYPE_CLAIM_SHEET, "transient-for", parent, NULL);
  sheet->document = g_object_ref (document);
  sheet->index = index;
  sheet->owners = find_owners (document);
  gtk_window_set_child (GTK_WINDOW (sheet), make_fields (sheet));
  if (index >= 0)
    show_claim (sheet, sb_bench_claim (bench, (guint) index));
  else
    gtk_drop_down_set_selected (GTK_DROP_DOWN (sheet->measure), SB_MEASURE_PEAK_TORQUE_SLOPE);
  on_changed (sheet);
  gtk_window_set_focus (GTK_WINDOW (sheet), sheet->value); /* the one that has no answer yet */
  gtk_window_present (GTK_WINDOW (sheet));
}
