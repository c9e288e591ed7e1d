/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The units a log may be written in, how people spell them, and their exact size in SI.
 *
 * A unit that is a power of ten of SI is held as that power, so that 1.5 ms becomes the same double as 0.0015 s; any
 * other as a factor, rounded once from the definition (NIST SP 811: turn = 2 pi rad, pound 0.45359237 kg, inch
 * 0.0254 m, standard gravity 9.80665 m/s^2). */
#pragma once

#include "channel.h"

typedef enum {
  SB_DIMENSION_TIME,     /* s */
  SB_DIMENSION_ANGLE,    /* rad */
  SB_DIMENSION_VELOCITY, /* rad/s */
  SB_DIMENSION_TORQUE,   /* N·m */
} SbDimension;

typedef struct {
  const char *name; /* as we write it: "ms", "N·m" */
  SbDimension dimension;
  int power_of_ten; /* SI value = written * 10^power_of_ten * factor; one of the two is always neutral */
  double factor;
  gboolean scaled;       /* factor is not 1 */
  const char *spellings; /* blank-separated, in the folded form of unit.c */
} SbUnit;

/* The unit spelt so ("Nm", "N·m", "n*m", "rad_s", "°/s", "µs"), or NULL. Letter case matters only where it changes
 * the size (mN·m is known, MN·m is not). (transfer none) */
const SbUnit *sb_unit_find (const char *spelling);

SbDimension sb_channel_dimension (SbChannel channel);

/* "s, ms, µs or ns": the units known for a channel, for messages. (transfer full) */
char *sb_unit_list (SbDimension dimension);
