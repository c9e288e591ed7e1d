/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A number with its unit in one cell: "12.3 Nm", "0,5ms", "85 %". */
#pragma once

#include "unit.h"

/* The bytes of the number that `text` begins with, when nothing but a unit that is known follows it, with blanks
 * between the two or without; 0 else. The number is in any style and not looked at closely; the text may be UTF-8 or
 * Windows-1252. */
gsize sb_number_before_unit (const char *text, gsize length, const SbUnit **unit);
