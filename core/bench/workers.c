/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "workers.h"

#include <string.h>
#include <sys/resource.h>
#include <unistd.h>

/* Lets a window paint beside two threads that never rest; takes nothing when the processors are idle. */
#define BACKGROUND_NICE 10

/* The log that one or several items are about; read by the first worker that needs it, for all of them. */
typedef struct {
  gboolean reading;
  SbLog *log;
  GError *error;   /* why it could not be read */
  guint64 moment;  /* of the cache, before it was read */
  gsize n_to_come; /* items that have not been worked out */
} SharedLog;

typedef struct {
  const SbWorkItem *items;
  gsize n_items;
  const SbWorkContext *context;

  GMutex mutex;
  GCond changed;
  SbTrialWork *work; /* per item */
  gboolean *ready;   /* per item */
  SharedLog *logs;   /* one per log; others at its end are not used */
  gsize *log_of;     /* per item */
  gsize next;        /* first item that no worker has taken */
  gsize received;    /* items handed over */
  gsize window;      /* workers run at most so far ahead of the receiver */
  gsize n_done;
} Workers;

/* The item's log, NULL with its error when it cannot be read; `moment` is that of sb_cache_store(). (transfer full) */
static SbLog *
get_log (Workers *workers, gsize index, guint64 *moment, GError **error)
{
  const SbWorkContext *context = workers->context;
  const SbWorkItem *item = &workers->items[index];
  SharedLog *shared = &workers->logs[workers->log_of[index]];
  g_autoptr (GMutexLocker) locker = g_mutex_locker_new (&workers->mutex);
  while (shared->reading)
    g_cond_wait (&workers->changed, &workers->mutex);
  if (shared->log == NULL && shared->error == NULL) {
    shared->reading = TRUE;
    g_mutex_unlock (&workers->mutex);
    g_autoptr (GError) cause = NULL;
    guint64 before = context->cache != NULL ? sb_cache_moment (context->cache) : 0;
    SbLog *log = context->cache != NULL
                     ? sb_cache_find_log (context->cache, item->path, &item->reading, context->cancellable)
                     : NULL;
    if (log == NULL)
      log = sb_log_reading_read (item->path, &item->reading, context->pool, context->cancellable, &cause);
    g_mutex_lock (&workers->mutex);
    shared->log = log;
    shared->moment = before;
    shared->error = g_steal_pointer (&cause);
    shared->reading = FALSE;
    g_cond_broadcast (&workers->changed);
  }
  *moment = shared->moment;
  if (shared->log != NULL)
    return sb_log_ref (shared->log);
  g_propagate_error (error, g_error_copy (shared->error));
  return NULL;
}

/* After an item: a log that no other item needs goes. */
static void
release_log (Workers *workers, gsize index)
{
  SharedLog *shared = &workers->logs[workers->log_of[index]];
  if (--shared->n_to_come > 0)
    return;
  g_clear_pointer (&shared->log, sb_log_unref);
  g_clear_error (&shared->error);
}

static SbTrialWork
work_out (Workers *workers, gsize index)
{
  const SbWorkContext *context = workers->context;
  const SbWorkItem *item = &workers->items[index];
  SbWorkKey key = { item->path, &item->reading, item->trial_choices, context->measure_choices };
  SbTrialWork work = { 0 };
  if (context->cache != NULL && sb_cache_find (context->cache, &key, &work))
    return work;

  g_autoptr (GError) error = NULL;
  guint64 moment;
  g_autoptr (SbLog) log = get_log (workers, index, &moment, &error);
  if (context->cache != NULL
      && sb_cache_find (context->cache, &key, &work)) /* the layouts that changed were for other logs */
    return work;
  if (log != NULL)
    work.trial = sb_trial_new (log, item->trial_choices, &error);
  if (work.trial != NULL) {
    work.facts = sb_trial_facts_new (work.trial);
    work.measures = sb_measures_new (work.trial, context->measure_choices);
  } else {
    g_assert (error != NULL); /* where there is no trial, it is said why */
    if (g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
      return work;
    work.failure = g_strdup (error->message);
    work.cannot_be_opened = g_error_matches (error, SB_LOG_ERROR, SB_LOG_ERROR_OPEN);
  }
  if (context->cache != NULL)
    sb_cache_store (context->cache, &key, log, moment, &work);
  return work;
}

void
sb_worker_give_way (void)
{
  setpriority (PRIO_PROCESS, (id_t) gettid (), BACKGROUND_NICE);
}

static gpointer
worker (gpointer data)
{
  Workers *workers = data;
  const SbWorkContext *context = workers->context;
  if (context->in_background)
    sb_worker_give_way ();
  g_mutex_lock (&workers->mutex);
  while (TRUE) {
    while (workers->next < workers->n_items && workers->next >= workers->received + workers->window
           && !g_cancellable_is_cancelled (context->cancellable))
      g_cond_wait (&workers->changed, &workers->mutex);
    if (workers->next >= workers->n_items || g_cancellable_is_cancelled (context->cancellable))
      break;
    gsize index = workers->next++;
    g_mutex_unlock (&workers->mutex);

    SbTrialWork work = work_out (workers, index);

    g_mutex_lock (&workers->mutex);
    release_log (workers, index);
    workers->work[index] = work;
    workers->ready[index] = TRUE;
    gsize n_done = ++workers->n_done;
    g_cond_broadcast (&workers->changed);
    if (context->progress != NULL) {
      g_mutex_unlock (&workers->mutex);
      context->progress (n_done, workers->n_items, context->progress_data);
      g_mutex_lock (&workers->mutex);
    }
  }
  g_cond_broadcast (&workers->changed);
  g_mutex_unlock (&workers->mutex);
  return NULL;
}

static gboolean
receive_all (Workers *workers, SbWorkReceiver receiver, gpointer user_data)
{
  GCancellable *cancellable = workers->context->cancellable;
  for (gsize i = 0; i < workers->n_items; i++) {
    g_mutex_lock (&workers->mutex);
    while (!workers->ready[i] && !g_cancellable_is_cancelled (cancellable))
      g_cond_wait (&workers->changed, &workers->mutex);
    g_mutex_unlock (&workers->mutex);
    if (g_cancellable_is_cancelled (cancellable))
      return FALSE;
    receiver (i, &workers->work[i], user_data);
    g_mutex_lock (&workers->mutex);
    workers->received = i + 1;
    g_cond_broadcast (&workers->changed);
    g_mutex_unlock (&workers->mutex);
  }
  return TRUE;
}

static void
share_logs (Workers *workers)
{
  workers->logs = g_new0 (SharedLog, workers->n_items);
  workers->log_of = g_new0 (gsize, workers->n_items);
  for (gsize i = 0; i < workers->n_items; i++) {
    gboolean same = i > 0 && strcmp (workers->items[i - 1].path, workers->items[i].path) == 0;
    if (i > 0)
      workers->log_of[i] = workers->log_of[i - 1] + (same ? 0 : 1);
    workers->logs[workers->log_of[i]].n_to_come++;
  }
}

static void
clear (Workers *workers)
{
  for (gsize i = 0; i < workers->n_items; i++) {
    sb_trial_work_clear (&workers->work[i]);
    g_clear_pointer (&workers->logs[i].log, sb_log_unref);
    g_clear_error (&workers->logs[i].error);
  }
  g_free (workers->work);
  g_free (workers->ready);
  g_free (workers->logs);
  g_free (workers->log_of);
  g_cond_clear (&workers->changed);
  g_mutex_clear (&workers->mutex);
}

gboolean
sb_workers_run (const SbWorkItem *items, gsize n_items, const SbWorkContext *context, SbWorkReceiver receiver,
                gpointer user_data)
{
  if (n_items == 0)
    return TRUE;
  gsize n_threads = MIN (n_items, g_get_num_processors ());
  Workers workers = {
    .items = items,
    .n_items = n_items,
    .context = context,
    .work = g_new0 (SbTrialWork, n_items),
    .ready = g_new0 (gboolean, n_items),
    .window = n_threads + 1,
  };
  share_logs (&workers);
  g_mutex_init (&workers.mutex);
  g_cond_init (&workers.changed);
  g_autofree GThread **threads = g_new (GThread *, n_threads);
  for (gsize i = 0; i < n_threads; i++)
    threads[i] = g_thread_new ("log reader", worker, &workers);

  gboolean complete = receive_all (&workers, receiver, user_data);

  g_mutex_lock (&workers.mutex);
  g_cond_broadcast (&workers.changed); /* a cancelled worker may be waiting for its turn */
  g_mutex_unlock (&workers.mutex);
  for (gsize i = 0; i < n_threads; i++)
    g_thread_join (threads[i]);
  clear (&workers);
  return complete;
}
