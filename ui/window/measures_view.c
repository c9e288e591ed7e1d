/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measures_view_parts.h"

#include "choices_button.h"
#include "explain_sheet.h"
#include "let_go.h"
#include "one_tab_stop.h"
#include "table_button.h"
#include "table_copy.h"
#include "table_edits.h"

/* What the columns take, in characters of middling width. */
#define NAME_CHARS          24
#define CONFIGURATION_CHARS 13
#define COMPARISON_CHARS    35

G_DEFINE_FINAL_TYPE (SbMeasuresView, sb_measures_view, GTK_TYPE_BOX)

enum { CHOSEN, N_SIGNALS };
static guint signals[N_SIGNALS];

/* A table that is cut off looks whole: how much more there is stands below it. */
static void
show_more (SbMeasuresView *view)
{
  double edge = gtk_adjustment_get_value (view->across) + gtk_adjustment_get_page_size (view->across);
  guint n = sb_table_line_cells_beyond (SB_TABLE_LINE (view->heading), edge);
  g_autofree char *text = g_strdup_printf ("%u more %s to the right", n, n == 1 ? "column" : "columns");
  gtk_button_set_label (GTK_BUTTON (view->more), text);
  gtk_widget_set_visible (view->more, n > 0);
}

static void
on_more (GtkButton *button, SbMeasuresView *view)
{
  double edge = gtk_adjustment_get_value (view->across) + gtk_adjustment_get_page_size (view->across);
  double start = sb_table_line_cell_beyond (SB_TABLE_LINE (view->heading), edge);
  gtk_adjustment_set_value (view->across, MAX (start, gtk_adjustment_get_value (view->across) + 1));
}

gboolean
sb_measures_view_step (SbMeasuresView *view)
{
  if (!view->stale && view->shown != NULL && view->n_filled < SB_N_MEASURES) {
    sb_measures_view_fill_some (view);
    return TRUE;
  }
  if (!view->stale || sb_document_results (view->document) == NULL)
    return FALSE;
  view->stale = FALSE;
  view->n_filled = 0;
  sb_let_go (&view->shown);
  view->shown = sb_analysis_ref (sb_document_results (view->document));
  g_array_unref (view->columns);
  view->columns = sb_measure_columns_new (view->shown);
  sb_measures_view_fill_heading (view);
  return TRUE;
}

void
sb_measures_view_update (SbMeasuresView *view)
{
  gboolean any = sb_document_results (view->document) != NULL;
  gtk_widget_set_visible (view->names, any);
  gtk_widget_set_visible (view->list_box, any);
  view->stale = any;
}

int
sb_measures_view_width_for (SbMeasuresView *view, guint n_drawn)
{
  PangoContext *context = gtk_widget_get_pango_context (GTK_WIDGET (view));
  PangoFontMetrics *metrics = pango_context_get_metrics (context, NULL, NULL);
  int char_width = pango_font_metrics_get_approximate_char_width (metrics);
  pango_font_metrics_unref (metrics);
  guint n_chars = NAME_CHARS + n_drawn * CONFIGURATION_CHARS + (n_drawn > 1 ? COMPARISON_CHARS : 0);
  return PANGO_PIXELS ((int) n_chars * char_width);
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

GtkWidget *
sb_measures_view_tools (SbMeasuresView *view)
{
  return view->tools;
}

void
sb_measures_view_open_choices (SbMeasuresView *view)
{
  sb_choices_button_open (SB_CHOICES_BUTTON (view->choices));
}

void
sb_measures_view_open_table_choices (SbMeasuresView *view)
{
  sb_table_button_open (SB_TABLE_BUTTON (view->table_choices));
}

static void
on_row_selected (GtkListBox *list_box, GtkListBoxRow *row, SbMeasuresView *view)
{
  int chosen = row != NULL ? sb_measures_view_index_of (view->row, GTK_WIDGET (row)) : -1;
  for (int id = 0; id < SB_N_MEASURES; id++)
    if (id == chosen)
      gtk_widget_add_css_class (view->name[id], "chosen");
    else
      gtk_widget_remove_css_class (view->name[id], "chosen");
  gtk_widget_set_sensitive (view->explain, chosen >= 0);
  g_signal_emit (view, signals[CHOSEN], 0, chosen);
}

void
sb_measures_view_explain (SbMeasuresView *view)
{
  GtkListBoxRow *row = gtk_list_box_get_selected_row (GTK_LIST_BOX (view->list_box));
  if (row != NULL && view->shown != NULL)
    sb_explain_sheet_present (GTK_WINDOW (gtk_widget_get_root (GTK_WIDGET (view))), view->shown,
                              (SbMeasureId) sb_measures_view_index_of (view->row, GTK_WIDGET (row)));
}

/* Of the chosen row. */
static GtkWidget *
make_explain_button (SbMeasuresView *view)
{
  view->explain = gtk_button_new_with_label ("Explain");
  gtk_widget_set_sensitive (view->explain, FALSE);
  gtk_widget_set_tooltip_text (view->explain, "How the chosen figure was computed, trial by trial");
  g_signal_connect_swapped (view->explain, "clicked", G_CALLBACK (sb_measures_view_explain), view);
  return view->explain;
}

/* The heading of a column whose rows can be ordered by it orders them, or puts them back. */
static void
on_heading_pressed (GtkGestureClick *gesture, int n_press, double x, double y, SbMeasuresView *view)
{
  const SbMeasureColumn *column = sb_measures_view_column_at (view, view->heading, (int) x);
  if (column != NULL && column->kind == SB_COLUMN_DIFFERENCE)
    sb_edit_toggle_row_order (view->document, SB_ROWS_BY_EFFECT);
  else if (column != NULL && column->kind == SB_COLUMN_VERDICT)
    sb_edit_toggle_row_order (view->document, SB_ROWS_BY_P);
}

static void
on_corner_pressed (GtkGestureClick *gesture, int n_press, double x, double y, SbMeasuresView *view)
{
  sb_edit_toggle_row_order (view->document, SB_ROWS_BY_NAME);
}

static void
let_press (GtkWidget *widget, GCallback on_pressed, SbMeasuresView *view)
{
  GtkGesture *click = gtk_gesture_click_new ();
  g_signal_connect (click, "pressed", on_pressed, view);
  gtk_widget_add_controller (widget, GTK_EVENT_CONTROLLER (click));
}

static void
on_copy (GtkWidget *widget, const char *name, GVariant *parameter)
{
  SbMeasuresView *view = SB_MEASURES_VIEW (widget);
  if (view->shown != NULL)
    sb_table_copy (widget, view->shown, SB_TABLE_COPY_TEXT);
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
  g_array_unref (view->columns);
  sb_table_columns_unref (view->widths);
  g_clear_pointer (&view->shown, sb_analysis_unref);
  g_clear_object (&view->tools);
  G_OBJECT_CLASS (sb_measures_view_parent_class)->finalize (object);
}

static void sb_measures_view_dispose (GObject *object);

static void
sb_measures_view_class_init (SbMeasuresViewClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = sb_measures_view_dispose;
  G_OBJECT_CLASS (klass)->finalize = sb_measures_view_finalize;
  gtk_widget_class_install_action (GTK_WIDGET_CLASS (klass), "table.copy", NULL, on_copy);
  gtk_widget_class_add_binding_action (GTK_WIDGET_CLASS (klass), GDK_KEY_c, GDK_CONTROL_MASK, "table.copy", NULL);
  signals[CHOSEN] = g_signal_new ("chosen", SB_TYPE_MEASURES_VIEW, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE,
                                  1, G_TYPE_INT);
}

static GtkWidget *
make_list_box (SbMeasuresView *view)
{
  view->list_box = gtk_list_box_new ();
  gtk_widget_add_css_class (view->list_box, "measures");
  gtk_accessible_update_property (GTK_ACCESSIBLE (view->list_box), GTK_ACCESSIBLE_PROPERTY_LABEL, "Measures", -1);
  gtk_list_box_set_sort_func (GTK_LIST_BOX (view->list_box), sb_measures_view_compare_rows, view, NULL);
  g_signal_connect (view->list_box, "row-selected", G_CALLBACK (on_row_selected), view);
  GtkEventController *key = gtk_event_controller_key_new ();
  g_signal_connect (key, "key-pressed", G_CALLBACK (on_key), view);
  gtk_widget_add_controller (view->list_box, key);
  sb_one_tab_stop (GTK_LIST_BOX (view->list_box));
  return view->list_box;
}

static gboolean
on_more_due (gpointer user_data)
{
  SbMeasuresView *view = user_data;
  view->more_source = 0;
  show_more (view);
  return G_SOURCE_REMOVE;
}

/* The view is being placed when its width changes: nothing may be shown or hidden within. */
static void
on_scrolled_across (SbMeasuresView *view)
{
  double from = gtk_adjustment_get_value (view->across);
  sb_table_columns_set_view (view->widths, from, from + gtk_adjustment_get_page_size (view->across));
  if (view->more_source == 0)
    view->more_source = g_idle_add (on_more_due, view);
}

static void
sb_measures_view_dispose (GObject *object)
{
  SbMeasuresView *view = SB_MEASURES_VIEW (object);
  g_clear_handle_id (&view->more_source, g_source_remove);
  if (view->across != NULL)
    g_signal_handlers_disconnect_by_data (view->across, view);
  view->across = NULL; /* it goes with its scrolled window */
  G_OBJECT_CLASS (sb_measures_view_parent_class)->dispose (object);
}

static GtkWidget *
make_scrolled (GtkWidget *child, GtkPolicyType across, GtkPolicyType down)
{
  GtkWidget *scrolled = gtk_scrolled_window_new ();
  gtk_widget_set_focusable (scrolled, FALSE); /* the rows are, and are scrolled to */
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (scrolled), across, down);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (scrolled), child);
  return scrolled;
}

static GtkWidget *
make_corner (SbMeasuresView *view)
{
  GtkWidget *corner = sb_table_line_new (view->widths, 0, GTK_ACCESSIBLE_ROLE_LABEL);
  SbTableCell cell = { .value = "Measure", .detail = "unit", .left = TRUE, .heading = TRUE, .style = -1 };
  sb_table_line_set_cells (SB_TABLE_LINE (corner), &cell, 1);
  gtk_accessible_update_property (GTK_ACCESSIBLE (corner), GTK_ACCESSIBLE_PROPERTY_LABEL, "Measure", -1);
  gtk_widget_add_css_class (corner, "table-heading");
  gtk_widget_set_tooltip_text (corner, "Click to order the rows by name, and again as they are defined");
  let_press (corner, G_CALLBACK (on_corner_pressed), view);
  return corner;
}

static GtkWidget *
make_table (SbMeasuresView *view)
{
  view->heading = sb_measures_view_make_heading (view);
  let_press (view->heading, G_CALLBACK (on_heading_pressed), view);
  view->names = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  gtk_widget_add_css_class (view->names, "measure-names");
  GtkWidget *rows = make_scrolled (make_list_box (view), GTK_POLICY_AUTOMATIC, GTK_POLICY_AUTOMATIC);
  gtk_widget_set_hexpand (rows, TRUE);
  gtk_widget_set_vexpand (rows, TRUE);
  /* A row is wider than the view: going to it by key must not move it sideways. The list sees to up and down. */
  gtk_viewport_set_scroll_to_focus (GTK_VIEWPORT (gtk_scrolled_window_get_child (GTK_SCROLLED_WINDOW (rows))), FALSE);
  view->across = gtk_scrolled_window_get_hadjustment (GTK_SCROLLED_WINDOW (rows));
  g_signal_connect_swapped (view->across, "changed", G_CALLBACK (on_scrolled_across), view);
  g_signal_connect_swapped (view->across, "value-changed", G_CALLBACK (on_scrolled_across), view);
  GtkWidget *names = make_scrolled (view->names, GTK_POLICY_NEVER, GTK_POLICY_EXTERNAL);
  gtk_scrolled_window_set_vadjustment (GTK_SCROLLED_WINDOW (names),
                                       gtk_scrolled_window_get_vadjustment (GTK_SCROLLED_WINDOW (rows)));
  GtkWidget *headings = make_scrolled (view->heading, GTK_POLICY_EXTERNAL, GTK_POLICY_NEVER);
  gtk_scrolled_window_set_propagate_natural_height (GTK_SCROLLED_WINDOW (headings), TRUE);
  gtk_scrolled_window_set_hadjustment (GTK_SCROLLED_WINDOW (headings),
                                       gtk_scrolled_window_get_hadjustment (GTK_SCROLLED_WINDOW (rows)));
  gtk_widget_add_css_class (headings, "table-heading");
  /* Nothing in them takes the focus, and a scrolled window that may have it lets nobody past, even where it cannot. */
  gtk_widget_set_can_focus (names, FALSE);
  gtk_widget_set_can_focus (headings, FALSE);
  GtkWidget *grid = gtk_grid_new ();
  gtk_grid_attach (GTK_GRID (grid), make_corner (view), 0, 0, 1, 1);
  gtk_grid_attach (GTK_GRID (grid), headings, 1, 0, 1, 1);
  gtk_grid_attach (GTK_GRID (grid), names, 0, 1, 1, 1);
  gtk_grid_attach (GTK_GRID (grid), rows, 1, 1, 1, 1);
  return grid;
}

static void
sb_measures_view_init (SbMeasuresView *view)
{
  view->columns = g_array_new (FALSE, FALSE, sizeof (SbMeasureColumn));
  view->widths = sb_table_columns_new ();
  view->tools = g_object_ref_sink (gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6));
  gtk_box_append (GTK_BOX (view->tools), make_explain_button (view));
  gtk_box_append (GTK_BOX (view), make_table (view));
  view->more = gtk_button_new ();
  gtk_widget_add_css_class (view->more, "more-columns");
  gtk_widget_set_visible (view->more, FALSE);
  g_signal_connect (view->more, "clicked", G_CALLBACK (on_more), view);
  gtk_box_append (GTK_BOX (view), view->more);
}

GtkWidget *
sb_measures_view_new (SbDocument *document)
{
  SbMeasuresView *view = g_object_new (SB_TYPE_MEASURES_VIEW, "orientation", GTK_ORIENTATION_VERTICAL, NULL);
  view->document = document;
  view->choices = sb_choices_button_new (document);
  view->table_choices = sb_table_button_new (document);
  gtk_box_append (GTK_BOX (view->tools), view->choices);
  gtk_box_append (GTK_BOX (view->tools), view->table_choices);
  sb_measures_view_update (view);
  return GTK_WIDGET (view);
}
