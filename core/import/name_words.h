/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The words of a column's name, and the role that they make with its unit. */
#pragma once

#include "role.h"
#include "unit.h"
#include "vocabulary.h"

/* "motor sensor channel 3": where and how, but not what. */
#define SB_WORDS_SAY_NOTHING (SB_WORD_PLAIN | SB_WORD_MOTOR | SB_WORD_ACTUAL | SB_WORD_ESTIMATED)

/* What the words of a name say together. */
typedef struct {
  guint n_words;
  guint kinds;      /* SbWordKinds of all words */
  guint symbol;     /* what a lone letter in front may stand for */
  gboolean strange; /* the last of several words is none of ours: it may be a unit */
} SbNameWords;

SbNameWords sb_name_words_read (const char *text);

/* The role that words and unit (may be NULL) make; SB_ROLE_OTHER for none. *guessed tells that it rests on a bare
 * letter or on the unit alone. */
SbRole sb_name_words_role (const SbNameWords *words, const SbUnit *unit, gboolean *guessed);

/* TRUE for "encoder", "enc 1", "position raw", where the words make `role`: the angle in counts, to be confirmed. */
gboolean sb_name_words_count (const SbNameWords *words, SbRole role);

/* TRUE for "Channel A", "Sonde K": a capital behind words that do not say what is measured counts them, and is no unit.
 */
gboolean sb_name_words_before_letter (const SbNameWords *words, const char *suffix);
