/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Signals that are refreshed at a known rate, and times that are rounded to a known step. */
#include "close.h"
#include "make_trial.h"
#include "sampling.h"

#include <string.h>

#define N 2000

static int
setup (void **state)
{
  *state = made_trials_new ();
  return 0;
}

static int
teardown (void **state)
{
  made_trials_free (*state);
  return 0;
}

/* 5 N·m from row 500 on with a rise over 200 rows, `noise_nm`, rounded to `unit_nm` (0: not), of which the value at the
 * last refresh is said until the next: `rows` apart. */
static void
make_signal (double *y, double rows, double noise_nm, double unit_nm)
{
  MadeNoise noise = { 17 };
  double value = 0;
  for (int i = 0; i < N; i++) {
    if (i == 0 || floor (i / rows) > floor ((i - 1) / rows))
      value = 5 * CLAMP ((i - 500) / 200.0, 0, 1) + noise_nm * made_normal (&noise);
    y[i] = unit_nm > 0 ? unit_nm * rint (value / unit_nm) : value;
  }
}

/* 250 Hz in a log of 4 kHz are 16 rows; 300 Hz are 13.33. Of a signal that is refreshed with each row, without noise,
 * or by steps of a coarse sensor that it crosses once in eight rows, nothing is said. */
static void
rows_that_say_a_value_again_are_counted (void **state)
{
  static const struct {
    double rows, noise_nm, unit_nm, told;
  } cases[] = {
    { 16, 0.02, 0, 16 }, { 40.0 / 3, 0.02, 0, 40.0 / 3 },
    { 2, 0.02, 0, 2 },   { 16, 0.02, 0.001, 16 },
    { 1, 0.02, 0, 0 },   { 1, 0, 0, 0 },
    { 1, 0, 0.2, 0 },    { 1, 0.02, 0.2, 0 },
    { 1, 0.2, 0.2, 0 },
  };
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++) {
    double y[N];
    make_signal (y, cases[i].rows, cases[i].noise_nm, cases[i].unit_nm);
    assert_close (sb_refresh_rows (y, N), cases[i].told, 0.01 * cases[i].told);
  }
}

static gboolean
is_noted (const SbTrial *trial, SbNoteKind kind, const char *words)
{
  for (guint i = 0; i < trial->notes->len; i++) {
    const SbNote *note = sb_notes_get (trial->notes, i);
    if (strstr (note->text, words) != NULL && note->kind == kind)
      return TRUE;
  }
  return FALSE;
}

static void
held_torque_is_noted_with_its_own_rate (void **state)
{
  MadeLog log = make_step_log (*state, N, 480, 2.5e-4, 5);
  log.torque = make_column (*state, N);
  make_signal (log.torque, 16, 0.02, 0);
  const SbTrial *trial = make_trial (*state, &log, NULL);
  assert_close_relative (trial->refresh_s[SB_CHANNEL_TORQUE], 4e-3, 1e-6);
  assert_true (is_noted (trial, SB_NOTE_HELD, "the torque is refreshed only every 16 rows (4 ms, 250 Hz)"));
  make_signal (log.torque, 1, 0.02, 0);
  trial = make_trial (*state, &log, NULL);
  assert_close (trial->refresh_s[SB_CHANNEL_TORQUE], 0, 0);
  assert_int_equal (trial->notes->len, 0);
}

/* 2 kHz under whole milliseconds: every other row says the time of the one before, and the rest are the samples' times
 * to an even chance over 1 ms (GUM 4.3.7). */
static void
times_too_coarse_for_the_rows_are_noted_with_the_rate (void **state)
{
  MadeLog log = make_step_log (*state, N, 480, 5e-4, 5);
  log.torque = make_column (*state, N);
  make_signal (log.torque, 1, 0.02, 0);
  for (gsize i = 0; i < log.n; i++)
    log.t[i] = floor (log.t[i] / 1e-3 + 1e-6) * 1e-3;
  const SbTrial *trial = make_trial (*state, &log, NULL);
  assert_close_relative (trial->stamp_sd_s, 1e-3 / sqrt (12), 1e-6);
  assert_true (is_noted (trial, SB_NOTE_TIMES, "left out (1000 of 2000)"));
  assert_true (is_noted (trial, SB_NOTE_TIMES, "about 2000 Hz"));
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    cmocka_unit_test (rows_that_say_a_value_again_are_counted),
    cmocka_unit_test_setup_teardown (held_torque_is_noted_with_its_own_rate, setup, teardown),
    cmocka_unit_test_setup_teardown (times_too_coarse_for_the_rows_are_noted_with_the_rate, setup, teardown),
  };
  return cmocka_run_group_tests_name ("sampling", tests, NULL, NULL);
}
