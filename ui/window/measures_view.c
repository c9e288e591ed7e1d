/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measures_view.h"

#include "curve_sample.h"
#include "measure_cell.h"

/* Characters in a line of a column's heading: where lines are broken, and where a word is cut. */
#define HEADING_CHARS      11
#define HEADING_WORD_CHARS 16

/* The names of the measures stand still while the numbers move sideways beneath their headings: four parts that share
 * their adjustments. The boxes of a column share their width by a size group, a name and its row their height. */
typedef struct {
  GtkWidget *value, *detail, *doubt, *box;
} Cell;

struct _SbMeasuresView {
  GtkBox parent_instance;
  SbDocument *document; /* borrowed: the window outlives its views */
  GtkWidget *heading, *names, *list_box;
  GPtrArray *columns; /* GtkSizeGroup: measure, configurations, difference, verdict */
  GArray *drawn;      /* guint: the configuration of each column of the results shown */
  GArray *cells;      /* Cell, row by row, a row for each measure: configurations, difference, verdict */
  GtkWidget *row[SB_N_MEASURES], *name[SB_N_MEASURES];
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

static void
on_name_pressed (GtkGestureClick *gesture, int n_press, double x, double y, SbMeasuresView *view)
{
  GtkWidget *name = gtk_event_controller_get_widget (GTK_EVENT_CONTROLLER (gesture));
  for (int id = 0; id < SB_N_MEASURES; id++)
    if (view->name[id] == name && view->row[id] != NULL) {
      sb_measures_view_choose (view, id);
      gtk_widget_grab_focus (view->row[id]);
    }
}

static void
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
  gtk_widget_add_css_class (box, "measure");
  GtkGesture *click = gtk_gesture_click_new ();
  g_signal_connect (click, "pressed", G_CALLBACK (on_name_pressed), view);
  gtk_widget_add_controller (box, GTK_EVENT_CONTROLLER (click));
  gtk_box_append (GTK_BOX (view->names), box);
  view->name[id] = box;
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
  for (guint i = 0; i < n_cells (view); i++) {
    gboolean verdict = i + 1 == n_cells (view);
    Cell cell = make_cell (view, i, verdict ? 0 : 1);
    g_array_append_val (view->cells, cell);
    gtk_box_append (GTK_BOX (line), cell.box);
  }
  view->row[id] = gtk_list_box_row_new ();
  gtk_widget_add_css_class (view->row[id], "measure");
  gtk_list_box_row_set_child (GTK_LIST_BOX_ROW (view->row[id]), line);
  gtk_list_box_append (GTK_LIST_BOX (view->list_box), view->row[id]);
  g_autoptr (GtkSizeGroup) height = gtk_size_group_new (GTK_SIZE_GROUP_VERTICAL);
  gtk_size_group_add_widget (height, view->name[id]);
  gtk_size_group_add_widget (height, view->row[id]);
}

/* Lines broken here, and not by the label, so that the heading's height does not hang on its width. */
static char *
break_lines (const char *title)
{
  g_auto (GStrv) words = g_strsplit (title, " ", -1);
  g_autoptr (GString) text = g_string_new (NULL);
  glong length = 0;
  for (guint i = 0; words[i] != NULL; i++) {
    glong word = g_utf8_strlen (words[i], -1);
    gboolean fits = length + 1 + word <= HEADING_CHARS;
    if (i > 0)
      g_string_append_c (text, fits ? ' ' : '\n');
    length = i > 0 && fits ? length + 1 + word : word;
    if (word > HEADING_WORD_CHARS) { /* the tooltip has it whole */
      g_autofree char *start = g_utf8_substring (words[i], 0, HEADING_WORD_CHARS - 1);
      g_string_append_printf (text, "%s…", start);
    } else {
      g_string_append (text, words[i]);
    }
  }
  return g_string_free (g_steal_pointer (&text), FALSE);
}

static GtkWidget *
make_heading_cell (SbMeasuresView *view, guint column, float xalign, const char *title, const char *detail)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  GtkWidget *first = make_line_label (xalign, "heading");
  g_autofree char *lines = break_lines (title);
  gtk_label_set_text (GTK_LABEL (first), lines);
  gtk_label_set_justify (GTK_LABEL (first), xalign > 0.5f ? GTK_JUSTIFY_RIGHT : GTK_JUSTIFY_LEFT);
  GtkWidget *second = make_line_label (xalign, "cell-detail");
  gtk_label_set_text (GTK_LABEL (second), detail);
  gtk_box_append (GTK_BOX (box), first);
  gtk_box_append (GTK_BOX (box), second);
  gtk_widget_set_valign (box, GTK_ALIGN_END);
  gtk_widget_set_tooltip_text (box, title);
  gtk_widget_add_css_class (box, "cell");
  if (view != NULL)
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
  guint column = 0;
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
  int chosen = row != NULL ? gtk_list_box_row_get_index (row) : -1;
  for (int id = 0; id < SB_N_MEASURES; id++)
    if (id == chosen)
      gtk_widget_add_css_class (view->name[id], "chosen");
    else
      gtk_widget_remove_css_class (view->name[id], "chosen");
  g_signal_emit (view, signals[CHOSEN], 0, chosen);
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

static GtkWidget *
make_list_box (SbMeasuresView *view)
{
  view->list_box = gtk_list_box_new ();
  gtk_widget_add_css_class (view->list_box, "measures");
  gtk_accessible_update_property (GTK_ACCESSIBLE (view->list_box), GTK_ACCESSIBLE_PROPERTY_LABEL, "Measures", -1);
  g_signal_connect (view->list_box, "row-selected", G_CALLBACK (on_row_selected), view);
  GtkEventController *key = gtk_event_controller_key_new ();
  g_signal_connect (key, "key-pressed", G_CALLBACK (on_key), view);
  gtk_widget_add_controller (view->list_box, key);
  return view->list_box;
}

static GtkWidget *
make_scrolled (GtkWidget *child, GtkPolicyType across, GtkPolicyType down)
{
  GtkWidget *scrolled = gtk_scrolled_window_new ();
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (scrolled), across, down);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (scrolled), child);
  return scrolled;
}

static GtkWidget *
make_table (SbMeasuresView *view)
{
  view->heading = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 0);
  gtk_widget_set_valign (view->heading, GTK_ALIGN_END);
  view->names = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  gtk_widget_add_css_class (view->names, "measure-names");
  GtkWidget *rows = make_scrolled (make_list_box (view), GTK_POLICY_AUTOMATIC, GTK_POLICY_AUTOMATIC);
  gtk_widget_set_hexpand (rows, TRUE);
  gtk_widget_set_vexpand (rows, TRUE);
  /* A row is wider than the view: going to it by key must not move it sideways. The list sees to up and down. */
  gtk_viewport_set_scroll_to_focus (GTK_VIEWPORT (gtk_scrolled_window_get_child (GTK_SCROLLED_WINDOW (rows))), FALSE);
  GtkWidget *names = make_scrolled (view->names, GTK_POLICY_NEVER, GTK_POLICY_EXTERNAL);
  gtk_scrolled_window_set_vadjustment (GTK_SCROLLED_WINDOW (names),
                                       gtk_scrolled_window_get_vadjustment (GTK_SCROLLED_WINDOW (rows)));
  GtkWidget *headings = make_scrolled (view->heading, GTK_POLICY_EXTERNAL, GTK_POLICY_NEVER);
  gtk_scrolled_window_set_propagate_natural_height (GTK_SCROLLED_WINDOW (headings), TRUE);
  gtk_scrolled_window_set_hadjustment (GTK_SCROLLED_WINDOW (headings),
                                       gtk_scrolled_window_get_hadjustment (GTK_SCROLLED_WINDOW (rows)));
  GtkWidget *corner = make_heading_cell (NULL, 0, 0, "Measure", "unit");
  gtk_widget_add_css_class (corner, "table-heading");
  gtk_widget_add_css_class (headings, "table-heading");
  GtkWidget *grid = gtk_grid_new ();
  gtk_grid_attach (GTK_GRID (grid), corner, 0, 0, 1, 1);
  gtk_grid_attach (GTK_GRID (grid), headings, 1, 0, 1, 1);
  gtk_grid_attach (GTK_GRID (grid), names, 0, 1, 1, 1);
  gtk_grid_attach (GTK_GRID (grid), rows, 1, 1, 1, 1);
  return grid;
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
  for (guint id = 0; id < SB_N_MEASURES; id++)
    make_name (view, id);
}

GtkWidget *
sb_measures_view_new (SbDocument *document)
{
  SbMeasuresView *view = g_object_new (SB_TYPE_MEASURES_VIEW, "orientation", GTK_ORIENTATION_VERTICAL, NULL);
  view->document = document;
  sb_measures_view_update (view);
  return GTK_WIDGET (view);
}
