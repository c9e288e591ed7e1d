/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Inside of audit*.c only: does the slope follow the level in proportion? */
#pragma once

#include "audit_parts.h"

/* Fills ->proportion, ->ceiling and ->ceiling_slope, with reasons. FALSE, with nothing filled, when fewer than two
 * levels are positive numbers. */
gboolean sb_audit_find_proportion (SbAuditWork *work, gboolean inverse);

/* Adds how the slopes stand to the levels where these are slopes themselves. */
void sb_audit_tell_stated (SbAuditWork *work);

/* Some level is a slope, and the mean torque slope at it is within the choice (10 %) of it. */
gboolean sb_audit_meets_stated (const SbAuditWork *work);
