/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a report says of the pair, audited settings, stated figures and drive models. */
#pragma once

#include "report_document.h"

void sb_report_add_judgements (SbReportDocument *document, const SbAnalysis *analysis);
