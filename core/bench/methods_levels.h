/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the methods text says of where torques are counted from. */
#pragma once

#include "analysis.h"

/* A sentence with a space behind it; nothing without a step of the torque. Where some torque rests farther than a
 * hundredth of its step from zero before it, with the levels that they rest at. */
void sb_methods_levels_append (GString *text, const SbAnalysis *analysis);
