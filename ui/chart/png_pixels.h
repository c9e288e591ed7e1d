/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The pixels of a picture as PNG's IDAT holds them: rows with a filter byte (none), as one zlib stream (RFC 1950). */
#pragma once

#include <cairo.h>
#include <glib.h>

/* zlib is most of the time that a chart for print takes, so the page is cut into bands that are compressed at the same
 * time. Where the cuts are depends on the picture's height alone: same picture, same bytes, on any number of
 * processors. `surface` as sb_png_write() takes it. (transfer full) */
GByteArray *sb_png_pixels (cairo_surface_t *surface);
