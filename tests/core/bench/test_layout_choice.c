/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a stated layout makes of what was found in a log. Expectations are those of layout_choice.h. */
#include "bench_fixture.h"
#include "layout_choice.h"
#include "layout_clash.h"

/* A log's layout: time, torque and two columns that nothing was found for. */
static SbLayout *
found_layout (void)
{
  SbLayout *found = sb_layout_new ();
  SbLayoutColumn *column = sb_layout_add_column (found, "t_ms");
  column->role = SB_ROLE_TIME;
  column->unit = sb_unit_find ("ms");
  column = sb_layout_add_column (found, "Torque");
  column->role = SB_ROLE_TORQUE;
  column->certainty = SB_CERTAINTY_ASSUMED;
  sb_layout_add_column (found, "Kanal A")->question = g_strdup ("What is it?");
  sb_layout_add_column (found, "Kanal B");
  return found;
}

typedef struct {
  SbLayout *found, *applied;
  SbLayoutChoice *choice, *other;
} Case;

static int
setup (void **state)
{
  Case *c = g_new0 (Case, 1);
  c->found = found_layout ();
  *state = c;
  return 0;
}

static int
teardown (void **state)
{
  Case *c = *state;
  sb_layout_unref (c->found);
  sb_layout_unref (c->applied);
  sb_layout_choice_unref (c->choice);
  sb_layout_choice_unref (c->other);
  g_free (c);
  return 0;
}

/* States one column; values that are not stated are NaN. */
static SbLayoutColumn *
state_one (Case *c, const char *name, SbRole role)
{
  SbLayout *stated = sb_layout_new ();
  SbLayoutColumn *column = sb_layout_add_column (stated, name);
  column->role = role;
  column->wrap = (double) NAN;
  sb_layout_choice_unref (c->choice);
  c->choice = sb_layout_choice_new (stated, NULL, FALSE);
  return column;
}

static const SbLayoutColumn *
applied_column (Case *c, guint index)
{
  sb_layout_unref (c->applied);
  c->applied = sb_layout_choice_apply (c->choice, c->found);
  assert_non_null (c->applied);
  return sb_layout_column (c->applied, index);
}

static void
column_stated_by_name_gets_its_role_and_unit_and_others_keep_theirs (void **state)
{
  Case *c = *state;
  state_one (c, "kanal  a", SB_ROLE_VELOCITY)->unit = sb_unit_find ("rpm");
  const SbLayoutColumn *column = applied_column (c, 2);
  assert_int_equal (column->role, SB_ROLE_VELOCITY);
  assert_ptr_equal (column->unit, sb_unit_find ("rpm"));
  assert_int_equal (column->certainty, SB_CERTAINTY_CONFIRMED);
  assert_null (column->question);
  assert_string_equal (column->name, "Kanal A");
  assert_int_equal (sb_layout_column (c->applied, 0)->role, SB_ROLE_TIME);
  assert_ptr_equal (sb_layout_column (c->applied, 0)->unit, sb_unit_find ("ms"));
  assert_int_equal (sb_layout_column (c->applied, 1)->role, SB_ROLE_TORQUE);
}

static void
stated_column_takes_the_role_from_the_one_that_was_found_for_it (void **state)
{
  Case *c = *state;
  state_one (c, "Kanal B", SB_ROLE_TORQUE);
  assert_int_equal (applied_column (c, 3)->role, SB_ROLE_TORQUE);
  assert_int_equal (sb_layout_column (c->applied, 1)->role, SB_ROLE_OTHER);
  assert_int_equal (sb_layout_column (c->applied, 0)->role, SB_ROLE_TIME);
}

static void
unit_found_in_the_header_stays_when_only_the_role_is_stated (void **state)
{
  Case *c = *state;
  state_one (c, "t_ms", SB_ROLE_TIME);
  assert_ptr_equal (applied_column (c, 0)->unit, sb_unit_find ("ms"));
  state_one (c, "t_ms", SB_ROLE_ANGLE); /* milliseconds are no angle */
  assert_null (applied_column (c, 0)->unit);
}

static void
column_without_a_name_is_the_one_found_for_the_role (void **state)
{
  Case *c = *state;
  state_one (c, "", SB_ROLE_TORQUE)->full_scale = 12;
  assert_close (applied_column (c, 1)->full_scale, 12, 0);
  assert_int_equal (sb_layout_column (c->applied, 1)->role, SB_ROLE_TORQUE);
  state_one (c, "", SB_ROLE_ANGLE);
  assert_null (sb_layout_choice_apply (c->choice, c->found));
}

/* Of columns with one name, the first stated is the first found. */
static void
columns_of_one_name_are_taken_in_their_order (void **state)
{
  Case *c = *state;
  sb_layout_add_column (c->found, "Kanal A");
  state_one (c, "Kanal A", SB_ROLE_ANGLE);
  sb_layout_add_column (c->choice->layout, "Kanal A")->role = SB_ROLE_VELOCITY;
  c->applied = sb_layout_choice_apply (c->choice, c->found);
  assert_non_null (c->applied);
  assert_int_equal (sb_layout_column (c->applied, 2)->role, SB_ROLE_ANGLE);
  assert_int_equal (sb_layout_column (c->applied, 4)->role, SB_ROLE_VELOCITY);
}

static void
layout_with_a_column_that_a_log_lacks_is_not_for_it (void **state)
{
  Case *c = *state;
  state_one (c, "Kanal C", SB_ROLE_TORQUE);
  assert_null (sb_layout_choice_apply (c->choice, c->found));
  assert_false (sb_layout_choice_fits (c->choice, c->found));
}

static void
layout_of_a_shape_is_for_logs_of_exactly_its_columns (void **state)
{
  Case *c = *state;
  c->choice = sb_layout_choice_of_shape (c->found, NULL);
  c->applied = sb_layout_choice_apply (c->choice, c->found);
  assert_non_null (c->applied);
  sb_layout_add_column (c->found, "Kanal C");
  assert_null (sb_layout_choice_apply (c->choice, c->found));
}

static void
layout_of_a_shape_states_si_where_nothing_else_was_written (void **state)
{
  Case *c = *state;
  c->choice = sb_layout_choice_of_shape (c->found, NULL);
  assert_ptr_equal (sb_layout_column (c->choice->layout, 1)->unit, sb_unit_find ("Nm"));
  /* Another log of the shape whose header was understood otherwise. */
  sb_layout_column (c->found, 1)->unit = sb_unit_find ("mNm");
  assert_ptr_equal (applied_column (c, 1)->unit, sb_unit_find ("Nm"));
}

static void
values_that_are_not_stated_stay_as_found (void **state)
{
  Case *c = *state;
  SbLayoutColumn *column = sb_layout_column (c->found, 2);
  column->counts_per_turn = 4096;
  column->wrap = 65536;
  state_one (c, "Kanal A", SB_ROLE_ANGLE);
  assert_close (applied_column (c, 2)->counts_per_turn, 4096, 0);
  assert_close (sb_layout_column (c->applied, 2)->wrap, 65536, 0);
  state_one (c, "Kanal A", SB_ROLE_ANGLE)->wrap = 0;
  assert_close (applied_column (c, 2)->wrap, 0, 0);
}

static void
column_whose_value_is_still_missing_is_not_confirmed (void **state)
{
  Case *c = *state;
  SbLayoutColumn *column = sb_layout_column (c->found, 2);
  column->role = SB_ROLE_ANGLE;
  column->unit = sb_unit_find ("counts");
  column->certainty = SB_CERTAINTY_MISSING;
  state_one (c, "Kanal A", SB_ROLE_ANGLE);
  assert_int_equal (applied_column (c, 2)->certainty, SB_CERTAINTY_MISSING);
  assert_non_null (sb_layout_column (c->applied, 2)->question);
  state_one (c, "Kanal A", SB_ROLE_ANGLE)->counts_per_turn = 4096;
  assert_int_equal (applied_column (c, 2)->certainty, SB_CERTAINTY_CONFIRMED);
  assert_null (sb_layout_column (c->applied, 2)->question);
}

static void
sample_rate_is_all_that_a_time_in_samples_wants (void **state)
{
  Case *c = *state;
  SbLayoutColumn *column = sb_layout_column (c->found, 0);
  column->unit = sb_unit_find ("samples");
  column->certainty = SB_CERTAINTY_MISSING;
  SbLayout *stated = sb_layout_new ();
  stated->sample_rate_hz = 2000;
  c->choice = sb_layout_choice_new (stated, NULL, FALSE);
  assert_int_equal (applied_column (c, 0)->certainty, SB_CERTAINTY_CONFIRMED);
  assert_close (c->applied->sample_rate_hz, 2000, 0);
}

static void
fixed_dialect_has_to_be_that_of_the_log (void **state)
{
  Case *c = *state;
  SbDialectChoices fixed = SB_DIALECT_AUTOMATIC;
  fixed.delimiter = ';';
  c->choice = sb_layout_choice_of_shape (c->found, &fixed);
  assert_false (sb_layout_choice_fits (c->choice, c->found)); /* which has commas */
  c->found->delimiter = ';';
  assert_true (sb_layout_choice_fits (c->choice, c->found));
}

/* The log has commas and its header in line 1 (layout.h's default). A layout for other columns is none of its affair.
 */
static void
layout_that_a_log_is_not_written_by_is_told_with_line_and_remedy (void **state)
{
  Case *c = *state;
  SbDialectChoices fixed = SB_DIALECT_AUTOMATIC;
  fixed.delimiter = ';';
  fixed.header_line = 3;
  state_one (c, "Torque", SB_ROLE_TORQUE);
  assert_null (sb_layout_clash_text (c->choice, c->found));
  c->other = sb_layout_choice_new (sb_layout_copy (c->choice->layout), &fixed, FALSE);
  g_autofree char *text = sb_layout_clash_text (c->other, c->found);
  assert_non_null (text);
  assert_non_null (strstr (text, "states delimiter semicolon and header_line 3"));
  assert_non_null (strstr (text, "found was delimiter comma and header_line 1 (the header is line 1)"));
  assert_non_null (strstr (text, "Correct the layout"));
  state_one (c, "Kanal Z", SB_ROLE_TORQUE);
  sb_layout_choice_unref (c->other);
  c->other = sb_layout_choice_new (sb_layout_copy (c->choice->layout), &fixed, FALSE);
  assert_null (sb_layout_clash_text (c->other, c->found));
}

static void
newer_layout_replaces_that_of_the_same_columns_alone (void **state)
{
  Case *c = *state;
  c->choice = sb_layout_choice_of_shape (c->found, NULL);
  sb_layout_column (c->found, 3)->role = SB_ROLE_COMMAND;
  c->other = sb_layout_choice_of_shape (c->found, NULL);
  assert_true (sb_layout_choice_replaces (c->other, c->choice));
  assert_false (sb_layout_choice_equal (c->other, c->choice));
  sb_layout_choice_unref (c->other);
  sb_layout_add_column (c->found, "more");
  c->other = sb_layout_choice_of_shape (c->found, NULL);
  assert_false (sb_layout_choice_replaces (c->other, c->choice));
}

static void
name_given_by_a_person_changes_no_reading (void **state)
{
  Case *c = *state;
  c->choice = sb_layout_choice_of_shape (c->found, NULL);
  c->other = sb_layout_choice_rename (c->choice, "rig 2");
  assert_string_equal (c->other->layout->name, "rig 2");
  assert_true (sb_layout_choice_equal (c->choice, c->other));
  assert_false (sb_layout_choice_equal (c->choice, NULL));
  assert_true (sb_layout_choice_equal (NULL, NULL));
}

#define choice_test(name) cmocka_unit_test_setup_teardown (name, setup, teardown)

int
main (void)
{
  const struct CMUnitTest tests[] = {
    choice_test (column_stated_by_name_gets_its_role_and_unit_and_others_keep_theirs),
    choice_test (stated_column_takes_the_role_from_the_one_that_was_found_for_it),
    choice_test (unit_found_in_the_header_stays_when_only_the_role_is_stated),
    choice_test (column_without_a_name_is_the_one_found_for_the_role),
    choice_test (columns_of_one_name_are_taken_in_their_order),
    choice_test (layout_with_a_column_that_a_log_lacks_is_not_for_it),
    choice_test (layout_of_a_shape_is_for_logs_of_exactly_its_columns),
    choice_test (layout_of_a_shape_states_si_where_nothing_else_was_written),
    choice_test (values_that_are_not_stated_stay_as_found),
    choice_test (column_whose_value_is_still_missing_is_not_confirmed),
    choice_test (sample_rate_is_all_that_a_time_in_samples_wants),
    choice_test (fixed_dialect_has_to_be_that_of_the_log),
    choice_test (layout_that_a_log_is_not_written_by_is_told_with_line_and_remedy),
    choice_test (newer_layout_replaces_that_of_the_same_columns_alone),
    choice_test (name_given_by_a_person_changes_no_reading),
  };
  return cmocka_run_group_tests (tests, NULL, NULL);
}
