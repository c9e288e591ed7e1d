/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the results tell of the drive model. The logs are write_step()'s: the torque rises by 8 N·m in 20 ms, 2 ms after
 * the command, exactly. */
#include "bench_fixture.h"
#include "choices_json.h"
#include "results.h"
#include "session.h"

#include <gsl/gsl_errno.h>

static void
analyse (BenchFixture *fixture, SbDriveModelChoice choice)
{
  const char *paths[] = { write_step (fixture, "run-1.csv", STEP_LOG), write_step (fixture, "run-2.csv", STEP_LOG) };
  sb_bench_add_configuration (fixture->bench, "Ramp", paths, 2);
  fixture->bench->drive_model = choice;
  fixture->analysis = sb_analysis_run (fixture->bench, NULL, SB_ANALYSIS_DEFAULT, NULL, NULL, NULL, &fixture->error);
  assert_non_null (fixture->analysis);
}

/* The one model of the JSON. */
static JsonObject *
parse_model (BenchFixture *fixture, JsonParser *parser)
{
  const char *json = keep (fixture, sb_results_json (fixture->analysis));
  assert_true (json_parser_load_from_data (parser, json, -1, NULL));
  JsonObject *root = json_node_get_object (json_parser_get_root (parser));
  JsonArray *models = json_object_get_array_member (root, "drive_models");
  assert_non_null (models);
  assert_int_equal (json_array_get_length (models), 1);
  return json_array_get_object_element (models, 0);
}

static double
value_of (JsonObject *model, const char *key)
{
  JsonObject *parameters = json_object_get_object_member (model, "parameters");
  return json_object_get_double_member_with_default (json_object_get_object_member (parameters, key), "value", NAN);
}

static void
nothing_is_fitted_unless_asked_for (void **state)
{
  BenchFixture *fixture = *state;
  analyse (fixture, SB_DRIVE_MODEL_NONE);
  assert_null (sb_analysis_configuration (fixture->analysis, 0)->drive);
  assert_null (strstr (keep (fixture, sb_results_json (fixture->analysis)), "drive_models"));
  assert_null (strstr (keep (fixture, sb_results_table_text (fixture->analysis)), "Drive model"));
  assert_null (strstr (keep (fixture, sb_results_methods_text (fixture->analysis)), "model of the drive"));
}

static void
json_tells_parameters_limits_and_what_is_open (void **state)
{
  BenchFixture *fixture = *state;
  analyse (fixture, SB_DRIVE_MODEL_FIT);
  g_autoptr (JsonParser) parser = json_parser_new ();
  JsonObject *model = parse_model (fixture, parser);
  double slope = value_of (model, "slope_limit"), delay_s = value_of (model, "delay"),
         level = value_of (model, "level");
  JsonObject *ceiling = json_object_get_object_member (json_object_get_object_member (model, "parameters"), "ceiling");
  gboolean open = json_object_has_member (ceiling, "not_identifiable") && !json_object_has_member (ceiling, "value");
  JsonArray *limits = json_object_get_array_member (model, "limits");
  JsonObject *second = json_array_get_length (limits) > 1 ? json_array_get_object_element (limits, 1) : NULL;
  gboolean slope_second = second != NULL && g_str_equal (json_object_get_string_member (second, "limit"), "slope")
                          && is_close (json_object_get_double_member (second, "from_s"), 0.002, 1e-6)
                          && is_close (json_object_get_double_member (second, "to_s"), 0.022, 1e-6);
  gboolean no_residuals = !json_object_has_member (model, "residuals");
  g_clear_object (&parser);
  assert_close_relative (slope, 8 / 0.020, 1e-6);
  assert_close (delay_s, 0.002, 1e-6);
  assert_close (level, 8, 1e-6);
  assert_true (open);
  assert_true (slope_second);
  assert_true (no_residuals);
}

static void
residuals_are_told_on_request (void **state)
{
  BenchFixture *fixture = *state;
  analyse (fixture, SB_DRIVE_MODEL_RESIDUALS);
  const SbEnsemble *ensemble = sb_analysis_configuration (fixture->analysis, 0)->ensemble;
  g_autoptr (JsonParser) parser = json_parser_new ();
  JsonObject *residuals = json_object_get_object_member (parse_model (fixture, parser), "residuals");
  JsonArray *torque = residuals != NULL ? json_object_get_array_member (residuals, "torque_nm") : NULL;
  guint n = torque != NULL ? json_array_get_length (torque) : 0, n_known = 0;
  double largest = 0;
  for (guint i = 0; i < n; i++) {
    if (json_array_get_null_element (torque, i))
      continue;
    largest = fmax (largest, fabs (json_array_get_double_element (torque, i)));
    n_known++;
  }
  g_clear_object (&parser);
  assert_int_equal (n, ensemble->n_points);
  assert_true (n_known > 150);
  assert_true (largest < 1e-6); /* an exact ramp leaves nothing */
}

static void
words_tell_form_and_limits (void **state)
{
  BenchFixture *fixture = *state;
  analyse (fixture, SB_DRIVE_MODEL_FIT);
  const char *table = keep (fixture, sb_results_table_text (fixture->analysis));
  assert_non_null (strstr (table, "Drive model of Ramp (slope limit, no lag)"));
  assert_non_null (strstr (table, "2.0 to 22.0 ms: the slope limit binds"));
  assert_non_null (strstr (table, "Ceiling: not identifiable (the ceiling was never reached"));
  const char *methods = keep (fixture, sb_results_methods_text (fixture->analysis));
  assert_non_null (strstr (methods, "Form used for Ramp: slope limit, no lag."));
}

static void
choice_is_kept_in_words_and_others_are_refused (void **state)
{
  BenchFixture *fixture = *state;
  fixture->bench->drive_model = SB_DRIVE_MODEL_RESIDUALS;
  const char *session = path_in (fixture, "bench.slewbench");
  assert_true (sb_session_save (fixture->bench, NULL, session, &fixture->error));
  fixture->other_bench = sb_session_load (session, &fixture->error);
  assert_non_null (fixture->other_bench);
  assert_int_equal (fixture->other_bench->drive_model, SB_DRIVE_MODEL_RESIDUALS);
  g_autoptr (JsonParser) parser = json_parser_new ();
  gboolean parsed = json_parser_load_from_data (parser, "{\"drive_model\": \"all\"}", -1, NULL);
  gboolean taken
      = parsed
        && sb_choices_read (json_node_get_object (json_parser_get_root (parser)), fixture->bench, &fixture->error);
  g_clear_object (&parser);
  assert_true (parsed);
  assert_false (taken);
  assert_non_null (strstr (fixture->error->message, "drive_model"));
}

int
main (void)
{
  gsl_set_error_handler_off ();
  const struct CMUnitTest tests[] = {
    bench_test (nothing_is_fitted_unless_asked_for),
    bench_test (json_tells_parameters_limits_and_what_is_open),
    bench_test (residuals_are_told_on_request),
    bench_test (words_tell_form_and_limits),
    bench_test (choice_is_kept_in_words_and_others_are_refused),
  };
  return cmocka_run_group_tests_name ("results of the drive model", tests, NULL, NULL);
}
