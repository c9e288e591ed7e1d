/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The choices in a proof, in a sentence or two. For verify_text.c. */
#pragma once

#include "verify.h"

/* "2 configurations: A (8 repeats), B (7 of 8 repeats; run-3.csv left out: touched). B against A. Other than usual:
 * slope window 2 ms." (transfer full) */
char *sb_verify_choices_text (const SbVerification *verification);
