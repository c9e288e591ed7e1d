/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Numbers in the lines before a table: "2000", "0,45", "2'500", "65 536".
 *
 * They may be written in another style than the table, for another hand or program wrote them; but one sign before
 * exactly three digits ("2,500") can be read in two ways, and only the table settles which. */
#pragma once

#include "layout.h"

typedef enum {
  SB_NOTED_NONE,     /* no number */
  SB_NOTED_PLAIN,    /* can be read in one way only */
  SB_NOTED_BY_TABLE, /* its sign stands for thousands, because it does so in the table or cannot be its decimal sign */
  SB_NOTED_UNCLEAR,  /* may be read in two ways */
} SbNoted;

/* What the signs of a table say of a noted number. */
typedef struct {
  char delimiter, decimal, thousands; /* as in SbLayout */
} SbNotedStyle;

SbNotedStyle sb_noted_style (const SbLayout *layout);

/* The bytes of the number that `text` begins with, its groups and its power of ten included; 0 when it begins with
 * none. Where commas part the cells (`comma_ends`) one ends the number. */
gsize sb_noted_length (const char *text, gboolean comma_ends);

/* *value is left as it is when there is none or it is unclear. */
SbNoted sb_noted_read (const char *text, gsize length, const SbNotedStyle *style, double *value);

/* "may be 2500 or 2.5: write it without a sign for thousands". (transfer full) */
char *sb_noted_unclear (const char *text, gsize length);
