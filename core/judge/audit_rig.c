/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "audit_rig.h"

#include "steady_math.h"

#include <math.h>

/* Steps to the rise and to a period: the input is held in the middle of each, the resonance is exact. */
#define STEPS_PER_RISE   64
#define STEPS_PER_PERIOD 24
#define MOST_PERIODS     20 /* of the rig in a rise */
#define MOST_STEPS       4096
#define HALVINGS         14

/* What two equal lags make of a ramp without end (standard control texts). */
static double
unit_ramp (double s, double lag)
{
  return s <= 0 ? 0 : s - 2 * lag + (s + 2 * lag) * sb_exp (-s / lag);
}

static double
lagged_ramp (double s, double lag)
{
  return unit_ramp (s, lag) - unit_ramp (s - 1, lag);
}

/* From 0 to 1, of the time over the length. */
static double
input_at (SbRiseForm form, double s)
{
  switch (form) {
  case SB_RISE_FORM_LAG:
    return -sb_expm1 (-s);
  case SB_RISE_FORM_TWO_LAGS:
    return 1 - (1 + s) * sb_exp (-s);
  case SB_RISE_FORM_LAGGED_RAMP:
    return lagged_ramp (s, 0.3);
  case SB_RISE_FORM_LAGGED_RAMP_6:
    return lagged_ramp (s, 0.6);
  case SB_RISE_FORM_LAGGED_RAMP_10:
    return lagged_ramp (s, 1);
  case SB_RISE_FORM_HALF_COSINE:
    return s < 1 ? (1 - sb_cos (G_PI * s)) / 2 : 1;
  case SB_RISE_FORM_RAMP:
  case SB_N_RISE_FORMS:
    break;
  }
  return fmin (s, 1);
}

/* Exact over a step of constant input. */
typedef struct {
  double of_d[2], of_v[2];
} Turn;

static Turn
turn_of (const SbRig *rig, double dt)
{
  double wd = 2 * G_PI * rig->hz, root = sqrt (1 - rig->damping * rig->damping), wn = wd / root;
  double decay = rig->damping * wn, e = sb_exp (-decay * dt), c = sb_cos (wd * dt), s = sb_sin (wd * dt);
  return (Turn){ { e * (c + decay / wd * s), e * s / wd }, { -e * wn * wn / wd * s, e * (c - decay / wd * s) } };
}

typedef struct {
  double *x;
  gsize n, most; /* points made, of so many */
  double dt;
} Curve;

/* Up to the first point at `until`. */
static void
run (const SbRig *rig, SbRiseForm form, double length_s, double until, Curve *curve)
{
  double x = 0, v = 0;
  Turn turn = rig != NULL ? turn_of (rig, curve->dt) : (Turn){ 0 };
  for (curve->n = 0; curve->n < curve->most;) {
    gsize i = curve->n++;
    curve->x[i] = x;
    if (x >= until)
      return;
    double u = input_at (form, ((double) i + (rig != NULL ? 0.5 : 1)) * curve->dt / length_s);
    double d = x - u, next = turn.of_d[0] * d + turn.of_d[1] * v;
    v = turn.of_v[0] * d + turn.of_v[1] * v;
    x = rig != NULL ? u + next : u;
  }
}

/* Place, in steps, of the first crossing; beyond the curve when there is none. */
static double
crossing (const Curve *curve, double level)
{
  for (gsize i = 1; i < curve->n; i++)
    if (curve->x[i] >= level)
      return (double) i - (curve->x[i] - level) / (curve->x[i] - curve->x[i - 1]);
  return HUGE_VAL;
}

static double
value_at (const Curve *curve, double place)
{
  gsize i = MIN ((gsize) place, curve->n - 2);
  return curve->x[i] + (place - (double) i) * (curve->x[i + 1] - curve->x[i]);
}

/* Of the least-squares line through the curve, straight between its points, from one place to another: 12/h^3 times the
 * integral of (t - middle) x, exact by Simpson's rule over each piece. */
static double
line_slope (const Curve *curve, double from, double to)
{
  double middle = (from + to) / 2, sum = 0;
  for (double left = from; left < to;) {
    double right = fmin (to, floor (left) + 1), half = (left + right) / 2;
    sum += (right - left) / 6
           * ((left - middle) * value_at (curve, left) + 4 * (half - middle) * value_at (curve, half)
              + (right - middle) * value_at (curve, right));
    left = right;
  }
  return 12 * sum / ((to - from) * (to - from) * (to - from));
}

static void
look_at (const Curve *curve, SbSeenRise *seen)
{
  double t10 = crossing (curve, 0.1), t90 = crossing (curve, 0.9), quarter = (t90 - t10) / SB_RISE_QUARTERS;
  seen->transition_s = (t90 - t10) * curve->dt;
  for (int q = 0; q < SB_RISE_QUARTERS; q++)
    seen->quarter[q] = line_slope (curve, t10 + q * quarter, t10 + (q + 1) * quarter) * (t90 - t10) / 0.8;
  seen->overshoot = 0;
  for (gsize i = (gsize) t90; i < curve->n; i++)
    seen->overshoot = fmax (seen->overshoot, curve->x[i] - 1);
}

static double
transition_of (const SbRig *rig, SbRiseForm form, double length_s, Curve *curve)
{
  run (rig, form, length_s, 0.9, curve);
  double t90 = crossing (curve, 0.9);
  return isinf (t90) ? t90 : (t90 - crossing (curve, 0.1)) * curve->dt;
}

gboolean
sb_rig_fit (const SbRig *rig, SbRiseForm form, double transition_s, double *length_s, SbSeenRise *seen)
{
  if (rig != NULL && !rig->known)
    rig = NULL;
  if (!(transition_s > 0) || (rig != NULL && rig->hz * transition_s > MOST_PERIODS))
    return FALSE;
  double period_s = rig != NULL ? 1 / rig->hz : 0, dt = transition_s / STEPS_PER_RISE;
  if (rig != NULL)
    dt = fmin (dt, period_s / STEPS_PER_PERIOD);
  double steps = (4 * transition_s + 1.5 * period_s) / dt;
  if (!(steps < MOST_STEPS))
    return FALSE;
  g_autofree double *x = g_new (double, (gsize) steps);
  Curve curve = { x, 0, (gsize) steps, dt };
  double low = 1e-3 * transition_s, high = 3 * transition_s;
  if (transition_of (rig, form, low, &curve) > transition_s)
    return FALSE;
  for (int i = 0; i < HALVINGS; i++) {
    double middle = (low + high) / 2;
    if (transition_of (rig, form, middle, &curve) > transition_s)
      high = middle;
    else
      low = middle;
  }
  run (rig, form, low, HUGE_VAL, &curve);
  look_at (&curve, seen);
  *length_s = low;
  return TRUE;
}

double
sb_seen_rise_distance (const SbSeenRise *a, const SbSeenRise *b)
{
  double apart = fabs (a->overshoot - b->overshoot); /* fmax() passes over NaN */
  for (int q = 0; q < SB_RISE_QUARTERS; q++)
    apart = fmax (apart, fabs (a->quarter[q] - b->quarter[q]));
  return apart;
}
