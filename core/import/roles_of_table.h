/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A table as found among lines, with the lines before it -> the roles and units of its columns. */
#pragma once

#include "stated.h"
#include "tables.h"

/* `layout` has the columns' names and the style of the numbers; their roles, units and values are filled in. `lines`
 * holds the table's rows as far as they are there, `stated` what the lines before it say. */
void sb_roles_of_table (SbLayout *layout, const SbFoundTable *found, const SbLines *lines, const SbStated *stated);
