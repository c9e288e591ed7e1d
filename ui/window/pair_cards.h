/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The compared pair as cards: which measures differ, and over which time the curves are apart. */
#pragma once

#include "analysis.h"

#include <gtk/gtk.h>

/* SbJudgementCard, floating; none when nothing is compared. (transfer container) */
GPtrArray *sb_pair_cards_new (const SbAnalysis *analysis);
