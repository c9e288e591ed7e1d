/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "units.h"

#include "measure_table.h"

#include <glib.h>
#include <math.h>
#include <string.h>

static const SbShownUnit slopes[SB_N_SLOPE_UNITS] = {
  [SB_SLOPE_UNIT_PER_MS] = { "N·m/ms", 1e-3 },
  [SB_SLOPE_UNIT_PER_S] = { "N·m/s", 1 },
};

static const SbShownUnit velocities[SB_N_VELOCITY_UNITS] = {
  [SB_VELOCITY_UNIT_RAD_PER_S] = { "rad/s", 1 },
  [SB_VELOCITY_UNIT_RPM] = { "rpm", 30 / G_PI },
  [SB_VELOCITY_UNIT_DEG_PER_S] = { "deg/s", 180 / G_PI },
};

const char *
sb_slope_unit_name (SbSlopeUnit unit)
{
  return slopes[unit].name;
}

const char *
sb_velocity_unit_name (SbVelocityUnit unit)
{
  return velocities[unit].name;
}

/* The same letters, with or without the raised dot. */
static gboolean
is_spelling_of (const char *word, const char *name)
{
  g_auto (GStrv) parts = g_strsplit (name, "·", -1);
  g_autofree char *plain = g_strjoinv ("", parts);
  return strcmp (word, name) == 0 || strcmp (word, plain) == 0;
}

gboolean
sb_units_read_word (const char *word, SbUnits *units)
{
  for (int u = 0; u < SB_N_SLOPE_UNITS; u++)
    if (is_spelling_of (word, slopes[u].name)) {
      units->slope = (SbSlopeUnit) u;
      return TRUE;
    }
  for (int u = 0; u < SB_N_VELOCITY_UNITS; u++)
    if (is_spelling_of (word, velocities[u].name)) {
      units->velocity = (SbVelocityUnit) u;
      return TRUE;
    }
  return FALSE;
}

SbShownUnit
sb_measure_shown_unit (SbMeasureId id, SbUnits units)
{
  const SbMeasureInfo *info = sb_measure_info (id);
  if (strcmp (info->unit, "N·m/s") == 0)
    return slopes[units.slope];
  if (strcmp (info->unit, "rad/s") == 0)
    return velocities[units.velocity];
  return (SbShownUnit){ info->display_unit, info->display_factor };
}

SbShownUnit
sb_channel_shown_unit (SbChannel channel, SbUnits units)
{
  return channel == SB_CHANNEL_VELOCITY ? velocities[units.velocity] : (SbShownUnit){ sb_channel_unit (channel), 1 };
}
