/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where the unit stands in the name of a column, or in a units row. */
#pragma once

#include "unit.h"

/* The unit of this spelling in a name whose other words are `base`; NULL: none of ours. "Grad" is a degree beside a
 * German or Swedish word, and else none. */
const SbUnit *sb_name_unit_find (const char *spelling, const char *base);

/* "Torque (filtered) [Nm]": the bracket that is a unit, else the last square one, else a short round one (a word in
 * round brackets is a remark). *rest is the name without brackets. NULL when there is no unit in brackets. (transfer
 * full) (out rest: transfer full) */
char *sb_name_unit_in_brackets (const char *name, char **rest);

/* "Nm", "[Nm]" or "(Nm)" of a units row (may be NULL), without brackets; NULL when it says nothing. (transfer full) */
char *sb_name_unit_of_cell (const char *cell);

/* A name that is nothing but a unit (`base` is "") speaks of what is measured in it, if it is not a letter or word of
 * many meanings ("A", "count"). */
gboolean sb_name_unit_may_stand_alone (const char *base, const char *spelling, const SbUnit *unit);
