/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a chart's file says of itself beside the picture. */
#pragma once

#include "chart_model.h"

typedef struct {
  char *title;       /* that of the chart, or else what it shows; never "" */
  char *description; /* for who cannot see it */
  char *proof;       /* proof.h of core/bench */
} SbFileFacts;

void sb_file_facts_init (SbFileFacts *facts, const SbChartModel *model);
void sb_file_facts_clear (SbFileFacts *facts);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (SbFileFacts, sb_file_facts_clear)
