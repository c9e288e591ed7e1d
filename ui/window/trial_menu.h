/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The menu of a trial in the list of configurations. Its actions are those of the group "trials" (trial_rows.c) and of
 * the window. */
#pragma once

#include "document.h"

typedef struct {
  SbDocument *document; /* borrowed */
  guint configuration, index;
  gboolean can_be_cut; /* its log has been read */
  gboolean is_lost;
  gboolean is_chosen; /* with others, perhaps */
  guint n_meant;      /* trials that a command is about */
} SbTrialMenu;

GMenuModel *sb_trial_menu_new (const SbTrialMenu *of);
