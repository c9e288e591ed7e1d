/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The audits and stated figures of an analysis, for results.h. */
#pragma once

#include "analysis.h"

#include <json-glib/json-glib.h>

/* The members "audits" and "claims" of the object being built. */
void sb_judgements_build (JsonBuilder *builder, const SbAnalysis *analysis);

/* "torque slope of Teasel, 0.3 N·m/ms to 2.0 N·m/ms". (transfer full) */
char *sb_audited_setting_heading (const SbAuditedSetting *audited);

/* "Teasel (device): Peak torque slope at least 2 N·m/ms". (transfer full) */
char *sb_claim_heading (const SbAnalysis *analysis, const SbClaimResult *claim);

/* "limits the torque slope, seen up to 0.8 N·m/ms ?" and "not reached ?", in the bench's words (verdict_words.h).
 * (transfer full) */
char *sb_audit_shown_verdict (const SbBench *bench, const SbAudit *audit);
char *sb_claim_shown_verdict (const SbBench *bench, const SbClaimResult *claim);

/* A section of plain text for each: what is judged, the verdict, the reasons; "" when there are none. (transfer full)
 */
char *sb_judgements_text (const SbAnalysis *analysis);

/* Sentences for the methods text on what was judged, and how; "" when nothing was. (transfer full) */
char *sb_judgements_methods (const SbAnalysis *analysis);
