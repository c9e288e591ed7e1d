/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is no log fails with a message that names the file, the line where there is one, and what to do. */
#include "log_fixture.h"

#include <glib/gstdio.h>
#include <unistd.h>

static void
assert_has (const char *message, const char *part)
{
  if (strstr (message, part) == NULL)
    fail_msg ("'%s' is not in: %s", part, message);
}

static void
text_that_is_no_log_is_refused_with_a_remedy (void **state)
{
  static const struct {
    const char *text;
    SbLogError code;
    const char *parts[4];
  } table[] = {
    { "", SB_LOG_ERROR_NOT_A_LOG, { "test.csv", "no header and no rows", "Export" } },
    { "\n\n# only a comment\n", SB_LOG_ERROR_NOT_A_LOG, { "test.csv", "no header and no rows", "Export" } },
    { "time_s,torque_Nm\n", SB_LOG_ERROR_NOT_A_LOG, { "test.csv", "line 1", "no rows after the header", "Export" } },
    { "# x: y\ntime_s,torque_Nm", SB_LOG_ERROR_NOT_A_LOG, { "line 2", "no rows" } },
    { "0,0,0,0,0\n1,1,1,1,1\n",
      SB_LOG_ERROR_NO_TIME,
      { "test.csv, line 1", "no header but numbers", "time_s,command_Nm,angle_rad,velocity_rad_s,torque_Nm" } },
    { "\n0,5;1,5;2\n", SB_LOG_ERROR_NO_TIME, { "line 2", "time_s;command_Nm;angle_rad;velocity_rad_s;torque_Nm" } },
    { "speed_rpm,torque_Nm\n1,2\n",
      SB_LOG_ERROR_NO_TIME,
      { "test.csv, line 1", "'speed_rpm', 'torque_Nm'", "time_s" } },
    { "Time [week],torque_Nm\n1,2\n", SB_LOG_ERROR_NO_TIME, { "the unit 'week' is not one for time", "time_ms" } },
    { "time_s,note\n1,2\n", SB_LOG_ERROR_NO_SIGNAL, { "test.csv, line 1", "'time_s', 'note'", "torque_Nm" } },
    { "time_s\n1\n", SB_LOG_ERROR_NOT_A_LOG, { "test.csv", "no table was found", "time_s,torque_Nm" } },
    { "time_s,torque_Nm\nx,1\ny,2\n",
      SB_LOG_ERROR_NO_ROWS,
      { "test.csv", "2 left out", "Line 2, column 'time_s': 'x' is no number", "header in line 1" } },
    { "Some readme.\nIt has no table.\n", SB_LOG_ERROR_NOT_A_LOG, { "no table was found", "time_s" } },
  };
  for (guint i = 0; i < G_N_ELEMENTS (table); i++) {
    const char *message = read_error (*state, table[i].text, strlen (table[i].text), table[i].code);
    for (guint k = 0; k < 4 && table[i].parts[k] != NULL; k++)
      assert_has (message, table[i].parts[k]);
  }
}

/* A header with `line` over rows of plain numbers, separated alike. */
static const char *
error_of_header (LogFixture *fixture, const char *line, char delimiter)
{
  g_autoptr (GString) text = g_string_new (line);
  g_auto (GStrv) names = g_strsplit (line, (char[]){ delimiter, '\0' }, -1);
  for (int row = 0; row < 40; row++) {
    g_string_append_printf (text, "\n%d.5", row);
    for (guint i = 1; i < g_strv_length (names); i++)
      g_string_append_printf (text, "%c%d.25", delimiter, row * row % 7);
  }
  return read_error (fixture, text->str, text->len, SB_LOG_ERROR_NO_SIGNAL);
}

/* Each of these can be read once somebody says what the columns are, and the message says so. "\xf6\xdf" is "öß" in
 * Latin-1. */
static void
names_that_say_nothing_are_answered_with_how_to_state_roles (void **state)
{
  static const struct {
    const char *header;
    char delimiter;
    const char *first_unclear;
  } table[] = {
    { "time_s,AI:0,AI:1", ',', "Column 'AI:0'" },
    { "t_s;ch:1;ch:2", ';', "Column 'ch:1'" },
    { "Zeit [ms];Gr\xf6\xdf"
      "e;Spur",
      ';', "Column 'Größe'" },
    { "Uhrzeit [s];Zeit [ms];Kanal A", ';', "Column 'Kanal A'" },
  };
  for (guint i = 0; i < G_N_ELEMENTS (table); i++) {
    const char *message = error_of_header (*state, table[i].header, table[i].delimiter);
    assert_has (message, table[i].first_unclear);
    assert_has (message, "give the column its role in the import sheet or a layout");
    assert_null (strstr (message, "hold names"));
  }
}

static void
bytes_that_are_no_text_are_refused (void **state)
{
  static const char png[] = "\x89PNG\r\n\x1a\n\0\0\0\rIHDR";
  static const char late[] = "time_s,torque_Nm\n0,1\n1,2\n2,\0 ";
  static const char bracket[] = "[\0\0\0", brace[] = "{ \0\0\0";
  static const char skipped[] = "time_s,note,torque_Nm\n0,a,1\n1,\0b,2\n";
  LogFixture *fixture = *state;
  assert_has (read_error (fixture, png, sizeof png - 1, SB_LOG_ERROR_NOT_A_LOG), "test.csv, line 3: this is no text");
  assert_has (read_error (fixture, late, sizeof late - 1, SB_LOG_ERROR_NOT_A_LOG), "line 4: this is no text");
  assert_has (read_error (fixture, bracket, sizeof bracket - 1, SB_LOG_ERROR_NOT_A_LOG), "this is no text");
  assert_has (read_error (fixture, brace, sizeof brace - 1, SB_LOG_ERROR_NOT_A_LOG), "this is no text");
  assert_has (read_error (fixture, skipped, sizeof skipped - 1, SB_LOG_ERROR_NOT_A_LOG), "line 3: this is no text");
}

/* Seeded noise, with and without bytes that are never text: an error or a log, nothing else. */
static void
random_bytes_never_crash_the_reader (void **state)
{
  LogFixture *fixture = *state;
  static const char alphabet[] = "0123456789.,;\t\n\r\"#eE+- tT[]()_:x\xb5";
  g_autoptr (GRand) random = g_rand_new_with_seed (7);
  for (int round = 0; round < 3000; round++) {
    g_string_assign (fixture->text, round % 2 ? "time_s,torque_Nm\n0,1\n" : "");
    for (int i = g_rand_int_range (random, 0, 300); i > 0; i--)
      g_string_append_c (fixture->text, round % 3 ? alphabet[g_rand_int_range (random, 0, (int) sizeof alphabet - 1)]
                                                  : (char) g_rand_int_range (random, 0, 256));
    g_clear_error (&fixture->error);
    g_clear_pointer (&fixture->log, sb_log_unref);
    fixture->log = sb_log_read_memory ("noise", fixture->text->str, fixture->text->len, 0, &fixture->error);
    assert_true ((fixture->log == NULL) == (fixture->error != NULL));
  }
}

static const char *
open_error (LogFixture *fixture, const char *path)
{
  g_clear_error (&fixture->error);
  fixture->log = sb_log_read (path, NULL, NULL, NULL, &fixture->error);
  assert_null (fixture->log);
  assert_true (g_error_matches (fixture->error, SB_LOG_ERROR, SB_LOG_ERROR_OPEN));
  return fixture->error->message;
}

static void
path_that_is_no_file_is_refused (void **state)
{
  LogFixture *fixture = *state;
  g_autofree char *folder = g_dir_make_tmp ("slewbench-XXXXXX", NULL);
  g_autofree char *absent = g_build_filename (folder, "absent.csv", NULL);
  assert_has (open_error (fixture, absent), "absent.csv: there is no such file");
  assert_has (open_error (fixture, folder), "this is a folder");
  assert_has (open_error (fixture, "/dev/null"), "no ordinary file");
  g_rmdir (folder);
}

static void
file_without_permission_is_refused (void **state)
{
  LogFixture *fixture = *state;
  if (geteuid () == 0)
    skip ();
  g_autofree char *folder = g_dir_make_tmp ("slewbench-XXXXXX", NULL);
  g_autofree char *path = g_build_filename (folder, "closed.csv", NULL);
  assert_true (g_file_set_contents (path, "time_s,torque_Nm\n0,1\n", -1, NULL));
  g_chmod (path, 0);
  assert_has (open_error (fixture, path), "you may not read this file");
  g_unlink (path);
  g_rmdir (folder);
}

#define WITH_LOG(function) cmocka_unit_test_setup_teardown (function, log_fixture_setup, log_fixture_teardown)

int
main (void)
{
  const struct CMUnitTest tests[] = {
    WITH_LOG (text_that_is_no_log_is_refused_with_a_remedy),
    WITH_LOG (names_that_say_nothing_are_answered_with_how_to_state_roles),
    WITH_LOG (bytes_that_are_no_text_are_refused),
    WITH_LOG (random_bytes_never_crash_the_reader),
    WITH_LOG (path_that_is_no_file_is_refused),
    WITH_LOG (file_without_permission_is_refused),
  };
  return cmocka_run_group_tests (tests, NULL, NULL);
}
