/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A bench in one file: a ZIP archive that holds the logs, the session on them, and whatever else is added, a report
 * mostly. It opens as a session does. No time and no path of a computer is in it: same files, same bytes with the same
 * library. docs/session-file.md. */
#pragma once

#include "analysis.h"

typedef enum {
  SB_BUNDLE_ERROR_READ, /* no archive, no session in it, or names and sizes that are refused */
  SB_BUNDLE_ERROR_WRITE,
} SbBundleError;

#define SB_BUNDLE_ERROR (sb_bundle_error_quark ())
GQuark sb_bundle_error_quark (void);

/* The folder within it that a report goes into. */
#define SB_BUNDLE_REPORT "report"

#define SB_BUNDLE_SUFFIX ".zip"

/* Whether a file of this name is taken for one. */
gboolean sb_bundle_is_name (const char *name);

typedef struct SbBundle SbBundle;

/* Begins the archive that is to be at `path` with the session and every log of the analysis that can be read. It is
 * written beside its place, file by file: no more than one log is in memory. (transfer full) */
SbBundle *sb_bundle_new (const SbAnalysis *analysis, const char *path, GError **error);

/* Adds a file; `name` is relative, "/" between folders. */
gboolean sb_bundle_add (SbBundle *bundle, const char *name, GBytes *bytes, GError **error);

/* Ends it, brings it to the disk and to its place in one step, and frees it. */
gboolean sb_bundle_finish (SbBundle *bundle, GError **error);
/* Of one that was not finished: whatever was at the place is as it was. */
void sb_bundle_free (SbBundle *bundle);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SbBundle, sb_bundle_free)

/* Unpacks the archive at `path` into a folder of the user's cache, by its content, and returns that folder; the session
 * lies in it (sb_bundle_session()). Anybody may have written the archive: names that lead out of the folder, links and
 * more than 4 GB are refused. (transfer full) */
char *sb_bundle_unpack (const char *path, GCancellable *cancellable, GError **error);

/* Where the session of an unpacked bundle lies. (transfer full) */
char *sb_bundle_session (const char *folder);
