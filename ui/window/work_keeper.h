/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Keeps a document's unsaved choices on disk (unsaved_work.h), half a second after they were made, off the main loop;
 * takes them away once they are saved. What cannot be kept is told once by the document's "failed",
 * and tried again every ten seconds. */
#pragma once

#include "document.h"
#include "unsaved_work.h"

typedef struct SbWorkKeeper SbWorkKeeper;

SbWorkKeeper *sb_work_keeper_new (SbDocument *document, const char *folder); /* document borrowed */

/* Lets go: what is kept stays, to be found. */
void sb_work_keeper_free (SbWorkKeeper *keeper);

/* The document goes on with found work: it is kept in the same file. Takes over `work`. */
void sb_work_keeper_adopt (SbWorkKeeper *keeper, SbUnsavedWork *work);

/* Nothing is kept any more: a person has decided about it. The file goes once a write that is under way is done; the
 * program goes on until then. */
void sb_work_keeper_end (SbWorkKeeper *keeper);
