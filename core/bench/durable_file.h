/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Files that a person's work depends on. */
#pragma once

#include <glib.h>

/* Puts `text` in place of the file at `path`: written beside it, brought to the disk, then renamed, and the folder
 * brought to the disk too. Whatever happens in between, the file is the old one or the new one. What a symbolic link
 * points to is replaced, not the link; permissions stay, and the owner where the system allows. A file that nobody may
 * write to is not replaced.
 *
 * FALSE with an error in G_FILE_ERROR that says in a sentence without its full stop what is in the way; the old file is
 * whole then. */
gboolean sb_durable_file_write (const char *path, const char *text, gsize n_bytes, GError **error);

/* The same piece by piece, for what is too large to be in memory. */
typedef struct SbDurableFile SbDurableFile;

/* The file beside its place; NULL with such an error. (transfer full) */
SbDurableFile *sb_durable_file_begin (const char *path, GError **error);

/* 0, or the errno of what was in the way, which sb_durable_file_finish() would tell. */
int sb_durable_file_append (SbDurableFile *file, const void *bytes, gsize n_bytes);

/* Puts it in its place, and frees it in any case. FALSE with such an error. */
gboolean sb_durable_file_finish (SbDurableFile *file, GError **error);
/* Of one that was not finished: whatever was at the place is as it was. */
void sb_durable_file_drop (SbDurableFile *file);

/* Why errno `code` kept a file at `path` from being written, as those errors say it. (transfer full) */
char *sb_durable_file_reason (int code, const char *path);

/* Where symbolic links at `path` lead in the end; that file need not be there. (transfer full) */
char *sb_durable_file_target (const char *path);
