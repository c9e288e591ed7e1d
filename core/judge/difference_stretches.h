/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The stretches of time in which a difference curve leaves zero, from its bands. Definitions: 'Difference curve' of
 * docs/methods.md. */
#pragma once

#include "difference_curve.h"

/* SbDifferenceStretch in order of time, of a curve whose difference and half widths are filled in. (transfer full) */
GArray *sb_difference_stretches_new (const SbDifferenceCurve *curve);
