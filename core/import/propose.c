/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "propose.h"

#include "dialect.h"
#include "file_head.h"
#include "file_kind.h"
#include "form.h"
#include "log_build.h"
#include "roles_of_table.h"
#include "table_style.h"

#include <string.h>

/* A header and a row of the longest lines that are read. */
#define MOST_BYTES ((gsize) 3 * SB_LINE_MAX)
/* Rows that make a table sure; a file may end earlier. */
#define ENOUGH_ROWS 8
/* What is kept of a stretch without a table: a header may be its last line. */
#define LINES_KEPT 16

#define SHOWN_LINES  40
#define SHOWN_BEFORE 8
/* A line on show is cut behind so many bytes. */
#define LONGEST_SHOWN 2000

static void
table_free (gpointer data)
{
  SbTable *table = data;
  g_free (table->title);
  g_free (table);
}

static SbProposal *
proposal_new (void)
{
  SbProposal *proposal = g_new0 (SbProposal, 1);
  proposal->lines = g_ptr_array_new_with_free_func (g_free);
  proposal->tables = g_ptr_array_new_with_free_func (table_free);
  return proposal;
}

void
sb_proposal_free (SbProposal *proposal)
{
  if (proposal == NULL)
    return;
  sb_layout_unref (proposal->layout);
  g_ptr_array_unref (proposal->lines);
  g_ptr_array_unref (proposal->tables);
  g_free (proposal);
}

/* What stands around the header, for a person to see. */
static void
show_lines (const SbFileHead *head, guint64 header_line, SbProposal *proposal)
{
  guint64 offset = header_line - head->first_line;
  guint first = offset > SHOWN_BEFORE ? (guint) (offset - SHOWN_BEFORE) : 0;
  g_ptr_array_set_size (proposal->lines, 0);
  proposal->first_shown_line = head->first_line + first;
  for (guint i = first; i < MIN (head->lines->len, first + SHOWN_LINES); i++) {
    const SbLine *line = &g_array_index (head->lines, SbLine, i);
    char *text = sb_text_to_utf8_from (line->text, MIN (line->length, LONGEST_SHOWN), head->encoding);
    g_ptr_array_add (proposal->lines, text);
  }
}

/* A name that may be joined in two ways is read in one of them, and to be confirmed. */
static void
ask_about_names (SbLayout *layout, const SbFoundTable *found)
{
  for (guint i = 0; i < MIN (layout->columns->len, 64); i++) {
    SbLayoutColumn *column = sb_layout_column (layout, i);
    if ((found->unclear >> i & 1) == 0 || column->role == SB_ROLE_OTHER || column->question != NULL)
      continue;
    column->certainty = SB_CERTAINTY_GUESSED;
    column->question = g_strdup_printf ("its name is joined from two lines of the header in one of two ways: taken for "
                                        "the %s",
                                        sb_role_key (column->role));
  }
}

static SbLayout *
layout_of_table (SbFileHead *head, const SbLines *lines, const SbFoundTable *found, const SbTableView *view,
                 guint index)
{
  SbLayout *layout = sb_layout_new ();
  SbNumberStyle style = { 0 };
  layout->encoding = head->encoding;
  layout->delimiter = found->delimiter;
  layout->quote = view->quote;
  g_free (layout->comment_prefix);
  layout->comment_prefix = g_strdup (view->comment_prefix);
  layout->header_line = found->table.header_line;
  layout->units_line = found->units_line;
  layout->first_line = found->table.first_line;
  layout->last_line = found->table.last_line;
  layout->table = index;
  for (guint i = 0; i < found->names->len; i++)
    sb_layout_add_column (layout, g_ptr_array_index (found->names, i));
  int open = sb_table_style_find (head, found, layout, &style);
  sb_file_head_read_stated (head, found->table.header_line > 0 ? found->table.header_line : found->table.first_line);
  SbNotedStyle noted = sb_noted_style (layout);
  sb_stated_settle (&head->stated, &noted);
  sb_roles_of_table (layout, found, lines, &head->stated);
  ask_about_names (layout, found);
  if (open >= 0)
    sb_table_style_ask (layout, &style, open);
  return layout;
}

static gboolean
has_time_and_signal (const SbLayout *layout)
{
  gboolean time = FALSE, signal = FALSE;
  for (guint i = 0; i < layout->columns->len; i++) {
    SbRole role = sb_layout_column (layout, i)->role;
    time = time || role == SB_ROLE_TIME;
    signal = signal || (role > SB_ROLE_TIME && role <= SB_ROLE_CURRENT);
  }
  return time && signal;
}

/* One row before a recording below the same names: its time was ahead of all that follow. */
static gboolean
is_lone_row (const GPtrArray *tables, guint index)
{
  const SbTable *table = &((const SbFoundTable *) g_ptr_array_index (tables, index))->table;
  if (index + 1 == tables->len || table->last_line == 0 || table->last_line != table->first_line)
    return FALSE;
  const SbTable *next = &((const SbFoundTable *) g_ptr_array_index (tables, index + 1))->table;
  return next->header_line > 0 && next->header_line == table->header_line;
}

static SbTableView
view_of (const SbFileHead *head, const SbLines *lines)
{
  const SbDialectChoices *fixed = head->fixed;
  SbTableView view = { .fixed = fixed, .encoding = head->encoding };
  view.quote = fixed != NULL && fixed->quote != SB_AUTOMATIC ? (char) fixed->quote : sb_tables_quote (lines);
  view.comment_prefix
      = fixed != NULL && fixed->comment_prefix != NULL ? fixed->comment_prefix : sb_tables_comment_prefix (lines);
  view.open = head->open;
  return view;
}

/* Whether the proposal in the making is final, and whether the lines looked at must stay until more are there. */
typedef struct {
  gboolean wanted; /* the table that is asked for, or one with time and signal, is found */
  gboolean enough; /* ... and enough of its rows */
} Finding;

static void
take_tables (SbFileHead *head, const SbLines *lines, const SbTableView *view, const GPtrArray *tables,
             SbProposal *proposal, Finding *finding)
{
  for (guint i = 0; i < tables->len; i++) {
    const SbFoundTable *found = g_ptr_array_index (tables, i);
    guint index = proposal->tables->len;
    SbTable *table = g_new (SbTable, 1);
    *table = found->table;
    table->title = g_strdup (found->table.title);
    g_ptr_array_add (proposal->tables, table);
    gboolean asked = head->fixed != NULL && head->fixed->table >= 0;
    if (finding->wanted || (asked && index != (guint) head->fixed->table))
      continue;
    g_autoptr (SbLayout) layout = layout_of_table (head, lines, found, view, index);
    if (!asked && i > 0 && is_lone_row (tables, i - 1))
      layout->lone_line = ((const SbFoundTable *) g_ptr_array_index (tables, i - 1))->table.first_line;
    gboolean wanted = asked || (has_time_and_signal (layout) && !is_lone_row (tables, i));
    if (!wanted && proposal->layout != NULL)
      continue;
    finding->wanted = wanted;
    finding->enough = found->sure && (found->rows->len >= ENOUGH_ROWS || found->table.last_line > 0);
    sb_layout_unref (proposal->layout);
    proposal->layout = sb_layout_ref (layout);
    /* A recording may begin far behind its header. */
    show_lines (head, layout->header_line >= head->first_line ? layout->header_line : layout->first_line, proposal);
  }
}

static gboolean
fail (const SbFileHead *head, SbLogError code, guint64 line, const char *what, GError **error)
{
  g_autofree char *place = line > 0 ? g_strdup_printf (", line %" G_GUINT64_FORMAT, line) : g_strdup ("");
  g_set_error (error, SB_LOG_ERROR, code, "%s%s: %s", head->name, place, what);
  return FALSE;
}

static gboolean
has_text (const SbFileHead *head)
{
  for (guint i = 0; i < head->lines->len; i++) {
    const SbLine *line = &g_array_index (head->lines, SbLine, i);
    gboolean comment = sb_dialect_comment_length (line->text, line->length, "#") > 0;
    for (gsize k = 0; k < line->length && !comment; k++)
      if (!g_ascii_isspace (line->text[k]))
        return TRUE;
  }
  return head->first_line > 1;
}

/* The first of the lines that are there whose cells say their names; 0: none does. */
static guint64
line_of_names_in_cells (const SbFileHead *head)
{
  for (guint i = 0; i < head->lines->len; i++) {
    const SbLine *line = &g_array_index (head->lines, SbLine, i);
    if (sb_form_says_names (line->text, line->length))
      return head->first_line + i;
  }
  return 0;
}

/* What the file is and what to do when it is no table of rows; NULL when it may be one. */
static const char *
remedy_by_kind (const SbFileHead *head, const SbProposal *proposal)
{
  const SbLayout *layout = proposal->layout;
  if (head->kind_of_bytes != NULL || layout == NULL)
    return head->kind_of_bytes != NULL ? head->kind_of_bytes : head->kind_of_text;
  if (layout->header_line < proposal->first_shown_line)
    return NULL;
  guint64 header = layout->header_line - proposal->first_shown_line;
  const char *line = header < proposal->lines->len ? g_ptr_array_index (proposal->lines, (guint) header) : "";
  return sb_file_kind_of_line (line, strlen (line));
}

/* Why there is no proposal. */
static gboolean
judge (const SbFileHead *head, const SbProposal *proposal, const Finding *finding, GError **error)
{
  const char *remedy_of_kind = remedy_by_kind (head, proposal);
  if (remedy_of_kind != NULL)
    return fail (head, SB_LOG_ERROR_NOT_A_LOG, 0, remedy_of_kind, error);
  if (!finding->wanted && head->zero_line != 0)
    return fail (head, SB_LOG_ERROR_NOT_A_LOG, head->zero_line,
                 "this is no text (it has a zero byte). Export the log as CSV text and read that.", error);
  if (head->fixed != NULL && head->fixed->table >= 0 && !finding->wanted) {
    guint n = proposal->tables->len;
    g_autofree char *remedy = n == 0   ? g_strdup ("it has none. Export the log as CSV text with a header.")
                              : n == 1 ? g_strdup ("it has one. State table 1, or none.")
                                       : g_strdup_printf ("it has %u. State a table from 1 to %u.", n, n);
    g_autofree char *what = g_strdup_printf ("the file has no table %d; %s", head->fixed->table + 1, remedy);
    return fail (head, SB_LOG_ERROR_LAYOUT, 0, what, error);
  }
  if (proposal->layout != NULL)
    return TRUE;
  if (head->long_line != 0)
    return fail (head, SB_LOG_ERROR_NOT_A_LOG, head->long_line,
                 "the line is longer than 1 MiB, no header is. Export the log with one row a line and a header before "
                 "the rows.",
                 error);
  if (head->fixed != NULL && head->fixed->header_line > 0)
    return fail (head, SB_LOG_ERROR_LAYOUT, (guint64) head->fixed->header_line,
                 "there is no header in this line. State the line of the header.", error);
  if (!has_text (head))
    return fail (head, SB_LOG_ERROR_NOT_A_LOG, 0, "the file has no header and no rows. Export the log again.", error);
  guint64 named = line_of_names_in_cells (head);
  if (named > 0)
    return fail (head, SB_LOG_ERROR_NOT_A_LOG, named, SB_FORM_NAMES_IN_CELLS ".", error);
  return fail (head, SB_LOG_ERROR_NOT_A_LOG, 0,
               "no table was found: no line names columns and is followed by rows of numbers. Export the log as CSV "
               "text with a header such as time_s,torque_Nm.",
               error);
}

/* The open table goes on behind the lines that are there: how many of them are to be looked at once more. */
static guint
go_on (SbFileHead *head)
{
  head->open->before = head->open->behind;
  return head->text->len < MOST_BYTES ? head->open->n_undecided : 0;
}

/* One look at the lines that are there. TRUE when it is the last. */
static gboolean
look (SbFileHead *head, SbProposal *proposal, Finding *finding)
{
  sb_file_head_cut (head);
  SbLines lines = { (SbLine *) (void *) head->lines->data, head->lines->len, head->first_line, head->at_end };
  SbTableView view = view_of (head, &lines);
  guint n_before = proposal->tables->len;
  g_autoptr (GPtrArray) tables = sb_tables_find (&lines, &view);
  if (head->open != NULL)
    ((SbTable *) g_ptr_array_index (proposal->tables, n_before - 1))->last_line = head->open->table.last_line;
  take_tables (head, &lines, &view, tables, proposal, finding);
  if (head->at_end || finding->enough)
    return TRUE;
  gboolean some = tables->len > 0;
  const SbFoundTable *last = some ? g_ptr_array_index (tables, tables->len - 1) : NULL;
  if (some && (finding->wanted || !last->sure || last->rows->len < ENOUGH_ROWS) && head->text->len < MOST_BYTES) {
    /* More of its rows are wanted: once more from the same line on. */
    if (finding->wanted || n_before == 0)
      g_clear_pointer (&proposal->layout, sb_layout_unref);
    finding->wanted = FALSE;
    g_ptr_array_set_size (proposal->tables, (int) n_before);
    return FALSE;
  }
  if (finding->wanted)
    return TRUE;
  if (some) {
    sb_found_table_free (head->owned);
    head->owned = g_ptr_array_steal_index (tables, tables->len - 1);
    head->open = head->owned->table.last_line == 0 ? head->owned : NULL;
  } else if (head->open != NULL && head->open->table.last_line != 0) {
    head->open = NULL;
  }
  if (!some && head->open == NULL)
    sb_file_head_read_stated (head, head->first_line + head->lines->len);
  sb_file_head_forget (head, head->open != NULL ? go_on (head) : some ? 1 : LINES_KEPT);
  return FALSE;
}

SbProposal *
sb_propose_source (SbSource *source, const char *name, const SbDialectChoices *fixed, GCancellable *cancellable,
                   GError **error)
{
  g_autoptr (SbProposal) proposal = proposal_new ();
  Finding finding = { FALSE, FALSE };
  SbFileHead head;
  gboolean good, done = FALSE;
  sb_file_head_init (&head, source, name, fixed, cancellable);
  do {
    good = sb_file_head_read (&head, error);
    if (good) {
      sb_file_head_append (&head);
      done = look (&head, proposal, &finding);
    }
  } while (good && !done);
  good = good && judge (&head, proposal, &finding, error);
  if (good && head.n_chunks == 1)
    sb_source_put_back (source, head.chunk, head.n_chunk);
  else if (good)
    good = sb_source_rewind (source, error);
  sb_file_head_clear (&head);
  if (!good)
    return NULL;
  proposal->layout->n_tables = proposal->tables->len;
  return g_steal_pointer (&proposal);
}

SbProposal *
sb_propose_memory (const char *name, const char *bytes, gsize n_bytes, const SbDialectChoices *fixed, GError **error)
{
  g_autoptr (SbSource) source = sb_source_new_memory (name, bytes, n_bytes);
  return sb_propose_source (source, name, fixed, NULL, error);
}

SbProposal *
sb_propose_file (const char *path, const SbDialectChoices *fixed, GCancellable *cancellable, GError **error)
{
  g_autofree char *name = g_filename_display_basename (path);
  g_autoptr (SbSource) source = sb_source_open (path, error);
  return source != NULL ? sb_propose_source (source, name, fixed, cancellable, error) : NULL;
}
