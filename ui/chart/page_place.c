/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "page_place.h"

#include <math.h>

/* In sizes of axis numbers. */
#define STEP       0.35 /* between places that are tried */
#define OVER_COST  3.0  /* of a leader, for each size of its length over something */
#define FREE_START 0.8  /* of a leader: the curve that it starts from */

#define WORDS_COST 4.0 /* of a leader that ends at words and not at the sample before them */

/* A leader is no longer than this share of the plot's width, and no longer than the eye follows it, in sizes of axis
 * numbers: what would be farther away stands in words below. */
#define FARTHEST 0.4
#define LONGEST  9.0

/* After so many places were tried what has none yet goes without: a picture is not waited for. */
#define MOST_TRIED 20000000

/* Twice the signed area of a triangle. */
static double
turn (SbSpot a, SbSpot b, SbSpot c)
{
  return (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x);
}

static gboolean
cross (SbSpot a, SbSpot b, SbSpot c, SbSpot d)
{
  return turn (a, b, c) * turn (a, b, d) < 0 && turn (c, d, a) * turn (c, d, b) < 0;
}

/* Whether a straight line touches a box: it crosses a diagonal, or an end lies within. */
static gboolean
runs_over (SbSpot a, SbSpot b, const SbRect *box)
{
  SbSpot corner[4] = { { box->x, box->y },
                       { box->x + box->width, box->y + box->height },
                       { box->x + box->width, box->y },
                       { box->x, box->y + box->height } };
  gboolean within = b.x > box->x && b.x < box->x + box->width && b.y > box->y && b.y < box->y + box->height;
  return within || cross (a, b, corner[0], corner[1]) || cross (a, b, corner[2], corner[3]);
}

static gboolean
is_clear_of (const SbPlacing *placing, const GArray *placed, SbSpot from, SbSpot to)
{
  for (guint k = 0; placed != NULL && k < placed->len; k++) {
    const SbPlacedLabel *other = &g_array_index (placed, SbPlacedLabel, k);
    if (other->panel != placing->i)
      continue;
    SbSpot start = { other->x, other->y }, end = sb_leader_end (&other->box, other->lead, other->x, other->y);
    gboolean same_point = hypot (start.x - from.x, start.y - from.y) < 1e-6;
    if (runs_over (from, to, &other->box) || (!same_point && cross (from, to, start, end)))
      return FALSE;
  }
  return TRUE;
}

/* How much of the leader lies over what is drawn, its start left out. */
static double
length_over (const SbPlacing *placing, SbSpot from, SbSpot to)
{
  double length = hypot (to.x - from.x, to.y - from.y), step = placing->room->cell_pt, over = 0;
  for (double at = FREE_START * placing->paint->font_pt; at < length; at += step)
    if (sb_room_is_taken (placing->room, from.x + at / length * (to.x - from.x),
                          from.y + at / length * (to.y - from.y)))
      over += step;
  return over;
}

/* Places along one side of the plot: from `first` on, `step` apart. */
typedef struct {
  double first, step;
  int from, to; /* those that a leader reaches */
} Places;

/* Of a box of `size`, `air` around it, in a plot from `low`, `room` long; a leader from `at` is no longer than
 * `longest`. */
static Places
places_along (double low, double room, double size, double air, double step, double at, double longest)
{
  Places places = { low + air, step, 0, -1 };
  double last = floor ((room - size - 2 * air) / step + 1e-9);
  double near = ceil ((at - longest - size - places.first) / step) - 1,
         far = floor ((at + longest - places.first) / step) + 1;
  if (last >= 0 && near <= last && far >= 0) {
    places.from = (int) fmax (near, 0);
    places.to = (int) fmin (far, last);
  }
  return places;
}

gboolean
sb_find_place (const SbPlacing *placing, SbSpot at, SbRect *box)
{
  double font = placing->paint->font_pt, air = SB_LABEL_AIR * font, least = HUGE_VAL;
  const SbRect *plot = &placing->room->plot;
  SbRect best = { 0 };
  double step = fmax (STEP * font, placing->room->cell_pt), longest = fmin (FARTHEST * plot->width, LONGEST * font);
  Places down = places_along (plot->y, plot->height, box->height, air, step, at.y, longest);
  Places across = places_along (plot->x, plot->width, box->width, air, step, at.x, longest);
  for (int row = down.from; row <= down.to; row++)
    for (int column = across.from; column <= across.to; column++) {
      if (placing->paint->n_tried++ > MOST_TRIED)
        return FALSE;
      double x = across.first + column * step, y = down.first + row * step;
      SbRect tried = { x, y, box->width, box->height };
      SbSpot end = sb_leader_end (&tried, placing->lead, at.x, at.y);
      double dx = end.x - at.x, dy = end.y - at.y, square = dx * dx + dy * dy;
      if (square >= least * least || square < placing->nearest * placing->nearest || square > longest * longest)
        continue;
      double length = sqrt (square);
      SbRect with_air = { x - air, y - air, box->width + 2 * air, box->height + 2 * air };
      if (!sb_room_is_free (placing->room, &with_air) || !is_clear_of (placing, placing->paint->labels, at, end)
          || !is_clear_of (placing, placing->paint->callouts, at, end))
        continue;
      gboolean at_words = placing->lead.sample > 0 && at.x > x + placing->lead.sample;
      double cost = length + OVER_COST * length_over (placing, at, end) + (at_words ? WORDS_COST * font : 0);
      if (cost < least) {
        least = cost;
        best = tried;
      }
    }
  *box = best;
  return least < HUGE_VAL;
}

void
sb_take_placed (const SbPlacing *placing, const SbPlacedLabel *label)
{
  const SbRect *box = &label->box;
  SbSpot end = sb_leader_end (box, label->lead, label->x, label->y);
  double aside = (SB_LABEL_APART - SB_LABEL_AIR) * placing->paint->font_pt;
  sb_room_take_box (placing->room, &(SbRect){ box->x - aside, box->y, box->width + 2 * aside, box->height });
  sb_room_take_line (placing->room, label->x, label->y, end.x, end.y, SB_LEADER_HALF * placing->paint->font_pt);
  sb_room_count (placing->room);
}

void
sb_take_anchors (const SbPlacing *placing)
{
  SbPaint *paint = placing->paint;
  const SbChartPanel *panel = g_ptr_array_index (paint->model->panels, (guint) placing->i);
  SbAxisScale along = sb_page_x_scale (placing->page, placing->i), up = sb_page_y_scale (placing->page, placing->i);
  double radius = SB_LABEL_AIR * paint->font_pt, dx, dy;
  for (guint k = 0; k < panel->labels->len; k++) {
    const SbLabelMark *mark = &g_array_index (panel->labels, SbLabelMark, k);
    if (!sb_page_shows (placing->page, placing->i, mark->x) || isnan (mark->y))
      continue;
    double x = sb_paint_at (&along, mark->x), y = sb_paint_at (&up, mark->y);
    sb_room_take_box (placing->room, &(SbRect){ x - radius, y - radius, 2 * radius, 2 * radius });
    if (sb_paint_tangent_reach (paint, placing->page, placing->i, mark->slope, &dx, &dy))
      sb_room_take_line (placing->room, x - dx, y - dy, x + dx, y + dy, SB_LEADER_HALF * paint->font_pt);
  }
  sb_room_count (placing->room);
}

gboolean
sb_page_shows (const SbPage *page, gsize i, double x)
{
  return x >= page->x[i].low && x <= page->x[i].high;
}
