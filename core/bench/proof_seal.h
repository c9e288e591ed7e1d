/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The seal of a proof: the SHA-256 of its text without the member "seal". It tells a proof that was edited from one
 * that is as it was written. It is no signature: who edits can seal anew, and then the figures no longer follow from
 * the choices. */
#pragma once

#include <json-glib/json-glib.h>

/* One line, plain ASCII: every other character in a text, and '<', '>' and '&', stand as \uXXXX. (transfer full) */
char *sb_proof_line (JsonNode *node);

/* Adds the member "seal" at the end of the object that `node` holds. */
void sb_proof_seal (JsonNode *node);

/* Whether the seal of the object fits the rest of it. */
gboolean sb_proof_seal_fits (JsonNode *node);
