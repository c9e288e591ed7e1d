/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The column layouts that are remembered for later files: to look at, rename, edit, forget, give to a colleague and
 * take from one. Every change is in the user's data folder at once.
 *
 * Signal "changed" (): the remembered layouts are others now. */
#pragma once

#include <gtk/gtk.h>

#define SB_TYPE_LAYOUT_LIST (sb_layout_list_get_type ())
G_DECLARE_FINAL_TYPE (SbLayoutList, sb_layout_list, SB, LAYOUT_LIST, GtkWindow)

GtkWidget *sb_layout_list_new (GtkWindow *parent);
