/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "close.h"

#include "reduce.h"

typedef struct {
  double x, y, upper;
  gboolean starts;
} Point;

typedef struct {
  double *x, *y;
  GArray *points;
} Fixture;

static int
set_up (void **state)
{
  Fixture *fixture = g_new0 (Fixture, 1);
  fixture->points = g_array_new (FALSE, FALSE, sizeof (Point));
  *state = fixture;
  return 0;
}

static int
tear_down (void **state)
{
  Fixture *fixture = *state;
  g_free (fixture->x);
  g_free (fixture->y);
  g_array_unref (fixture->points);
  g_free (fixture);
  return 0;
}

static void
note (double x, double y, gboolean starts, gpointer user_data)
{
  Point point = { x, y, y, starts };
  g_array_append_val ((GArray *) user_data, point);
}

static void
note_band (double x, double lower, double upper, gboolean starts, gpointer user_data)
{
  Point point = { x, lower, upper, starts };
  g_array_append_val ((GArray *) user_data, point);
}

static Point
point_at (const Fixture *fixture, guint i)
{
  return g_array_index (fixture->points, Point, i);
}

/* Noise of a linear congruential generator, -1 to 1. */
static void
fill_noise (double *y, gsize n)
{
  guint32 random = 12345;
  for (gsize i = 0; i < n; i++) {
    random = random * 1664525u + 1013904223u;
    y[i] = (double) random / 2147483648.0 - 1;
  }
}

/* Slow twin: the extremes of each column by looking at every point. */
static void
check_columns (const Fixture *fixture, const SbCurve *curve, const SbColumns *columns)
{
  double width = (columns->to - columns->from) / (double) columns->n_columns;
  for (gsize c = 0; c < columns->n_columns; c++) {
    double left = columns->from + (double) c * width, right = columns->from + (double) (c + 1) * width;
    double low = HUGE_VAL, high = -HUGE_VAL, drawn_low = HUGE_VAL, drawn_high = -HUGE_VAL;
    for (gsize i = 0; i < curve->n_points; i++) {
      double x = curve->x != NULL ? curve->x[i] : curve->x0 + (double) i * curve->dx;
      if (x >= left && x < right) {
        low = fmin (low, curve->y[i]);
        high = fmax (high, curve->y[i]);
      }
    }
    for (guint k = 0; k < fixture->points->len; k++) {
      Point point = point_at (fixture, k);
      if (point.x >= left && point.x < right) {
        drawn_low = fmin (drawn_low, point.y);
        drawn_high = fmax (drawn_high, point.y);
      }
    }
    /* The first column may also hold the point interpolated at its left edge, which lies between two values. */
    assert_close (drawn_low, low, c == 0 ? 2 : 0);
    assert_close (drawn_high, high, c == 0 ? 2 : 0);
  }
}

static void
reduction_keeps_the_extremes_of_each_column (void **state)
{
  Fixture *fixture = *state;
  gsize n = 100003;
  fixture->y = g_new (double, n);
  fill_noise (fixture->y, n);
  /* Bounds of columns and positions of points do not coincide. */
  SbCurve curve = { .n_points = n, .x0 = -0.123, .dx = 1e-5, .y = fixture->y };
  SbColumns columns = { -0.05, 0.6, 97 };
  sb_reduce_curve (&curve, &columns, 0, note, fixture->points);
  assert_true (fixture->points->len <= 4 * 97 + 2);
  check_columns (fixture, &curve, &columns);
}

static void
reduction_keeps_the_extremes_on_an_uneven_time_base (void **state)
{
  Fixture *fixture = *state;
  gsize n = 20000;
  fixture->x = g_new (double, n);
  fixture->y = g_new (double, n);
  fill_noise (fixture->y, n);
  for (gsize i = 0; i < n; i++)
    fixture->x[i] = pow ((double) i / (double) n, 2);
  SbCurve curve = { .n_points = n, .x = fixture->x, .y = fixture->y };
  SbColumns columns = { 0.01, 0.9, 53 };
  sb_reduce_curve (&curve, &columns, 0, note, fixture->points);
  check_columns (fixture, &curve, &columns);
}

/* Few points come back one by one, in order, with the edges interpolated: y = x here. */
static void
few_points_are_all_drawn (void **state)
{
  Fixture *fixture = *state;
  static const double y[] = { 0, 1, 2, 3, 4 };
  SbCurve curve = { .n_points = 5, .x0 = 0, .dx = 1, .y = y };
  SbColumns columns = { 0.5, 3.25, 100 };
  sb_reduce_curve (&curve, &columns, 0, note, fixture->points);
  static const double expected[] = { 0.5, 1, 2, 3, 3.25 };
  assert_int_equal (fixture->points->len, 5);
  for (guint i = 0; i < 5; i++) {
    assert_close (point_at (fixture, i).x, expected[i], 1e-12);
    assert_close (point_at (fixture, i).y, expected[i], 1e-12);
    assert_int_equal (point_at (fixture, i).starts, i == 0);
  }
}

static void
last_point_at_the_range_s_end_is_drawn (void **state)
{
  Fixture *fixture = *state;
  static const double y[] = { 5, 6, 7 };
  SbCurve curve = { .n_points = 3, .x0 = 0, .dx = 0.5, .y = y };
  SbColumns columns = { 0, 1, 10 };
  sb_reduce_curve (&curve, &columns, 0, note, fixture->points);
  Point last = point_at (fixture, fixture->points->len - 1);
  assert_close (last.x, 1, 1e-12);
  assert_close (last.y, 7, 1e-12);
}

/* Zoomed in between two samples: a straight line from edge to edge. */
static void
range_between_two_points_gets_the_line_between_them (void **state)
{
  Fixture *fixture = *state;
  static const double y[] = { 0, 10 };
  SbCurve curve = { .n_points = 2, .x0 = 0, .dx = 1, .y = y };
  SbColumns columns = { 0.25, 0.5, 50 };
  sb_reduce_curve (&curve, &columns, 0, note, fixture->points);
  assert_int_equal (fixture->points->len, 2);
  assert_close (point_at (fixture, 0).y, 2.5, 1e-12);
  assert_close (point_at (fixture, 1).y, 5, 1e-12);
}

static void
no_line_is_drawn_beyond_the_curve_s_ends (void **state)
{
  Fixture *fixture = *state;
  static const double y[] = { 1, 2 };
  SbCurve curve = { .n_points = 2, .x0 = 0, .dx = 1, .y = y };
  SbColumns columns = { -5, 5, 50 };
  sb_reduce_curve (&curve, &columns, 0, note, fixture->points);
  for (guint i = 0; i < fixture->points->len; i++)
    assert_true (point_at (fixture, i).x >= 0 && point_at (fixture, i).x <= 1);
}

/* A stretch of NaN, 0.4 to 0.6, is crossed by no line: the first point after it starts anew. */
static void
gap_breaks_the_line_however_dense_the_points (void **state)
{
  Fixture *fixture = *state;
  for (gsize n = 50; n <= 50000; n *= 10) {
    g_free (fixture->y);
    fixture->y = g_new (double, n);
    for (gsize i = 0; i < n; i++)
      fixture->y[i] = i >= 4 * n / 10 && i < 6 * n / 10 ? (double) NAN : 1;
    SbCurve curve = { .n_points = n, .x0 = 0, .dx = 1.0 / (double) n, .y = fixture->y };
    SbColumns columns = { 0, 1, 100 };
    g_array_set_size (fixture->points, 0);
    sb_reduce_curve (&curve, &columns, 0.1, note, fixture->points);
    guint n_starts = 0;
    for (guint i = 0; i < fixture->points->len; i++) {
      Point point = point_at (fixture, i);
      assert_true (!isnan (point.y));
      assert_true (point.x < 0.4 || point.x > 0.6 - 1e-9);
      n_starts += point.starts ? 1 : 0;
    }
    assert_int_equal (n_starts, 2);
  }
}

static void
curve_of_nothing_but_gaps_draws_nothing (void **state)
{
  Fixture *fixture = *state;
  gsize n = 1000;
  fixture->y = g_new (double, n);
  for (gsize i = 0; i < n; i++)
    fixture->y[i] = NAN;
  SbCurve curve = { .n_points = n, .x0 = 0, .dx = 1e-3, .y = fixture->y };
  SbColumns columns = { 0, 1, 7 };
  sb_reduce_curve (&curve, &columns, 0, note, fixture->points);
  assert_int_equal (fixture->points->len, 0);
}

/* Slow twin: the loop that anyone would write, at every alignment of start and length. */
static void
extremes_are_those_of_a_plain_loop (void **state)
{
  Fixture *fixture = *state;
  gsize n = 64;
  fixture->y = g_new (double, n);
  fill_noise (fixture->y, n);
  fixture->y[17] = NAN;
  fixture->y[40] = NAN;
  for (gsize first = 0; first < n; first++)
    for (gsize end = first; end <= n; end++) {
      double low = HUGE_VAL, high = -HUGE_VAL, expected_low = HUGE_VAL, expected_high = -HUGE_VAL;
      for (gsize i = first; i < end; i++) {
        expected_low = fmin (expected_low, fixture->y[i]);
        expected_high = fmax (expected_high, fixture->y[i]);
      }
      sb_extremes (fixture->y, first, end, &low, &high);
      assert_close (low, expected_low, 0);
      assert_close (high, expected_high, 0);
    }
}

/* Of a dense band between noise - 1 and noise + 1, each column has the smallest lower and the largest upper value. */
static void
band_reduction_covers_the_whole_band (void **state)
{
  Fixture *fixture = *state;
  gsize n = 50000;
  fixture->x = g_new (double, n); /* the upper edge */
  fixture->y = g_new (double, n);
  fill_noise (fixture->y, n);
  for (gsize i = 0; i < n; i++)
    fixture->x[i] = fixture->y[i] + 2;
  SbBandArea band = { .n_points = n, .x0 = 0, .dx = 2e-5, .lower = fixture->y, .upper = fixture->x };
  SbColumns columns = { 0, 1, 40 };
  sb_reduce_band (&band, &columns, note_band, fixture->points);
  assert_int_equal (fixture->points->len, 40);
  for (guint c = 0; c < 40; c++) {
    double low = HUGE_VAL, high = -HUGE_VAL;
    for (gsize i = c * 1250; i < (c + 1) * 1250; i++) {
      low = fmin (low, fixture->y[i]);
      high = fmax (high, fixture->x[i]);
    }
    assert_close (point_at (fixture, c).y, low, 0);
    assert_close (point_at (fixture, c).upper, high, 0);
  }
}

#define TEST(name) cmocka_unit_test_setup_teardown (name, set_up, tear_down)

/* The slow twin looks at every point. */
static void
extremes_with_blocks_are_those_of_all_points (void **state)
{
  enum { N = 3000 };
  static double y[N];
  for (int i = 0; i < N; i++)
    y[i] = i % 611 == 7 ? (double) NAN : sin (i * 0.37) + 1e-3 * i;
  g_autofree double *room = g_new (double, sb_blocks_n_values (N));
  SbBlocks blocks = sb_blocks_fill (y, N, room);
  gboolean same = TRUE;
  for (gsize first = 0; first < N; first += 97)
    for (gsize end = first + 1; end <= N; end += 131) {
      double lowest = HUGE_VAL, highest = -HUGE_VAL, low, high;
      for (gsize i = first; i < end; i++) {
        lowest = y[i] < lowest ? y[i] : lowest;
        highest = y[i] > highest ? y[i] : highest;
      }
      sb_extremes_of (y, &blocks, first, end, &low, &high);
      same = same && is_close (low, lowest, 0) && is_close (high, highest, 0);
    }
  assert_true (same);
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    TEST (reduction_keeps_the_extremes_of_each_column),
    TEST (reduction_keeps_the_extremes_on_an_uneven_time_base),
    TEST (few_points_are_all_drawn),
    TEST (last_point_at_the_range_s_end_is_drawn),
    TEST (range_between_two_points_gets_the_line_between_them),
    TEST (no_line_is_drawn_beyond_the_curve_s_ends),
    TEST (gap_breaks_the_line_however_dense_the_points),
    TEST (curve_of_nothing_but_gaps_draws_nothing),
    TEST (extremes_are_those_of_a_plain_loop),
    TEST (band_reduction_covers_the_whole_band),
    TEST (extremes_with_blocks_are_those_of_all_points),
  };
  return cmocka_run_group_tests (tests, NULL, NULL);
}
