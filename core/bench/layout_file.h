/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Files of layouts (docs/layout-file.md): what a person writes for the batch commands, gives to a colleague, and what
 * the program remembers. */
#pragma once

#include "layout_json.h"

/* SbLayoutChoice: the file holds one layout, or a list of them, which is empty when all were forgotten. Errors in
 * SB_LAYOUT_FILE_ERROR name the file. (transfer full) */
GPtrArray *sb_layout_file_read (const char *path, GError **error);

/* The text of a file with these SbLayoutChoice. (transfer full) */
char *sb_layout_file_text (const GPtrArray *choices);

/* Writes atomically and durably: the file is the old one or the new one. */
gboolean sb_layout_file_write (const char *path, const GPtrArray *choices, GError **error);

/* A layout as it was found in a log, to be looked over, changed and given back: with its dialect, its shape, and the
 * questions that are open; values that are missing are there as null. (transfer full) */
SbLayoutChoice *sb_layout_file_draft (const SbLayout *found);
