/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Ten times, a tenth of, a thousandth of a unit, in words or in digits: "centi-Nm", "milli rad", "0.1Nm", "10 us".
 * For unit.c and header.c only. */
#pragma once

#include <glib.h>

/* The power of ten that `spelling` begins with: a prefix of SI spelt out with or without hyphen or blank behind it, or
 * a 1 among zeros ("10", "0.01", "0,1"). Where what it multiplies begins; NULL when it begins with none, or when
 * nothing follows. */
const char *sb_unit_multiplier_read (const char *spelling, int *power_of_ten);

/* The plain number that `spelling` begins with, as a whole number without zeros at its end times a power of ten: 5 and
 * 1 of "50 us", 25 and -2 of "0,25ms". Where what it counts begins; NULL for no such number, or when nothing follows.
 */
const char *sb_unit_number_read (const char *spelling, double *factor, int *power_of_ten);
