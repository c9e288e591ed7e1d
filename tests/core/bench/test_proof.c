/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "proof_fixture.h"
#include "proof_judgements.h"
#include "proof_names.h"

/* What docs/proof.md promises of the text, so that PNG, SVG, PDF and HTML can hold it as it is. */
static void
proof_is_one_line_of_plain_ascii_without_markup (void **state)
{
  ProofFixture *fixture = *state;
  make_logs (fixture, "logs");
  fixture->bench->bench->chart.title = (g_free (fixture->bench->bench->chart.title), g_strdup ("<τ> & 2 Ω 𝄞"));
  analyse_logs (fixture, "logs");
  const char *text = keep (fixture->bench, sb_proof_text (fixture->bench->analysis, NULL));
  for (const char *c = text; *c != '\0'; c++)
    if (*c < 0x20 || *c > 0x7e || strchr ("<>&", *c) != NULL)
      fail_msg ("character %d at %td", *c, c - text);
  const SbProof *proof = parse (fixture, text);
  assert_true (proof->is_whole);
  g_autoptr (GHashTable) paths = g_hash_table_new (g_str_hash, g_str_equal);
  fixture->bench->other_bench = sb_proof_bench (proof, paths, NULL);
  assert_string_equal (fixture->bench->other_bench->chart.title, "<τ> & 2 Ω 𝄞");
}

/* The recipe of docs/proof.md, with GLib's SHA-256: take the seal out of the text, and its checksum is the seal. */
static void
seal_is_the_checksum_of_the_text_without_it (void **state)
{
  ProofFixture *fixture = *state;
  const char *text = make_proof (fixture);
  const char *seal = strstr (text, ",\"seal\":\"");
  assert_non_null (seal);
  const char *rest = keep (fixture->bench, g_strdup_printf ("%.*s}", (int) (seal - text), text));
  const char *sum = keep (fixture->bench, g_compute_checksum_for_string (G_CHECKSUM_SHA256, rest, -1));
  assert_memory_equal (seal + strlen (",\"seal\":\""), sum, 64);
  assert_string_equal (seal + strlen (",\"seal\":\"") + 64, "\"}");
}

/* A picture of some kilobytes may hold it packed, and the parser takes forty times its size. */
static void
text_of_millions_of_values_is_refused_before_it_is_parsed (void **state)
{
  ProofFixture *fixture = *state;
  GString *text = g_string_new ("{\"a\":[0");
  for (int i = 0; i < 2000000; i++)
    g_string_append (text, ",0");
  g_string_append (text, "]}");
  const char *kept = keep (fixture->bench, g_string_free (text, FALSE));
  assert_null (sb_proof_parse (kept, strlen (kept), &fixture->error));
  assert_non_null (strstr (fixture->error->message, "more values"));
}

/* Whatever is changed in the text, the seal tells it. */
static void
edited_proof_is_not_whole (void **state)
{
  ProofFixture *fixture = *state;
  const char *text = make_proof (fixture);
  assert_true (parse (fixture, text)->is_whole);
  static const char *const edits[][2] = { { "\"slope_window_s\":0", "\"slope_window_s\":1" },
                                          { "\"version\":\"", "\"version\":\"9" },
                                          { "\"included\":true", "\"included\":false" },
                                          { "\"mean\":", "\"mean\":1" },
                                          { "\"bytes\":", "\"bytes\":1" } };
  for (gsize i = 0; i < G_N_ELEMENTS (edits); i++)
    assert_false (parse (fixture, edit (fixture, text, edits[i][0], edits[i][1]))->is_whole);
}

/* A count keeps all its digits; other figures have the five that no judgement is read closer than, and no exponent. */
static void
facts_are_written_out_for_people (void **state)
{
  static const struct {
    double number;
    const char *text;
  } table[] = { { 123456, "123456" },     { 123457, "123457" },       { 0.000123456, "0.00012346" }, { 12.345678, "12.346" },
                { 1234567.8, "1234600" }, { -0.5, "-0.5" }, { 1e-13, "0" },             { (double) NAN, "nothing" } };
  for (gsize i = 0; i < G_N_ELEMENTS (table); i++) {
    char about[] = "Plan", name[] = "n needed";
    SbProofFact fact = { .about = about, .name = name, .number = table[i].number };
    g_autofree char *text = sb_proof_fact_text (&fact);
    assert_string_equal (text, table[i].text);
  }
}

static void
proof_names_size_and_checksum_of_each_log_once (void **state)
{
  ProofFixture *fixture = *state;
  const SbProof *proof = parse (fixture, make_proof (fixture));
  assert_int_equal (proof->logs->len, 6);
  for (guint i = 0; i < proof->logs->len; i++) {
    const SbProofLog *log = g_ptr_array_index (proof->logs, i);
    g_autofree char *name = g_strdup_printf ("logs/%s", log->file);
    g_autofree char *bytes = NULL;
    gsize n_bytes = 0;
    assert_true (g_file_get_contents (path_in (fixture->bench, name), &bytes, &n_bytes, NULL));
    g_autofree char *sum = g_compute_checksum_for_data (G_CHECKSUM_SHA256, (const guchar *) bytes, n_bytes);
    assert_int_equal (log->n_bytes, n_bytes);
    assert_string_equal (log->sha256, sum);
  }
  assert_string_equal (((SbProofLog *) g_ptr_array_index (proof->logs, 0))->file, "slow/run-1.csv");
}

/* The numbers of the summary themselves, to the last bit: 17 digits bring every double back (IEEE 754-2019, 5.12.2). */
static void
figures_come_back_to_the_last_bit (void **state)
{
  ProofFixture *fixture = *state;
  const SbProof *proof = parse (fixture, make_proof (fixture));
  guint n = 0;
  for (guint i = 0; i < proof->figures->len; i++) {
    const SbProofFigure *figure = &g_array_index (proof->figures, SbProofFigure, i);
    if (figure->configuration < 0)
      continue;
    const SbMeasureSummary *measure
        = &sb_analysis_configuration (fixture->bench->analysis, (guint) figure->configuration)
               ->summary->measure[figure->id];
    assert_int_equal (figure->present, measure->present);
    if (!figure->present)
      continue;
    n++;
    assert_memory_equal (&figure->value[0], &measure->mean, sizeof (double));
    if (isfinite (measure->sd))
      assert_memory_equal (&figure->value[1], &measure->sd, sizeof (double));
  }
  assert_true (n > 10);
}

/* Elsewhere on the disk, and named by other paths: the proof says nothing of the computer. */
static void
same_logs_elsewhere_give_the_same_bytes (void **state)
{
  ProofFixture *fixture = *state;
  const char *one = make_proof (fixture);
  make_logs (fixture, "elsewhere/deep");
  sb_bench_unref (fixture->bench->bench);
  fixture->bench->bench = sb_bench_new ();
  fixture->bench->second = g_steal_pointer (&fixture->bench->analysis);
  analyse_logs (fixture, "elsewhere/deep");
  const char *other = keep (fixture->bench, sb_proof_text (fixture->bench->analysis, NULL));
  assert_string_equal (one, other);
  assert_null (strstr (one, fixture->bench->folder));
  g_autofree char *base = g_path_get_basename (fixture->bench->folder);
  assert_null (strstr (one, base));
}

/* The second export of a chart is the first one again. */
static void
what_was_exported_before_leaves_the_bytes_alone (void **state)
{
  ProofFixture *fixture = *state;
  const char *one = make_proof (fixture);
  fixture->bench->bench->exported_as = SB_CHART_SVG;
  const char *other = keep (fixture->bench, sb_proof_text (fixture->bench->analysis, NULL));
  assert_string_equal (one, other);
}

static void
check_names (ProofFixture *fixture, const char *const *paths, const char *const *expected, gsize n)
{
  sb_bench_unref (fixture->bench->bench);
  fixture->bench->bench = sb_bench_new ();
  sb_bench_add_configuration (fixture->bench->bench, "A", paths, n);
  g_autoptr (GHashTable) names = sb_proof_names (fixture->bench->bench);
  for (gsize i = 0; i < n; i++)
    assert_string_equal (g_hash_table_lookup (names, paths[i]), expected[i]);
}

static void
names_are_relative_to_what_the_logs_share (void **state)
{
  const char *const paths[] = { "/home/a b/tests/slow/1.csv", "/home/a b/tests/slow/2.csv", "/home/a b/tests/x.csv" };
  const char *const names[] = { "slow/1.csv", "slow/2.csv", "x.csv" };
  check_names (*state, paths, names, 3);
  check_names (*state, paths, (const char *const[]){ "1.csv", "2.csv" }, 2);
}

/* Folders whose names begin alike are not the same folder. */
static void
names_are_cut_at_folders_alone (void **state)
{
  const char *const paths[] = { "/t/slow 1/1.csv", "/t/slow 2/1.csv" };
  check_names (*state, paths, (const char *const[]){ "slow 1/1.csv", "slow 2/1.csv" }, 2);
}

/* Logs on two disks would else tell whose home they lie in. */
static void
names_of_logs_far_apart_keep_their_own_folder (void **state)
{
  const char *const paths[] = { "/home/someone/tests/rim/1.csv", "/media/stick/rim/1.csv", "/2.csv" };
  check_names (*state, paths, (const char *const[]){ "rim/1.csv", "2/rim/1.csv", "2.csv" }, 3);
}

static void
check_refused (ProofFixture *fixture, const char *text, int code, const char *words)
{
  fixture->proof = sb_proof_parse (text, strlen (text), &fixture->error);
  assert_null (fixture->proof);
  assert_true (g_error_matches (fixture->error, SB_PROOF_ERROR, code));
  if (strstr (fixture->error->message, words) == NULL)
    fail_msg ("'%s' is not in: %s", words, fixture->error->message);
  g_clear_error (&fixture->error);
}

/* A proof comes from anywhere: it may name no file outside of the folder that is looked through. */
static void
names_that_lead_out_of_the_folder_are_refused (void **state)
{
  ProofFixture *fixture = *state;
  const char *text = make_proof (fixture), *old = "{\"file\":\"slow/run-1.csv\",\"bytes\"";
  static const char *const names[] = { "../run-1.csv", "/etc/passwd", "a/../../b", "", "a//b", "./x" };
  for (gsize i = 0; i < G_N_ELEMENTS (names); i++) {
    g_autofree char *with = g_strdup_printf ("{\"file\":\"%s\",\"bytes\"", names[i]);
    check_refused (fixture, edit (fixture, text, old, with), SB_PROOF_ERROR_DAMAGED, "no proper name");
  }
}

static void
later_form_is_refused_with_its_number (void **state)
{
  ProofFixture *fixture = *state;
  const char *text = edit (fixture, make_proof (fixture), "\"slewbench_proof\":1", "\"slewbench_proof\":7");
  check_refused (fixture, text, SB_PROOF_ERROR_VERSION, "form 7; this version reads up to 1");
}

static void
what_is_no_proof_is_told_from_a_damaged_one (void **state)
{
  ProofFixture *fixture = *state;
  check_refused (fixture, "{\"a\": 1}", SB_PROOF_ERROR_NONE, "no proof");
  check_refused (fixture, "[1, 2]", SB_PROOF_ERROR_NONE, "no proof");
  check_refused (fixture, "{\"slewbench_proof\": 1", SB_PROOF_ERROR_DAMAGED, "cannot be read");
  check_refused (fixture, "{\"slewbench_proof\": 1}", SB_PROOF_ERROR_DAMAGED, "version");
  check_refused (fixture, "{\"slewbench_proof\": 1, \"version\": \"1\", \"session\": {}}", SB_PROOF_ERROR_DAMAGED,
                 "list of logs");
  check_refused (fixture, "{\"slewbench_proof\": 1, \"version\": \"1\", \"session\": {}, \"logs\": []}",
                 SB_PROOF_ERROR_DAMAGED, "figures");
}

/* The session in the proof, with its logs where they lie, is the bench that was analysed. */
static void
bench_of_a_proof_has_its_choices_and_logs (void **state)
{
  ProofFixture *fixture = *state;
  SbBench *bench = fixture->bench->bench;
  make_logs (fixture, "logs");
  bench->measure.slope_window_s = 0.004;
  bench->band = SB_BAND_RANGE;
  analyse_logs (fixture, "logs");
  const SbProof *proof = parse (fixture, keep (fixture->bench, sb_proof_text (fixture->bench->analysis, NULL)));
  char name[] = "fast/run-2.csv", path[] = "/somewhere/else.csv";
  g_autoptr (GHashTable) paths = g_hash_table_new (g_str_hash, g_str_equal);
  g_hash_table_insert (paths, name, path);
  fixture->bench->other_bench = sb_proof_bench (proof, paths, &fixture->error);
  const SbBench *again = fixture->bench->other_bench;
  assert_non_null (again);
  assert_close (again->measure.slope_window_s, 0.004, 0);
  assert_int_equal (again->band, SB_BAND_RANGE);
  const SbConfiguration *fast = sb_bench_configuration (again, 1);
  assert_string_equal (fast->name, "Fast");
  assert_string_equal (sb_configuration_entry (fast, 1)->path, "/somewhere/else.csv");
  assert_false (g_file_test (sb_configuration_entry (fast, 0)->path, G_FILE_TEST_EXISTS));
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    proof_test (proof_is_one_line_of_plain_ascii_without_markup),
    proof_test (seal_is_the_checksum_of_the_text_without_it),
    proof_test (text_of_millions_of_values_is_refused_before_it_is_parsed),
    proof_test (edited_proof_is_not_whole),
    cmocka_unit_test (facts_are_written_out_for_people),
    proof_test (proof_names_size_and_checksum_of_each_log_once),
    proof_test (figures_come_back_to_the_last_bit),
    proof_test (same_logs_elsewhere_give_the_same_bytes),
    proof_test (what_was_exported_before_leaves_the_bytes_alone),
    proof_test (names_are_relative_to_what_the_logs_share),
    proof_test (names_are_cut_at_folders_alone),
    proof_test (names_of_logs_far_apart_keep_their_own_folder),
    proof_test (names_that_lead_out_of_the_folder_are_refused),
    proof_test (later_form_is_refused_with_its_number),
    proof_test (what_is_no_proof_is_told_from_a_damaged_one),
    proof_test (bench_of_a_proof_has_its_choices_and_logs),
  };
  return cmocka_run_group_tests (tests, NULL, NULL);
}
