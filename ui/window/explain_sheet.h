/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How one measure was come by: definition, formula, source, then each trial's points, intermediate figures and doubts,
 * word for word what `measure --explain` prints. */
#pragma once

#include "analysis.h"

#include <gtk/gtk.h>

/* The text is made by a worker thread: the sheet opens at once and is filled when it comes. */
void sb_explain_sheet_present (GtkWindow *parent, SbAnalysis *analysis, SbMeasureId id);
