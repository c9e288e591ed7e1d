/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Files replaced whole or not at all. What is expected is what durable_file.h states; every limit is set by the test
 * itself, in a process of its own. */
#include "bench_fixture.h"
#include "durable_file.h"
#include "session.h"

#include <errno.h>
#include <sched.h>
#include <signal.h>
#include <sys/mount.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#define NOBODY 65534
#define SKIP   77

static void
assert_text (BenchFixture *fixture, const char *path, const char *text)
{
  char *found = NULL;
  assert_true (g_file_get_contents (path, &found, NULL, NULL));
  assert_string_equal (keep (fixture, found), text);
}

static guint
count_files (const char *folder)
{
  guint n = 0;
  g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);
  while (g_dir_read_name (dir) != NULL)
    n++;
  return n;
}

static gboolean
write_text (BenchFixture *fixture, const char *path, const char *text)
{
  return sb_durable_file_write (path, text, strlen (text), &fixture->error);
}

static void
new_file_is_written_and_nothing_stays_beside_it (void **state)
{
  BenchFixture *fixture = *state;
  const char *path = path_in (fixture, "a.txt");
  assert_true (write_text (fixture, path, "one"));
  assert_text (fixture, path, "one");
  assert_int_equal (count_files (fixture->folder), 1);
}

static void
permissions_of_the_old_file_stay (void **state)
{
  BenchFixture *fixture = *state;
  const char *path = write_file (fixture, "a.txt", "old");
  assert_int_equal (g_chmod (path, 0640), 0);
  assert_true (write_text (fixture, path, "new"));
  struct stat now;
  assert_int_equal (stat (path, &now), 0);
  assert_int_equal (now.st_mode & 07777, 0640);
}

static void
file_behind_symbolic_links_is_replaced_and_the_links_stay (void **state)
{
  BenchFixture *fixture = *state;
  const char *file = write_file (fixture, "real/a.txt", "old"), *second = path_in (fixture, "second"),
             *first = path_in (fixture, "first");
  assert_int_equal (symlink ("real/a.txt", second), 0); /* relative to its own folder */
  assert_int_equal (symlink (second, first), 0);
  assert_true (write_text (fixture, first, "new"));
  assert_text (fixture, file, "new");
  assert_true (g_file_test (first, G_FILE_TEST_IS_SYMLINK));
  assert_true (g_file_test (second, G_FILE_TEST_IS_SYMLINK));
}

static void
link_to_nothing_makes_the_file_that_it_names (void **state)
{
  BenchFixture *fixture = *state;
  const char *path = path_in (fixture, "link");
  assert_int_equal (symlink ("later.txt", path), 0);
  assert_true (write_text (fixture, path, "new"));
  assert_text (fixture, path_in (fixture, "later.txt"), "new");
}

static void
write_protected_file_stays (void **state)
{
  BenchFixture *fixture = *state;
  const char *path = write_file (fixture, "a.txt", "old");
  assert_int_equal (g_chmod (path, 0444), 0);
  assert_false (write_text (fixture, path, "new"));
  assert_non_null (strstr (fixture->error->message, "write-protected"));
  assert_text (fixture, path, "old");
}

/* Runs `limited` in a process of its own, for limits that cannot be taken back. TRUE when it says 0. */
static void
in_own_process (BenchFixture *fixture, const char *path, int (*limited) (const char *path))
{
  pid_t child = fork ();
  if (child == 0)
    _exit (limited (path));
  int status = 0;
  assert_int_equal (waitpid (child, &status, 0), child);
  assert_true (WIFEXITED (status));
  if (WEXITSTATUS (status) == SKIP)
    skip ();
  assert_int_equal (WEXITSTATUS (status), 0);
}

/* 0 when writing fails, says `part`, and leaves "old" and nothing beside it. */
static int
expect_failure (const char *path, gsize n_bytes, const char *part)
{
  g_autofree char *text = g_strnfill (n_bytes, 'x'), *folder = g_path_get_dirname (path), *left = NULL;
  g_autoptr (GError) error = NULL;
  if (sb_durable_file_write (path, text, n_bytes, &error))
    return 1;
  if (strstr (error->message, part) == NULL || !g_utf8_validate (error->message, -1, NULL))
    return 2;
  if (!g_file_get_contents (path, &left, NULL, NULL) || strcmp (left, "old") != 0)
    return 3;
  return count_files (folder) == 1 ? 0 : 4;
}

static int
with_small_files (const char *path)
{
  struct rlimit limit = { 1000, 1000 };
  signal (SIGXFSZ, SIG_IGN);
  return setrlimit (RLIMIT_FSIZE, &limit) != 0 ? SKIP : expect_failure (path, 5000, "as large");
}

static void
limit_on_the_size_of_files_leaves_the_old_one_whole (void **state)
{
  BenchFixture *fixture = *state;
  in_own_process (fixture, write_file (fixture, "own/a.txt", "old"), with_small_files);
}

static int
on_a_full_disk (const char *path)
{
  g_autofree char *folder = g_path_get_dirname (path);
  if (unshare (CLONE_NEWNS) != 0 || mount ("none", "/", NULL, MS_REC | MS_PRIVATE, NULL) != 0
      || mount ("tmpfs", folder, "tmpfs", 0, "size=16k") != 0)
    return SKIP;
  return g_file_set_contents (path, "old", -1, NULL) ? expect_failure (path, 100000, "no room") : 5;
}

static void
full_disk_leaves_the_old_file_whole (void **state)
{
  BenchFixture *fixture = *state;
  in_own_process (fixture, write_file (fixture, "own/a.txt", "old"), on_a_full_disk);
}

static int
as_nobody (const char *path)
{
  if (geteuid () == 0 && (setgid (NOBODY) != 0 || setuid (NOBODY) != 0))
    return SKIP;
  return expect_failure (path, 10, "may not be written to");
}

static void
folder_that_may_not_be_written_to_leaves_the_old_file_whole (void **state)
{
  BenchFixture *fixture = *state;
  const char *path = write_file (fixture, "own/a.txt", "old"), *folder = path_in (fixture, "own");
  assert_int_equal (g_chmod (path, 0666), 0);
  assert_int_equal (g_chmod (fixture->folder, 0755), 0);
  assert_int_equal (g_chmod (folder, 0555), 0);
  in_own_process (fixture, path, as_nobody);
  assert_int_equal (g_chmod (folder, 0755), 0);
}

/* The session says it in its own words, and offers what can be done. */
static int
session_with_small_files (const char *path)
{
  struct rlimit limit = { 100, 100 };
  signal (SIGXFSZ, SIG_IGN);
  if (setrlimit (RLIMIT_FSIZE, &limit) != 0)
    return SKIP;
  g_autoptr (SbBench) bench = sb_bench_new ();
  g_autoptr (GError) error = NULL;
  g_autofree char *left = NULL;
  if (sb_session_save (bench, NULL, path, &error) || !g_file_get_contents (path, &left, NULL, NULL))
    return 1;
  gboolean said = strstr (error->message, "not saved") != NULL && strstr (error->message, "another folder") != NULL;
  return said && strcmp (left, "old") == 0 ? 0 : 2;
}

static void
session_that_cannot_be_written_says_so_and_the_old_one_stays (void **state)
{
  BenchFixture *fixture = *state;
  in_own_process (fixture, write_file (fixture, "own/a.slewbench", "old"), session_with_small_files);
}

static void
session_is_not_written_over_what_another_wrote (void **state)
{
  BenchFixture *fixture = *state;
  const char *path = path_in (fixture, "a.slewbench");
  char *digest = NULL;
  assert_true (sb_session_save_over (fixture->bench, NULL, path, NULL, &digest, &fixture->error));
  const char *mine = keep (fixture, digest);
  assert_string_equal (mine, keep (fixture, sb_session_digest (path)));
  assert_true (sb_session_save_over (fixture->bench, NULL, path, mine, NULL, &fixture->error));
  write_file (fixture, "a.slewbench", "theirs");
  assert_false (sb_session_save_over (fixture->bench, NULL, path, mine, NULL, &fixture->error));
  assert_true (g_error_matches (fixture->error, SB_SESSION_ERROR, SB_SESSION_ERROR_CHANGED));
  assert_text (fixture, path, "theirs");
  assert_int_equal (g_remove (path), 0); /* gone: nothing can be lost */
  g_clear_error (&fixture->error);
  assert_true (sb_session_save_over (fixture->bench, NULL, path, mine, NULL, &fixture->error));
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    bench_test (new_file_is_written_and_nothing_stays_beside_it),
    bench_test (permissions_of_the_old_file_stay),
    bench_test (file_behind_symbolic_links_is_replaced_and_the_links_stay),
    bench_test (link_to_nothing_makes_the_file_that_it_names),
    bench_test (write_protected_file_stays),
    bench_test (limit_on_the_size_of_files_leaves_the_old_one_whole),
    bench_test (full_disk_leaves_the_old_file_whole),
    bench_test (folder_that_may_not_be_written_to_leaves_the_old_file_whole),
    bench_test (session_that_cannot_be_written_says_so_and_the_old_one_stays),
    bench_test (session_is_not_written_over_what_another_wrote),
  };
  return cmocka_run_group_tests (tests, NULL, NULL);
}
