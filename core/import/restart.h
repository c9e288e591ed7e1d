/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where the time of a table starts again without a header: another recording begins there.
 *
 * It does where a row's time lies in the first half of what the rows so far cover, or before it, more than three
 * sampling intervals before the last row, and the three rows behind it go on from there in order. Any other row that
 * does not follow the last one is a fault of its own: jitter, a row told twice, packets that changed places. Where it
 * goes on from the row before the last one, the last one is the fault: its time stood alone. */
#pragma once

#include <glib.h>

/* A row that starts again and those that must follow it. */
#define SB_RESTART_ROWS 4

/* The times of the rows of a recording so far, in any unit. */
typedef struct {
  double first, last;
  guint64 n_rows;
  double before_last; /* the time of the row before the last one; of no meaning while there is none */
} SbTimeSpan;

/* A time that fell, and the rows since that go on from it. Starts as zeros. */
typedef struct {
  guint n_rows;
  guint64 line; /* of the first of them, */
  double time;  /* and its time */
  double last;
} SbFall;

typedef enum {
  SB_FALL_NONE,       /* the row is no part of a fall; the rows of one before it were none either */
  SB_FALL_BEGINS,     /* the row is the first of one; the rows of one before it were none */
  SB_FALL_GOES_ON,    /* the row is another one of it */
  SB_FALL_LAST_ALONE, /* the row goes on from the row before the last one, whose time is far ahead of both */
  SB_FALL_RESTARTS,   /* ... and the last that was wanted: a recording begins at fall->line */
} SbFallStep;

/* The next row has this time; a row behind the last one ends the fall. */
SbFallStep sb_fall_take (SbFall *fall, const SbTimeSpan *span, double time, guint64 line);

/* Takes in a row; one that does not follow the last is not counted. */
void sb_time_span_add (SbTimeSpan *span, double time);

/* A row takes the place of the last one. */
void sb_time_span_replace (SbTimeSpan *span, double time);

/* 16 or 32 when a counter of so many bits that begins again goes from `last` to `time` with a step of about the
 * recording's interval; 0 when none does. All in counts. */
guint sb_time_span_wrap_bits (const SbTimeSpan *span, double time);
