/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Inside judge only: what the sampling of two sides may account for. A command's jump lies anywhere in the sample
 * interval before its onset, so that the true figures lie beside those that were found; of unlike intervals so does
 * their difference. */
#pragma once

#include "measure.h"
#include "trial_facts.h"

/* Onsets of two sides that are late by up to so much are as late on average, within a hundredth. */
gboolean sb_onsets_are_as_late (double reference_late_s, double other_late_s);

/* How far the true difference (other - reference) may lie below (beyond[0] <= 0) and above the one found. Both 0 where
 * the sides' intervals are alike: then their jumps are as late on average. */
void sb_by_late_onsets (const SbMeasureSummary *reference, const SbMeasureSummary *other, double beyond[2]);

/* All trials of both sides are sampled at one rate, within a hundredth. */
gboolean
sb_rates_are_alike (SbTrialFacts *const *reference, gsize n_reference, SbTrialFacts *const *other, gsize n_other);
