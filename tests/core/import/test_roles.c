/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is proposed for the columns of a table: by their names, and where these say nothing by the shape of the data.
 * The data are made by formulas, so that what each column is, is known. */
#include "log_fixture.h"

typedef struct {
  SbProposal *proposal;
  GError *error;
  GString *text;
} Fixture;

static int
setup (void **state)
{
  Fixture *fixture = g_new0 (Fixture, 1);
  fixture->text = g_string_new (NULL);
  *state = fixture;
  return 0;
}

static int
teardown (void **state)
{
  Fixture *fixture = *state;
  sb_proposal_free (fixture->proposal);
  g_clear_error (&fixture->error);
  g_string_free (fixture->text, TRUE);
  g_free (fixture);
  return 0;
}

static const SbLayout *
propose (Fixture *fixture, const char *text)
{
  sb_proposal_free (fixture->proposal);
  fixture->proposal = sb_propose_memory ("test.csv", text, strlen (text), NULL, &fixture->error);
  if (fixture->proposal == NULL)
    fail_msg ("%s", fixture->error->message);
  return fixture->proposal->layout;
}

static void
assert_column (const SbLayout *layout, guint index, SbRole role, const char *unit, SbCertainty certainty)
{
  const SbLayoutColumn *column = sb_layout_column (layout, index);
  const char *found = column->unit != NULL ? column->unit->name : "";
  if (column->role != role || strcmp (found, unit) != 0 || column->certainty != certainty)
    fail_msg ("'%s' is %s in '%s', %u (%s)", column->name, sb_role_key (column->role), found, column->certainty,
              column->question != NULL ? column->question : "no question");
  gboolean asks = certainty == SB_CERTAINTY_GUESSED || certainty == SB_CERTAINTY_MISSING;
  assert_int_equal (column->question != NULL, asks);
}

static double
command_at (guint i)
{
  return i < 100 ? 0.0 : 8.0;
}

static double
torque_at (guint i)
{
  return i < 105 ? 0.01 * (i % 3) : 8.0 * (1.0 - exp (-(i - 105.0) / 20.0));
}

/* A wheel that is accelerated evenly at 400 rad/s²: angle 200 t², velocity 400 t. */
static double
seconds_moving (guint i)
{
  return i < 105 ? 0.0 : 0.0005 * (i - 105.0);
}

typedef struct {
  const char *header; /* "" for none */
  double time_step;
  double angle_unit, velocity_unit; /* rad, rad/s */
} Table;

static void
write_table (GString *text, const Table *table)
{
  g_string_assign (text, table->header);
  for (guint i = 0; i < 400; i++) {
    double t = seconds_moving (i);
    const double values[] = { i * table->time_step, command_at (i), 200 * t * t / table->angle_unit,
                              400 * t / table->velocity_unit, torque_at (i) };
    for (guint c = 0; c < G_N_ELEMENTS (values); c++) {
      char number[G_ASCII_DTOSTR_BUF_SIZE];
      g_string_append_printf (text, "%s%s", c > 0 ? "," : "",
                              g_ascii_formatd (number, sizeof number, "%.10g", values[c]));
    }
    g_string_append_c (text, '\n');
  }
}

static void
columns_without_names_are_guessed_from_their_shape (void **state)
{
  const double deg = G_PI / 180, rpm = G_PI / 30, turn = 2 * G_PI;
  const struct {
    Table table;
    const char *time, *angle, *velocity;
  } cases[] = {
    { { "", 0.0005, 1, 1 }, "s", "rad", "rad/s" },
    { { "ch1,ch2,ch3,ch4,ch5\n", 0.5, deg, rpm }, "ms", "deg", "rpm" },
    { { "A,B,C,D,E\n", 500, 1, rpm }, "µs", "rad", "rpm" },
    { { "value1,value2,value3,value4,value5\n", 0.0005, turn, rpm }, "s", "turns", "rpm" },
    { { "x0,x1,x2,x3,x4\n", 0.0005, deg, 1 }, "s", "deg", "rad/s" },
  };
  Fixture *fixture = *state;
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++) {
    write_table (fixture->text, &cases[i].table);
    const SbLayout *layout = propose (fixture, fixture->text->str);
    assert_column (layout, 0, SB_ROLE_TIME, cases[i].time, SB_CERTAINTY_GUESSED);
    assert_column (layout, 1, SB_ROLE_COMMAND, "", SB_CERTAINTY_GUESSED);
    assert_column (layout, 2, SB_ROLE_ANGLE, cases[i].angle, SB_CERTAINTY_GUESSED);
    assert_column (layout, 3, SB_ROLE_VELOCITY, cases[i].velocity, SB_CERTAINTY_GUESSED);
    assert_column (layout, 4, SB_ROLE_TORQUE, "", SB_CERTAINTY_GUESSED);
    assert_false (sb_layout_is_certain (layout));
  }
}

/* Time, command, angle, velocity and torque as above, about the step, and so many sawtooths beside them: of wide rows
 * fewer are looked at. */
static void
write_wide_table (GString *text, guint n_more)
{
  g_string_truncate (text, 0);
  for (guint i = 90; i < 140; i++) {
    double t = seconds_moving (i);
    const double values[] = { i * 0.0005, command_at (i), 200 * t * t, 400 * t, torque_at (i) };
    for (guint c = 0; c < G_N_ELEMENTS (values) + n_more; c++) {
      char number[G_ASCII_DTOSTR_BUF_SIZE];
      double value = c < G_N_ELEMENTS (values) ? values[c] : (7 * i + 13 * c) % 101;
      g_string_append_printf (text, "%s%s", c > 0 ? "," : "", g_ascii_formatd (number, sizeof number, "%.10g", value));
    }
    g_string_append_c (text, '\n');
  }
}

/* Pairs are looked for among 200 columns at most: with 197 sawtooths angle, velocity and torque are the last three. */
static void
motion_is_asked_for_in_a_table_of_very_many_columns (void **state)
{
  Fixture *fixture = *state;
  write_wide_table (fixture->text, 197);
  assert_column (propose (fixture, fixture->text->str), 3, SB_ROLE_VELOCITY, "rad/s", SB_CERTAINTY_GUESSED);
  write_wide_table (fixture->text, 198);
  assert_column (propose (fixture, fixture->text->str), 3, SB_ROLE_OTHER, "", SB_CERTAINTY_GUESSED);
}

/* The words beside a guess say what it rests on. */
static void
guess_says_what_it_rests_on (void **state)
{
  Fixture *fixture = *state;
  write_table (fixture->text, &(Table){ "", 0.0005, 1, 1 });
  const SbLayout *layout = propose (fixture, fixture->text->str);
  assert_string_equal (sb_layout_column (layout, 0)->question, "rises evenly by 0.0005: taken for the time in s");
  assert_string_equal (sb_layout_column (layout, 4)->question, "follows 'column 2': taken for the torque in N·m");
}

static void
rising_by_one_is_a_sample_number_that_wants_a_rate (void **state)
{
  Fixture *fixture = *state;
  write_table (fixture->text, &(Table){ "", 1, 1, 1 });
  assert_column (propose (fixture, fixture->text->str), 0, SB_ROLE_TIME, "samples", SB_CERTAINTY_MISSING);
  g_string_prepend (fixture->text, "Sample rate: 2000 Hz\n");
  const SbLayout *layout = propose (fixture, fixture->text->str);
  assert_column (layout, 0, SB_ROLE_TIME, "samples", SB_CERTAINTY_GUESSED);
  assert_close (layout->sample_rate_hz, 2000, 0.0);
  assert_column (layout, 2, SB_ROLE_ANGLE, "rad", SB_CERTAINTY_GUESSED);
}

/* A flag in a log whose columns are named is no command. */
static void
named_columns_are_not_added_to_by_guesses (void **state)
{
  Fixture *fixture = *state;
  g_string_assign (fixture->text, "time_s,torque_Nm,flag\n");
  for (guint i = 0; i < 400; i++)
    g_string_append_printf (fixture->text, "0.%04u,%u.5,%d\n", i, i % 7, i < 100 ? 0 : 1);
  const SbLayout *layout = propose (fixture, fixture->text->str);
  assert_column (layout, 2, SB_ROLE_OTHER, "", SB_CERTAINTY_STATED);
  assert_true (sb_layout_is_certain (layout));
}

static void
column_that_nothing_tells_of_is_asked_about (void **state)
{
  Fixture *fixture = *state;
  g_string_assign (fixture->text, "time_s,ch1\n");
  for (guint i = 0; i < 40; i++)
    g_string_append_printf (fixture->text, "0.%04u,%u\n", i, i * i % 17);
  assert_column (propose (fixture, fixture->text->str), 1, SB_ROLE_OTHER, "", SB_CERTAINTY_GUESSED);
}

static void
time_without_unit_in_long_steps_is_doubted (void **state)
{
  static const struct {
    const char *before;
    guint step;
    const char *unit;
  } table[] = { { "", 1, "" }, { "", 500, "" }, { "# sample_rate_hz: 1000\n", 1, "samples" } };
  Fixture *fixture = *state;
  for (guint k = 0; k < G_N_ELEMENTS (table); k++) {
    g_string_printf (fixture->text, "%stime,torque_Nm\n", table[k].before);
    for (guint i = 0; i < 40; i++)
      g_string_append_printf (fixture->text, "%u,%u.5\n", i * table[k].step, i % 7);
    assert_column (propose (fixture, fixture->text->str), 0, SB_ROLE_TIME, table[k].unit, SB_CERTAINTY_GUESSED);
  }
}

/* The clearest of several columns for one role counts, wherever it stands. */
static void
clearer_of_two_columns_counts (void **state)
{
  Fixture *fixture = *state;
  const SbLayout *layout
      = propose (fixture, "index,Timestamp,t_ms,raw angle [counts],angle_deg,Torque [%],Torque [Nm],Id [A],Iq [A]\n"
                          "0,10:00:00.000,0,5,1,2,3,4,5\n1,10:00:00.001,1,5,1,2,3,4,5\n");
  assert_column (layout, 0, SB_ROLE_OTHER, "", SB_CERTAINTY_STATED);
  assert_column (layout, 1, SB_ROLE_OTHER, "", SB_CERTAINTY_STATED);
  /* The clock is told with the time that counts; the number of the sample is no other time. */
  const SbLayoutColumn *time = sb_layout_column (layout, 2);
  assert_int_equal (time->role, SB_ROLE_TIME);
  assert_string_equal (time->unit->name, "ms");
  assert_int_equal (time->certainty, SB_CERTAINTY_STATED);
  assert_non_null (strstr (time->question, "the other time in 'Timestamp' is read past"));
  assert_null (strstr (time->question, "index"));
  assert_column (layout, 3, SB_ROLE_OTHER, "", SB_CERTAINTY_STATED);
  assert_column (layout, 4, SB_ROLE_ANGLE, "deg", SB_CERTAINTY_STATED);
  assert_column (layout, 5, SB_ROLE_OTHER, "", SB_CERTAINTY_STATED);
  assert_column (layout, 6, SB_ROLE_TORQUE, "N·m", SB_CERTAINTY_STATED);
  assert_column (layout, 7, SB_ROLE_OTHER, "", SB_CERTAINTY_STATED);
  assert_column (layout, 8, SB_ROLE_CURRENT, "A", SB_CERTAINTY_STATED);
}

/* Volts without a name: the supply beside a torque or a current, else the signal of a torque transducer. */
static void
volts_are_a_torque_by_a_stated_factor_only (void **state)
{
  Fixture *fixture = *state;
  const SbLayout *layout = propose (fixture, "t_s,ch1 (V),torque_Nm\n0,5,1\n1,6,2\n");
  assert_column (layout, 1, SB_ROLE_SUPPLY, "V", SB_CERTAINTY_GUESSED);
  layout = propose (fixture, "t_s,ch1 (V),Iq [A]\n0,5,1\n1,6,2\n");
  assert_column (layout, 1, SB_ROLE_SUPPLY, "V", SB_CERTAINTY_GUESSED);
  layout = propose (fixture, "t_s,Voltage (V),speed_rpm\n0,5,1\n1,6,2\n");
  assert_int_equal (sb_layout_column (layout, 1)->role, SB_ROLE_SUPPLY);
  layout = propose (fixture, "t_s,ch1 (V),speed_rpm\n0,5,3\n1,6,3\n");
  assert_column (layout, 1, SB_ROLE_TORQUE, "V", SB_CERTAINTY_MISSING);
}

/* Of several, the one that does not jump between levels as a command does; none where that does not tell. */
static void
volts_of_several_columns_are_told_apart_by_shape_or_asked_about (void **state)
{
  Fixture *fixture = *state;
  const SbLayout *layout = propose (fixture, "t_s,ch1 (V),ch2 (V),speed_rpm\n0,5,1,3\n1,6,2,3\n");
  assert_column (layout, 1, SB_ROLE_OTHER, "", SB_CERTAINTY_MISSING);
  assert_column (layout, 2, SB_ROLE_OTHER, "", SB_CERTAINTY_MISSING);
  assert_non_null (strstr (sb_layout_column (layout, 1)->question, "as is 'ch2 (V)', and no column names a torque"));
  for (int first = 0; first < 2; first++) {
    g_string_assign (fixture->text, "t [s],CH1 [V],CH2 [V]\n");
    for (guint i = 0; i < 400; i++) {
      char numbers[2][G_ASCII_DTOSTR_BUF_SIZE];
      g_ascii_formatd (numbers[0], sizeof numbers[0], "%.6f", torque_at (i));
      g_ascii_formatd (numbers[1], sizeof numbers[1], "%.0f", command_at (i));
      g_string_append_printf (fixture->text, "0.%04u,%s,%s\n", i, numbers[first], numbers[1 - first]);
    }
    layout = propose (fixture, fixture->text->str);
    assert_column (layout, (guint) (1 + first), SB_ROLE_TORQUE, "V", SB_CERTAINTY_MISSING);
    assert_column (layout, (guint) (2 - first), SB_ROLE_OTHER, "", SB_CERTAINTY_GUESSED);
  }
}

static void
clock_times_are_told_by_their_cells (void **state)
{
  Fixture *fixture = *state;
  const char *rows = ",torque_Nm\n2026-11-25T10:00:00.5,1\n2026-11-25T10:00:00.6,1\n";
  static const struct {
    const char *name;
    SbCertainty certainty;
  } table[] = { { "time_s", SB_CERTAINTY_STATED },
                { "Zeitstempel", SB_CERTAINTY_STATED },
                { "Time (UTC)", SB_CERTAINTY_STATED },
                { "column", SB_CERTAINTY_GUESSED } };
  for (guint i = 0; i < G_N_ELEMENTS (table); i++) {
    g_string_printf (fixture->text, "%s%s", table[i].name, rows);
    assert_column (propose (fixture, fixture->text->str), 0, SB_ROLE_TIME, "clock time", table[i].certainty);
  }
}

/* Two torques of which neither says what it is: the one on two levels is the command. */
static void
torques_told_by_their_unit_alone_are_told_apart_by_shape (void **state)
{
  Fixture *fixture = *state;
  g_string_assign (fixture->text, "t [s],A [Nm],B [Nm]\n");
  for (guint i = 0; i < 400; i++) {
    char number[G_ASCII_DTOSTR_BUF_SIZE];
    g_string_append_printf (fixture->text, "0.%04u,%s,%d\n", i,
                            g_ascii_formatd (number, sizeof number, "%.6f", torque_at (i)), (int) command_at (i));
  }
  const SbLayout *layout = propose (fixture, fixture->text->str);
  assert_column (layout, 1, SB_ROLE_TORQUE, "N·m", SB_CERTAINTY_GUESSED);
  assert_column (layout, 2, SB_ROLE_COMMAND, "N·m", SB_CERTAINTY_GUESSED);
}

/* The units alone, as below a header over two lines, do not say which torque is the commanded one. */
static void
header_of_units_alone_asks_which_torque_is_the_command (void **state)
{
  Fixture *fixture = *state;
  g_string_assign (fixture->text, "s,Nm,Nm\n");
  for (guint i = 0; i < 400; i++) {
    char number[G_ASCII_DTOSTR_BUF_SIZE];
    g_string_append_printf (fixture->text, "0.%04u,%d,%s\n", i, (int) command_at (i),
                            g_ascii_formatd (number, sizeof number, "%.6f", torque_at (i)));
  }
  const SbLayout *layout = propose (fixture, fixture->text->str);
  assert_column (layout, 1, SB_ROLE_COMMAND, "N·m", SB_CERTAINTY_GUESSED);
  assert_column (layout, 2, SB_ROLE_TORQUE, "N·m", SB_CERTAINTY_GUESSED);
}

/* 65,300 rad would be ten thousand turns: an angle of whole numbers is in counts, whose turn is to be stated. It may
 * begin with small numbers, and angles in radians are left alone. */
static void
whole_angles_without_unit_are_asked_about_as_counts (void **state)
{
  static const struct {
    const char *before;
    guint first, step;
    const char *unit;
    SbCertainty certainty;
  } table[] = {
    { "", 65300, 0, "counts", SB_CERTAINTY_MISSING },
    { "", 0, 1, "counts", SB_CERTAINTY_MISSING },
    { "# counts_per_turn: 4096\n", 0, 1, "counts", SB_CERTAINTY_GUESSED },
    { "", 3, 0, "", SB_CERTAINTY_ASSUMED },
  };
  Fixture *fixture = *state;
  for (guint k = 0; k < G_N_ELEMENTS (table); k++) {
    g_string_printf (fixture->text, "%stime_s,position,torque_Nm\n", table[k].before);
    for (guint i = 0; i < 400; i++)
      g_string_append_printf (fixture->text, "0.%04u,%u,%u.5\n", i, table[k].first + table[k].step * i / 2, i % 7);
    assert_column (propose (fixture, fixture->text->str), 1, SB_ROLE_ANGLE, table[k].unit, table[k].certainty);
  }
}

/* Of two that name themselves a torque in N·m the measured one counts, then the one that says nothing further; else the
 * first. */
static void
measured_torque_goes_before_another (void **state)
{
  static const struct {
    const char *names;
    guint torque;
  } table[] = {
    { "t_s,Torque_model_Nm,Torque_meas_Nm", 2 },   { "t_s,Torque_est_Nm,Torque_meas_Nm", 2 },
    { "t_s,Torque_est_Nm,Torque_Nm", 2 },          { "t_s,Friction torque [Nm],Torque [Nm]", 2 },
    { "t_s,Torque [Nm],Friction torque [Nm]", 1 }, { "t_s,Motor torque [Nm],Wheel torque [Nm]", 1 },
    { "t_s,Torque [Nm],Torque filtered [Nm]", 1 }, { "t_s,Drehmoment Modell [Nm],Drehmoment Ist [Nm]", 2 },
  };
  for (gsize k = 0; k < G_N_ELEMENTS (table); k++) {
    g_autofree char *text = g_strdup_printf ("%s\n0,1,2\n0.1,1,2\n0.2,1,2\n", table[k].names);
    const SbLayout *layout = propose (*state, text);
    for (guint i = 1; i <= 2; i++)
      assert_int_equal (sb_layout_column (layout, i)->role, i == table[k].torque ? SB_ROLE_TORQUE : SB_ROLE_OTHER);
    assert_non_null (strstr (sb_layout_column (layout, 3 - table[k].torque)->question, "torque is already read from"));
  }
}

/* The four ways that loggers write it, and the measured torque beside it; common practice of motor drives. */
static void
estimated_torque_is_asked_about (void **state)
{
  static const char *const names[] = { "Torque est. [Nm]", "Estimated torque (Nm)", "torque_estimate_Nm",
                                       "calc. torque [Nm]", "Drehmoment geschätzt [Nm]" };
  for (guint i = 0; i < G_N_ELEMENTS (names); i++) {
    g_autofree char *text = g_strdup_printf ("time_s,%s\n0,1\n0.001,2\n0.002,4\n", names[i]);
    const SbLayout *layout = propose (*state, text);
    assert_column (layout, 1, SB_ROLE_TORQUE, "N·m", SB_CERTAINTY_GUESSED);
    assert_non_null (strstr (sb_layout_column (layout, 1)->question, "estimated, not measured"));
    g_autofree char *both = g_strdup_printf ("time_s,%s,torque [Nm]\n0,1,1\n0.001,2,2\n0.002,4,4\n", names[i]);
    layout = propose (*state, both);
    assert_int_equal (sb_layout_column (layout, 1)->role, SB_ROLE_OTHER);
    assert_column (layout, 2, SB_ROLE_TORQUE, "N·m", SB_CERTAINTY_STATED);
  }
}

/* A command by its word; what is measured of it has no word for its quantity. */
static void
measured_value_of_no_named_quantity_is_asked_about (void **state)
{
  static const struct {
    const char *heading;
    guint index;
    gboolean asked;
  } cases[] = {
    { "t [ms];Soll [%];Ist [%]\n", 2, TRUE },
    { "t [ms];actual %;setpoint %\n", 1, TRUE },
    { "t [ms];Soll;Ist\n", 2, TRUE },
    { "t [ms];feedback [%];torque [Nm]\n", 1, TRUE },
    { "t [ms];feedback;torque [Nm]\n", 1, FALSE },
    { "t [ms];torque [Nm];duty [%]\n", 2, FALSE },
    { "t [ms];torque [Nm];actual duty [%]\n", 2, FALSE },
  };
  Fixture *fixture = *state;
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++) {
    g_string_assign (fixture->text, cases[i].heading);
    for (guint row = 0; row < 200; row++)
      g_string_append_printf (fixture->text, "%u;%u;%u\n", row, row < 50 ? 0 : 80, row < 53 ? 0 : MIN (row - 53, 80));
    const SbLayoutColumn *column = sb_layout_column (propose (fixture, fixture->text->str), cases[i].index);
    assert_int_equal (column->role, SB_ROLE_OTHER);
    assert_int_equal (column->question != NULL, cases[i].asked);
    assert_int_equal (column->certainty == SB_CERTAINTY_GUESSED, cases[i].asked);
    if (cases[i].asked)
      assert_non_null (strstr (column->question, "give it the role torque"));
  }
}

int
main (void)
{
#define CASE(name) cmocka_unit_test_setup_teardown (name, setup, teardown)
  const struct CMUnitTest tests[] = {
    CASE (columns_without_names_are_guessed_from_their_shape),
    CASE (motion_is_asked_for_in_a_table_of_very_many_columns),
    CASE (guess_says_what_it_rests_on),
    CASE (measured_torque_goes_before_another),
    CASE (rising_by_one_is_a_sample_number_that_wants_a_rate),
    CASE (named_columns_are_not_added_to_by_guesses),
    CASE (column_that_nothing_tells_of_is_asked_about),
    CASE (time_without_unit_in_long_steps_is_doubted),
    CASE (clearer_of_two_columns_counts),
    CASE (volts_are_a_torque_by_a_stated_factor_only),
    CASE (volts_of_several_columns_are_told_apart_by_shape_or_asked_about),
    CASE (clock_times_are_told_by_their_cells),
    CASE (torques_told_by_their_unit_alone_are_told_apart_by_shape),
    CASE (header_of_units_alone_asks_which_torque_is_the_command),
    CASE (estimated_torque_is_asked_about),
    CASE (measured_value_of_no_named_quantity_is_asked_about),
    CASE (whole_angles_without_unit_are_asked_about_as_counts),
  };
  return cmocka_run_group_tests (tests, NULL, NULL);
}
