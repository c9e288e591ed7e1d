/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "history.h"

typedef struct {
  SbBench *bench;
  char *step; /* what led here from the one before; NULL for the first */
} State;

struct SbHistory {
  GArray *states; /* State */
  guint current;
  SbBench *saved; /* a reference, so that its address cannot be used again; NULL: none is */
};

static void
state_clear (gpointer data)
{
  State *state = data;
  sb_bench_unref (state->bench);
  g_free (state->step);
}

SbHistory *
sb_history_new (SbBench *first)
{
  SbHistory *history = g_new0 (SbHistory, 1);
  history->states = g_array_new (FALSE, FALSE, sizeof (State));
  g_array_set_clear_func (history->states, state_clear);
  State state = { sb_bench_ref (first), NULL };
  g_array_append_val (history->states, state);
  history->saved = sb_bench_ref (first);
  return history;
}

void
sb_history_free (SbHistory *history)
{
  if (history == NULL)
    return;
  g_array_unref (history->states);
  sb_bench_unref (history->saved);
  g_free (history);
}

static const State *
state_at (const SbHistory *history, guint index)
{
  return &g_array_index (history->states, State, index);
}

SbBench *
sb_history_current (const SbHistory *history)
{
  return state_at (history, history->current)->bench;
}

void
sb_history_push (SbHistory *history, SbBench *bench, const char *step)
{
  g_array_set_size (history->states, history->current + 1);
  State state = { bench, g_strdup (step) };
  g_array_append_val (history->states, state);
  history->current++;
}

void
sb_history_replace (SbHistory *history, SbBench *bench)
{
  State *state = &g_array_index (history->states, State, history->current);
  gboolean was_saved = sb_history_is_saved (history);
  sb_bench_unref (state->bench);
  state->bench = bench;
  if (was_saved)
    sb_history_mark_saved (history);
}

const char *
sb_history_undo_step (const SbHistory *history)
{
  return state_at (history, history->current)->step;
}

const char *
sb_history_redo_step (const SbHistory *history)
{
  if (history->current + 1 >= history->states->len)
    return NULL;
  return state_at (history, history->current + 1)->step;
}

gboolean
sb_history_undo (SbHistory *history)
{
  if (history->current == 0)
    return FALSE;
  history->current--;
  return TRUE;
}

gboolean
sb_history_redo (SbHistory *history)
{
  if (history->current + 1 >= history->states->len)
    return FALSE;
  history->current++;
  return TRUE;
}

void
sb_history_mark_saved (SbHistory *history)
{
  SbBench *current = sb_bench_ref (sb_history_current (history));
  sb_bench_unref (history->saved);
  history->saved = current;
}

void
sb_history_mark_unsaved (SbHistory *history)
{
  g_clear_pointer (&history->saved, sb_bench_unref);
}

gboolean
sb_history_is_saved (const SbHistory *history)
{
  return history->saved == sb_history_current (history);
}
