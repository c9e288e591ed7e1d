/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What `slewbench inspect` tells of columns. Expected ranges are those of the numbers written here, in SI by hand. */
#include "run.h"

/* A step of 8 N·m at 50 ms; the velocity rises to 60 rpm, which is 2π rad/s. Then a number that is not used and a word,
 * and `n_spare` columns of ones. */
static void
write_wide (Run *run, const char *name, int n_rows, int n_spare)
{
  g_autoptr (GString) text = g_string_new ("time_ms,command_Nm,torque_Nm,velocity_rpm,spare,remark");
  for (int i = 0; i < n_spare; i++)
    g_string_append_printf (text, ",spare%d", i);
  for (int row = 0; row < n_rows; row++) {
    int rise = CLAMP (row - 52, 0, 20);
    g_string_append_printf (text, "\n%d,%d,%d.%d,%d,%d,none", row, row < 50 ? 0 : 8, 4 * rise / 10, 4 * rise % 10,
                            3 * rise, row % 7 == 3 ? 65500 : -12);
    for (int i = 0; i < n_spare; i++)
      g_string_append (text, ",1");
  }
  g_string_append_c (text, '\n');
  write_file (run, name, text->str);
}

static guint
count (const char *text, const char *part)
{
  guint n = 0;
  for (const char *p = text; (p = strstr (p, part)) != NULL; p += strlen (part))
    n++;
  return n;
}

static void
every_column_has_its_range_in_si (void **state)
{
  Run *run = *state;
  write_wide (run, "a.csv", 300, 0);
  run_slewbench (run, "inspect", "a.csv");
  assert_status (run, 0);
  assert_says (run->out, ": time, in ms; 0 to 0.299 s\n");
  assert_says (run->out, ": command, in N·m; 0 to 8 N·m\n");
  assert_says (run->out, ": torque, in N·m; 0 to 8 N·m\n");
  assert_says (run->out, ": velocity, in rpm; 0 to 6.28319 rad/s\n");
  assert_says (run->out, "spare: read past; -12 to 65500 as written\n");
  assert_says (run->out, "remark: read past; no numbers\n");
}

/* --help: 1 says that some input was left out; the second recording is, and the message says where it begins: behind
 * the header and 300 rows. One bad stamp is one row of 300. */
static void
rows_of_another_recording_are_told_with_status_1 (void **state)
{
  Run *run = *state;
  g_autoptr (GString) text = g_string_new ("time_ms,command_Nm,torque_Nm\n");
  for (int row = 0; row < 600; row++)
    g_string_append_printf (text, "%d,%d,%s\n", row % 300, row % 300 < 50 ? 0 : 8, row % 300 < 53 ? "0.25" : "4.25");
  write_file (run, "two.csv", text->str);
  run_slewbench (run, "measure", "two.csv");
  assert_status (run, 1);
  assert_says (run->err, "the time starts again at line 302 (table 2, 300 rows)");
  g_string_assign (text, "time_ms,command_Nm,torque_Nm\n");
  for (int row = 0; row < 300; row++)
    g_string_append_printf (text, "%d,%d,%s\n", row == 100 ? 1100 : row, row < 50 ? 0 : 8, row < 53 ? "0.25" : "4.25");
  write_file (run, "bad.csv", text->str);
  run_slewbench (run, "measure", "bad.csv");
  assert_status (run, 1);
  assert_says (run->err, "1 row left out; the first fault is at line 102: its time stands alone");
}

/* 1 ms between rows is 1000 Hz; the comma of "1,080" between commas stands for thousands. */
static void
values_before_the_table_that_were_weighed_are_told (void **state)
{
  Run *run = *state;
  g_autoptr (GString) text
      = g_string_new ("# sample_rate_hz: 4000\n# rotation_deg: 1,080\ntime_ms,command_Nm,torque_Nm\n");
  for (int row = 0; row < 300; row++)
    g_string_append_printf (text, "%d,%d,%s\n", row, row < 50 ? 0 : 8, row < 53 ? "0.25" : "4.25");
  write_file (run, "rate.csv", text->str);
  run_slewbench (run, "measure", "rate.csv");
  assert_status (run, 0);
  assert_says (run->err, "a sample rate of 4000 Hz is stated, and the times show one of 1000 Hz: the times count");
  assert_says (run->err, "line 2, rotation_deg: '1,080' is taken for 1080, because of the signs of the table");
}

/* Of 300 rows 200 have a cell too many: what is missing is not the step but the rows. */
static void
step_that_is_missing_with_most_rows_is_told_by_the_rows (void **state)
{
  Run *run = *state;
  g_autoptr (GString) text = g_string_new ("time_ms,command_Nm,torque_Nm\n");
  for (int row = 0; row < 300; row++)
    g_string_append_printf (text, "%d,%s,0.25\n", row, row < 100 ? "0" : "1,000");
  write_file (run, "most.csv", text->str);
  run_slewbench (run, "measure", "most.csv");
  assert_status (run, 2);
  assert_says (run->err,
               "no step found in the 100 rows that were read. Most rows are left out (200 rows with too few or "
               "too many cells, first at line 102)");
}

static void
column_that_wants_a_value_is_told_as_written (void **state)
{
  Run *run = *state;
  g_autoptr (GString) text = g_string_new ("time_ms,command_Nm,Torque [V]\n");
  for (int row = 0; row < 300; row++)
    g_string_append_printf (text, "%d,%d,%s\n", row, row < 50 ? 0 : 8, row < 53 ? "0.25" : "4.25");
  write_file (run, "volts.csv", text->str);
  run_slewbench (run, "inspect", "volts.csv");
  assert_says (run->out, "Torque [V]: read past; 0.25 to 4.25 as written\n");
  run_slewbench (run, "inspect", "--torque-per-volt", "-2", "volts.csv");
  assert_status (run, 0);
  assert_says (run->out, "in V; -8.5 to -0.5 N·m\n");
}

static void
hundreds_of_columns_are_counted_unless_all_are_asked_for (void **state)
{
  Run *run = *state;
  write_wide (run, "a.csv", 200, 291);
  run_slewbench (run, "inspect", "a.csv");
  assert_status (run, 0);
  assert_int_equal (count (run->out, "\n  column "), 4);
  assert_says (run->out, "and 293 columns that are not used; --all-columns lists them\n");
  run_slewbench (run, "inspect", "--all-columns", "a.csv");
  assert_status (run, 0);
  assert_int_equal (count (run->out, "\n  column "), 297);
  assert_null (strstr (run->out, "not used"));
  assert_says (run->out, "spare0: read past; 1 to 1 as written\n");
}

/* 100 rows from 0.5 s on again, behind a row of 0.599 s: one sentence, a count, and the first three by line. */
static void
faults_of_one_kind_are_counted_and_the_first_three_listed (void **state)
{
  Run *run = *state;
  g_autoptr (GString) text = g_string_new ("time_ms,torque_Nm\n");
  for (int row = 0; row < 600; row++)
    g_string_append_printf (text, "%d,%d\n", row, row < 100 ? 0 : 8);
  for (int row = 500; row < 1000; row++)
    g_string_append_printf (text, "%d,9\n", row);
  write_file (run, "a.csv", text->str);
  run_slewbench (run, "inspect", "a.csv");
  assert_status (run, 0);
  assert_says (run->out, "99 rows whose time goes backward, first at line 602\n");
  assert_int_equal (count (run->out, "\n  fault  "), 3 + 1 + 1); /* backward, at the same time, and the rest */
  assert_says (run->out, "fault         and 96 more of these kinds; --all-faults lists them\n");
  run_slewbench (run, "inspect", "--all-faults", "a.csv");
  assert_status (run, 0);
  assert_int_equal (count (run->out, "\n  fault  "), 100);
  assert_null (strstr (run->out, "more of these kinds"));
}

/* Core speaks of the thing; the option that states it is the command line's to add. */
static void
value_that_is_wanted_is_told_with_its_option (void **state)
{
  Run *run = *state;
  g_autoptr (GString) volts = g_string_new ("time_ms,command_Nm,Torque [V]\n");
  g_autoptr (GString) samples = g_string_new ("sample,command_%,torque_Nm\n");
  for (int row = 0; row < 300; row++) {
    g_string_append_printf (volts, "%d,%d,%d\n", row, row < 50 ? 0 : 8, row < 53 ? 0 : 4);
    g_string_append_printf (samples, "%d,%d,%d\n", row, row < 50 ? 0 : 80, row < 53 ? 0 : 8);
  }
  write_file (run, "volts.csv", volts->str);
  write_file (run, "samples.csv", samples->str);
  run_slewbench (run, "inspect", "volts.csv");
  assert_says (run->out, "the torque in N·m that one volt stands for (--torque-per-volt)\n");
  assert_null (strstr (run->out, "torque_per_volt_nm"));
  for (int i = 0; i < 2; i++) {
    run_slewbench (run, i == 0 ? "inspect" : "measure", "samples.csv");
    assert_status (run, 2);
    assert_says (run->err, "the sample rate");
    assert_says (run->err, "slewbench: what is missing can be stated with --sample-rate and --full-scale.\n");
    assert_null (strstr (run->err, "sample_rate_hz"));
  }
  run_slewbench (run, "inspect", "--sample-rate", "1000", "samples.csv");
  assert_says (run->out, "the torque in N·m at full scale (--full-scale)\n");
}

static void
factor_of_a_layout_is_told (void **state)
{
  Run *run = *state;
  g_autoptr (GString) text = g_string_new ("time_ms,command_Nm,torque_Nm\n");
  for (int row = 0; row < 300; row++)
    g_string_append_printf (text, "%d,%d,%d\n", row, row < 50 ? 0 : 8, row < 53 ? 0 : -8);
  write_file (run, "a.csv", text->str);
  write_file (run, "turned.json", "{\"columns\": [{\"name\": \"torque_Nm\", \"role\": \"torque\", \"factor\": -1}]}");
  run_slewbench (run, "inspect", "--layout", "turned.json", "a.csv");
  assert_status (run, 0);
  assert_says (run->out, "torque_Nm: torque, in N·m; 0 to 8 N·m; written values times -1\n");
  run_slewbench (run, "inspect", "--json", "--layout", "turned.json", "a.csv");
  assert_says (run->out, "\"factor\" : -1");
  assert_says (run->out, "\"stated_factor\" : -1");
  run_slewbench (run, "measure", "--json", "--layout", "turned.json", "a.csv");
  assert_status (run, 0);
  assert_says (run->out, "\"factor\" : -1");
}

/* A channel is read to the end; what is not used is looked at in the first 20,000 rows alone. */
static void
range_of_the_beginning_is_called_that (void **state)
{
  Run *run = *state;
  write_wide (run, "long.csv", 20500, 0);
  run_slewbench (run, "inspect", "long.csv");
  assert_status (run, 0);
  assert_says (run->out, ": time, in ms; 0 to 20.499 s\n");
  assert_says (run->out, "spare: read past; -12 to 65500 as written, in the first 20000 rows\n");
}

static void
json_has_the_range_of_every_column (void **state)
{
  Run *run = *state;
  write_wide (run, "a.csv", 200, 100);
  run_slewbench (run, "inspect", "--json", "a.csv");
  assert_status (run, 0);
  assert_true (json_parser_load_from_data (run->parser, run->out, -1, NULL));
  JsonObject *log = json_array_get_object_element (json_node_get_array (json_parser_get_root (run->parser)), 0);
  JsonArray *columns = json_object_get_array_member (log, "columns");
  assert_int_equal (json_array_get_length (columns), 106);
  JsonObject *time = json_object_get_object_member (json_array_get_object_element (columns, 0), "range");
  assert_close (json_object_get_double_member (time, "highest"), 0.199, 0);
  assert_string_equal (json_object_get_string_member (time, "unit"), "s");
  JsonObject *spare = json_object_get_object_member (json_array_get_object_element (columns, 4), "range");
  assert_close (json_object_get_double_member (spare, "lowest"), -12, 0);
  assert_false (json_object_has_member (spare, "unit"));
  assert_false (json_object_has_member (json_array_get_object_element (columns, 5), "range"));
}

/* One kind a note, in the same order: the note on units that were assumed is the one of that kind. */
static void
json_has_the_kind_of_every_note (void **state)
{
  Run *run = *state;
  g_autoptr (GString) text = g_string_new ("time,command,torque\n");
  for (int row = 0; row < 300; row++)
    g_string_append_printf (text, "%d.%03d,%d,%s\n", row / 1000, row, row < 50 ? 0 : 8, row < 53 ? "0.25" : "4.25");
  write_file (run, "a.csv", text->str);
  run_slewbench (run, "inspect", "--json", "a.csv");
  assert_true (json_parser_load_from_data (run->parser, run->out, -1, NULL));
  JsonObject *log = json_array_get_object_element (json_node_get_array (json_parser_get_root (run->parser)), 0);
  JsonArray *notes = json_object_get_array_member (log, "notes");
  JsonArray *kinds = json_object_get_array_member (log, "note_kinds");
  guint n_assumed = 0;
  assert_true (json_array_get_length (notes) > 0);
  assert_int_equal (json_array_get_length (kinds), json_array_get_length (notes));
  for (guint i = 0; i < json_array_get_length (kinds); i++)
    if (g_str_equal (json_array_get_string_element (kinds, i), "units-assumed")) {
      assert_non_null (strstr (json_array_get_string_element (notes, i), "unit"));
      n_assumed++;
    }
  assert_int_equal (n_assumed, 1);
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    app_test (every_column_has_its_range_in_si),
    app_test (rows_of_another_recording_are_told_with_status_1),
    app_test (step_that_is_missing_with_most_rows_is_told_by_the_rows),
    app_test (values_before_the_table_that_were_weighed_are_told),
    app_test (column_that_wants_a_value_is_told_as_written),
    app_test (hundreds_of_columns_are_counted_unless_all_are_asked_for),
    app_test (faults_of_one_kind_are_counted_and_the_first_three_listed),
    app_test (value_that_is_wanted_is_told_with_its_option),
    app_test (factor_of_a_layout_is_told),
    app_test (range_of_the_beginning_is_called_that),
    app_test (json_has_the_range_of_every_column),
    app_test (json_has_the_kind_of_every_note),
  };
  return cmocka_run_group_tests (tests, NULL, NULL);
}
