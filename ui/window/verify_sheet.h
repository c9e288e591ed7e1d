/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What made a chart or a report, and whether it comes out again from the logs at hand: the words of
 * core/bench/verify.h, worked out by a worker. Its bench can be opened where logs of it were found: in the window when
 * that is blank, else in a new one. */
#pragma once

#include "document.h"

#include <gtk/gtk.h>

/* `path`: a file that may carry a proof (proof_file.h). */
void sb_verify_sheet_present (GtkWindow *parent, SbDocument *document, const char *path);
