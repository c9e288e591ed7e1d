/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a person stated of how logs are written: some members of a dialect, and what some columns are. Whatever is not
 * stated is found in each log (propose.h). A log is then read by the layout that both come to.
 *
 * Immutable; shared between benches and threads. */
#pragma once

#include "log.h"

/* Columns are stated by name; one with the name "" is whichever was found to have its role. A unit of NULL and values
 * that are NaN, wrap among them, are not stated. Only the name, the sample rate and the columns of the layout
 * count. */
typedef struct {
  SbLayout *layout;
  SbDialectChoices fixed; /* its comment_prefix belongs to the choice */
  gboolean of_shape;      /* for logs of exactly these columns; FALSE: for every log that has them among its own */
  char *unknown;          /* what a later version's session says of it (unknown_members.h); GRefString or NULL */
  gatomicrefcount ref_count;
} SbLayoutChoice;

/* Takes over a reference to `layout`, which is not to be changed any more; `fixed` may be NULL. (transfer full) */
SbLayoutChoice *sb_layout_choice_new (SbLayout *layout, const SbDialectChoices *fixed, gboolean of_shape);

/* For logs of the shape of `layout`, which is that of a log, with all that it says of its columns. Columns in SI say so
 * from then on, whatever the header of another log says. (transfer full) */
SbLayoutChoice *sb_layout_choice_of_shape (const SbLayout *layout, const SbDialectChoices *fixed);

SbLayoutChoice *sb_layout_choice_ref (SbLayoutChoice *choice);
void sb_layout_choice_unref (SbLayoutChoice *choice);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SbLayoutChoice, sb_layout_choice_unref)

/* The same choice under another name. (transfer full) */
SbLayoutChoice *sb_layout_choice_rename (const SbLayoutChoice *choice, const char *name);

/* TRUE when reading with either gives the same; `a` and `b` may be NULL. Names given by people do not count. */
gboolean sb_layout_choice_equal (const SbLayoutChoice *a, const SbLayoutChoice *b);

/* TRUE when a newer one takes the place of an older: both are for logs of one shape, or state the same columns by name.
 * One that names no column takes the place of its like alone. */
gboolean sb_layout_choice_replaces (const SbLayoutChoice *newer, const SbLayoutChoice *older);

/* Whether it fixes anything of the dialect. */
gboolean sb_layout_choice_fixes_dialect (const SbLayoutChoice *choice);

/* `found`, as proposed for a log with choice->fixed, with what is stated of its columns, confirmed unless a value that
 * they want is still missing. Another column
 * found for a role that is stated for one by name is read past. NULL when the log is not one that the choice is for.
 * (transfer full) */
SbLayout *sb_layout_choice_apply (const SbLayoutChoice *choice, const SbLayout *found);

/* Whether the choice is for the log at `path`, by the head of its file. `cancellable` may be NULL. */
gboolean sb_layout_choice_is_for_file (const SbLayoutChoice *choice, const char *path, GCancellable *cancellable);

/* Whether a log that was read by `layout` has the columns that the choice is for, however it is written. */
gboolean sb_layout_choice_is_for_columns (const SbLayoutChoice *choice, const SbLayout *layout);

/* Whether the choice is for a log that was read by `layout`. */
gboolean sb_layout_choice_fits (const SbLayoutChoice *choice, const SbLayout *layout);
