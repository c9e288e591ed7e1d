/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "step_sheet.h"

#include "edits.h"
#include "sheet.h"
#include "step_cuts.h"
#include "step_plot.h"

#include <math.h>

#define LIST_HEIGHT_PX 150
#define REST_MS        300 /* after the last turn of a field, before the trials are tried anew */

struct _SbStepSheet {
  GtkWindow parent_instance;
  SbDocument *document; /* owned */
  char *path;
  SbLog *log;        /* owned */
  GArray *cuts;      /* double, rising */
  GArray *stretches; /* SbStretch */
  gboolean was_cut;  /* the log is in several trials already */
  gboolean changed;  /* the cuts are others than those it was opened with */
  gboolean updating;
  guint rest_source;
  GtkWidget *plot, *cut_list, *trial_list, *apply_button, *found_button, *clear_button;
};

G_DEFINE_FINAL_TYPE (SbStepSheet, sb_step_sheet, GTK_TYPE_WINDOW)

static void fill_cut_list (SbStepSheet *sheet);

static double *
cut_at (SbStepSheet *sheet, guint index)
{
  return &g_array_index (sheet->cuts, double, index);
}

static guint
count_trials (const SbStepSheet *sheet)
{
  guint n = 0;
  for (guint s = 0; s < sheet->stretches->len; s++)
    n += g_array_index (sheet->stretches, SbStretch, s).has_step ? 1 : 0;
  return n;
}

static void
empty_box (GtkWidget *box)
{
  while (gtk_widget_get_first_child (box) != NULL)
    gtk_box_remove (GTK_BOX (box), gtk_widget_get_first_child (box));
}

static void
show_plot (SbStepSheet *sheet)
{
  g_autoptr (GArray) has_step = g_array_new (FALSE, FALSE, sizeof (gboolean));
  for (guint s = 0; s < sheet->stretches->len; s++)
    g_array_append_val (has_step, g_array_index (sheet->stretches, SbStretch, s).has_step);
  sb_step_plot_set (SB_STEP_PLOT (sheet->plot), sheet->cuts, has_step);
}

static void
show_trials (SbStepSheet *sheet)
{
  empty_box (sheet->trial_list);
  guint number = 0;
  for (guint s = 0; s < sheet->stretches->len; s++) {
    const SbStretch *stretch = &g_array_index (sheet->stretches, SbStretch, s);
    g_autofree char *text
        = stretch->has_step ? g_strdup_printf ("%u: %s", ++number, stretch->what) : g_strdup ("no step here: no trial");
    GtkWidget *label = gtk_label_new (text);
    gtk_label_set_xalign (GTK_LABEL (label), 0);
    gtk_label_set_ellipsize (GTK_LABEL (label), PANGO_ELLIPSIZE_END);
    if (!stretch->has_step)
      gtk_widget_add_css_class (label, "dim-label");
    gtk_box_append (GTK_BOX (sheet->trial_list), label);
  }
}

static void
show_buttons (SbStepSheet *sheet)
{
  guint n = count_trials (sheet);
  gboolean whole = sheet->cuts->len == 0;
  g_autofree char *label
      = whole ? g_strdup ("Keep whole") : g_strdup_printf ("Make %u %s", n, n == 1 ? "trial" : "trials");
  gtk_button_set_label (GTK_BUTTON (sheet->apply_button), label);
  gboolean does_something = whole ? sheet->was_cut : n > 0 && (sheet->changed || !sheet->was_cut);
  gtk_widget_set_sensitive (sheet->apply_button, does_something);
  gtk_widget_set_sensitive (sheet->clear_button, !whole);
}

/* What the cuts come to, worked out anew. */
static void
try_cuts (SbStepSheet *sheet)
{
  g_clear_handle_id (&sheet->rest_source, g_source_remove);
  g_clear_pointer (&sheet->stretches, g_array_unref);
  sheet->stretches = sb_step_cuts_try (sheet->log, sheet->cuts);
  show_plot (sheet);
  show_trials (sheet);
  show_buttons (sheet);
}

static gboolean
on_rest (gpointer user_data)
{
  SbStepSheet *sheet = user_data;
  sheet->rest_source = 0;
  try_cuts (sheet);
  return G_SOURCE_REMOVE;
}

static int
by_value (gconstpointer a, gconstpointer b)
{
  double left = *(const double *) a, right = *(const double *) b;
  return left < right ? -1 : (left > right ? 1 : 0);
}

static void
cuts_changed (SbStepSheet *sheet)
{
  sheet->changed = TRUE;
  g_array_sort (sheet->cuts, by_value);
  fill_cut_list (sheet);
  try_cuts (sheet);
}

static guint
index_of (GtkWidget *widget)
{
  return GPOINTER_TO_UINT (g_object_get_data (G_OBJECT (widget), "cut"));
}

static gboolean
is_in_order (const SbStepSheet *sheet)
{
  for (guint i = 1; i < sheet->cuts->len; i++)
    if (g_array_index (sheet->cuts, double, i - 1) > g_array_index (sheet->cuts, double, i))
      return FALSE;
  return TRUE;
}

static void
on_spin (GtkSpinButton *spin, SbStepSheet *sheet)
{
  if (sheet->updating)
    return;
  *cut_at (sheet, index_of (GTK_WIDGET (spin))) = gtk_spin_button_get_value (spin);
  sheet->changed = TRUE;
  if (!is_in_order (sheet)) { /* it was moved past another one */
    cuts_changed (sheet);
    return;
  }
  show_plot (sheet);
  g_clear_handle_id (&sheet->rest_source, g_source_remove);
  sheet->rest_source = g_timeout_add (REST_MS, on_rest, sheet);
}

static void
on_remove (GtkButton *button, SbStepSheet *sheet)
{
  guint index = index_of (GTK_WIDGET (button));
  g_array_remove_index (sheet->cuts, index);
  cuts_changed (sheet);
  GtkWidget *line = gtk_widget_get_first_child (sheet->cut_list);
  for (guint i = 0; i < index && line != NULL && gtk_widget_get_next_sibling (line) != NULL; i++)
    line = gtk_widget_get_next_sibling (line);
  if (line != NULL)
    gtk_widget_child_focus (line, GTK_DIR_TAB_FORWARD);
}

static GtkWidget *
make_cut_line (SbStepSheet *sheet, guint index)
{
  const double *t = sheet->log->channel[SB_CHANNEL_TIME];
  double first = t[0], last = t[sheet->log->n_rows - 1];
  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  GtkWidget *spin = gtk_spin_button_new_with_range (first, last, pow (10, floor (log10 ((last - first) / 100))));
  gtk_spin_button_set_digits (GTK_SPIN_BUTTON (spin), 4);
  gtk_spin_button_set_value (GTK_SPIN_BUTTON (spin), *cut_at (sheet, index));
  gtk_editable_set_width_chars (GTK_EDITABLE (spin), 10);
  g_autofree char *label = g_strdup_printf ("Time of cut %u [s]", index + 1);
  gtk_accessible_update_property (GTK_ACCESSIBLE (spin), GTK_ACCESSIBLE_PROPERTY_LABEL, label, -1);
  GtkWidget *remove = gtk_button_new_from_icon_name ("edit-delete-symbolic");
  g_autofree char *remove_label = g_strdup_printf ("Remove cut %u", index + 1);
  gtk_widget_set_tooltip_text (remove, remove_label);
  gtk_widget_add_css_class (remove, "flat");
  gtk_accessible_update_property (GTK_ACCESSIBLE (remove), GTK_ACCESSIBLE_PROPERTY_LABEL, remove_label, -1);
  g_object_set_data (G_OBJECT (spin), "cut", GUINT_TO_POINTER (index));
  g_object_set_data (G_OBJECT (remove), "cut", GUINT_TO_POINTER (index));
  g_signal_connect (spin, "value-changed", G_CALLBACK (on_spin), sheet);
  g_signal_connect (remove, "clicked", G_CALLBACK (on_remove), sheet);
  gtk_box_append (GTK_BOX (line), spin);
  gtk_box_append (GTK_BOX (line), gtk_label_new ("s"));
  gtk_box_append (GTK_BOX (line), remove);
  return line;
}

/* Lines are kept where their number stays, so that a field that is being written in keeps the focus. */
static void
fill_cut_list (SbStepSheet *sheet)
{
  sheet->updating = TRUE;
  GtkWidget *line = gtk_widget_get_first_child (sheet->cut_list);
  for (guint i = 0; i < sheet->cuts->len; i++) {
    if (line == NULL) {
      gtk_box_append (GTK_BOX (sheet->cut_list), make_cut_line (sheet, i));
      continue;
    }
    gtk_spin_button_set_value (GTK_SPIN_BUTTON (gtk_widget_get_first_child (line)), *cut_at (sheet, i));
    line = gtk_widget_get_next_sibling (line);
  }
  while (line != NULL) {
    GtkWidget *next = gtk_widget_get_next_sibling (line);
    gtk_box_remove (GTK_BOX (sheet->cut_list), line);
    line = next;
  }
  sheet->updating = FALSE;
}

static void
on_cut_moved (SbStepPlot *plot, guint index, double at_s, gboolean done, SbStepSheet *sheet)
{
  *cut_at (sheet, index) = at_s;
  if (done) {
    cuts_changed (sheet);
    return;
  }
  sheet->changed = TRUE;
  fill_cut_list (sheet);
  show_plot (sheet);
}

static void
add_cut (SbStepSheet *sheet, double at_s)
{
  g_array_append_val (sheet->cuts, at_s);
  cuts_changed (sheet);
}

static void
on_cut_wanted (SbStepPlot *plot, double at_s, SbStepSheet *sheet)
{
  add_cut (sheet, at_s);
}

static void
on_add (GtkButton *button, SbStepSheet *sheet)
{
  add_cut (sheet, sb_step_cuts_gap (sheet->log, sheet->cuts));
}

static void
on_found (GtkButton *button, SbStepSheet *sheet)
{
  g_array_unref (sheet->cuts);
  sheet->cuts = sb_step_cuts_found (sheet->log);
  cuts_changed (sheet);
}

static void
on_clear (GtkButton *button, SbStepSheet *sheet)
{
  g_array_set_size (sheet->cuts, 0);
  cuts_changed (sheet);
}

/* Where the log is now: the bench may have changed by itself meanwhile. */
static gboolean
find_trial (SbStepSheet *sheet, guint *configuration, guint *trial)
{
  const SbBench *bench = sb_document_bench (sheet->document);
  for (*configuration = 0; *configuration < bench->configurations->len; ++*configuration) {
    const SbConfiguration *own = sb_bench_configuration (bench, *configuration);
    for (*trial = 0; *trial < own->entries->len; ++*trial)
      if (g_str_equal (sb_configuration_entry (own, *trial)->path, sheet->path))
        return TRUE;
  }
  return FALSE;
}

static void
on_apply (GtkButton *button, SbStepSheet *sheet)
{
  try_cuts (sheet);
  guint configuration, trial;
  g_autoptr (GArray) cuts = g_array_new (FALSE, FALSE, sizeof (SbCut));
  for (guint s = 0; sheet->cuts->len > 0 && s < sheet->stretches->len; s++) {
    const SbStretch *stretch = &g_array_index (sheet->stretches, SbStretch, s);
    if (stretch->has_step)
      g_array_append_val (cuts, stretch->cut);
  }
  if (find_trial (sheet, &configuration, &trial)) {
    if (cuts->len > 0)
      sb_edit_cut_at (sheet->document, configuration, sheet->path, (const SbCut *) (gconstpointer) cuts->data,
                      cuts->len);
    else if (sheet->cuts->len == 0)
      sb_edit_join (sheet->document, configuration, trial);
  }
  gtk_window_destroy (GTK_WINDOW (sheet));
}

static GtkWidget *
make_list (const char *title, GtkWidget *box)
{
  GtkWidget *column = gtk_box_new (GTK_ORIENTATION_VERTICAL, 3);
  GtkWidget *label = gtk_label_new (title), *scrolled = gtk_scrolled_window_new ();
  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_widget_add_css_class (label, "field-name");
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (scrolled), GTK_POLICY_NEVER, GTK_POLICY_AUTOMATIC);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (scrolled), box);
  gtk_widget_set_size_request (scrolled, -1, LIST_HEIGHT_PX);
  gtk_box_append (GTK_BOX (column), label);
  gtk_box_append (GTK_BOX (column), scrolled);
  return column;
}

static GtkWidget *
make_button (SbStepSheet *sheet, const char *label, const char *tooltip, GCallback clicked)
{
  GtkWidget *button = gtk_button_new_with_label (label);
  gtk_widget_set_tooltip_text (button, tooltip);
  g_signal_connect (button, "clicked", clicked, sheet);
  return button;
}

static GtkWidget *
make_tools (SbStepSheet *sheet)
{
  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  GtkWidget *hint = gtk_label_new ("Drag a line or type its time; a double click on the log adds one.");
  gtk_label_set_xalign (GTK_LABEL (hint), 0);
  gtk_label_set_ellipsize (GTK_LABEL (hint), PANGO_ELLIPSIZE_END);
  gtk_widget_set_hexpand (hint, TRUE);
  gtk_widget_add_css_class (hint, "dim-label");
  sheet->found_button
      = make_button (sheet, "By the command", "Cut between the steps of the command", G_CALLBACK (on_found));
  sheet->clear_button = make_button (sheet, "No cuts", "Remove every cut: the log is one trial", G_CALLBACK (on_clear));
  gtk_box_append (GTK_BOX (line), hint);
  gtk_box_append (GTK_BOX (line),
                  make_button (sheet, "Add a cut", "In the middle of the longest stretch", G_CALLBACK (on_add)));
  gtk_box_append (GTK_BOX (line), sheet->found_button);
  gtk_box_append (GTK_BOX (line), sheet->clear_button);
  return line;
}

static void
make_content (SbStepSheet *sheet)
{
  GtkWidget *content = gtk_box_new (GTK_ORIENTATION_VERTICAL, 10);
  GtkWidget *lists = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 24);
  gtk_widget_add_css_class (content, "sheet");
  sheet->plot = sb_step_plot_new (sheet->log);
  g_signal_connect (sheet->plot, "cut-moved", G_CALLBACK (on_cut_moved), sheet);
  g_signal_connect (sheet->plot, "cut-wanted", G_CALLBACK (on_cut_wanted), sheet);
  sheet->cut_list = gtk_box_new (GTK_ORIENTATION_VERTICAL, 4);
  sheet->trial_list = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  GtkWidget *trials = make_list ("Trials", sheet->trial_list);
  gtk_widget_set_hexpand (trials, TRUE);
  gtk_box_append (GTK_BOX (lists), make_list ("Cuts", sheet->cut_list));
  gtk_box_append (GTK_BOX (lists), trials);
  gtk_box_append (GTK_BOX (content), sheet->plot);
  gtk_box_append (GTK_BOX (content), make_tools (sheet));
  gtk_box_append (GTK_BOX (content), lists);
  gtk_window_set_child (GTK_WINDOW (sheet), content);
}

static void
sb_step_sheet_dispose (GObject *object)
{
  g_clear_handle_id (&SB_STEP_SHEET (object)->rest_source, g_source_remove);
  G_OBJECT_CLASS (sb_step_sheet_parent_class)->dispose (object);
}

static void
sb_step_sheet_finalize (GObject *object)
{
  SbStepSheet *sheet = SB_STEP_SHEET (object);
  g_clear_pointer (&sheet->cuts, g_array_unref);
  g_clear_pointer (&sheet->stretches, g_array_unref);
  g_clear_object (&sheet->document);
  g_clear_pointer (&sheet->log, sb_log_unref);
  g_free (sheet->path);
  G_OBJECT_CLASS (sb_step_sheet_parent_class)->finalize (object);
}

static void
sb_step_sheet_class_init (SbStepSheetClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = sb_step_sheet_dispose;
  G_OBJECT_CLASS (klass)->finalize = sb_step_sheet_finalize;
}

static void
sb_step_sheet_init (SbStepSheet *sheet)
{
  sheet->apply_button = gtk_button_new ();
  g_signal_connect (sheet->apply_button, "clicked", G_CALLBACK (on_apply), sheet);
  sb_sheet_set_buttons (GTK_WINDOW (sheet), sheet->apply_button);
  sb_sheet_set_up (GTK_WINDOW (sheet));
}

GtkWidget *
sb_step_sheet_new (GtkWindow *parent, SbDocument *document, const char *path, SbLog *log)
{
  SbStepSheet *sheet = g_object_new (SB_TYPE_STEP_SHEET, "transient-for", parent, NULL);
  sheet->document = g_object_ref (document);
  sheet->path = g_strdup (path);
  sheet->log = sb_log_ref (log);
  g_autofree char *name = g_filename_display_basename (path);
  g_autofree char *title = g_strdup_printf ("Steps of %s", name);
  gtk_window_set_title (GTK_WINDOW (sheet), title);
  sheet->cuts = sb_step_cuts_of (sb_document_bench (document), path, log);
  sheet->was_cut = sheet->cuts->len > 0;
  if (!sheet->was_cut) {
    g_array_unref (sheet->cuts);
    sheet->cuts = sb_step_cuts_found (log);
  }
  make_content (sheet);
  gtk_widget_set_sensitive (sheet->found_button, log->channel[SB_CHANNEL_COMMAND] != NULL);
  fill_cut_list (sheet);
  try_cuts (sheet);
  return GTK_WIDGET (sheet);
}
