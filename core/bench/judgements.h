/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is judged of the configurations once they are measured: settings and stated figures. Inside of analysis.c. */
#pragma once

#include "analysis.h"

/* Fills ->audits and ->claims; what is cancelled is left out of them. */
void sb_judgements_add (SbAnalysis *analysis, GCancellable *cancellable);

/* The facts of the used trials of a configuration, in order; borrowed. (transfer container) */
GPtrArray *sb_configuration_used_facts (const SbConfigurationResult *configuration);
