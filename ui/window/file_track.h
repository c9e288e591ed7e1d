/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What became of one file, told from looks at its size and time. A log that is being written is not half a log: nothing
 * counts before it has stood unchanged for a while. No file is touched here and no clock is read. */
#pragma once

#include <glib.h>

typedef struct {
  gint64 size_bytes; /* -1: the file is not there */
  gint64 mtime_us;   /* since 1970 */
} SbFileStamp;

#define SB_FILE_STAMP_ABSENT ((SbFileStamp){ .size_bytes = -1 })

typedef enum {
  SB_FILE_AS_BEFORE,
  SB_FILE_NEW,     /* it is there, and was never read */
  SB_FILE_CHANGED, /* it is another than the one that was read */
  SB_FILE_GONE,
  SB_FILE_BACK, /* the one that was read */
} SbFileNews;

typedef struct {
  SbFileStamp read; /* as it was when it was read; absent: never */
  SbFileStamp last; /* as last looked at */
  gint64 since_us;  /* `last` stands since then */
  guint patience;   /* times the usual while: doubles each time that a log goes on after it was read */
  gboolean gone;    /* and that was told */
} SbFileTrack;

/* A file that was not read yet. */
SbFileTrack sb_file_track_new (void);

/* A log that was opened at `opened_us` (since 1970) and looks like `stamp` now. When it was written to after it was
 * opened, what was read of it may be half. */
SbFileTrack sb_file_track_opened (SbFileStamp stamp, gint64 opened_us, gint64 now_us);

/* What a look at `now_us` tells; each piece of news once. A new empty file is none yet. */
SbFileNews sb_file_track_look (SbFileTrack *track, SbFileStamp stamp, gint64 now_us, gint64 settle_us);

/* TRUE while the next looks may bring news without a further change of the file. */
gboolean sb_file_track_is_settling (const SbFileTrack *track);
