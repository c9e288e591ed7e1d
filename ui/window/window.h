/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The window: an empty first page, then the bench. Files and folders drop anywhere on it; what goes wrong is told in
 * it. */
#pragma once

#include "bench_page.h"
#include "document.h"

#include <gtk/gtk.h>

#define SB_TYPE_WINDOW (sb_window_get_type ())
G_DECLARE_FINAL_TYPE (SbWindow, sb_window, SB, WINDOW, GtkApplicationWindow)

GtkWidget *sb_window_new (GtkApplication *application);

/* Files, folders, sessions; a session alone on an empty bench opens as that session. `paths` is NULL-terminated. */
void sb_window_open (SbWindow *window, const char *const *paths);

SbDocument *sb_window_document (SbWindow *window); /* borrowed */
SbBenchPage *sb_window_page (SbWindow *window);    /* borrowed; NULL until there is a bench */

/* A line in the strip under the header; stays until closed or replaced. */
void sb_window_tell (SbWindow *window, GtkMessageType type, const char *text);

/* The strip says that reading was stopped and offers to go on; see actions.c. */
void sb_window_tell_stopped (SbWindow *window);

/* See safe_keeping.h; borrowed. */
struct SbSafeKeeping *sb_window_safe_keeping (SbWindow *window);

/* Opens the sheet of how the log at `path` is read. */
void sb_window_show_columns (SbWindow *window, const char *path);

/* Closes without asking again. */
void sb_window_close_now (SbWindow *window);
