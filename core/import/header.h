/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The name of a column -> its channel and unit.
 *
 * Units are understood in brackets ("Torque [Nm]", "Speed (rpm)"), after a solidus ("Torque / Nm"), and after an
 * underscore or blank ("velocity_rad_s", "time ms"). A name with a unit that does not suit it, or with one we do not
 * know, has no channel: reading it in a guessed unit would be worse. Nor has one of more than 1000 bytes. */
#pragma once

#include "unit.h"

typedef struct {
  char *name;         /* white space trimmed */
  int channel;        /* SbChannel, or -1 */
  const SbUnit *unit; /* NULL when the name has none: SI then */
  char *problem;      /* why a name that looks like a channel is none; NULL when there is nothing to tell */
} SbColumnMeaning;

/* `name` is UTF-8. The caller clears `meaning`. */
void sb_column_meaning_read (SbColumnMeaning *meaning, const char *name);
void sb_column_meaning_clear (SbColumnMeaning *meaning);
