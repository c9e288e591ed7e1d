/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Logs that are tables, but not of one instant a row with a signal a column. They cannot be read, and are to be told
 * from logs whose columns have poor names, because what helps is another. */
#pragma once

#include "layout.h"
#include "shape.h"

/* Puts a question that says what the form is and what to do to the column that shows it, of role other and with a value
 * missing: of one signal a row (time, name, value) where no signal is read, and of cells that say their names
 * ("t=0.1 torque=2.5"). `shapes` are those of the first rows. */
void sb_form_ask (SbLayout *layout, const SbShape *shapes);

/* What helps with cells that say their names; a sentence without its end. */
#define SB_FORM_NAMES_IN_CELLS                                                                                         \
  "the cells hold names beside their numbers: write the names once, in a header before the rows (such as "             \
  "time_ms,torque_Nm), and the numbers alone in the rows"

/* Whether the line is of such cells, two of them at least, whatever parts them. */
gboolean sb_form_says_names (const char *line, gsize length);
