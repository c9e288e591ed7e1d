/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a test of the importer reads, freed also when an assertion leaves the test early. */
#pragma once

#include "close.h"
#include "log.h"

#include <string.h>

typedef struct {
  SbLog *log, *other;
  GError *error;
  GString *text;
} LogFixture;

static inline int
log_fixture_setup (void **state)
{
  LogFixture *fixture = g_new0 (LogFixture, 1);
  fixture->text = g_string_new (NULL);
  *state = fixture;
  return 0;
}

static inline int
log_fixture_teardown (void **state)
{
  LogFixture *fixture = *state;
  g_clear_pointer (&fixture->log, sb_log_unref);
  g_clear_pointer (&fixture->other, sb_log_unref);
  g_clear_error (&fixture->error);
  g_string_free (fixture->text, TRUE);
  g_free (fixture);
  return 0;
}

/* The log in `text`, owned by the fixture until the next call; fails the test when it cannot be read. */
static inline const SbLog *
read_text (LogFixture *fixture, const char *text)
{
  g_clear_pointer (&fixture->log, sb_log_unref);
  fixture->log = sb_log_read_memory ("test.csv", text, strlen (text), 0, &fixture->error);
  if (fixture->log == NULL)
    fail_msg ("%s", fixture->error->message);
  return fixture->log;
}

/* The message of reading what is no log; fails the test when it is read or the code is another. */
static inline const char *
read_error (LogFixture *fixture, const char *bytes, gsize n_bytes, SbLogError code)
{
  g_clear_error (&fixture->error);
  g_clear_pointer (&fixture->log, sb_log_unref);
  fixture->log = sb_log_read_memory ("test.csv", bytes, n_bytes, 0, &fixture->error);
  assert_null (fixture->log);
  if (!g_error_matches (fixture->error, SB_LOG_ERROR, (int) code))
    fail_msg ("code %d: %s", fixture->error->code, fixture->error->message);
  return fixture->error->message;
}

static inline const SbFault *
fault_at (const SbLog *log, guint index)
{
  assert_true (index < log->faults->len);
  return log->faults->pdata[index];
}

/* The same double, bit for bit. */
static inline gboolean
same_bits (double a, double b)
{
  return memcmp (&a, &b, sizeof a) == 0;
}

/* Logs that no reader of them could tell apart. */
static inline void
assert_same_log (const SbLog *a, const SbLog *b)
{
  g_assert (a != NULL && b != NULL);
  assert_int_equal (a->n_rows, b->n_rows);
  assert_int_equal (a->n_rows_left_out, b->n_rows_left_out);
  assert_int_equal (a->n_faults, b->n_faults);
  assert_int_equal (a->faults->len, b->faults->len);
  assert_int_equal (a->settings->len, b->settings->len);
  assert_int_equal (a->columns->len, b->columns->len);
  assert_string_equal (a->sha256, b->sha256);
  assert_int_equal (a->delimiter, b->delimiter);
  assert_int_equal (a->decimal, b->decimal);
  assert_int_equal (a->header_line, b->header_line);
  for (int c = 0; c < SB_N_CHANNELS; c++) {
    assert_int_equal (a->channel[c] == NULL, b->channel[c] == NULL);
    if (a->channel[c] != NULL)
      assert_memory_equal (a->channel[c], b->channel[c], a->n_rows * sizeof (double));
  }
  for (guint i = 0; i < a->faults->len; i++) {
    const SbFault *one = a->faults->pdata[i], *two = b->faults->pdata[i];
    assert_int_equal (one->line, two->line);
    assert_string_equal (one->what, two->what);
    assert_int_equal (g_strcmp0 (one->column, two->column), 0);
  }
}
