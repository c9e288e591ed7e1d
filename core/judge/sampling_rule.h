/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Inside judge only: what the sampling of two sides may account for. A command's jump lies anywhere in the sample
 * interval before its onset, so that the true figures lie beside those that were found, and so does their difference.
 * Comparisons, audits and plans ask it; a claim, of one side, weighs all of its interval. */
#pragma once

#include "measure.h"
#include "trial_facts.h"

/* Onsets of two sides that are late by up to so much are as late on average where clocks run free, within a tenth. */
gboolean sb_onsets_are_as_late (double reference_late_s, double other_late_s);

/* How far the true difference (other - reference) may lie below (beyond[0] <= 0) and above the one found. */
void sb_by_late_onsets (const SbMeasureSummary *reference, const SbMeasureSummary *other, double beyond[2]);

/* Whether the sides' scatter shows it all: their intervals are alike, and each scatters as it does at least where the
 * log's clock runs free of the command, so that the jumps of both are as late on average. A clock tied to the command
 * puts every jump at one place of the interval: no scatter shows it, and the other side's place may be another. */
gboolean sb_late_onsets_average_out (const SbMeasureSummary *reference, const SbMeasureSummary *other);

/* All trials of both sides are sampled at one rate, within a hundredth. */
gboolean
sb_rates_are_alike (SbTrialFacts *const *reference, gsize n_reference, SbTrialFacts *const *other, gsize n_other);
