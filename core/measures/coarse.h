/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Signals logged in steps that are coarser than their noise: what the steps leave unknown does not show at rest, is not
 * made less by averaging, and is alike in every repeat. For the files of this folder only. */
#pragma once

#include "reading.h"

/* The step (sb_quantum) of n values whose noise at rest is `noise` (NaN: not known); 0 where there is none, or where
 * noise of half a step or more spreads the rounding evenly, so that it is noise like the rest. */
double sb_coarse_step (const double *y, gsize n, double noise);

/* Standard deviation of the noise or, where that is larger, of a rounding to `step`: step / √12 (GUM F.2.2.1). NaN
 * where neither is known. */
double sb_coarse_noise (double noise, double step);

/* SbMeasure.resolution of all measures of a coarse signal, with their doubts; runs behind the steps that make them. */
void sb_measure_coarse (SbReading *reading);
