/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The one rule of comparisons and audits for figures that noise raises: a verdict holds for what was found and for what
 * is left of it without what noise is expected to have made. Definitions: 'Comparison' of docs/methods.md. */
#pragma once

#include <glib.h>

/* p of what is left of a difference, corrected as that of the difference was: by the factor p_holm / of_p. */
double sb_noise_corrected (double p, double p_holm, double of_p);

/* What noise raises a figure by is an expectation, known to this share of itself. */
#define SB_NOISE_KNOWN_TO 0.25

/* The verdict on `subject` less `share` times what noise is expected to have made of it. */
typedef int (*SbVerdictWithout) (gconstpointer subject, double share);

/* Whether noise may account for `verdict`: it would be another one, or a difference (`differs`) the other way round,
 * without what noise is expected to have made of it (`by_noise`, as signed as `difference`) or a quarter more. */
gboolean sb_noise_may_account (int verdict, gboolean differs, double difference, double by_noise,
                               SbVerdictWithout without, gconstpointer subject);
