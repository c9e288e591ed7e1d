/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Lists of paths, NULL-terminated. */
#pragma once

#include <glib.h>

/* (transfer full) */
GStrv sb_paths_copy (const char *const *paths);
