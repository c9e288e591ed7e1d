/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "paper.h"

#include <math.h>
#include <string.h>

#define MM_PER_INCH 25.4
#define FRAME_DPI   144

/* The frame is 1920 x 1080 pixels, and the same with twice as many. */
static const SbPaperPreset presets[SB_N_PAPER_PRESETS] = {
  { "page-175", "Page, 175 mm wide", { 175, 120, 300, 8, SB_GROUND_WHITE, FALSE, SB_LEGEND_ABOVE, FALSE } },
  { "column", "Journal column, 85 mm", { 85, 95, 600, 7, SB_GROUND_WHITE, FALSE, SB_LEGEND_ABOVE, FALSE } },
  { "frame",
    "16:9 frame, 1920 × 1080",
    { 1920 * MM_PER_INCH / FRAME_DPI, 1080 * MM_PER_INCH / FRAME_DPI, FRAME_DPI, 12, SB_GROUND_WHITE, FALSE,
      SB_LEGEND_ABOVE, FALSE } },
  { "frame-2160",
    "16:9 frame, 3840 × 2160",
    { 1920 * MM_PER_INCH / FRAME_DPI, 1080 * MM_PER_INCH / FRAME_DPI, 2 * FRAME_DPI, 12, SB_GROUND_WHITE, FALSE,
      SB_LEGEND_ABOVE, FALSE } },
  { "square", "Square, 120 mm", { 120, 120, 300, 8, SB_GROUND_WHITE, FALSE, SB_LEGEND_ABOVE, FALSE } },
  { "page", "Journal page, 170 mm", { 170, 115, 600, 8, SB_GROUND_WHITE, FALSE, SB_LEGEND_ABOVE, FALSE } },
};

static const char *const ground_keys[SB_N_GROUNDS] = { [SB_GROUND_WHITE] = "white",
                                                       [SB_GROUND_DARK] = "dark",
                                                       [SB_GROUND_TRANSPARENT] = "transparent",
                                                       [SB_GROUND_TRANSPARENT_DARK] = "transparent-dark" };

static const char *const legend_keys[SB_N_LEGEND_PLACES] = {
  [SB_LEGEND_ABOVE] = "above", [SB_LEGEND_BELOW] = "below", [SB_LEGEND_RIGHT] = "right", [SB_LEGEND_NONE] = "none"
};

static const char *const format_keys[SB_N_CHART_FORMATS]
    = { [SB_CHART_PNG] = "png", [SB_CHART_SVG] = "svg", [SB_CHART_PDF] = "pdf" };

/* Place of `key` in `keys`; -1: it is none of them. */
static int
find_key (const char *const *keys, int n, const char *key)
{
  for (int i = 0; i < n; i++)
    if (strcmp (keys[i], key) == 0)
      return i;
  return -1;
}

gboolean
sb_ground_is_dark (SbGround ground)
{
  return ground == SB_GROUND_DARK || ground == SB_GROUND_TRANSPARENT_DARK;
}

gboolean
sb_ground_is_transparent (SbGround ground)
{
  return ground == SB_GROUND_TRANSPARENT || ground == SB_GROUND_TRANSPARENT_DARK;
}

const char *
sb_ground_key (SbGround ground)
{
  return ground_keys[ground];
}

gboolean
sb_ground_from_key (const char *key, SbGround *ground)
{
  int found = find_key (ground_keys, SB_N_GROUNDS, key);
  if (found >= 0)
    *ground = (SbGround) found;
  return found >= 0;
}

const char *
sb_legend_place_key (SbLegendPlace place)
{
  return legend_keys[place];
}

gboolean
sb_legend_place_from_key (const char *key, SbLegendPlace *place)
{
  int found = find_key (legend_keys, SB_N_LEGEND_PLACES, key);
  if (found >= 0)
    *place = (SbLegendPlace) found;
  return found >= 0;
}

const char *
sb_chart_format_key (SbChartFormat format)
{
  return format_keys[format];
}

gboolean
sb_chart_format_from_key (const char *key, SbChartFormat *format)
{
  int found = find_key (format_keys, SB_N_CHART_FORMATS, key);
  if (found >= 0)
    *format = (SbChartFormat) found;
  return found >= 0;
}

const SbPaperPreset *
sb_paper_preset (guint index)
{
  g_assert (index < SB_N_PAPER_PRESETS);
  return &presets[index];
}

gboolean
sb_paper_preset_from_key (const char *key, guint *index)
{
  for (guint i = 0; i < SB_N_PAPER_PRESETS; i++)
    if (strcmp (presets[i].key, key) == 0) {
      *index = i;
      return TRUE;
    }
  return FALSE;
}

guint
sb_paper_find_preset (const SbPaper *paper)
{
  for (guint i = 0; i < SB_N_PAPER_PRESETS; i++) {
    const SbPaper *preset = &presets[i].paper;
    if (fabs (preset->width_mm - paper->width_mm) < 0.01 && fabs (preset->height_mm - paper->height_mm) < 0.01
        && fabs (preset->dpi - paper->dpi) < 0.5 && fabs (preset->font_pt - paper->font_pt) < 0.01)
      return i;
  }
  return SB_N_PAPER_PRESETS;
}
