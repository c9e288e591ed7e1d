/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "bench_fixture.h"
#include "choices_json.h"
#include "session.h"

/* What a test holds besides. */
static JsonObject *
parse (JsonParser *parser, const char *text)
{
  assert_true (json_parser_load_from_data (parser, text, -1, NULL));
  return json_node_get_object (json_parser_get_root (parser));
}

typedef gboolean (*Reader) (JsonObject *object, SbBench *edited, GError **error);

/* Reads `text` into the fixture's bench; nothing is held afterwards. */
static gboolean
read_with (BenchFixture *fixture, Reader reader, const char *text)
{
  g_autoptr (JsonParser) parser = json_parser_new ();
  g_clear_error (&fixture->error);
  return reader (parse (parser, text), fixture->bench, &fixture->error);
}

static void
assert_refused (BenchFixture *fixture, Reader reader, const char *text, const char *choice)
{
  if (read_with (fixture, reader, text))
    fail_msg ("%s was taken", text);
  assert_true (g_error_matches (fixture->error, SB_SESSION_ERROR, SB_SESSION_ERROR_READ));
  if (strstr (fixture->error->message, choice) == NULL)
    fail_msg ("%s", fixture->error->message);
}

/* Ranges as in the table of docs/session-file.md. */
static const struct {
  const char *name;
  const char *least, *most, *below, *above;
} ranges[] = {
  { "smoothing_s", "0", "10", "-0.001", "10.1" },
  { "slope_window_s", "0", "10", "-0.001", "10.1" },
  { "settling_band_ratio", "0.0001", "0.5", "0.00009", "0.51" },
  { "smoothness_cutoff_hz", "0", "1000000", "-1", "1000001" },
  { "band_k", "0.1", "10", "0.09", "10.1" },
  { "moving_window_s", "0.000001", "100", "0", "101" },
  { "margin_ratio", "0.000001", "1", "0", "1.01" },
  { "verdict_level", "0.000001", "0.2", "0", "0.21" },
  { "audit_level", "0.000001", "0.2", "0", "0.21" },
  { "audit_proportion_ratio", "0.001", "0.5", "0", "0.51" },
  { "audit_straight_ratio", "0.001", "0.5", "0", "0.51" },
  { "plan_ratio", "0", "10", "-0.1", "10.1" },
};

static void
numbers_are_taken_up_to_the_ends_of_their_ranges (void **state)
{
  for (gsize i = 0; i < G_N_ELEMENTS (ranges); i++) {
    g_autofree char *least = g_strdup_printf ("{\"%s\": %s}", ranges[i].name, ranges[i].least);
    g_autofree char *most = g_strdup_printf ("{\"%s\": %s}", ranges[i].name, ranges[i].most);
    gboolean taken = read_with (*state, sb_choices_read, least) && read_with (*state, sb_choices_read, most);
    g_free (g_steal_pointer (&least));
    g_free (g_steal_pointer (&most));
    if (!taken)
      fail_msg ("%s", ranges[i].name);
  }
}

static void
numbers_outside_their_ranges_are_refused_by_name (void **state)
{
  BenchFixture *fixture = *state;
  for (gsize i = 0; i < G_N_ELEMENTS (ranges); i++) {
    const char *name = ranges[i].name;
    const char *const values[] = { ranges[i].below, ranges[i].above, "null", "\"1\"", "true", "[1]", "{}" };
    for (gsize v = 0; v < G_N_ELEMENTS (values); v++)
      assert_refused (fixture, sb_choices_read, keep (fixture, g_strdup_printf ("{\"%s\": %s}", name, values[v])),
                      name);
  }
}

static void
words_are_those_of_the_table (void **state)
{
  BenchFixture *fixture = *state;
  static const char *const bands[] = { "sd", "confidence", "range", "quartiles" };
  for (int b = 0; b < 4; b++) {
    assert_true (
        read_with (fixture, sb_choices_read, keep (fixture, g_strdup_printf ("{\"band\": \"%s\"}", bands[b]))));
    assert_int_equal (fixture->bench->band, b);
  }
  assert_true (read_with (fixture, sb_choices_read, "{\"span\": \"union\"}"));
  assert_int_equal (fixture->bench->span, SB_SPAN_UNION);
  assert_refused (fixture, sb_choices_read, "{\"band\": \"SD\"}", "band");
  assert_refused (fixture, sb_choices_read, "{\"band\": 1}", "band");
  assert_refused (fixture, sb_choices_read, "{\"span\": \"\"}", "span");
  assert_int_equal (fixture->bench->span, SB_SPAN_UNION);
}

static void
margins_are_shares_or_differences_of_known_measures (void **state)
{
  BenchFixture *fixture = *state;
  const SbBench *bench = fixture->bench;
  assert_true (read_with (fixture, sb_choices_read,
                          "{\"margins\": {\"peak_torque\": {\"ratio\": 0.1}, \"dead_time\": {\"absolute\": 0.002}}}"));
  SbMargin margin[SB_N_MEASURES];
  sb_bench_margins (bench, margin);
  assert_close (sb_margin_size (&margin[SB_MEASURE_PEAK_TORQUE], -12), 1.2, 1e-12);
  assert_close (sb_margin_size (&margin[SB_MEASURE_DEAD_TIME], 0.01), 0.002, 0);
  assert_close (sb_margin_size (&margin[SB_MEASURE_OVERSHOOT], 2), 0.1, 1e-12); /* 5 %, as of all others */
  static const char *const wrong[] = {
    "{\"margins\": []}",
    "{\"margins\": {\"power\": {\"ratio\": 0.1}}}",
    "{\"margins\": {\"peak_torque\": 0.1}}",
    "{\"margins\": {\"peak_torque\": {}}}",
    "{\"margins\": {\"peak_torque\": {\"ratio\": 0}}}",
    "{\"margins\": {\"peak_torque\": {\"absolute\": -1}}}",
    "{\"margins\": {\"peak_torque\": {\"ratio\": 0.1, \"absolute\": 1}}}",
  };
  for (gsize i = 0; i < G_N_ELEMENTS (wrong); i++)
    assert_refused (fixture, sb_choices_read, wrong[i], "margins");
}

static void
panels_are_known_words_and_at_least_one (void **state)
{
  BenchFixture *fixture = *state;
  assert_true (read_with (fixture, sb_chart_choices_read, "{\"panels\": [\"command\", \"velocity\"]}"));
  assert_int_equal (fixture->bench->chart.panels, 1u << SB_PANEL_COMMAND | 1u << SB_PANEL_VELOCITY);
  static const char *const wrong[]
      = { "{\"panels\": []}", "{\"panels\": [\"power\"]}", "{\"panels\": 3}", "{\"panels\": [3, null, {}]}" };
  for (gsize i = 0; i < G_N_ELEMENTS (wrong); i++)
    assert_refused (fixture, sb_chart_choices_read, wrong[i], "panels");
}

/* The words of the table of docs/session-file.md. */
static void
views_are_known_words (void **state)
{
  BenchFixture *fixture = *state;
  static const char *const words[SB_N_VIEWS]
      = { "response", "difference", "spread", "sweep", "slope", "ringing", "phase", "plan" };
  for (int v = 0; v < SB_N_VIEWS; v++) {
    const char *text = keep (fixture, g_strdup_printf ("{\"view\": \"%s\"}", words[v]));
    assert_true (read_with (fixture, sb_chart_choices_read, text));
    assert_int_equal (fixture->bench->chart.view, v);
  }
  static const char *const wrong[] = { "{\"view\": \"Spread\"}", "{\"view\": 2}", "{\"view\": null}" };
  for (gsize i = 0; i < G_N_ELEMENTS (wrong); i++)
    assert_refused (fixture, sb_chart_choices_read, wrong[i], "view");
}

static void
measures_of_the_chart_are_known_keys_and_at_least_one (void **state)
{
  BenchFixture *fixture = *state;
  assert_true (read_with (fixture, sb_chart_choices_read, "{\"measures\": [\"dead_time\", \"peak_velocity\"]}"));
  assert_int_equal (fixture->bench->chart.measures, 1u << SB_MEASURE_DEAD_TIME | 1u << SB_MEASURE_PEAK_VELOCITY);
  static const char *const wrong[] = { "{\"measures\": []}", "{\"measures\": [\"beauty\"]}", "{\"measures\": 3}" };
  for (gsize i = 0; i < G_N_ELEMENTS (wrong); i++)
    assert_refused (fixture, sb_chart_choices_read, wrong[i], "measures");
}

static void
view_that_runs_backwards_is_refused (void **state)
{
  BenchFixture *fixture = *state;
  assert_refused (fixture, sb_chart_choices_read, "{\"view_from_s\": 2, \"view_to_s\": 1}", "view_to_s");
  assert_refused (fixture, sb_chart_choices_read, "{\"view_from_s\": 1, \"view_to_s\": 1}", "view_from_s");
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    bench_test (numbers_are_taken_up_to_the_ends_of_their_ranges),
    bench_test (numbers_outside_their_ranges_are_refused_by_name),
    bench_test (words_are_those_of_the_table),
    bench_test (margins_are_shares_or_differences_of_known_measures),
    bench_test (panels_are_known_words_and_at_least_one),
    bench_test (views_are_known_words),
    bench_test (measures_of_the_chart_are_known_keys_and_at_least_one),
    bench_test (view_that_runs_backwards_is_refused),
  };
  return cmocka_run_group_tests (tests, NULL, NULL);
}
