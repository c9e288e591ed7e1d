/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "roles_of_table.h"

#include "header.h"

void
sb_roles_of_table (SbLayout *layout, const SbFoundTable *found)
{
  for (guint i = 0; i < layout->columns->len; i++) {
    SbLayoutColumn *column = sb_layout_column (layout, i);
    SbColumnMeaning meaning;
    const char *unit_cell
        = found->unit_cells != NULL && i < found->unit_cells->len ? g_ptr_array_index (found->unit_cells, i) : NULL;
    sb_column_meaning_read_with_unit (&meaning, column->name, unit_cell);
    column->role = meaning.role;
    column->unit = meaning.unit;
    column->certainty = meaning.certainty;
    column->question = g_strdup (meaning.problem);
    sb_column_meaning_clear (&meaning);
  }
}
