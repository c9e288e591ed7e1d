/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "table_button.h"

#include "menu_keys.h"
#include "table_copy.h"
#include "table_edits.h"

#define MEASURES_HEIGHT_PX 190

struct _SbTableButton {
  GtkBox parent_instance;
  SbDocument *document; /* borrowed: the window outlives its views */
  GtkWidget *menu_button;
  GtkWidget *slope, *velocity, *rows, *columns, *columns_by; /* drop-downs; NULL until opened for the first time */
  GtkWidget *check[SB_N_MEASURES], *copy[SB_N_TABLE_COPIES];
  gboolean updating;
};

G_DEFINE_FINAL_TYPE (SbTableButton, sb_table_button, GTK_TYPE_BOX)

static void
select_in (GtkWidget *drop_down, guint item)
{
  gtk_drop_down_set_selected (GTK_DROP_DOWN (drop_down), item);
}

static guint
selected_in (GtkWidget *drop_down)
{
  return gtk_drop_down_get_selected (GTK_DROP_DOWN (drop_down));
}

static void
update (SbTableButton *button)
{
  if (button->slope == NULL)
    return;
  const SbBench *bench = sb_document_bench (button->document);
  const SbTableChoices *table = &bench->table;
  button->updating = TRUE;
  select_in (button->slope, bench->units.slope);
  select_in (button->velocity, bench->units.velocity);
  select_in (button->rows, table->rows);
  select_in (button->columns, table->columns);
  select_in (button->columns_by, table->columns_by);
  gtk_widget_set_sensitive (button->columns_by, table->columns != SB_COLUMNS_AS_LISTED);
  for (guint m = 0; m < SB_N_MEASURES; m++)
    gtk_check_button_set_active (GTK_CHECK_BUTTON (button->check[m]), !(table->hidden & 1u << m));
  button->updating = FALSE;
}

static void
on_choice (GtkDropDown *drop_down, GParamSpec *pspec, SbTableButton *button)
{
  if (button->updating)
    return;
  GtkWidget *changed = GTK_WIDGET (drop_down);
  if (changed == button->slope || changed == button->velocity)
    sb_edit_set_units (button->document, (SbUnits){ (SbSlopeUnit) selected_in (button->slope),
                                                    (SbVelocityUnit) selected_in (button->velocity) });
  else if (changed == button->rows)
    sb_edit_set_row_order (button->document, (SbRowOrder) selected_in (button->rows));
  else
    sb_edit_set_column_order (button->document, (SbColumnOrder) selected_in (button->columns),
                              (SbMeasureId) selected_in (button->columns_by));
}

static void
on_check (GtkCheckButton *check, SbTableButton *button)
{
  if (button->updating)
    return;
  guint id = 0;
  while (button->check[id] != GTK_WIDGET (check))
    id++;
  if (!sb_edit_show_row (button->document, (SbMeasureId) id, gtk_check_button_get_active (check)))
    update (button);
}

static void
on_copy (GtkButton *copy, SbTableButton *button)
{
  SbAnalysis *results = sb_document_results (button->document);
  guint kind = 0;
  while (button->copy[kind] != GTK_WIDGET (copy))
    kind++;
  if (results != NULL)
    sb_table_copy (GTK_WIDGET (button), results, (SbTableCopy) kind);
  gtk_menu_button_popdown (GTK_MENU_BUTTON (button->menu_button));
}

static GtkWidget *
make_label (const char *text)
{
  GtkWidget *label = gtk_label_new (text);
  gtk_label_set_xalign (GTK_LABEL (label), 0);
  return label;
}

/* A line of the grid: a name and a drop-down. */
static GtkWidget *
add_choice (SbTableButton *button, GtkWidget *grid, int line, const char *name, const char *const *words)
{
  GtkWidget *drop_down = gtk_drop_down_new_from_strings (words);
  gtk_accessible_update_property (GTK_ACCESSIBLE (drop_down), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
  g_signal_connect (drop_down, "notify::selected", G_CALLBACK (on_choice), button);
  gtk_grid_attach (GTK_GRID (grid), make_label (name), 0, line, 1, 1);
  gtk_grid_attach (GTK_GRID (grid), drop_down, 1, line, 1, 1);
  return drop_down;
}

static GtkWidget *
make_choices (SbTableButton *button)
{
  static const char *const columns[] = { "As listed", "Rising by", "Falling by", NULL }; /* by SbColumnOrder */
  const char *slopes[SB_N_SLOPE_UNITS + 1] = { NULL }, *velocities[SB_N_VELOCITY_UNITS + 1] = { NULL };
  const char *rows[SB_N_ROW_ORDERS + 1] = { NULL }, *measures[SB_N_MEASURES + 1] = { NULL };
  for (guint u = 0; u < SB_N_SLOPE_UNITS; u++)
    slopes[u] = sb_slope_unit_name ((SbSlopeUnit) u);
  for (guint u = 0; u < SB_N_VELOCITY_UNITS; u++)
    velocities[u] = sb_velocity_unit_name ((SbVelocityUnit) u);
  for (guint r = 0; r < SB_N_ROW_ORDERS; r++)
    rows[r] = sb_row_order_words ((SbRowOrder) r);
  for (guint m = 0; m < SB_N_MEASURES; m++)
    measures[m] = sb_measure_info ((SbMeasureId) m)->name;
  GtkWidget *grid = gtk_grid_new ();
  gtk_grid_set_row_spacing (GTK_GRID (grid), 6);
  gtk_grid_set_column_spacing (GTK_GRID (grid), 12);
  button->updating = TRUE;
  button->slope = add_choice (button, grid, 0, "Torque slopes in", slopes);
  button->velocity = add_choice (button, grid, 1, "Velocities in", velocities);
  button->rows = add_choice (button, grid, 2, "Rows", rows);
  button->columns = add_choice (button, grid, 3, "Configurations", columns);
  button->columns_by = add_choice (button, grid, 4, "by the mean of", measures);
  button->updating = FALSE;
  return grid;
}

static GtkWidget *
make_measures (SbTableButton *button)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  for (guint m = 0; m < SB_N_MEASURES; m++) {
    button->check[m] = gtk_check_button_new_with_label (sb_measure_info ((SbMeasureId) m)->name);
    g_signal_connect (button->check[m], "toggled", G_CALLBACK (on_check), button);
    gtk_box_append (GTK_BOX (box), button->check[m]);
  }
  GtkWidget *scrolled = gtk_scrolled_window_new ();
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (scrolled), GTK_POLICY_NEVER, GTK_POLICY_AUTOMATIC);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (scrolled), box);
  gtk_widget_set_size_request (scrolled, -1, MEASURES_HEIGHT_PX);
  gtk_accessible_update_property (GTK_ACCESSIBLE (scrolled), GTK_ACCESSIBLE_PROPERTY_LABEL, "Measures shown", -1);
  return scrolled;
}

static GtkWidget *
make_copies (SbTableButton *button)
{
  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 12), *copies = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 0);
  gtk_widget_add_css_class (copies, "linked");
  for (guint kind = 0; kind < SB_N_TABLE_COPIES; kind++) {
    const char *words = sb_table_copy_words ((SbTableCopy) kind);
    button->copy[kind] = gtk_button_new_with_label (words);
    g_autofree char *name = g_strdup_printf ("Copy as %s", words);
    gtk_accessible_update_property (GTK_ACCESSIBLE (button->copy[kind]), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
    g_signal_connect (button->copy[kind], "clicked", G_CALLBACK (on_copy), button);
    gtk_widget_set_hexpand (button->copy[kind], TRUE);
    gtk_box_append (GTK_BOX (copies), button->copy[kind]);
  }
  gtk_widget_set_hexpand (copies, TRUE);
  gtk_box_append (GTK_BOX (line), make_label ("Copy as"));
  gtk_box_append (GTK_BOX (line), copies);
  return line;
}

static void
fill_popover (GtkMenuButton *menu_button, gpointer user_data)
{
  SbTableButton *button = user_data;
  if (button->slope != NULL)
    return;
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 8), *popover = gtk_popover_new ();
  gtk_widget_add_css_class (box, "table-fields");
  gtk_box_append (GTK_BOX (box), make_choices (button));
  gtk_box_append (GTK_BOX (box), make_label ("Measures shown"));
  gtk_box_append (GTK_BOX (box), make_measures (button));
  gtk_box_append (GTK_BOX (box), make_copies (button));
  gtk_popover_set_child (GTK_POPOVER (popover), box);
  gtk_menu_button_set_popover (menu_button, popover);
  update (button);
}

static void
sb_table_button_class_init (SbTableButtonClass *klass)
{
}

static void
sb_table_button_init (SbTableButton *button)
{
  button->menu_button = gtk_menu_button_new ();
  gtk_menu_button_set_label (GTK_MENU_BUTTON (button->menu_button), "Table");
  gtk_widget_set_tooltip_text (button->menu_button, "Choose units, rows and their order, or copy the table");
  gtk_menu_button_set_create_popup_func (GTK_MENU_BUTTON (button->menu_button), fill_popover, button, NULL);
  gtk_box_append (GTK_BOX (button), button->menu_button);
}

void
sb_table_button_open (SbTableButton *button)
{
  sb_menu_open (button->menu_button);
}

GtkWidget *
sb_table_button_new (SbDocument *document)
{
  SbTableButton *button = g_object_new (SB_TYPE_TABLE_BUTTON, NULL);
  button->document = document;
  g_signal_connect_object (document, "bench-changed", G_CALLBACK (update), button, G_CONNECT_SWAPPED);
  return GTK_WIDGET (button);
}
