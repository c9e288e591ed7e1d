/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "drive_torque.h"

#include <math.h>

/* Responses differ from their ends by less than 1e-16 after this many time constants. */
#define LONG_AFTER 40.0
/* Step of the derivatives by the logarithms of the lag's numbers. */
#define LOG_STEP 1e-5

int
sb_torque_place (SbDriveForm form, SbTorqueParameter which)
{
  const gboolean has[SB_N_TORQUE] = {
    [SB_TORQUE_BASE] = TRUE,
    [SB_TORQUE_LEVEL] = TRUE,
    [SB_TORQUE_DELAY] = TRUE,
    [SB_TORQUE_LOG_SLOPE] = form.slope,
    [SB_TORQUE_LOG_LAG] = form.lag != SB_DRIVE_LAG_NONE,
    [SB_TORQUE_LOG_LAG_DAMPING] = form.lag == SB_DRIVE_LAG_SECOND,
    [SB_TORQUE_RING_AMPLITUDE] = form.ringing,
    [SB_TORQUE_RING_START] = form.ringing,
    [SB_TORQUE_RING_FREQUENCY] = form.ringing,
    [SB_TORQUE_RING_DECAY] = form.ringing,
  };
  int place = 0;
  for (int i = 0; i < (int) which; i++)
    place += has[i] ? 1 : 0;
  return has[which] ? place : -1;
}

gsize
sb_torque_n_parameters (SbDriveForm form)
{
  int n = 3 + (form.slope ? 1 : 0) + (int) form.lag + (form.ringing ? 4 : 0);
  return (gsize) n;
}

/* The parameters by name. */
typedef struct {
  SbDriveForm form;
  double base, level, delay, slope, ramp, lag, damping;
  double amplitude, start, frequency, decay;
} Shape;

static double
named (SbDriveForm form, const double *x, SbTorqueParameter which, double otherwise)
{
  int place = sb_torque_place (form, which);
  return place >= 0 ? x[place] : otherwise;
}

static Shape
shape_of (SbDriveForm form, const double *x)
{
  Shape shape = {
    .form = form,
    .base = named (form, x, SB_TORQUE_BASE, 0),
    .level = named (form, x, SB_TORQUE_LEVEL, 0),
    .delay = named (form, x, SB_TORQUE_DELAY, 0),
    .slope = exp (named (form, x, SB_TORQUE_LOG_SLOPE, 0)),
    .lag = exp (named (form, x, SB_TORQUE_LOG_LAG, 0)),
    .damping = exp (named (form, x, SB_TORQUE_LOG_LAG_DAMPING, 0)),
    .amplitude = named (form, x, SB_TORQUE_RING_AMPLITUDE, 0),
    .start = named (form, x, SB_TORQUE_RING_START, 0),
    .frequency = named (form, x, SB_TORQUE_RING_FREQUENCY, 0),
    .decay = named (form, x, SB_TORQUE_RING_DECAY, 0),
  };
  shape.ramp = form.slope ? fmax (shape.level - shape.base, 0) / shape.slope : 0;
  return shape;
}

double
sb_torque_ramp_time (SbDriveForm form, const double *x)
{
  return shape_of (form, x).ramp;
}

/* Responses of the lag to a unit impulse, step and ramp that begin at 0. */
typedef struct {
  double impulse, step, ramp;
} Response;

static Response
first_order (double x, double lag)
{
  double z = x / lag, e = z < LONG_AFTER ? exp (-z) : 0;
  return (Response){ e / lag, 1 - e, x - lag * (1 - e) };
}

/* One expression for all damping ratios: q = z² (ζ² − 1), cosh √q and sinh √q / √q are whole functions of q. */
static Response
second_order (double x, double lag, double damping)
{
  double z = x / lag, q = z * z * (damping * damping - 1), root = sqrt (fabs (q));
  double slowest = damping > 1 ? damping - sqrt (damping * damping - 1) : damping;
  if (slowest * z > LONG_AFTER)
    return (Response){ 0, 1, x - 2 * damping * lag };
  double c, s; /* both times e^(−ζ z) */
  if (q > 1e-8) {
    double up = exp (root - damping * z), down = exp (-root - damping * z);
    c = (up + down) / 2;
    s = (up - down) / 2 / root;
  } else {
    double e = exp (-damping * z);
    c = e * (q < -1e-8 ? cos (root) : 1 + q / 2);
    s = e * (q < -1e-8 ? sin (root) / root : 1 + q / 6);
  }
  return (Response){
    z * s / lag,
    1 - c - damping * z * s,
    x - 2 * damping * lag + lag * (2 * damping * c + (2 * damping * damping - 1) * z * s),
  };
}

static Response
respond (const Shape *shape, double x)
{
  if (!(x > 0))
    return (Response){ 0, 0, 0 };
  switch (shape->form.lag) {
  case SB_DRIVE_LAG_FIRST:
    return first_order (x, shape->lag);
  case SB_DRIVE_LAG_SECOND:
    return second_order (x, shape->lag, shape->damping);
  case SB_DRIVE_LAG_NONE:
    break;
  }
  return (Response){ 0, 1, x };
}

/* The rise, without base and ringing, and its derivatives by level, delay and log slope. */
typedef struct {
  double value, by_level, by_delay, by_log_slope;
} Rise;

static Rise
rise_at (const Shape *shape, double t)
{
  double x = t - shape->delay;
  if (!(x > 0))
    return (Rise){ 0, 0, 0, 0 };
  Response early = respond (shape, x);
  double size = shape->level - shape->base;
  if (!shape->form.slope)
    return (Rise){ size * early.step, early.step, -size * early.impulse, 0 };
  Response late = respond (shape, x - shape->ramp);
  double value = shape->slope * (early.ramp - late.ramp);
  return (Rise){ value, late.step, -shape->slope * (early.step - late.step), value - size * late.step };
}

static double
ringing_at (const Shape *shape, double t)
{
  double y = t - shape->start;
  if (!shape->form.ringing || !(y > 0))
    return 0;
  return shape->amplitude * exp (fmin (-shape->decay * y, LONG_AFTER)) * sin (2 * G_PI * shape->frequency * y);
}

void
sb_torque_evaluate (SbDriveForm form, const double *x, const double *t_s, gsize n, double *torque_nm)
{
  Shape shape = shape_of (form, x);
  for (gsize i = 0; i < n; i++)
    torque_nm[i] = shape.base + rise_at (&shape, t_s[i]).value + ringing_at (&shape, t_s[i]);
}

static void
add_ringing_derivatives (const Shape *shape, double t, double weight, double *row)
{
  double y = t - shape->start;
  if (!(y > 0)) {
    row[0] = row[1] = row[2] = row[3] = 0;
    return;
  }
  double rate = 2 * G_PI * shape->frequency, envelope = weight * exp (fmin (-shape->decay * y, LONG_AFTER));
  double s = envelope * sin (rate * y), c = envelope * cos (rate * y);
  row[0] = s;
  row[1] = shape->amplitude * (shape->decay * s - rate * c);
  row[2] = shape->amplitude * 2 * G_PI * y * c;
  row[3] = -shape->amplitude * y * s;
}

/* Column of the derivative by the logarithm of a number of the lag, from both sides. */
static void
fill_lag_column (const SbTorqueProblem *problem, const double *x, int place, double *jacobian)
{
  gsize p = sb_torque_n_parameters (problem->form);
  double moved[SB_DRIVE_MOST_PARAMETERS];
  for (gsize k = 0; k < p; k++)
    moved[k] = x[k];
  moved[place] = x[place] - LOG_STEP;
  Shape low = shape_of (problem->form, moved);
  moved[place] = x[place] + LOG_STEP;
  Shape high = shape_of (problem->form, moved);
  for (gsize i = 0; i < problem->curve.n; i++) {
    double t = problem->curve.t_s[i];
    double difference = rise_at (&high, t).value - rise_at (&low, t).value;
    jacobian[i * p + (gsize) place] = difference / (2 * LOG_STEP) / problem->curve.sd_nm[i];
  }
}

static void
fill_jacobian (const SbTorqueProblem *problem, const double *x, double *jacobian)
{
  SbDriveForm form = problem->form;
  Shape shape = shape_of (form, x);
  gsize p = sb_torque_n_parameters (form);
  int ring = sb_torque_place (form, SB_TORQUE_RING_AMPLITUDE);
  for (gsize i = 0; i < problem->curve.n; i++) {
    double t = problem->curve.t_s[i], weight = 1 / problem->curve.sd_nm[i];
    Rise rise = rise_at (&shape, t);
    double *row = jacobian + i * p;
    row[0] = weight * (1 - rise.by_level);
    row[1] = weight * rise.by_level;
    row[2] = weight * rise.by_delay;
    if (form.slope)
      row[3] = weight * rise.by_log_slope;
    if (ring >= 0)
      add_ringing_derivatives (&shape, t, weight, row + ring);
  }
  for (int k = SB_TORQUE_LOG_LAG; k <= SB_TORQUE_LOG_LAG_DAMPING; k++) {
    int place = sb_torque_place (form, (SbTorqueParameter) k);
    if (place >= 0)
      fill_lag_column (problem, x, place, jacobian);
  }
}

void
sb_torque_residuals (const double *x, gpointer data, double *f, double *jacobian)
{
  const SbTorqueProblem *problem = data;
  const SbTorqueCurve *curve = &problem->curve;
  if (f != NULL) {
    sb_torque_evaluate (problem->form, x, curve->t_s, curve->n, f);
    for (gsize i = 0; i < curve->n; i++)
      f[i] = (f[i] - curve->torque_nm[i]) / curve->sd_nm[i];
  }
  if (jacobian != NULL)
    fill_jacobian (problem, x, jacobian);
}
