/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "table_edits.h"

static SbBench *
begin (SbDocument *document)
{
  return sb_bench_edit (sb_document_bench (document));
}

void
sb_edit_set_units (SbDocument *document, SbUnits units)
{
  SbUnits old = sb_document_bench (document)->units;
  if (old.slope == units.slope && old.velocity == units.velocity)
    return;
  g_autofree char *step = old.slope != units.slope
                              ? g_strdup_printf ("show slopes in %s", sb_slope_unit_name (units.slope))
                              : g_strdup_printf ("show velocities in %s", sb_velocity_unit_name (units.velocity));
  SbBench *edited = begin (document);
  edited->units = units;
  sb_document_push (document, edited, step);
}

gboolean
sb_edit_show_row (SbDocument *document, SbMeasureId id, gboolean shown)
{
  guint hidden = sb_document_bench (document)->table.hidden, bit = 1u << id;
  guint wanted = shown ? hidden & ~bit : hidden | bit;
  if (wanted == (1u << SB_N_MEASURES) - 1)
    return FALSE;
  if (wanted == hidden)
    return TRUE;
  g_autofree char *name = g_utf8_strdown (sb_measure_info (id)->name, -1);
  g_autofree char *step = g_strdup_printf ("%s the row %s", shown ? "show" : "hide", name);
  SbBench *edited = begin (document);
  edited->table.hidden = wanted;
  sb_document_push (document, edited, step);
  return TRUE;
}

void
sb_edit_set_row_order (SbDocument *document, SbRowOrder order)
{
  if (sb_document_bench (document)->table.rows == order)
    return;
  SbBench *edited = begin (document);
  edited->table.rows = order;
  sb_document_push (document, edited, "order the rows of the table");
}

void
sb_edit_toggle_row_order (SbDocument *document, SbRowOrder order)
{
  gboolean on = sb_document_bench (document)->table.rows == order;
  sb_edit_set_row_order (document, on ? SB_ROWS_AS_DEFINED : order);
}

void
sb_edit_set_column_order (SbDocument *document, SbColumnOrder order, SbMeasureId by)
{
  const SbTableChoices *old = &sb_document_bench (document)->table;
  if (old->columns == order && old->columns_by == by)
    return;
  SbBench *edited = begin (document);
  edited->table.columns = order;
  edited->table.columns_by = by;
  sb_document_push (document, edited, "order the columns of the table");
}
