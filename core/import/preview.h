/* SPDX-License-Identifier: GPL-3.0-or-later */
/* All columns of the beginning of a table, whatever their roles, for a person who has to say what they are. Nothing is
 * left out or judged here: what reading makes of the file is a matter of log.h. */
#pragma once

#include "layout.h"

#include <gio/gio.h>

typedef struct {
  double *values; /* n_rows in SI by the layout, as far as it can be said; NaN where the cell is no number */
  gsize n_numbers;
  double lowest, highest; /* NaN without a number */
  const char *unit;       /* of the values, in SI; NULL: as written, since a value is missing or there is no role */
} SbPreviewColumn;

typedef struct {
  gsize n_rows;
  gboolean whole;     /* that is all of the table */
  GPtrArray *columns; /* SbPreviewColumn, as in the layout */
} SbPreview;

/* Looks at no more than 8 MiB and 20,000 rows of the table, wherever in the file it begins. `end_line` is SbLog's:
 * other tables are not looked into; 0: not known. NULL with an error of GIO. `cancellable` may be NULL. (transfer full)
 */
SbPreview *
sb_preview_read (const char *path, const SbLayout *layout, guint64 end_line, GCancellable *cancellable, GError **error);

void sb_preview_free (SbPreview *preview);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SbPreview, sb_preview_free)
