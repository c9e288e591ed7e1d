/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Notices and table cells from files with known faults. Expected values follow from what the test writes. */
#include "analysis.h"
#include "bench_files.h"
#include "doubt.h"
#include "measure_cell.h"
#include "results_cells.h"
#include "notice.h"
#include "close.h"

#include <string.h>

typedef struct {
  char *folder;
  SbBench *bench;
  SbAnalysis *analysis;
  SbNews *news; /* NULL: none */
  GPtrArray *notices;
} Fixture;

static int
set_up (void **state)
{
  Fixture *fixture = g_new0 (Fixture, 1);
  fixture->folder = bench_files_folder_new ();
  fixture->bench = sb_bench_new ();
  *state = fixture;
  return 0;
}

static int
tear_down (void **state)
{
  Fixture *fixture = *state;
  g_clear_pointer (&fixture->notices, g_ptr_array_unref);
  g_clear_pointer (&fixture->news, sb_news_free);
  g_clear_pointer (&fixture->analysis, sb_analysis_unref);
  sb_bench_unref (fixture->bench);
  bench_files_folder_free (fixture->folder);
  g_free (fixture);
  return 0;
}

static void
add_configuration (Fixture *fixture, const char *name, const char *const *paths, gsize n)
{
  sb_bench_add_configuration (fixture->bench, name, paths, n);
}

static void
analyse (Fixture *fixture)
{
  fixture->analysis = sb_analysis_run (fixture->bench, NULL, SB_ANALYSIS_DEFAULT, NULL, NULL, NULL, NULL);
  fixture->notices = sb_notices_new (fixture->analysis, fixture->news);
}

static const SbNotice *
find_notice (const Fixture *fixture, SbNoticeKind kind, const char *subject)
{
  for (guint i = 0; i < fixture->notices->len; i++) {
    const SbNotice *notice = g_ptr_array_index (fixture->notices, i);
    if (notice->kind == kind && g_str_equal (notice->subject, subject))
      return notice;
  }
  return NULL;
}

/* The same for one that must be there. */
static const SbNotice *
get_notice (const Fixture *fixture, SbNoticeKind kind, const char *subject)
{
  const SbNotice *notice = find_notice (fixture, kind, subject);
  if (notice == NULL) {
    fail_msg ("no notice about %s", subject);
    g_assert_not_reached ();
  }
  return notice;
}

static void
a_file_that_is_no_log_is_a_notice_that_names_it_and_leads_to_it (void **state)
{
  Fixture *fixture = *state;
  g_autofree char *good = bench_files_write_configuration (fixture->folder, "good", 1, 4);
  g_autofree char *run = g_build_filename (good, "run-1.csv", NULL);
  g_autofree char *bad = bench_files_write (fixture->folder, "letter.csv", "Dear Sir,\nno numbers here.\n");
  const char *const paths[] = { run, bad };
  add_configuration (fixture, "mixed", paths, 2);
  analyse (fixture);
  const SbNotice *notice = get_notice (fixture, SB_NOTICE_FAILURE, "letter.csv");
  assert_string_equal (notice->place, "mixed");
  assert_int_equal (notice->configuration, 0);
  assert_int_equal (notice->trial, 1);
  assert_true (strlen (notice->text) > 0);
  assert_ptr_equal (g_ptr_array_index (fixture->notices, 0), notice); /* the gravest stands first */
}

/* A copy of the reference as other is unfair by construction, a warning; a letter cannot be used, an error. What is
 * only doubted or assumed comes behind both. */
static void
errors_come_before_warnings_and_these_before_remarks (void **state)
{
  Fixture *fixture = *state;
  g_autofree char *folder = bench_files_write_configuration (fixture->folder, "a", 1, 4);
  g_autofree char *run = g_build_filename (folder, "run-1.csv", NULL);
  g_autofree char *bad = bench_files_write (fixture->folder, "letter.csv", "Dear Sir,\nno numbers here.\n");
  const char *const first[] = { run }, *const second[] = { run, bad };
  add_configuration (fixture, "a", first, 1);
  add_configuration (fixture, "b", second, 2);
  analyse (fixture);
  static const int weights[SB_N_NOTICES] = {
    [SB_NOTICE_FAILURE] = 0,  [SB_NOTICE_REMARK] = 1, [SB_NOTICE_FAULT] = 1, [SB_NOTICE_FLAW] = 1,
    [SB_NOTICE_FAIRNESS] = 1, [SB_NOTICE_NEWS] = 2,   [SB_NOTICE_DOUBT] = 2, [SB_NOTICE_NOTE] = 2,
  };
  int last = 0, seen = 0;
  for (guint i = 0; i < fixture->notices->len; i++) {
    int weight = weights[((const SbNotice *) g_ptr_array_index (fixture->notices, i))->kind];
    assert_true (weight >= last);
    last = weight;
    seen |= 1 << weight;
  }
  assert_int_equal (seen, 7); /* there is one of each weight to be ordered */
}

/* Line 4 is the third data row: header 1, rows from 2. */
static void
rows_left_out_are_counted_and_the_first_is_named_by_its_line (void **state)
{
  Fixture *fixture = *state;
  g_autofree char *folder = bench_files_write_configuration (fixture->folder, "spoiled", 1, 4);
  g_autofree char *path = g_build_filename (folder, "run-1.csv", NULL);
  g_autofree char *text = NULL;
  g_file_get_contents (path, &text, NULL, NULL);
  g_auto (GStrv) lines = g_strsplit (text, "\n", -1);
  g_free (lines[3]);
  lines[3] = g_strdup ("0.002,0,0,0,n/a");
  g_autofree char *spoiled = g_strjoinv ("\n", lines);
  g_file_set_contents (path, spoiled, -1, NULL);
  const char *const paths[] = { path };
  add_configuration (fixture, "spoiled", paths, 1);
  analyse (fixture);
  const SbNotice *notice = get_notice (fixture, SB_NOTICE_FAULT, "run-1.csv");
  assert_non_null (strstr (notice->text, "1 row left out"));
  assert_non_null (strstr (notice->text, "line 4"));
}

/* The two stretches 0 to 0.15 s and 0.15 s to the end of each of `n` logs. */
static void
add_halves (Fixture *fixture, const char *const *paths, gsize n)
{
  guint index = sb_bench_add_configuration (fixture->bench, "halves", NULL, 0);
  for (gsize i = 0; i < 2 * n; i++) {
    SbTrialEntry entry = { .path = g_ref_string_new (paths[i / 2]), .step = 1 + i % 2, .n_steps = 2, .included = TRUE };
    entry.choices = SB_TRIAL_CHOICES_NONE;
    *(i % 2 == 0 ? &entry.choices.to_s : &entry.choices.from_s) = 0.15;
    sb_bench_add_entry (fixture->bench, index, &entry);
    sb_trial_entry_clear (&entry);
  }
}

static void
a_log_in_several_trials_that_cannot_be_read_is_told_once (void **state)
{
  Fixture *fixture = *state;
  g_autofree char *bad = bench_files_write (fixture->folder, "letter.csv", "Dear Sir,\nno numbers here.\n");
  add_halves (fixture, (const char *const[]){ bad }, 1);
  analyse (fixture);
  assert_int_equal (fixture->notices->len, 1);
  assert_string_equal (get_notice (fixture, SB_NOTICE_FAILURE, "letter.csv")->place, "halves");
}

/* Logs are counted, not their trials: one log gone is "its folder", two are "2 logs". */
static void
logs_in_several_trials_that_are_gone_are_counted_as_logs (void **state)
{
  Fixture *fixture = *state;
  g_autofree char *folder = bench_files_write_configuration (fixture->folder, "good", 2, 4);
  g_autofree char *one = g_build_filename (folder, "run-1.csv", NULL);
  g_autofree char *two = g_build_filename (folder, "run-2.csv", NULL);
  add_halves (fixture, (const char *const[]){ one, two }, 2);
  SbNews *news = fixture->news = sb_news_new ();
  g_hash_table_add (news->missing, g_strdup (one));
  analyse (fixture);
  assert_non_null (strstr (get_notice (fixture, SB_NOTICE_REMARK, "run-1.csv")->text, "no longer in its folder"));
  g_hash_table_add (news->missing, g_strdup (two));
  g_ptr_array_unref (fixture->notices);
  fixture->notices = sb_notices_new (fixture->analysis, news);
  assert_non_null (strstr (get_notice (fixture, SB_NOTICE_REMARK, "2 logs")->text, "no longer in their folder"));
}

static void
clean_logs_have_no_failure_and_no_fault (void **state)
{
  Fixture *fixture = *state;
  g_autofree char *folder = bench_files_write_configuration (fixture->folder, "clean", 1, 4);
  g_autofree char *path = g_build_filename (folder, "run-1.csv", NULL);
  const char *const paths[] = { path };
  add_configuration (fixture, "clean", paths, 1);
  analyse (fixture);
  assert_null (find_notice (fixture, SB_NOTICE_FAILURE, "run-1.csv"));
  assert_null (find_notice (fixture, SB_NOTICE_FAULT, "run-1.csv"));
}

/* Tops of 4.0, 4.1 and 4.2 N·m (less e^-30 of the step, nothing at 3 digits): mean 4.1, sample standard deviation 0.1.
 */
static void
a_mean_cell_shows_mean_and_sample_deviation (void **state)
{
  Fixture *fixture = *state;
  g_autofree char *folder = bench_files_write_configuration (fixture->folder, "three", 3, 4);
  g_autofree char *first = g_build_filename (folder, "run-1.csv", NULL);
  g_autofree char *second = g_build_filename (folder, "run-2.csv", NULL);
  g_autofree char *third = g_build_filename (folder, "run-3.csv", NULL);
  const char *const paths[] = { first, second, third };
  add_configuration (fixture, "three", paths, 3);
  analyse (fixture);
  const SbConfigurationResult *result = sb_analysis_configuration (fixture->analysis, 0);
  g_auto (SbMeasureCell) cell = sb_measure_cell_mean (result, SB_MEASURE_PEAK_TORQUE, (SbUnits){ 0 });
  assert_false (cell.absent);
  assert_close (g_ascii_strtod (cell.value, NULL), 4.1, 1e-9);
  assert_true (g_str_has_prefix (cell.detail, "± 0.10"));
}

static void
a_cell_without_value_shows_a_dash_and_the_reason (void **state)
{
  Fixture *fixture = *state;
  g_autofree char *folder = bench_files_write_configuration (fixture->folder, "one", 1, 4);
  g_autofree char *path = g_build_filename (folder, "run-1.csv", NULL);
  const char *const paths[] = { path };
  add_configuration (fixture, "one", paths, 1);
  analyse (fixture);
  g_auto (SbMeasureCell) cell
      = sb_measure_cell_difference (fixture->analysis->comparison, SB_MEASURE_PEAK_TORQUE, (SbUnits){ 0 });
  assert_true (cell.absent);
  assert_string_equal (cell.value, "–");
  assert_true (strlen (cell.tooltip) > 0);
}

/* −0.1163 with an interval from −0.3246 to 0.0920 is uncertain by 0.2083, which is 0.21 to two digits (GUM 7.2.6):
 * hundredths, in the window as in the tables of a report and a terminal. */
static void
a_difference_is_rounded_as_in_the_tables (void **state)
{
  Fixture *fixture = *state;
  SbComparison *comparison = g_new0 (SbComparison, 1);
  SbMeasureComparison *measure = &comparison->measure[SB_MEASURE_MEAN_VELOCITY];
  measure->present = TRUE;
  measure->p_holm = 0.25;
  measure->welch = (SbWelch){ .difference = -0.1163, .standard_error = 0.1, .ci95 = { -0.3246, 0.092 } };
  g_auto (SbMeasureCell) cell = sb_measure_cell_difference (comparison, SB_MEASURE_MEAN_VELOCITY, (SbUnits){ 0 });
  char *cells[SB_COMPARISON_CELLS];
  sb_comparison_cells (SB_MEASURE_MEAN_VELOCITY, fixture->bench, measure, cells);
  assert_string_equal (cell.value, "−0.12");
  assert_string_equal (cell.detail, "−0.32 to +0.09");
  assert_string_equal (cells[0], "−0.12");
  assert_string_equal (cells[1], "−0.32 to +0.09");
  for (gsize i = 0; i < SB_COMPARISON_CELLS; i++)
    g_free (cells[i]);
  g_free (comparison);
}

/* `n` notices of a kind, with their place in the list as subject. */
static void
add_notices (Fixture *fixture, SbNoticeKind kind, guint n)
{
  for (guint i = 0; i < n; i++) {
    SbNotice *notice = g_new0 (SbNotice, 1);
    notice->kind = kind;
    notice->subject = g_strdup_printf ("%u", fixture->notices->len);
    notice->text = g_strdup ("");
    g_ptr_array_add (fixture->notices, notice);
  }
}

static void
assert_shown (const Fixture *fixture, guint unfolded, const char *expected)
{
  g_autoptr (GHashTable) open = g_hash_table_new (g_str_hash, g_str_equal);
  g_autoptr (GPtrArray) shown = sb_notices_fold (fixture->notices, unfolded, open);
  g_autoptr (GString) text = g_string_new (NULL);
  for (guint i = 0; i < shown->len; i++)
    g_string_append (text, ((const SbNotice *) g_ptr_array_index (shown, i))->subject);
  assert_string_equal (text->str, expected);
}

/* Failures 0 to 2 stay, of remarks 3 to 6 the first does, doubts 7 and 8 are too few to be folded. */
static void
a_kind_of_more_than_two_is_folded_behind_its_first_and_counted (void **state)
{
  Fixture *fixture = *state;
  fixture->notices = g_ptr_array_new_with_free_func ((GDestroyNotify) sb_notice_free);
  add_notices (fixture, SB_NOTICE_FAILURE, 3);
  add_notices (fixture, SB_NOTICE_REMARK, 4);
  add_notices (fixture, SB_NOTICE_DOUBT, 2);
  const SbNotice *first = g_ptr_array_index (fixture->notices, 3);
  assert_shown (fixture, 0, "012378");
  assert_int_equal (first->n_alike, 4);
  assert_int_equal (first->n_folded, 3);
  assert_shown (fixture, 1u << SB_NOTICE_REMARK, "012345678");
  assert_int_equal (first->n_alike, 4);
  assert_int_equal (first->n_folded, 0);
}

/* A log that is to be located has a button for it. */
static void
a_log_to_be_located_is_not_folded_away (void **state)
{
  Fixture *fixture = *state;
  fixture->notices = g_ptr_array_new_with_free_func ((GDestroyNotify) sb_notice_free);
  add_notices (fixture, SB_NOTICE_REMARK, 5);
  ((SbNotice *) g_ptr_array_index (fixture->notices, 3))->is_lost = TRUE;
  assert_shown (fixture, 0, "03");
}

static void
doubt (const Fixture *fixture, guint configuration, SbMeasureId id, const char *sentence)
{
  SbMeasureSummary *summary = &sb_analysis_configuration (fixture->analysis, configuration)->summary->measure[id];
  if (summary->doubts == NULL)
    summary->doubts = g_ptr_array_new_with_free_func (sb_doubt_free);
  g_ptr_array_add (summary->doubts, sb_doubt_new (SB_DOUBT_TOLD, g_strdup (sentence)));
}

/* Two configurations "a" and "b" with no doubts but those of the test. */
static void
analyse_without_doubts (Fixture *fixture)
{
  g_autofree char *folder = bench_files_write_configuration (fixture->folder, "a", 1, 4);
  g_autofree char *run = g_build_filename (folder, "run-1.csv", NULL);
  add_configuration (fixture, "a", (const char *const[]){ run }, 1);
  add_configuration (fixture, "b", (const char *const[]){ run }, 1);
  analyse (fixture);
  for (guint c = 0; c < 2; c++)
    for (guint id = 0; id < SB_N_MEASURES; id++)
      g_clear_pointer (&sb_analysis_configuration (fixture->analysis, c)->summary->measure[id].doubts,
                       g_ptr_array_unref);
}

/* The doubts alone, with all details. */
static void
assert_doubts (const Fixture *fixture, const char *const *topics, const char *expected)
{
  g_autoptr (GPtrArray) notices = sb_notices_new (fixture->analysis, NULL);
  g_autoptr (GHashTable) open = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  for (gsize i = 0; topics[i] != NULL; i++)
    g_hash_table_add (open, g_strdup (topics[i]));
  g_autoptr (GPtrArray) shown = sb_notices_fold (notices, 1u << SB_NOTICE_DOUBT, open);
  g_autoptr (GString) text = g_string_new (NULL);
  for (guint i = 0; i < shown->len; i++) {
    const SbNotice *notice = g_ptr_array_index (shown, i);
    if (notice->kind == SB_NOTICE_DOUBT)
      g_string_append_printf (text, "%s%s: %s\n", notice->is_part ? "  " : "", notice->subject, notice->text);
  }
  assert_string_equal (text->str, expected);
}

/* Six doubts on three topics: the one that three figures are doubted for comes first, the one of a single configuration
 * names it, and a lone doubt stands for itself. Every sentence is in the details. */
static void
doubts_on_one_topic_are_one_notice_with_every_sentence_in_its_details (void **state)
{
  Fixture *fixture = *state;
  analyse_without_doubts (fixture);
  doubt (fixture, 0, SB_MEASURE_DEAD_TIME, "coarse: lone");
  doubt (fixture, 1, SB_MEASURE_OVERSHOOT, "short: by 1 ms");
  doubt (fixture, 1, SB_MEASURE_UNDERSHOOT, "short: by 2 ms");
  doubt (fixture, 0, SB_MEASURE_OVERSHOOT, "raised: by 1 %");
  doubt (fixture, 0, SB_MEASURE_UNDERSHOOT, "raised: by 1 %");
  doubt (fixture, 1, SB_MEASURE_OVERSHOOT, "raised: by 2 %");
  assert_doubts (fixture, (const char *const[]){ NULL },
                 "2 configurations: raised – Overshoot, Undershoot\n"
                 "b: short – Overshoot, Undershoot\n"
                 "a: coarse: lone – Dead time\n");
  assert_doubts (fixture, (const char *const[]){ "raised", "short", NULL },
                 "2 configurations: raised – Overshoot, Undershoot\n"
                 "  a: raised: by 1 % – Overshoot, Undershoot\n"
                 "  b: raised: by 2 % – Overshoot\n"
                 "b: short – Overshoot, Undershoot\n"
                 "  b: short: by 1 ms – Overshoot\n"
                 "  b: short: by 2 ms – Undershoot\n"
                 "a: coarse: lone – Dead time\n");
}

/* Four are named, of six the last two are counted. */
static void
a_topic_of_many_measures_names_the_first_and_counts_the_others (void **state)
{
  Fixture *fixture = *state;
  static const SbMeasureId ids[] = { SB_MEASURE_DEAD_TIME,  SB_MEASURE_PEAK_TORQUE,   SB_MEASURE_OVERSHOOT,
                                     SB_MEASURE_UNDERSHOOT, SB_MEASURE_SETTLING_TIME, SB_MEASURE_RINGING_AMPLITUDE };
  analyse_without_doubts (fixture);
  for (guint c = 0; c < 2; c++)
    for (gsize i = 0; i < G_N_ELEMENTS (ids); i++)
      doubt (fixture, c, ids[i], "gap: here");
  g_autoptr (GPtrArray) notices = sb_notices_new (fixture->analysis, NULL);
  guint n = 0;
  for (guint i = 0; i < notices->len; i++) {
    const SbNotice *notice = g_ptr_array_index (notices, i);
    if (notice->kind != SB_NOTICE_DOUBT)
      continue;
    n++;
    assert_true (g_str_has_suffix (notice->text, " and 2 more measures"));
    assert_int_equal (notice->parts->len, 2);
    assert_int_equal (notice->configuration, 0);
  }
  assert_int_equal (n, 1);
}

#define CASE(name) cmocka_unit_test_setup_teardown (name, set_up, tear_down)

int
main (void)
{
  const struct CMUnitTest tests[] = {
    CASE (a_file_that_is_no_log_is_a_notice_that_names_it_and_leads_to_it),
    CASE (errors_come_before_warnings_and_these_before_remarks),
    CASE (rows_left_out_are_counted_and_the_first_is_named_by_its_line),
    CASE (a_log_in_several_trials_that_cannot_be_read_is_told_once),
    CASE (logs_in_several_trials_that_are_gone_are_counted_as_logs),
    CASE (clean_logs_have_no_failure_and_no_fault),
    CASE (a_kind_of_more_than_two_is_folded_behind_its_first_and_counted),
    CASE (a_log_to_be_located_is_not_folded_away),
    CASE (doubts_on_one_topic_are_one_notice_with_every_sentence_in_its_details),
    CASE (a_topic_of_many_measures_names_the_first_and_counts_the_others),
    CASE (a_mean_cell_shows_mean_and_sample_deviation),
    CASE (a_cell_without_value_shows_a_dash_and_the_reason),
    CASE (a_difference_is_rounded_as_in_the_tables),
  };
  return cmocka_run_group_tests (tests, NULL, NULL);
}
