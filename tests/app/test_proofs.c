/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Charts and reports that carry their proof, and `verify`, which checks it. */
#include "run.h"

static void
write_set (Run *run, const char *above)
{
  for (int i = 0; i < 3; i++) {
    write_step (run, keep (run, g_strdup_printf ("%s/first/run-%d.csv", above, i)), 300 + i);
    write_step (run, keep (run, g_strdup_printf ("%s/second <new> & τ/run-%d.csv", above, i)), 320 + i);
  }
}

static const char *const formats[] = { "png", "svg", "pdf" };

static void
verify_says_the_same_for_each_kind_of_file (void **state)
{
  Run *run = *state;
  write_set (run, "set");
  run_slewbench (run, "report", "-o", "out", "set");
  assert_status (run, 0);
  static const char *const files[]
      = { "out/chart.png", "out/chart.svg", "out/chart.pdf", "out/results.json", "out/report.html" };
  for (gsize i = 0; i < G_N_ELEMENTS (files); i++) {
    run_slewbench (run, "verify", files[i], "--logs", "set");
    assert_status (run, 0);
    assert_says (run->out, "All 6 logs at hand are the same");
    assert_says (run->out, "second <new> & τ (3 repeats)");
    assert_says (run->out, "Same: these logs and choices give these figures.");
  }
}

/* Two runs, from two folders, into two folders. */
static void
same_logs_give_the_same_file_wherever_they_lie (void **state)
{
  Run *run = *state;
  write_set (run, "set");
  write_set (run, "copy/of a/set");
  for (gsize i = 0; i < G_N_ELEMENTS (formats); i++) {
    const char *one = keep (run, g_strdup_printf ("one.%s", formats[i]));
    const char *two = keep (run, g_strdup_printf ("copy/two.%s", formats[i]));
    run_slewbench (run, "chart", "-o", one, "set/first", "set/second <new> & τ");
    assert_status (run, 0);
    run_slewbench (run, "chart", "-o", two, "copy/of a/set/first", "copy/of a/set/second <new> & τ");
    assert_status (run, 0);
    gsize n_one = 0, n_two = 0;
    const char *first = read_file (run, one, &n_one), *second = read_file (run, two, &n_two);
    assert_int_equal (n_one, n_two);
    assert_memory_equal (first, second, n_one);
  }
}

/* What a status of 1 is for: something is missing, or one bit of one log differs. */
static void
verify_tells_missing_and_changed_logs_by_its_status (void **state)
{
  Run *run = *state;
  write_set (run, "set");
  run_slewbench (run, "chart", "-o", "figure.svg", "set");
  assert_status (run, 0);
  run_slewbench (run, "verify", "figure.svg");
  assert_status (run, 1);
  assert_says (run->out, "first/run-0.csv: not found");
  assert_says (run->out, "Not decided: no log was found.");

  gsize n = 0;
  g_autofree char *bytes = g_strdup (read_file (run, "set/first/run-1.csv", &n));
  bytes[n - 2] ^= 1; /* the last digit before the last line end */
  write_file (run, "set/first/run-1.csv", bytes);
  run_slewbench (run, "verify", "--logs", "set", "figure.svg");
  assert_status (run, 1);
  assert_says (run->out, "first/run-1.csv: as long as the log used, but with other content");
  assert_says (run->out, "Of 6 logs, 5 are the same, 1 has other content than the one used.");
}

static void
verify_tells_a_file_without_a_proof_by_its_status (void **state)
{
  Run *run = *state;
  write_file (run, "other.svg", "<svg xmlns=\"http://www.w3.org/2000/svg\"/>");
  run_slewbench (run, "verify", "other.svg");
  assert_error (run, 2, "other.svg: there is no proof inside");
  run_slewbench (run, "verify", "missing.png");
  assert_error (run, 2, "missing.png: No such file");
  run_slewbench (run, "verify", ".");
  assert_error (run, 2, "it is no file");
  run_slewbench (run, "verify");
  assert_error (run, 64, "name one file");
  run_slewbench (run, "verify", "other.svg", "--logs", "nowhere");
  assert_error (run, 64, "there is no folder nowhere");
}

/* The choices are in the figure: what was asked for on the command line comes out again. */
static void
verify_follows_the_choices_in_the_figure (void **state)
{
  Run *run = *state;
  write_set (run, "set");
  run_slewbench (run, "chart", "-o", "set/figure.pdf", "--slope-window", "9", "--evidence", "peak_torque_slope",
                 "--exclude", "set/first/run-2.csv=touched", "set/first", "set/second <new> & τ");
  assert_status (run, 0);
  run_slewbench (run, "verify", "set/figure.pdf");
  assert_status (run, 0);
  assert_says (run->out, "first (2 of 3 repeats; run-2.csv left out: touched)");
  assert_says (run->out, "slope window 9 ms");
  assert_says (run->out, "The chart marks where this comes from: Peak torque slope.");
}

/* 85 mm at 600 dpi are 85 / 25.4 * 600 = 2007.9 pixels; what is asked for beside a size goes before it. */
static void
paper_is_a_choice_that_the_chart_carries (void **state)
{
  Run *run = *state;
  write_set (run, "set");
  run_slewbench (run, "chart", "-o", "set/figure.png", "--size", "column", "--height", "50", "--ground", "transparent",
                 "--grey", "set");
  assert_status (run, 0);
  gsize n = 0;
  const char *png = read_file (run, "set/figure.png", &n);
  guint32 size[2];
  memcpy (size, png + 16, sizeof size);
  assert_int_equal (GUINT32_FROM_BE (size[0]), 2008);
  assert_int_equal (GUINT32_FROM_BE (size[1]), 1181);
  assert_int_equal (png[25], 6); /* colour type 6: with alpha (PNG specification, 11.2.2) */
  run_slewbench (run, "verify", "set/figure.png");
  assert_status (run, 0);
  assert_says (run->out, "width 85 mm; height 50 mm; dpi 600; font 7 pt; ground “transparent”; grey on.");
  run_slewbench (run, "chart", "-o", "a.png", "--size", "poster", "set");
  assert_error (run, 64, "--size takes column, page, page-175 or frame.");
  run_slewbench (run, "chart", "-o", "a.png", "--ground", "pink", "set");
  assert_error (run, 64, "--ground takes white, dark or transparent.");
}

static void
verify_writes_json (void **state)
{
  Run *run = *state;
  write_set (run, "set");
  run_slewbench (run, "chart", "-o", "set/figure.png", "set");
  run_slewbench (run, "verify", "--json", "set/figure.png");
  assert_status (run, 0);
  assert_true (json_parser_load_from_data (run->parser, run->out, -1, NULL));
  JsonObject *root = json_node_get_object (json_parser_get_root (run->parser));
  assert_true (json_object_get_boolean_member (root, "same"));
  assert_int_equal (json_array_get_length (json_object_get_array_member (root, "logs")), 6);
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    app_test (verify_says_the_same_for_each_kind_of_file),
    app_test (same_logs_give_the_same_file_wherever_they_lie),
    app_test (verify_tells_missing_and_changed_logs_by_its_status),
    app_test (verify_tells_a_file_without_a_proof_by_its_status),
    app_test (verify_follows_the_choices_in_the_figure),
    app_test (paper_is_a_choice_that_the_chart_carries),
    app_test (verify_writes_json),
  };
  return cmocka_run_group_tests (tests, NULL, NULL);
}
