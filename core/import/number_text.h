/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Numbers in sentences for people: never a power of ten, a decimal point in every locale. */
#pragma once

#include <glib.h>

/* At most 300 decimals. (transfer full) */
char *sb_number_with_decimals (double value, int decimals);

/* As a person would type it: six digits at most, all of a million and more before the point: "0.3", "0.00001",
 * "1579200". (transfer full) */
char *sb_number_plain (double value);

/* A short time in the unit that leaves no zeros in front, three digits at most: "0.12 s", "1.5 ms", "10 µs". (transfer
 * full) */
char *sb_seconds_plain (double seconds);

/* The sentence with numbers such as 1.4e+03 written out, 1400, from 1e-12 to 1e20: beyond these nobody would read the
 * zeros. Takes `text` over. (transfer full) */
char *sb_plain_sentence (char *text);
