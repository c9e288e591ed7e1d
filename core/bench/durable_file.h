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

/* Where symbolic links at `path` lead in the end; that file need not be there. (transfer full) */
char *sb_durable_file_target (const char *path);
