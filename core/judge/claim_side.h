/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Inside of claim*.c only: one configuration held against a stated figure. */
#pragma once

#include "claim.h"

/* "2 N·m/ms", "5 ms ± 0.5 ms": digits as stated, in these units. (transfer full) */
char *sb_claim_value_text (const SbClaim *claim, SbUnits units);

/* One of `n_sides` configurations that share the 5 %, its sentence in these units. (transfer full) */
SbClaimSide *sb_claim_side_new (const SbClaim *claim, const SbClaimInput *input, gsize n_sides, SbUnits units);
void sb_claim_side_free (gpointer side);
