/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The paths of a drawing in fewer characters: hundredths of its unit instead of millionths, steps from point to point
 * instead of places, nothing that says nothing. No point moves by more than half a hundredth, however long the path. */
#pragma once

#include <glib.h>

/* `svg` as cairo writes it: every number of a path in its own words, the commands M, L, C and Z. Other paths stay as
 * they are. (transfer full) */
char *sb_svg_compact (const char *svg);

/* The same of one path's data; NULL when it is none of these. (transfer full) */
char *sb_svg_compact_path (const char *data, gsize length);
