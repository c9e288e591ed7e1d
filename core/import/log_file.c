/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "encoding.h"
#include "log_build.h"
#include "log_reader.h"

#include <string.h>

#define BLOCK_SIZE ((gsize) 1 << 20)

/* What is read, and who is told of it. */
typedef struct {
  const char *path;
  SbSource *source;
  gsize block_size;
  const SbReadOptions *options;
  GCancellable *cancellable;
  SbProgressFunc progress;
  gpointer user_data;
} Job;

static const SbReadOptions no_options;

static gboolean
is_wide (SbEncoding encoding)
{
  return encoding == SB_ENCODING_UTF16_LE || encoding == SB_ENCODING_UTF16_BE;
}

/* The next block, as text into the reader's room; its length there in *n_text. `raw` takes the bytes of a text that is
 * decoded; NULL for one that is taken as it is. -1 on error, 0 at the end. */
static gssize
read_block (const Job *job, SbLogReader *reader, SbEncoding encoding, SbUtf16 *utf16, char *raw, gsize *n_text,
            GError **error)
{
  char *room = sb_log_reader_get_room (reader, raw != NULL ? SB_UTF16_ROOM (job->block_size) : job->block_size);
  gssize n = sb_source_read (job->source, raw != NULL ? raw : room, job->block_size, job->cancellable, error);
  *n_text = n > 0 ? (gsize) n : 0;
  if (n > 0 && raw != NULL)
    *n_text = sb_utf16_read (utf16, encoding, raw, (gsize) n, room);
  return n;
}

static gboolean
read_blocks (const Job *job, SbLogReader *reader, SbEncoding encoding, GError **error)
{
  SbUtf16 utf16 = { 0 };
  g_autofree char *raw = is_wide (encoding) ? g_malloc (job->block_size) : NULL;
  gsize n_text;
  gssize n;
  while ((n = read_block (job, reader, encoding, &utf16, raw, &n_text, error)) > 0) {
    if (!sb_log_reader_take (reader, n_text, error))
      return FALSE;
    if (job->progress != NULL)
      job->progress (sb_source_fraction (job->source), job->user_data);
  }
  return n == 0;
}

static SbLog *
read_with_layout (const Job *job, SbLayout *layout, GError **error)
{
  guint64 size = sb_source_is_packed (job->source) ? 0 : sb_source_size (job->source);
  g_autoptr (SbLogReader) reader = sb_log_reader_new (job->path, layout, size, job->options->pool, error);
  if (reader == NULL)
    return NULL;
  if (!is_wide (layout->encoding))
    sb_log_reader_set_digest (reader, sb_source_digest_later (job->source));
  if (!read_blocks (job, reader, layout->encoding, error))
    return NULL;
  SbLog *log = sb_log_reader_finish (reader, error);
  if (log == NULL)
    return NULL;
  sb_source_digest (job->source, log->sha256);
  log->size_bytes = sb_source_size (job->source);
  if (job->options->notes != NULL)
    sb_notes_prepend (log->notes, job->options->notes);
  return log;
}

/* What is known of files with these columns, in the dialect of this one. */
static SbLayout *
apply_known (SbLayout *proposed, const GPtrArray *known)
{
  g_autofree char *signature = known != NULL ? sb_layout_signature (proposed) : NULL;
  for (guint i = 0; known != NULL && i < known->len; i++) {
    const SbLayout *layout = g_ptr_array_index (known, i);
    g_autofree char *other = sb_layout_signature (layout);
    if (strcmp (signature, other) != 0)
      continue;
    SbLayout *applied = sb_layout_apply (proposed, layout);
    if (applied->decimal == '\0') {
      applied->decimal = layout->decimal;
      applied->thousands = layout->thousands;
    }
    return applied;
  }
  return sb_layout_ref (proposed);
}

/* The first column of which the file says something else than the layout does; the number of columns when none. */
static guint
first_other_column (const SbLayout *layout, const SbLayout *proposed)
{
  guint n = MIN (layout->columns->len, proposed->columns->len);
  for (guint i = 0; i < n; i++)
    if (layout->header_line > 0
        && strcmp (sb_layout_column (layout, i)->name, sb_layout_column (proposed, i)->name) != 0)
      return i;
  return layout->columns->len == proposed->columns->len ? layout->columns->len : n;
}

static gboolean
fail_to_fit (const char *name, const SbLayout *layout, const SbLayout *proposed, guint column, GError **error)
{
  gboolean both = column < layout->columns->len && column < proposed->columns->len;
  g_autofree char *why
      = both ? g_strdup_printf ("its column %u is '%s', the layout's '%s'", column + 1,
                                sb_layout_column (proposed, column)->name, sb_layout_column (layout, column)->name)
             : g_strdup_printf ("it has %u columns, the layout %u", proposed->columns->len, layout->columns->len);
  g_set_error (error, SB_LOG_ERROR, SB_LOG_ERROR_LAYOUT,
               "%s, line %" G_GUINT64_FORMAT ": the layout does not fit this file: %s. Use the layout made for it, "
               "or none.",
               name, layout->header_line > 0 ? layout->header_line : layout->first_line, why);
  return FALSE;
}

/* Whether the header of the file is the layout's. */
static gboolean
fits (const Job *job, const SbLayout *layout, GError **error)
{
  SbDialectChoices choices = {
    .encoding = (int) layout->encoding,
    .delimiter = layout->delimiter,
    .decimal = layout->decimal,
    .thousands = layout->thousands,
    .quote = layout->quote,
    .comment_prefix = layout->comment_prefix,
    .header_line = (gint64) layout->header_line,
    .units_line = layout->header_line > 0 ? (gint64) layout->units_line : SB_AUTOMATIC,
    .table = SB_AUTOMATIC,
  };
  g_autofree char *name = g_filename_display_basename (job->path);
  g_autoptr (SbProposal) proposal = sb_propose_source (job->source, name, &choices, job->cancellable, error);
  if (proposal == NULL)
    return FALSE;
  guint column = first_other_column (layout, proposal->layout);
  gboolean same = column == layout->columns->len && column == proposal->layout->columns->len;
  return same || fail_to_fit (name, layout, proposal->layout, column, error);
}

static SbLog *
read_job (const Job *job, GError **error)
{
  const SbReadOptions *options = job->options;
  g_autofree char *name = g_filename_display_basename (job->path);
  if (options->layout != NULL)
    return fits (job, options->layout, error) ? read_with_layout (job, options->layout, error) : NULL;
  g_autoptr (SbProposal) proposal = sb_propose_source (job->source, name, options->fixed, job->cancellable, error);
  if (proposal == NULL)
    return NULL;
  g_autoptr (SbLayout) layout = apply_known (proposal->layout, options->known);
  return read_with_layout (job, layout, error);
}

SbLog *
sb_log_read_with (const char *path, const SbReadOptions *options, GCancellable *cancellable, SbProgressFunc progress,
                  gpointer user_data, GError **error)
{
  g_return_val_if_fail (path != NULL, NULL);
  g_autoptr (SbSource) source = sb_source_open (path, error);
  Job job = { path, source, BLOCK_SIZE, options != NULL ? options : &no_options, cancellable, progress, user_data };
  return source != NULL ? read_job (&job, error) : NULL;
}

SbLog *
sb_log_read (const char *path, GCancellable *cancellable, SbProgressFunc progress, gpointer user_data, GError **error)
{
  return sb_log_read_with (path, NULL, cancellable, progress, user_data, error);
}

SbLog *
sb_log_read_pooled (const char *path, SbColumnPool *pool, GCancellable *cancellable, GError **error)
{
  SbReadOptions options = { .pool = pool };
  return sb_log_read_with (path, &options, cancellable, NULL, NULL, error);
}

SbLog *
sb_log_read_memory (const char *name, const char *bytes, gsize n_bytes, gsize block_size, GError **error)
{
  SbReadOptions options = { 0 };
  g_return_val_if_fail (name != NULL && (bytes != NULL || n_bytes == 0), NULL);
  return sb_log_read_memory_with (name, bytes, n_bytes, block_size, &options, error);
}

SbLog *
sb_log_read_memory_with (const char *name, const char *bytes, gsize n_bytes, gsize block_size,
                         const SbReadOptions *options, GError **error)
{
  g_autoptr (SbSource) source = sb_source_new_memory (name, bytes, n_bytes);
  gsize step = block_size > 0 ? block_size : BLOCK_SIZE;
  Job job = { name, source, step, options != NULL ? options : &no_options, NULL, NULL, NULL };
  return read_job (&job, error);
}
