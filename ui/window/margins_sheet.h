/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What counts as equal, for all measures and for single ones, and what is rare enough for a verdict on the pair. */
#pragma once

#include "document.h"

#include <gtk/gtk.h>

void sb_margins_sheet_present (GtkWindow *parent, SbDocument *document);
