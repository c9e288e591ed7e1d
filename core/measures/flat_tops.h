/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A signal that is cut off at the end of its sensor's range: it leaves its largest value and comes back to exactly
 * that. For the files of this folder only. */
#pragma once

#include <glib.h>

/* Runs of five samples or more at exactly the largest of samples first..last, with an excursion below it of more than
 * `clear` between one run and the next; 0 when there are fewer than two. `longest` is the length of the longest. */
gsize sb_flat_tops (const double *y, gsize first, gsize last, double clear, gsize *longest);
