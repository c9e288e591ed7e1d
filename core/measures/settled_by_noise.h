/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What noise does to a settling time. Let c(t) be the torque without its noise, b the half width of the band about the
 * top T, and w the weights by which settling is judged (1 for the sample itself, else those of the local mean). Judged
 * is w*c + noise of the standard deviation |w| sigma: by the law of the last passage (passage.h) of d = |w*c - T| - b
 * it settles at E on average. Without noise it would settle where |c - T| - b has its last passage t0. Noise is
 * expected to have made it later by E - t0, be that negative: what the noise adds at crests just inside the band, takes
 * from those just outside, and what the local mean flattens, all count.
 *
 * c is the fit of the ringing, where that was found, begins before the first passage that is possible, and leaves over
 * all of the possible ones no more than the noise. Else it is the local quadratic over a quarter of the transition on
 * either side; what that leaves of the noise would itself pass the band later than c does, and crests of a long ringing
 * that are hidden in it are many: so the fit comes first. Samples of a local mean are not independent: it takes one of
 * each third of its own half window as such. For the files of this folder only. */
#pragma once

#include "settled.h"

/* Fills what settled.h says of noise. The torque is judged outside the band last at sample `out`, and judged at all up
 * to `end`. */
void sb_settled_by_noise (const SbReading *reading, gsize out, gsize end, SbSettled *settled);
