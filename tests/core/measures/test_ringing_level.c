/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The top level of a torque that has not come to rest when the active window ends. */
#include "measured.h"

/* 2.3 cycles of a second-order step at zeta 0.05: the crests are the histogram's modes, and the step is known. */
static void
top_of_a_short_ringing_plateau_is_its_middle (void **state)
{
  Measured *m = *state;
  MadeLog log = make_second_order (m->made, 0.05, 250, 10, 400, 241, 2.5e-4);
  const SbMeasures *r = measure_log (m, &log, NULL);
  assert_close (r->transition.top_nm, 10, 1e-3);
  /* e^(-zeta wn t) of the step is left at 60 ms: 47 % */
  assert_close_relative (r->transition.ringing_left_nm, 10 * exp (-0.05 * 250 * 0.06), 0.05);
  assert_doubt (r, SB_MEASURE_OVERSHOOT, "ringing plateau", "still rings by ± 4.7 N·m");
  assert_close (value_of (r, SB_MEASURE_OVERSHOOT), exp (-G_PI * 0.05 / sqrt (1 - 0.05 * 0.05)), 2e-3);
}

static void
ringing_that_has_died_away_leaves_a_plateau (void **state)
{
  Measured *m = *state;
  MadeLog log = make_second_order (m->made, 0.2, 250, 10, 400, 800, 2.5e-4);
  const SbMeasures *r = measure_log (m, &log, NULL);
  assert_true (r->transition.plateau);
  assert_close (r->transition.ringing_left_nm, 0, 0);
  assert_no_doubts (r, SB_MEASURE_OVERSHOOT);
}

/* Neither a climb that goes on nor one that bends is an oscillation. */
static void
climb_that_goes_on_does_not_ring (void **state)
{
  Measured *m = *state;
  for (int bent = 0; bent < 2; bent++) {
    MadeLog log = make_step_log (m->made, 1200, 400, 2.5e-4, 10);
    log.torque = make_column (m->made, log.n);
    for (gsize i = 0; i < log.n; i++) {
      double t = fmax (0, log.t[i]);
      log.torque[i] = bent ? 10 * (1 - exp (-t / 0.1)) : ramp (t, 0, 0.01, 0, 5) + 20 * t;
    }
    const SbMeasures *r = measure_log (m, &log, NULL);
    assert_close (r->transition.ringing_left_nm, 0, 0);
    assert_doubt (r, SB_MEASURE_PEAK_TORQUE_SLOPE, "no plateau", "last quarter");
  }
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
#define T(name) cmocka_unit_test_setup_teardown (name, measured_setup, measured_teardown)
    T (top_of_a_short_ringing_plateau_is_its_middle),
    T (ringing_that_has_died_away_leaves_a_plateau),
    T (climb_that_goes_on_does_not_ring),
  };
  return cmocka_run_group_tests (tests, NULL, NULL);
}
