/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A PNG of an image in memory (PNG specification, second edition). cairo's own writer states no physical size, holds
 * no text, and takes three times as long. */
#pragma once

#include <cairo.h>
#include <gio/gio.h>

typedef struct {
  const char *keyword; /* registered ones in 11.3.4.2 of the specification; Latin-1 */
  const char *text;    /* UTF-8 */
} SbPngText;

typedef struct {
  double dpi;
  const SbPngText *texts;
  gsize n_texts;
} SbPngFacts;

/* `surface`: an image of CAIRO_FORMAT_RGB24, or of ARGB32 for a transparent ground, flushed. Same image, same facts:
 * same bytes. (transfer full) */
GBytes *sb_png_write (cairo_surface_t *surface, const SbPngFacts *facts);
