/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "style.h"

#include <math.h>

static const double dashed[] = { 5, 2.4 };
static const double dash_dot[] = { 6, 2, 1.2, 2 };
static const double dotted[] = { 1.3, 1.9 };
static const double long_dashed[] = { 10, 2.8 };
static const double dash_dot_dot[] = { 6, 1.9, 1.2, 1.9, 1.2, 1.9 };
static const double two_dashed[] = { 7, 2, 3, 2 };
static const double long_dash_dot[] = { 12, 2, 1.2, 2 };
static const double short_dashed[] = { 2.6, 2 };
static const double dash_three_dots[] = { 6, 1.9, 1.2, 1.9, 1.2, 1.9, 1.2, 1.9 };
static const double wide_dotted[] = { 1.3, 4 };
static const double longest_dashed[] = { 16, 3 };

#define DASH(pattern) pattern, (int) G_N_ELEMENTS (pattern)

/* Hues of Okabe & Ito 2008; those too pale for a line on white are darkened to a contrast of 3 : 1 or more (the bound
 * of WCAG 2.1, 1.4.11, for graphics), and yellow is left out. */
#define BLUE                                                                                                           \
  {                                                                                                                    \
    0.000, 0.447, 0.698                                                                                                \
  }
#define VERMILION                                                                                                      \
  {                                                                                                                    \
    0.800, 0.330, 0.000                                                                                                \
  }
#define GREEN                                                                                                          \
  {                                                                                                                    \
    0.000, 0.520, 0.380                                                                                                \
  }
#define PURPLE                                                                                                         \
  {                                                                                                                    \
    0.680, 0.330, 0.540                                                                                                \
  }
#define ORANGE                                                                                                         \
  {                                                                                                                    \
    0.720, 0.470, 0.000                                                                                                \
  }
#define LIGHT_BLUE                                                                                                     \
  {                                                                                                                    \
    0.160, 0.560, 0.780                                                                                                \
  }
#define BLACK                                                                                                          \
  {                                                                                                                    \
    0.130, 0.130, 0.130                                                                                                \
  }

static const SbStyle styles[SB_N_STYLES] = {
  { BLUE, NULL, 0, "blue, solid" },
  { VERMILION, DASH (dashed), "vermilion, dashed" },
  { GREEN, DASH (dash_dot), "green, dash and dot" },
  { PURPLE, DASH (dotted), "purple, dotted" },
  { ORANGE, DASH (long_dashed), "orange, long dashes" },
  { BLACK, DASH (dash_dot_dot), "black, dash and two dots" },
  { LIGHT_BLUE, DASH (two_dashed), "light blue, long and short dashes" },
  { VERMILION, DASH (long_dash_dot), "vermilion, long dash and dot" },
  { BLUE, DASH (short_dashed), "blue, short dashes" },
  { PURPLE, DASH (dash_three_dots), "purple, dash and three dots" },
  { GREEN, DASH (wide_dotted), "green, wide dots" },
  { BLACK, DASH (longest_dashed), "black, very long dashes" },
};

const SbStyle *
sb_style_get (guint style)
{
  static const SbStyle ink = { BLACK, NULL, 0, "black, solid" };
  return style == SB_STYLE_INK ? &ink : &styles[style % SB_N_STYLES];
}

/* From this share of a period on one more is shown. */
#define ONE_MORE 0.25

double
sb_style_sample_scale (const SbStyle *style, double length)
{
  double period = 0;
  for (int i = 0; i < style->n_dash; i++)
    period += style->dash[i];
  if (style->n_dash == 0)
    return 1;
  double gap = style->dash[style->n_dash - 1], n = fmax (2, ceil ((length + gap) / period - ONE_MORE));
  return length / (n * period - gap);
}
