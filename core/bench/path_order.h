/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Orders of paths in a GPtrArray of char *, the same in every locale. */
#pragma once

#include <glib.h>

int sb_path_order_natural (gconstpointer a, gconstpointer b); /* "run-9" before "run-10" */
int sb_path_order_bytes (gconstpointer a, gconstpointer b);
