/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Changes of the order of configurations and of what trials they have, each one named step; see edits.h. Trials are
 * given by a sorted list of their indices (guint), which is not empty. */
#pragma once

#include "document.h"

void sb_edit_reorder (SbDocument *document, guint from, guint to);
void sb_edit_move_trials (SbDocument *document, guint from, const GArray *trials, guint to);
void sb_edit_include_trials (SbDocument *document, guint configuration, const GArray *trials, gboolean included);
void sb_edit_split (SbDocument *document, guint configuration, const GArray *trials);
void sb_edit_merge (SbDocument *document, guint from, guint into);
void sb_edit_duplicate (SbDocument *document, guint configuration);
