/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where the demo bench lies. */
#pragma once

#include <glib.h>

/* What to open for it: the folder named by SLEWBENCH_DEMO_DIR, else the installed one, else the source tree's;
 * where the folder holds a session, that session. NULL when there is none. (transfer full) */
char *sb_demo_folder_find (void);
