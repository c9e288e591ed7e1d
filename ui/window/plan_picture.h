/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A small chart of the repeats that a measure takes, as the chart view shows it large. */
#pragma once

#include "analysis.h"

#include <gtk/gtk.h>

/* (transfer floating) */
GtkWidget *sb_plan_picture_new (SbAnalysis *analysis, SbMeasureId measure);
