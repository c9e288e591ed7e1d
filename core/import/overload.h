/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What instruments write where the signal was beyond their range: common practice of meters, scopes and SCPI, whose
 * 9.9e37 is infinity and 9.91e37 no number. */
#pragma once

#include <glib.h>

/* TRUE for "OL", "-OVLD", "INF", "----". */
gboolean sb_overload_is_word (const char *text, gsize length);

/* TRUE for 9.9e37, 9.91e37 and 1e38, as written, of either sign. */
gboolean sb_overload_is_number (double written);
