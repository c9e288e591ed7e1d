/* SPDX-License-Identifier: GPL-3.0-or-later */
/* --audit and --claim, as a person gives them. */
#include "run.h"

static void
write_set (Run *run)
{
  for (int i = 0; i < 3; i++) {
    write_step (run, keep (run, g_strdup_printf ("set/first/run-%d.csv", i)), 300 + i);
    write_step (run, keep (run, g_strdup_printf ("set/second/run-%d.csv", i)), 320 + i);
  }
}

static void
stated_figure_is_checked_in_the_table (void **state)
{
  Run *run = *state;
  write_set (run);
  run_slewbench (run, "measure", "--claim", "second: peak_torque at least 1 N·m", "set");
  assert_status (run, 0);
  assert_says (run->out, "Stated of second: Peak torque at least 1 N·m: ");
}

static void
stated_figure_of_nothing_is_said (void **state)
{
  Run *run = *state;
  write_set (run);
  run_slewbench (run, "measure", "--claim", "thrid: peak_torque >= 1 N·m", "set");
  assert_status (run, 1);
  assert_says (run->err, "no usable trial is of thrid (device)");
}

static void
stated_figure_in_a_wrong_unit_is_a_wrong_use (void **state)
{
  Run *run = *state;
  write_set (run);
  run_slewbench (run, "measure", "--claim", "peak_torque >= 1 ms", "set");
  assert_error (run, 64, "--claim: Peak torque is stated in N·m");
}

static void
named_setting_that_nobody_states_cannot_be_told (void **state)
{
  Run *run = *state;
  write_set (run);
  run_slewbench (run, "measure", "--audit", "torque slope", "set");
  assert_status (run, 1);
  assert_says (run->out, "Audit of torque slope: cannot tell");
  assert_says (run->out, "there is none");
  assert_says (run->err, "'torque slope' cannot be audited: no log states such a setting");
  run_slewbench (run, "measure", "--audit", "", "set");
  assert_error (run, 64, "--audit takes the name of a setting");
}

static void
range_of_rotation_is_audited_when_named (void **state)
{
  Run *run = *state;
  run_slewbench (run, "measure", "--audit", "rotation range", demo (run, "Bracken slope 2.0"));
  assert_status (run, 0);
  assert_says (run->out, "Audit of rotation range: cannot tell");
}

static void
report_tells_verdicts_and_reasons (void **state)
{
  Run *run = *state;
  write_set (run);
  run_slewbench (run, "report", "-o", "report", "--claim", "second: peak_torque >= 1 N·m", "--audit", "slope & <more>",
                 "set");
  assert_status (run, 1);
  gsize n;
  const char *html = read_file (run, "report/report.html", &n);
  assert_says (html, "<h3>slope &amp; &lt;more&gt;: cannot tell</h3>");
  assert_says (html, "<h3>second: Peak torque at least 1 N·m: ");
}

/* People read the person's words; programs read the usual ones. */
static void
verdicts_are_shown_in_a_person_s_words (void **state)
{
  Run *run = *state;
  run_slewbench (run, "report", "-o", "report", "--verdict-word", "reached=erreicht", "--verdict-word",
                 "cannot tell= offen ", "--claim", "peak_torque <= 100 N·m", "--audit", "filter",
                 demo (run, "Bracken slope 2.0"));
  assert_status (run, 1);
  gsize n;
  const char *html = read_file (run, "report/report.html", &n);
  assert_says (html, "Peak torque at most 100 N·m: erreicht");
  assert_says (html, "<h3>filter: offen</h3>");
  const char *methods = read_file (run, "report/methods.txt", &n);
  assert_says (methods, "“offen” stands for “cannot tell” and “erreicht” stands for “reached”.");
  const char *json = read_file (run, "report/results.json", &n);
  assert_says (json, "\"verdict\" : \"reached\"");
  assert_says (json, "\"reached\" : \"erreicht\"");
}

static void
wrong_words_of_a_verdict_are_a_wrong_use (void **state)
{
  Run *run = *state;
  write_set (run);
  run_slewbench (run, "measure", "--verdict-word", "differs", "set");
  assert_error (run, 64, "--verdict-word takes VERDICT=WORDS");
  run_slewbench (run, "measure", "--verdict-word", "maybe=perhaps", "set");
  assert_error (run, 64, "'maybe' is no verdict; these are: differs; practically equal; undecided; ");
  run_slewbench (run, "measure", "--verdict-word", "differs=practically equal", "set");
  assert_error (run, 64, "two verdicts are 'practically equal'; each needs a word of its own");
  run_slewbench (run, "measure", "--verdict-word", "differs=a\033[1mb", "set");
  assert_error (run, 64, "a verdict has up to 60 characters on one line");
  run_slewbench (run, "measure", "--verdict-word", "differs=a\nb", "set");
  assert_error (run, 64, "a verdict has up to 60 characters on one line");
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    app_test (stated_figure_is_checked_in_the_table),        app_test (stated_figure_of_nothing_is_said),
    app_test (stated_figure_in_a_wrong_unit_is_a_wrong_use), app_test (named_setting_that_nobody_states_cannot_be_told),
    app_test (range_of_rotation_is_audited_when_named),      app_test (report_tells_verdicts_and_reasons),
    app_test (verdicts_are_shown_in_a_person_s_words),       app_test (wrong_words_of_a_verdict_are_a_wrong_use),
  };
  return cmocka_run_group_tests (tests, NULL, NULL);
}
