/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "propose.h"

#include "dialect.h"
#include "encoding.h"
#include "log_build.h"
#include "number_style.h"
#include "roles_of_table.h"

#include <string.h>

/* Usually the header and all rows that are looked at are in it. */
#define CHUNK_SIZE ((gsize) 1 << 14)
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

/* The part of a file that is looked at. */
typedef struct {
  SbSource *source;
  const char *name;
  const SbDialectChoices *fixed;
  GCancellable *cancellable;

  SbEncoding encoding;
  SbUtf16 utf16;
  char *chunk;    /* bytes as read */
  gsize n_chunk;  /* of the last chunk */
  guint n_chunks; /* so far */
  gboolean at_end;

  GString *text; /* UTF-8, or bytes that are as good */
  GArray *lines; /* SbLine: the complete ones of text */
  guint64 first_line;
  SbStated stated; /* by the lines before stated_end */
  guint64 stated_end;
  guint64 zero_line;   /* the first line with a zero byte; 0: none */
  guint64 long_line;   /* the first line that is too long; 0: none */
  guint64 cut_line;    /* a line too long to keep, of which the end is wanted; 0: none */
  SbFoundTable *open;  /* goes on from the lines no longer kept */
  SbFoundTable *owned; /* the same, while it is ours to free */
} Head;

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

static void
head_init (Head *head, SbSource *source, const char *name, const SbDialectChoices *fixed, GCancellable *cancellable)
{
  *head = (Head){ .source = source, .name = name, .fixed = fixed, .cancellable = cancellable, .first_line = 1 };
  sb_stated_init (&head->stated);
  head->chunk = g_malloc (CHUNK_SIZE);
  head->text = g_string_sized_new (CHUNK_SIZE + 1);
  head->lines = g_array_new (FALSE, FALSE, sizeof (SbLine));
}

static void
head_clear (Head *head)
{
  sb_found_table_free (head->owned);
  g_string_free (head->text, TRUE);
  g_array_unref (head->lines);
  g_free (head->chunk);
}

static gboolean
read_chunk (Head *head, GError **error)
{
  head->n_chunk = 0;
  while (head->n_chunk < CHUNK_SIZE) {
    gssize n = sb_source_read (head->source, head->chunk + head->n_chunk, CHUNK_SIZE - head->n_chunk, head->cancellable,
                               error);
    if (n < 0)
      return FALSE;
    head->at_end = n == 0;
    if (n == 0)
      break;
    head->n_chunk += (gsize) n;
  }
  head->n_chunks++;
  return TRUE;
}

static void
append_chunk (Head *head)
{
  gsize before = head->text->len;
  if (head->n_chunks == 1) {
    gboolean fixed = head->fixed != NULL && head->fixed->encoding >= 0;
    head->encoding = fixed ? (SbEncoding) head->fixed->encoding : sb_encoding_detect (head->chunk, head->n_chunk);
  }
  if (head->encoding == SB_ENCODING_UTF16_LE || head->encoding == SB_ENCODING_UTF16_BE) {
    g_string_set_size (head->text, before + SB_UTF16_ROOM (head->n_chunk));
    gsize n = sb_utf16_read (&head->utf16, head->encoding, head->chunk, head->n_chunk, head->text->str + before);
    g_string_set_size (head->text, before + n);
  } else {
    g_string_append_len (head->text, head->chunk, (gssize) head->n_chunk);
  }
  if (head->n_chunks == 1 && head->text->len >= 3 && memcmp (head->text->str, "\xef\xbb\xbf", 3) == 0)
    g_string_erase (head->text, 0, 3);
}

/* TRUE when nothing but zeros follow up to the end of the file: room that the logger reserved and did not fill. */
static gboolean
text_before_zeros (const char *zero, const char *end)
{
  while (zero < end && *zero == '\0')
    zero++;
  return zero == end;
}

/* The complete lines of the text. One that is too long counts as a blank one. */
static void
cut_into_lines (Head *head)
{
  const char *p = head->text->str, *end = p + head->text->len;
  SbLine line;
  g_array_set_size (head->lines, 0);
  while (p < end && sb_line_find (p, end, head->at_end, &line)) {
    guint64 number = head->first_line + head->lines->len;
    if (line.length > SB_LINE_MAX || number == head->cut_line) {
      head->long_line = head->long_line != 0 ? head->long_line : number;
      line.length = 0;
    }
    const char *zero = memchr (line.text, '\0', line.length);
    if (zero != NULL && line.next == end)
      line.length = text_before_zeros (zero, end) ? (gsize) (zero - line.text) : line.length;
    if (head->zero_line == 0 && zero != NULL && (number == 1 || line.length > (gsize) (zero - line.text)))
      head->zero_line = number;
    g_array_append_val (head->lines, line);
    p = line.next;
  }
}

/* Takes in what the lines before `end` say that columns may want. */
static void
read_stated (Head *head, guint64 end)
{
  for (guint64 line = MAX (head->stated_end, head->first_line); line < MIN (end, head->first_line + head->lines->len);
       line++) {
    const SbLine *text = &g_array_index (head->lines, SbLine, line - head->first_line);
    sb_stated_read_line (&head->stated, text->text, text->length);
  }
  head->stated_end = MAX (head->stated_end, end);
}

/* Forgets all but the last `n_kept` lines, and the bytes of a line that is too long. */
static void
forget_lines (Head *head, guint n_kept)
{
  guint n = head->lines->len, n_gone = n > n_kept ? n - n_kept : 0;
  const char *text = head->text->str;
  const SbLine *lines = (const SbLine *) (const void *) head->lines->data;
  gsize rest = n > 0 ? (gsize) (lines[n - 1].next - text) : 0;
  gsize gone = n_gone > 0 ? (gsize) (lines[n_gone - 1].next - text) : 0;
  if (head->text->len - rest > SB_LINE_MAX + 1) {
    head->cut_line = head->first_line + n;
    /* A CR may be half of a line end. */
    g_string_erase (head->text, (gssize) rest, (gssize) (head->text->len - rest - 1));
  }
  g_string_erase (head->text, 0, (gssize) gone);
  head->first_line += n_gone;
}

/* What stands around the header, for a person to see. */
static void
show_lines (const Head *head, guint64 header_line, SbProposal *proposal)
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

static void
add_style_of_line (const SbLine *line, SbCells *cells, char delimiter, SbNumberStyle *style)
{
  sb_cells_split (cells, line->text, line->length, delimiter);
  for (guint i = 0; i < sb_cells_count (cells); i++) {
    gsize length;
    const char *text = sb_cells_get (cells, i, &length);
    sb_number_style_add (style, text, length, i);
  }
}

static void
add_style_of_samples (const SbFoundTable *found, SbNumberStyle *style)
{
  for (guint row = 0; row < found->rows->len; row++) {
    const GPtrArray *cells = g_ptr_array_index (found->rows, row);
    for (guint i = 0; i < cells->len; i++) {
      g_autofree char *text = g_strstrip (g_strdup (g_ptr_array_index (cells, i)));
      sb_number_style_add (style, text, strlen (text), i);
    }
  }
}

/* Signs that the first rows do not have and later ones may need. */
static gboolean
may_show_more (const char *text, gsize length, char delimiter, char decimal)
{
  const char *end = text + length;
  char other = decimal == ',' ? '.' : ',';
  if (decimal == '\0' || memchr (text, '\'', length) != NULL || memchr (text, '\xa0', length) != NULL)
    return TRUE;
  if (other != delimiter && memchr (text, other, length) != NULL)
    return TRUE;
  if (other == delimiter || delimiter == ' ')
    return memchr (text, '"', length) != NULL;
  for (const char *p = text; (p = memchr (p, ' ', (gsize) (end - p))) != NULL; p++)
    if (p > text && p + 3 < end && g_ascii_isdigit (p[-1]) && g_ascii_isdigit (p[1]) && g_ascii_isdigit (p[3]))
      return TRUE;
  return FALSE;
}

/* Takes in the rows behind the samples, as far as they are there. */
static void
add_style_of_rest (const Head *head, const SbFoundTable *found, char quote, SbNumberStyle *style)
{
  if (found->table.first_line < head->first_line)
    return;
  guint first = (guint) (found->table.first_line - head->first_line) + found->rows->len;
  guint64 end = found->table.last_line > 0 ? found->table.last_line - head->first_line + 1 : head->lines->len;
  g_autoptr (SbCells) cells = sb_cells_new ();
  sb_cells_set_quote (cells, quote);
  for (guint i = first; i < MIN (end, head->lines->len); i++)
    add_style_of_line (&g_array_index (head->lines, SbLine, i), cells, found->delimiter, style);
}

static void
ask_for_sign (SbLayout *layout, const SbNumberStyle *style, int open)
{
  guint column = style->example_column[open];
  if (column >= layout->columns->len)
    return;
  SbLayoutColumn *asked = sb_layout_column (layout, column);
  g_autofree char *example = sb_text_quote (style->example[open], strlen (style->example[open]));
  g_free (asked->question);
  asked->certainty = SB_CERTAINTY_MISSING;
  asked->question = g_strdup_printf ("%s may be a number with decimals or one in thousands", example);
}

/* The decimal sign and the thousands separator; the index of one that may be either, or -1. */
static int
find_number_style (const Head *head, const SbFoundTable *found, SbLayout *layout, SbNumberStyle *style)
{
  const SbDialectChoices *fixed = head->fixed;
  add_style_of_samples (found, style);
  int open = sb_number_style_decide (style, layout->delimiter, &layout->decimal, &layout->thousands);
  if (layout->thousands == '\0'
      && may_show_more (head->text->str, head->text->len, layout->delimiter, layout->decimal)) {
    add_style_of_rest (head, found, layout->quote, style);
    open = sb_number_style_decide (style, layout->delimiter, &layout->decimal, &layout->thousands);
  }
  if (fixed != NULL && fixed->decimal != '\0')
    sb_number_style_fix (style, fixed->decimal, &layout->decimal, &layout->thousands);
  else if (fixed != NULL && (fixed->thousands == '.' || fixed->thousands == ','))
    sb_number_style_fix (style, fixed->thousands == ',' ? '.' : ',', &layout->decimal, &layout->thousands);
  if (fixed != NULL && fixed->thousands != SB_AUTOMATIC)
    layout->thousands = (char) fixed->thousands;
  gboolean settled = fixed != NULL && (fixed->decimal != '\0' || fixed->thousands != SB_AUTOMATIC);
  return settled ? -1 : open;
}

static SbLayout *
layout_of_table (Head *head, const SbLines *lines, const SbFoundTable *found, const SbTableView *view, guint index)
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
  int open = find_number_style (head, found, layout, &style);
  read_stated (head, found->table.header_line > 0 ? found->table.header_line : found->table.first_line);
  sb_roles_of_table (layout, found, lines, &head->stated);
  if (open >= 0)
    ask_for_sign (layout, &style, open);
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

static SbTableView
view_of (const Head *head, const SbLines *lines)
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
take_tables (Head *head, const SbLines *lines, const SbTableView *view, const GPtrArray *tables, SbProposal *proposal,
             Finding *finding)
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
    gboolean wanted = asked || has_time_and_signal (layout);
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
fail (const Head *head, SbLogError code, guint64 line, const char *what, GError **error)
{
  g_autofree char *place = line > 0 ? g_strdup_printf (", line %" G_GUINT64_FORMAT, line) : g_strdup ("");
  g_set_error (error, SB_LOG_ERROR, code, "%s%s: %s", head->name, place, what);
  return FALSE;
}

static gboolean
has_text (const Head *head)
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

/* Why there is no proposal. */
static gboolean
judge (const Head *head, const SbProposal *proposal, const Finding *finding, GError **error)
{
  if (!finding->wanted && head->zero_line != 0)
    return fail (head, SB_LOG_ERROR_NOT_A_LOG, head->zero_line,
                 "this is no text (it has a zero byte). Export the log as CSV text and read that.", error);
  if (head->fixed != NULL && head->fixed->table >= 0 && !finding->wanted) {
    g_autofree char *what = g_strdup_printf ("there is no table %d, the file has %u. State one that there is.",
                                             head->fixed->table + 1, proposal->tables->len);
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
  return fail (head, SB_LOG_ERROR_NOT_A_LOG, 0,
               "no table was found: no line names columns and is followed by rows of numbers. Export the log as CSV "
               "text with a header such as time_s,torque_Nm.",
               error);
}

/* The open table goes on behind the lines that are there: how many of them are to be looked at once more. */
static guint
go_on (Head *head)
{
  head->open->before = head->open->behind;
  return head->text->len < MOST_BYTES ? head->open->n_undecided : 0;
}

/* One look at the lines that are there. TRUE when it is the last. */
static gboolean
look (Head *head, SbProposal *proposal, Finding *finding)
{
  cut_into_lines (head);
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
    read_stated (head, head->first_line + head->lines->len);
  forget_lines (head, head->open != NULL ? go_on (head) : some ? 1 : LINES_KEPT);
  return FALSE;
}

SbProposal *
sb_propose_source (SbSource *source, const char *name, const SbDialectChoices *fixed, GCancellable *cancellable,
                   GError **error)
{
  g_autoptr (SbProposal) proposal = proposal_new ();
  Finding finding = { FALSE, FALSE };
  Head head;
  gboolean good, done = FALSE;
  head_init (&head, source, name, fixed, cancellable);
  do {
    good = read_chunk (&head, error);
    if (good) {
      append_chunk (&head);
      done = look (&head, proposal, &finding);
    }
  } while (good && !done);
  good = good && judge (&head, proposal, &finding, error);
  if (good && head.n_chunks == 1)
    sb_source_put_back (source, head.chunk, head.n_chunk);
  else if (good)
    good = sb_source_rewind (source, error);
  head_clear (&head);
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
