/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The trials of one configuration, taken apart: for the files trial_rows*.c only. */
#pragma once

#include "trial_rows.h"

/* The widgets of one trial. */
typedef struct {
  GtkWidget *box, *line, *check, *icon, *state, *menu;
  GtkWidget *reason; /* NULL until the trial is left out for the first time */
} SbTrialRow;

struct _SbTrialRows {
  GtkBox parent_instance;
  SbDocument *document; /* borrowed: the window outlives its views */
  guint configuration;
  GArray *rows; /* SbTrialRow */
  gboolean updating;
  GArray *selected; /* guint, sorted: trials that are chosen together */
};

/* trial_rows_shown.c */
const SbTrialResult *
sb_trial_rows_result_of (const SbConfigurationResult *results, guint index, const SbTrialEntry *entry);
void
sb_trial_rows_update_row (SbTrialRows *rows, SbTrialRow *row, const SbTrialEntry *entry, const SbTrialResult *result);
