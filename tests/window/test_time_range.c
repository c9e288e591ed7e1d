/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Expected values: worked out by hand from "what is under the pointer stays under the pointer". */
#include "time_range.h"
#include "close.h"

static const SbTimeRange all = { 0, 1 };

static void
assert_range (SbTimeRange range, double from_s, double to_s)
{
  assert_close (range.from_s, from_s, 1e-12);
  assert_close (range.to_s, to_s, 1e-12);
}

/* A quarter from the left before, a quarter from the left after: 0.25 = from + 0.25 * 0.5. */
static void
zoom_keeps_the_time_under_the_pointer (void **state)
{
  assert_range (sb_time_range_zoom (all, all, 0.25, 0.5), 0.125, 0.625);
}

static void
zoom_out_never_shows_more_than_there_is (void **state)
{
  assert_range (sb_time_range_zoom ((SbTimeRange){ 0.2, 0.4 }, all, 0.3, 100), 0, 1);
}

static void
zoom_in_ends_at_a_thousandth (void **state)
{
  SbTimeRange range = sb_time_range_zoom (all, all, 0.5, 1e-9);
  assert_close (range.to_s - range.from_s, 1e-3, 1e-12);
}

static void
pan_moves_both_ends (void **state)
{
  assert_range (sb_time_range_pan ((SbTimeRange){ 0.2, 0.4 }, all, 0.1), 0.3, 0.5);
}

static void
pan_stops_at_the_end_with_its_length_kept (void **state)
{
  assert_range (sb_time_range_pan ((SbTimeRange){ 0.2, 0.4 }, all, 5), 0.8, 1);
  assert_range (sb_time_range_pan ((SbTimeRange){ 0.2, 0.4 }, all, -5), 0, 0.2);
}

static void
all_is_covered_only_by_all (void **state)
{
  assert_true (sb_time_range_covers (all, all));
  assert_false (sb_time_range_covers ((SbTimeRange){ 0, 0.999 }, all));
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    cmocka_unit_test (zoom_keeps_the_time_under_the_pointer),
    cmocka_unit_test (zoom_out_never_shows_more_than_there_is),
    cmocka_unit_test (zoom_in_ends_at_a_thousandth),
    cmocka_unit_test (pan_moves_both_ends),
    cmocka_unit_test (pan_stops_at_the_end_with_its_length_kept),
    cmocka_unit_test (all_is_covered_only_by_all),
  };
  return cmocka_run_group_tests (tests, NULL, NULL);
}
