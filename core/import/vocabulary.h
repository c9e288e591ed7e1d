/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The words that names of columns are made of, in the languages that loggers speak, and what they say of a column.
 *
 * A word is looked up without letter case and accents, without digits at its end, and, where a language writes
 * compounds, as the words it is put together from ("Solldrehmoment", "指令トルク"). */
#pragma once

#include <glib.h>

typedef enum {
  SB_WORD_TIME = 1 << 0,
  SB_WORD_SAMPLE = 1 << 1, /* the number of a row */
  SB_WORD_ANGLE = 1 << 2,
  SB_WORD_VELOCITY = 1 << 3,
  SB_WORD_TORQUE = 1 << 4,
  SB_WORD_CURRENT = 1 << 5,
  SB_WORD_TEMPERATURE = 1 << 6,
  SB_WORD_VOLTAGE = 1 << 7,
  SB_WORD_SUPPLY = 1 << 8, /* of the motor's feed */
  SB_WORD_COMMAND = 1 << 9,
  SB_WORD_ACTUAL = 1 << 10,
  SB_WORD_OTHER = 1 << 11,      /* of something derived, or not of ours: "torque error" */
  SB_WORD_FOREIGN = 1 << 12,    /* a unit no role is written in: "torque_kN" */
  SB_WORD_MOTOR = 1 << 13,      /* where: a motor voltage is not the supply */
  SB_WORD_PLAIN = 1 << 14,      /* says where or how, and nothing of the quantity or unit */
  SB_WORD_ENCODER = 1 << 15,    /* alone it is the angle, in counts */
  SB_WORD_RAW = 1 << 16,        /* a number as a converter or counter gives it */
  SB_WORD_ESTIMATED = 1 << 17,  /* worked out from other quantities: not the command, but not measured either */
  SB_WORD_ELECTRICAL = 1 << 18, /* of an angle or a speed: so many times the mechanical one as there are pole pairs */
} SbWordKind;

#define SB_WORD_QUANTITIES                                                                                             \
  (SB_WORD_TIME | SB_WORD_SAMPLE | SB_WORD_ANGLE | SB_WORD_VELOCITY | SB_WORD_TORQUE | SB_WORD_CURRENT                 \
   | SB_WORD_TEMPERATURE | SB_WORD_VOLTAGE | SB_WORD_SUPPLY)

/* The words of one kind in one language. */
typedef struct {
  SbWordKind kind;
  const char *language; /* "English"; "symbols" */
  const char *words;    /* as they are written, blank-separated */
} SbVocabulary;

/* All of them; NULL behind the last. (transfer none) */
const SbVocabulary *sb_vocabulary_at (guint index);

/* "MotorTorque_raw" -> "motor", "torque", "raw": small letters with their accents. (transfer full) (element-type utf8)
 */
GPtrArray *sb_words_split (const char *text);

/* SbWordKinds of one of these words, put together from its parts for a compound; 0 for a word we do not know. */
guint sb_word_kinds (const char *word);

/* TRUE when a word of `name` is of one of these SbWordKinds. */
gboolean sb_words_say (const char *name, guint kinds);

/* What a lone letter before other words may stand for: "M_soll" is a torque, "t" a time, a torque or a temperature. The
 * likeliest is the lowest bit. */
guint sb_word_symbol (const char *letter);

/* TRUE for a name with a tick in it: of a clock whose length is to be stated, and which may tick more than once a row.
 */
gboolean sb_words_say_tick (const char *name);

/* TRUE for words one of which says unit; *others are the rest of them, small and parted by a blank ("horizontal" of
 * "Horizontal Units"). `others` may be NULL. (transfer full) */
gboolean sb_words_say_unit (const char *text, char **others);

/* TRUE for the name of an angular velocity ("omega", "Winkelgeschwindigkeit"), which is in radians where nothing else
 * is said; a speed of rotation is in turns. */
gboolean sb_words_say_angular (const char *name);

/* TRUE for a word of German or Swedish, where "Grad" is a degree and not the hundredth part of a right angle. */
gboolean sb_word_says_grad_for_degree (const char *word);
