/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "export_sheet.h"

#include "chart_writing.h"
#include "edits.h"
#include "export_panels.h"
#include "export_preview.h"
#include "file_choice.h"
#include "sheet.h"
#include "view_edits.h"

#include <math.h>

struct _SbExportSheet {
  GtkWindow parent_instance;
  SbDocument *document; /* owned */
  GtkWidget *title, *format, *preset, *width, *height, *dpi, *font, *pixels, *export_button;
  GtkWidget *ground, *colours, *legend, *foot, *side, *preview, *advice;
  GtkWidget *label_check[SB_N_LABELS];
  gboolean updating;
  char *suggested_name; /* without ending */
  SbChartWanted wanted;
  gpointer user_data;
};

G_DEFINE_FINAL_TYPE (SbExportSheet, sb_export_sheet, GTK_TYPE_WINDOW)

enum { TOLD, N_SIGNALS };
static guint signals[N_SIGNALS];

static const char *const format_words[] = { "PNG, a picture of pixels", "SVG, a drawing", "PDF, a drawing", NULL };
static const char *const format_endings[] = { ".png", ".svg", ".pdf" };
static const char *const format_names[] = { "PNG", "SVG", "PDF" };

static const char *const ground_words[]
    = { "White", "Dark", "Transparent, light page", "Transparent, dark page", NULL };
static const char *const colour_words[] = { "Colours", "Greys", NULL };
static const char *const legend_words[] = { "Above", "Below", "At the right", "None", NULL };
static const char *const foot_words[] = { "Method and data", "None", NULL };

#define OWN_SIZE SB_N_PAPER_PRESETS

#define PREVIEW_WIDTH  440
#define PREVIEW_HEIGHT 360

static SbChartFormat
chosen_format (SbExportSheet *sheet)
{
  return (SbChartFormat) gtk_drop_down_get_selected (GTK_DROP_DOWN (sheet->format));
}

static double
spin_value (GtkWidget *spin)
{
  return gtk_spin_button_get_value (GTK_SPIN_BUTTON (spin));
}

static SbPaper
chosen_paper (SbExportSheet *sheet)
{
  guint preset = gtk_drop_down_get_selected (GTK_DROP_DOWN (sheet->preset));
  SbPaper paper = { .width_mm = spin_value (sheet->width),
                    .height_mm = spin_value (sheet->height),
                    .dpi = spin_value (sheet->dpi),
                    .font_pt = spin_value (sheet->font) };
  if (preset < OWN_SIZE) /* exact, where the fields show it rounded */
    paper = sb_paper_preset (preset)->paper;
  paper.ground = (SbGround) gtk_drop_down_get_selected (GTK_DROP_DOWN (sheet->ground));
  paper.grey = gtk_drop_down_get_selected (GTK_DROP_DOWN (sheet->colours)) == 1;
  paper.legend = (SbLegendPlace) gtk_drop_down_get_selected (GTK_DROP_DOWN (sheet->legend));
  paper.no_foot = gtk_drop_down_get_selected (GTK_DROP_DOWN (sheet->foot)) == 1;
  return paper;
}

/* Text that had to be set smaller than asked for. */
static void
show_advice (SbExportSheet *sheet)
{
  g_autofree char *advice = sb_export_preview_advice (sheet->preview);
  g_autofree char *sentence
      = advice != NULL ? g_strdup_printf ("%c%s.", g_ascii_toupper (advice[0]), advice + 1) : g_strdup ("");
  gtk_label_set_text (GTK_LABEL (sheet->advice), sentence);
  gtk_widget_set_visible (sheet->advice, advice != NULL);
}

static void
show_pixels (SbExportSheet *sheet)
{
  SbPaper paper = chosen_paper (sheet);
  SbChartSize size = sb_chart_size_of (&paper);
  gboolean png = chosen_format (sheet) == SB_CHART_PNG;
  gtk_widget_set_sensitive (sheet->dpi, png);
  g_autofree char *text = png ? g_strdup_printf ("%.0f × %.0f pixels", round (size.width_mm / 25.4 * size.dpi),
                                                 round (size.height_mm / 25.4 * size.dpi))
                              : g_strdup ("Sharp at every size; dpi does not matter.");
  gtk_label_set_text (GTK_LABEL (sheet->pixels), text);
  sb_export_preview_show (sheet->preview, &paper);
  show_advice (sheet);
}

static void
show_paper (SbExportSheet *sheet, const SbPaper *paper)
{
  sheet->updating = TRUE;
  gtk_spin_button_set_value (GTK_SPIN_BUTTON (sheet->width), paper->width_mm);
  gtk_spin_button_set_value (GTK_SPIN_BUTTON (sheet->height), paper->height_mm);
  gtk_spin_button_set_value (GTK_SPIN_BUTTON (sheet->dpi), paper->dpi);
  gtk_spin_button_set_value (GTK_SPIN_BUTTON (sheet->font), paper->font_pt);
  sheet->updating = FALSE;
}

static void
on_preset (GtkDropDown *preset, GParamSpec *pspec, SbExportSheet *sheet)
{
  guint chosen = gtk_drop_down_get_selected (preset);
  if (chosen < OWN_SIZE)
    show_paper (sheet, &sb_paper_preset (chosen)->paper);
  show_pixels (sheet);
}

static void
on_number (GtkSpinButton *spin, SbExportSheet *sheet)
{
  if (sheet->updating)
    return;
  gtk_drop_down_set_selected (GTK_DROP_DOWN (sheet->preset), OWN_SIZE);
  show_pixels (sheet);
}

static void
on_choice (GtkDropDown *choice, GParamSpec *pspec, SbExportSheet *sheet)
{
  show_pixels (sheet);
}

/* The chart with the title and on the paper of this sheet; NULL: none any more. (transfer full) */
static SbChartModel *
make_model (SbExportSheet *sheet)
{
  SbChartModel *model = sheet->wanted (sheet->user_data);
  if (model == NULL)
    return NULL;
  /* The results may not have followed yet: the model is this sheet's own. */
  g_free (model->title);
  model->title = g_strdup (sb_document_bench (sheet->document)->chart.title);
  SbPaper paper = chosen_paper (sheet);
  sb_chart_model_set_paper (model, &paper);
  return model;
}

static void
renew_preview (SbExportSheet *sheet)
{
  g_autoptr (SbChartModel) model = make_model (sheet);
  sb_export_preview_set_model (sheet->preview, model);
  show_advice (sheet);
}

static void
show_labels (SbExportSheet *sheet)
{
  const SbChartChoices *chart = &sb_document_bench (sheet->document)->chart;
  sheet->updating = TRUE;
  for (guint kind = 0; kind < SB_N_LABELS; kind++) {
    gboolean is_shown = (chart->labels & 1u << kind) != 0;
    gtk_check_button_set_active (GTK_CHECK_BUTTON (sheet->label_check[kind]), is_shown);
    gtk_widget_set_sensitive (sheet->label_check[kind], sb_view_has_label (chart->view, (SbLabelKind) kind));
  }
  sheet->updating = FALSE;
}

static void
on_label_toggled (GtkCheckButton *check, SbExportSheet *sheet)
{
  for (guint kind = 0; kind < SB_N_LABELS && !sheet->updating; kind++)
    if (sheet->label_check[kind] == GTK_WIDGET (check))
      sb_edit_show_label (sheet->document, (SbLabelKind) kind, gtk_check_button_get_active (check));
}

/* Labels come with the results of the bench that has them chosen. */
static void
on_results (SbDocument *document, SbExportSheet *sheet)
{
  show_labels (sheet);
  if (sb_document_results_are_current (document))
    renew_preview (sheet);
}

static void
take_title (SbExportSheet *sheet)
{
  sb_edit_set_title (sheet->document, gtk_editable_get_text (GTK_EDITABLE (sheet->title)));
  renew_preview (sheet);
}

static void
on_title_left (GtkEventControllerFocus *controller, SbExportSheet *sheet)
{
  take_title (sheet);
}

static void
written (GObject *source, GAsyncResult *result, gpointer user_data)
{
  SbExportSheet *sheet = SB_EXPORT_SHEET (source);
  g_autofree char *what = NULL;
  gboolean well = sb_chart_write_finish (result, &what);
  g_signal_emit (sheet, signals[TOLD], 0, well, what);
  gtk_widget_set_sensitive (sheet->export_button, TRUE);
  gtk_window_destroy (GTK_WINDOW (sheet));
}

static void
on_file_chosen (GtkWindow *parent, const char *const *paths, gpointer user_data)
{
  SbExportSheet *sheet = SB_EXPORT_SHEET (parent);
  SbChartModel *model = make_model (sheet);
  if (model == NULL)
    return;
  SbPaper paper = chosen_paper (sheet);
  sb_edit_set_export (sheet->document, &paper, chosen_format (sheet));
  SbChartSize size = sb_chart_size_of (&paper);
  gtk_widget_set_sensitive (sheet->export_button, FALSE);
  sb_chart_write (G_OBJECT (sheet), model, &size, paths[0], written);
}

static void
on_export (GtkButton *button, SbExportSheet *sheet)
{
  take_title (sheet);
  SbChartFormat format = chosen_format (sheet);
  g_autofree char *name = g_strconcat (sheet->suggested_name, format_endings[format], NULL);
  g_autofree char *pattern = g_strconcat ("*", format_endings[format], NULL);
  const char *const patterns[] = { pattern, NULL };
  SbFileQuestion question = {
    .title = "Export the chart",
    .action = GTK_FILE_CHOOSER_ACTION_SAVE,
    .suggested_name = name,
    .ending = format_endings[format],
    .filter_name = format_names[format],
    .patterns = patterns,
  };
  sb_file_choice_ask (GTK_WINDOW (sheet), &question, on_file_chosen, NULL);
}

static GtkWidget *
make_spin (SbExportSheet *sheet, double low, double high, guint digits)
{
  GtkWidget *spin = gtk_spin_button_new_with_range (low, high, 1);
  gtk_spin_button_set_digits (GTK_SPIN_BUTTON (spin), digits);
  gtk_editable_set_width_chars (GTK_EDITABLE (spin), 7);
  gtk_widget_set_hexpand (spin, TRUE);
  g_signal_connect (spin, "value-changed", G_CALLBACK (on_number), sheet);
  return spin;
}

static void
add_field (GtkGrid *grid, int column, int row, int width, const char *name, GtkWidget *field)
{
  gtk_grid_attach (grid, sb_sheet_field_new (name, field), column, row, width, 1);
}

static GtkWidget *
make_title (SbExportSheet *sheet)
{
  sheet->title = gtk_entry_new ();
  gtk_entry_set_placeholder_text (GTK_ENTRY (sheet->title), "None");
  gtk_entry_set_activates_default (GTK_ENTRY (sheet->title), TRUE);
  GtkEventController *focus = gtk_event_controller_focus_new ();
  g_signal_connect (focus, "leave", G_CALLBACK (on_title_left), sheet);
  gtk_widget_add_controller (sheet->title, focus);
  return sheet->title;
}

static GtkWidget *
make_labels (SbExportSheet *sheet)
{
  GtkWidget *grid = gtk_grid_new ();
  gtk_grid_set_column_spacing (GTK_GRID (grid), 12);
  gtk_grid_set_row_spacing (GTK_GRID (grid), 3);
  gtk_grid_set_column_homogeneous (GTK_GRID (grid), TRUE);
  for (int kind = 0; kind < SB_N_LABELS; kind++) {
    sheet->label_check[kind] = gtk_check_button_new_with_label (sb_label_kind_name ((SbLabelKind) kind));
    g_signal_connect (sheet->label_check[kind], "toggled", G_CALLBACK (on_label_toggled), sheet);
    gtk_grid_attach (GTK_GRID (grid), sheet->label_check[kind], kind % 2, kind / 2, 1, 1);
  }
  return grid;
}

static GtkWidget *
make_small_label (void)
{
  GtkWidget *label = gtk_label_new (NULL);
  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_label_set_max_width_chars (GTK_LABEL (label), 48);
  return label;
}

static GtkWidget *
make_fields (SbExportSheet *sheet)
{
  GtkWidget *grid = gtk_grid_new ();
  gtk_grid_set_row_spacing (GTK_GRID (grid), 12);
  gtk_grid_set_column_spacing (GTK_GRID (grid), 12);
  gtk_grid_set_column_homogeneous (GTK_GRID (grid), TRUE);
  sheet->width = make_spin (sheet, 10, 2000, 1);
  sheet->height = make_spin (sheet, 10, 2000, 1);
  sheet->dpi = make_spin (sheet, 36, 2400, 0);
  sheet->font = make_spin (sheet, 4, 48, 1);
  sheet->format = gtk_drop_down_new_from_strings (format_words);
  const char *names[OWN_SIZE + 2] = { NULL };
  for (guint i = 0; i < OWN_SIZE; i++)
    names[i] = sb_paper_preset (i)->name;
  names[OWN_SIZE] = "Own size";
  sheet->preset = gtk_drop_down_new_from_strings (names);
  sheet->ground = gtk_drop_down_new_from_strings (ground_words);
  sheet->colours = gtk_drop_down_new_from_strings (colour_words);
  sheet->legend = gtk_drop_down_new_from_strings (legend_words);
  sheet->foot = gtk_drop_down_new_from_strings (foot_words);
  GtkWidget *looks[] = { sheet->ground, sheet->colours, sheet->legend, sheet->foot };
  for (gsize i = 0; i < G_N_ELEMENTS (looks); i++)
    g_signal_connect (looks[i], "notify::selected", G_CALLBACK (on_choice), sheet);
  g_signal_connect (sheet->format, "notify::selected", G_CALLBACK (on_choice), sheet);
  g_signal_connect (sheet->preset, "notify::selected", G_CALLBACK (on_preset), sheet);
  add_field (GTK_GRID (grid), 0, 0, 2, "Title", make_title (sheet));
  add_field (GTK_GRID (grid), 0, 1, 2, "Format", sheet->format);
  add_field (GTK_GRID (grid), 0, 2, 2, "Size", sheet->preset);
  add_field (GTK_GRID (grid), 0, 3, 1, "Width [mm]", sheet->width);
  add_field (GTK_GRID (grid), 1, 3, 1, "Height [mm]", sheet->height);
  add_field (GTK_GRID (grid), 0, 4, 1, "Resolution [dpi]", sheet->dpi);
  add_field (GTK_GRID (grid), 1, 4, 1, "Numbers on the axes [pt]", sheet->font);
  add_field (GTK_GRID (grid), 0, 5, 1, "Ground", sheet->ground);
  add_field (GTK_GRID (grid), 1, 5, 1, "Drawn in", sheet->colours);
  add_field (GTK_GRID (grid), 0, 6, 1, "Legend", sheet->legend);
  add_field (GTK_GRID (grid), 1, 6, 1, "Foot line", sheet->foot);
  add_field (GTK_GRID (grid), 0, 7, 2, "Labels", make_labels (sheet));
  sheet->pixels = make_small_label ();
  gtk_widget_add_css_class (sheet->pixels, "dim-label");
  gtk_grid_attach (GTK_GRID (grid), sheet->pixels, 0, 8, 2, 1);
  return grid;
}

static void
on_true_size (GtkCheckButton *check, SbExportSheet *sheet)
{
  sb_export_preview_set_true_size (sheet->preview, gtk_check_button_get_active (check));
}

/* The preview, which is scrolled at its true size, and what is to be said of it. */
static GtkWidget *
make_pictures_side (SbExportSheet *sheet)
{
  GtkWidget *scrolled = gtk_scrolled_window_new (), *true_size = gtk_check_button_new_with_label ("True size");
  sheet->side = gtk_box_new (GTK_ORIENTATION_VERTICAL, 12);
  sheet->preview = sb_export_preview_new ();
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (scrolled), sheet->preview);
  gtk_scrolled_window_set_min_content_width (GTK_SCROLLED_WINDOW (scrolled), PREVIEW_WIDTH);
  gtk_scrolled_window_set_min_content_height (GTK_SCROLLED_WINDOW (scrolled), PREVIEW_HEIGHT);
  gtk_widget_set_vexpand (scrolled, TRUE);
  gtk_widget_set_tooltip_text (true_size,
                               "As large on this screen as it is printed, as far as the screen tells its size");
  g_signal_connect (true_size, "toggled", G_CALLBACK (on_true_size), sheet);
  sheet->advice = make_small_label ();
  gtk_box_append (GTK_BOX (sheet->side), scrolled);
  gtk_box_append (GTK_BOX (sheet->side), true_size);
  gtk_box_append (GTK_BOX (sheet->side), sheet->advice);
  GtkWidget *kept = make_small_label ();
  gtk_label_set_text (GTK_LABEL (kept),
                      "Title, panels and labels are kept with the session at once, the rest when you export.");
  gtk_widget_add_css_class (kept, "dim-label");
  gtk_box_append (GTK_BOX (sheet->side), kept);
  return sheet->side;
}

static void
sb_export_sheet_finalize (GObject *object)
{
  g_free (SB_EXPORT_SHEET (object)->suggested_name);
  g_clear_object (&SB_EXPORT_SHEET (object)->document);
  G_OBJECT_CLASS (sb_export_sheet_parent_class)->finalize (object);
}

static void
sb_export_sheet_class_init (SbExportSheetClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = sb_export_sheet_finalize;
  signals[TOLD] = g_signal_new ("told", SB_TYPE_EXPORT_SHEET, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 2,
                                G_TYPE_BOOLEAN, G_TYPE_STRING);
}

static void
sb_export_sheet_init (SbExportSheet *sheet)
{
  sheet->export_button = gtk_button_new_with_label ("Export…");
  g_signal_connect (sheet->export_button, "clicked", G_CALLBACK (on_export), sheet);
  sb_sheet_set_buttons_to_close (GTK_WINDOW (sheet), sheet->export_button);
  gtk_window_set_title (GTK_WINDOW (sheet), "Export chart");
  gtk_window_set_resizable (GTK_WINDOW (sheet), FALSE);
  sb_sheet_set_up (GTK_WINDOW (sheet));
  GtkWidget *all = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 18);
  gtk_box_append (GTK_BOX (all), make_fields (sheet));
  gtk_box_append (GTK_BOX (all), make_pictures_side (sheet));
  gtk_widget_add_css_class (all, "sheet");
  gtk_window_set_child (GTK_WINDOW (sheet), all);
}

GtkWidget *
sb_export_sheet_new (GtkWindow *parent, SbDocument *document, const char *suggested_name, SbChartWanted wanted,
                     gpointer user_data)
{
  SbExportSheet *sheet = g_object_new (SB_TYPE_EXPORT_SHEET, "transient-for", parent, NULL);
  sheet->document = g_object_ref (document);
  gtk_editable_set_text (GTK_EDITABLE (sheet->title), sb_document_bench (document)->chart.title);
  sheet->suggested_name = g_strdup (suggested_name);
  sheet->wanted = wanted;
  sheet->user_data = user_data;
  const SbPaper *paper = &sb_document_bench (document)->chart.paper;
  gtk_drop_down_set_selected (GTK_DROP_DOWN (sheet->format), sb_document_bench (document)->exported_as);
  gtk_drop_down_set_selected (GTK_DROP_DOWN (sheet->ground), paper->ground);
  gtk_drop_down_set_selected (GTK_DROP_DOWN (sheet->colours), paper->grey ? 1 : 0);
  gtk_drop_down_set_selected (GTK_DROP_DOWN (sheet->legend), paper->legend);
  gtk_drop_down_set_selected (GTK_DROP_DOWN (sheet->foot), paper->no_foot ? 1 : 0);
  gtk_drop_down_set_selected (GTK_DROP_DOWN (sheet->preset), sb_paper_find_preset (paper));
  show_paper (sheet, paper);
  gtk_box_prepend (GTK_BOX (sheet->side), sb_export_panels_new (document));
  show_labels (sheet);
  show_pixels (sheet);
  renew_preview (sheet);
  g_signal_connect_object (document, "results-changed", G_CALLBACK (on_results), sheet, 0);
  return GTK_WIDGET (sheet);
}
