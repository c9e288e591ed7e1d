/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Parts of the import sheet that need no display: what the lines of a file are taken for, and what a small plot shows.
 * Expected values are written down by hand. */
#include "column_plot.h"
#include "head_lines.h"
#include "close.h"

#include <math.h>

/* A comment, a header in line 2, units in line 3, rows from 4 to 6. */
static SbLayout *
layout_new (void)
{
  SbLayout *layout = sb_layout_new ();
  layout->header_line = 2;
  layout->units_line = 3;
  layout->first_line = 4;
  layout->last_line = 6;
  return layout;
}

static void
each_line_is_told_for_what_it_is_taken (void **state)
{
  static const struct {
    guint64 number;
    const char *text;
    SbLineUse use;
  } lines[] = {
    { 1, "# device: rig", SB_LINE_COMMENT },
    { 2, "t;M", SB_LINE_HEADER },
    { 3, "s;Nm", SB_LINE_UNITS },
    { 4, "0;1", SB_LINE_ROW },
    { 5, "  # pause", SB_LINE_COMMENT },
    { 6, "1;1", SB_LINE_ROW },
    { 7, "2;1", SB_LINE_PASSED },
  };
  g_autoptr (SbLayout) layout = layout_new ();
  for (guint i = 0; i < G_N_ELEMENTS (lines); i++)
    assert_int_equal (sb_head_line_use (layout, NULL, lines[i].number, lines[i].text), lines[i].use);
}

static void
lines_before_the_header_and_blank_ones_are_passed_over (void **state)
{
  g_autoptr (SbLayout) layout = layout_new ();
  assert_int_equal (sb_head_line_use (layout, NULL, 1, "Report of a test"), SB_LINE_PASSED);
  assert_int_equal (sb_head_line_use (layout, NULL, 4, "  "), SB_LINE_PASSED);
}

static void
without_comments_a_sign_begins_a_row (void **state)
{
  g_autoptr (SbLayout) layout = layout_new ();
  g_free (layout->comment_prefix);
  layout->comment_prefix = g_strdup ("");
  assert_int_equal (sb_head_line_use (layout, NULL, 5, "# pause"), SB_LINE_ROW);
}

static void
rows_that_were_left_out_are_told (void **state)
{
  static const char text[] = "time_s,torque_Nm\n0,1\n1,n/a\n2,3\n";
  g_autoptr (SbLog) log = sb_log_read_memory ("a.csv", text, sizeof text - 1, 0, NULL);
  assert_non_null (log);
  g_autoptr (SbLayout) layout = sb_layout_new ();
  assert_int_equal (sb_head_line_use (layout, log, 2, "0,1"), SB_LINE_ROW);
  assert_int_equal (sb_head_line_use (layout, log, 3, "1,n/a"), SB_LINE_LEFT_OUT);
}

static void
a_column_of_pixels_shows_the_extremes_of_its_share (void **state)
{
  static const double values[] = { 0, 5, -1, 2, 7, 7, 3, (double) NAN };
  SbPlotSpan spans[4];
  sb_column_plot_reduce (values, G_N_ELEMENTS (values), spans, 4);
  const double expected[4][2] = { { 0, 5 }, { -1, 2 }, { 7, 7 }, { 3, 3 } };
  for (guint i = 0; i < 4; i++) {
    assert_close (spans[i].low, expected[i][0], 0);
    assert_close (spans[i].high, expected[i][1], 0);
  }
}

static void
fewer_values_than_columns_of_pixels_fill_them_all (void **state)
{
  static const double values[] = { 1, 2 };
  SbPlotSpan spans[4];
  sb_column_plot_reduce (values, 2, spans, 4);
  for (guint i = 0; i < 4; i++)
    assert_close (spans[i].low, i < 2 ? 1 : 2, 0);
}

static void
cells_that_are_no_numbers_are_a_gap (void **state)
{
  static const double values[] = { 1, (double) NAN, (double) NAN, 4 };
  SbPlotSpan spans[2];
  sb_column_plot_reduce (values + 1, 2, spans, 2);
  assert_true (isnan (spans[0].low) && isnan (spans[1].high));
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    cmocka_unit_test (each_line_is_told_for_what_it_is_taken),
    cmocka_unit_test (lines_before_the_header_and_blank_ones_are_passed_over),
    cmocka_unit_test (without_comments_a_sign_begins_a_row),
    cmocka_unit_test (rows_that_were_left_out_are_told),
    cmocka_unit_test (a_column_of_pixels_shows_the_extremes_of_its_share),
    cmocka_unit_test (fewer_values_than_columns_of_pixels_fill_them_all),
    cmocka_unit_test (cells_that_are_no_numbers_are_a_gap),
  };
  return cmocka_run_group_tests (tests, NULL, NULL);
}
