/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What there is to look at in single logs, as the results tell it: what holds for several is told once. */
#pragma once

#include "analysis.h"

/* "Fern, run-03.csv: ...", "4 logs (Fern, run-01.csv; Fern, run-02.csv; ...): ...", char *, in the order of the bench,
 * without a full stop. Of one kind with ever other figures the first four, then "6 more logs (...), each with figures
 * of its own, of which the first has these: ...". (transfer full) */
GPtrArray *sb_results_remarks (const SbAnalysis *analysis);
