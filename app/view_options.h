/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Options that say which view of the results a chart gives. */
#pragma once

#include "bench.h"

typedef struct {
  char *view, *measures, *setting;
  gboolean in_order, excluded, difference_only;
} SbViewOptions;

void sb_view_options_clear (SbViewOptions *options);
void sb_view_options_add (GOptionContext *context, SbViewOptions *options);

/* What is wrong with them, as a sentence, or NULL. (transfer full) */
char *sb_view_options_apply (const SbViewOptions *options, SbChartChoices *chart);
