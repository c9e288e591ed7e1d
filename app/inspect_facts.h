/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What `slewbench inspect` tells of a log in more than one form, as text and as JSON. */
#pragma once

#include "preview.h"
#include "trial.h"

/* A log with what a look at all of its columns found; `preview` is NULL when the file is gone meanwhile. */
typedef struct {
  SbLog *log;
  SbPreview *preview;
} SbInspected;

/* Smallest and largest number of a column. */
typedef struct {
  gboolean is_known; /* FALSE: the column was not looked at */
  gsize n_numbers;   /* 0: no cell of it is a number, and lowest and highest mean nothing */
  double lowest, highest;
  const char *unit;   /* SI; NULL: as written, of a column that is not read */
  gsize n_first_rows; /* only so many rows at the beginning were looked at; 0: all */
} SbColumnRange;

/* Of the rows that were read for a channel, of the beginning of the file for every other column. */
SbColumnRange sb_inspected_range (const SbInspected *inspected, guint column);

/* "torque", "read past" */
const char *sb_inspected_role (const SbLogColumn *column);

/* "temperature": the key and the unit are those of the role. */
SbRole sb_inspected_role_of_aside (int aside);

/* What the log is as a step test; NULL, with the reason, when it is none. (transfer full) */
SbTrial *sb_inspected_trial (const SbInspected *inspected, char **reason);
