/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Finds the logs that a proof names: beside its file, and in a folder with all that it holds. For verify.c. */
#pragma once

#include "verify.h"

/* SbVerifiedLog for each log of the proof. NULL when cancelled. (transfer full) */
GArray *sb_verify_find_logs (const SbProof *proof, const char *beside, const char *folder, GCancellable *cancellable);

/* verify_judgements.c: fills in the facts of the judgements and their counts. */
void sb_verify_judgements (SbVerification *verification);
