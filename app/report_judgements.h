/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The compared pair over time, planned repeats, audits and stated figures on the report's page. */
#pragma once

#include "analysis.h"

/* A section with each verdict and its reasons; nothing when nothing was judged. */
void sb_report_judgements_append (GString *html, const SbAnalysis *analysis);
