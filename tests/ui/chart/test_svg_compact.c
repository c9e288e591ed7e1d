/* SPDX-License-Identifier: GPL-3.0-or-later */
/* SVG 1.1, 8.3: upper-case commands take places, lower-case ones steps from the present point; a command that is
 * repeated may be left out; blanks may be left out before a minus. */
#include "close.h"
#include "svg_compact.h"

#include <string.h>

static void
check (const char *data, const char *expected)
{
  g_autofree char *compact = sb_svg_compact_path (data, strlen (data));
  if (compact == NULL || strcmp (compact, expected) != 0)
    print_error ("of %s: %s\n", data, compact);
  assert_non_null (compact);
  assert_string_equal (compact, expected);
}

static void
lines_become_steps_in_hundredths (void **state)
{
  check ("M 10.123456 20 L 11 19.5 L 11.25 19.75 Z ", "M10.12 20l.88-.5 .25 .25z");
}

static void
curves_become_steps_from_their_beginning (void **state)
{
  check ("M 1 1 C 2 1 3 2 3 3 C 3 4 2 5 1 5", "M1 1c1 0 2 1 2 2 0 1-1 2-2 2");
}

/* cairo ends closed paths with a move that draws nothing. */
static void
moves_that_draw_nothing_are_left_out (void **state)
{
  check ("M 0 0 L 5 0 L 5 5 Z M 0 0 ", "M0 0l5 0 0 5z");
  check ("M 0 0 L 1 0 M 7 7 M 2 0 L 3 0 ", "M0 0l1 0m1 0l1 0");
}

/* A line cap makes a dot of a line without a length. */
static void
lone_dot_stays_and_steps_of_no_length_go (void **state)
{
  check ("M 3 3 L 3 3", "M3 3l0 0");
  check ("M 3 3 L 4 3 L 4.001 3.001 L 5 3", "M3 3l1 0 1 0");
}

/* A thousand steps of a third of a hundredth: what is rounded is each place, so that nothing adds up. */
static void
rounding_does_not_add_up (void **state)
{
  g_autoptr (GString) data = g_string_new ("M 0 0");
  for (int i = 1; i <= 1000; i++)
    g_string_append_printf (data, " L %.6f 0", i / 300.0);
  g_autofree char *compact = sb_svg_compact_path (data->str, data->len);
  assert_non_null (compact);
  long sum = 0;
  for (const char *c = strchr (compact, 'l') + 1; *c != '\0';) {
    char *after;
    sum += lround (100 * g_ascii_strtod (c, &after));
    g_ascii_strtod (after, &after);
    c = after;
  }
  assert_int_equal (sum, 333); /* 1000 / 300 = 3.33 */
}

static void
other_paths_and_what_is_around_them_stay (void **state)
{
  assert_null (sb_svg_compact_path ("M 0 0 A 1 1 0 0 1 2 2", 21));
  assert_null (sb_svg_compact_path ("L 0 0", 5));
  assert_null (sb_svg_compact_path ("M 0", 3));
  g_autofree char *svg = sb_svg_compact ("<a d=\"M 0 0 L 1 1\" transform=\"matrix(1,0,0,1,0,0)\"/><b d=\"x\"/><c/>");
  assert_string_equal (svg, "<a d=\"M0 0l1 1\"/><b d=\"x\"/><c/>");
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    cmocka_unit_test (lines_become_steps_in_hundredths),
    cmocka_unit_test (curves_become_steps_from_their_beginning),
    cmocka_unit_test (moves_that_draw_nothing_are_left_out),
    cmocka_unit_test (lone_dot_stays_and_steps_of_no_length_go),
    cmocka_unit_test (rounding_does_not_add_up),
    cmocka_unit_test (other_paths_and_what_is_around_them_stay),
  };
  return cmocka_run_group_tests (tests, NULL, NULL);
}
