/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "chart_fixture.h"

#include <string.h>

static const SampleConfiguration two[] = {
  { .name = "Low", .n_trials = 8, .level_nm = 10, .spread_nm = 0.1, .setting = "0.3 N·m/ms" },
  { .name = "High", .n_trials = 5, .level_nm = 12, .spread_nm = 0.1, .setting = "2 N·m/ms" },
};

/* The standard deviation of 0, 1 .. n - 1 with divisor n - 1 is √(n (n + 1) / 12): √6 for 8. */
#define SD_OF_8 (0.1 * 2.449489742783178)

static void
model_has_a_panel_for_velocity_and_torque (void **state)
{
  ChartFixture *fixture = *state;
  make_model (fixture, two, 2);
  assert_int_equal (fixture->model->panels->len, 2);
  assert_string_equal (panel_of (fixture, 0)->label, "Velocity [rad/s]");
  assert_string_equal (panel_of (fixture, 1)->label, "Torque [N·m]");
}

static void
panel_without_a_curve_is_left_out (void **state)
{
  ChartFixture *fixture = *state;
  static const SampleConfiguration torque_only[] = {
    { .name = "Low", .n_trials = 2, .level_nm = 10, .without_velocity = TRUE },
  };
  make_model (fixture, torque_only, 1);
  assert_int_equal (fixture->model->panels->len, 1);
  assert_int_equal (panel_of (fixture, 0)->panel, SB_PANEL_TORQUE);
}

static void
configuration_switched_off_has_neither_curve_nor_legend_entry (void **state)
{
  ChartFixture *fixture = *state;
  SampleConfiguration one_off[2] = { two[0], two[1] };
  one_off[0].undrawn = TRUE;
  make_model (fixture, one_off, 2);
  assert_int_equal (fixture->model->legend->len, 1);
  assert_int_equal (panel_of (fixture, 1)->curves->len, 1);
  assert_int_equal (g_array_index (panel_of (fixture, 1)->curves, SbCurve, 0).configuration, 1);
}

static void
nothing_drawn_gives_no_panel_and_says_so (void **state)
{
  ChartFixture *fixture = *state;
  make_model (fixture, NULL, 0);
  assert_int_equal (fixture->model->panels->len, 0);
  assert_string_equal (fixture->model->foot, "");
  fixture->text = sb_chart_model_describe (fixture->model);
  assert_string_equal (fixture->text, "Nothing is drawn.");
}

/* Mean of levels symmetric about 10 N·m. Half way up the ramp of 20 ms it is 5 N·m. */
static void
value_at_is_the_mean_curve (void **state)
{
  ChartFixture *fixture = *state;
  make_model (fixture, two, 2);
  assert_close (sb_chart_model_value_at (fixture->model, 1, 0, 0.2), 10, 1e-9);
  assert_close (sb_chart_model_value_at (fixture->model, 1, 1, 0.2), 12, 1e-9);
  assert_close (sb_chart_model_value_at (fixture->model, 1, 0, 0.01), 5, 1e-9);
  assert_close (sb_chart_model_value_at (fixture->model, 1, 0, 0.0103), 5.15, 1e-9);
  assert_close (sb_chart_model_value_at (fixture->model, 0, 0, 0.25), 4 * 10 * 0.25, 1e-9);
}

static void
value_at_is_missing_where_nothing_is_drawn (void **state)
{
  ChartFixture *fixture = *state;
  make_model (fixture, two, 2);
  assert_true (isnan (sb_chart_model_value_at (fixture->model, 1, 0, 0.41)));
  assert_true (isnan (sb_chart_model_value_at (fixture->model, 1, 0, -0.11)));
  assert_true (isnan (sb_chart_model_value_at (fixture->model, 1, 7, 0.2)));
  assert_true (isnan (sb_chart_model_value_at (fixture->model, 9, 0, 0.2)));
  assert_true (isnan (sb_chart_model_value_at (fixture->model, 1, 0, NAN)));
}

/* Points 0, NaN, 2 at 0, 1, 2 s: a value at the points, none on the way to the gap. */
static void
value_at_does_not_bridge_a_gap (void **state)
{
  ChartFixture *fixture = *state;
  double *y = g_new (double, 4);
  memcpy (y, (const double[]){ 0, NAN, 2, 3 }, 4 * sizeof *y);
  fixture->analysis = sample_analysis_of_curve (y, 4, 0, 1, 2);
  fixture->model = sb_chart_model_new (fixture->analysis, -1);
  assert_close (sb_chart_model_value_at (fixture->model, 0, 0, 0), 0, 0);
  assert_true (isnan (sb_chart_model_value_at (fixture->model, 0, 0, 0.5)));
  assert_true (isnan (sb_chart_model_value_at (fixture->model, 0, 0, 1.5)));
  assert_close (sb_chart_model_value_at (fixture->model, 0, 0, 2), 2, 0);
  assert_close (sb_chart_model_value_at (fixture->model, 0, 0, 2.5), 2.5, 1e-12);
}

static const double *
band_edge (const ChartFixture *fixture, guint panel, guint band, gboolean upper)
{
  const SbBandArea *area = &g_array_index (panel_of (fixture, panel)->bands, SbBandArea, band);
  return upper ? area->upper : area->lower;
}

/* Point 300 lies at 0.2 s. */
static void
band_is_mean_plus_and_minus_k_deviations (void **state)
{
  ChartFixture *fixture = *state;
  fixture->bench->band_k = 2;
  make_model (fixture, two, 1);
  assert_int_equal (panel_of (fixture, 1)->bands->len, 1);
  assert_close (band_edge (fixture, 1, 0, FALSE)[300], 10 - 2 * SD_OF_8, 1e-9);
  assert_close (band_edge (fixture, 1, 0, TRUE)[300], 10 + 2 * SD_OF_8, 1e-9);
}

static const SampleConfiguration lone[] = { { .name = "Once", .n_trials = 1, .level_nm = 10 } };

static void
lone_trial_has_no_band_and_the_foot_says_so (void **state)
{
  ChartFixture *fixture = *state;
  fixture->bench->chart.moving_band = FALSE;
  make_model (fixture, lone, 1);
  assert_int_equal (panel_of (fixture, 1)->bands->len, 0);
  assert_int_equal (panel_of (fixture, 1)->curves->len, 1);
  assert_non_null (strstr (fixture->model->foot, "A single repeat has no band."));
  assert_null (strstr (fixture->model->foot, "Band:"));
}

/* On the ramp the moving mean is the line itself, and the deviation of m = 11 evenly spaced values d apart is
 * d √(m (m + 1) / 12): d = 0.5 N·m per ms, window 10 ms about 10 ms. */
static void
lone_trial_gets_the_moving_band_on_request (void **state)
{
  ChartFixture *fixture = *state;
  fixture->bench->chart.moving_band = TRUE;
  fixture->bench->moving_window_s = 0.01;
  make_model (fixture, lone, 1);
  const SbChartPanel *torque = panel_of (fixture, 1);
  assert_int_equal (torque->bands->len, 1);
  double sd = 0.5 * sqrt (11.0 * 12 / 12);
  assert_close (band_edge (fixture, 1, 0, FALSE)[110], 5 - sd, 1e-9);
  assert_close (band_edge (fixture, 1, 0, TRUE)[110], 5 + sd, 1e-9);
  assert_close (sb_chart_model_value_at (fixture->model, 1, 0, 0.01), 5, 1e-9);
  assert_non_null (strstr (fixture->model->foot, "moving standard deviation over 10 ms"));
  assert_null (strstr (fixture->model->foot, "Band:"));
}

/* The log itself stays visible beside its moving mean, which rounds off the step. */
static void
moving_band_keeps_the_log_s_own_line (void **state)
{
  ChartFixture *fixture = *state;
  fixture->bench->chart.moving_band = TRUE;
  make_model (fixture, lone, 1);
  const SbChartPanel *torque = panel_of (fixture, 1);
  assert_int_equal (torque->curves->len, 2);
  const SbCurve *own = &g_array_index (torque->curves, SbCurve, 0);
  assert_true (own->thin);
  assert_close (own->y[110], 5, 1e-9);
  assert_close (own->x[110], 0.01, 1e-9);
}

static void
moving_band_is_never_drawn_for_repeats (void **state)
{
  ChartFixture *fixture = *state;
  fixture->bench->chart.moving_band = TRUE;
  make_model (fixture, two, 1);
  assert_close (band_edge (fixture, 1, 0, TRUE)[300], 10 + SD_OF_8, 1e-9);
  assert_null (strstr (fixture->model->foot, "moving"));
}

static void
trial_lines_come_on_request_and_lie_under_the_means (void **state)
{
  ChartFixture *fixture = *state;
  fixture->bench->chart.trial_lines = TRUE;
  make_model (fixture, two, 2);
  const GArray *curves = panel_of (fixture, 1)->curves;
  assert_int_equal (curves->len, 8 + 5 + 2);
  for (guint i = 0; i < curves->len; i++)
    assert_int_equal (g_array_index (curves, SbCurve, i).thin, i < 13);
  assert_close (g_array_index (curves, SbCurve, 0).y[300], 10 - 3.5 * 0.1, 1e-9);
}

static void
foot_names_band_slope_window_version_and_data (void **state)
{
  ChartFixture *fixture = *state;
  make_model (fixture, two, 2);
  g_autofree char *checksum = sb_analysis_data_checksum (fixture->analysis);
  fixture->text = g_strdup_printf ("Band: mean ± 1 standard deviation of 5 or 8 repeats. "
                                   "Slopes over 5 samples, at least 1 ms. Slewbench %s, data %s.",
                                   SB_VERSION, checksum);
  assert_int_equal (strlen (checksum), 8);
  assert_string_equal (fixture->model->foot, fixture->text);
}

/* Quartiles need the trials, and this ensemble has kept none. */
static void
foot_says_when_there_is_no_band (void **state)
{
  ChartFixture *fixture = *state;
  fixture->analysis = sample_analysis_of_curve (g_new0 (double, 10), 10, 0, 0.001, 2);
  fixture->analysis->bench->band = SB_BAND_QUARTILES;
  fixture->model = sb_chart_model_new (fixture->analysis, -1);
  assert_int_equal (panel_of (fixture, 0)->bands->len, 0);
  assert_non_null (strstr (fixture->model->foot, "No band."));
}

/* Of eight repeats that go on for 0.4 s one ends at 0.1. */
static void
foot_says_how_far_all_repeats_reach (void **state)
{
  ChartFixture *fixture = *state;
  make_model (fixture, two, 2);
  assert_null (strstr (fixture->model->foot, "as far as"));
  sb_configuration_result_trial (sb_analysis_configuration (fixture->analysis, 0), 3)->facts->end_s = 0.1;
  sb_chart_model_unref (fixture->model);
  fixture->model = sb_chart_model_new (fixture->analysis, -1);
  assert_non_null (strstr (fixture->model->foot, "of 5 or 8 repeats. Means as far as all repeats reach. Slopes"));
  fixture->analysis->bench->span = SB_SPAN_UNION;
  sb_chart_model_unref (fixture->model);
  fixture->model = sb_chart_model_new (fixture->analysis, -1);
  assert_non_null (strstr (fixture->model->foot, "Fewer repeats carry a mean from 100 ms on."));
}

static void
foot_states_a_chosen_slope_window (void **state)
{
  ChartFixture *fixture = *state;
  fixture->bench->measure.slope_window_s = 0.0025;
  make_model (fixture, two, 1);
  assert_non_null (strstr (fixture->model->foot, "Slopes over 2.5 ms."));
}

static void
legend_has_name_n_and_the_settings_that_differ (void **state)
{
  ChartFixture *fixture = *state;
  make_model (fixture, two, 2);
  assert_int_equal (fixture->model->legend->len, 2);
  assert_string_equal (g_array_index (fixture->model->legend, SbLegendEntry, 0).text,
                       "Low (n = 8), torque slope 0.3 N·m/ms");
  assert_string_equal (g_array_index (fixture->model->legend, SbLegendEntry, 1).text,
                       "High (n = 5), torque slope 2 N·m/ms");
}

static void
settings_that_are_the_same_stay_out_of_the_legend (void **state)
{
  ChartFixture *fixture = *state;
  SampleConfiguration same[2] = { two[0], two[1] };
  same[1].setting = same[0].setting;
  make_model (fixture, same, 2);
  assert_string_equal (g_array_index (fixture->model->legend, SbLegendEntry, 0).text, "Low (n = 8)");
}

/* The sample ends 0.4 s after the onset: 5 % before it, and ms up to 1 s. */
static void
time_range_begins_a_little_before_the_onset (void **state)
{
  ChartFixture *fixture = *state;
  make_model (fixture, two, 2);
  assert_close (fixture->model->x_min, -0.02, 1e-9);
  assert_close (fixture->model->x_max, 0.4, 1e-9);
  assert_string_equal (fixture->model->x_label, "Time after the step [ms]");
  assert_close (fixture->model->x_display_factor, 1000, 0);
}

static void
long_time_range_is_counted_in_seconds (void **state)
{
  ChartFixture *fixture = *state;
  fixture->analysis = sample_analysis_of_curve (g_new0 (double, 100), 100, 0, 0.1, 2);
  fixture->model = sb_chart_model_new (fixture->analysis, -1);
  assert_string_equal (fixture->model->x_label, "Time after the step [s]");
  assert_close (fixture->model->x_display_factor, 1, 0);
}

/* From 0.1 s on torque is flat at 10 N·m ± s, so that the ramp from 0 must not count. Air is at most a tenth. */
static void
value_range_is_of_what_lies_in_the_time_range (void **state)
{
  ChartFixture *fixture = *state;
  fixture->bench->chart.view_s[0] = 0.1;
  fixture->bench->chart.view_s[1] = 0.3;
  make_model (fixture, two, 1);
  const SbChartPanel *torque = panel_of (fixture, 1);
  assert_close (fixture->model->x_min, 0.1, 0);
  assert_close (fixture->model->x_max, 0.3, 0);
  assert_true (torque->y_min < 10 - SD_OF_8 && torque->y_min > 10 - 1.2 * SD_OF_8);
  assert_true (torque->y_max > 10 + SD_OF_8 && torque->y_max < 10 + 1.2 * SD_OF_8);
}

static void
half_open_view_takes_the_other_end_from_the_data (void **state)
{
  ChartFixture *fixture = *state;
  fixture->bench->chart.view_s[0] = 0.1;
  make_model (fixture, two, 1);
  assert_close (fixture->model->x_min, 0.1, 0);
  assert_close (fixture->model->x_max, 0.4, 1e-9);
}

static void
constant_curve_has_a_range_around_it (void **state)
{
  ChartFixture *fixture = *state;
  fixture->analysis = sample_analysis_of_curve (g_new0 (double, 100), 100, 0, 0.001, 2);
  fixture->model = sb_chart_model_new (fixture->analysis, -1);
  assert_true (panel_of (fixture, 0)->y_min < 0 && panel_of (fixture, 0)->y_max > 0);
}

/* Evidence put into the first trial of both configurations. */
static void
marks_are_the_evidence_of_the_first_used_trial (void **state)
{
  ChartFixture *fixture = *state;
  make_analysis (fixture, two, 2);
  for (guint c = 0; c < 2; c++) {
    SbMeasure *measure = sample_measure (fixture->analysis, c, SB_MEASURE_MEAN_TORQUE_SLOPE);
    measure->n_evidence = 2;
    measure->evidence[0] = (SbEvidence){ SB_EVIDENCE_CROSSING, 0.002, 1, 0 };
    measure->evidence[1] = (SbEvidence){ SB_EVIDENCE_CROSSING, 0.018, 9 + c, 0 };
  }
  fixture->model = sb_chart_model_new (fixture->analysis, SB_MEASURE_MEAN_TORQUE_SLOPE);
  assert_int_equal (panel_of (fixture, 0)->marks->len, 0);
  const GArray *marks = panel_of (fixture, 1)->marks;
  assert_int_equal (marks->len, 4);
  const SbMark *last = &g_array_index (marks, SbMark, 3);
  assert_int_equal (last->kind, SB_EVIDENCE_CROSSING);
  assert_int_equal (last->configuration, 1);
  assert_close (last->x, 0.018, 0);
  assert_close (last->y, 10, 0);
  assert_non_null (strstr (fixture->model->foot,
                           "where the mean torque slope of each configuration’s first repeat comes from; the "
                           "repeat is the thin line."));
}

/* Every measure of a trial is marked in the panel of its signal, the ringing in that of the signal it is read from. */
static void
every_measure_with_evidence_is_marked (void **state)
{
  ChartFixture *fixture = *state;
  make_analysis (fixture, two, 1);
  for (int i = 0; i < SB_N_MEASURES; i++) {
    const SbMeasureInfo *info = sb_measure_info ((SbMeasureId) i);
    gboolean of_ringing = g_str_has_prefix (info->key, "ringing_");
    for (int from_velocity = 0; from_velocity < (of_ringing ? 2 : 1) && !info->of_configuration; from_velocity++) {
      g_clear_pointer (&fixture->model, sb_chart_model_unref);
      SbMeasure *measure = sample_measure (fixture->analysis, 0, (SbMeasureId) i);
      measure->n_evidence = 1;
      measure->evidence[0] = (SbEvidence){ SB_EVIDENCE_PEAK, 0.01, 5, 0 };
      const SbTrialResult *trial = sb_configuration_result_trial (sb_analysis_configuration (fixture->analysis, 0), 0);
      trial->measures->ringing.channel = from_velocity ? SB_CHANNEL_VELOCITY : SB_CHANNEL_TORQUE;
      fixture->model = sb_chart_model_new (fixture->analysis, i);
      guint at = info->channel == SB_CHANNEL_VELOCITY || from_velocity ? 0 : 1;
      assert_int_equal (panel_of (fixture, at)->marks->len, 1);
      assert_int_equal (panel_of (fixture, 1 - at)->marks->len, 0);
    }
  }
}

/* The marks lie on that trial and not on the mean, so its line is drawn even when trial lines are off. */
static void
marked_trial_has_its_line (void **state)
{
  ChartFixture *fixture = *state;
  make_analysis (fixture, two, 1);
  fixture->model = sb_chart_model_new (fixture->analysis, SB_MEASURE_PEAK_TORQUE);
  assert_int_equal (panel_of (fixture, 0)->curves->len, 1);
  assert_int_equal (panel_of (fixture, 1)->curves->len, 2);
  const SbCurve *line = &g_array_index (panel_of (fixture, 1)->curves, SbCurve, 0);
  assert_true (line->thin);
  assert_close (line->y[300], 10 - 3.5 * 0.1, 1e-9);
}

static void
level_is_marked_along_the_measure_s_window (void **state)
{
  ChartFixture *fixture = *state;
  make_analysis (fixture, two, 1);
  SbMeasure *measure = sample_measure (fixture->analysis, 0, SB_MEASURE_OVERSHOOT);
  measure->window_s[0] = 0.03;
  measure->window_s[1] = 0.3;
  measure->n_evidence = 1;
  measure->evidence[0] = (SbEvidence){ SB_EVIDENCE_LEVEL, 0.1, 14, 0 };
  fixture->model = sb_chart_model_new (fixture->analysis, SB_MEASURE_OVERSHOOT);
  const SbMark *mark = &g_array_index (panel_of (fixture, 1)->marks, SbMark, 0);
  assert_close (mark->x, 0.03, 0);
  assert_close (mark->x_end, 0.3, 0);
  assert_true (panel_of (fixture, 1)->y_max > 14);
}

static void
description_says_what_a_reader_would_see (void **state)
{
  ChartFixture *fixture = *state;
  g_free (fixture->bench->chart.title);
  fixture->bench->chart.title = g_strdup ("Two limits");
  make_model (fixture, two, 2);
  fixture->text = sb_chart_model_describe (fixture->model);
  assert_non_null (strstr (fixture->text, "Two limits. Two panels: velocity and torque, over -20 to 400 ms after"));
  assert_non_null (strstr (fixture->text, "2 configurations: Low (n = 8), torque slope 0.3 N·m/ms: blue, solid; High"));
}

/* A model whose torque is 3 N·m throughout and which has no velocity, as when the velocity is not logged. */
static void
give_flat_drive (SbConfigurationResult *configuration)
{
  SbDriveModel *drive = g_new0 (SbDriveModel, 1);
  g_atomic_ref_count_init (&drive->ref_count);
  drive->present = TRUE;
  drive->stretches = g_array_new (FALSE, FALSE, sizeof (SbDriveStretch));
  drive->doubts = g_ptr_array_new ();
  drive->n_points = configuration->ensemble->n_points;
  drive->torque = g_new (double, drive->n_points);
  for (gsize i = 0; i < drive->n_points; i++)
    drive->torque[i] = 3;
  configuration->drive = drive;
}

static void
fitted_drive_lies_over_its_mean_and_is_named_in_the_foot (void **state)
{
  ChartFixture *fixture = *state;
  make_analysis (fixture, two, 2);
  give_flat_drive (g_ptr_array_index (fixture->analysis->configurations, 1));
  fixture->model = sb_chart_model_new (fixture->analysis, -1);
  const SbChartPanel *torque = panel_of (fixture, 1);
  assert_int_equal (torque->curves->len, 3);
  const SbCurve *last = &g_array_index (torque->curves, SbCurve, 2);
  assert_true (last->fit);
  assert_int_equal (last->configuration, 1);
  assert_close (last->y[10], 3, 0);
  assert_int_equal (panel_of (fixture, 0)->curves->len, 2);                     /* the velocity has none */
  assert_close (sb_chart_model_value_at (fixture->model, 1, 1, 0.3), 12, 1e-9); /* readings are of the mean */
  assert_non_null (strstr (fixture->model->foot, "Dark dashes: the fitted model of the drive."));
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    CHART_TEST (model_has_a_panel_for_velocity_and_torque),
    CHART_TEST (panel_without_a_curve_is_left_out),
    CHART_TEST (configuration_switched_off_has_neither_curve_nor_legend_entry),
    CHART_TEST (nothing_drawn_gives_no_panel_and_says_so),
    CHART_TEST (value_at_is_the_mean_curve),
    CHART_TEST (value_at_is_missing_where_nothing_is_drawn),
    CHART_TEST (value_at_does_not_bridge_a_gap),
    CHART_TEST (band_is_mean_plus_and_minus_k_deviations),
    CHART_TEST (lone_trial_has_no_band_and_the_foot_says_so),
    CHART_TEST (lone_trial_gets_the_moving_band_on_request),
    CHART_TEST (moving_band_keeps_the_log_s_own_line),
    CHART_TEST (moving_band_is_never_drawn_for_repeats),
    CHART_TEST (trial_lines_come_on_request_and_lie_under_the_means),
    CHART_TEST (foot_names_band_slope_window_version_and_data),
    CHART_TEST (foot_says_when_there_is_no_band),
    CHART_TEST (foot_says_how_far_all_repeats_reach),
    CHART_TEST (foot_states_a_chosen_slope_window),
    CHART_TEST (legend_has_name_n_and_the_settings_that_differ),
    CHART_TEST (settings_that_are_the_same_stay_out_of_the_legend),
    CHART_TEST (time_range_begins_a_little_before_the_onset),
    CHART_TEST (long_time_range_is_counted_in_seconds),
    CHART_TEST (value_range_is_of_what_lies_in_the_time_range),
    CHART_TEST (half_open_view_takes_the_other_end_from_the_data),
    CHART_TEST (constant_curve_has_a_range_around_it),
    CHART_TEST (marks_are_the_evidence_of_the_first_used_trial),
    CHART_TEST (every_measure_with_evidence_is_marked),
    CHART_TEST (marked_trial_has_its_line),
    CHART_TEST (level_is_marked_along_the_measure_s_window),
    CHART_TEST (fitted_drive_lies_over_its_mean_and_is_named_in_the_foot),
    CHART_TEST (description_says_what_a_reader_would_see),
  };
  return cmocka_run_group_tests (tests, NULL, NULL);
}
