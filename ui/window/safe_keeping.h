/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a window does so that nothing made in it is lost: it keeps unsaved choices for the case of a crash, offers those
 * that it finds of windows that are gone, and tells of others at work on the same session. */
#pragma once

#include "unsaved_work.h"
#include "window.h"

typedef struct SbSafeKeeping SbSafeKeeping;

/* The window is borrowed; lines are put at the top of `content`. */
SbSafeKeeping *sb_safe_keeping_new (SbWindow *window, GtkBox *content);
void sb_safe_keeping_free (SbSafeKeeping *keeping);

void sb_safe_keeping_look (SbSafeKeeping *keeping); /* for unsaved work; not before the first frame is painted */
void sb_safe_keeping_end (SbSafeKeeping *keeping);  /* a person has decided about what is unsaved */

/* Puts found work into the window, which has nothing in it. Takes over `work`. */
void sb_safe_keeping_go_on (SbSafeKeeping *keeping, SbUnsavedWork *work);
