/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A whole report in memory: every file of its folder. A pure function of the analysis and of what is marked, so that
 * `verify` can hold a report's files against what comes out again. */
#pragma once

#include "pdf_pages.h"

typedef struct {
  char *name; /* relative, "/" between folders */
  GBytes *bytes;
} SbReportFile;

/* Of the list of checksums. */
#define SB_REPORT_SUMS "SHA256SUMS"

/* `evidence` as in sb_chart_model_new(). The last file is SHA256SUMS, which `sha256sum -c` accepts. Errors in
 * SB_CHART_ERROR. SbReportFile. (transfer full) */
GPtrArray *sb_report_files (SbAnalysis *analysis, int evidence, SbPaperSize sheet, GError **error);

/* Writes all of them in the folder "report" of a bundle (bundle.h) at `path`, with the logs. */
gboolean sb_report_bundle (SbAnalysis *analysis, int evidence, SbPaperSize sheet, const char *path, GError **error);

/* One of them alone. (transfer full) */
GBytes *sb_report_page_bytes (SbAnalysis *analysis, int evidence, GError **error);
GBytes *sb_report_pdf_bytes (SbAnalysis *analysis, int evidence, SbPaperSize sheet, GError **error);
