/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "lay_ink.h"

#include <math.h>
#include <string.h>

/* So many pixels at a time, each of four colours. */
#define GROUP 4
typedef guint16 Lanes __attribute__ ((vector_size (2 * 4 * GROUP)));
typedef guint8 Bytes __attribute__ ((vector_size (4 * GROUP)));

/* Of each coverage, four lanes: what it adds to a pixel, and by how much what was there is kept, of 255. */
typedef struct {
  guint64 added[256], kept[256];
} Tints;

typedef struct {
  guint8 *pixels; /* of the surface */
  int stride;
  Tints tints;
} Ground;

/* A product of parts of 255, rounded as pixel libraries round it: exactly. */
static inline guint
share_of (guint a, guint b)
{
  guint t = a * b + 128;
  return (t + (t >> 8)) >> 8;
}

/* The pixel that the source is, as cairo would write it. */
static guint32
source_pixel (cairo_t *cr)
{
  guint32 pixel = 0;
  cairo_surface_t *surface
      = cairo_image_surface_create_for_data ((guint8 *) &pixel, CAIRO_FORMAT_ARGB32, 1, 1, sizeof pixel);
  cairo_t *one = cairo_create (surface);
  cairo_set_source (one, cairo_get_source (cr));
  cairo_set_operator (one, CAIRO_OPERATOR_SOURCE);
  cairo_paint (one);
  cairo_destroy (one);
  cairo_surface_flush (surface);
  cairo_surface_destroy (surface);
  return pixel;
}

static void
fill_tints (Tints *tints, guint32 source)
{
  guint alpha = source >> 24;
  for (guint coverage = 0; coverage < 256; coverage++) {
    guint16 added[4], kept[4];
    guint8 colours[4];
    memcpy (colours, &source, sizeof source);
    for (int k = 0; k < 4; k++) {
      added[k] = (guint16) share_of (colours[k], coverage);
      kept[k] = (guint16) (255 - share_of (alpha, coverage));
    }
    memcpy (&tints->added[coverage], added, sizeof added);
    memcpy (&tints->kept[coverage], kept, sizeof kept);
  }
}

static inline void
look_up (const Tints *tints, const guint8 mask[GROUP], Lanes *added, Lanes *kept)
{
  guint64 each[2][GROUP];
  for (int k = 0; k < GROUP; k++) {
    each[0][k] = tints->added[mask[k]];
    each[1][k] = tints->kept[mask[k]];
  }
  memcpy (added, each[0], sizeof *added);
  memcpy (kept, each[1], sizeof *kept);
}

static inline void
blend (guint8 *pixels, const Lanes *added, const Lanes *kept)
{
  Bytes bytes;
  memcpy (&bytes, pixels, sizeof bytes);
  Lanes t = __builtin_convertvector(bytes, Lanes) * *kept + 128;
  bytes = __builtin_convertvector(((t + (t >> 8)) >> 8) + *added, Bytes);
  memcpy (pixels, &bytes, sizeof bytes);
}

static inline void
blend_group (guint8 *pixels, const Tints *tints, const guint8 mask[GROUP])
{
  Lanes added, kept;
  look_up (tints, mask, &added, &kept);
  blend (pixels, &added, &kept);
}

static void
blend_row (guint8 *pixels, const Tints *tints, const guint8 *mask, int n)
{
  static const guint8 nothing[GROUP] = { 0 };
  int x = 0;
  for (; x + GROUP <= n; x += GROUP)
    if (memcmp (mask + x, nothing, GROUP) != 0)
      blend_group (pixels + 4 * x, tints, mask + x);
  if (x == n)
    return;
  guint8 last[4 * GROUP] = { 0 }, last_mask[GROUP] = { 0 };
  memcpy (last, pixels + 4 * x, 4 * (gsize) (n - x));
  memcpy (last_mask, mask + x, (gsize) (n - x));
  blend_group (last, tints, last_mask);
  memcpy (pixels + 4 * x, last, 4 * (gsize) (n - x));
}

/* A row of the tile that is covered from the left to the right. */
static void
blend_whole_row (guint8 *pixels, const Tints *tints)
{
  static const guint8 whole[GROUP] = { 255, 255, 255, 255 };
  Lanes added, kept;
  look_up (tints, whole, &added, &kept);
  for (int x = 0; x < SB_INK_TILE_COLUMNS; x += GROUP)
    blend (pixels + 4 * x, &added, &kept);
}

/* Whether all bytes of a row of the tile are this one. */
static gboolean
is_all (const guint8 *mask, guint8 byte)
{
  guint64 words[SB_INK_TILE_COLUMNS / 8], all = G_GUINT64_CONSTANT (0x0101010101010101) * byte, differs = 0;
  memcpy (words, mask, sizeof words);
  for (gsize k = 0; k < G_N_ELEMENTS (words); k++)
    differs |= words[k] ^ all;
  return differs == 0;
}

/* Blends the box, which is a tile at most; (left, top) is where the frame begins in the picture. */
static void
lay_tile (const Ground *ground, int left, int top, const SbInk *inks, gsize n, const SbInkBox *box)
{
  guint8 mask[SB_INK_TILE_ROWS][SB_INK_TILE_COLUMNS];
  int n_columns = box->right - box->left;
  sb_ink_fill (inks, n, box, mask);
  guint8 *pixels = ground->pixels + (gssize) ground->stride * (top + box->top) + 4 * (left + box->left);
  for (int row = 0; row < box->bottom - box->top; row++, pixels += ground->stride) {
    if (is_all (mask[row], 255))
      blend_whole_row (pixels, &ground->tints);
    else if (!is_all (mask[row], 0))
      blend_row (pixels, &ground->tints, mask[row], n_columns);
  }
}

static void
lay_box (const Ground *ground, const cairo_rectangle_int_t *frame, const SbInk *inks, gsize n, const SbInkBox *box)
{
  for (int top = box->top; top < box->bottom; top += SB_INK_TILE_ROWS) {
    SbInkBox tile = { box->left, box->right, top, MIN (top + SB_INK_TILE_ROWS, box->bottom) };
    lay_tile (ground, frame->x, frame->y, inks, n, &tile);
  }
}

/* A step of the tile's columns: the inks apart, unless they have rows in common. */
static void
lay_step (const Ground *ground, const cairo_rectangle_int_t *frame, const SbInk *inks, gsize n, const SbInkBox *step)
{
  SbInkBox box[2];
  gsize n_boxes = 0;
  const SbInk *of[2] = { NULL };
  for (gsize k = 0; k < n; k++) {
    box[n_boxes] = *step;
    of[n_boxes] = &inks[k];
    n_boxes += sb_ink_rows (&inks[k], &box[n_boxes]) ? 1 : 0;
  }
  if (n_boxes == 2 && box[0].top < box[1].bottom && box[1].top < box[0].bottom) {
    box[0].top = MIN (box[0].top, box[1].top);
    box[0].bottom = MAX (box[0].bottom, box[1].bottom);
    lay_box (ground, frame, inks, 2, &box[0]);
    return;
  }
  for (gsize k = 0; k < n_boxes; k++)
    lay_box (ground, frame, of[k], 1, &box[k]);
}

/* The rectangles of the clip, in pixels. (transfer full: cairo_rectangle_list_destroy) */
static cairo_rectangle_list_t *
clip_of (cairo_t *cr)
{
  cairo_matrix_t matrix;
  cairo_get_matrix (cr, &matrix);
  cairo_identity_matrix (cr);
  cairo_rectangle_list_t *list = cairo_copy_clip_rectangle_list (cr);
  cairo_set_matrix (cr, &matrix);
  return list;
}

gboolean
sb_lay_ink_can (cairo_t *cr)
{
  cairo_surface_t *target = cairo_get_group_target (cr);
  double scale[2], offset[2];
  if (cairo_surface_get_type (target) != CAIRO_SURFACE_TYPE_IMAGE
      || cairo_pattern_get_type (cairo_get_source (cr)) != CAIRO_PATTERN_TYPE_SOLID
      || cairo_get_operator (cr) != CAIRO_OPERATOR_OVER)
    return FALSE;
  cairo_format_t format = cairo_image_surface_get_format (target);
  cairo_surface_get_device_scale (target, &scale[0], &scale[1]);
  cairo_surface_get_device_offset (target, &offset[0], &offset[1]);
  cairo_rectangle_list_t *clip = clip_of (cr);
  gboolean whole = clip->status == CAIRO_STATUS_SUCCESS;
  cairo_rectangle_list_destroy (clip);
  return whole && (format == CAIRO_FORMAT_ARGB32 || format == CAIRO_FORMAT_RGB24)
         && fabs (scale[0] - 1) + fabs (scale[1] - 1) + fabs (offset[0]) + fabs (offset[1]) < 1e-9;
}

void
sb_lay_ink (cairo_t *cr, const cairo_rectangle_int_t *frame, const SbInk *inks, gsize n)
{
  g_assert (n <= 2);
  cairo_surface_t *target = cairo_get_group_target (cr);
  cairo_surface_flush (target);
  Ground ground = { cairo_image_surface_get_data (target), cairo_image_surface_get_stride (target), { { 0 }, { 0 } } };
  fill_tints (&ground.tints, source_pixel (cr));
  cairo_rectangle_list_t *clip = clip_of (cr);
  for (int i = 0; i < clip->num_rectangles; i++) {
    const cairo_rectangle_t *part = &clip->rectangles[i];
    int left = MAX ((int) part->x - frame->x, 0), right = MIN ((int) (part->x + part->width) - frame->x, frame->width);
    int top = MAX ((int) part->y - frame->y, 0);
    int bottom = MIN ((int) (part->y + part->height) - frame->y, frame->height);
    for (; left < right; left += SB_INK_TILE_COLUMNS) {
      SbInkBox step = { left, MIN (left + SB_INK_TILE_COLUMNS, right), top, bottom };
      lay_step (&ground, frame, inks, n, &step);
    }
    cairo_surface_mark_dirty_rectangle (target, (int) part->x, (int) part->y, (int) part->width, (int) part->height);
  }
  cairo_rectangle_list_destroy (clip);
}
