/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The names, units row and first rows of a table -> the roles and units of its columns. */
#pragma once

#include "tables.h"

/* `layout` has the columns' names and the style of the numbers; their roles are filled in. */
void sb_roles_of_table (SbLayout *layout, const SbFoundTable *found);
