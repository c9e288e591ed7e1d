/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a document knows of the layouts of its logs, and how one that a person confirmed gets into it and into the store
 * of remembered ones. For the import sheet. */
#pragma once

#include "document.h"

/* The layout that the log at `path` was read by; NULL when there is none. Borrowed. */
SbLayout *sb_import_stated_layout (SbDocument *document, const char *path);

/* What a person has stated of this log so far, by itself or for all of the shape of `known` (may be NULL); NULL:
 * nothing. Borrowed. */
const SbLayoutChoice *sb_import_stated_choice (SbDocument *document, const char *path, const SbLayout *known);

/* How many of the document's logs have the columns of this layout. */
guint sb_import_stated_same_shape (SbDocument *document, const SbLayout *of);

/* States `choice` for the log, or for all files of its shape, as a step that can be undone. */
void sb_import_stated_push (SbDocument *document, const char *path, SbLayoutChoice *choice, gboolean for_all);

/* Writes `choice` into the store of remembered layouts, beside the main loop. */
void sb_import_stated_remember_async (SbLayoutChoice *choice, GAsyncReadyCallback callback, gpointer user_data);
gboolean sb_import_stated_remember_finish (GAsyncResult *result, GError **error);
