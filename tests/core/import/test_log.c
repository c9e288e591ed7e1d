/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Reading whole logs: dialects, units, line ends, faults by line. Expected values are what is written in the text. */
#include "log_fixture.h"

static double
value (const SbLog *log, SbChannel channel, gsize row)
{
  assert_non_null (log->channel[channel]);
  assert_true (row < log->n_rows);
  return log->channel[channel][row];
}

static void
log_with_canonical_header_is_read_as_written (void **state)
{
  const SbLog *log = read_text (*state, "time_s,command_Nm,angle_rad,velocity_rad_s,torque_Nm\n"
                                        "0,0,0.5,-1.25,1e-3\n"
                                        "0.0005,8,-0.5,+1.5,-2E1\n");
  assert_int_equal (log->n_rows, 2);
  assert_int_equal (log->n_rows_left_out, 0);
  assert_int_equal (log->n_faults, 0);
  assert_int_equal (log->header_line, 1);
  assert_int_equal (log->delimiter, ',');
  assert_int_equal (log->decimal, '.');
  static const double expected[SB_N_CHANNELS][2]
      = { { 0, 0.0005 }, { 0, 8 }, { 0.5, -0.5 }, { -1.25, 1.5 }, { 0.001, -20 } };
  for (int c = 0; c < SB_N_CHANNELS; c++)
    for (gsize row = 0; row < 2; row++)
      assert_close (value (log, (SbChannel) c, row), expected[c][row], 0.0);
}

static void
log_dialect_is_found_from_header_and_rows (void **state)
{
  static const struct {
    const char *text;
    char delimiter, decimal;
  } table[] = {
    { "time_s,torque_Nm\n0.5,1.5\n", ',', '.' },
    { "time_s;torque_Nm\n0,5;1,5\n", ';', ',' },
    { "time_s;torque_Nm\n0.5;1.5\n", ';', '.' },
    { "time_s\ttorque_Nm\n0,5\t1,5\n", '\t', ',' },
    { "time_s\ttorque_Nm\n0.5\t1.5\n", '\t', '.' },
    { "Time, elapsed [s];Torque, measured [Nm]\n0,5;1,5\n", ';', ',' },
    { "\"time_s\",\"torque_Nm\"\n\"0.5\",\"1.5\"\n", ',', '.' },
    { "time_s, torque_Nm\n0.5, 1.5\n", ',', '.' },
    { "time_s,torque_Nm,\n0.5,1.5,\n", ',', '.' },
    { "time_s;torque_Nm;\n0,5;1,5\n", ';', ',' },
    { "time_s;torque_Nm\n0,5;1,5;\n", ';', ',' },
    { "time_s;torque_Nm;note\n0,5;1,5;see 3.2\n", ';', ',' },
    { "note;time_s;torque_Nm\n3.2;0,5;1,5\n", ';', ',' },
  };
  for (guint i = 0; i < G_N_ELEMENTS (table); i++) {
    const SbLog *log = read_text (*state, table[i].text);
    assert_int_equal (log->delimiter, table[i].delimiter);
    assert_int_equal (log->decimal, table[i].decimal);
    assert_int_equal (log->n_rows, 1);
    assert_int_equal (log->columns->len, table[i].text[0] == 'n' || strstr (table[i].text, "note") != NULL ? 3 : 2);
    assert_close (value (log, SB_CHANNEL_TIME, 0), 0.5, 0.0);
    assert_close (value (log, SB_CHANNEL_TORQUE, 0), 1.5, 0.0);
  }
}

static void
log_without_decimals_at_first_learns_the_sign_later (void **state)
{
  const SbLog *log = read_text (*state, "time_s;torque_Nm\n0;1\n1;2\n2,5;3\n3,5;4,25\n");
  assert_int_equal (log->n_rows, 4);
  assert_int_equal (log->decimal, ',');
  assert_close (value (log, SB_CHANNEL_TIME, 2), 2.5, 0.0);
  assert_close (value (log, SB_CHANNEL_TORQUE, 3), 4.25, 0.0);
}

static void
log_line_ends_and_marks_make_no_difference (void **state)
{
  static const char *const texts[] = {
    "time_s,torque_Nm\n0.5,1.5\n1.5,2.5\n",
    "time_s,torque_Nm\n0.5,1.5\n1.5,2.5",
    "time_s,torque_Nm\r\n0.5,1.5\r\n1.5,2.5\r\n",
    "time_s,torque_Nm\r0.5,1.5\r1.5,2.5\r",
    "\xef\xbb\xbftime_s,torque_Nm\n0.5,1.5\n1.5,2.5\n",
    "\xef\xbb\xbf# device: x\n\n  \ntime_s,torque_Nm\n\n0.5,1.5\n   \n1.5,2.5\n\n\n",
  };
  for (guint i = 0; i < G_N_ELEMENTS (texts); i++) {
    const SbLog *log = read_text (*state, texts[i]);
    assert_int_equal (log->n_rows, 2);
    assert_int_equal (log->n_faults, 0);
    assert_close (value (log, SB_CHANNEL_TORQUE, 1), 2.5, 0.0);
  }
}

static void
log_units_row_gives_units_to_columns_without (void **state)
{
  const SbLog *log = read_text (*state, "time;torque;speed [rpm];angle [deg];note\nms;[mNm];1/min;rad;text\n"
                                        "1,5;2500;30;4;x\n");
  assert_int_equal (log->n_rows, 1);
  assert_int_equal (log->n_rows_left_out, 0);
  assert_true (same_bits (value (log, SB_CHANNEL_TIME, 0), 0.0015));
  assert_true (same_bits (value (log, SB_CHANNEL_TORQUE, 0), 2.5));
  assert_close (value (log, SB_CHANNEL_VELOCITY, 0), 3.14159265358979, 1e-14); /* both say turns a minute */
  assert_null (log->channel[SB_CHANNEL_ANGLE]);                                /* which of the two is it in? */
  assert_string_equal (fault_at (log, 0)->column, "angle [deg]");
}

static void
log_units_row_with_an_unsuitable_unit_is_refused_by_line_and_column (void **state)
{
  static const char text[] = "time,torque\nms,kg\n1,2\n";
  g_autoptr (GError) error = NULL;
  SbLog *log = sb_log_read_memory ("bench.csv", text, strlen (text), 0, &error);
  if (log != NULL)
    sb_log_unref (log);
  assert_null (log);
  assert_non_null (strstr (error->message, "bench.csv, line 1"));
  assert_non_null (strstr (error->message, "Column 'torque': the unit 'kg' is not one for torque"));
}

/* Powers of ten in a unit are no second rounding, so that 1.1 ms is 0.0011 s; a factor is one multiplication. */
static void
log_units_become_si (void **state)
{
  const SbLog *log = read_text (*state, "Time [ms];Torque [mNm];Speed [rpm];Position [deg];Command [N*m]\n"
                                        "1,1;-1234,5;30;90;8\n");
  assert_true (same_bits (value (log, SB_CHANNEL_TIME, 0), 0.0011));
  assert_true (same_bits (value (log, SB_CHANNEL_TORQUE, 0), -1.2345));
  assert_close (value (log, SB_CHANNEL_VELOCITY, 0), G_PI, 1e-15);
  assert_close (value (log, SB_CHANNEL_ANGLE, 0), G_PI / 2.0, 1e-15);
  assert_close (value (log, SB_CHANNEL_COMMAND, 0), 8.0, 0.0);
  const SbLogColumn *time = log->columns->pdata[0], *speed = log->columns->pdata[2];
  assert_string_equal (time->name, "Time [ms]");
  assert_string_equal (time->unit, "ms");
  assert_close (time->factor, 0.001, 0.0);
  assert_int_equal (speed->channel, SB_CHANNEL_VELOCITY);
  assert_close (speed->factor, G_PI / 30.0, 1e-17);
}

static void
log_with_two_columns_of_one_channel_keeps_the_first (void **state)
{
  const SbLog *log = read_text (*state, "time_s,torque_Nm,Torque B [Nm]\n0,1,2\n");
  assert_close (value (log, SB_CHANNEL_TORQUE, 0), 1.0, 0.0);
  assert_int_equal (((SbLogColumn *) log->columns->pdata[2])->channel, -1);
  assert_int_equal (log->n_faults, 1);
  assert_int_equal (fault_at (log, 0)->line, 1);
  assert_string_equal (fault_at (log, 0)->column, "Torque B [Nm]");
  assert_string_equal (fault_at (log, 0)->what,
                       "torque is already read from the column 'torque_Nm'; this one is read past");
}

static void
log_lists_faulty_rows_by_line (void **state)
{
  const SbLog *log = read_text (*state, "# device: x\n"
                                        "time_s,torque_Nm,note\n"
                                        "0,1,a\n"
                                        "0.1,n/a,b\n"   /* line 4 */
                                        "0.2,2\n"       /* line 5 */
                                        "0.3,2,c,d\n"   /* line 6 */
                                        "0,2,e\n"       /* line 7 */
                                        "0.4,,f\n"      /* line 8 */
                                        "0.5,1e999,g\n" /* line 9 */
                                        "nan,1,h\n"     /* line 10 */
                                        "0.6,inf,i\n"   /* line 11 */
                                        "0.7,7,\"j, \"\"k\"\"\"\n"
                                        "0.8,8"); /* line 13 */
  static const struct {
    guint64 line;
    const char *column, *what;
  } expected[] = {
    { 4, "torque_Nm", "'n/a' is no number" },
    { 5, NULL, "the row has 2 cells, the header 3" },
    { 6, NULL, "the row has 4 cells, the header 3" },
    { 7, NULL, "time does not increase (0 s after 0 s)" },
    { 8, "torque_Nm", "the cell is empty" },
    { 9, "torque_Nm", "'1e999' is too large" },
    { 10, "time_s", "'nan' is no number" },
    { 11, "torque_Nm", "'inf' is an overload mark of an instrument" },
    { 13, NULL, "the file ends in this row, after 2 of 3 cells" },
  };
  assert_int_equal (log->n_rows, 2);
  assert_int_equal (log->n_rows_left_out, G_N_ELEMENTS (expected));
  assert_int_equal (log->n_faults, G_N_ELEMENTS (expected));
  for (guint i = 0; i < G_N_ELEMENTS (expected); i++) {
    assert_int_equal (fault_at (log, i)->line, expected[i].line);
    assert_int_equal (g_strcmp0 (fault_at (log, i)->column, expected[i].column), 0);
    assert_string_equal (fault_at (log, i)->what, expected[i].what);
  }
  assert_close (value (log, SB_CHANNEL_TORQUE, 1), 7.0, 0.0);
}

/* Beyond 1e25, in SI, nothing on a bench is; in every unit and either way of reading (a quoted cell takes the slow
 * one). */
static void
value_that_no_measurement_has_is_too_large (void **state)
{
  const SbLog *log = read_text (*state, "time_s,torque_kgfcm,velocity_rad_s\n"
                                        "0,1,1e25\n"
                                        "1,1,-1e26\n"
                                        "2,-2e26,1\n"
                                        "3,1,\"1e26\"\n"
                                        "4,1,2\n");
  assert_int_equal (log->n_rows, 2);
  assert_int_equal (log->n_rows_left_out, 3);
  assert_string_equal (fault_at (log, 0)->what, "'-1e26' is too large");
  assert_string_equal (fault_at (log, 1)->what, "'-2e26' is too large"); /* 0.0980665 N·m each */
  assert_string_equal (fault_at (log, 2)->what, "'1e26' is too large");
}

/* SCPI's infinity and its no number, and what meters show; a word that says nothing of the kind is none. Each way of
 * reading: with and without quotes, and in a unit with a factor. */
static void
overload_marks_of_instruments_are_no_values (void **state)
{
  static const char *const marks[] = { "9.9E+37",
                                       "-9.9e37",
                                       "9.91E37",
                                       "9.90000000E+37",
                                       "1E+38",
                                       "\"9.9E37\"",
                                       "OL",
                                       "-OL",
                                       "OVLD",
                                       "INF",
                                       "-Inf",
                                       "----",
                                       "99000000000000000000000000000000000000" };
  static const char *const units[] = { "Nm", "mNm", "kNm", "kgfcm" };
  for (guint i = 0; i < G_N_ELEMENTS (marks) * G_N_ELEMENTS (units); i++) {
    const char *mark = marks[i / G_N_ELEMENTS (units)];
    g_autofree char *text
        = g_strdup_printf ("time_s,torque_%s\n0,1.5\n1,2.5\n2,%s\n3,3.5\n", units[i % G_N_ELEMENTS (units)], mark);
    const SbLog *log = read_text (*state, text);
    if (log->n_rows != 3 || log->n_rows_left_out != 1 || fault_at (log, 0)->kind != SB_FAULT_OVERLOAD)
      fail_msg ("'%s' in %s: %d rows are read", mark, units[i % G_N_ELEMENTS (units)], (int) log->n_rows);
    assert_int_equal (fault_at (log, 0)->line, 4);
  }
  const SbLog *log = read_text (*state, "time_s,torque_Nm\n0,1.5\n1,2.5\n2,--\n3,3.5\n");
  assert_string_equal (fault_at (log, 0)->what, "'--' is no number");
}

static void
log_keeps_the_first_thousand_faults_and_counts_all (void **state)
{
  LogFixture *fixture = *state;
  g_string_assign (fixture->text, "time_s,torque_Nm\n");
  for (int i = 0; i < 1500; i++)
    g_string_append_printf (fixture->text, "%d,1\n%d,x\n", i, i);
  const SbLog *log = read_text (fixture, fixture->text->str);
  assert_int_equal (log->n_rows, 1500);
  assert_int_equal (log->n_rows_left_out, 1500);
  assert_int_equal (log->n_faults, 1500);
  assert_int_equal (log->faults->len, SB_LOG_MAX_FAULTS);
  assert_int_equal (fault_at (log, 999)->line, 2001);
}

/* A stray quote must not swallow the lines after it. */
static void
log_loses_one_row_to_an_open_quote (void **state)
{
  const SbLog *log = read_text (*state, "time_s,torque_Nm\n0,1\n\"1,2\n2,3\n3,4\n");
  assert_int_equal (log->n_rows, 3);
  assert_int_equal (log->n_rows_left_out, 1);
  assert_int_equal (fault_at (log, 0)->line, 3);
}

static void
log_digest_is_that_of_the_bytes (void **state)
{
  /* From coreutils: printf 'time_s,torque_Nm\n0,1\n' | sha256sum */
  const SbLog *log = read_text (*state, "time_s,torque_Nm\n0,1\n");
  assert_string_equal (log->sha256, "f03d85a9fdaf2940ed97b476667dc91c2b8a8076cd53f86e2b34b8f2a16833fc");
  assert_int_equal (log->size_bytes, 21);
}

/* Words may be the title of another table, which shows later; rows between the two say that they were not. */
static void
words_before_more_rows_are_a_row_left_out (void **state)
{
  const SbLog *log = read_text (
      *state, "time_s,torque_Nm\n0,1\n\nsecond run\n# rotation_deg: wide\n1,2\ntime_s,velocity_rad_s\n0,5\n");
  assert_int_equal (log->n_rows, 2);
  assert_int_equal (log->n_rows_left_out, 1);
  assert_int_equal (log->faults->len, 2);
  assert_int_equal (fault_at (log, 0)->line, 4);
  assert_int_equal (fault_at (log, 1)->line, 5);
}

/* A file that is cut within a number has no unit behind it; one that ends behind the number alone may be. */
static void
number_with_its_unit_behind_it_was_not_cut (void **state)
{
  static const struct {
    const char *name, *unit, *last;
    gboolean told;
  } cases[] = { { "angle", "deg", "7.250 deg", FALSE }, { "angle", "deg", "7.2 deg", FALSE },
                { "angle", "deg", "7.2", TRUE },        { "speed", "deg/s", "7.250 deg/s", FALSE },
                { "torque", "Nm", "7.2 Nm", FALSE },    { "torque", "Nm", "7.2", TRUE },
                { "torque", "Nm", "7.250", FALSE } };
  LogFixture *fixture = *state;
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++) {
    const char *unit = cases[i].unit;
    g_string_printf (fixture->text, "time_s,%s [%s]\n0,7.125 %s\n1,7.375 %s\n2,%s", cases[i].name, unit, unit, unit,
                     cases[i].last);
    const SbLog *log = read_text (fixture, fixture->text->str);
    assert_int_equal (log->n_rows, 3);
    gboolean told = FALSE;
    for (guint n = 0; n < log->notes->len; n++)
      told = told || strstr (sb_notes_text (log->notes, n), "fewer decimals") != NULL;
    if (told != cases[i].told)
      fail_msg ("'%s' is %stold", cases[i].last, told ? "" : "not ");
  }
}

/* 1000 samples a second: what is between the second row and the third takes 1 ms when it was a sample. */
static void
log_without_time_counts_samples_and_no_marks (void **state)
{
  static const struct {
    const char *between;
    double third_s;
  } cases[] = { { "Run two\n", 0.002 },
                { "-- 2nd run\n", 0.003 },
                { "-- run 2\n", 0.002 },
                { "0\n", 0.003 },
                { "\nRun two\n", 0.002 },
                { ",\n", 0.002 },
                { " , ,,\n", 0.002 },
                { "x,1\n", 0.003 },
                { ",1\n", 0.003 },
                { "1,2,3\n", 0.003 },
                { "", 0.002 } };
  LogFixture *fixture = *state;
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++) {
    g_string_printf (fixture->text, "# sample_rate_hz: 1000\ncommand_Nm,torque_Nm\n0,0.5\n0,0.25\n%s8,0.5\n8,7.5\n",
                     cases[i].between);
    const SbLog *log = read_text (fixture, fixture->text->str);
    assert_int_equal (log->n_rows, 4);
    assert_int_equal (log->n_rows_left_out, *cases[i].between != '\0' ? 1 : 0);
    if (!is_close (value (log, SB_CHANNEL_TIME, 2), cases[i].third_s, 1e-15))
      fail_msg ("'%s': %.17g s", cases[i].between, value (log, SB_CHANNEL_TIME, 2));
  }
}

#define WITH_LOG(function) cmocka_unit_test_setup_teardown (function, log_fixture_setup, log_fixture_teardown)

int
main (void)
{
  const struct CMUnitTest tests[] = {
    WITH_LOG (log_with_canonical_header_is_read_as_written),
    WITH_LOG (log_dialect_is_found_from_header_and_rows),
    WITH_LOG (log_without_decimals_at_first_learns_the_sign_later),
    WITH_LOG (log_line_ends_and_marks_make_no_difference),
    WITH_LOG (log_units_row_gives_units_to_columns_without),
    cmocka_unit_test (log_units_row_with_an_unsuitable_unit_is_refused_by_line_and_column),
    WITH_LOG (log_units_become_si),
    WITH_LOG (log_with_two_columns_of_one_channel_keeps_the_first),
    WITH_LOG (log_lists_faulty_rows_by_line),
    WITH_LOG (words_before_more_rows_are_a_row_left_out),
    WITH_LOG (value_that_no_measurement_has_is_too_large),
    WITH_LOG (overload_marks_of_instruments_are_no_values),
    WITH_LOG (log_keeps_the_first_thousand_faults_and_counts_all),
    WITH_LOG (log_loses_one_row_to_an_open_quote),
    WITH_LOG (number_with_its_unit_behind_it_was_not_cut),
    WITH_LOG (log_without_time_counts_samples_and_no_marks),
    WITH_LOG (log_digest_is_that_of_the_bytes),
  };
  return cmocka_run_group_tests (tests, NULL, NULL);
}
