/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A measure as a person writes it: by its key, or by its name as tables show it. */
#pragma once

#include "measure_table.h"

/* "peak_torque", "Peak torque" or "peak torque", with spaces around it or none. FALSE, with *id as it was, when no
 * measure is called so. */
gboolean sb_measure_id_from_words (const char *words, SbMeasureId *id);

/* "no measure is called 'X'; nearest is 'KEY'. The keys are KEY, KEY, ...", to stand behind the name of an option and a
 * colon, without a full stop. (transfer full) */
char *sb_measure_unknown_words (const char *words);
