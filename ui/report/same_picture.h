/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Two files of one kind held against each other: what is seen in them, not how it is packed. */
#pragma once

#include "verify.h"

#include <gio/gio.h>

/* SB_PICTURE_SAME or SB_PICTURE_DIFFERS with a sentence on how far it was looked, and where the first difference lies:
 * PNG pixel by pixel, SVG and HTML element by element, PDF object by object, others byte by byte. What a proof says is
 * passed over. `what` (transfer full). `set_otherwise` is raised where other libraries or fonts can be why it differs:
 * of a picture or page that can be looked into; it is left as it is else. */
SbVerifiedPicture sb_same_picture (GBytes *found, GBytes *expected, gboolean *set_otherwise, char **what);
