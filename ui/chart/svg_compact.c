/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "svg_compact.h"

#include <math.h>
#include <string.h>

#define PER_UNIT 100

typedef struct {
  long x, y; /* in hundredths */
} Point;

typedef struct {
  GString *text;
  Point at, start; /* of the path and of its present part */
  char command;    /* written last; a repeated one is left out */
  gboolean has_length;
  gsize part;        /* where the present part begins in the text */
  Point before;      /* and where the pen was then */
  gboolean is_empty; /* nothing was drawn from there on */
} Path;

/* "-.5" of -50; a number that begins with a minus needs no blank before it. */
static void
append_number (GString *text, long hundredths)
{
  gboolean after_number = text->len > 0 && !g_ascii_isalpha (text->str[text->len - 1]);
  long size = labs (hundredths), whole = size / PER_UNIT, part = size % PER_UNIT;
  if (hundredths < 0)
    g_string_append_c (text, '-');
  else if (after_number)
    g_string_append_c (text, ' ');
  if (whole > 0 || part == 0)
    g_string_append_printf (text, "%ld", whole);
  if (part % 10 != 0)
    g_string_append_printf (text, ".%02ld", part);
  else if (part > 0)
    g_string_append_printf (text, ".%ld", part / 10);
}

static void
append_step (Path *path, char command, Point to)
{
  if (path->command != command)
    g_string_append_c (path->text, command);
  path->command = command;
  append_number (path->text, to.x - path->at.x);
  append_number (path->text, to.y - path->at.y);
}

static void
move (Path *path, Point to)
{
  if (path->is_empty) {
    g_string_truncate (path->text, path->part);
    path->at = path->before;
  }
  path->before = path->at;
  path->part = path->text->len;
  path->is_empty = TRUE;
  path->has_length = FALSE;
  path->command = '\0';
  if (path->part == 0) {
    g_string_append_c (path->text, 'M');
    append_number (path->text, to.x);
    append_number (path->text, to.y);
  } else {
    append_step (path, 'm', to);
  }
  path->start = to;
}

/* A step of no length is a dot where it is all there is, and nothing else where it is not. */
static void
line (Path *path, Point to)
{
  gboolean moves = to.x != path->at.x || to.y != path->at.y;
  if (!moves && path->has_length)
    return;
  path->has_length = TRUE;
  path->is_empty = FALSE;
  append_step (path, 'l', to);
}

static void
curve (Path *path, const Point *points)
{
  path->has_length = TRUE;
  path->is_empty = FALSE;
  for (int i = 0; i < 3; i++)
    append_step (path, 'c', points[i]);
}

/* Reads n points; FALSE when there are fewer. */
static gboolean
read_points (const char **data, const char *end, Point *points, int n)
{
  for (int i = 0; i < 2 * n; i++) {
    char *after;
    double number = g_ascii_strtod (*data, &after);
    if (after == *data || after > end || !(fabs (number) < 1e7))
      return FALSE;
    long rounded = lround (number * PER_UNIT);
    if (i % 2 == 0)
      points[i / 2].x = rounded;
    else
      points[i / 2].y = rounded;
    *data = after;
  }
  return TRUE;
}

static gboolean
take_command (Path *path, char command, const char **data, const char *end)
{
  Point points[3];
  if (command == 'Z') {
    g_string_append_c (path->text, 'z');
    path->command = '\0';
    path->at = path->start;
    return TRUE;
  }
  int n = command == 'M' || command == 'L' ? 1 : command == 'C' ? 3 : 0;
  if (n == 0 || !read_points (data, end, points, n))
    return FALSE;
  if (command == 'M')
    move (path, points[0]);
  else if (command == 'L')
    line (path, points[0]);
  else
    curve (path, points);
  path->at = points[n - 1];
  return TRUE;
}

char *
sb_svg_compact_path (const char *data, gsize length)
{
  g_autoptr (GString) text = g_string_sized_new (length / 2);
  Path path = { .text = text };
  const char *end = data + length;
  while (data < end) {
    if (g_ascii_isspace (*data)) {
      data++;
      continue;
    }
    char command = *data++;
    if ((text->len == 0 && command != 'M') || !take_command (&path, command, &data, end))
      return NULL;
  }
  if (path.is_empty && path.part > 0)
    g_string_truncate (text, path.part);
  return g_string_free (g_steal_pointer (&text), FALSE);
}

char *
sb_svg_compact (const char *svg)
{
  static const char before[] = " d=\"", no_turn[] = " transform=\"matrix(1,0,0,1,0,0)\"";
  GString *compact = g_string_sized_new (strlen (svg) / 2);
  const char *at = svg, *path;
  while ((path = strstr (at, before)) != NULL) {
    const char *data = path + strlen (before), *end = strchr (data, '"');
    if (end == NULL)
      break;
    g_autofree char *shorter = sb_svg_compact_path (data, (gsize) (end - data));
    g_string_append_len (compact, at, data - at);
    g_string_append_len (compact, shorter != NULL ? shorter : data,
                         shorter != NULL ? (gssize) strlen (shorter) : end - data);
    at = end;
    if (g_str_has_prefix (at + 1, no_turn)) {
      g_string_append_c (compact, '"');
      at += 1 + strlen (no_turn);
    }
  }
  g_string_append (compact, at);
  return g_string_free (compact, FALSE);
}
