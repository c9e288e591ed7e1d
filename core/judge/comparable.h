/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Inside judge only: which figures of two sides can be held against each other at all, of a comparison and of a plan
 * for one. */
#pragma once

#include "measure_table.h"

/* Of the torque smoothness of unlike sample rates. */
#define SB_NOT_COMPUTED_ALIKE                                                                                          \
  "not computed alike: its slope window, cut-off and spectrum hang on the sample rate, which differs; log both at "    \
  "one rate"

/* Why two summaries cannot be compared; NULL when they can. `alike_rates`: sb_rates_are_alike(). (transfer full) */
char *sb_why_not_comparable (SbMeasureId id, const SbMeasureSummary *reference, const SbMeasureSummary *other,
                             gboolean alike_rates);
