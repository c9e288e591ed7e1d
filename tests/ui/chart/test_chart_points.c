/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Spread and sweep as data: positions, means, intervals and trends by algebra, no pixel. */
#include "chart_fixture.h"

#include "doubt.h"
#include "point_at.h"

#include <string.h>

static const SampleConfiguration two[] = {
  { .name = "Low", .n_trials = 3, .level_nm = 10, .setting = "0.3 N·m/ms" },
  { .name = "High", .n_trials = 3, .level_nm = 12, .setting = "2 N·m/ms" },
};

/* N·m/s; means 300 and 2000. */
static const double low[] = { 290, 300, 310 }, high[] = { 1900, 2000, 2100 };

/* Student's t for 95 % two-sided, 2 degrees of freedom: NIST/SEMATECH e-Handbook, 1.3.6.7.2 (4.303), with more digits
 * from t = √(2 p² / (1 − p²)), p = 0.95, which is exact for 2 degrees of freedom. */
#define T_2 4.302652729749464

static void
make_view (ChartFixture *fixture, SbView view, const SampleConfiguration *configurations, gsize n)
{
  fixture->bench->chart.view = view;
  make_analysis (fixture, configurations, n);
}

static void
finish (ChartFixture *fixture)
{
  g_clear_pointer (&fixture->model, sb_chart_model_unref);
  fixture->model = sb_chart_model_new (fixture->analysis, -1);
}

static void
make_two (ChartFixture *fixture, SbView view)
{
  make_view (fixture, view, two, 2);
  sample_set_figures (fixture->analysis, 0, SB_MEASURE_PEAK_TORQUE_SLOPE, low);
  sample_set_figures (fixture->analysis, 1, SB_MEASURE_PEAK_TORQUE_SLOPE, high);
  finish (fixture);
}

static const SbPoint *
point_of (const ChartFixture *fixture, guint panel, guint i)
{
  assert_true (i < panel_of (fixture, panel)->points->len);
  return &g_array_index (panel_of (fixture, panel)->points, SbPoint, i);
}

static const SbMeanMark *
mean_of (const ChartFixture *fixture, guint panel, guint i)
{
  assert_true (i < panel_of (fixture, panel)->means->len);
  return &g_array_index (panel_of (fixture, panel)->means, SbMeanMark, i);
}

static const SbRule *
rule_of (const ChartFixture *fixture, guint panel, guint i)
{
  assert_true (i < panel_of (fixture, panel)->rules->len);
  return &g_array_index (panel_of (fixture, panel)->rules, SbRule, i);
}

static void
spread_has_a_row_for_each_configuration_and_a_point_for_each_repeat (void **state)
{
  ChartFixture *fixture = *state;
  make_two (fixture, SB_VIEW_SPREAD);
  assert_int_equal (fixture->model->panels->len, 1);
  assert_string_equal (panel_of (fixture, 0)->label, "Peak torque slope [N·m/ms]");
  assert_int_equal (fixture->model->rows->len, 2);
  assert_string_equal (g_array_index (fixture->model->rows, SbRow, 1).name, "High");
  assert_int_equal (panel_of (fixture, 0)->points->len, 6);
  for (guint i = 0; i < 6; i++) {
    const SbPoint *point = point_of (fixture, 0, i);
    assert_close (point->value, (i < 3 ? low[i] : high[i - 3]) / 1000, 1e-12);
    assert_int_equal (point->trial, i % 3);
    assert_true (point->at > i / 3 && point->at < i / 3 + 1);
  }
}

/* s of a - d, a, a + d is d; the half width of the interval is t d / √3. */
static void
mean_has_the_interval_after_student (void **state)
{
  ChartFixture *fixture = *state;
  make_two (fixture, SB_VIEW_SPREAD);
  assert_int_equal (panel_of (fixture, 0)->means->len, 2);
  const SbMeanMark *mark = mean_of (fixture, 0, 1);
  assert_close (mark->mean, 2, 1e-12);
  assert_close (mark->low, 2 - T_2 * 0.1 / sqrt (3), 1e-9);
  assert_close (mark->high, 2 + T_2 * 0.1 / sqrt (3), 1e-9);
  assert_int_equal (mark->n, 3);
}

/* What stands in the table with a question mark stands in the chart with one, and why is said once. */
static void
figure_in_doubt_is_marked_in_spread_and_sweep (void **state)
{
  ChartFixture *fixture = *state;
  make_two (fixture, SB_VIEW_SPREAD);
  assert_false (mean_of (fixture, 0, 1)->doubted);
  assert_null (strstr (fixture->model->foot, "in doubt"));
  SbMeasureSummary *summary
      = &sb_analysis_configuration (fixture->analysis, 1)->summary->measure[SB_MEASURE_PEAK_TORQUE_SLOPE];
  summary->doubts = g_ptr_array_new_with_free_func (sb_doubt_free);
  for (int i = 0; i < 2; i++)
    g_ptr_array_add (summary->doubts, sb_doubt_new (SB_DOUBT_TOLD, g_strdup ("raised by noise: so much")));
  static const SbView views[] = { SB_VIEW_SPREAD, SB_VIEW_SWEEP };
  for (gsize v = 0; v < G_N_ELEMENTS (views); v++) {
    fixture->analysis->bench->chart.view = views[v];
    finish (fixture);
    assert_int_equal (panel_of (fixture, 0)->means->len, 2);
    assert_false (mean_of (fixture, 0, 0)->doubted);
    assert_true (mean_of (fixture, 0, 1)->doubted);
    assert_non_null (strstr (fixture->model->foot, "? in doubt: raised by noise. "));
  }
}

static void
value_range_takes_in_points_and_intervals (void **state)
{
  ChartFixture *fixture = *state;
  make_two (fixture, SB_VIEW_SPREAD);
  const SbChartPanel *panel = panel_of (fixture, 0);
  assert_true (panel->y_max > mean_of (fixture, 0, 1)->high);
  assert_true (panel->y_min < 0); /* figures from 0.3 to 2 take up most of the way from zero */
}

static void
value_range_leaves_zero_out_when_it_is_far (void **state)
{
  ChartFixture *fixture = *state;
  make_view (fixture, SB_VIEW_SPREAD, two, 1);
  sample_set_figures (fixture->analysis, 0, SB_MEASURE_PEAK_TORQUE_SLOPE, low);
  finish (fixture);
  assert_true (panel_of (fixture, 0)->y_min > 0.2);
}

static void
lone_repeat_is_a_point_without_a_mean (void **state)
{
  ChartFixture *fixture = *state;
  static const SampleConfiguration once[] = { { .name = "Once", .n_trials = 1, .level_nm = 10 } };
  make_view (fixture, SB_VIEW_SPREAD, once, 1);
  sample_set_figures (fixture->analysis, 0, SB_MEASURE_PEAK_TORQUE_SLOPE, low);
  finish (fixture);
  assert_int_equal (panel_of (fixture, 0)->points->len, 1);
  assert_close (point_of (fixture, 0, 0)->at, 0.5, 1e-12);
  assert_int_equal (panel_of (fixture, 0)->means->len, 0);
  assert_non_null (strstr (fixture->model->foot, "A single repeat has no interval."));
}

static void
repeats_in_order_stand_evenly_from_top_to_bottom (void **state)
{
  ChartFixture *fixture = *state;
  fixture->bench->chart.in_order = TRUE;
  make_two (fixture, SB_VIEW_SPREAD);
  double step = point_of (fixture, 0, 1)->at - point_of (fixture, 0, 0)->at;
  assert_true (step > 0);
  assert_close (point_of (fixture, 0, 2)->at - point_of (fixture, 0, 1)->at, step, 1e-12);
  assert_close (point_of (fixture, 0, 4)->at - point_of (fixture, 0, 3)->at, step, 1e-12);
  assert_non_null (strstr (fixture->model->foot, "in their order"));
}

static void
places_in_a_row_are_the_same_at_every_making (void **state)
{
  ChartFixture *fixture = *state;
  make_two (fixture, SB_VIEW_SPREAD);
  double before = point_of (fixture, 0, 1)->at;
  finish (fixture);
  assert_true (memcmp (&before, &point_of (fixture, 0, 1)->at, sizeof before) == 0);
}

static void
leave_out_first (ChartFixture *fixture)
{
  make_view (fixture, SB_VIEW_SPREAD, two, 1);
  SbTrialResult *trial = g_ptr_array_index (sb_analysis_configuration (fixture->analysis, 0)->trials, 0);
  trial->included = FALSE;
  sample_set_figures (fixture->analysis, 0, SB_MEASURE_PEAK_TORQUE_SLOPE, low);
  finish (fixture);
}

static void
repeat_left_out_is_not_shown (void **state)
{
  ChartFixture *fixture = *state;
  leave_out_first (fixture);
  assert_int_equal (panel_of (fixture, 0)->points->len, 2);
  assert_int_equal (point_of (fixture, 0, 0)->trial, 1);
}

static void
repeat_left_out_is_hollow_on_request_and_does_not_count (void **state)
{
  ChartFixture *fixture = *state;
  fixture->bench->chart.excluded_repeats = TRUE;
  leave_out_first (fixture);
  assert_int_equal (panel_of (fixture, 0)->points->len, 3);
  assert_true (point_of (fixture, 0, 0)->hollow);
  assert_false (point_of (fixture, 0, 1)->hollow);
  assert_close (mean_of (fixture, 0, 0)->mean, 0.305, 1e-12);
  assert_non_null (strstr (fixture->model->foot, "hollow ones were left out"));
}

static void
row_without_figures_says_why (void **state)
{
  ChartFixture *fixture = *state;
  make_view (fixture, SB_VIEW_SPREAD, two, 1);
  sample_set_figures (fixture->analysis, 0, SB_MEASURE_PEAK_TORQUE_SLOPE, low);
  SbConfigurationResult *configuration = g_ptr_array_index (fixture->analysis->configurations, 0);
  SbMeasureSummary *summary = &configuration->summary->measure[SB_MEASURE_PEAK_TORQUE_SLOPE];
  summary->present = FALSE;
  summary->absent_reason = g_strdup ("the log has no torque");
  for (guint t = 0; t < 3; t++)
    ((SbTrialResult *) g_ptr_array_index (configuration->trials, t))
        ->measures->measure[SB_MEASURE_PEAK_TORQUE_SLOPE]
        .present
        = FALSE;
  finish (fixture);
  assert_int_equal (panel_of (fixture, 0)->points->len, 0);
  assert_string_equal (g_ptr_array_index (panel_of (fixture, 0)->notes, 0), "no figure: the log has no torque");
}

static void
spread_of_two_measures_has_two_panels (void **state)
{
  ChartFixture *fixture = *state;
  fixture->bench->chart.measures = 1u << SB_MEASURE_DEAD_TIME | 1u << SB_MEASURE_PEAK_TORQUE_SLOPE;
  make_two (fixture, SB_VIEW_SPREAD);
  assert_int_equal (fixture->model->panels->len, 2);
  assert_string_equal (panel_of (fixture, 0)->label, "Peak torque slope [N·m/ms]");
  assert_string_equal (panel_of (fixture, 1)->label, "Dead time [ms]");
}

static void
nothing_drawn_is_no_spread (void **state)
{
  ChartFixture *fixture = *state;
  make_view (fixture, SB_VIEW_SPREAD, NULL, 0);
  finish (fixture);
  assert_int_equal (fixture->model->panels->len, 0);
  fixture->text = sb_chart_model_describe (fixture->model);
  assert_string_equal (fixture->text, "Nothing is drawn.");
}

static void
sweep_puts_figures_at_the_levels_that_the_logs_state (void **state)
{
  ChartFixture *fixture = *state;
  make_two (fixture, SB_VIEW_SWEEP);
  assert_string_equal (fixture->model->x_label, "Setting: torque slope [N·m/ms]");
  assert_false (fixture->model->x_log);
  assert_int_equal (panel_of (fixture, 0)->points->len, 6);
  assert_close (point_of (fixture, 0, 0)->at, 0.3, 1e-12);
  assert_close (point_of (fixture, 0, 5)->at, 2, 1e-12);
  assert_close (mean_of (fixture, 0, 1)->at, 2, 1e-12);
  assert_close (mean_of (fixture, 0, 1)->mean, 2, 1e-12);
  assert_true (fixture->model->x_min < 0.3 && fixture->model->x_max > 2);
}

/* Between two levels the Theil-Sen slope is the median of the nine differences over 1.7: that of the middle values,
 * 1.7 / 1.7. It leads through the medians of both, (1.15, 1.105): the median of 0.29, 0.3, 0.31, 1.9, 2, 2.1. */
static void
trend_is_theil_sen_over_the_repeats (void **state)
{
  ChartFixture *fixture = *state;
  make_two (fixture, SB_VIEW_SWEEP);
  const SbRule *trend = rule_of (fixture, 0, 0);
  assert_int_equal (trend->kind, SB_RULE_TREND);
  assert_close (trend->slope, 1, 1e-9);
  assert_close (trend->intercept, 1.105 - 1.15, 1e-9);
  assert_close (trend->at[0], 0.3, 1e-12);
  assert_close (trend->at[1], 2, 1e-12);
  assert_non_null (strstr (panel_of (fixture, 0)->caption, "in N·m/ms per N·m/ms set"));
}

/* Figures of 1, 2, 3, 3 and 3 N·m/ms at levels 1 to 5: the line of the first three has slope 1 and goes through 0. */
static void
trend_ends_where_figures_leave_its_line (void **state)
{
  ChartFixture *fixture = *state;
  static const SampleConfiguration limited[] = {
    { .name = "a", .n_trials = 1, .level_nm = 10, .setting = "1 N·m/ms" },
    { .name = "b", .n_trials = 1, .level_nm = 10, .setting = "2 N·m/ms" },
    { .name = "c", .n_trials = 1, .level_nm = 10, .setting = "3 N·m/ms" },
    { .name = "d", .n_trials = 1, .level_nm = 10, .setting = "4 N·m/ms" },
    { .name = "e", .n_trials = 1, .level_nm = 10, .setting = "5 N·m/ms" },
  };
  static const double figures[] = { 1000, 2000, 3000, 3000, 3000 };
  make_view (fixture, SB_VIEW_SWEEP, limited, 5);
  for (guint c = 0; c < 5; c++)
    sample_set_figures (fixture->analysis, c, SB_MEASURE_PEAK_TORQUE_SLOPE, &figures[c]);
  finish (fixture);
  const SbRule *trend = rule_of (fixture, 0, 0);
  assert_int_equal (trend->kind, SB_RULE_TREND);
  assert_close (trend->slope, 1, 1e-9);
  assert_close (trend->intercept, 0, 1e-9);
  assert_close (trend->at[1], 3, 1e-12);
  assert_non_null (strstr (panel_of (fixture, 0)->caption, "up to 3"));
}

/* Figures of 1, 2, 2 and 2 at levels 1, 2, 4 and 8: the slopes of the pairs are 1, 1/3, 1/7 and three times 0, so that
 * the line rises by 1/14 from 25/14 at level 0: 0.86 above the lowest figure, 0.36 above the highest, of a span of 1.
 * Only two of four levels are within a quarter of that. */
static void
trend_that_is_off_most_levels_is_told_and_not_drawn (void **state)
{
  ChartFixture *fixture = *state;
  static const SampleConfiguration bent[] = {
    { .name = "a", .n_trials = 1, .level_nm = 10, .setting = "1 N·m/ms" },
    { .name = "b", .n_trials = 1, .level_nm = 10, .setting = "2 N·m/ms" },
    { .name = "c", .n_trials = 1, .level_nm = 10, .setting = "4 N·m/ms" },
    { .name = "d", .n_trials = 1, .level_nm = 10, .setting = "8 N·m/ms" },
  };
  static const double figures[] = { 1000, 2000, 2000, 2000 };
  make_view (fixture, SB_VIEW_SWEEP, bent, 4);
  for (guint c = 0; c < 4; c++)
    sample_set_figures (fixture->analysis, c, SB_MEASURE_PEAK_TORQUE_SLOPE, &figures[c]);
  finish (fixture);
  const GArray *rules = panel_of (fixture, 0)->rules;
  for (guint i = 0; i < rules->len; i++)
    assert_int_not_equal (g_array_index (rules, SbRule, i).kind, SB_RULE_TREND);
  assert_non_null (strstr (panel_of (fixture, 0)->caption, "off most levels and not drawn"));
  assert_non_null (strstr (fixture->model->foot, "Trend: Theil–Sen over the repeats, with"));
}

static void
measured_as_set_is_drawn_where_the_units_are_of_one_kind (void **state)
{
  ChartFixture *fixture = *state;
  fixture->bench->chart.measures = 1u << SB_MEASURE_DEAD_TIME | 1u << SB_MEASURE_PEAK_TORQUE_SLOPE;
  make_two (fixture, SB_VIEW_SWEEP);
  const SbRule *identity = rule_of (fixture, 0, 1);
  assert_int_equal (identity->kind, SB_RULE_IDENTITY);
  assert_close (identity->intercept, 0, 0);
  assert_close (identity->slope, 1, 1e-12);
  assert_int_equal (panel_of (fixture, 1)->rules->len, 0);
}

/* Slopes of 10 N·m/ms where 0.3 and 2 were set: the line on which they would be equal is far below. */
static void
foot_tells_of_measured_as_set_only_where_it_is_seen (void **state)
{
  ChartFixture *fixture = *state;
  static const double far[] = { 9900, 10000, 10100 };
  make_two (fixture, SB_VIEW_SWEEP);
  assert_non_null (strstr (fixture->model->foot, "Fine line: measured as set."));
  sample_set_figures (fixture->analysis, 0, SB_MEASURE_PEAK_TORQUE_SLOPE, far);
  sample_set_figures (fixture->analysis, 1, SB_MEASURE_PEAK_TORQUE_SLOPE, far);
  finish (fixture);
  assert_null (strstr (fixture->model->foot, "Fine line"));
}

/* A quarter of the height of a digit, some 0.7 mm in print, to either side: no other level is so near. Points, means,
 * trend and legend of a series are of one colour. */
static void
repeats_of_a_sweep_stand_at_their_level_in_the_colour_of_their_series (void **state)
{
  ChartFixture *fixture = *state;
  static const SampleConfiguration three[] = {
    { .name = "a", .n_trials = 3, .level_nm = 10, .setting = "0.3 N·m/ms", .device = "Bracken" },
    { .name = "b", .n_trials = 3, .level_nm = 10, .setting = "2 N·m/ms", .device = "Bracken" },
    { .name = "c", .n_trials = 3, .level_nm = 10, .setting = "2 N·m/ms", .device = "Teasel" },
  };
  make_view (fixture, SB_VIEW_SWEEP, three, 3);
  for (guint c = 0; c < 3; c++)
    sample_set_figures (fixture->analysis, c, SB_MEASURE_PEAK_TORQUE_SLOPE, c == 0 ? low : high);
  finish (fixture);
  assert_int_equal (fixture->model->legend->len, 2);
  for (guint i = 0; i < 9; i++) {
    const SbPoint *point = point_of (fixture, 0, i);
    assert_true (fabs (point->aside) <= 0.25);
    assert_int_equal (point->style, g_array_index (fixture->model->legend, SbLegendEntry, point->series).style);
  }
  for (guint i = 0; i < 3; i++)
    assert_int_equal (mean_of (fixture, 0, i)->style, i < 2 ? 0 : 2);
  assert_int_equal (rule_of (fixture, 0, 0)->kind, SB_RULE_TREND);
  assert_int_equal (rule_of (fixture, 0, 0)->style, 0);
}

/* 300 N·m/s is 0.3 N·m/ms. */
static void
measured_as_set_minds_the_unit_of_the_setting (void **state)
{
  ChartFixture *fixture = *state;
  static const SampleConfiguration per_second[] = {
    { .name = "Low", .n_trials = 3, .level_nm = 10, .setting = "300 N·m/s" },
    { .name = "High", .n_trials = 3, .level_nm = 12, .setting = "2000 N·m/s" },
  };
  make_view (fixture, SB_VIEW_SWEEP, per_second, 2);
  sample_set_figures (fixture->analysis, 0, SB_MEASURE_PEAK_TORQUE_SLOPE, low);
  sample_set_figures (fixture->analysis, 1, SB_MEASURE_PEAK_TORQUE_SLOPE, high);
  finish (fixture);
  assert_close (rule_of (fixture, 0, 1)->slope, 1e-3, 1e-15);
}

/* Figures 1000 times the level, over 0.1 to 4: their logarithms lie on a line of slope 1 (N·m/ms). */
static void
wide_levels_are_on_a_logarithmic_axis_with_the_trend_as_an_exponent (void **state)
{
  ChartFixture *fixture = *state;
  static const SampleConfiguration wide[] = {
    { .name = "a", .n_trials = 1, .level_nm = 10, .setting = "0.1 N·m/ms" },
    { .name = "b", .n_trials = 1, .level_nm = 10, .setting = "1 N·m/ms" },
    { .name = "c", .n_trials = 1, .level_nm = 10, .setting = "4 N·m/ms" },
  };
  static const double figures[] = { 100, 1000, 4000 };
  make_view (fixture, SB_VIEW_SWEEP, wide, 3);
  for (guint c = 0; c < 3; c++)
    sample_set_figures (fixture->analysis, c, SB_MEASURE_PEAK_TORQUE_SLOPE, &figures[c]);
  finish (fixture);
  assert_true (fixture->model->x_log);
  assert_true (panel_of (fixture, 0)->y_log);
  assert_true (fixture->model->x_min > 0 && panel_of (fixture, 0)->y_min > 0);
  assert_non_null (strstr (fixture->model->x_label, "logarithmic"));
  assert_close (rule_of (fixture, 0, 0)->slope, 1, 1e-9);
  assert_close (rule_of (fixture, 0, 0)->intercept, 0, 1e-9);
  assert_non_null (strstr (panel_of (fixture, 0)->caption, "exponent: 1"));
}

static void
configurations_of_another_device_are_a_series_of_their_own (void **state)
{
  ChartFixture *fixture = *state;
  static const SampleConfiguration drives[] = {
    { .name = "B low", .device = "Bracken", .n_trials = 3, .level_nm = 10, .setting = "0.3 N·m/ms" },
    { .name = "B high", .device = "Bracken", .n_trials = 3, .level_nm = 12, .setting = "2 N·m/ms" },
    { .name = "T low", .device = "Teasel", .n_trials = 3, .level_nm = 10, .setting = "0.3 N·m/ms" },
    { .name = "T high", .device = "Teasel", .n_trials = 3, .level_nm = 12, .setting = "2 N·m/ms" },
  };
  make_view (fixture, SB_VIEW_SWEEP, drives, 4);
  for (guint c = 0; c < 4; c++)
    sample_set_figures (fixture->analysis, c, SB_MEASURE_PEAK_TORQUE_SLOPE, c == 1 ? high : low);
  finish (fixture);
  assert_int_equal (fixture->model->legend->len, 2);
  assert_string_equal (g_array_index (fixture->model->legend, SbLegendEntry, 1).text, "Teasel");
  assert_int_equal (mean_of (fixture, 0, 3)->series, 1);
  assert_close (rule_of (fixture, 0, 0)->slope, 1, 1e-9); /* Bracken does as it is set */
  assert_close (rule_of (fixture, 0, 1)->slope, 0, 1e-9); /* Teasel gives the same at both */
}

static void
configuration_without_a_level_is_named_in_the_foot (void **state)
{
  ChartFixture *fixture = *state;
  static const SampleConfiguration with_word[] = {
    { .name = "Low", .n_trials = 3, .level_nm = 10, .setting = "0.3 N·m/ms" },
    { .name = "High", .n_trials = 3, .level_nm = 10, .setting = "2 N·m/ms" },
    { .name = "Free", .n_trials = 3, .level_nm = 10, .setting = "off" },
  };
  make_view (fixture, SB_VIEW_SWEEP, with_word, 3);
  for (guint c = 0; c < 3; c++)
    sample_set_figures (fixture->analysis, c, SB_MEASURE_PEAK_TORQUE_SLOPE, low);
  finish (fixture);
  assert_int_equal (panel_of (fixture, 0)->means->len, 2);
  assert_non_null (strstr (fixture->model->foot, "Without a level: Free."));
}

static void
sweep_without_two_levels_says_what_is_missing (void **state)
{
  ChartFixture *fixture = *state;
  make_view (fixture, SB_VIEW_SWEEP, two, 1);
  finish (fixture);
  assert_int_equal (fixture->model->panels->len, 0);
  assert_non_null (strstr (fixture->model->absent_reason, "differ in no setting"));
  fixture->text = sb_chart_model_describe (fixture->model);
  assert_string_equal (fixture->text, fixture->model->absent_reason);
}

static void
sweep_over_a_setting_that_no_log_states_names_it (void **state)
{
  ChartFixture *fixture = *state;
  g_free (fixture->bench->chart.setting);
  fixture->bench->chart.setting = g_strdup ("rim size");
  make_two (fixture, SB_VIEW_SWEEP);
  assert_int_equal (fixture->model->panels->len, 0);
  assert_non_null (strstr (fixture->model->absent_reason, "“rim size”"));
}

/* 2500 N·m/s is 2.5 N·m/ms, above all that was measured. */
static void
stated_figure_is_a_line_in_each_row_with_its_verdict (void **state)
{
  ChartFixture *fixture = *state;
  make_two (fixture, SB_VIEW_SPREAD);
  sample_state (fixture->analysis, SB_MEASURE_PEAK_TORQUE_SLOPE, 2500);
  finish (fixture);
  assert_int_equal (panel_of (fixture, 0)->rules->len, 2);
  const SbRule *second = rule_of (fixture, 0, 1);
  assert_int_equal (second->kind, SB_RULE_STATED);
  assert_close (second->intercept, 2.5, 1e-12);
  assert_close (second->slope, 0, 0);
  assert_close (second->at[0], 1, 0);
  assert_close (second->at[1], 2, 0);
  assert_string_equal (rule_of (fixture, 0, 0)->brief, "reached");
  assert_string_equal (second->label, "stated: at least 2.5 N·m/ms, not reached");
  assert_true (panel_of (fixture, 0)->y_max > 2.5);
  assert_non_null (strstr (fixture->model->foot, "stated figures (at least 2.5 N·m/ms)"));
}

static void
stated_figure_is_one_line_over_all_levels_of_a_sweep (void **state)
{
  ChartFixture *fixture = *state;
  make_two (fixture, SB_VIEW_SWEEP);
  sample_state (fixture->analysis, SB_MEASURE_PEAK_TORQUE_SLOPE, 2500);
  finish (fixture);
  const SbRule *stated = rule_of (fixture, 0, 2); /* after trend and measured as set */
  assert_int_equal (stated->kind, SB_RULE_STATED);
  assert_close (stated->intercept, 2.5, 1e-12);
  assert_close (stated->at[0], fixture->model->x_min, 0);
  assert_close (stated->at[1], fixture->model->x_max, 0);
}

static void
figure_stated_of_another_measure_is_not_drawn (void **state)
{
  ChartFixture *fixture = *state;
  make_two (fixture, SB_VIEW_SPREAD);
  sample_state (fixture->analysis, SB_MEASURE_DEAD_TIME, 0.005);
  finish (fixture);
  assert_int_equal (panel_of (fixture, 0)->rules->len, 0);
  assert_null (strstr (fixture->model->foot, "stated"));
}

/* A plot of 100 by 100 pt; the row's place 0.5 of 2 rows is 25 pt from the top. */
static void
point_under_the_pointer_is_the_nearest_one (void **state)
{
  ChartFixture *fixture = *state;
  make_two (fixture, SB_VIEW_SPREAD);
  SbChartLayout layout = { .n_plots = 1, .plot = { { 0, 0, 100, 100 } }, .y_min = { 0 }, .y_max = { 4 }, .font_pt = 8 };
  const SbPoint *wanted = point_of (fixture, 0, 4);
  gsize panel = 9;
  double x = 100 * wanted->value / 4, y = 100 * wanted->at / 2;
  assert_ptr_equal (sb_chart_point_at (fixture->model, &layout, x + 0.5, y, 5, &panel), wanted);
  assert_int_equal (panel, 0);
  assert_null (sb_chart_point_at (fixture->model, &layout, 99, 1, 5, &panel));
  fixture->text = sb_chart_point_text (fixture->model, 0, wanted);
  assert_string_equal (fixture->text, "High, High-2.csv: 2.000 N·m/ms");
}

static void
description_says_the_means_with_their_intervals (void **state)
{
  ChartFixture *fixture = *state;
  make_two (fixture, SB_VIEW_SPREAD);
  fixture->text = sb_chart_model_describe (fixture->model);
  assert_non_null (
      strstr (fixture->text, "Spread of 2 configurations. Peak torque slope [N·m/ms]: 6 points; mean of Low 0.300"));
  assert_non_null (strstr (fixture->text, "n = 3)"));
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    CHART_TEST (spread_has_a_row_for_each_configuration_and_a_point_for_each_repeat),
    CHART_TEST (mean_has_the_interval_after_student),
    CHART_TEST (figure_in_doubt_is_marked_in_spread_and_sweep),
    CHART_TEST (value_range_takes_in_points_and_intervals),
    CHART_TEST (value_range_leaves_zero_out_when_it_is_far),
    CHART_TEST (lone_repeat_is_a_point_without_a_mean),
    CHART_TEST (repeats_in_order_stand_evenly_from_top_to_bottom),
    CHART_TEST (places_in_a_row_are_the_same_at_every_making),
    CHART_TEST (repeat_left_out_is_not_shown),
    CHART_TEST (repeat_left_out_is_hollow_on_request_and_does_not_count),
    CHART_TEST (row_without_figures_says_why),
    CHART_TEST (spread_of_two_measures_has_two_panels),
    CHART_TEST (nothing_drawn_is_no_spread),
    CHART_TEST (sweep_puts_figures_at_the_levels_that_the_logs_state),
    CHART_TEST (trend_ends_where_figures_leave_its_line),
    CHART_TEST (trend_that_is_off_most_levels_is_told_and_not_drawn),
    CHART_TEST (trend_is_theil_sen_over_the_repeats),
    CHART_TEST (measured_as_set_is_drawn_where_the_units_are_of_one_kind),
    CHART_TEST (measured_as_set_minds_the_unit_of_the_setting),
    CHART_TEST (foot_tells_of_measured_as_set_only_where_it_is_seen),
    CHART_TEST (repeats_of_a_sweep_stand_at_their_level_in_the_colour_of_their_series),
    CHART_TEST (wide_levels_are_on_a_logarithmic_axis_with_the_trend_as_an_exponent),
    CHART_TEST (configurations_of_another_device_are_a_series_of_their_own),
    CHART_TEST (configuration_without_a_level_is_named_in_the_foot),
    CHART_TEST (sweep_without_two_levels_says_what_is_missing),
    CHART_TEST (sweep_over_a_setting_that_no_log_states_names_it),
    CHART_TEST (stated_figure_is_a_line_in_each_row_with_its_verdict),
    CHART_TEST (stated_figure_is_one_line_over_all_levels_of_a_sweep),
    CHART_TEST (figure_stated_of_another_measure_is_not_drawn),
    CHART_TEST (point_under_the_pointer_is_the_nearest_one),
    CHART_TEST (description_says_the_means_with_their_intervals),
  };
  return cmocka_run_group_tests (tests, NULL, NULL);
}
