/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Bundles that somebody made by hand: nothing is written outside the folder they are unpacked into. */
#include "bench_fixture.h"
#include "bundle.h"

#include <archive.h>
#include <archive_entry.h>

typedef struct {
  const char *name;
  mode_t type;
} Entry;

/* An archive of small files with these names. */
static const char *
make_archive (BenchFixture *fixture, const Entry *entries, gsize n)
{
  const char *path = path_in (fixture, "made.zip");
  struct archive *archive = archive_write_new ();
  archive_write_set_format_zip (archive);
  archive_write_open_filename (archive, path);
  for (gsize i = 0; i < n; i++) {
    struct archive_entry *entry = archive_entry_new ();
    archive_entry_set_pathname (entry, entries[i].name);
    archive_entry_set_filetype (entry, entries[i].type);
    archive_entry_set_perm (entry, 0644);
    if (entries[i].type == AE_IFLNK)
      archive_entry_set_symlink (entry, "/etc");
    archive_entry_set_size (entry, entries[i].type == AE_IFREG ? 4 : 0);
    archive_write_header (archive, entry);
    if (entries[i].type == AE_IFREG)
      archive_write_data (archive, "text", 4);
    archive_entry_free (entry);
  }
  archive_write_free (archive);
  return path;
}

static void
assert_refused (BenchFixture *fixture, const char *path, const char *why)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *folder = sb_bundle_unpack (path, NULL, &error);
  if (folder != NULL || strstr (error->message, why) == NULL)
    fail_msg ("expected '%s', got '%s'", why, error != NULL ? error->message : folder);
}

static void
names_that_lead_out_of_the_archive_are_refused (void **state)
{
  static const char *const names[] = { "../out.txt", "logs/../../out.txt", "/tmp/out.txt", "logs/..\\out.txt" };
  BenchFixture *fixture = *state;
  for (gsize i = 0; i < G_N_ELEMENTS (names); i++) {
    const char *path = make_archive (fixture, (Entry[]){ { "bench.slewbench", AE_IFREG }, { names[i], AE_IFREG } }, 2);
    assert_refused (fixture, path, "a name that leads out of it");
  }
}

static void
links_are_refused (void **state)
{
  BenchFixture *fixture = *state;
  const char *path = make_archive (
      fixture, (Entry[]){ { "logs", AE_IFLNK }, { "logs/passwd", AE_IFREG }, { "bench.slewbench", AE_IFREG } }, 3);
  assert_refused (fixture, path, "holds a link");
}

static void
archive_without_a_session_is_refused (void **state)
{
  BenchFixture *fixture = *state;
  const char *path = make_archive (fixture, (Entry[]){ { "logs/a.csv", AE_IFREG } }, 1);
  assert_refused (fixture, path,
                  "there is no session (bench.slewbench) in the archive; where it holds logs, unpack it");
}

static void
archive_that_is_cut_off_is_refused (void **state)
{
  BenchFixture *fixture = *state;
  const char *path = make_archive (fixture, (Entry[]){ { "bench.slewbench", AE_IFREG } }, 1);
  g_autofree char *bytes = NULL;
  gsize n;
  assert_true (g_file_get_contents (path, &bytes, &n, NULL));
  assert_true (g_file_set_contents (path, bytes, 40, NULL)); /* within the first file's head */
  assert_refused (fixture, path, "made.zip");
}

static int
setup_cache (void **state)
{
  /* g_get_user_cache_dir() is settled at its first call. */
  g_autofree char *cache = g_dir_make_tmp ("bundle-cache-XXXXXX", NULL);
  g_setenv ("XDG_CACHE_HOME", cache, TRUE);
  *state = g_steal_pointer (&cache);
  return 0;
}

static int
remove_cache (void **state)
{
  remove_folder (*state);
  g_free (*state);
  return 0;
}

#define bundle_test(name) cmocka_unit_test_setup_teardown (name, bench_fixture_setup, bench_fixture_teardown)

static SbBundle *
begin_bundle (BenchFixture *fixture, const char *path)
{
  fixture->analysis = sb_analysis_run (fixture->bench, NULL, SB_ANALYSIS_DEFAULT, NULL, NULL, NULL, NULL);
  SbBundle *bundle = sb_bundle_new (fixture->analysis, path, &fixture->error);
  assert_non_null (bundle);
  return bundle;
}

/* As many files as are opened are written, the session among them; one more is not, and the error says what to do. */
static void
more_files_than_are_opened_are_not_written (void **state)
{
  BenchFixture *fixture = *state;
  const char *path = path_in (fixture, "many.zip");
  g_autoptr (SbBundle) bundle = begin_bundle (fixture, path);
  g_autoptr (GBytes) nothing = g_bytes_new_static ("", 0);
  for (int i = 1; i < 100000; i++)
    if (!sb_bundle_add (bundle, "report/curves/1.csv", nothing, &fixture->error))
      fail_msg ("file %d: %s", i, fixture->error->message);
  assert_false (sb_bundle_add (bundle, "report/curves/1.csv", nothing, &fixture->error));
  assert_non_null (strstr (fixture->error->message, "no more than 100000 files. Write the report into a folder"));
  g_clear_pointer (&bundle, sb_bundle_free);
  assert_false (g_file_test (path, G_FILE_TEST_EXISTS));
}

/* A file that others may not read stays so; one that nobody may write to is not replaced, and is told with a remedy. */
static void
bundle_in_place_of_another_has_its_permissions (void **state)
{
  BenchFixture *fixture = *state;
  const char *path = write_file (fixture, "one.zip", "old");
  assert_int_equal (g_chmod (path, 0600), 0);
  assert_true (sb_bundle_finish (begin_bundle (fixture, path), &fixture->error));
  GStatBuf facts;
  assert_int_equal (g_stat (path, &facts), 0);
  assert_int_equal (facts.st_mode & 0777, 0600);
  assert_true (facts.st_size > 3);
  assert_int_equal (g_chmod (path, 0400), 0);
  assert_null (sb_bundle_new (fixture->analysis, path, &fixture->error));
  assert_non_null (strstr (fixture->error->message, "one.zip is write-protected. Choose another folder or name"));
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    bundle_test (names_that_lead_out_of_the_archive_are_refused),
    bundle_test (links_are_refused),
    bundle_test (archive_without_a_session_is_refused),
    bundle_test (archive_that_is_cut_off_is_refused),
    bundle_test (more_files_than_are_opened_are_not_written),
    bundle_test (bundle_in_place_of_another_has_its_permissions),
  };
  return cmocka_run_group_tests (tests, setup_cache, remove_cache);
}
