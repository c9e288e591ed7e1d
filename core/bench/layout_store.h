/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The layouts that a person confirmed and wants applied to other logs of the same shape: a layout file in the user's
 * data folder. Several programs may use it at once: each change reads the file anew under a lock and replaces it whole.
 *
 * Functions wait for that lock and for the disk: call them off the main loop. Errors are in SB_LAYOUT_FILE_ERROR; a
 * file that cannot be read is never written over. */
#pragma once

#include "layout_file.h"

/* Where it is: "layouts.json" in the program's folder among the user's data. (transfer full) */
char *sb_layout_store_path (void);

/* SbLayoutChoice, in the order of their remembering; empty when nothing was remembered yet. (transfer full) */
GPtrArray *sb_layout_store_list (const char *path, GError **error);

/* Remembers all of `choices`, each in the place of the one that it replaces (layout_choice.h). */
gboolean sb_layout_store_remember (const char *path, const GPtrArray *choices, GError **error);

/* Gives another name to, or forgets, the layout called `key`: by its name, its signature or the beginning of that. 1,
 * or 0 when there is none; -1 with an error, also when there are several. */
int sb_layout_store_rename (const char *path, const char *key, const char *name, GError **error);
int sb_layout_store_forget (const char *path, const char *key, GError **error);

/* Index of the layout called `key` among `choices`; -1 when there is none or, with *n above 1, several. `n` may be
 * NULL.
 */
int sb_layout_store_find (const GPtrArray *choices, const char *key, guint *n);
