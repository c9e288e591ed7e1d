/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One column of a file on the import sheet: how sure it is, what it is, in which unit, what else is needed, its data
 * and their range in SI. A row fills two lines of a grid. */
#pragma once

#include "import_draft.h"
#include "preview.h"

#include <gtk/gtk.h>

typedef struct SbLayoutRow SbLayoutRow;

/* The person changed the draft by this row; the role of another column may have changed with it. */
typedef void (*SbLayoutRowChanged) (gpointer user_data);

/* `draft` must outlive the row. Without data there is neither plot nor range. */
SbLayoutRow *sb_layout_row_new (GtkGrid *grid, SbImportDraft *draft, guint column, gboolean with_data,
                                SbLayoutRowChanged changed, gpointer user_data);
void sb_layout_row_free (SbLayoutRow *row); /* its widgets go with the grid */

/* The headings over the rows. */
void sb_layout_row_add_headings (GtkGrid *grid, gboolean with_data);

void sb_layout_row_show (SbLayoutRow *row);                                                 /* the draft as it is */
void sb_layout_row_show_data (SbLayoutRow *row, const SbPreviewColumn *data, gsize n_rows); /* NULL: none */
