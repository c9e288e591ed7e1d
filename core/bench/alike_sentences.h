/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Sentences that say the same with other figures, told as one. */
#pragma once

#include <glib.h>

/* The sentence without its figures: that of sentences that are told as one. Numbers within names ("run-03.csv"), signed
 * ones and those of a stretch ("2 to 5 ms") are part of the words. (transfer full) */
char *sb_sentence_words (const char *sentence);

/* "raised by noise: by about 0.19 to 0.33 ms in every repeat": sentences of the same words, each figure that is not
 * alike in all as the smallest and the largest, behind "up to" as the largest. `sentences` of char *, one at least.
 * (transfer full) */
char *sb_sentences_as_one (const GPtrArray *sentences);
