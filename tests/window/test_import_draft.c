/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Saying how a file is written. Expected values follow from what each function says it does. */
#include "import_draft.h"
#include "close.h"

#include <math.h>
#include <string.h>

typedef struct {
  SbLayout *proposed;
  SbImportDraft *draft;
  SbLayout *confirmed;
  char *text;
} Fixture;

static void
set_extra (SbImportDraft *draft, guint column, double number)
{
  sb_import_draft_set_value (draft, column, sb_import_draft_extra_kind (draft, column), number);
}

static void
add_column (SbLayout *layout, const char *name, SbRole role, const char *unit, SbCertainty certainty)
{
  SbLayoutColumn *column = sb_layout_add_column (layout, name);
  column->role = role;
  column->unit = unit != NULL ? sb_unit_find (unit) : NULL;
  column->certainty = certainty;
}

/* A time in samples, a command in percent, an angle in counts, a current, and a torque that was guessed. */
static int
set_up (void **state)
{
  Fixture *fixture = g_new0 (Fixture, 1);
  fixture->proposed = sb_layout_new ();
  add_column (fixture->proposed, "n", SB_ROLE_TIME, "samples", SB_CERTAINTY_MISSING);
  add_column (fixture->proposed, "cmd", SB_ROLE_COMMAND, "%", SB_CERTAINTY_MISSING);
  add_column (fixture->proposed, "enc", SB_ROLE_ANGLE, "counts", SB_CERTAINTY_MISSING);
  add_column (fixture->proposed, "Iq", SB_ROLE_CURRENT, "A", SB_CERTAINTY_STATED);
  add_column (fixture->proposed, "x", SB_ROLE_TORQUE, NULL, SB_CERTAINTY_GUESSED);
  sb_layout_column (fixture->proposed, 4)->question = g_strdup ("rises and stays: a torque?");
  fixture->draft = sb_import_draft_new (NULL);
  sb_import_draft_take (fixture->draft, fixture->proposed, NULL);
  *state = fixture;
  return 0;
}

static int
tear_down (void **state)
{
  Fixture *fixture = *state;
  sb_layout_unref (fixture->proposed);
  sb_layout_unref (fixture->confirmed);
  sb_import_draft_free (fixture->draft);
  g_free (fixture->text);
  g_free (fixture);
  return 0;
}

static void
each_column_wants_the_value_that_its_unit_needs (void **state)
{
  Fixture *fixture = *state;
  static const struct {
    SbExtra extra;
    gboolean wanted;
    const char *name;
  } expected[] = {
    { SB_EXTRA_SAMPLE_RATE, TRUE, "Sample rate [Hz]" },
    { SB_EXTRA_FULL_SCALE, TRUE, "100 % is [N·m]" },
    { SB_EXTRA_COUNTS_PER_TURN, TRUE, "Counts per turn" },
    { SB_EXTRA_TORQUE_CONSTANT, FALSE, "Torque constant [N·m/A]" }, /* the torque is measured */
    { SB_EXTRA_NONE, FALSE, "" },
  };
  for (guint i = 0; i < G_N_ELEMENTS (expected); i++) {
    assert_int_equal (sb_import_draft_extra (fixture->draft, i), expected[i].extra);
    assert_int_equal (sb_import_draft_extra_is_wanted (fixture->draft, i), expected[i].wanted);
    g_free (fixture->text);
    fixture->text = sb_import_draft_extra_name (fixture->draft, i);
    assert_string_equal (fixture->text, expected[i].name);
  }
}

/* "1,234" in all its cells: with decimals or in thousands. Proposed anew with the sign stated there is no question. */
static void
a_column_of_an_open_decimal_sign_asks_for_it (void **state)
{
  Fixture *fixture = *state;
  SbLayoutColumn *column = sb_layout_column (fixture->proposed, 4);
  g_free (column->question);
  column->certainty = SB_CERTAINTY_MISSING;
  column->question = g_strdup ("'1,234' may be a number with decimals or one in thousands");
  for (int stated = 0; stated < 2; stated++) {
    if (stated) {
      column->certainty = SB_CERTAINTY_STATED;
      g_clear_pointer (&column->question, g_free);
    }
    sb_import_draft_take (fixture->draft, fixture->proposed, NULL);
    for (guint i = 0; i < 3; i++)
      set_extra (fixture->draft, i, 100);
    assert_int_equal (sb_import_draft_n_uncertain (fixture->draft), stated ? 0 : 1);
    assert_string_equal (sb_import_draft_certainty_words (fixture->draft, 4),
                         stated ? "as stated" : "decimal sign wanted");
    g_free (fixture->text);
    fixture->text = sb_import_draft_problem (fixture->draft);
    if (stated)
      assert_null (fixture->text);
    else
      assert_string_equal (fixture->text, "Column “x”: decimal sign wanted.");
  }
}

/* Without a time each row is a sample: the rate of the lines before the table is to be confirmed, another is stated. */
static void
rows_without_a_time_want_a_sample_rate (void **state)
{
  Fixture *fixture = *state;
  fixture->proposed->sample_rate_hz = 2000;
  for (guint i = 0; i < 5; i++) {
    SbLayoutColumn *column = sb_layout_column (fixture->proposed, i);
    column->role = i == 4 ? SB_ROLE_TORQUE : SB_ROLE_OTHER;
    column->unit = NULL;
    column->certainty = SB_CERTAINTY_STATED;
    g_clear_pointer (&column->question, g_free);
  }
  sb_import_draft_take (fixture->draft, fixture->proposed, NULL);
  assert_true (sb_import_draft_wants_rate (fixture->draft));
  assert_int_equal (sb_import_draft_n_uncertain (fixture->draft), 1);
  assert_null (sb_import_draft_problem (fixture->draft));
  fixture->text = sb_import_draft_heading (fixture->draft);
  assert_string_equal (fixture->text, "No column is the time: look at the sample rate.");
  sb_import_draft_set_rate (fixture->draft, (double) NAN);
  g_free (fixture->text);
  fixture->text = sb_import_draft_problem (fixture->draft);
  assert_string_equal (fixture->text, "No column is the time. Choose one, or state the sample rate of the rows.");
  sb_import_draft_set_rate (fixture->draft, 1000);
  assert_int_equal (sb_import_draft_n_uncertain (fixture->draft), 0);
  sb_import_draft_take (fixture->draft, fixture->proposed, NULL);
  assert_close (fixture->draft->layout->sample_rate_hz, 1000, 0);
  fixture->confirmed = sb_import_draft_confirmed (fixture->draft);
  assert_true (sb_layout_is_certain (fixture->confirmed));
}

static void
a_current_wants_a_torque_constant_once_no_column_is_the_torque (void **state)
{
  Fixture *fixture = *state;
  sb_import_draft_set_role (fixture->draft, 4, SB_ROLE_OTHER);
  assert_true (sb_import_draft_extra_is_wanted (fixture->draft, 3));
  assert_int_equal (sb_import_draft_certainty (fixture->draft, 3), SB_CERTAINTY_MISSING);
  set_extra (fixture->draft, 3, 0.35);
  assert_int_equal (sb_import_draft_certainty (fixture->draft, 3), SB_CERTAINTY_CONFIRMED);
}

static void
what_is_missing_keeps_the_file_from_being_read_until_it_is_stated (void **state)
{
  Fixture *fixture = *state;
  assert_int_equal (sb_import_draft_n_uncertain (fixture->draft), 4); /* three values and a guess */
  const double values[] = { 1000, 8, 4096 };
  for (guint i = 0; i < 3; i++) {
    g_free (fixture->text);
    fixture->text = sb_import_draft_problem (fixture->draft);
    assert_non_null (fixture->text);
    assert_non_null (strstr (fixture->text, sb_layout_column (fixture->draft->layout, i)->name));
    set_extra (fixture->draft, i, values[i]);
  }
  assert_null (sb_import_draft_problem (fixture->draft));
  assert_int_equal (sb_import_draft_n_uncertain (fixture->draft), 1);
  assert_close (fixture->draft->layout->sample_rate_hz, 1000, 0);
  assert_close (sb_layout_column (fixture->draft->layout, 1)->full_scale, 8, 0);
  assert_close (sb_layout_column (fixture->draft->layout, 2)->counts_per_turn, 4096, 0);
}

static void
a_column_that_takes_a_role_takes_it_from_the_one_that_had_it (void **state)
{
  Fixture *fixture = *state;
  sb_import_draft_set_role (fixture->draft, 3, SB_ROLE_TORQUE);
  assert_int_equal (sb_layout_column (fixture->draft->layout, 4)->role, SB_ROLE_OTHER);
  /* A torque may be written in ampere: the unit stays, and with it the question for a constant. */
  assert_ptr_equal (sb_layout_column (fixture->draft->layout, 3)->unit, sb_unit_find ("A"));
  assert_int_equal (sb_import_draft_extra (fixture->draft, 3), SB_EXTRA_TORQUE_CONSTANT);
}

static void
a_torque_in_volts_wants_the_torque_of_one_volt (void **state)
{
  Fixture *fixture = *state;
  sb_import_draft_set_unit (fixture->draft, 4, sb_unit_find ("mV"));
  assert_int_equal (sb_import_draft_extra (fixture->draft, 4), SB_EXTRA_TORQUE_PER_VOLT);
  assert_int_equal (sb_import_draft_certainty (fixture->draft, 4), SB_CERTAINTY_MISSING);
  assert_string_equal (sb_import_draft_certainty_words (fixture->draft, 4), "torque per volt wanted");
  set_extra (fixture->draft, 4, -2.5);
  assert_int_equal (sb_import_draft_certainty (fixture->draft, 4), SB_CERTAINTY_CONFIRMED);
  assert_close (sb_layout_column (fixture->draft->layout, 4)->torque_per_volt_nm, -2.5, 0);
}

static void
volts_at_no_torque_belong_to_a_torque_in_volts (void **state)
{
  Fixture *fixture = *state;
  sb_import_draft_set_value (fixture->draft, 4, SB_LAYOUT_TORQUE_ZERO, 2.5);
  assert_true (isnan (sb_layout_column (fixture->draft->layout, 4)->torque_zero_v));
  sb_import_draft_set_unit (fixture->draft, 4, sb_unit_find ("V"));
  sb_import_draft_set_value (fixture->draft, 4, SB_LAYOUT_TORQUE_ZERO, 2.5);
  assert_close (sb_layout_column (fixture->draft->layout, 4)->torque_zero_v, 2.5, 0);
}

static void
factor_is_taken_by_what_can_be_multiplied (void **state)
{
  SbImportDraft *draft = ((Fixture *) *state)->draft;
  sb_import_draft_set_value (draft, 4, SB_LAYOUT_FACTOR, -1);
  assert_close (sb_layout_column (draft->layout, 4)->factor, -1, 0);
  assert_int_equal (sb_import_draft_certainty (draft, 4), SB_CERTAINTY_CONFIRMED);
  sb_import_draft_set_value (draft, 4, SB_LAYOUT_FACTOR, (double) NAN); /* the entry is emptied */
  assert_true (isnan (sb_layout_column (draft->layout, 4)->factor));
  sb_import_draft_set_value (draft, 0, SB_LAYOUT_FACTOR, 2); /* the number of the sample */
  assert_true (isnan (sb_layout_column (draft->layout, 0)->factor));
  sb_import_draft_set_unit (draft, 0, sb_unit_find ("ms"));
  sb_import_draft_set_value (draft, 0, SB_LAYOUT_FACTOR, 2);
  assert_close (sb_layout_column (draft->layout, 0)->factor, 2, 0);
}

static void
factor_that_a_new_role_or_unit_does_not_take_goes (void **state)
{
  SbImportDraft *draft = ((Fixture *) *state)->draft;
  sb_import_draft_set_value (draft, 4, SB_LAYOUT_FACTOR, -1);
  sb_import_draft_set_role (draft, 4, SB_ROLE_TIME); /* which runs forward */
  assert_true (isnan (sb_layout_column (draft->layout, 4)->factor));
  sb_import_draft_set_value (draft, 4, SB_LAYOUT_FACTOR, 2);
  sb_import_draft_set_unit (draft, 4, sb_unit_find ("samples"));
  assert_true (isnan (sb_layout_column (draft->layout, 4)->factor));
}

static void
what_was_written_wrongly_keeps_the_file_from_being_read (void **state)
{
  Fixture *fixture = *state;
  guint clear = 0;
  while (sb_import_draft_certainty (fixture->draft, clear) != SB_CERTAINTY_STATED)
    clear++;
  guint n_before = sb_import_draft_n_uncertain (fixture->draft);
  sb_import_draft_set_wrong (fixture->draft, clear, "'2,5x' is no number");
  g_autofree char *problem = sb_import_draft_problem (fixture->draft);
  assert_non_null (strstr (problem, "'2,5x' is no number"));
  assert_int_equal (sb_import_draft_n_uncertain (fixture->draft), n_before + 1);
  sb_import_draft_set_wrong (fixture->draft, clear, NULL);
  assert_int_equal (sb_import_draft_n_uncertain (fixture->draft), n_before);
}

static void
a_unit_that_does_not_suit_the_new_role_goes (void **state)
{
  Fixture *fixture = *state;
  sb_import_draft_set_role (fixture->draft, 2, SB_ROLE_TEMPERATURE); /* not in counts */
  assert_null (sb_layout_column (fixture->draft->layout, 2)->unit);
  assert_int_equal (sb_import_draft_extra (fixture->draft, 2), SB_EXTRA_NONE);
}

static void
a_role_that_is_no_channel_may_be_had_by_several (void **state)
{
  Fixture *fixture = *state;
  sb_import_draft_set_role (fixture->draft, 4, SB_ROLE_CURRENT);
  assert_int_equal (sb_layout_column (fixture->draft->layout, 3)->role, SB_ROLE_CURRENT);
}

static void
without_time_or_signal_there_is_a_problem_in_words (void **state)
{
  Fixture *fixture = *state;
  sb_import_draft_set_role (fixture->draft, 0, SB_ROLE_OTHER);
  fixture->text = sb_import_draft_problem (fixture->draft);
  assert_non_null (strstr (fixture->text, "time"));
}

/* 65536 counts are no 65536 degrees; 0 says that it never begins again. */
static void
an_angle_begins_again_after_as_much_of_its_unit (void **state)
{
  Fixture *fixture = *state;
  SbImportDraft *draft = fixture->draft;
  assert_false (sb_import_draft_takes (draft, 4, SB_LAYOUT_WRAP));
  sb_import_draft_set_value (draft, 4, SB_LAYOUT_WRAP, 360);
  assert_true (isnan (sb_layout_column (draft->layout, 4)->wrap));
  sb_import_draft_set_value (draft, 2, SB_LAYOUT_WRAP, 65536);
  assert_close (sb_import_draft_value (draft, 2, SB_LAYOUT_WRAP), 65536, 0);
  sb_import_draft_set_unit (draft, 2, sb_unit_find ("deg"));
  assert_true (isnan (sb_import_draft_value (draft, 2, SB_LAYOUT_WRAP)));
  sb_import_draft_set_value (draft, 2, SB_LAYOUT_WRAP, 0);
  fixture->confirmed = sb_import_draft_confirmed (draft);
  assert_close (sb_layout_column (fixture->confirmed, 2)->wrap, 0, 0);
  sb_import_draft_set_role (draft, 2, SB_ROLE_TORQUE);
  assert_true (isnan (sb_layout_column (draft->layout, 2)->wrap));
}

static void
what_was_confirmed_is_kept_when_the_dialect_changes (void **state)
{
  Fixture *fixture = *state;
  set_extra (fixture->draft, 0, 2000);
  sb_import_draft_set_role (fixture->draft, 4, SB_ROLE_VELOCITY);
  sb_import_draft_take (fixture->draft, fixture->proposed, NULL);
  assert_int_equal (sb_layout_column (fixture->draft->layout, 4)->role, SB_ROLE_VELOCITY);
  assert_close (fixture->draft->layout->sample_rate_hz, 2000, 0);
  /* What was not touched is proposed anew. */
  assert_int_equal (sb_import_draft_certainty (fixture->draft, 1), SB_CERTAINTY_MISSING);
}

/* Scopes call both of their columns "Volt". */
static void
columns_of_one_name_are_kept_apart (void **state)
{
  Fixture *fixture = *state;
  add_column (fixture->proposed, "Volt", SB_ROLE_OTHER, NULL, SB_CERTAINTY_STATED);
  add_column (fixture->proposed, "Volt", SB_ROLE_OTHER, NULL, SB_CERTAINTY_STATED);
  sb_import_draft_take (fixture->draft, fixture->proposed, NULL);
  sb_import_draft_set_role (fixture->draft, 5, SB_ROLE_COMMAND);
  sb_import_draft_set_role (fixture->draft, 6, SB_ROLE_TORQUE);
  sb_import_draft_take (fixture->draft, fixture->proposed, NULL);
  assert_int_equal (sb_layout_column (fixture->draft->layout, 5)->role, SB_ROLE_COMMAND);
  assert_int_equal (sb_layout_column (fixture->draft->layout, 6)->role, SB_ROLE_TORQUE);
  fixture->confirmed = sb_import_draft_confirmed (fixture->draft);
  sb_import_draft_take (fixture->draft, fixture->proposed, fixture->confirmed);
  assert_int_equal (sb_layout_column (fixture->draft->layout, 6)->role, SB_ROLE_TORQUE);
}

static void
applying_confirms_every_column_and_leaves_no_question (void **state)
{
  Fixture *fixture = *state;
  fixture->confirmed = sb_import_draft_confirmed (fixture->draft);
  for (guint i = 0; i < fixture->confirmed->columns->len; i++) {
    assert_int_equal (sb_layout_column (fixture->confirmed, i)->certainty, SB_CERTAINTY_CONFIRMED);
    assert_null (sb_layout_column (fixture->confirmed, i)->question);
  }
  assert_non_null (sb_layout_column (fixture->draft->layout, 4)->question); /* the draft is not changed by it */
}

#define CASE(name) cmocka_unit_test_setup_teardown (name, set_up, tear_down)

int
main (void)
{
  const struct CMUnitTest tests[] = {
    CASE (each_column_wants_the_value_that_its_unit_needs),
    CASE (a_column_of_an_open_decimal_sign_asks_for_it),
    CASE (rows_without_a_time_want_a_sample_rate),
    CASE (a_current_wants_a_torque_constant_once_no_column_is_the_torque),
    CASE (what_is_missing_keeps_the_file_from_being_read_until_it_is_stated),
    CASE (a_column_that_takes_a_role_takes_it_from_the_one_that_had_it),
    CASE (a_torque_in_volts_wants_the_torque_of_one_volt),
    CASE (volts_at_no_torque_belong_to_a_torque_in_volts),
    CASE (factor_is_taken_by_what_can_be_multiplied),
    CASE (factor_that_a_new_role_or_unit_does_not_take_goes),
    CASE (what_was_written_wrongly_keeps_the_file_from_being_read),
    CASE (a_unit_that_does_not_suit_the_new_role_goes),
    CASE (a_role_that_is_no_channel_may_be_had_by_several),
    CASE (without_time_or_signal_there_is_a_problem_in_words),
    CASE (an_angle_begins_again_after_as_much_of_its_unit),
    CASE (what_was_confirmed_is_kept_when_the_dialect_changes),
    CASE (columns_of_one_name_are_kept_apart),
    CASE (applying_confirms_every_column_and_leaves_no_question),
  };
  return cmocka_run_group_tests (tests, NULL, NULL);
}
