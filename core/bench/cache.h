/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Inside of SbCache: what one log and its choices came to. For analysis.c alone. */
#pragma once

#include "analysis.h"
#include "log_reading.h"

/* What was worked out of one log; either `failure` or all of the others. */
typedef struct {
  SbTrial *trial;
  SbTrialFacts *facts;
  SbMeasures *measures;
  gboolean cannot_be_opened; /* the failure: there is no such file, or it may not be read */
  char *failure;
} SbTrialWork;

void sb_trial_work_clear (SbTrialWork *work);

/* What a piece of work is made from, besides the file. All borrowed. */
typedef struct {
  const char *path;
  const SbLogReading *reading;
  const SbTrialChoices *trial_choices;
  const SbMeasureChoices *measure_choices;
} SbWorkKey;

/* TRUE, with references in `work`, when this stretch of this log was worked out with these choices before. */
gboolean sb_cache_find (SbCache *cache, const SbWorkKey *key, SbTrialWork *work);

/* To be asked before a file is opened, for sb_cache_store(). */
guint64 sb_cache_moment (SbCache *cache);

/* The log itself, when it was read before and would be read by the same layout now, and ask the same; NULL else. When
 * the layouts stated are others than then, the head of the file tells whether that makes a difference to this log; when
 * it does not, what was worked out of it is found again from then on. (transfer full) */
SbLog *sb_cache_find_log (SbCache *cache, const char *path, const SbLogReading *reading, GCancellable *cancellable);

/* `log` is what the work was made from (NULL: it could not be read); work from another reading of the same path is let
 * go. Nothing is stored when the path was forgotten after `moment`: a worker may be at the file that was. */
void sb_cache_store (SbCache *cache, const SbWorkKey *key, SbLog *log, guint64 moment, const SbTrialWork *work);
