/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The columns of the head of a file as a person sees them before saying what they are. Expected values are written by
 * hand into the files. */
#include "preview.h"
#include "log.h"
#include "close.h"
#include "folder.h"

#include <math.h>
#include <string.h>

typedef struct {
  char *folder, *path;
  SbLayout *layout;
  SbPreview *preview;
  guint64 end_line;
} Fixture;

static int
set_up (void **state)
{
  Fixture *fixture = g_new0 (Fixture, 1);
  fixture->folder = g_dir_make_tmp ("preview-test-XXXXXX", NULL);
  fixture->path = g_build_filename (fixture->folder, "log.csv", NULL);
  fixture->layout = sb_layout_new ();
  *state = fixture;
  return 0;
}

static int
tear_down (void **state)
{
  Fixture *fixture = *state;
  sb_preview_free (fixture->preview);
  sb_layout_unref (fixture->layout);
  remove_folder (fixture->folder);
  g_free (fixture->folder);
  g_free (fixture->path);
  g_free (fixture);
  return 0;
}

static SbLayoutColumn *
add_column (Fixture *fixture, const char *name, SbRole role, const char *unit)
{
  SbLayoutColumn *column = sb_layout_add_column (fixture->layout, name);
  column->role = role;
  column->unit = unit != NULL ? sb_unit_find (unit) : NULL;
  return column;
}

static const SbPreviewColumn *
read_column (Fixture *fixture, const char *bytes, gsize n_bytes, guint column)
{
  g_file_set_contents (fixture->path, bytes, (gssize) n_bytes, NULL);
  g_clear_pointer (&fixture->preview, sb_preview_free);
  fixture->preview = sb_preview_read (fixture->path, fixture->layout, fixture->end_line, NULL, NULL);
  assert_non_null (fixture->preview);
  return g_ptr_array_index (fixture->preview->columns, column);
}

static void
a_column_without_role_is_shown_as_written_with_gaps_for_words (void **state)
{
  static const char text[] = "a,b\n1,2.5\n# pause\n2,n/a\n3,-4\n";
  Fixture *fixture = *state;
  add_column (fixture, "a", SB_ROLE_TIME, NULL);
  add_column (fixture, "b", SB_ROLE_OTHER, NULL);
  const SbPreviewColumn *b = read_column (fixture, text, sizeof text - 1, 1);
  assert_int_equal (fixture->preview->n_rows, 3);
  assert_true (fixture->preview->whole);
  assert_int_equal (b->n_numbers, 2);
  assert_true (isnan (b->values[1]));
  assert_null (b->unit);
  assert_close (b->lowest, -4, 0);
  assert_close (b->highest, 2.5, 0);
}

/* A shaft that turns by 40 degrees a row, of which the angle just behind each turn is no number: the preview follows it
 * through its turns as the reading does, and the values are those of the shaft. */
static void
an_angle_that_begins_again_behind_a_gap_is_followed (void **state)
{
  Fixture *fixture = *state;
  g_autoptr (GString) text = g_string_new ("time_ms,torque_Nm,angle_deg\n");
  for (guint i = 0; i < 100; i++)
    if (i > 0 && 40 * i % 360 < 40)
      g_string_append_printf (text, "%u,1,nan\n", i);
    else
      g_string_append_printf (text, "%u,1,%u\n", i, 40 * i % 360);
  add_column (fixture, "time_ms", SB_ROLE_TIME, "ms");
  add_column (fixture, "torque_Nm", SB_ROLE_TORQUE, "N·m");
  add_column (fixture, "angle_deg", SB_ROLE_ANGLE, "deg");
  fixture->layout->header_line = 1;
  fixture->layout->first_line = 2;
  const SbPreviewColumn *angle = read_column (fixture, text->str, text->len, 2);
  g_autoptr (GError) error = NULL;
  g_autoptr (SbLog) log = sb_log_read (fixture->path, NULL, NULL, NULL, &error);
  assert_non_null (log);
  gsize row = 0;
  for (gsize i = 0; i < 100; i++) {
    if (isnan (angle->values[i]))
      continue;
    assert_close (angle->values[i], 40 * (double) i * 3.14159265358979 / 180, 1e-9);
    assert_close (angle->values[i], log->channel[SB_CHANNEL_ANGLE][row++], 0);
  }
  assert_int_equal (row, log->n_rows);
  assert_int_equal (row, 100 - 11); /* without every ninth */
}

/* 65,500 ms and 100 more are 64 in a counter of 16 bits, which is 65.6 s. */
static void
a_time_that_is_a_counter_is_followed (void **state)
{
  Fixture *fixture = *state;
  g_autoptr (GString) text = g_string_new ("t,torque\n");
  for (int i = 0; i < 20; i++)
    g_string_append_printf (text, "%d,1\n", (64600 + 100 * i) % 65536);
  add_column (fixture, "t", SB_ROLE_TIME, "ms");
  add_column (fixture, "torque", SB_ROLE_TORQUE, "N·m");
  const SbPreviewColumn *time = read_column (fixture, text->str, text->len, 0);
  for (int i = 0; i < 20; i++)
    assert_close (time->values[i], (64600 + 100 * i) / 1000.0, 1e-12);
  assert_close (time->highest, 66.5, 1e-12);
}

/* 1.500,25 ms with a decimal comma and points between groups. */
static void
numbers_are_read_by_the_dialect_and_told_in_si (void **state)
{
  static const char text[] = "t;x\n0;0\n1.500,25;1\n";
  Fixture *fixture = *state;
  fixture->layout->delimiter = ';';
  fixture->layout->decimal = ',';
  fixture->layout->thousands = '.';
  add_column (fixture, "t", SB_ROLE_TIME, "ms");
  add_column (fixture, "x", SB_ROLE_OTHER, NULL);
  const SbPreviewColumn *t = read_column (fixture, text, sizeof text - 1, 0);
  assert_string_equal (t->unit, "s");
  assert_close (t->highest, 1.50025, 0);
}

static void
counts_are_as_written_until_it_is_known_how_many_make_a_turn (void **state)
{
  static const char text[] = "n,x\n0,0\n1024,1\n";
  Fixture *fixture = *state;
  SbLayoutColumn *counts = add_column (fixture, "n", SB_ROLE_ANGLE, "counts");
  add_column (fixture, "x", SB_ROLE_OTHER, NULL);
  const SbPreviewColumn *angle = read_column (fixture, text, sizeof text - 1, 0);
  assert_null (angle->unit);
  assert_close (angle->highest, 1024, 0);
  counts->counts_per_turn = 4096;
  angle = read_column (fixture, text, sizeof text - 1, 0);
  assert_string_equal (angle->unit, "rad");
  assert_close (angle->highest, G_PI / 2, 1e-15);
}

/* 2 A at 2.5 N·m/A: what it comes to in the log is shown. */
static void
a_current_that_stands_for_the_torque_is_shown_in_newton_metres (void **state)
{
  static const char text[] = "t,i\n0,0\n1,2\n";
  Fixture *fixture = *state;
  add_column (fixture, "t", SB_ROLE_TIME, NULL);
  add_column (fixture, "i", SB_ROLE_CURRENT, "A")->torque_constant_nm_per_a = 2.5;
  const SbPreviewColumn *current = read_column (fixture, text, sizeof text - 1, 1);
  assert_string_equal (current->unit, "N·m");
  assert_close (current->highest, 5, 0);
}

static void
text_of_two_bytes_a_letter_is_read_too (void **state)
{
  static const char text[] = "t\0,\0x\0\n\0"
                             "1\0,\0"
                             "7\0\n\0"; /* UTF-16, the small byte first */
  Fixture *fixture = *state;
  fixture->layout->encoding = SB_ENCODING_UTF16_LE;
  add_column (fixture, "t", SB_ROLE_TIME, NULL);
  add_column (fixture, "x", SB_ROLE_OTHER, NULL);
  assert_close (read_column (fixture, text, sizeof text - 1, 1)->highest, 7, 0);
}

static void
of_a_long_file_the_first_rows_are_shown (void **state)
{
  Fixture *fixture = *state;
  add_column (fixture, "t", SB_ROLE_TIME, NULL);
  g_autoptr (GString) text = g_string_new ("t\n");
  for (int i = 0; i < 30000; i++)
    g_string_append_printf (text, "%d\n", i);
  const SbPreviewColumn *t = read_column (fixture, text->str, text->len, 0);
  assert_int_equal (fixture->preview->n_rows, 20000);
  assert_false (fixture->preview->whole);
  assert_close (t->highest, 19999, 0);
}

static void
rows_behind_the_last_line_of_the_table_are_not_shown (void **state)
{
  static const char text[] = "t\n1\n2\nother table\n9\n";
  Fixture *fixture = *state;
  fixture->layout->last_line = 3;
  add_column (fixture, "t", SB_ROLE_TIME, NULL);
  assert_close (read_column (fixture, text, sizeof text - 1, 0)->highest, 2, 0);
  assert_true (fixture->preview->whole);
}

/* The time starts again in line 4 (restart.h); the layout, found from a head, may not know it. */
static void
rows_of_another_recording_are_not_shown (void **state)
{
  static const char text[] = "t\n1\n2\n0\n9\n";
  Fixture *fixture = *state;
  fixture->end_line = 4;
  add_column (fixture, "t", SB_ROLE_TIME, NULL);
  assert_close (read_column (fixture, text, sizeof text - 1, 0)->highest, 2, 0);
  assert_int_equal (fixture->preview->n_rows, 2);
  assert_true (fixture->preview->whole);
}

/* Behind 9 MiB of another table, in either number of bytes a letter. */
static void
table_far_behind_the_head_is_shown (void **state)
{
  enum { N_BEFORE = 9 << 17 };
  Fixture *fixture = *state;
  add_column (fixture, "t", SB_ROLE_TIME, NULL);
  fixture->layout->first_line = N_BEFORE + 1;
  g_autoptr (GString) text = g_string_sized_new (2 * 8 * N_BEFORE);
  for (int i = 0; i < N_BEFORE; i++)
    g_string_append (text, "1234567\n");
  g_string_append (text, "42\n43\n");
  const SbPreviewColumn *t = read_column (fixture, text->str, text->len, 0);
  assert_int_equal (fixture->preview->n_rows, 2);
  assert_close (t->lowest, 42, 0);
  assert_close (t->highest, 43, 0);
  gsize n = 0;
  g_autofree char *wide = g_convert (text->str, (gssize) text->len, "UTF-16LE", "UTF-8", NULL, &n, NULL);
  fixture->layout->encoding = SB_ENCODING_UTF16_LE;
  t = read_column (fixture, wide, n, 0);
  assert_int_equal (fixture->preview->n_rows, 2);
  assert_close (t->lowest, 42, 0);
}

#define CASE(name) cmocka_unit_test_setup_teardown (name, set_up, tear_down)

int
main (void)
{
  const struct CMUnitTest tests[] = {
    CASE (a_column_without_role_is_shown_as_written_with_gaps_for_words),
    CASE (an_angle_that_begins_again_behind_a_gap_is_followed),
    CASE (a_time_that_is_a_counter_is_followed),
    CASE (numbers_are_read_by_the_dialect_and_told_in_si),
    CASE (counts_are_as_written_until_it_is_known_how_many_make_a_turn),
    CASE (a_current_that_stands_for_the_torque_is_shown_in_newton_metres),
    CASE (text_of_two_bytes_a_letter_is_read_too),
    CASE (of_a_long_file_the_first_rows_are_shown),
    CASE (rows_behind_the_last_line_of_the_table_are_not_shown),
    CASE (rows_of_another_recording_are_not_shown),
    CASE (table_far_behind_the_head_is_shown),
  };
  return cmocka_run_group_tests (tests, NULL, NULL);
}
