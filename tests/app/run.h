/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Runs the real program, without a display, and keeps what it said. Everything is freed by the fixture, also when an
 * assertion leaves the test early. The build names the program and the demo bench in SB_TEST_PROGRAM and SB_TEST_DEMO.
 */
#pragma once

#include "close.h"
#include "folder.h"

#include <gio/gio.h>
#include <glib/gstdio.h>
#include <json-glib/json-glib.h>
#include <string.h>

typedef struct {
  char *folder; /* the program runs here */
  GSubprocessLauncher *launcher;
  GSubprocess *process;
  int status;
  char *out, *err;
  char *bytes; /* of a file being read */
  JsonParser *parser, *second_parser;
  GPtrArray *strings;
  GMarkupParseContext *markup;
  GError *error;
  GPtrArray *tags; /* open tags of a page being checked */
} Run;

static inline int
run_setup (void **state)
{
  if (g_getenv ("SB_TEST_PROGRAM") == NULL || g_getenv ("SB_TEST_DEMO") == NULL) {
    print_error ("SB_TEST_PROGRAM and SB_TEST_DEMO must name the program and the demo bench\n");
    return -1;
  }
  Run *run = g_new0 (Run, 1);
  run->folder = g_dir_make_tmp ("app-test-XXXXXX", NULL);
  run->launcher = g_subprocess_launcher_new (G_SUBPROCESS_FLAGS_STDOUT_PIPE | G_SUBPROCESS_FLAGS_STDERR_PIPE);
  g_subprocess_launcher_set_cwd (run->launcher, run->folder);
  g_subprocess_launcher_unsetenv (run->launcher, "DISPLAY");
  g_subprocess_launcher_unsetenv (run->launcher, "WAYLAND_DISPLAY");
  /* What a person remembers on this computer is no part of a test. */
  g_autofree char *data = g_build_filename (run->folder, "data", NULL);
  g_subprocess_launcher_setenv (run->launcher, "XDG_DATA_HOME", data, TRUE);
  run->parser = json_parser_new ();
  run->second_parser = json_parser_new ();
  run->strings = g_ptr_array_new_with_free_func (g_free);
  run->tags = g_ptr_array_new_with_free_func (g_free);
  *state = run;
  return run->folder == NULL ? -1 : 0;
}

static inline int
run_teardown (void **state)
{
  Run *run = *state;
  g_clear_object (&run->process);
  g_object_unref (run->launcher);
  g_object_unref (run->parser);
  g_object_unref (run->second_parser);
  g_free (run->out);
  g_free (run->err);
  g_free (run->bytes);
  g_clear_pointer (&run->markup, g_markup_parse_context_free);
  g_clear_error (&run->error);
  g_ptr_array_unref (run->strings);
  g_ptr_array_unref (run->tags);
  remove_folder (run->folder);
  g_free (run->folder);
  g_free (run);
  return 0;
}

#define app_test(name) cmocka_unit_test_setup_teardown (name, run_setup, run_teardown)

static inline const char *
keep (Run *run, char *text)
{
  assert_non_null (text);
  g_ptr_array_add (run->strings, text);
  return text;
}

static inline const char *
path_in (Run *run, const char *name)
{
  return keep (run, g_build_filename (run->folder, name, NULL));
}

static inline const char *
demo (Run *run, const char *name)
{
  return keep (run, g_build_filename (g_getenv ("SB_TEST_DEMO"), name, NULL));
}

static inline const char *
write_file (Run *run, const char *name, const char *text)
{
  const char *path = path_in (run, name);
  g_autofree char *above = g_path_get_dirname (path);
  assert_int_equal (g_mkdir_with_parents (above, 0755), 0);
  assert_true (g_file_set_contents (path, text, -1, NULL));
  return path;
}

static inline const char *
read_file (Run *run, const char *name, gsize *n_bytes)
{
  if (!g_file_get_contents (path_in (run, name), &run->bytes, n_bytes, NULL))
    fail_msg ("%s was not written", name);
  return keep (run, g_steal_pointer (&run->bytes));
}

/* Runs any program; the exit status. */
static inline int
run_program (Run *run, const char *const *arguments)
{
  g_clear_object (&run->process);
  g_clear_pointer (&run->out, g_free);
  g_clear_pointer (&run->err, g_free);
  run->process = g_subprocess_launcher_spawnv (run->launcher, arguments, NULL);
  assert_non_null (run->process);
  assert_true (g_subprocess_communicate_utf8 (run->process, NULL, NULL, &run->out, &run->err, NULL));
  assert_true (g_subprocess_get_if_exited (run->process));
  run->status = g_subprocess_get_exit_status (run->process);
  return run->status;
}

/* Runs slewbench with up to 15 arguments, ended by NULL. */
#define run_slewbench(run, ...)                                                                                        \
  run_program (run, (const char *const[17]){ g_getenv ("SB_TEST_PROGRAM"), __VA_ARGS__, NULL })

static inline void
assert_status (const Run *run, int expected)
{
  if (run->status != expected)
    fail_msg ("exit status %d, expected %d; it said: %s", run->status, expected, run->err);
}

static inline void
assert_says (const char *text, const char *part)
{
  assert_non_null (text);
  if (strstr (text, part) == NULL) {
    print_error ("'%s' is not in: %.2000s\n", part, text);
    fail ();
  }
}

/* An error: its status, nothing on stdout, the part on stderr, in one or more lines of the program's own. */
static inline void
assert_error (const Run *run, int status, const char *part)
{
  assert_status (run, status);
  assert_string_equal (run->out, "");
  assert_says (run->err, part);
  assert_true (g_str_has_prefix (run->err, "slewbench"));
}

/* A step of 8 N·m at 50 ms in a log of `n_rows` rows, 1 ms apart. */
static inline const char *
write_step (Run *run, const char *name, int n_rows)
{
  g_autoptr (GString) text = g_string_new ("time_ms,command_Nm,torque_Nm,velocity_rad_s\n");
  for (int i = 0; i < n_rows; i++)
    g_string_append_printf (text, "%d,%d,%d.%d,%d\n", i, i < 50 ? 0 : 8, CLAMP (4 * (i - 52), 0, 80) / 10,
                            CLAMP (4 * (i - 52), 0, 80) % 10, MAX (0, i - 52));
  return write_file (run, name, text->str);
}
