/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The difference of the compared pair as data; sample_set_difference() has the numbers. */
#include "chart_fixture.h"
#include "chart_painter.h"

#include <string.h>

static const SampleConfiguration three[] = {
  { .name = "Low", .n_trials = 3, .level_nm = 10 },
  { .name = "High", .n_trials = 3, .level_nm = 12 },
  { .name = "Third", .n_trials = 3, .level_nm = 9 },
};

static void
make_difference (ChartFixture *fixture)
{
  fixture->bench->chart.view = SB_VIEW_DIFFERENCE;
  make_analysis (fixture, three, G_N_ELEMENTS (three));
  sample_set_difference (fixture->analysis);
  fixture->model = sb_chart_model_new (fixture->analysis, -1);
}

static void
difference_stands_under_its_response (void **state)
{
  ChartFixture *fixture = *state;
  make_difference (fixture);
  assert_int_equal (fixture->model->panels->len, 3);
  assert_string_equal (panel_of (fixture, 0)->label, "Velocity [rad/s]");
  assert_string_equal (panel_of (fixture, 1)->label, "Torque [N·m]");
  assert_string_equal (panel_of (fixture, 2)->label, "Δ Torque [N·m]");
  assert_true (panel_of (fixture, 2)->difference);
}

static void
difference_stands_alone_on_request_without_a_legend (void **state)
{
  ChartFixture *fixture = *state;
  fixture->bench->chart.difference_only = TRUE;
  make_difference (fixture);
  assert_int_equal (fixture->model->panels->len, 1);
  assert_int_equal (fixture->model->legend->len, 0);
  assert_null (strstr (fixture->model->foot, "Band: mean"));
}

static void
only_the_pair_is_drawn (void **state)
{
  ChartFixture *fixture = *state;
  make_difference (fixture);
  assert_int_equal (fixture->model->legend->len, 2);
  assert_true (isnan (sb_chart_model_value_at (fixture->model, 1, 2, 0.2)));
}

/* Band of all instants: 2 ± 1; of one: 2 ± 0.5. */
static void
bands_are_the_difference_plus_and_minus_their_half_widths (void **state)
{
  ChartFixture *fixture = *state;
  make_difference (fixture);
  const SbChartPanel *panel = panel_of (fixture, 2);
  const SbBandArea *band = &g_array_index (panel->bands, SbBandArea, 0);
  assert_close (band->lower[1], 1, 1e-12);
  assert_close (band->upper[2], 3, 1e-12);
  assert_close (band->x0, 0, 1e-12);
  assert_close (band->dx, 0.1, 1e-12);
  assert_int_equal (panel->curves->len, 3);
  assert_close (g_array_index (panel->curves, SbCurve, 0).y[1], 1.5, 1e-12);
  assert_close (g_array_index (panel->curves, SbCurve, 1).y[1], 2.5, 1e-12);
}

static void
value_at_a_difference_is_told_for_the_other (void **state)
{
  ChartFixture *fixture = *state;
  make_difference (fixture);
  assert_close (sb_chart_model_value_at (fixture->model, 2, 1, 0.05), 1, 1e-9);
  assert_true (isnan (sb_chart_model_value_at (fixture->model, 2, 0, 0.05)));
}

/* The half width of all instants is 1.0 N·m: 2.0 (GUM 7.2.6). The axis counts in ms. */
static void
stretch_away_from_zero_is_shaded_and_told (void **state)
{
  ChartFixture *fixture = *state;
  make_difference (fixture);
  const SbChartPanel *panel = panel_of (fixture, 2);
  assert_int_equal (panel->stretches->len, 1);
  assert_close (g_array_index (panel->stretches, SbTimeStretch, 0).to_s, 0.2, 1e-12);
  assert_string_equal (panel->caption, "High − Low, away from zero in 1: 100 to 200 ms (+2.0 N·m)");
}

/* Of 8 instants the band leaves zero at 6: what is exported says so, as the results do. */
static void
share_of_a_stretch_with_returns_is_told (void **state)
{
  ChartFixture *fixture = *state;
  fixture->bench->chart.view = SB_VIEW_DIFFERENCE;
  make_analysis (fixture, three, G_N_ELEMENTS (three));
  sample_set_difference (fixture->analysis);
  SbDifferenceStretch *stretch
      = &g_array_index (fixture->analysis->difference[SB_CHANNEL_TORQUE]->stretches, SbDifferenceStretch, 0);
  stretch->n = 8;
  stretch->n_beyond = 6;
  fixture->model = sb_chart_model_new (fixture->analysis, -1);
  assert_non_null (strstr (panel_of (fixture, 2)->caption, "100 to 200 ms (beyond at 75 % of the instants)"));
}

static void
lay_out (ChartFixture *fixture, double height_pt, SbChartLayout *layout)
{
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_RGB24, 400, (int) height_pt);
  cairo_t *cr = cairo_create (surface);
  sb_chart_paint (fixture->model, cr, 400, height_pt, 8, layout);
  cairo_destroy (cr);
  cairo_surface_destroy (surface);
}

/* Panels of velocity, torque and difference: the difference is half as high again, on a low chart as on a high one. */
static void
difference_has_more_room_than_a_response (void **state)
{
  ChartFixture *fixture = *state;
  make_difference (fixture);
  assert_string_equal (panel_of (fixture, 2)->brief, "High − Low: away from zero in 1 stretch");
  for (int height_pt = 220; height_pt <= 600; height_pt += 380) {
    SbChartLayout layout;
    lay_out (fixture, height_pt, &layout);
    assert_int_equal (layout.n_plots, 3);
    assert_close (layout.plot[1].height, layout.plot[0].height, 1e-9);
    assert_close (layout.plot[2].height, 1.5 * layout.plot[0].height, 1e-9);
  }
}

static void
zero_is_always_on_the_axis_of_a_difference (void **state)
{
  ChartFixture *fixture = *state;
  make_difference (fixture);
  assert_true (panel_of (fixture, 2)->y_min <= 0 && panel_of (fixture, 2)->y_max >= 0);
}

static void
foot_says_what_the_bands_are_and_where_there_is_none (void **state)
{
  ChartFixture *fixture = *state;
  make_difference (fixture);
  const char *foot = fixture->model->foot;
  assert_non_null (strstr (foot, "n = 3 and 3. Filled band: 95 % at all instants together"));
  assert_non_null (strstr (foot, "No difference of the velocity:"));
}

/* The band of all instants is had in one of two ways (difference_curve.h), and the foot names the one that was taken.
 */
static void
foot_names_the_way_the_band_was_had (void **state)
{
  ChartFixture *fixture = *state;
  make_difference (fixture);
  assert_non_null (strstr (fixture->model->foot, "(simulated studentized curves)"));
  g_clear_pointer (&fixture->model, sb_chart_model_unref);
  fixture->analysis->difference[SB_CHANNEL_TORQUE]->by_bound = TRUE;
  fixture->model = sb_chart_model_new (fixture->analysis, -1);
  assert_non_null (strstr (fixture->model->foot, "(Bonferroni's bound over the instants)"));
  assert_null (strstr (fixture->model->foot, "simulated"));
}

static void
difference_without_a_pair_says_what_to_do (void **state)
{
  ChartFixture *fixture = *state;
  fixture->bench->chart.view = SB_VIEW_DIFFERENCE;
  make_analysis (fixture, three, G_N_ELEMENTS (three));
  fixture->model = sb_chart_model_new (fixture->analysis, -1);
  assert_int_equal (fixture->model->panels->len, 0);
  assert_non_null (strstr (fixture->model->absent_reason, "Choose a reference and an other configuration"));
}

/* Seven stretches of 5 ms, one every 20 ms from 10 ms on; 25 to 100 ms are shown. */
static void
stretches_outside_of_what_is_shown_are_counted_and_others_numbered_without_gaps (void **state)
{
  ChartFixture *fixture = *state;
  fixture->bench->chart.view = SB_VIEW_DIFFERENCE;
  fixture->bench->chart.view_s[0] = 0.025;
  fixture->bench->chart.view_s[1] = 0.1;
  make_analysis (fixture, three, G_N_ELEMENTS (three));
  sample_set_difference (fixture->analysis);
  GArray *stretches = fixture->analysis->difference[SB_CHANNEL_TORQUE]->stretches;
  g_array_set_size (stretches, 0);
  for (int k = 0; k < 7; k++) {
    SbDifferenceStretch stretch = { .from_s = 0.01 + 0.02 * k,
                                    .to_s = 0.015 + 0.02 * k,
                                    .sign = k % 2 == 0 ? -1 : 1,
                                    .largest = 10,
                                    .at_s = 0.1,
                                    .area = 0.05 + (k == 4) };
    g_array_append_val (stretches, stretch);
  }
  fixture->model = sb_chart_model_new (fixture->analysis, -1);
  const SbChartPanel *panel = panel_of (fixture, 2);
  assert_int_equal (panel->stretches->len, 4); /* from 30, 50, 70 and 90 ms on */
  for (guint k = 0; k < 4; k++) {
    const SbTimeStretch *stretch = &g_array_index (panel->stretches, SbTimeStretch, k);
    assert_int_equal (stretch->number, k + 1);
    assert_close (stretch->from_s, 0.03 + 0.02 * k, 1e-12);
  }
  /* The largest is the fourth that is shown. */
  assert_non_null (strstr (panel->caption, "away from zero in 1: 30.0 to 35.0 ms"));
  assert_non_null (strstr (panel->caption, ", 4: 90.0 to 95.0 ms"));
  assert_non_null (strstr (panel->caption, " and 1 smaller; 3 outside what is shown"));
  assert_string_equal (panel->brief, "High − Low: away from zero in 7 stretches, 3 of them outside what is shown");
  assert_true (g_str_has_suffix (panel->caption, " and 1 smaller; 3 outside what is shown"));
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    CHART_TEST (difference_stands_under_its_response),
    CHART_TEST (difference_stands_alone_on_request_without_a_legend),
    CHART_TEST (only_the_pair_is_drawn),
    CHART_TEST (bands_are_the_difference_plus_and_minus_their_half_widths),
    CHART_TEST (value_at_a_difference_is_told_for_the_other),
    CHART_TEST (stretch_away_from_zero_is_shaded_and_told),
    CHART_TEST (share_of_a_stretch_with_returns_is_told),
    CHART_TEST (stretches_outside_of_what_is_shown_are_counted_and_others_numbered_without_gaps),
    CHART_TEST (difference_has_more_room_than_a_response),
    CHART_TEST (zero_is_always_on_the_axis_of_a_difference),
    CHART_TEST (foot_says_what_the_bands_are_and_where_there_is_none),
    CHART_TEST (foot_names_the_way_the_band_was_had),
    CHART_TEST (difference_without_a_pair_says_what_to_do),
  };
  return cmocka_run_group_tests (tests, NULL, NULL);
}
