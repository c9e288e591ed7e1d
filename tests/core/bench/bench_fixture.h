/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A folder of its own for each test, and benches and results that are freed also when an assertion leaves the test
 * early. */
#pragma once

#include "analysis.h"
#include "close.h"
#include "folder.h"

#include <glib/gstdio.h>
#include <string.h>

typedef struct {
  char *folder;
  SbBench *bench, *other_bench;
  SbCache *cache;
  SbAnalysis *analysis, *second;
  GCancellable *cancellable;
  GError *error;
  GPtrArray *strings; /* owned texts */
  GPtrArray *layouts; /* read by the test */
  gint counter;       /* for callbacks */
} BenchFixture;

static inline int
bench_fixture_setup (void **state)
{
  BenchFixture *fixture = g_new0 (BenchFixture, 1);
  fixture->folder = g_dir_make_tmp ("bench-test-XXXXXX", NULL);
  fixture->bench = sb_bench_new ();
  fixture->cancellable = g_cancellable_new ();
  fixture->strings = g_ptr_array_new_with_free_func (g_free);
  *state = fixture;
  return fixture->folder == NULL ? -1 : 0;
}

static inline int
bench_fixture_teardown (void **state)
{
  BenchFixture *fixture = *state;
  sb_analysis_unref (fixture->analysis);
  sb_analysis_unref (fixture->second);
  sb_cache_free (fixture->cache);
  sb_bench_unref (fixture->bench);
  sb_bench_unref (fixture->other_bench);
  g_clear_object (&fixture->cancellable);
  g_clear_error (&fixture->error);
  g_ptr_array_unref (fixture->strings);
  g_clear_pointer (&fixture->layouts, g_ptr_array_unref);
  remove_folder (fixture->folder);
  g_free (fixture->folder);
  g_free (fixture);
  return 0;
}

#define bench_test(name) cmocka_unit_test_setup_teardown (name, bench_fixture_setup, bench_fixture_teardown)

/* Hands a text to the fixture. */
static inline const char *
keep (BenchFixture *fixture, char *text)
{
  assert_non_null (text);
  g_ptr_array_add (fixture->strings, text);
  return text;
}

/* The path of `name` ("fast/run-1.csv") in the test's folder. */
static inline const char *
path_in (BenchFixture *fixture, const char *name)
{
  return keep (fixture, g_build_filename (fixture->folder, name, NULL));
}

/* Writes a file, with the folders above it. */
static inline const char *
write_file (BenchFixture *fixture, const char *name, const char *text)
{
  const char *path = path_in (fixture, name);
  g_autofree char *above = g_path_get_dirname (path);
  assert_int_equal (g_mkdir_with_parents (above, 0755), 0);
  assert_true (g_file_set_contents (path, text, -1, NULL));
  return path;
}

/* A step of 8 N·m: the command jumps at 0.05 s, the torque follows after 2 ms along a ramp of `ramp_ms`, the velocity
 * is that of 100 rad/s² from there on. Whole numbers of milliseconds and their tenths, so nothing rounds. */
typedef struct {
  double interval_ms; /* 1 */
  double ramp_ms;     /* 20 */
  double length_ms;   /* 250 */
  const char *head;   /* comment lines; NULL: none */
  gboolean down;      /* the other way round */
} StepLog;

#define STEP_LOG ((StepLog){ .interval_ms = 1, .ramp_ms = 20, .length_ms = 250 })

static inline const char *
write_step (BenchFixture *fixture, const char *name, StepLog step)
{
  g_autoptr (GString) text = g_string_new (step.head);
  g_string_append (text, "time_s,command_Nm,torque_Nm,velocity_rad_s\n");
  for (int i = 0; i * step.interval_ms <= step.length_ms; i++) {
    double ms = i * step.interval_ms, after = fmax (0, ms - 52), way = step.down ? -1 : 1;
    char digits[4][G_ASCII_DTOSTR_BUF_SIZE];
    g_ascii_formatd (digits[0], sizeof digits[0], "%.6f", ms / 1000);
    g_ascii_formatd (digits[1], sizeof digits[1], "%g", way * (ms >= 50 ? 8 : 0));
    g_ascii_formatd (digits[2], sizeof digits[2], "%.9g", way * 8 * fmin (1, after / step.ramp_ms));
    g_ascii_formatd (digits[3], sizeof digits[3], "%.9g", way * 0.1 * after);
    g_string_append_printf (text, "%s,%s,%s,%s\n", digits[0], digits[1], digits[2], digits[3]);
  }
  return write_file (fixture, name, text->str);
}
