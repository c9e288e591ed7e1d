/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "bench_claims.h"
#include "verify_fixture.h"

static void
same_logs_and_choices_are_the_same (void **state)
{
  ProofFixture *fixture = *state;
  const SbVerification *v = verify (fixture, make_proof (fixture), "logs", NULL);
  assert_true (sb_verification_is_same (v));
  assert_int_equal (v->n_same, 6);
  assert_int_equal (v->n_to_the_bit, v->figures->len);
  assert_int_equal (v->figures->len, 3 * SB_N_MEASURES); /* two configurations and their comparison */
  assert_words (fixture->words->outcome, "Same:");
  assert_words (fixture->words->choices, "2 configurations: Slow (3 repeats), Fast (3 repeats). “Fast” is compared "
                                         "with “Slow”. All other choices are the usual ones.");
  assert_int_equal (fixture->words->details->len, 0);
}

/* Bit 0 of one digit of one velocity: '0' becomes '1'. */
static void
one_bit_in_one_log_is_told_and_named (void **state)
{
  ProofFixture *fixture = *state;
  const char *text = make_proof (fixture), *path = path_in (fixture->bench, "logs/fast/run-2.csv");
  g_autofree char *bytes = NULL;
  gsize n = 0;
  assert_true (g_file_get_contents (path, &bytes, &n, NULL));
  char *digit = strrchr (bytes, ',') - 1;
  *digit ^= 1;
  assert_true (g_file_set_contents (path, bytes, (gssize) n, NULL));
  const SbVerification *v = verify (fixture, text, "logs", NULL);
  assert_false (sb_verification_is_same (v));
  assert_int_equal (v->n_same, 5);
  assert_int_equal (v->n_changed, 1);
  assert_words (g_ptr_array_index (fixture->words->details, 0),
                "fast/run-2.csv: as long as the log used, but with other content");
  assert_words (fixture->words->logs, "1 has other content than the one used");
  assert_words (fixture->words->made, "its own checksum fits");
}

/* A figure that hangs on the changed log differs, and the cause is named. The last torque is far behind the settled
 * step; the peak velocity is the last sample's. */
static void
changed_log_changes_the_figures_of_its_configuration (void **state)
{
  ProofFixture *fixture = *state;
  const char *text = make_proof (fixture);
  write_step (fixture->bench, "logs/fast/run-2.csv", (StepLog){ .interval_ms = 1, .ramp_ms = 40, .length_ms = 250 });
  const SbVerification *v = verify (fixture, text, "logs", NULL);
  assert_true (v->n_differ > 0);
  for (guint i = 0; i < v->figures->len; i++) {
    const SbVerifiedFigure *figure = &g_array_index (v->figures, SbVerifiedFigure, i);
    if (figure->recorded.configuration == 0)
      assert_int_equal (figure->match, SB_VERIFIED_TO_THE_BIT);
    if (figure->recorded.configuration == 1 && figure->recorded.id == SB_MEASURE_TORQUE_TRANSITION_TIME)
      assert_int_equal (figure->match, SB_VERIFIED_DIFFERS);
  }
  assert_words (fixture->words->outcome, "because a log at hand is not the one used");
}

/* A slope window of 30 ms where none was chosen. Who edits the text breaks the seal; who seals it anew is found out by
 * the figures. */
static void
changed_choice_is_told_with_its_seal_broken_or_not (void **state)
{
  ProofFixture *fixture = *state;
  const char *edited = edit (fixture, make_proof (fixture), "\"slope_window_s\":0.0", "\"slope_window_s\":0.03");
  const SbVerification *v = verify (fixture, edited, "logs", NULL);
  assert_false (sb_verification_is_same (v));
  assert_int_equal (v->n_same, 6);
  assert_true (v->n_differ > 0);
  assert_words (fixture->words->made, "was changed after it was written");
  assert_words (fixture->words->outcome, "with the same logs: a choice or a figure in the proof was changed");
  assert_words (fixture->words->choices, "Other than usual: slope window 30 ms.");

  v = verify (fixture, seal_anew (fixture, edited), "logs", NULL);
  assert_false (sb_verification_is_same (v));
  assert_words (fixture->words->made, "its own checksum fits");
  assert_words (fixture->words->outcome, "a choice or a figure in the proof is not the one that it was made with");
  assert_words (g_ptr_array_index (fixture->words->details, 0), "Peak torque slope, Slow: recorded ");
}

/* Another version that gives the same figures is told, and is no difference. One that does not is named as the cause.
 */
static void
other_version_is_told_from_other_figures (void **state)
{
  ProofFixture *fixture = *state;
  const char *older = edit (fixture, make_proof (fixture), "\"version\":\"" SB_VERSION "\"", "\"version\":\"0.0.1\"");
  older = seal_anew (fixture, older);
  const SbVerification *v = verify (fixture, older, "logs", NULL);
  assert_true (sb_verification_is_same (v));
  assert_words (fixture->words->made, "Made by Slewbench 0.0.1; checked by " SB_VERSION ", another version.");
  assert_words (fixture->words->outcome, "That another version made it changes nothing.");

  const char *other = seal_anew (fixture, edit (fixture, older, "\"mean\":", "\"mean\":1"));
  v = verify (fixture, other, "logs", NULL);
  assert_false (sb_verification_is_same (v));
  assert_int_equal (v->n_differ, 1);
  assert_words (fixture->words->outcome, "the two versions of the program work them out differently");
}

/* One unit in the last place of a mean: printed the same, and told. */
static void
last_bit_is_told_from_the_printed_figure (void **state)
{
  ProofFixture *fixture = *state;
  const char *text = make_proof (fixture);
  parse (fixture, text);
  const SbProofFigure *first = &g_array_index (fixture->proof->figures, SbProofFigure, 0);
  char old[G_ASCII_DTOSTR_BUF_SIZE], with[G_ASCII_DTOSTR_BUF_SIZE];
  g_ascii_dtostr (old, sizeof old, first->value[0]);
  g_ascii_dtostr (with, sizeof with, nextafter (first->value[0], HUGE_VAL));
  const SbVerification *v = verify (fixture, seal_anew (fixture, edit (fixture, text, old, with)), "logs", NULL);
  assert_int_equal (v->n_as_printed, 1);
  assert_int_equal (v->n_differ, 0);
  assert_true (sb_verification_is_same (v));
  assert_int_equal (fixture->words->details->len, 1);
  assert_words (g_ptr_array_index (fixture->words->details, 0),
                "1 figure prints the same and differs in digits behind the printed ones only");
}

/* Moves every mean of the proof by one unit in its last place, those of zero to the least number above it. How many
 * there are. */
static guint
move_last_bits (JsonObject *root)
{
  guint n = 0;
  JsonArray *figures = json_object_get_array_member (root, "figures");
  for (guint c = 0; c < json_array_get_length (figures); c++) {
    JsonObject *measures = json_object_get_object_member (json_array_get_object_element (figures, c), "measures");
    g_autoptr (GList) values = json_object_get_values (measures);
    for (GList *value = values; value != NULL; value = value->next) {
      JsonObject *figure = json_node_get_object (value->data);
      if (!json_object_has_member (figure, "mean"))
        continue;
      double mean = json_object_get_double_member (figure, "mean");
      json_object_set_double_member (figure, "mean", nextafter (mean, HUGE_VAL));
      n++;
    }
  }
  return n;
}

/* Figures that print otherwise are named, by measure and before all else; however many last digits differ, they are
 * one line. The steps of 8 N·m do not peak at 9. */
static void
figures_that_print_otherwise_come_before_a_count_of_last_digits (void **state)
{
  ProofFixture *fixture = *state;
  const char *text = make_proof (fixture);
  fixture->node = json_from_string (text, NULL);
  JsonObject *root = json_node_get_object (fixture->node);
  guint n = move_last_bits (root);
  assert_true (n > SB_N_MEASURES); /* of two configurations */
  for (guint c = 0; c < 2; c++) {
    JsonObject *of = json_array_get_object_element (json_object_get_array_member (root, "figures"), c);
    json_object_set_double_member (
        json_object_get_object_member (json_object_get_object_member (of, "measures"), "peak_torque"), "mean", 9);
  }
  json_object_remove_member (root, "seal");
  sb_proof_seal (fixture->node);
  const SbVerification *v = verify (fixture, keep (fixture->bench, sb_proof_line (fixture->node)), "logs", NULL);
  assert_int_equal (v->n_differ, 2);
  assert_int_equal (v->n_as_printed, n - 2);
  const GPtrArray *details = fixture->words->details;
  assert_int_equal (details->len, 3);
  assert_true (g_str_has_prefix (g_ptr_array_index (details, 0), "Peak torque, Slow: recorded 9.0"));
  assert_true (g_str_has_prefix (g_ptr_array_index (details, 1), "Peak torque, Fast: recorded 9.0"));
  g_autofree char *count = g_strdup_printf ("%u figures print the same and differ in digits behind", n - 2);
  assert_words (g_ptr_array_index (details, 2), count);
  assert_words (fixture->words->figures, ", 2 otherwise (peak torque).");
}

/* Twenty logs with other content are no flood either: the figures that follow are seen. */
static void
many_changed_logs_do_not_push_the_figures_out (void **state)
{
  ProofFixture *fixture = *state;
  BenchFixture *bench = fixture->bench;
  const char *paths[20];
  for (int t = 0; t < 20; t++) {
    g_autofree char *name = g_strdup_printf ("logs/run-%d.csv", t);
    StepLog step = STEP_LOG;
    step.ramp_ms = 20 + 0.1 * t;
    paths[t] = write_step (bench, name, step);
  }
  sb_bench_add_configuration (bench->bench, "Slow", paths, 20);
  bench->analysis = sb_analysis_run (bench->bench, NULL, SB_ANALYSIS_DEFAULT, NULL, NULL, NULL, NULL);
  const char *text = keep (bench, sb_proof_text (bench->analysis, NULL));
  for (int t = 0; t < 20; t++) {
    g_autofree char *name = g_strdup_printf ("logs/run-%d.csv", t);
    StepLog step = STEP_LOG;
    step.ramp_ms = 40 + 0.1 * t;
    write_step (bench, name, step);
  }
  verify (fixture, text, "logs", NULL);
  const GPtrArray *details = fixture->words->details;
  assert_words (g_ptr_array_index (details, 12), "And 8 more logs; slewbench verify --json lists all of them.");
  assert_words (g_ptr_array_index (details, 13), ", Slow: recorded ");
}

enum { LOG = 1, CHOICE = 2, VERSION = 4 };

/* The proof with these changes: one bit of one log; a slope window with the seal as it was; the figures of another
 * version, which differ. */
static const char *
change (ProofFixture *fixture, const char *text, int changes)
{
  if (changes & LOG) {
    const char *path = path_in (fixture->bench, "logs/fast/run-2.csv");
    g_autofree char *bytes = NULL;
    gsize n = 0;
    assert_true (g_file_get_contents (path, &bytes, &n, NULL));
    char *digit = strrchr (bytes, ',') - 1; /* the last torque: 8 becomes 9 */
    assert_int_equal (*digit, '8');
    *digit ^= 1;
    assert_true (g_file_set_contents (path, bytes, (gssize) n, NULL));
  }
  if (changes & VERSION) {
    text = edit (fixture, text, "\"version\":\"" SB_VERSION "\"", "\"version\":\"0.0.1\"");
    text = seal_anew (fixture, edit (fixture, text, "\"mean\":", "\"mean\":1"));
  }
  return changes & CHOICE ? edit (fixture, text, "\"slope_window_s\":0.0", "\"slope_window_s\":0.03") : text;
}

/* One bit of a log, a choice and a version are told apart, each in its own words; of two or three together all are
 * named, and none is said to be the one. */
static void
log_choice_and_version_are_told_apart (void **state)
{
  static const char *const outcome[8] = {
    [LOG] = "Different: the figures come out otherwise because a log at hand is not the one used.",
    [CHOICE] = "Different: the figures come out otherwise with the same logs: a choice or a figure in the proof was "
               "changed after it was written.",
    [VERSION] = "Different: the figures come out otherwise from the same logs and choices: the two versions of the "
                "program work them out differently.",
    [LOG | CHOICE] = "Different: the figures come out otherwise. Each of these can be the cause: a log at hand is not "
                     "the one used, and a choice or a figure in the proof was changed after it was written.",
    [LOG | VERSION] = "Different: the figures come out otherwise. Each of these can be the cause: a log at hand is not "
                      "the one used, and another version of the program, 0.0.1, made it.",
    [CHOICE | VERSION] = "Different: the figures come out otherwise. Each of these can be the cause: a choice or a "
                         "figure in the proof was changed after it was written, and another version of the program, "
                         "0.0.1, made it.",
    [LOG | CHOICE | VERSION]
    = "Different: the figures come out otherwise. Each of these can be the cause: a log at hand is not the one used, a "
      "choice or a figure in the proof was changed after it was written, and another version of the program, 0.0.1, "
      "made it.",
  };
  ProofFixture *fixture = *state;
  const char *text = make_proof (fixture);
  for (int changes = 1; changes < 8; changes++) {
    make_logs (fixture, "logs");
    const SbVerification *v = verify (fixture, change (fixture, text, changes), "logs", NULL);
    assert_false (sb_verification_is_same (v));
    assert_string_equal (fixture->words->outcome, outcome[changes]);
    assert_int_equal (v->n_changed, changes & LOG ? 1 : 0);
    assert_int_equal (v->proof->is_whole, !(changes & CHOICE));
  }
}

/* The same three where no figure hangs on them. */
static void
changes_without_effect_are_told_too (void **state)
{
  ProofFixture *fixture = *state;
  const char *text = make_proof (fixture), *path = path_in (fixture->bench, "logs/fast/run-2.csv");
  g_autofree char *bytes = NULL;
  assert_true (g_file_get_contents (path, &bytes, NULL, NULL));
  g_autofree char *longer = g_strconcat (bytes, "\n", NULL);
  assert_true (g_file_set_contents (path, longer, -1, NULL));
  verify (fixture, edit (fixture, text, "\"grey\":false", "\"grey\":true"), "logs", NULL);
  assert_string_equal (fixture->words->outcome,
                       "Different: a log at hand is not the one used, and a choice or a figure in the proof was "
                       "changed after it was written, although the figures come out the same.");
}

static void
claim_on (ProofFixture *fixture, double peak_torque_nm)
{
  make_logs (fixture, "logs");
  analyse_logs (fixture, "logs");
  SbBench *edited = edit_bench (fixture);
  sb_bench_add_claim (edited, &(SbClaim){ .configuration = 0,
                                          .measure = SB_MEASURE_PEAK_TORQUE,
                                          .relation = SB_CLAIM_AT_LEAST,
                                          .value = peak_torque_nm });
  analyse_again (fixture);
}

/* A step of 8 N·m cannot reach 100 N·m: a verdict that says so was written by hand, and sealed anew. */
static void
changed_verdict_on_a_stated_figure_is_told (void **state)
{
  ProofFixture *fixture = *state;
  claim_on (fixture, 100);
  const char *text = keep (fixture->bench, sb_proof_text (fixture->bench->analysis, NULL));
  const SbVerification *v = verify (fixture, text, "logs", NULL);
  assert_true (sb_verification_is_same (v));
  assert_true (v->facts->len > 0);
  assert_int_equal (v->n_facts[SB_VERIFIED_TO_THE_BIT], v->facts->len);

  const char *other = edit (fixture, text, "\"verdict\":\"cannot tell\"", "\"verdict\":\"reached\"");
  v = verify (fixture, seal_anew (fixture, other), "logs", NULL);
  assert_false (sb_verification_is_same (v));
  assert_int_equal (v->n_differ, 0);
  assert_int_equal (v->n_facts[SB_VERIFIED_DIFFERS], 1);
  assert_words (fixture->words->outcome, "Different: the judgements come out otherwise");
  assert_words (g_ptr_array_index (fixture->words->details, 0),
                "Stated figure 1, peak torque of Slow, verdict: recorded “reached”; now “cannot tell”.");
}

/* A figure behind a verdict is not the verdict. */
static void
figures_behind_a_verdict_are_told_apart_from_it (void **state)
{
  ProofFixture *fixture = *state;
  claim_on (fixture, 100);
  const char *text = keep (fixture->bench, sb_proof_text (fixture->bench->analysis, NULL));
  const char *other = edit (fixture, text, "\"cannot tell\",\"n\":", "\"cannot tell\",\"n\":9");
  const SbVerification *v = verify (fixture, seal_anew (fixture, other), "logs", NULL);
  assert_false (sb_verification_is_same (v));
  assert_int_equal (v->n_facts[SB_VERIFIED_DIFFERS], 1);
  assert_words (fixture->words->outcome, "Different: every verdict comes out the same, but figures behind them");
}

/* A stated figure is printed with five digits: of 100 N·m the sixth is not seen, the fourth is. */
static void
last_digits_of_a_judgement_are_no_difference (void **state)
{
  ProofFixture *fixture = *state;
  claim_on (fixture, 100);
  const char *text = keep (fixture->bench, sb_proof_text (fixture->bench->analysis, NULL));
  static const struct {
    double value;
    gboolean is_same;
  } stated[] = { { 100.0001, TRUE }, { 100.1, FALSE } };
  for (gsize i = 0; i < G_N_ELEMENTS (stated); i++) {
    g_clear_pointer (&fixture->node, json_node_unref);
    fixture->node = json_from_string (text, NULL);
    JsonObject *root = json_node_get_object (fixture->node);
    JsonArray *claims = json_object_get_array_member (json_object_get_object_member (root, "judgements"), "claims");
    json_object_set_double_member (json_array_get_object_element (claims, 0), "value", stated[i].value);
    json_object_remove_member (root, "seal");
    sb_proof_seal (fixture->node);
    const SbVerification *v = verify (fixture, keep (fixture->bench, sb_proof_line (fixture->node)), "logs", NULL);
    assert_int_equal (sb_verification_is_same (v), stated[i].is_same);
    assert_int_equal (fixture->words->details->len, 1);
    assert_words (g_ptr_array_index (fixture->words->details, 0),
                  stated[i].is_same ? "1 figure prints the same and differs in digits behind the printed ones only"
                                    : ", value: recorded 100.1; now 100.");
  }
}

/* The stated value itself is a choice: one that was changed no longer gives the recorded facts. */
static void
changed_stated_figure_and_level_are_told (void **state)
{
  ProofFixture *fixture = *state;
  claim_on (fixture, 100);
  const char *text = keep (fixture->bench, sb_proof_text (fixture->bench->analysis, NULL));
  const char *other = edit (fixture, text, "\"value\":100", "\"value\":1");
  const SbVerification *v = verify (fixture, seal_anew (fixture, other), "logs", NULL);
  assert_false (sb_verification_is_same (v));
  assert_true (v->n_facts[SB_VERIFIED_DIFFERS] > 0);
  other = edit (fixture, text, "\"margin_ratio\":0.05", "\"margin_ratio\":0.9");
  v = verify (fixture, seal_anew (fixture, other), "logs", NULL);
  assert_false (sb_verification_is_same (v));
  assert_words (fixture->words->choices, "margin 90 %");
}

/* What was drawn again is part of the outcome. */
static void
other_picture_is_told_though_the_figures_are_the_same (void **state)
{
  ProofFixture *fixture = *state;
  verify (fixture, make_proof (fixture), "logs", NULL);
  sb_verification_set_picture (fixture->verification, SB_PICTURE_DIFFERS, g_strdup ("3 pixels differ."));
  assert_false (sb_verification_is_same (fixture->verification));
  g_clear_pointer (&fixture->words, sb_verification_words_free);
  fixture->words = sb_verification_words (fixture->verification);
  assert_words (fixture->words->picture, "It is not what the choices give. 3 pixels differ.");
  assert_words (fixture->words->outcome, "what is shown is not what they give");
}

/* An excluded log and a step of a log that was cut are choices that come back. */
static void
exclusions_are_told_with_their_reason (void **state)
{
  ProofFixture *fixture = *state;
  make_logs (fixture, "logs");
  analyse_logs (fixture, "logs");
  SbBench *edited = edit_bench (fixture);
  SbTrialEntry *entry = sb_configuration_entry (sb_bench_edit_configuration (edited, 1), 0);
  entry->included = FALSE;
  entry->exclusion_reason = g_ref_string_new ("hand on the rim");
  analyse_again (fixture);
  const SbVerification *v
      = verify (fixture, keep (fixture->bench, sb_proof_text (fixture->bench->analysis, NULL)), "logs", NULL);
  assert_true (sb_verification_is_same (v));
  assert_words (fixture->words->choices, "Fast (2 of 3 repeats; run-1.csv left out: hand on the rim)");
}

/* Whoever sends a figure may have put anything into its choices. */
static void
choices_that_make_no_bench_are_an_error (void **state)
{
  ProofFixture *fixture = *state;
  const char *text = edit (fixture, make_proof (fixture), "\"slope_window_s\":0.0", "\"slope_window_s\":-5");
  parse (fixture, text);
  assert_null (sb_verify (g_steal_pointer (&fixture->proof), fixture->bench->folder, NULL, NULL, &fixture->error));
  assert_true (g_error_matches (fixture->error, SB_PROOF_ERROR, SB_PROOF_ERROR_DAMAGED));
  assert_words (fixture->error->message, "slope_window_s");
}

static void
json_lists_every_log_and_figure (void **state)
{
  ProofFixture *fixture = *state;
  const SbVerification *v = verify (fixture, make_proof (fixture), "logs", NULL);
  const char *text = keep (fixture->bench, sb_verification_json (v));
  fixture->node = json_from_string (text, NULL);
  assert_non_null (fixture->node);
  JsonObject *root = json_node_get_object (fixture->node);
  assert_true (json_object_get_boolean_member (root, "same"));
  assert_int_equal (json_array_get_length (json_object_get_array_member (root, "logs")), 6);
  assert_int_equal (json_array_get_length (json_object_get_array_member (root, "figures")), 3 * SB_N_MEASURES);
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    proof_test (same_logs_and_choices_are_the_same),
    proof_test (one_bit_in_one_log_is_told_and_named),
    proof_test (changed_log_changes_the_figures_of_its_configuration),
    proof_test (changed_choice_is_told_with_its_seal_broken_or_not),
    proof_test (other_version_is_told_from_other_figures),
    proof_test (last_bit_is_told_from_the_printed_figure),
    proof_test (figures_that_print_otherwise_come_before_a_count_of_last_digits),
    proof_test (many_changed_logs_do_not_push_the_figures_out),
    proof_test (log_choice_and_version_are_told_apart),
    proof_test (changes_without_effect_are_told_too),
    proof_test (changed_verdict_on_a_stated_figure_is_told),
    proof_test (last_digits_of_a_judgement_are_no_difference),
    proof_test (changed_stated_figure_and_level_are_told),
    proof_test (figures_behind_a_verdict_are_told_apart_from_it),
    proof_test (other_picture_is_told_though_the_figures_are_the_same),
    proof_test (exclusions_are_told_with_their_reason),
    proof_test (choices_that_make_no_bench_are_an_error),
    proof_test (json_lists_every_log_and_figure),
  };
  return cmocka_run_group_tests (tests, NULL, NULL);
}
