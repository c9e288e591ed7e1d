/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One notion of "close enough" for every test. */
#pragma once

/* clang-format off: cmocka wants these four before itself, in this order. */
#include <stdarg.h>
#include <stddef.h>
#include <setjmp.h>
#include <stdint.h>
#include <cmocka.h>
/* clang-format on */

#include <glib.h>
#include <math.h>

/* |actual - expected| <= tolerance; two NaN are close, NaN and a number are not; infinities must be equal. */
static inline gboolean
is_close (double actual, double expected, double tolerance)
{
  if (isnan (actual) || isnan (expected))
    return isnan (actual) && isnan (expected);
  if (isinf (actual) || isinf (expected))
    return isinf (actual) && isinf (expected) && signbit (actual) == signbit (expected);
  return fabs (actual - expected) <= tolerance;
}

#define assert_close(actual, expected, tolerance)                                                                      \
  do {                                                                                                                 \
    double close_a = (actual), close_e = (expected), close_t = (tolerance);                                            \
    if (!is_close (close_a, close_e, close_t)) {                                                                       \
      print_error ("%s is %.17g, expected %.17g within %g\n", #actual, close_a, close_e, close_t);                     \
      fail ();                                                                                                         \
    }                                                                                                                  \
  } while (0)

/* Relative to |expected|. */
#define assert_close_relative(actual, expected, ratio)                                                                 \
  do {                                                                                                                 \
    double relative_e = (expected);                                                                                    \
    assert_close (actual, relative_e, (ratio) *fabs (relative_e));                                                     \
  } while (0)
