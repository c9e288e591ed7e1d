/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Rows and the lines that they stand in, against the lines as they are counted out. */
#include "close.h"
#include "row_lines.h"

typedef struct {
  SbRowLines lines;
} Fixture;

static int
set_up (void **state)
{
  *state = g_new0 (Fixture, 1);
  return 0;
}

static int
tear_down (void **state)
{
  Fixture *fixture = *state;
  sb_row_lines_clear (&fixture->lines);
  g_free (fixture);
  return 0;
}

static void
no_row_stands_nowhere (void **state)
{
  Fixture *fixture = *state;
  assert_int_equal (sb_row_lines_find (&fixture->lines, 0), 0);
}

/* A header of one line, and a comment before each tenth row. */
static void
rows_are_found_behind_lines_that_are_none (void **state)
{
  Fixture *fixture = *state;
  for (gsize row = 0; row < 100; row++)
    sb_row_lines_add (&fixture->lines, row, 2 + row + (row + 1) / 10);
  for (gsize row = 0; row < 100; row++)
    assert_int_equal (sb_row_lines_find (&fixture->lines, row), 2 + row + (row + 1) / 10);
  assert_int_equal (sb_row_lines_find (&fixture->lines, 104), 116); /* as though they went on */
}

/* A comment before every row: what is beyond the room is not known, and not guessed. */
static void
rows_beyond_the_room_are_not_known (void **state)
{
  Fixture *fixture = *state;
  const gsize most = SB_ROW_LINES_MOST_RUNS;
  for (gsize row = 0; row < most + 100; row++)
    sb_row_lines_add (&fixture->lines, row, 2 * row + 3);
  assert_int_equal (sb_row_lines_find (&fixture->lines, 0), 3);
  assert_int_equal (sb_row_lines_find (&fixture->lines, most - 1), 2 * (most - 1) + 3);
  assert_int_equal (sb_row_lines_find (&fixture->lines, most), 0);
  assert_int_equal (sb_row_lines_find (&fixture->lines, most + 99), 0);
}

int
main (void)
{
#define CASE(name) cmocka_unit_test_setup_teardown (name, set_up, tear_down)
  const struct CMUnitTest tests[] = {
    CASE (no_row_stands_nowhere),
    CASE (rows_are_found_behind_lines_that_are_none),
    CASE (rows_beyond_the_room_are_not_known),
  };
  return cmocka_run_group_tests (tests, NULL, NULL);
}
