/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "roles_units.h"

#include "header.h"

static gboolean
names_time (const char *name)
{
  SbColumnMeaning meaning;
  sb_column_meaning_read (&meaning, name);
  gboolean time
      = meaning.role == SB_ROLE_TIME && (meaning.unit == NULL || meaning.unit->dimension == SB_DIMENSION_TIME);
  sb_column_meaning_clear (&meaning);
  return time;
}

const char *
sb_roles_unit_cell (const SbLayout *layout, guint index, const char *const *unit_cells, const SbStated *stated)
{
  const char *cell = unit_cells != NULL ? unit_cells[index] : NULL;
  if (stated == NULL || stated->units.n == 0 || (cell != NULL && *cell != '\0'))
    return cell;
  const char *name = sb_layout_column (layout, index)->name;
  const SbStatedUnit *unit = sb_stated_units_find (&stated->units, name, names_time (name));
  return unit != NULL && unit->unit != NULL ? unit->unit->name : cell;
}

static void
ask_about_strange_unit (SbLayoutColumn *column, const SbStatedUnit *stated)
{
  g_free (column->question);
  column->question = g_strdup_printf (
      "line %" G_GUINT64_FORMAT " states its unit as '%s', which is none that is known: "
      "taken for %s; state the unit",
      stated->line, stated->spelling, column->unit != NULL ? column->unit->name : sb_role_unit (column->role));
  column->certainty = SB_CERTAINTY_GUESSED;
}

void
sb_roles_settle_units (SbLayout *layout, const SbStated *stated)
{
  for (guint i = 0; stated->units.n > 0 && i < layout->columns->len; i++) {
    SbLayoutColumn *column = sb_layout_column (layout, i);
    gboolean is_time = column->role == SB_ROLE_TIME;
    gboolean counts = column->unit != NULL && is_time && column->unit->dimension != SB_DIMENSION_TIME;
    const SbStatedUnit *unit
        = column->role != SB_ROLE_OTHER ? sb_stated_units_find (&stated->units, column->name, is_time) : NULL;
    if (unit == NULL || counts || column->certainty == SB_CERTAINTY_STATED || column->certainty == SB_CERTAINTY_MISSING)
      continue;
    if (unit->unit == NULL) {
      ask_about_strange_unit (column, unit);
    } else if (is_time && unit->unit->dimension == SB_DIMENSION_TIME && column->unit != unit->unit) {
      column->unit = unit->unit;
      column->certainty = SB_CERTAINTY_GUESSED;
      g_free (column->question);
      column->question
          = g_strdup_printf ("rises from row to row: taken for the time, in %s as line %" G_GUINT64_FORMAT " states",
                             unit->unit->name, unit->line);
    }
  }
}
