/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is proposed for a file, what a person may state instead, and what reading by a layout keeps to. Expected values
 * are what is written in the text. */
#include "log_fixture.h"

/* Holds what a test proposes and reads. */
typedef struct {
  LogFixture log;
  SbProposal *proposal;
} ProposeFixture;

static int
setup (void **state)
{
  ProposeFixture *fixture = g_new0 (ProposeFixture, 1);
  fixture->log.text = g_string_new (NULL);
  *state = fixture;
  return 0;
}

static int
teardown (void **state)
{
  ProposeFixture *fixture = *state;
  g_clear_pointer (&fixture->proposal, sb_proposal_free);
  g_clear_pointer (&fixture->log.log, sb_log_unref);
  g_clear_error (&fixture->log.error);
  g_string_free (fixture->log.text, TRUE);
  g_free (fixture);
  return 0;
}

static const SbLayout *
propose (ProposeFixture *fixture, const char *text, const SbDialectChoices *fixed)
{
  g_clear_pointer (&fixture->proposal, sb_proposal_free);
  fixture->proposal = sb_propose_memory ("test.csv", text, strlen (text), fixed, &fixture->log.error);
  if (fixture->proposal == NULL)
    fail_msg ("%s", fixture->log.error->message);
  return fixture->proposal->layout;
}

static const SbLog *
read_with (ProposeFixture *fixture, const char *text, const SbReadOptions *options)
{
  g_clear_pointer (&fixture->log.log, sb_log_unref);
  fixture->log.log = sb_log_read_memory_with ("test.csv", text, strlen (text), 0, options, &fixture->log.error);
  if (fixture->log.log == NULL)
    fail_msg ("%s", fixture->log.error->message);
  return fixture->log.log;
}

static const SbLog *
read_stated (ProposeFixture *fixture, const char *text, const SbDialectChoices *fixed)
{
  SbReadOptions options = { .fixed = fixed };
  return read_with (fixture, text, &options);
}

static void
number_of_two_meanings_is_read_as_stated (void **state)
{
  static const char text[] = "time_ms;speed_rad_s\n1;1,234\n2;2,345\n";
  SbDialectChoices fixed = SB_DIALECT_AUTOMATIC;
  fixed.decimal = ',';
  assert_true (same_bits (read_stated (*state, text, &fixed)->channel[SB_CHANNEL_VELOCITY][1], 2.345));
  fixed.decimal = '.';
  assert_true (same_bits (read_stated (*state, text, &fixed)->channel[SB_CHANNEL_VELOCITY][1], 2345));
  fixed = SB_DIALECT_AUTOMATIC;
  fixed.thousands = ',';
  assert_true (same_bits (read_stated (*state, text, &fixed)->channel[SB_CHANNEL_VELOCITY][1], 2345));
}

static void
number_of_two_meanings_is_a_question_about_its_column (void **state)
{
  const SbLayout *layout = propose (*state, "time_ms;speed_rpm\n1;1,234\n2;2,345\n", NULL);
  assert_false (sb_layout_is_certain (layout));
  assert_int_equal (layout->decimal, '\0');
  assert_null (sb_layout_column (layout, 0)->question);
  assert_non_null (strstr (sb_layout_column (layout, 1)->question, "'1,234'"));
}

static void
stated_dialect_is_kept (void **state)
{
  SbDialectChoices fixed = SB_DIALECT_AUTOMATIC;
  fixed.delimiter = ';';
  fixed.quote = '\'';
  fixed.comment_prefix = "!";
  fixed.encoding = SB_ENCODING_LATIN1;
  const SbLayout *layout = propose (*state, "! a\ntime_s;torque_Nm\n0.0;1.5\n0.1;2.5\n", &fixed);
  assert_int_equal (layout->delimiter, ';');
  assert_int_equal (layout->quote, '\'');
  assert_string_equal (layout->comment_prefix, "!");
  assert_int_equal (layout->encoding, SB_ENCODING_LATIN1);
  assert_int_equal (layout->header_line, 2);
}

/* Byte E6 is c with acute in Windows-1250 and ae in Windows-1252 (Unicode's mapping tables CP1250.TXT and CP1252.TXT).
 */
static void
central_european_names_are_read_where_that_is_stated (void **state)
{
  static const char text[] = "Pr\xea"
                             "dko\x9c\xe6 [obr/min];Czas [ms]\n1;0\n2;1\n";
  SbDialectChoices fixed = SB_DIALECT_AUTOMATIC;
  const SbLayout *layout = propose (*state, text, &fixed);
  assert_int_equal (layout->encoding, SB_ENCODING_LATIN1);
  assert_string_equal (sb_layout_column (layout, 0)->name, "Prêdkoœæ [obr/min]");
  fixed.encoding = SB_ENCODING_WINDOWS_1250;
  layout = propose (*state, text, &fixed);
  assert_int_equal (layout->encoding, SB_ENCODING_WINDOWS_1250);
  assert_string_equal (sb_layout_column (layout, 0)->name, "Prędkość [obr/min]");
  assert_int_equal (sb_layout_column (layout, 0)->certainty, SB_CERTAINTY_STATED);
}

static void
stated_lines_are_kept (void **state)
{
  static const char text[] = "time,torque\nt,M\ns,Nm\n0.0,1.5\n0.1,2.5\n";
  SbDialectChoices fixed = SB_DIALECT_AUTOMATIC;
  fixed.header_line = 1;
  fixed.units_line = 0;
  const SbLayout *layout = propose (*state, "time,torque\ns,Nm\n0.0,1.5\n0.1,2.5\n", &fixed);
  assert_int_equal (layout->units_line, 0);
  assert_int_equal (layout->first_line, 2);
  fixed.header_line = 2;
  fixed.units_line = 3;
  layout = propose (*state, text, &fixed);
  assert_int_equal (layout->header_line, 2);
  assert_int_equal (layout->units_line, 3);
  assert_int_equal (layout->first_line, 4);
  assert_string_equal (sb_layout_column (layout, 1)->name, "M");
}

static void
table_is_read_as_stated_or_said_not_to_be_there (void **state)
{
  ProposeFixture *fixture = *state;
  static const char text[]
      = "First\ntime_s,torque_Nm\n0.0,1.5\n0.1,2.5\n\nSecond\ntime_s,velocity_rad_s\n0.0,5\n0.1,6\n";
  SbDialectChoices fixed = SB_DIALECT_AUTOMATIC;
  fixed.table = 1;
  const SbLog *log = read_stated (fixture, text, &fixed);
  assert_null (log->channel[SB_CHANNEL_TORQUE]);
  assert_close (log->channel[SB_CHANNEL_VELOCITY][1], 6, 0);
  assert_int_equal (log->n_rows_left_out, 0);
  propose (fixture, text, NULL);
  assert_int_equal (fixture->proposal->tables->len, 2);
  const SbTable *first = g_ptr_array_index (fixture->proposal->tables, 0);
  const SbTable *second = g_ptr_array_index (fixture->proposal->tables, 1);
  assert_string_equal (first->title, "First");
  assert_int_equal (first->last_line, 4);
  assert_string_equal (second->title, "Second");
  assert_int_equal (second->header_line, 7);
  fixed.table = 2;
  assert_null (sb_propose_memory ("test.csv", text, strlen (text), &fixed, &fixture->log.error));
  assert_true (g_error_matches (fixture->log.error, SB_LOG_ERROR, SB_LOG_ERROR_LAYOUT));
  assert_non_null (strstr (fixture->log.error->message, "no table 3; it has 2. State a table from 1 to 2."));
}

/* Far more than is looked at in one piece. */
static void
preamble_of_any_length_is_passed_over (void **state)
{
  ProposeFixture *fixture = *state;
  GString *text = fixture->log.text;
  for (int i = 0; i < 9000; i++)
    g_string_append_printf (text, "note %d of the bench, nothing to measure\n", i);
  g_string_append (text, "device: Drive A\ntime_s,torque_Nm\n0.0,1.5\n0.1,2.5\n");
  const SbLog *log = read_with (fixture, text->str, NULL);
  assert_int_equal (log->header_line, 9002);
  assert_int_equal (log->n_rows, 2);
  assert_int_equal (log->n_rows_left_out, 0);
  assert_string_equal (log->device, "Drive A");
  assert_close (log->channel[SB_CHANNEL_TORQUE][1], 2.5, 0);
  propose (fixture, text->str, NULL);
  guint64 offset = 9002 - fixture->proposal->first_shown_line;
  assert_string_equal (g_ptr_array_index (fixture->proposal->lines, (guint) offset), "time_s,torque_Nm");
}

/* The second table begins far behind the lines looked at first. */
static void
table_behind_a_long_one_is_found_when_it_is_asked_for (void **state)
{
  ProposeFixture *fixture = *state;
  GString *text = fixture->log.text;
  g_string_append (text, "time_s,torque_Nm\n");
  for (int i = 0; i < 30000; i++)
    g_string_append_printf (text, "%d.5,%d\n", i, i % 7);
  g_string_append (text, "\ntime_s,velocity_rad_s\n0.0,5\n0.1,6\n");
  assert_int_equal (read_with (fixture, text->str, NULL)->n_rows, 30000);
  assert_int_equal (fixture->log.log->n_rows_left_out, 0);
  SbDialectChoices fixed = SB_DIALECT_AUTOMATIC;
  fixed.table = 1;
  const SbLog *log = read_stated (fixture, text->str, &fixed);
  assert_int_equal (log->header_line, 30003);
  assert_int_equal (log->n_rows, 2);
}

static void
known_layout_is_applied_by_the_names_of_its_columns (void **state)
{
  ProposeFixture *fixture = *state;
  static const char text[] = "time_s,abc,xyz\n0.0,1,5\n0.1,2,6\n", other[] = "time_s,torque_Nm\n0.0,1\n0.1,2\n";
  g_autoptr (SbLayout) known = sb_layout_copy (propose (fixture, text, NULL));
  g_autoptr (GPtrArray) all = g_ptr_array_new ();
  sb_layout_column (known, 1)->role = SB_ROLE_OTHER;
  sb_layout_column (known, 2)->role = SB_ROLE_TORQUE;
  sb_layout_column (known, 2)->unit = sb_unit_find ("mNm");
  g_ptr_array_add (all, known);
  SbReadOptions options = { .known = all };
  const SbLog *log = read_with (fixture, "# longer\n\nTime_s,ABC,xyz\n0.0,1,5\n0.1,2,6\n", &options);
  assert_true (same_bits (log->channel[SB_CHANNEL_TORQUE][1], 0.006));
  assert_close (read_with (fixture, other, &options)->channel[SB_CHANNEL_TORQUE][1], 2, 0);
}

static void
layout_of_another_file_does_not_fit (void **state)
{
  ProposeFixture *fixture = *state;
  static const char text[] = "time_s,velocity_rad_s\n0.0,1\n0.1,2\n";
  g_autoptr (SbLayout) layout = sb_layout_copy (propose (fixture, "time_s,torque_Nm\n0.0,1\n0.1,2\n", NULL));
  SbReadOptions options = { .layout = layout };
  assert_null (sb_log_read_memory_with ("test.csv", text, strlen (text), 0, &options, &fixture->log.error));
  assert_true (g_error_matches (fixture->log.error, SB_LOG_ERROR, SB_LOG_ERROR_LAYOUT));
  assert_non_null (strstr (fixture->log.error->message, "its column 2 is 'velocity_rad_s', the layout's 'torque_Nm'"));
}

static void
faults_are_counted_by_kind_and_column (void **state)
{
  ProposeFixture *fixture = *state;
  GString *text = fixture->log.text;
  g_string_append (text, "time_s,torque_Nm\n0,1\n");
  for (int i = 1; i <= 3214; i++)
    g_string_append_printf (text, "%d,x\n", i);
  g_string_append (text, "3215,1\n5,1\n3216\n3217,1\n");
  const SbLog *log = read_with (fixture, text->str, NULL);
  assert_int_equal (log->n_rows, 3);
  assert_int_equal (log->n_rows_left_out, 3216);
  assert_int_equal (log->fault_groups->len, 3);
  static const char *const expected[]
      = { "3,214 cells that are no numbers, first at line 3, column 'torque_Nm'",
          "1 row whose time goes backward, at line 3218", "1 row with too few or too many cells, at line 3219" };
  for (guint i = 0; i < G_N_ELEMENTS (expected); i++) {
    g_autofree char *words = sb_fault_group_text (g_ptr_array_index (log->fault_groups, i));
    assert_string_equal (words, expected[i]);
  }
}

static const char *
title_of (ProposeFixture *fixture, guint table)
{
  return ((const SbTable *) g_ptr_array_index (fixture->proposal->tables, table))->title;
}

/* Names over a blank line are cells, a sentence with a comma is none where semicolons part the cells. */
static void
row_of_words_before_a_blank_line_is_no_title (void **state)
{
  ProposeFixture *fixture = *state;
  propose (fixture, "operator,rig\n\ntime_s,torque_Nm\n0,1\n1,2\n", NULL);
  assert_string_equal (title_of (fixture, 0), "");
  propose (fixture, "Step test, second try\n\ntime_s;torque_Nm\n0;1\n1;2\n", NULL);
  assert_string_equal (title_of (fixture, 0), "Step test, second try");
  propose (fixture, "Step test\n\ntime_s,torque_Nm\n0,1\n1,2\n", NULL);
  assert_string_equal (title_of (fixture, 0), "Step test");
}

/* The empty cell belongs to the command, or to no group: then its column is the measured torque. */
static void
name_that_may_be_joined_in_two_ways_is_to_be_confirmed (void **state)
{
  static const char text[] = "Time,Command,,Motor\n,torque,torque,speed\ns,Nm,Nm,rpm\n0,8,0.02,0\n1,8,1.25,30\n"
                             "2,8,7.125,60\n";
  const SbLayout *layout = propose (*state, text, NULL);
  gboolean asked = FALSE;
  for (guint i = 0; i < layout->columns->len; i++) {
    const SbLayoutColumn *column = sb_layout_column (layout, i);
    asked = asked || (column->certainty == SB_CERTAINTY_GUESSED && strstr (column->question, "two lines") != NULL);
  }
  assert_true (asked);
  assert_false (sb_layout_is_certain (layout));
}

#define WITH_PROPOSAL(function) cmocka_unit_test_setup_teardown (function, setup, teardown)

int
main (void)
{
  const struct CMUnitTest tests[] = {
    WITH_PROPOSAL (number_of_two_meanings_is_read_as_stated),
    WITH_PROPOSAL (number_of_two_meanings_is_a_question_about_its_column),
    WITH_PROPOSAL (stated_dialect_is_kept),
    WITH_PROPOSAL (central_european_names_are_read_where_that_is_stated),
    WITH_PROPOSAL (stated_lines_are_kept),
    WITH_PROPOSAL (table_is_read_as_stated_or_said_not_to_be_there),
    WITH_PROPOSAL (preamble_of_any_length_is_passed_over),
    WITH_PROPOSAL (table_behind_a_long_one_is_found_when_it_is_asked_for),
    WITH_PROPOSAL (known_layout_is_applied_by_the_names_of_its_columns),
    WITH_PROPOSAL (layout_of_another_file_does_not_fit),
    WITH_PROPOSAL (faults_are_counted_by_kind_and_column),
    WITH_PROPOSAL (row_of_words_before_a_blank_line_is_no_title),
    WITH_PROPOSAL (name_that_may_be_joined_in_two_ways_is_to_be_confirmed),
  };
  return cmocka_run_group_tests (tests, NULL, NULL);
}
