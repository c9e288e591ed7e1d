/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Cuts by hand without a screen. Logs are written level by level, so that every edge is known by construction. */
#include "step_cuts.h"

#include "close.h"

typedef struct {
  SbLog *log;
  GArray *cuts, *stretches;
  SbBench *bench;
} Fixture;

static int
set_up (void **state)
{
  *state = g_new0 (Fixture, 1);
  return 0;
}

static int
tear_down (void **state)
{
  Fixture *fixture = *state;
  sb_log_unref (fixture->log);
  g_clear_pointer (&fixture->cuts, g_array_unref);
  g_clear_pointer (&fixture->stretches, g_array_unref);
  g_clear_pointer (&fixture->bench, sb_bench_unref);
  g_free (fixture);
  return 0;
}

/* The command, or with `torque_only` the torque, holds each of the levels for 100 ms at 1 kHz. */
static void
make_log (Fixture *fixture, const int *levels, int n, gboolean torque_only)
{
  g_autoptr (GString) text = g_string_new (torque_only ? "time_s,torque_Nm\n" : "time_s,command_Nm\n");
  for (int i = 0; i < 100 * n; i++)
    g_string_append_printf (text, "0.%03d,%d\n", i, levels[i / 100]);
  fixture->log = sb_log_read_memory ("made.csv", text->str, text->len, 0, NULL);
  assert_non_null (fixture->log);
}

static double
cut_at (const Fixture *fixture, guint index)
{
  assert_true (index < fixture->cuts->len);
  return g_array_index (fixture->cuts, double, index);
}

static const SbStretch *
stretch_at (const Fixture *fixture, guint index)
{
  assert_true (index < fixture->stretches->len);
  return &g_array_index (fixture->stretches, SbStretch, index);
}

/* Between the end of one pulse (0.199 s) and the middle of the rest after it (0.249 s), and so on. */
static void
pulses_are_cut_in_the_rest_between_them (void **state)
{
  Fixture *fixture = *state;
  make_log (fixture, (const int[]){ 0, 8, 0, -8, 0, 8, 0 }, 7, FALSE);
  fixture->cuts = sb_step_cuts_found (fixture->log);
  assert_int_equal (fixture->cuts->len, 2);
  assert_close (cut_at (fixture, 0), 0.224, 1e-12);
  assert_close (cut_at (fixture, 1), 0.424, 1e-12);
  fixture->stretches = sb_step_cuts_try (fixture->log, fixture->cuts);
  assert_int_equal (fixture->stretches->len, 3);
  assert_string_equal (stretch_at (fixture, 0)->what, "0 → 8 N·m at 0.100 s");
  assert_string_equal (stretch_at (fixture, 1)->what, "0 → −8 N·m at 0.300 s");
  assert_string_equal (stretch_at (fixture, 2)->what, "0 → 8 N·m at 0.500 s");
}

/* Stair by stair, each cut on the level between: its end and its middle overlap, and the cut is half way. */
static void
stairs_are_cut_on_their_levels (void **state)
{
  Fixture *fixture = *state;
  make_log (fixture, (const int[]){ 0, 2, 4 }, 3, FALSE);
  fixture->cuts = sb_step_cuts_found (fixture->log);
  assert_int_equal (fixture->cuts->len, 1);
  assert_close (cut_at (fixture, 0), (0.199 + 0.149) / 2, 1e-12);
}

static void
stretch_without_a_step_is_told_from_a_trial (void **state)
{
  Fixture *fixture = *state;
  make_log (fixture, (const int[]){ 0, 8, 8, 8 }, 4, FALSE);
  double cut = 0.25;
  fixture->cuts = g_array_new (FALSE, FALSE, sizeof (double));
  g_array_append_val (fixture->cuts, cut);
  fixture->stretches = sb_step_cuts_try (fixture->log, fixture->cuts);
  assert_true (stretch_at (fixture, 0)->has_step);
  assert_false (stretch_at (fixture, 1)->has_step);
}

static void
log_without_a_command_is_cut_by_hand_alone (void **state)
{
  Fixture *fixture = *state;
  make_log (fixture, (const int[]){ 0, 8, 0, 8, 0 }, 5, TRUE);
  fixture->cuts = sb_step_cuts_found (fixture->log);
  assert_int_equal (fixture->cuts->len, 0);
  double cut = sb_step_cuts_gap (fixture->log, fixture->cuts); /* the middle of 0 to 0.499 s */
  assert_close (cut, 0.2495, 1e-12);
  g_array_append_val (fixture->cuts, cut);
  fixture->stretches = sb_step_cuts_try (fixture->log, fixture->cuts);
  assert_true (isnan (stretch_at (fixture, 1)->cut.base_nm));
  /* The torque rises between 0.299 and 0.3 s: the line through its crossings meets the base at 0.299 s. */
  assert_string_equal (stretch_at (fixture, 1)->what, "by the torque at 0.299 s");
}

static void
cuts_of_a_cut_log_come_back (void **state)
{
  Fixture *fixture = *state;
  make_log (fixture, (const int[]){ 0, 8, 0, 8, 0 }, 5, FALSE);
  g_autoptr (SbBench) whole = sb_bench_new ();
  const char *path = "/logs/made.csv";
  sb_bench_add_configuration (whole, "A", &path, 1);
  const SbCut cuts[] = { { NAN, 0.27, 0, 8 }, { 0.27, NAN, 0, 8 } };
  fixture->bench = sb_bench_cut_at (whole, 0, path, cuts, 2, NULL);
  sb_bench_unref (g_steal_pointer (&whole));
  fixture->cuts = sb_step_cuts_of (fixture->bench, path, fixture->log);
  assert_int_equal (fixture->cuts->len, 1);
  assert_close (cut_at (fixture, 0), 0.27, 1e-12);
}

#define CASE(name) cmocka_unit_test_setup_teardown (name, set_up, tear_down)

int
main (void)
{
  const struct CMUnitTest tests[] = {
    CASE (pulses_are_cut_in_the_rest_between_them),
    CASE (stairs_are_cut_on_their_levels),
    CASE (stretch_without_a_step_is_told_from_a_trial),
    CASE (log_without_a_command_is_cut_by_hand_alone),
    CASE (cuts_of_a_cut_log_come_back),
  };
  return cmocka_run_group_tests (tests, NULL, NULL);
}
