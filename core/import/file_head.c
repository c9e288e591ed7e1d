/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "file_head.h"

#include "file_kind.h"

#include <string.h>

/* Usually the header and all rows that are looked at are in it. */
#define CHUNK_SIZE ((gsize) 1 << 14)

void
sb_file_head_init (SbFileHead *head, SbSource *source, const char *name, const SbDialectChoices *fixed,
                   GCancellable *cancellable)
{
  *head = (SbFileHead){ .source = source, .name = name, .fixed = fixed, .cancellable = cancellable, .first_line = 1 };
  sb_stated_init (&head->stated);
  head->chunk = g_malloc (CHUNK_SIZE);
  head->text = g_string_sized_new (CHUNK_SIZE + 1);
  head->lines = g_array_new (FALSE, FALSE, sizeof (SbLine));
}

void
sb_file_head_clear (SbFileHead *head)
{
  sb_found_table_free (head->owned);
  g_string_free (head->text, TRUE);
  g_array_unref (head->lines);
  g_free (head->chunk);
}

gboolean
sb_file_head_read (SbFileHead *head, GError **error)
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

void
sb_file_head_append (SbFileHead *head)
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
  if (head->n_chunks == 1) {
    head->kind_of_bytes = sb_file_kind_of_bytes (head->chunk, head->n_chunk);
    head->kind_of_text = sb_file_kind_of_text (head->text->str, head->text->len);
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

void
sb_file_head_cut (SbFileHead *head)
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

void
sb_file_head_read_stated (SbFileHead *head, guint64 end)
{
  for (guint64 line = MAX (head->stated_end, head->first_line); line < MIN (end, head->first_line + head->lines->len);
       line++) {
    const SbLine *text = &g_array_index (head->lines, SbLine, line - head->first_line);
    sb_stated_read_line (&head->stated, text->text, text->length, line);
  }
  head->stated_end = MAX (head->stated_end, end);
}

void
sb_file_head_forget (SbFileHead *head, guint n_kept)
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
