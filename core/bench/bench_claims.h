/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The stated figures of a bench and the settings to be audited, as choices. */
#pragma once

#include "bench.h"

#include <json-glib/json-glib.h>

/* Puts a copy of `claim` at the end, or in the place of claim `index`. */
void sb_bench_add_claim (SbBench *edited, const SbClaim *claim);
void sb_bench_set_claim (SbBench *edited, guint index, const SbClaim *claim);
void sb_bench_remove_claim (SbBench *edited, guint index);
guint sb_bench_n_claims (const SbBench *bench);
const SbClaim *sb_bench_claim (const SbBench *bench, guint index);

/* What is stated of configuration `from` becomes stated of `to`. */
void sb_bench_move_claims (SbBench *edited, guint from, guint to);

/* Claims when configuration `index` is taken out: its own go, the others keep theirs. */
void sb_bench_claims_after_removal (SbBench *edited, guint index);

/* Names of the settings to be audited, n of them; NULL: every one that can be. */
void sb_bench_set_audits (SbBench *edited, const char *const *settings, gsize n);

/* What a claim is of: the name of its configuration, "Teasel (device)" or "some configuration". (transfer full) */
char *sb_bench_claim_owner (const SbBench *bench, const SbClaim *claim);

/* Reads "OWNER: MEASURE RELATION NUMBER UNIT [± NUMBER UNIT]", as in
 *
 *     Teasel: peak_torque_slope >= 2 N·m/ms
 *     soft start: Dead time about 5 ms ± 10 %
 *
 * OWNER names a configuration, else it is a device that logs name; without it and its colon the claim is of all.
 * MEASURE is a key or a name; RELATION >=, <=, ≥, ≤, ~, "at least", "at most", "about". A measure without a unit takes
 * a plain number or percent. NULL with an error in SB_SESSION_ERROR_READ that says what is wrong. (transfer full) */
SbClaim *sb_claim_parse (const SbBench *bench, const char *text, GError **error);

/* Members "audits" and "claims" of a session; each is left out when it says nothing. */
void sb_bench_claims_build (JsonBuilder *builder, const SbBench *bench);
gboolean sb_bench_claims_read (JsonObject *root, SbBench *bench, GError **error);
