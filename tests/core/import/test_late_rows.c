/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What rows far behind the lines that are looked at show for the first time: thousands apart, a time that stands alone.
 * Expected values are what is written in the text. */
#include "log_fixture.h"

/* Some 40 kB, more than is looked at; with ';' and decimal commas. */
#define N_ROWS 2000
#define LATE   1800

static void
assert_note (const SbLog *log, const char *part)
{
  for (guint i = 0; i < log->notes->len; i++)
    if (strstr (sb_notes_text (log->notes, i), part) != NULL)
      return;
  fail_msg ("no note has '%s'", part);
}

/* Rows of time, torque 0,10 and `usual` in the third column; rows LATE and LATE + 1 as given. */
static const SbLog *
read_late (LogFixture *fixture, const char *header, const char *usual, const char *first, const char *second)
{
  g_string_printf (fixture->text, "%s\n", header);
  for (int i = 0; i < N_ROWS; i++) {
    const char *cells = i == LATE ? first : i == LATE + 1 ? second : NULL;
    g_string_append_printf (fixture->text, "%d,%03d;", i / 1000, i % 1000);
    if (cells != NULL)
      g_string_append_printf (fixture->text, "%s\n", cells);
    else
      g_string_append_printf (fixture->text, "0,10;%s\n", usual);
  }
  return read_text (fixture, fixture->text->str);
}

/* The point in "1.250,5" parts thousands; that in "8.125" may be a decimal sign, which would be 1000 times less. */
static void
lone_point_behind_late_thousands_is_no_group (void **state)
{
  const SbLog *log = read_late (*state, "time_s;torque_Nm;speed_rpm", "0,5", "0,10;1.250,5", "8.125;0,5");
  assert_int_equal (log->n_rows, N_ROWS - 1);
  assert_int_equal (log->n_rows_left_out, 1);
  assert_int_equal (fault_at (log, 0)->line, LATE + 3);
  assert_string_equal (fault_at (log, 0)->what, "'8.125' is no number");
  assert_close (log->channel[SB_CHANNEL_VELOCITY][LATE], 1250.5 * 3.14159265358979324 / 30, 1e-12);
  assert_note (log, "line 1802, column 'speed_rpm': '1.250,5' has its thousands apart");
}

/* 1998 rows of 48 V, one of 1048 V and one of 1148 V. */
static void
late_thousands_are_read_in_what_is_summed_up (void **state)
{
  const SbLog *log = read_late (*state, "time_s;torque_Nm;supply_V", "48,0", "0,10;1 048,0", "0,10;1 148,0");
  assert_int_equal (log->n_rows, N_ROWS);
  assert_int_equal (log->aside[SB_ASIDE_SUPPLY].n, N_ROWS);
  assert_close (log->aside[SB_ASIDE_SUPPLY].mean, (1998 * 48.0 + 1048 + 1148) / 2000, 1e-12);
  assert_close (log->aside[SB_ASIDE_SUPPLY].largest, 1148, 0.0);
  assert_note (log, "line 1802, column 'supply_V': '1 048,0' has its thousands apart");
}

/* Line 102 says 1100 ms between 99 and 101: its 4 V count as little as its torque, and the 60 V of line 103 do. */
static void
row_whose_time_stands_alone_is_in_no_sum (void **state)
{
  LogFixture *fixture = *state;
  g_string_assign (fixture->text, "time_ms,torque_Nm,supply_V\n");
  for (int row = 0; row < 300; row++)
    g_string_append_printf (fixture->text, "%d,0.25,%d\n", row == 100 ? 1100 : row,
                            row == 100   ? 4
                            : row == 101 ? 60
                                         : 48);
  const SbLog *log = read_text (fixture, fixture->text->str);
  assert_int_equal (log->n_rows, 299);
  assert_int_equal (fault_at (log, 0)->line, 102);
  const SbAside *supply = &log->aside[SB_ASIDE_SUPPLY];
  assert_int_equal (supply->n, 299);
  assert_close (supply->mean, (298 * 48.0 + 60) / 299, 1e-12);
  assert_close (supply->smallest, 48, 0.0);
  assert_close (supply->largest, 60, 0.0);
}

#define WITH_LOG(function) cmocka_unit_test_setup_teardown (function, log_fixture_setup, log_fixture_teardown)

int
main (void)
{
  const struct CMUnitTest tests[] = {
    WITH_LOG (lone_point_behind_late_thousands_is_no_group),
    WITH_LOG (late_thousands_are_read_in_what_is_summed_up),
    WITH_LOG (row_whose_time_stands_alone_is_in_no_sum),
  };
  return cmocka_run_group_tests (tests, NULL, NULL);
}
