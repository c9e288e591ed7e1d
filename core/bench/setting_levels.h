/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Which level of a setting each configuration was tested at, as its logs state, and which configurations belong
 * together because nothing else that they state differs. */
#pragma once

#include "analysis.h"

/* The rotation range counts as a setting of this name, in degrees. */
#define SB_ROTATION_SETTING "rotation range"

typedef struct {
  guint configuration; /* index in the analysis */
  guint series;        /* index in the series */
  double level;        /* in the unit of the levels */
} SbSettingLevel;

typedef struct {
  char *name;         /* "torque slope" */
  char *unit;         /* "N·m/ms"; "" when none is stated */
  GArray *levels;     /* SbSettingLevel, in the order of the configurations */
  GPtrArray *series;  /* char *: what tells a series from the others, "Bracken, smoothing filter 60 %"; "" when alone */
  GPtrArray *without; /* char *, names of drawn configurations without a number for it in that unit */
} SbSettingLevels;

/* Names of the settings that have numbers at two levels or more over the drawn configurations, the one with most levels
 * first. (transfer full) */
GPtrArray *sb_setting_names (const SbAnalysis *analysis);

/* Levels of `name` over the drawn configurations that have used trials; the first of these states the setting. Empty
 * when none does. (transfer full) */
SbSettingLevels *sb_setting_levels_new (const SbAnalysis *analysis, const char *name);
void sb_setting_levels_free (SbSettingLevels *levels);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SbSettingLevels, sb_setting_levels_free)

/* How many `to` one `from` is: 0.001 for "N·m/s" and "N·m/ms". NaN when they are no measure of the same, or not known.
 */
double sb_setting_unit_ratio (const char *from, const char *to);
