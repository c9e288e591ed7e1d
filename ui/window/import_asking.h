/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Opens the import sheet by itself when a log was read by guesses, or could not be read for want of a value; once for
 * files of one shape. Files that say what their columns are never bring it up. */
#pragma once

#include "document.h"

#include <gtk/gtk.h>

typedef struct SbImportAsking SbImportAsking;

/* For the logs of `document`, over `parent`; both must outlive it. `told` receives what the sheets tell. */
typedef void (*SbImportTold) (gboolean well, const char *what, gpointer user_data);
SbImportAsking *sb_import_asking_new (GtkWindow *parent, SbDocument *document, SbImportTold told, gpointer user_data);
void sb_import_asking_free (SbImportAsking *asking);

/* Opens the sheet for the log at `path` at a person's wish. */
void sb_import_asking_open (SbImportAsking *asking, const char *path);

/* The first log of `results` with an open question, with `*unread` when it could not be read; its path, borrowed. NULL:
 * none. `asked` is a set of what was asked before (signatures, and paths of unread logs): the log is noted in it. */
const char *sb_import_question_next (const SbAnalysis *results, GHashTable *asked, gboolean *unread);
