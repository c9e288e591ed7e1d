/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What labels of curves say and where. The sample's torque is at its level from 20 ms on, and its figures are set here.
 */
#include "chart_fixture.h"

#include "chart_fit.h"
#include "doubt.h"
#include "paint.h"
#include "results_cells.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#define PT_PER_MM (72 / 25.4)

static const SampleConfiguration one[] = { { .name = "Alder", .n_trials = 2, .level_nm = 10 } };

/* Values of the two repeats, and where the first and the second have their evidence. */
static void
set_figures (ChartFixture *fixture, SbMeasureId id, SbEvidenceKind kind, const double values[2], const double at_s[2])
{
  const SbConfigurationResult *configuration = sb_analysis_configuration (fixture->analysis, 0);
  for (guint t = 0; t < 2; t++) {
    SbMeasure *measure = &sb_configuration_result_trial (configuration, t)->measures->measure[id];
    measure->evidence[0] = (SbEvidence){ kind, at_s[t], 0, 0 };
    measure->n_evidence = 1;
  }
  sample_set_figures (fixture->analysis, 0, id, values);
}

static void
set_peak_and_overshoot (ChartFixture *fixture)
{
  static const double at_s[] = { 0.1, 0.3 }, peaks[] = { 10.1, 10.3 }, overshoots[] = { 0.01, 0.03 };
  make_analysis (fixture, one, 1);
  set_figures (fixture, SB_MEASURE_PEAK_TORQUE, SB_EVIDENCE_PEAK, peaks, at_s);
  set_figures (fixture, SB_MEASURE_OVERSHOOT, SB_EVIDENCE_PEAK, overshoots, at_s);
}

static const SbLabelMark *
label_of (const ChartFixture *fixture, guint panel, guint i)
{
  const GArray *labels = panel_of (fixture, panel)->labels;
  assert_true (i < labels->len);
  return &g_array_index (labels, SbLabelMark, i);
}

/* Mean 10.2, s = 0.1414: two digits of it are 0.14, so 10.20 (GUM 7.2.6). Instants 0.1 and 0.3 s: 0.2 s, where the mean
 * curve is at 10 N·m. */
static void
a_peak_is_the_mean_of_the_repeats_at_their_mean_instant (void **state)
{
  ChartFixture *fixture = *state;
  fixture->bench->chart.labels = 1u << SB_LABEL_PEAKS;
  set_peak_and_overshoot (fixture);
  fixture->model = sb_chart_model_new (fixture->analysis, -1);
  assert_int_equal (panel_of (fixture, 0)->labels->len, 0); /* no peak velocity is known */
  assert_int_equal (panel_of (fixture, 1)->labels->len, 1);
  const SbLabelMark *label = label_of (fixture, 1, 0);
  assert_string_equal (label->text, "peak 10.20 N·m");
  assert_close (label->x, 0.2, 1e-12);
  assert_close (label->y, 10, 1e-9);
  assert_true (isnan (label->slope));
}

static void
overshoot_shares_the_label_of_its_peak (void **state)
{
  ChartFixture *fixture = *state;
  fixture->bench->chart.labels = 1u << SB_LABEL_PEAKS | 1u << SB_LABEL_OVERSHOOT;
  set_peak_and_overshoot (fixture);
  fixture->model = sb_chart_model_new (fixture->analysis, -1);
  assert_int_equal (panel_of (fixture, 1)->labels->len, 1);
  assert_string_equal (label_of (fixture, 1, 0)->text, "peak 10.20 N·m, overshoot 2.0 %");
  fixture->text = sb_chart_model_describe (fixture->model);
  assert_non_null (strstr (fixture->text, "torque of Alder: peak 10.20 N·m, overshoot 2.0 %"));
}

/* 1 and 3 N·m/ms: s = 1.4, so 2.0; the tangent rises by 2000 N·m in a second. */
static void
a_slope_is_a_tangent_and_says_when_it_is_in_doubt (void **state)
{
  ChartFixture *fixture = *state;
  static const double slopes[] = { 1000, 3000 }, at_s[] = { 0.01, 0.01 };
  fixture->bench->chart.labels = 1u << SB_LABEL_SLOPE;
  make_analysis (fixture, one, 1);
  SbMeasure *first = sample_measure (fixture->analysis, 0, SB_MEASURE_PEAK_TORQUE_SLOPE);
  first->doubts = g_ptr_array_new_with_free_func (sb_doubt_free);
  g_ptr_array_add (first->doubts, sb_doubt_new (SB_DOUBT_TOLD, g_strdup ("in the noise: this one")));
  set_figures (fixture, SB_MEASURE_PEAK_TORQUE_SLOPE, SB_EVIDENCE_TANGENT, slopes, at_s);
  fixture->model = sb_chart_model_new (fixture->analysis, -1);
  const SbLabelMark *label = label_of (fixture, 1, 0);
  assert_string_equal (label->text, "slope 2.0 N·m/ms ?");
  assert_close (label->slope, 2000, 1e-9);
  assert_close (label->y, 5, 1e-9); /* half way up the ramp of 20 ms */
  assert_non_null (strstr (fixture->model->foot, "? in doubt."));
}

static void
nothing_is_named_unless_asked_or_when_dimmed (void **state)
{
  ChartFixture *fixture = *state;
  set_peak_and_overshoot (fixture);
  fixture->model = sb_chart_model_new (fixture->analysis, -1);
  assert_int_equal (panel_of (fixture, 1)->labels->len, 0);
  assert_null (strstr (fixture->model->foot, "Labels"));
  g_clear_pointer (&fixture->model, sb_chart_model_unref);
  fixture->analysis->bench->chart.labels = 1u << SB_LABEL_PEAKS;
  sb_bench_edit_configuration (fixture->analysis->bench, 0)->dimmed = TRUE;
  fixture->model = sb_chart_model_new (fixture->analysis, -1);
  assert_int_equal (panel_of (fixture, 1)->labels->len, 0);
}

static void
paint_at (ChartFixture *fixture, double width_mm, double height_mm, double font_pt, SbChartLayout *layout)
{
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_RGB24, 8, 8);
  cairo_t *cr = cairo_create (surface);
  g_clear_pointer (&fixture->boxes, g_array_unref);
  fixture->boxes = g_array_new (FALSE, FALSE, sizeof (SbRect));
  sb_chart_paint_noting (fixture->model, cr, width_mm * PT_PER_MM, height_mm * PT_PER_MM, font_pt, layout,
                         fixture->boxes);
  cairo_destroy (cr);
  cairo_surface_destroy (surface);
}

/* On 175 x 120 mm there is room; where the label is longer than the plot is wide, its words are a text more below, and
 * whoever asked is told. */
static void
what_has_no_room_goes_below_in_words (void **state)
{
  ChartFixture *fixture = *state;
  SbChartLayout layout;
  fixture->bench->chart.labels = 1u << SB_LABEL_PEAKS;
  set_peak_and_overshoot (fixture);
  fixture->model = sb_chart_model_new (fixture->analysis, -1);
  paint_at (fixture, 175, 120, 8, &layout);
  assert_int_equal (layout.n_labels, 1);
  assert_int_equal (layout.n_below, 0);
  guint index = 1;
  assert_int_equal (layout.label[0].panel, index);
  assert_close (layout.label[0].x, sb_chart_layout_x_of (&layout, 0.2), 1e-6);
  assert_close (layout.label[0].y, sb_chart_layout_y_of (&layout, index, 10), 1e-6);
  fixture->model->paper.no_foot = TRUE;
  fixture->model->paper.legend = SB_LEGEND_NONE;
  SbChartSize large = { 175, 120, 300, 8 }, small = { 40, 90, 300, 8 };
  assert_null (sb_chart_fit_advice (fixture->model, &large));
  fixture->text = sb_chart_fit_advice (fixture->model, &small);
  assert_string_equal (fixture->text,
                       "1 label has no place in the panels and stands in words below them: a larger size "
                       "or fewer labels would do");
  paint_at (fixture, 40, 60, 8, &layout);
  assert_int_equal (layout.n_labels, 0);
  assert_int_equal (layout.n_below, 1);
  const SbRect *last = &g_array_index (fixture->boxes, SbRect, fixture->boxes->len - 1);
  assert_true (last->y > layout.plot[1].y + layout.plot[1].height); /* the words, as there is no foot line */
  assert_true (last->y + last->height > (60 - 5) * PT_PER_MM);
}

static const SbRule *
rule_of (const ChartFixture *fixture, guint panel, guint i)
{
  const GArray *rules = panel_of (fixture, panel)->rules;
  assert_true (i < rules->len);
  return &g_array_index (rules, SbRule, i);
}

/* A torque is a height, which the axis takes in; a dead time is an instant. */
static void
stated_figures_are_labelled_lines_beside_labels (void **state)
{
  ChartFixture *fixture = *state;
  fixture->bench->chart.labels = 1u << SB_LABEL_PEAKS;
  set_peak_and_overshoot (fixture);
  sample_state (fixture->analysis, SB_MEASURE_PEAK_TORQUE, 30);
  sample_state (fixture->analysis, SB_MEASURE_DEAD_TIME, 0.004);
  fixture->model = sb_chart_model_new (fixture->analysis, -1);
  assert_int_equal (panel_of (fixture, 0)->rules->len, 0);
  assert_int_equal (panel_of (fixture, 1)->rules->len, 2);
  assert_close (rule_of (fixture, 1, 0)->intercept, 30, 1e-9);
  assert_false (rule_of (fixture, 1, 0)->upright);
  assert_true (panel_of (fixture, 1)->y_max > 30);
  assert_true (rule_of (fixture, 1, 1)->upright);
  assert_close (rule_of (fixture, 1, 1)->at[0], 0.004, 1e-12);
  assert_string_equal (label_of (fixture, 1, 1)->text, "stated peak torque at least 30 N·m, reached");
  assert_close (label_of (fixture, 1, 1)->y, 30, 1e-9);
  assert_string_equal (label_of (fixture, 1, 2)->text, "stated dead time at least 4 ms, reached");
  assert_close (label_of (fixture, 1, 2)->x, 0.004, 1e-12);
}

/* 2000 N·m/s on an axis in N·m/ms. */
static void
a_stated_slope_stands_in_the_panel_of_the_slope (void **state)
{
  ChartFixture *fixture = *state;
  fixture->bench->chart.labels = 1u << SB_LABEL_SLOPE;
  fixture->bench->chart.view = SB_VIEW_SLOPE;
  make_analysis (fixture, one, 1);
  sample_state (fixture->analysis, SB_MEASURE_PEAK_TORQUE_SLOPE, 2000);
  fixture->model = sb_chart_model_new (fixture->analysis, -1);
  assert_int_equal (panel_of (fixture, 0)->rules->len, 0);
  assert_close (rule_of (fixture, 1, 0)->intercept, 2, 1e-12);
  g_clear_pointer (&fixture->model, sb_chart_model_unref);
  fixture->analysis->bench->chart.labels = 0;
  fixture->model = sb_chart_model_new (fixture->analysis, -1);
  assert_int_equal (panel_of (fixture, 1)->rules->len, 0);
}

/* The largest sheet with the smallest text that a session may name (docs/session-file.md). */
static void
labels_have_their_places_on_the_largest_sheet (void **state)
{
  ChartFixture *fixture = *state;
  SbChartLayout layout;
  fixture->bench->chart.labels = 1u << SB_LABEL_PEAKS;
  set_peak_and_overshoot (fixture);
  fixture->model = sb_chart_model_new (fixture->analysis, -1);
  paint_at (fixture, 2000, 2000, 1, &layout);
  guint n_largest = fixture->boxes->len;
  paint_at (fixture, 175, 120, 8, &layout);
  assert_true (n_largest >= fixture->boxes->len - 1);
}

/* Instants 0.5 and 0.7 s, where the mean curve has ended at 0.4 s: the figure is told, below. */
static void
a_label_past_the_end_of_its_curve_goes_below (void **state)
{
  ChartFixture *fixture = *state;
  static const double at_s[] = { 0.5, 0.7 }, peaks[] = { 10.1, 10.3 };
  SbChartLayout layout;
  fixture->bench->chart.labels = 1u << SB_LABEL_PEAKS;
  make_analysis (fixture, one, 1);
  set_figures (fixture, SB_MEASURE_PEAK_TORQUE, SB_EVIDENCE_PEAK, peaks, at_s);
  fixture->model = sb_chart_model_new (fixture->analysis, -1);
  paint_at (fixture, 175, 120, 8, &layout);
  assert_int_equal (layout.n_labels, 0);
  assert_int_equal (layout.n_below, 1);
  SbChartSize size = { 175, 120, 300, 8 };
  assert_null (sb_chart_fit_advice (fixture->model, &size)); /* no size would help */
  fixture->text = sb_chart_model_describe (fixture->model);
  assert_non_null (strstr (fixture->text, "torque of Alder: peak 10.20 N·m"));
  g_clear_pointer (&fixture->model, sb_chart_model_unref);
  fixture->analysis->bench->chart.view_s[1] = 0.3; /* chosen: it is outside of that, and only counted */
  fixture->model = sb_chart_model_new (fixture->analysis, -1);
  paint_at (fixture, 175, 120, 8, &layout);
  assert_int_equal (layout.n_labels + layout.n_below, 0);
  assert_non_null (strstr (fixture->model->foot, "Outside what is shown: 1 label."));
}

/* The peak is at 0.2 s, the chart ends at 0.15 s. */
static void
a_label_outside_the_time_shown_is_told_and_not_described (void **state)
{
  ChartFixture *fixture = *state;
  SbChartLayout layout;
  fixture->bench->chart.labels = 1u << SB_LABEL_PEAKS;
  fixture->bench->chart.view_s[1] = 0.15;
  set_peak_and_overshoot (fixture);
  fixture->model = sb_chart_model_new (fixture->analysis, -1);
  paint_at (fixture, 175, 120, 8, &layout);
  assert_int_equal (layout.n_labels + layout.n_below, 0);
  assert_null (strstr (fixture->model->foot, "Labels:"));
  assert_non_null (strstr (fixture->model->foot, "Outside what is shown: 1 label."));
  fixture->text = sb_chart_model_describe (fixture->model);
  assert_null (strstr (fixture->text, "peak 10.20"));
  g_autofree char *left_out = sb_chart_model_labels_left_out (fixture->model);
  assert_string_equal (left_out,
                       "labels not drawn, as they lie outside what is shown: torque of Alder: peak 10.20 N·m");
}

static void
a_view_without_labels_says_so_when_they_are_asked_for (void **state)
{
  ChartFixture *fixture = *state;
  fixture->bench->chart.labels = 1u << SB_LABEL_PEAKS;
  fixture->bench->chart.view = SB_VIEW_SPREAD;
  set_peak_and_overshoot (fixture);
  fixture->model = sb_chart_model_new (fixture->analysis, -1);
  fixture->text = sb_chart_model_labels_left_out (fixture->model);
  assert_non_null (strstr (fixture->text, "this view has none"));
}

/* A callout at 0.3 s of a chart that ends at 0.25 s is not there, and takes no room. */
static void
a_callout_outside_the_time_shown_takes_no_room (void **state)
{
  ChartFixture *fixture = *state;
  SbChartLayout with, without;
  fixture->bench->chart.labels = 1u << SB_LABEL_PEAKS;
  fixture->bench->chart.view_s[1] = 0.25;
  set_peak_and_overshoot (fixture);
  fixture->model = sb_chart_model_new (fixture->analysis, -1);
  paint_at (fixture, 175, 120, 8, &without);
  assert_int_equal (without.n_labels, 1);
  const SbLabelPlace *place = &without.label[0];
  SbCalloutMark mark = { .style = 0, .x = 0.3, .y = 10, .text = "a callout as wide as its words are long" };
  for (int k = -20; k <= 20; k++) { /* its label over all places that the other's may take */
    mark.label[0] = -10;
    mark.label[1] = k;
    g_array_append_val (panel_of (fixture, 1)->callouts, mark);
  }
  paint_at (fixture, 175, 120, 8, &with);
  assert_int_equal (with.n_labels, 1);
  assert_close (with.label[0].box.x, place->box.x, 1e-9);
  assert_close (with.label[0].box.y, place->box.y, 1e-9);
}

/* Of a lone repeat both say its figure by its own uncertainty: 0.03 to two digits is 0.030, so 10.200. */
static void
a_lone_repeats_label_has_the_digits_of_the_table (void **state)
{
  static const SampleConfiguration lone[] = { { .name = "Alder", .n_trials = 1, .level_nm = 10 } };
  ChartFixture *fixture = *state;
  static const double at_s[] = { 0.2 }, peaks[] = { 10.2 };
  fixture->bench->chart.labels = 1u << SB_LABEL_PEAKS;
  make_analysis (fixture, lone, 1);
  SbMeasure *measure = sample_measure (fixture->analysis, 0, SB_MEASURE_PEAK_TORQUE);
  measure->uncertainty = 0.03;
  measure->evidence[0] = (SbEvidence){ SB_EVIDENCE_PEAK, at_s[0], 0, 0 };
  measure->n_evidence = 1;
  sample_set_figures (fixture->analysis, 0, SB_MEASURE_PEAK_TORQUE, peaks);
  fixture->model = sb_chart_model_new (fixture->analysis, -1);
  assert_string_equal (label_of (fixture, 1, 0)->text, "peak 10.200 N·m");
  const SbMeasureSummary *summary
      = &sb_analysis_configuration (fixture->analysis, 0)->summary->measure[SB_MEASURE_PEAK_TORQUE];
  fixture->text = sb_summary_cell (SB_MEASURE_PEAK_TORQUE, (SbUnits){ 0 }, summary);
  assert_string_equal (fixture->text, "10.200");
}

/* Modes at 40 and 80 Hz in the sample's torque after its rise; a doubt of the trial's frequency. */
static void
make_modes (ChartFixture *fixture, SbDoubtKind kind, const char *doubt)
{
  fixture->bench->chart.labels = 1u << SB_LABEL_RINGING;
  fixture->bench->chart.view = SB_VIEW_RINGING;
  make_analysis (fixture, one, 1);
  SbMeasure *frequency = sample_measure (fixture->analysis, 0, SB_MEASURE_RINGING_FREQUENCY);
  SbRinging *ringing
      = &sb_configuration_result_trial (sb_analysis_configuration (fixture->analysis, 0), 0)->measures->ringing;
  *ringing = (SbRinging){ .ringing_class = SB_RINGING_DECAYING,
                          .channel = SB_CHANNEL_TORQUE,
                          .window_s = { 0.02, 0.39 },
                          .level_nm = 9,
                          .n_modes = 2 };
  for (int m = 0; m < 2; m++)
    ringing->mode[m] = (SbMode){ .amplitude = 1,
                                 .decay_per_s = 5,
                                 .frequency_hz = 40 * (m + 1),
                                 .frequency_sd_hz = 1,
                                 .damping_ratio = 0.1,
                                 .damping_ratio_sd = 0.01 };
  frequency->doubts = g_ptr_array_new_with_free_func (sb_doubt_free);
  g_ptr_array_add (frequency->doubts, sb_doubt_new (kind, g_strdup (doubt)));
  fixture->model = sb_chart_model_new (fixture->analysis, -1);
}

static void
a_mode_in_doubt_is_marked (void **state)
{
  ChartFixture *fixture = *state;
  make_modes (fixture, SB_DOUBT_ONE_MODE, "cross-check: this one");
  const GArray *labels = panel_of (fixture, 1)->labels;
  assert_int_equal (labels->len, 2);
  assert_string_equal (g_array_index (labels, SbLabelMark, 0).text, "40.0 Hz, damping 0.100 ?");
  assert_string_equal (g_array_index (labels, SbLabelMark, 1).text, "80.0 Hz, damping 0.100");
  assert_non_null (strstr (fixture->model->foot, "? in doubt."));
}

static void
a_signal_in_doubt_marks_all_its_modes (void **state)
{
  ChartFixture *fixture = *state;
  make_modes (fixture, SB_DOUBT_CUT_OFF, "cut off?: the signal");
  const GArray *labels = panel_of (fixture, 1)->labels;
  assert_int_equal (labels->len, 2);
  assert_string_equal (g_array_index (labels, SbLabelMark, 0).text, "40.0 Hz, damping 0.100 ?");
  assert_string_equal (g_array_index (labels, SbLabelMark, 1).text, "80.0 Hz, damping 0.100 ?");
}

/* Text smaller than asked for is told, with a paper on which it stands at its size; where it does, nothing is said. */
static void
text_that_had_to_be_smaller_is_told_with_a_paper_that_would_do (void **state)
{
  ChartFixture *fixture = *state;
  SbChartLayout layout;
  make_model (fixture, one, 1);
  SbChartSize size = { 175, 120, 300, 8 };
  assert_null (sb_chart_fit_advice (fixture->model, &size));
  size = (SbChartSize){ 85, 30, 300, 8 };
  fixture->text = sb_chart_fit_advice (fixture->model, &size);
  assert_non_null (fixture->text);
  paint_at (fixture, 85, 30, 8, &layout);
  g_autofree char *begin = g_strdup_printf ("the text is set at %.1f pt in place of 8 pt: 85 × 30 mm", layout.font_pt);
  assert_true (g_str_has_prefix (fixture->text, begin));
  double width = 0, height = 0;
  assert_int_equal (sscanf (strstr (fixture->text, "all of it. "), "all of it. %lf × %lf mm would do", &width, &height),
                    2);
  size = (SbChartSize){ width, height, 300, 8 };
  assert_true (height > 30);
  assert_null (sb_chart_fit_advice (fixture->model, &size));
  paint_at (fixture, width, height, 8, &layout);
  assert_close (layout.font_pt, 8, 1e-9);
}

/* No word of a legend is broken: the column is as wide as the longest one, or the legend goes below, which is told. On
 * 85 mm a word of 60 letters of 8 pt is wider than the chart: a letter "m" is more than half as wide as high. */
static void
a_legend_breaks_no_word_and_goes_below_where_one_is_too_wide (void **state)
{
  ChartFixture *fixture = *state;
  static const SampleConfiguration words[] = { { .name = "Alder smoothened", .n_trials = 2, .level_nm = 10 } };
  static const SampleConfiguration word[]
      = { { .name = "mmmmmmmmmmmmmmmmmmmmmmmmmmmmmmmmmmmmmmmmmmmmmmmmmmmmmmmmmmmm", .n_trials = 2, .level_nm = 10 } };
  SbChartSize size = { 85, 95, 300, 8 };
  SbChartLayout layout;
  make_model (fixture, words, 1);
  fixture->model->paper.legend = SB_LEGEND_RIGHT;
  assert_null (sb_chart_fit_advice (fixture->model, &size));
  paint_at (fixture, 85, 95, 8, &layout);
  assert_true (layout.plot[0].x + layout.plot[0].width < 0.75 * 85 * PT_PER_MM); /* it is beside the panels */
  g_clear_pointer (&fixture->model, sb_chart_model_unref);
  g_clear_pointer (&fixture->analysis, sb_analysis_unref);
  fixture->bench = sb_bench_new ();
  make_model (fixture, word, 1);
  fixture->model->paper.legend = SB_LEGEND_RIGHT;
  fixture->text = sb_chart_fit_advice (fixture->model, &size);
  assert_non_null (fixture->text);
  assert_non_null (strstr (fixture->text, "the legend stands below"));
  paint_at (fixture, 85, 95, 8, &layout);
  assert_true (layout.plot[0].x + layout.plot[0].width > 0.85 * 85 * PT_PER_MM);
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    CHART_TEST (a_peak_is_the_mean_of_the_repeats_at_their_mean_instant),
    CHART_TEST (overshoot_shares_the_label_of_its_peak),
    CHART_TEST (a_slope_is_a_tangent_and_says_when_it_is_in_doubt),
    CHART_TEST (nothing_is_named_unless_asked_or_when_dimmed),
    CHART_TEST (stated_figures_are_labelled_lines_beside_labels),
    CHART_TEST (a_stated_slope_stands_in_the_panel_of_the_slope),
    CHART_TEST (labels_have_their_places_on_the_largest_sheet),
    CHART_TEST (a_label_past_the_end_of_its_curve_goes_below),
    CHART_TEST (a_label_outside_the_time_shown_is_told_and_not_described),
    CHART_TEST (a_view_without_labels_says_so_when_they_are_asked_for),
    CHART_TEST (a_callout_outside_the_time_shown_takes_no_room),
    CHART_TEST (a_lone_repeats_label_has_the_digits_of_the_table),
    CHART_TEST (a_mode_in_doubt_is_marked),
    CHART_TEST (a_signal_in_doubt_marks_all_its_modes),
    CHART_TEST (text_that_had_to_be_smaller_is_told_with_a_paper_that_would_do),
    CHART_TEST (what_has_no_room_goes_below_in_words),
    CHART_TEST (a_legend_breaks_no_word_and_goes_below_where_one_is_too_wide),
  };
  return cmocka_run_group_tests (tests, NULL, NULL);
}
