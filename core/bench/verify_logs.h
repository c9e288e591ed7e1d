/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Finds the logs that a proof names: beside its file, and in a folder with all that it holds. For verify.c. */
#pragma once

#include "verify.h"

/* SbVerifiedLog for each log of the proof. `unread` holds names of logs that could not be read when it was made, and
 * gets the path (char *, owned) of each, NULL of one that is not found. NULL when cancelled. (transfer full) */
GArray *sb_verify_find_logs (const SbProof *proof, const char *beside, const char *folder, GHashTable *unread,
                             GCancellable *cancellable);

/* verify_judgements.c: fills in the facts of the judgements and their counts. */
void sb_verify_judgements (SbVerification *verification);
