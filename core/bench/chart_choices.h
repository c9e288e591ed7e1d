/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the chart shows, and how. None of it shapes a number. */
#pragma once

#include "measure_table.h"
#include "paper.h"

/* What a panel of the response shows; the kinds are in drawing order from top to bottom. */
typedef enum {
  SB_PANEL_VELOCITY,
  SB_PANEL_TORQUE,
  SB_PANEL_ANGLE,
  SB_PANEL_COMMAND,
  SB_N_PANELS,
} SbPanel;

SbChannel sb_panel_channel (SbPanel panel);

typedef enum {
  SB_VIEW_RESPONSE,   /* mean curves over time */
  SB_VIEW_DIFFERENCE, /* other minus reference over time */
  SB_VIEW_SPREAD,     /* every repeat's figure as a point, a row per configuration */
  SB_VIEW_SWEEP,      /* every repeat's figure over the level of a setting */
  SB_VIEW_SLOPE,      /* torque and its slope over time */
  SB_VIEW_RINGING,    /* what is left of a repeat after the rise, with its fit, and the spectrum of it */
  SB_VIEW_PHASE,      /* velocity over angle, torque over velocity */
  SB_VIEW_PLAN,       /* repeats that it takes over the difference to be shown */
  SB_N_VIEWS,
} SbView;

const char *sb_view_key (SbView view);                     /* "response": JSON and command line */
const char *sb_view_name (SbView view);                    /* "Response": a button */
gboolean sb_view_from_key (const char *key, SbView *view); /* FALSE with nothing written: no such view */
static inline gboolean
sb_view_is_over_time (SbView view)
{
  return view == SB_VIEW_RESPONSE || view == SB_VIEW_DIFFERENCE || view == SB_VIEW_SLOPE;
}

/* Of figures, not of curves. */
static inline gboolean
sb_view_is_of_points (SbView view)
{
  return view == SB_VIEW_SPREAD || view == SB_VIEW_SWEEP || view == SB_VIEW_PLAN;
}

/* What a view over time names by itself; a bit mask, 1u << SbLabelKind. */
typedef enum {
  SB_LABEL_PEAKS,     /* peak velocity and peak torque */
  SB_LABEL_SLOPE,     /* the tangent at the peak slope of the torque */
  SB_LABEL_OVERSHOOT, /* of the torque */
  SB_LABEL_RINGING,   /* frequency and damping, in the response and in the spectrum */
  SB_N_LABELS,
} SbLabelKind;

const char *sb_label_kind_key (SbLabelKind kind);  /* "peaks": JSON and command line */
const char *sb_label_kind_name (SbLabelKind kind); /* "Peaks": a button */
guint sb_label_bit_from_key (const char *key);     /* 0: no such kind */

/* Whether a view has labels of the kind: on curves over time all, of ringing's modes its own; of points, along paths
 * and over shares nothing is at an instant. */
gboolean sb_view_has_label (SbView view, SbLabelKind kind);

typedef struct {
  SbView view;
  guint panels;         /* bit mask, 1u << SbPanel; never 0 */
  gboolean trial_lines; /* a thin line per included trial */
  gboolean moving_band; /* a lone trial gets the single-log moving band instead of none */
  guint labels;         /* bit mask, 1u << SbLabelKind; 0: none */
  double view_s[2];     /* time range drawn, after the onset; NaN: all */
  char *title;          /* "" when none */

  gboolean difference_only;  /* the difference in place of the response, not under it */
  guint measures;            /* of spread, sweep and plan: bit mask, 1u << SbMeasureId; never 0 */
  char *setting;             /* of the sweep; "": the one with most levels */
  gboolean in_order;         /* the spread shows the repeats in their order */
  gboolean excluded_repeats; /* the spread shows those left out too, hollow */

  SbPaper paper; /* that it was last exported on */
} SbChartChoices;

/* Every choice at its default; to be cleared. */
SbChartChoices sb_chart_choices_init (void);
SbChartChoices sb_chart_choices_copy (const SbChartChoices *choices); /* to be cleared */
void sb_chart_choices_clear (SbChartChoices *choices);

/* The measures asked for, in the table's order; returns their number, 1 at least. */
gsize sb_chart_choices_measures (const SbChartChoices *choices, SbMeasureId measures[SB_N_MEASURES]);
