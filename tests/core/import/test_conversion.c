/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Columns that want more than a unit, from text to SI. Expected values by algebra: a count of N is 2 pi/N rad, sample k
 * is at k/rate, a current I makes kT*I, p % of S is S*p/100. Doubles are compared bit for bit where one rounding is
 * promised, and within two roundings (4.5e-16) where two are. */
#include "log_fixture.h"
#include "log_reader.h"

#define TURN 6.283185307179586

static const double *
channel (const SbLog *log, SbChannel which)
{
  if (log->channel[which] == NULL)
    fail_msg ("there is no %s", sb_channel_key (which));
  return log->channel[which];
}

/* A wheel that turns steadily by 20,000 counts a row, on a counter of 16 bits: what is shown is the true count modulo
 * 65536, without sign or, above 32767, less 65536. */
static void
read_wrapping_counter (LogFixture *fixture, gboolean with_sign, gint64 step)
{
  g_string_assign (fixture->text, "# counts_per_turn: 4000\n# wrap_counts: 65536\ntime_ms,pos [counts],torque_Nm\n");
  for (gint64 i = 0; i < 1000; i++) {
    gint64 shown = ((30000 + step * i) % 65536 + 65536) % 65536;
    g_string_append_printf (fixture->text, "%d,%d,1.5\n", (int) i,
                            (int) (with_sign && shown > 32767 ? shown - 65536 : shown));
  }
  const SbLog *log = read_text (fixture, fixture->text->str);
  assert_int_equal (log->n_rows, 1000);
  const double *angle = channel (log, SB_CHANNEL_ANGLE);
  for (gint64 i = 0; i < 1000; i++)
    assert_close_relative (angle[i] - angle[0], (double) (step * i) * (TURN / 4000), 1e-12);
}

static void
counter_is_followed_through_hundreds_of_wraps (void **state)
{
  read_wrapping_counter (*state, FALSE, 20000);
  read_wrapping_counter (*state, FALSE, -20000);
  read_wrapping_counter (*state, TRUE, 20000);
  read_wrapping_counter (*state, TRUE, -32000);
}

static void
counts_without_wrap_are_an_angle_within_two_roundings (void **state)
{
  const SbLog *log = read_text (*state, "# counts per turn: 65536\ntime_s,angle_counts\n0,0\n1,16384\n2,-65536\n3,1\n");
  const double expected[] = { 0, TURN / 4, -TURN, TURN / 65536 };
  for (guint i = 0; i < 4; i++)
    assert_close_relative (channel (log, SB_CHANNEL_ANGLE)[i], expected[i], 4.5e-16);
}

/* A shaft that turns steadily by `step` degrees a row, shown modulo 360: from 0, or from -180. The true angle is known.
 */
static const SbLog *
read_shown_angle (LogFixture *fixture, gboolean with_sign, double step)
{
  g_string_assign (fixture->text, "time_ms,angle_deg\n");
  for (int i = 0; i < 1000; i++) {
    double shown = fmod (fmod (10 + step * i, 360) + 360, 360);
    if (with_sign && shown >= 180)
      shown -= 360;
    g_string_append_printf (fixture->text, "%d,%.1f\n", i, shown);
  }
  const SbLog *log = read_text (fixture, fixture->text->str);
  assert_int_equal (log->n_rows, 1000);
  const double *angle = channel (log, SB_CHANNEL_ANGLE);
  for (int i = 0; i < 1000; i++)
    assert_close (angle[i] - angle[0], step * i * (TURN / 360), 1e-9);
  return log;
}

static void
angle_that_begins_again_after_a_turn_is_followed_and_told (void **state)
{
  const SbLog *log = read_shown_angle (*state, FALSE, 7.5); /* to 7502.5 degrees, past 20 whole turns */
  const char *note = sb_notes_text (log->notes, 0);
  assert_string_equal (note,
                       "the angle 'angle_deg' begins again after each turn; it was followed through 20 such jumps, "
                       "the shorter way round between two rows");
  read_shown_angle (*state, FALSE, -80);
  read_shown_angle (*state, TRUE, 80);
  read_shown_angle (*state, TRUE, 89);
}

/* 2π is 6.28319 and π 3.14159: rounded to four or six places, or in single precision, they lie beyond their turn. */
static void
angle_at_the_rounded_end_of_a_turn_is_followed (void **state)
{
  static const struct {
    const char *text;
    double last_rad;
  } cases[] = { { "time_s,angle_rad\n0,2\n1,4\n2,6.2832\n3,1.4\n", 1.4 + TURN },
                { "time_s,angle_rad\n0,1\n1,2\n2,3.141593\n3,-3\n", TURN - 3 },
                { "time_s,angle_rad\n0,-1\n1,-2\n2,-3.14159274\n3,3\n", 3 - TURN } };
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    assert_close (channel (read_text (*state, cases[i].text), SB_CHANNEL_ANGLE)[3], cases[i].last_rad, 1e-12);
}

/* Within a turn without a jump, beyond a turn with one, half a turn exactly: what is written stays. So it does with a
 * jump that the shaft may have made, which is told. */
static void
angle_that_does_not_begin_again_stays_as_it_is (void **state)
{
  static const char *const texts[]
      = { "time_s,angle_deg\n0,0\n0.1,170\n0.2,340\n0.3,200\n", "time_s,angle_deg\n0,0\n0.1,400\n0.2,0\n0.3,100\n",
          "time_s,angle_deg\n0,0\n0.1,180\n0.2,0\n0.3,100\n", "time_s,angle_deg\n0,0\n0.1,110\n0.2,355\n0.3,200\n" };
  static const double last[][2] = { { 340, 200 }, { 0, 100 }, { 0, 100 }, { 355, 200 } };
  for (gsize i = 0; i < G_N_ELEMENTS (texts); i++) {
    const SbLog *log = read_text (*state, texts[i]);
    for (gsize k = 0; k < 2; k++)
      assert_close_relative (channel (log, SB_CHANNEL_ANGLE)[2 + k], last[i][k] * (TURN / 360), 4.5e-16);
    assert_int_equal (log->notes->len, i == 3 ? 1 : 0);
  }
}

/* Rows a millisecond apart are 1.16e-8 of a spreadsheet's days. */
static void
time_without_unit_in_steps_of_no_second_is_asked_about (void **state)
{
  LogFixture *fixture = *state;
  g_string_assign (fixture->text, "Date/Time,torque_Nm\n");
  for (int i = 0; i < 40; i++)
    g_string_append_printf (fixture->text, "46085.5%08d,1\n", (int) (i * 1e5 / 86.4 / 100));
  const SbLog *log = read_text (fixture, fixture->text->str);
  const SbLayoutColumn *time = sb_layout_column (log->layout, 0);
  assert_int_equal (time->certainty, SB_CERTAINTY_GUESSED);
  assert_non_null (strstr (time->question, "a spreadsheet's times are days"));
  log = read_text (fixture, "Time [days];torque_Nm\n0;1\n0.25;1\n0.5;2\n");
  assert_close (channel (log, SB_CHANNEL_TIME)[2], 43200, 0);
}

/* 100 counts a turn that jump by 99: with a counter that begins again it would be one step back. */
static void
counter_that_jumps_is_guessed_to_begin_again (void **state)
{
  const char *text
      = "# counts per turn: 100\ntime_s,angle_counts\n0,0\n0.1,99\n0.2,98\n0.3,97\n0.4,96\n0.5,95\n0.6,94\n"
        "0.7,93\n0.8,92\n";
  const SbLog *log = read_text (*state, text);
  const SbLayoutColumn *column = sb_layout_column (log->layout, 1);
  assert_close (column->wrap, 100, 0.0);
  assert_int_equal (column->certainty, SB_CERTAINTY_GUESSED);
  assert_close_relative (channel (log, SB_CHANNEL_ANGLE)[1], -TURN / 100, 4.5e-16);
}

static void
sample_numbers_become_times_in_one_rounding (void **state)
{
  const SbLog *log = read_text (*state, "Sample rate: 3000 Hz\nsample,torque_Nm\n0,1\n1,2\n2,3\n7,4\n");
  const double expected[] = { 0, 1.0 / 3000, 2.0 / 3000, 7.0 / 3000 };
  assert_memory_equal (channel (log, SB_CHANNEL_TIME), expected, sizeof expected);
}

static void
clock_times_become_seconds_since_the_first_row (void **state)
{
  const SbLog *log = read_text (*state, "Timestamp,torque_Nm\n2026-11-25T23:59:59.9995+01:00,1\n"
                                        "2026-11-26T00:00:00.0000+01:00,x\n2026-11-26T00:00:00.0002+01:00,2\n"
                                        "2026-11-26T00:00:00.0001+01:00,2\nnoon,3\n2026-11-26T00:00:01+01:00,3\n");
  const double expected[] = { 0, 0.0007, 1.0005 };
  assert_int_equal (log->n_rows, 3);
  assert_int_equal (log->n_rows_left_out, 3);
  assert_memory_equal (channel (log, SB_CHANNEL_TIME), expected, sizeof expected);
}

static void
current_with_a_torque_constant_is_the_torque (void **state)
{
  const SbLog *log = read_text (*state, "# torque constant: 0.5 Nm/A\ntime_s,Iq/A\n0,1\n1,-3\n");
  const double expected[] = { 0.5, -1.5 };
  assert_memory_equal (channel (log, SB_CHANNEL_TORQUE), expected, sizeof expected);
  assert_close (log->torque_constant_nm_per_a, 0.5, 0.0);
  assert_int_equal (log->aside[SB_ASIDE_CURRENT].n, 0);
}

static void
current_beside_a_torque_is_summed_up (void **state)
{
  const SbLog *log = read_text (*state, "# torque constant: 0.5 Nm/A\ntime_s,Iq/mA,torque_Nm\n0,1000,7\n1,-3000,8\n");
  assert_close (channel (log, SB_CHANNEL_TORQUE)[1], 8, 0.0);
  assert_close (log->torque_constant_nm_per_a, (double) NAN, 0.0);
  assert_int_equal (log->aside[SB_ASIDE_CURRENT].n, 2);
  assert_close (log->aside[SB_ASIDE_CURRENT].mean, -1, 0.0);
  assert_close (log->aside[SB_ASIDE_CURRENT].smallest, -3, 0.0);
  assert_close (log->aside[SB_ASIDE_CURRENT].largest, 1, 0.0);
}

/* A zero of 2.5 V at 4 N·m/V: 2.5 V are none, 3 V are 2 N·m, 250 mV are -9 N·m, all exact in binary. */
static void
volts_at_no_torque_are_taken_off_before_the_factor (void **state)
{
  static const char text[] = "# torque per volt: 4 Nm/V\ntime_s,torque_V,command_mV\n0,2.5,2500\n1,3,250\n";
  LogFixture *fixture = *state;
  const double expected[] = { 0, 2 }, expected_command[] = { 0, -9 };
  g_autoptr (SbLayout) layout = sb_layout_copy (read_text (fixture, text)->layout);
  sb_layout_column (layout, 1)->torque_zero_v = 2.5;
  sb_layout_column (layout, 2)->torque_zero_v = 2.5;
  SbReadOptions options = { .layout = layout };
  fixture->other = sb_log_read_memory_with ("test.csv", text, strlen (text), 0, &options, &fixture->error);
  assert_non_null (fixture->other);
  assert_memory_equal (channel (fixture->other, SB_CHANNEL_TORQUE), expected, sizeof expected);
  assert_memory_equal (channel (fixture->other, SB_CHANNEL_COMMAND), expected_command, sizeof expected_command);
}

/* The log in `text`, whose columns have these factors stated; owned by the fixture until the next call. */
static const SbLog *
read_factors (LogFixture *fixture, const char *text, const double *factors, guint n)
{
  g_autoptr (SbLayout) layout = sb_layout_copy (read_text (fixture, text)->layout);
  for (guint i = 0; i < n; i++)
    sb_layout_column (layout, i)->factor = factors[i];
  SbReadOptions options = { .layout = layout };
  g_clear_pointer (&fixture->other, sb_log_unref);
  fixture->other = sb_log_read_memory_with ("test.csv", text, strlen (text), 0, &options, &fixture->error);
  return fixture->other;
}

static void
factor_of_one_and_of_minus_one_round_nothing (void **state)
{
  static const char text[]
      = "t_ms,command_mNm,angle_deg,speed_rpm,torque_Nm\n0.1,1.1,0.3,-7.7,0.1\n1.3,-2.3,0.7,12.34,1e-7\n";
  static const double one[] = { 1, 1, 1, 1, 1 }, turned[] = { 1, -1, -1, -1, -1 };
  LogFixture *fixture = *state;
  for (int sign = 1; sign >= -1; sign -= 2) {
    const SbLog *log = read_factors (fixture, text, sign > 0 ? one : turned, 5);
    assert_non_null (log);
    for (int c = SB_CHANNEL_TIME; c < SB_N_CHANNELS; c++)
      for (gsize i = 0; i < 2; i++)
        assert_close (channel (log, (SbChannel) c)[i],
                      (c == SB_CHANNEL_TIME ? 1 : sign) * channel (fixture->log, (SbChannel) c)[i], 0.0);
  }
}

/* All exact in binary: 3 N·m by 2.5; 2.5 V at no torque and 4 N·m/V, so that 3 V, written turned as -3, are 2 N·m;
 * ticks of a quarter of a second. */
static void
factor_comes_before_unit_and_zero (void **state)
{
  LogFixture *fixture = *state;
  static const double factors[] = { 0.25, 2.5, -1 };
  const double torque[] = { 0, 2 }, command[] = { 0, 7.5 }, time[] = { 0, 0.5 };
  g_autoptr (SbLayout) layout = NULL;
  static const char text[] = "# torque per volt: 4 Nm/V\ntime_s,command_Nm,torque_V\n0,0,-2.5\n2,3,-3\n";
  layout = sb_layout_copy (read_text (fixture, text)->layout);
  for (guint i = 0; i < 3; i++)
    sb_layout_column (layout, i)->factor = factors[i];
  sb_layout_column (layout, 2)->torque_zero_v = 2.5;
  SbReadOptions options = { .layout = layout };
  fixture->other = sb_log_read_memory_with ("test.csv", text, strlen (text), 0, &options, &fixture->error);
  assert_non_null (fixture->other);
  assert_memory_equal (channel (fixture->other, SB_CHANNEL_TIME), time, sizeof time);
  assert_memory_equal (channel (fixture->other, SB_CHANNEL_COMMAND), command, sizeof command);
  assert_close (channel (fixture->other, SB_CHANNEL_TORQUE)[0], torque[0], 0.0);
  assert_close (channel (fixture->other, SB_CHANNEL_TORQUE)[1], torque[1], 0.0);
}

/* Hundredths of a volt at 4 N·m/V with 2.5 V at no torque: 250 is rest, 300 is 2 N·m, and in mV 300000 is. Hundredths
 * of a degree Fahrenheit: 21200 is water that boils, 100 °C, and -459.67 °F, turned, is absolute zero, -273.15 °C (NIST
 * SP 811). */
static void
factor_reads_parts_of_a_unit_with_a_zero (void **state)
{
  LogFixture *fixture = *state;
  static const char text[] = "# torque per volt: 4 Nm/V\ntime_s,command_mV,torque_V,temp [degF]\n0,250000,250,21200\n"
                             "2,300000,300,21200\n";
  g_autoptr (SbLayout) layout = sb_layout_copy (read_text (fixture, text)->layout);
  for (guint i = 1; i < 4; i++)
    sb_layout_column (layout, i)->factor = 0.01;
  sb_layout_column (layout, 1)->torque_zero_v = sb_layout_column (layout, 2)->torque_zero_v = 2.5;
  SbReadOptions options = { .layout = layout };
  fixture->other = sb_log_read_memory_with ("test.csv", text, strlen (text), 0, &options, &fixture->error);
  assert_non_null (fixture->other);
  for (SbChannel c = SB_CHANNEL_COMMAND; c <= SB_CHANNEL_TORQUE; c += SB_CHANNEL_TORQUE - SB_CHANNEL_COMMAND)
    for (int i = 0; i < 2; i++)
      assert_close (channel (fixture->other, c)[i], 2 * i, 1e-14);
  assert_close (fixture->other->aside[SB_ASIDE_TEMPERATURE].mean, 100, 1e-12);
  static const double turned[] = { (double) NAN, (double) NAN, -1 };
  const SbLog *log = read_factors (fixture, "time_s,torque_Nm,temp [degF]\n0,1,459.67\n1,2,459.67\n", turned, 3);
  assert_close (log->aside[SB_ASIDE_TEMPERATURE].mean, -273.15, 1e-12);
}

/* Hundredths of a degree of a shaft that turns by 40 degrees a row, which begin again at 36000, and as -18000. */
static void
angle_in_parts_of_a_degree_is_followed_as_multiplied (void **state)
{
  static const double factors[] = { (double) NAN, 0.01 };
  LogFixture *fixture = *state;
  for (int with_sign = 0; with_sign < 2; with_sign++) {
    g_autoptr (GString) text = g_string_new ("time_s,angle_deg\n");
    for (int i = 0; i < 40; i++)
      g_string_append_printf (text, "%d,%d\n", i, (4000 * i + 18000 * with_sign) % 36000 - 18000 * with_sign);
    const SbLog *log = read_factors (fixture, text->str, factors, 2);
    for (int i = 0; i < 40; i++)
      assert_close (channel (log, SB_CHANNEL_ANGLE)[i], i * TURN / 9, 1e-12);
    assert_non_null (
        strstr (sb_notes_text (log->notes, 0), "begins again after each turn; it was followed through 4 such jumps"));
  }
}

/* 300, 100, 270, 60 degrees jump by more than half a turn and by less than three quarters: nobody knows whether the
 * angle begins again, until a person says that it does, after 360, or does not. 350, 10 would begin again, but for one
 * who says that it does not; and a span of 90 degrees begins again after 90 when that is said. */
static void
angle_begins_again_as_stated (void **state)
{
  static const struct {
    const char *angles;
    double wrap;
    double expected_deg[4];
    const char *note; /* NULL: none */
  } table[] = {
    { "0,300\n1,100\n2,270\n3,60\n", (double) NAN, { 300, 100, 270, 60 }, "or 0 when it does not" },
    { "0,300\n1,100\n2,270\n3,60\n", 360, { 300, 460, 630, 780 }, "after what was stated; it was followed through 2" },
    { "0,300\n1,100\n2,270\n3,60\n", 0, { 300, 100, 270, 60 }, NULL },
    { "0,340\n1,350\n2,10\n3,20\n", 0, { 340, 350, 10, 20 }, NULL },
    { "0,70\n1,80\n2,10\n3,20\n", 90, { 70, 80, 100, 110 }, "after what was stated; it was followed through 1" },
  };
  LogFixture *fixture = *state;
  for (guint i = 0; i < G_N_ELEMENTS (table); i++) {
    g_autofree char *text = g_strconcat ("time_s,angle_deg\n", table[i].angles, NULL);
    g_autoptr (SbLayout) layout = sb_layout_copy (read_text (fixture, text)->layout);
    sb_layout_column (layout, 1)->wrap = table[i].wrap;
    SbReadOptions options = { .layout = layout };
    g_clear_pointer (&fixture->other, sb_log_unref);
    fixture->other = sb_log_read_memory_with ("test.csv", text, strlen (text), 0, &options, &fixture->error);
    assert_non_null (fixture->other);
    for (guint k = 0; k < 4; k++)
      assert_close (channel (fixture->other, SB_CHANNEL_ANGLE)[k], table[i].expected_deg[k] * G_PI / 180, 1e-14);
    assert_int_equal (fixture->other->notes->len, table[i].note != NULL ? 1 : 0);
    if (table[i].note != NULL)
      assert_non_null (strstr (sb_notes_text (fixture->other->notes, 0), table[i].note));
  }
}

/* Counts that jump by more than half a turn are asked about until it is stated that they do not begin again. */
static void
counter_that_does_not_begin_again_is_not_asked_about (void **state)
{
  LogFixture *fixture = *state;
  static const char text[] = "# counts_per_turn: 4000\ntime_s,angle_counts\n0,0\n1,2500\n2,4999\n3,7000\n";
  const SbLog *log = read_text (fixture, text);
  assert_int_equal (log->notes->len, 1);
  assert_int_equal (sb_notes_get (log->notes, 0)->kind, SB_NOTE_WRAP);
  g_autoptr (SbLayout) layout = sb_layout_copy (log->layout);
  sb_layout_column (layout, 1)->wrap = 0;
  SbReadOptions options = { .layout = layout };
  fixture->other = sb_log_read_memory_with ("test.csv", text, strlen (text), 0, &options, &fixture->error);
  assert_non_null (fixture->other);
  assert_int_equal (fixture->other->notes->len, 0);
  assert_close (channel (fixture->other, SB_CHANNEL_ANGLE)[3], 7000 * TURN / 4000, 1e-14);
}

/* 350, 355, 0, 5 degrees are 350, 355, 360, 365 of a motor, and half of that behind a gear; counts through their wrap.
 */
static void
factor_of_an_angle_comes_behind_its_turns (void **state)
{
  static const char degrees[] = "time_s,angle_deg\n0,345\n1,350\n2,355\n3,0\n4,5\n";
  static const char counts[]
      = "# counts_per_turn: 4\n# wrap_counts: 16\ntime_s,angle_counts\n0,13\n1,14\n2,15\n3,0\n4,1\n";
  static const double factors[] = { (double) NAN, 0.5 };
  const SbLog *log = read_factors (*state, degrees, factors, 2);
  for (gsize i = 0; i < 5; i++)
    assert_close (channel (log, SB_CHANNEL_ANGLE)[i], (345 + 5 * (double) i) * G_PI / 360, 1e-15);
  log = read_factors (*state, counts, factors, 2);
  for (gsize i = 0; i < 5; i++)
    assert_close (channel (log, SB_CHANNEL_ANGLE)[i], (13 + (double) i) * G_PI / 4, 1e-15);
}

/* At 1e-12 counts the other way round to a turn and a factor of 1e12 a count is -2 pi 1e24 rad; two of them are more
 * than any measurement, as 2e25 N·m in the cell of a torque are. */
static void
value_that_is_too_large_behind_its_counts_is_left_out (void **state)
{
  LogFixture *fixture = *state;
  static const char text[] = "# counts_per_turn: 4\ntime_s,angle_counts,torque_Nm\n0,0,1\n1,1,2\n2,-2,3\n3,1,4\n"
                             "4,2,5\n5,1,2e25\n6,1,6\n";
  static const guint64 lines[] = { 5, 7, 8 };
  g_autoptr (SbLayout) layout = sb_layout_copy (read_text (fixture, text)->layout);
  sb_layout_column (layout, 1)->counts_per_turn = -1e-12;
  sb_layout_column (layout, 1)->wrap = 0;
  sb_layout_column (layout, 1)->factor = 1e12;
  SbReadOptions options = { .layout = layout };
  fixture->other = sb_log_read_memory_with ("test.csv", text, strlen (text), 0, &options, &fixture->error);
  assert_non_null (fixture->other);
  const double time[] = { 0, 1, 3, 6 }, torque[] = { 1, 2, 4, 6 };
  assert_int_equal (fixture->other->n_rows, 4);
  assert_int_equal (fixture->other->n_rows_left_out, 3);
  assert_memory_equal (channel (fixture->other, SB_CHANNEL_TIME), time, sizeof time);
  assert_memory_equal (channel (fixture->other, SB_CHANNEL_TORQUE), torque, sizeof torque);
  assert_close_relative (channel (fixture->other, SB_CHANNEL_ANGLE)[3], -TURN * 1e24, 1e-15);
  guint found = 0;
  for (guint i = 0; i < fixture->other->faults->len; i++) {
    const SbFault *fault = g_ptr_array_index (fixture->other->faults, i);
    if (fault->kind == SB_FAULT_TOO_LARGE)
      for (guint l = 0; l < 3; l++)
        found += fault->line == lines[l] ? 1 : 0;
  }
  assert_int_equal (found, 3);
}

static void
log_of_which_no_value_is_small_enough_has_no_rows (void **state)
{
  LogFixture *fixture = *state;
  static const char text[] = "# counts_per_turn: 4\ntime_s,angle_counts\n0,2\n1,3\n";
  g_autoptr (SbLayout) layout = sb_layout_copy (read_text (fixture, text)->layout);
  sb_layout_column (layout, 1)->counts_per_turn = 1e-12;
  sb_layout_column (layout, 1)->factor = 1e12;
  SbReadOptions options = { .layout = layout };
  assert_null (sb_log_read_memory_with ("test.csv", text, strlen (text), 0, &options, &fixture->error));
  assert_non_null (strstr (fixture->error->message, "test.csv"));
}

static void
factor_of_a_circumstance_is_its_own (void **state)
{
  static const double factors[] = { (double) NAN, (double) NAN, -1, 0.5 };
  const SbLog *log
      = read_factors (*state, "time_s,torque_Nm,motor current [A],temp [degF]\n0,1,3,424\n1,2,5,424\n", factors, 4);
  assert_close (log->aside[SB_ASIDE_CURRENT].mean, -4, 0.0);
  assert_close (log->aside[SB_ASIDE_TEMPERATURE].mean, 100, 1e-12);
}

static void
factor_that_a_time_does_not_take_is_refused (void **state)
{
  static const struct {
    const char *text, *what;
    double factor;
  } cases[] = {
    { "time,torque_Nm\n10:00:00.0,1\n10:00:00.1,2\n", "a clock time takes no factor", 2 },
    { "# sample_rate_hz: 10\nsample,torque_Nm\n0,1\n1,2\n", "takes no factor but the sample rate", 2 },
    { "time_s,torque_Nm\n0,1\n1,2\n", "the factor of a time must be above 0", -1 },
  };
  LogFixture *fixture = *state;
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++) {
    assert_null (read_factors (fixture, cases[i].text, &cases[i].factor, 1));
    assert_true (g_error_matches (fixture->error, SB_LOG_ERROR, SB_LOG_ERROR_LAYOUT));
    assert_non_null (strstr (fixture->error->message, cases[i].what));
    assert_non_null (strstr (fixture->error->message, "test.csv, line "));
    g_clear_error (&fixture->error);
  }
}

/* 1 V is 2.5 N·m: -4 V are -10 N·m; 250 mV are a quarter of it, 0.625 N·m, exact in binary. */
static void
torque_in_volts_is_read_by_its_torque_per_volt (void **state)
{
  static const char *const names[] = { "Torque [%s]", "torque transducer (%s)", "Torque sensor voltage [%s]",
                                       "torque_%s",   "Drehmoment / %s",        "Spannung Drehmomentsensor [%s]" };
  for (guint i = 0; i < G_N_ELEMENTS (names); i++)
    for (int milli = 0; milli < 2; milli++) {
      g_auto (GStrv) parts = g_strsplit (names[i], "%s", 2);
      g_autofree char *name = g_strconcat (parts[0], milli ? "mV" : "V", parts[1], NULL);
      g_autofree char *text = g_strdup_printf ("# torque per volt: 2.5 Nm/V\ntime_s,%s\n0,%s\n1,%s\n", name,
                                               milli ? "-4000" : "-4", milli ? "250" : "0.25");
      const SbLog *log = read_text (*state, text);
      assert_close (log->channel[SB_CHANNEL_TORQUE][0], -10, 0.0);
      assert_close (log->channel[SB_CHANNEL_TORQUE][1], 0.625, 0.0);
    }
}

/* A voltage that nobody needs is not asked about, and a supply stays one. */
static void
torque_in_newton_metres_goes_before_its_raw_volts (void **state)
{
  const SbLog *log = read_text (*state, "time_s,torque [V],torque [Nm],supply [V]\n0,1,5,48\n1,2,6,48\n");
  assert_close (log->channel[SB_CHANNEL_TORQUE][1], 6, 0.0);
  assert_close (log->aside[SB_ASIDE_SUPPLY].mean, 48, 0.0);
  assert_int_equal (log->faults->len, 0);
}

static void
percent_of_a_full_scale_is_torque (void **state)
{
  const SbLog *log = read_text (*state, "# full_scale_nm: 25\ntime_s,cmd [%],torque_Nm\n0,50,1\n1,-100,1\n2,0.5,1\n");
  const double expected[] = { 12.5, -25, 0.125 };
  for (guint i = 0; i < 3; i++)
    assert_close_relative (channel (log, SB_CHANNEL_COMMAND)[i], expected[i], 4.5e-16);
}

/* 50 and 86 °F are 10 and 30 °C. An empty or unreadable temperature costs no row; the temperature of a row that is left
 * out for its torque does not count. */
static void
temperature_and_supply_are_summed_up_over_the_rows_kept (void **state)
{
  const SbLog *log = read_text (*state, "time_s,Temp [°F],U_bus [V],torque_Nm\n0,50,48,1\n1,,47.5,1\n2,86,46,1\n"
                                        "3,1000,1,x\n4,n/a,46.5,1\n");
  assert_int_equal (log->n_rows, 4);
  assert_int_equal (log->aside[SB_ASIDE_TEMPERATURE].n, 2);
  assert_close (log->aside[SB_ASIDE_TEMPERATURE].mean, 20, 1e-14);
  assert_close (log->aside[SB_ASIDE_TEMPERATURE].smallest, 10, 1e-14);
  assert_close (log->aside[SB_ASIDE_TEMPERATURE].largest, 30, 1e-14);
  assert_int_equal (log->aside[SB_ASIDE_SUPPLY].n, 4);
  assert_close (log->aside[SB_ASIDE_SUPPLY].mean, 47, 0.0);
}

/* The mean of a million times 0.1 in a plain sum is off by 1e-12; carried along, what is lost is not. */
static void
mean_of_a_million_is_as_good_as_its_cells (void **state)
{
  SbAsideSum sum = { 0 };
  for (guint i = 0; i < 1000000; i++)
    sb_aside_sum_add (&sum, 0.1);
  SbAside aside = sb_aside_sum_finish (&sum);
  assert_close (aside.mean, 0.1, 2e-17);
}

static SbLog *
read_one_way (const char *text, gsize block, gboolean plain_rows, GError **error)
{
  g_autoptr (SbProposal) proposal = sb_propose_memory ("test.csv", text, strlen (text), NULL, error);
  if (proposal == NULL)
    return NULL;
  g_autoptr (SbLogReader) reader = sb_log_reader_new ("test.csv", proposal->layout, 0, NULL, error);
  if (reader == NULL)
    return NULL;
  sb_log_reader_set_way (reader, plain_rows ? SB_ROWS_FASTEST : SB_ROWS_LIBCSV);
  for (gsize at = 0; at < strlen (text); at += block) {
    gsize n = MIN (block, strlen (text) - at);
    memcpy (sb_log_reader_get_room (reader, n), text + at, n);
    if (!sb_log_reader_take (reader, n, error))
      return NULL;
  }
  return sb_log_reader_finish (reader, error);
}

/* The fast way and the one by libcsv, with cells of every kind that stand aside. */
static void
rows_with_circumstances_are_alike_in_both_ways (void **state)
{
  LogFixture *fixture = *state;
  const char *text
      = "# counts_per_turn: 4096\ntime_ms,Temp [K],pos [counts],U_bus [mV],Iq [A],torque_Nm\n"
        "0,300,1,48000,0.5,1\n1,,2,47000,,1\n2, 301.5 ,3,,x,1\n3,\"302\",4,4.7e4,-1,1\n4,1e400,5,1,2,1\n"
        "5,303,6,2,3,bad\n6,304,7,3,4,1,\n6,305,8,4,5,1\n7,\t306,9,5 ,6,1\n8,1 2,9,5,6,1\n9,,,,,1\n10,,11,,,1";
  for (gsize block = 1; block < 40; block += 3) {
    g_clear_pointer (&fixture->log, sb_log_unref);
    g_clear_pointer (&fixture->other, sb_log_unref);
    fixture->log = read_one_way (text, block, TRUE, &fixture->error);
    fixture->other = read_one_way (text, block, FALSE, &fixture->error);
    assert_non_null (fixture->log);
    assert_non_null (fixture->other);
    assert_same_log (fixture->log, fixture->other);
    assert_memory_equal (fixture->log->aside, fixture->other->aside, sizeof fixture->log->aside);
    assert_int_equal (fixture->log->aside[SB_ASIDE_CURRENT].n, 6);
  }
}

/* What is missing is named in plain words, which fit the window and the command line alike. */
static void
missing_value_is_an_error_that_names_it (void **state)
{
  static const struct {
    const char *text, *names;
  } table[] = {
    { "sample,torque_Nm\n0,1\n1,2\n", "the sample rate" },
    { "time_s,pos [counts]\n0,1\n1,2\n", "the number of counts in a turn" },
    { "time_s,Iq/A\n0,1\n1,2\n", "the torque constant in N·m/A" },
    { "time_s,torque [A]\n0,1\n1,2\n", "the torque constant in N·m/A" },
    { "time_s,torque [V]\n0,1\n1,2\n", "one volt stands for" },
    { "time_s,torque transducer (mV)\n0,1\n1,2\n", "one volt stands for" },
    { "time_s,torque [%]\n0,1\n1,2\n", "the torque in N·m at full scale" },
  };
  for (guint i = 0; i < G_N_ELEMENTS (table); i++) {
    const char *message = read_error (*state, table[i].text, strlen (table[i].text), SB_LOG_ERROR_LAYOUT);
    if (strstr (message, table[i].names) == NULL || strstr (message, "column '") == NULL)
      fail_msg ("'%s' does not name %s", message, table[i].names);
  }
}

/* With another signal the log is read without that column, and says so. */
static void
missing_value_beside_another_signal_is_a_fault (void **state)
{
  const SbLog *log = read_text (*state, "time_s,pos [counts],torque_Nm\n0,1,5\n1,2,6\n");
  assert_null (log->channel[SB_CHANNEL_ANGLE]);
  assert_int_equal (log->faults->len, 1);
  assert_string_equal (fault_at (log, 0)->column, "pos [counts]");
  assert_non_null (strstr (fault_at (log, 0)->what, "the number of counts in a turn"));
}

int
main (void)
{
#define CASE(name) cmocka_unit_test_setup_teardown (name, log_fixture_setup, log_fixture_teardown)
  const struct CMUnitTest tests[] = {
    CASE (counter_is_followed_through_hundreds_of_wraps),
    CASE (counts_without_wrap_are_an_angle_within_two_roundings),
    CASE (angle_that_begins_again_after_a_turn_is_followed_and_told),
    CASE (angle_at_the_rounded_end_of_a_turn_is_followed),
    CASE (angle_that_does_not_begin_again_stays_as_it_is),
    CASE (time_without_unit_in_steps_of_no_second_is_asked_about),
    CASE (counter_that_jumps_is_guessed_to_begin_again),
    CASE (sample_numbers_become_times_in_one_rounding),
    CASE (clock_times_become_seconds_since_the_first_row),
    CASE (current_with_a_torque_constant_is_the_torque),
    CASE (current_beside_a_torque_is_summed_up),
    CASE (percent_of_a_full_scale_is_torque),
    CASE (torque_in_volts_is_read_by_its_torque_per_volt),
    CASE (factor_of_one_and_of_minus_one_round_nothing),
    CASE (factor_comes_before_unit_and_zero),
    CASE (factor_reads_parts_of_a_unit_with_a_zero),
    CASE (angle_in_parts_of_a_degree_is_followed_as_multiplied),
    CASE (factor_of_an_angle_comes_behind_its_turns),
    CASE (angle_begins_again_as_stated),
    CASE (counter_that_does_not_begin_again_is_not_asked_about),
    CASE (value_that_is_too_large_behind_its_counts_is_left_out),
    CASE (log_of_which_no_value_is_small_enough_has_no_rows),
    CASE (factor_of_a_circumstance_is_its_own),
    CASE (factor_that_a_time_does_not_take_is_refused),
    CASE (volts_at_no_torque_are_taken_off_before_the_factor),
    CASE (torque_in_newton_metres_goes_before_its_raw_volts),
    CASE (temperature_and_supply_are_summed_up_over_the_rows_kept),
    CASE (mean_of_a_million_is_as_good_as_its_cells),
    CASE (rows_with_circumstances_are_alike_in_both_ways),
    CASE (missing_value_is_an_error_that_names_it),
    CASE (missing_value_beside_another_signal_is_a_fault),
  };
  return cmocka_run_group_tests (tests, NULL, NULL);
}
