/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Whether noise may move a crossing of a reference level to another crest of the response: a torque that rings on its
 * rise touches 10 % or 90 % within the noise, falls back, and passes it for good later, or sooner, by chance. For the
 * files of this folder only. */
#pragma once

#include "reading.h"

/* The other instant, s after the onset, at which the torque could as well have passed 10 % (k = 0) or 90 % (k = 2) of
 * its step; NaN when the one found is the only one, or the noise is unknown. */
double sb_crossing_again (const SbReading *reading, gsize k);

/* After the crossing of 10 % (k = 0) or 90 % (k = 2) that counts, and before the torque is at 90 % or at its top level,
 * it falls below that level again; not `found` when it does not. */
SbFall sb_crossing_left (const SbReading *reading, gsize k);

/* The first and the last instant, in the time of the log, at which the noise may have let the torque first pass its top
 * level after 90 %; `found` is the sample before the passage that was found. FALSE when that cannot be told. */
gboolean sb_top_passage (const SbReading *reading, gsize found, double *early_s, double *late_s);
