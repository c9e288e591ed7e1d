/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is noted of units: the logs are of one motion, ω = 20 t rad/s and φ = 10 t² rad from 0.1 s on, written in units
 * that the header names rightly, wrongly or not at all. */
#include "trial_fixture.h"
#include "unit_notes.h"

#include <math.h>

/* The velocity and the angle are written as so many of their SI values. */
static const SbTrial *
trial_of (TrialFixture *fixture, const char *header, double velocity, double angle)
{
  g_string_assign (fixture->text, header);
  for (int i = 0; i < 400; i++) {
    double t = i / 1000.0, tau = fmax (0, t - 0.1);
    add_number (fixture, t, ',');
    add_number (fixture, i >= 100 ? 8 : 0, ',');
    add_number (fixture, 20 * tau * velocity, ',');
    add_number (fixture, 10 * tau * tau * angle, '\n');
  }
  return make_trial (fixture, NULL);
}

static void
units_that_no_header_names_are_noted_once (void **state)
{
  const SbTrial *trial = trial_of (*state, "time,command,velocity,angle\n", 1, 1);
  assert_true (has_note (trial,
                         "names no unit for 'time', 'command', 'velocity', 'angle'; SI was taken (s, N·m, rad/s, "
                         "rad)"));
  assert_false (has_note (trial, "do not belong together"));
}

static void
named_units_that_agree_are_not_noted (void **state)
{
  const SbTrial *trial = trial_of (*state, "time_s,command_Nm,velocity_rpm,angle_deg\n", 30 / G_PI, 180 / G_PI);
  for (guint i = 0; i < trial->notes->len; i++)
    assert_true (sb_notes_get (trial->notes, i)->kind < SB_NOTE_UNITS_ASSUMED);
}

/* 1 rpm is π/30 rad/s and 1 degree π/180 rad: taken for SI, what the velocity adds up to is 1/6 of the way; of rpm and
 * rad it is 30/π = 9.55, of rad/s and degrees π/180 = 0.0175. */
static void
velocity_that_does_not_add_up_to_the_way_is_noted (void **state)
{
  const SbTrial *trial = trial_of (*state, "time,command,velocity,angle\n", 30 / G_PI, 180 / G_PI);
  assert_true (has_note (trial, "adds up to 0.167 times the way of the angle, as rpm and degrees"));
  trial = trial_of (*state, "time,command,velocity,angle\n", 30 / G_PI, 1);
  assert_true (has_note (trial, "adds up to 9.55 times the way of the angle, as rpm and rad"));
  trial = trial_of (*state, "time_s,command_Nm,velocity_rad_s,angle_rad\n", 1, 180 / G_PI);
  assert_true (has_note (trial, "adds up to 0.0175 times the way of the angle, as rad/s and degrees"));
  trial = trial_of (*state, "time,command,velocity,angle\n", 3, 1); /* no two usual units */
  assert_true (has_note (trial, "adds up to 3 times the way of the angle, so that"));
}

/* A time in ticks of another length than was taken makes the velocity add up to another way just as well. */
static void
unit_of_the_time_is_suspected_where_nobody_named_it (void **state)
{
  const SbTrial *trial = trial_of (*state, "time,command_Nm,velocity_rad_s,angle_rad\n", 20, 1);
  assert_true (has_note (trial, "adds up to 20 times the way of the angle, so that the unit of one of them or that of the "
                                "time, which the header does not name, is not the one that was taken"));
  trial = trial_of (*state, "t [1000 ms],command_Nm,velocity_rad_s,angle_rad\n", 20, 1); /* may be a range */
  assert_true (has_note (trial, "the unit of one of them or that of the time, which is a guess, is not"));
  trial = trial_of (*state, "time_s,command_Nm,velocity_rad_s,angle_rad\n", 20, 1);
  assert_true (has_note (trial, "adds up to 20 times the way of the angle, so that the unit of one of them is not the"));
}

static void
velocity_against_the_angle_is_noted (void **state)
{
  const SbTrial *trial = trial_of (*state, "time_s,command_Nm,velocity_rad_s,angle_rad\n", 1, -1);
  assert_true (has_note (trial, "runs against the angle"));
}

/* 10 · 0.3² = 0.9 rad on the whole; a twentieth of that is less than SB_UNIT_NOTES_LEAST_WAY_RAD. */
static void
short_way_is_not_judged (void **state)
{
  const SbTrial *trial = trial_of (*state, "time_s,command_Nm,velocity_rad_s,angle_rad\n", 1, 0.05);
  assert_false (has_note (trial, "do not belong together"));
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    trial_test (units_that_no_header_names_are_noted_once),
    trial_test (named_units_that_agree_are_not_noted),
    trial_test (velocity_that_does_not_add_up_to_the_way_is_noted),
    trial_test (unit_of_the_time_is_suspected_where_nobody_named_it),
    trial_test (velocity_against_the_angle_is_noted),
    trial_test (short_way_is_not_judged),
  };
  return cmocka_run_group_tests (tests, NULL, NULL);
}
