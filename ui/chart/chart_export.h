/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A chart as a file: PNG, SVG or PDF at a size in mm. Same model, same size: same bytes; no time stamp. */
#pragma once

#include "chart_model.h"

typedef struct {
  double width_mm, height_mm;
  double dpi;     /* of PNG; 300 is usual */
  double font_pt; /* of axis numbers, at the printed size */
} SbChartSize;

#define SB_CHART_SIZE_PAGE ((SbChartSize){ 175, 120, 300, 8 })

SbChartSize sb_chart_size_of (const SbPaper *paper);

typedef enum {
  SB_CHART_ERROR_FORMAT, /* the file name ends in none of .png .svg .pdf */
  SB_CHART_ERROR_SIZE,   /* beyond 10 to 2000 mm, 36 to 2400 dpi, or too many pixels */
  SB_CHART_ERROR_EMPTY,  /* nothing to draw */
  SB_CHART_ERROR_WRITE,
} SbChartError;

#define SB_CHART_ERROR (sb_chart_error_quark ())
GQuark sb_chart_error_quark (void);

gboolean sb_chart_format_from_path (const char *path, SbChartFormat *format, GError **error);

/* Whether a file of this size can be made; else an error in SB_CHART_ERROR_SIZE that says what can. */
gboolean sb_chart_size_check (const SbChartSize *size, SbChartFormat format, GError **error);

/* The bytes of the file. (transfer full) */
GBytes *sb_chart_render (const SbChartModel *model, SbChartFormat format, const SbChartSize *size, GError **error);

/* Renders in the format that the path's ending names and writes atomically. */
gboolean sb_chart_export (const SbChartModel *model, const char *path, const SbChartSize *size, GError **error);
