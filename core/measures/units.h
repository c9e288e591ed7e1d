/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The units that figures and axes are shown in. Values stay in SI; a unit is applied where a number becomes text or a
 * place on an axis, so that no result depends on it. */
#pragma once

#include "measure.h"

typedef enum {
  SB_SLOPE_UNIT_PER_MS, /* N·m/ms */
  SB_SLOPE_UNIT_PER_S,  /* N·m/s */
  SB_N_SLOPE_UNITS,
} SbSlopeUnit;

typedef enum {
  SB_VELOCITY_UNIT_RAD_PER_S,
  SB_VELOCITY_UNIT_RPM,
  SB_VELOCITY_UNIT_DEG_PER_S,
  SB_N_VELOCITY_UNITS,
} SbVelocityUnit;

/* All zero: N·m/ms and rad/s. */
typedef struct {
  SbSlopeUnit slope;
  SbVelocityUnit velocity;
} SbUnits;

/* A value as shown is the value in SI times the factor. */
typedef struct {
  const char *name; /* "N·m/ms"; "1" for what is counted or has no unit */
  double factor;
} SbShownUnit;

const char *sb_slope_unit_name (SbSlopeUnit unit);
const char *sb_velocity_unit_name (SbVelocityUnit unit);

/* Chooses the unit that `word` names, "N·m/s", "Nm/s" or "rpm", in place of the one of its kind. FALSE with nothing
 * written: there is no such choice. */
gboolean sb_units_read_word (const char *word, SbUnits *units);

SbShownUnit sb_measure_shown_unit (SbMeasureId id, SbUnits units);
SbShownUnit sb_channel_shown_unit (SbChannel channel, SbUnits units);

/* sb_measure_format() in these units. (transfer full) */
char *sb_measure_format_in (SbMeasureId id, SbUnits units, double value, double uncertainty, gboolean with_unit);

/* The same of a difference, with its sign: "+0.83", "−0.12"; what is rounded to zero has no "+". (transfer full) */
char *sb_measure_format_change (SbMeasureId id, SbUnits units, double value, double uncertainty, gboolean with_unit);
