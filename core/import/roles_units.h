/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Units that the lines before a table state for one column each -> the columns of a proposal. For roles.c only. */
#pragma once

#include "stated.h"

/* The cell of the row of units for column `index`, or what stands for it where that is empty: the unit that a line
 * states, when it is known. NULL or "": nothing. Borrowed. */
const char *
sb_roles_unit_cell (const SbLayout *layout, guint index, const char *const *unit_cells, const SbStated *stated);

/* A time that only its numbers showed is in the unit that a line states; and a unit that is not known is asked about
 * where another was taken. */
void sb_roles_settle_units (SbLayout *layout, const SbStated *stated);
