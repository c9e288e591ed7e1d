/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cache.h"

#include <math.h>
#include <string.h>

/* The latest work on a stretch of a log: choices change one at a time, so one is enough. */
typedef struct {
  SbTrialChoices trial_choices;
  SbMeasureChoices measure_choices;
  SbTrialWork work;
} Held;

/* All that is held of one path. Stretches that were moved by hand are left behind; the oldest goes first. */
typedef struct {
  SbLogReading reading; /* what was stated when it was read; owned */
  SbLog *log;           /* NULL when it could not be read */
  GPtrArray *works;     /* Held, by age */
} HeldLog;

#define MAX_STRETCHES 1000

struct SbCache {
  GMutex mutex;
  GHashTable *held;      /* path -> HeldLog */
  GHashTable *forgotten; /* path -> guint64 *: the moment of its last sb_cache_forget() */
  guint64 moment;        /* counts them all */
};

static SbTrialWork
work_copy (const SbTrialWork *from)
{
  return (SbTrialWork){
    .trial = from->trial != NULL ? sb_trial_ref (from->trial) : NULL,
    .facts = from->facts != NULL ? sb_trial_facts_ref (from->facts) : NULL,
    .measures = from->measures != NULL ? sb_measures_ref (from->measures) : NULL,
    .cannot_be_opened = from->cannot_be_opened,
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

static void
reading_clear (SbLogReading *reading)
{
  g_clear_pointer (&reading->own, sb_layout_choice_unref);
  g_clear_pointer (&reading->layouts, g_ptr_array_unref);
}

static void
reading_set (SbLogReading *held, const SbLogReading *reading)
{
  SbLogReading copy = {
    .own = reading->own != NULL ? sb_layout_choice_ref (reading->own) : NULL,
    .layouts = reading->layouts != NULL ? g_ptr_array_ref (reading->layouts) : NULL,
  };
  reading_clear (held);
  *held = copy;
}

static void
held_log_free (gpointer data)
{
  HeldLog *held = data;
  reading_clear (&held->reading);
  g_ptr_array_unref (held->works);
  sb_log_unref (held->log);
  g_free (held);
}

SbCache *
sb_cache_new (void)
{
  SbCache *cache = g_new0 (SbCache, 1);
  g_mutex_init (&cache->mutex);
  cache->held = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, held_log_free);
  cache->forgotten = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_free);
  return cache;
}

void
sb_cache_free (SbCache *cache)
{
  if (cache == NULL)
    return;
  g_hash_table_unref (cache->held);
  g_hash_table_unref (cache->forgotten);
  g_mutex_clear (&cache->mutex);
  g_free (cache);
}

void
sb_cache_forget (SbCache *cache, const char *path)
{
  g_autoptr (GMutexLocker) locker = g_mutex_locker_new (&cache->mutex);
  g_hash_table_remove (cache->held, path);
  cache->moment++;
  g_hash_table_replace (cache->forgotten, g_strdup (path), g_memdup2 (&cache->moment, sizeof cache->moment));
}

guint64
sb_cache_moment (SbCache *cache)
{
  g_autoptr (GMutexLocker) locker = g_mutex_locker_new (&cache->mutex);
  return cache->moment;
}

static gboolean
was_forgotten_after (SbCache *cache, const char *path, guint64 moment)
{
  const guint64 *forgotten = g_hash_table_lookup (cache->forgotten, path);
  return forgotten != NULL && *forgotten > moment;
}

/* Bytes, not values: "not chosen" is NaN, which equals nothing. */
static gboolean
same_number (double a, double b)
{
  return (isnan (a) && isnan (b)) || fabs (a - b) <= 0;
}

static gboolean
same_choices (const Held *held, const SbWorkKey *key)
{
  return same_number (held->trial_choices.onset_s, key->trial_choices->onset_s)
         && same_number (held->trial_choices.active_end_s, key->trial_choices->active_end_s)
         && memcmp (&held->measure_choices, key->measure_choices, sizeof *key->measure_choices) == 0;
}

/* Index of the work on this stretch; the number of works when there is none. */
static guint
find_stretch (const HeldLog *held, const SbTrialChoices *stretch)
{
  guint i = 0;
  for (; i < held->works->len; i++) {
    const Held *work = g_ptr_array_index (held->works, i);
    if (same_number (work->trial_choices.from_s, stretch->from_s)
        && same_number (work->trial_choices.to_s, stretch->to_s))
      break;
  }
  return i;
}

gboolean
sb_cache_find (SbCache *cache, const SbWorkKey *key, SbTrialWork *work)
{
  g_autoptr (GMutexLocker) locker = g_mutex_locker_new (&cache->mutex);
  const HeldLog *log = g_hash_table_lookup (cache->held, key->path);
  guint index = log != NULL ? find_stretch (log, key->trial_choices) : 0;
  if (log == NULL || index == log->works->len || !sb_log_reading_equal (&log->reading, key->reading))
    return FALSE;
  const Held *held = g_ptr_array_index (log->works, index);
  if (!same_choices (held, key))
    return FALSE;
  *work = work_copy (&held->work);
  return TRUE;
}

/* Reading by either raises the same questions: a guess that was confirmed is none any longer, though no number moves.
 * For layouts that are equal. */
static gboolean
ask_alike (const SbLayout *a, const SbLayout *b)
{
  if (a->is_rate_confirmed != b->is_rate_confirmed && sb_layout_counts_rows (a))
    return FALSE;
  for (guint i = 0; i < a->columns->len; i++)
    if (g_strcmp0 (sb_layout_column (a, i)->question, sb_layout_column (b, i)->question) != 0)
      return FALSE;
  return TRUE;
}

/* The log says of the layouts that were passed over what it would say when it was read by these. */
static gboolean
tells_alike (const SbLog *log, const SbLogReading *reading)
{
  g_autoptr (GPtrArray) told = sb_log_reading_passed_over (reading, log->layout);
  for (guint i = 0; i < told->len; i++)
    if (i >= log->notes->len || strcmp (sb_notes_text (told, i), sb_notes_text (log->notes, i)) != 0)
      return FALSE;
  return told->len == log->notes->len || sb_notes_get (log->notes, told->len)->kind != SB_NOTE_LAYOUT_PASSED;
}

SbLog *
sb_cache_find_log (SbCache *cache, const char *path, const SbLogReading *reading, GCancellable *cancellable)
{
  g_mutex_lock (&cache->mutex);
  const HeldLog *held = g_hash_table_lookup (cache->held, path);
  g_autoptr (SbLog) log = held != NULL && held->log != NULL ? sb_log_ref (held->log) : NULL;
  gboolean same = log != NULL && sb_log_reading_equal (&held->reading, reading);
  g_mutex_unlock (&cache->mutex);
  if (log == NULL || same)
    return g_steal_pointer (&log);

  g_autoptr (SbLayout) layout = sb_log_reading_layout (path, reading, cancellable, NULL);
  if (layout == NULL || log->layout == NULL || !sb_layout_equal (layout, log->layout)
      || !ask_alike (layout, log->layout) || !tells_alike (log, reading))
    return NULL;
  g_autoptr (GMutexLocker) locker = g_mutex_locker_new (&cache->mutex);
  HeldLog *now = g_hash_table_lookup (cache->held, path);
  if (now != NULL && now->log == log)
    reading_set (&now->reading, reading);
  return g_steal_pointer (&log);
}

/* What is held of the path when `log` is the one that it is held of; two readings that failed are of no log, and the
 * same when they were by the same layouts. */
static HeldLog *
find_held (SbCache *cache, const SbWorkKey *key, const SbLog *log)
{
  HeldLog *held = g_hash_table_lookup (cache->held, key->path);
  if (held == NULL || held->log != log || (log == NULL && !sb_log_reading_equal (&held->reading, key->reading)))
    return NULL;
  return held;
}

static HeldLog *
begin_held (SbCache *cache, const char *path, SbLog *log)
{
  HeldLog *held = g_new0 (HeldLog, 1);
  held->log = log != NULL ? sb_log_ref (log) : NULL;
  held->works = g_ptr_array_new_with_free_func (held_free);
  g_hash_table_replace (cache->held, g_strdup (path), held);
  return held;
}

void
sb_cache_store (SbCache *cache, const SbWorkKey *key, SbLog *log, guint64 moment, const SbTrialWork *work)
{
  g_autoptr (GMutexLocker) locker = g_mutex_locker_new (&cache->mutex);
  if (was_forgotten_after (cache, key->path, moment))
    return;
  HeldLog *of_log = find_held (cache, key, log);
  if (of_log == NULL)
    of_log = begin_held (cache, key->path, log);
  reading_set (&of_log->reading, key->reading);
  guint index = find_stretch (of_log, key->trial_choices);
  if (index < of_log->works->len)
    g_ptr_array_remove_index (of_log->works, index);
  else if (of_log->works->len >= MAX_STRETCHES)
    g_ptr_array_remove_index (of_log->works, 0);
  Held *held = g_new0 (Held, 1);
  held->trial_choices = *key->trial_choices;
  held->measure_choices = *key->measure_choices;
  held->work = work_copy (work);
  g_ptr_array_add (of_log->works, held);
}
