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
      = { "out/chart.png", "out/chart.svg", "out/chart.pdf", "out/report.html", "out/report.pdf", "out" };
  for (gsize i = 0; i < G_N_ELEMENTS (files); i++) {
    run_slewbench (run, "verify", files[i], "--logs", "set");
    assert_status (run, 0);
    assert_says (run->out, "All 6 logs at hand are the same");
    assert_says (run->out, "second <new> & τ (3 repeats)");
    assert_says (run->out, "Picture: Drawn again, it is the same.");
    assert_says (run->out, "Same: these logs and choices give these figures and this picture.");
  }
  run_slewbench (run, "verify", "out/results.json", "--logs", "set");
  assert_status (run, 0);
  assert_says (run->out, "Same: these logs and choices give these figures.");
}

/* Where the chunk with the proof begins in a PNG, and how long it is with its length, type and checksum. */
static const char *
proof_chunk (const char *png, gsize n, gsize *length)
{
  const char *keyword = memmem (png, n, "Slewbench proof", strlen ("Slewbench proof"));
  assert_non_null (keyword);
  guint32 data;
  memcpy (&data, keyword - 8, sizeof data);
  *length = GUINT32_FROM_BE (data) + 12;
  return keyword - 8;
}

static void
write_bytes (Run *run, const char *name, GByteArray *bytes)
{
  assert_true (g_file_set_contents (path_in (run, name), (const char *) bytes->data, (gssize) bytes->len, NULL));
  g_byte_array_unref (bytes);
}

/* A picture with other bands under the proof of a true one: its figures follow from the logs, its pixels do not. */
static void
verify_sees_that_a_png_is_not_the_picture_of_its_proof (void **state)
{
  Run *run = *state;
  write_set (run, "set");
  run_slewbench (run, "chart", "-o", "set/true.png", "--dpi", "72", "set");
  run_slewbench (run, "chart", "-o", "set/other.png", "--dpi", "72", "--title", "Other", "set");
  gsize n_true, n_other, n_proof, n_own;
  const char *one = read_file (run, "set/true.png", &n_true), *other = read_file (run, "set/other.png", &n_other);
  const char *proof = proof_chunk (one, n_true, &n_proof), *own = proof_chunk (other, n_other, &n_own);
  GByteArray *mixed = g_byte_array_new ();
  g_byte_array_append (mixed, (const guint8 *) other, (guint) (own - other));
  g_byte_array_append (mixed, (const guint8 *) proof, (guint) n_proof);
  g_byte_array_append (mixed, (const guint8 *) own + n_own, (guint) (n_other - (gsize) (own - other) - n_own));
  write_bytes (run, "set/mixed.png", mixed);
  run_slewbench (run, "verify", "set/mixed.png");
  assert_status (run, 1);
  assert_says (run->out, "Figures: All 51 figures come out the same");
  assert_says (run->out, "Picture: It is not what the choices give.");
  assert_says (run->out, " pixels differ, within ");
  assert_says (run->out, "but what is shown is not what they give.");
}

/* The file with the last `old` in it replaced by `with`, which is as long. */
static void
change_file (Run *run, const char *name, const char *old, const char *with)
{
  gsize n;
  const char *bytes = read_file (run, name, &n);
  g_autofree char *changed = g_memdup2 (bytes, n);
  char *at = NULL;
  for (char *next = changed; (next = memmem (next, n - (gsize) (next - changed), old, strlen (old))) != NULL; next++)
    at = next;
  assert_non_null (at);
  memcpy (at, with, strlen (with));
  assert_true (g_file_set_contents (path_in (run, name), changed, (gssize) n, NULL));
}

/* One figure of a table, one line of a drawing, one letter of a CSV; the proof inside stays as it was. */
static void
verify_names_the_part_that_was_changed (void **state)
{
  Run *run = *state;
  write_set (run, "set");
  run_slewbench (run, "report", "-o", "out", "set");
  assert_status (run, 0);
  change_file (run, "out/chart.svg", " d=\"M", " d=\"m");
  run_slewbench (run, "verify", "out/chart.svg", "--logs", "set");
  assert_status (run, 1);
  assert_says (run->out, "The first of 1 other element is number ");
  change_file (run, "out/report.html", "sample standard deviation", "simple standard deviation");
  run_slewbench (run, "verify", "out/report.html", "--logs", "set");
  assert_status (run, 1);
  assert_says (run->out, " simple standard deviation");
  change_file (run, "out/measures.csv", "peak_velocity", "Peak_velocity");
  run_slewbench (run, "verify", "out", "--logs", "set");
  assert_status (run, 1);
  assert_says (run->out, "3 of 14 files of the report are not what the logs give.");
  assert_says (run->out, "measures.csv: It has other text from line 19 on."); /* the second of 17 measures each */
}

/* A digit of a figure in the proof of the page, and a letter of a table beside it: the logs are as they were, nothing
 * can be made again, and the folder's own list of checksums tells the files that were touched. */
static void
verify_of_an_edited_proof_gives_the_edit_as_the_reason (void **state)
{
  Run *run = *state;
  write_set (run, "set");
  run_slewbench (run, "report", "-o", "out", "set");
  assert_status (run, 0);
  gsize n;
  const char *page = read_file (run, "out/report.html", &n);
  const char *proof = strstr (page, "id=\"slewbench-proof\"");
  assert_non_null (proof);
  const char *mean = strstr (strstr (proof, "\"figures\":["), "\"mean\":");
  assert_non_null (mean);
  char *edited = g_strdup (page);
  char *digit = edited + (mean - page) + strlen ("\"mean\":");
  digit += *digit == '-' ? 1 : 0;
  *digit = *digit == '9' ? '8' : (char) (*digit + 1);
  write_file (run, "out/report.html", keep (run, edited));
  change_file (run, "out/measures.md", "elocity", "Elocity");
  run_slewbench (run, "verify", "out", "--logs", "set");
  assert_status (run, 1);
  assert_says (run->out, "All 6 logs at hand are the same");
  assert_says (run->out, "Picture: It is not as it was written. ");
  assert_says (run->out, "Nothing was made again. The proof's text was edited: ");
  assert_null (strstr (run->out, "The logs at hand are not those"));
  assert_says (run->out, "2 of the 13 files that SHA256SUMS lists are not as they were when it was written: "
                         "measures.md, report.html.");
}

/* A table edited beside a proof that is as it was, where a log is gone: the folder's list of checksums still tells. */
static void
verify_finds_an_edited_table_without_all_logs (void **state)
{
  Run *run = *state;
  write_set (run, "set");
  run_slewbench (run, "report", "-o", "out", "set");
  assert_status (run, 0);
  assert_int_equal (g_unlink (path_in (run, "set/first/run-2.csv")), 0);
  run_slewbench (run, "verify", "out", "--logs", "set");
  assert_status (run, 1);
  assert_says (run->out, "Not all logs that it was drawn from are at hand. All 13 files that SHA256SUMS lists are as");
  change_file (run, "out/measures.md", "elocity", "Elocity");
  run_slewbench (run, "verify", "out", "--logs", "set");
  assert_status (run, 1);
  assert_says (run->out, "1 of the 13 files that SHA256SUMS lists is not as it was when it was written: measures.md.");
  assert_says (run->out, "Not decided: files of the report were changed after it was written, and ");
}

/* Where a log could not be read at first, the report tells why and is not made again: an edited table is found. */
static void
verify_finds_an_edited_table_beside_an_unread_log (void **state)
{
  Run *run = *state;
  write_set (run, "set");
  write_file (run, "set/first/run-9.csv", "no log\n");
  run_slewbench (run, "report", "-o", "out", "set");
  assert_int_equal (g_unlink (path_in (run, "set/first/run-9.csv")), 0);
  run_slewbench (run, "verify", "out", "--logs", "set");
  assert_status (run, 0);
  change_file (run, "out/measures.md", "elocity", "Elocity");
  run_slewbench (run, "verify", "out", "--logs", "set");
  assert_status (run, 1);
  assert_says (run->out, "Different: files of the report were changed after it was written, although the figures come "
                         "out the same.");
}

/* One full stop ends what is said, whether the reason has one or not. */
static void
verify_ends_its_sentences_once (void **state)
{
  Run *run = *state;
  write_file (run, "later.json", "{\"slewbench_proof\": 7}");
  run_slewbench (run, "verify", "later.json");
  assert_error (run, 2, "Use a later version.");
  assert_null (strstr (run->err, ".."));
  write_file (run, "other.svg", "<svg/>");
  run_slewbench (run, "verify", "other.svg");
  assert_error (run, 2, "another program took it out.\n");
}

static void
verify_of_a_folder_needs_a_report_in_it (void **state)
{
  Run *run = *state;
  write_set (run, "set");
  run_slewbench (run, "verify", "set");
  assert_error (run, 2, "there is no report in this folder");
  run_slewbench (run, "report", "-o", "out", "--sheet", "letter", "set");
  assert_status (run, 0);
  assert_int_equal (g_unlink (path_in (run, "out/measures.md")), 0);
  run_slewbench (run, "verify", "out", "--logs", "set");
  assert_status (run, 0);
  assert_says (run->out, "Each of the 13 files at hand is, to the last byte. Missing: measures.md.");
}

/* Where one log is another and one is gone, nobody knows whether all figures would come out. */
static void
verify_leaves_open_what_missing_logs_leave_open (void **state)
{
  Run *run = *state;
  write_set (run, "set");
  run_slewbench (run, "chart", "-o", "figure.svg", "set");
  g_autofree char *last = g_build_filename (run->folder, "set/first/run-2.csv", NULL);
  assert_int_equal (g_unlink (last), 0);
  gsize n;
  const char *bytes = read_file (run, "set/second <new> & τ/run-1.csv", &n);
  write_file (run, "set/second <new> & τ/run-1.csv", keep (run, g_strconcat (bytes, "\n", NULL)));
  run_slewbench (run, "verify", "figure.svg", "--logs", "set");
  assert_status (run, 1);
  assert_says (run->out, "Not decided: a log at hand is not the one used, and ");
  assert_says (run->out, "could not be checked because logs are missing");
  assert_null (strstr (run->out, "although the figures come out the same"));
}

/* Claims, drive models, margins, levels and plans are choices, and their outcomes are facts of the proof. */
static void
proof_covers_every_judgement (void **state)
{
  Run *run = *state;
  write_set (run, "set");
  run_slewbench (run, "chart", "-o", "figure.svg", "--claim", "peak_torque>=9 N·m", "--drive-model", "--plan", "5",
                 "--margin", "peak_torque=2%", "--verdict-level", "0.01", "set");
  assert_status (run, 0);
  run_slewbench (run, "verify", "figure.svg", "--logs", "set");
  assert_status (run, 0);
  assert_says (run->out, " facts of the judgements (settings, stated figures, drive models, plans).");
  assert_says (run->out, "verdict level 0.01");
  assert_says (run->out, "1 stated figure is checked");
  gsize n;
  const char *svg = read_file (run, "figure.svg", &n);
  assert_says (svg, "\"claims\":[{\"measure\":\"peak_torque\"");
  assert_says (svg, "\"drive_models\":[{\"configuration\":\"first\"");
  assert_says (svg, "\"planner\":{");
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
  assert_error (run, 2, "there is no report in this folder");
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
  run_slewbench (run, "chart", "-o", "set/figure.png", "--size=column", "--height=50", "--ground=transparent", "--grey",
                 "--legend=right", "--no-foot-line", "--labels=peaks,ringing", "set");
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
  assert_says (
      run->out,
      "width 85 mm; height 50 mm; dpi 600; font 7 pt; ground “transparent”; grey on; legend “right”; foot line off.");
  assert_says (run->out, "labels “peaks”, “ringing”;");
  run_slewbench (run, "chart", "-o", "wide.png", "--size", "frame-2160", "set");
  assert_status (run, 0);
  png = read_file (run, "wide.png", &n);
  memcpy (size, png + 16, sizeof size);
  assert_int_equal (GUINT32_FROM_BE (size[0]), 3840);
  assert_int_equal (GUINT32_FROM_BE (size[1]), 2160);
  run_slewbench (run, "chart", "-o", "a.png", "--size", "poster", "set");
  assert_error (run, 64, "--size takes column, page, page-175, frame, frame-2160 or square.");
  run_slewbench (run, "chart", "-o", "a.png", "--ground", "pink", "set");
  assert_error (run, 64, "--ground takes white, dark, transparent or transparent-dark.");
  run_slewbench (run, "chart", "-o", "a.png", "--legend", "left", "set");
  assert_error (run, 64, "--legend takes above, below, right or none.");
  run_slewbench (run, "chart", "-o", "a.png", "--labels", "peaks,valleys", "set");
  assert_error (run, 64,
                "--labels takes peaks, slope, overshoot and ringing, with commas between them, or all or none.");
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
    app_test (verify_sees_that_a_png_is_not_the_picture_of_its_proof),
    app_test (verify_names_the_part_that_was_changed),
    app_test (verify_of_an_edited_proof_gives_the_edit_as_the_reason),
    app_test (verify_finds_an_edited_table_without_all_logs),
    app_test (verify_finds_an_edited_table_beside_an_unread_log),
    app_test (verify_ends_its_sentences_once),
    app_test (verify_of_a_folder_needs_a_report_in_it),
    app_test (verify_leaves_open_what_missing_logs_leave_open),
    app_test (proof_covers_every_judgement),
    app_test (same_logs_give_the_same_file_wherever_they_lie),
    app_test (verify_tells_missing_and_changed_logs_by_its_status),
    app_test (verify_tells_a_file_without_a_proof_by_its_status),
    app_test (verify_follows_the_choices_in_the_figure),
    app_test (paper_is_a_choice_that_the_chart_carries),
    app_test (verify_writes_json),
  };
  return cmocka_run_group_tests (tests, NULL, NULL);
}
