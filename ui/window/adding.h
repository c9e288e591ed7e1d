/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Files, folders and sessions on their way onto a document's bench, one after the other, read in the background. */
#pragma once

#include "document.h"
#include "loader.h"

typedef struct SbAdding SbAdding;

/* Both are borrowed. */
SbAdding *sb_adding_new (SbDocument *document, SbLoader *loader, GCancellable *cancellable);
void sb_adding_free (SbAdding *adding);

/* Adds `paths` when what was wanted before is done. `is_ours`: they come with the program, and can be had again. */
void sb_adding_want (SbAdding *adding, const char *const *paths, gboolean is_ours);

gboolean sb_adding_is_busy (const SbAdding *adding);
void sb_adding_clear (SbAdding *adding); /* what waits is not wanted any more */

/* Around something else that must be done before anything is added: the reading of a session. */
void sb_adding_begin (SbAdding *adding);
void sb_adding_end (SbAdding *adding);
