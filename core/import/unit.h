/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The units a log may be written in, how people spell them, and their exact size in SI.
 *
 * A unit that is a power of ten of SI is held as that power, so that 1.5 ms becomes the same double as 0.0015 s; any
 * other as a factor, rounded once from the definition (NIST SP 811: turn = 2 pi rad, pound 0.45359237 kg, inch
 * 0.0254 m, standard gravity 9.80665 m/s^2, °F = 9/5 °C + 32, K = °C + 273.15). Percent, counts, samples and clock
 * times have no size of their own: what they want besides is in the layout, and convert.h makes SI of them. */
#pragma once

#include "role.h"

typedef enum {
  SB_DIMENSION_TIME,        /* s */
  SB_DIMENSION_ANGLE,       /* rad */
  SB_DIMENSION_VELOCITY,    /* rad/s */
  SB_DIMENSION_TORQUE,      /* N·m */
  SB_DIMENSION_CURRENT,     /* A */
  SB_DIMENSION_VOLTAGE,     /* V */
  SB_DIMENSION_TEMPERATURE, /* °C */
  SB_DIMENSION_PERCENT,     /* of a full scale */
  SB_DIMENSION_COUNTS,      /* of an encoder */
  SB_DIMENSION_SAMPLES,     /* a time as the number of a sample */
  SB_DIMENSION_CLOCK,       /* a time as a clock or a calendar shows it (clock.h) */
  SB_N_DIMENSIONS,
} SbDimension;

typedef struct {
  const char *name; /* as we write it: "ms", "N·m" */
  SbDimension dimension;
  int power_of_ten; /* SI value = (written - zero) * 10^power_of_ten * factor; one of the two is always neutral in
                       sb_unit_at */
  double factor;
  gboolean scaled;       /* factor is not 1 */
  double zero;           /* the written value of 0 °C: 32 °F, 273.15 K; 0 for all else */
  const char *spellings; /* blank-separated, in the folded form of unit.c */
} SbUnit;

/* The unit spelt so ("Nm", "N·m", "n*m", "rad_s", "°/s", "µs"), or NULL. Letter case matters only where it changes
 * the size or kind (mN·m is known, MN·m is not; K is, k is not). A prefix spelt out ("centi-Nm", "milli rad") or a
 * power of ten in front ("0.1 Nm", "10us") makes a unit of that size, named "0.1 N·m" where it has no name of its own;
 * there is none of counts, samples, clock times and temperatures in °F or K. In front of s, ms, µs and ns any number
 * may stand, as the length of a tick ("50us"). Every unit is found by its name. (transfer none) */
const SbUnit *sb_unit_find (const char *spelling);

/* TRUE for a unit with a number in front: "0.1 Nm", "10us", "50 us". */
gboolean sb_unit_is_in_numbers (const char *spelling);

/* All units, by dimension and within it the SI unit first; NULL behind the last. (transfer none) */
const SbUnit *sb_unit_at (guint index);

/* TRUE when a column of this role may be written in this unit: a torque in N·m, percent, or A with a constant. */
gboolean sb_unit_suits_role (const SbUnit *unit, SbRole role);

SbDimension sb_channel_dimension (SbChannel channel);

/* The SI unit of a role, "N·m", "°C"; "" for a role without unit. */
const char *sb_role_unit (SbRole role);

/* "s, ms, µs, ns, samples or clock time": what a column of this role may be written in, for messages. "" for a role
 * without unit. (transfer full) */
char *sb_role_unit_list (SbRole role);
