/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Clock times as ISO 8601 writes them, and their differences. Expected seconds are decimal numbers written out: the
 * double next to the difference is what the compiler makes of it. */
#include "clock.h"
#include "close.h"

#include <string.h>

static SbClockTime
read_time (const char *text)
{
  SbClockTime time = { 0 };
  if (!sb_clock_time_read (text, strlen (text), &time))
    fail_msg ("'%s' is not read", text);
  return time;
}

/* Seconds from the first text to the second, as two rows of one log. */
static double
between (const char *first, const char *second)
{
  SbClock clock = { 0 };
  double seconds = -1.0;
  SbClockTime from = read_time (first), to = read_time (second);
  assert_true (sb_clock_seconds (&clock, &from, &seconds));
  assert_close (seconds, 0.0, 0.0);
  sb_clock_take (&clock);
  assert_true (sb_clock_seconds (&clock, &to, &seconds));
  return seconds;
}

static void
clock_differences_are_those_of_the_decimal_numbers (void **state)
{
  static const struct {
    const char *first, *second;
    double seconds;
  } table[] = {
    { "2026-11-25T10:00:00", "2026-11-25T10:00:00.0005", 0.0005 },
    { "2026-11-25T10:00:00.9995", "2026-11-25T10:00:01.0000", 0.0005 },
    { "2026-11-25T10:00:00.1", "2026-11-25T10:00:00.4", 0.3 },
    { "10:00:00.000000001", "10:00:00.000000004", 3e-9 },
    { "10:00:00.000000000000000001", "10:00:00.000000000000000004", 3e-18 },
    { "10:00:00.123456789012", "10:00:01.000000000001", 0.876543210989 },
    { "00:00:00.1", "11:59:59.4", 43199.3 },
    { "2026-11-25 23:59:59.5", "2026-11-26 00:00:00.25", 0.75 },
    { "2026-11-25T10:00:00,5", "2026-11-25T10:00:01,75", 1.25 },
    { "2026-11-25T10:00:00Z", "2026-11-25T10:00:00.5Z", 0.5 },
    { "2026-11-25T10:00:00+01:00", "2026-11-25T09:00:02Z", 2.0 },
    { "2026-11-25T10:00:00-0530", "2026-11-25T15:30:00.125+00", 0.125 },
    { "20261125T100000.5Z", "20261125T100001Z", 0.5 },
    { "25.11.2026 10:00:00", "26.11.2026 10:00:00", 86400.0 },
    { "2026/11/25 10:00:00", "2026/11/25 10:00:10.5", 10.5 },
    { "2000-02-28T00:00:00", "2000-03-01T00:00:00", 172800.0 }, /* 2000 has a leap day, */
    { "2100-02-28T00:00:00", "2100-03-01T00:00:00", 86400.0 },  /* 2100 has none */
    { "1969-12-31T23:59:59.5", "1970-01-01T00:00:00", 0.5 },
    { "2026-01-01T00:00:00", "2027-01-01T00:00:00.1", 31536000.1 },
    { "0001-01-01T00:00:00", "2001-01-01T00:00:00.1", 63113904000.1 }, /* 730485 days */
    { "9:05:01.5 AM", "9:05:02.5 am", 1.0 },
    { "11:59:59 AM", "12:00:00 PM", 1.0 },
    { "12:00:00 AM", "1:00:00 AM", 3600.0 },
    { "2016-12-31T23:59:60", "2017-01-01T00:00:00", 0.0 },
    { "23:00:00", "24:00:00", 3600.0 },
    { "07/14/2026 11:59:59.5 PM", "07/15/2026 12:00:00.5 AM", 1.0 },
    { "14/07/2026 23:59:59.5", "15/07/2026 00:00:00.5", 1.0 },
    { "07/11/2026 23:59:59.5", "07/12/2026 00:00:00.5", 1.0 }, /* July or November: the shorter step */
    { "07/11/2026 23:59:59.5", "08/11/2026 00:00:00.5", 1.0 },
    { "12/07/2026 23:59:59.5", "13/07/2026 00:00:00.5", 1.0 }, /* no month has that number */
    { "25-11-2026 10:00:00", "25-11-2026 10:00:00.125", 0.125 },
    { "59:59.900", "60:00.125", 0.225 }, /* minutes and seconds go on beyond the hour */
    { "0:00,5", "999:59,75", 59999.25 },
    { "01:00.000000000000000001", "01:00.000000000000000004", 3e-18 },
  };
  for (guint i = 0; i < G_N_ELEMENTS (table); i++) {
    double seconds = between (table[i].first, table[i].second);
    if (memcmp (&seconds, &table[i].seconds, sizeof seconds) != 0)
      fail_msg ("'%s' to '%s' is %.17g s, expected %.17g", table[i].first, table[i].second, seconds, table[i].seconds);
  }
}

static void
clock_text_of_another_form_is_not_read (void **state)
{
  static const char *const texts[] = { "",
                                       "10",
                                       "10:00",
                                       "10:00:60.5x",
                                       "25:00:00",
                                       "10:60:00",
                                       "10:00:61",
                                       "24:00:01",
                                       "2026-11-25",
                                       "2026-13-01T00:00:00",
                                       "13/13/2026 00:00:00",
                                       "11-25-2026 00:00:00",
                                       "25/11-2026 00:00:00",
                                       "2026-02-29T00:00:00",
                                       "2026-11-25T",
                                       "1.5",
                                       "10:00:00+1",
                                       "10:00:00+25:00",
                                       "10:00:00 XM",
                                       "13:00:00 PM",
                                       "10:00:00.",
                                       "2026-11/25T10:00:00",
                                       "10-00-00",
                                       "2026-11-25T10:00:00Zulu",
                                       "10:00:00 ",
                                       "10:00.",
                                       "10:60.5",
                                       "1000:00.5",
                                       "10:00.5Z",
                                       "10:00.5 PM",
                                       "10:0.5",
                                       ":00.5" };
  for (guint i = 0; i < G_N_ELEMENTS (texts); i++) {
    SbClockTime time;
    if (sb_clock_time_read (texts[i], strlen (texts[i]), &time))
      fail_msg ("'%s' is read", texts[i]);
  }
}

/* A test that runs over midnight twice: 23 h, 1 h, 13 h, 23 h, 1 h of the clock are 0, 2, 14, 24 and 26 h of time. */
static void
clock_without_date_goes_on_over_midnight (void **state)
{
  static const char *const texts[] = { "23:00:00.25", "01:00:00.25", "13:00:00.25", "23:00:00.25", "01:00:00.75" };
  static const double hours[] = { 0, 2, 14, 24, 26 };
  SbClock clock = { 0 };
  for (guint i = 0; i < G_N_ELEMENTS (texts); i++) {
    double seconds;
    SbClockTime time = read_time (texts[i]);
    assert_true (sb_clock_seconds (&clock, &time, &seconds));
    assert_close (seconds, hours[i] * 3600.0 + (i == 4 ? 0.5 : 0.0), 0.0);
    sb_clock_take (&clock);
  }
}

/* Half a second back is a fault of the log and no new day, and a row that is not taken moves nothing. */
static void
clock_going_back_a_little_is_no_new_day (void **state)
{
  SbClock clock = { 0 };
  double seconds;
  SbClockTime first = read_time ("10:00:00.5"), back = read_time ("10:00:00"), next = read_time ("10:00:01");
  assert_true (sb_clock_seconds (&clock, &first, &seconds));
  sb_clock_take (&clock);
  assert_true (sb_clock_seconds (&clock, &back, &seconds));
  assert_close (seconds, -0.5, 0.0);
  assert_true (sb_clock_seconds (&clock, &next, &seconds));
  assert_close (seconds, 0.5, 0.0);
}

/* 20:00:00.1, then a stamp of the night in each direction, then 20:00:00.2: the stamp is the fault and no day goes by.
 */
static void
stamp_that_stands_alone_is_no_midnight (void **state)
{
  static const char *const alone[] = { "23:59:59", "00:00:01" };
  for (guint i = 0; i < G_N_ELEMENTS (alone); i++) {
    SbClock clock = { 0 };
    double seconds;
    SbClockTime first = read_time ("20:00:00.0"), second = read_time ("20:00:00.1"), night = read_time (alone[i]),
                next = read_time ("20:00:00.2");
    assert_true (sb_clock_seconds (&clock, &first, &seconds));
    sb_clock_take (&clock);
    assert_true (sb_clock_seconds (&clock, &second, &seconds));
    sb_clock_take (&clock);
    assert_true (sb_clock_seconds (&clock, &night, &seconds));
    sb_clock_take (&clock);
    assert_true (sb_clock_seconds (&clock, &next, &seconds));
    assert_close (seconds, 0.2, 0.0);
    sb_clock_take_instead (&clock);
    assert_int_equal (clock.last.n_midnights, 0);
    assert_close ((double) clock.last.begun_again_s, 0, 0);
  }
}

/* 58:30, 59:30, 00:10, 59:20, 00:10 and 00:20 of the clock are 0, 60, 100, 3650, 3700 and 3710 s of time: the hour is
 * full 90 s after the first. A fall of less than fifty-nine minutes is none over the hour. */
static void
minutes_and_seconds_go_on_over_the_full_hour (void **state)
{
  static const char *const texts[] = { "58:30.25", "59:30.25", "00:10.25", "59:20.25", "00:10.25", "00:20.75" };
  static const double expected[] = { 0, 60, 100, 3650, 3700, 3710.5 };
  SbClock clock = { 0 };
  double seconds;
  for (guint i = 0; i < G_N_ELEMENTS (texts); i++) {
    SbClockTime time = read_time (texts[i]);
    assert_true (sb_clock_seconds (&clock, &time, &seconds));
    assert_close (seconds, expected[i], 0.0);
    sb_clock_take (&clock);
  }
  assert_int_equal (clock.last.n_full_hours, 2);
  SbClock other = { 0 };
  SbClockTime late = read_time ("58:59.5"), start = read_time ("00:00.5");
  assert_true (sb_clock_seconds (&other, &late, &seconds));
  sb_clock_take (&other);
  assert_true (sb_clock_seconds (&other, &start, &seconds));
  assert_close (seconds, -3539.0, 0.0);
}

/* 59:59.5, 1:00:00.5 and 1:00:01 are 0, 1 and 1.5 s; 75:00.5 beyond the hour does not begin again. */
static void
hours_may_follow_minutes_and_seconds (void **state)
{
  SbClock clock = { 0 };
  double seconds;
  SbClockTime first = read_time ("59:59.5"), hour = read_time ("1:00:00.5"), next = read_time ("1:00:01");
  assert_true (sb_clock_seconds (&clock, &first, &seconds));
  sb_clock_take (&clock);
  assert_true (sb_clock_seconds (&clock, &hour, &seconds));
  assert_close (seconds, 1.0, 0.0);
  sb_clock_take (&clock);
  assert_true (sb_clock_seconds (&clock, &next, &seconds));
  assert_close (seconds, 1.5, 0.0);
  SbClock beyond = { 0 };
  SbClockTime late = read_time ("60:00.5"), start = read_time ("00:01.5");
  assert_true (sb_clock_seconds (&beyond, &late, &seconds));
  sb_clock_take (&beyond);
  assert_true (sb_clock_seconds (&beyond, &start, &seconds));
  assert_close (seconds, -3599.0, 0.0);
}

/* Minutes and seconds start anywhere: a fall of 16 h is none over midnight, and hours before them are another form. */
static void
minutes_and_seconds_are_no_time_of_day (void **state)
{
  SbClock clock = { 0 };
  double seconds;
  SbClockTime first = read_time ("999:00.5"), back = read_time ("00:00.5"), other = read_time ("00:01:00.5");
  assert_true (sb_clock_seconds (&clock, &first, &seconds));
  sb_clock_take (&clock);
  assert_true (sb_clock_seconds (&clock, &back, &seconds));
  assert_close (seconds, -999.0 * 60.0, 0.0);
  assert_false (sb_clock_seconds (&clock, &other, &seconds));
}

static void
clock_with_and_without_date_do_not_mix (void **state)
{
  SbClock clock = { 0 };
  double seconds;
  SbClockTime first = read_time ("2026-11-25T10:00:00"), other = read_time ("10:00:01"),
              zone = read_time ("2026-11-25T10:00:01Z");
  assert_true (sb_clock_seconds (&clock, &first, &seconds));
  sb_clock_take (&clock);
  assert_false (sb_clock_seconds (&clock, &other, &seconds));
  assert_false (sb_clock_seconds (&clock, &zone, &seconds));
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    cmocka_unit_test (clock_differences_are_those_of_the_decimal_numbers),
    cmocka_unit_test (clock_text_of_another_form_is_not_read),
    cmocka_unit_test (clock_without_date_goes_on_over_midnight),
    cmocka_unit_test (stamp_that_stands_alone_is_no_midnight),
    cmocka_unit_test (minutes_and_seconds_are_no_time_of_day),
    cmocka_unit_test (minutes_and_seconds_go_on_over_the_full_hour),
    cmocka_unit_test (hours_may_follow_minutes_and_seconds),
    cmocka_unit_test (clock_going_back_a_little_is_no_new_day),
    cmocka_unit_test (clock_with_and_without_date_do_not_mix),
  };
  return cmocka_run_group_tests (tests, NULL, NULL);
}
