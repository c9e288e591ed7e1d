/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Axes and curves in the units chosen. The sample's velocity at 0.1 s is 4 · 10 · 0.1 = 4 rad/s, which is 4 · 30/π rpm
 * and 4 · 180/π deg/s. */
#include "chart_fixture.h"

static const SampleConfiguration two[] = {
  { .name = "Low", .n_trials = 2, .level_nm = 10 },
  { .name = "High", .n_trials = 2, .level_nm = 12 },
};

static void
velocity_is_drawn_in_the_chosen_unit_and_torque_as_ever (void **state)
{
  ChartFixture *fixture = *state;
  fixture->bench->units.velocity = SB_VELOCITY_UNIT_RPM;
  make_model (fixture, two, 2);
  assert_string_equal (panel_of (fixture, 0)->label, "Velocity [rpm]");
  assert_string_equal (panel_of (fixture, 1)->label, "Torque [N·m]");
  assert_close (sb_chart_model_value_at (fixture->model, 0, 0, 0.1), 4 * 30 / G_PI, 1e-9);
  assert_close (sb_chart_model_value_at (fixture->model, 1, 0, 0.1), 10, 1e-9);
  assert_true (panel_of (fixture, 0)->y_max > 4 * 12 * 0.4 * 30 / G_PI); /* the end of the steeper curve */
}

static void
bands_follow_the_unit_of_their_curve (void **state)
{
  ChartFixture *fixture = *state;
  fixture->bench->units.velocity = SB_VELOCITY_UNIT_DEG_PER_S;
  make_model (fixture, two, 2);
  const SbChartPanel *panel = panel_of (fixture, 0);
  assert_true (panel->bands->len > 0);
  const SbBandArea *band = &g_array_index (panel->bands, SbBandArea, 0);
  gsize last = band->n_points - 1; /* repeats without spread: the band is the curve */
  double at_s = band->x0 + (double) last * band->dx;
  assert_close (band->lower[last], 4 * 10 * at_s * 180 / G_PI, 1e-6);
  assert_close (band->upper[last], band->lower[last], 1e-9);
}

static void
figures_of_a_spread_are_in_the_unit_of_their_axis (void **state)
{
  ChartFixture *fixture = *state;
  static const double slopes_nm_per_s[] = { 1500, 2500 };
  fixture->bench->units.slope = SB_SLOPE_UNIT_PER_S;
  fixture->bench->chart.view = SB_VIEW_SPREAD;
  fixture->bench->chart.measures = 1u << SB_MEASURE_MEAN_TORQUE_SLOPE;
  make_analysis (fixture, two, 2);
  sample_set_figures (fixture->analysis, 0, SB_MEASURE_MEAN_TORQUE_SLOPE, slopes_nm_per_s);
  fixture->model = sb_chart_model_new (fixture->analysis, -1);
  const SbChartPanel *panel = panel_of (fixture, 0);
  assert_string_equal (panel->label, "Mean torque slope [N·m/s]");
  assert_close (g_array_index (panel->points, SbPoint, 0).value, 1500, 1e-9);
  assert_close (g_array_index (panel->means, SbMeanMark, 0).mean, 2000, 1e-9);
}

/* The sample rises by 10 N·m in 20 ms: 500 N·m/s. */
static void
slopes_over_time_are_in_the_chosen_unit (void **state)
{
  ChartFixture *fixture = *state;
  fixture->bench->chart.view = SB_VIEW_SLOPE;
  fixture->bench->units.slope = SB_SLOPE_UNIT_PER_S;
  make_model (fixture, two, 2);
  assert_string_equal (panel_of (fixture, 1)->label, "Torque slope [N·m/s]");
  assert_close (sb_chart_model_value_at (fixture->model, 1, 0, 0.01), 500, 1e-6);
}

/* Torque is the same whatever the unit; along the axis under it the velocity is shown by the factor of the axis. The
 * sample's velocity ends at 4 · 12 · 0.4 rad/s at most. */
static void
planes_of_velocity_are_in_the_chosen_unit (void **state)
{
  ChartFixture *fixture = *state;
  fixture->bench->chart.view = SB_VIEW_PHASE;
  fixture->bench->units.velocity = SB_VELOCITY_UNIT_RPM;
  make_model (fixture, two, 2);
  const SbChartPanel *panel = panel_of (fixture, fixture->model->panels->len - 1); /* torque over velocity */
  assert_string_equal (panel->label, "Torque [N·m]");
  assert_string_equal (panel->x.label, "Velocity [rpm]");
  assert_close (panel->x.factor, 30 / G_PI, 1e-12);
  assert_true (panel->x.high * panel->x.factor > 4 * 12 * 0.35 * 30 / G_PI);
  assert_true (panel->y_max < 2 * 12);
}

/* Of a trial whose ringing was looked for in its velocity. */
static void
ringing_of_velocity_is_in_the_chosen_unit (void **state)
{
  ChartFixture *fixture = *state;
  fixture->bench->chart.view = SB_VIEW_RINGING;
  fixture->bench->units.velocity = SB_VELOCITY_UNIT_RPM;
  make_analysis (fixture, two, 1);
  const SbTrialResult *trial = sb_configuration_result_trial (sb_analysis_configuration (fixture->analysis, 0), 0);
  trial->measures->ringing
      = (SbRinging){ .ringing_class = SB_RINGING_DECAYING, .channel = SB_CHANNEL_VELOCITY, .window_s = { 0.02, 0.39 } };
  fixture->model = sb_chart_model_new (fixture->analysis, -1);
  assert_string_equal (panel_of (fixture, 0)->label, "Velocity less its trend [rpm]");
  assert_string_equal (panel_of (fixture, 1)->label, "Amplitude [rpm]");
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    CHART_TEST (velocity_is_drawn_in_the_chosen_unit_and_torque_as_ever),
    CHART_TEST (bands_follow_the_unit_of_their_curve),
    CHART_TEST (figures_of_a_spread_are_in_the_unit_of_their_axis),
    CHART_TEST (slopes_over_time_are_in_the_chosen_unit),
    CHART_TEST (planes_of_velocity_are_in_the_chosen_unit),
    CHART_TEST (ringing_of_velocity_is_in_the_chosen_unit),
  };
  return cmocka_run_group_tests (tests, NULL, NULL);
}
