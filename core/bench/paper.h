/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a chart is printed on: its size and resolution, the size of its text, ground and colours. A choice of the bench,
 * so that the last one stays with the session and is part of a chart's proof. */
#pragma once

#include <glib.h>

typedef enum {
  SB_GROUND_WHITE,
  SB_GROUND_DARK,             /* for slides: light lines and text */
  SB_GROUND_TRANSPARENT,      /* for a light page */
  SB_GROUND_TRANSPARENT_DARK, /* for a dark one */
  SB_N_GROUNDS,
} SbGround;

typedef enum {
  SB_LEGEND_ABOVE,
  SB_LEGEND_BELOW, /* between the panels and the foot line */
  SB_LEGEND_RIGHT, /* beside the panels, an entry on each line */
  SB_LEGEND_NONE,  /* for a caption that says which curve is which */
  SB_N_LEGEND_PLACES,
} SbLegendPlace;

/* What a chart is written as. No part of the paper, for a chart drawn again is the same in each. */
typedef enum {
  SB_CHART_PNG,
  SB_CHART_SVG,
  SB_CHART_PDF,
  SB_N_CHART_FORMATS,
} SbChartFormat;

typedef struct {
  double width_mm, height_mm;
  double dpi;     /* of PNG */
  double font_pt; /* of axis numbers, at the printed size */
  SbGround ground;
  gboolean grey; /* greys in place of colours; dashes tell the configurations apart */
  SbLegendPlace legend;
  gboolean no_foot; /* without the foot line; the proof inside the file still says what it said */
} SbPaper;

gboolean sb_ground_is_dark (SbGround ground); /* what is drawn on it is light */
gboolean sb_ground_is_transparent (SbGround ground);
const char *sb_ground_key (SbGround ground);            /* "white", "dark", "transparent", "transparent-dark" */
const char *sb_legend_place_key (SbLegendPlace place);  /* "above", "below", "right", "none" */
const char *sb_chart_format_key (SbChartFormat format); /* "png", "svg", "pdf" */

/* TRUE with the value when `key` names one. */
gboolean sb_ground_from_key (const char *key, SbGround *ground);
gboolean sb_legend_place_from_key (const char *key, SbLegendPlace *place);
gboolean sb_chart_format_from_key (const char *key, SbChartFormat *format);

/* Sizes that are often asked for; the first is the usual one. */
typedef struct {
  const char *key, *name; /* "column"; "Journal column, 85 mm" */
  SbPaper paper;
} SbPaperPreset;

#define SB_N_PAPER_PRESETS 6

const SbPaperPreset *sb_paper_preset (guint index);

/* TRUE with its index when `key` names a preset. */
gboolean sb_paper_preset_from_key (const char *key, guint *index);

/* The preset whose size, resolution and text `paper` has; SB_N_PAPER_PRESETS: none. */
guint sb_paper_find_preset (const SbPaper *paper);
