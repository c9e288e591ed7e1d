/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Inside of audit*.c only: the verdict where the slope stays, or is not seen to move. */
#pragma once

#include "audit_parts.h"

/* Of levels that are closer together than the margin a slope in proportion to them would stay, by the margin: TRUE,
 * with a reason. */
gboolean sb_audit_levels_are_too_close (SbAuditWork *work);

/* Undecided for what noise may have made, or for standing above it at no level. */
gboolean sb_audit_is_for_the_noise (const SbAuditWork *work, SbMeasureId id);

SbAuditVerdict sb_audit_judge_steady (SbAuditWork *work);

/* Cannot tell, but where the slope is known not to follow the level, and something else moves. */
SbAuditVerdict sb_audit_judge_undecided (SbAuditWork *work);
