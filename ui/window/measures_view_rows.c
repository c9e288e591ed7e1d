/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The lines of the measures table: heading, names, and a row for each measure, in their order. */
#include "measures_view_parts.h"

#include "measure_cell.h"
#include "table_order.h"

/* Their texts take longer to shape than a frame lasts: so many in a step. */
#define CELLS_AT_ONCE 200

int
sb_measures_view_index_of (GtkWidget *const *widgets, GtkWidget *widget)
{
  for (int id = 0; id < SB_N_MEASURES; id++)
    if (widgets[id] == widget)
      return id;
  return -1;
}

static void
on_name_pressed (GtkGestureClick *gesture, int n_press, double x, double y, SbMeasuresView *view)
{
  int id = sb_measures_view_index_of (view->name, gtk_event_controller_get_widget (GTK_EVENT_CONTROLLER (gesture)));
  if (id < 0)
    return;
  sb_measures_view_choose (view, id);
  gtk_widget_grab_focus (view->row[id]);
}

/* Texts are made when they are asked for: most never are. */
static gboolean
on_name_tooltip (GtkWidget *widget, int x, int y, gboolean keyboard, GtkTooltip *tooltip, SbMeasuresView *view)
{
  const SbMeasureInfo *info = sb_measure_info ((guint) sb_measures_view_index_of (view->name, widget));
  g_autofree char *text = g_strdup_printf ("%s\nSource: %s", info->definition, info->source);
  gtk_tooltip_set_text (tooltip, text);
  return TRUE;
}

const SbMeasureColumn *
sb_measures_view_column_at (SbMeasuresView *view, GtkWidget *line, int x)
{
  int cell = sb_table_line_cell_at (SB_TABLE_LINE (line), x);
  return cell >= 0 && view->shown != NULL ? &g_array_index (view->columns, SbMeasureColumn, cell) : NULL;
}

static gboolean
on_line_tooltip (GtkWidget *widget, int x, int y, gboolean keyboard, GtkTooltip *tooltip, SbMeasuresView *view)
{
  const SbMeasureColumn *column = sb_measures_view_column_at (view, widget, x);
  if (column == NULL)
    return FALSE;
  g_auto (SbMeasureCell) cell
      = sb_measure_column_cell (column, view->shown, (SbMeasureId) sb_measures_view_index_of (view->line, widget));
  gtk_tooltip_set_text (tooltip, cell.tooltip);
  return cell.tooltip != NULL;
}

static gboolean
on_heading_tooltip (GtkWidget *widget, int x, int y, gboolean keyboard, GtkTooltip *tooltip, SbMeasuresView *view)
{
  const SbMeasureColumn *column = sb_measures_view_column_at (view, widget, x);
  if (column == NULL)
    return FALSE;
  g_autofree char *text = sb_measure_column_tooltip (column, view->shown);
  gtk_tooltip_set_text (tooltip, text);
  return TRUE;
}

static GtkWidget *
make_line (SbMeasuresView *view, guint first, GtkAccessibleRole role, GCallback on_tooltip)
{
  GtkWidget *line = sb_table_line_new (view->widths, first, role);
  gtk_widget_set_has_tooltip (line, TRUE);
  g_signal_connect (line, "query-tooltip", on_tooltip, view);
  return line;
}

GtkWidget *
sb_measures_view_make_heading (SbMeasuresView *view)
{
  return make_line (view, 1, GTK_ACCESSIBLE_ROLE_PRESENTATION, G_CALLBACK (on_heading_tooltip));
}

static void
make_name (SbMeasuresView *view, SbMeasureId id)
{
  const SbMeasureInfo *info = sb_measure_info (id);
  view->name[id] = make_line (view, 0, GTK_ACCESSIBLE_ROLE_LABEL, G_CALLBACK (on_name_tooltip));
  gtk_accessible_update_property (GTK_ACCESSIBLE (view->name[id]), GTK_ACCESSIBLE_PROPERTY_LABEL, info->name, -1);
  GtkGesture *click = gtk_gesture_click_new ();
  g_signal_connect (click, "pressed", G_CALLBACK (on_name_pressed), view);
  gtk_widget_add_controller (view->name[id], GTK_EVENT_CONTROLLER (click));
  gtk_box_append (GTK_BOX (view->names), view->name[id]);
}

static void
make_row (SbMeasuresView *view, SbMeasureId id)
{
  view->line[id] = make_line (view, 1, GTK_ACCESSIBLE_ROLE_PRESENTATION, G_CALLBACK (on_line_tooltip));
  view->row[id] = gtk_list_box_row_new ();
  gtk_widget_add_css_class (view->row[id], "measure");
  gtk_list_box_row_set_child (GTK_LIST_BOX_ROW (view->row[id]), view->line[id]);
  gtk_list_box_append (GTK_LIST_BOX (view->list_box), view->row[id]);
}

void
sb_measures_view_fill_heading (SbMeasuresView *view)
{
  g_autoptr (GArray) cells = g_array_new (FALSE, FALSE, sizeof (SbTableCell));
  g_autoptr (GPtrArray) texts = g_ptr_array_new_with_free_func (g_free);
  for (guint i = 0; i < view->columns->len; i++) {
    const SbMeasureColumn *column = &g_array_index (view->columns, SbMeasureColumn, i);
    char *title = sb_measure_column_heading (column, view->shown);
    char *detail = sb_measure_column_detail (column, view->shown);
    g_ptr_array_add (texts, title);
    g_ptr_array_add (texts, detail);
    SbTableCell cell = { .value = title, .detail = detail, .heading = TRUE };
    cell.left = column->kind == SB_COLUMN_VERDICT;
    cell.style = sb_measure_column_style (column, view->shown);
    g_array_append_val (cells, cell);
  }
  sb_table_line_set_cells (SB_TABLE_LINE (view->heading), (const SbTableCell *) (gconstpointer) cells->data,
                           cells->len);
}

static void
clear_cell (gpointer cell)
{
  sb_measure_cell_clear (cell);
}

/* The cells, and what a screen reader says of the row: the table read across. */
static void
fill_row (SbMeasuresView *view, SbMeasureId id)
{
  const SbMeasureInfo *info = sb_measure_info (id);
  g_autoptr (GArray) texts = g_array_new (FALSE, FALSE, sizeof (SbMeasureCell));
  g_array_set_clear_func (texts, clear_cell);
  g_autoptr (GArray) cells = g_array_new (FALSE, FALSE, sizeof (SbTableCell));
  g_autoptr (GString) said = g_string_new (info->name);
  const char *unit = sb_measure_unit_words (id, view->shown->bench->units);
  SbTableCell name = { .value = info->name, .detail = unit, .left = TRUE, .style = -1 };
  sb_table_line_set_cells (SB_TABLE_LINE (view->name[id]), &name, 1);
  if (*unit != '\0')
    g_string_append_printf (said, " in %s", unit);
  for (guint i = 0; i < view->columns->len; i++) {
    const SbMeasureColumn *column = &g_array_index (view->columns, SbMeasureColumn, i);
    SbMeasureCell text = sb_measure_column_cell (column, view->shown, id);
    g_array_append_val (texts, text);
    SbTableCell cell = { .value = text.value, .detail = text.detail, .style = -1 };
    cell.dim = text.absent;
    cell.doubt = text.doubt;
    cell.left = column->kind == SB_COLUMN_VERDICT;
    g_array_append_val (cells, cell);
    g_string_append_printf (said, "; %s: %s %s", sb_measure_column_word (column, view->shown), text.value, text.detail);
  }
  sb_table_line_set_cells (SB_TABLE_LINE (view->line[id]), (const SbTableCell *) (gconstpointer) cells->data,
                           cells->len);
  gtk_accessible_update_property (GTK_ACCESSIBLE (view->row[id]), GTK_ACCESSIBLE_PROPERTY_LABEL, said->str, -1);
}

/* Rows and names in the order that the choices want, without those that they hide. */
static void
arrange (SbMeasuresView *view)
{
  SbMeasureId rows[SB_N_MEASURES];
  gsize n = sb_table_rows (view->shown, rows);
  for (guint id = 0; id < SB_N_MEASURES; id++)
    view->place[id] = -1;
  for (gsize r = 0; r < n; r++)
    view->place[rows[r]] = (int) r;
  for (guint id = 0; id < SB_N_MEASURES; id++) {
    gtk_widget_set_visible (view->row[id], view->place[id] >= 0);
    gtk_widget_set_visible (view->name[id], view->place[id] >= 0);
  }
  for (gsize r = 0; r < n; r++)
    gtk_box_reorder_child_after (GTK_BOX (view->names), view->name[rows[r]], r > 0 ? view->name[rows[r - 1]] : NULL);
  gtk_list_box_invalidate_sort (GTK_LIST_BOX (view->list_box));
}

int
sb_measures_view_compare_rows (GtkListBoxRow *a, GtkListBoxRow *b, gpointer user_data)
{
  SbMeasuresView *view = user_data;
  int first = sb_measures_view_index_of (view->row, GTK_WIDGET (a)),
      second = sb_measures_view_index_of (view->row, GTK_WIDGET (b));
  return first >= 0 && second >= 0 ? view->place[first] - view->place[second] : 0;
}

/* A few rows at a time: their texts take longer to shape than a frame lasts. */
void
sb_measures_view_fill_some (SbMeasuresView *view)
{
  guint n_rows = CLAMP (CELLS_AT_ONCE / MAX (view->columns->len, 1), 1, 3);
  for (guint i = 0; i < n_rows && view->n_filled < SB_N_MEASURES; i++) {
    SbMeasureId id = (SbMeasureId) view->n_filled++;
    if (view->row[id] == NULL) {
      make_name (view, id);
      make_row (view, id);
    }
    fill_row (view, id);
  }
  if (view->n_filled == SB_N_MEASURES)
    arrange (view);
}
