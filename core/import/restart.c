/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "restart.h"

#include "ticks.h"

/* Between the whole intervals of an even time base, so that rounding decides nothing. */
#define LEAST_FALL_INTERVALS 3.5
#define NEAR_START           0.5
/* Behind one row no interval is known but that to the next: so many of them are no jitter and no pause. */
#define LEAST_FALL_BEHIND_ONE 1000.0
/* Fewer rows show no interval. */
#define LEAST_ROWS_BEFORE 2
/* The step over the end of a counter, or over a row left out, in intervals; jitter lengthens it. */
#define MOST_WRAP_INTERVALS 4.0

static double
interval_of (const SbTimeSpan *span)
{
  return span->n_rows > 1 ? (span->last - span->first) / (double) (span->n_rows - 1) : 0.0;
}

static gboolean
falls_to_start (const SbTimeSpan *span, double time)
{
  double covered = span->last - span->first;
  return span->n_rows > 0 && time < span->last && time <= span->first + NEAR_START * covered
         && span->last - time > LEAST_FALL_INTERVALS * interval_of (span);
}

/* One bad time stamp makes no recording: the next row lies where it would without the last one. */
static gboolean
leaves_last_alone (const SbTimeSpan *span, double time)
{
  if (span->n_rows < LEAST_ROWS_BEFORE || !(time > span->before_last))
    return FALSE;
  if (span->n_rows == LEAST_ROWS_BEFORE)
    return span->last - time > LEAST_FALL_BEHIND_ONE * (time - span->before_last);
  double interval = (span->before_last - span->first) / (double) (span->n_rows - 2);
  return time - span->before_last <= MOST_WRAP_INTERVALS * interval
         && span->last - time > LEAST_FALL_INTERVALS * interval;
}

SbFallStep
sb_fall_take (SbFall *fall, const SbTimeSpan *span, double time, guint64 line)
{
  gboolean goes_on = fall->n_rows > 0 && time > fall->last;
  if (fall->n_rows == 0 && time < span->last && leaves_last_alone (span, time))
    return SB_FALL_LAST_ALONE;
  if (span->n_rows == 0 || time > span->last || (!goes_on && !falls_to_start (span, time))) {
    fall->n_rows = 0;
    return SB_FALL_NONE;
  }
  if (!goes_on)
    *fall = (SbFall){ .line = line, .time = time };
  fall->last = time;
  if (++fall->n_rows == SB_RESTART_ROWS)
    return SB_FALL_RESTARTS;
  return goes_on ? SB_FALL_GOES_ON : SB_FALL_BEGINS;
}

void
sb_time_span_add (SbTimeSpan *span, double time)
{
  if (span->n_rows == 0)
    span->first = time;
  if (span->n_rows > 0 && !(time > span->last))
    return;
  span->before_last = span->last;
  span->last = time;
  span->n_rows++;
}

void
sb_time_span_replace (SbTimeSpan *span, double time)
{
  span->last = time;
}

guint
sb_time_span_wrap_bits (const SbTimeSpan *span, double time)
{
  for (gsize i = 0; i < SB_N_COUNTERS; i++) {
    double range = sb_counters[i].range, step = time + range - span->last;
    if (time >= 0 && span->last < range && step > 0 && step <= MOST_WRAP_INTERVALS * interval_of (span))
      return sb_counters[i].bits;
  }
  return 0;
}
