/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Which command-line options state the values without which columns cannot be read. */
#pragma once

#include "log_reading.h"

/* "--torque-per-volt"; NULL when column `index` misses no value that an option states. */
const char *sb_wanted_option (const SbLayout *layout, guint index);

/* Adds the options that a log wants that could not be read, each once, to `options` (const char *, static). */
void sb_wanted_options_add (GPtrArray *options, const char *path, const SbLogReading *reading);

/* Says them on stderr, when there are any. */
void sb_wanted_options_say (const GPtrArray *options);
