/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How far each of a few repeats is from the mean of all of them, instant by instant. Their curves are held only until
 * that is known, on one grid, so that no log is. */
#pragma once

#include "trial.h"

/* More repeats than this are judged by the tests of outlying.h. */
#define SB_FEW_REPEATS 6

typedef struct SbRepeatCurves SbRepeatCurves;
SbRepeatCurves *sb_repeat_curves_new (void);
void sb_repeat_curves_free (SbRepeatCurves *curves);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SbRepeatCurves, sb_repeat_curves_free)

/* Takes the trial's torque, or the velocity when the first trial had no torque. Of more than SB_FEW_REPEATS nothing is
 * held. */
void sb_repeat_curves_add (SbRepeatCurves *curves, const SbTrial *trial);

/* Root mean square distances over a part of the time from the onset to the earliest end of the active windows, as far
 * as all repeats cover it: over the rise, or over the rest. The rise lasts twice as long as the mean takes to come to
 * 90 % of its largest value, so that a slow repeat is at its end too. */
typedef struct {
  double distance[SB_FEW_REPEATS]; /* of each repeat from the mean, in the order of adding; SI units of `channel` */
  double size;                     /* of the mean from zero */
  double from_s, to_s;             /* of the part, after the onset */
  SbChannel channel;
} SbRepeatDistances;

/* Of the part in which the farthest repeat stands out most from the next. FALSE, nothing written: there are none or too
 * many, one lacks the channel, or they have no time in common. */
gboolean sb_repeat_curves_distances (const SbRepeatCurves *curves, SbRepeatDistances *distances);
