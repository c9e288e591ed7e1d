/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Titles, names of value axes and the edges of panels, on pages laid out without a picture. */
#include "chart_fixture.h"
#include "chart_fit.h"

#include "page_room.h"

#define PT_PER_MM (72 / 25.4)

static const SampleConfiguration two[] = {
  { .name = "Low", .n_trials = 3, .level_nm = 10, .spread_nm = 0.1 },
  { .name = "High", .n_trials = 3, .level_nm = 12, .spread_nm = 0.1 },
};

typedef struct {
  ChartFixture chart;
  cairo_surface_t *surface;
  cairo_t *cr;
  SbPaint paint;
  SbPage page;
} Laid;

static int
set_up (void **state)
{
  void *chart;
  chart_fixture_setup (&chart);
  Laid *laid = g_new0 (Laid, 1);
  laid->chart = *(ChartFixture *) chart;
  g_free (chart);
  laid->surface = cairo_image_surface_create (CAIRO_FORMAT_A8, 1, 1);
  laid->cr = cairo_create (laid->surface);
  *state = laid;
  return 0;
}

static int
tear_down (void **state)
{
  Laid *laid = *state;
  sb_paint_end (&laid->paint);
  cairo_destroy (laid->cr);
  cairo_surface_destroy (laid->surface);
  void *chart = g_memdup2 (&laid->chart, sizeof laid->chart);
  g_free (laid);
  return chart_fixture_teardown (&chart);
}

static void
lay_out (Laid *laid, double width_mm, double height_mm, double font_pt)
{
  sb_paint_end (&laid->paint);
  sb_paint_begin (&laid->paint, laid->chart.model, laid->cr);
  sb_page_lay_out (&laid->paint, width_mm * PT_PER_MM, height_mm * PT_PER_MM, font_pt, &laid->page);
}

static SbChartPanel *
panel (const Laid *laid, guint i)
{
  return g_ptr_array_index (laid->chart.model->panels, i);
}

/* 85 mm hold some 40 characters of a title at 1.35 times 7 pt: 100 are three lines, 250 are not. */
static void
long_title_goes_on_in_three_lines_and_is_told_when_it_is_cut (void **state)
{
  Laid *laid = *state;
  make_model (&laid->chart, two, 2);
  const SbChartSize column = { .width_mm = 85, .height_mm = 95, .dpi = 300, .font_pt = 7 };
  g_free (laid->chart.model->title);
  laid->chart.model->title
      = g_strdup ("Torque step of 12 N·m on two drives: does the slope setting limit the slope, and "
                  "what of the filter");
  assert_null (sb_chart_fit_advice (laid->chart.model, &column));
  lay_out (laid, column.width_mm, column.height_mm, column.font_pt);
  assert_false (
      sb_text_is_cut (&laid->paint, SB_TEXT_TITLE, laid->chart.model->title, laid->page.title.width, SB_TITLE_LINES));
  g_free (laid->chart.model->title);
  laid->chart.model->title = g_strnfill (250, 'n');
  laid->chart.text = sb_chart_fit_advice (laid->chart.model, &column);
  assert_non_null (laid->chart.text);
  assert_non_null (strstr (laid->chart.text, "the title is cut: it has no room in 3 lines"));
}

/* Below 10 mm nothing is made, which is an error of its own; below 5 pt print is not read. */
static void
size_that_cannot_be_made_has_no_advice_and_tiny_text_has (void **state)
{
  Laid *laid = *state;
  make_model (&laid->chart, two, 2);
  const SbChartSize narrow = { .width_mm = 5, .height_mm = 95, .dpi = 300, .font_pt = 8 };
  const SbChartSize tiny = { .width_mm = 175, .height_mm = 120, .dpi = 300, .font_pt = 1 };
  const SbChartSize small = { .width_mm = 175, .height_mm = 120, .dpi = 300, .font_pt = 5 };
  assert_null (sb_chart_fit_advice (laid->chart.model, &narrow));
  assert_null (sb_chart_fit_advice (laid->chart.model, &small));
  laid->chart.text = sb_chart_fit_advice (laid->chart.model, &tiny);
  assert_non_null (laid->chart.text);
  assert_true (g_str_has_prefix (laid->chart.text, "text of 1 pt is hardly read in print"));
}

/* 0.94 of 7 pt is read; of 5.2 pt it is less than the 5 pt that journals ask for, and of 3 pt nothing is to be saved. */
static void
foot_is_no_smaller_than_what_is_read (void **state)
{
  static const double foot_pt[][2] = { { 7, 6.58 }, { 5.2, 5 }, { 5, 5 }, { 3, 3 } };
  Laid *laid = *state;
  make_model (&laid->chart, two, 2);
  for (gsize i = 0; i < G_N_ELEMENTS (foot_pt); i++) {
    lay_out (laid, 175, 120, foot_pt[i][0]);
    assert_close (laid->paint.font_pt, foot_pt[i][0], 1e-9);
    assert_close (sb_text_pt (&laid->paint, SB_TEXT_FOOT), foot_pt[i][1], 1e-9);
  }
}

static void
names_too_small_to_be_read_are_told (void **state)
{
  Laid *laid = *state;
  make_model (&laid->chart, two, 2);
  g_free (panel (laid, 1)->label);
  panel (laid, 1)->label = g_strdup ("Unabbreviated [N·m]");
  const SbChartSize high = { .width_mm = 85, .height_mm = 95, .dpi = 300, .font_pt = 7 };
  const SbChartSize low = { .width_mm = 85, .height_mm = 54, .dpi = 300, .font_pt = 7 };
  assert_null (sb_chart_fit_advice (laid->chart.model, &high));
  laid->chart.text = sb_chart_fit_advice (laid->chart.model, &low);
  assert_non_null (laid->chart.text);
  assert_non_null (strstr (laid->chart.text, "the names of the value axes are set at 4."));
}

/* From a panel as low as the painter allows to one that holds the name in a line. */
static void
name_of_a_value_axis_is_not_broken_within_a_word (void **state)
{
  Laid *laid = *state;
  make_model (&laid->chart, two, 2);
  g_free (panel (laid, 1)->label);
  panel (laid, 1)->label = g_strdup ("Command [N·m]");
  for (double height_mm = 34; height_mm < 90; height_mm += 2) {
    lay_out (laid, 85, height_mm, 7);
    double room = laid->page.plot[1].height;
    static const char *const words[] = { "Command", "[N·m]" };
    for (gsize k = 0; k < G_N_ELEMENTS (words); k++) {
      double width, height;
      sb_text_measure (&laid->paint, SB_TEXT_VALUE, words[k], 0, 1, &width, &height);
      if (width > room)
        fail_msg ("%s is %.1f pt long beside %.1f pt at %.0f mm", words[k], width, room, height_mm);
    }
    g_autofree char *name = sb_page_value_label (&laid->paint, panel (laid, 1)->label, room);
    assert_false (sb_text_is_cut (&laid->paint, SB_TEXT_VALUE, name, room, SB_VALUE_LABEL_LINES));
  }
}

/* Panels with axes of their own, one under the other; the numbers of one are wider by far. */
static void
panels_below_one_another_begin_at_one_edge (void **state)
{
  Laid *laid = *state;
  make_model (&laid->chart, two, 2);
  for (guint i = 0; i < 2; i++)
    panel (laid, i)->x = (SbOwnAxis){ g_strdup ("Time [ms]"), 0, 0.2, 1000 };
  panel (laid, 1)->y_min = -12345;
  panel (laid, 1)->y_max = 12345;
  lay_out (laid, 175, 120, 8);
  assert_true (laid->page.plot[1].y > laid->page.plot[0].y + laid->page.plot[0].height);
  assert_close (laid->page.plot[0].x, laid->page.plot[1].x, 1e-9);
  assert_close (laid->page.y_labels_right[0], laid->page.y_labels_right[1], 1e-9);
}

/* 0 to 13 has the numbers 0 and 10 alone by steps of ten; where three lines of text have room there are three numbers.
 */
static void
value_axis_has_three_numbers_where_the_height_allows (void **state)
{
  Laid *laid = *state;
  make_model (&laid->chart, two, 2);
  panel (laid, 1)->y_min = -0.6;
  panel (laid, 1)->y_max = 13.2;
  for (double height_mm = 40; height_mm < 120; height_mm += 2) {
    lay_out (laid, 85, height_mm, 7);
    double unused, line;
    sb_text_measure (&laid->paint, SB_TEXT_TICK, "0", 0, 1, &unused, &line);
    const SbTicks *ticks = &laid->page.y_ticks[1];
    gboolean fives_fit = laid->page.plot[1].height * 5 / 13.8 > 1.2 * line;
    if (fives_fit && ticks->last - ticks->first + 1 < 3)
      fail_msg ("%" G_GINT64_FORMAT " numbers at %.0f mm", ticks->last - ticks->first + 1, height_mm);
  }
}

/* 9 sizes of axis numbers are 25 mm at 8 pt. A label at whose left its point lies begins with its sample: there the
 * leader ends, in the middle of the first line. */
static void
leaders_are_short_and_end_at_the_sample (void **state)
{
  Laid *laid = *state;
  laid->chart.bench->chart.labels = (1u << SB_N_LABELS) - 1;
  make_model (&laid->chart, two, 2);
  for (guint k = 0; k < 12; k++) {
    SbLabelMark mark
        = { .configuration = k % 2, .style = k % 2, .x = 0.03 * (k + 1), .y = k < 6 ? 10 : 12, .slope = NAN };
    mark.text = g_strdup_printf ("peak %u.00 N·m, overshoot %u %%", k, k);
    g_array_append_val (panel (laid, 1)->labels, mark);
  }
  lay_out (laid, 175, 120, 8);
  assert_true (laid->paint.labels->len > 4);
  for (guint k = 0; k < laid->paint.labels->len; k++) {
    const SbPlacedLabel *label = &g_array_index (laid->paint.labels, SbPlacedLabel, k);
    SbSpot end = sb_leader_end (&label->box, label->lead, label->x, label->y);
    assert_true (hypot (end.x - label->x, end.y - label->y) <= 9 * laid->paint.font_pt + 1e-9);
    if (label->x <= label->box.x + label->lead.sample) {
      assert_close (end.y, label->box.y + label->lead.line / 2, 1e-9);
      assert_true (end.x >= label->box.x && end.x <= label->box.x + label->lead.sample);
    }
  }
}

/* Eight entries with their settings on 85 mm: side by side in two lines each they are lower than one below another, no
 * wider than the page, and none is cut. Two such on a wide page stand on a line each, from the panels' edge on. */
static void
legend_of_many_stands_in_two_columns_on_narrow_paper (void **state)
{
  static const char *const names[] = { "First", "Second", "Third", "Fourth", "Fifth", "Sixth", "Seventh", "Eighth" };
  static const char *const settings[] = { "0.1 N·m/ms", "0.2 N·m/ms", "0.3 N·m/ms", "0.4 N·m/ms",
                                          "0.5 N·m/ms", "0.6 N·m/ms", "0.7 N·m/ms", "0.8 N·m/ms" };
  Laid *laid = *state;
  SampleConfiguration eight[8];
  for (guint i = 0; i < 8; i++)
    eight[i] = (SampleConfiguration){
      .name = names[i], .n_trials = 2, .level_nm = 10 + i, .spread_nm = 0.1, .setting = settings[i]
    };
  make_model (&laid->chart, eight, 8);
  lay_out (laid, 85, 95, 7);
  const SbPage *page = &laid->page;
  assert_int_equal (page->legend_columns, 2);
  assert_int_equal (page->legend_lines, 2);
  assert_true (page->legend.x + 2 * page->legend_column_width <= 85 * PT_PER_MM);
  double width, line;
  sb_text_measure (&laid->paint, SB_TEXT_LEGEND, "0", 0, 1, &width, &line);
  assert_true (page->legend.height < 8 * (line + SB_LEGEND_ROW_GAP * laid->paint.font_pt));
  for (guint i = 0; i < 8; i++) {
    g_autofree char *text = sb_legend_words (page, &g_array_index (laid->chart.model->legend, SbLegendEntry, i));
    assert_false (sb_text_is_cut (&laid->paint, SB_TEXT_LEGEND, text, page->legend_room, page->legend_lines));
  }
  assert_true (page->legend.y + page->legend.height <= page->plot[0].y);
  lay_out (laid, 175, 120, 8);
  assert_close (laid->page.legend.x, laid->page.plot[0].x, 1e-9);
}

/* Words of twenty figures would take the panels' room: they are counted, and text keeps its size. Of one the words
 * stand there, as no count is shorter. */
static void
many_labels_without_a_place_are_counted (void **state)
{
  Laid *laid = *state;
  laid->chart.bench->chart.labels = (1u << SB_N_LABELS) - 1;
  make_model (&laid->chart, two, 2);
  for (guint k = 0; k < 20; k++) {
    SbLabelMark mark = { .configuration = k % 2, .style = k % 2, .x = 0.1, .y = NAN, .slope = NAN };
    mark.text = g_strdup_printf ("peak %u.00 N·m, overshoot %u %%", k, k);
    g_array_append_val (panel (laid, 1)->labels, mark);
    lay_out (laid, 85, 95, 7);
    if (k == 0)
      assert_string_equal (laid->paint.below_text, "Labels without a place above: Low: peak 0.00 N·m, overshoot 0 %.");
  }
  assert_string_equal (laid->paint.below_text, "20 labels have no place here: see the table of measures.");
  assert_close (laid->paint.font_pt, 7, 1e-9);
}

#define TEST(name) cmocka_unit_test_setup_teardown (name, set_up, tear_down)

int
main (void)
{
  const struct CMUnitTest tests[] = {
    TEST (long_title_goes_on_in_three_lines_and_is_told_when_it_is_cut),
    TEST (size_that_cannot_be_made_has_no_advice_and_tiny_text_has),
    TEST (foot_is_no_smaller_than_what_is_read),
    TEST (names_too_small_to_be_read_are_told),
    TEST (name_of_a_value_axis_is_not_broken_within_a_word),
    TEST (value_axis_has_three_numbers_where_the_height_allows),
    TEST (legend_of_many_stands_in_two_columns_on_narrow_paper),
    TEST (many_labels_without_a_place_are_counted),
    TEST (leaders_are_short_and_end_at_the_sample),
    TEST (panels_below_one_another_begin_at_one_edge),
  };
  return cmocka_run_group_tests (tests, NULL, NULL);
}
