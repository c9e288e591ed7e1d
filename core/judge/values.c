/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "values.h"

#include <math.h>

/* More distinct values than this are cut short for people. */
#define MAX_LISTED 4

typedef struct {
  char *text;
  double value; /* NaN for a word; 0 for a word that means zero */
  char *unit;   /* of the value; "" when none */
} Value;

static void
value_free (gpointer data)
{
  Value *value = data;
  g_free (value->text);
  g_free (value->unit);
  g_free (value);
}

SbValues *
sb_values_new (const char *unit, double ratio)
{
  SbValues *values = g_new0 (SbValues, 1);
  values->distinct = g_ptr_array_new_with_free_func (value_free);
  values->unit = unit;
  values->ratio = ratio;
  return values;
}

void
sb_values_free (SbValues *values)
{
  g_ptr_array_unref (values->distinct);
  g_free (values);
}

static gboolean
means_zero (const char *text)
{
  static const char *const words[] = { "off", "none", "no", "zero", "disabled", "false" };
  for (gsize i = 0; i < G_N_ELEMENTS (words); i++)
    if (g_ascii_strcasecmp (text, words[i]) == 0)
      return TRUE;
  return FALSE;
}

/* Zero is zero in any unit. */
static gboolean
is_zero (const Value *value)
{
  return fabs (value->value) <= 0;
}

static gboolean
same (const Value *a, const Value *b, double ratio)
{
  if (is_zero (a) || is_zero (b))
    return is_zero (a) && is_zero (b);
  if (!isnan (a->value) && !isnan (b->value) && g_str_equal (a->unit, b->unit))
    return fabs (a->value - b->value) <= ratio * MAX (fabs (a->value), fabs (b->value));
  g_autofree char *folded_a = g_utf8_casefold (a->text, -1), *folded_b = g_utf8_casefold (b->text, -1);
  return g_str_equal (folded_a, folded_b);
}

static int
by_value (gconstpointer a, gconstpointer b)
{
  double x = (*(const Value *const *) a)->value, y = (*(const Value *const *) b)->value;
  return (x > y) - (x < y);
}

static void
take (SbValues *values, Value *value)
{
  for (guint i = 0; i < values->distinct->len; i++) {
    if (same (g_ptr_array_index (values->distinct, i), value, values->ratio)) {
      value_free (value);
      return;
    }
  }
  g_ptr_array_add (values->distinct, value);
}

/* Four significant digits, and never an exponent for the sizes of the trade. */
static char *
number_text (double value)
{
  char digits[G_ASCII_DTOSTR_BUF_SIZE];
  g_ascii_formatd (digits, sizeof digits, "%.3e", value);
  return g_strdup (g_ascii_formatd (digits, sizeof digits, "%.10g", g_ascii_strtod (digits, NULL)));
}

void
sb_values_add_number (SbValues *values, double value)
{
  values->n++;
  if (isnan (value)) {
    values->n_missing++;
    return;
  }
  Value *number = g_new (Value, 1);
  *number = (Value){ number_text (value), value, g_strdup ("") };
  take (values, number);
  g_ptr_array_sort (values->distinct, by_value);
}

void
sb_values_add_text (SbValues *values, const char *text, double value, const char *unit)
{
  values->n++;
  if (text == NULL) {
    values->n_missing++;
    return;
  }
  Value *word = g_new (Value, 1);
  *word = (Value){ g_strdup (text), isnan (value) && means_zero (text) ? 0 : value, g_strdup (unit) };
  take (values, word);
}

gboolean
sb_values_alike (const SbValues *a, const SbValues *b)
{
  gsize n_missing = a->n_missing + b->n_missing;
  if (n_missing > 0)
    return n_missing == a->n + b->n;
  if (a->distinct->len != 1 || b->distinct->len != 1)
    return a->n + b->n == 0;
  return same (g_ptr_array_index (a->distinct, 0), g_ptr_array_index (b->distinct, 0), a->ratio);
}

gboolean
sb_values_is_one (const SbValues *values)
{
  return values->distinct->len == 1 && values->n_missing == 0;
}

gboolean
sb_values_zero (const SbValues *values)
{
  for (guint i = 0; i < values->distinct->len; i++)
    if (!is_zero (g_ptr_array_index (values->distinct, i)))
      return FALSE;
  return TRUE;
}

char *
sb_values_describe (const SbValues *values)
{
  guint n = values->distinct->len, n_listed = MIN (n, MAX_LISTED);
  if (n == 0)
    return g_strdup ("not stated");
  GString *words = g_string_new (NULL);
  for (guint i = 0; i < n_listed; i++) {
    const Value *value = g_ptr_array_index (values->distinct, i);
    if (i > 0)
      g_string_append (words, i + 1 < n ? ", " : " and ");
    g_string_append (words, value->text);
  }
  if (values->unit != NULL)
    g_string_append_printf (words, " %s", values->unit);
  if (n > n_listed)
    g_string_append_printf (words, " and %u more", n - n_listed);
  if (values->n_missing > 0)
    g_string_append_printf (words, "; not stated in %" G_GSIZE_FORMAT " of %" G_GSIZE_FORMAT " trials",
                            values->n_missing, values->n);
  return g_string_free (words, FALSE);
}
