/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where a log is written otherwise than a layout states that is for its columns: to be told, for the layout is passed
 * over then. */
#pragma once

#include "layout_choice.h"

/* "delimiter semicolon and header_line 3": what is fixed, by the names of the layout file. (transfer full) */
char *sb_layout_clash_fixed (const SbDialectChoices *fixed);

/* "passed over is the layout 'rig' ...": why `choice`, which is for the columns of `layout`, cannot have been followed
 * in reading a log by `layout`, and what to do; NULL when it is for other columns or for a log written so. (transfer
 * full)
 */
char *sb_layout_clash_text (const SbLayoutChoice *choice, const SbLayout *layout);
