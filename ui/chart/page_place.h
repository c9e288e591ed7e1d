/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The place of a box of words near its point: off curves, bands, marks and other words, with a leader that runs over no
 * other words. For labels and callouts. */
#pragma once

#include "page_room.h"

/* In sizes of axis numbers. */
#define SB_LABEL_AIR   0.3  /* around a label */
#define SB_LABEL_APART 1.0  /* between two side by side: several spaces, or they read as one line */
#define SB_LEADER_HALF 0.06 /* of its width */

/* What is placed in panel i. */
typedef struct {
  SbPaint *paint; /* its labels and callouts are there already */
  const SbPage *page;
  gsize i;
  SbRoom *room;
  double nearest; /* pt from the point to the box, at least */
  SbLead lead;    /* of what is being placed */
} SbPlacing;

/* The best place for a box of box->width and height with its point at `at`; FALSE: there is none, and *box is not to be
 * used. */
gboolean sb_find_place (const SbPlacing *placing, SbSpot at, SbRect *box);

/* Takes the room of what has its place, leader included. */
void sb_take_placed (const SbPlacing *placing, const SbPlacedLabel *label);

/* Points and tangents of the panel's labels are there before any label is. */
void sb_take_anchors (const SbPlacing *placing);

/* Whether x lies within what panel i shows. */
gboolean sb_page_shows (const SbPage *page, gsize i, double x);
