/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "clock.h"

#include "number.h"

#include <string.h>

#define SECONDS_PER_DAY  86400
#define SECONDS_PER_HOUR 3600
/* Minutes and seconds that fall over the end of an hour by no more go on there. */
#define MOST_OVER_HOUR_S       60
#define ATTOSECONDS_PER_SECOND G_GUINT64_CONSTANT (1000000000000000000)
#define ATTOSECONDS_PER_NANO   G_GUINT64_CONSTANT (1000000000)
#define NANOSECONDS_PER_SECOND G_GUINT64_CONSTANT (1000000000)
#define N_FRACTION_DIGITS      18
/* Whole nanoseconds of so many seconds fit 63 bits. */
#define MOST_SECONDS_AS_NANO G_GINT64_CONSTANT (9000000000)

typedef struct {
  const char *at, *end;
} Text;

/* Up to `most` digits, at least `least`; FALSE, and nothing is taken, when there are fewer. */
static gboolean
take_digits (Text *text, int least, int most, int *number)
{
  const char *p = text->at;
  int value = 0;
  while (p < text->end && p - text->at < most && g_ascii_isdigit (*p))
    value = value * 10 + (*p++ - '0');
  if (p - text->at < least)
    return FALSE;
  *number = value;
  text->at = p;
  return TRUE;
}

static gboolean
take_sign (Text *text, const char *signs)
{
  if (text->at == text->end || strchr (signs, *text->at) == NULL)
    return FALSE;
  text->at++;
  return TRUE;
}

/* Days since 1970-01-01 in the Gregorian calendar; years are counted from March so that the leap day is the last. */
static gint64
days_since_1970 (int year, int month, int day)
{
  gint64 shifted = year - (month <= 2);
  gint64 era = shifted / 400;
  gint64 of_era = shifted - era * 400;
  gint64 of_year = (153 * (month + (month > 2 ? -3 : 9)) + 2) / 5 + day - 1;
  return era * 146097 + of_era * 365 + of_era / 4 - of_era / 100 + of_year - 719468;
}

static gboolean
is_date (int year, int month, int day)
{
  return year >= 1 && month >= 1 && month <= 12 && day >= 1
         && g_date_valid_dmy ((GDateDay) day, (GDateMonth) month, (GDateYear) year);
}

/* A calendar day as it is written. */
typedef struct {
  gint64 days;
  gboolean basic;                  /* without separators */
  gboolean month_first, day_first; /* written with solidi: what it may be; with both, `days` is by the month first */
  gint64 days_by_day;              /* by the day first then */
} Day;

/* "2026-11-25", "2026/11/25" or "20261125". */
static gboolean
take_year_first (Text *text, Day *day)
{
  int year, month, number;
  Text p = *text;
  if (!take_digits (&p, 4, 4, &year))
    return FALSE;
  const char *separator = p.at;
  day->basic = !take_sign (&p, "-/");
  if (!take_digits (&p, 2, 2, &month) || (!day->basic && (p.at == p.end || *p.at++ != *separator))
      || !take_digits (&p, 2, 2, &number) || !is_date (year, month, number))
    return FALSE;
  day->days = days_since_1970 (year, month, number);
  *text = p;
  return TRUE;
}

/* "25.11.2026" and "25-11-2026"; "25/11/2026", "11/25/2026" and "07/11/2026", which may be either. */
static gboolean
take_year_last (Text *text, Day *day)
{
  int first, second, year;
  Text p = *text;
  if (!take_digits (&p, 1, 2, &first) || p.at == p.end || strchr (".-/", *p.at) == NULL)
    return FALSE;
  char separator[] = { *p.at, '\0' };
  if (!take_sign (&p, separator) || !take_digits (&p, 1, 2, &second) || !take_sign (&p, separator)
      || !take_digits (&p, 4, 4, &year))
    return FALSE;
  gboolean by_day = is_date (year, second, first), by_month = *separator == '/' && is_date (year, first, second);
  if (!by_day && !by_month)
    return FALSE;
  day->days_by_day = by_day ? days_since_1970 (year, second, first) : 0;
  day->days = by_month ? days_since_1970 (year, first, second) : day->days_by_day;
  day->month_first = by_month;
  day->day_first = by_day && *separator == '/';
  *text = p;
  return TRUE;
}

static gboolean
take_date (Text *text, Day *day)
{
  *day = (Day){ 0 };
  return take_year_first (text, day) || take_year_last (text, day);
}

static void
take_fraction (Text *text, guint64 *attoseconds)
{
  Text p = *text;
  int n = 0;
  *attoseconds = 0;
  if (!take_sign (&p, ".,") || p.at == p.end || !g_ascii_isdigit (*p.at))
    return;
  for (; p.at < p.end && g_ascii_isdigit (*p.at); p.at++, n++)
    if (n < N_FRACTION_DIGITS)
      *attoseconds = *attoseconds * 10 + (guint64) (*p.at - '0');
  for (; n < N_FRACTION_DIGITS; n++)
    *attoseconds *= 10;
  *text = p;
}

/* " AM", " pm": hours 1 to 12 count from midnight or noon. TRUE when there is none. */
static gboolean
take_half_day (Text *text, int *hour)
{
  Text p = *text;
  while (take_sign (&p, " "))
    ;
  if (p.end - p.at < 2 || (p.at[1] != 'M' && p.at[1] != 'm') || strchr ("AaPp", p.at[0]) == NULL)
    return TRUE;
  if (*hour < 1 || *hour > 12)
    return FALSE;
  *hour = *hour % 12 + (g_ascii_toupper (p.at[0]) == 'P' ? 12 : 0);
  text->at = p.at + 2;
  return TRUE;
}

/* "75:12.345": minutes and seconds; with a fraction, for "12:30" is an hour and its minutes. */
static gboolean
take_minutes (Text *text, SbClockTime *time)
{
  int minute, second;
  guint64 attoseconds;
  Text p = *text;
  if (!take_digits (&p, 1, 3, &minute) || !take_sign (&p, ":") || !take_digits (&p, 2, 2, &second) || second > 59)
    return FALSE;
  const char *behind = p.at;
  take_fraction (&p, &attoseconds);
  if (p.at == behind || p.at < p.end)
    return FALSE;
  *time = (SbClockTime){ .seconds = minute * 60 + second, .attoseconds = attoseconds, .no_hours = TRUE };
  *text = p;
  return TRUE;
}

/* "10:00:00.0005", or "100000.0005" after a date of that form. */
static gboolean
take_time_of_day (Text *text, gboolean basic, SbClockTime *time)
{
  int hour, minute, second;
  Text p = *text;
  if (!take_digits (&p, basic ? 2 : 1, 2, &hour) || (!basic && !take_sign (&p, ":")) || !take_digits (&p, 2, 2, &minute)
      || (!basic && !take_sign (&p, ":")) || !take_digits (&p, 2, 2, &second))
    return FALSE;
  take_fraction (&p, &time->attoseconds);
  if (!take_half_day (&p, &hour))
    return FALSE;
  gboolean end_of_day = hour == 24 && minute == 0 && second == 0 && time->attoseconds == 0;
  if ((hour > 23 && !end_of_day) || minute > 59 || second > 60)
    return FALSE;
  time->seconds = hour * 3600 + minute * 60 + second;
  *text = p;
  return TRUE;
}

/* "Z", "+01:00", "-0530", "+02", " UTC". FALSE when something else is there. */
static gboolean
take_zone (Text *text, SbClockTime *time)
{
  int hours, minutes = 0;
  Text p = *text;
  while (take_sign (&p, " "))
    ;
  if (p.at == p.end)
    return p.at == text->at; /* blanks alone are none */
  time->has_zone = TRUE;
  gsize rest = (gsize) (p.end - p.at);
  if ((rest == 1 && g_ascii_toupper (*p.at) == 'Z')
      || (rest == 3 && (g_ascii_strncasecmp (p.at, "UTC", 3) == 0 || g_ascii_strncasecmp (p.at, "GMT", 3) == 0)))
    return TRUE;
  gboolean west = *p.at == '-';
  if (!take_sign (&p, "+-") || !take_digits (&p, 2, 2, &hours))
    return FALSE;
  take_sign (&p, ":");
  if (p.at < p.end && !take_digits (&p, 2, 2, &minutes))
    return FALSE;
  if (p.at < p.end || hours > 23 || minutes > 59)
    return FALSE;
  time->seconds -= (west ? -1 : 1) * (hours * 3600 + minutes * 60);
  return TRUE;
}

gboolean
sb_clock_time_read (const char *text, gsize length, SbClockTime *time)
{
  Text p = { text, text + length };
  SbClockTime read = { 0 };
  Day day = { 0 };
  if (take_minutes (&p, time))
    return TRUE;
  read.has_date = take_date (&p, &day);
  if (read.has_date && !take_sign (&p, "Tt "))
    return FALSE;
  while (read.has_date && take_sign (&p, " "))
    ;
  if (!take_time_of_day (&p, day.basic, &read) || !take_zone (&p, &read))
    return FALSE;
  read.seconds += day.days * SECONDS_PER_DAY;
  read.month_first = day.month_first;
  read.day_first = day.day_first;
  if (day.month_first && day.day_first)
    read.day_first_s = (day.days_by_day - day.days) * SECONDS_PER_DAY;
  *time = read;
  return TRUE;
}

/* seconds + attoseconds, both not negative, to the nearest double. */
static double
compose (gint64 seconds, guint64 attoseconds)
{
  double value;
  if (attoseconds % ATTOSECONDS_PER_NANO == 0 && seconds < MOST_SECONDS_AS_NANO
      && sb_number_compose ((guint64) seconds * NANOSECONDS_PER_SECOND + attoseconds / ATTOSECONDS_PER_NANO, -9,
                            &value))
    return value;
  char text[48];
  int n = g_snprintf (text, sizeof text, "%" G_GINT64_FORMAT ".%018" G_GUINT64_FORMAT, seconds, attoseconds);
  return sb_number_read (text, (gsize) n, '.', 0, &value) ? value : (double) seconds;
}

static double
difference (const SbClockTime *from, const SbClockTime *to, gint64 more_s)
{
  gint64 seconds = to->seconds - from->seconds + more_s;
  gboolean negative = seconds < 0 || (seconds == 0 && to->attoseconds < from->attoseconds);
  const SbClockTime *early = negative ? to : from, *late = negative ? from : to;
  seconds = negative ? -seconds : seconds;
  guint64 attoseconds = late->attoseconds - early->attoseconds;
  if (late->attoseconds < early->attoseconds) {
    attoseconds += ATTOSECONDS_PER_SECOND;
    seconds--;
  }
  double value = compose (seconds, attoseconds);
  return negative ? -value : value;
}

/* Whether a time is of the form of the first. Hours that follow minutes go on from them, so that 1:00:00 is an hour
 * after 00:00.0; where the minutes began again at the hour, nobody knows which hour that is. */
static gboolean
suits (const SbClock *clock, const SbClockTime *time)
{
  const SbClockTime *first = &clock->first, *last = &clock->last.time;
  if (first->has_date != time->has_date || first->has_zone != time->has_zone)
    return FALSE;
  if (last->month_first != time->month_first && last->day_first != time->day_first)
    return FALSE;
  if (first->no_hours == time->no_hours)
    return TRUE;
  return first->no_hours && clock->last.n_full_hours == 0 && (!last->no_hours || time->seconds >= last->seconds);
}

/* What is to be added to the seconds of dates that may begin with the month or the day: the shorter step counts. */
static gint64
more_by_day_first (const SbClockTime *last, const SbClockTime *time)
{
  gint64 step = time->seconds - last->seconds, more = time->day_first_s - last->day_first_s;
  if (!last->day_first || !time->day_first)
    return 0;
  gboolean by_month = last->month_first && time->month_first;
  return !by_month || ABS (step + more) < ABS (step) ? more : 0;
}

/* By how much more the clock has begun again when it goes from `last` to `time`. */
static gint64
begins_again (const SbClockTime *last, const SbClockTime *time)
{
  gint64 back = last->seconds - time->seconds;
  if (time->has_date)
    return more_by_day_first (last, time);
  if (last->no_hours != time->no_hours)
    return 0;
  if (!time->no_hours)
    return back > SECONDS_PER_DAY / 2 ? SECONDS_PER_DAY : 0;
  gboolean within_hour = last->seconds < SECONDS_PER_HOUR;
  return within_hour && SECONDS_PER_HOUR - back < MOST_OVER_HOUR_S ? SECONDS_PER_HOUR : 0;
}

/* Whether the row before the last one shows that the last one stands alone: the time goes on from it by a shorter step.
 */
static gboolean
goes_on_from_before (const SbClock *clock, const SbClockTime *time, gint64 again_s)
{
  const SbClockStand *last = &clock->last, *before = &clock->before;
  if (clock->n_taken < 2 || time->has_date || before->begun_again_s == again_s
      || before->time.no_hours != time->no_hours)
    return FALSE;
  gint64 step = time->seconds + again_s - last->time.seconds - last->begun_again_s;
  gint64 of_before = time->seconds - before->time.seconds;
  gint64 last_of_before = last->time.seconds + last->begun_again_s - before->time.seconds - before->begun_again_s;
  gboolean later = of_before > 0 || (of_before == 0 && time->attoseconds > before->time.attoseconds);
  return later && of_before < step && of_before < last_of_before;
}

guint
sb_clock_form_of (const SbClockTime *time)
{
  return SB_CLOCK_FORM_KNOWN | (time->has_date ? SB_CLOCK_FORM_DATE : 0u) | (time->has_zone ? SB_CLOCK_FORM_ZONE : 0u)
         | (time->no_hours ? SB_CLOCK_FORM_NO_HOURS : 0u)
         | (time->month_first || time->day_first ? SB_CLOCK_FORM_SOLIDUS : 0u);
}

/* Minutes may go on with hours: "59:59.9", "1:00:00.0". */
static gboolean
begins_form (guint form, const SbClockTime *time)
{
  guint own = sb_clock_form_of (time);
  if ((form & SB_CLOCK_FORM_DATE) == 0 && (form & SB_CLOCK_FORM_ZONE) == 0)
    own &= ~(guint) SB_CLOCK_FORM_NO_HOURS | form;
  return form == 0 || own == form;
}

gboolean
sb_clock_seconds (SbClock *clock, const SbClockTime *time, double *seconds)
{
  gboolean started = clock->n_taken > 0;
  if (started ? !suits (clock, time) : !begins_form (clock->form, time))
    return FALSE;
  gint64 again_s = started ? clock->last.begun_again_s + begins_again (&clock->last.time, time) : 0;
  if (goes_on_from_before (clock, time, again_s))
    again_s = clock->before.begun_again_s;
  clock->asked = *time;
  clock->asked_again_s = again_s;
  *seconds = difference (started ? &clock->first : time, time, again_s);
  return TRUE;
}

static void
stand (SbClock *clock)
{
  SbClockStand *last = &clock->last;
  gint64 more_s = clock->asked_again_s - last->begun_again_s;
  last->time = clock->asked;
  last->begun_again_s = clock->asked_again_s;
  last->n_midnights += !last->time.has_date && more_s == SECONDS_PER_DAY ? 1 : 0;
  last->n_full_hours += more_s == SECONDS_PER_HOUR ? 1 : 0;
}

void
sb_clock_take (SbClock *clock)
{
  if (clock->n_taken == 0)
    clock->first = clock->asked;
  clock->before = clock->last;
  clock->n_taken++;
  stand (clock);
}

void
sb_clock_take_instead (SbClock *clock)
{
  clock->last = clock->before;
  stand (clock);
}
