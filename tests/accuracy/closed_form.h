/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is true of a second-order step response, from its closed form: y(t) = 1 - e^(-zeta wn t) (cos wd t + zeta wn /
 * wd sin wd t), wd = wn sqrt (1 - zeta²), as in every control text. Instants without a closed form are found by
 * bisection. Nothing here is taken from the library that is judged by it. */
#pragma once

#include <glib.h>
#include <math.h>

typedef struct {
  double zeta, wn_rad_per_s;
} SecondOrder;

static inline double
damped_rad_per_s (SecondOrder s)
{
  return s.wn_rad_per_s * sqrt (1 - s.zeta * s.zeta);
}

static inline double
response (SecondOrder s, double t)
{
  double wd = damped_rad_per_s (s), decay = s.zeta * s.wn_rad_per_s;
  return t <= 0 ? 0 : 1 - exp (-decay * t) * (cos (wd * t) + decay / wd * sin (wd * t));
}

static inline double
response_rate (SecondOrder s, double t)
{
  double wd = damped_rad_per_s (s);
  return t <= 0 ? 0 : s.wn_rad_per_s * s.wn_rad_per_s / wd * exp (-s.zeta * s.wn_rad_per_s * t) * sin (wd * t);
}

/* The rate has its largest value where its own derivative vanishes: tan wd t = wd / (zeta wn). */
static inline double
steepest_rate (SecondOrder s)
{
  return response_rate (s, acos (s.zeta) / damped_rad_per_s (s));
}

/* Deviation of the k-th extremum, k = 1, 2, ..: +Mp, -Mp², ... */
static inline double
extremum (SecondOrder s, int k)
{
  double mp = exp (-G_PI * s.zeta / sqrt (1 - s.zeta * s.zeta));
  return (k % 2 == 1 ? 1 : -1) * pow (mp, k);
}

/* On the first rise, where the response is monotonic. */
static inline double
rise_instant (SecondOrder s, double level)
{
  double low = 0, high = G_PI / damped_rad_per_s (s);
  for (int i = 0; i < 100; i++) {
    double middle = (low + high) / 2;
    if (response (s, middle) < level)
      low = middle;
    else
      high = middle;
  }
  return (low + high) / 2;
}

/* The last time the response is `band` from its final value: between the last extremum outside and the next one. */
static inline double
settling_instant (SecondOrder s, double band)
{
  int k = 0;
  while (fabs (extremum (s, k + 1)) > band)
    k++;
  double wd = damped_rad_per_s (s), low = k * G_PI / wd, high = (k + 1) * G_PI / wd;
  for (int i = 0; i < 100; i++) {
    double middle = (low + high) / 2;
    if (fabs (response (s, middle) - 1) > band)
      low = middle;
    else
      high = middle;
  }
  return (low + high) / 2;
}

/* Crests, the extrema above, that stand higher than `limit`; 0 where fewer than two do, which is no ringing. */
static inline double
crests_above (SecondOrder s, double limit)
{
  int n = 0;
  while (extremum (s, 2 * n + 1) > limit)
    n++;
  return n >= 2 ? n : 0;
}

/* RMS of the response about 1 from its first passage through 1, for `length` s: the decaying cosine's integral. The
 * deviation there is e^(-a u) R sin (wd u) with R its rate's size, since it starts at zero. */
static inline double
ringing_rms (SecondOrder s, double length)
{
  double a = s.zeta * s.wn_rad_per_s, wd = damped_rad_per_s (s), cross = (G_PI - acos (s.zeta)) / wd;
  double size = response_rate (s, cross) / wd, e = exp (-2 * a * length);
  double plain = (1 - e) / (2 * a), r2 = a * a + wd * wd;
  double wave = (a - e * (a * cos (2 * wd * length) - wd * sin (2 * wd * length))) / (2 * r2);
  return size * sqrt ((plain - wave) / 2 / length);
}
