/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Inside judge only: what the repeats of a configuration, and the sides of a comparison, should have in common. */
#pragma once

#include "trial_facts.h"
#include "values.h"

/* Trials held together: a configuration, or a side of a comparison. Borrowed. */
typedef struct {
  SbTrialFacts *const *facts;
  gsize n;
} SbSide;

/* What a log tells by itself: rotation range, sample rate, command size, ... */
extern const gsize sb_n_aspects;
const char *sb_aspect_name (gsize aspect);

/* Repeats of one test have it in common. (Some are logged for longer, step the other
 * way and are turned over, or have an onset placed by hand.) */
gboolean sb_aspect_is_of_repeats (gsize aspect);

/* (transfer full) */
SbValues *sb_aspect_values (gsize aspect, SbSide side);

/* Names of all settings of both, in order of first appearance; what differs in case only is one setting. The names are
 * borrowed from the facts. (transfer container) */
GPtrArray *sb_side_setting_names (SbSide reference, SbSide other);

/* Settings are typed, not measured: only the rounding of their text may differ. */
#define SB_SETTING_RATIO 1e-9

/* Numbers within this share of one another are the same. (transfer full) */
SbValues *sb_side_setting_values (const char *name, SbSide side, double ratio);

/* Settings that reshape the response by themselves, and belong at zero in a step or slope test. */
gboolean sb_setting_is_filter (const char *name);

/* What feeds the drive is no setting of it: it is told of even where nothing else differs. */
gboolean sb_setting_is_supply (const char *name);
