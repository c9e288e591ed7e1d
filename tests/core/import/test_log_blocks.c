/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Blocks, very long lines, many columns, threads, cancelling. */
#include "log_fixture.h"

#include <glib/gstdio.h>

static const char every_feature[] = "\xef\xbb\xbf# device: Drive A\r\n"
                                    "# setting slope: 0.6 N\xc2\xb7m/ms\r\n"
                                    "Time [ms];Torque [Nm];Speed [rpm];note;Torque B [Nm]\r\n"
                                    "0;1;2;a;1\r\n"
                                    "1,5;-2,25;3;\"b;\"\"c\"\"\";1\r\n"
                                    "\r\n"
                                    "2,5;1e-3;12345678,123456789;d;1\r\n"
                                    "2,5;1;1;not later;1\r\n"
                                    "# setting gain: 80 %\n"
                                    "3,5;x;1;e;1\r"
                                    "4,5;1;1\n"
                                    "5,5;1;1;f;1;\n"
                                    "6,5; 1 ;1;\"g\n"
                                    "7,5;0,1234567890123456789012;1;h;1";

static void
log_is_the_same_for_every_block_size (void **state)
{
  LogFixture *fixture = *state;
  gsize n_bytes = sizeof every_feature - 1;
  fixture->log = sb_log_read_memory ("test.csv", every_feature, n_bytes, 0, &fixture->error);
  assert_non_null (fixture->log);
  assert_int_equal (fixture->log->n_rows, 5);
  assert_int_equal (fixture->log->n_rows_left_out, 4);
  assert_int_equal (fixture->log->settings->len, 2);
  for (gsize block_size = 1; block_size <= 64; block_size++) {
    g_clear_pointer (&fixture->other, sb_log_unref);
    fixture->other = sb_log_read_memory ("test.csv", every_feature, n_bytes, block_size, &fixture->error);
    assert_non_null (fixture->other);
    assert_same_log (fixture->log, fixture->other);
  }
}

static void
error_is_the_same_for_every_block_size (void **state)
{
  static const char *const texts[] = { "a,b\r\n1,2\r\n", "\r\n1;2\n", "time_s,torque_Nm\r\nx,y\r\n", "\xef\xbb\xbf" };
  LogFixture *fixture = *state;
  for (guint i = 0; i < G_N_ELEMENTS (texts); i++) {
    fixture->log = sb_log_read_memory ("test.csv", texts[i], strlen (texts[i]), 0, &fixture->error);
    assert_null (fixture->log);
    g_string_assign (fixture->text, fixture->error->message);
    for (gsize block_size = 1; block_size <= 64; block_size++) {
      g_clear_error (&fixture->error);
      fixture->log = sb_log_read_memory ("test.csv", texts[i], strlen (texts[i]), block_size, &fixture->error);
      assert_null (fixture->log);
      assert_string_equal (fixture->error->message, fixture->text->str);
    }
    g_clear_error (&fixture->error);
  }
}

/* Several blocks, so that rows lie across their ends. The values follow from the row's number. */
static void
log_of_many_blocks_is_complete (void **state)
{
  LogFixture *fixture = *state;
  const guint n_rows = 200000;
  g_string_assign (fixture->text, "time_ms,torque_Nm,velocity_rad_s\n");
  for (guint i = 0; i < n_rows; i++)
    g_string_append_printf (fixture->text, "%u,%u.25,-%u.5e-1\n", i, i % 1000, i % 77);
  const SbLog *log = read_text (fixture, fixture->text->str);
  assert_int_equal (log->n_rows, n_rows);
  for (guint i = 0; i < n_rows; i++) {
    assert_close (log->channel[SB_CHANNEL_TIME][i], i / 1000.0, 0.0);
    assert_close (log->channel[SB_CHANNEL_TORQUE][i], i % 1000 + 0.25, 0.0);
    assert_close (log->channel[SB_CHANNEL_VELOCITY][i], -((i % 77) + 0.5) / 10.0, 0.0);
  }
}

static void
row_of_40_megabytes_is_left_out (void **state)
{
  LogFixture *fixture = *state;
  g_string_assign (fixture->text, "time_s,torque_Nm\r\n0,1\r\n");
  for (int i = 0; i < 40 << 20; i += 8)
    g_string_append (fixture->text, "1234567,");
  g_string_append (fixture->text, "\r\n1,2\r\n");
  const SbLog *log = read_text (fixture, fixture->text->str);
  assert_int_equal (log->n_rows, 2);
  assert_int_equal (log->n_rows_left_out, 1);
  assert_int_equal (fault_at (log, 0)->line, 3);
  assert_string_equal (fault_at (log, 0)->what, "the line is longer than 1 MiB");
  assert_close (log->channel[SB_CHANNEL_TORQUE][1], 2.0, 0.0);
}

static void
file_of_one_40_megabyte_line_is_refused (void **state)
{
  LogFixture *fixture = *state;
  for (int i = 0; i < 40 << 20; i += 8)
    g_string_append (fixture->text, "time_s,,");
  const char *message = read_error (fixture, fixture->text->str, fixture->text->len, SB_LOG_ERROR_NOT_A_LOG);
  assert_non_null (strstr (message, "test.csv, line 1: the line is longer than 1 MiB"));
}

/* Exactly 1 MiB is kept, one byte more is not, and this does not depend on the blocks. */
static void
longest_line_is_the_same_for_every_block_size (void **state)
{
  LogFixture *fixture = *state;
  static const gsize block_sizes[] = { 4096, 65537, (1 << 20) - 1, 1 << 20, (1 << 20) + 1, 1 << 22 };
  for (int extra = 0; extra < 2; extra++) {
    g_string_assign (fixture->text, "time_s,torque_Nm,note\n0,1,");
    for (int i = 4; i < (1 << 20) + extra; i++)
      g_string_append_c (fixture->text, 'x');
    g_string_append (fixture->text, "\r\n1,2,y\r\n");
    for (guint i = 0; i < G_N_ELEMENTS (block_sizes); i++) {
      g_clear_pointer (&fixture->log, sb_log_unref);
      fixture->log
          = sb_log_read_memory ("test.csv", fixture->text->str, fixture->text->len, block_sizes[i], &fixture->error);
      assert_non_null (fixture->log);
      assert_int_equal (fixture->log->n_rows, 2 - extra);
      assert_int_equal (fixture->log->n_rows_left_out, extra);
    }
  }
}

static void
log_of_5000_columns_finds_the_last (void **state)
{
  LogFixture *fixture = *state;
  g_string_assign (fixture->text, "time_s");
  for (int i = 0; i < 5000; i++)
    g_string_append_printf (fixture->text, ",sensor %d", i);
  g_string_append (fixture->text, ",torque_Nm\n");
  for (int row = 0; row < 3; row++) {
    g_string_append_printf (fixture->text, "%d", row);
    for (int i = 0; i < 5000; i++)
      g_string_append (fixture->text, row == 1 && i == 7 ? ",\"a, b\"" : ",0");
    g_string_append_printf (fixture->text, ",%d.5\n", row);
  }
  const SbLog *log = read_text (fixture, fixture->text->str);
  assert_int_equal (log->columns->len, 5002);
  assert_int_equal (log->n_rows, 3);
  for (int row = 0; row < 3; row++)
    assert_close (log->channel[SB_CHANNEL_TORQUE][row], row + 0.5, 0.0);
}

/* A log of several blocks in a file, and its path. */
typedef struct {
  LogFixture log;
  char *path;
  GCancellable *cancellable;
  GPtrArray *fractions; /* in thousandths */
} FileFixture;

static int
file_setup (void **state)
{
  FileFixture *fixture = g_new0 (FileFixture, 1);
  g_autofree char *folder = g_dir_make_tmp ("slewbench-XXXXXX", NULL);
  fixture->path = g_build_filename (folder, "long.csv", NULL);
  fixture->cancellable = g_cancellable_new ();
  fixture->fractions = g_ptr_array_new ();
  g_autoptr (GString) text = g_string_new ("time_s,torque_Nm\n");
  for (int i = 0; i < 300000; i++)
    g_string_append_printf (text, "%d,%d\n", i, i % 13);
  *state = fixture;
  return g_file_set_contents (fixture->path, text->str, (gssize) text->len, NULL) ? 0 : -1;
}

static int
file_teardown (void **state)
{
  FileFixture *fixture = *state;
  g_autofree char *folder = g_path_get_dirname (fixture->path);
  g_unlink (fixture->path);
  g_rmdir (folder);
  g_clear_pointer (&fixture->log.log, sb_log_unref);
  g_clear_error (&fixture->log.error);
  g_clear_object (&fixture->cancellable);
  g_ptr_array_unref (fixture->fractions);
  g_free (fixture->path);
  g_free (fixture);
  return 0;
}

static void
on_progress (double fraction, gpointer user_data)
{
  FileFixture *fixture = user_data;
  g_ptr_array_add (fixture->fractions, GINT_TO_POINTER ((int) (fraction * 1000.0)));
  if (fixture->fractions->len == 2)
    g_cancellable_cancel (fixture->cancellable);
}

static void
reading_a_file_reports_progress_up_to_the_end (void **state)
{
  FileFixture *fixture = *state;
  fixture->log.log = sb_log_read (fixture->path, NULL, on_progress, fixture, &fixture->log.error);
  assert_non_null (fixture->log.log);
  assert_int_equal (fixture->log.log->n_rows, 300000);
  assert_string_equal (fixture->log.log->name, "long.csv");
  assert_string_equal (fixture->log.log->path, fixture->path);
  assert_true (fixture->fractions->len > 2);
  for (guint i = 1; i < fixture->fractions->len; i++)
    assert_true (GPOINTER_TO_INT (fixture->fractions->pdata[i]) > GPOINTER_TO_INT (fixture->fractions->pdata[i - 1]));
  assert_int_equal (GPOINTER_TO_INT (fixture->fractions->pdata[fixture->fractions->len - 1]), 1000);
}

static void
reading_a_file_stops_when_cancelled (void **state)
{
  FileFixture *fixture = *state;
  fixture->log.log = sb_log_read (fixture->path, fixture->cancellable, on_progress, fixture, &fixture->log.error);
  assert_null (fixture->log.log);
  assert_true (g_error_matches (fixture->log.error, G_IO_ERROR, G_IO_ERROR_CANCELLED));
  assert_int_equal (fixture->fractions->len, 2);
}

static gpointer
read_in_thread (gpointer path)
{
  return sb_log_read (path, NULL, NULL, NULL, NULL);
}

static void
logs_read_by_threads_at_once_are_the_same (void **state)
{
  FileFixture *fixture = *state;
  GThread *threads[4];
  guint n_same = 0;
  fixture->log.log = sb_log_read (fixture->path, NULL, NULL, NULL, &fixture->log.error);
  assert_non_null (fixture->log.log);
  for (guint i = 0; i < G_N_ELEMENTS (threads); i++)
    threads[i] = g_thread_new ("reader", read_in_thread, fixture->path);
  for (guint i = 0; i < G_N_ELEMENTS (threads); i++) {
    g_autoptr (SbLog) log = g_thread_join (threads[i]);
    if (log != NULL && log->n_rows == fixture->log.log->n_rows && strcmp (log->sha256, fixture->log.log->sha256) == 0)
      n_same++;
  }
  assert_int_equal (n_same, G_N_ELEMENTS (threads));
}

#define WITH_LOG(function)  cmocka_unit_test_setup_teardown (function, log_fixture_setup, log_fixture_teardown)
#define WITH_FILE(function) cmocka_unit_test_setup_teardown (function, file_setup, file_teardown)

/* Zeros that a logger reserved: however they are cut into blocks they are counted, and a text behind them is none. */
static void
zeros_at_the_end_are_counted_in_any_blocks (void **state)
{
  LogFixture *fixture = *state;
  static const char rows[] = "time_s,torque_Nm\n0,1\n1,2\n2,3";
  for (gsize block = 1; block < 60; block++) {
    g_clear_pointer (&fixture->log, sb_log_unref);
    g_string_truncate (fixture->text, 0);
    g_string_append_len (fixture->text, rows, sizeof rows - 1);
    gsize n_text = fixture->text->len;
    g_string_set_size (fixture->text, n_text + 100);
    memset (fixture->text->str + n_text, 0, 100);
    fixture->log = sb_log_read_memory ("zeros.csv", fixture->text->str, n_text + 100, block, &fixture->error);
    assert_non_null (fixture->log);
    assert_int_equal (fixture->log->n_rows, 3);
    assert_int_equal (fixture->log->n_faults, 1);
    assert_int_equal (fault_at (fixture->log, 0)->line, 4);
    assert_non_null (strstr (fault_at (fixture->log, 0)->what, " 100 zero bytes"));
    fixture->text->str[n_text + 90] = '\n';
    assert_null (sb_log_read_memory ("zeros.csv", fixture->text->str, n_text + 100, block, &fixture->error));
    assert_true (g_error_matches (fixture->error, SB_LOG_ERROR, SB_LOG_ERROR_NOT_A_LOG));
    g_clear_error (&fixture->error);
  }
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    WITH_LOG (log_is_the_same_for_every_block_size),
    WITH_LOG (error_is_the_same_for_every_block_size),
    WITH_LOG (log_of_many_blocks_is_complete),
    WITH_LOG (row_of_40_megabytes_is_left_out),
    WITH_LOG (file_of_one_40_megabyte_line_is_refused),
    WITH_LOG (longest_line_is_the_same_for_every_block_size),
    WITH_LOG (log_of_5000_columns_finds_the_last),
    WITH_FILE (reading_a_file_reports_progress_up_to_the_end),
    WITH_FILE (reading_a_file_stops_when_cancelled),
    WITH_FILE (logs_read_by_threads_at_once_are_the_same),
    WITH_LOG (zeros_at_the_end_are_counted_in_any_blocks),
  };
  return cmocka_run_group_tests (tests, NULL, NULL);
}
