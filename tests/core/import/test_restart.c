/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A recording that was started again without a header: where the border lies, on both sides of it. The rows of each
 * case are written here, so what must be read and left out is counted by hand. */
#include "log_fixture.h"
#include "restart.h"

typedef LogFixture Fixture;

/* Rows "time,torque" of times first, first + step, ...; the torque is the number of the row in the whole text. */
static void
add_rows (Fixture *fixture, guint n, double first, double step, const char *format)
{
  char number[G_ASCII_DTOSTR_BUF_SIZE];
  static const char torque[] = ",1\n";
  for (guint i = 0; i < n; i++)
    g_string_append_printf (fixture->text, "%s%s", g_ascii_formatd (number, sizeof number, format, first + i * step),
                            torque);
}

static void
begin (Fixture *fixture)
{
  g_string_assign (fixture->text, "time_s,torque_Nm\n");
}

static const SbLog *
read_table (Fixture *fixture, int table)
{
  SbDialectChoices fixed = SB_DIALECT_AUTOMATIC;
  SbReadOptions options = { .fixed = &fixed };
  fixed.table = table;
  g_clear_pointer (&fixture->log, sb_log_unref);
  fixture->log
      = sb_log_read_memory_with ("test.csv", fixture->text->str, fixture->text->len, 0, &options, &fixture->error);
  if (fixture->log == NULL)
    fail_msg ("%s", fixture->error->message);
  return fixture->log;
}

static void
assert_rows (const SbLog *log, guint n_rows, guint n_left_out, guint n_others)
{
  assert_int_equal (log->n_rows, n_rows);
  assert_int_equal (log->n_rows_left_out, n_left_out);
  assert_int_equal (log->n_other_tables, n_others);
}

static void
assert_noted (const SbLog *log, const char *part)
{
  for (guint i = 0; i < log->notes->len; i++)
    if (strstr (sb_notes_text (log->notes, i), part) != NULL)
      return;
  fail_msg ("no note says '%s'", part);
}

static void
each_recording_is_read_when_its_table_is_chosen (void **state)
{
  Fixture *fixture = *state;
  static const guint n_rows[] = { 3000, 2000, 1500 };
  begin (fixture);
  for (guint k = 0; k < G_N_ELEMENTS (n_rows); k++)
    add_rows (fixture, n_rows[k], 0.001 * k, 0.001, "%.3f");
  assert_rows (read_table (fixture, SB_AUTOMATIC), 3000, 0, 2);
  assert_noted (fixture->log,
                "the time starts again at line 3002 (table 2, 2000 rows), line 5002 (table 3, 1500 rows)");
  assert_noted (fixture->log, "The recording that is read has 3000 rows");
  assert_rows (read_table (fixture, 0), 3000, 0, 2);
  assert_rows (read_table (fixture, 1), 2000, 0, 1);
  assert_close (fixture->log->channel[SB_CHANNEL_TIME][0], 0.001, 0.0);
  assert_rows (read_table (fixture, 2), 1500, 0, 0);
  assert_close (fixture->log->channel[SB_CHANNEL_TIME][0], 0.002, 0.0);
}

/* Wherever the lines looked at end, within the rows that fell among others: they come in pieces of 16 KiB. */
static void
later_recording_is_found_at_every_place_of_a_piece (void **state)
{
  Fixture *fixture = *state;
  for (guint shift = 0; shift < 60; shift++) {
    begin (fixture);
    g_string_prepend (fixture->text, "# ");
    for (guint i = 0; i < shift; i++)
      g_string_insert_c (fixture->text, 2, 'x');
    g_string_insert (fixture->text, 2 + (gssize) shift, "\n");
    add_rows (fixture, 2045, 0, 0.001, "%.3f");
    add_rows (fixture, 50, 0, 0.001, "%.3f");
    assert_rows (read_table (fixture, 1), 50, 0, 0);
  }
}

static void
fall_of_three_intervals_is_left_out_and_one_of_four_restarts (void **state)
{
  Fixture *fixture = *state;
  begin (fixture);
  add_rows (fixture, 4, 0, 1, "%.0f");
  add_rows (fixture, 9, 0, 1, "%.0f");
  assert_rows (read_table (fixture, SB_AUTOMATIC), 9, 4, 0);
  begin (fixture);
  add_rows (fixture, 5, 0, 1, "%.0f");
  add_rows (fixture, 9, 0, 1, "%.0f");
  assert_rows (read_table (fixture, SB_AUTOMATIC), 5, 0, 1);
}

static void
three_rows_from_the_start_are_left_out_and_four_restart (void **state)
{
  Fixture *fixture = *state;
  for (guint n_again = 1; n_again <= 5; n_again++) {
    gboolean restarts = n_again >= 4;
    begin (fixture);
    add_rows (fixture, 20, 0, 1, "%.0f");
    add_rows (fixture, n_again, 0, 1, "%.0f");
    assert_rows (read_table (fixture, SB_AUTOMATIC), 20, restarts ? 0 : n_again, restarts ? 1 : 0);
    if (!restarts) {
      assert_int_equal (fixture->log->fault_groups->len, 1);
      assert_int_equal (fault_at (fixture->log, 0)->line, 22);
      assert_string_equal (fault_at (fixture->log, 0)->what, "time does not increase (0 s after 19 s)");
    }
  }
}

/* A row ahead of the others among those that fell ends the fall. */
static void
rows_that_fell_and_come_back_are_left_out (void **state)
{
  Fixture *fixture = *state;
  begin (fixture);
  add_rows (fixture, 20, 0, 1, "%.0f");
  add_rows (fixture, 3, 0, 1, "%.0f");
  add_rows (fixture, 20, 20, 1, "%.0f");
  assert_rows (read_table (fixture, SB_AUTOMATIC), 40, 3, 0);
}

/* A buffer that was written twice lies near the end of what was read. */
static void
block_told_twice_in_the_second_half_is_left_out (void **state)
{
  Fixture *fixture = *state;
  begin (fixture);
  add_rows (fixture, 100, 0, 1, "%.0f");
  add_rows (fixture, 60, 60, 1, "%.0f");
  assert_rows (read_table (fixture, SB_AUTOMATIC), 120, 40, 0);
}

static void
add_rows_of (Fixture *fixture, guint n, guint first, int torque)
{
  for (guint i = 0; i < n; i++)
    g_string_append_printf (fixture->text, "%u,%d\n", first + i, torque);
}

/* A clock that was set back by 30 s: the rows of 30 s are left out, and what follows them is later than it says. */
static void
clock_that_is_set_back_and_goes_on_is_told (void **state)
{
  Fixture *fixture = *state;
  begin (fixture);
  add_rows_of (fixture, 100, 0, 1);
  add_rows_of (fixture, 81, 70, 2);
  assert_rows (read_table (fixture, SB_AUTOMATIC), 151, 30, 0);
  assert_int_equal (fixture->log->setbacks->len, 1);
  const SbSetback *setback = &g_array_index (fixture->log->setbacks, SbSetback, 0);
  assert_int_equal (setback->row, 100);
  assert_int_equal (setback->line, 102);
  assert_int_equal (setback->n_rows, 30);
  assert_noted (fixture->log, "the clock is set back at line 102 and goes on (30 rows");
  begin (fixture);
  add_rows_of (fixture, 100, 0, 1);
  add_rows_of (fixture, 30, 70, 2);
  assert_rows (read_table (fixture, SB_AUTOMATIC), 100, 30, 0);
  assert_int_equal (fixture->log->setbacks->len, 0); /* nothing was kept behind it */
}

/* A clock that is set ahead by an hour between 512 rows of a millisecond and as many again, and by half a minute behind
 * 200 of those: the rows are kept as they are, and both jumps told with the line of the row behind. */
static void
clock_that_jumps_ahead_is_told_with_its_line (void **state)
{
  Fixture *fixture = *state;
  for (guint comments = 0; comments < 2; comments++) {
    g_string_assign (fixture->text, "time_ms,torque_Nm\n");
    for (guint i = 0; i < 1024; i++)
      g_string_append_printf (fixture->text, "%s%u,1\n", comments > 0 && i % 100 == 50 ? "# a word\n\n" : "",
                              i + (i >= 512 ? 3600000 : 0) + (i >= 712 ? 30000 : 0));
    const SbLog *log = read_table (fixture, SB_AUTOMATIC);
    assert_rows (log, 1024, 0, 0);
    assert_int_equal (log->jumps->len, 2);
    const SbJump *hour = &g_array_index (log->jumps, SbJump, 0), *half = &g_array_index (log->jumps, SbJump, 1);
    assert_int_equal (hour->row, 512);
    assert_int_equal (half->row, 712);
    /* Two lines more before rows 50, 150, … 450 and before rows 550 and 650. */
    assert_int_equal (hour->line, 514 + 10 * comments);
    assert_int_equal (half->line, 714 + 14 * comments);
    assert_noted (log, comments > 0 ? "the clock jumps ahead by 3600 s at line 524 (from 0.511 s to 3600.512 s)"
                                    : "the clock jumps ahead by 3600 s at line 514 (from 0.511 s to 3600.512 s)");
    assert_noted (log, "the clock jumps ahead by 30.001 s at line");
  }
}

/* Twenty intervals and no more, or less than a tenth of the rest, is a gap; and few rows show no interval. */
static void
gaps_of_a_recording_are_no_jumps_of_its_clock (void **state)
{
  Fixture *fixture = *state;
  begin (fixture);
  add_rows_of (fixture, 100, 0, 1);
  add_rows_of (fixture, 50, 119, 1);
  assert_int_equal (read_table (fixture, SB_AUTOMATIC)->jumps->len, 0);
  begin (fixture);
  add_rows_of (fixture, 100, 0, 1);
  add_rows_of (fixture, 50, 120, 1);
  assert_int_equal (read_table (fixture, SB_AUTOMATIC)->jumps->len, 1);
  begin (fixture);
  add_rows_of (fixture, 600, 0, 1);
  add_rows_of (fixture, 400, 660, 1);
  assert_int_equal (read_table (fixture, SB_AUTOMATIC)->jumps->len, 0);
  begin (fixture);
  add_rows_of (fixture, 4, 0, 1);
  add_rows_of (fixture, 3, 900, 1);
  assert_int_equal (read_table (fixture, SB_AUTOMATIC)->jumps->len, 0);
}

/* What was sent twice says the same at the same time; what comes late fills a gap. Neither moves what follows. */
static void
rows_sent_twice_or_late_set_no_clock_back (void **state)
{
  Fixture *fixture = *state;
  begin (fixture);
  add_rows_of (fixture, 100, 0, 1);
  add_rows_of (fixture, 60, 80, 1);
  assert_rows (read_table (fixture, SB_AUTOMATIC), 140, 20, 0);
  assert_int_equal (fixture->log->setbacks->len, 0);
  begin (fixture);
  add_rows_of (fixture, 50, 0, 1);
  add_rows_of (fixture, 10, 60, 1);
  add_rows_of (fixture, 10, 50, 2);
  add_rows_of (fixture, 10, 70, 1);
  assert_rows (read_table (fixture, SB_AUTOMATIC), 70, 10, 0);
  assert_int_equal (fixture->log->setbacks->len, 0);
}

/* 100 rows of two recordings behind one header: the first ends before line 102, the second with the file. */
static void
line_behind_a_recording_is_told (void **state)
{
  Fixture *fixture = *state;
  begin (fixture);
  add_rows_of (fixture, 100, 0, 1);
  add_rows_of (fixture, 100, 0, 2);
  assert_int_equal (read_table (fixture, SB_AUTOMATIC)->end_line, 102);
  assert_int_equal (read_table (fixture, 1)->end_line, 0);
}

static void
table_that_is_not_there_is_told_with_those_that_are (void **state)
{
  Fixture *fixture = *state;
  SbDialectChoices fixed = SB_DIALECT_AUTOMATIC;
  begin (fixture);
  add_rows_of (fixture, 100, 0, 1);
  fixed.table = 3;
  assert_null (sb_propose_memory ("x.csv", fixture->text->str, fixture->text->len, &fixed, &fixture->error));
  assert_string_equal (fixture->error->message, "x.csv: the file has no table 4; it has one. State table 1, or none.");
  g_clear_error (&fixture->error);
  add_rows_of (fixture, 100, 0, 2);
  assert_null (sb_propose_memory ("x.csv", fixture->text->str, fixture->text->len, &fixed, &fixture->error));
  assert_string_equal (fixture->error->message, "x.csv: the file has no table 4; it has 2. State a table from 1 to 2.");
}

static void
swapped_and_repeated_rows_stay_faults (void **state)
{
  Fixture *fixture = *state;
  begin (fixture);
  for (guint i = 0; i < 50; i++) {
    add_rows (fixture, 1, 2 * i + 1, 0, "%.0f");
    add_rows (fixture, 1, 2 * i, 0, "%.0f");
    add_rows (fixture, 1, 2 * i + 1, 0, "%.0f");
  }
  assert_rows (read_table (fixture, SB_AUTOMATIC), 50, 100, 0);
}

/* Counts that begin again in the middle of a recording, in the unit of the heading. */
static void
add_counts (Fixture *fixture, guint n, double first, double step, double range)
{
  for (guint i = 0; i < n; i++)
    add_rows (fixture, 1, fmod (first + i * step, range), 0, "%.0f");
}

/* 65,500 counts and 100 more are 64 in a counter of 16 bits: that of row i is 55,600 + 100 i, and in ms as if it had
 * been written so. */
static void
counter_that_begins_again_is_followed (void **state)
{
  static const struct {
    const char *heading, *option;
    double range, divisor;
  } cases[] = { { "time_us,torque_Nm\n", "16 bits that begins again, at line 102, and 3 more times", 65536, 1e6 },
                { "time_ms,torque_Nm\n", "16 bits that begins again, at line 102, and 3 more times", 65536, 1e3 },
                { "time_us,torque_Nm\n", "32 bits that begins again, at line 102;", 4294967296.0, 1e6 } };
  Fixture *fixture = *state;
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++) {
    double first = cases[i].range - 36 - 9900;
    g_string_assign (fixture->text, cases[i].heading);
    add_counts (fixture, 2200, first, 100, cases[i].range);
    assert_rows (read_table (fixture, SB_AUTOMATIC), 2200, 0, 0);
    for (guint row = 0; row < 2200; row++)
      assert_close (fixture->log->channel[SB_CHANNEL_TIME][row], (first + 100.0 * row) / cases[i].divisor, 0.0);
    assert_noted (fixture->log, cases[i].option);
  }
}

/* The rate and the times of samples are those of the numbers that go on. */
static void
number_of_the_sample_that_begins_again_is_followed (void **state)
{
  Fixture *fixture = *state;
  g_string_assign (fixture->text, "# sample_rate_hz: 1000\nsample,torque_Nm\n");
  add_counts (fixture, 200, 65436, 1, 65536);
  assert_rows (read_table (fixture, SB_AUTOMATIC), 200, 0, 0);
  assert_close (fixture->log->channel[SB_CHANNEL_TIME][199], (65436 + 199) / 1000.0, 0.0);
  assert_noted (fixture->log, "16 bits that begins again, at line 103;");
}

/* As long as the counter, from its start to its start: another recording is as likely. Unlike steps, few rows, and a
 * step over the end that is another say no more. */
static void
counter_that_may_be_another_recording_is_noted_as_one (void **state)
{
  Fixture *fixture = *state;
  g_string_assign (fixture->text, "time_us,torque_Nm\n");
  add_counts (fixture, 512 + 50, 0, 128, 65536);
  assert_rows (read_table (fixture, SB_AUTOMATIC), 512, 0, 1);
  assert_noted (fixture->log, "at line 514 as a counter of 16 bits");
  assert_noted (fixture->log, "add 65536 to their times");
  g_string_assign (fixture->text, "time_us,torque_Nm\n");
  add_rows (fixture, 50, 55600, 100, "%.0f");
  add_rows (fixture, 25, 60600, 200, "%.0f");
  add_rows (fixture, 50, 64, 200, "%.0f");
  assert_rows (read_table (fixture, SB_AUTOMATIC), 75, 0, 1);
  g_string_assign (fixture->text, "time_us,torque_Nm\n");
  add_rows (fixture, 100, 55600, 100, "%.0f");
  add_rows (fixture, 50, 10, 100, "%.0f");
  assert_rows (read_table (fixture, SB_AUTOMATIC), 100, 0, 1);
}

/* Two buffers of a counter that is read whole, the torque of whose first rows is missing: that they begin at 0 is told
 * by what their times say, whether a row of them is kept or not. */
static void
counter_whose_first_rows_are_left_out_may_be_another_recording (void **state)
{
  Fixture *fixture = *state;
  for (guint step = 1; step <= 64; step *= 64)
    for (guint n_out = 1; n_out <= 10; n_out += 3) {
      guint n = 65536 / step;
      g_string_assign (fixture->text, "time_us,torque_Nm\n");
      for (guint i = 0; i < 2 * n; i++)
        g_string_append_printf (fixture->text, "%u,%s\n", i * step % 65536, i < n_out ? "" : "1");
      assert_rows (read_table (fixture, SB_AUTOMATIC), n - n_out, n_out, 1);
      assert_noted (fixture->log, "as a counter of 16 bits");
    }
}

/* Behind a whole turn the count is within four steps of the first, whose row is not there at all. */
static void
counter_that_begins_again_near_its_first_count_is_not_followed (void **state)
{
  Fixture *fixture = *state;
  for (guint n_gone = 0; n_gone <= 4; n_gone++) {
    g_string_assign (fixture->text, "time_us,torque_Nm\n");
    for (guint i = n_gone; i < 700; i++)
      add_rows (fixture, 1, i * 128 % 65536, 0, "%.0f");
    assert_rows (read_table (fixture, SB_AUTOMATIC), 512 - n_gone, 0, 1);
  }
}

/* One stamp ahead or behind among thousands of rows, in whichever turn of the counter; that of row i is 20,000 + 44 i.
 */
static void
bad_stamp_does_not_stop_the_following (void **state)
{
  static const struct {
    guint row, stamp;
  } bad[] = { { 2, 65500 }, { 100, 65500 }, { 1000, 10 }, { 1030, 10 }, { 3900, 65500 }, { 4300, 3 } };
  Fixture *fixture = *state;
  for (gsize b = 0; b < G_N_ELEMENTS (bad); b++) {
    g_string_assign (fixture->text, "time_us,torque_Nm\n");
    for (guint i = 0; i < 6000; i++)
      add_rows (fixture, 1, i == bad[b].row ? bad[b].stamp : (20000 + 44 * i) % 65536, 0, "%.0f");
    assert_rows (read_table (fixture, SB_AUTOMATIC), 5999, 1, 0);
    for (guint row = 0; row < 5999; row++)
      assert_close (fixture->log->channel[SB_CHANNEL_TIME][row], (20000 + 44 * (row + (row >= bad[b].row))) / 1e6, 0);
  }
}

/* A row in ten has no torque: the steps of those that are left are one or two of the counter's. */
static void
rows_left_out_do_not_stop_the_following (void **state)
{
  Fixture *fixture = *state;
  g_string_assign (fixture->text, "time_us,torque_Nm\n");
  for (guint i = 0; i < 6000; i++)
    g_string_append_printf (fixture->text, "%u,%s\n", (20000 + 44 * i) % 65536, i % 10 == 1 ? "" : "1");
  assert_rows (read_table (fixture, SB_AUTOMATIC), 5400, 600, 0);
  assert_close (fixture->log->channel[SB_CHANNEL_TIME][5399], (20000 + 44 * 5999) / 1e6, 0);
}

static void
time_of_day_past_midnight_is_no_restart (void **state)
{
  Fixture *fixture = *state;
  g_string_assign (fixture->text, "time,torque_Nm\n");
  for (guint i = 0; i < 20; i++)
    g_string_append_printf (fixture->text, "%s:%02u,1\n", i < 10 ? "23:59" : "00:00", i < 10 ? 50 + i : i - 10);
  assert_rows (read_table (fixture, SB_AUTOMATIC), 20, 0, 0);
}

/* 999.5 is followed by 1,000.0 in a log whose first rows show no thousands. */
static void
thousands_are_no_fall (void **state)
{
  Fixture *fixture = *state;
  g_string_assign (fixture->text, "time_ms;torque_Nm\n");
  for (guint i = 0; i < 300; i++)
    g_string_append_printf (fixture->text, "%u.5;1\n", 700 + i);
  for (guint i = 0; i < 300; i++)
    g_string_append_printf (fixture->text, "1,%03u.5;1\n", i);
  assert_rows (read_table (fixture, SB_AUTOMATIC), 600, 0, 0);
}

/* 0 to 7 in steps of 1 s, then 80 s in place of 8: what goes on from 7 does so within four steps (a row may be
 * missing); what is no nearer to 7 than to 80, or lies before it, does not. */
static void
last_row_stands_alone_when_the_next_goes_on_from_the_one_before (void **state)
{
  const SbTimeSpan span = { 0, 80, 9, 7 }, jitter = { 0, 10, 9, 7 };
  static const struct {
    double time;
    gboolean alone;
  } table[] = { { 8, TRUE }, { 9, TRUE }, { 11, TRUE }, { 12, FALSE }, { 7, FALSE }, { 3, FALSE }, { 81, FALSE } };
  (void) state;
  for (guint i = 0; i < G_N_ELEMENTS (table); i++) {
    SbFall fall = { 0 };
    assert_int_equal (sb_fall_take (&fall, &span, table[i].time, 5) == SB_FALL_LAST_ALONE, table[i].alone);
    assert_int_not_equal (sb_fall_take (&fall, &jitter, 8, 5), SB_FALL_LAST_ALONE);
  }
}

/* A stamp of 1.1324 s among thousands of rows, 0.4 ms apart, wherever it stands in the pieces that are looked at. */
static void
one_bad_stamp_costs_one_row (void **state)
{
  Fixture *fixture = *state;
  for (guint n = 3; n < 6000; n += 557) {
    begin (fixture);
    add_rows (fixture, n, 0, 0.0004, "%.4f");
    g_string_append (fixture->text, "9.1324,1\n");
    add_rows (fixture, 2000, 0.0004 * (n + 1), 0.0004, "%.4f");
    assert_rows (read_table (fixture, SB_AUTOMATIC), n + 2000, 1, 0);
    assert_int_equal (fault_at (fixture->log, 0)->kind, SB_FAULT_TIME_ALONE);
    assert_int_equal (fault_at (fixture->log, 0)->line, n + 2);
  }
}

static void
fall_is_decided_by_times_alone (void **state)
{
  const SbTimeSpan span = { 10, 19, 10, 18 };
  SbFall fall = { 0 };
  (void) state;
  assert_int_equal (sb_fall_take (&fall, &span, 20, 1), SB_FALL_NONE);
  assert_int_equal (sb_fall_take (&fall, &span, 16, 2), SB_FALL_NONE);
  assert_int_equal (sb_fall_take (&fall, &span, 15, 3), SB_FALL_NONE);
  assert_int_equal (sb_fall_take (&fall, &span, 14, 4), SB_FALL_BEGINS);
  assert_int_equal (sb_fall_take (&fall, &span, 14, 5), SB_FALL_BEGINS);
  assert_int_equal (sb_fall_take (&fall, &span, 15, 6), SB_FALL_GOES_ON);
  assert_int_equal (sb_fall_take (&fall, &span, 15.5, 7), SB_FALL_GOES_ON);
  assert_int_equal (sb_fall_take (&fall, &span, 17, 8), SB_FALL_RESTARTS);
  assert_int_equal (fall.line, 5);
}

#define CASE(function) cmocka_unit_test_setup_teardown (function, log_fixture_setup, log_fixture_teardown)

int
main (void)
{
  const struct CMUnitTest tests[] = {
    CASE (each_recording_is_read_when_its_table_is_chosen),
    CASE (later_recording_is_found_at_every_place_of_a_piece),
    CASE (fall_of_three_intervals_is_left_out_and_one_of_four_restarts),
    CASE (three_rows_from_the_start_are_left_out_and_four_restart),
    CASE (rows_that_fell_and_come_back_are_left_out),
    CASE (block_told_twice_in_the_second_half_is_left_out),
    CASE (clock_that_is_set_back_and_goes_on_is_told),
    CASE (clock_that_jumps_ahead_is_told_with_its_line),
    CASE (gaps_of_a_recording_are_no_jumps_of_its_clock),
    CASE (rows_sent_twice_or_late_set_no_clock_back),
    CASE (line_behind_a_recording_is_told),
    CASE (table_that_is_not_there_is_told_with_those_that_are),
    CASE (swapped_and_repeated_rows_stay_faults),
    CASE (counter_that_begins_again_is_followed),
    CASE (number_of_the_sample_that_begins_again_is_followed),
    CASE (counter_that_may_be_another_recording_is_noted_as_one),
    CASE (counter_whose_first_rows_are_left_out_may_be_another_recording),
    CASE (counter_that_begins_again_near_its_first_count_is_not_followed),
    CASE (bad_stamp_does_not_stop_the_following),
    CASE (rows_left_out_do_not_stop_the_following),
    CASE (time_of_day_past_midnight_is_no_restart),
    CASE (thousands_are_no_fall),
    cmocka_unit_test (fall_is_decided_by_times_alone),
    cmocka_unit_test (last_row_stands_alone_when_the_next_goes_on_from_the_one_before),
    CASE (one_bad_stamp_costs_one_row),
  };
  return cmocka_run_group_tests (tests, NULL, NULL);
}
