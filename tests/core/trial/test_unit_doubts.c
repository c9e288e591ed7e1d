/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Which units the signals speak against. The logs are of one motion: from 0.1 s on the command is 10 N·m, the torque
 * reaches it within 10 ms and turns 0.05 kg·m² against a viscous friction of 0.05 N·m·s/rad, which gives, by J dω/dt =
 * T - bω, an impulse of less than 1.1 JΔω over the first tenth of the time constant J/b = 1 s. Factors: NIST SP 811. */
#include "trial_fixture.h"
#include "unit_doubts.h"

#include <math.h>

typedef struct {
  double torque, velocity, angle; /* written as so many of their SI values */
  double ceiling_nm;              /* the sensor shows no more; 0: all */
  double given;                   /* share of the command that the drive gives; 0: all */
  const char *inertia;            /* comment line or "" */
} Motion;

static const SbTrial *
trial_of (TrialFixture *fixture, const char *header, Motion motion)
{
  guint64 seed = 7;
  double omega = 0, phi = 0;
  g_string_printf (fixture->text, "%s%s", motion.inertia != NULL ? motion.inertia : "", header);
  for (int i = 0; i < 350; i++) {
    double t = i / 1000.0, torque = (motion.given > 0 ? motion.given : 1) * 10 * CLAMP ((t - 0.1) / 0.01, 0, 1);
    double shown = motion.ceiling_nm > 0 ? fmin (torque, motion.ceiling_nm) : torque;
    add_number (fixture, t, ',');
    add_number (fixture, i >= 100 ? 10 : 0, ',');
    add_number (fixture, phi * motion.angle, ',');
    add_number (fixture, omega * motion.velocity, ',');
    add_number (fixture, (shown + 0.02 * next_normal (&seed)) * motion.torque, '\n');
    phi += omega * 0.001;
    omega += (torque - 0.05 * omega) / 0.05 * 0.001;
  }
  return make_trial (fixture, NULL);
}

#define NAMED   "time_s,command_Nm,angle_rad,velocity_rad_s,torque_Nm\n"
#define UNNAMED "time,command,angle,velocity,torque\n"
#define INERTIA "# inertia_kg_m2: 0.05\n"
#define ALL_SI  .torque = 1, .velocity = 1, .angle = 1

static void
assert_says (const char *doubt, const char *part)
{
  assert_non_null (doubt);
  if (strstr (doubt, part) == NULL)
    fail_msg ("'%s' does not say '%s'", doubt, part);
}

static void
torque_in_another_unit_than_its_header_says_is_doubted (void **state)
{
  static const struct {
    double per_nm;
    const char *words;
  } units[] = { { 1000, "1e+03 times its command, as mN·m of the torque" },
                { 100, "as N·cm of the torque" },
                { 8.850746, "as lbf·in of the torque" },
                { 10.19716, "as kgf·cm of the torque" },
                { 0.1019716, "as kgf·m of the torque" },
                { 141.6119, "as ozf·in of the torque" },
                { 1.355818, "as lbf·ft of the command" } };
  for (gsize i = 0; i < G_N_ELEMENTS (units); i++) {
    const SbTrial *trial = trial_of (*state, NAMED, (Motion){ .torque = units[i].per_nm, .velocity = 1, .angle = 1 });
    assert_says (trial->unit_doubt[SB_CHANNEL_TORQUE], units[i].words);
    assert_null (trial->unit_doubt[SB_CHANNEL_VELOCITY]);
    assert_false (trial->is_unit_confirmed[SB_CHANNEL_TORQUE]);
    assert_true (has_note (trial, "torque and command do not belong together"));
  }
}

/* A drive that gives less than its command, or a torque ripple above it, is none of a unit. */
static void
torque_that_is_near_its_command_is_not_doubted (void **state)
{
  static const double shares[] = { 1, 0.97, 1.1, 0.8, 0.737562, 0.6 };
  for (gsize i = 0; i < G_N_ELEMENTS (shares); i++) {
    const SbTrial *trial = trial_of (*state, NAMED, (Motion){ ALL_SI, .given = shares[i] });
    assert_null (trial->unit_doubt[SB_CHANNEL_TORQUE]);
    trial = trial_of (*state, NAMED, (Motion){ ALL_SI, .given = shares[i], .inertia = INERTIA });
    assert_null (trial->unit_doubt[SB_CHANNEL_TORQUE]);
    assert_null (trial->short_torque);
  }
}

static void
motion_speaks_for_or_against_the_torque (void **state)
{
  const SbTrial *trial = trial_of (*state, INERTIA "time_s,index,angle_rad,velocity_rad_s,torque_Nm\n", (Motion){ ALL_SI });
  assert_null (trial->unit_doubt[SB_CHANNEL_TORQUE]);
  trial = trial_of (*state, NAMED, (Motion){ .torque = 1000, .velocity = 1, .angle = 1, .inertia = INERTIA });
  assert_says (trial->unit_doubt[SB_CHANNEL_TORQUE], "1e+03 times its command");
  assert_true (has_note (trial, "torque, velocity and inertia do not belong together"));
  /* the command is the one that is wrong: 10 N·m written as 10,000 mN·m */
  trial = trial_of (*state, "time_s,command_kNm,angle_rad,velocity_rad_s,torque_Nm\n",
                    (Motion){ ALL_SI, .inertia = INERTIA });
  assert_null (trial->unit_doubt[SB_CHANNEL_TORQUE]);
  assert_true (has_note (trial, "the unit of the command, as velocity and inertia agree with the torque"));
}

/* The angle is left out, so that only the motion can tell: rpm taken for rad/s are 9.55 times too much. */
static void
velocity_that_the_torque_does_not_explain_is_doubted (void **state)
{
  const SbTrial *trial = trial_of (*state, "time_s,command_Nm,index,velocity_rad_s,torque_Nm\n",
                                   (Motion){ .torque = 1, .velocity = 30 / G_PI, .angle = 1, .inertia = INERTIA });
  assert_null (trial->unit_doubt[SB_CHANNEL_TORQUE]);
  assert_says (trial->unit_doubt[SB_CHANNEL_VELOCITY], "times the momentum");
}

static void
velocity_that_does_not_add_up_to_the_angle_is_doubted (void **state)
{
  const SbTrial *trial = trial_of (*state, UNNAMED, (Motion){ .torque = 1, .velocity = 180 / G_PI, .angle = 1 });
  assert_says (trial->unit_doubt[SB_CHANNEL_VELOCITY], "times the way of the angle, as deg/s and rad");
  assert_null (trial->unit_doubt[SB_CHANNEL_TORQUE]);
  assert_true (sb_unit_doubts_ask (trial));
  trial = trial_of (*state, NAMED, (Motion){ .torque = 1, .velocity = 180 / G_PI, .angle = 1 });
  assert_false (sb_unit_doubts_ask (trial)); /* the header names them */
}

/* The drive gives 10 N·m and the sensor's amplifier ends at 8, with noise behind it: J dω/dt is T - bω, between 10 and
 * 9 N·m over the first 0.1 s. */
static void
torque_short_of_command_and_motion_is_the_sensors (void **state)
{
  const SbTrial *trial = trial_of (*state, NAMED, (Motion){ ALL_SI, .ceiling_nm = 8, .inertia = INERTIA });
  assert_says (trial->short_torque, "reaches 80 % of its command of 10 N·m, and velocity and inertia say 9.");
  trial = trial_of (*state, NAMED, (Motion){ ALL_SI, .ceiling_nm = 8 });
  assert_null (trial->short_torque); /* without an inertia a drive may well give less */
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    trial_test (torque_in_another_unit_than_its_header_says_is_doubted),
    trial_test (torque_that_is_near_its_command_is_not_doubted),
    trial_test (motion_speaks_for_or_against_the_torque),
    trial_test (velocity_that_the_torque_does_not_explain_is_doubted),
    trial_test (velocity_that_does_not_add_up_to_the_angle_is_doubted),
    trial_test (torque_short_of_command_and_motion_is_the_sensors),
  };
  return cmocka_run_group_tests (tests, NULL, NULL);
}
