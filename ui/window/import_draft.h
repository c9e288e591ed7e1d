/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How a person says that a file is written, while saying it: what was proposed, with what has been changed of it. No
 * widget, no file. */
#pragma once

#include "layout_values.h"
#include "log.h"

/* A value that a column needs besides its unit. */
typedef enum {
  SB_EXTRA_NONE,
  SB_EXTRA_COUNTS_PER_TURN,
  SB_EXTRA_TORQUE_CONSTANT,
  SB_EXTRA_TORQUE_PER_VOLT,
  SB_EXTRA_FULL_SCALE,
  SB_EXTRA_SAMPLE_RATE,
} SbExtra;

typedef struct {
  SbDialectChoices fixed; /* what the person chose of the dialect; its comment prefix belongs to the draft */
  SbLayout *layout;       /* the draft's own; NULL until something was proposed */
  GHashTable *wrong;      /* index of a column -> what is wrong with what was written for it; NULL: nothing is */
} SbImportDraft;

SbImportDraft *sb_import_draft_new (const SbDialectChoices *fixed); /* NULL: nothing chosen */
void sb_import_draft_free (SbImportDraft *draft);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SbImportDraft, sb_import_draft_free)

void sb_import_draft_fix_comment_prefix (SbImportDraft *draft, const char *prefix); /* NULL: automatic */

/* Takes what was proposed for the dialect chosen. Columns that the person has confirmed, or that `known` (may be NULL)
 * has, keep what they are where one of their name is proposed again. */
void sb_import_draft_take (SbImportDraft *draft, const SbLayout *proposed, const SbLayout *known);

/* Each of these confirms the column. A role of a log is that of one column: the one that had it is read past then. A
 * value (NaN: not known, or none) that the column does not take is not set: the volts at no torque beside a torque per
 * volt, after how much an angle begins again, a factor, and what the unit wants. */
void sb_import_draft_set_role (SbImportDraft *draft, guint column, SbRole role);
void sb_import_draft_set_unit (SbImportDraft *draft, guint column, const SbUnit *unit);
gboolean sb_import_draft_takes (const SbImportDraft *draft, guint column, SbLayoutValue value);
double sb_import_draft_value (const SbImportDraft *draft, guint column, SbLayoutValue value);
void sb_import_draft_set_value (SbImportDraft *draft, guint column, SbLayoutValue value, double number);

/* Which value a column needs; it may be known already. */
SbExtra sb_import_draft_extra (const SbImportDraft *draft, guint column);
SbLayoutValue sb_import_draft_extra_kind (const SbImportDraft *draft, guint column); /* SB_N_LAYOUT_VALUES: none */
double sb_import_draft_extra_value (const SbImportDraft *draft, guint column);       /* NaN: not known */

/* Whether the column cannot be read without the value. A current that nobody takes for the torque can. */
gboolean sb_import_draft_extra_is_wanted (const SbImportDraft *draft, guint column);

/* "Counts per turn", "Torque constant [N·m/A]", "Torque per volt [N·m/V]", "100 % is [N·m]"; the unit follows from the
 * column. (transfer full) */
char *sb_import_draft_extra_name (const SbImportDraft *draft, guint column);

/* How sure the column is, as it stands in the draft, and in words: "guessed", "counts per turn wanted". */
SbCertainty sb_import_draft_certainty (const SbImportDraft *draft, guint column);
const char *sb_import_draft_certainty_words (const SbImportDraft *draft, guint column);

/* Whether no column is the time and there is a signal: each row is a sample then, of a rate that is to be stated. */
gboolean sb_import_draft_wants_rate (const SbImportDraft *draft);
void sb_import_draft_set_rate (SbImportDraft *draft, double rate_hz); /* NaN: not known */

/* What was written for the column is no value: "'2,5x' is no number"; NULL: it is one. */
void sb_import_draft_set_wrong (SbImportDraft *draft, guint column, const char *what);

/* What keeps the file from being read by this draft, in a sentence; NULL when nothing does. (transfer full) */
char *sb_import_draft_problem (const SbImportDraft *draft);

/* How many columns are guessed or miss a value; a rate that is wanted and that no person has stated or confirmed counts
 * as one. */
guint sb_import_draft_n_uncertain (const SbImportDraft *draft);

/* "2 columns need a look: see the marks." (transfer full) */
char *sb_import_draft_heading (const SbImportDraft *draft);

/* The layout with every column confirmed: the person has seen it. (transfer full) */
SbLayout *sb_import_draft_confirmed (const SbImportDraft *draft);
