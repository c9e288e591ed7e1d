/* SPDX-License-Identifier: GPL-3.0-or-later */
/* By what the settings are audited: what is rare enough for a measure that moves, and how near to proportion and to a
 * straight rise is near enough. */
#pragma once

#include "document.h"

#include <gtk/gtk.h>

void sb_audit_sheet_present (GtkWindow *parent, SbDocument *document);
