/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "notices_view.h"

#include "notice.h"
#include "wrap_line.h"

#define ROWS_A_STEP   4 /* as many as the pane shows at first */
#define ROWS_AT_FIRST 24

#define PART_INDENT_PX 24

struct _SbNoticesView {
  GtkBox parent_instance;
  SbDocument *document; /* borrowed: the window outlives its views */
  GtkWidget *heading, *list_box;
  GPtrArray *notices; /* SbNotice */
  GPtrArray *shown;   /* those of them that are not folded away */
  guint unfolded;     /* bit mask, 1u << SbNoticeKind */
  GHashTable *open;   /* topics whose parts are shown */
  guint n_rows;       /* for the first that are shown */
  guint n_wanted;     /* rows that may be looked at: more when the list is scrolled */
  gboolean stale;     /* there is something newer to tell */
};

G_DEFINE_FINAL_TYPE (SbNoticesView, sb_notices_view, GTK_TYPE_BOX)

enum { GO_TO, N_SIGNALS };
static guint signals[N_SIGNALS];

static const char *
icon_of (SbNoticeKind kind)
{
  static const char *const icons[SB_N_NOTICES] = {
    [SB_NOTICE_NEWS] = "document-new-symbolic",       [SB_NOTICE_FAILURE] = "dialog-error-symbolic",
    [SB_NOTICE_FAULT] = "dialog-warning-symbolic",    [SB_NOTICE_NOTE] = "dialog-information-symbolic",
    [SB_NOTICE_REMARK] = "dialog-warning-symbolic",   [SB_NOTICE_DOUBT] = "dialog-information-symbolic",
    [SB_NOTICE_FAIRNESS] = "dialog-warning-symbolic", [SB_NOTICE_FLAW] = "dialog-warning-symbolic",
  };
  return icons[kind];
}

static GtkWidget *
make_label (const char *text, const char *css_class)
{
  GtkWidget *label = gtk_label_new (text);
  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_label_set_yalign (GTK_LABEL (label), 0);
  if (css_class != NULL)
    gtk_widget_add_css_class (label, css_class);
  return label;
}

static const char *
css_class_of (SbNoticeKind kind)
{
  return kind == SB_NOTICE_FAILURE ? "notice-grave" : "notice-plain";
}

static GtkWidget *
make_locate_button (const char *what)
{
  GtkWidget *button = gtk_button_new_with_label ("Locate…");
  g_autofree char *label = g_strdup_printf ("Locate: %s", what);
  gtk_widget_set_valign (button, GTK_ALIGN_START);
  gtk_actionable_set_action_name (GTK_ACTIONABLE (button), "win.locate-logs");
  gtk_widget_set_tooltip_text (button, "Look for every missing or changed log in a folder");
  gtk_accessible_update_property (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_PROPERTY_LABEL, label, -1);
  return button;
}

static void fold_again (SbNoticesView *view, GtkWidget *button);

static void
on_fold (GtkButton *button, SbNoticesView *view)
{
  view->unfolded ^= 1u << GPOINTER_TO_UINT (g_object_get_data (G_OBJECT (button), "kind"));
  fold_again (view, GTK_WIDGET (button));
}

/* Behind the first of a kind: unfolds the others, or folds them away. */
static GtkWidget *
make_fold_button (SbNoticesView *view, const SbNotice *notice)
{
  gboolean folded = notice->n_folded > 0;
  g_autofree char *text = folded ? g_strdup_printf ("%u more", notice->n_folded) : g_strdup ("First only");
  GtkWidget *button = gtk_button_new_with_label (text);
  g_autofree char *label = g_strdup_printf ("%s: %s", sb_notice_kind_words (notice->kind), text);
  gtk_widget_set_valign (button, GTK_ALIGN_START);
  gtk_widget_add_css_class (button, "small-text");
  gtk_accessible_update_property (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_PROPERTY_LABEL, label, -1);
  gtk_widget_set_tooltip_text (button, folded ? "Show all of this kind" : "Show the first of this kind alone");
  g_object_set_data (G_OBJECT (button), "kind", GUINT_TO_POINTER (notice->kind));
  g_signal_connect (button, "clicked", G_CALLBACK (on_fold), view);
  return button;
}

static void
on_open (GtkButton *button, SbNoticesView *view)
{
  const char *topic = g_object_get_data (G_OBJECT (button), "topic");
  if (!g_hash_table_remove (view->open, topic))
    g_hash_table_add (view->open, g_strdup (topic));
  fold_again (view, GTK_WIDGET (button));
}

/* Behind a notice that sums up others: shows them below it, or hides them. */
static GtkWidget *
make_parts_button (SbNoticesView *view, const SbNotice *notice)
{
  gboolean is_open = g_hash_table_contains (view->open, notice->topic);
  g_autofree char *text = is_open ? g_strdup ("Hide details") : g_strdup_printf ("Details (%u)", notice->parts->len);
  GtkWidget *button = gtk_button_new_with_label (text);
  g_autofree char *label = g_strdup_printf ("%s: %s", notice->topic, text);
  gtk_widget_set_valign (button, GTK_ALIGN_START);
  gtk_widget_add_css_class (button, "small-text");
  gtk_accessible_update_property (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_PROPERTY_LABEL, label, -1);
  gtk_widget_set_tooltip_text (button, is_open ? "Hide what each configuration says of it"
                                               : "Show what each configuration says of it");
  g_object_set_data_full (G_OBJECT (button), "topic", g_strdup (notice->topic), g_free);
  g_signal_connect (button, "clicked", G_CALLBACK (on_open), view);
  return button;
}

static GtkWidget *
make_row (SbNoticesView *view, const SbNotice *notice)
{
  const char *words = sb_notice_kind_words (notice->kind);
  g_autofree char *kind = notice->n_alike > 0 ? g_strdup_printf ("%s (%u)", words, notice->n_alike) : g_strdup (words);
  GtkWidget *line = sb_wrap_line_new (8);
  GtkWidget *icon = gtk_image_new_from_icon_name (icon_of (notice->kind));
  gtk_widget_set_margin_start (line, notice->is_part ? PART_INDENT_PX : 0);
  gtk_widget_set_valign (icon, GTK_ALIGN_START);
  gtk_widget_add_css_class (icon, css_class_of (notice->kind));
  /* The core's own words often begin with the name of the log. */
  gboolean named = g_str_has_prefix (notice->text, notice->subject);
  g_autofree char *what = g_strconcat (notice->place != NULL ? notice->place : "", notice->place != NULL ? ", " : "",
                                       named ? "" : notice->subject, named ? "" : ": ", notice->text, NULL);
  g_autofree char *markup = g_markup_printf_escaped ("<b>%s</b>  %s", kind, what);
  GtkWidget *text = make_label (NULL, NULL);
  gtk_label_set_markup (GTK_LABEL (text), markup);
  gtk_label_set_wrap (GTK_LABEL (text), TRUE);
  gtk_label_set_wrap_mode (GTK_LABEL (text), PANGO_WRAP_WORD_CHAR);
  gtk_widget_set_hexpand (text, TRUE);
  sb_wrap_line_append (line, icon);
  sb_wrap_line_append (line, text);
  if (notice->is_lost)
    sb_wrap_line_append (line, make_locate_button (what));
  if (notice->parts != NULL)
    sb_wrap_line_append (line, make_parts_button (view, notice));
  if (notice->n_alike > 0)
    sb_wrap_line_append (line, make_fold_button (view, notice));
  GtkWidget *row = gtk_list_box_row_new ();
  gtk_list_box_row_set_child (GTK_LIST_BOX_ROW (row), line);
  gtk_widget_add_css_class (row, "notice");
  if (notice->configuration >= 0 || notice->measure >= 0)
    gtk_widget_set_tooltip_text (row, "Click to go there");
  g_autofree char *label = g_strdup_printf ("%s: %s", words, what);
  gtk_accessible_update_property (GTK_ACCESSIBLE (row), GTK_ACCESSIBLE_PROPERTY_LABEL, label, -1);
  return row;
}

static gboolean
is_same (const SbNotice *left, const SbNotice *right)
{
  return left->kind == right->kind && left->configuration == right->configuration && left->trial == right->trial
         && left->measure == right->measure && left->n_folded == right->n_folded && left->n_alike == right->n_alike
         && left->is_part == right->is_part
         && (left->parts != NULL ? left->parts->len : 0) == (right->parts != NULL ? right->parts->len : 0)
         && g_strcmp0 (left->place, right->place) == 0 && g_str_equal (left->subject, right->subject)
         && g_str_equal (left->text, right->text);
}

static guint
count_same (const GPtrArray *a, const GPtrArray *b)
{
  guint n = 0;
  while (a != NULL && n < a->len && n < b->len && is_same (g_ptr_array_index (a, n), g_ptr_array_index (b, n)))
    n++;
  return n;
}

static void
show_count (SbNoticesView *view)
{
  guint n = view->notices->len;
  g_autofree char *heading = n == 0 ? g_strdup ("Notices: none") : g_strdup_printf ("Notices: %u", n);
  gtk_label_set_text (GTK_LABEL (view->heading), heading);
}

static gboolean
make_more_rows (SbNoticesView *view)
{
  guint n = view->shown != NULL ? MIN (view->shown->len, view->n_wanted) : 0;
  if (view->n_rows >= n)
    return FALSE;
  for (guint i = 0; i < ROWS_A_STEP && view->n_rows < n; i++, view->n_rows++)
    gtk_list_box_append (GTK_LIST_BOX (view->list_box), make_row (view, g_ptr_array_index (view->shown, view->n_rows)));
  return TRUE;
}

/* The rows that say what they said stay, so that one being read keeps its place and its focus. */
static void
keep_rows (SbNoticesView *view, guint n)
{
  for (; view->n_rows > n; view->n_rows--) {
    int last = (int) view->n_rows - 1;
    gtk_list_box_remove (GTK_LIST_BOX (view->list_box),
                         GTK_WIDGET (gtk_list_box_get_row_at_index (GTK_LIST_BOX (view->list_box), last)));
  }
}

/* Another set of notices (transfer full), folded as it was. */
static void
show (SbNoticesView *view, GPtrArray *notices)
{
  GPtrArray *shown = sb_notices_fold (notices, view->unfolded, view->open);
  keep_rows (view, count_same (view->shown, shown));
  g_clear_pointer (&view->shown, g_ptr_array_unref);
  g_clear_pointer (&view->notices, g_ptr_array_unref);
  view->shown = shown;
  view->notices = notices;
  show_count (view);
}

/* The same notices, folded otherwise from the row of the button on, which keeps the focus. */
static void
fold_again (SbNoticesView *view, GtkWidget *button)
{
  int index = gtk_list_box_row_get_index (GTK_LIST_BOX_ROW (gtk_widget_get_ancestor (button, GTK_TYPE_LIST_BOX_ROW)));
  keep_rows (view, (guint) index);
  g_clear_pointer (&view->shown, g_ptr_array_unref);
  view->shown = sb_notices_fold (view->notices, view->unfolded, view->open);
  while (make_more_rows (view)) {
  }
  gtk_widget_grab_focus (GTK_WIDGET (gtk_list_box_get_row_at_index (GTK_LIST_BOX (view->list_box), index)));
}

void
sb_notices_view_update (SbNoticesView *view)
{
  view->stale = TRUE;
}

/* All that is to be told is gathered from every log of the bench: a step of its own. */
gboolean
sb_notices_view_step (SbNoticesView *view)
{
  if (!view->stale)
    return make_more_rows (view);
  view->stale = FALSE;
  const SbAnalysis *results = sb_document_results (view->document);
  if (results != NULL)
    show (view, sb_notices_new (results, sb_document_news (view->document)));
  else if (view->notices != NULL)
    show (view, g_ptr_array_new_with_free_func ((GDestroyNotify) sb_notice_free));
  return TRUE;
}

/* Hundreds of logs may have a notice each: rows are made as far as one scrolls, and a page beyond. */
static void
on_scrolled (GtkAdjustment *adjustment, SbNoticesView *view)
{
  double page = gtk_adjustment_get_page_size (adjustment);
  if (gtk_adjustment_get_value (adjustment) + 2 * page < gtk_adjustment_get_upper (adjustment))
    return;
  view->n_wanted = MAX (view->n_wanted, view->n_rows + ROWS_AT_FIRST);
  while (make_more_rows (view)) {
  }
}

static void
on_row_activated (GtkListBox *list_box, GtkListBoxRow *row, SbNoticesView *view)
{
  const SbNotice *notice = g_ptr_array_index (view->shown, (guint) gtk_list_box_row_get_index (row));
  g_signal_emit (view, signals[GO_TO], 0, notice->configuration, notice->trial, notice->measure);
}

static void
sb_notices_view_finalize (GObject *object)
{
  g_clear_pointer (&SB_NOTICES_VIEW (object)->shown, g_ptr_array_unref);
  g_clear_pointer (&SB_NOTICES_VIEW (object)->notices, g_ptr_array_unref);
  g_clear_pointer (&SB_NOTICES_VIEW (object)->open, g_hash_table_unref);
  G_OBJECT_CLASS (sb_notices_view_parent_class)->finalize (object);
}

static void
sb_notices_view_class_init (SbNoticesViewClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = sb_notices_view_finalize;
  signals[GO_TO] = g_signal_new ("go-to", SB_TYPE_NOTICES_VIEW, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 3,
                                 G_TYPE_INT, G_TYPE_INT, G_TYPE_INT);
}

static void
sb_notices_view_init (SbNoticesView *view)
{
  view->open = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  view->heading = make_label ("Notices", "pane-heading");
  view->list_box = gtk_list_box_new ();
  gtk_list_box_set_selection_mode (GTK_LIST_BOX (view->list_box), GTK_SELECTION_BROWSE);
  gtk_widget_add_css_class (view->list_box, "notices");
  gtk_accessible_update_property (GTK_ACCESSIBLE (view->list_box), GTK_ACCESSIBLE_PROPERTY_LABEL, "Notices", -1);
  g_signal_connect (view->list_box, "row-activated", G_CALLBACK (on_row_activated), view);
  GtkWidget *scrolled = gtk_scrolled_window_new ();
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (scrolled), GTK_POLICY_NEVER, GTK_POLICY_AUTOMATIC);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (scrolled), view->list_box);
  gtk_widget_set_vexpand (scrolled, TRUE);
  view->n_wanted = ROWS_AT_FIRST;
  g_signal_connect (gtk_scrolled_window_get_vadjustment (GTK_SCROLLED_WINDOW (scrolled)), "value-changed",
                    G_CALLBACK (on_scrolled), view);
  gtk_box_append (GTK_BOX (view), view->heading);
  gtk_box_append (GTK_BOX (view), scrolled);
}

GtkWidget *
sb_notices_view_new (SbDocument *document)
{
  SbNoticesView *view = g_object_new (SB_TYPE_NOTICES_VIEW, "orientation", GTK_ORIENTATION_VERTICAL, NULL);
  view->document = document;
  return GTK_WIDGET (view);
}
