/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Logs worked out on several threads and handed over in their order, with no more than a few in memory at once. */
#pragma once

#include "cache.h"

typedef struct {
  const char *path; /* borrowed */
  const SbTrialChoices *trial_choices;
  SbLogReading reading; /* the same for all items of one path */
} SbWorkItem;

/* What the workers need to know besides the items. */
typedef struct {
  const SbMeasureChoices *measure_choices;
  SbCache *cache;         /* NULL: none */
  SbColumnPool *pool;     /* NULL: none; for runs that keep no log */
  gboolean in_background; /* give way to other threads */
  GCancellable *cancellable;
  SbAnalysisProgress progress; /* may be NULL */
  gpointer progress_data;
} SbWorkContext;

/* From now on the calling thread gives way to those of the window. */
void sb_worker_give_way (void);

/* Receives item `index`'s work, in the order of the items and on the calling thread; `work` is given away to it. */
typedef void (*SbWorkReceiver) (gsize index, SbTrialWork *work, gpointer user_data);

/* Items of one path have to stand together: their log is read once, and held until the last of them is worked out.
 * FALSE when cancelled; the receiver then was not called for all items. */
gboolean sb_workers_run (const SbWorkItem *items, gsize n_items, const SbWorkContext *context, SbWorkReceiver receiver,
                         gpointer user_data);
