/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A chart as it will be exported: at the true proportions of paper, text and lines, in its colours, on its ground. */
#pragma once

#include "chart_model.h"

#include <gtk/gtk.h>

GtkWidget *sb_export_preview_new (void);

/* `model` may be NULL: nothing is shown. Its ground and colours are set here. */
void sb_export_preview_set_model (GtkWidget *preview, SbChartModel *model);
void sb_export_preview_show (GtkWidget *preview, const SbPaper *paper);

/* Whether the text is smaller than asked for on that paper: chart_fit.h. (transfer full) */
char *sb_export_preview_advice (GtkWidget *preview);

/* As large on the screen as it is printed, as far as the screen says how large it is; else as large as fits. */
void sb_export_preview_set_true_size (GtkWidget *preview, gboolean true_size);
