/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "close.h"

#include "sleeve.h"

typedef struct {
  double x[2000], y[2000];
  gsize n;
} Line;

/* What is drawn of n points. */
static void
draw (Line *drawn, const Line *all, double tolerance)
{
  SbSleeve sleeve = { .tolerance = tolerance };
  double x, y;
  sb_sleeve_start (&sleeve, all->x[0], all->y[0]);
  *drawn = (Line){ .n = 1 };
  drawn->x[0] = all->x[0];
  drawn->y[0] = all->y[0];
  for (gsize i = 1; i < all->n; i++)
    if (sb_sleeve_add (&sleeve, all->x[i], all->y[i], &x, &y)) {
      drawn->x[drawn->n] = x;
      drawn->y[drawn->n++] = y;
    }
  drawn->x[drawn->n] = sleeve.last_x;
  drawn->y[drawn->n++] = sleeve.last_y;
}

static void
points_of_a_straight_line_leave_its_ends (void **state)
{
  static Line all, drawn;
  all.n = 1000;
  for (gsize i = 0; i < all.n; i++) {
    all.x[i] = (double) i;
    all.y[i] = 3 - 0.5 * (double) i;
  }
  draw (&drawn, &all, 0.01);
  assert_int_equal (drawn.n, 2);
  assert_close (drawn.x[1], 999, 0);
  assert_close (drawn.y[1], 3 - 0.5 * 999, 0);
}

/* Slow twin: each point against the drawn line above or below it. */
static void
no_point_lies_farther_from_the_line_than_the_tolerance (void **state)
{
  static Line all, drawn;
  all.n = 1500;
  for (gsize i = 0; i < all.n; i++) {
    all.x[i] = 0.3 * (double) i;
    all.y[i] = 40 * exp (-0.01 * (double) i) * cos (0.05 * (double) i);
  }
  const double tolerances[] = { 0.001, 0.05, 1 };
  for (gsize t = 0; t < G_N_ELEMENTS (tolerances); t++) {
    draw (&drawn, &all, tolerances[t]);
    gsize k = 0;
    for (gsize i = 0; i < all.n; i++) {
      while (k + 2 < drawn.n && drawn.x[k + 1] < all.x[i])
        k++;
      double share = (all.x[i] - drawn.x[k]) / (drawn.x[k + 1] - drawn.x[k]);
      assert_close (drawn.y[k] + share * (drawn.y[k + 1] - drawn.y[k]), all.y[i], tolerances[t] + 1e-9);
    }
  }
  assert_true (drawn.n < all.n / 20);
}

/* A pixel column's extremes stand on one x: up, down and on. */
static void
points_one_above_the_other_are_all_drawn (void **state)
{
  static Line all, drawn;
  all = (Line){ .x = { 0, 1, 1, 1, 2, 3 }, .y = { 0, 0, 9, -9, 0, 0 }, .n = 6 };
  draw (&drawn, &all, 0.01);
  assert_int_equal (drawn.n, 6);
  for (gsize i = 0; i < 6; i++)
    assert_close (drawn.y[i], all.y[i], 0);
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    cmocka_unit_test (points_of_a_straight_line_leave_its_ends),
    cmocka_unit_test (no_point_lies_farther_from_the_line_than_the_tolerance),
    cmocka_unit_test (points_one_above_the_other_are_all_drawn),
  };
  return cmocka_run_group_tests (tests, NULL, NULL);
}
