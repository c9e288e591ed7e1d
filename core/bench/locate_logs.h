/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Logs that are gone, or are others than those that the session was saved with, found again in another folder by name
 * and SHA-256. A log of another content never takes the place of one whose SHA-256 is known. */
#pragma once

#include "analysis.h"

#include <gio/gio.h>

typedef struct {
  guint n_lost;      /* logs that are gone or others */
  guint n_found;     /* of these; each with the SHA-256 that it had, where that is known */
  guint n_by_name;   /* of the found: nothing was known of them but their name, and one alone has it */
  GPtrArray *others; /* char *: names of logs not found of which files of the same name were, with other content */
  GPtrArray *left;   /* char *: names of logs of which nothing was found */
} SbLocateReport;

void sb_locate_report_clear (SbLocateReport *report);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (SbLocateReport, sb_locate_report_clear)

/* "12 of 14 logs were found. run-3.csv there is another log: its SHA-256 differs. Not found: run-9.csv." (transfer
 * full)
 */
char *sb_locate_report_text (const SbLocateReport *report);

/* The bench with what is found in `folder` and the folders in it; NULL when nothing is, or when cancelled. Folders
 * whose logs join move with the logs. `analysis` (may be NULL) knows the SHA-256 of logs that were read since. Reads
 * files: call it off the main loop. (transfer full) */
SbBench *sb_bench_locate_logs (const SbBench *bench, const SbAnalysis *analysis, const char *folder,
                               GCancellable *cancellable, SbLocateReport *report);
