/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a trial notes of the units of its log: which were taken because none was named, and that angle and velocity do
 * not belong together. */
#pragma once

#include "trial.h"

/* "the header names no unit for 'angle', 'velocity'; SI was taken (rad, rad/s)": SI is what the documents promise, and
 * a reader should know that it was taken. Nothing when all are named. */
void sb_unit_notes_of_header (GPtrArray *notes, const SbLog *log);

/* That the logged velocity does not add up to the way of the angle within a fifth (SbUnitChecks.of_way, NaN: not
 * known): the unit or the sign of one of them is not the one that was taken. Where the quotient is that of two usual
 * units, within 3 %, they are named; the unit of the time is where it is a guess or none is named. */
void sb_unit_notes_of_motion (GPtrArray *notes, double of_way, const SbLog *log);

/* The two units that would give this quotient, where both were taken for SI: "rpm and degrees"; NULL when none would.
 */
const char *sb_unit_notes_usual (double of_way);
#define SB_UNIT_NOTES_TAKEN_FOR_SI " taken for rad/s and rad would"
