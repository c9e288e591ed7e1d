/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The name of a column -> its role and unit.
 *
 * Units are understood in brackets ("Torque [Nm]", "Speed (rpm)"), after a solidus ("Torque / Nm"), after an underscore
 * or blank ("velocity_rad_s", "time ms"), and in the cell of a units row. Words are those of vocabulary.h, a lone
 * letter before others is a symbol ("M_soll [Nm]", "n_ist (1/min)"). A name with a unit that does not suit it, or with
 * one we do not know, has no role: reading it in a guessed unit would be worse. Nor has one of more than 1000 bytes. */
#pragma once

#include "layout.h"

typedef struct {
  char *name; /* white space trimmed */
  SbRole role;
  const SbUnit *unit;    /* NULL when nothing states one: SI then */
  SbCertainty certainty; /* STATED, ASSUMED or GUESSED */
  gboolean says_nothing; /* neither a word nor a unit we know: the shape of the data may tell */
  int channel;           /* SbChannel that the name states and the unit makes readable, or -1 */
  char *problem;         /* why a name that speaks of a quantity has no role, or why it is a guess; or NULL */
} SbColumnMeaning;

/* `name` is UTF-8. The caller clears `meaning`. */
void sb_column_meaning_read (SbColumnMeaning *meaning, const char *name);

/* The same with the cell of a units row, "Nm" or "[Nm]", which counts when the name has no unit; may be NULL or "". */
void sb_column_meaning_read_with_unit (SbColumnMeaning *meaning, const char *name, const char *unit_cell);

void sb_column_meaning_clear (SbColumnMeaning *meaning);
