/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Whether the rows of a log are its samples: times too coarse for them, and columns that repeat a value until the next
 * one comes (sample and hold). Definitions: 'Time base' of docs/methods.md. */
#pragma once

#include "trial.h"

/* Fills stamp_sd_s and refresh_s from the time base and the logged channels, with a note of what is found. */
void sb_sampling_find (SbTrial *trial);

/* Rows from one value of the n at `y` to the next, where the same number of rows says each value again, as far as that
 * shows: 16 of a signal of 250 Hz in a log of 4 kHz. 0 where the values change from row to row, are too few, or change
 * by one step of a coarse signal, which stays at a value by itself. */
double sb_refresh_rows (const double *y, gsize n);
