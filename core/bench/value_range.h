/* SPDX-License-Identifier: GPL-3.0-or-later */
/* "3" or "3 to 8" of a quantity that the trials of a configuration share or not. For the methods. */
#pragma once

#include <glib.h>

typedef struct {
  double lowest, highest;
  gsize n;
} SbValueRange; /* begins as { 0 } */

/* NaN is passed over. */
void sb_value_range_add (SbValueRange *range, double value);

/* "2500", "2000 to 2500"; of one that holds a value. */
void sb_value_range_append (GString *text, const SbValueRange *range);
