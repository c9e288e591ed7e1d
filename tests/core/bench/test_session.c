/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "bench_fixture.h"
#include "session.h"
#include "verdict_words.h"

#include <sys/stat.h>

/* A bench in which nothing is at its default. */
static void
fill_bench (BenchFixture *fixture)
{
  SbBench *bench = fixture->bench;
  const char *near[] = { path_in (fixture, "logs/run 1.csv"), path_in (fixture, "logs/run \"2\" – ü.csv") };
  sb_bench_add_configuration (bench, "soft \\ \"start\"", near, 2);
  sb_bench_add_configuration (bench, "plain", near, 1);
  sb_bench_add_configuration (bench, "third", NULL, 0);
  SbConfiguration *own = sb_bench_edit_configuration (bench, 0);
  own->style = 7;
  own->drawn = FALSE;
  SbTrialEntry *entry = sb_configuration_entry (own, 1);
  entry->included = FALSE;
  entry->exclusion_reason = g_ref_string_new ("rim touched,\nsee notes");
  entry->choices = SB_TRIAL_CHOICES_BY_HAND (0.1, 1.0 / 3);
  own->point[0] = (SbChartPoint){ TRUE, SB_PANEL_TORQUE, SB_POINT_ON_SLOPE, 0.0125 };
  sb_bench_edit_configuration (bench, 1)->point[1]
      = (SbChartPoint){ TRUE, SB_PANEL_VELOCITY, SB_POINT_ON_CURVE, -0.001 };
  sb_bench_set_folder (bench, 0, path_in (fixture, "logs"), fixture->folder);
  sb_bench_set_folder (bench, 1, "/somewhere/else", NULL);
  bench->passed_over = g_ptr_array_new_with_free_func (g_free);
  g_ptr_array_add (bench->passed_over, g_strdup (path_in (fixture, "logs/run 3.csv")));
  g_ptr_array_add (bench->passed_over, g_strdup (path_in (fixture, "taken out")));
  bench->reference = 2;
  bench->other = 0;
  bench->measure = (SbMeasureChoices){ 0.003, 0.0021, 0.05, 150 };
  bench->band = SB_BAND_QUARTILES;
  bench->band_k = 2.5;
  bench->span = SB_SPAN_UNION;
  bench->moving_window_s = 0.02;
  bench->margin_ratio = 0.1;
  bench->margin[SB_MEASURE_PEAK_TORQUE] = (SbMargin){ .ratio = 0.02, .absolute = NAN };
  bench->margin[SB_MEASURE_DEAD_TIME] = (SbMargin){ .ratio = NAN, .absolute = 0.001 };
  bench->verdict_level = 0.01;
  bench->audit = (SbAuditChoices){ .level = 0.02, .proportion_ratio = 0.2, .straight_ratio = 0.25 };
  bench->difference_curves = bench->plan = TRUE;
  bench->plan_ratio = 0.03;
  bench->chart.panels = 1u << SB_PANEL_ANGLE | 1u << SB_PANEL_COMMAND;
  bench->chart.trial_lines = TRUE;
  bench->chart.labels = 1u << SB_LABEL_SLOPE | 1u << SB_LABEL_RINGING;
  bench->chart.moving_band = FALSE;
  bench->chart.view_s[0] = -0.01;
  bench->chart.view_s[1] = 0.3;
  g_free (bench->chart.title);
  bench->chart.title = g_strdup ("Größe <1>");
  assert_true (sb_bench_set_word (bench, "practically equal", "gleich", NULL));
  bench->chart.view = SB_VIEW_SPREAD;
  bench->chart.measures = 1u << SB_MEASURE_DEAD_TIME | 1u << SB_MEASURE_PEAK_VELOCITY;
  g_free (bench->chart.setting);
  bench->chart.setting = g_strdup ("Dämpfung");
  bench->exported_as = SB_CHART_PDF;
  bench->chart.paper = (SbPaper){ 85, 60.5, 450, 6.5, SB_GROUND_DARK, TRUE, SB_LEGEND_RIGHT, TRUE };
  bench->chart.in_order = bench->chart.excluded_repeats = bench->chart.difference_only = TRUE;
}

static void
assert_same_entry (const SbTrialEntry *a, const SbTrialEntry *b)
{
  assert_string_equal (a->path, b->path);
  assert_int_equal (a->included, b->included);
  assert_int_equal (g_strcmp0 (a->exclusion_reason, b->exclusion_reason), 0);
  assert_close (a->choices.onset_s, b->choices.onset_s, 0);
  assert_close (a->choices.active_end_s, b->choices.active_end_s, 0);
}

static void
assert_same_bench (const SbBench *a, const SbBench *b)
{
  assert_int_equal (a->configurations->len, b->configurations->len);
  for (guint c = 0; c < a->configurations->len; c++) {
    const SbConfiguration *one = sb_bench_configuration (a, c), *two = sb_bench_configuration (b, c);
    assert_string_equal (one->name, two->name);
    assert_int_equal (one->style, two->style);
    assert_int_equal (one->drawn, two->drawn);
    for (int k = 0; k < SB_N_CHART_POINTS; k++) {
      assert_int_equal (one->point[k].is_put, two->point[k].is_put);
      assert_int_equal (one->point[k].panel, two->point[k].panel);
      assert_int_equal (one->point[k].on, two->point[k].on);
      assert_close (one->point[k].time_s, two->point[k].time_s, 0);
    }
    assert_int_equal (g_strcmp0 (one->folder, two->folder), 0);
    assert_int_equal (g_strcmp0 (one->opened_folder, two->opened_folder), 0);
    assert_int_equal (one->entries->len, two->entries->len);
    for (guint t = 0; t < one->entries->len; t++)
      assert_same_entry (sb_configuration_entry (one, t), sb_configuration_entry (two, t));
  }
  guint n_passed_over = a->passed_over != NULL ? a->passed_over->len : 0;
  assert_int_equal (n_passed_over, b->passed_over != NULL ? b->passed_over->len : 0);
  for (guint i = 0; i < n_passed_over; i++)
    assert_string_equal (g_ptr_array_index (a->passed_over, i), g_ptr_array_index (b->passed_over, i));
  assert_int_equal (a->reference, b->reference);
  assert_int_equal (a->other, b->other);
  assert_memory_equal (&a->measure, &b->measure, sizeof a->measure);
  assert_int_equal (a->band, b->band);
  assert_int_equal (a->span, b->span);
  assert_close (a->band_k, b->band_k, 0);
  assert_close (a->moving_window_s, b->moving_window_s, 0);
  assert_close (a->margin_ratio, b->margin_ratio, 0);
  for (int m = 0; m < SB_N_MEASURES; m++) {
    assert_close (a->margin[m].ratio, b->margin[m].ratio, 0);
    assert_close (a->margin[m].absolute, b->margin[m].absolute, 0);
  }
  assert_close (a->verdict_level, b->verdict_level, 0);
  assert_close (a->audit.level, b->audit.level, 0);
  for (const char *const *usual = sb_verdict_words_usual (); *usual != NULL; usual++)
    assert_string_equal (sb_bench_word (a, *usual), sb_bench_word (b, *usual));
  assert_close (a->audit.proportion_ratio, b->audit.proportion_ratio, 0);
  assert_close (a->audit.straight_ratio, b->audit.straight_ratio, 0);
  assert_int_equal (a->difference_curves, b->difference_curves);
  assert_int_equal (a->plan, b->plan);
  assert_close (a->plan_ratio, b->plan_ratio, 0);
  assert_int_equal (a->chart.panels, b->chart.panels);
  assert_int_equal (a->chart.trial_lines, b->chart.trial_lines);
  assert_int_equal (a->chart.moving_band, b->chart.moving_band);
  assert_int_equal (a->chart.labels, b->chart.labels);
  assert_close (a->chart.view_s[0], b->chart.view_s[0], 0);
  assert_close (a->chart.view_s[1], b->chart.view_s[1], 0);
  assert_string_equal (a->chart.title, b->chart.title);
  assert_int_equal (a->chart.view, b->chart.view);
  assert_int_equal (a->chart.measures, b->chart.measures);
  assert_string_equal (a->chart.setting, b->chart.setting);
  assert_int_equal (a->chart.in_order, b->chart.in_order);
  assert_int_equal (a->chart.excluded_repeats, b->chart.excluded_repeats);
  assert_int_equal (a->exported_as, b->exported_as);
  assert_close (a->chart.paper.width_mm, b->chart.paper.width_mm, 0);
  assert_close (a->chart.paper.height_mm, b->chart.paper.height_mm, 0);
  assert_close (a->chart.paper.dpi, b->chart.paper.dpi, 0);
  assert_close (a->chart.paper.font_pt, b->chart.paper.font_pt, 0);
  assert_int_equal (a->chart.paper.ground, b->chart.paper.ground);
  assert_int_equal (a->chart.paper.grey, b->chart.paper.grey);
  assert_int_equal (a->chart.paper.legend, b->chart.paper.legend);
  assert_int_equal (a->chart.paper.no_foot, b->chart.paper.no_foot);
  assert_int_equal (a->chart.difference_only, b->chart.difference_only);
}

static SbBench *
load (BenchFixture *fixture, const char *path)
{
  g_clear_pointer (&fixture->other_bench, sb_bench_unref);
  fixture->other_bench = sb_session_load (path, &fixture->error);
  if (fixture->other_bench == NULL)
    fail_msg ("%s", fixture->error->message);
  return fixture->other_bench;
}

static void
every_choice_comes_back_as_it_was (void **state)
{
  BenchFixture *fixture = *state;
  fill_bench (fixture);
  const char *path = path_in (fixture, "work.slewbench");
  assert_true (sb_session_save (fixture->bench, NULL, path, &fixture->error));
  assert_same_bench (load (fixture, path), fixture->bench);
}

static void
empty_bench_comes_back_empty (void **state)
{
  BenchFixture *fixture = *state;
  const char *path = path_in (fixture, "empty.slewbench");
  assert_true (sb_session_save (fixture->bench, NULL, path, &fixture->error));
  assert_same_bench (load (fixture, path), fixture->bench);
}

static void
view_with_one_end_comes_back_as_it_was (void **state)
{
  BenchFixture *fixture = *state;
  fixture->bench->chart.view_s[0] = 0.02; /* from there to the end of the curves */
  const char *path = path_in (fixture, "view.slewbench");
  assert_true (sb_session_save (fixture->bench, NULL, path, &fixture->error));
  assert_same_bench (load (fixture, path), fixture->bench);
}

static void
same_bench_gives_the_same_bytes (void **state)
{
  BenchFixture *fixture = *state;
  fill_bench (fixture);
  char *texts[2] = { NULL, NULL };
  for (int i = 0; i < 2; i++) {
    const char *path = path_in (fixture, "work.slewbench");
    assert_true (sb_session_save (i == 0 ? fixture->bench : load (fixture, path), NULL, path, &fixture->error));
    assert_true (g_file_get_contents (path, &texts[i], NULL, NULL));
    keep (fixture, texts[i]);
  }
  assert_string_equal (texts[0], texts[1]);
}

static void
folder_with_logs_can_be_moved_whole (void **state)
{
  BenchFixture *fixture = *state;
  const char *logs[] = { write_file (fixture, "old/bench/logs/a.csv", ""), write_file (fixture, "old/b.csv", "") };
  sb_bench_add_configuration (fixture->bench, "a", logs, 2);
  sb_bench_set_folder (fixture->bench, 0, path_in (fixture, "old/bench/logs"), path_in (fixture, "old/bench"));
  assert_true (sb_session_save (fixture->bench, NULL, path_in (fixture, "old/bench/work.slewbench"), NULL));
  assert_int_equal (g_rename (path_in (fixture, "old"), path_in (fixture, "new")), 0);
  const SbConfiguration *moved
      = sb_bench_configuration (load (fixture, path_in (fixture, "new/bench/work.slewbench")), 0);
  assert_string_equal (sb_configuration_entry (moved, 0)->path, path_in (fixture, "new/bench/logs/a.csv"));
  assert_string_equal (sb_configuration_entry (moved, 1)->path, path_in (fixture, "new/b.csv"));
  assert_string_equal (moved->folder, path_in (fixture, "new/bench/logs"));
  assert_string_equal (moved->opened_folder, path_in (fixture, "new/bench"));
}

static void
log_far_away_keeps_its_absolute_path (void **state)
{
  BenchFixture *fixture = *state;
  const char *log = "/somewhere/else/a.csv";
  sb_bench_add_configuration (fixture->bench, "a", &log, 1);
  write_file (fixture, "deep/down/x", "");
  const char *path = path_in (fixture, "deep/down/work.slewbench");
  assert_true (sb_session_save (fixture->bench, NULL, path, NULL));
  assert_string_equal (sb_configuration_entry (sb_bench_configuration (load (fixture, path), 0), 0)->path, log);
}

static void
session_names_the_checksums_of_analysed_logs (void **state)
{
  BenchFixture *fixture = *state;
  const char *log = write_step (fixture, "a.csv", STEP_LOG);
  sb_bench_add_configuration (fixture->bench, "a", &log, 1);
  fixture->analysis = sb_analysis_run (fixture->bench, NULL, SB_ANALYSIS_DEFAULT, NULL, NULL, NULL, NULL);
  const char *path = path_in (fixture, "work.slewbench");
  assert_true (sb_session_save (fixture->bench, fixture->analysis, path, &fixture->error));
  char *text = NULL, *bytes = NULL;
  assert_true (g_file_get_contents (path, &text, NULL, NULL));
  keep (fixture, text);
  assert_true (g_file_get_contents (log, &bytes, NULL, NULL));
  keep (fixture, bytes);
  assert_non_null (strstr (text, keep (fixture, g_compute_checksum_for_string (G_CHECKSUM_SHA256, bytes, -1))));
}

static void
failed_save_leaves_the_old_file_and_says_so (void **state)
{
  BenchFixture *fixture = *state;
  fill_bench (fixture);
  const char *path = path_in (fixture, "no/such/folder/work.slewbench");
  assert_false (sb_session_save (fixture->bench, NULL, path, &fixture->error));
  assert_true (g_error_matches (fixture->error, SB_SESSION_ERROR, SB_SESSION_ERROR_WRITE));
  assert_non_null (strstr (fixture->error->message, "another folder"));
}

static void
log_whose_name_json_cannot_hold_keeps_the_session_from_being_saved (void **state)
{
  BenchFixture *fixture = *state;
  const char *log = "/logs/r\xfe.csv";
  sb_bench_add_configuration (fixture->bench, "a", &log, 1);
  const char *path = path_in (fixture, "work.slewbench");
  assert_false (sb_session_save (fixture->bench, NULL, path, &fixture->error));
  assert_true (g_error_matches (fixture->error, SB_SESSION_ERROR, SB_SESSION_ERROR_WRITE));
  assert_true (g_utf8_validate (fixture->error->message, -1, NULL));
  assert_non_null (strstr (fixture->error->message, "Rename"));
  assert_false (g_file_test (path, G_FILE_TEST_EXISTS));
}

#define FIRST_POINT "{\"place\": \"first\", \"panel\": \"torque\", \"on\": \"curve\", \"time_s\": 0.1}"

static void
wrong_sessions_are_refused_with_the_file_and_the_reason (void **state)
{
  static const struct {
    const char *text;
    int code;
    const char *part;
  } cases[] = {
    { "", SB_SESSION_ERROR_READ, "slewbench_session" },
    { "{", SB_SESSION_ERROR_READ, "cannot be read" },
    { "\xff\xfe\x00junk", SB_SESSION_ERROR_READ, "cannot be read" },
    { "[]", SB_SESSION_ERROR_READ, "slewbench_session" },
    { "{\"a\": 1}", SB_SESSION_ERROR_READ, "slewbench_session" },
    { "{\"slewbench_session\": \"1\"}", SB_SESSION_ERROR_READ, "slewbench_session" },
    { "{\"slewbench_session\": 2}", SB_SESSION_ERROR_VERSION, "later version" },
    { "{\"slewbench_session\": 1}", SB_SESSION_ERROR_READ, "configurations" },
    { "{\"slewbench_session\": 1, \"configurations\": {}}", SB_SESSION_ERROR_READ, "configurations" },
    { "{\"slewbench_session\": 1, \"configurations\": [3]}", SB_SESSION_ERROR_READ, "no name" },
    { "{\"slewbench_session\": 1, \"configurations\": [{\"name\": \"a\"}]}", SB_SESSION_ERROR_READ, "list of trials" },
    { "{\"slewbench_session\": 1, \"configurations\": [{\"name\": \"a\", \"trials\": [{}]}]}", SB_SESSION_ERROR_READ,
      "names no file" },
    { "{\"slewbench_session\": 1, \"configurations\": [{\"name\": \"a\", \"trials\": [{\"file\": \"x\"}, {\"file\": "
      "\"./x\"}]}]}",
      SB_SESSION_ERROR_READ, "twice" },
    { "{\"slewbench_session\": 1, \"configurations\": [{\"name\": \"a\", \"trials\": [{\"file\": \"x\", \"included\": "
      "\"no\"}]}]}",
      SB_SESSION_ERROR_READ, "the trial x: 'included' must be true or false" },
    { "{\"slewbench_session\": 1, \"configurations\": [{\"name\": \"a\", \"drawn\": 0, \"trials\": []}]}",
      SB_SESSION_ERROR_READ, "the configuration a: 'drawn' must be true or false" },
    { "{\"slewbench_session\": 1, \"configurations\": [], \"chart\": {\"foot_line\": \"no\"}}", SB_SESSION_ERROR_READ,
      "'foot_line' must be true or false" },
    { "{\"slewbench_session\": 1, \"configurations\": [], \"exported_as\": \"gif\"}", SB_SESSION_ERROR_READ,
      "'exported_as' must be one of png, svg, pdf" },
    { "{\"slewbench_session\": 1, \"configurations\": [], \"choices\": {\"verdict_words\": {\"differs\": 5}}}",
      SB_SESSION_ERROR_READ, "verdict_words" },
    { "{\"slewbench_session\": 1, \"configurations\": [], \"chart\": {\"labels\": [\"peaks\", \"peeks\"]}}",
      SB_SESSION_ERROR_READ, "it has 'peeks'. Correct that" },
    { "{\"slewbench_session\": 1, \"configurations\": [], \"chart\": {\"view_from_s\": 0.2, \"view_to_s\": 0.1}}",
      SB_SESSION_ERROR_READ, "'view_from_s' must be less than 'view_to_s'" },
    { "{\"slewbench_session\": 1, \"configurations\": [{\"name\": \"a\", \"trials\": [], \"points\": [" FIRST_POINT
      ", " FIRST_POINT "]}]}",
      SB_SESSION_ERROR_READ, "the place 'first' twice. Take one" },
    { "{\"slewbench_session\": 1, \"configurations\": [{\"name\": \"a\", \"trials\": [], \"points\": [" FIRST_POINT
      "]}, {\"name\": \"b\", \"trials\": [], \"points\": [" FIRST_POINT "]}]}",
      SB_SESSION_ERROR_READ, "in two configurations. Take it out" },
    { "{\"slewbench_session\": 1,\n\"configurations\": [{\"name\": \"a\", \"trials\": [], \"points\": [" FIRST_POINT
      "],\n\"points\": []}]}",
      SB_SESSION_ERROR_READ, "wrong.slewbench:3: the member 'points' is there twice" },
    { "{\"slewbench_session\": 1, \"configurations\": [], \"reference\": 0}", SB_SESSION_ERROR_READ, "not there" },
    { "{\"slewbench_session\": 1, \"configurations\": [], \"other\": -1}", SB_SESSION_ERROR_READ, "not there" },
    { "{\"slewbench_session\": 1, \"configurations\": [], \"choices\": {\"band_k\": 99}}", SB_SESSION_ERROR_READ,
      "band_k" },
  };
  BenchFixture *fixture = *state;
  for (gsize c = 0; c < G_N_ELEMENTS (cases); c++) {
    const char *path = write_file (fixture, "wrong.slewbench", cases[c].text);
    g_clear_error (&fixture->error);
    fixture->other_bench = sb_session_load (path, &fixture->error);
    assert_null (fixture->other_bench);
    if (!g_error_matches (fixture->error, SB_SESSION_ERROR, cases[c].code)
        || strstr (fixture->error->message, cases[c].part) == NULL
        || strstr (fixture->error->message, "wrong.slewbench") == NULL)
      fail_msg ("case %zu: %s", c, fixture->error->message);
  }
}

/* In the sentence as in the heading; a configuration's name that says the same stays. */
static void
reason_of_a_stated_figure_has_the_own_word (void **state)
{
  BenchFixture *fixture = *state;
  char text[] = "A: not reached: 9 N·m (95 % interval 8 to 10 N·m, 3 repeats): not reached, 10 % short";
  gsize verdict_at = (gsize) (strstr (text, "not reached, 10 %") - text);
  SbClaimSide side = { .verdict = SB_CLAIM_NOT_REACHED, .reason = text, .verdict_at = verdict_at };
  assert_string_equal (keep (fixture, sb_bench_claim_reason (fixture->bench, &side)), text);
  assert_true (sb_bench_set_word (fixture->bench, "not reached", "VERFEHLT", NULL));
  assert_string_equal (keep (fixture, sb_bench_claim_reason (fixture->bench, &side)),
                       "A: not reached: 9 N·m (95 % interval 8 to 10 N·m, 3 repeats): VERFEHLT, 10 % short");
}

/* A parser that calls itself for each bracket would leave its stack, also where a comment with a quote goes before. */
static void
session_of_nothing_but_brackets_is_refused (void **state)
{
  BenchFixture *fixture = *state;
  static const char *const starts[] = { "", "{\"slewbench_session\": 1, \"configurations\": ", "/* \" */ " };
  for (gsize i = 0; i < G_N_ELEMENTS (starts); i++) {
    g_autofree char *brackets = g_strnfill (2000000, '[');
    g_autofree char *text = g_strconcat (starts[i], brackets, NULL);
    const char *path = write_file (fixture, "deep.slewbench", text);
    g_clear_error (&fixture->error);
    fixture->other_bench = sb_session_load (path, &fixture->error);
    assert_null (fixture->other_bench);
    assert_true (g_error_matches (fixture->error, SB_SESSION_ERROR, SB_SESSION_ERROR_READ));
    assert_non_null (strstr (fixture->error->message, "deep.slewbench"));
  }
}

static void
brackets_in_names_are_no_lists (void **state)
{
  BenchFixture *fixture = *state;
  g_autofree char *brackets = g_strnfill (1000, '[');
  g_autofree char *text = g_strdup_printf ("{\"slewbench_session\": 1, \"configurations\": [{\"name\": \"\\\"/%s\", "
                                           "\"trials\": []}]}",
                                           brackets);
  const SbBench *bench = load (fixture, write_file (fixture, "names.slewbench", text));
  assert_int_equal (strlen (sb_bench_configuration (bench, 0)->name), 1002);
}

static void
missing_session_is_refused (void **state)
{
  BenchFixture *fixture = *state;
  fixture->other_bench = sb_session_load (path_in (fixture, "none.slewbench"), &fixture->error);
  assert_null (fixture->other_bench);
  assert_true (g_error_matches (fixture->error, SB_SESSION_ERROR, SB_SESSION_ERROR_READ));
}

static void
members_that_are_missing_take_their_default (void **state)
{
  BenchFixture *fixture = *state;
  const char *path
      = write_file (fixture, "short.slewbench",
                    "{\"slewbench_session\": 1, \"configurations\": [{\"name\": \"a\", \"trials\": [{\"file\": "
                    "\"x.csv\"}]}], \"later\": {\"unknown\": true}}");
  const SbBench *bench = load (fixture, path);
  const SbConfiguration *configuration = sb_bench_configuration (bench, 0);
  assert_true (configuration->drawn);
  assert_true (sb_configuration_entry (configuration, 0)->included);
  assert_string_equal (sb_configuration_entry (configuration, 0)->path, path_in (fixture, "x.csv"));
  assert_close (bench->margin_ratio, 0.05, 0);
  assert_int_equal (bench->chart.panels, 1u << SB_PANEL_VELOCITY | 1u << SB_PANEL_TORQUE);
}

/* Numbers that 17 digits write as a whole power of ten; the one that is read may be the next one towards 0. */
static void
large_round_numbers_are_read_back (void **state)
{
  BenchFixture *fixture = *state;
  const char *path = path_in (fixture, "large.slewbench");
  static const double values[] = { 1e16, 1e17, 1e22, 1e23, 1e308 };
  for (gsize i = 0; i < G_N_ELEMENTS (values); i++) {
    double value = values[i];
    fixture->bench->margin[SB_MEASURE_PEAK_TORQUE] = (SbMargin){ .ratio = NAN, .absolute = value };
    assert_true (sb_session_save (fixture->bench, NULL, path, &fixture->error));
    g_clear_pointer (&fixture->other_bench, sb_bench_unref);
    fixture->other_bench = sb_session_load (path, &fixture->error);
    assert_non_null (fixture->other_bench);
    assert_close (fixture->other_bench->margin[SB_MEASURE_PEAK_TORQUE].absolute / value, 1, 0x1p-52);
  }
}

/* By the file system. */
static void
size_of_a_log_that_was_read_is_saved_with_its_checksum (void **state)
{
  BenchFixture *fixture = *state;
  const char *log = write_step (fixture, "a/run-1.csv", STEP_LOG), *path = path_in (fixture, "bench.slewbench");
  sb_bench_add_configuration (fixture->bench, "a", &log, 1);
  fixture->analysis = sb_analysis_run (fixture->bench, NULL, SB_ANALYSIS_DEFAULT, NULL, NULL, NULL, &fixture->error);
  assert_true (sb_session_save (fixture->bench, fixture->analysis, path, &fixture->error));
  fixture->other_bench = sb_session_load (path, &fixture->error);
  assert_non_null (fixture->other_bench);
  struct stat there;
  assert_int_equal (stat (log, &there), 0);
  const SbTrialEntry *entry = sb_configuration_entry (sb_bench_configuration (fixture->other_bench, 0), 0);
  assert_int_equal (entry->size_bytes, there.st_size);
  assert_string_equal (
      entry->sha256,
      sb_configuration_result_trial (sb_analysis_configuration (fixture->analysis, 0), 0)->facts->sha256);
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    bench_test (every_choice_comes_back_as_it_was),
    bench_test (empty_bench_comes_back_empty),
    bench_test (view_with_one_end_comes_back_as_it_was),
    bench_test (same_bench_gives_the_same_bytes),
    bench_test (folder_with_logs_can_be_moved_whole),
    bench_test (log_far_away_keeps_its_absolute_path),
    bench_test (session_names_the_checksums_of_analysed_logs),
    bench_test (failed_save_leaves_the_old_file_and_says_so),
    bench_test (log_whose_name_json_cannot_hold_keeps_the_session_from_being_saved),
    bench_test (wrong_sessions_are_refused_with_the_file_and_the_reason),
    bench_test (reason_of_a_stated_figure_has_the_own_word),
    bench_test (session_of_nothing_but_brackets_is_refused),
    bench_test (brackets_in_names_are_no_lists),
    bench_test (large_round_numbers_are_read_back),
    bench_test (missing_session_is_refused),
    bench_test (size_of_a_log_that_was_read_is_saved_with_its_checksum),
    bench_test (members_that_are_missing_take_their_default),
  };
  return cmocka_run_group_tests (tests, NULL, NULL);
}
