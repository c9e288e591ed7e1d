/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A time that is the count of a counter of 16 or 32 bits, which begins again at 0: "65500, 64" with 100 from row to
 * row. All in counts as written.
 *
 * It is followed only where nothing else can be meant: the counts are whole, the steps so far are alike (over a row
 * that was left out it is two of them, or up to four over more), at least SB_TICKS_LEAST_ROWS of them, the step over
 * the end is one of these, and behind it the counter does not begin within four steps of the first count of the
 * recording, as another recording would that is as long as the counter. */
#pragma once

#include <glib.h>

/* Fewer rows show no steps that could be alike. */
#define SB_TICKS_LEAST_ROWS 8

/* So many counters there are, and what each is. */
#define SB_N_COUNTERS 2
typedef struct {
  guint bits;
  double range;      /* counts from one beginning to the next */
  const char *words; /* the same in digits */
} SbCounter;
extern const SbCounter sb_counters[SB_N_COUNTERS];

/* The rows so far, as a counter sees them. */
typedef struct {
  double last; /* followed */
  guint64 n_rows;
  double least, most; /* steps */
} SbTickRows;

/* Starts as zeros. */
typedef struct {
  SbTickRows rows, before; /* before: without the last row */
  double first;            /* count of the recording, of a row that was left out, too */
  gboolean has_first;
  guint bits; /* of the counter that is followed; 0: none is */
  guint n_wraps;
  double offset; /* what is to be added to a count as written */
} SbTicks;

/* How many counts of this size a time is: a whole number where it is one but for what rounding leaves. */
double sb_ticks_count (double time, double size);

/* A row that says `counts` is left out. */
void sb_ticks_pass_over (SbTicks *ticks, double counts);

/* Takes in the row that was kept last; `counts` with the offset. */
void sb_ticks_add (SbTicks *ticks, double counts);

/* The row takes the place of the last one. */
void sb_ticks_replace (SbTicks *ticks, double counts);

/* The next row says `counts` (without the offset), which is before the last one. TRUE when the counter began again; the
 * offset is that of the row then. */
gboolean sb_ticks_begin_again (SbTicks *ticks, double counts);
