/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a file comes to when it is read in a certain way: worked out beside the main loop, for the import sheet. */
#pragma once

#include "log.h"
#include "preview.h"

typedef struct {
  SbProposal *proposal; /* by the dialect chosen; NULL: no table was found */
  SbLog *log;           /* read by the layout; NULL: not asked for, or it cannot be */
  SbPreview *preview;   /* likewise */
  char *failure;        /* why there is no proposal, or no log where one was asked for; NULL */
} SbImportLook;

void sb_import_look_free (SbImportLook *look);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SbImportLook, sb_import_look_free)

/* `fixed` is copied, `layout` (NULL: a proposal is enough) kept and not to be changed any more. */
void sb_import_look_async (const char *path, const SbDialectChoices *fixed, SbLayout *layout, GCancellable *cancellable,
                           GAsyncReadyCallback callback, gpointer user_data);
SbImportLook *sb_import_look_finish (GAsyncResult *result); /* (transfer full); NULL when cancelled */
