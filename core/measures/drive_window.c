/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What of the mean curves the drive model is fitted to, and how much each point weighs. */
#include "drive_parts.h"

#include <math.h>

#define FEWEST_POINTS 40
/* Of the active window's length, at most this much before the onset is used. */
#define LEAD_RATIO 0.25
/* The spread at a point is that of its neighbours too: a variance of few repeats is itself a rough number. */
#define SPREAD_HALF 10
/* And no point counts as more certain than this share of the curve's root mean square spread. */
#define SPREAD_FLOOR 0.1
/* A command that takes up to this many grid steps from 10 to 90 % is a jump. */
#define LONGEST_JUMP 2
/* The end of travel: the velocity falls to this share of its peak while the torque is above this share of its top. */
#define STOPPED     0.5
#define BEFORE_STOP 0.98

static double
grid_time (const SbEnsemble *ensemble, gsize k)
{
  return (double) (ensemble->first + (gint64) k) * ensemble->grid_step_s;
}

/* Standard deviations of the mean at the window's points. (transfer full) */
static double *
spread_of (const SbDriveWork *work, const SbMeanCurve *curve)
{
  double *spread = g_new (double, work->n), squares = 0;
  const double *sd = curve->sd + work->first;
  for (gsize i = 0; i < work->n; i++) {
    gsize from = i > SPREAD_HALF ? i - SPREAD_HALF : 0, to = MIN (i + SPREAD_HALF, work->n - 1);
    double sum = 0;
    for (gsize k = from; k <= to; k++)
      sum += sd[k] * sd[k];
    spread[i] = sum / (double) (to - from + 1) / (double) work->ensemble->n_trials;
    squares += spread[i];
  }
  double mean_square = squares / (double) work->n;
  gboolean usable = isfinite (mean_square) && mean_square > 0;
  for (gsize i = 0; i < work->n; i++)
    spread[i] = usable ? sqrt (fmax (spread[i], SPREAD_FLOOR * SPREAD_FLOOR * mean_square)) : 1;
  return spread;
}

static gboolean
has_spread (const SbMeanCurve *curve, gsize first, gsize n)
{
  for (gsize i = 0; i < n; i++)
    if (curve->sd[first + i] > 0)
      return TRUE;
  return FALSE;
}

/* Linear between points; NaN when the level is not crossed upwards in the window. */
static double
first_crossing (const SbDriveWork *work, const double *mean, double level)
{
  for (gsize k = work->first + 1; k < work->first + work->n; k++)
    if (mean[k - 1] < level && mean[k] >= level)
      return grid_time (work->ensemble, k - 1)
             + (level - mean[k - 1]) / (mean[k] - mean[k - 1]) * work->ensemble->grid_step_s;
  return NAN;
}

static void
take_command (SbDriveWork *work)
{
  double base = 0, top = 0;
  for (gsize i = 0; i < work->n_facts; i++) {
    base += work->facts[i]->command_base_nm / (double) work->n_facts;
    top += work->facts[i]->command_top_nm / (double) work->n_facts;
  }
  gboolean known = work->n_facts > 0 && isfinite (top - base) && top > base;
  work->command_base_nm = known ? base : (double) NAN;
  work->command_top_nm = known ? top : (double) NAN;
  const SbMeanCurve *curve = work->ensemble->curve[SB_CHANNEL_COMMAND];
  if (!known || curve == NULL)
    return;
  double t10_s = first_crossing (work, curve->mean, base + 0.1 * (top - base));
  double t90_s = first_crossing (work, curve->mean, base + 0.9 * (top - base));
  if (t90_s - t10_s > LONGEST_JUMP * work->ensemble->grid_step_s)
    work->command_ramp_s = (t90_s - t10_s) / 0.8;
}

/* Last point before the end of travel takes hold; the window's last point when it does not. */
static gsize
last_before_stop (SbDriveWork *work, gsize last)
{
  const double *w = work->velocity_rad_s, *torque = work->torque_nm;
  if (w == NULL)
    return last;
  gsize peak = 0, stop = 0;
  for (gsize i = 0; i <= last; i++)
    if (w[i] > w[peak])
      peak = i;
  for (gsize i = peak; i <= last && stop == 0; i++)
    if (w[i] < STOPPED * w[peak] && torque[i] > STOPPED * torque[peak])
      stop = i;
  if (stop == 0)
    return last;
  while (stop > peak && w[stop] < BEFORE_STOP * w[peak])
    stop--;
  work->travel_end_s = grid_time (work->ensemble, work->first + stop);
  return stop;
}

static gboolean
all_known (const double *y, gsize n)
{
  for (gsize i = 0; i < n; i++)
    if (!isfinite (y[i]))
      return FALSE;
  return TRUE;
}

/* Mean velocity before the onset; 0 when it is within its noise. */
static double
start_velocity (const SbDriveWork *work)
{
  double sum = 0, squares = 0;
  gsize n = 0;
  for (; n < work->n && work->t_s[n] < -0.5 * work->ensemble->grid_step_s; n++) {
    sum += work->velocity_rad_s[n];
    squares += work->velocity_rad_s[n] * work->velocity_rad_s[n];
  }
  double mean = n > 0 ? sum / (double) n : 0, variance = n > 0 ? squares / (double) n - mean * mean : 0;
  return mean * mean > 9 * variance ? mean : 0;
}

gboolean
sb_drive_take_window (SbDriveWork *work)
{
  const SbEnsemble *ensemble = work->ensemble;
  const SbMeanCurve *torque = ensemble->curve[SB_CHANNEL_TORQUE], *velocity = ensemble->curve[SB_CHANNEL_VELOCITY];
  work->travel_end_s = NAN;
  if (torque == NULL) {
    sb_drive_set_absent (work, "not every repeat has a torque");
    return FALSE;
  }
  gsize end = 0;
  while (end < ensemble->n_points && grid_time (ensemble, end) < ensemble->active_end_s)
    end++;
  while (work->first < end && grid_time (ensemble, work->first) < -LEAD_RATIO * ensemble->active_end_s)
    work->first++;
  work->n = end - work->first;
  if (work->n < FEWEST_POINTS) {
    sb_drive_set_absent (work,
                         "the repeats have only %" G_GSIZE_FORMAT " points in common up to the end of the active "
                         "window, which needs %d",
                         work->n, FEWEST_POINTS);
    return FALSE;
  }
  work->torque_nm = torque->mean + work->first;
  work->velocity_rad_s = velocity != NULL ? velocity->mean + work->first : NULL;
  if (!all_known (work->torque_nm, work->n) || (velocity != NULL && !all_known (work->velocity_rad_s, work->n))) {
    sb_drive_set_absent (work, "the mean curves have holes");
    return FALSE;
  }
  work->n = last_before_stop (work, work->n - 1) + 1;
  if (work->n < FEWEST_POINTS) {
    sb_drive_set_absent (work, "the end of travel is reached after %" G_GSIZE_FORMAT " points; %d are needed", work->n,
                         FEWEST_POINTS);
    return FALSE;
  }
  work->t_s = g_new (double, work->n);
  for (gsize i = 0; i < work->n; i++)
    work->t_s[i] = grid_time (ensemble, work->first + i);
  work->model->window_s[0] = work->t_s[0];
  work->model->window_s[1] = work->t_s[work->n - 1];
  work->known_spread = ensemble->n_trials > 1 && has_spread (torque, work->first, work->n);
  work->by_repeat = work->known_spread && ensemble->kept != NULL && ensemble->kept->len == ensemble->n_trials;
  work->torque_sd_nm = spread_of (work, torque);
  if (velocity != NULL) {
    work->velocity_sd_rad_s = spread_of (work, velocity);
    work->start_rad_s = start_velocity (work);
  }
  take_command (work);
  return TRUE;
}

void
sb_drive_work_clear (SbDriveWork *work)
{
  g_free (work->t_s);
  g_free (work->torque_sd_nm);
  g_free (work->velocity_sd_rad_s);
}
