/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "slope_unit.h"

#include "steady_math.h"
#include "unit.h"

#include <math.h>
#include <string.h>

double
sb_slope_unit_size (const char *spelling)
{
  const char *per = strrchr (spelling, '/');
  if (per == NULL)
    return NAN;
  g_autofree char *above = g_strndup (spelling, (gsize) (per - spelling));
  const SbUnit *torque = sb_unit_find (g_strstrip (above)), *time = sb_unit_find (per + 1);
  if (torque == NULL || time == NULL || torque->dimension != SB_DIMENSION_TORQUE
      || time->dimension != SB_DIMENSION_TIME)
    return NAN;
  return torque->factor * sb_pow (10, torque->power_of_ten) / (time->factor * sb_pow (10, time->power_of_ten));
}
