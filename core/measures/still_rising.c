/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "still_rising.h"

#include "levels.h"

#include <math.h>

#define FEWEST_SAMPLES 4
/* Standard errors that the gain is clear of 0 by. */
#define CLEAR_ERRORS 5

typedef struct {
  double gain, end, rest_sd; /* over the samples; at the last of them; of what the line leaves */
  double noise;              /* standard deviation of a sample */
  gboolean clear;            /* the gain is, of the noise */
} Line;

static Line
fit_line (const double *t, const double *y, gsize n)
{
  double mean_t = 0, mean_y = 0, tt = 0, ty = 0, rest = 0;
  for (gsize i = 0; i < n; i++) {
    mean_t += (t[i] - t[0]) / (double) n;
    mean_y += (y[i] - y[0]) / (double) n;
  }
  for (gsize i = 0; i < n; i++) {
    double dt = t[i] - t[0] - mean_t;
    tt += dt * dt;
    ty += dt * (y[i] - y[0] - mean_y);
  }
  double slope = ty / tt;
  for (gsize i = 0; i < n; i++) {
    double off = y[i] - y[0] - mean_y - slope * (t[i] - t[0] - mean_t);
    rest += off * off;
  }
  return (Line){ .gain = slope * (t[n - 1] - t[0]),
                 .end = y[0] + mean_y + slope * (t[n - 1] - t[0] - mean_t),
                 .rest_sd = sqrt (rest / (double) (n - 2)) };
}

/* The line through the last quarter of the time, from sample `start` on. FALSE when that has too few samples, or is
 * all.
 */
static gboolean
fit_last_quarter (const double *t, const double *y, gsize first, gsize last, double sd, gsize *start, Line *line)
{
  double from_s = t[last] - (t[last] - t[first]) / 4;
  *start = last;
  while (*start > first && t[*start - 1] >= from_s)
    (*start)--;
  gsize n = last + 1 - *start;
  if (n < FEWEST_SAMPLES || *start == first)
    return FALSE;
  *line = fit_line (t + *start, y + *start, n);
  line->noise = isfinite (sd) ? fmax (sd, line->rest_sd) : line->rest_sd;
  line->clear = fabs (line->gain) > CLEAR_ERRORS * line->noise * sqrt (12 / (double) n);
  return TRUE;
}

double
sb_still_rising (const double *t, const double *y, gsize first, gsize last, double base, double sd, double *share)
{
  gsize start;
  Line line;
  *share = 0;
  if (!fit_last_quarter (t, y, first, last, sd, &start, &line))
    return 0;
  double lowest, highest;
  sb_value_range (y + first, start - first, &lowest, &highest);
  if (!line.clear || !(line.gain > 0) || !(line.gain > SB_STILL_RISING_SHARE * (line.end - base))
      || !(line.end > highest - 3 * line.noise))
    return 0;
  *share = line.gain / (line.end - base);
  return line.gain;
}

double
sb_still_drifting (const double *t, const double *y, gsize first, gsize last, double step, double sd)
{
  gsize start;
  Line line;
  if (!fit_last_quarter (t, y, first, last, sd, &start, &line) || !line.clear)
    return 0;
  return fabs (line.gain) > SB_DRIFTING_SHARE * step ? line.gain : 0;
}
