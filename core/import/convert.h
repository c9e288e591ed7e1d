/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a layout says of a column -> how its cells become SI.
 *
 * Roundings: a cell in SI or in a power of ten of it is rounded once, from its digits. Every other factor (a degree, an
 * rpm, a torque constant, a torque per volt, a full scale) is a double itself, and the product with the cell's double
 * is rounded again; the volts at no torque are taken off before, in one rounding more. Counts are whole numbers until
 * they are multiplied by the double next to a turn over counts per turn; the number of a sample is divided by the rate,
 * in one rounding; a clock time is rounded once (clock.h).
 *
 * The factor that a layout may state for a column multiplies what is written, before all else. Where the unit has no
 * zero that comes to the same behind it, and is done there, in one rounding more; by 1 and -1 nothing is rounded. From
 * an angle that begins again after a turn as written the turns are taken first: it is that of a motor, say, and the
 * factor a gear. One that does so only once it is multiplied is followed then: it was written in hundredths, say. A
 * time's factor is above 0; clock times and numbers of samples take none. */
#pragma once

#include "layout.h"
#include "turns.h"

typedef enum {
  SB_CONVERT_NOTHING,    /* the column is read past */
  SB_CONVERT_NUMBER,     /* written * 10^power_of_ten in one rounding, then times factor when scaled */
  SB_CONVERT_TRANSDUCER, /* volts, kept until sb_conversion_finish(), which takes their zero off and scales them */
  SB_CONVERT_COUNTER,    /* counts, kept as written until sb_conversion_finish() */
  SB_CONVERT_SAMPLES,    /* numbers of samples, kept as written until sb_conversion_finish() */
  SB_CONVERT_CLOCK,      /* by clock.h */
} SbConversionKind;

typedef struct {
  SbConversionKind kind;
  int channel;        /* SbChannel that it fills, or -1 */
  gboolean aside;     /* of a role that is summed up and not kept: current, temperature, supply */
  int power_of_ten;   /* of a number */
  gboolean scaled;    /* factor is not 1 */
  double factor;      /* of a number, or rad for a count */
  const SbUnit *unit; /* what a cell with its own unit must have; NULL: none */
  double before;      /* what a value with a zero is multiplied by as written, before the zero is taken off */
  double zero;        /* what is taken from a temperature as written, from a transducer's volts */
  double wrap;        /* counts after which a counter begins again, rad of another angle; 0: never */
  gboolean wrap_is_stated;
  double rate_hz;        /* of samples */
  double after;          /* of an angle: what it is multiplied by once it has been followed */
  gboolean from_current; /* a torque by a torque constant */
} SbConversion;

/* Of a column that is read past. */
#define SB_CONVERSION_NONE                                                                                             \
  ((SbConversion){ .kind = SB_CONVERT_NOTHING, .channel = -1, .factor = 1.0, .before = 1.0, .after = 1.0 })

/* How column `index` is read. SB_CONVERT_NOTHING for a role without a place in the log, for a current that is not the
 * torque's only source and has no unit of its own, and while a value is missing. */
SbConversion sb_conversion_of (const SbLayout *layout, guint index);

/* "the angle in counts cannot be read without the number of counts in a turn": what is missing before
 * column `index` can be read, or before a current can stand for the torque; NULL when nothing is. (transfer full) */
char *sb_conversion_wanted (const SbLayout *layout, guint index);

/* Why the factor that is stated for column `index` cannot be: "a clock time takes no factor"; NULL: it can, or none is
 * stated. */
const char *sb_conversion_refuses_factor (const SbLayout *layout, guint index);

/* The SI value of a number that is not kept row by row. */
double sb_conversion_apply_aside (const SbConversion *conversion, double value);

/* What is left to do for a whole channel: volts are made a torque, counts are followed through their wraps and made an
 * angle, numbers of samples a time. Between two rows a counter is taken to go the shorter way round; half a wrap is no
 * wrap. */
void sb_conversion_finish (const SbConversion *conversion, double *values, gsize n);

/* ... and behind it, of an angle: where it begins again after each turn, as written or as multiplied, it is followed
 * through its turns, unless it is in counts; by what was stated (wrap) where something was; and it is multiplied. What
 * was seen of its turns, and in *n_followed through how many jumps it was followed; SB_TURNS_PLAIN for all else. */
SbTurns sb_conversion_scale (const SbConversion *conversion, double *values, gsize n, gsize *n_followed);
