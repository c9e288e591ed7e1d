/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Verdicts in a person's own words, of another language or a journal. */
#pragma once

#include "document.h"

#include <gtk/gtk.h>

void sb_words_sheet_present (GtkWindow *parent, SbDocument *document);
