/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Keeps an eye on the folders that a bench comes from: new logs and new folders of logs, opened logs that change or
 * vanish. It says what it sees and changes nothing. Changes are told by the system where it can, and looked for every
 * few seconds where it cannot (network folders). A file counts once its size and time have stood still.
 *
 * Signals, on the main loop:
 *   "found" (const char *folder, const char *opened_folder, char **paths)   logs not opened yet, in natural order
 *   "changed" (char **paths)                                                opened logs that are others now
 *   "missing-changed" ()                                                    see sb_folder_watch_missing() */
#pragma once

#include "bench.h"

#include <gio/gio.h>

#define SB_TYPE_FOLDER_WATCH (sb_folder_watch_get_type ())
G_DECLARE_FINAL_TYPE (SbFolderWatch, sb_folder_watch, SB, FOLDER_WATCH, GObject)

SbFolderWatch *sb_folder_watch_new (void);

/* How long a file must stand still (700 ms), and how often is looked for what the system does not tell (5 s). */
void sb_folder_watch_set_pace (SbFolderWatch *watch, guint settle_ms, guint look_ms);

/* Watches the folders of `bench` from here on. A log that was in any bench followed so far, or was told by "found", is
 * not told again: who took it out wants it out. */
void sb_folder_watch_follow (SbFolderWatch *watch, SbBench *bench);

/* `path` is none of the tester's logs, whatever its name says. */
void sb_folder_watch_pass_over (SbFolderWatch *watch, const char *path);

/* What would join the bench followed had it not been taken out: paths of logs and folders, sorted. (transfer full) */
GPtrArray *sb_folder_watch_passed_over (SbFolderWatch *watch);

/* Opened logs that are no longer there, sorted; those in a folder that cannot be looked into are not among them.
 * (transfer container, paths borrowed) */
GPtrArray *sb_folder_watch_missing (SbFolderWatch *watch);

/* Why a folder cannot be looked into; NULL when it can. Borrowed. */
const char *sb_folder_watch_failure (SbFolderWatch *watch, const char *folder);

void sb_folder_watch_close (SbFolderWatch *watch); /* gives up all work; no more signals */
