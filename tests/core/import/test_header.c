/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Which role and unit a column's name stands for. The expected meaning is what a reader of the name would say; words of
 * other languages than English are common practice, from memory. */
#include "close.h"
#include "header.h"

#include <string.h>

enum {
  T = SB_ROLE_TIME,
  U = SB_ROLE_COMMAND,
  A = SB_ROLE_ANGLE,
  V = SB_ROLE_VELOCITY,
  Q = SB_ROLE_TORQUE,
  I = SB_ROLE_CURRENT,
  C = SB_ROLE_TEMPERATURE,
  S = SB_ROLE_SUPPLY,
  O = SB_ROLE_OTHER,
};

typedef struct {
  const char *name;
  int role;
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
    SbRole role = meaning.role;
    sb_column_meaning_clear (&meaning);
    if ((int) role != table[i].role || strcmp (unit, table[i].unit) != 0 || (problem != NULL) != with_problem)
      fail_msg ("'%s' is %s in '%s' (%s), expected %s in '%s'", table[i].name, sb_role_key (role), unit,
                problem != NULL ? problem : "no problem", sb_role_key ((SbRole) table[i].role), table[i].unit);
  }
}

/* A prefix close before a unit is a part of it: read past it, the numbers would be a thousand times too small. */
static void
unit_with_a_prefix_that_is_none_of_ours_is_told (void **state)
{
  static const char *const names[]
      = { "torque_uNm", "torque_µNm", "torque_hNm", "torque pNm", "speed_mRpm", "torque_MNm" };
  (void) state;
  for (gsize i = 0; i < G_N_ELEMENTS (names); i++) {
    SbColumnMeaning meaning;
    sb_column_meaning_read (&meaning, names[i]);
    gboolean told = meaning.role == SB_ROLE_OTHER && meaning.problem != NULL
                    && strstr (meaning.problem, "is not one for") != NULL;
    sb_column_meaning_clear (&meaning);
    if (!told)
      fail_msg ("'%s' is read", names[i]);
  }
}

/* Whether "x100" says what was done to the numbers or what is to be done, the name does not tell. */
static void
factor_in_a_name_is_asked_about (void **state)
{
  SbColumnMeaning meaning;
  (void) state;
  sb_column_meaning_read (&meaning, "torque x100 [Nm]");
  gboolean asked = meaning.role == SB_ROLE_TORQUE && meaning.certainty == SB_CERTAINTY_GUESSED
                   && meaning.problem != NULL && strstr (meaning.problem, "says x100") != NULL;
  sb_column_meaning_clear (&meaning);
  assert_true (asked);
  sb_column_meaning_read (&meaning, "torque x1 [Nm]"); /* an axis */
  asked = meaning.problem != NULL;
  sb_column_meaning_clear (&meaning);
  assert_false (asked);
}

/* What is read so may as well be another thing: never without a question. */
static void
units_that_may_mean_another_are_asked_about (void **state)
{
  static const struct {
    const char *name;
    SbRole role;
    const char *unit, *problem;
  } table[] = {
    { "Drehzahl [1/s]", SB_ROLE_VELOCITY, "turns/s", "in a second: taken for turns/s" },
    { "Drehzahl [s-1]", SB_ROLE_VELOCITY, "turns/s", "in a second: taken for turns/s" },
    { "rotation speed (Hz)", SB_ROLE_VELOCITY, "turns/s", "in a second: taken for turns/s" },
    { "omega [1/s]", SB_ROLE_VELOCITY, "rad/s", "in a second: taken for rad/s" },
    { "Winkelgeschwindigkeit [s-1]", SB_ROLE_VELOCITY, "rad/s", "in a second: taken for rad/s" },
    { "iq_Arms", SB_ROLE_CURRENT, "A", "is an effective value: taken for A" },
    { "motor current [A rms]", SB_ROLE_CURRENT, "A", "is an effective value: taken for A" },
    { "tick_100us", SB_ROLE_TIME, "100 µs", "is taken for so many times 100 µs" },
    { "tick_50us", SB_ROLE_TIME, "50 µs", "is taken for so many times 50 µs" },
    { "ticks_2.5ms", SB_ROLE_TIME, "2.5 ms", "is taken for so many times 2.5 ms" },
    { "Timestamp (50 us)", SB_ROLE_TIME, "50 µs", "is taken for so many times 50 µs" },
    { "Ist Moment [1/100 Nm]", SB_ROLE_TORQUE, "N·cm", "is taken for so many times N·cm" },
  };
  (void) state;
  for (guint i = 0; i < G_N_ELEMENTS (table); i++) {
    SbColumnMeaning meaning;
    sb_column_meaning_read (&meaning, table[i].name);
    gboolean asked = meaning.role == table[i].role && meaning.certainty == SB_CERTAINTY_GUESSED && meaning.unit != NULL
                     && strcmp (meaning.unit->name, table[i].unit) == 0 && meaning.problem != NULL
                     && strstr (meaning.problem, table[i].problem) != NULL;
    if (!asked)
      print_error ("%s: %s, %s\n", table[i].name, meaning.unit != NULL ? meaning.unit->name : "no unit",
                   meaning.problem);
    sb_column_meaning_clear (&meaning);
    assert_true (asked);
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
    { "torque_kNm", Q, "kN·m" },
    { "Torque [kNm]", Q, "kN·m" },
    { "torque_daNm", Q, "daN·m" },
    { "tqNm", Q, "N·m" },
    { "speed_krpm", V, "krpm" },
    { "Torque (filtered) [N.m]", Q, "N·m" },
    { "Torque [N.m] (filtered)", Q, "N·m" },
    { "Torque []", Q, "" },
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
    { "", O, "" },
    { "note", O, "" },
    { "Torque error [Nm]", O, "" },
    { "torque_slope_Nm", O, "" },
    { "velocity command [rad/s]", O, "" },
    { "Angular acceleration [rad/s^2]", O, "" },
    { "PWM [%]", O, "" },
    { "Motor voltage [V]", O, "" },
    { "supply current [A]", O, "" },
    { "n_soll [rpm]", O, "" },
    { "Solldrehzahl [1/min]", O, "" },
    { "Winkelbeschleunigung", O, "" },
    { "count", O, "" },
    { "A", O, "" },
    { "n", O, "" },
    { "step", O, "" },
    { "trial", O, "" },
    { "[", O, "" },
    { "((((", O, "" },
  };
  assert_meanings (table, G_N_ELEMENTS (table), FALSE);
}

/* A guess at the unit would give wrong numbers; the column is left and the reader told. */
/* Reading them as SI would be a silent factor: 5.47 kgf cm is 0.536 N m. */
static void
header_ending_in_an_unknown_word_is_a_problem (void **state)
{
  static const Expected table[] = {
    { "torque_kgcm", O, "" },  { "velocity_kmh", O, "" }, { "torque_kgmm", O, "" },
    { "velocity mph", O, "" }, { "angle_grad", O, "" },
  };
  assert_meanings (table, G_N_ELEMENTS (table), TRUE);
}

static void
header_ending_in_a_word_of_place_or_kind_keeps_its_channel (void **state)
{
  static const Expected table[] = {
    { "torque_measured", Q, "" }, { "velocity_rim", V, "" }, { "Torque motor", Q, "" }, { "Winkel°", A, "deg" },
    { "Torque→", Q, "" },         { "Torque™", Q, "" },      { "Torque®", Q, "" },      { "angle_filtered", A, "" },
    { "speed_actual", V, "" },    { "torque_2", Q, "" },
  };
  assert_meanings (table, G_N_ELEMENTS (table), FALSE);
}

static void
header_unit_that_does_not_suit_is_a_problem (void **state)
{
  static const Expected table[] = {
    { "Torque [°C]", O, "" },     { "Time [week]", O, "" },    { "velocity_m_s", O, "" }, { "Position [mm]", O, "" },
    { "velocity_counts", O, "" }, { "Torque [rad/s]", O, "" }, { "Time (Nm)", O, "" },    { "Torque [MNm]", O, "" },
    { "Torque°", O, "" },         { "Torque‰", O, "" },        { "angle [grad]", O, "" }, { "setpoint [rpm]", O, "" },
    { "Temperature [V]", O, "" }, { "supply [A/s]", O, "" },
  };
  assert_meanings (table, G_N_ELEMENTS (table), TRUE);
}

static void
header_words_of_many_languages_are_understood (void **state)
{
  static const Expected table[] = {
    { "t_ms", T, "ms" },
    { "angle deg", A, "deg" },
    { "Iq/A", I, "A" },
    { "I [mA]", I, "mA" },
    { "current_A", I, "A" },
    { "Motor current", I, "" },
    { "U_bus [V]", S, "V" },
    { "vbus_mV", S, "mV" },
    { "Supply voltage (V)", S, "V" },
    { "Temp °C", C, "°C" },
    { "Motor temperature [℃]", C, "°C" },
    { "T_mot [K]", C, "K" },
    { "temp_degF", C, "°F" },
    { "current position [deg]", A, "deg" },
    { "rotation speed [rpm]", V, "rpm" },
    { "M_soll [Nm]", U, "N·m" },
    { "M_ist [Nm]", Q, "N·m" },
    { "n_ist (1/min)", V, "rpm" },
    { "Zeit [s]", T, "s" },
    { "Solldrehmoment [Nm]", U, "N·m" },
    { "Drehmoment Istwert [Nm]", Q, "N·m" },
    { "Lenkradwinkel [Grad]", A, "deg" },
    { "Winkelgeschwindigkeit [Grad/s]", V, "deg/s" },
    { "Drehzahl [U/min]", V, "rpm" },
    { "Motorstrom [A]", I, "A" },
    { "Versorgungsspannung [V]", S, "V" },
    { "Temps (ms)", T, "ms" },
    { "Couple moteur mesuré [N.m]", Q, "N·m" },
    { "Consigne de couple [N.m]", U, "N·m" },
    { "Vitesse (tr/min)", V, "rpm" },
    { "tempo [s]", T, "s" },
    { "Coppia richiesta [Nm]", U, "N·m" },
    { "Coppia misurata [Nm]", Q, "N·m" },
    { "velocità [giri/min]", V, "rpm" },
    { "angolo [gradi]", A, "deg" },
    { "Tiempo (s)", T, "s" },
    { "Par motor [Nm]", Q, "N·m" },
    { "Par consigna [Nm]", U, "N·m" },
    { "Ángulo (grados)", A, "deg" },
    { "Tijd [s]", T, "s" },
    { "Gewenst koppel [Nm]", U, "N·m" },
    { "hoeksnelheid [rad/s]", V, "rad/s" },
    { "Czas [s]", T, "s" },
    { "Moment zadany [Nm]", U, "N·m" },
    { "Moment obrotowy [Nm]", Q, "N·m" },
    { "Prędkość [obr/min]", V, "rpm" },
    { "Binário [Nm]", Q, "N·m" },
    { "Velocidade (rpm)", V, "rpm" },
    { "Tid [s]", T, "s" },
    { "Vridmoment [Nm]", Q, "N·m" },
    { "Börvärde [Nm]", U, "N·m" },
    { "Varvtal [varv/min]", V, "rpm" },
    { "Čas [s]", T, "s" },
    { "Žádaný moment [Nm]", U, "N·m" },
    { "Otáčky [ot/min]", V, "rpm" },
    { "時間 [秒]", T, "s" },
    { "指令トルク [Nm]", U, "N·m" },
    { "モータトルク[N·m]", Q, "N·m" },
    { "角速度 [rad/s]", V, "rad/s" },
    { "角度(度)", A, "deg" },
    { "電源電圧 [V]", S, "V" },
    { "vitesse_rpm", V, "rpm" },
    { "Torque [A]", Q, "A" },
  };
  for (gsize i = 0; i < G_N_ELEMENTS (table); i++)
    assert_meanings (&table[i], 1, table[i].role == Q && table[i].unit[0] == 'A');
}

/* A diacritic left out, or written as a sign of its own (U+0301), is no other word. */
static void
header_words_are_known_without_accents (void **state)
{
  static const Expected table[] = {
    { "velocita [rad/s]", V, "rad/s" },
    { "predkosc [rpm]", V, "rpm" },
    { "otacky [rpm]", V, "rpm" },
    { "a\xcc\x81ngulo [deg]", A, "deg" },
    { "KRÄFTE", O, "" },
    { "DURÉE [s]", T, "s" },
  };
  for (gsize i = 0; i < G_N_ELEMENTS (table); i++) {
    SbColumnMeaning meaning;
    sb_column_meaning_read (&meaning, table[i].name);
    SbRole role = meaning.role;
    SbCertainty certainty = meaning.certainty;
    sb_column_meaning_clear (&meaning);
    if ((int) role != table[i].role || certainty != SB_CERTAINTY_STATED)
      fail_msg ("'%s' is %s", table[i].name, sb_role_key (role));
  }
}

typedef struct {
  const char *name, *cell;
  int role;
  const char *unit;
  SbCertainty certainty;
} ExpectedWithCell;

static void
header_takes_the_unit_of_a_units_row (void **state)
{
  static const ExpectedWithCell table[] = {
    { "Torque", "[Nm]", Q, "N·m", SB_CERTAINTY_STATED },
    { "Torque [mNm]", "Nm", Q, "mN·m", SB_CERTAINTY_STATED },
    { "M_ist", "Nm", Q, "N·m", SB_CERTAINTY_STATED },
    { "M_ist", NULL, Q, "", SB_CERTAINTY_GUESSED },
    { "M_soll", NULL, U, "", SB_CERTAINTY_ASSUMED },
    { "Winkel", "Grad", A, "deg", SB_CERTAINTY_STATED },
    { "Torque", "-", Q, "", SB_CERTAINTY_ASSUMED },
    { "Torque", "furlong", O, "", SB_CERTAINTY_STATED },
    { "ch1", "Nm", Q, "N·m", SB_CERTAINTY_GUESSED },
    { "ch1", "", O, "", SB_CERTAINTY_STATED },
    { "Spannung", "V", S, "V", SB_CERTAINTY_GUESSED },
    { "index", NULL, T, "samples", SB_CERTAINTY_STATED },
    { "Channel A", NULL, O, "", SB_CERTAINTY_STATED },
    { "Kanal C", NULL, O, "", SB_CERTAINTY_STATED },
    { "Channel A", "A", I, "A", SB_CERTAINTY_GUESSED },
    { "Channel [A]", NULL, I, "A", SB_CERTAINTY_GUESSED },
    { "Current A", NULL, I, "A", SB_CERTAINTY_STATED },
    { "Nm", NULL, Q, "N·m", SB_CERTAINTY_GUESSED },
    { "rad/s", NULL, V, "rad/s", SB_CERTAINTY_STATED },
    { "ms", NULL, T, "ms", SB_CERTAINTY_STATED },
    { "Command", "A", U, "A", SB_CERTAINTY_STATED },
    { "position", "counts", A, "counts", SB_CERTAINTY_STATED },
    { "encoder", NULL, A, "counts", SB_CERTAINTY_GUESSED },
    { "Enc1", NULL, A, "counts", SB_CERTAINTY_GUESSED },
    { "counts", NULL, A, "counts", SB_CERTAINTY_GUESSED },
    { "position raw", NULL, A, "counts", SB_CERTAINTY_GUESSED },
    { "raw_angle", NULL, A, "counts", SB_CERTAINTY_GUESSED },
    { "motor encoder value", NULL, A, "counts", SB_CERTAINTY_GUESSED },
    { "encoder_raw", NULL, A, "counts", SB_CERTAINTY_GUESSED },
    { "encoder speed", NULL, V, "", SB_CERTAINTY_ASSUMED },
    { "encoder error", NULL, O, "", SB_CERTAINTY_STATED },
    { "encoder", "deg", A, "deg", SB_CERTAINTY_GUESSED },
    { "encoder status", NULL, O, "", SB_CERTAINTY_STATED },
  };
  for (gsize i = 0; i < G_N_ELEMENTS (table); i++) {
    SbColumnMeaning meaning;
    sb_column_meaning_read_with_unit (&meaning, table[i].name, table[i].cell);
    SbRole role = meaning.role;
    SbCertainty certainty = meaning.certainty;
    const char *unit = meaning.unit != NULL ? meaning.unit->name : "";
    gboolean asked = meaning.problem != NULL;
    sb_column_meaning_clear (&meaning);
    if ((int) role != table[i].role || strcmp (unit, table[i].unit) != 0 || certainty != table[i].certainty)
      fail_msg ("'%s' (%s) is %s in '%s', %u", table[i].name, table[i].cell, sb_role_key (role), unit, certainty);
    if (certainty == SB_CERTAINTY_GUESSED)
      assert_true (asked);
  }
}

static void
header_problem_names_the_unit_and_those_known (void **state)
{
  SbColumnMeaning meaning;
  sb_column_meaning_read (&meaning, "Time [week]");
  g_autofree char *problem = g_strdup (meaning.problem);
  sb_column_meaning_clear (&meaning);
  assert_string_equal (problem, "the unit 'week' is not one for time (s, ms, µs, ns, min, h, days, samples or clock "
                                "time); the column is read past");
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
    SbRole role = meaning.role;
    sb_column_meaning_clear (&meaning);
    assert_int_equal (role, SB_ROLE_OTHER);
  }
  assert_true (g_get_monotonic_time () - start < G_USEC_PER_SEC);
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    cmocka_unit_test (factor_in_a_name_is_asked_about),
    cmocka_unit_test (units_that_may_mean_another_are_asked_about),
    cmocka_unit_test (unit_with_a_prefix_that_is_none_of_ours_is_told),
    cmocka_unit_test (header_names_of_every_form_are_understood),
    cmocka_unit_test (header_names_of_other_things_are_read_past),
    cmocka_unit_test (header_words_of_many_languages_are_understood),
    cmocka_unit_test (header_words_are_known_without_accents),
    cmocka_unit_test (header_takes_the_unit_of_a_units_row),
    cmocka_unit_test (header_name_without_end_is_read_past_at_once),
    cmocka_unit_test (header_ending_in_an_unknown_word_is_a_problem),
    cmocka_unit_test (header_ending_in_a_word_of_place_or_kind_keeps_its_channel),
    cmocka_unit_test (header_unit_that_does_not_suit_is_a_problem),
    cmocka_unit_test (header_problem_names_the_unit_and_those_known),
  };
  return cmocka_run_group_tests (tests, NULL, NULL);
}
