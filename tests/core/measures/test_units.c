/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Units that figures are shown in. One turn a second is 2π rad/s, 60 turns a minute and 360 degrees a second; 2 N·m in
 * a thousandth of a second are 2000 N·m in one. */
#include "close.h"
#include "doubt.h"
#include "measure_table.h"
#include "units.h"

#include <glib.h>
#include <math.h>

static const SbUnits other = { SB_SLOPE_UNIT_PER_S, SB_VELOCITY_UNIT_RPM };

static void
one_turn_a_second_is_60_rpm_and_360_degrees (void **state)
{
  double turn = 2 * G_PI;
  SbUnits rpm = { .velocity = SB_VELOCITY_UNIT_RPM }, deg = { .velocity = SB_VELOCITY_UNIT_DEG_PER_S };
  assert_close (turn * sb_channel_shown_unit (SB_CHANNEL_VELOCITY, (SbUnits){ 0 }).factor, turn, 0);
  assert_close (turn * sb_channel_shown_unit (SB_CHANNEL_VELOCITY, rpm).factor, 60, 1e-12);
  assert_close (turn * sb_measure_shown_unit (SB_MEASURE_MEAN_VELOCITY, deg).factor, 360, 1e-12);
}

static void
slope_is_shown_over_the_chosen_time (void **state)
{
  assert_close (2000 * sb_measure_shown_unit (SB_MEASURE_PEAK_TORQUE_SLOPE, (SbUnits){ 0 }).factor, 2, 1e-12);
  assert_close (2000 * sb_measure_shown_unit (SB_MEASURE_MEAN_TORQUE_SLOPE, other).factor, 2000, 0);
}

static void
units_chosen_change_no_other_measure (void **state)
{
  for (int m = 0; m < SB_N_MEASURES; m++) {
    const SbMeasureInfo *info = sb_measure_info ((SbMeasureId) m);
    gboolean chosen = g_str_equal (info->unit, "N·m/s") || g_str_equal (info->unit, "rad/s");
    SbShownUnit usual = sb_measure_shown_unit ((SbMeasureId) m, (SbUnits){ 0 });
    assert_string_equal (usual.name, info->display_unit);
    assert_close (usual.factor, info->display_factor, 0);
    assert_int_equal (g_str_equal (sb_measure_shown_unit ((SbMeasureId) m, other).name, usual.name), !chosen);
  }
}

/* 2.5 N·m/ms ± 0.2: two digits of the uncertainty, which is ± 200 in N·m/s. */
static void
figure_is_rounded_in_the_unit_shown (void **state)
{
  char *per_ms = sb_measure_format_in (SB_MEASURE_PEAK_TORQUE_SLOPE, (SbUnits){ 0 }, 2504, 200, TRUE);
  char *per_s = sb_measure_format_in (SB_MEASURE_PEAK_TORQUE_SLOPE, other, 2504, 200, TRUE);
  gboolean as_expected = g_str_equal (per_ms, "2.50 N·m/ms") && g_str_equal (per_s, "2500 N·m/s");
  if (!as_expected)
    print_error ("%s, %s\n", per_ms, per_s);
  g_free (per_ms);
  g_free (per_s);
  assert_true (as_expected);
}

static void
assert_written (const SbDoubt *doubt, SbUnits units, const char *expected)
{
  g_autofree char *text = sb_doubt_text (doubt, units);
  assert_string_equal (text, expected);
}

/* 12.345 N·m/s, and a turn a second to three digits: 6.28 rad/s, 60 rpm, 360 deg/s. Large numbers are written out. */
static void
doubts_are_written_in_the_units_shown (void **state)
{
  SbUnits deg = { SB_SLOPE_UNIT_PER_MS, SB_VELOCITY_UNIT_DEG_PER_S };
  g_autofree char *slope = sb_figure (SB_MEASURE_PEAK_TORQUE_SLOPE, 12.345, 2);
  g_autofree char *velocity = sb_figure (SB_MEASURE_PEAK_VELOCITY, 2 * G_PI, 3);
  g_autofree char *large = sb_figure (SB_MEASURE_MEAN_TORQUE_SLOPE, 123456, 3);
  SbDoubt *doubt = sb_doubt_new (SB_DOUBT_TOLD, g_strdup_printf ("%s, %s, %s: -1.5", slope, velocity, large));
  assert_string_equal (doubt->text, "0.012 N·m/ms, 6.28 rad/s, 123 N·m/ms: -1.5");
  assert_written (doubt, (SbUnits){ 0 }, doubt->text);
  assert_written (doubt, other, "12 N·m/s, 60 rpm, 123000 N·m/s: -1.5");
  assert_written (doubt, deg, "0.012 N·m/ms, 360 deg/s, 123 N·m/ms: -1.5");
  sb_doubt_free (doubt);
}

/* A sentence may quote a log: what only begins as a mark does stays as it is, byte for byte, and the mark behind it is
 * read. There are fewer than 99 measures. */
static void
what_is_no_whole_mark_stays_text (void **state)
{
  static const char *const foreign[] = { "\x02",
                                         "\x02"
                                         "9",
                                         "\x02"
                                         "99;1;1\x03",
                                         "\x02"
                                         "-1;1;1\x03",
                                         "\x02"
                                         "0;1;1",
                                         "\x02"
                                         "0;1;\x03",
                                         "\x02"
                                         "0;99;1\x03",
                                         "\x02;1;1\x03",
                                         "\x02"
                                         "0,1;1\x03",
                                         "\x02"
                                         "99999999999999999999;1;1\x03",
                                         "\x03" };
  g_autofree char *figure = sb_figure (SB_MEASURE_PEAK_VELOCITY, 2 * G_PI, 3);
  for (gsize i = 0; i < G_N_ELEMENTS (foreign); i++) {
    g_autofree char *alone = sb_figures_write (foreign[i], other);
    assert_string_equal (alone, foreign[i]);
    g_autofree char *marked = g_strdup_printf ("%s: %s", foreign[i], figure);
    g_autofree char *text = sb_figures_write (marked, other), *expected = g_strdup_printf ("%s: 60 rpm", foreign[i]);
    assert_string_equal (text, expected);
  }
}

static void
assert_as_one (const char *a, const char *b, const char *expected)
{
  g_autoptr (GPtrArray) sentences = g_ptr_array_new_with_free_func (g_free);
  g_ptr_array_add (sentences, g_strdup (a));
  g_ptr_array_add (sentences, g_strdup (b));
  g_autofree char *text = sb_figures_write_all (sentences, other);
  if (expected == NULL)
    assert_null (text);
  else
    assert_string_equal (text, expected);
}

/* 2π rad/s are 60 rpm, 4π are 120. */
static void
marked_figures_become_stretches (void **state)
{
  g_autofree char *turn = sb_figure (SB_MEASURE_PEAK_VELOCITY, 2 * G_PI, 3);
  g_autofree char *turns = sb_figure (SB_MEASURE_PEAK_VELOCITY, 4 * G_PI, 3);
  g_autofree char *three = sb_count_figure (3), *five = sb_count_figure (5);
  g_autofree char *a = g_strdup_printf ("in %s of 10 trials by %s, up to %s.", five, turn, turns);
  g_autofree char *b = g_strdup_printf ("in %s of 10 trials by %s, up to %s.", three, turns, turn);
  assert_as_one (a, b, "in 3 to 5 of 10 trials by 60 to 120 rpm, up to 120 rpm.");
  assert_as_one (a, a, "in 5 of 10 trials by 60 rpm, up to 120 rpm.");
  assert_as_one ("no figure", "no figure", "no figure");
}

/* Numbers that nobody marked may be names or versions; a quoted byte is no figure; figures of other measures, and those
 * of a stretch or below zero. */
static void
what_else_differs_is_not_one (void **state)
{
  g_autofree char *turn = sb_figure (SB_MEASURE_PEAK_VELOCITY, 2 * G_PI, 3);
  g_autofree char *turns = sb_figure (SB_MEASURE_PEAK_VELOCITY, 4 * G_PI, 3);
  g_autofree char *slope = sb_figure (SB_MEASURE_PEAK_TORQUE_SLOPE, 4 * G_PI, 3);
  g_autofree char *below = sb_figure (SB_MEASURE_PEAK_VELOCITY, -2 * G_PI, 3);
  g_autofree char *foreign = g_strdup_printf ("'\x1a' and \x02"
                                              "1;\x03 and %s",
                                              turn);
  g_autofree char *from = g_strdup_printf ("%s to 7", turn), *to = g_strdup_printf ("%s to 7", turns);
  assert_as_one ("firmware: 1.4", "firmware: 2.1", NULL);
  assert_as_one ("'torque 2 [V]'", "'torque 5 [V]'", NULL);
  assert_as_one (foreign, "'\x1a' and 1 and 60 rpm", NULL);
  assert_as_one (turn, slope, NULL);
  assert_as_one (turn, below, NULL);
  assert_as_one (from, to, NULL);
}

static void
word_chooses_the_unit_of_its_kind (void **state)
{
  SbUnits units = { 0 };
  assert_true (sb_units_read_word ("Nm/s", &units));
  assert_true (sb_units_read_word ("deg/s", &units));
  assert_int_equal (units.slope, SB_SLOPE_UNIT_PER_S);
  assert_int_equal (units.velocity, SB_VELOCITY_UNIT_DEG_PER_S);
  assert_true (sb_units_read_word ("N·m/ms", &units));
  assert_int_equal (units.slope, SB_SLOPE_UNIT_PER_MS);
  assert_int_equal (units.velocity, SB_VELOCITY_UNIT_DEG_PER_S);
  assert_false (sb_units_read_word ("N·m", &units));
  assert_false (sb_units_read_word ("", &units));
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    cmocka_unit_test (one_turn_a_second_is_60_rpm_and_360_degrees),
    cmocka_unit_test (slope_is_shown_over_the_chosen_time),
    cmocka_unit_test (units_chosen_change_no_other_measure),
    cmocka_unit_test (figure_is_rounded_in_the_unit_shown),
    cmocka_unit_test (doubts_are_written_in_the_units_shown),
    cmocka_unit_test (what_is_no_whole_mark_stays_text),
    cmocka_unit_test (marked_figures_become_stretches),
    cmocka_unit_test (what_else_differs_is_not_one),
    cmocka_unit_test (word_chooses_the_unit_of_its_kind),
  };
  return cmocka_run_group_tests (tests, NULL, NULL);
}
