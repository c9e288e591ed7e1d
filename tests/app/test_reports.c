/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The report on paper, its data, and the foot notes of its tables. */
#include "run.h"

static void
write_set (Run *run)
{
  for (int i = 0; i < 3; i++) {
    write_step (run, keep (run, g_strdup_printf ("set/first/run-%d.csv", i)), 300 + i);
    write_step (run, keep (run, g_strdup_printf ("set/second/run-%d.csv", i)), 320 + i);
  }
}

static guint
count (const char *bytes, gsize n_bytes, const char *part)
{
  guint n = 0;
  const char *at = bytes, *end = bytes + n_bytes;
  while ((at = memmem (at, (gsize) (end - at), part, strlen (part))) != NULL) {
    at += strlen (part);
    n++;
  }
  return n;
}

/* A4 is 210 by 297 mm, in points of 1/72 in 595.276 by 841.89; Letter is 8.5 by 11 in, 612 by 792. */
static void
report_on_paper_has_the_size_asked_for (void **state)
{
  static const char *const boxes[] = { "/MediaBox [ 0 0 595.275591 841.889764 ]", "/MediaBox [ 0 0 612 792 ]" };
  Run *run = *state;
  write_set (run);
  run_slewbench (run, "report", "-o", "a4", "set");
  assert_status (run, 0);
  run_slewbench (run, "report", "-o", "letter", "--sheet", "letter", "set");
  assert_status (run, 0);
  for (gsize i = 0; i < 2; i++) {
    gsize n;
    const char *pdf = read_file (run, i == 0 ? "a4/report.pdf" : "letter/report.pdf", &n);
    assert_memory_equal (pdf, "%PDF-", 5);
    guint n_pages = count (pdf, n, "/Type /Page %");
    assert_true (n_pages >= 2);
    assert_int_equal (count (pdf, n, boxes[i]), n_pages);
    assert_true (count (pdf, n, "/Outlines") > 0);
    assert_true (count (pdf, n, "/Title (Measures)") == 1); /* of the outline */
  }
  run_slewbench (run, "report", "-o", "a5", "--sheet", "a5", "set");
  assert_error (run, 64, "--sheet takes a4 or letter.");
}

/* Skipped where there is no pdftotext (Debian: poppler-utils). */
static void
title_stands_once_on_the_first_page (void **state)
{
  Run *run = *state;
  g_autofree char *pdftotext = g_find_program_in_path ("pdftotext");
  if (pdftotext == NULL)
    skip ();
  write_set (run);
  run_slewbench (run, "report", "-o", "out", "--title", "Bramble by rim", "set");
  assert_status (run, 0);
  g_subprocess_launcher_set_cwd (run->launcher, path_in (run, "out"));
  run_program (run, (const char *const[]){ pdftotext, "-l", "1", "report.pdf", "-", NULL });
  assert_int_equal (count (run->out, strlen (run->out), "Bramble by rim"), 1); /* not on the chart, nor at the foot */
  run_program (run, (const char *const[]){ pdftotext, "-f", "2", "-l", "2", "report.pdf", "-", NULL });
  assert_int_equal (count (run->out, strlen (run->out), "Bramble by rim"), 1);
  run_program (run, (const char *const[]){ pdftotext, "chart.pdf", "-", NULL });
  assert_int_equal (count (run->out, strlen (run->out), "Bramble by rim"), 1);
}

/* A column's own name says that nobody measured it: the figure, which may be published alone, and the methods have to.
 */
static void
estimated_torque_is_told_in_the_figure_and_the_methods (void **state)
{
  static const char words[]
      = "The torque is not measured but estimated, as the name of its column 'Estimated torque [Nm]' says.";
  Run *run = *state;
  GString *log = g_string_new ("time_s,command_Nm,Estimated torque [Nm]\n");
  for (int i = 0; i < 400; i++)
    g_string_append_printf (log, "%.3f,%d,%.4f\n", i / 1000.0, i < 50 ? 0 : 8, CLAMP (0.4 * (i - 52), 0, 8));
  g_autofree char *bytes = g_string_free (log, FALSE);
  write_file (run, "set/run.csv", bytes);
  run_slewbench (run, "report", "-o", "out", "set");
  gsize n;
  assert_non_null (strstr (read_file (run, "out/methods.txt", &n), words));
  const char *svg = read_file (run, "out/chart.svg", &n);
  assert_true (count (svg, n, "not measured but estimated") > 0);
}

/* A column may be called as no keyboard can: like a mark of a figure, of a measure that there is not, or like the
 * beginning of one. Doubts quote it without the bytes that are no letters, and every output is made. */
static void
column_named_like_a_mark_is_quoted_without_it (void **state)
{
  static const struct {
    const char *column, *quoted;
  } cases[] = { { "torque_est_\x02"
                  "99;1;1\x03_Nm",
                  "torque_est_99;1;1_Nm" },
                { "torque_est_\x02_Nm", "torque_est__Nm" } };
  static const char *const outputs[] = { "methods.txt", "chart.svg", "results.json" };
  Run *run = *state;
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++) {
    GString *log = g_string_new (NULL);
    g_string_append_printf (log, "time_s,command_Nm,%s\n", cases[i].column);
    for (int k = 0; k < 400; k++)
      g_string_append_printf (log, "%.3f,%d,%.4f\n", k / 1000.0, k < 50 ? 0 : 8, CLAMP (0.4 * (k - 52), 0, 8));
    g_autofree char *bytes = g_string_free (log, FALSE);
    write_file (run, "set/run.csv", bytes);
    run_slewbench (run, "measure", "set");
    assert_status (run, 0);
    assert_non_null (strstr (run->out, cases[i].quoted));
    run_slewbench (run, "report", "-o", "out", "set");
    assert_status (run, 0);
    for (gsize k = 0; k < G_N_ELEMENTS (outputs); k++) {
      g_autofree char *path = g_strconcat ("out/", outputs[k], NULL);
      gsize n;
      const char *text = read_file (run, path, &n);
      assert_non_null (strstr (text, cases[i].quoted));
      assert_true (k == 0
                   || (count (text, n, "\x02") == 0 && count (text, n, "\x03") == 0)); /* XML may not, nor JSON */
    }
  }
}

/* The logs step by 8 N·m at 50 ms, and every repeat of a configuration has the same torque: mean 8, deviation 0, n 3.
 */
static void
curves_are_the_means_at_each_point_of_the_grid (void **state)
{
  Run *run = *state;
  write_set (run);
  run_slewbench (run, "report", "-o", "out", "set");
  assert_status (run, 0);
  gsize n;
  const char *csv = read_file (run, "out/curves/1-first.csv", &n);
  g_auto (GStrv) lines = g_strsplit (csv, "\r\n", -1);
  assert_string_equal (lines[0],
                       "time after onset [s],torque mean [N·m],torque sd [N·m],velocity mean [rad/s],velocity "
                       "sd [rad/s],n");
  assert_string_equal (lines[1], "-0.05,0,0,0,0,3");   /* the onset is the row at 50 ms */
  assert_string_equal (lines[101], "0.05,8,0,48,0,3"); /* velocity is the row's number less 52 */
  assert_string_equal (lines[300], "0.249,8,0,247,0,3");
  assert_string_equal (lines[301], ""); /* 300 rows is what the shortest log covers */
}

/* A log without a torque: each figure that needs one is a dash with the number of a note, and the note says why. */
static void
dashes_of_the_table_lead_to_their_reasons (void **state)
{
  Run *run = *state;
  g_autoptr (GString) log = g_string_new ("time_ms,command_Nm,velocity_rad_s\n");
  for (int i = 0; i < 300; i++)
    g_string_append_printf (log, "%d,%d,%d\n", i, i < 50 ? 0 : 8, MAX (0, i - 52));
  write_file (run, "set/a/run-1.csv", log->str);
  write_file (run, "set/a/run-2.csv", log->str);
  run_slewbench (run, "measure", "set/a");
  const char *row = strstr (run->out, "Peak torque [N·m]");
  assert_non_null (row);
  g_autofree char *line = g_strndup (row, strcspn (row, "\n"));
  const char *mark = strstr (line, "– [");
  assert_non_null (mark);
  guint64 number = g_ascii_strtoull (mark + strlen ("– ["), NULL, 10);
  const char *note = keep (run, g_strdup_printf ("\n[%" G_GUINT64_FORMAT "] a, ", number));
  assert_says (run->out, note);
  const char *sentence = strstr (run->out, note) + strlen (note);
  g_autofree char *told = g_strndup (sentence, strcspn (sentence, "\n"));
  assert_says (told, "peak torque");
  assert_says (told, "torque");
  assert_true (g_str_has_suffix (told, "."));
}

/* The logs are taken away, and the bundle alone gives the same figures; its files are the same wherever they lay. */
static void
bundle_opens_as_the_session_it_was_made_from (void **state)
{
  Run *run = *state;
  g_subprocess_launcher_setenv (run->launcher, "XDG_CACHE_HOME", path_in (run, "cache"), TRUE);
  write_set (run);
  run_slewbench (run, "measure", "--json", "--claim", "peak_torque>=9 N·m", "set");
  assert_status (run, 0);
  const char *figures = keep (run, g_steal_pointer (&run->out));
  run_slewbench (run, "report", "--bundle", "-o", "one.zip", "--claim", "peak_torque>=9 N·m", "set");
  assert_status (run, 0);
  assert_int_equal (g_mkdir_with_parents (path_in (run, "elsewhere"), 0755), 0);
  assert_int_equal (g_rename (path_in (run, "set"), path_in (run, "elsewhere/set")), 0);
  g_subprocess_launcher_setenv (run->launcher, "TZ", "Asia/Tokyo", TRUE);
  run_slewbench (run, "report", "--bundle", "-o", "two.zip", "--claim", "peak_torque>=9 N·m", "elsewhere/set");
  assert_status (run, 0);
  gsize n, m;
  const char *one = read_file (run, "one.zip", &n), *two = read_file (run, "two.zip", &m);
  assert_int_equal (n, m);
  assert_memory_equal (one, two, n);
  remove_folder (path_in (run, "elsewhere"));
  run_slewbench (run, "measure", "--json", "one.zip");
  assert_status (run, 0);
  assert_string_equal (run->out, figures);
  run_slewbench (run, "verify", "one.zip");
  assert_status (run, 0);
  assert_says (run->out, "Each of the 14 files at hand is, to the last byte.");
}

/* The former report had curves of two configurations, this one has those of a third. Of the former one goes, one that
 * a person changed stays and is told, a stranger's is not touched; sha256sum accepts the list, and no file of it is
 * missing. */
static void
report_into_a_used_folder_leaves_nothing_of_the_former (void **state)
{
  Run *run = *state;
  gsize n;
  write_set (run);
  run_slewbench (run, "report", "-o", "out", "set");
  assert_status (run, 0);
  const char *sums = keep (run, g_strdup (read_file (run, "out/SHA256SUMS", &n)));
  g_auto (GStrv) lines = g_strsplit (sums, "\n", -1);
  const char *curves[2] = { NULL, NULL };
  for (gsize i = 0, k = 0; lines[i] != NULL; i++)
    if (strstr (lines[i], "  curves/") != NULL && k < 2)
      curves[k++] = strstr (lines[i], "  curves/") + 2;
  assert_non_null (curves[1]);
  const char *changed = path_in (run, keep (run, g_strconcat ("out/", curves[1], NULL)));
  assert_true (g_file_set_contents (changed, "mine now", -1, NULL));
  assert_true (g_file_set_contents (path_in (run, "out/curves/of-a-stranger.csv"), "1", -1, NULL));
  assert_int_equal (g_rename (path_in (run, "set/first"), path_in (run, "set/third")), 0);
  run_slewbench (run, "report", "-o", "out", "set/third");
  assert_status (run, 0);
  assert_says (run->err, curves[1]);
  assert_says (run->err, "was changed since");
  assert_false (g_file_test (path_in (run, keep (run, g_strconcat ("out/", curves[0], NULL))), G_FILE_TEST_EXISTS));
  assert_string_equal (read_file (run, keep (run, g_strconcat ("out/", curves[1], NULL)), &n), "mine now");
  assert_true (g_file_test (path_in (run, "out/curves/of-a-stranger.csv"), G_FILE_TEST_EXISTS));
  g_subprocess_launcher_set_cwd (run->launcher, path_in (run, "out"));
  run_program (run, (const char *const[]){ "sha256sum", "--strict", "-c", "SHA256SUMS", NULL });
  assert_status (run, 0);
}

/* A report into the folder of a file says so, and leaves the file, and writes nothing. */
static void
assert_refused (Run *run, const char *folder, const char *name, const char *text, const char *message)
{
  gsize n;
  const char *file = keep (run, g_build_filename (folder, name, NULL));
  const char *page = keep (run, g_build_filename (folder, "report.html", NULL));
  gboolean has_page = g_file_test (path_in (run, page), G_FILE_TEST_EXISTS);
  assert_int_equal (g_mkdir_with_parents (path_in (run, folder), 0755), 0);
  assert_true (g_file_set_contents (path_in (run, file), text, -1, NULL));
  run_slewbench (run, "report", "-o", folder, "set");
  assert_error (run, 2, message);
  assert_string_equal (read_file (run, file, &n), text);
  assert_int_equal (g_file_test (path_in (run, page), G_FILE_TEST_EXISTS), has_page);
}

static void
list_of_checksums_of_somebody_else_is_not_lost (void **state)
{
  Run *run = *state;
  write_set (run);
  assert_refused (run, "out", "SHA256SUMS", "0000  discs\n",
                  "is a list of checksums that no report wrote, and would be lost. Choose another folder");
}

/* A file of a name that the report would write, a person's own or one of a former report with a line added. */
static void
file_that_no_report_wrote_is_not_written_over (void **state)
{
  Run *run = *state;
  gsize n;
  write_set (run);
  assert_refused (run, "mine", "methods.txt", "my notes",
                  "methods.txt is not as a report wrote it, and would be lost. Move it away");
  run_slewbench (run, "report", "-o", "out", "set");
  assert_status (run, 0);
  const char *noted = keep (run, g_strconcat (read_file (run, "out/methods.txt", &n), "And it rained.\n", NULL));
  assert_refused (run, "out", "methods.txt", noted, "methods.txt is not as a report wrote it");
}

/* It is written beside its place: nothing else is left there, and what has no place is told with its name. */
static void
bundle_leaves_nothing_beside_it (void **state)
{
  Run *run = *state;
  write_set (run);
  assert_int_equal (g_mkdir_with_parents (path_in (run, "out"), 0755), 0);
  run_slewbench (run, "report", "--bundle", "-o", "out/one.zip", "set");
  assert_status (run, 0);
  g_autoptr (GDir) folder = g_dir_open (path_in (run, "out"), 0, NULL);
  assert_string_equal (g_dir_read_name (folder), "one.zip");
  assert_null (g_dir_read_name (folder));
  run_slewbench (run, "report", "--bundle", "-o", "nowhere/one.zip", "set");
  assert_error (run, 2, "The archive nowhere/one.zip was not written: the folder ");
  assert_says (run->err, "/nowhere is not there. Choose another folder or name");
}

static void
bundle_that_is_no_archive_is_refused (void **state)
{
  Run *run = *state;
  g_subprocess_launcher_setenv (run->launcher, "XDG_CACHE_HOME", path_in (run, "cache"), TRUE);
  write_set (run);
  write_file (run, "bad.zip", "no archive");
  run_slewbench (run, "measure", "bad.zip");
  assert_error (run, 2, "bad.zip: ");
  run_slewbench (run, "report", "--bundle", "-o", "folder", "set");
  assert_error (run, 64, "a bundle is a ZIP archive");
}

/* Noise and ringing are alike in both: what is said of either is said of both at once. */
static void
what_holds_for_several_configurations_is_said_once (void **state)
{
  Run *run = *state;
  write_set (run);
  run_slewbench (run, "report", "-o", "out", "set");
  gsize n;
  const char *table = read_file (run, "out/measures.txt", &n);
  g_auto (GStrv) lines = g_strsplit (table, "\n", -1);
  guint n_notes = 0;
  for (gsize i = 0; lines[i] != NULL; i++)
    if (g_str_has_prefix (lines[i], "[")) {
      n_notes++;
      assert_true (strstr (lines[i], "] first and second, ") != NULL || strstr (lines[i], "] Comparison, ") != NULL);
    }
  assert_true (n_notes > 0);
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    app_test (report_on_paper_has_the_size_asked_for),
    app_test (title_stands_once_on_the_first_page),
    app_test (estimated_torque_is_told_in_the_figure_and_the_methods),
    app_test (column_named_like_a_mark_is_quoted_without_it),
    app_test (curves_are_the_means_at_each_point_of_the_grid),
    app_test (bundle_opens_as_the_session_it_was_made_from),
    app_test (bundle_that_is_no_archive_is_refused),
    app_test (report_into_a_used_folder_leaves_nothing_of_the_former),
    app_test (file_that_no_report_wrote_is_not_written_over),
    app_test (list_of_checksums_of_somebody_else_is_not_lost),
    app_test (bundle_leaves_nothing_beside_it),
    app_test (dashes_of_the_table_lead_to_their_reasons),
    app_test (what_holds_for_several_configurations_is_said_once),
  };
  return cmocka_run_group_tests (tests, NULL, NULL);
}
