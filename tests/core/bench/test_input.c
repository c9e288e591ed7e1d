/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "bench_fixture.h"
#include "input.h"
#include "session.h"

static const SbConfiguration *
configuration_at (const BenchFixture *fixture, guint index)
{
  assert_true (index < fixture->bench->configurations->len);
  return sb_bench_configuration (fixture->bench, index);
}

/* Base name of a configuration's log. */
static const char *
log_name (BenchFixture *fixture, const SbConfiguration *configuration, guint index)
{
  assert_true (index < configuration->entries->len);
  return keep (fixture, g_path_get_basename (sb_configuration_entry (configuration, index)->path));
}

static gboolean
add (BenchFixture *fixture, const char *const *paths, gsize n)
{
  g_clear_error (&fixture->error);
  return sb_input_add (fixture->bench, paths, n, NULL, &fixture->error);
}

static gboolean
add_one (BenchFixture *fixture, const char *path)
{
  return add (fixture, &path, 1);
}

static void
folder_of_logs_is_a_configuration_in_natural_order (void **state)
{
  BenchFixture *fixture = *state;
  static const char *const names[] = { "fast/run 10.csv", "fast/run 9.csv",   "fast/run 1.CSV",
                                       "fast/notes.md",   "fast/.hidden.csv", "fast/chart.png" };
  for (gsize i = 0; i < G_N_ELEMENTS (names); i++)
    write_file (fixture, names[i], "");
  assert_true (add_one (fixture, path_in (fixture, "fast")));
  assert_int_equal (fixture->bench->configurations->len, 1);
  const SbConfiguration *fast = configuration_at (fixture, 0);
  assert_string_equal (fast->name, "fast");
  assert_string_equal (fast->folder, path_in (fixture, "fast"));
  assert_string_equal (fast->opened_folder, fast->folder);
  assert_int_equal (fast->entries->len, 3);
  assert_string_equal (log_name (fixture, fast, 0), "run 1.CSV");
  assert_string_equal (log_name (fixture, fast, 1), "run 9.csv");
  assert_string_equal (log_name (fixture, fast, 2), "run 10.csv");
}

static void
folder_of_folders_is_a_configuration_each (void **state)
{
  BenchFixture *fixture = *state;
  write_file (fixture, "set/slope 10/a.csv", "");
  write_file (fixture, "set/slope 2/a.tsv", "");
  write_file (fixture, "set/slope 2/deeper/b.csv", "");
  write_file (fixture, "set/.trash/a.csv", "");
  write_file (fixture, "set/pictures/a.png", "");
  assert_true (add_one (fixture, path_in (fixture, "set")));
  assert_int_equal (fixture->bench->configurations->len, 2);
  assert_string_equal (configuration_at (fixture, 0)->name, "slope 2");
  assert_int_equal (configuration_at (fixture, 0)->entries->len, 1);
  assert_string_equal (configuration_at (fixture, 1)->name, "slope 10");
  assert_string_equal (configuration_at (fixture, 1)->folder, path_in (fixture, "set/slope 10"));
  assert_string_equal (configuration_at (fixture, 1)->opened_folder, path_in (fixture, "set"));
}

static void
folder_without_logs_is_an_error_that_says_what_logs_are (void **state)
{
  BenchFixture *fixture = *state;
  write_file (fixture, "empty/readme.md", "");
  assert_false (add_one (fixture, path_in (fixture, "empty")));
  assert_true (g_error_matches (fixture->error, SB_INPUT_ERROR, SB_INPUT_ERROR_NOTHING));
  assert_non_null (strstr (fixture->error->message, "empty"));
  assert_non_null (strstr (fixture->error->message, ".csv"));
  assert_true (sb_bench_is_empty (fixture->bench));
}

static void
missing_path_is_an_error_that_names_it (void **state)
{
  BenchFixture *fixture = *state;
  assert_false (add_one (fixture, path_in (fixture, "nowhere.csv")));
  assert_non_null (strstr (fixture->error->message, "nowhere.csv"));
}

static void
what_is_good_is_added_beside_what_is_not (void **state)
{
  BenchFixture *fixture = *state;
  const char *paths[] = { path_in (fixture, "nowhere"), write_file (fixture, "quick-1.csv", ""),
                          path_in (fixture, "gone"), write_file (fixture, "quick-2.csv", "") };
  assert_false (add (fixture, paths, 4));
  assert_non_null (strstr (fixture->error->message, "nowhere")); /* the first one */
  assert_int_equal (fixture->bench->configurations->len, 1);
  assert_int_equal (configuration_at (fixture, 0)->entries->len, 2);
  assert_null (configuration_at (fixture, 0)->folder); /* single files: nobody said that others belong to them */
}

static void
log_files_are_named_after_what_they_share (void **state)
{
  static const struct {
    const char *files[3];
    const char *name;
  } cases[] = {
    { { "one/fast-1.csv", "one/fast-2.csv", "one/fast-10.csv" }, "fast" },
    { { "two/slope 4 (1).csv", "two/slope 4 (2).csv", NULL }, "slope" }, /* digits at the end may count repeats */
    { { "three/run1.csv", "three/run2.csv", NULL }, "three" },           /* every log is called "run" */
    { { "four/a.csv", "four/b.csv", NULL }, "four" },
    { { "five/motor B.csv", NULL, NULL }, "motor B" },
    { { "six/grün-1.csv", "six/grüße-1.csv", NULL }, "grü" },
    { { "seven/maß-ä.csv", "seven/maß-ö.csv", NULL }, "seven" }, /* they share half a letter */
  };
  BenchFixture *fixture = *state;
  for (gsize c = 0; c < G_N_ELEMENTS (cases); c++) {
    const char *paths[3];
    gsize n = 0;
    for (; n < 3 && cases[c].files[n] != NULL; n++)
      paths[n] = write_file (fixture, cases[c].files[n], "");
    assert_true (add (fixture, paths, n));
    assert_string_equal (configuration_at (fixture, (guint) c)->name, cases[c].name);
  }
}

static void
paths_become_absolute (void **state)
{
  BenchFixture *fixture = *state;
  write_file (fixture, "fast/a.csv", "");
  assert_true (add_one (fixture, path_in (fixture, "fast/../fast/./a.csv")));
  assert_string_equal (sb_configuration_entry (configuration_at (fixture, 0), 0)->path,
                       path_in (fixture, "fast/a.csv"));
}

static void
session_on_an_empty_bench_brings_its_choices (void **state)
{
  BenchFixture *fixture = *state;
  SbBench *saved = fixture->other_bench = sb_bench_new ();
  sb_bench_add_configuration (saved, "a", (const char *const[]){ path_in (fixture, "a.csv") }, 1);
  saved->margin_ratio = 0.125;
  const char *path = path_in (fixture, "work.slewbench");
  assert_true (sb_session_save (saved, NULL, path, NULL));
  assert_true (add_one (fixture, path));
  assert_close (fixture->bench->margin_ratio, 0.125, 0);
  assert_string_equal (configuration_at (fixture, 0)->name, "a");
}

static void
session_on_a_bench_in_use_brings_its_configurations_only (void **state)
{
  BenchFixture *fixture = *state;
  SbBench *saved = fixture->other_bench = sb_bench_new ();
  sb_bench_add_configuration (saved, "a", (const char *const[]){ "/x/1.csv", "/x/2.csv" }, 2);
  SbConfiguration *own = sb_bench_edit_configuration (saved, 0);
  own->drawn = FALSE;
  sb_configuration_entry (own, 1)->included = FALSE;
  sb_configuration_entry (own, 1)->exclusion_reason = g_ref_string_new ("slipped");
  sb_configuration_entry (own, 0)->choices.onset_s = 0.25;
  saved->margin_ratio = 0.125;
  sb_bench_set_folder (saved, 0, "/x", NULL);
  saved->passed_over = g_ptr_array_new_with_free_func (g_free);
  g_ptr_array_add (saved->passed_over, g_strdup ("/x/3.csv"));
  const char *path = path_in (fixture, "work.slewbench");
  assert_true (sb_session_save (saved, NULL, path, NULL));

  sb_bench_add_configuration (fixture->bench, "a", NULL, 0);
  assert_true (add_one (fixture, path));
  assert_close (fixture->bench->margin_ratio, 0.05, 0);
  const SbConfiguration *added = configuration_at (fixture, 1);
  assert_string_equal (added->name, "a (2)");
  assert_string_equal (added->folder, "/x");
  assert_string_equal (g_ptr_array_index (fixture->bench->passed_over, 0), "/x/3.csv");
  assert_false (added->drawn);
  assert_int_equal (added->entries->len, 2);
  assert_close (sb_configuration_entry (added, 0)->choices.onset_s, 0.25, 0);
  assert_false (sb_configuration_entry (added, 1)->included);
  assert_string_equal (sb_configuration_entry (added, 1)->exclusion_reason, "slipped");
}

static void
cancelled_input_says_so (void **state)
{
  BenchFixture *fixture = *state;
  const char *path = write_file (fixture, "fast/a.csv", "");
  g_cancellable_cancel (fixture->cancellable);
  assert_false (sb_input_add (fixture->bench, &path, 1, fixture->cancellable, &fixture->error));
  assert_true (g_error_matches (fixture->error, G_IO_ERROR, G_IO_ERROR_CANCELLED));
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    bench_test (folder_of_logs_is_a_configuration_in_natural_order),
    bench_test (folder_of_folders_is_a_configuration_each),
    bench_test (folder_without_logs_is_an_error_that_says_what_logs_are),
    bench_test (missing_path_is_an_error_that_names_it),
    bench_test (what_is_good_is_added_beside_what_is_not),
    bench_test (log_files_are_named_after_what_they_share),
    bench_test (paths_become_absolute),
    bench_test (session_on_an_empty_bench_brings_its_choices),
    bench_test (session_on_a_bench_in_use_brings_its_configurations_only),
    bench_test (cancelled_input_says_so),
  };
  return cmocka_run_group_tests (tests, NULL, NULL);
}
