/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A report written into a folder, which may hold a former one: what it holds and its list of checksums agree. */
#pragma once

#include "report_files.h"

/* Writes `files` (of sb_report_files()) into `folder`, which is made when it is not there. Of a former report there,
 * files that this one does not have go: those that its own list of checksums names and that still are what it says. One
 * that was changed since stays; `kept` (char *, may be NULL) takes its name. No other file is touched. A list of
 * checksums that no report wrote is an error, since it would be lost. Errors in SB_CHART_ERROR and G_FILE_ERROR. */
gboolean sb_report_folder_write (const GPtrArray *files, const char *folder, GPtrArray *kept, GError **error);

/* What the list of checksums in a report's folder says of the files beside it: the names of those that are gone or not
 * as they were when it was written (char *), of `n_listed` in all. NULL: there is no such list. (transfer full) */
GPtrArray *sb_report_folder_changed (const char *folder, guint *n_listed);
