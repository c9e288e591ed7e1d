/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What there is to look at in single logs, as the results tell it: what holds for several, be it with other figures, is
 * told once. */
#pragma once

#include "analysis.h"

/* "Fern, run-03.csv: ...", "4 logs (Fern, run-01.csv; Fern, run-02.csv; ...): ...", char *, in the order of the bench,
 * without a full stop. (transfer full) */
GPtrArray *sb_results_remarks (const SbAnalysis *analysis);
