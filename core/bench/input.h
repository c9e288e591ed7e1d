/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a person gives the program - files, folders, a session - turned into configurations. The command line, Open
 * and a drop on the window all come through here. */
#pragma once

#include "bench.h"

typedef enum {
  SB_INPUT_ERROR_NOTHING, /* no log in what was given */
} SbInputError;

#define SB_INPUT_ERROR (sb_input_error_quark ())
GQuark sb_input_error_quark (void);

/* Whether a file in a folder is taken for a log, by its name: a folder also holds notes, pictures and sessions. */
gboolean sb_input_is_log_name (const char *name);

/* Adds to `edited` what `paths` name: a session file (its configurations; alone on an empty bench it brings its choices
 * too), a folder of logs (one configuration, named after it), a folder of such folders (one configuration each), log
 * files (together one configuration, named after what their names share). Files are taken in natural order of their
 * names ("run 9" before "run 10"). Configurations remember the folder that they come from. FALSE with an error when any
 * of the paths cannot be used; what could be added has been. `cancellable` may be NULL. Reads folders: call it off the
 * main loop. */
gboolean
sb_input_add (SbBench *edited, const char *const *paths, gsize n_paths, GCancellable *cancellable, GError **error);
