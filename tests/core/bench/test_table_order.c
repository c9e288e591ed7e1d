/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Rows and columns of the measures table, of results that the test makes up. */
#include "bench_fixture.h"
#include "results.h"
#include "session.h"
#include "table_order.h"

/* Three configurations whose peak torque is 6, 4 and 5 N·m, the first two
 * compared, in peak torque (p = 0.2, g = 0.5), dead time (p = 0.01, g = −3) and overshoot (p = 0.03, g = 1). */
typedef struct {
  SbAnalysis analysis;
  SbConfigurationResult configuration[3];
  SbSummary summary[3];
  SbComparison comparison;
} Table;

static void
set_comparison (Table *table, SbMeasureId id, double p, double g)
{
  table->comparison.measure[id].present = TRUE;
  table->comparison.measure[id].p_holm = p;
  table->comparison.measure[id].hedges_g = g;
}

static Table *
make_table (BenchFixture *fixture)
{
  static const double peak_nm[] = { 6, 4, 5 };
  Table *table = g_new0 (Table, 1);
  g_ptr_array_add (fixture->strings, table); /* freed with them */
  table->analysis.bench = fixture->bench;
  table->analysis.configurations = g_ptr_array_new ();
  for (int c = 0; c < 3; c++) {
    table->configuration[c].drawn = TRUE;
    table->configuration[c].summary = &table->summary[c];
    table->summary[c].measure[SB_MEASURE_PEAK_TORQUE].present = TRUE;
    table->summary[c].measure[SB_MEASURE_PEAK_TORQUE].mean = peak_nm[c];
    g_ptr_array_add (table->analysis.configurations, &table->configuration[c]);
  }
  table->analysis.comparison = &table->comparison;
  set_comparison (table, SB_MEASURE_PEAK_TORQUE, 0.2, 0.5);
  set_comparison (table, SB_MEASURE_DEAD_TIME, 0.01, -3);
  set_comparison (table, SB_MEASURE_OVERSHOOT, 0.03, 1);
  return table;
}

static void
rows_are_as_defined_unless_chosen (void **state)
{
  Table *table = make_table (*state);
  SbMeasureId rows[SB_N_MEASURES];
  gsize n = sb_table_rows (&table->analysis, rows);
  g_ptr_array_unref (table->analysis.configurations);
  assert_int_equal (n, SB_N_MEASURES);
  for (int m = 0; m < SB_N_MEASURES; m++)
    assert_int_equal (rows[m], m);
}

static void
rows_by_p_begin_with_the_smallest_and_keep_the_rest_in_order (void **state)
{
  BenchFixture *fixture = *state;
  Table *table = make_table (fixture);
  fixture->bench->table.rows = SB_ROWS_BY_P;
  SbMeasureId rows[SB_N_MEASURES];
  sb_table_rows (&table->analysis, rows);
  g_ptr_array_unref (table->analysis.configurations);
  assert_int_equal (rows[0], SB_MEASURE_DEAD_TIME);
  assert_int_equal (rows[1], SB_MEASURE_OVERSHOOT);
  assert_int_equal (rows[2], SB_MEASURE_PEAK_TORQUE);
  for (int r = 4; r < SB_N_MEASURES; r++)
    assert_true (rows[r - 1] < rows[r]);
}

static void
rows_by_effect_begin_with_the_largest_of_either_sign (void **state)
{
  BenchFixture *fixture = *state;
  Table *table = make_table (fixture);
  fixture->bench->table.rows = SB_ROWS_BY_EFFECT;
  fixture->bench->table.hidden = 1u << SB_MEASURE_OVERSHOOT;
  SbMeasureId rows[SB_N_MEASURES];
  gsize n = sb_table_rows (&table->analysis, rows);
  g_ptr_array_unref (table->analysis.configurations);
  assert_int_equal (n, SB_N_MEASURES - 1);
  assert_int_equal (rows[0], SB_MEASURE_DEAD_TIME);
  assert_int_equal (rows[1], SB_MEASURE_PEAK_TORQUE);
}

static void
rows_by_name_are_in_the_order_of_letters (void **state)
{
  BenchFixture *fixture = *state;
  Table *table = make_table (fixture);
  fixture->bench->table.rows = SB_ROWS_BY_NAME;
  SbMeasureId rows[SB_N_MEASURES];
  sb_table_rows (&table->analysis, rows);
  g_ptr_array_unref (table->analysis.configurations);
  for (int r = 1; r < SB_N_MEASURES; r++)
    assert_true (strcmp (sb_measure_info (rows[r - 1])->name, sb_measure_info (rows[r])->name) < 0);
}

/* Means 6, 4, 5; then the second has none and comes last either way. */
static void
configurations_follow_the_mean_of_the_measure (void **state)
{
  BenchFixture *fixture = *state;
  Table *table = make_table (fixture);
  fixture->bench->table.columns_by = SB_MEASURE_PEAK_TORQUE;
  fixture->bench->table.columns = SB_COLUMNS_RISING;
  g_autoptr (GArray) rising = sb_table_configurations (&table->analysis);
  fixture->bench->table.columns = SB_COLUMNS_FALLING;
  table->summary[1].measure[SB_MEASURE_PEAK_TORQUE].present = FALSE;
  g_autoptr (GArray) falling = sb_table_configurations (&table->analysis);
  fixture->bench->table.columns = SB_COLUMNS_AS_LISTED;
  table->configuration[0].drawn = FALSE;
  g_autoptr (GArray) listed = sb_table_configurations (&table->analysis);
  g_ptr_array_unref (table->analysis.configurations);
  const guint *up = (const guint *) (gconstpointer) rising->data, *down = (const guint *) (gconstpointer) falling->data;
  const guint *as_listed = (const guint *) (gconstpointer) listed->data;
  gboolean right = up[0] == 1 && up[1] == 2 && up[2] == 0 && down[0] == 0 && down[1] == 2 && down[2] == 1
                   && listed->len == 2 && as_listed[0] == 1 && as_listed[1] == 2;
  assert_true (right);
}

static void
units_and_table_come_back_from_the_session (void **state)
{
  BenchFixture *fixture = *state;
  const char *path = path_in (fixture, "bench.slewbench");
  fixture->bench->units = (SbUnits){ SB_SLOPE_UNIT_PER_S, SB_VELOCITY_UNIT_DEG_PER_S };
  fixture->bench->table = (SbTableChoices){ .hidden = 1u << SB_MEASURE_UNDERSHOOT | 1u << SB_MEASURE_DEAD_TIME,
                                            .rows = SB_ROWS_BY_EFFECT,
                                            .columns = SB_COLUMNS_FALLING,
                                            .columns_by = SB_MEASURE_DEAD_TIME };
  assert_true (sb_session_save (fixture->bench, NULL, path, &fixture->error));
  fixture->other_bench = sb_session_load (path, &fixture->error);
  assert_non_null (fixture->other_bench);
  assert_memory_equal (&fixture->other_bench->table, &fixture->bench->table, sizeof (SbTableChoices));
  assert_memory_equal (&fixture->other_bench->units, &fixture->bench->units, sizeof (SbUnits));
}

static void
table_that_hides_every_measure_hides_none (void **state)
{
  BenchFixture *fixture = *state;
  const char *path = path_in (fixture, "bench.slewbench");
  fixture->bench->table.hidden = (1u << SB_N_MEASURES) - 1;
  assert_true (sb_session_save (fixture->bench, NULL, path, &fixture->error));
  fixture->other_bench = sb_session_load (path, &fixture->error);
  assert_non_null (fixture->other_bench);
  assert_int_equal (fixture->other_bench->table.hidden, 0);
}

/* The torque of the log rises by 8 N·m in 20 ms: 400 N·m/s from 10 to 90 %. */
static void
printed_table_has_the_units_and_rows_that_are_chosen (void **state)
{
  BenchFixture *fixture = *state;
  const char *logs[] = { write_step (fixture, "a/run-1.csv", STEP_LOG) };
  sb_bench_add_configuration (fixture->bench, "a", logs, 1);
  fixture->bench->units.slope = SB_SLOPE_UNIT_PER_S;
  fixture->bench->table.hidden = ~(1u << SB_MEASURE_MEAN_TORQUE_SLOPE) & ((1u << SB_N_MEASURES) - 1);
  fixture->analysis = sb_analysis_run (fixture->bench, NULL, SB_ANALYSIS_DEFAULT, NULL, NULL, NULL, &fixture->error);
  assert_non_null (fixture->analysis);
  const char *text = keep (fixture, sb_results_table_text (fixture->analysis));
  assert_non_null (strstr (text, "Mean torque slope [N·m/s]"));
  assert_non_null (strstr (text, "400"));
  assert_null (strstr (text, "Peak torque"));
  const char *csv = keep (fixture, sb_results_table_csv (fixture->analysis));
  assert_non_null (strstr (csv, "\"a\",peak_torque_slope,\"N·m/s\","));
  const char *json = keep (fixture, sb_results_json (fixture->analysis));
  assert_non_null (strstr (json, "\"slope_unit\" : \"N·m/s\""));
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    bench_test (rows_are_as_defined_unless_chosen),
    bench_test (rows_by_p_begin_with_the_smallest_and_keep_the_rest_in_order),
    bench_test (rows_by_effect_begin_with_the_largest_of_either_sign),
    bench_test (rows_by_name_are_in_the_order_of_letters),
    bench_test (configurations_follow_the_mean_of_the_measure),
    bench_test (units_and_table_come_back_from_the_session),
    bench_test (table_that_hides_every_measure_hides_none),
    bench_test (printed_table_has_the_units_and_rows_that_are_chosen),
  };
  return cmocka_run_group_tests (tests, NULL, NULL);
}
