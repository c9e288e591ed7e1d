/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Which panels the chart has, on the export sheet: the bench's own choice, which the main window shows too. Hidden for
 * views that have none to choose. Follows the document. */
#pragma once

#include "document.h"

GtkWidget *sb_export_panels_new (SbDocument *document);
