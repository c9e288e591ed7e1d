/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Inside of audit*.c only: figures of an audit in words. */
#pragma once

#include "audit_parts.h"

/* "12.1 % (95 % interval 9.8 to 14.4 %)" of value * factor in `unit`. (transfer full) */
char *sb_audit_interval (double value, const double ci95[2], double factor, const char *unit);

/* "98.2 % of", "12.50 times": before what it is a share of. (transfer full) */
char *sb_audit_share_text (double ratio);

/* A measure's mean at a level, with its unit. (transfer full) */
char *sb_audit_value (const SbAudit *audit, SbMeasureId id, gsize level);

/* "Dead time moves: 14.9 ms at 0.3 N·m/ms, 5.0 ms at 2.0 N·m/ms, −66 % (95 % interval −68 to −65 %), p < 0.001 after
 * Holm"; of a measure that is not absent. (transfer full) */
char *sb_audit_measure_text (const SbAudit *audit, SbMeasureId id);

/* That sentence as a reason, or why the measure is absent. */
void sb_audit_tell_measure (SbAuditWork *work, SbMeasureId id);

typedef gboolean (*SbAuditChosen) (const SbAuditWork *work, SbMeasureId id);

/* "dead time, overshoot" of the measures chosen; NULL when there are none. (transfer full) */
char *sb_audit_list_measures (const SbAuditWork *work, SbAuditChosen chosen);
