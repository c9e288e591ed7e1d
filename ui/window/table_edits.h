/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Choices of the measures table and of the units that everything is shown in, each a named step of the history. */
#pragma once

#include "document.h"

void sb_edit_set_units (SbDocument *document, SbUnits units);

/* FALSE when nothing would be shown any more, which is not done. */
gboolean sb_edit_show_row (SbDocument *document, SbMeasureId id, gboolean shown);

void sb_edit_set_row_order (SbDocument *document, SbRowOrder order);
void sb_edit_toggle_row_order (SbDocument *document, SbRowOrder order); /* that order, or as defined */
void sb_edit_set_column_order (SbDocument *document, SbColumnOrder order, SbMeasureId by);
