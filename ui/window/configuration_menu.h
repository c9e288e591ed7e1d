/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is done to a whole configuration, as a menu of the actions that its row has (configuration_row.h). */
#pragma once

#include "document.h"

#include <gtk/gtk.h>

/* (transfer full) */
GMenuModel *sb_configuration_menu_new (SbDocument *document, guint index);

/* A menu of the other configurations; in `action`, "#" stands for the index of each. (transfer full) */
GMenuModel *sb_configuration_menu_of_others (SbDocument *document, guint index, const char *action);
