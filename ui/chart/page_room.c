/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "page_room.h"

#include <math.h>
#include <string.h>

/* In sizes of axis numbers. */
#define CELL 0.22

/* Across and down: on a sheet that is large for its text cells are larger. */
#define MOST_CELLS  500.0
#define CURVE_HALF  0.12
#define MARK_RADIUS 0.4

/* A straight piece of an area that is drawn, or of a line where both edges are one. */
typedef struct {
  double x0, low0, high0, x1, low1, high1; /* pt; low above high: y points down */
} Piece;

typedef struct {
  SbRoom *room;
  SbAxisScale x, y;
  double half;
  Piece last; /* x1, low1 and high1 of it are where the next one begins */
} Tracer;

/* Labels are tried at hundreds of thousands of places: below, MIN, MAX and casts stand for fmin(), fmax() and floor(),
 * which are calls into the library. */

static void
take_rows (SbRoom *room, guint column, double top, double bottom)
{
  double first = (top - room->plot.y) / room->cell_pt, last = (bottom - room->plot.y) / room->cell_pt;
  if (!(last >= 0 && first < room->rows))
    return;
  guint end = (guint) MIN (last, room->rows - 1.0);
  for (guint row = (guint) MAX (first, 0); row <= end; row++)
    room->taken[row * room->columns + column] = 1;
}

static void
take_piece (SbRoom *room, const Piece *piece, double half)
{
  double run = piece->x1 - piece->x0, left = room->plot.x, cell = room->cell_pt;
  double from = (MIN (piece->x0, piece->x1) - half - left) / cell,
         to = (MAX (piece->x0, piece->x1) + half - left) / cell;
  if (!(to >= 0 && from < room->columns))
    return;
  guint last = (guint) MIN (to, room->columns - 1.0);
  for (guint column = (guint) MAX (from, 0); column <= last; column++) {
    double share[2] = { 0, 1 };
    for (int k = 0; k < 2 && fabs (run) > 0; k++)
      share[k] = CLAMP ((left + ((double) column + k) * cell + (k == 0 ? -half : half) - piece->x0) / run, 0, 1);
    double top = HUGE_VAL, bottom = -HUGE_VAL;
    for (int k = 0; k < 2; k++) {
      double low = piece->low0 + share[k] * (piece->low1 - piece->low0);
      double high = piece->high0 + share[k] * (piece->high1 - piece->high0);
      top = MIN (top, MIN (low, high));
      bottom = MAX (bottom, MAX (low, high));
    }
    take_rows (room, column, top - half, bottom + half);
  }
}

static void
trace (Tracer *tracer, double x, double low, double high, gboolean starts)
{
  Piece *last = &tracer->last;
  double at = sb_axis_scale_at (&tracer->x, x);
  double at_low = sb_paint_at (&tracer->y, low), at_high = sb_paint_at (&tracer->y, high);
  *last = starts ? (Piece){ at, at_low, at_high, at, at_low, at_high }
                 : (Piece){ last->x1, last->low1, last->high1, at, at_low, at_high };
  take_piece (tracer->room, last, tracer->half);
}

static void
trace_curve (double x, double y, gboolean starts, gpointer user_data)
{
  trace (user_data, x, y, y, starts);
}

static void
trace_band (double x, double lower, double upper, gboolean starts, gpointer user_data)
{
  trace (user_data, x, lower, upper, starts);
}

static void
take_mark (Tracer *tracer, const SbMark *mark, double font)
{
  double x = sb_paint_at (&tracer->x, mark->x), y = sb_paint_at (&tracer->y, mark->y), radius = MARK_RADIUS * font;
  if (mark->kind == SB_EVIDENCE_LEVEL)
    sb_room_take_line (tracer->room, isfinite (mark->x) ? x : tracer->x.at_low, y,
                       isfinite (mark->x_end) ? sb_paint_at (&tracer->x, mark->x_end) : tracer->x.at_high, y,
                       tracer->half);
  else if (mark->kind == SB_EVIDENCE_CREST)
    sb_room_take_box (tracer->room, &(SbRect){ x - radius, y - 2 * radius, 2 * radius, 2 * radius });
  else
    sb_room_take_box (tracer->room, &(SbRect){ x - radius, y - radius, 2 * radius, 2 * radius });
}

static void
take_marks (SbPaint *paint, const SbPage *page, gsize i, Tracer *tracer)
{
  const SbChartPanel *panel = g_ptr_array_index (paint->model->panels, (guint) i);
  for (guint k = 0; k < panel->marks->len; k++) {
    const SbMark *mark = &g_array_index (panel->marks, SbMark, k);
    take_mark (tracer, mark, paint->font_pt);
    double dx, dy;
    if (mark->kind == SB_EVIDENCE_TANGENT && sb_paint_tangent_reach (paint, page, i, mark->slope, &dx, &dy)) {
      double x = sb_paint_at (&tracer->x, mark->x), y = sb_paint_at (&tracer->y, mark->y);
      sb_room_take_line (tracer->room, x - dx, y - dy, x + dx, y + dy, tracer->half);
    }
  }
  for (guint k = 0; paint->callouts != NULL && k < paint->callouts->len; k++) {
    const SbPlacedLabel *callout = &g_array_index (paint->callouts, SbPlacedLabel, k);
    if (callout->panel != i)
      continue;
    SbSpot end = sb_leader_end (&callout->box, callout->lead, callout->x, callout->y);
    sb_room_take_box (tracer->room, &callout->box);
    sb_room_take_line (tracer->room, callout->x, callout->y, end.x, end.y, tracer->half);
  }
}

/* Stated figures, level or upright. */
static void
take_rules (const SbChartPanel *panel, Tracer *tracer)
{
  for (guint k = 0; k < panel->rules->len; k++) {
    const SbRule *rule = &g_array_index (panel->rules, SbRule, k);
    double x = sb_paint_at (&tracer->x, rule->at[0]), y = sb_paint_at (&tracer->y, rule->intercept);
    if (rule->upright)
      sb_room_take_line (tracer->room, x, tracer->y.at_low, x, tracer->y.at_high, tracer->half);
    else
      sb_room_take_line (tracer->room, x, y, sb_paint_at (&tracer->x, rule->at[1]), y, tracer->half);
  }
}

/* The onset and the value zero: words across them read as struck through. */
static void
take_zero_lines (Tracer *tracer)
{
  const SbRect *plot = &tracer->room->plot;
  double onset = sb_axis_scale_at (&tracer->x, 0), zero = sb_axis_scale_at (&tracer->y, 0);
  double right = plot->x + plot->width, bottom = plot->y + plot->height;
  if (onset >= plot->x && onset <= right)
    sb_room_take_line (tracer->room, onset, plot->y, onset, bottom, tracer->half);
  if (zero >= plot->y && zero <= bottom)
    sb_room_take_line (tracer->room, plot->x, zero, right, zero, tracer->half);
}

SbRoom *
sb_room_new (SbPaint *paint, const SbPage *page, gsize i)
{
  const SbChartPanel *panel = g_ptr_array_index (paint->model->panels, (guint) i);
  SbRoom *room = g_new0 (SbRoom, 1);
  room->plot = page->plot[i];
  room->cell_pt = fmax (CELL * paint->font_pt, fmax (room->plot.width, room->plot.height) / MOST_CELLS);
  room->columns = (guint) CLAMP (ceil (room->plot.width / room->cell_pt), 1, MOST_CELLS);
  room->rows = (guint) CLAMP (ceil (room->plot.height / room->cell_pt), 1, MOST_CELLS);
  room->taken = g_new0 (guint8, (gsize) room->columns * room->rows);
  room->sums = g_new0 (guint, (gsize) (room->columns + 1) * (room->rows + 1));
  Tracer tracer = { .room = room, .half = CURVE_HALF * paint->font_pt };
  tracer.x = sb_page_x_scale (page, i);
  tracer.y = sb_page_y_scale (page, i);
  SbColumns columns = { page->x[i].low, page->x[i].high, room->columns };
  for (guint k = 0; k < panel->curves->len && !panel->is_path; k++)
    sb_reduce_curve (&g_array_index (panel->curves, SbCurve, k), &columns, 0, trace_curve, &tracer);
  for (guint k = 0; k < panel->bands->len; k++)
    sb_reduce_band (&g_array_index (panel->bands, SbBandArea, k), &columns, trace_band, &tracer);
  take_marks (paint, page, i, &tracer);
  take_rules (panel, &tracer);
  take_zero_lines (&tracer);
  sb_room_count (room);
  return room;
}

void
sb_room_free (SbRoom *room)
{
  if (room == NULL)
    return;
  g_free (room->taken);
  g_free (room->sums);
  g_free (room);
}

void
sb_room_take_box (SbRoom *room, const SbRect *box)
{
  Piece piece = { box->x, box->y, box->y + box->height, box->x + box->width, box->y, box->y + box->height };
  take_piece (room, &piece, 0);
}

void
sb_room_take_line (SbRoom *room, double x0, double y0, double x1, double y1, double half)
{
  take_piece (room, &(Piece){ x0, y0, y0, x1, y1, y1 }, half);
}

void
sb_room_count (SbRoom *room)
{
  guint wide = room->columns + 1;
  for (guint row = 0; row < room->rows; row++)
    for (guint column = 0; column < room->columns; column++) {
      guint *corner = &room->sums[(row + 1) * wide + column + 1];
      *corner = corner[-1] + room->sums[row * wide + column + 1] - room->sums[row * wide + column]
                + room->taken[row * room->columns + column];
    }
}

guint8 *
sb_room_save (const SbRoom *room)
{
  return g_memdup2 (room->taken, (gsize) room->columns * room->rows);
}

void
sb_room_restore (SbRoom *room, const guint8 *saved)
{
  memcpy (room->taken, saved, (gsize) room->columns * room->rows);
  sb_room_count (room);
}

/* A cell that begins before is one of them. */
static guint
cells_up_to (double end, guint most)
{
  guint whole = (guint) end;
  return MIN (whole < end ? whole + 1 : whole, most);
}

gboolean
sb_room_is_free (const SbRoom *room, const SbRect *box)
{
  const SbRect *plot = &room->plot;
  if (box->x < plot->x || box->y < plot->y || box->x + box->width > plot->x + plot->width
      || box->y + box->height > plot->y + plot->height)
    return FALSE;
  guint wide = room->columns + 1;
  guint left = (guint) ((box->x - plot->x) / room->cell_pt), top = (guint) ((box->y - plot->y) / room->cell_pt);
  guint right = cells_up_to ((box->x + box->width - plot->x) / room->cell_pt, room->columns);
  guint bottom = cells_up_to ((box->y + box->height - plot->y) / room->cell_pt, room->rows);
  const guint *sums = room->sums;
  return sums[bottom * wide + right] + sums[top * wide + left] == sums[bottom * wide + left] + sums[top * wide + right];
}

gboolean
sb_room_is_taken (const SbRoom *room, double x, double y)
{
  double column = floor ((x - room->plot.x) / room->cell_pt), row = floor ((y - room->plot.y) / room->cell_pt);
  return column >= 0 && row >= 0 && column < room->columns && row < room->rows
         && room->taken[(guint) row * room->columns + (guint) column] != 0;
}

SbSpot
sb_leader_end (const SbRect *box, SbLead lead, double x, double y)
{
  if (lead.sample > 0 && x <= box->x + lead.sample)
    return (SbSpot){ fmax (x, box->x), box->y + lead.line / 2 };
  return (SbSpot){ CLAMP (x, box->x, box->x + box->width), CLAMP (y, box->y, box->y + box->height) };
}
