/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Foot notes of the measures table: which configurations share one, and what it may say of all of them. */
#include "bench_fixture.h"
#include "doubt.h"
#include "results_notes.h"

#define MOST 6

/* Configurations with a doubt of the peak velocity each; "Fern", "Moss", "Oak", ... */
typedef struct {
  SbAnalysis analysis;
  SbConfigurationResult configuration[MOST];
  SbSummary summary[MOST];
} Table;

static Table *
make_table (BenchFixture *fixture, int n)
{
  static const char *const names[MOST] = { "Fern", "Moss", "Oak", "Yew", "Elm", "Rush" };
  Table *table = g_new0 (Table, 1);
  g_ptr_array_add (fixture->strings, table); /* freed with them */
  table->analysis.bench = fixture->bench;
  table->analysis.configurations = g_ptr_array_new ();
  for (int c = 0; c < n; c++) {
    SbMeasureSummary *measure = &table->summary[c].measure[SB_MEASURE_PEAK_VELOCITY];
    table->configuration[c] = (SbConfigurationResult){ .name = g_strdup (names[c]), .drawn = TRUE };
    table->configuration[c].summary = &table->summary[c];
    measure->present = TRUE;
    measure->doubts = g_ptr_array_new_with_free_func (sb_doubt_free);
    g_ptr_array_add (fixture->strings, table->configuration[c].name);
    g_ptr_array_add (table->analysis.configurations, &table->configuration[c]);
  }
  return table;
}

static void
doubt (Table *table, int c, const char *format, const char *figure)
{
  g_autoptr (GString) text = g_string_new (format);
  g_string_replace (text, "%s", figure, 0);
  g_ptr_array_add (table->summary[c].measure[SB_MEASURE_PEAK_VELOCITY].doubts,
                   sb_doubt_new (SB_DOUBT_TOLD, g_strdup (text->str)));
}

static void
assert_notes (Table *table, const char *const *expected, guint n)
{
  g_autoptr (SbResultNotes) notes = sb_result_notes_new (&table->analysis, FALSE);
  assert_int_equal (sb_result_notes_count (notes), n);
  for (guint i = 0; i < n; i++) {
    g_autofree char *text = sb_result_notes_text (notes, i);
    assert_string_equal (text, expected[i]);
  }
}

static void
clear (Table *table)
{
  for (guint c = 0; c < table->analysis.configurations->len; c++)
    g_ptr_array_unref (table->summary[c].measure[SB_MEASURE_PEAK_VELOCITY].doubts);
  g_ptr_array_unref (table->analysis.configurations);
}

static void
marked_figures_are_told_from_the_smallest_to_the_largest (void **state)
{
  static const double velocities_rad_s[] = { 4.5, 5.25, 4.75 };
  static const char *const expected[] = { "All 3 configurations, peak velocity: raised: by 4.5 to 5.25 rad/s." };
  Table *table = make_table (*state, 3);
  for (int c = 0; c < 3; c++) {
    g_autofree char *by = sb_figure (SB_MEASURE_PEAK_VELOCITY, velocities_rad_s[c], 3);
    doubt (table, c, "raised: by %s", by);
  }
  assert_notes (table, expected, 1);
  clear (table);
}

/* A number that is not marked may be a version: no stretch is made up of it. */
static void
of_other_numbers_those_of_one_are_told (void **state)
{
  static const char *const firmwares[] = { "1.9", "2.1", "1.10" };
  static const char *const expected[]
      = { "All 3 configurations, peak velocity: mixed: firmware 1.9 (figures of Fern; others have others)." };
  Table *table = make_table (*state, 3);
  for (int c = 0; c < 3; c++)
    doubt (table, c, "mixed: firmware %s", firmwares[c]);
  assert_notes (table, expected, 1);
  clear (table);
}

static void
figures_of_a_first_trial_are_those_of_its_configuration (void **state)
{
  static const char *const expected[]
      = { "Fern and Moss, peak velocity: noisy: 5 ms (figures of the first of them, of Fern; others have others)." };
  Table *table = make_table (*state, 2);
  doubt (table, 0, "noisy: %s ms (figures of the first of them)", "5");
  doubt (table, 1, "noisy: %s ms (figures of the first of them)", "6");
  assert_notes (table, expected, 1);
  clear (table);
}

static void
names_in_quotes_stay_apart (void **state)
{
  static const char *const expected[] = { "Fern, peak velocity: read from column 'torque 2 [V]'.",
                                          "Moss, peak velocity: read from column 'torque 5 [V]'." };
  Table *table = make_table (*state, 2);
  doubt (table, 0, "read from column '%s'", "torque 2 [V]");
  doubt (table, 1, "read from column '%s'", "torque 5 [V]");
  assert_notes (table, expected, 2);
  clear (table);
}

/* What a log's name may hold stands for no figure: nothing is looked for behind it. */
static void
odd_bytes_of_names_are_no_figures (void **state)
{
  static const char *const expected[]
      = { "Fern and Moss, peak velocity: as in \x1a, 7 and 7 (figures of Fern; others have others)." };
  Table *table = make_table (*state, 2);
  doubt (table, 0, "as in %s, 7 and 7", "\x1a");
  doubt (table, 1, "as in %s, \x1a and \x1a", "5");
  assert_notes (table, expected, 1);
  clear (table);
}

static void
all_is_not_said_where_some_are_not_shown (void **state)
{
  static const char *const of_six[] = { "All 3 configurations shown, peak velocity: coarse." };
  static const char *const of_three[] = { "All 3 configurations, peak velocity: coarse." };
  Table *table = make_table (*state, 6);
  for (int c = 0; c < 6; c++)
    doubt (table, c, "coarse", "");
  for (int c = 3; c < 6; c++)
    table->configuration[c].drawn = FALSE;
  assert_notes (table, of_six, 1);
  for (int c = 3; c < 6; c++)
    table->configuration[c].summary = NULL;
  assert_notes (table, of_three, 1);
  clear (table);
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    bench_test (marked_figures_are_told_from_the_smallest_to_the_largest),
    bench_test (of_other_numbers_those_of_one_are_told),
    bench_test (figures_of_a_first_trial_are_those_of_its_configuration),
    bench_test (names_in_quotes_stay_apart),
    bench_test (odd_bytes_of_names_are_no_figures),
    bench_test (all_is_not_said_where_some_are_not_shown),
  };
  return cmocka_run_group_tests (tests, NULL, NULL);
}
