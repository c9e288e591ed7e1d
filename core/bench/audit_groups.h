/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Which configurations can be held against each other to audit a setting. Inside of judgements.c. */
#pragma once

#include "analysis.h"

/* How the rotation range is called as a setting. */
#define SB_ROTATION_SETTING "rotation range"

/* What a setting is in a configuration whose used trials agree on it. */
typedef struct {
  guint configuration;
  const char *text; /* borrowed from the facts, or owned by the group */
  double value;     /* NaN: a word */
  const char *unit;
} SbAuditMember;

typedef struct {
  char *setting;
  gboolean of_range;
  const SbTrialFacts *first; /* of its first configuration, borrowed; NULL: it has none */
  guint family;              /* groups of one setting and family differ in command or inertia alone */
  GArray *members;           /* SbAuditMember */
  GPtrArray *texts;          /* char *; owned */
} SbAuditGroup;

/* Both are of one family and inertia, and differ in the size of the step. */
gboolean sb_audit_groups_are_other_steps (const SbAuditGroup *a, const SbAuditGroup *b);

/* At the same level, be it of two groups. */
gboolean sb_audit_members_are_of_one_level (const SbAuditMember *a, const SbAuditMember *b);

/* SbAuditGroup for each set of configurations that state two levels or more of a setting and are alike in all else:
 * command size and inertia within 1 %, as in a comparison, the rest the same. For the settings named by the bench, and
 * for all of them when it names none. A named setting for which there is no such set gives the configurations of each
 * device, and when none of them states two levels, all that state it, be it one. To `apart` a sentence is added
 * (transfer full) for each setting, none being named, that two configurations state at different levels though no two
 * are alike in all else; and for each configuration whose logs state different levels. Unfinished once `cancellable`
 * (may be NULL) is cancelled. (transfer full) */
GPtrArray *sb_audit_groups_find (const SbAnalysis *analysis, GPtrArray *apart, GCancellable *cancellable);
