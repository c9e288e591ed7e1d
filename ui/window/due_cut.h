/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Logs that came, or are read anew, and are to be cut into their steps once the results show which have several. */
#pragma once

#include "analysis.h"
#include "history.h"
#include "news.h"

typedef struct {
  gboolean is_due;
  SbBench *base; /* the choices that came with the logs: a cut of these is part of the same step; owned */
} SbDueCut;

void sb_due_cut_expect (SbDueCut *due, SbBench *bench);

/* What a person went back to is not cut again. */
void sb_due_cut_forget (SbDueCut *due);

/* Puts the cut into `history`, of whose current bench `results` are, and tells it to `news`. FALSE when nothing is due,
 * or there is nothing to cut. */
gboolean sb_due_cut_make (SbDueCut *due, const SbAnalysis *results, SbHistory *history, SbNews *news);
