/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Callouts: words of a person beside a point of a configuration's mean curve. The point is told by panel and time, so
 * that it stays with the data whatever becomes of the curve, the time shown or the size of the chart. */
#pragma once

#include "chart_choices.h"

typedef struct {
  SbPanel panel;
  double time_s;   /* after the onset */
  double label[2]; /* from the point to the label, in sizes of axis numbers, right and down */
  char *text;      /* GRefString */
} SbCallout;

/* Of a label that no person has moved: charts find it a place that is clear of curves and other words. */
#define SB_CALLOUT_LABEL_X  1.8
#define SB_CALLOUT_LABEL_Y  (-2.2)
#define SB_CALLOUT_FARTHEST 200.0 /* of either number of `label` */
gboolean sb_callout_was_moved (const double label[2]);

const char *sb_panel_key (SbPanel panel); /* "torque" */

/* A list of them, empty; each is let go with it. */
GArray *sb_callouts_new (void);
GArray *sb_callouts_copy (const GArray *callouts); /* (transfer full) */
void sb_callouts_add (GArray *callouts, SbPanel panel, double time_s, const char *text, const double label[2]);
void sb_callouts_set_text (GArray *callouts, guint index, const char *text);
static inline SbCallout *
sb_callouts_get (const GArray *callouts, guint index)
{
  return &g_array_index (callouts, SbCallout, index);
}
