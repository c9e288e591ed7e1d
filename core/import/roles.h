/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Names, units row and first rows of a table -> what each column is. What is not stated is a guess with a question, and
 * of two columns for one role the clearer one counts, then the first. */
#pragma once

#include "layout.h"
#include "shape.h"
#include "stated.h"

/* Fills in role, unit, values, certainty and question of every column, and the sample rate. `unit_cells` has a cell for
 * each column, `shapes` (of as many) the first rows, `stated` what the lines before the table say; each may be NULL. */
void sb_roles_propose (SbLayout *layout, const char *const *unit_cells, const SbShape *shapes, const SbStated *stated);
