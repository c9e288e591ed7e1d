/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "number_style.h"

#include "number.h"
#include "number_unit.h"

#include <string.h>

/* Separators by index: the first two may be decimal signs. */
enum { POINT, COMMA, APOSTROPHE, BLANK, N_SEPARATORS };

static const char signs[N_SEPARATORS] = { '.', ',', '\'', ' ' };

/* More separators than any number has. */
#define MAX_SEPARATORS 12

/* A number cut at its separators. */
typedef struct {
  guint n_separators;
  int separator[MAX_SEPARATORS];
  guint n_digits[MAX_SEPARATORS + 1];
  gboolean leading_zero;
  gboolean exponent;
} Groups;

gsize
sb_blank_length (const char *text, const char *end)
{
  static const char *const blanks[] = { " ", "\xc2\xa0", "\xe2\x80\xaf", "\xe2\x80\x89", "\xa0" };
  for (guint i = 0; i < G_N_ELEMENTS (blanks); i++) {
    gsize n = strlen (blanks[i]);
    if ((gsize) (end - text) >= n && memcmp (text, blanks[i], n) == 0)
      return n;
  }
  return 0;
}

/* The separator at `p` and its length, or -1. */
static int
separator_at (const char *p, const char *end, gsize *length)
{
  *length = 1;
  if (*p == '.' || *p == ',' || *p == '\'' || *p == '\x92') /* the last is the typographic one of Windows-1252 */
    return *p == '.' ? POINT : *p == ',' ? COMMA : APOSTROPHE;
  if (end - p >= 3 && memcmp (p, "\xe2\x80\x99", 3) == 0) { /* the typographic apostrophe */
    *length = 3;
    return APOSTROPHE;
  }
  *length = sb_blank_length (p, end);
  return *length > 0 ? BLANK : -1;
}

static gboolean
is_exponent (const char *p, const char *end)
{
  p++;
  gboolean negative;
  p += sb_number_sign_length (p, end, &negative);
  gsize n = 0;
  while (p < end && g_ascii_isdigit (*p)) {
    p++;
    n++;
  }
  return n > 0 && p == end;
}

/* FALSE when the text has anything but digits, separators, a sign and an exponent. */
static gboolean
cut (const char *text, gsize length, Groups *groups)
{
  const char *p = text, *end = text + length;
  gboolean negative;
  *groups = (Groups){ 0 };
  p += sb_number_sign_length (p, end, &negative);
  groups->leading_zero = p < end && *p == '0';
  gboolean any = FALSE;
  while (p < end) {
    gsize n;
    if (g_ascii_isdigit (*p)) {
      groups->n_digits[groups->n_separators]++;
      any = TRUE;
      p++;
    } else if (any && (*p == 'e' || *p == 'E')) {
      groups->exponent = TRUE;
      return is_exponent (p, end);
    } else {
      int separator = separator_at (p, end, &n);
      if (separator < 0 || groups->n_separators == MAX_SEPARATORS)
        return FALSE;
      groups->separator[groups->n_separators++] = separator;
      p += n;
    }
  }
  return any;
}

/* The first `n` separators are one sign and enclose groups of three. */
static gboolean
is_grouped (const Groups *groups, guint n)
{
  if (n == 0 || groups->n_digits[0] < 1 || groups->n_digits[0] > 3)
    return FALSE;
  for (guint i = 0; i < n; i++)
    if (groups->separator[i] != groups->separator[0] || groups->n_digits[i + 1] != 3)
      return FALSE;
  return TRUE;
}

/* What a number shows: its decimal sign and its groups by index, -1 for none; `open` when its one separator may be
 * either. FALSE when it is no number. */
static gboolean
understand (const Groups *groups, int *decimal, int *grouping, int *open)
{
  guint n = groups->n_separators;
  *decimal = *grouping = *open = -1;
  if (n == 0)
    return TRUE;
  int last = groups->separator[n - 1];
  if (n == 1 && last <= COMMA) {
    gboolean either = is_grouped (groups, 1) && !groups->leading_zero && !groups->exponent;
    *(either ? open : decimal) = last;
    /* "5." is written by programs; "5," is the end of something. */
    return last == POINT || groups->n_digits[1] > 0;
  }
  if (is_grouped (groups, n)) {
    *grouping = last;
    return !groups->leading_zero;
  }
  *decimal = last;
  *grouping = groups->separator[0];
  return last <= COMMA && *grouping != last && is_grouped (groups, n - 1) && !groups->leading_zero;
}

/* "12:00:01.5", "2024-05-06", "2024-05-06T07:08:09Z", "06.05.2024 07:08:09,250" */
static gboolean
looks_like_clock (const char *text, gsize length)
{
  guint n_digits = 0, n_marks = 0;
  for (gsize i = 0; i < length; i++) {
    if (g_ascii_isdigit (text[i]))
      n_digits++;
    else if (text[i] == ':' || text[i] == '-' || text[i] == '/' || (text[i] == '.' && i > 0))
      n_marks++;
    else if (strchr ("TZ ,+", text[i]) == NULL)
      return FALSE;
  }
  return n_digits >= 3 && n_marks >= 2 && g_ascii_isdigit (text[0]);
}

gboolean
sb_number_looks_like_one (const char *text, gsize length, gboolean blanks_group)
{
  Groups groups;
  int decimal, grouping, open;
  if (length == 0)
    return FALSE;
  if (cut (text, length, &groups) && understand (&groups, &decimal, &grouping, &open))
    return blanks_group || grouping != BLANK;
  return looks_like_clock (text, length);
}

void
sb_number_style_add (SbNumberStyle *style, const char *text, gsize length, guint column)
{
  Groups groups;
  int decimal, grouping, open;
  const SbUnit *unit;
  if (!cut (text, length, &groups)) {
    length = sb_number_before_unit (text, length, &unit);
    if (length == 0 || !cut (text, length, &groups))
      return;
  }
  if (!understand (&groups, &decimal, &grouping, &open))
    return;
  if (decimal >= 0)
    style->decimal[decimal]++;
  if (grouping >= 0)
    style->grouping[grouping]++;
  if (open >= 0 && style->open[open]++ == 0) {
    gsize n = MIN (length, sizeof style->example[open] - 1);
    memcpy (style->example[open], text, n);
    style->example[open][n] = '\0';
    style->example_column[open] = column;
  }
}

/* The grouping sign that is not the decimal sign; -1 when there is none. */
static int
find_grouping (const SbNumberStyle *style, int decimal)
{
  int best = -1;
  for (int i = 0; i < N_SEPARATORS; i++)
    if (i != decimal && style->grouping[i] > (best >= 0 ? style->grouping[best] : 0))
      best = i;
  return best;
}

int
sb_number_style_decide (const SbNumberStyle *style, char delimiter, char *decimal, char *thousands)
{
  int sign = style->decimal[COMMA] > style->decimal[POINT] ? COMMA : style->decimal[POINT] > 0 ? POINT : -1;
  int grouping = find_grouping (style, sign);
  /* Groups by the one leave the other to be the decimal sign: a file has one. */
  if (sign < 0 && (grouping == POINT || grouping == COMMA))
    sign = grouping == POINT ? COMMA : POINT;
  if (sign >= 0 && grouping < 0 && style->open[1 - sign] > 0 && style->decimal[1 - sign] == 0)
    grouping = 1 - sign;
  *decimal = sign >= 0 ? signs[sign] : '\0';
  *thousands = grouping >= 0 ? signs[grouping] : '\0';
  if (sign >= 0)
    return -1;
  if (style->open[COMMA] > 0)
    return COMMA;
  /* The point is the decimal sign of programs; a semicolon tells of people who write a comma. */
  if (style->open[POINT] > 0 && delimiter == ';')
    return POINT;
  *decimal = style->open[POINT] > 0 || delimiter == ',' ? '.' : '\0';
  return -1;
}

void
sb_number_style_fix (const SbNumberStyle *style, char sign, char *decimal, char *thousands)
{
  int point_or_comma = sign == ',' ? COMMA : POINT;
  int grouping = find_grouping (style, point_or_comma);
  if (grouping < 0 && style->open[1 - point_or_comma] > 0 && style->decimal[1 - point_or_comma] == 0)
    grouping = 1 - point_or_comma;
  *decimal = sign;
  *thousands = grouping >= 0 ? signs[grouping] : '\0';
}

gsize
sb_number_ungroup (const char *text, gsize length, char thousands, char decimal, char *plain, gsize size)
{
  const char *p = text, *end = text + length;
  gsize n = 0, n_here = 0;
  gboolean grouped = FALSE, whole = TRUE, negative;
  if (length >= size)
    return 0;
  p += sb_number_sign_length (p, end, &negative);
  if (negative)
    plain[n++] = '-';
  for (gsize step; p < end; p += step) {
    int separator = separator_at (p, end, &step);
    if (whole && separator >= 0 && signs[separator] == thousands) {
      if (n_here == 0 || n_here > 3 || (grouped && n_here != 3))
        return 0;
      grouped = TRUE;
      n_here = 0;
      continue;
    }
    step = 1;
    if (whole && !g_ascii_isdigit (*p)) {
      if (grouped && n_here != 3)
        return 0;
      whole = FALSE;
    }
    n_here += g_ascii_isdigit (*p) ? 1 : 0;
    plain[n++] = *p;
  }
  return whole && grouped && n_here != 3 ? 0 : n;
}
