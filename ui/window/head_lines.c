/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "head_lines.h"

#include <string.h>

#define HEIGHT_PX 148
/* Of a line of many megabytes, its beginning tells how it is written. */
#define MOST_CHARACTERS 400

struct _SbHeadLines {
  GtkBox parent_instance;
  GtkWidget *view;
};

G_DEFINE_FINAL_TYPE (SbHeadLines, sb_head_lines, GTK_TYPE_BOX)

static const struct {
  const char *words, *tag;
} uses[] = {
  [SB_LINE_PASSED] = { "passed over", "dim" },
  [SB_LINE_COMMENT] = { "comment", "dim" },
  [SB_LINE_HEADER] = { "header", "header" },
  [SB_LINE_UNITS] = { "units", "header" },
  [SB_LINE_ROW] = { "", NULL },
  [SB_LINE_LEFT_OUT] = { "left out", "struck" },
};

static gboolean
is_left_out (const SbLog *log, guint64 number)
{
  for (guint i = 0; log != NULL && i < log->faults->len; i++) {
    const SbFault *fault = g_ptr_array_index (log->faults, i);
    if (fault->line == number)
      return TRUE;
  }
  return FALSE;
}

SbLineUse
sb_head_line_use (const SbLayout *layout, const SbLog *log, guint64 number, const char *text)
{
  const char *first = text + strspn (text, " \t");
  if (number == layout->header_line)
    return SB_LINE_HEADER;
  if (number == layout->units_line)
    return SB_LINE_UNITS;
  if (*layout->comment_prefix != '\0' && g_str_has_prefix (first, layout->comment_prefix))
    return SB_LINE_COMMENT;
  if (*first == '\0' || number < layout->first_line || (layout->last_line > 0 && number > layout->last_line))
    return SB_LINE_PASSED;
  return is_left_out (log, number) ? SB_LINE_LEFT_OUT : SB_LINE_ROW;
}

/* Tabs are made visible: a column that begins at a tab looks the same as one that begins at blanks. */
static char *
readable (const char *text)
{
  g_autoptr (GString) shown = g_string_new (NULL);
  guint n = 0;
  for (const char *p = text; *p != '\0' && n < MOST_CHARACTERS; p = g_utf8_next_char (p), n++) {
    gunichar letter = g_utf8_get_char (p);
    if (letter == '\t')
      g_string_append (shown, "→   ");
    else
      g_string_append_unichar (shown, g_unichar_isprint (letter) ? letter : 0xfffd);
  }
  if (n == MOST_CHARACTERS)
    g_string_append (shown, "…");
  return g_string_free (g_steal_pointer (&shown), FALSE);
}

static void
append (GtkTextBuffer *buffer, const char *text, const char *tag)
{
  GtkTextIter end;
  gtk_text_buffer_get_end_iter (buffer, &end);
  if (tag != NULL)
    gtk_text_buffer_insert_with_tags_by_name (buffer, &end, text, -1, tag, NULL);
  else
    gtk_text_buffer_insert (buffer, &end, text, -1);
}

static void
append_line (GtkTextBuffer *buffer, guint64 number, SbLineUse use, const char *text)
{
  g_autofree char *gutter = g_strdup_printf ("%5" G_GUINT64_FORMAT "  %-11s  ", number, uses[use].words);
  g_autofree char *shown = readable (text);
  append (buffer, gutter, "dim");
  append (buffer, shown, uses[use].tag);
}

void
sb_head_lines_set (SbHeadLines *lines, const SbProposal *proposal, const SbLayout *layout, const SbLog *log)
{
  GtkTextBuffer *buffer = gtk_text_view_get_buffer (GTK_TEXT_VIEW (lines->view));
  gtk_text_buffer_set_text (buffer, "", 0);
  for (guint i = 0; i < proposal->lines->len; i++) {
    const char *text = g_ptr_array_index (proposal->lines, i);
    guint64 number = proposal->first_shown_line + i;
    append_line (buffer, number, sb_head_line_use (layout, log, number, text), text);
    append (buffer, i + 1 < proposal->lines->len ? "\n" : "", NULL);
  }
}

static void
sb_head_lines_class_init (SbHeadLinesClass *klass)
{
}

static void
sb_head_lines_init (SbHeadLines *lines)
{
  lines->view = gtk_text_view_new ();
  gtk_text_view_set_editable (GTK_TEXT_VIEW (lines->view), FALSE);
  gtk_text_view_set_cursor_visible (GTK_TEXT_VIEW (lines->view), FALSE);
  gtk_text_view_set_accepts_tab (GTK_TEXT_VIEW (lines->view), FALSE);
  gtk_text_view_set_monospace (GTK_TEXT_VIEW (lines->view), TRUE);
  gtk_text_view_set_left_margin (GTK_TEXT_VIEW (lines->view), 6);
  gtk_text_view_set_top_margin (GTK_TEXT_VIEW (lines->view), 4);
  GtkTextBuffer *buffer = gtk_text_view_get_buffer (GTK_TEXT_VIEW (lines->view));
  GdkRGBA grey = { 0.5f, 0.5f, 0.5f, 1 };
  gtk_text_buffer_create_tag (buffer, "dim", "foreground-rgba", &grey, NULL);
  gtk_text_buffer_create_tag (buffer, "header", "weight", PANGO_WEIGHT_BOLD, NULL);
  gtk_text_buffer_create_tag (buffer, "struck", "strikethrough", TRUE, NULL);
  gtk_widget_add_css_class (lines->view, "head-lines");
  gtk_accessible_update_property (GTK_ACCESSIBLE (lines->view), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                  "First lines of the file as read", -1);
  GtkWidget *scrolled = gtk_scrolled_window_new ();
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (scrolled), lines->view);
  gtk_scrolled_window_set_has_frame (GTK_SCROLLED_WINDOW (scrolled), TRUE);
  gtk_widget_set_size_request (scrolled, -1, HEIGHT_PX);
  gtk_widget_set_hexpand (scrolled, TRUE);
  gtk_box_append (GTK_BOX (lines), scrolled);
}

GtkWidget *
sb_head_lines_new (void)
{
  return g_object_new (SB_TYPE_HEAD_LINES, NULL);
}
