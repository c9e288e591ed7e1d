/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A drawing as cairo writes it made a file: sized in mm, with title, description and proof, and no larger than it has
 * to be. */
#pragma once

#include "file_facts.h"

/* `svg` is what cairo's SVG surface wrote. (transfer full) */
GBytes *sb_svg_file (const GByteArray *svg, double width_mm, double height_mm, const SbFileFacts *facts);
