/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How the numbers of a table are written, from its first rows and, where these leave it open, from the others that are
 * there. Inside of propose.c. */
#pragma once

#include "file_head.h"
#include "number_style.h"

/* Sets the decimal sign and the thousands separator; the index of one that may be either, or -1. `style` starts as
 * zeros. */
int sb_table_style_find (const SbFileHead *head, const SbFoundTable *found, SbLayout *layout, SbNumberStyle *style);

/* Asks for the sign `open` at the column that has it first. */
void sb_table_style_ask (SbLayout *layout, const SbNumberStyle *style, int open);
