/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A process that edits and saves is killed at random instants. What must hold afterwards is stated in session.h and
 * work_keeper.h: the session file is the one saved last or the one being saved, whole; and file and kept work together
 * hold every edit but those of the last second.
 *
 *     test_window_kill            a few instants
 *     test_window_kill N          N of them
 *
 * The work is done by this program itself, started as "test_window_kill child FOLDER", without a display. */
#include "document.h"
#include "folder.h"
#include "session.h"
#include "work_keeper.h"

#include <fcntl.h>
#include <setjmp.h>
#include <signal.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <sys/mman.h>
#include <sys/wait.h>
#include <unistd.h>

#include <cmocka.h>

#define MOST_EDITS   4096
#define EDIT_MS      7
#define SAVE_EVERY   23 /* edits */
#define LOST_US      G_TIME_SPAN_SECOND
#define USUAL_KILLS  3
#define LATEST_US    (1600 * G_TIME_SPAN_MILLISECOND)
#define EARLIEST_US  (120 * G_TIME_SPAN_MILLISECOND)
#define SESSION_NAME "bench.slewbench"

/* Written by the child, read when it is dead. */
typedef struct {
  gint64 edited_us[MOST_EDITS]; /* 0: that edit was not made */
  volatile int n_edits, save_begun, save_done;
} Diary;

static int n_kills = USUAL_KILLS;

/* The child */

typedef struct {
  Diary *diary;
  SbDocument *document;
  char *path;
} Child;

static void
on_saved (GObject *source, GAsyncResult *result, gpointer user_data)
{
  Child *child = user_data;
  if (sb_document_save_finish (child->document, result, NULL))
    child->diary->save_done = child->diary->save_begun;
}

/* Edit number n gives the chart the title n. */
static gboolean
on_edit_due (gpointer user_data)
{
  Child *child = user_data;
  Diary *diary = child->diary;
  int n = diary->n_edits + 1;
  if (n >= MOST_EDITS)
    return G_SOURCE_REMOVE;
  SbBench *edited = sb_bench_edit (sb_document_bench (child->document));
  g_free (edited->chart.title);
  edited->chart.title = g_strdup_printf ("%d", n);
  sb_document_push (child->document, edited, "count");
  diary->edited_us[n] = g_get_monotonic_time ();
  diary->n_edits = n;
  if (n % SAVE_EVERY == 0 && !sb_document_is_saving (child->document)) {
    diary->save_begun = n;
    sb_document_save_async (child->document, child->path, SB_OVER_CHANGES_ASK, on_saved, child);
  }
  return G_SOURCE_CONTINUE;
}

static Diary *
open_diary (const char *folder)
{
  g_autofree char *path = g_build_filename (folder, "diary", NULL);
  int fd = open (path, O_RDWR | O_CREAT | O_CLOEXEC, 0600);
  if (fd < 0 || ftruncate (fd, sizeof (Diary)) != 0)
    return NULL;
  void *memory = mmap (NULL, sizeof (Diary), PROT_READ | PROT_WRITE, MAP_SHARED, fd, 0);
  close (fd);
  return memory != MAP_FAILED ? memory : NULL;
}

/* Does not end by itself. */
static int
work (const char *folder)
{
  g_autofree char *kept = g_build_filename (folder, "kept", NULL);
  Child child = { open_diary (folder), sb_document_new (), g_build_filename (folder, SESSION_NAME, NULL) };
  if (child.diary == NULL)
    return 1;
  sb_work_keeper_new (child.document, kept);
  g_timeout_add (EDIT_MS, on_edit_due, &child);
  g_main_loop_run (g_main_loop_new (NULL, FALSE));
  return 0;
}

/* The one that kills */

typedef struct {
  char *folder;
  Diary *diary;
  SbBench *bench;
  GPtrArray *found;
  GError *error;
} Killing;

static int
killing_setup (void **state)
{
  Killing *killing = g_new0 (Killing, 1);
  *state = killing;
  return 0;
}

static void
killing_clear (Killing *killing)
{
  if (killing->diary != NULL)
    munmap (killing->diary, sizeof (Diary));
  g_clear_pointer (&killing->bench, sb_bench_unref);
  g_clear_pointer (&killing->found, g_ptr_array_unref);
  g_clear_error (&killing->error);
  if (killing->folder != NULL)
    remove_folder (killing->folder);
  g_clear_pointer (&killing->folder, g_free);
  killing->diary = NULL;
}

static int
killing_teardown (void **state)
{
  killing_clear (*state);
  g_free (*state);
  return 0;
}

static void
work_and_be_killed (Killing *killing, gint64 after_us)
{
  pid_t pid = fork ();
  assert_true (pid >= 0);
  if (pid == 0) {
    execl ("/proc/self/exe", "test_window_kill", "child", killing->folder, NULL);
    _exit (127);
  }
  g_usleep ((gulong) after_us);
  int status = 0;
  kill (pid, SIGKILL);
  assert_int_equal (waitpid (pid, &status, 0), pid);
  assert_true (WIFSIGNALED (status)); /* it was at work until then */
}

static int
number_of (const SbBench *bench)
{
  return atoi (bench->chart.title);
}

/* The number in the session file; 0 when there is none, which may be before the first is saved only. */
static int
saved_number (Killing *killing)
{
  const Diary *diary = killing->diary;
  g_autofree char *path = g_build_filename (killing->folder, SESSION_NAME, NULL);
  if (!g_file_test (path, G_FILE_TEST_EXISTS)) {
    assert_int_equal (diary->save_done, 0);
    return 0;
  }
  killing->bench = sb_session_load (path, &killing->error);
  assert_non_null (killing->bench);
  int number = number_of (killing->bench);
  assert_true (number == diary->save_done || number == diary->save_begun);
  g_clear_pointer (&killing->bench, sb_bench_unref);
  return number;
}

static int
kept_number (Killing *killing)
{
  g_autofree char *kept = g_build_filename (killing->folder, "kept", NULL);
  killing->found = sb_unsaved_work_find (kept);
  assert_true (killing->found->len <= 1);
  if (killing->found->len == 0)
    return 0;
  killing->bench = sb_unsaved_work_read (g_ptr_array_index (killing->found, 0), &killing->error);
  assert_non_null (killing->bench);
  return number_of (killing->bench);
}

/* The last edit that was made at least a second before `killed_us`. */
static int
expected_number (const Diary *diary, gint64 killed_us)
{
  int number = 0;
  while (number + 1 < MOST_EDITS && diary->edited_us[number + 1] != 0
         && diary->edited_us[number + 1] <= killed_us - LOST_US)
    number++;
  return number;
}

/* A machine at other work may give the process hardly any time: it then cannot be held to a second of the clock. */
static gboolean
had_its_time (const Diary *diary, gint64 killed_us)
{
  int n = 0;
  for (int i = diary->n_edits; i > 0 && diary->edited_us[i] > killed_us - LOST_US; i--)
    n++;
  return n >= LOST_US / (EDIT_MS * G_TIME_SPAN_MILLISECOND) / 2;
}

static void
file_is_whole_and_all_but_the_last_second_is_found_after_a_kill (void **state)
{
  Killing *killing = *state;
  guint n_before_a_save = 0, n_within = 0, n_judged = 0;
  for (int k = 0; k < n_kills; k++) {
    killing->folder = g_dir_make_tmp ("kill-test-XXXXXX", NULL);
    killing->diary = open_diary (killing->folder);
    assert_non_null (killing->diary);
    work_and_be_killed (killing, EARLIEST_US + (gint64) (g_random_double () * (double) (LATEST_US - EARLIEST_US)));
    gint64 killed_us = g_get_monotonic_time ();
    int saved = saved_number (killing), kept = kept_number (killing);
    gboolean judged = had_its_time (killing->diary, killed_us);
    if (judged && MAX (saved, kept) < expected_number (killing->diary, killed_us))
      print_error ("saved %d, kept %d of %d\n", saved, kept, killing->diary->n_edits);
    assert_true (!judged || MAX (saved, kept) >= expected_number (killing->diary, killed_us));
    n_judged += judged ? 1 : 0;
    n_before_a_save += saved == 0 ? 1 : 0;
    n_within += killing->diary->save_begun != killing->diary->save_done ? 1 : 0;
    killing_clear (killing);
  }
  print_message ("%d kills: %u while a session was saved, %u before the first was; %u with a full second of work\n",
                 n_kills, n_within, n_before_a_save, n_judged);
}

int
main (int argc, char **argv)
{
  if (argc == 3 && g_str_equal (argv[1], "child"))
    return work (argv[2]);
  if (argc == 2)
    n_kills = MAX (1, atoi (argv[1]));
  const struct CMUnitTest tests[] = {
    cmocka_unit_test_setup_teardown (file_is_whole_and_all_but_the_last_second_is_found_after_a_kill, killing_setup,
                                     killing_teardown),
  };
  return cmocka_run_group_tests (tests, NULL, NULL);
}
