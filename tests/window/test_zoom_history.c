/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Back and forward among the times that were shown; numbers that are typed. Expected values are those put in. */
#include "close.h"
#include "time_bar.h"
#include "zoom_history.h"

static int
setup (void **state)
{
  *state = sb_zoom_history_new ();
  return 0;
}

static int
teardown (void **state)
{
  sb_zoom_history_free (*state);
  return 0;
}

static void
visit (SbZoomHistory *history, double from_s, double to_s)
{
  sb_zoom_history_visit (history, (SbTimeRange){ from_s, to_s });
}

static void
new_history_leads_nowhere (void **state)
{
  visit (*state, 0, 1);
  assert_false (sb_zoom_history_can_go (*state, -1));
  assert_false (sb_zoom_history_can_go (*state, 1));
}

static void
back_and_forward_give_the_ranges_visited (void **state)
{
  visit (*state, 0, 1);
  visit (*state, 0.2, 0.4);
  visit (*state, 0.25, 0.3);
  assert_close (sb_zoom_history_go (*state, -1).from_s, 0.2, 0);
  assert_close (sb_zoom_history_go (*state, -1).to_s, 1, 0);
  assert_false (sb_zoom_history_can_go (*state, -1));
  assert_close (sb_zoom_history_go (*state, 1).to_s, 0.4, 0);
  assert_true (sb_zoom_history_can_go (*state, 1));
}

static void
same_range_again_is_no_visit (void **state)
{
  visit (*state, 0, 1);
  visit (*state, 0, 1);
  assert_false (sb_zoom_history_can_go (*state, -1));
}

static void
visit_after_going_back_forgets_what_was_ahead (void **state)
{
  visit (*state, 0, 1);
  visit (*state, 0.2, 0.4);
  sb_zoom_history_go (*state, -1);
  visit (*state, 0.5, 0.6);
  assert_false (sb_zoom_history_can_go (*state, 1));
  assert_close (sb_zoom_history_go (*state, -1).to_s, 1, 0);
}

static void
typed_number_may_have_a_comma_and_a_minus_sign (void **state)
{
  double number;
  assert_true (sb_time_bar_parse (" 12,5 ", &number));
  assert_close (number, 12.5, 0);
  assert_true (sb_time_bar_parse ("−3.25", &number));
  assert_close (number, -3.25, 0);
}

static void
typed_text_that_is_no_number_is_refused (void **state)
{
  double number;
  static const char *const wrong[] = { "", " ", "12 ms", "1,2,3", "nan", "inf", "--1" };
  for (gsize i = 0; i < G_N_ELEMENTS (wrong); i++)
    assert_false (sb_time_bar_parse (wrong[i], &number));
}

#define HISTORY_TEST(name) cmocka_unit_test_setup_teardown (name, setup, teardown)

int
main (void)
{
  const struct CMUnitTest tests[] = {
    HISTORY_TEST (new_history_leads_nowhere),
    HISTORY_TEST (back_and_forward_give_the_ranges_visited),
    HISTORY_TEST (same_range_again_is_no_visit),
    HISTORY_TEST (visit_after_going_back_forgets_what_was_ahead),
    cmocka_unit_test (typed_number_may_have_a_comma_and_a_minus_sign),
    cmocka_unit_test (typed_text_that_is_no_number_is_refused),
  };
  return cmocka_run_group_tests (tests, NULL, NULL);
}
