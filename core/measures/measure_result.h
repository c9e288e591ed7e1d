/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Filling in one measure: a value with its window and evidence, or the reason why there is none. For the files of this
 * folder only.
 *
 * A doubt is "kind: details". Doubts of one kind are told once for all repeats, so the kind is worded alike each time.
 */
#pragma once

#include "doubt.h"
#include "flat_tops.h"
#include "reading.h"

SbMeasure *sb_reading_measure (SbReading *reading, SbMeasureId id);

/* A value (SI) from the window from_s..to_s (s after the onset), without an uncertainty. Adds the doubts that the
 * channel of the measure and gaps in the window give rise to. What is no finite number is absent. (transfer none) */
SbMeasure *sb_reading_set (SbReading *reading, SbMeasureId id, double value, double from_s, double to_s);

/* What would give a figure that the end of the trial cuts short, as the end of a sentence. */
const char *sb_reading_remedy (const SbReading *reading);

/* Takes back a value that was set, with its doubts and its evidence. */
void sb_reading_set_absent (SbReading *reading, SbMeasureId id, const char *format, ...) G_GNUC_PRINTF (3, 4);

/* A point of evidence; past SB_MAX_EVIDENCE they are let go. */
void sb_measure_add_evidence (SbMeasure *measure, SbEvidenceKind kind, double t_s, double y, double slope_per_s);

/* Figures of slopes and velocities go into the sentence as sb_figure(). */
void sb_measure_add_doubt (SbMeasure *measure, SbDoubtKind kind, const char *format, ...) G_GNUC_PRINTF (3, 4);

/* The channel is not logged but derived. */
void sb_reading_doubt_derived (const SbReading *reading, SbMeasure *measure, SbChannel channel);

/* The onset is an estimate, and this measure counts from it. */
void sb_reading_doubt_onset (const SbReading *reading, SbMeasure *measure);

/* The log says each value of the channel several times; `so` is the clause that says what hangs on it. Nothing where it
 * does not. */
void sb_reading_doubt_held (const SbReading *reading, SbMeasure *measure, SbChannel channel, const char *so);

/* A time that counts from a command's jump, which is found at its first sample at the new level: by_late_onset, and a
 * doubt where a sample interval is much of it. Of an estimated onset: that doubt. */
void sb_reading_count_from_onset (const SbReading *reading, SbMeasure *measure);

/* Noise could have put the 10 % crossing (k = 0) or that of 90 % (k = 2) elsewhere; `so` is the clause that says what
 * hangs on it. Nothing where there is no such crossing. */
void sb_reading_doubt_again (const SbReading *reading, SbMeasure *measure, gsize k, const char *so);

/* The same where this measure would be `other` (SI) then. Widens the uncertainty to hold it. */
void sb_reading_doubt_crossing (const SbReading *reading, SbMeasure *measure, SbMeasureId id, gsize k, double other);

/* The signal called `channel` looks cut off at its largest value, `top` in the unit of the measure `id`; nothing where
 * `tops` has no runs. */
void sb_measure_doubt_flat_tops (SbMeasure *measure, const char *channel, SbMeasureId id, double top,
                                 const SbFlatTops *tops);

/* The torque is. */
void sb_reading_doubt_flat_tops (const SbReading *reading, SbMeasure *measure);

/* The largest value of a signal along the step is below zero. */
void sb_measure_doubt_against_step (SbMeasure *measure);

/* The levels are not certain, and this measure is taken from them: no plateau, a base of few samples. */
void sb_reading_doubt_levels (const SbReading *reading, SbMeasure *measure);

/* The torque still rises at the end of the active window, and its level is not reached. */
void sb_reading_doubt_still_rising (const SbReading *reading, SbMeasure *measure);

/* "sample" or "samples". */
const char *sb_samples (gsize n);
