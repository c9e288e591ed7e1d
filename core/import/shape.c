/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "shape.h"

#include "clock.h"
#include "log_build.h"
#include "number.h"
#include "number_style.h"
#include "number_unit.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Fewer rows have no shape. */
#define FEWEST_ROWS  8
#define MOST_LEVELS  12
#define LONGEST_CELL 64

SbShape *
sb_shapes_new (guint n_columns, guint n_rows)
{
  SbShape *shapes = g_new0 (SbShape, MAX (n_columns, 1));
  for (guint i = 0; i < n_columns; i++) {
    shapes[i].n_rows = n_rows;
    shapes[i].values = g_new (double, MAX (n_rows, 1));
    for (guint row = 0; row < n_rows; row++)
      shapes[i].values[row] = (double) NAN;
  }
  return shapes;
}

void
sb_shapes_free (SbShape *shapes, guint n_columns)
{
  for (guint i = 0; shapes != NULL && i < n_columns; i++) {
    g_free (shapes[i].values);
    if (shapes[i].words != NULL)
      g_ptr_array_unref (shapes[i].words);
  }
  g_free (shapes);
}

static gboolean
read_number (const char *text, gsize length, char decimal, char thousands, double *value)
{
  char plain[LONGEST_CELL];
  if (sb_number_read (text, length, decimal, 0, value))
    return TRUE;
  gsize n = thousands != '\0' ? sb_number_ungroup (text, length, thousands, decimal, plain, sizeof plain) : 0;
  return n > 0 && sb_number_read (plain, n, decimal, 0, value);
}

static void
count_unit (SbShape *shape, const SbUnit *unit)
{
  if (shape->unit == NULL)
    shape->unit = unit;
  shape->n_units += unit == shape->unit ? 1 : 0;
  shape->n_other_units += unit != shape->unit ? 1 : 0;
  if (unit != shape->unit && shape->other_unit == NULL)
    shape->other_unit = unit;
}

/* Names of signals are short; a longer word is known by its beginning. */
static void
count_word (SbShape *shape, const char *text, gsize length)
{
  g_autofree char *word = sb_text_to_utf8 (text, MIN (length, LONGEST_CELL));
  shape->n_words++;
  if (shape->words == NULL)
    shape->words = g_ptr_array_new_with_free_func (g_free);
  if (shape->words->len < SB_SHAPE_MOST_WORDS
      && !g_ptr_array_find_with_equal_func (shape->words, word, g_str_equal, NULL))
    g_ptr_array_add (shape->words, g_steal_pointer (&word));
}

void
sb_shape_set_cell (SbShape *shape, guint row, const char *text, char decimal, char thousands)
{
  double value;
  SbClockTime time;
  const SbUnit *unit;
  gsize length = strlen (text);
  text = sb_text_trim (text, &length);
  if (decimal == '\0')
    decimal = '.';
  gboolean is_number = read_number (text, length, decimal, thousands, &value);
  if (!is_number) {
    gsize n = sb_number_before_unit (text, length, &unit);
    is_number = n > 0 && read_number (text, n, decimal, thousands, &value);
    if (is_number)
      count_unit (shape, unit);
  }
  if (is_number && isfinite (value)) {
    shape->values[row] = value;
    shape->n_numbers++;
  } else if (sb_clock_time_read (text, length, &time)) {
    shape->n_clock_times++;
    shape->n_of_form[sb_clock_form_of (&time)]++;
  } else if (length > 0) {
    count_word (shape, text, length);
  }
}

guint
sb_shape_clock_form (const SbShape *shape)
{
  for (guint form = 0; form < SB_N_CLOCK_FORMS; form++)
    if (2 * shape->n_of_form[form] > shape->n_clock_times)
      return form;
  return 0;
}

gboolean
sb_shape_is_clock (const SbShape *shape)
{
  return shape->n_clock_times > shape->n_numbers;
}

gboolean
sb_shape_is_numeric (const SbShape *shape)
{
  return shape->n_numbers >= FEWEST_ROWS && shape->n_numbers + shape->n_rows / 20 >= shape->n_rows;
}

static int
compare_doubles (const void *a, const void *b)
{
  double x = *(const double *) a, y = *(const double *) b;
  return (x > y) - (x < y);
}

/* The values that are numbers. (transfer full) */
static double *
numbers_of (const SbShape *shape, guint *n)
{
  double *numbers = g_new (double, MAX (shape->n_rows, 1));
  *n = 0;
  for (guint i = 0; i < shape->n_rows; i++)
    if (!isnan (shape->values[i]))
      numbers[(*n)++] = shape->values[i];
  return numbers;
}

static gboolean
are_whole (const double *numbers, guint n)
{
  for (guint i = 0; i < n; i++)
    if (fabs (numbers[i] - rint (numbers[i])) > 0.0)
      return FALSE;
  return TRUE;
}

gboolean
sb_shape_is_whole (const SbShape *shape)
{
  guint n;
  g_autofree double *numbers = numbers_of (shape, &n);
  return sb_shape_is_numeric (shape) && are_whole (numbers, n);
}

SbRise
sb_shape_rise (const SbShape *shape, double *step)
{
  guint n;
  g_autofree double *numbers = numbers_of (shape, &n);
  if (!sb_shape_is_numeric (shape))
    return SB_RISES_NOT;
  gboolean whole = are_whole (numbers, n);
  for (guint i = 0; i + 1 < n; i++)
    numbers[i] = numbers[i + 1] - numbers[i];
  qsort (numbers, n - 1, sizeof (double), compare_doubles);
  double least = numbers[0], usual = numbers[(n - 1) / 2], most = numbers[n - 2];
  if (step != NULL)
    *step = usual;
  if (!(least > 0) || least < usual / 2 || most > usual * 2)
    return SB_RISES_NOT;
  if (whole && !(least < 1) && !(most > 1))
    return SB_RISES_BY_ONE;
  return most - least <= usual / 100 ? SB_RISES_EVENLY : SB_RISES;
}

gboolean
sb_shape_jumps (const SbShape *shape)
{
  guint n, n_levels = 1, n_jumps = 0;
  g_autofree double *numbers = numbers_of (shape, &n);
  if (!sb_shape_is_numeric (shape))
    return FALSE;
  for (guint i = 0; i + 1 < n; i++)
    n_jumps += fabs (numbers[i + 1] - numbers[i]) > 0.0 ? 1 : 0;
  qsort (numbers, n, sizeof (double), compare_doubles);
  for (guint i = 0; i + 1 < n; i++)
    n_levels += numbers[i + 1] > numbers[i] ? 1 : 0;
  return n_levels >= 2 && n_levels <= MOST_LEVELS && n_jumps <= MAX (n / 10, 1);
}

double
sb_shape_largest_step (const SbShape *shape, double *least, double *most)
{
  guint n;
  double largest = 0.0;
  g_autofree double *numbers = numbers_of (shape, &n);
  *least = *most = n > 0 ? numbers[0] : 0.0;
  for (guint i = 1; i < n; i++) {
    largest = MAX (largest, fabs (numbers[i] - numbers[i - 1]));
    *least = MIN (*least, numbers[i]);
    *most = MAX (*most, numbers[i]);
  }
  return largest;
}

/* Pearson's correlation of n pairs; *factor is the least-squares slope of y on x. */
static double
correlate (const double *x, const double *y, guint n, double *factor)
{
  double mean_x = 0, mean_y = 0, xx = 0, xy = 0, yy = 0;
  for (guint i = 0; i < n; i++) {
    mean_x += x[i] / n;
    mean_y += y[i] / n;
  }
  for (guint i = 0; i < n; i++) {
    xx += (x[i] - mean_x) * (x[i] - mean_x);
    xy += (x[i] - mean_x) * (y[i] - mean_y);
    yy += (y[i] - mean_y) * (y[i] - mean_y);
  }
  gboolean changing = xx > 0 && yy > 0;
  *factor = changing ? xy / xx : 0.0;
  return changing ? xy / sqrt (xx * yy) : 0.0;
}

double
sb_shape_derivative (const SbShape *a, const SbShape *b, const SbShape *time, double *factor)
{
  guint n = 0;
  g_autofree double *slopes = g_new (double, MAX (a->n_rows, 1));
  g_autofree double *values = g_new (double, MAX (a->n_rows, 1));
  for (guint i = 1; i + 1 < a->n_rows; i++) {
    double slope = (a->values[i + 1] - a->values[i - 1]) / (time->values[i + 1] - time->values[i - 1]);
    if (!isfinite (slope) || isnan (b->values[i]))
      continue;
    slopes[n] = slope;
    values[n++] = b->values[i];
  }
  return n >= FEWEST_ROWS ? correlate (slopes, values, n, factor) : 0.0;
}

double
sb_shape_correlation (const SbShape *a, const SbShape *b)
{
  guint n = 0;
  double factor;
  g_autofree double *x = g_new (double, MAX (a->n_rows, 1));
  g_autofree double *y = g_new (double, MAX (a->n_rows, 1));
  for (guint i = 0; i < a->n_rows; i++) {
    if (isnan (a->values[i]) || isnan (b->values[i]))
      continue;
    x[n] = a->values[i];
    y[n++] = b->values[i];
  }
  return n >= FEWEST_ROWS ? correlate (x, y, n, &factor) : 0.0;
}
