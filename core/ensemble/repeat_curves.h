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

/* Root mean square distance of each repeat from the mean, in the order of adding, over what all of them cover from the
 * onset to the earliest end of their active windows; of the mean itself into `size`; SI units of `channel`. FALSE,
 * nothing written: there are none or too many, one lacks the channel, or they have no time in common. */
gboolean sb_repeat_curves_distances (const SbRepeatCurves *curves, double distance[SB_FEW_REPEATS], double *size,
                                     SbChannel *channel);
