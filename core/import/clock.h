/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Times as a clock or a calendar shows them -> seconds since the first row.
 *
 * Read are dates and times of ISO 8601 ("2026-11-25T10:00:00.0005+01:00", with a blank for the T, without separators
 * too), dates as 2026/11/25, 25.11.2026, 25-11-2026, 25/11/2026 and 11/25/2026, times of day alone ("10:00:00.0005",
 * "9:05:01.5 PM"), and minutes and seconds with a fraction ("75:12.345"). Everything is whole seconds and whole 10^-18
 * s: the difference of two times is rounded once, so that 10:00:00.0005 is the double 0.0005 after 10:00:00. Digits
 * beyond the eighteenth of a fraction are not read. A time without zone is local time, and a leap second counts as the
 * first second of the next minute. */
#pragma once

#include <glib.h>

typedef struct {
  gint64 seconds;      /* since 1970-01-01 UTC, or since midnight when there is no date */
  guint64 attoseconds; /* below 10^18 */
  gboolean has_date, has_zone;
  gboolean month_first,
      day_first;      /* a date with solidi is one or either; either: `seconds` is by the month first, ... */
  gint64 day_first_s; /* ... and by the day first so much later */
  gboolean no_hours;  /* minutes and seconds: of an hour, or since some start */
} SbClockTime;

/* The whole of `text`, without blanks around it. FALSE, and *time untouched, when it is anything else. */
gboolean sb_clock_time_read (const char *text, gsize length, SbClockTime *time);

/* How the clock times of a column are written; 0: not known. */
typedef enum {
  SB_CLOCK_FORM_KNOWN = 1 << 0,
  SB_CLOCK_FORM_DATE = 1 << 1,
  SB_CLOCK_FORM_ZONE = 1 << 2,
  SB_CLOCK_FORM_NO_HOURS = 1 << 3,
  SB_CLOCK_FORM_SOLIDUS = 1 << 4, /* between the parts of the date */
  SB_N_CLOCK_FORMS = 1 << 5,
} SbClockForm;

guint sb_clock_form_of (const SbClockTime *time);

/* Where a clock stands behind a row. */
typedef struct {
  SbClockTime time;
  gint64 begun_again_s; /* by which it began again since the first, where there is no date: */
  guint n_midnights;    /* 86,400 for each of these, */
  guint n_full_hours;   /* 3,600 for these, where it shows no hours */
} SbClockStand;

/* The rows of one log so far. Starts as zeros, but for the form. */
typedef struct {
  guint form; /* SbClockForm of most rows: a first one of another is refused */
  guint64 n_taken;
  SbClockTime first;         /* of the rows that were taken, */
  SbClockStand last, before; /* and the last two of them */
  SbClockTime asked;         /* what sb_clock_seconds was asked last, ... */
  gint64 asked_again_s;      /* ... and by which it had begun again then */
} SbClock;

/* Seconds from the first row taken to `time`: 0 for the first. A time of day more than twelve hours before the last one
 * taken is on the next day; minutes and seconds that fall from the last minute of an hour into the first one, by less
 * than a minute as a clock goes, are in the next hour. Minutes and seconds may go on with hours: 1:00:00 behind
 * 59:59.9. But where the time goes on from
 * the row before the last one by a shorter step, the last one's is the fault, and the clock did not begin again: the
 * time is before the last one's then. Where 07/11/2026 may be July or November, it is what makes the shorter step from
 * the last one. FALSE when it is written with a date, zone or hours and the first is not, or the other way. */
gboolean sb_clock_seconds (SbClock *clock, const SbClockTime *time, double *seconds);

/* The time asked for last belongs to a row that is kept. */
void sb_clock_take (SbClock *clock);

/* ... to one that takes the place of the last one. */
void sb_clock_take_instead (SbClock *clock);
