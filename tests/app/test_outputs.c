/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the batch commands write: JSON, CSV, charts, the report. */
#include "run.h"

static void
write_set (Run *run)
{
  for (int i = 0; i < 3; i++) {
    write_step (run, keep (run, g_strdup_printf ("set/first, \"old\"/run-%d.csv", i)), 300 + i);
    write_step (run, keep (run, g_strdup_printf ("set/second <new> & more/run-%d.csv", i)), 320 + i);
  }
}

static void
json_parses_and_is_the_same_twice (void **state)
{
  Run *run = *state;
  write_set (run);
  run_slewbench (run, "measure", "--json", "set");
  assert_status (run, 0);
  assert_string_equal (run->err, "");
  assert_true (json_parser_load_from_data (run->parser, run->out, -1, NULL));
  JsonObject *root = json_node_get_object (json_parser_get_root (run->parser));
  assert_int_equal (json_array_get_length (json_object_get_array_member (root, "configurations")), 2);
  const char *first = keep (run, g_steal_pointer (&run->out));
  run_slewbench (run, "measure", "--json", "set");
  assert_string_equal (run->out, first);
}

/* glibc has functions of double of its own for processors with a fused multiply-add, that round the last bit otherwise;
 * GLIBC_TUNABLES hides that from it (manual of the GNU C library, 'Hardware Capability Tunables'). The demo rings, so
 * that its figures come out of fits that go through them. (A processor without has nothing to hide.) */
static void
json_is_the_same_on_a_processor_without_fused_multiply_add (void **state)
{
  Run *run = *state;
  const char *bench = demo (run, "demo.slewbench");
  run_slewbench (run, "measure", "--json", bench);
  const char *first = keep (run, g_steal_pointer (&run->out));
  g_subprocess_launcher_setenv (run->launcher, "GLIBC_TUNABLES", "glibc.cpu.hwcaps=-FMA,-FMA4", TRUE);
  run_slewbench (run, "measure", "--json", bench);
  assert_true (strlen (first) > 1000);
  assert_string_equal (run->out, first);
}

static void
inspect_json_parses (void **state)
{
  Run *run = *state;
  const char *log = write_step (run, "a.csv", 300);
  run_slewbench (run, "inspect", "--json", log);
  assert_status (run, 0);
  assert_true (json_parser_load_from_data (run->parser, run->out, -1, NULL));
  JsonArray *logs = json_node_get_array (json_parser_get_root (run->parser));
  JsonObject *object = json_array_get_object_element (logs, 0);
  assert_int_equal (json_object_get_int_member (object, "rows"), 300);
  assert_close (json_object_get_double_member (object, "sample_interval_s"), 0.001, 0);
  assert_close (json_object_get_double_member (object, "onset_s"), 0.05, 0);
}

/* RFC 4180: rows end in CR LF and have the same number of cells; quotes stand around whole cells. */
static void
assert_rfc_4180 (const char *csv, guint n_cells)
{
  guint cells = 1;
  gboolean quoted = FALSE;
  for (const char *c = csv; *c != '\0'; c++) {
    if (quoted) {
      if (c[0] == '"' && c[1] == '"')
        c++;
      else if (c[0] == '"')
        quoted = FALSE;
      if (c[0] == '"' && !quoted && c[1] != ',' && c[1] != '\r')
        fail_msg ("text after a closing quote: %.40s", c);
    } else if (*c == '"') {
      if (c > csv && c[-1] != ',' && c[-1] != '\n')
        fail_msg ("a quote inside a bare cell: %.40s", c);
      quoted = TRUE;
    } else if (*c == ',') {
      cells++;
    } else if (*c == '\r') {
      assert_int_equal (c[1], '\n');
      assert_int_equal (cells, n_cells);
      cells = 1;
      c++;
    } else if (*c == '\n') {
      fail_msg ("a bare line feed");
    }
  }
  assert_false (quoted);
  assert_true (g_str_has_suffix (csv, "\r\n"));
}

static void
csv_is_that_of_rfc_4180 (void **state)
{
  Run *run = *state;
  write_set (run);
  run_slewbench (run, "measure", "--csv", "set");
  assert_status (run, 0);
  assert_true (g_str_has_prefix (
      run->out,
      "configuration,measure,unit,mean,sd,ci95_low,ci95_high,standard_uncertainty,repeatability,n,absent,rounded\r\n"));
  assert_rfc_4180 (run->out, 12);
  assert_says (run->out, "\"first, \"\"old\"\"\",peak_torque,\"N·m\",8,");
}

/* The table of two configurations and their comparison: measure, two figures, difference, interval, p, verdict. */
#define TABLE_COLUMNS 7

/* Cells of a line whose separator is not escaped by a backslash. */
static guint
count_separators (const char *line, char separator)
{
  guint n = 0;
  for (const char *c = line; *c != '\0'; c++)
    if (*c == '\\' && c[1] != '\0')
      c++;
    else
      n += *c == separator ? 1 : 0;
  return n;
}

/* GitHub Flavored Markdown 4.10: every row has as many cells as the head; '|' and '<' in a name are escaped. */
static void
markdown_table_has_as_many_cells_in_every_row (void **state)
{
  Run *run = *state;
  write_set (run);
  run_slewbench (run, "measure", "--format", "markdown", "set");
  assert_status (run, 0);
  g_auto (GStrv) lines = g_strsplit (run->out, "\n", -1);
  guint n_rows = 0;
  for (; lines[n_rows] != NULL && lines[n_rows][0] == '|'; n_rows++)
    assert_int_equal (count_separators (lines[n_rows], '|'), TABLE_COLUMNS + 1);
  assert_true (n_rows > 10);
  assert_string_equal (lines[1], "|:---|---:|---:|---:|---:|---:|:---|");
  assert_says (lines[0], "second \\<new\\> \\& more (n = 3)");
  assert_says (run->out, "| Peak velocity \\[rad/s\\] |");
}

/* Well-formed as XML, which HTML's table is when every end tag is written (GLib's parser). */
static void
html_table_is_well_formed (void **state)
{
  Run *run = *state;
  write_set (run);
  run_slewbench (run, "measure", "--format", "html", "set");
  assert_status (run, 0);
  static const GMarkupParser parser = { NULL, NULL, NULL, NULL, NULL };
  const char *page = keep (run, g_strdup_printf ("<div>%s</div>", run->out));
  run->markup = g_markup_parse_context_new (&parser, 0, NULL, NULL);
  if (!g_markup_parse_context_parse (run->markup, page, -1, &run->error)
      || !g_markup_parse_context_end_parse (run->markup, &run->error))
    fail_msg ("%s", run->error->message);
  assert_says (page, "second &lt;new&gt; &amp; more (n\u00a0=\u00a03)</th>");
  assert_says (page, "<th scope=\"row\" style=\"text-align:left\">Peak torque [N·m]</th>");
}

/* Every row has as many cells as its tabular has columns, and no character that LaTeX takes for its own is bare. The
 * table is wider than a page, so that it is in blocks of columns, which together have all, and no row has more than the
 * 90 characters that 345 pt (the text of LaTeX's article class) hold at the 3.8 pt of its small type. */
static void
latex_table_is_in_blocks_that_fit_a_page (void **state)
{
  Run *run = *state;
  write_set (run);
  run_slewbench (run, "measure", "--format", "latex", "set");
  assert_status (run, 0);
  g_auto (GStrv) lines = g_strsplit (run->out, "\n", -1);
  guint n_rows = 0, n_columns = 0, n_all = 1;
  for (gsize i = 0; lines[i] != NULL; i++) {
    if (g_str_has_prefix (lines[i], "\\begin{tabular}{@{}")) {
      n_columns = (guint) (strlen (lines[i]) - strlen ("\\begin{tabular}{@{}@{}}"));
      n_all += n_columns - 1;
    }
    if (!g_str_has_suffix (lines[i], " \\\\"))
      continue;
    n_rows++;
    assert_int_equal (count_separators (lines[i], '&'), n_columns - 1);
    assert_int_equal (count_separators (lines[i], '%'), 0);
    assert_int_equal (count_separators (lines[i], '$') % 2, 0);
    g_auto (GStrv) signs = g_strsplit (lines[i], "$", -1); /* a formula between two: one sign on the page */
    assert_true (strlen (lines[i]) - 8 * (g_strv_length (signs) / 2) <= 90 || strstr (lines[i], "shortstack") != NULL);
  }
  assert_int_equal (n_all, TABLE_COLUMNS);
  assert_true (n_rows > 20);
  assert_says (run->out, "$<$new$>$ \\& more");
  assert_says (run->out, "Peak torque [N$\\cdot$m] & ");
}

static void
unknown_format_is_refused_with_the_known_ones (void **state)
{
  Run *run = *state;
  write_set (run);
  run_slewbench (run, "measure", "--format", "word", "set");
  assert_error (run, 64, "text, csv, json, markdown, html or latex");
  run_slewbench (run, "measure", "--format", "csv", "--json", "set");
  assert_status (run, 64);
}

/* The words of docs/methods.md, and for each trial its value, levels and window. */
static void
explanation_says_how_a_figure_was_come_by (void **state)
{
  Run *run = *state;
  write_set (run);
  run_slewbench (run, "measure", "--explain", "overshoot", "set");
  assert_status (run, 0);
  assert_says (run->out, "Definition: How far the largest torque after the 90 % crossing stands above the top level");
  assert_says (run->out, "Source: IEEE Std 181-2011");
  assert_says (run->out, "  Value: ");
  assert_says (run->out, "  Levels: base ");
  assert_says (run->out, " ms after the onset");
  run_slewbench (run, "measure", "--explain", "ringing_amplitude", "set");
  assert_says (run->out, "  Root mean square about the level: ");
  run_slewbench (run, "measure", "--explain", "velocity_rise_time", "set");
  assert_says (run->out, "rad/s, 90 % of the peak of ");
  run_slewbench (run, "measure", "--explain", "velocity_deviation", "set");
  assert_says (run->out, "  Doubt: few repeats: "); /* two of them */
  run_slewbench (run, "measure", "--explain", "transition DURATION", "set");
  assert_status (run, 0); /* by its name in the table, however written */
  assert_says (run->out, "torque_transition_time");
  run_slewbench (run, "measure", "--explain", "overshot", "set");
  assert_status (run, 64);
  assert_says (run->err, "no measure is called 'overshot'");
  run_slewbench (run, "measure", "--explain", "overshoot", "--json", "set");
  assert_status (run, 64);
}

static guint32
big_endian (const char *bytes)
{
  guint32 value;
  memcpy (&value, bytes, sizeof value);
  return GUINT32_FROM_BE (value);
}

/* Width and height in IHDR: the first chunk, after eight bytes of signature and eight of the chunk's head (PNG
 * specification, second edition). */
static void
assert_png (const char *bytes, gsize n_bytes, guint32 width, guint32 height)
{
  assert_true (n_bytes > 33);
  assert_memory_equal (bytes, "\x89PNG\r\n\x1a\n", 8);
  assert_memory_equal (bytes + 12, "IHDR", 4);
  assert_int_equal (big_endian (bytes + 16), width);
  assert_int_equal (big_endian (bytes + 20), height);
  assert_memory_equal (bytes + n_bytes - 8, "IEND", 4);
}

static void
assert_xml (Run *run, const char *text, gsize n_bytes)
{
  static const GMarkupParser nothing = { 0 };
  g_clear_pointer (&run->markup, g_markup_parse_context_free);
  run->markup = g_markup_parse_context_new (&nothing, G_MARKUP_PREFIX_ERROR_POSITION, NULL, NULL);
  if (!g_markup_parse_context_parse (run->markup, text, (gssize) n_bytes, &run->error)
      || !g_markup_parse_context_end_parse (run->markup, &run->error))
    fail_msg ("%s", run->error->message);
}

/* Not strstr: a PDF holds zero bytes. */
static gboolean
has_bytes (const char *bytes, gsize n_bytes, const char *part)
{
  return memmem (bytes, n_bytes, part, strlen (part)) != NULL;
}

static void
charts_have_their_kind_and_size (void **state)
{
  /* 101.6 mm by 76.2 mm are 4 in by 3 in: 400 by 300 dots at 100 dpi, 288 by 216 points of PDF. */
  static const char *const names[] = { "c.png", "c.svg", "c.pdf" };
  Run *run = *state;
  write_set (run);
  for (gsize i = 0; i < G_N_ELEMENTS (names); i++) {
    run_slewbench (run, "chart", "-o", names[i], "--width=101.6", "--height=76.2", "--dpi=100", "--title",
                   "Steps <1> & 2", "set");
    assert_status (run, 0);
    assert_string_equal (run->out, "");
    assert_string_equal (run->err, "");
  }
  gsize n;
  const char *png = read_file (run, "c.png", &n);
  assert_png (png, n, 400, 300);
  const char *svg = read_file (run, "c.svg", &n);
  assert_xml (run, svg, n);
  assert_says (svg, "width=\"101.6mm\" height=\"76.2mm\"");
  const char *pdf = read_file (run, "c.pdf", &n);
  assert_memory_equal (pdf, "%PDF-", 5);
  assert_true (has_bytes (pdf, n, "%%EOF"));
  assert_true (has_bytes (pdf, n, "/MediaBox [ 0 0 288 216 ]"));
}

static void
chart_beside_the_measures_is_the_same_file (void **state)
{
  static const char *const kinds[] = { "png", "svg", "pdf" };
  Run *run = *state;
  write_set (run);
  for (gsize i = 0; i < G_N_ELEMENTS (kinds); i++) {
    const char *alone = keep (run, g_strdup_printf ("alone.%s", kinds[i]));
    const char *beside = keep (run, g_strdup_printf ("beside.%s", kinds[i]));
    run_slewbench (run, "chart", "-o", alone, "--trial-lines", "--evidence=mean_torque_slope", "--band=quartiles",
                   "set");
    assert_status (run, 0);
    run_slewbench (run, "measure", "--chart", beside, "--trial-lines", "--evidence=mean_torque_slope",
                   "--band=quartiles", "set");
    assert_status (run, 0);
    gsize n, m;
    const char *a = read_file (run, alone, &n), *b = read_file (run, beside, &m);
    assert_int_equal (n, m);
    assert_memory_equal (a, b, n);
  }
}

static gboolean
is_void_element (const char *name)
{
  static const char *const names[] = { "meta", "img", "br", "hr", "link", "input", NULL };
  return g_strv_contains (names, name);
}

/* In a drawing within the page an element may close itself (HTML Living Standard 13.1.2.1, foreign elements). */
static gboolean
closes_itself (const char *tag)
{
  const char *end = strchr (tag, '>');
  return end != NULL && end[-1] == '/';
}

/* Every tag of the page is closed, in order; void elements (HTML Living Standard 13.1.2) need not be. */
static void
assert_balanced_page (Run *run, const char *html)
{
  assert_true (g_str_has_prefix (html, "<!DOCTYPE html>\n<html lang=\"en\">"));
  for (const char *c = strchr (html + 1, '<'); c != NULL; c = strchr (c + 1, '<')) {
    gboolean closing = c[1] == '/';
    const char *start = c + (closing ? 2 : 1);
    const char *end = start + strspn (start, "abcdefghijklmnopqrstuvwxyzPG0123456789");
    if (end == start || strchr (" >/", *end) == NULL)
      fail_msg ("no tag: %.40s", c);
    const char *name = keep (run, g_strndup (start, (gsize) (end - start)));
    if (!closing && !is_void_element (name) && !closes_itself (c)) {
      g_ptr_array_add (run->tags, g_strdup (name));
    } else if (closing) {
      guint open = run->tags->len;
      if (open == 0 || strcmp (g_ptr_array_index (run->tags, open - 1), name) != 0)
        fail_msg ("</%s> closes nothing", name);
      g_ptr_array_set_size (run->tags, (gint) open - 1);
    }
  }
  assert_int_equal (run->tags->len, 0);
}

static void
report_is_whole_and_its_checksums_hold (void **state)
{
  static const char *const files[] = { "chart.png",
                                       "chart.svg",
                                       "chart.pdf",
                                       "measures.txt",
                                       "measures.csv",
                                       "methods.txt",
                                       "report.html",
                                       "results.json",
                                       "measures.md",
                                       "measures.tex",
                                       "report.pdf",
                                       "curves/1-first-old.csv",
                                       "curves/2-second-new-more.csv" };
  Run *run = *state;
  write_set (run);
  run_slewbench (run, "report", "-o", "out/report", "--title", "Steps <1> & \"2\"", "set");
  assert_status (run, 0);
  assert_string_equal (run->out, "");
  assert_string_equal (run->err, "");
  gsize n;
  const char *sums = read_file (run, "out/report/SHA256SUMS", &n);
  for (gsize i = 0; i < G_N_ELEMENTS (files); i++) {
    read_file (run, keep (run, g_build_filename ("out/report", files[i], NULL)), &n);
    assert_true (n > 0);
    assert_says (sums, files[i]);
  }
  g_subprocess_launcher_set_cwd (run->launcher, path_in (run, "out/report"));
  run_program (run, (const char *const[]){ "sha256sum", "--strict", "-c", "SHA256SUMS", NULL });
  assert_status (run, 0);
}

static void
report_page_is_well_formed_and_stands_alone (void **state)
{
  Run *run = *state;
  write_set (run);
  run_slewbench (run, "report", "-o", "report", "--title", "Steps <1> & \"2\"", "set");
  assert_status (run, 0);
  gsize n;
  const char *html = read_file (run, "report/report.html", &n);
  assert_true (g_utf8_validate (html, (gssize) n, NULL));
  assert_balanced_page (run, html);
  assert_says (html, "Steps &lt;1&gt; &amp;");
  assert_says (html, "second &lt;new&gt; &amp; more");
  assert_says (html, "emergency stop");
  assert_null (strstr (html, "http://")); /* nothing is fetched from elsewhere */
  assert_null (strstr (html, "https://"));
  /* Its proof is the one block of data, and nothing is run. */
  const char *data = strstr (html, "<script");
  assert_true (data != NULL && g_str_has_prefix (data, "<script type=\"application/json\""));
  assert_null (strstr (data + 1, "<script"));
}

static void
file_names_that_are_no_utf_8_leave_the_results_readable (void **state)
{
  Run *run = *state;
  write_step (run, "s\xff/r\xfe.csv", 300);
  write_file (run, "s\xff/w\xfd.csv", "frog,toad\n1,2\n"); /* its failure is told by name */
  run_slewbench (run, "report", "-o", "report", "s\xff");
  assert_status (run, 1);
  static const char *const files[]
      = { "results.json", "report.html", "methods.txt", "measures.txt", "measures.csv", "chart.svg" };
  gsize n;
  for (gsize i = 0; i < G_N_ELEMENTS (files); i++) {
    const char *text = read_file (run, keep (run, g_build_filename ("report", files[i], NULL)), &n);
    if (!g_utf8_validate (text, (gssize) n, NULL))
      fail_msg ("%s is not UTF-8", files[i]);
  }
  const char *json = read_file (run, "report/results.json", &n);
  assert_true (json_parser_load_from_data (run->parser, json, -1, NULL));
  assert_null (strstr (run->err, "WARNING"));
}

static void
report_holds_what_the_other_commands_give (void **state)
{
  Run *run = *state;
  write_set (run);
  run_slewbench (run, "report", "-o", "report", "set");
  assert_status (run, 0);
  gsize n, m;
  run_slewbench (run, "measure", "--json", "set");
  assert_string_equal (run->out, read_file (run, "report/results.json", &n));
  run_slewbench (run, "measure", "--csv", "set");
  assert_string_equal (run->out, read_file (run, "report/measures.csv", &n));
  run_slewbench (run, "measure", "set");
  assert_string_equal (run->out, read_file (run, "report/measures.txt", &n));
  run_slewbench (run, "chart", "-o", "c.png", "set");
  const char *a = read_file (run, "c.png", &n), *b = read_file (run, "report/chart.png", &m);
  assert_int_equal (n, m);
  assert_memory_equal (a, b, n);
}

static void
report_of_the_same_logs_is_the_same_twice (void **state)
{
  Run *run = *state;
  write_set (run);
  gsize n;
  run_slewbench (run, "report", "-o", "one", "set");
  run_slewbench (run, "report", "-o", "two", "set");
  assert_string_equal (read_file (run, "one/SHA256SUMS", &n), read_file (run, "two/SHA256SUMS", &n));
}

/* The repeats of the demo's model scatter by 0.3 % of 38 Hz and 1 % of a damping of 0.06 (make_demo.c): 0.11 Hz and
 * 0.0006, of which two digits are hundredths of a hertz and the fifth place. The fit of one repeat alone errs by a
 * hundredth of that, and the table does not print its digits either. */
static void
modes_in_a_chart_are_rounded_as_in_the_table (void **state)
{
  Run *run = *state;
  gsize n;
  run_slewbench (run, "chart", "-o", "ringing.svg", "--view", "ringing", "--labels", "ringing",
                 demo (run, "Teasel slope 0.3"), demo (run, "Teasel slope 2.0"));
  assert_status (run, 0);
  const char *svg = read_file (run, "ringing.svg", &n);
  g_autoptr (GRegex) any = g_regex_new (" [0-9.]+ Hz, damping 0", 0, 0, NULL);
  g_autoptr (GRegex) rounded = g_regex_new (" 3[0-9]\\.[0-9]{2} Hz, damping 0\\.[0-9]{5}[;.] ", 0, 0, NULL);
  g_autoptr (GMatchInfo) all = NULL, good = NULL;
  guint n_all = 0, n_good = 0;
  for (g_regex_match (any, svg, 0, &all); g_match_info_matches (all); g_match_info_next (all, NULL))
    n_all++;
  for (g_regex_match (rounded, svg, 0, &good); g_match_info_matches (good); g_match_info_next (good, NULL))
    n_good++;
  assert_int_equal (n_all, 2);
  assert_int_equal (n_good, 2);
}

/* U+00A0 in HTML, "~" in LaTeX. */
static void
short_brackets_of_tables_are_not_broken (void **state)
{
  Run *run = *state;
  write_set (run);
  run_slewbench (run, "report", "-o", "out", "set");
  gsize n;
  const char *html = read_file (run, "out/report.html", &n);
  const char *table = strstr (html, "<table>");
  assert_non_null (table);
  assert_non_null (strstr (table, ">p\u00a0(Holm)<"));
  assert_null (strstr (table, ">p (Holm)<"));
  assert_non_null (strstr (html, "tr,figure,table{break-inside:avoid}"));
  run_slewbench (run, "measure", "--format", "html", "set");
  assert_says (run->out, ">p\u00a0(Holm)<");
  run_slewbench (run, "measure", "--format", "latex", "set");
  assert_says (run->out, "p~(Holm)");
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    app_test (json_parses_and_is_the_same_twice),
    app_test (json_is_the_same_on_a_processor_without_fused_multiply_add),
    app_test (inspect_json_parses),
    app_test (csv_is_that_of_rfc_4180),
    app_test (markdown_table_has_as_many_cells_in_every_row),
    app_test (html_table_is_well_formed),
    app_test (latex_table_is_in_blocks_that_fit_a_page),
    app_test (unknown_format_is_refused_with_the_known_ones),
    app_test (explanation_says_how_a_figure_was_come_by),
    app_test (charts_have_their_kind_and_size),
    app_test (chart_beside_the_measures_is_the_same_file),
    app_test (report_is_whole_and_its_checksums_hold),
    app_test (report_page_is_well_formed_and_stands_alone),
    app_test (file_names_that_are_no_utf_8_leave_the_results_readable),
    app_test (report_holds_what_the_other_commands_give),
    app_test (report_of_the_same_logs_is_the_same_twice),
    app_test (modes_in_a_chart_are_rounded_as_in_the_table),
    app_test (short_brackets_of_tables_are_not_broken),
  };
  return cmocka_run_group_tests (tests, NULL, NULL);
}
