/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Which channel and unit a column's name stands for. The expected meaning is what a reader of the name would say. */
#include "close.h"
#include "header.h"

#include <string.h>

enum {
  T = SB_CHANNEL_TIME,
  U = SB_CHANNEL_COMMAND,
  A = SB_CHANNEL_ANGLE,
  V = SB_CHANNEL_VELOCITY,
  Q = SB_CHANNEL_TORQUE,
};

typedef struct {
  const char *name;
  int channel;
  const char *unit; /* "": none */
} Expected;

static void
assert_meanings (const Expected *table, gsize n, gboolean with_problem)
{
  for (gsize i = 0; i < n; i++) {
    SbColumnMeaning meaning;
    sb_column_meaning_read (&meaning, table[i].name);
    g_autofree char *problem = g_strdup (meaning.problem);
    const char *unit = meaning.unit != NULL ? meaning.unit->name : "";
    int channel = meaning.channel;
    sb_column_meaning_clear (&meaning);
    if (channel != table[i].channel || strcmp (unit, table[i].unit) != 0 || (problem != NULL) != with_problem)
      fail_msg ("'%s' is channel %d in '%s' (%s), expected %d in '%s'", table[i].name, channel, unit,
                problem != NULL ? problem : "no problem", table[i].channel, table[i].unit);
  }
}

static void
header_names_of_every_form_are_understood (void **state)
{
  static const Expected table[] = {
    { "time_s", T, "s" },
    { "command_Nm", U, "N·m" },
    { "angle_rad", A, "rad" },
    { "velocity_rad_s", V, "rad/s" },
    { "torque_Nm", Q, "N·m" },
    { "time", T, "" },
    { "Time [ms]", T, "ms" },
    { " Time (s) ", T, "s" },
    { "time_ms", T, "ms" },
    { "TIME_US", T, "µs" },
    { "t", T, "" },
    { "t [s]", T, "s" },
    { "t_ms", T, "ms" },
    { "T [Nm]", Q, "N·m" },
    { "Timestamp [µs]", T, "µs" },
    { "Elapsed time (ms)", T, "ms" },
    { "ms", T, "ms" },
    { "Torque [Nm]", Q, "N·m" },
    { "Torque [N·m]", Q, "N·m" },
    { "Torque / N m", Q, "N·m" },
    { "Motor torque (mNm)", Q, "mN·m" },
    { "MotorTorque", Q, "" },
    { "torqueNm", Q, "N·m" },
    { "torque_N_m", Q, "N·m" },
    { "torque_mNm", Q, "mN·m" },
    { "Torque (filtered) [N.m]", Q, "N·m" },
    { "Torque [N.m] (filtered)", Q, "N·m" },
    { "Torque []", Q, "" },
    { "Drehmoment [Nm]", -1, "" },
    { "τ [N*m]", Q, "N·m" },
    { "Torque command [Nm]", U, "N·m" },
    { "target_torque_Nm", U, "N·m" },
    { "cmd", U, "" },
    { "Setpoint (N·m)", U, "N·m" },
    { "Position [deg]", A, "deg" },
    { "wheel_angle_deg", A, "deg" },
    { "Angle (turns)", A, "turns" },
    { "theta_rad", A, "rad" },
    { "Speed [rpm]", V, "rpm" },
    { "SpeedRpm", V, "rpm" },
    { "velocity_deg_s", V, "deg/s" },
    { "velocity_deg_per_s", V, "deg/s" },
    { "Angular velocity [rad/s]", V, "rad/s" },
    { "velocity rad/s", V, "rad/s" },
    { "speed_rpm", V, "rpm" },
    { "rpm", V, "rpm" },
    { "ω [°/s]", V, "deg/s" },
  };
  assert_meanings (table, G_N_ELEMENTS (table), FALSE);
}

static void
header_names_of_other_things_are_read_past (void **state)
{
  static const Expected table[] = {
    { "", -1, "" },
    { "note", -1, "" },
    { "Torque error [Nm]", -1, "" },
    { "torque_slope_Nm", -1, "" },
    { "velocity command [rad/s]", -1, "" },
    { "Angular acceleration [rad/s^2]", -1, "" },
    { "Motor temperature [°C]", -1, "" },
    { "current_A", -1, "" },
    { "trial", -1, "" },
    { "[", -1, "" },
    { "((((", -1, "" },
  };
  assert_meanings (table, G_N_ELEMENTS (table), FALSE);
}

/* A guess at the unit would give wrong numbers; the column is left and the reader told. */
/* Reading them as SI would be a silent factor: 5.47 kgf cm is 0.536 N m. */
static void
header_ending_in_an_unknown_word_is_a_problem (void **state)
{
  static const Expected table[] = {
    { "torque_kgcm", -1, "" },  { "velocity_kmh", -1, "" }, { "torque_kgmm", -1, "" },
    { "velocity mph", -1, "" }, { "angle_grad", -1, "" },
  };
  assert_meanings (table, G_N_ELEMENTS (table), TRUE);
}

static void
header_ending_in_a_word_of_place_or_kind_keeps_its_channel (void **state)
{
  static const Expected table[] = {
    { "torque_measured", Q, "" }, { "velocity_rim", V, "" }, { "Torque motor", Q, "" },
    { "angle_filtered", A, "" },  { "speed_actual", V, "" }, { "torque_2", Q, "" },
  };
  assert_meanings (table, G_N_ELEMENTS (table), FALSE);
}

static void
header_unit_that_does_not_suit_is_a_problem (void **state)
{
  static const Expected table[] = {
    { "Torque [A]", -1, "" },   { "Torque [%]", -1, "" },    { "torque_pct", -1, "" },   { "Time [min]", -1, "" },
    { "velocity_m_s", -1, "" }, { "Position [mm]", -1, "" }, { "angle_counts", -1, "" }, { "Torque [rad/s]", -1, "" },
    { "Time (Nm)", -1, "" },    { "Torque [MNm]", -1, "" },
  };
  assert_meanings (table, G_N_ELEMENTS (table), TRUE);
}

static void
header_problem_names_the_unit_and_those_known (void **state)
{
  SbColumnMeaning meaning;
  sb_column_meaning_read (&meaning, "Time [min]");
  g_autofree char *problem = g_strdup (meaning.problem);
  sb_column_meaning_clear (&meaning);
  assert_string_equal (problem, "the unit 'min' is not one for time (s, ms, µs or ns); the column is read past");
}

/* A megabyte of brackets or separators takes no longer than any other name: within a second, where work that grows with
 * the square of the length would take several. */
static void
header_name_without_end_is_read_past_at_once (void **state)
{
  static const char fillers[] = "[(_/";
  gint64 start = g_get_monotonic_time ();
  for (gsize i = 0; i < strlen (fillers); i++) {
    g_autofree char *name = g_strnfill (1000000, fillers[i]);
    name[0] = 't';
    SbColumnMeaning meaning;
    sb_column_meaning_read (&meaning, name);
    int channel = meaning.channel;
    sb_column_meaning_clear (&meaning);
    assert_int_equal (channel, -1);
  }
  assert_true (g_get_monotonic_time () - start < G_USEC_PER_SEC);
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    cmocka_unit_test (header_names_of_every_form_are_understood),
    cmocka_unit_test (header_names_of_other_things_are_read_past),
    cmocka_unit_test (header_name_without_end_is_read_past_at_once),
    cmocka_unit_test (header_ending_in_an_unknown_word_is_a_problem),
    cmocka_unit_test (header_ending_in_a_word_of_place_or_kind_keeps_its_channel),
    cmocka_unit_test (header_unit_that_does_not_suit_is_a_problem),
    cmocka_unit_test (header_problem_names_the_unit_and_those_known),
  };
  return cmocka_run_group_tests (tests, NULL, NULL);
}
