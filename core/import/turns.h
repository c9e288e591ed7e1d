/* SPDX-License-Identifier: GPL-3.0-or-later */
/* An angle in degrees, radians or turns that begins again after each turn. */
#pragma once

#include <glib.h>

typedef enum {
  SB_TURNS_PLAIN,       /* nothing is to be said of it */
  SB_TURNS_UNCLEAR,     /* it stays within one turn and jumps by more than half of it, */
  SB_TURNS_BEGIN_AGAIN, /* ... and once by more than three quarters: what jumps is the angle shown, not the shaft */
} SbTurns;

/* What the n values (rad; a NaN is none) do. One turn is from 0 on, or from half a turn below it. */
SbTurns sb_turns_of (const double *angle_rad, gsize n);

#define SB_TURN_RAD 6.283185307179586

/* Follows them where they begin again after `turn_rad`, the shorter way round between two values; one rounding for each
 * value behind the first jump. How many jumps there were. */
gsize sb_turns_follow (double *angle_rad, gsize n, double turn_rad);
