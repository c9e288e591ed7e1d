/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where callouts stand: one that a person moved where it was put, within its panel and off its point; any other where
 * it is clear of curves, bands, marks and other words, with a leader as clear as can be. Where there is no such place
 * its words go below the panels. */
#include "model_parts.h"
#include "page_place.h"

#include <math.h>

/* In sizes of axis numbers. */
#define CLEAR   1.2
#define NEAREST 0.9 /* of a frame to its point: the leader is seen */

static SbRect
frame_of (SbPaint *paint, const SbCalloutMark *mark, double widest)
{
  double font = paint->font_pt, width, height;
  sb_text_measure (paint, SB_TEXT_TICK, mark->text, widest * font, SB_CALLOUT_LINES, &width, &height);
  return (SbRect){ 0, 0, width + 2 * SB_CALLOUT_AIR * font, height + SB_CALLOUT_AIR * font };
}

static SbRect
kept_place (SbPaint *paint, const SbRect *plot, const SbCalloutMark *mark, double x, double y)
{
  double font = paint->font_pt;
  SbRect label = frame_of (paint, mark, SB_CALLOUT_WIDEST);
  double right = plot->x + plot->width - label.width, bottom = plot->y + plot->height - label.height;
  label.x = CLAMP (x + mark->label[0] * font, plot->x, fmax (right, plot->x));
  label.y = CLAMP (y + mark->label[1] * font - label.height / 2, plot->y, fmax (bottom, plot->y));
  gboolean over = x > label.x && x < label.x + label.width && y > label.y && y < label.y + label.height;
  if (over) {
    double above = y - CLEAR * font - label.height;
    label.y = above >= plot->y ? above : fmin (y + CLEAR * font, fmax (bottom, plot->y));
  }
  return label;
}

/* In another shape where there is no room for the usual one. */
static gboolean
find_clear_place (const SbPlacing *placing, SbPlacedLabel *placed)
{
  static const double widest[] = { SB_CALLOUT_WIDEST, 28, 10 };
  for (gsize k = 0; k < G_N_ELEMENTS (widest); k++) {
    SbRect box = frame_of (placing->paint, placed->callout, widest[k]);
    if (sb_find_place (placing, (SbSpot){ placed->x, placed->y }, &box)) {
      placed->box = box;
      placed->widest = widest[k];
      return TRUE;
    }
  }
  return FALSE;
}

/* Its ring is still there, its words are below the panels. */
static void
put_below (SbPaint *paint, SbPlacedLabel *placed)
{
  double radius = SB_LABEL_AIR * paint->font_pt;
  placed->below = TRUE;
  placed->box = (SbRect){ placed->x - radius, placed->y - radius, 2 * radius, 2 * radius };
  if (!g_ptr_array_find (paint->callouts_below, placed->callout, NULL))
    g_ptr_array_add (paint->callouts_below, placed->callout);
}

/* Those of panel i that were moved, then those that were not, with `placing`. How many. */
static guint
place_callouts (SbPaint *paint, const SbPage *page, gsize i, gboolean moved, SbPlacing *placing)
{
  const SbChartPanel *panel = g_ptr_array_index (paint->model->panels, (guint) i);
  SbAxisScale along = sb_page_x_scale (page, i), up = sb_page_y_scale (page, i);
  guint n = 0;
  for (guint k = 0; k < panel->callouts->len; k++) {
    SbCalloutMark *mark = &g_array_index (panel->callouts, SbCalloutMark, k);
    if (!sb_page_shows (page, i, mark->x) || sb_callout_was_moved (mark->label) != moved)
      continue;
    SbPlacedLabel placed = { .panel = i, .callout = mark, .widest = SB_CALLOUT_WIDEST };
    placed.x = sb_paint_at (&along, mark->x);
    placed.y = sb_paint_at (&up, mark->y);
    if (moved)
      placed.box = kept_place (paint, &page->plot[i], mark, placed.x, placed.y);
    else if (g_ptr_array_find (paint->callouts_below, mark, NULL) || !find_clear_place (placing, &placed))
      put_below (paint, &placed);
    else
      sb_take_placed (placing, &placed);
    g_array_append_val (paint->callouts, placed);
    n++;
  }
  return n;
}

/* Rings are there before any frame is. */
static void
take_rings (const SbPlacing *placing)
{
  SbPaint *paint = placing->paint;
  const SbChartPanel *panel = g_ptr_array_index (paint->model->panels, (guint) placing->i);
  SbAxisScale along = sb_page_x_scale (placing->page, placing->i), up = sb_page_y_scale (placing->page, placing->i);
  double radius = SB_LABEL_AIR * paint->font_pt;
  for (guint k = 0; k < panel->callouts->len; k++) {
    const SbCalloutMark *mark = &g_array_index (panel->callouts, SbCalloutMark, k);
    double x = sb_paint_at (&along, mark->x), y = sb_paint_at (&up, mark->y);
    sb_room_take_box (placing->room, &(SbRect){ x - radius, y - radius, 2 * radius, 2 * radius });
  }
}

void
sb_page_place_callouts (SbPaint *paint, const SbPage *page)
{
  g_clear_pointer (&paint->callouts, g_array_unref);
  paint->callouts = g_array_new (FALSE, FALSE, sizeof (SbPlacedLabel));
  if (paint->callouts_below == NULL)
    paint->callouts_below = g_ptr_array_new ();
  for (gsize i = 0; i < page->n_plots; i++) {
    const SbChartPanel *panel = g_ptr_array_index (paint->model->panels, (guint) i);
    if (panel->callouts->len == 0 || place_callouts (paint, page, i, TRUE, NULL) == panel->callouts->len)
      continue;
    g_autoptr (SbRoom) room = sb_room_new (paint, page, i);
    SbPlacing placing = { .paint = paint, .page = page, .i = i, .room = room, .nearest = NEAREST * paint->font_pt };
    take_rings (&placing);
    sb_take_anchors (&placing);
    place_callouts (paint, page, i, FALSE, &placing);
  }
}

void
sb_page_put_callouts_below (SbPaint *paint)
{
  for (guint k = 0; k < paint->callouts->len; k++) {
    SbPlacedLabel *placed = &g_array_index (paint->callouts, SbPlacedLabel, k);
    if (!sb_callout_was_moved (placed->callout->label))
      put_below (paint, placed);
  }
}

void
sb_page_append_callouts_below (GString *text, const SbPaint *paint)
{
  for (guint k = 0; k < paint->callouts_below->len; k++) {
    const SbCalloutMark *mark = g_ptr_array_index (paint->callouts_below, k);
    g_string_append_printf (text, "%s%s at ",
                            k > 0           ? "; "
                            : text->len > 0 ? " Callouts: "
                                            : "Callouts: ",
                            sb_analysis_configuration (paint->model->analysis, mark->configuration)->name);
    sb_chart_append_number (text, mark->x * 1000);
    g_string_append_printf (text, " ms: %s", mark->text);
  }
  g_string_append (text, paint->callouts_below->len > 0 ? "." : "");
}
