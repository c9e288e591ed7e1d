/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A PNG of an image in memory (PNG specification, second edition). cairo's own writer states no physical size and takes
 * two thirds of an export's time; charts, being mostly one colour, compress nearly as well at zlib's fastest level. */
#pragma once

#include <cairo.h>
#include <gio/gio.h>

typedef struct {
  double dpi;
  const char *title; /* "" when none */
  const char *software;
} SbPngFacts;

/* `surface`: an image of CAIRO_FORMAT_RGB24, flushed. Same image, same facts: same bytes, however many processors there
 * are. (transfer full) */
GBytes *sb_png_write (cairo_surface_t *surface, const SbPngFacts *facts, GError **error);
