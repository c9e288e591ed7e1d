/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Why a setting that configurations state at different levels is not audited. Inside of judgements.c and
 * audit_groups.c. */
#pragma once

#include "analysis.h"

/* The setting of this name, whatever its case; NULL when it is not stated. Borrowed. */
const SbSetting *sb_audit_setting_of (const SbTrialFacts *facts, const char *name);
gboolean sb_audit_same_name (const char *a, const char *b);

/* The same for what means the same: "2 n·m/ms", "off"; NULL when it is not stated. (transfer full) */
char *sb_audit_level_key (const SbTrialFacts *facts, const char *name, gboolean of_range);

/* The command's size, and the inertia: measured of the rig and never the same to the last digit; as the fairness of a
 * comparison has it, within 1 %. What neither states is alike. */
gboolean sb_audit_same_command (const SbTrialFacts *a, const SbTrialFacts *b);
gboolean sb_audit_same_inertia (const SbTrialFacts *a, const SbTrialFacts *b);

/* One configuration that states the setting. All borrowed. */
typedef struct {
  const char *name;
  const SbTrialFacts *facts;
} SbAuditApart;

/* "torque slope is not audited: no two configurations at different levels of it are alike in all else. Nearest are “a”
 * and “b”, which differ in rotation range too (540 deg, 900 deg)." `names` are those of all settings. NULL when no two
 * of them are at different levels. NULL too when `cancellable` (may be NULL) is cancelled. (transfer full) */
char *sb_audit_apart_sentence (const char *setting, gboolean of_range, const SbAuditApart *stated, gsize n,
                               const GPtrArray *names, GCancellable *cancellable);
