/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How a file writes its numbers: the decimal sign, and what stands between groups of three digits.
 *
 * A separator is taken only when cells show what it is: "0,5" and "12,25" show a decimal comma, "1,234.5" and
 * "1.234.567" show groups. "1,234" alone shows nothing and is a question. */
#pragma once

#include <glib.h>

typedef struct {
  guint decimal[2];        /* cells that show the point, the comma to be the decimal sign */
  guint grouping[4];       /* cells that show groups by point, comma, apostrophe, blank */
  guint open[2];           /* cells with one point, one comma that may be either */
  char example[2][24];     /* the first of these */
  guint example_column[2]; /* and where it was */
} SbNumberStyle;

/* TRUE for a number in any style, a time of day or a date; blanks inside count as groups when `blanks_group`. */
gboolean sb_number_looks_like_one (const char *text, gsize length, gboolean blanks_group);

/* Takes in what a cell shows; text that is no number shows nothing. */
void sb_number_style_add (SbNumberStyle *style, const char *text, gsize length, guint column);

/* *decimal is 0 when no cell has a decimal sign, *thousands 0 when none has groups. The index (0: point, 1: comma) of
 * the separator that may be either; -1 when everything is clear. `delimiter` is that of the file. */
int sb_number_style_decide (const SbNumberStyle *style, char delimiter, char *decimal, char *thousands);

/* The same when the decimal sign is stated: the thousands separator that goes with it. */
void sb_number_style_fix (const SbNumberStyle *style, char sign, char *decimal, char *thousands);

/* `text` without its groups, for sb_number_read: the length written to `plain` (of `size` bytes), or 0 when the groups
 * are not of three digits each or the number is too long. */
gsize sb_number_ungroup (const char *text, gsize length, char thousands, char decimal, char *plain, gsize size);

/* The bytes of the blank at `text` (before `end`): 1 to 3, a no-break or thin one in UTF-8 or Windows-1252 included; 0
 * when there is none. */
gsize sb_blank_length (const char *text, const char *end);
