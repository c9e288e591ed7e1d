/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The drive models of an analysis, for results.h. */
#pragma once

#include "analysis.h"

#include <json-glib/json-glib.h>

/* The member "drive_models" of the object being built; none when they were not chosen. */
void sb_drive_models_build (JsonBuilder *builder, const SbAnalysis *analysis);

/* A section of plain text for each model: form, parameters, limits, doubts; "" when they were not chosen. (transfer
 * full) */
char *sb_drive_models_text (const SbAnalysis *analysis);
