/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Small logs, one for each way of writing and each fault, against what is written in them (corpus_table.h). */
#include "corpus_failures.h"
#include "corpus_table.h"
#include "log_fixture.h"

static char *
path_of (const char *file)
{
  return g_build_filename (SB_CORPUS_DIR, file, NULL);
}

static const SbLog *
read_file (LogFixture *fixture, const char *file, const SbReadOptions *options)
{
  g_autofree char *path = path_of (file);
  g_clear_pointer (&fixture->log, sb_log_unref);
  fixture->log = sb_log_read_with (path, options, NULL, NULL, NULL, &fixture->error);
  if (fixture->log == NULL)
    fail_msg ("%s: %s", file, fixture->error->message);
  return fixture->log;
}

static void
assert_dialect (const CorpusLog *expected, const SbLog *log)
{
  const SbLayout *layout = log->layout;
  gboolean same = layout->delimiter == expected->delimiter && layout->decimal == expected->decimal
                  && layout->thousands == expected->thousands && layout->encoding == expected->encoding
                  && layout->header_line == expected->header_line && layout->units_line == expected->units_line;
  if (!same)
    fail_msg ("%s: delimiter '%c', decimal '%c', thousands %d, encoding %d, header %d, units %d", expected->file,
              layout->delimiter, layout->decimal, layout->thousands, (int) layout->encoding, (int) layout->header_line,
              (int) layout->units_line);
}

/* "time ms, torque N·m, -" */
static void
assert_columns (const CorpusLog *expected, const SbLog *log)
{
  g_autoptr (GString) found = g_string_new (NULL);
  for (guint i = 0; i < log->columns->len; i++) {
    const SbLogColumn *column = g_ptr_array_index (log->columns, i);
    g_string_append (found, i > 0 ? ", " : "");
    if (column->channel < 0)
      g_string_append_c (found, '-');
    else
      g_string_append_printf (found, "%s %s", sb_channel_key ((SbChannel) column->channel), column->unit);
  }
  if (strcmp (found->str, expected->columns) != 0)
    fail_msg ("%s: columns are %s", expected->file, found->str);
}

static void
assert_cells (const CorpusLog *expected, const SbLog *log)
{
  for (guint i = 0; i < G_N_ELEMENTS (expected->cells); i++) {
    const CorpusCell *cell = &expected->cells[i];
    double value = g_ascii_strtod (cell->number, NULL);
    if (cell->factor > 0)
      value *= cell->factor;
    assert_non_null (log->channel[cell->channel]);
    assert_true (cell->row < log->n_rows);
    if (!same_bits (log->channel[cell->channel][cell->row], value))
      fail_msg ("%s: %s of row %u is %.17g and not %.17g", expected->file, sb_channel_key (cell->channel), cell->row,
                log->channel[cell->channel][cell->row], value);
  }
}

static void
assert_first_fault (const CorpusLog *expected, const SbLog *log)
{
  g_autofree char *found = NULL;
  if (log->faults->len > 0) {
    const SbFault *fault = fault_at (log, 0);
    found = g_strdup_printf ("%d%s%s: %s", (int) fault->line, fault->column != NULL ? " " : "",
                             fault->column != NULL ? fault->column : "", fault->what);
  }
  if (g_strcmp0 (found, expected->fault) != 0)
    fail_msg ("%s: the first fault is %s", expected->file, found != NULL ? found : "none");
}

static void
assert_note (const CorpusLog *expected, const SbLog *log)
{
  for (guint i = 0; expected->note != NULL && i < log->notes->len; i++)
    if (strstr (sb_notes_text (log->notes, i), expected->note) != NULL)
      return;
  if (expected->note != NULL)
    fail_msg ("%s: no note says '%s'", expected->file, expected->note);
}

static void
every_log_is_read_as_written (void **state)
{
  for (guint i = 0; i < G_N_ELEMENTS (corpus_logs); i++) {
    const CorpusLog *expected = &corpus_logs[i];
    const SbLog *log = read_file (*state, expected->file, NULL);
    assert_dialect (expected, log);
    assert_columns (expected, log);
    if (log->n_rows != expected->n_rows || log->n_rows_left_out != expected->n_left_out)
      fail_msg ("%s: %d rows read, %d left out", expected->file, (int) log->n_rows, (int) log->n_rows_left_out);
    assert_cells (expected, log);
    assert_first_fault (expected, log);
    assert_note (expected, log);
  }
}

static void
every_other_file_is_refused_with_a_remedy (void **state)
{
  LogFixture *fixture = *state;
  for (guint i = 0; i < G_N_ELEMENTS (corpus_failures); i++) {
    const CorpusFailure *expected = &corpus_failures[i];
    g_autofree char *path = path_of (expected->file);
    g_clear_error (&fixture->error);
    fixture->log = sb_log_read (path, NULL, NULL, NULL, &fixture->error);
    assert_null (fixture->log);
    if (!g_error_matches (fixture->error, SB_LOG_ERROR, (int) expected->code))
      fail_msg ("%s: code %d: %s", expected->file, fixture->error->code, fixture->error->message);
    for (guint k = 0; k < G_N_ELEMENTS (expected->parts) && expected->parts[k] != NULL; k++)
      if (strstr (fixture->error->message, expected->parts[k]) == NULL)
        fail_msg ("%s: '%s' is not in: %s", expected->file, expected->parts[k], fixture->error->message);
  }
}

/* The table has all files and no other: a log that nobody looks at checks nothing. */
static void
every_file_of_the_corpus_has_an_expectation (void **state)
{
  (void) state;
  guint n_files = 0;
  g_autoptr (GDir) folder = g_dir_open (SB_CORPUS_DIR, 0, NULL);
  assert_non_null (folder);
  while (g_dir_read_name (folder) != NULL)
    n_files++;
  assert_int_equal (n_files, G_N_ELEMENTS (corpus_logs) + G_N_ELEMENTS (corpus_failures));
}

/* A layout is all that reading needs besides the bytes. */
static void
log_read_again_with_its_layout_is_the_same (void **state)
{
  LogFixture *fixture = *state;
  for (guint i = 0; i < G_N_ELEMENTS (corpus_logs); i++) {
    g_clear_pointer (&fixture->other, sb_log_unref);
    read_file (fixture, corpus_logs[i].file, NULL);
    fixture->other = g_steal_pointer (&fixture->log);
    SbReadOptions options = { .layout = fixture->other->layout };
    read_file (fixture, corpus_logs[i].file, &options);
    assert_same_log (fixture->log, fixture->other);
  }
}

/* Bytes come in blocks of any size, from memory as from a file. */
static void
log_is_the_same_in_blocks_of_seven_bytes (void **state)
{
  LogFixture *fixture = *state;
  for (guint i = 0; i < G_N_ELEMENTS (corpus_logs); i++) {
    g_autofree char *path = path_of (corpus_logs[i].file), *bytes = NULL;
    gsize n_bytes;
    assert_true (g_file_get_contents (path, &bytes, &n_bytes, NULL));
    g_clear_pointer (&fixture->other, sb_log_unref);
    fixture->other = sb_log_read_memory (corpus_logs[i].file, bytes, n_bytes, 7, &fixture->error);
    assert_same_log (read_file (fixture, corpus_logs[i].file, NULL), fixture->other);
  }
}

#define WITH_LOG(function) cmocka_unit_test_setup_teardown (function, log_fixture_setup, log_fixture_teardown)

int
main (void)
{
  const struct CMUnitTest tests[] = {
    WITH_LOG (every_log_is_read_as_written),
    WITH_LOG (every_other_file_is_refused_with_a_remedy),
    cmocka_unit_test (every_file_of_the_corpus_has_an_expectation),
    WITH_LOG (log_read_again_with_its_layout_is_the_same),
    WITH_LOG (log_is_the_same_in_blocks_of_seven_bytes),
  };
  return cmocka_run_group_tests (tests, NULL, NULL);
}
