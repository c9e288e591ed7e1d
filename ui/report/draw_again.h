/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The last part of checking a proof: what is shown is drawn again from the logs at hand and held against the file. */
#pragma once

#include "verify.h"

/* The chart or the report that `path` is. Nothing is compared where the logs or the figures are others, which is said.
 */
void sb_draw_again (SbVerification *verification, const char *path);

/* Every file of the report in `folder`, and its list of checksums. */
void sb_draw_report_again (SbVerification *verification, const char *folder);

/* The file of a report folder that carries the proof for all of it; NULL when `folder` holds no report. (transfer
 * full) */
char *sb_report_folder_proof (const char *folder);
