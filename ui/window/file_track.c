/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "file_track.h"

#define LONGEST_PATIENCE 8

/* What no file looks like. */
#define OTHER_THAN_ANY ((SbFileStamp){ .size_bytes = 0, .mtime_us = G_MININT64 })

static gboolean
is_there (SbFileStamp stamp)
{
  return stamp.size_bytes >= 0;
}

static gboolean
is_same (SbFileStamp a, SbFileStamp b)
{
  return a.size_bytes == b.size_bytes && (!is_there (a) || a.mtime_us == b.mtime_us);
}

SbFileTrack
sb_file_track_new (void)
{
  return (SbFileTrack){ .read = SB_FILE_STAMP_ABSENT, .last = SB_FILE_STAMP_ABSENT, .patience = 1 };
}

SbFileTrack
sb_file_track_opened (SbFileStamp stamp, gint64 opened_us, gint64 now_us)
{
  gboolean whole = is_there (stamp) && stamp.mtime_us <= opened_us;
  return (SbFileTrack){ .read = whole ? stamp : OTHER_THAN_ANY, .last = stamp, .since_us = now_us, .patience = 1 };
}

/* What there is to tell once the file has stood still. */
static SbFileNews
pending (const SbFileTrack *track)
{
  gboolean was_read = is_there (track->read);
  if (!is_there (track->last))
    return was_read && !track->gone ? SB_FILE_GONE : SB_FILE_AS_BEFORE;
  if (!was_read)
    return track->last.size_bytes > 0 ? SB_FILE_NEW : SB_FILE_AS_BEFORE;
  if (!is_same (track->last, track->read))
    return SB_FILE_CHANGED;
  return track->gone ? SB_FILE_BACK : SB_FILE_AS_BEFORE;
}

gboolean
sb_file_track_is_settling (const SbFileTrack *track)
{
  return pending (track) != SB_FILE_AS_BEFORE;
}

SbFileNews
sb_file_track_look (SbFileTrack *track, SbFileStamp stamp, gint64 now_us, gint64 settle_us)
{
  if (!is_same (stamp, track->last)) {
    track->last = stamp;
    track->since_us = now_us;
    return SB_FILE_AS_BEFORE;
  }
  if (now_us - track->since_us < settle_us * track->patience)
    return SB_FILE_AS_BEFORE;
  SbFileNews news = pending (track);
  if (news == SB_FILE_CHANGED)
    track->patience = MIN (2 * track->patience, LONGEST_PATIENCE);
  if (news == SB_FILE_NEW || news == SB_FILE_CHANGED)
    track->read = track->last;
  if (news != SB_FILE_AS_BEFORE)
    track->gone = news == SB_FILE_GONE;
  return news;
}
