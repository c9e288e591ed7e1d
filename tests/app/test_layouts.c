/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Layouts on the command line. The logs are steps at 50 ms whose peak velocity is 0.1 rad/s per ms after 52 ms: 19.8
 * rad/s in the last of 251 rows. */
#include "run.h"

/* `cells` rows of time in ms, command, torque, velocity, under these headings. */
static const char *
write_log (Run *run, const char *name, const char *headings, char delimiter)
{
  g_autoptr (GString) text = g_string_new (headings);
  for (int i = 0; i <= 250; i++) {
    int after = MAX (0, i - 52), tenths = MIN (4 * after, 80);
    g_string_append_printf (text, "%d%c%d%c%d.%d%c%d.%d\n", i, delimiter, i >= 50 ? 8 : 0, delimiter, tenths / 10,
                            tenths % 10, delimiter, after / 10, after % 10);
  }
  return write_file (run, name, text->str);
}

static const char layout[]
    = "{\"name\": \"rig\", \"columns\": [{\"name\": \"A\", \"role\": \"time\", \"unit\": \"ms\"}, "
      "{\"name\": \"B\", \"role\": \"command\"}, {\"name\": \"C\", \"role\": \"torque\"}, "
      "{\"name\": \"D\", \"role\": \"velocity\"}]}";

/* The same log as a scope writes it: channels alone, a sample a row and 1000 of them in a second. */
static void
write_channels (Run *run, const char *name, const char *before)
{
  g_autoptr (GString) text = g_string_new (before);
  g_string_append (text, "command_Nm,torque_Nm,velocity_rad_s\n");
  for (int i = 0; i <= 250; i++) {
    int after = MAX (0, i - 52), tenths = MIN (4 * after, 80);
    g_string_append_printf (text, "%d,%d.%d,%d.%d\n", i >= 50 ? 8 : 0, tenths / 10, tenths % 10, after / 10,
                            after % 10);
  }
  write_file (run, name, text->str);
}

/* The log that cannot be read without it, and the layout. */
static void
write_both (Run *run)
{
  write_log (run, "a.csv", "A,B,C,D\n", ',');
  write_file (run, "rig.json", layout);
}

static double
mean_of (Run *run, const char *measure)
{
  assert_true (json_parser_load_from_data (run->parser, run->out, -1, NULL));
  JsonObject *root = json_node_get_object (json_parser_get_root (run->parser));
  JsonObject *first = json_array_get_object_element (json_object_get_array_member (root, "configurations"), 0);
  JsonObject *measures = json_object_get_object_member (first, "measures");
  return json_object_get_double_member (json_object_get_object_member (measures, measure), "mean");
}

static void
log_with_meaningless_headings_is_measured_by_a_layout (void **state)
{
  Run *run = *state;
  write_both (run);
  run_slewbench (run, "measure", "a.csv");
  assert_error (run, 2, "a.csv");
  run_slewbench (run, "measure", "--json", "--layout", "rig.json", "a.csv");
  assert_status (run, 0);
  assert_string_equal (run->err, "");
  assert_close (mean_of (run, "peak_velocity"), 19.8, 1e-9);
  assert_says (run->out, "\"layouts\"");
}

/* The torque begins 2 rows after the command, 2 ms at 1000 rows a second and 1 ms at 2000; a rate that the lines before
 * the table state is a guess, for the rows may be fewer than the samples. */
static void
log_without_time_is_read_by_a_sample_rate (void **state)
{
  Run *run = *state;
  write_channels (run, "a.csv", "");
  run_slewbench (run, "measure", "a.csv");
  assert_error (run, 2, "state the sample rate (sample_rate_hz in a layout, or --sample-rate)");
  run_slewbench (run, "measure", "--json", "--sample-rate", "1000", "a.csv");
  assert_status (run, 0);
  assert_string_equal (run->err, "");
  double dead_time_s = mean_of (run, "dead_time");
  assert_close (mean_of (run, "peak_velocity"), 19.8, 1e-9);
  run_slewbench (run, "measure", "--json", "--sample-rate", "2000", "a.csv");
  assert_close (mean_of (run, "dead_time"), dead_time_s / 2, 1e-9);
  write_channels (run, "b.csv", "Model,TRACE 4\nSampling rate,2,kHz\n\n");
  run_slewbench (run, "measure", "--json", "b.csv");
  assert_status (run, 0);
  assert_says (run->err, "b.csv: no column is the time, and the lines before the table state a sample rate");
  assert_close (mean_of (run, "dead_time"), dead_time_s / 2, 1e-9);
  run_slewbench (run, "measure", "--sample-rate", "2000", "b.csv");
  assert_string_equal (run->err, "");
}

/* There is no sheet to ask in: a guess is said, once for all logs of which it is made, and no longer when it is stated.
 */
static void
guesses_are_said_once_for_logs_of_one_shape (void **state)
{
  Run *run = *state;
  write_log (run, "slope/a.csv", "Time [ms],Soll [Nm],Ist [Nm],Speed [rad/s]\n", ',');
  write_log (run, "slope/b.csv", "# run b\nTime [ms],Soll [Nm],Ist [Nm],Speed [rad/s]\n", ',');
  run_slewbench (run, "measure", "slope");
  assert_status (run, 0);
  assert_says (run->err, "a.csv and 1 more log: column 'Ist [Nm]': taken for the torque because its unit is N·m\n");
  assert_null (strstr (run->err, "b.csv"));
  assert_says (run->err, "--layout");
  run_slewbench (run, "inspect", "--as-layout", "slope/a.csv");
  write_file (run, "rig.json", run->out);
  run_slewbench (run, "measure", "--layout", "rig.json", "slope");
  assert_status (run, 0);
  assert_string_equal (run->err, "");
}

/* The second table has the same columns, and its time begins again: it is another run of the test. */
static void
table_that_is_not_read_is_said (void **state)
{
  Run *run = *state;
  g_autoptr (GString) text = g_string_new (NULL);
  for (int i = 0; i < 600; i++)
    g_string_append_printf (text, "%s%d,%d,%d\n", i % 300 == 0 ? "time_ms,command_Nm,torque_Nm\n" : "", i % 300,
                            i % 300 < 50 ? 0 : 8, CLAMP (4 * (i % 300 - 52), 0, 8));
  write_file (run, "twice.csv", text->str);
  run_slewbench (run, "measure", "twice.csv");
  assert_status (run, 0);
  assert_says (run->err, "twice.csv: the file goes on with another table (header at line 302), which is not read");
}

/* Without a second header, 200 rows of 3 N·m behind 300 of 8; the layout that inspect writes reads them. */
static void
later_recording_is_said_and_read_by_the_number_of_its_table (void **state)
{
  Run *run = *state;
  g_autoptr (GString) text = g_string_new ("time_ms,command_Nm,torque_Nm\n");
  for (int i = 0; i < 500; i++)
    g_string_append_printf (text, "%d,%d,%d\n", i % 300,
                            i % 300 < 50 ? 0
                            : i < 300    ? 8
                                         : 3,
                            CLAMP (4 * (i % 300 - 52), 0, i < 300 ? 8 : 3));
  write_file (run, "again.csv", text->str);
  write_file (run, "later.json", "{\"slewbench_layouts\": 1, \"layouts\": [{\"table\": 2, \"columns\": []}]}");
  run_slewbench (run, "measure", "again.csv");
  assert_says (run->err, "the time starts again at line 302 (table 2, 200 rows)");
  run_slewbench (run, "inspect", "--layout", "later.json", "again.csv");
  assert_status (run, 0);
  assert_says (run->out, "rows from line 302, table 2 of 2\n");
  assert_says (run->out, "rows          200 read, 0 left out\n");
  run_slewbench (run, "inspect", "--as-layout", "--layout", "later.json", "again.csv");
  assert_says (run->out, "\"table\" : 2");
}

/* 2.5 V are no torque, 4.5 V at 4 N·m/V are 8 N·m. Without the torque per volt the column is left out: status 1. */
static void
transducer_is_read_without_its_zero_and_skipped_with_status_1 (void **state)
{
  Run *run = *state;
  g_autoptr (GString) text = g_string_new ("time_ms,command_Nm,torque_V\n");
  for (int i = 0; i < 300; i++)
    g_string_append_printf (text, "%d,%d,%.1f\n", i, i < 50 ? 0 : 8, i < 53 ? 2.5 : 4.5);
  write_file (run, "volts.csv", text->str);
  run_slewbench (run, "inspect", "--torque-per-volt", "4", "--torque-zero", "2.5", "volts.csv");
  assert_status (run, 0);
  assert_says (run->out, "torque_V: torque, in V; 0 to 8 N·m; 2.5 V taken off\n");
  /* Logged with its zero taken off already: 0 V at no torque may be said, too. */
  run_slewbench (run, "inspect", "--torque-per-volt", "4", "--torque-zero", "0", "volts.csv");
  assert_status (run, 0);
  assert_says (run->out, "torque_V: torque, in V; 10 to 18 N·m; 0 V taken off\n");
  run_slewbench (run, "inspect", "volts.csv");
  assert_status (run, 1);
  run_slewbench (run, "measure", "volts.csv");
  assert_status (run, 1);
  assert_says (run->err, "(--torque-per-volt)");
}

/* The layouts are for these columns, and written otherwise than the logs: read are the 251 rows as found, with a
 * notice; where another layout of the file is followed, there is none. Points are no numbers where the comma is stated.
 */
static void
layout_that_states_another_dialect_is_said (void **state)
{
  Run *run = *state;
  write_log (run, "a.csv", "time_ms,command_Nm,torque_Nm,velocity_rad_s\n", ',');
  write_file (run, "wrong.json", "{\"name\": \"scope\", \"delimiter\": \"tab\"}");
  write_file (run, "both.json",
              "{\"slewbench_layouts\": 1, \"layouts\": [{\"delimiter\": \"tab\"}, "
              "{\"delimiter\": \"comma\"}]}");
  write_file (run, "line.json", "{\"header_line\": 900}");
  write_file (run, "decimal.json", "{\"decimal\": \"comma\"}");
  run_slewbench (run, "measure", "--layout", "wrong.json", "a.csv");
  assert_status (run, 1);
  assert_says (run->err, "a.csv: passed over is the layout 'scope': it states delimiter tab");
  assert_says (run->err, "found was delimiter comma (the header is line 1). Correct the layout");
  run_slewbench (run, "inspect", "--layout", "line.json", "a.csv");
  assert_status (run, 1);
  assert_says (run->out, "rows          251 read, 0 left out\n");
  assert_says (run->out, "it states header_line 900");
  assert_says (run->err, "--layout line.json: no layout in it was followed");
  run_slewbench (run, "inspect", "--layout", "both.json", "a.csv");
  assert_status (run, 0);
  assert_null (strstr (run->out, "passed over"));
  run_slewbench (run, "inspect", "--layout", "decimal.json", "a.csv");
  assert_error (run, 2, "The layout stated for it sets decimal comma");
}

static void
inspect_tells_what_the_logger_knew_and_a_question_once (void **state)
{
  Run *run = *state;
  write_log (run, "a.csv", "# device: Bracken\n# rotation_deg: 900\nTime [ms],Soll [Nm],Ist [Nm],v [rad/s]\n", ',');
  run_slewbench (run, "inspect", "a.csv");
  assert_says (run->out, "  device        Bracken\n");
  assert_says (run->out, "  rotation      900°\n");
  const char *question = strstr (run->out, "taken for the torque");
  assert_non_null (question);
  assert_null (strstr (question + 1, "taken for the torque"));
}

static void
every_command_takes_a_layout (void **state)
{
  Run *run = *state;
  write_both (run);
  run_slewbench (run, "chart", "-o", "chart.svg", "--layout", "rig.json", "a.csv");
  assert_status (run, 0);
  run_slewbench (run, "report", "-o", "report", "--layout", "rig.json", "a.csv");
  assert_status (run, 0);
  run_slewbench (run, "inspect", "--layout", "rig.json", "a.csv");
  assert_status (run, 0);
  assert_says (run->out, "A: time, in ms");
}

static void
layout_that_is_for_no_log_gives_status_1_and_is_said (void **state)
{
  Run *run = *state;
  write_both (run);
  write_step (run, "b.csv", 300);
  run_slewbench (run, "measure", "--layout", "rig.json", "b.csv");
  assert_status (run, 1);
  assert_says (run->err, "rig.json");
  assert_says (run->err, "for any of the logs");
  assert_says (run->out, "n = 1");
  run_slewbench (run, "inspect", "--layout", "rig.json", "b.csv");
  assert_status (run, 1);
}

static void
wrong_layout_files_and_values_are_refused (void **state)
{
  Run *run = *state;
  write_both (run);
  write_file (run, "wrong.json", "{\"delimeter\": \"tab\"}");
  run_slewbench (run, "measure", "--layout", "wrong.json", "a.csv");
  assert_error (run, 2, "wrong.json: there is no member 'delimeter'");
  run_slewbench (run, "inspect", "--layout", "none.json", "a.csv");
  assert_error (run, 2, "none.json");
  run_slewbench (run, "measure", "--sample-rate", "0", "a.csv");
  assert_error (run, 64, "--sample-rate takes a number above 0");
  run_slewbench (run, "measure", "--torque-constant", "0", "a.csv");
  assert_error (run, 64, "other than 0");
  run_slewbench (run, "measure", "--json", "--full-scale", "1e13", "a.csv");
  assert_error (run, 64,
                "--full-scale takes a number other than 0, in the SI unit of the role, from 1e-12 to 1e12 in size");
  run_slewbench (run, "measure", "--counts-per-turn", "1e-13", "a.csv");
  assert_error (run, 64, "--counts-per-turn takes a number other than 0, from 1e-12 to 1e15 in size");
  run_slewbench (run, "measure", "--torque-zero", "2e6", "a.csv");
  assert_error (run, 64, "--torque-zero takes a number, up to 1e6 in size");
  run_slewbench (run, "inspect", "--json", "--as-layout", "a.csv");
  assert_error (run, 64, "exclude each other");
}

static void
value_that_no_column_wants_gives_status_1_and_is_said (void **state)
{
  Run *run = *state;
  write_step (run, "b.csv", 300);
  run_slewbench (run, "measure", "--counts-per-turn", "4096", "b.csv");
  assert_status (run, 1);
  assert_says (run->err, "--counts-per-turn");
}

/* The torque rises to 8 under any heading: amperes at 0.5 N·m/A are 4 N·m, volts at 0.5 N·m/V, percent of 50 N·m
 * likewise. 1 kHz makes milliseconds of samples. */
static void
single_values_need_no_file (void **state)
{
  static const struct {
    const char *headings, *option, *value, *measure;
    double expected;
  } cases[] = {
    { "sample,command_Nm,torque_Nm,velocity_rad_s\n", "--sample-rate", "500", "peak_velocity", 19.8 },
    { "time_ms,command_Nm,Iq [A],velocity_rad_s\n", "--torque-constant", "0.5", "peak_torque", 4 },
    { "time_ms,command_Nm,torque [V],velocity_rad_s\n", "--torque-per-volt", "0.5", "peak_torque", 4 },
    { "time_ms,command_Nm,torque [%],velocity_rad_s\n", "--full-scale", "50", "peak_torque", 4 },
  };
  Run *run = *state;
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++) {
    write_log (run, "a.csv", cases[i].headings, ',');
    run_slewbench (run, "measure", "--json", cases[i].option, cases[i].value, "a.csv");
    assert_status (run, 0);
    assert_close (mean_of (run, cases[i].measure), cases[i].expected, 1e-9);
  }
  write_log (run, "a.csv", "sample,command_Nm,torque_Nm,velocity_rad_s\n", ',');
  run_slewbench (run, "inspect", "--json", "--sample-rate", "500", "a.csv");
  assert_says (run->out, "\"sample_interval_s\" : 0.002");
}

static void
counts_become_an_angle_by_their_number_in_a_turn (void **state)
{
  Run *run = *state;
  g_autoptr (GString) text = g_string_new ("time_ms,command_Nm,torque_Nm,angle [counts]\n");
  for (int i = 0; i <= 250; i++)
    g_string_append_printf (text, "%d,%d,%d,%d\n", i, i >= 50 ? 8 : 0, i >= 52 ? 8 : 0, MAX (0, i - 52) * 4);
  write_file (run, "a.csv", text->str);
  run_slewbench (run, "measure", "--json", "a.csv");
  assert_says (run->out, "neither a velocity nor an angle");
  run_slewbench (run, "measure", "--json", "--counts-per-turn", "4000", "a.csv");
  assert_status (run, 0);
  /* 4 counts per ms are one turn per second: 2 pi rad/s, but for what the derivative makes of the corner. */
  assert_close (mean_of (run, "mean_velocity"), 2 * 3.141592653589793, 0.3);
}

/* What a person does with it: looks, changes, gives it back. */
static void
layout_that_inspect_wrote_is_taken_back (void **state)
{
  Run *run = *state;
  write_log (run, "b.csv", "time_ms|command_Nm|torque_Nm|velocity_rad_s\n", '|');
  run_slewbench (run, "inspect", "--as-layout", "b.csv");
  assert_status (run, 0);
  assert_says (run->out, "\"delimiter\" : \"bar\"");
  assert_says (run->out, "\"unit\" : \"ms\"");
  write_file (run, "b.json", run->out);
  run_slewbench (run, "measure", "--json", "--layout", "b.json", "b.csv");
  assert_status (run, 0);
  assert_close (mean_of (run, "peak_velocity"), 19.8, 1e-9);
  /* In seconds, the logs' rows are a thousand times as far apart. */
  g_auto (GStrv) parts = g_strsplit (read_file (run, "b.json", NULL), "\"ms\"", -1);
  write_file (run, "seconds.json", keep (run, g_strjoinv ("\"s\"", parts)));
  run_slewbench (run, "inspect", "--json", "--layout", "seconds.json", "b.csv");
  assert_status (run, 0);
  assert_says (run->out, "\"sample_interval_s\" : 1.0,");
}

static void
logs_of_one_shape_give_one_layout (void **state)
{
  Run *run = *state;
  write_log (run, "a.csv", "A,B,C,D\n", ',');
  write_log (run, "b.csv", "A,B,C,D\n", ',');
  write_log (run, "c.csv", "time_ms,B,C,D\n", ',');
  run_slewbench (run, "inspect", "--as-layout", "a.csv", "b.csv", "c.csv");
  assert_status (run, 0);
  g_auto (GStrv) parts = g_strsplit (run->out, "\"signature\"", -1);
  assert_int_equal (g_strv_length (parts), 3);
}

static void
remembered_layouts_are_used_when_asked_for_alone (void **state)
{
  Run *run = *state;
  write_both (run);
  run_slewbench (run, "layouts", "import", "rig.json");
  assert_status (run, 0);
  run_slewbench (run, "measure", "a.csv");
  assert_error (run, 2, "a.csv"); /* the same command gives the same on every computer */
  run_slewbench (run, "measure", "--json", "--remembered-layouts", "a.csv");
  assert_status (run, 0);
  assert_close (mean_of (run, "peak_velocity"), 19.8, 1e-9);
}

static void
remembered_layouts_are_listed_renamed_exported_and_forgotten (void **state)
{
  Run *run = *state;
  write_both (run);
  run_slewbench (run, "layouts", "list");
  assert_status (run, 0);
  assert_string_equal (run->out, "");
  run_slewbench (run, "layouts", "import", "rig.json");
  run_slewbench (run, "layouts", "rename", "rig", "rig 2");
  assert_status (run, 0);
  run_slewbench (run, "layouts", "list");
  assert_says (run->out, "rig 2: time, command, torque, velocity");
  run_slewbench (run, "layouts", "show", "rig 2");
  assert_says (run->out, "\"name\" : \"rig 2\"");
  run_slewbench (run, "layouts", "export", "for-you.json");
  assert_status (run, 0);
  run_slewbench (run, "measure", "--layout", "for-you.json", "a.csv");
  assert_status (run, 0);
  run_slewbench (run, "layouts", "forget", "rig 2");
  assert_status (run, 0);
  run_slewbench (run, "layouts", "list");
  assert_string_equal (run->out, "");
}

static void
wrong_use_of_layouts_is_told (void **state)
{
  Run *run = *state;
  run_slewbench (run, "layouts");
  assert_error (run, 64, "list, show, rename, forget, export or import");
  run_slewbench (run, "layouts", "frobnicate");
  assert_error (run, 64, "frobnicate");
  run_slewbench (run, "layouts", "rename", "rig");
  assert_error (run, 64, "rename KEY NAME");
  run_slewbench (run, "layouts", "forget", "rig");
  assert_error (run, 2, "'rig'");
  run_slewbench (run, "layouts", "export", "x.json");
  assert_error (run, 2, "no layout is remembered");
  run_slewbench (run, "layouts", "--help");
  assert_status (run, 0);
  assert_says (run->out, "forget KEY...");
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    app_test (log_with_meaningless_headings_is_measured_by_a_layout),
    app_test (log_without_time_is_read_by_a_sample_rate),
    app_test (layout_that_states_another_dialect_is_said),
    app_test (guesses_are_said_once_for_logs_of_one_shape),
    app_test (table_that_is_not_read_is_said),
    app_test (later_recording_is_said_and_read_by_the_number_of_its_table),
    app_test (transducer_is_read_without_its_zero_and_skipped_with_status_1),
    app_test (inspect_tells_what_the_logger_knew_and_a_question_once),
    app_test (every_command_takes_a_layout),
    app_test (layout_that_is_for_no_log_gives_status_1_and_is_said),
    app_test (wrong_layout_files_and_values_are_refused),
    app_test (value_that_no_column_wants_gives_status_1_and_is_said),
    app_test (single_values_need_no_file),
    app_test (counts_become_an_angle_by_their_number_in_a_turn),
    app_test (layout_that_inspect_wrote_is_taken_back),
    app_test (logs_of_one_shape_give_one_layout),
    app_test (remembered_layouts_are_used_when_asked_for_alone),
    app_test (remembered_layouts_are_listed_renamed_exported_and_forgotten),
    app_test (wrong_use_of_layouts_is_told),
  };
  return cmocka_run_group_tests (tests, NULL, NULL);
}
