/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The configurations of the bench, one row each. */
#pragma once

#include "document.h"

#include <gtk/gtk.h>

#define SB_TYPE_CONFIGURATION_LIST (sb_configuration_list_get_type ())
G_DECLARE_FINAL_TYPE (SbConfigurationList, sb_configuration_list, SB, CONFIGURATION_LIST, GtkBox)

GtkWidget *sb_configuration_list_new (SbDocument *document);

/* Brings the rows there are up; rows to be added come one by one with steps: FALSE when none is missing. */
void sb_configuration_list_update (SbConfigurationList *list);
gboolean sb_configuration_list_step (SbConfigurationList *list);

void sb_configuration_list_rename_selected (SbConfigurationList *list);
const char *sb_configuration_list_log (SbConfigurationList *list); /* see sb_bench_page_log() */
void sb_configuration_list_select (SbConfigurationList *list, guint configuration, int trial); /* trial -1: none */
