/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The steps that a signal is logged in: of its sensor, its input, its counter or its decimals. */
#pragma once

#include <glib.h>

/* The step that all differences of the n values are whole multiples of, within a fiftieth of it; 0 where they are none,
 * as with values of all digits, or where they change too evenly to tell a coarse signal from a straight one: a signal
 * in steps changes by more and by less in turn wherever it passes them, at rest or not. Unlike sb_step_to_and_fro() it
 * sees them on a rise that never turns back. */
double sb_quantum (const double *y, gsize n);
