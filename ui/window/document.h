/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a window works on: the choices with their history, the results that follow from them, and the session file they
 * came from. Views read it and listen; changes go through sb_document_push() (see edits.h).
 *
 * Signals, on the main loop:
 *   "bench-changed" ()                       choices, history, file name or the saved mark
 *   "results-changed" ()                     also when a part of the logs is read
 *   "busy-changed" ()                        see sb_document_busy()
 *   "news-changed" ()                        see sb_document_news()
 *   "stopped" ()                             reading was stopped by a person
 *   "failed" (const char *what)              for the person, in full sentences */
#pragma once

#include "analysis.h"
#include "folder_watch.h"
#include "news.h"

#define SB_TYPE_DOCUMENT (sb_document_get_type ())
G_DECLARE_FINAL_TYPE (SbDocument, sb_document, SB, DOCUMENT, GObject)

SbDocument *sb_document_new (void);

SbBench *sb_document_bench (SbDocument *document);      /* borrowed */
SbAnalysis *sb_document_results (SbDocument *document); /* borrowed; NULL: none yet. May be of a slightly older bench */

/* Whether the results are complete and of the current choices. */
gboolean sb_document_results_are_current (SbDocument *document);

/* The results of a configuration of the current bench, found by name where the results are older; NULL: none yet. */
const SbConfigurationResult *sb_document_result (SbDocument *document, guint index);

/* Makes `edited` (transfer full) the current choices; `step` names what was done. */
void sb_document_push (SbDocument *document, SbBench *edited, const char *step);

/* The same for what came by itself from a watched folder. Where nothing is unsaved and there is no session file, it can
 * be had again, and does not count as unsaved. */
void sb_document_take_in (SbDocument *document, SbBench *edited, const char *step);

/* The same for what was added to the present choices (adding.h); `is_ours`: see sb_document_add_ours(). */
void sb_document_take_added (SbDocument *document, SbBench *edited, const char *step, gboolean is_ours);

/* As sb_document_push(), for choices by which logs are to be cut into their steps: that becomes part of the same step,
 * once the results show which. What is added, opened or comes by itself is cut likewise. */
void sb_document_push_to_cut (SbDocument *document, SbBench *edited, const char *step);

const char *sb_document_undo_step (SbDocument *document); /* NULL: nothing to undo */
const char *sb_document_redo_step (SbDocument *document);
void sb_document_undo (SbDocument *document);
void sb_document_redo (SbDocument *document);

/* Adds files, folders, sessions in the background. What cannot be used is told by "failed". */
void sb_document_add (SbDocument *document, const char *const *paths);

/* The same for what comes with the program: alone on the bench it does not count as unsaved. */
void sb_document_add_ours (SbDocument *document, const char *const *paths);

/* Puts the session at `path` in place of everything, in the background. */
void sb_document_open (SbDocument *document, const char *path);

/* Puts unsaved work on the session at `path` (NULL: on none), which had this digest (session.h), in place of
 * everything. */
void sb_document_recover (SbDocument *document, SbBench *bench, const char *path, const char *digest);

/* When the document's own file was changed by another since it was last read or written here: */
typedef enum {
  SB_OVER_CHANGES_ASK,   /* SB_SESSION_ERROR_CHANGED, and it is not written */
  SB_OVER_CHANGES_WRITE, /* a person has been asked */
} SbOverChanges;

/* Writes the session in the background; afterwards `path` is the document's. */
void sb_document_save_async (SbDocument *document, const char *path, SbOverChanges over, GAsyncReadyCallback callback,
                             gpointer user_data);
gboolean sb_document_save_finish (SbDocument *document, GAsyncResult *result, GError **error);

gboolean sb_document_is_saving (SbDocument *document);
SbBench *sb_document_bench_to_write (SbDocument *document); /* the current one as it would be saved; (transfer full) */

const char *sb_document_path (SbDocument *document);   /* NULL: never saved */
const char *sb_document_digest (SbDocument *document); /* of that file as last read or written here; may be NULL */
char *sb_document_name (SbDocument *document);         /* for the title; (transfer full) */
gboolean sb_document_is_saved (SbDocument *document);
gboolean sb_document_is_blank (SbDocument *document); /* no file, nothing on it, nothing to undo, nothing on its way */
gboolean sb_document_has_unsaved_work (SbDocument *document); /* the same, but for a new session with nothing in it */

/* FALSE when nothing runs. n_total is 0 while it is not known. */
gboolean sb_document_busy (SbDocument *document, gsize *n_done, gsize *n_total);
void sb_document_stop (SbDocument *document);
void sb_document_read_again (SbDocument *document); /* goes on after a stop */

/* The logs `paths` are no longer what was read. */
void sb_document_read_anew (SbDocument *document, const char *const *paths);

SbNews *sb_document_news (SbDocument *document);         /* borrowed */
void sb_document_tell_news (SbDocument *document);       /* they are others now */
SbFolderWatch *sb_document_watch (SbDocument *document); /* borrowed */

void sb_document_close (SbDocument *document); /* gives up all work; no more signals */
