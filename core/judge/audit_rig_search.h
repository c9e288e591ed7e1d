/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Inside of audit*.c only: the rig that makes the rises of all levels look most like ramps, or one of them like a ramp
 * or like a rounded rise whatever the others are, by weighted least squares. */
#pragma once

#include "audit_rig.h"

#include <gio/gio.h>

/* A level's rise, and the variance of each of its figures about what a form makes of it. */
typedef struct {
  SbSeenRise seen;
  double variance;
} SbSeenLevel;

/* What rings after the rise in one trial: the rig as a rule, but a drive can ring too. */
typedef struct {
  gsize n;
  double hz[SB_MAX_MODES], damping[SB_MAX_MODES];
} SbSeenModes;

typedef struct {
  const SbSeenLevel *levels;
  gsize n;
  const SbSeenModes *modes; /* of trials; may be NULL when there are none */
  gsize n_modes;
} SbSeenRises;

typedef struct {
  SbRig rig;   /* known, from 8 to 250 Hz and 0.03 to 0.6 */
  double chi2; /* squares over variances, all figures of all levels; what the choice of forms, and a rig that is not
                * seen to ring, cost */
} SbRigFit;

/* All levels are ramps behind the rig. Of no use once cancelled, as the next; `cancellable` may be NULL. */
SbRigFit sb_rig_search_ramps (const SbSeenRises *seen, GCancellable *cancellable);

/* The level is a ramp, or of any form but a ramp; the others are of any. A ramp and a rounded rise are as likely before
 * anything is seen, and so is each way to be rounded among these: of k ways to be, the one that fits best costs 2 ln k.
 */
SbRigFit sb_rig_search_straight (const SbSeenRises *seen, gsize level, GCancellable *cancellable);
SbRigFit sb_rig_search_rounded (const SbSeenRises *seen, gsize level, GCancellable *cancellable);

/* Root mean square difference of all levels' figures from those of ramps behind the rig (NULL: none); each counts 1 at
 * most. Infinite when no figure is known. */
double sb_rig_off_ramps (const SbRig *rig, const SbSeenLevel *levels, gsize n);
