/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Repeats planned as data. Numbers of repeats are those of power.t.test of R (its manual page's examples, and further
 * calls that the tests of power.h list): two sides that scatter by s each, a difference of k s. */
#include "analysis_plan.h"
#include "chart_fixture.h"

#include <string.h>

/* N·m/s: mean 100, s = 1, so that a difference of k s is k %. */
static const double even[] = { 99, 100, 101 };

static const SampleConfiguration pair[] = {
  { .name = "Low", .n_trials = 3, .level_nm = 10 },
  { .name = "High", .n_trials = 3, .level_nm = 12 },
};

/* The plan of a measure for a difference of `ratio` of the mean. */
static void
make_plan (ChartFixture *fixture, double ratio)
{
  fixture->bench->chart.view = SB_VIEW_PLAN;
  fixture->bench->plan_ratio = ratio;
  make_analysis (fixture, pair, 1);
  sample_set_figures (fixture->analysis, 0, SB_MEASURE_PEAK_TORQUE_SLOPE, even);
  fixture->model = sb_chart_model_new (fixture->analysis, -1);
}

/* Curve 0 is of 90 %, 1 of 80 %. */
static const SbCurve *
curve_of (const ChartFixture *fixture, guint i)
{
  assert_int_equal (panel_of (fixture, 0)->curves->len, 2);
  return &g_array_index (panel_of (fixture, 0)->curves, SbCurve, i);
}

/* The number of repeats where the curve, which is nearly straight between its points on logarithmic axes, passes x. */
static double
repeats_at (const SbCurve *curve, double x)
{
  gsize i = 1;
  while (i + 1 < curve->n_points && curve->x[i] < x)
    i++;
  double share = log (x / curve->x[i - 1]) / log (curve->x[i] / curve->x[i - 1]);
  return curve->y[i - 1] * pow (curve->y[i] / curve->y[i - 1], share);
}

static void
curves_pass_the_published_numbers_of_repeats (void **state)
{
  ChartFixture *fixture = *state;
  make_plan (fixture, 0.01);
  /* power.t.test (power = .90, delta = 1): n = 22.02110; (power = .80, delta = .5): 63.76576; (power = .80, delta = 2,
   * strict = TRUE): 5.090002. Straight lines between 36 points cost less than 1 %. */
  assert_close (repeats_at (curve_of (fixture, 0), 1), 22.02110, 0.2);
  assert_close (repeats_at (curve_of (fixture, 1), 0.5), 63.76576, 0.6);
  assert_close (repeats_at (curve_of (fixture, 1), 2), 5.090002, 0.05);
}

/* No second plan is made beside the one that the results tell: here it is at another level than the bench's. */
static void
plan_of_the_analysis_is_the_one_drawn (void **state)
{
  ChartFixture *fixture = *state;
  fixture->bench->chart.view = SB_VIEW_PLAN;
  fixture->bench->plan_ratio = 0.01;
  make_analysis (fixture, pair, 1);
  sample_set_figures (fixture->analysis, 0, SB_MEASURE_PEAK_TORQUE_SLOPE, even);
  fixture->analysis->plan = sb_analysis_plan_new (fixture->analysis, SB_ALL_MEASURES);
  fixture->analysis->plan->level = 0.2;
  fixture->model = sb_chart_model_new (fixture->analysis, -1);
  assert_non_null (strstr (fixture->model->foot, "at the level 0.2 "));
}

static void
difference_rises_as_repeats_fall (void **state)
{
  ChartFixture *fixture = *state;
  make_plan (fixture, 0.01);
  for (guint c = 0; c < 2; c++) {
    const SbCurve *curve = curve_of (fixture, c);
    for (gsize i = 1; i < curve->n_points; i++) {
      assert_true (curve->x[i] > curve->x[i - 1]);
      assert_true (curve->y[i] < curve->y[i - 1]);
    }
    assert_close (curve->y[curve->n_points - 1], 2, 1e-9);
  }
}

/* The next whole number above 22.02 repeats is 23; for 80 % at delta = sd, power.t.test gives 16.71, so 17. */
static void
asked_for_difference_is_marked_with_what_it_takes (void **state)
{
  ChartFixture *fixture = *state;
  make_plan (fixture, 0.01);
  const GArray *marks = panel_of (fixture, 0)->marks;
  gboolean has_17 = FALSE, has_23 = FALSE;
  for (guint i = 0; i < marks->len; i++) {
    const SbMark *mark = &g_array_index (marks, SbMark, i);
    has_17 = has_17 || (fabs (mark->y - 17) < 1e-9 && fabs (mark->x - 1) < 1e-9);
    has_23 = has_23 || (fabs (mark->y - 23) < 1e-9 && fabs (mark->x - 1) < 1e-9);
  }
  assert_true (has_17);
  assert_true (has_23);
  const SbRule *asked = &g_array_index (panel_of (fixture, 0)->rules, SbRule, 1);
  assert_true (asked->upright);
  assert_close (asked->at[0], 1, 1e-9);
  assert_non_null (strstr (panel_of (fixture, 0)->caption, "1 % takes 17 or 23"));
}

/* power.t.test (delta = .3): n = 175.3851 for a power of .80 and 234.4628 for .90; (delta = .1): 1570.737 and 2102.445.
 * Beyond 200 a side no one repeats a step, but how far beyond is told, and drawn. */
static void
repeats_beyond_what_a_bench_can_do_are_told_as_such (void **state)
{
  ChartFixture *fixture = *state;
  make_plan (fixture, 0.003);
  assert_non_null (strstr (panel_of (fixture, 0)->caption, "0.3 % takes 176 or 235"));
  assert_non_null (strstr (fixture->model->foot, "More than 200 on either side are no practical number"));
}

static void
repeats_far_beyond_are_drawn_too (void **state)
{
  ChartFixture *fixture = *state;
  make_plan (fixture, 0.001);
  assert_true (g_str_has_suffix (panel_of (fixture, 0)->caption, "0.1 % takes 1571 or 2103"));
  assert_true (panel_of (fixture, 0)->y_max > 2103);
}

/* The sample has three repeats; power.t.test (n = 3, delta = 3, sd = 1, strict = TRUE) has a power of 0.7826, so 80 %
 * take a little more than 3 %. */
static void
present_repeats_are_marked_with_what_they_show (void **state)
{
  ChartFixture *fixture = *state;
  make_plan (fixture, 0.01);
  const SbRule *present = &g_array_index (panel_of (fixture, 0)->rules, SbRule, 0);
  assert_close (present->intercept, 3, 1e-12);
  assert_string_equal (present->label, "3 repeats so far");
  const SbMark *at_80 = &g_array_index (panel_of (fixture, 0)->marks, SbMark, 0);
  assert_close (at_80->y, 3, 1e-12);
  assert_true (at_80->x > 3 && at_80->x < 3.2);
}

static void
range_takes_in_the_curves_and_what_is_asked_for (void **state)
{
  ChartFixture *fixture = *state;
  make_plan (fixture, 0.4); /* further than two repeats need */
  assert_true (fixture->model->x_log);
  assert_true (panel_of (fixture, 0)->y_log);
  assert_true (fixture->model->x_max > 40);
  assert_true (fixture->model->x_min < 0.41); /* a hundred repeats: power.t.test (n = 100, power = .80): 0.398 s */
}

static void
measure_without_scatter_is_told_with_its_reason (void **state)
{
  static const double same[] = { 100, 100, 100 };
  ChartFixture *fixture = *state;
  fixture->bench->chart.view = SB_VIEW_PLAN;
  make_analysis (fixture, pair, 1);
  sample_set_figures (fixture->analysis, 0, SB_MEASURE_PEAK_TORQUE_SLOPE, same);
  fixture->model = sb_chart_model_new (fixture->analysis, -1);
  assert_int_equal (fixture->model->panels->len, 0);
  assert_non_null (
      strstr (fixture->model->absent_reason, "Peak torque slope: every trial of a side gives the very same figure"));
}

static void
plan_can_be_drawn_whatever_the_view_is (void **state)
{
  ChartFixture *fixture = *state;
  make_analysis (fixture, pair, 1);
  sample_set_figures (fixture->analysis, 0, SB_MEASURE_DEAD_TIME, even);
  fixture->model = sb_chart_model_new_plan (fixture->analysis, 1u << SB_MEASURE_DEAD_TIME);
  assert_int_equal (fixture->model->view, SB_VIEW_PLAN);
  assert_non_null (strstr (panel_of (fixture, 0)->caption, "Dead time"));
  fixture->text = sb_chart_model_describe (fixture->model);
  assert_non_null (strstr (fixture->text, "Dead time"));
  assert_non_null (strstr (fixture->text, "a power of 80 %: black, very long dashes"));
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    CHART_TEST (curves_pass_the_published_numbers_of_repeats),
    CHART_TEST (difference_rises_as_repeats_fall),
    CHART_TEST (plan_of_the_analysis_is_the_one_drawn),
    CHART_TEST (asked_for_difference_is_marked_with_what_it_takes),
    CHART_TEST (repeats_beyond_what_a_bench_can_do_are_told_as_such),
    CHART_TEST (repeats_far_beyond_are_drawn_too),
    CHART_TEST (present_repeats_are_marked_with_what_they_show),
    CHART_TEST (range_takes_in_the_curves_and_what_is_asked_for),
    CHART_TEST (measure_without_scatter_is_told_with_its_reason),
    CHART_TEST (plan_can_be_drawn_whatever_the_view_is),
  };
  return cmocka_run_group_tests (tests, NULL, NULL);
}
