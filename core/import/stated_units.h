/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Units that lines before a table give to one column each: "Horizontal Units,ms", "Torque unit: mNm". A line that gives
 * one to every column is a row of units (table_units.h). */
#pragma once

#include "layout.h"

/* No preamble has more that count. */
#define SB_STATED_MOST_UNITS 16

typedef struct {
  char of[48];        /* words, small, parted by a blank: "horizontal", "torque" */
  char spelling[24];  /* as written, without brackets */
  const SbUnit *unit; /* NULL: it is none that is known */
  guint64 line;
} SbStatedUnit;

typedef struct {
  SbStatedUnit list[SB_STATED_MOST_UNITS];
  guint n;
} SbStatedUnits;

/* Takes in "`key`: `value`" when it states the unit of one thing; `value` is UTF-8 or not and goes on to the end of the
 * line. */
void sb_stated_units_take (SbStatedUnits *units, const char *key, const char *value, guint64 line);

/* What is stated for the column of this name: by its words, or for the axis of the time where `is_time`. NULL: nothing.
 */
const SbStatedUnit *sb_stated_units_find (const SbStatedUnits *units, const char *name, gboolean is_time);
