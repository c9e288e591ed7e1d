/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What looks at a file tell, at times that the test chooses. Expected values follow from the rules in file_track.h. */
#include "file_track.h"
#include "close.h"

#define SETTLE_US 700000

static const SbFileStamp none = { .size_bytes = -1 }, empty = { 0, 100 }, half = { 500, 100 }, whole = { 1000, 200 };

/* Looks every 0.1 s at a file that stays as it is, from `from_ms` up to before `to_ms`: nothing may be told. */
static void
assert_silence (SbFileTrack *track, SbFileStamp stamp, int from_ms, int to_ms)
{
  for (int ms = from_ms; ms < to_ms; ms += 100)
    assert_int_equal (sb_file_track_look (track, stamp, ms * 1000, SETTLE_US), SB_FILE_AS_BEFORE);
}

static void
a_file_is_new_once_it_has_stood_still_and_only_once (void **state)
{
  SbFileTrack track = sb_file_track_new ();
  assert_silence (&track, half, 0, 700);
  assert_int_equal (sb_file_track_look (&track, half, 700000, SETTLE_US), SB_FILE_NEW);
  assert_silence (&track, half, 800, 5000);
}

static void
a_file_that_grows_is_not_new_before_it_stops (void **state)
{
  SbFileTrack track = sb_file_track_new ();
  for (int ms = 0; ms <= 10000; ms += 100) {
    SbFileStamp growing = { 1 + ms, ms * 1000 };
    assert_int_equal (sb_file_track_look (&track, growing, ms * 1000, SETTLE_US), SB_FILE_AS_BEFORE);
  }
  assert_true (sb_file_track_is_settling (&track));
  SbFileStamp last = { 10001, 10000000 };
  assert_silence (&track, last, 10100, 10700);
  assert_int_equal (sb_file_track_look (&track, last, 10700000, SETTLE_US), SB_FILE_NEW);
  assert_false (sb_file_track_is_settling (&track));
}

/* Written over without a change of size: the time tells. */
static void
same_size_at_another_time_is_a_change (void **state)
{
  SbFileTrack track = sb_file_track_opened (half, 1000, 0);
  SbFileStamp other = { half.size_bytes, half.mtime_us + 1 };
  assert_silence (&track, other, 0, 700);
  assert_int_equal (sb_file_track_look (&track, other, 700000, SETTLE_US), SB_FILE_CHANGED);
}

static void
an_empty_file_is_not_new_until_something_is_in_it (void **state)
{
  SbFileTrack track = sb_file_track_new ();
  assert_silence (&track, empty, 0, 3000);
  assert_false (sb_file_track_is_settling (&track));
  assert_silence (&track, whole, 3000, 3700);
  assert_int_equal (sb_file_track_look (&track, whole, 3700000, SETTLE_US), SB_FILE_NEW);
}

/* A tool that pauses for longer than the while: what was taken for whole goes on, and is told again; then one waits
 * longer, so that such a tool does not bring a piece of news with every line. */
static void
each_time_that_a_log_goes_on_it_is_waited_for_twice_as_long (void **state)
{
  SbFileTrack track = sb_file_track_new ();
  assert_silence (&track, half, 0, 700);
  assert_int_equal (sb_file_track_look (&track, half, 700000, SETTLE_US), SB_FILE_NEW);
  assert_silence (&track, whole, 1000, 1700);
  assert_int_equal (sb_file_track_look (&track, whole, 1700000, SETTLE_US), SB_FILE_CHANGED);
  SbFileStamp more = { 1500, 300 };
  assert_silence (&track, more, 2000, 3400);
  assert_int_equal (sb_file_track_look (&track, more, 3400000, SETTLE_US), SB_FILE_CHANGED);
}

/* Programs save by taking the old file away and moving the new one to its place. */
static void
a_file_that_is_away_for_a_moment_is_not_gone (void **state)
{
  SbFileTrack track = sb_file_track_opened (half, 1000, 0);
  assert_silence (&track, none, 0, 600);
  assert_silence (&track, half, 600, 3000);
  assert_false (track.gone);
}

static void
a_file_that_stays_away_is_gone_once_and_back_once (void **state)
{
  SbFileTrack track = sb_file_track_opened (half, 1000, 0);
  assert_silence (&track, none, 0, 700);
  assert_int_equal (sb_file_track_look (&track, none, 700000, SETTLE_US), SB_FILE_GONE);
  assert_silence (&track, none, 800, 3000);
  assert_silence (&track, half, 3000, 3700);
  assert_int_equal (sb_file_track_look (&track, half, 3700000, SETTLE_US), SB_FILE_BACK);
  assert_silence (&track, half, 3800, 5000);
}

static void
another_file_in_the_place_of_a_gone_one_is_a_change (void **state)
{
  SbFileTrack track = sb_file_track_opened (half, 1000, 0);
  assert_silence (&track, none, 0, 700);
  assert_int_equal (sb_file_track_look (&track, none, 700000, SETTLE_US), SB_FILE_GONE);
  assert_silence (&track, whole, 1000, 1700);
  assert_int_equal (sb_file_track_look (&track, whole, 1700000, SETTLE_US), SB_FILE_CHANGED);
  assert_false (track.gone);
}

/* Opened at 150 µs; a file of 100 µs was whole by then, one of 200 µs was not. */
static void
a_log_written_to_after_it_was_opened_is_a_change (void **state)
{
  SbFileTrack before = sb_file_track_opened (half, 150, 0);
  assert_silence (&before, half, 0, 3000);
  SbFileTrack after = sb_file_track_opened (whole, 150, 0);
  assert_silence (&after, whole, 0, 700);
  assert_int_equal (sb_file_track_look (&after, whole, 700000, SETTLE_US), SB_FILE_CHANGED);
}

static void
a_log_that_was_not_there_when_it_was_opened_is_read_when_it_comes (void **state)
{
  SbFileTrack track = sb_file_track_opened (none, 1000, 0);
  assert_silence (&track, none, 0, 700);
  assert_int_equal (sb_file_track_look (&track, none, 700000, SETTLE_US), SB_FILE_GONE);
  assert_silence (&track, half, 3000, 3700);
  assert_int_equal (sb_file_track_look (&track, half, 3700000, SETTLE_US), SB_FILE_CHANGED);
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    cmocka_unit_test (a_file_is_new_once_it_has_stood_still_and_only_once),
    cmocka_unit_test (a_file_that_grows_is_not_new_before_it_stops),
    cmocka_unit_test (same_size_at_another_time_is_a_change),
    cmocka_unit_test (an_empty_file_is_not_new_until_something_is_in_it),
    cmocka_unit_test (each_time_that_a_log_goes_on_it_is_waited_for_twice_as_long),
    cmocka_unit_test (a_file_that_is_away_for_a_moment_is_not_gone),
    cmocka_unit_test (a_file_that_stays_away_is_gone_once_and_back_once),
    cmocka_unit_test (another_file_in_the_place_of_a_gone_one_is_a_change),
    cmocka_unit_test (a_log_written_to_after_it_was_opened_is_a_change),
    cmocka_unit_test (a_log_that_was_not_there_when_it_was_opened_is_read_when_it_comes),
  };
  return cmocka_run_group_tests (tests, NULL, NULL);
}
