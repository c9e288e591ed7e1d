/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Saves a document and waits until it is done. */
#pragma once

#include "document.h"

typedef struct {
  gboolean done, well;
} DocumentSave;

static inline void
document_save_on_done (GObject *source, GAsyncResult *result, gpointer user_data)
{
  DocumentSave *save = user_data;
  save->well = sb_document_save_finish (SB_DOCUMENT (source), result, NULL);
  save->done = TRUE;
}

/* TRUE when it was saved. */
static inline gboolean
document_save (SbDocument *document, const char *path)
{
  DocumentSave save = { 0 };
  sb_document_save_async (document, path, SB_OVER_CHANGES_ASK, document_save_on_done, &save);
  while (!save.done)
    g_main_context_iteration (NULL, TRUE);
  return save.well;
}
