/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Functions of double that give the same bits on every processor of a kind. Those of the C library are allowed an error
 * in the last bit, and glibc's make another one where the processor multiplies and adds in one step: a fit that goes on
 * until nothing improves carries that into the figures it prints. Those of long double exist once; rounded to double
 * their own errors are gone, but for one value in some thousand, and that is then the same one everywhere. */
#pragma once

#include <math.h>

static inline double
sb_exp (double x)
{
  return (double) expl ((long double) x);
}

static inline double
sb_expm1 (double x)
{
  return (double) expm1l ((long double) x);
}

static inline double
sb_log (double x)
{
  return (double) logl ((long double) x);
}

static inline double
sb_pow (double x, double y)
{
  return (double) powl ((long double) x, (long double) y);
}

static inline double
sb_sin (double x)
{
  return (double) sinl ((long double) x);
}

static inline double
sb_cos (double x)
{
  return (double) cosl ((long double) x);
}

static inline double
sb_acos (double x)
{
  return (double) acosl ((long double) x);
}

static inline double
sb_atan2 (double y, double x)
{
  return (double) atan2l ((long double) y, (long double) x);
}
