/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Ten times, a tenth of, a thousandth of a unit, in words or in digits: "centi-Nm", "milli rad", "0.1Nm", "10 us".
 * For unit.c and header.c only. */
#pragma once

#include <glib.h>

/* The power of ten that `spelling` begins with: a prefix of SI spelt out with or without hyphen or blank behind it, or
 * a 1 among zeros ("10", "0.01", "0,1"). Where what it multiplies begins; NULL when it begins with none, or when
 * nothing follows. */
const char *sb_unit_multiplier_read (const char *spelling, int *power_of_ten);

/* TRUE when the power of ten is written in digits. */
gboolean sb_unit_multiplier_is_number (const char *spelling);
