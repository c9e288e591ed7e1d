/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "let_go.h"

#include "workers.h"

static void
free_in_worker (GTask *task, gpointer source, gpointer results, GCancellable *cancellable)
{
  sb_worker_give_way ();
  sb_analysis_unref (results);
  g_task_return_boolean (task, TRUE);
}

void
sb_let_go (SbAnalysis **results)
{
  if (*results == NULL)
    return;
  g_autoptr (GTask) task = g_task_new (NULL, NULL, NULL, NULL);
  g_task_set_task_data (task, g_steal_pointer (results), NULL);
  g_task_run_in_thread (task, free_in_worker);
}
