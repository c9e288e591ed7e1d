/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Which parts of a plot are taken by curves, bands, marks, callouts and the lines of the onset and of zero, in cells:
 * where a label may stand. Nothing else that is drawn, but the faint grid, lies in a free cell. */
#pragma once

#include "paint.h"

typedef struct {
  SbRect plot;
  double cell_pt;
  guint columns, rows;
  guint8 *taken; /* row by row, from the top left */
  guint *sums;   /* taken cells above and left of each corner, (columns + 1) * (rows + 1); made by sb_room_count() */
} SbRoom;

typedef struct {
  double x, y; /* pt */
} SbSpot;

/* Where a leader from x, y ends at the box: on the sample, or, when it would run over words to get there, at their
 * edge; at the nearest point of a frame. */
SbSpot sb_leader_end (const SbRect *box, SbLead lead, double x, double y);

/* Of what panel i shows. (transfer full) */
SbRoom *sb_room_new (SbPaint *paint, const SbPage *page, gsize i);
void sb_room_free (SbRoom *room);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SbRoom, sb_room_free)

/* Takes a box, or what lies within `half` of a line. What is taken counts from the next sb_room_count() on. */
void sb_room_take_box (SbRoom *room, const SbRect *box);
void sb_room_take_line (SbRoom *room, double x0, double y0, double x1, double y1, double half);
void sb_room_count (SbRoom *room);

/* What is taken, to be taken back to; to be freed. */
guint8 *sb_room_save (const SbRoom *room);
void sb_room_restore (SbRoom *room, const guint8 *saved);

/* Whether the box lies within the plot, on free cells alone. */
gboolean sb_room_is_free (const SbRoom *room, const SbRect *box);
/* Whether the point lies on something; FALSE outside of the plot. */
gboolean sb_room_is_taken (const SbRoom *room, double x, double y);
