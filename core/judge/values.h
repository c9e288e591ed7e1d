/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Inside judge only: the values one fact takes over the trials of a side, and how they read to people. */
#pragma once

#include <glib.h>

typedef struct {
  GPtrArray *distinct; /* Value of values.c, in order of appearance; numbers rise */
  const char *unit;    /* put once behind all of them; NULL when the texts need none */
  double ratio;        /* numbers closer than this share of the larger one are the same */
  gsize n, n_missing;  /* trials; those that do not state it */
} SbValues;

SbValues *sb_values_new (const char *unit, double ratio);
void sb_values_free (SbValues *values);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SbValues, sb_values_free)

/* NaN: not stated. */
void sb_values_add_number (SbValues *values, double value);

/* `text` NULL: not stated. `value` is the number in the text, NaN when it is a word; numbers of one unit are compared
 * as such ("0" and "0.0" are the same), anything that means zero ("off", "none") as zero, words without regard to case.
 */
void sb_values_add_text (SbValues *values, const char *text, double value, const char *unit);

/* TRUE when all trials of both sides state the same, or none of them states anything. */
gboolean sb_values_alike (const SbValues *a, const SbValues *b);

/* TRUE when all trials state one and the same. */
gboolean sb_values_is_one (const SbValues *values);

/* TRUE when every value stated means zero. */
gboolean sb_values_zero (const SbValues *values);

/* "540 deg", "90 and 540 deg", "540 deg; not stated in 2 of 8 trials", "not stated". (transfer full) */
char *sb_values_describe (const SbValues *values);
