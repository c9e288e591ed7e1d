/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measures_view.h"

#include "curve_sample.h"
#include "measure_cell.h"

/* A row of the table, or its heading: the boxes of one column share their width by a size group. */
typedef struct {
  GtkWidget *value, *detail, *doubt, *box;
} Cell;

struct _SbMeasuresView {
  GtkBox parent_instance;
  SbDocument *document; /* borrowed: the window outlives its views */
  GtkWidget *heading, *list_box;
  GPtrArray *columns; /* GtkSizeGroup: measure, configurations, difference, verdict */
  GArray *drawn;      /* guint: the configuration of each column of the results shown */
  GArray *cells;      /* Cell, row by row, a row for each measure: configurations, difference, verdict */
  GtkWidget *row[SB_N_MEASURES];
};

G_DEFINE_FINAL_TYPE (SbMeasuresView, sb_measures_view, GTK_TYPE_BOX)

enum { CHOSEN, N_SIGNALS };
static guint signals[N_SIGNALS];

static GtkWidget *
make_line_label (float xalign, const char *css_class)
{
  GtkWidget *label = gtk_label_new (NULL);
  gtk_label_set_xalign (GTK_LABEL (label), xalign);
  gtk_label_set_ellipsize (GTK_LABEL (label), PANGO_ELLIPSIZE_NONE);
  gtk_widget_add_css_class (label, css_class);
  return label;
}

static void
into_column (SbMeasuresView *view, guint column, GtkWidget *widget)
{
  while (view->columns->len <= column)
    g_ptr_array_add (view->columns, gtk_size_group_new (GTK_SIZE_GROUP_HORIZONTAL));
  gtk_size_group_add_widget (g_ptr_array_index (view->columns, column), widget);
}

static Cell
make_cell (SbMeasuresView *view, guint column, float xalign)
{
  Cell cell;
  cell.box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  GtkWidget *first = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 3);
  gtk_widget_set_halign (first, xalign > 0.5f ? GTK_ALIGN_END : GTK_ALIGN_START);
  cell.doubt = gtk_label_new ("?");
  gtk_widget_add_css_class (cell.doubt, "doubt");
  cell.value = make_line_label (xalign, "numeric");
  cell.detail = make_line_label (xalign, "cell-detail");
  gtk_box_append (GTK_BOX (first), cell.doubt);
  gtk_box_append (GTK_BOX (first), cell.value);
  gtk_box_append (GTK_BOX (cell.box), first);
  gtk_box_append (GTK_BOX (cell.box), cell.detail);
  gtk_widget_add_css_class (cell.box, "cell");
  into_column (view, column, cell.box);
  return cell;
}

static void
fill_cell (const Cell *cell, const SbMeasureCell *text)
{
  gtk_label_set_text (GTK_LABEL (cell->value), text->value);
  gtk_label_set_text (GTK_LABEL (cell->detail), text->detail);
  gtk_widget_set_visible (cell->doubt, text->doubt);
  gtk_widget_set_tooltip_text (cell->box, text->tooltip);
  if (text->absent)
    gtk_widget_add_css_class (cell->value, "dim-label");
  else
    gtk_widget_remove_css_class (cell->value, "dim-label");
}

static GtkWidget *
make_name (SbMeasuresView *view, SbMeasureId id)
{
  const SbMeasureInfo *info = sb_measure_info (id);
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  GtkWidget *name = make_line_label (0, "measure-name");
  gtk_label_set_text (GTK_LABEL (name), info->name);
  GtkWidget *unit = make_line_label (0, "cell-detail");
  gtk_label_set_text (GTK_LABEL (unit), g_str_equal (info->display_unit, "1") ? "ratio" : info->display_unit);
  gtk_box_append (GTK_BOX (box), name);
  gtk_box_append (GTK_BOX (box), unit);
  g_autofree char *tooltip = g_strdup_printf ("%s\nSource: %s", info->definition, info->source);
  gtk_widget_set_tooltip_text (box, tooltip);
  gtk_widget_add_css_class (box, "cell");
  into_column (view, 0, box);
  return box;
}

static guint
n_cells (const SbMeasuresView *view)
{
  return view->drawn->len + 2;
}

static void
make_row (SbMeasuresView *view, SbMeasureId id)
{
  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 0);
  gtk_box_append (GTK_BOX (line), make_name (view, id));
  for (guint i = 0; i < n_cells (view); i++) {
    gboolean verdict = i + 1 == n_cells (view);
    Cell cell = make_cell (view, i + 1, verdict ? 0 : 1);
    g_array_append_val (view->cells, cell);
    gtk_box_append (GTK_BOX (line), cell.box);
  }
  view->row[id] = gtk_list_box_row_new ();
  gtk_widget_add_css_class (view->row[id], "measure");
  gtk_list_box_row_set_child (GTK_LIST_BOX_ROW (view->row[id]), line);
  gtk_list_box_append (GTK_LIST_BOX (view->list_box), view->row[id]);
}

static GtkWidget *
make_heading_cell (SbMeasuresView *view, guint column, float xalign, const char *title, const char *detail)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  GtkWidget *first = make_line_label (xalign, "heading");
  gtk_label_set_text (GTK_LABEL (first), title);
  gtk_label_set_ellipsize (GTK_LABEL (first), PANGO_ELLIPSIZE_END);
  gtk_label_set_wrap (GTK_LABEL (first), TRUE);
  gtk_label_set_wrap_mode (GTK_LABEL (first), PANGO_WRAP_WORD_CHAR);
  gtk_label_set_lines (GTK_LABEL (first), 3);
  gtk_label_set_max_width_chars (GTK_LABEL (first), 12);
  gtk_label_set_justify (GTK_LABEL (first), xalign > 0.5f ? GTK_JUSTIFY_RIGHT : GTK_JUSTIFY_LEFT);
  GtkWidget *second = make_line_label (xalign, "cell-detail");
  gtk_label_set_text (GTK_LABEL (second), detail);
  gtk_box_append (GTK_BOX (box), first);
  gtk_box_append (GTK_BOX (box), second);
  gtk_widget_set_valign (box, GTK_ALIGN_END);
  gtk_widget_set_tooltip_text (box, title);
  gtk_widget_add_css_class (box, "cell");
  into_column (view, column, box);
  return box;
}

static void
make_configuration_heading (SbMeasuresView *view, guint column, const SbAnalysis *results, guint index)
{
  const SbConfigurationResult *configuration = sb_analysis_configuration (results, index);
  gboolean reference = results->bench->reference == (int) index, other = results->bench->other == (int) index;
  g_autofree char *detail = g_strdup_printf ("%sn = %" G_GSIZE_FORMAT,
                                             reference ? "reference, "
                                             : other   ? "other, "
                                                       : "",
                                             configuration->n_used);
  GtkWidget *cell = make_heading_cell (view, column, 1, configuration->name, detail);
  GtkWidget *sample = sb_curve_sample_new (configuration->style);
  gtk_widget_set_halign (sample, GTK_ALIGN_END);
  gtk_box_prepend (GTK_BOX (cell), sample);
  gtk_box_append (GTK_BOX (view->heading), cell);
}

static void
make_headings (SbMeasuresView *view, const SbAnalysis *results)
{
  gtk_box_append (GTK_BOX (view->heading), make_heading_cell (view, 0, 0, "Measure", "unit"));
  guint column = 1;
  for (guint i = 0; i < view->drawn->len; i++)
    make_configuration_heading (view, column++, results, g_array_index (view->drawn, guint, i));
  gtk_box_append (GTK_BOX (view->heading), make_heading_cell (view, column++, 1, "Difference", "95 % interval"));
  gtk_box_append (GTK_BOX (view->heading), make_heading_cell (view, column++, 0, "Verdict", "p (Holm)"));
}

static void
empty_heading (SbMeasuresView *view)
{
  GtkWidget *child;
  while ((child = gtk_widget_get_first_child (view->heading)) != NULL)
    gtk_box_remove (GTK_BOX (view->heading), child);
}

static void
empty_rows (SbMeasuresView *view)
{
  for (guint id = 0; id < SB_N_MEASURES; id++)
    if (view->row[id] != NULL) {
      gtk_list_box_remove (GTK_LIST_BOX (view->list_box), view->row[id]);
      view->row[id] = NULL;
    }
  g_array_set_size (view->cells, 0);
}

/* What a screen reader says of a row: the table read across. */
static void
describe_row (SbMeasuresView *view, const SbAnalysis *results, SbMeasureId id)
{
  const SbMeasureInfo *info = sb_measure_info (id);
  g_autoptr (GString) text = g_string_new (info->name);
  g_string_append_printf (text, " in %s", info->display_unit);
  const Cell *cells = &g_array_index (view->cells, Cell, id * n_cells (view));
  for (guint i = 0; i < n_cells (view); i++) {
    const char *column = i < view->drawn->len
                             ? sb_analysis_configuration (results, g_array_index (view->drawn, guint, i))->name
                             : (i == view->drawn->len ? "difference" : "verdict");
    g_string_append_printf (text, "; %s: %s %s", column, gtk_label_get_text (GTK_LABEL (cells[i].value)),
                            gtk_label_get_text (GTK_LABEL (cells[i].detail)));
  }
  gtk_accessible_update_property (GTK_ACCESSIBLE (view->row[id]), GTK_ACCESSIBLE_PROPERTY_LABEL, text->str, -1);
}

static void
fill_row (SbMeasuresView *view, const SbAnalysis *results, SbMeasureId id)
{
  const Cell *cells = &g_array_index (view->cells, Cell, id * n_cells (view));
  guint i = 0;
  for (; i < view->drawn->len; i++) {
    guint index = g_array_index (view->drawn, guint, i);
    g_auto (SbMeasureCell) mean = sb_measure_cell_mean (sb_analysis_configuration (results, index), id);
    fill_cell (&cells[i], &mean);
  }
  g_auto (SbMeasureCell) difference = sb_measure_cell_difference (results->comparison, id);
  g_auto (SbMeasureCell) verdict = sb_measure_cell_verdict (results->comparison, id);
  fill_cell (&cells[i++], &difference);
  fill_cell (&cells[i], &verdict);
  describe_row (view, results, id);
}

static GArray *
drawn_of (const SbAnalysis *results)
{
  GArray *drawn = g_array_new (FALSE, FALSE, sizeof (guint));
  for (guint i = 0; i < results->configurations->len; i++)
    if (sb_analysis_configuration (results, i)->drawn)
      g_array_append_val (drawn, i);
  return drawn;
}

void
sb_measures_view_update (SbMeasuresView *view)
{
  const SbAnalysis *results = sb_document_results (view->document);
  gtk_widget_set_visible (GTK_WIDGET (view), results != NULL);
  if (results == NULL)
    return;
  g_autoptr (GArray) drawn = drawn_of (results);
  gboolean same_shape = view->row[0] != NULL && drawn->len == view->drawn->len;
  g_array_unref (view->drawn);
  view->drawn = g_steal_pointer (&drawn);
  empty_heading (view);
  if (!same_shape) {
    empty_rows (view);
    g_ptr_array_set_size (view->columns, 0);
  }
  make_headings (view, results);
  for (guint id = 0; id < SB_N_MEASURES; id++) {
    if (!same_shape)
      make_row (view, id);
    fill_row (view, results, id);
  }
}

void
sb_measures_view_choose (SbMeasuresView *view, int measure)
{
  GtkListBox *list_box = GTK_LIST_BOX (view->list_box);
  if (measure < 0)
    gtk_list_box_unselect_all (list_box);
  else if (view->row[measure] != NULL)
    gtk_list_box_select_row (list_box, GTK_LIST_BOX_ROW (view->row[measure]));
}

static void
on_row_selected (GtkListBox *list_box, GtkListBoxRow *row, SbMeasuresView *view)
{
  g_signal_emit (view, signals[CHOSEN], 0, row != NULL ? gtk_list_box_row_get_index (row) : -1);
}

static gboolean
on_key (GtkEventControllerKey *controller, guint key, guint code, GdkModifierType state, SbMeasuresView *view)
{
  if (key != GDK_KEY_Escape)
    return GDK_EVENT_PROPAGATE;
  gtk_list_box_unselect_all (GTK_LIST_BOX (view->list_box));
  return GDK_EVENT_STOP;
}

static void
sb_measures_view_finalize (GObject *object)
{
  SbMeasuresView *view = SB_MEASURES_VIEW (object);
  g_ptr_array_unref (view->columns);
  g_array_unref (view->drawn);
  g_array_unref (view->cells);
  G_OBJECT_CLASS (sb_measures_view_parent_class)->finalize (object);
}

static void
sb_measures_view_class_init (SbMeasuresViewClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = sb_measures_view_finalize;
  signals[CHOSEN] = g_signal_new ("chosen", SB_TYPE_MEASURES_VIEW, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE,
                                  1, G_TYPE_INT);
}

/* The heading stays while the rows scroll up and down, and goes with them sideways. */
static GtkWidget *
make_table (SbMeasuresView *view)
{
  view->heading = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 0);
  gtk_widget_add_css_class (view->heading, "table-heading");
  view->list_box = gtk_list_box_new ();
  gtk_widget_add_css_class (view->list_box, "measures");
  gtk_accessible_update_property (GTK_ACCESSIBLE (view->list_box), GTK_ACCESSIBLE_PROPERTY_LABEL, "Measures", -1);
  g_signal_connect (view->list_box, "row-selected", G_CALLBACK (on_row_selected), view);
  GtkEventController *key = gtk_event_controller_key_new ();
  g_signal_connect (key, "key-pressed", G_CALLBACK (on_key), view);
  gtk_widget_add_controller (view->list_box, key);
  GtkWidget *rows = gtk_scrolled_window_new ();
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (rows), GTK_POLICY_NEVER, GTK_POLICY_AUTOMATIC);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (rows), view->list_box);
  gtk_widget_set_vexpand (rows, TRUE);
  GtkWidget *table = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  gtk_box_append (GTK_BOX (table), view->heading);
  gtk_box_append (GTK_BOX (table), rows);
  GtkWidget *sideways = gtk_scrolled_window_new ();
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (sideways), GTK_POLICY_AUTOMATIC, GTK_POLICY_NEVER);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (sideways), table);
  /* A row is wider than the view: going to one must not push the names of the measures out of sight. */
  gtk_viewport_set_scroll_to_focus (GTK_VIEWPORT (gtk_scrolled_window_get_child (GTK_SCROLLED_WINDOW (sideways))),
                                    FALSE);
  gtk_widget_set_vexpand (sideways, TRUE);
  return sideways;
}

static void
sb_measures_view_init (SbMeasuresView *view)
{
  view->columns = g_ptr_array_new_with_free_func (g_object_unref);
  view->drawn = g_array_new (FALSE, FALSE, sizeof (guint));
  view->cells = g_array_new (FALSE, FALSE, sizeof (Cell));
  GtkWidget *heading = gtk_label_new ("Measures");
  gtk_label_set_xalign (GTK_LABEL (heading), 0);
  gtk_widget_add_css_class (heading, "pane-heading");
  gtk_box_append (GTK_BOX (view), heading);
  gtk_box_append (GTK_BOX (view), make_table (view));
}

GtkWidget *
sb_measures_view_new (SbDocument *document)
{
  SbMeasuresView *view = g_object_new (SB_TYPE_MEASURES_VIEW, "orientation", GTK_ORIENTATION_VERTICAL, NULL);
  view->document = document;
  sb_measures_view_update (view);
  return GTK_WIDGET (view);
}
