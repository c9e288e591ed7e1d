/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How the logs of a bench are read: by what was stated of one log alone, by the layouts stated for several, and by what
 * is found in the file where neither says anything. */
#pragma once

#include "layout_choice.h"

/* What is stated for one log; borrowed from its bench. */
typedef struct {
  SbLayoutChoice *own; /* for this log alone; NULL: nothing */
  GPtrArray *layouts;  /* SbLayoutChoice; of those that are for the log, an earlier one goes before a later; or NULL */
} SbLogReading;

/* The same choices, whether they are for the log or not. */
gboolean sb_log_reading_equal (const SbLogReading *a, const SbLogReading *b);

/* The layout that the log at `path` is read by. The first choice for it that fixes something of the dialect is followed
 * in that; roles, units and values are taken from all that are for it. NULL with an error in SB_LOG_ERROR, which is
 * SB_LOG_ERROR_LAYOUT when the log is not one that its own choice can be for. (transfer full) */
SbLayout *
sb_log_reading_layout (const char *path, const SbLogReading *reading, GCancellable *cancellable, GError **error);

/* What is to be told of a log that was read by `layout`: the choices for its columns that were passed over because the
 * log is written otherwise (layout_clash.h), when none that fixes something of the dialect could be followed.
 * (element-type utf8) (transfer full) */
GPtrArray *sb_log_reading_passed_over (const SbLogReading *reading, const SbLayout *layout);

/* Reads the log by it; as sb_log_read_with(). `pool` and `cancellable` may be NULL. (transfer full) */
SbLog *sb_log_reading_read (const char *path, const SbLogReading *reading, SbColumnPool *pool,
                            GCancellable *cancellable, GError **error);
