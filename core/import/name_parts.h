/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Parts of the name of a column that change what its numbers mean. */
#pragma once

#include <glib.h>

/* The last word of "SpeedRpm", or of "torque_kgfmm": a unit, or something that might be one, written close. A prefix
 * before it is a part of it: "torque_uNm" is in no newton metres. NULL for a name of one word. (transfer full) */
char *sb_name_last_word (const char *name);

/* "x100" in "torque_x100 [Nm]": a sign of multiplication and a power of ten, apart from what is around it; NULL when
 * there is none. (transfer full) */
char *sb_name_factor (const char *name);

/* "‰" of "torque_‰": a sign at the end of a name that can only be a unit, be it one that we do not know; NULL when
 * there is none. Arrows and marks of trade and right are none. (transfer full) */
char *sb_name_sign (const char *name);
