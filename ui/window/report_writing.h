/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A report written by a worker: its charts and pages take seconds on a large bench. */
#pragma once

#include "report_files.h"

#include <gio/gio.h>

/* A report of what `model` (transfer full) shows, into the folder `path`, or with its logs into the one archive `path`.
 * `written` is called with `owner`, which is kept until then, and the result. */
void sb_report_write (GObject *owner, SbChartModel *model, SbPaperSize sheet, gboolean as_bundle, const char *path,
                      GAsyncReadyCallback written);

/* Whether it is written, and for people: where, or why not (transfer full). */
gboolean sb_report_write_finish (GAsyncResult *result, char **what);
