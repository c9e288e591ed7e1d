/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A session of a made-up later version, whose members this one does not know. What is expected follows from the text of
 * the session: every member stays where it was, with its value. */
#include "bench_fixture.h"
#include "input.h"
#include "json_members.h"
#include "session.h"

static const char later_session[]
    = "{\"slewbench_session\": 1, \"written_by\": \"9.9\", \"weather\": {\"humidity\": [1, 2.5, null, \"dry\"]},\n"
      "\"configurations\": [\n"
      " {\"name\": \"soft\", \"rig\": \"A\", \"trials\": [\n"
      "  {\"file\": \"a.csv\", \"camera\": \"left\", \"layout\": {\"delimiter\": \"tab\", \"inks\": 3}},\n"
      "  {\"file\": \"b.csv\", \"camera\": \"right\", \"exclusion_reason\": \"loose\", \"included\": false}]},\n"
      " {\"name\": \"hard\", \"rig\": \"B\", \"trials\": [{\"file\": \"c.csv\", \"camera\": \"top\"}]}],\n"
      "\"layouts\": [{\"name\": \"mine\", \"shade\": \"grey\", \"columns\": [{\"name\": \"t\", \"role\": \"time\"},\n"
      "  {\"name\": \"q\", \"role\": \"torque\", \"sensor\": \"inline\"}]}],\n"
      "\"reference\": 0, \"other\": 1,\n"
      "\"choices\": {\"band_k\": 2, \"tilt\": true}, \"chart\": {\"title\": \"x\", \"glow\": {\"deep\": -7}}}\n";

static JsonObject *
root_in (BenchFixture *fixture, JsonParser *parser, const char *path)
{
  if (!json_parser_load_from_file (parser, path, &fixture->error))
    fail_msg ("%s", fixture->error->message);
  return json_node_get_object (json_parser_get_root (parser));
}

/* Every member of `of` is in `in`, of the same value; the objects and lists within likewise. */
static void
assert_within (JsonNode *of, JsonNode *in, const char *where)
{
  if (in == NULL || json_node_get_node_type (of) != json_node_get_node_type (in))
    fail_msg ("%s is gone or of another kind", where);
  if (JSON_NODE_HOLDS_OBJECT (of)) {
    JsonObjectIter iter;
    const char *name = NULL;
    JsonNode *value = NULL;
    json_object_iter_init_ordered (&iter, json_node_get_object (of));
    while (json_object_iter_next_ordered (&iter, &name, &value))
      if (!g_str_equal (name, "written_by")) /* by this version now */
        assert_within (value, json_object_get_member (json_node_get_object (in), name), name);
  } else if (JSON_NODE_HOLDS_ARRAY (of)) {
    JsonArray *a = json_node_get_array (of), *b = json_node_get_array (in);
    assert_int_equal (json_array_get_length (a), json_array_get_length (b));
    for (guint i = 0; i < json_array_get_length (a); i++)
      assert_within (json_array_get_element (a, i), json_array_get_element (b, i), where);
  } else {
    g_autofree char *left = json_to_string (of, FALSE), *right = json_to_string (in, FALSE);
    if (!JSON_NODE_HOLDS_NULL (of) && json_node_get_value_type (of) == G_TYPE_INT64) /* 2 may be written as 2.0 */
      assert_close (json_node_get_double (of), json_node_get_double (in), 0);
    else
      assert_string_equal (left, right);
  }
}

static SbBench *
load_later (BenchFixture *fixture)
{
  fixture->other_bench = sb_session_load (write_file (fixture, "later.slewbench", later_session), &fixture->error);
  if (fixture->other_bench == NULL)
    fail_msg ("%s", fixture->error->message);
  return fixture->other_bench;
}

static JsonObject *
save (BenchFixture *fixture, const SbBench *bench, JsonParser *parser)
{
  const char *path = path_in (fixture, "saved.slewbench");
  assert_true (sb_session_save (bench, NULL, path, &fixture->error));
  return root_in (fixture, parser, path);
}

static void
every_member_of_a_later_version_survives_a_save (void **state)
{
  BenchFixture *fixture = *state;
  const SbBench *bench = load_later (fixture);
  g_autoptr (JsonParser) before = json_parser_new (), after = json_parser_new ();
  root_in (fixture, before, path_in (fixture, "later.slewbench"));
  save (fixture, bench, after);
  assert_within (json_parser_get_root (before), json_parser_get_root (after), "the session");
}

static JsonObject *
trial_at (JsonObject *root, guint configuration, guint trial)
{
  JsonObject *object = json_array_get_object_element (sb_json_array (root, "configurations"), configuration);
  return json_array_get_object_element (sb_json_array (object, "trials"), trial);
}

static void
unknown_members_follow_a_trial_that_is_moved (void **state)
{
  BenchFixture *fixture = *state;
  SbBench *bench = load_later (fixture);
  fixture->bench = (sb_bench_unref (fixture->bench), sb_bench_edit (bench));
  sb_bench_move_trial (fixture->bench, 0, 1, 1);
  g_autoptr (JsonParser) parser = json_parser_new ();
  JsonObject *root = save (fixture, fixture->bench, parser);
  assert_string_equal (json_object_get_string_member (trial_at (root, 1, 0), "camera"), "top");
  assert_string_equal (json_object_get_string_member (trial_at (root, 1, 1), "camera"), "right");
  assert_string_equal (json_object_get_string_member (trial_at (root, 0, 0), "camera"), "left");
}

/* A trial taken in again has no reason: the one that the file gave is known, and gone. */
static void
known_member_that_was_taken_away_does_not_come_back (void **state)
{
  BenchFixture *fixture = *state;
  SbBench *bench = load_later (fixture);
  fixture->bench = (sb_bench_unref (fixture->bench), sb_bench_edit (bench));
  SbTrialEntry *entry = sb_configuration_entry (sb_bench_edit_configuration (fixture->bench, 0), 1);
  entry->included = TRUE;
  g_clear_pointer (&entry->exclusion_reason, g_ref_string_release);
  g_autoptr (JsonParser) parser = json_parser_new ();
  JsonObject *trial = trial_at (save (fixture, fixture->bench, parser), 0, 1);
  assert_false (json_object_has_member (trial, "exclusion_reason"));
  assert_true (json_object_get_boolean_member (trial, "included"));
  assert_string_equal (json_object_get_string_member (trial, "camera"), "right");
}

static void
session_of_this_version_has_nothing_unknown (void **state)
{
  BenchFixture *fixture = *state;
  const char *log = "/logs/a.csv";
  sb_bench_add_configuration (fixture->bench, "a", &log, 1);
  const char *path = path_in (fixture, "own.slewbench");
  assert_true (sb_session_save (fixture->bench, NULL, path, &fixture->error));
  fixture->other_bench = sb_session_load (path, &fixture->error);
  assert_null (fixture->other_bench->unknown);
  assert_null (sb_bench_configuration (fixture->other_bench, 0)->unknown);
  assert_null (sb_configuration_entry (sb_bench_configuration (fixture->other_bench, 0), 0)->unknown);
}

/* Added to a bench that has something: its configurations come with what is said of them. */
static void
unknown_members_come_along_when_a_session_is_added (void **state)
{
  BenchFixture *fixture = *state;
  const char *log = "/logs/a.csv", *path = write_file (fixture, "later.slewbench", later_session);
  sb_bench_add_configuration (fixture->bench, "mine", &log, 1);
  assert_true (sb_input_add (fixture->bench, &path, 1, NULL, &fixture->error));
  g_autoptr (JsonParser) parser = json_parser_new ();
  JsonObject *root = save (fixture, fixture->bench, parser);
  JsonObject *added = json_array_get_object_element (sb_json_array (root, "configurations"), 1);
  assert_string_equal (json_object_get_string_member (added, "rig"), "A");
  assert_string_equal (json_object_get_string_member (trial_at (root, 1, 0), "camera"), "left");
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    bench_test (every_member_of_a_later_version_survives_a_save),
    bench_test (unknown_members_follow_a_trial_that_is_moved),
    bench_test (known_member_that_was_taken_away_does_not_come_back),
    bench_test (session_of_this_version_has_nothing_unknown),
    bench_test (unknown_members_come_along_when_a_session_is_added),
  };
  return cmocka_run_group_tests (tests, NULL, NULL);
}
