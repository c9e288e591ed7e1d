/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "layout_row.h"

#include "column_plot.h"
#include "layout_row_values.h"
#include "number_text.h"

#include <math.h>
#include <string.h>

enum { STATE, NAME, ROLE, UNIT, EXTRA, PLOT, RANGE, N_CELLS };
static const char *const headings[N_CELLS] = { "", "Column", "What it is", "Unit", "", "Data", "Range in SI" };

struct SbLayoutRow {
  SbImportDraft *draft;
  guint column;
  SbLayoutRowChanged changed;
  gpointer user_data;
  gboolean updating;
  SbLayoutRowValues *values;
  GtkWidget *icon, *state, *role, *unit, *plot, *range, *question;
  GPtrArray *units; /* SbUnit, borrowed: what the unit field lists */
};

static const SbLayoutColumn *
column_of (const SbLayoutRow *row)
{
  return sb_layout_column (row->draft->layout, row->column);
}

static void
on_role (GtkDropDown *field, GParamSpec *pspec, SbLayoutRow *row)
{
  if (row->updating)
    return;
  sb_import_draft_set_role (row->draft, row->column, (SbRole) gtk_drop_down_get_selected (field));
  row->changed (row->user_data);
}

static void
on_unit (GtkDropDown *field, GParamSpec *pspec, SbLayoutRow *row)
{
  guint selected = gtk_drop_down_get_selected (field);
  if (row->updating || selected >= row->units->len)
    return;
  sb_import_draft_set_unit (row->draft, row->column, g_ptr_array_index (row->units, selected));
  row->changed (row->user_data);
}

static const char *
icon_of (SbCertainty certainty)
{
  static const char *const icons[] = {
    [SB_CERTAINTY_STATED] = "object-select-symbolic",       [SB_CERTAINTY_ASSUMED] = "help-about-symbolic",
    [SB_CERTAINTY_GUESSED] = "dialog-information-symbolic", [SB_CERTAINTY_MISSING] = "dialog-warning-symbolic",
    [SB_CERTAINTY_CONFIRMED] = "object-select-symbolic",
  };
  return icons[certainty];
}

static void
show_state (SbLayoutRow *row)
{
  g_autofree char *wrong = sb_layout_row_values_wrong (row->values);
  SbCertainty certainty = sb_import_draft_certainty (row->draft, row->column);
  gboolean open = wrong != NULL || certainty == SB_CERTAINTY_GUESSED || certainty == SB_CERTAINTY_MISSING;
  gtk_image_set_from_icon_name (GTK_IMAGE (row->icon), icon_of (wrong != NULL ? SB_CERTAINTY_MISSING : certainty));
  gtk_label_set_text (GTK_LABEL (row->state),
                      wrong != NULL ? wrong : sb_import_draft_certainty_words (row->draft, row->column));
  if (open)
    gtk_widget_add_css_class (row->state, "uncertain");
  else
    gtk_widget_remove_css_class (row->state, "uncertain");
  const char *question = column_of (row)->question;
  gtk_label_set_text (GTK_LABEL (row->question), question != NULL ? question : "");
  gtk_widget_set_visible (row->question, question != NULL);
}

/* The units that suit the role; SI first in each dimension. */
static void
show_units (SbLayoutRow *row)
{
  const SbLayoutColumn *column = column_of (row);
  g_autoptr (GtkStringList) model = gtk_string_list_new (NULL);
  guint selected = GTK_INVALID_LIST_POSITION;
  g_ptr_array_set_size (row->units, 0);
  const SbUnit *unit;
  for (guint i = 0; column->role != SB_ROLE_OTHER && (unit = sb_unit_at (i)) != NULL; i++) {
    if (!sb_unit_suits_role (unit, column->role))
      continue;
    if (unit == column->unit || (column->unit == NULL && g_str_equal (unit->name, sb_role_unit (column->role))))
      selected = row->units->len;
    g_ptr_array_add (row->units, (gpointer) (gsize) unit); /* read only */
    gtk_string_list_append (model, unit->name);
  }
  /* Ten times or a tenth of one, as the file has it. */
  if (selected == GTK_INVALID_LIST_POSITION && column->unit != NULL
      && sb_unit_suits_role (column->unit, column->role)) {
    selected = row->units->len;
    g_ptr_array_add (row->units, (gpointer) (gsize) column->unit); /* read only */
    gtk_string_list_append (model, column->unit->name);
  }
  if (row->units->len == 0)
    gtk_string_list_append (model, "–");
  gtk_drop_down_set_model (GTK_DROP_DOWN (row->unit), G_LIST_MODEL (model));
  gtk_drop_down_set_selected (GTK_DROP_DOWN (row->unit), row->units->len == 0 ? 0 : selected);
  gtk_widget_set_sensitive (row->unit, row->units->len > 0);
}

void
sb_layout_row_show (SbLayoutRow *row)
{
  row->updating = TRUE;
  show_state (row);
  gtk_drop_down_set_selected (GTK_DROP_DOWN (row->role), (guint) column_of (row)->role);
  show_units (row);
  sb_layout_row_values_show (row->values);
  row->updating = FALSE;
}

/* "−0.002 … 8.21 N·m", "12 … 65500, as written" */
static char *
range_words (const SbLayoutRow *row, const SbPreviewColumn *data)
{
  if (data == NULL || data->n_numbers == 0)
    return g_strdup (data == NULL ? "" : "no numbers");
  g_autofree char *low = sb_number_plain (data->lowest), *high = sb_number_plain (data->highest);
  g_autoptr (GString) words = g_string_new (low);
  g_string_append_printf (words, " … %s%s%s", high, data->unit != NULL ? " " : ", ",
                          data->unit != NULL ? data->unit : "as written");
  g_string_replace (words, "-", "−", 0);
  return g_string_free (g_steal_pointer (&words), FALSE);
}

void
sb_layout_row_show_data (SbLayoutRow *row, const SbPreviewColumn *data, gsize n_rows)
{
  g_autofree char *range = range_words (row, data);
  gtk_label_set_text (GTK_LABEL (row->range), range);
  sb_column_plot_set (SB_COLUMN_PLOT (row->plot), column_of (row)->name, range, data != NULL ? data->values : NULL,
                      data != NULL ? n_rows : 0);
}

static GtkWidget *
make_label (const char *text, const char *css_class)
{
  GtkWidget *label = gtk_label_new (text);
  gtk_label_set_xalign (GTK_LABEL (label), 0);
  if (css_class != NULL)
    gtk_widget_add_css_class (label, css_class);
  return label;
}

void
sb_layout_row_add_headings (GtkGrid *grid, gboolean with_data)
{
  for (int i = 0; i < (with_data ? N_CELLS : PLOT); i++)
    gtk_grid_attach (grid, make_label (headings[i], "field-name"), i, 0, 1, 1);
}

static GtkWidget *
make_role (SbLayoutRow *row)
{
  const char *words[SB_N_ROLES + 1] = { NULL };
  for (guint i = 0; i < SB_N_ROLES; i++)
    words[i] = sb_role_name ((SbRole) i);
  row->role = gtk_drop_down_new_from_strings (words);
  sb_layout_row_name_accessibly (row->role, "Role", column_of (row)->name);
  g_signal_connect (row->role, "notify::selected", G_CALLBACK (on_role), row);
  return row->role;
}

static GtkWidget *
make_unit (SbLayoutRow *row)
{
  static const char *const nothing[] = { NULL };
  row->unit = gtk_drop_down_new_from_strings (nothing);
  sb_layout_row_name_accessibly (row->unit, "Unit", column_of (row)->name);
  g_signal_connect (row->unit, "notify::selected", G_CALLBACK (on_unit), row);
  return row->unit;
}

static GtkWidget *
make_state (SbLayoutRow *row)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 5);
  row->icon = gtk_image_new ();
  row->state = make_label (NULL, "small-text");
  gtk_label_set_width_chars (GTK_LABEL (row->state), 20); /* so that nothing moves when it is answered */
  gtk_box_append (GTK_BOX (box), row->icon);
  gtk_box_append (GTK_BOX (box), row->state);
  return box;
}

SbLayoutRow *
sb_layout_row_new (GtkGrid *grid, SbImportDraft *draft, guint column, gboolean with_data, SbLayoutRowChanged changed,
                   gpointer user_data)
{
  SbLayoutRow *row = g_new0 (SbLayoutRow, 1);
  row->draft = draft;
  row->column = column;
  row->changed = changed;
  row->user_data = user_data;
  row->units = g_ptr_array_new ();
  row->values = sb_layout_row_values_new (draft, column, changed, user_data);
  GtkWidget *name = make_label (column_of (row)->name, "column-name");
  gtk_label_set_ellipsize (GTK_LABEL (name), PANGO_ELLIPSIZE_MIDDLE);
  gtk_label_set_width_chars (GTK_LABEL (name), 14);
  gtk_label_set_max_width_chars (GTK_LABEL (name), 20);
  gtk_widget_set_tooltip_text (name, column_of (row)->name);
  row->plot = sb_column_plot_new ();
  row->range = make_label (NULL, "small-text");
  row->question = make_label (NULL, "small-text"); /* to be answered, so not dimmed */
  gtk_label_set_wrap (GTK_LABEL (row->question), TRUE);
  GtkWidget *cells[N_CELLS] = {
    [STATE] = make_state (row),
    [NAME] = name,
    [ROLE] = make_role (row),
    [UNIT] = make_unit (row),
    [EXTRA] = sb_layout_row_values_widget (row->values),
    [PLOT] = row->plot,
    [RANGE] = row->range,
  };
  int line = 1 + 2 * (int) column;
  for (int i = 0; i < N_CELLS; i++) {
    gtk_widget_set_valign (cells[i], GTK_ALIGN_CENTER);
    gtk_widget_set_visible (cells[i], with_data || i < PLOT);
    gtk_grid_attach (grid, cells[i], i, line, 1, 1);
  }
  gtk_grid_attach (grid, row->question, NAME, line + 1, N_CELLS - NAME, 1);
  sb_layout_row_show (row);
  return row;
}

void
sb_layout_row_free (SbLayoutRow *row)
{
  g_signal_handlers_disconnect_by_data (row->role, row);
  g_signal_handlers_disconnect_by_data (row->unit, row);
  sb_layout_row_values_free (row->values);
  g_ptr_array_unref (row->units);
  g_free (row);
}
