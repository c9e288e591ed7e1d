/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "workers.h"

typedef struct {
  const SbWorkItem *items;
  gsize n_items;
  const SbWorkContext *context;

  GMutex mutex;
  GCond changed;
  SbTrialWork *work; /* per item */
  gboolean *ready;   /* per item */
  gsize next;        /* first item that no worker has taken */
  gsize received;    /* items handed over */
  gsize window;      /* workers run at most so far ahead of the receiver */
  gsize n_done;
} Workers;

static SbTrialWork
work_out (const SbWorkItem *item, const SbWorkContext *context)
{
  SbTrialWork work = { 0 };
  if (context->cache != NULL
      && sb_cache_find (context->cache, item->path, item->trial_choices, context->measure_choices, &work))
    return work;

  g_autoptr (GError) error = NULL;
  g_autoptr (SbLog) log = context->cache != NULL ? sb_cache_find_log (context->cache, item->path) : NULL;
  if (log == NULL)
    log = sb_log_read_pooled (item->path, context->pool, context->cancellable, &error);
  if (log != NULL)
    work.trial = sb_trial_new (log, item->trial_choices, &error);
  if (work.trial != NULL) {
    work.facts = sb_trial_facts_new (work.trial);
    work.measures = sb_measures_new (work.trial, context->measure_choices);
  } else {
    if (g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
      return work;
    work.failure = g_strdup (error->message);
  }
  if (context->cache != NULL)
    sb_cache_store (context->cache, item->path, item->trial_choices, context->measure_choices, &work);
  return work;
}

static gpointer
worker (gpointer data)
{
  Workers *workers = data;
  const SbWorkContext *context = workers->context;
  g_mutex_lock (&workers->mutex);
  while (TRUE) {
    while (workers->next < workers->n_items && workers->next >= workers->received + workers->window
           && !g_cancellable_is_cancelled (context->cancellable))
      g_cond_wait (&workers->changed, &workers->mutex);
    if (workers->next >= workers->n_items || g_cancellable_is_cancelled (context->cancellable))
      break;
    gsize index = workers->next++;
    g_mutex_unlock (&workers->mutex);

    SbTrialWork work = work_out (&workers->items[index], context);

    g_mutex_lock (&workers->mutex);
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
  for (gsize i = 0; i < n_items; i++)
    sb_trial_work_clear (&workers.work[i]);
  g_free (workers.work);
  g_free (workers.ready);
  g_cond_clear (&workers.changed);
  g_mutex_clear (&workers.mutex);
  return complete;
}
