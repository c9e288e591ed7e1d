/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What cairo's PNG lacks: the physical size and words about the picture (PNG specification, second edition, 11.3). */
#pragma once

#include <glib.h>

/* Appends a chunk with its length and checksum. `type` has four letters. */
void sb_png_append_chunk (GByteArray *png, const char *type, const guint8 *data, gsize n);

/* pHYs: pixels per metre, both ways. */
void sb_png_append_density (GByteArray *png, double dpi);

/* tEXt in Latin-1 where `text` fits, else iTXt in UTF-8. */
void sb_png_append_text (GByteArray *png, const char *keyword, const char *text);
