/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "bench_claims.h"
#include "bench_fixture.h"
#include "results.h"
#include "results_cells.h"

#include <json-glib/json-glib.h>

/* A contract member: its type, and whether it may be missing. Types: n number, i whole number, s string, b boolean,
 * o object, a array, p pair of rising numbers. Capitals: may be missing. From docs/results-json.md. */
typedef struct {
  const char *name;
  char type;
} Member;

static const Member top_members[]
    = { { "slewbench", 's' }, { "choices", 'o' }, { "configurations", 'a' }, { "comparisons", 'a' },
        { "planner", 'O' },   { "audits", 'a' },  { "claims", 'a' },         { "proof", 'o' } };
static const Member configuration_members[]
    = { { "name", 's' },     { "settings", 'o' },    { "trials", 'a' }, { "n", 'i' },
        { "measures", 'o' }, { "grid_step_s", 'N' }, { "span_s", 'P' } };
static const Member trial_members[]
    = { { "file", 's' },         { "layout", 's' },           { "sha256", 's' },
        { "rows", 'i' },         { "rows_left_out", 'i' },    { "sample_interval_s", 'n' },
        { "jitter_s", 'n' },     { "onset_s", 'n' },          { "onset_from", 's' },
        { "active_end_s", 'n' }, { "mirrored", 'b' },         { "derived", 'a' },
        { "included", 'b' },     { "exclusion_reason", 'S' }, { "measures", 'o' },
        { "notes", 'a' },        { "remarks", 'a' },          { "faults", 'a' },
        { "n_faults", 'I' } };
static const Member failed_members[]
    = { { "file", 's' }, { "included", 'b' }, { "exclusion_reason", 'S' }, { "failure", 's' } };
static const Member measure_members[] = { { "value", 'n' },          { "unit", 's' },     { "uncertainty", 'N' },
                                          { "no_uncertainty", 'S' }, { "window_s", 'p' }, { "doubts", 'a' } };
static const Member summary_members[]
    = { { "mean", 'n' },          { "sd", 'N' },   { "n", 'i' },     { "ci95", 'P' }, { "standard_uncertainty", 'N' },
        { "repeatability", 'N' }, { "unit", 's' }, { "doubts", 'a' } };
static const Member absent_members[] = { { "absent", 's' } };
static const Member fault_members[] = { { "line", 'i' }, { "column", 'S' }, { "what", 's' } };
static const Member comparison_members[] = {
  { "reference", 's' }, { "other", 's' }, { "measures", 'o' }, { "fairness", 'a' }, { "difference_curves", 'o' }
};
static const Member curve_members[] = { { "unit", 's' },
                                        { "n_reference", 'i' },
                                        { "n_other", 'i' },
                                        { "method", 's' },
                                        { "df", 'n' },
                                        { "critical", 'n' },
                                        { "from_s", 'n' },
                                        { "step_s", 'n' },
                                        { "points", 'i' },
                                        { "stretches", 'a' },
                                        { "difference", 'A' },
                                        { "half_pointwise", 'A' },
                                        { "half_simultaneous", 'A' } };
static const Member stretch_members[]
    = { { "from_s", 'n' }, { "to_s", 'n' },     { "sign", 'i' },           { "largest", 'n' },
        { "at_s", 'n' },   { "instants", 'i' }, { "instants_beyond", 'i' } };
static const Member settle_members[] = { { "power", 'n' }, { "n_differs", 'I' }, { "n_equal", 'I' }, { "words", 's' } };
static const Member planner_members[]
    = { { "reference", 's' }, { "other", 'S' }, { "level", 'n' }, { "measures", 'o' } };
static const Member plan_members[] = { { "unit", 's' },     { "difference", 'n' }, { "sd_reference", 'n' },
                                       { "sd_other", 'n' }, { "by_noise", 'n' },   { "by_sampling", 'N' },
                                       { "n_80", 'I' },     { "n_90", 'I' },       { "curve", 'a' } };
static const Member point_members[] = { { "n", 'i' }, { "difference_80", 'n' }, { "difference_90", 'n' } };
static const Member difference_members[]
    = { { "difference", 'n' }, { "ci95", 'p' },      { "df", 'n' },          { "p", 'n' },      { "p_holm", 'n' },
        { "hedges_g", 'n' },   { "verdict", 's' },   { "doubted", 'b' },     { "margin", 'n' }, { "to_settle", 'O' },
        { "by_noise", 'N' },   { "by_crests", 'N' }, { "by_sampling", 'P' }, { "doubts", 'A' } };
static const Member fairness_members[] = { { "what", 's' }, { "reference", 's' }, { "other", 's' } };

static const Member audit_members[]
    = { { "setting", 's' }, { "title", 's' },    { "configurations", 'a' }, { "levels", 'a' },
        { "verdict", 's' }, { "doubted", 'b' },  { "proportion", 's' },     { "ceiling_from", 'S' },
        { "reasons", 'a' }, { "fairness", 'a' }, { "measures", 'o' },       { "ceiling_nm_per_s", 'N' } };
static const Member level_members[] = { { "text", 's' }, { "x", 'n' }, { "n", 'i' } };
static const Member effect_members[]
    = { { "effect", 's' }, { "means", 'a' },      { "change", 'n' },       { "change_ci95", 'P' },
        { "trend", 'N' },  { "trend_ci95", 'P' }, { "p_jonckheere", 'N' }, { "p", 'n' },
        { "p_holm", 'n' }, { "margin", 'n' },     { "doubted", 'b' } };
static const Member claim_members[]
    = { { "configuration", 'S' }, { "device", 'S' }, { "measure", 's' }, { "relation", 's' }, { "value", 'n' },
        { "tolerance", 'N' },     { "unit", 's' },   { "verdict", 's' }, { "sides", 'a' } };
static const Member side_members[] = { { "configuration", 's' }, { "verdict", 's' },    { "n", 'i' },
                                       { "mean", 'N' },          { "sd", 'N' },         { "interval", 'P' },
                                       { "bias", 'N' },          { "resolution", 'N' }, { "steepest_nm_per_s", 'N' },
                                       { "n_needed", 'I' },      { "doubted", 'b' },    { "reason", 's' } };

static gboolean
is_number (JsonNode *node)
{
  return JSON_NODE_HOLDS_VALUE (node)
         && (json_node_get_value_type (node) == G_TYPE_DOUBLE || json_node_get_value_type (node) == G_TYPE_INT64)
         && isfinite (json_node_get_double (node));
}

static gboolean
is_rising_pair (JsonNode *node)
{
  if (!JSON_NODE_HOLDS_ARRAY (node) || json_array_get_length (json_node_get_array (node)) != 2)
    return FALSE;
  JsonArray *pair = json_node_get_array (node);
  return is_number (json_array_get_element (pair, 0)) && is_number (json_array_get_element (pair, 1))
         && json_array_get_double_element (pair, 0) <= json_array_get_double_element (pair, 1);
}

static gboolean
is_of_type (JsonNode *node, char type)
{
  switch (type) {
  case 'n':
    return is_number (node);
  case 'p':
    return is_rising_pair (node);
  case 'i':
    return JSON_NODE_HOLDS_VALUE (node) && json_node_get_value_type (node) == G_TYPE_INT64;
  case 's':
    return JSON_NODE_HOLDS_VALUE (node) && json_node_get_value_type (node) == G_TYPE_STRING;
  case 'b':
    return JSON_NODE_HOLDS_VALUE (node) && json_node_get_value_type (node) == G_TYPE_BOOLEAN;
  case 'o':
    return JSON_NODE_HOLDS_OBJECT (node);
  default:
    return type == 'a' && JSON_NODE_HOLDS_ARRAY (node);
  }
}

/* Fails the test unless the object has the members of the contract, of their types, and no others. */
static JsonObject *
check_object (JsonNode *node, const char *what, const Member *members, gsize n_members)
{
  if (!JSON_NODE_HOLDS_OBJECT (node))
    fail_msg ("%s is no object", what);
  JsonObject *object = json_node_get_object (node);
  guint n_found = 0;
  for (gsize i = 0; i < n_members; i++) {
    JsonNode *member = json_object_get_member (object, members[i].name);
    if (member == NULL && g_ascii_isupper (members[i].type))
      continue;
    if (member == NULL || !is_of_type (member, g_ascii_tolower (members[i].type)))
      fail_msg ("%s: '%s' is missing or of another type", what, members[i].name);
    n_found++;
  }
  if (n_found != json_object_get_size (object))
    fail_msg ("%s has %u members, %u of them of the contract", what, json_object_get_size (object), n_found);
  return object;
}

#define CHECK(node, what, members) check_object (node, what, members, G_N_ELEMENTS (members))

/* Every key is one of the table; every figure is present with its members or absent with a reason. */
static guint
check_figures (JsonObject *measures, const Member *members, gsize n_members)
{
  guint n_present = 0;
  JsonObjectIter iter;
  const char *key;
  JsonNode *node;
  json_object_iter_init (&iter, measures);
  while (json_object_iter_next (&iter, &key, &node)) {
    SbMeasureId id;
    if (!sb_measure_id_from_key (key, &id))
      fail_msg ("'%s' is no measure", key);
    if (JSON_NODE_HOLDS_OBJECT (node) && json_object_has_member (json_node_get_object (node), "absent")) {
      JsonObject *absent = CHECK (node, key, absent_members);
      assert_true (strlen (json_object_get_string_member (absent, "absent")) > 0);
      continue;
    }
    JsonObject *figure = check_object (node, key, members, n_members);
    if (json_object_has_member (figure, "unit"))
      assert_string_equal (json_object_get_string_member (figure, "unit"), sb_measure_info (id)->unit);
    n_present++;
  }
  return n_present;
}

static void
check_trial (JsonNode *node)
{
  if (JSON_NODE_HOLDS_OBJECT (node) && json_object_has_member (json_node_get_object (node), "failure")) {
    CHECK (node, "failed trial", failed_members);
    return;
  }
  JsonObject *trial = CHECK (node, "trial", trial_members);
  JsonObject *measures = json_object_get_object_member (trial, "measures");
  /* All but the configuration's own figure. */
  assert_int_equal (json_object_get_size (measures), SB_N_MEASURES - 1);
  assert_true (check_figures (measures, measure_members, G_N_ELEMENTS (measure_members)) > 5);
  JsonArray *faults = json_object_get_array_member (trial, "faults");
  for (guint i = 0; i < json_array_get_length (faults); i++)
    CHECK (json_array_get_element (faults, i), "fault", fault_members);
}

static void
check_configuration (JsonNode *node)
{
  JsonObject *configuration = CHECK (node, "configuration", configuration_members);
  JsonArray *trials = json_object_get_array_member (configuration, "trials");
  for (guint t = 0; t < json_array_get_length (trials); t++)
    check_trial (json_array_get_element (trials, t));
  JsonObject *measures = json_object_get_object_member (configuration, "measures");
  if (json_object_get_int_member (configuration, "n") == 0)
    return;
  assert_int_equal (json_object_get_size (measures), SB_N_MEASURES);
  assert_true (check_figures (measures, summary_members, G_N_ELEMENTS (summary_members)) > 5);
}

static void
check_comparison (JsonNode *node)
{
  JsonObject *comparison = CHECK (node, "comparison", comparison_members);
  JsonObject *measures = json_object_get_object_member (comparison, "measures");
  assert_int_equal (json_object_get_size (measures), SB_N_MEASURES);
  assert_true (check_figures (measures, difference_members, G_N_ELEMENTS (difference_members)) > 3);
  JsonArray *fairness = json_object_get_array_member (comparison, "fairness");
  for (guint i = 0; i < json_array_get_length (fairness); i++)
    CHECK (json_array_get_element (fairness, i), "fairness", fairness_members);
}

/* Both channels have repeats on either side, and the ramps of 20 and 30 ms are apart. */
static void
check_curves (JsonNode *comparison)
{
  JsonObject *curves = json_object_get_object_member (json_node_get_object (comparison), "difference_curves");
  assert_int_equal (json_object_get_size (curves), 2);
  JsonObject *velocity = json_object_get_object_member (curves, "velocity");
  assert_true (json_object_has_member (velocity, "unit") || json_object_has_member (velocity, "absent"));
  JsonObject *torque = CHECK (json_object_get_member (curves, "torque"), "curve", curve_members);
  JsonArray *stretches = json_object_get_array_member (torque, "stretches");
  assert_true (json_array_get_length (stretches) > 0);
  CHECK (json_array_get_element (stretches, 0), "stretch", stretch_members);
  assert_int_equal (json_array_get_length (json_object_get_array_member (torque, "difference")),
                    json_object_get_int_member (torque, "points"));
}

/* What would settle a measure is told of the undecided ones, and of no others. */
static void
check_settling (JsonNode *comparison)
{
  JsonObject *measures = json_object_get_object_member (json_node_get_object (comparison), "measures");
  for (int m = 0; m < SB_N_MEASURES; m++) {
    JsonObject *one = json_object_get_object_member (measures, sb_measure_info ((SbMeasureId) m)->key);
    gboolean undecided = json_object_has_member (one, "verdict")
                         && strcmp (json_object_get_string_member (one, "verdict"), "undecided") == 0;
    assert_int_equal (json_object_has_member (one, "to_settle"), undecided);
    if (undecided)
      CHECK (json_object_get_member (one, "to_settle"), "to_settle", settle_members);
  }
}

static void
check_planner (JsonObject *root)
{
  JsonObject *planner = CHECK (json_object_get_member (root, "planner"), "planner", planner_members);
  JsonObject *measures = json_object_get_object_member (planner, "measures");
  assert_int_equal (json_object_get_size (measures), SB_N_MEASURES);
  assert_true (check_figures (measures, plan_members, G_N_ELEMENTS (plan_members)) > 3);
  JsonObject *duration = json_object_get_object_member (measures, "torque_transition_time");
  JsonArray *curve = json_object_get_array_member (duration, "curve");
  for (guint i = 0; i < json_array_get_length (curve); i++)
    CHECK (json_array_get_element (curve, i), "point", point_members);
}

static void
check_judgements (JsonObject *root)
{
  JsonArray *audits = json_object_get_array_member (root, "audits"),
            *claims = json_object_get_array_member (root, "claims");
  assert_int_equal (json_array_get_length (audits), 1);
  JsonObject *audit = CHECK (json_array_get_element (audits, 0), "audit", audit_members);
  JsonArray *levels = json_object_get_array_member (audit, "levels");
  assert_int_equal (json_array_get_length (levels), 2);
  CHECK (json_array_get_element (levels, 0), "level", level_members);
  JsonObject *measures = json_object_get_object_member (audit, "measures");
  assert_int_equal (json_object_get_size (measures), SB_N_MEASURES);
  assert_true (check_figures (measures, effect_members, G_N_ELEMENTS (effect_members)) > 3);
  assert_int_equal (json_array_get_length (claims), 1);
  JsonObject *claim = CHECK (json_array_get_element (claims, 0), "claim", claim_members);
  JsonArray *sides = json_object_get_array_member (claim, "sides");
  assert_int_equal (json_array_get_length (sides), 2);
  CHECK (json_array_get_element (sides, 0), "side", side_members);
}

/* Fixture and parser together. */
typedef struct {
  void *bench;
  JsonParser *parser;
  GPtrArray *cells; /* of a row of CSV */
} ResultsFixture;

static int
results_setup (void **state)
{
  ResultsFixture *results = g_new0 (ResultsFixture, 1);
  results->parser = json_parser_new ();
  results->cells = g_ptr_array_new_with_free_func (g_free);
  int failed = bench_fixture_setup (&results->bench);
  *state = results;
  return failed;
}

static int
results_teardown (void **state)
{
  ResultsFixture *results = *state;
  bench_fixture_teardown (&results->bench);
  g_object_unref (results->parser);
  g_ptr_array_unref (results->cells);
  g_free (results);
  return 0;
}

/* Two configurations whose repeats differ; in the first a log with faulty rows, one that fails and one left out. */
static void
fill_bench (BenchFixture *fixture)
{
  for (int c = 0; c < 2; c++) {
    const char *paths[7];
    gsize n = 0;
    for (int i = 0; i < 4; i++) {
      StepLog step = STEP_LOG;
      step.ramp_ms = (c == 0 ? 20 : 30) + 0.1 * i;
      step.head = c == 0 ? "# setting torque slope: 0.4 N·m/ms\n# rotation_deg: 540\n"
                         : "# setting torque slope: 0.27 N·m/ms\n# rotation_deg: 900\n";
      paths[n++] = write_step (fixture, keep (fixture, g_strdup_printf ("%c/run-%d.csv", 'a' + c, i + 1)), step);
    }
    if (c == 0) {
      char *text = NULL;
      assert_true (g_file_get_contents (paths[0], &text, NULL, NULL));
      keep (fixture, text);
      paths[n++] = write_file (fixture, "a/faulty.csv", keep (fixture, g_strconcat (text, "0.3,8,n/a,1\n", NULL)));
      paths[n++] = path_in (fixture, "a/gone.csv");
    }
    sb_bench_add_configuration (fixture->bench, c == 0 ? "steep, \"new\"" : "flat", paths, n);
  }
  SbTrialEntry *entry = sb_configuration_entry (sb_bench_edit_configuration (fixture->bench, 0), 3);
  entry->included = FALSE;
  entry->exclusion_reason = g_ref_string_new ("rim touched");
}

static SbAnalysis *
analyse (BenchFixture *fixture)
{
  fixture->analysis = sb_analysis_run (fixture->bench, NULL, SB_ANALYSIS_DEFAULT, NULL, NULL, NULL, &fixture->error);
  if (fixture->analysis == NULL)
    fail_msg ("%s", fixture->error->message);
  return fixture->analysis;
}

static JsonNode *
parse (ResultsFixture *results, const char *text)
{
  assert_true (json_parser_load_from_data (results->parser, text, -1, NULL));
  return json_parser_get_root (results->parser);
}

static void
json_has_the_members_of_the_contract_and_no_others (void **state)
{
  ResultsFixture *results = *state;
  BenchFixture *fixture = results->bench;
  fill_bench (fixture);
  const char *setting = "torque slope";
  sb_bench_set_audits (fixture->bench, &setting, 1);
  SbClaim claim = { -1, NULL, SB_MEASURE_PEAK_TORQUE_SLOPE, SB_CLAIM_ABOUT, 400, 20 };
  sb_bench_add_claim (fixture->bench, &claim);
  fixture->bench->difference_curves = fixture->bench->plan = TRUE;
  JsonObject *root
      = CHECK (parse (results, keep (fixture, sb_results_json (analyse (fixture)))), "results", top_members);
  JsonArray *configurations = json_object_get_array_member (root, "configurations");
  assert_int_equal (json_array_get_length (configurations), 2);
  for (guint c = 0; c < 2; c++)
    check_configuration (json_array_get_element (configurations, c));
  JsonArray *comparisons = json_object_get_array_member (root, "comparisons");
  assert_int_equal (json_array_get_length (comparisons), 1);
  check_comparison (json_array_get_element (comparisons, 0));
  check_curves (json_array_get_element (comparisons, 0));
  check_settling (json_array_get_element (comparisons, 0));
  check_planner (root);
  check_judgements (root);
}

/* Commands that jump in the millisecond before their onsets, and in half of one: a true dead time that differs by up to
 * 1 ms less, or half of one more. A duration counts from no onset. */
static void
json_tells_what_sampling_may_account_for (void **state)
{
  ResultsFixture *results = *state;
  BenchFixture *fixture = results->bench;
  for (int c = 0; c < 2; c++) {
    const char *paths[3];
    for (int i = 0; i < 3; i++) {
      StepLog step = STEP_LOG;
      step.interval_ms = c == 0 ? 1 : 0.5;
      step.ramp_ms = 20 + 0.1 * i;
      paths[i] = write_step (fixture, keep (fixture, g_strdup_printf ("%c/run-%d.csv", 'a' + c, i + 1)), step);
    }
    sb_bench_add_configuration (fixture->bench, c == 0 ? "slow" : "quick", paths, 3);
  }
  fixture->bench->plan = TRUE;
  JsonObject *root
      = CHECK (parse (results, keep (fixture, sb_results_json (analyse (fixture)))), "results", top_members);
  JsonNode *comparison = json_array_get_element (json_object_get_array_member (root, "comparisons"), 0);
  check_comparison (comparison);
  check_settling (comparison);
  check_planner (root);
  JsonObject *measures = json_object_get_object_member (json_node_get_object (comparison), "measures");
  JsonArray *beside
      = json_object_get_array_member (json_object_get_object_member (measures, "dead_time"), "by_sampling");
  assert_close (json_array_get_double_element (beside, 0), -1e-3, 1e-9);
  assert_close (json_array_get_double_element (beside, 1), 5e-4, 1e-9);
  assert_false (
      json_object_has_member (json_object_get_object_member (measures, "torque_transition_time"), "by_sampling"));
}

static void
json_keeps_the_contract_for_a_single_repeat (void **state)
{
  /* One repeat has no deviation and no interval: they are left out, not null. */
  ResultsFixture *results = *state;
  BenchFixture *fixture = results->bench;
  const char *path = write_step (fixture, "a.csv", STEP_LOG);
  sb_bench_add_configuration (fixture->bench, "alone", &path, 1);
  JsonObject *root
      = CHECK (parse (results, keep (fixture, sb_results_json (analyse (fixture)))), "results", top_members);
  JsonNode *alone = json_array_get_element (json_object_get_array_member (root, "configurations"), 0);
  check_configuration (alone);
  JsonObject *measures = json_object_get_object_member (json_node_get_object (alone), "measures");
  JsonObject *peak = json_object_get_object_member (measures, "peak_torque");
  assert_false (json_object_has_member (peak, "sd"));
  assert_false (json_object_has_member (peak, "ci95"));
  assert_close (json_object_get_double_member (peak, "mean"), 8, 1e-9);
  assert_int_equal (json_array_get_length (json_object_get_array_member (root, "comparisons")), 0);
}

static void
json_tells_what_was_left_out_and_why (void **state)
{
  ResultsFixture *results = *state;
  BenchFixture *fixture = results->bench;
  fill_bench (fixture);
  JsonObject *root = json_node_get_object (parse (results, keep (fixture, sb_results_json (analyse (fixture)))));
  JsonObject *steep = json_array_get_object_element (json_object_get_array_member (root, "configurations"), 0);
  JsonArray *trials = json_object_get_array_member (steep, "trials");
  assert_int_equal (json_object_get_int_member (steep, "n"), 4);
  JsonObject *excluded = json_array_get_object_element (trials, 3);
  assert_false (json_object_get_boolean_member (excluded, "included"));
  assert_string_equal (json_object_get_string_member (excluded, "exclusion_reason"), "rim touched");
  JsonObject *faulty = json_array_get_object_element (trials, 4);
  assert_int_equal (json_object_get_int_member (faulty, "rows_left_out"), 1);
  JsonObject *fault = json_array_get_object_element (json_object_get_array_member (faulty, "faults"), 0);
  assert_int_equal (json_object_get_int_member (fault, "line"), 255); /* 2 comments, the heading, 251 rows, this one */
  JsonObject *gone = json_array_get_object_element (trials, 5);
  assert_non_null (strstr (json_object_get_string_member (gone, "failure"), "gone.csv"));
}

static void
json_gives_the_figures_of_the_curves (void **state)
{
  /* The command jumps at 50 ms; the torque's ramp of 20 ms to 8 N·m begins 2 ms later. 10 % is passed after 2 + 2 ms,
   * 90 % 16 ms later: 6.4 N·m in 16 ms. One part in a thousand is left for the top level, a mode of a histogram into
   * whose fullest bins the last samples of the ramp fall. The velocity grows by 100 rad/s² for the 200 - 2 ms that are
   * left. */
  ResultsFixture *results = *state;
  BenchFixture *fixture = results->bench;
  const char *path = write_step (fixture, "a.csv", STEP_LOG);
  sb_bench_add_configuration (fixture->bench, "alone", &path, 1);
  JsonObject *root = json_node_get_object (parse (results, keep (fixture, sb_results_json (analyse (fixture)))));
  JsonObject *alone = json_array_get_object_element (json_object_get_array_member (root, "configurations"), 0);
  JsonObject *trial = json_array_get_object_element (json_object_get_array_member (alone, "trials"), 0);
  assert_close (json_object_get_double_member (trial, "onset_s"), 0.05, 1e-12);
  assert_string_equal (json_object_get_string_member (trial, "onset_from"), "command");
  static const struct {
    const char *key;
    double value;
  } expected[] = { { "mean_torque_slope", 400 },
                   { "peak_torque_slope", 400 },
                   { "dead_time", 0.004 },
                   { "torque_transition_time", 0.016 },
                   { "peak_torque", 8 },
                   { "peak_velocity", 19.8 },
                   { "velocity_rise_time", 0.002 + 0.9 * 0.198 },
                   { "mean_velocity", 0.5 * 19.8 * 0.198 / 0.2 } };
  for (gsize i = 0; i < G_N_ELEMENTS (expected); i++) {
    JsonObject *measure
        = json_object_get_object_member (json_object_get_object_member (trial, "measures"), expected[i].key);
    if (!json_object_has_member (measure, "value"))
      fail_msg ("%s: %s", expected[i].key, json_object_get_string_member (measure, "absent"));
    assert_close_relative (json_object_get_double_member (measure, "value"), expected[i].value, 1e-3);
  }
}

/* A reader after RFC 4180: cells of row `row` into `cells`; the number of cells, or 0 after the last row. Fails the
 * test on a bare line end or an open quote. */
static gsize
read_csv_row (const char **text, GPtrArray *cells)
{
  const char *c = *text;
  if (*c == '\0')
    return 0;
  g_ptr_array_set_size (cells, 0);
  while (TRUE) {
    GString *cell = g_string_new (NULL);
    if (*c == '"') {
      for (c++; *c != '"' || c[1] == '"'; c++) {
        c += *c == '"' ? 1 : 0;
        g_string_append_c (cell, *c);
        if (*c == '\0')
          break;
      }
      c += *c == '"' ? 1 : 0;
    } else {
      for (; *c != ',' && *c != '\r' && *c != '\0' && *c != '"'; c++)
        g_string_append_c (cell, *c);
    }
    g_ptr_array_add (cells, g_string_free (cell, FALSE));
    if (*c != ',')
      break;
    c++;
  }
  if (c[0] != '\r' || c[1] != '\n')
    fail_msg ("the row does not end in CR LF: %.40s", c);
  *text = c + 2;
  return cells->len;
}

static void
csv_is_that_of_rfc_4180 (void **state)
{
  ResultsFixture *results = *state;
  BenchFixture *fixture = results->bench;
  fill_bench (fixture);
  const char *rest = keep (fixture, sb_results_table_csv (analyse (fixture)));
  GPtrArray *cells = results->cells;
  assert_int_equal (read_csv_row (&rest, cells), 12);
  assert_string_equal (g_ptr_array_index (cells, 0), "configuration");
  for (int row = 0; row < 2 * SB_N_MEASURES; row++) {
    assert_int_equal (read_csv_row (&rest, cells), 12);
    assert_string_equal (g_ptr_array_index (cells, 0), row < SB_N_MEASURES ? "steep, \"new\"" : "flat");
    SbMeasureId id;
    assert_true (sb_measure_id_from_key (g_ptr_array_index (cells, 1), &id));
    const char *mean = g_ptr_array_index (cells, 3), *absent = g_ptr_array_index (cells, 10);
    assert_true ((mean[0] != '\0') != (absent[0] != '\0')); /* a figure or a reason */
    assert_int_equal (absent[0] != '\0', strcmp (g_ptr_array_index (cells, 11), "–") == 0);
  }
  assert_int_equal (read_csv_row (&rest, cells), 0);
}

static void
methods_text_says_what_was_done (void **state)
{
  ResultsFixture *results = *state;
  BenchFixture *fixture = results->bench;
  fill_bench (fixture);
  fixture->bench->measure.slope_window_s = 0.009;
  SbAnalysis *analysis = analyse (fixture);
  const char *text = keep (fixture, sb_results_methods_text (analysis));
  const char *parts[] = { "4 repeats at 1000 samples per second",
                          "run-4.csv was excluded by the tester (rim touched)",
                          "gone.csv could not be used",
                          "1 faulty row was left out",
                          "torque slope 0.4 N·m/ms",
                          "The slope window was 9 ms",
                          "smoothness was cut off at 200 Hz", /* the smaller of 200 Hz and 0.4 of 1000 Hz */
                          "± 5 % of the reference mean",
                          "(8 trials)",
                          keep (fixture, sb_analysis_data_checksum (analysis)) };
  for (gsize i = 0; i < G_N_ELEMENTS (parts); i++)
    if (strstr (text, parts[i]) == NULL)
      fail_msg ("'%s' is not in: %s", parts[i], text);
}

/* A reader of the results is told what is, not what the operator should do. */
static void
methods_text_gives_no_orders (void **state)
{
  ResultsFixture *results = *state;
  BenchFixture *fixture = results->bench;
  StepLog shorter = STEP_LOG;
  shorter.length_ms = 120;
  const char *logs[] = { write_step (fixture, "a.csv", STEP_LOG), write_step (fixture, "b.csv", STEP_LOG),
                         write_step (fixture, "c.csv", shorter) };
  sb_bench_add_configuration (fixture->bench, "a", logs, 3);
  SbAnalysis *analysis = analyse (fixture);
  const char *text = keep (fixture, sb_results_methods_text (analysis));
  assert_non_null (strstr (text, "b.csv: byte for byte the same as a.csv of this configuration: a copy is no repeat."));
  assert_non_null (strstr (text, "ends at 70 ms."));
  assert_null (strstr (text, "Leave"));
  assert_null (strstr (text, "leave out"));
  assert_null (strstr (text, "--span"));
}

/* Cells by the rules of docs/methods.md: two digits of the spread, a question mark for a doubt, also for a lone trial.
 */
static void
cells_say_value_spread_and_doubt (void **state)
{
  ResultsFixture *results = *state;
  g_autoptr (GPtrArray) doubts = g_ptr_array_new ();
  g_ptr_array_add (doubts, results);
  SbMeasureSummary repeats = { .present = TRUE, .mean = 8.1234, .sd = 0.0567, .n = 4 };
  SbMeasureSummary lone = { .present = TRUE, .mean = 8.1234, .sd = (double) NAN, .n = 1, .doubts = doubts };
  SbMeasureSummary absent = { .present = FALSE };
  BenchFixture *fixture = results->bench;
  assert_string_equal (keep (fixture, sb_summary_cell (SB_MEASURE_PEAK_TORQUE, (SbUnits){ 0 }, &repeats)),
                       "8.123 ± 0.057");
  assert_string_equal (keep (fixture, sb_summary_cell (SB_MEASURE_PEAK_TORQUE, (SbUnits){ 0 }, &lone)), "8.123 ?");
  assert_string_equal (keep (fixture, sb_summary_cell (SB_MEASURE_PEAK_TORQUE, (SbUnits){ 0 }, &absent)), "–");
}

static void
table_has_a_row_for_every_measure (void **state)
{
  ResultsFixture *results = *state;
  BenchFixture *fixture = results->bench;
  fill_bench (fixture);
  const char *text = keep (fixture, sb_results_table_text (analyse (fixture)));
  assert_true (g_utf8_validate (text, -1, NULL));
  assert_null (strstr (text, "nan"));
  for (int m = 0; m < SB_N_MEASURES; m++)
    assert_non_null (strstr (text, sb_measure_info ((SbMeasureId) m)->name));
  assert_non_null (strstr (text, "Difference: flat minus steep, \"new\""));
  assert_non_null (strstr (text, "Not alike: rotation range: 540 deg against 900 deg"));
  g_autofree char *rules
      = g_strdup_printf ("p is of Welch's two-sided test, after Holm over %" G_GSIZE_FORMAT
                         " measures. Of the verdicts, practically equal means within ± 5 %% of the reference mean",
                         fixture->analysis->comparison->n_compared);
  assert_non_null (strstr (text, rules));
  assert_non_null (strstr (text, "by two one-sided tests at 5 %, whatever p; differs means p below 0.05 otherwise."));
}

#define results_test(name) cmocka_unit_test_setup_teardown (name, results_setup, results_teardown)

int
main (void)
{
  const struct CMUnitTest tests[] = {
    results_test (json_has_the_members_of_the_contract_and_no_others),
    results_test (json_tells_what_sampling_may_account_for),
    results_test (json_keeps_the_contract_for_a_single_repeat),
    results_test (json_tells_what_was_left_out_and_why),
    results_test (json_gives_the_figures_of_the_curves),
    results_test (csv_is_that_of_rfc_4180),
    results_test (methods_text_says_what_was_done),
    results_test (methods_text_gives_no_orders),
    results_test (cells_say_value_spread_and_doubt),
    results_test (table_has_a_row_for_every_measure),
  };
  return cmocka_run_group_tests (tests, NULL, NULL);
}
