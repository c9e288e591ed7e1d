/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "drive_view.h"

#include "curve_sample.h"
#include "doubt.h"
#include "let_go.h"

#define HEIGHT_PX   230
#define NAME_CHARS  16
#define WORDS_CHARS 44

struct _SbDriveView {
  GtkBox parent_instance;
  SbDocument *document; /* borrowed: the window outlives its views */
  SbAnalysis *shown;    /* the results in the table; NULL: none */
  GtkWidget *content;
};

G_DEFINE_FINAL_TYPE (SbDriveView, sb_drive_view, GTK_TYPE_BOX)

static gboolean
is_shown (const SbConfigurationResult *configuration)
{
  return configuration->drawn && configuration->drive != NULL;
}

/* The compared pair first, as among the measures, then the other drawn configurations. (transfer full) */
static GArray *
columns_of (const SbAnalysis *analysis)
{
  GArray *columns = g_array_new (FALSE, FALSE, sizeof (guint));
  const int pair[] = { analysis->bench->reference, analysis->bench->other };
  for (gsize i = 0; i < G_N_ELEMENTS (pair); i++)
    if (pair[i] >= 0 && is_shown (sb_analysis_configuration (analysis, (guint) pair[i])))
      g_array_append_val (columns, pair[i]);
  for (guint c = 0; c < analysis->configurations->len; c++)
    if ((int) c != pair[0] && (int) c != pair[1] && is_shown (sb_analysis_configuration (analysis, c)))
      g_array_append_val (columns, c);
  return columns;
}

static const SbConfigurationResult *
column_at (const SbAnalysis *analysis, const GArray *columns, guint i)
{
  return sb_analysis_configuration (analysis, g_array_index (columns, guint, i));
}

static GtkWidget *
make_label (const char *text, double xalign, const char *css_class)
{
  GtkWidget *label = gtk_label_new (text);
  gtk_label_set_xalign (GTK_LABEL (label), (float) xalign);
  if (css_class != NULL)
    gtk_widget_add_css_class (label, css_class);
  return label;
}

/* The curve above the name, as in the heading of the measures. */
static GtkWidget *
make_heading (const SbConfigurationResult *configuration)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 3);
  GtkWidget *sample = sb_curve_sample_new (configuration->style),
            *name = make_label (configuration->name, 1, "drive-name");
  gtk_widget_set_halign (sample, GTK_ALIGN_END);
  gtk_label_set_ellipsize (GTK_LABEL (name), PANGO_ELLIPSIZE_MIDDLE);
  gtk_label_set_max_width_chars (GTK_LABEL (name), NAME_CHARS);
  gtk_widget_set_tooltip_text (box, configuration->name);
  gtk_box_append (GTK_BOX (box), sample);
  gtk_box_append (GTK_BOX (box), name);
  return box;
}

/* "Slope limit [N·m/ms]" */
static GtkWidget *
make_name (SbDriveParameterId id, SbUnits units)
{
  const SbDriveParameterInfo *info = sb_drive_parameter_info (id);
  SbShownUnit unit = sb_drive_parameter_shown_unit (id, units);
  gboolean bare = g_str_equal (unit.name, "1");
  g_autofree char *text = bare ? g_strdup (info->name) : g_strdup_printf ("%s [%s]", info->name, unit.name);
  GtkWidget *name = make_label (text, 0, NULL);
  gtk_widget_set_tooltip_text (name, info->what);
  return name;
}

static GtkWidget *
make_value (const SbDriveModel *model, SbDriveParameterId id, SbUnits units)
{
  const char *marked = model->present ? model->parameter[id].reason : model->absent_reason;
  g_autofree char *reason = marked != NULL ? sb_figures_write (marked, units) : NULL;
  g_autofree char *text = model->present ? sb_drive_parameter_format (model, id, units, FALSE) : g_strdup ("–");
  GtkWidget *label = make_label (text, 1, reason != NULL ? "dim-label" : NULL);
  if (reason == NULL)
    return label;
  g_autofree char *why = g_strdup_printf ("Not identifiable: %s.", reason);
  gtk_widget_set_tooltip_text (label, why);
  gtk_accessible_update_property (GTK_ACCESSIBLE (label), GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, why, -1);
  return label;
}

/* A parameter that no drawn model has would be a row of dashes, such as ringing of drives that do not ring. */
static gboolean
has_row (const SbAnalysis *analysis, SbDriveParameterId id)
{
  if (id == SB_DRIVE_SLOPE_LIMIT || id == SB_DRIVE_CEILING || id >= SB_DRIVE_INERTIA)
    return TRUE;
  for (guint c = 0; c < analysis->configurations->len; c++) {
    const SbConfigurationResult *configuration = sb_analysis_configuration (analysis, c);
    if (is_shown (configuration) && configuration->drive->present && configuration->drive->parameter[id].identified)
      return TRUE;
  }
  return FALSE;
}

static GtkWidget *
make_table (const SbAnalysis *analysis, const GArray *columns)
{
  GtkWidget *table = gtk_grid_new ();
  GtkGrid *grid = GTK_GRID (table);
  gtk_grid_set_row_spacing (grid, 4);
  gtk_grid_set_column_spacing (grid, 14);
  gtk_widget_add_css_class (table, "small-text");
  for (guint c = 0; c < columns->len; c++)
    gtk_grid_attach (grid, make_heading (column_at (analysis, columns, c)), (int) c + 1, 0, 1, 1);
  int row = 1;
  for (int i = 0; i < SB_N_DRIVE_PARAMETERS; i++) {
    SbDriveParameterId id = (SbDriveParameterId) i;
    if (!has_row (analysis, id))
      continue;
    gtk_grid_attach (grid, make_name (id, analysis->bench->units), 0, row, 1, 1);
    for (guint c = 0; c < columns->len; c++)
      gtk_grid_attach (grid, make_value (column_at (analysis, columns, c)->drive, id, analysis->bench->units),
                       (int) c + 1, row, 1, 1);
    row++;
  }
  return table;
}

static void
append_words (GtkWidget *box, const char *text, const char *css_class)
{
  GtkWidget *label = make_label (text, 0, css_class);
  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_label_set_max_width_chars (GTK_LABEL (label), WORDS_CHARS);
  gtk_box_append (GTK_BOX (box), label);
}

/* What the model of one configuration is, which limit binds when, what to doubt. */
static void
append_story (GtkWidget *box, const SbConfigurationResult *configuration, SbUnits units)
{
  const SbDriveModel *model = configuration->drive;
  append_words (box, configuration->name, "drive-name");
  if (!model->present) {
    g_autofree char *why = g_strdup_printf ("No model: %s.", model->absent_reason);
    append_words (box, why, NULL);
    return;
  }
  for (guint i = 0; i < model->stretches->len; i++) {
    const SbDriveStretch *stretch = &g_array_index (model->stretches, SbDriveStretch, i);
    g_autofree char *line = sb_drive_stretch_text (stretch);
    append_words (box, line, NULL);
  }
  g_autofree char *form = sb_drive_form_words (model->form);
  g_autofree char *used = g_strdup_printf ("Form: %s.", form);
  append_words (box, used, "dim-label");
  for (guint i = 0; i < model->doubts->len; i++) {
    g_autofree char *doubt = sb_doubt_text (sb_doubts_get (model->doubts, i), units);
    append_words (box, doubt, "dim-label");
  }
}

static void
fill (SbDriveView *view)
{
  for (GtkWidget *child; (child = gtk_widget_get_first_child (view->content)) != NULL;)
    gtk_box_remove (GTK_BOX (view->content), child);
  if (view->shown == NULL)
    return;
  g_autoptr (GArray) columns = columns_of (view->shown);
  gtk_box_append (GTK_BOX (view->content), make_table (view->shown, columns));
  for (guint c = 0; c < columns->len; c++) {
    GtkWidget *story = gtk_box_new (GTK_ORIENTATION_VERTICAL, 2);
    gtk_widget_add_css_class (story, "small-text");
    append_story (story, column_at (view->shown, columns, c), view->shown->bench->units);
    gtk_box_append (GTK_BOX (view->content), story);
  }
}

void
sb_drive_view_update (SbDriveView *view)
{
  SbAnalysis *results = sb_document_results (view->document);
  gboolean asked = results != NULL && results->bench->drive_model != SB_DRIVE_MODEL_NONE;
  gtk_widget_set_visible (GTK_WIDGET (view), asked);
  if (!asked)
    results = NULL;
  if (results == view->shown)
    return;
  sb_let_go (&view->shown);
  view->shown = results != NULL ? sb_analysis_ref (results) : NULL;
  fill (view);
}

static void
sb_drive_view_dispose (GObject *object)
{
  SbDriveView *view = SB_DRIVE_VIEW (object);
  g_clear_pointer (&view->shown, sb_analysis_unref);
  G_OBJECT_CLASS (sb_drive_view_parent_class)->dispose (object);
}

static void
sb_drive_view_class_init (SbDriveViewClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = sb_drive_view_dispose;
}

static void
sb_drive_view_init (SbDriveView *view)
{
  gtk_orientable_set_orientation (GTK_ORIENTABLE (view), GTK_ORIENTATION_VERTICAL);
  gtk_widget_set_visible (GTK_WIDGET (view), FALSE);
  gtk_box_append (GTK_BOX (view), gtk_separator_new (GTK_ORIENTATION_HORIZONTAL));
  gtk_box_append (GTK_BOX (view), make_label ("Drive model", 0, "pane-heading"));
  view->content = gtk_box_new (GTK_ORIENTATION_VERTICAL, 12);
  gtk_widget_add_css_class (view->content, "drive-model");
  GtkWidget *scrolled = gtk_scrolled_window_new ();
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (scrolled), view->content);
  gtk_scrolled_window_set_min_content_height (GTK_SCROLLED_WINDOW (scrolled), HEIGHT_PX);
  gtk_widget_set_vexpand (scrolled, TRUE);
  gtk_accessible_update_property (GTK_ACCESSIBLE (view->content), GTK_ACCESSIBLE_PROPERTY_LABEL, "Drive model", -1);
  gtk_box_append (GTK_BOX (view), scrolled);
}

GtkWidget *
sb_drive_view_new (SbDocument *document)
{
  SbDriveView *view = g_object_new (SB_TYPE_DRIVE_VIEW, NULL);
  view->document = document;
  return GTK_WIDGET (view);
}
