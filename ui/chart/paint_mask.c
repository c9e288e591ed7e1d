/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "paint_mask.h"

#include <string.h>

/* The frame is looked at in so many pixel columns at a time: each has boxes of its own. */
#define STEP 32

/* An inside of fewer rows is not worth a rectangle. */
#define LEAST_ROWS 8

/* A mask of up to so many bytes is kept for the next: the system is slow to hand out memory and to take it back. */
#define MOST_KEPT (1 << 24)

typedef struct {
  gsize n_bytes;
  guint8 *bytes;
} Room;

static void
room_free (gpointer data)
{
  Room *room = data;
  g_free (room->bytes);
  g_free (room);
}

static GPrivate kept_room = G_PRIVATE_INIT (room_free);

static Room *
take_room (gsize n_bytes)
{
  Room *room = g_private_get (&kept_room);
  if (room != NULL && room->n_bytes >= n_bytes) {
    g_private_set (&kept_room, NULL);
    return room;
  }
  room = g_new (Room, 1);
  *room = (Room){ n_bytes, g_malloc (n_bytes) };
  return room;
}

static void
give_back (Room *room)
{
  if (room->n_bytes <= MOST_KEPT)
    g_private_replace (&kept_room, room);
  else
    room_free (room);
}

/* One mask for the frame, of which only the boxes are ever written and read, and what they are cut out by. */
typedef struct {
  cairo_t *cr;
  cairo_rectangle_int_t frame;
  Room *room;
  guint8 *pixels; /* of no value outside the boxes */
  int stride;
  GArray *boxes, *insides; /* SbInkBox */
} Mask;

static void
mask_begin (Mask *mask, cairo_t *cr, const cairo_rectangle_int_t *frame)
{
  *mask = (Mask){ .cr = cr, .frame = *frame };
  mask->stride = cairo_format_stride_for_width (CAIRO_FORMAT_A8, frame->width);
  mask->room = take_room ((gsize) mask->stride * (gsize) frame->height);
  mask->pixels = mask->room->bytes;
  mask->boxes = g_array_new (FALSE, FALSE, sizeof (SbInkBox));
  mask->insides = g_array_new (FALSE, FALSE, sizeof (SbInkBox));
}

static void
add_box (Mask *mask, const SbInkBox *box, const SbInk *inks, gsize n)
{
  if (box->top >= box->bottom)
    return;
  guint8 *corner = mask->pixels + (gsize) mask->stride * (gsize) box->top + box->left;
  for (int row = box->top; row < box->bottom; row++)
    memset (corner + (gsize) mask->stride * (gsize) (row - box->top), 0, (gsize) (box->right - box->left));
  for (gsize k = 0; k < n; k++)
    sb_ink_fill (&inks[k], box, corner, (gsize) mask->stride);
  g_array_append_val (mask->boxes, *box);
}

static void
make_path (const Mask *mask, const GArray *boxes)
{
  cairo_new_path (mask->cr);
  for (guint i = 0; i < boxes->len; i++) {
    const SbInkBox *box = &g_array_index (boxes, SbInkBox, i);
    cairo_rectangle (mask->cr, mask->frame.x + box->left, mask->frame.y + box->top, box->right - box->left,
                     box->bottom - box->top);
  }
}

static void
mask_end (Mask *mask)
{
  cairo_save (mask->cr);
  cairo_identity_matrix (mask->cr);
  make_path (mask, mask->insides);
  cairo_fill (mask->cr);
  if (mask->boxes->len > 0) {
    cairo_surface_t *surface = cairo_image_surface_create_for_data (mask->pixels, CAIRO_FORMAT_A8, mask->frame.width,
                                                                    mask->frame.height, mask->stride);
    make_path (mask, mask->boxes);
    cairo_clip (mask->cr);
    cairo_mask_surface (mask->cr, surface, mask->frame.x, mask->frame.y);
    cairo_surface_finish (surface);
    cairo_surface_destroy (surface);
  }
  cairo_restore (mask->cr);
  g_array_unref (mask->boxes);
  g_array_unref (mask->insides);
  give_back (mask->room);
}

/* The columns from `left` on, all rows. */
static SbInkBox
step_of (const Mask *mask, int left)
{
  return (SbInkBox){ left, MIN (left + STEP, mask->frame.width), 0, mask->frame.height };
}

void
sb_paint_mask (cairo_t *cr, const cairo_rectangle_int_t *frame, const SbInk *inks, gsize n)
{
  Mask mask;
  g_assert (n <= 2);
  mask_begin (&mask, cr, frame);
  for (int left = 0; left < frame->width; left += STEP) {
    SbInkBox box = { 0 };
    for (gsize k = 0; k < n; k++) {
      SbInkBox next = step_of (&mask, left);
      if (!sb_ink_rows (&inks[k], &next))
        continue;
      if (next.top < box.bottom && box.top < next.bottom) {
        next.top = MIN (next.top, box.top);
        next.bottom = MAX (next.bottom, box.bottom);
      } else {
        add_box (&mask, &box, inks, n);
      }
      box = next;
    }
    add_box (&mask, &box, inks, n);
  }
  mask_end (&mask);
}

void
sb_paint_mask_area (cairo_t *cr, const cairo_rectangle_int_t *frame, const SbInk *area)
{
  Mask mask;
  mask_begin (&mask, cr, frame);
  for (int left = 0; left < frame->width; left += STEP) {
    SbInkBox box = step_of (&mask, left), inside = box;
    if (!sb_ink_rows (area, &box))
      continue;
    if (sb_ink_whole_rows (area, &inside) && inside.bottom - inside.top >= LEAST_ROWS) {
      SbInkBox above = { box.left, box.right, box.top, inside.top };
      SbInkBox below = { box.left, box.right, inside.bottom, box.bottom };
      g_array_append_val (mask.insides, inside);
      add_box (&mask, &above, area, 1);
      add_box (&mask, &below, area, 1);
    } else {
      add_box (&mask, &box, area, 1);
    }
  }
  mask_end (&mask);
}
