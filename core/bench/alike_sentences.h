/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Which sentences are of one kind: in the same words, whatever their numbers. */
#pragma once

#include <glib.h>

/* A key that sentences of one kind have in common, of sentences with figures as sb_figure() (doubt.h) marks them, or
 * without such marks. Numbers within names ("run-03.csv", "firmware 1.4a") and in quotes are part of the words. Which
 * of the other numbers are names too it cannot tell: of sentences of one kind not more may be said than that, except
 * what sb_figures_write_all() says. (transfer full) */
char *sb_sentence_kind (const char *sentence);
