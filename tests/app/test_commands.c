/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Exit statuses, help and errors of the batch commands. */
#include "run.h"

static const char *const commands[] = { "measure", "chart", "report", "inspect" };
static const char *const layouts[]
    = { "--layout",          "--remembered-layouts", "--sample-rate", "--torque-constant",
        "--torque-per-volt", "--counts-per-turn",    "--full-scale" };

static void
help_names_every_option (void **state)
{
  static const char *const numbers[]
      = { "--reference", "--other",  "--exclude", "--slope-window", "--smoothing", "--settling-band",
          "--band",      "--band-k", "--span",    "--margin",       "--onset",     "--steps" };
  static const char *const charts[]
      = { "--panels", "--trial-lines", "--evidence", "--from",      "--to",         "--title",
          "--width",  "--height",      "--dpi",      "--font-size", "--moving-band" };
  static const char *const own[][4] = { { "--json", "--csv", "--chart", NULL },
                                        { "-o, --output", NULL },
                                        { "-o, --output", NULL },
                                        { "--json", "--as-layout", NULL } };
  Run *run = *state;
  for (gsize c = 0; c < G_N_ELEMENTS (commands); c++) {
    run_slewbench (run, commands[c], "--help");
    assert_status (run, 0);
    assert_string_equal (run->err, "");
    assert_says (run->out, commands[c]);
    for (gsize i = 0; own[c][i] != NULL; i++)
      assert_says (run->out, own[c][i]);
    for (gsize i = 0; i < G_N_ELEMENTS (layouts); i++)
      assert_says (run->out, layouts[i]);
    for (gsize i = 0; i < G_N_ELEMENTS (numbers) && strcmp (commands[c], "inspect") != 0; i++) {
      assert_says (run->out, numbers[i]);
      if (i < G_N_ELEMENTS (charts))
        assert_says (run->out, charts[i]);
    }
  }
}

static void
help_of_the_program_names_its_commands_and_the_cautions (void **state)
{
  Run *run = *state;
  run_slewbench (run, "--help");
  assert_status (run, 0);
  for (gsize c = 0; c < G_N_ELEMENTS (commands); c++)
    assert_says (run->out, commands[c]);
  assert_says (run->out, "emergency stop");
  run_slewbench (run, "--version");
  assert_status (run, 0);
  assert_true (g_str_has_prefix (run->out, "Slewbench "));
}

static void
good_logs_give_status_0_and_a_silent_stderr (void **state)
{
  Run *run = *state;
  write_step (run, "a.csv", 300);
  write_step (run, "b.csv", 310);
  run_slewbench (run, "measure", "a.csv", "b.csv");
  assert_status (run, 0);
  assert_string_equal (run->err, "");
  assert_says (run->out, "n = 2");
  run_slewbench (run, "inspect", "a.csv");
  assert_status (run, 0);
  assert_string_equal (run->err, "");
}

static void
log_left_out_gives_status_1_and_is_said (void **state)
{
  Run *run = *state;
  write_step (run, "set/a.csv", 300);
  write_file (run, "set/b.csv", "frog,toad\n1,2\n");
  run_slewbench (run, "measure", "set");
  assert_status (run, 1);
  assert_says (run->err, "left out");
  assert_says (run->err, "b.csv, line 1"); /* file and line */
  assert_says (run->err, "time_s");        /* and remedy */
  assert_says (run->out, "n = 1");
}

static void
row_left_out_gives_status_1_and_its_line_is_said (void **state)
{
  Run *run = *state;
  g_autofree char *text = NULL;
  g_file_get_contents (write_step (run, "a.csv", 300), &text, NULL, NULL);
  const char *spoiled = keep (run, g_strconcat (text, "300,8,n/a,3\n", NULL));
  g_free (g_steal_pointer (&text));
  write_file (run, "a.csv", spoiled);
  run_slewbench (run, "measure", "a.csv");
  assert_status (run, 1);
  assert_says (run->err, "a.csv: 1 row left out; the first fault is at line 302: "); /* heading and 300 rows before */
  assert_says (run->err, "'n/a' is no number");
}

static void
path_that_is_not_there_beside_one_that_is_gives_status_1 (void **state)
{
  Run *run = *state;
  write_step (run, "a.csv", 300);
  run_slewbench (run, "measure", "a.csv", "gone.csv");
  assert_status (run, 1);
  assert_says (run->err, "gone.csv");
  assert_says (run->out, "n = 1");
}

static void
nothing_usable_gives_status_2 (void **state)
{
  Run *run = *state;
  write_file (run, "words.csv", "frog,toad\n1,2\n");
  write_file (run, "empty.csv", "");
  write_file (run, "folder/notes.md", "nothing");
  write_file (run, "broken.slewbench", "{\n\n\"slewbench_session\": nonsense\n}\n");
  write_file (run, "flat.csv", "time_s,torque_Nm\n0,1\n1,1\n2,1\n3,1\n4,1\n5,1\n6,1\n7,1\n8,1\n9,1\n");
  static const struct {
    const char *input, *says;
  } cases[] = { { "words.csv", "line 1" },
                { "empty.csv", "empty.csv" },
                { "folder", ".csv" },
                { "broken.slewbench", "broken.slewbench:3" },
                { "flat.csv", "no step found" },
                { "gone.csv", "no such file" } };
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++) {
    run_slewbench (run, "measure", cases[i].input);
    assert_error (run, 2, cases[i].says);
  }
  run_slewbench (run, "inspect", "gone.csv");
  assert_error (run, 2, "gone.csv");
}

static void
output_that_cannot_be_written_gives_status_2 (void **state)
{
  Run *run = *state;
  write_step (run, "a.csv", 300);
  run_slewbench (run, "chart", "-o", "no/such/folder/a.png", "a.csv");
  assert_error (run, 2, "no/such/folder/a.png");
  run_slewbench (run, "measure", "--chart", "no/such/folder/a.png", "a.csv");
  assert_error (run, 2, "no/such/folder/a.png");
  write_file (run, "taken", "a file where the folder should be");
  run_slewbench (run, "report", "-o", "taken/report", "a.csv");
  assert_error (run, 2, "taken/report");
}

static void
wrong_use_gives_status_64_and_says_where_help_is (void **state)
{
  Run *run = *state;
  write_step (run, "a.csv", 300);
  write_step (run, "one/b.csv", 300);
  write_step (run, "two/b.csv", 300);
  static const struct {
    const char *arguments[7];
    const char *says;
  } cases[] = {
    { { "measure" }, "name a session file" },
    { { "chart", "-o", "a.png" }, "name a session file" },
    { { "report", "-o", "r" }, "name a session file" },
    { { "inspect" }, "name one or more log files" },
    { { "measure", "--bogus", "a.csv" }, "--bogus" },
    { { "measure", "--json", "--csv", "a.csv" }, "--json and --csv" },
    { { "measure", "--band", "wide", "a.csv" }, "--band" },
    { { "measure", "--span", "all", "a.csv" }, "--span" },
    { { "measure", "--slope-window", "fast", "a.csv" }, "--slope-window" },
    { { "measure", "--slope-window", "-1", "a.csv" }, "--slope-window" },
    { { "measure", "--smoothing", "-1", "a.csv" }, "--smoothing" },
    { { "measure", "--settling-band", "60", "a.csv" }, "--settling-band" },
    { { "measure", "--margin", "0", "a.csv" }, "--margin" },
    { { "measure", "--margin", "beauty=3", "a.csv" }, "beauty" },
    { { "measure", "--margin", "peak_torqe=3%", "a.csv" }, "nearest is 'peak_torque'. The keys are peak_velocity, " },
    { { "measure", "--explain", "Peak torqe", "a.csv" },
      "--explain: no measure is called 'Peak torqe'; nearest is 'peak_torque'. The keys are peak_velocity, " },
    { { "chart", "--evidence", "Peak torqe", "-o", "a.svg", "a.csv" }, "'peak_torque'. The keys are peak_velocity, " },
    { { "measure", "--margin", "dead_time=-1", "a.csv" }, "--margin" },
    { { "measure", "--margin", "dead_time=5x", "a.csv" }, "--margin" },
    { { "measure", "--verdict-level", "0.5", "a.csv" }, "--verdict-level" },
    { { "measure", "--plan", "much", "a.csv" }, "--plan" },
    { { "measure", "--band-k", "inf", "a.csv" }, "--band-k" },
    { { "measure", "--reference", "nobody", "a.csv" }, "'nobody'" },
    { { "measure", "--other", "nobody", "a.csv" }, "'nobody'" },
    { { "measure", "--exclude", "gone.csv", "a.csv" }, "'gone.csv'" },
    { { "measure", "--exclude", "gone.csv=cable", "a.csv" }, "FILE=REASON" },
    { { "chart", "-o", "a.png", "--measure=dead_tim", "a.csv" }, "'dead_tim'; nearest is 'dead_time'" },
    { { "chart", "-o", "a.png", "--measure=overshoot,x", "a.csv" }, "'x'" },
    { { "measure", "--exclude", "b.csv", "one", "two" }, "2 logs are called 'b.csv'" },
    { { "measure", "--onset", "a.csv=soon", "a.csv" }, "--onset takes" },
    { { "measure", "--onset", "gone.csv=0.1", "a.csv" }, "'gone.csv'" },
    { { "chart", "--moving-band", "0", "-o", "a.png", "a.csv" }, "--moving-band" },
    { { "mesure", "a.csv" }, "neither a command nor a file or folder called 'mesure'" },
    { { "measure", "--chart", "a.gif", "a.csv" }, "a.gif" },
    { { "chart", "a.csv" }, "-o" },
    { { "chart", "-o", "a.bmp", "a.csv" }, ".png" },
    { { "chart", "-o", "a.png", "--panels=power", "a.csv" }, "--panels" },
    { { "chart", "-o", "a.png", "--evidence=beauty", "a.csv" }, "--evidence" },
    { { "chart", "-o", "a.png", "--from=2", "--to=1", "a.csv" }, "--from" },
    { { "chart", "-o", "a.png", "--width=5", "a.csv" }, "10 to 2000 mm" },
    { { "measure", "--chart=a.png", "--dpi=5", "a.csv" }, "36 to 2400 dpi" },
    { { "report", "-o", "r", "--height=9999", "a.csv" }, "10 to 2000 mm" },
    { { "report", "a.csv" }, "-o" },
    { { "--bogus" }, "--bogus" },
  };
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++) {
    const char *const *a = cases[i].arguments;
    run_slewbench (run, a[0], a[1], a[2], a[3], a[4], a[5]);
    assert_error (run, 64, cases[i].says);
    assert_says (run->err, "--help'");
    assert_false (g_file_test (path_in (run, "a.png"), G_FILE_TEST_EXISTS));
  }
}

/* The clock is set ahead by an hour behind row 200: read all the same, and said without a layout to state it in. */
static void
clock_that_jumps_ahead_is_said_by_measure (void **state)
{
  Run *run = *state;
  g_autoptr (GString) text = g_string_new ("time_ms,command_Nm,torque_Nm\n");
  for (int row = 0; row < 300; row++)
    g_string_append_printf (text, "%d,%d,%d\n", row + (row >= 200 ? 3600000 : 0), row < 50 ? 0 : 8, row < 55 ? 0 : 8);
  write_file (run, "a.csv", text->str);
  run_slewbench (run, "measure", "a.csv");
  assert_status (run, 0);
  assert_says (run->err, "a.csv: the clock jumps ahead by 3600 s at line 202");
  assert_null (strstr (run->err, "layout"));
}

/* A counter of 16 bits, 100 µs from row to row, that begins again behind row 255: 40,036 + 100 * 255 is 65,536. */
static void
counter_that_was_followed_is_said_by_measure (void **state)
{
  Run *run = *state;
  g_autoptr (GString) text = g_string_new ("time_us,command_Nm,torque_Nm\n");
  for (int row = 0; row < 400; row++)
    g_string_append_printf (text, "%d,%d,%d\n", (40036 + 100 * row) % 65536, row < 50 ? 0 : 8, row < 55 ? 0 : 8);
  write_file (run, "a.csv", text->str);
  run_slewbench (run, "measure", "a.csv");
  assert_status (run, 0);
  assert_says (run->err, "a.csv: the time is the count of a counter of 16 bits that begins again, at line 257");
  assert_null (strstr (run->err, "layout"));
}

/* A log of 300 rows of a millisecond with the step at 50 ms ends 0.249 s behind it. */
static void
stretch_of_time_that_no_log_reaches_is_refused_with_how_far_they_do (void **state)
{
  Run *run = *state;
  write_step (run, "a.csv", 300);
  run_slewbench (run, "chart", "-o", "a.svg", "--from=50", "--to=60", "a.csv");
  assert_error (run, 2, "nothing was logged from 50 to 60 s after the onset");
  assert_says (run->err, "reach from -0.05 to 0.249 s");
  assert_says (run->err, "State --from and --to");
  assert_false (g_file_test (path_in (run, "a.svg"), G_FILE_TEST_EXISTS));
  run_slewbench (run, "chart", "-o", "a.svg", "--from=50", "a.csv");
  assert_error (run, 2, "nothing was logged from 50 s on after the onset");
  run_slewbench (run, "chart", "-o", "a.svg", "--to=-1", "a.csv");
  assert_error (run, 2, "nothing was logged up to -1 s after the onset");
  static const char *const ranges[] = { "--from=-0.01", "--to=0.1", "--to=60" };
  for (gsize i = 0; i < G_N_ELEMENTS (ranges); i++) {
    run_slewbench (run, "chart", "-o", "a.svg", ranges[i], "a.csv");
    assert_status (run, 0);
  }
  run_slewbench (run, "chart", "-o", "a.svg", "--from=-0.01", "--to=60", "a.csv");
  assert_status (run, 0);
}

static void
names_and_titles_beyond_ascii_work_in_the_plain_locale (void **state)
{
  /* Timers and continuous integration often run in the C locale. */
  Run *run = *state;
  g_subprocess_launcher_setenv (run->launcher, "LC_ALL", "C", TRUE);
  write_step (run, "set/größer/a.csv", 300);
  write_step (run, "set/kleiner/a.csv", 300);
  run_slewbench (run, "chart", "-o", "c.svg", "--title", "Größe", "--reference", "kleiner", "--other", "größer", "set");
  assert_status (run, 0);
  run_slewbench (run, "chart", "-o", "d.svg", "--title", "\xff\xfe", "set");
  assert_error (run, 64, "--title");
}

static void
exclusion_takes_the_log_out_and_keeps_the_reason (void **state)
{
  Run *run = *state;
  write_step (run, "a.csv", 300);
  write_step (run, "b.csv", 300);
  run_slewbench (run, "measure", "--json", "--exclude", "b.csv=brake = on", "a.csv", "b.csv");
  assert_status (run, 0);
  assert_says (run->out, "\"exclusion_reason\" : \"brake = on\"");
  assert_says (run->out, "\"n\" : 1,");
}

static void
log_with_an_equals_sign_in_its_name_can_be_excluded (void **state)
{
  Run *run = *state;
  write_step (run, "a.csv", 300);
  write_step (run, "slope=4.csv", 300);
  run_slewbench (run, "measure", "--json", "--exclude", "slope=4.csv", "a.csv", "slope=4.csv");
  assert_status (run, 0);
  assert_says (run->out, "\"n\" : 1,");
  run_slewbench (run, "measure", "--json", "--exclude", "slope=4.csv=rim=off", "a.csv", "slope=4.csv");
  assert_status (run, 0);
  assert_says (run->out, "\"exclusion_reason\" : \"rim=off\"");
}

static void
onset_placed_by_hand_is_used_and_named_so (void **state)
{
  Run *run = *state;
  write_step (run, "a.csv", 300);
  run_slewbench (run, "measure", "--json", "--onset", "a.csv=0.0625", "a.csv");
  assert_status (run, 0);
  assert_says (run->out, "\"onset_s\" : 0.0625");
  assert_says (run->out, "\"onset_from\" : \"hand\"");
}

/* The command holds each of the levels for 100 ms, and the torque is the command. */
static void
write_levels (Run *run, const char *name, const int *levels, int n)
{
  g_autoptr (GString) text = g_string_new ("time_s,command_Nm,torque_Nm\n");
  for (int i = 0; i < 100 * n; i++)
    g_string_append_printf (text, "%d.%03d,%d,%d\n", i / 1000, i % 1000, levels[i / 100], levels[i / 100]);
  write_file (run, name, text->str);
}

static void
steps_of_a_log_are_trials_and_that_is_said (void **state)
{
  Run *run = *state;
  write_levels (run, "pulses.csv", (const int[]){ 0, 8, 0, -8, 0, 8, 0 }, 7);
  run_slewbench (run, "measure", "pulses.csv");
  assert_status (run, 0);
  assert_string_equal (run->err, "slewbench: 3 steps of pulses.csv are a trial each.\n");
  assert_says (run->out, "n = 3");
  run_slewbench (run, "measure", "--steps", "first", "pulses.csv");
  assert_status (run, 0);
  assert_string_equal (run->err, "");
  assert_says (run->out, "n = 1");
  run_slewbench (run, "measure", "--steps", "second", "pulses.csv");
  assert_error (run, 64, "--steps takes all or first");
  run_slewbench (run, "inspect", "pulses.csv");
  assert_says (run->out, "step 3        at 0.5 s, from 0 to 8 N·m");
}

static void
step_is_named_by_its_log_and_its_number (void **state)
{
  Run *run = *state;
  write_levels (run, "pulses.csv", (const int[]){ 0, 8, 0, 8, 0, 8, 0 }, 7);
  run_slewbench (run, "measure", "--json", "--exclude", "pulses.csv@2=rim = on", "--onset", "pulses.csv@3=0.51",
                 "pulses.csv");
  assert_status (run, 0);
  assert_says (run->out, "\"exclusion_reason\" : \"rim = on\"");
  assert_says (run->out, "\"n\" : 2,");
  assert_says (run->out, "\"onset_s\" : 0.51");
  assert_says (run->out, "\"index\" : 2,");
  run_slewbench (run, "measure", "--exclude", "pulses.csv@4", "pulses.csv");
  assert_error (run, 64, "'pulses.csv' was cut into 4 steps or more");
  run_slewbench (run, "measure", "--onset", "pulses.csv=0.31", "pulses.csv"); /* of the log: it stays whole */
  assert_status (run, 0);
  assert_says (run->out, "n = 1");
}

static void
configuration_made_for_its_levels_can_be_compared (void **state)
{
  Run *run = *state;
  write_levels (run, "a/stairs.csv", (const int[]){ 0, 2, 4, 0 }, 4);
  write_levels (run, "b/stairs.csv", (const int[]){ 0, 2, 4, 0 }, 4);
  run_slewbench (run, "measure", "--reference", "a, 2 → 4 N·m", "--other", "b, 2 → 4 N·m", ".");
  assert_status (run, 0);
  assert_says (run->out, "Difference: b, 2 → 4 N·m minus a, 2 → 4 N·m.");
  run_slewbench (run, "measure", "--reference", "a, 2 → 5 N·m", ".");
  assert_error (run, 64, "'a, 2 → 5 N·m'");
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    app_test (help_names_every_option),
    app_test (help_of_the_program_names_its_commands_and_the_cautions),
    app_test (good_logs_give_status_0_and_a_silent_stderr),
    app_test (log_left_out_gives_status_1_and_is_said),
    app_test (row_left_out_gives_status_1_and_its_line_is_said),
    app_test (path_that_is_not_there_beside_one_that_is_gives_status_1),
    app_test (nothing_usable_gives_status_2),
    app_test (output_that_cannot_be_written_gives_status_2),
    app_test (wrong_use_gives_status_64_and_says_where_help_is),
    app_test (stretch_of_time_that_no_log_reaches_is_refused_with_how_far_they_do),
    app_test (clock_that_jumps_ahead_is_said_by_measure),
    app_test (counter_that_was_followed_is_said_by_measure),
    app_test (names_and_titles_beyond_ascii_work_in_the_plain_locale),
    app_test (exclusion_takes_the_log_out_and_keeps_the_reason),
    app_test (onset_placed_by_hand_is_used_and_named_so),
    app_test (steps_of_a_log_are_trials_and_that_is_said),
    app_test (step_is_named_by_its_log_and_its_number),
    app_test (configuration_made_for_its_levels_can_be_compared),
    app_test (log_with_an_equals_sign_in_its_name_can_be_excluded),
  };
  return cmocka_run_group_tests (tests, NULL, NULL);
}
