/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A header over two lines -> its names: "Torque;Torque" above "command;actual", or "Motor;;Load;" above four names. */
#pragma once

#include "cells.h"
#include "line.h"

/* How the names of a header are written. */
typedef enum {
  SB_HEADER_LINE,      /* in one line */
  SB_HEADER_WIDE,      /* ... parted by two blanks or more */
  SB_HEADER_TWO_LINES, /* each over two lines */
  SB_HEADER_GROUPS,    /* ... where an empty cell of the first belongs to the one before it */
} SbHeaderForm;

/* One line of joined names, quoted by `quote` unless it is 0. NULL when the two lines are no header together: one of
 * them has numbers, units or words for a missing value, or joined they say no more than either line alone. The cells
 * that are split last stay in `cells`. (transfer full) */
char *sb_header_join (SbCells *cells, const SbLine *upper, const SbLine *lower, char delimiter, char quote,
                      SbHeaderForm form);
