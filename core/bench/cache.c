/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cache.h"

#include <string.h>

/* The latest work on each path: choices change one at a time, so one is enough. */
typedef struct {
  SbTrialChoices trial_choices;
  SbMeasureChoices measure_choices;
  SbTrialWork work;
} Held;

struct SbCache {
  GMutex mutex;
  GHashTable *held; /* path -> Held */
};

static SbTrialWork
work_copy (const SbTrialWork *from)
{
  return (SbTrialWork){
    .trial = from->trial != NULL ? sb_trial_ref (from->trial) : NULL,
    .facts = from->facts != NULL ? sb_trial_facts_ref (from->facts) : NULL,
    .measures = from->measures != NULL ? sb_measures_ref (from->measures) : NULL,
    .failure = g_strdup (from->failure),
  };
}

void
sb_trial_work_clear (SbTrialWork *work)
{
  sb_trial_unref (work->trial);
  sb_trial_facts_unref (work->facts);
  sb_measures_unref (work->measures);
  g_free (work->failure);
  *work = (SbTrialWork){ 0 };
}

static void
held_free (gpointer data)
{
  Held *held = data;
  sb_trial_work_clear (&held->work);
  g_free (held);
}

SbCache *
sb_cache_new (void)
{
  SbCache *cache = g_new0 (SbCache, 1);
  g_mutex_init (&cache->mutex);
  cache->held = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, held_free);
  return cache;
}

void
sb_cache_free (SbCache *cache)
{
  if (cache == NULL)
    return;
  g_hash_table_unref (cache->held);
  g_mutex_clear (&cache->mutex);
  g_free (cache);
}

void
sb_cache_forget (SbCache *cache, const char *path)
{
  g_autoptr (GMutexLocker) locker = g_mutex_locker_new (&cache->mutex);
  g_hash_table_remove (cache->held, path);
}

/* Bytes, not values: "not chosen" is NaN, which equals nothing. */
static gboolean
same_choices (const Held *held, const SbTrialChoices *trial_choices, const SbMeasureChoices *measure_choices)
{
  return memcmp (&held->trial_choices, trial_choices, sizeof *trial_choices) == 0
         && memcmp (&held->measure_choices, measure_choices, sizeof *measure_choices) == 0;
}

gboolean
sb_cache_find (SbCache *cache, const char *path, const SbTrialChoices *trial_choices,
               const SbMeasureChoices *measure_choices, SbTrialWork *work)
{
  g_autoptr (GMutexLocker) locker = g_mutex_locker_new (&cache->mutex);
  const Held *held = g_hash_table_lookup (cache->held, path);
  if (held == NULL || !same_choices (held, trial_choices, measure_choices))
    return FALSE;
  *work = work_copy (&held->work);
  return TRUE;
}

SbLog *
sb_cache_find_log (SbCache *cache, const char *path)
{
  g_autoptr (GMutexLocker) locker = g_mutex_locker_new (&cache->mutex);
  const Held *held = g_hash_table_lookup (cache->held, path);
  return held != NULL && held->work.trial != NULL ? sb_log_ref (held->work.trial->log) : NULL;
}

void
sb_cache_store (SbCache *cache, const char *path, const SbTrialChoices *trial_choices,
                const SbMeasureChoices *measure_choices, const SbTrialWork *work)
{
  Held *held = g_new0 (Held, 1);
  held->trial_choices = *trial_choices;
  held->measure_choices = *measure_choices;
  held->work = work_copy (work);
  g_autoptr (GMutexLocker) locker = g_mutex_locker_new (&cache->mutex);
  g_hash_table_replace (cache->held, g_strdup (path), held);
}
