/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "turns.h"

#include <math.h>

#define TURN SB_TURN_RAD
/* 360.0 as written may be the last value of a turn; and it was rounded: 6.2832 and 3.1416 lie beyond their turn, as do
 * both in single precision. */
#define SLACK 1e-3
/* Most angles leave the turn soon: then the rest is not looked at. */
#define BLOCK 4096

typedef struct {
  gsize n_jumps, n_whole_jumps, n_below_zero, n_below_half, n_above_half, n_above_turn;
} Seen;

static void
look_at_jump (double change, Seen *seen)
{
  seen->n_jumps += fabs (change) > TURN / 2;
  seen->n_whole_jumps += fabs (change) > 0.75 * TURN;
}

/* Over what is no number, as though it were not there: from `*before`, the last angle so far, which it moves on. */
static void
look_over_gaps (const double *angle_rad, gsize from, gsize to, double *before, Seen *seen)
{
  for (gsize i = from; i < to; i++) {
    if (isnan (angle_rad[i]))
      continue;
    look_at_jump (angle_rad[i] - *before, seen);
    *before = angle_rad[i];
  }
}

/* Counted without a branch, which compilers do for several values at once; but for jumps where there are NaN. */
static void
look (const double *angle_rad, gsize from, gsize to, double *before, Seen *seen)
{
  Seen here = { 0 };
  gsize n_none = isnan (angle_rad[from - 1]) ? 1u : 0u;
  for (gsize i = from; i < to; i++) {
    double angle = angle_rad[i], change = angle - angle_rad[i - 1];
    n_none += isnan (angle) ? 1u : 0u;
    look_at_jump (change, &here);
    here.n_below_zero += angle < -SLACK;
    here.n_below_half += angle < -TURN / 2 - SLACK;
    here.n_above_half += angle > TURN / 2 + SLACK;
    here.n_above_turn += angle > TURN + SLACK;
  }
  if (n_none > 0) {
    here.n_jumps = here.n_whole_jumps = 0;
    look_over_gaps (angle_rad, from, to, before, &here);
  } else {
    *before = angle_rad[to - 1];
  }
  seen->n_jumps += here.n_jumps;
  seen->n_whole_jumps += here.n_whole_jumps;
  seen->n_below_zero += here.n_below_zero;
  seen->n_below_half += here.n_below_half;
  seen->n_above_half += here.n_above_half;
  seen->n_above_turn += here.n_above_turn;
}

SbTurns
sb_turns_of (const double *angle_rad, gsize n)
{
  Seen seen = { 0 };
  if (n == 0)
    return SB_TURNS_PLAIN;
  double before = angle_rad[0];
  seen.n_below_zero = angle_rad[0] < -SLACK;
  seen.n_below_half = angle_rad[0] < -TURN / 2 - SLACK;
  seen.n_above_half = angle_rad[0] > TURN / 2 + SLACK;
  seen.n_above_turn = angle_rad[0] > TURN + SLACK;
  for (gsize i = 1; i < n; i += BLOCK) {
    look (angle_rad, i, MIN (i + BLOCK, n), &before, &seen);
    gboolean from_zero = seen.n_below_zero == 0 && seen.n_above_turn == 0;
    gboolean around_zero = seen.n_below_half == 0 && seen.n_above_half == 0;
    if (!from_zero && !around_zero)
      return SB_TURNS_PLAIN;
  }
  if (seen.n_whole_jumps > 0)
    return SB_TURNS_BEGIN_AGAIN;
  return seen.n_jumps > 0 ? SB_TURNS_UNCLEAR : SB_TURNS_PLAIN;
}

gsize
sb_turns_follow (double *angle_rad, gsize n, double turn_rad)
{
  double turns = 0.0, before = (double) NAN;
  gsize n_jumps = 0;
  for (gsize i = 0; i < n; i++) {
    double change = angle_rad[i] - before;
    if (isnan (angle_rad[i]))
      continue;
    before = angle_rad[i];
    if (fabs (change) > turn_rad / 2) {
      turns += change > 0 ? -1.0 : 1.0;
      n_jumps++;
    }
    angle_rad[i] += turns * turn_rad;
  }
  return n_jumps;
}
