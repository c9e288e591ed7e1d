/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The first page: what to drop, two ways to begin, and the cautions. */
#pragma once

#include <gtk/gtk.h>

GtkWidget *sb_welcome_page_new (gboolean with_demo);
