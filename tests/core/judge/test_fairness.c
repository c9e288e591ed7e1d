/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What else differs between two sides, case by case. */
#include "close.h"
#include "comparison.h"
#include "fairness.h"
#include "unlike_repeats.h"

#define N 3

/* Three trials a side, alike in everything until a test changes something. */
typedef struct {
  SbTrialFacts trial[2][N];
  SbTrialFacts *side[2][N];
  GPtrArray *owned; /* SbSetting */
  GPtrArray *list;
} Sides;

static char device[] = "Drive K", firmware[] = "2.1", newer[] = "2.2";

static int
setup (void **state)
{
  Sides *sides = g_new0 (Sides, 1);
  sides->owned = g_ptr_array_new_with_free_func (g_free);
  for (int s = 0; s < 2; s++) {
    for (int i = 0; i < N; i++) {
      sides->trial[s][i] = (SbTrialFacts){
        .settings = g_ptr_array_new (),
        .device = device,
        .firmware = firmware,
        .rotation_deg = 540,
        .inertia_kg_m2 = (double) NAN,
        .sample_interval_s = 0.0005,
        .command_base_nm = 0,
        .command_top_nm = 8,
      };
      sides->side[s][i] = &sides->trial[s][i];
    }
  }
  *state = sides;
  return 0;
}

static int
teardown (void **state)
{
  Sides *sides = *state;
  for (int s = 0; s < 2; s++)
    for (int i = 0; i < N; i++)
      g_ptr_array_unref (sides->trial[s][i].settings);
  g_ptr_array_unref (sides->owned);
  g_clear_pointer (&sides->list, g_ptr_array_unref);
  g_free (sides);
  return 0;
}

static void
set (Sides *sides, int side, int trial, const char *name, const char *text, double value, const char *unit)
{
  SbSetting *setting = g_new (SbSetting, 1);
  *setting = (SbSetting){ (char *) (guintptr) name, (char *) (guintptr) text, value, (char *) (guintptr) unit };
  g_ptr_array_add (sides->owned, setting);
  g_ptr_array_add (sides->trial[side][trial].settings, setting);
}

static void
set_all (Sides *sides, int side, const char *name, const char *text, double value, const char *unit)
{
  for (int i = 0; i < N; i++)
    set (sides, side, i, name, text, value, unit);
}

static void
assert_count (Sides *sides, guint count)
{
  g_clear_pointer (&sides->list, g_ptr_array_unref);
  sides->list = sb_fairness_list (sides->side[0], N, sides->side[1], N);
  assert_int_equal (sides->list->len, count);
}

static void
assert_entry (Sides *sides, guint at, const char *what, const char *reference, const char *other)
{
  const SbFairness *entry = g_ptr_array_index (sides->list, at);
  assert_string_equal (entry->what, what);
  assert_string_equal (entry->reference, reference);
  assert_string_equal (entry->other, other);
}

static void
assert_only (Sides *sides, const char *what, const char *reference, const char *other)
{
  assert_count (sides, 1);
  assert_entry (sides, 0, what, reference, other);
}

static void
sides_that_are_alike_give_an_empty_list (void **state)
{
  assert_count (*state, 0);
}

/* 8 N·m and 10 are no repeats of one step; 8 and 8.05 are within the 1 % that fairness.h gives. */
static void
repeats_of_different_tests_are_told (void **state)
{
  Sides *sides = *state;
  assert_null (sb_unlike_repeats (sides->side[0], N));
  sides->trial[0][1].command_top_nm = 8.05;
  sides->trial[0][1].mirrored = TRUE; /* turned over, it is a repeat */
  sides->trial[0][1].firmware = NULL; /* not stated is not another */
  assert_null (sb_unlike_repeats (sides->side[0], N));
  for (int i = 0; i < N; i++) {
    static const char *const runs[] = { "1", "2", "3" }, *const volts[] = { "24.0 V", "24.0 V", "24.3 V" };
    set (sides, 0, i, "run", runs[i], i + 1, "");                          /* numbers the repeats */
    set (sides, 0, i, "supply voltage", volts[i], i < 2 ? 24 : 24.3, "V"); /* within 2 % */
  }
  assert_null (sb_unlike_repeats (sides->side[0], N));
  sides->trial[0][1].command_top_nm = 10;
  sides->trial[0][2].firmware = newer;
  for (int i = 0; i < 2; i++)
    set (sides, 0, i, "slope", "2 N·m/ms", 2, "N·m/ms");
  set (sides, 0, 2, "slope", "3 N·m/ms", 3, "N·m/ms");
  g_autofree char *unlike = sb_unlike_repeats (sides->side[0], N);
  assert_string_equal (unlike, "command size: 8 and 10 N·m; firmware: 2.1 and 2.2; not stated in 1 of 3 trials; "
                               "slope: 2 N·m/ms and 3 N·m/ms");
  assert_null (sb_unlike_repeats (sides->side[0], 0));
}

static void
another_rotation_range_is_told (void **state)
{
  Sides *sides = *state;
  for (int i = 0; i < N; i++)
    sides->trial[1][i].rotation_deg = 900;
  assert_only (sides, "rotation range", "540 deg", "900 deg");
}

static void
a_side_that_disagrees_with_itself_says_so (void **state)
{
  Sides *sides = *state;
  sides->trial[0][1].rotation_deg = 90;
  assert_only (sides, "rotation range", "90 and 540 deg", "540 deg");
  sides->trial[1][2].rotation_deg = 90;
  sides->trial[0][2].rotation_deg = 360;
  assert_only (sides, "rotation range", "90, 360 and 540 deg", "90 and 540 deg");
}

static void
what_is_stated_in_some_trials_only_is_told (void **state)
{
  Sides *sides = *state;
  sides->trial[1][0].rotation_deg = (double) NAN;
  assert_only (sides, "rotation range", "540 deg", "540 deg; not stated in 1 of 3 trials");
  for (int i = 0; i < N; i++)
    sides->trial[1][i].rotation_deg = (double) NAN;
  assert_only (sides, "rotation range", "540 deg", "not stated");
}

/* 0.9 % apart is alike, 1.1 % is not. */
static void
rates_and_commands_count_from_one_per_cent (void **state)
{
  Sides *sides = *state;
  for (int i = 0; i < N; i++) {
    sides->trial[1][i].sample_interval_s = 0.0005 / 1.009;
    sides->trial[1][i].command_top_nm = 8 * 1.009;
  }
  assert_count (sides, 0);
  for (int i = 0; i < N; i++) {
    sides->trial[1][i].sample_interval_s = 0.00005;
    sides->trial[1][i].command_base_nm = -0.5;
  }
  assert_count (sides, 2);
  assert_entry (sides, 0, "sample rate", "2000 Hz", "20000 Hz");
  assert_entry (sides, 1, "command size", "8 N·m", "8.572 N·m");
}

static void
device_firmware_and_inertia_are_told (void **state)
{
  Sides *sides = *state;
  for (int i = 0; i < N; i++) {
    sides->trial[1][i].firmware = newer;
    sides->trial[0][i].inertia_kg_m2 = 0.0042;
    sides->trial[1][i].inertia_kg_m2 = 0.005;
  }
  sides->trial[1][2].device = NULL;
  assert_count (sides, 3);
  assert_entry (sides, 0, "inertia", "0.0042 kg·m²", "0.005 kg·m²");
  assert_entry (sides, 1, "device", "Drive K", "Drive K; not stated in 1 of 3 trials");
  assert_entry (sides, 2, "firmware", "2.1", "2.2");
}

static void
numbers_of_repeats_are_told (void **state)
{
  Sides *sides = *state;
  sides->list = sb_fairness_list (sides->side[0], N, sides->side[1], 1);
  assert_int_equal (sides->list->len, 1);
  assert_entry (sides, 0, "repeats", "3 repeats", "1 repeat");
}

static void
filters_are_told_unless_both_sides_have_them_at_zero (void **state)
{
  Sides *sides = *state;
  set_all (sides, 0, "damping", "0 %", 0, "%");
  set_all (sides, 1, "Damping", "0.0 %", 0, "%");
  set_all (sides, 0, "friction", "off", (double) NAN, "");
  set_all (sides, 1, "friction", "0", 0, "");
  assert_count (sides, 0);
  set_all (sides, 0, "smoothing filter", "3", 3, "");
  set_all (sides, 1, "smoothing filter", "3", 3, "");
  assert_only (sides, "smoothing filter, not at zero", "3", "3");
}

static void
filters_that_differ_are_told (void **state)
{
  Sides *sides = *state;
  set_all (sides, 0, "inertia", "0 %", 0, "%");
  set_all (sides, 1, "inertia", "20 %", 20, "%");
  assert_only (sides, "inertia", "0 %", "20 %");
}

/* One is what the comparison is about. */
static void
other_settings_are_told_when_more_than_one_differs (void **state)
{
  Sides *sides = *state;
  set_all (sides, 0, "torque slope", "0.6 N·m/ms", 0.6, "N·m/ms");
  set_all (sides, 1, "torque slope", "4 N·m/ms", 4, "N·m/ms");
  set_all (sides, 0, "strength", "100 %", 100, "%");
  set_all (sides, 1, "strength", "100.0 %", 100, "%");
  assert_count (sides, 0);
  set_all (sides, 0, "rim", "320 mm", 320, "mm");
  set_all (sides, 1, "rim", "280 mm", 280, "mm");
  assert_count (sides, 2);
  assert_entry (sides, 0, "torque slope", "0.6 N·m/ms", "4 N·m/ms");
  assert_entry (sides, 1, "rim", "320 mm", "280 mm");
}

/* A supply is not what a comparison of settings is about: it is told beside the one that is, and alone. */
static void
another_supply_is_told_in_any_case (void **state)
{
  Sides *sides = *state;
  set_all (sides, 0, "Supply voltage", "48 V", 48, "V");
  set_all (sides, 1, "Supply voltage", "36 V", 36, "V");
  assert_only (sides, "Supply voltage", "48 V", "36 V");
  set_all (sides, 0, "torque slope", "0.6 N·m/ms", 0.6, "N·m/ms");
  set_all (sides, 1, "torque slope", "4 N·m/ms", 4, "N·m/ms");
  assert_only (sides, "Supply voltage", "48 V", "36 V");
}

#define FAIRNESS_TEST(name) cmocka_unit_test_setup_teardown (name, setup, teardown)

static void
a_shorter_active_window_is_told (void **state)
{
  Sides *sides = *state;
  for (int i = 0; i < N; i++) {
    sides->trial[0][i].active_end_s = 0.6;
    sides->trial[1][i].active_end_s = 0.3;
  }
  assert_count (sides, 1);
  const SbFairness *fairness = g_ptr_array_index (sides->list, 0);
  assert_string_equal (fairness->what, "length of the active window");
  assert_string_equal (fairness->reference, "600 ms");
  assert_string_equal (fairness->other, "300 ms");
}

static void
steps_in_opposite_directions_are_told (void **state)
{
  Sides *sides = *state;
  for (int i = 0; i < N; i++)
    sides->trial[1][i].mirrored = TRUE;
  assert_count (sides, 1);
  const SbFairness *fairness = g_ptr_array_index (sides->list, 0);
  assert_string_equal (fairness->reference, "up");
  assert_string_equal (fairness->other, "down");
}

static void
onsets_from_different_sources_are_told (void **state)
{
  Sides *sides = *state;
  for (int i = 0; i < N; i++)
    sides->trial[1][i].onset_from = SB_ONSET_FROM_TORQUE;
  assert_count (sides, 1);
  const SbFairness *fairness = g_ptr_array_index (sides->list, 0);
  assert_string_equal (fairness->other, "torque");
}

/* One log on both sides is one repeat; two steps of a log are two. */
static void
repeats_that_stand_on_both_sides_are_told (void **state)
{
  Sides *sides = *state;
  for (int i = 0; i < N; i++)
    for (int s = 0; s < 2; s++) {
      g_snprintf (sides->trial[s][i].sha256, 65, "%d%d", s, i);
      sides->trial[s][i].active_end_s = 0.3;
    }
  assert_count (sides, 0);
  g_strlcpy (sides->trial[1][2].sha256, "00", 65);
  assert_only (sides, "repeats that stand on both sides", "1 of 3", "1 of 3");
  sides->trial[1][2].onset_s = 0.3; /* the next step of that log */
  assert_count (sides, 0);
}

/* The same logs in another order: nothing can differ, and that comes before what else is told. */
static void
the_same_recordings_on_both_sides_are_told_first (void **state)
{
  Sides *sides = *state;
  for (int i = 0; i < N; i++)
    for (int s = 0; s < 2; s++) {
      g_snprintf (sides->trial[s][i].sha256, 65, "%d", s == 0 ? i : N - 1 - i);
      sides->trial[s][i].active_end_s = 0.3;
    }
  set_all (sides, 0, "damping", "3 %", 3, "%");
  set_all (sides, 1, "damping", "3 %", 3, "%");
  assert_count (sides, 2);
  const SbFairness *first = g_ptr_array_index (sides->list, 0), *second = g_ptr_array_index (sides->list, 1);
  assert_true (first->same);
  assert_false (second->same);
  g_autofree char *text = sb_fairness_text (first);
  assert_string_equal (text, "both sides are the same recordings; any difference is zero by construction");
  assert_string_equal (sb_fairness_heading (first), "The same");
}

/* An onset placed by hand on one side makes another repeat of the log: figures may differ. */
static void
the_same_logs_cut_otherwise_are_not_the_same_recordings (void **state)
{
  Sides *sides = *state;
  for (int i = 0; i < N; i++)
    for (int s = 0; s < 2; s++) {
      g_snprintf (sides->trial[s][i].sha256, 65, "%d", i);
      sides->trial[s][i].active_end_s = 0.3;
    }
  sides->trial[1][0].onset_s = 0.001;
  assert_only (sides, "repeats that stand on both sides", "3 of 3", "3 of 3");
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    FAIRNESS_TEST (the_same_recordings_on_both_sides_are_told_first),
    FAIRNESS_TEST (the_same_logs_cut_otherwise_are_not_the_same_recordings),
    FAIRNESS_TEST (repeats_that_stand_on_both_sides_are_told),
    FAIRNESS_TEST (a_shorter_active_window_is_told),
    FAIRNESS_TEST (steps_in_opposite_directions_are_told),
    FAIRNESS_TEST (onsets_from_different_sources_are_told),
    FAIRNESS_TEST (sides_that_are_alike_give_an_empty_list),
    FAIRNESS_TEST (repeats_of_different_tests_are_told),
    FAIRNESS_TEST (another_rotation_range_is_told),
    FAIRNESS_TEST (a_side_that_disagrees_with_itself_says_so),
    FAIRNESS_TEST (what_is_stated_in_some_trials_only_is_told),
    FAIRNESS_TEST (rates_and_commands_count_from_one_per_cent),
    FAIRNESS_TEST (device_firmware_and_inertia_are_told),
    FAIRNESS_TEST (numbers_of_repeats_are_told),
    FAIRNESS_TEST (filters_are_told_unless_both_sides_have_them_at_zero),
    FAIRNESS_TEST (filters_that_differ_are_told),
    FAIRNESS_TEST (other_settings_are_told_when_more_than_one_differs),
    FAIRNESS_TEST (another_supply_is_told_in_any_case),
  };
  return cmocka_run_group_tests_name ("fairness", tests, NULL, NULL);
}
