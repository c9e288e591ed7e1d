/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The report as one self-contained HTML page: works without a network, prints on A4 and Letter. */
#pragma once

#include "analysis.h"

/* `svg` is the chart, shown as an image inside the page. (transfer full) */
char *sb_report_page (const SbAnalysis *analysis, GBytes *svg);
