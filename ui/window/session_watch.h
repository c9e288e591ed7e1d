/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Others at work on a document's session file: it is told when another window, of this or another process of the same
 * user, has the same session open or opens it, and when the file is changed on disk. Nothing is held up by it. */
#pragma once

#include "document.h"

/* `what` is for the person, in full sentences. */
typedef void (*SbSessionTold) (const char *what, gpointer user_data);

typedef struct SbSessionWatch SbSessionWatch;

char *sb_session_watch_folder (void); /* where the user's windows leave word of what they have open; (transfer full) */

/* The document is borrowed. */
SbSessionWatch *sb_session_watch_new (SbDocument *document, const char *folder, SbSessionTold told, gpointer user_data);
void sb_session_watch_free (SbSessionWatch *watch);
