/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What comment lines say, wherever they stand. */
#include "log_fixture.h"

static const SbSetting *
setting_at (const SbLog *log, guint index)
{
  assert_true (index < log->settings->len);
  return log->settings->pdata[index];
}

static void
comments_describe_the_log (void **state)
{
  const SbLog *log = read_text (*state, "# device: Drive A\n"
                                        "#firmware:1.0.3\n"
                                        "  # Operator : M. Example  \n"
                                        "# a line without a key\n"
                                        "# date: 2024-05-06 07:08\n"
                                        "time_s,torque_Nm\n"
                                        "# rotation_deg: 900\n"
                                        "0,1\n"
                                        "# inertia_kg_m2: 0,0125\n"
                                        "1,2\n"
                                        "# note: ended early\n");
  assert_int_equal (log->n_rows, 2);
  assert_int_equal (log->n_faults, 0);
  assert_string_equal (log->device, "Drive A");
  assert_string_equal (log->firmware, "1.0.3");
  assert_string_equal (log->operator_name, "M. Example");
  assert_string_equal (log->date, "2024-05-06 07:08");
  assert_close (log->rotation_deg, 900.0, 0.0);
  assert_close (log->inertia_kg_m2, 0.0125, 0.0);
}

static void
comments_not_made_are_missing_values (void **state)
{
  const SbLog *log = read_text (*state, "time_s,torque_Nm\n0,1\n");
  assert_null (log->device);
  assert_null (log->firmware);
  assert_null (log->operator_name);
  assert_null (log->date);
  assert_true (isnan (log->rotation_deg));
  assert_true (isnan (log->inertia_kg_m2));
  assert_int_equal (log->settings->len, 0);
}

static void
rotation_range_may_be_stated_as_a_setting (void **state)
{
  const SbLog *log
      = read_text (*state, "# setting rotation range: 540 deg\n# setting gain: 1\ntime_s,torque_Nm\n0,1\n");
  assert_close (log->rotation_deg, 540, 0);
  assert_int_equal (log->settings->len, 1);
}

static void
comments_state_settings (void **state)
{
  static const struct {
    const char *line, *name, *text;
    double value;
    const char *unit;
  } table[] = {
    { "# setting torque slope: 0.6 N·m/ms", "torque slope", "0.6 N·m/ms", 0.6, "N·m/ms" },
    { "# setting torque slope: 0,6 [N·m/ms]", "torque slope", "0,6 N·m/ms", 0.6, "N·m/ms" },
    { "# Setting Gain: 80 %", "Gain", "80 %", 80.0, "%" },
    { "# setting gain: 80%", "gain", "80 %", 80.0, "%" },
    { "# setting filter: off", "filter", "off", (double) NAN, "" },
    { "# setting level: 3", "level", "3", 3.0, "" },
    { "# setting damping: -1.5e-3 N·m·s/rad", "damping", "-1.5e-3 N·m·s/rad", -0.0015, "N·m·s/rad" },
    { "# setting mode: 2.1.0", "mode", "2.1.0", (double) NAN, "" },
    { "# setting ratio: 1:2", "ratio", "1:2", (double) NAN, "" },
    { "# setting level: 3,,,,", "level", "3", 3.0, "" },
    { "# setting empty:", "empty", "", (double) NAN, "" },
  };
  for (guint i = 0; i < G_N_ELEMENTS (table); i++) {
    g_autofree char *text = g_strconcat (table[i].line, "\ntime_s,torque_Nm\n0,1\n", NULL);
    const SbLog *log = read_text (*state, text);
    const SbSetting *setting = setting_at (log, 0);
    assert_string_equal (setting->name, table[i].name);
    assert_string_equal (setting->text, table[i].text);
    assert_string_equal (setting->unit, table[i].unit);
    assert_close (setting->value, table[i].value, 0.0);
  }
}

static void
comments_that_contradict_are_faults (void **state)
{
  const SbLog *log
      = read_text (*state, "# setting gain: 1\n# setting gain: 2\n# rotation_deg: many\ntime_s,torque_Nm\n0,1\n");
  assert_int_equal (log->settings->len, 1);
  assert_close (setting_at (log, 0)->value, 1.0, 0.0);
  assert_true (isnan (log->rotation_deg));
  assert_int_equal (log->n_rows_left_out, 0);
  assert_int_equal (log->n_faults, 2);
  assert_int_equal (fault_at (log, 0)->line, 2);
  assert_string_equal (fault_at (log, 0)->what, "the setting 'gain' is stated again; the first is kept");
  assert_int_equal (fault_at (log, 1)->line, 3);
  assert_string_equal (fault_at (log, 1)->what, "rotation_deg: 'many' is no number");
}

/* The comma of a table between whose cells it stands is no decimal sign, and the point of one with decimal commas
 * neither; where the table says nothing the number is left out. */
static void
numbers_with_thousands_are_those_of_the_table_or_faults (void **state)
{
  const SbLog *log = read_text (*state, "# rotation_deg: 1,080\n# setting torque slope: 2,000 N·m/s\n"
                                        "# setting reach: 2 000 N·m/s\ntime_s,torque_Nm\n0,1.5\n");
  assert_close (log->rotation_deg, 1080.0, 0.0);
  assert_close (setting_at (log, 0)->value, 2000.0, 0.0);
  assert_string_equal (setting_at (log, 0)->unit, "N·m/s");
  assert_close (setting_at (log, 1)->value, 2000.0, 0.0);
  assert_int_equal (log->notes->len, 2);
  assert_string_equal (sb_notes_text (log->notes, 0),
                       "line 1, rotation_deg: '1,080' is taken for 1080, because of the signs of the table");
  log = read_text (*state, "# rotation_deg: 1.080\n# setting slope: 1,250\nZeit [s];Moment [Nm]\n0,5;1,5\n");
  assert_close (log->rotation_deg, 1080.0, 0.0);
  assert_close (setting_at (log, 0)->value, 1.25, 0.0);
  log = read_text (*state, "# rotation_deg: 1,080\n# setting slope: 2,000 N·m/s\ntime_s\ttorque_Nm\n0.5\t1.5\n");
  assert_true (isnan (log->rotation_deg));
  assert_true (isnan (setting_at (log, 0)->value));
  assert_string_equal (setting_at (log, 0)->text, "2,000 N·m/s");
  assert_int_equal (log->n_faults, 2);
  assert_string_equal (fault_at (log, 0)->what, "rotation_deg: '1,080' may be 1080 or 1.08: write it as one of these");
  assert_string_equal (fault_at (log, 1)->what, "slope: '2,000' may be 2000 or 2: write it as one of these");
}

/* Instruments write the code page of their maker: 0xb5 is micro and 0xb7 the middle dot in Windows-1252. */
static void
comments_and_header_in_windows_1252_become_utf8 (void **state)
{
  const SbLog *log = read_text (*state, "# setting slope: 2 N\xb7m/ms\nTime [\xb5s];Torque [N\xb7m]\n1500;1\n");
  assert_string_equal (setting_at (log, 0)->unit, "N·m/ms");
  assert_string_equal (((SbLogColumn *) log->columns->pdata[0])->name, "Time [µs]");
  assert_true (same_bits (log->channel[SB_CHANNEL_TIME][0], 0.0015));
}

#define WITH_LOG(function) cmocka_unit_test_setup_teardown (function, log_fixture_setup, log_fixture_teardown)

int
main (void)
{
  const struct CMUnitTest tests[] = {
    WITH_LOG (comments_describe_the_log),
    WITH_LOG (comments_not_made_are_missing_values),
    WITH_LOG (rotation_range_may_be_stated_as_a_setting),
    WITH_LOG (comments_state_settings),
    WITH_LOG (comments_that_contradict_are_faults),
    WITH_LOG (numbers_with_thousands_are_those_of_the_table_or_faults),
    WITH_LOG (comments_and_header_in_windows_1252_become_utf8),
  };
  return cmocka_run_group_tests (tests, NULL, NULL);
}
