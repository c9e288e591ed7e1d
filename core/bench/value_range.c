/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "value_range.h"

#include "number_text.h"

#include <math.h>

void
sb_value_range_add (SbValueRange *range, double value)
{
  if (isnan (value))
    return;
  range->lowest = range->n == 0 ? value : fmin (range->lowest, value);
  range->highest = range->n == 0 ? value : fmax (range->highest, value);
  range->n++;
}

void
sb_value_range_append (GString *text, const SbValueRange *range)
{
  g_autofree char *lowest = sb_number_plain (range->lowest), *highest = sb_number_plain (range->highest);
  gboolean one = range->highest - range->lowest <= 1e-6 * fabs (range->highest);
  g_string_append_printf (text, "%s%s%s", lowest, one ? "" : " to ", one ? "" : highest);
}
