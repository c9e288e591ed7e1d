/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What of a difference may be noise's choice of crests: where a figure is read at one crest or another, and how many
 * crests stand above it. No expectation, as a bias is, but a bound. Definitions: 'Comparison' of docs/methods.md. */
#pragma once

#include "measure_table.h"

/* SI, 0 or more: as much of the difference between two sides as noise may make in that way; 0 where it makes none. */
double sb_by_crests (SbMeasureId id, const SbMeasureSummary *reference, const SbMeasureSummary *other);
