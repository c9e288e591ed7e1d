/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The mean curves of a configuration as data. Same analysis, same bytes. */
#pragma once

#include "analysis.h"

/* "curves/2-slope-0.3.csv": number and name of configuration `index`, of letters that every file system takes.
 * (transfer full) */
char *sb_results_curves_name (const SbAnalysis *analysis, guint index);

/* CSV (RFC 4180): a row for each point of the grid with the time after the onset, mean and sample standard deviation of
 * each channel that was averaged, and the number of repeats there; a cell without a value is empty. SI units stand in
 * the heading. NULL for a configuration without a usable trial. (transfer full) */
char *sb_results_curves_csv (const SbAnalysis *analysis, guint index);
