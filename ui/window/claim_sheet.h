/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The sheet in which a stated figure is written: of what, which measure, at least, at most or about, how much. */
#pragma once

#include "document.h"

#include <gtk/gtk.h>

/* For claim `index` of the document's bench, or for a new one (-1). */
void sb_claim_sheet_present (GtkWindow *parent, SbDocument *document, int index);
