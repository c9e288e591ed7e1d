/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The order of the table's columns and the words in its headings. Expected values follow from the rule in
 * measure_columns.h and from what each test sets. */
#include "bench_files.h"
#include "measure_columns.h"
#include "close.h"

#include <string.h>

typedef struct {
  char *folder;
  SbBench *bench;
  SbAnalysis *analysis;
  GArray *columns;
} Fixture;

/* Four configurations called a to d of a log each. */
static int
set_up (void **state)
{
  Fixture *fixture = g_new0 (Fixture, 1);
  fixture->folder = bench_files_folder_new ();
  fixture->bench = sb_bench_new ();
  static const char *const names[] = { "a", "b", "c", "d" };
  for (guint i = 0; i < G_N_ELEMENTS (names); i++) {
    g_autofree char *folder = bench_files_write_configuration (fixture->folder, names[i], 1, 4);
    g_autofree char *log = g_build_filename (folder, "run-1.csv", NULL);
    const char *const paths[] = { log };
    sb_bench_add_configuration (fixture->bench, names[i], paths, 1);
  }
  *state = fixture;
  return 0;
}

static int
tear_down (void **state)
{
  Fixture *fixture = *state;
  g_clear_pointer (&fixture->columns, g_array_unref);
  g_clear_pointer (&fixture->analysis, sb_analysis_unref);
  sb_bench_unref (fixture->bench);
  bench_files_folder_free (fixture->folder);
  g_free (fixture);
  return 0;
}

static void
analyse (Fixture *fixture)
{
  fixture->analysis = sb_analysis_run (fixture->bench, NULL, SB_ANALYSIS_DEFAULT, NULL, NULL, NULL, NULL);
  fixture->columns = sb_measure_columns_new (fixture->analysis);
}

static void
assert_order (Fixture *fixture, const char *const *words)
{
  guint n = 0;
  while (words[n] != NULL)
    n++;
  assert_int_equal (fixture->columns->len, n);
  for (guint i = 0; i < n; i++) {
    const SbMeasureColumn *column = &g_array_index (fixture->columns, SbMeasureColumn, i);
    assert_string_equal (sb_measure_column_word (column, fixture->analysis), words[i]);
  }
}

static void
the_compared_pair_comes_first_with_difference_and_verdict (void **state)
{
  Fixture *fixture = *state;
  fixture->bench->reference = 2;
  fixture->bench->other = 1;
  analyse (fixture);
  static const char *const words[] = { "c", "b", "difference", "verdict", "a", "d", NULL };
  assert_order (fixture, words);
}

static void
a_configuration_that_is_not_drawn_has_no_column (void **state)
{
  Fixture *fixture = *state;
  sb_bench_edit_configuration (fixture->bench, 1)->drawn = FALSE;
  sb_bench_edit_configuration (fixture->bench, 3)->drawn = FALSE;
  analyse (fixture); /* reference and other are the first two */
  static const char *const words[] = { "a", "difference", "verdict", "c", NULL };
  assert_order (fixture, words);
}

/* Neither column would say of what it is. */
static void
with_both_sides_hidden_there_is_neither_difference_nor_verdict (void **state)
{
  Fixture *fixture = *state;
  sb_bench_edit_configuration (fixture->bench, 0)->drawn = FALSE;
  sb_bench_edit_configuration (fixture->bench, 1)->drawn = FALSE;
  analyse (fixture);
  static const char *const words[] = { "c", "d", NULL };
  assert_order (fixture, words);
}

static void
the_tooltip_of_the_difference_names_both_sides (void **state)
{
  Fixture *fixture = *state;
  sb_bench_edit_configuration (fixture->bench, 1)->drawn = FALSE;
  analyse (fixture);
  g_autofree char *tooltip
      = sb_measure_column_tooltip (&g_array_index (fixture->columns, SbMeasureColumn, 1), fixture->analysis);
  assert_string_equal (tooltip, "Difference: b against a");
}

static void
without_a_pair_there_is_neither_difference_nor_verdict (void **state)
{
  Fixture *fixture = *state;
  fixture->bench->other = -1;
  analyse (fixture);
  static const char *const words[] = { "a", "b", "c", "d", NULL };
  assert_order (fixture, words);
}

static void
a_heading_says_the_role_and_the_number_of_trials (void **state)
{
  Fixture *fixture = *state;
  analyse (fixture);
  g_autofree char *reference
      = sb_measure_column_detail (&g_array_index (fixture->columns, SbMeasureColumn, 0), fixture->analysis);
  g_autofree char *third
      = sb_measure_column_detail (&g_array_index (fixture->columns, SbMeasureColumn, 4), fixture->analysis);
  assert_string_equal (reference, "reference\nn = 1");
  assert_string_equal (third, "n = 1");
}

/* Lines of at most 11 characters, broken between words. */
static void
a_long_heading_is_broken_between_words (void **state)
{
  Fixture *fixture = *state;
  SbConfiguration *first = sb_bench_edit_configuration (fixture->bench, 0);
  g_free (first->name);
  first->name = g_strdup ("Motor one slope 2");
  analyse (fixture);
  g_autofree char *heading
      = sb_measure_column_heading (&g_array_index (fixture->columns, SbMeasureColumn, 0), fixture->analysis);
  assert_string_equal (heading, "Motor one\nslope 2");
}

/* Of the measures without a unit of measurement only the damping ratio is a ratio; cycles are counted. */
static void
only_a_ratio_is_called_one (void **state)
{
  assert_string_equal (sb_measure_unit_words (SB_MEASURE_RINGING_DAMPING, (SbUnits){ 0 }), "ratio");
  assert_string_equal (sb_measure_unit_words (SB_MEASURE_RINGING_CYCLES, (SbUnits){ 0 }), "");
  assert_string_equal (sb_measure_unit_words (SB_MEASURE_TORQUE_SMOOTHNESS, (SbUnits){ 0 }), "");
  assert_string_equal (sb_measure_unit_words (SB_MEASURE_PEAK_TORQUE, (SbUnits){ 0 }), "N·m");
}

#define CASE(name) cmocka_unit_test_setup_teardown (name, set_up, tear_down)

int
main (void)
{
  const struct CMUnitTest tests[] = {
    CASE (the_compared_pair_comes_first_with_difference_and_verdict),
    CASE (a_configuration_that_is_not_drawn_has_no_column),
    CASE (with_both_sides_hidden_there_is_neither_difference_nor_verdict),
    CASE (the_tooltip_of_the_difference_names_both_sides),
    CASE (without_a_pair_there_is_neither_difference_nor_verdict),
    CASE (a_heading_says_the_role_and_the_number_of_trials),
    CASE (a_long_heading_is_broken_between_words),
    CASE (only_a_ratio_is_called_one),
  };
  return cmocka_run_group_tests (tests, NULL, NULL);
}
