/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Words for the signs and kinds of a dialect: in layout files, on the command line and in the window. */
#pragma once

#include "layout.h"

typedef enum {
  SB_WORD_DELIMITER,
  SB_WORD_DECIMAL,
  SB_WORD_THOUSANDS,
  SB_WORD_QUOTE,
  SB_N_WORD_KINDS,
} SbWordKind;

/* "semicolon" for ';', "none" for 0; NULL when a layout cannot have this sign there. */
const char *sb_sign_word (SbWordKind kind, char sign);

/* The sign of a word, or of itself (";"). FALSE, and *sign untouched, when it is none of them. */
gboolean sb_sign_find (SbWordKind kind, const char *word, char *sign);

/* "UTF-16 LE" */
const char *sb_encoding_name (SbEncoding encoding);

/* FALSE, and *encoding untouched, when no encoding has this name, letter case, blanks and hyphens apart. */
gboolean sb_encoding_find (const char *name, SbEncoding *encoding);

/* "comma, semicolon, tab, bar or blanks": for messages. (transfer full) */
char *sb_sign_list (SbWordKind kind);
