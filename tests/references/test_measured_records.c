/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Measured records of a flexible robot arm and of a CD player's arm, from the DaISy collection (De Moor, De Gersem, De
 * Schutter & Favoreel, Journal A 38(3), 1997). They are not ours to hand on, so the test reads them where they are, and
 * is skipped where they are not: the folder is $SB_SYSID_DIR, else the one the build names.
 *
 * The expected figures were computed from the files with NumPy and SciPy. The files have no time column, and two of
 * their quantities are no channels of ours: the numbers pass through the importer unchanged under names in SI. */
#include "log.h"
#include "statistics.h"
#include "table.h"

#include <gsl/gsl_fft_real.h>
#include <string.h>

#define SEGMENT 512

typedef struct {
  SbLog *log;
  GError *error;
  char *text;
} Record;

static int
teardown (void **state)
{
  Record *record = *state;
  g_clear_pointer (&record->log, sb_log_unref);
  g_clear_error (&record->error);
  g_clear_pointer (&record->text, g_free);
  return 0;
}

static char *
record_path (const char *name)
{
  const char *folder = g_getenv ("SB_SYSID_DIR");
  return g_build_filename (folder != NULL ? folder : SB_SYSID_DIR, name, NULL);
}

static void
read_text (Record *record, const char *name)
{
  g_autofree char *path = record_path (name);
  if (!g_file_test (path, G_FILE_TEST_EXISTS)) {
    g_clear_pointer (&path, g_free);
    skip (); /* jumps out, past the teardown */
  }
  assert_true (g_file_get_contents (path, &record->text, NULL, NULL));
}

/* The record with a sample count for its time, and two of its columns under names the importer knows. */
static void
read_columns (Record *record, const char *name, int torque_column, int velocity_column)
{
  read_text (record, name);
  g_auto (GStrv) lines = g_strsplit (g_strchomp (record->text), "\n", -1);
  g_autoptr (GString) text = g_string_new ("time_s,torque_Nm,velocity_rad_s\n");
  for (int i = 1; lines[i] != NULL; i++) {
    g_auto (GStrv) cells = g_strsplit (lines[i], ",", -1);
    g_string_append_printf (text, "%d,%s,%s\n", i - 1, cells[torque_column], cells[velocity_column]);
  }
  record->log = sb_log_read_memory (name, text->str, text->len, 0, &record->error);
  assert_non_null (record->log);
  assert_int_equal (record->log->n_rows_left_out, 0);
}

static void
assert_facts (const SbLog *log, SbChannel channel, double first, double last, double lowest, double highest, double sd)
{
  const double *y = log->channel[channel];
  double low = y[0], high = y[0];
  for (gsize i = 0; i < log->n_rows; i++) {
    low = MIN (low, y[i]);
    high = MAX (high, y[i]);
  }
  assert_close (y[0], first, 0);
  assert_close (y[log->n_rows - 1], last, 0);
  assert_close (low, lowest, 0);
  assert_close (high, highest, 0);
  assert_close (sb_sd (y, log->n_rows), sd, 5e-9);
}

static void
a_record_without_a_time_column_is_refused_with_that_reason (void **state)
{
  Record *record = *state;
  read_text (record, "daisy_robot_arm.csv");
  record->log = sb_log_read_memory ("daisy_robot_arm.csv", record->text, strlen (record->text), 0, &record->error);
  assert_null (record->log);
  assert_true (g_error_matches (record->error, SB_LOG_ERROR, SB_LOG_ERROR_NO_TIME));
}

static void
robot_arm_is_read_with_every_digit (void **state)
{
  Record *record = *state;
  read_columns (record, "daisy_robot_arm.csv", 0, 1);
  assert_int_equal (record->log->n_rows, 1024);
  assert_facts (record->log, SB_CHANNEL_TORQUE, 0.22183165, 0.29035137, -0.4087125, 0.40793257, 0.16451037);
  assert_facts (record->log, SB_CHANNEL_VELOCITY, -0.1770363, -0.1671642, -0.78827423, 0.78911527, 0.27523238);
}

static void
cd_player_arm_is_read_with_every_digit (void **state)
{
  Record *record = *state;
  read_columns (record, "daisy_cd_player_arm.csv", 0, 3);
  assert_int_equal (record->log->n_rows, 2048);
  assert_facts (record->log, SB_CHANNEL_TORQUE, 0.0531, 0.1441, -0.6613, 0.6901, 0.22582475);
  assert_facts (record->log, SB_CHANNEL_VELOCITY, 0.0342, 0.1892, -1.4683, 1.4992, 0.52585963);
}

/* Adds the power of one segment, its mean taken off, under a Hann window. */
static void
add_power (const double *y, double *power)
{
  double x[SEGMENT], mean = sb_mean (y, SEGMENT);
  for (int i = 0; i < SEGMENT; i++)
    x[i] = (y[i] - mean) * (0.5 - 0.5 * cos (2 * G_PI * i / SEGMENT));
  gsl_fft_real_radix2_transform (x, 1, SEGMENT);
  for (int k = 1; k < SEGMENT / 2; k++)
    power[k] += x[k] * x[k] + x[SEGMENT - k] * x[SEGMENT - k];
}

/* Welch's periodogram of the acceleration, segments of 512 that overlap by half, peaks at 0.12695 cycles per sample, 65
 * of 512. The light pole pair of a fitted model lies at 0.12709: the same bin. */
static void
robot_arm_resonates_where_the_spectrum_says (void **state)
{
  Record *record = *state;
  read_columns (record, "daisy_robot_arm.csv", 0, 1);
  const double *y = record->log->channel[SB_CHANNEL_VELOCITY];
  double power[SEGMENT / 2] = { 0 };
  for (gsize from = 0; from + SEGMENT <= record->log->n_rows; from += SEGMENT / 2)
    add_power (y + from, power);
  int peak = 1;
  for (int k = 2; k < SEGMENT / 2; k++)
    if (power[k] > power[peak])
      peak = k;
  assert_close ((double) peak / SEGMENT, 0.12695, 5e-6);
  assert_close ((double) peak / SEGMENT, 0.12709, 0.5 / SEGMENT);
}

#define SKIPPED_STATUS 77

#define RECORD_TEST(name) cmocka_unit_test_prestate_setup_teardown (name, NULL, teardown, &record)

int
main (void)
{
  Record record = { 0 };
  const struct CMUnitTest tests[] = {
    RECORD_TEST (a_record_without_a_time_column_is_refused_with_that_reason),
    RECORD_TEST (robot_arm_is_read_with_every_digit),
    RECORD_TEST (cd_player_arm_is_read_with_every_digit),
    RECORD_TEST (robot_arm_resonates_where_the_spectrum_says),
  };
  int n_failed = cmocka_run_group_tests_name ("measured records", tests, NULL, NULL);
  g_autofree char *path = record_path ("daisy_robot_arm.csv");
  return n_failed == 0 && !g_file_test (path, G_FILE_TEST_EXISTS) ? SKIPPED_STATUS : n_failed;
}
