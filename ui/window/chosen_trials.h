/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Which trials of a configuration are chosen together: their indices in a sorted array of guint. */
#pragma once

#include <glib.h>

gboolean sb_chosen_contain (const GArray *chosen, guint index);
void sb_chosen_set (GArray *chosen, guint index, gboolean on);

/* All of them when this is one of them, else this alone: what a command on it is about. (transfer full) */
GArray *sb_chosen_meant_by (const GArray *chosen, guint index);
