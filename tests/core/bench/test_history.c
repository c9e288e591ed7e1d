/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "close.h"
#include "history.h"

static int
history_setup (void **state)
{
  g_autoptr (SbBench) bench = sb_bench_new ();
  bench->band_k = 1;
  *state = sb_history_new (bench);
  return 0;
}

static int
history_teardown (void **state)
{
  sb_history_free (*state);
  return 0;
}

/* A step that sets the band's width, so that a bench can be told by it. */
static void
push (SbHistory *history, double band_k, const char *step)
{
  SbBench *edited = sb_bench_edit (sb_history_current (history));
  edited->band_k = band_k;
  sb_history_push (history, edited, step);
}

static double
now (const SbHistory *history)
{
  return sb_history_current (history)->band_k;
}

static void
new_history_has_nothing_to_undo_and_is_saved (void **state)
{
  assert_null (sb_history_undo_step (*state));
  assert_null (sb_history_redo_step (*state));
  assert_false (sb_history_undo (*state));
  assert_false (sb_history_redo (*state));
  assert_true (sb_history_is_saved (*state));
}

static void
undo_and_redo_walk_the_steps_by_name (void **state)
{
  SbHistory *history = *state;
  push (history, 2, "widen");
  push (history, 3, "widen again");
  assert_string_equal (sb_history_undo_step (history), "widen again");
  assert_true (sb_history_undo (history));
  assert_close (now (history), 2, 0);
  assert_string_equal (sb_history_undo_step (history), "widen");
  assert_string_equal (sb_history_redo_step (history), "widen again");
  assert_true (sb_history_undo (history));
  assert_close (now (history), 1, 0);
  assert_null (sb_history_undo_step (history));
  assert_true (sb_history_redo (history));
  assert_true (sb_history_redo (history));
  assert_false (sb_history_redo (history));
  assert_close (now (history), 3, 0);
}

static void
new_step_after_undo_forgets_what_could_be_redone (void **state)
{
  SbHistory *history = *state;
  push (history, 2, "a");
  push (history, 3, "b");
  sb_history_undo (history);
  sb_history_undo (history);
  push (history, 4, "c");
  assert_null (sb_history_redo_step (history));
  assert_false (sb_history_redo (history));
  assert_string_equal (sb_history_undo_step (history), "c");
  sb_history_undo (history);
  assert_close (now (history), 1, 0);
}

static void
thousand_steps_are_undone_one_by_one (void **state)
{
  SbHistory *history = *state;
  for (int i = 2; i <= 1001; i++)
    push (history, i, "step");
  for (int i = 1000; i >= 1; i--) {
    assert_true (sb_history_undo (history));
    assert_close (now (history), i, 0);
  }
  assert_false (sb_history_undo (history));
}

static void
saved_is_the_bench_that_was_saved_and_no_other (void **state)
{
  SbHistory *history = *state;
  push (history, 2, "a");
  assert_false (sb_history_is_saved (history));
  sb_history_mark_saved (history);
  assert_true (sb_history_is_saved (history));
  sb_history_undo (history);
  assert_false (sb_history_is_saved (history));
  sb_history_redo (history);
  assert_true (sb_history_is_saved (history));
  sb_history_undo (history);
  push (history, 2, "a"); /* alike, yet not the one in the file */
  assert_false (sb_history_is_saved (history));
}

#define history_test(name) cmocka_unit_test_setup_teardown (name, history_setup, history_teardown)

int
main (void)
{
  const struct CMUnitTest tests[] = {
    history_test (new_history_has_nothing_to_undo_and_is_saved),
    history_test (undo_and_redo_walk_the_steps_by_name),
    history_test (new_step_after_undo_forgets_what_could_be_redone),
    history_test (thousand_steps_are_undone_one_by_one),
    history_test (saved_is_the_bench_that_was_saved_and_no_other),
  };
  return cmocka_run_group_tests (tests, NULL, NULL);
}
