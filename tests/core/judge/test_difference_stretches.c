/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Stretches in which a difference leaves zero, by hand. Bands of ± 2 at one instant and ± 4 at all of them together,
 * instants 1 ms apart. */
#include "close.h"
#include "difference_stretches.h"

#include <math.h>

#define MOST 32

typedef struct {
  SbDifferenceCurve curve;
  double difference[MOST], pointwise[MOST], simultaneous[MOST];
} Case;

static const SbDifferenceStretch *
find (Case *of, const double *difference, gsize n)
{
  of->curve = (SbDifferenceCurve){ .step_s = 0.001,
                                   .n_points = n,
                                   .difference = of->difference,
                                   .half_pointwise = of->pointwise,
                                   .half_simultaneous = of->simultaneous };
  for (gsize k = 0; k < n; k++) {
    of->difference[k] = difference[k];
    of->pointwise[k] = 2;
    of->simultaneous[k] = 4;
  }
  of->curve.stretches = sb_difference_stretches_new (&of->curve);
  return (const SbDifferenceStretch *) (gpointer) of->curve.stretches->data;
}

static void
clear (Case *of)
{
  g_array_unref (of->curve.stretches);
}

#define FIND(of, ...)                                                                                                  \
  find (&(of), (const double[]){ __VA_ARGS__ }, sizeof ((const double[]){ __VA_ARGS__ }) / sizeof (double))

/* What dips into the band of all instants stays beyond that of each of them: one stretch of 6 instants, beyond at 4. */
static void
dips_that_stay_beyond_the_pointwise_band_part_nothing (void **state)
{
  Case of;
  const SbDifferenceStretch *stretch = FIND (of, 0, 5, 6, 3, 2.5, 7, 5, 0);
  assert_int_equal (of.curve.stretches->len, 1);
  assert_close (stretch->from_s, 0.001, 1e-12);
  assert_close (stretch->to_s, 0.006, 1e-12);
  assert_int_equal (stretch->n, 6);
  assert_int_equal (stretch->n_beyond, 4);
  assert_close (stretch->largest, 7, 0);
  assert_close (stretch->at_s, 0.005, 1e-12);
  assert_close (stretch->area, 0.0285, 1e-12);
  clear (&of);
}

static void
return_to_zero_parts_two_stretches (void **state)
{
  Case of;
  const SbDifferenceStretch *stretch = FIND (of, 5, 6, 1, 0.5, 3, 6, 5);
  assert_int_equal (of.curve.stretches->len, 2);
  assert_close (stretch[0].to_s, 0.001, 1e-12);
  assert_close (stretch[1].from_s, 0.005, 1e-12);
  assert_int_equal (stretch[1].n_beyond, 2);
  clear (&of);
}

static void
single_instant_parts_nothing (void **state)
{
  Case of;
  const SbDifferenceStretch *stretch = FIND (of, -5, -6, 1, -6, -5);
  assert_int_equal (of.curve.stretches->len, 1);
  assert_int_equal (stretch->sign, -1);
  assert_int_equal (stretch->n_beyond, 4);
  assert_close (stretch->largest, -6, 0);
  clear (&of);
}

/* Rings that are out of step: each half of a beat is a stretch of its own, and nothing joins across the other side. */
static void
other_side_of_zero_parts_whatever_its_length (void **state)
{
  Case of;
  const SbDifferenceStretch *stretch = FIND (of, 5, -5, 5, 3, -5, -6, 5);
  assert_int_equal (of.curve.stretches->len, 5);
  for (guint i = 0; i < 5; i++)
    assert_int_equal (stretch[i].sign, i % 2 == 0 ? 1 : -1);
  clear (&of);
}

/* Where neither side scatters nothing is judged, so nothing tells that the difference stayed. */
static void
instants_without_scatter_part (void **state)
{
  Case of;
  FIND (of, 5, 3, 3, 5);
  clear (&of);
  of.pointwise[1] = of.pointwise[2] = of.simultaneous[1] = of.simultaneous[2] = (double) NAN;
  of.curve.stretches = sb_difference_stretches_new (&of.curve);
  assert_int_equal (of.curve.stretches->len, 2);
  clear (&of);
  FIND (of, 5, 3, 5); /* one instant as well */
  clear (&of);
  of.pointwise[1] = of.simultaneous[1] = (double) NAN;
  of.curve.stretches = sb_difference_stretches_new (&of.curve);
  assert_int_equal (of.curve.stretches->len, 2);
  clear (&of);
}

/* Areas 20, 5, 10 and 6: the larger two of all, and of those from the second on. */
static void
those_with_the_most_area_are_large (void **state)
{
  static const gboolean large[] = { TRUE, FALSE, TRUE, FALSE }, large_late[] = { FALSE, FALSE, TRUE, TRUE };
  Case of;
  FIND (of, 10, 10, 0, 0, 5, 0, 0, -5, -5, 0, 0, 6);
  assert_int_equal (of.curve.stretches->len, 4);
  for (guint i = 0; i < 4; i++) {
    assert_int_equal (sb_difference_stretch_is_large (&of.curve, i, 2, -INFINITY, INFINITY), large[i]);
    if (i > 0)
      assert_int_equal (sb_difference_stretch_is_large (&of.curve, i, 2, 0.003, INFINITY), large_late[i]);
  }
  clear (&of);
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    cmocka_unit_test (dips_that_stay_beyond_the_pointwise_band_part_nothing),
    cmocka_unit_test (return_to_zero_parts_two_stretches),
    cmocka_unit_test (single_instant_parts_nothing),
    cmocka_unit_test (other_side_of_zero_parts_whatever_its_length),
    cmocka_unit_test (instants_without_scatter_part),
    cmocka_unit_test (those_with_the_most_area_are_large),
  };
  return cmocka_run_group_tests_name ("difference stretches", tests, NULL, NULL);
}
