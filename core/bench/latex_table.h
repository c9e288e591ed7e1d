/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A table as a tabular of LaTeX that fits a page: one that is too wide is set in smaller type, in blocks of columns
 * under one another, each with the first column. For results_markup.c. */
#pragma once

#include "markup_table.h"

const char *sb_latex_escape (gunichar character);

void sb_latex_append_table (GString *text, const SbMarkupTable *table);
