/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The numbers a person can choose, beside the on and off of edits.h: each change is one named step of the history. */
#pragma once

#include "document.h"

typedef enum {
  SB_CHOICE_MARGIN,
  SB_CHOICE_SLOPE_WINDOW,
  SB_CHOICE_SETTLING_BAND,
  SB_CHOICE_SMOOTHING,
  SB_CHOICE_CUTOFF,
  SB_CHOICE_BAND_K,
  SB_CHOICE_MOVING_BAND, /* 0: the lone repeat is drawn as it is */
  SB_N_CHOICES,
} SbChoice;

typedef struct {
  const char *name;        /* "Slope window" */
  const char *unit;        /* "ms"; "" for a factor */
  const char *zero;        /* what 0 stands for: "automatic"; NULL where 0 cannot be chosen */
  const char *explanation; /* a sentence or two */
  double factor;           /* SI = shown * factor */
  double low, high, step;  /* as shown */
  guint digits;            /* after the point */
} SbChoiceInfo;

const SbChoiceInfo *sb_choice_info (SbChoice choice);

/* As shown. */
double sb_choice_get (const SbBench *bench, SbChoice choice);
void sb_edit_set_choice (SbDocument *document, SbChoice choice, double shown);
