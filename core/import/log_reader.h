/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Blocks of text and a layout -> log. Where the bytes come from, and who may stop it, is log_file.c's affair.
 *
 * The log does not depend on how the bytes are cut into blocks. Memory is bounded by the values kept, one block and
 * one line of at most SB_LINE_MAX. */
#pragma once

#include "rows.h"

typedef struct _SbLogReader SbLogReader;

/* `layout` is complete but for a decimal sign that no line looked at has shown; a reference is kept. `size_hint` is the
 * expected number of bytes, for reserving memory; 0 when not known. `pool` (may be NULL) gives the memory of the
 * columns. NULL with SB_LOG_ERROR_NO_TIME, _NO_SIGNAL or _LAYOUT. */
SbLogReader *
sb_log_reader_new (const char *path, SbLayout *layout, guint64 size_hint, SbColumnPool *pool, GError **error);
void sb_log_reader_free (SbLogReader *reader);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SbLogReader, sb_log_reader_free)

/* For holding the ways to read rows against each other: the fastest is taken unless another is set. */
void sb_log_reader_set_way (SbLogReader *reader, SbRowsWay way);

/* What is to be digested of the bytes written below is digested while they are read (digest.h). Borrowed. */
void sb_log_reader_set_digest (SbLogReader *reader, SbDigest *digest);

/* Where the next `n_bytes` are to be written, until the next call. Text in UTF-16 is written there as UTF-8. */
char *sb_log_reader_get_room (SbLogReader *reader, gsize n_bytes);

/* Takes in the first `n_bytes` of that room. FALSE with SB_LOG_ERROR_NOT_A_LOG or _LAYOUT when no log can come of it;
 * the reader can only be freed then. */
gboolean sb_log_reader_take (SbLogReader *reader, gsize n_bytes, GError **error);

/* The log, after the last block, without digest and size. NULL with SB_LOG_ERROR_NOT_A_LOG, _NO_ROWS or _LAYOUT.
 * (transfer full) */
SbLog *sb_log_reader_finish (SbLogReader *reader, GError **error);
