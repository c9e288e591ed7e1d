/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "explain_sheet.h"

#include "results.h"
#include "sheet.h"

#include <string.h>

#define WIDTH  760
#define HEIGHT 560
#define MARGIN 18

typedef struct {
  SbAnalysis *analysis;
  SbMeasureId id;
} Question;

static void
question_free (gpointer data)
{
  Question *question = data;
  sb_analysis_unref (question->analysis);
  g_free (question);
}

static void
answer (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  const Question *question = data;
  g_task_return_pointer (task, sb_results_explain (question->analysis, question->id), g_free);
}

/* A minus sign before a number, and units that no line ends in. (transfer full) */
static char *
typeset (const char *text)
{
  g_autoptr (GRegex) minus = g_regex_new ("(?<![\\w.)-])-(?=[0-9])|(?<=[0-9]e)-(?=[0-9])", 0, 0, NULL);
  g_autofree char *with_minus = g_regex_replace_literal (minus, text, -1, 0, "−", 0, NULL);
  g_autoptr (GRegex) unit = g_regex_new ("(N·m|rad|deg|m)/(ms|s)\\b", 0, 0, NULL);
  g_autofree char *with_units = g_regex_replace (unit, with_minus, -1, 0, "\\1\u2060/\u2060\\2", 0, NULL);
  g_autoptr (GRegex) gap = g_regex_new ("(?<=[0-9]) (?=(?:N·m|rad/s|rpm|deg/s|ms|Hz|%)(?:[^\\w]|$))", 0, 0, NULL);
  return g_regex_replace_literal (gap, with_units, -1, 0, "\u00a0", 0, NULL);
}

/* The line after an empty one names a configuration or a trial; of the lines before the first of these, and of those
 * that are indented, what stands before the colon is a label. */
static void
insert_line (GtkTextBuffer *buffer, const char *line, gboolean heading)
{
  GtkTextIter end;
  gtk_text_buffer_get_end_iter (buffer, &end);
  const char *colon = strstr (line, ": ");
  if (heading) {
    gtk_text_buffer_insert_with_tags_by_name (buffer, &end, line, -1, "heading", NULL);
  } else if (colon != NULL) {
    gtk_text_buffer_insert_with_tags_by_name (buffer, &end, line, (int) (colon - line) + 1, "label", NULL);
    gtk_text_buffer_insert (buffer, &end, colon + 1, -1);
  } else {
    gtk_text_buffer_insert (buffer, &end, line, -1);
  }
  gtk_text_buffer_insert (buffer, &end, "\n", 1);
}

static void
on_answered (GObject *source, GAsyncResult *result, gpointer data)
{
  GtkTextBuffer *buffer = gtk_text_view_get_buffer (GTK_TEXT_VIEW (source));
  g_autofree char *plain = g_task_propagate_pointer (G_TASK (result), NULL), *text = typeset (plain);
  g_auto (GStrv) lines = g_strsplit (g_strchomp (text), "\n", -1);
  gtk_text_buffer_set_text (buffer, "", 0);
  for (char **line = lines; *line != NULL; line++)
    insert_line (buffer, *line, line == lines || *line[-1] == '\0');
  GtkTextIter start;
  gtk_text_buffer_get_start_iter (buffer, &start);
  gtk_text_buffer_place_cursor (buffer, &start);
}

static GtkWidget *
make_text_view (void)
{
  GtkWidget *widget = gtk_text_view_new ();
  GtkTextView *view = GTK_TEXT_VIEW (widget);
  gtk_text_view_set_editable (view, FALSE);
  gtk_text_view_set_cursor_visible (view, FALSE);
  gtk_text_view_set_wrap_mode (view, GTK_WRAP_WORD_CHAR);
  gtk_text_view_set_left_margin (view, MARGIN);
  gtk_text_view_set_right_margin (view, MARGIN);
  gtk_text_view_set_top_margin (view, MARGIN);
  gtk_text_view_set_bottom_margin (view, MARGIN);
  gtk_text_view_set_accepts_tab (view, FALSE);
  gtk_accessible_update_property (GTK_ACCESSIBLE (view), GTK_ACCESSIBLE_PROPERTY_LABEL, "How it was computed", -1);
  GtkTextBuffer *buffer = gtk_text_view_get_buffer (view);
  gtk_text_buffer_create_tag (buffer, "heading", "weight", PANGO_WEIGHT_BOLD, "pixels-above-lines", 6, NULL);
  gtk_text_buffer_create_tag (buffer, "label", "weight", PANGO_WEIGHT_SEMIBOLD, NULL);
  gtk_text_buffer_set_text (buffer, "…", -1);
  return widget;
}

void
sb_explain_sheet_present (GtkWindow *parent, SbAnalysis *analysis, SbMeasureId id)
{
  GtkWidget *sheet = gtk_window_new (), *view = make_text_view (), *scrolled = gtk_scrolled_window_new ();
  g_autofree char *title = g_strdup_printf ("%s – how it was computed", sb_measure_info (id)->name);
  gtk_window_set_title (GTK_WINDOW (sheet), title);
  gtk_window_set_default_size (GTK_WINDOW (sheet), WIDTH, HEIGHT);
  gtk_window_set_transient_for (GTK_WINDOW (sheet), parent);
  sb_sheet_set_up (GTK_WINDOW (sheet));
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (scrolled), view);
  gtk_window_set_child (GTK_WINDOW (sheet), scrolled);

  Question *question = g_new (Question, 1);
  *question = (Question){ sb_analysis_ref (analysis), id };
  g_autoptr (GTask) task = g_task_new (view, NULL, on_answered, NULL);
  g_task_set_task_data (task, question, question_free);
  g_task_run_in_thread (task, answer);
  gtk_window_present (GTK_WINDOW (sheet));
}
