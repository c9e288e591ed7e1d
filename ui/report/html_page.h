/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A report as one page of HTML that needs nothing else: the chart stands in it as a drawing, nothing is fetched and
 * nothing is run. It carries its proof. */
#pragma once

#include "report_document.h"

/* `svg` is the chart's file, `proof` a line of proof.h. (transfer full) */
char *sb_html_page (const SbReportDocument *document, GBytes *svg, const char *proof);
