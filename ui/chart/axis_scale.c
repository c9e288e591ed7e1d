/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "axis_scale.h"

#include <math.h>
#include <string.h>

/* Plain decimals are used for steps between 10^-LARGEST_EXPONENT and numbers up to 10^LARGEST_EXPONENT. */
#define LARGEST_EXPONENT 6

/* A value this share of a step outside of the range still gets its tick: it is rounding. */
#define EDGE_RATIO 1e-6

double
sb_axis_scale_at (const SbAxisScale *scale, double value)
{
  double share = scale->logarithmic ? log (value / scale->low) / log (scale->high / scale->low)
                                    : (value - scale->low) / (scale->high - scale->low);
  return scale->at_low + share * (scale->at_high - scale->at_low);
}

double
sb_axis_scale_value (const SbAxisScale *scale, double at)
{
  double share = (at - scale->at_low) / (scale->at_high - scale->at_low);
  return scale->logarithmic ? scale->low * pow (scale->high / scale->low, share)
                            : scale->low + share * (scale->high - scale->low);
}

static SbTicks
ticks_with (double low, double high, int mantissa, int exponent)
{
  SbTicks ticks = { .mantissa = mantissa, .exponent = exponent };
  /* Dividing by 10^3 is exact where multiplying by 10^-3 is not. */
  ticks.step = exponent < 0 ? mantissa / pow (10, -exponent) : mantissa * pow (10, exponent);
  ticks.first = (gint64) ceil (low / ticks.step - EDGE_RATIO);
  ticks.last = (gint64) floor (high / ticks.step + EDGE_RATIO);
  ticks.n_minor = mantissa == 2 ? 4 : 5;
  return ticks;
}

SbTicks
sb_ticks_new (double low, double high, int max_n)
{
  static const int mantissas[] = { 1, 2, 5 };
  g_assert (high > low && isfinite (low) && isfinite (high) && max_n >= 2);
  int exponent = (int) floor (log10 ((high - low) / max_n)) - 1;
  for (;; exponent++)
    for (gsize m = 0; m < G_N_ELEMENTS (mantissas); m++) {
      SbTicks ticks = ticks_with (low, high, mantissas[m], exponent);
      if (ticks.last - ticks.first + 1 <= max_n)
        return ticks;
    }
}

/* Tick i of a logarithmic axis stands in decade i / per_decade, rounded down. */
static double
log_tick (int per_decade, gint64 i)
{
  static const int three[] = { 1, 2, 5 };
  gint64 decade = i / per_decade - (i % per_decade < 0 ? 1 : 0);
  gint64 place = i - decade * per_decade;
  double mantissa = per_decade == 3 ? three[place] : (double) (place + 1);
  return decade < 0 ? mantissa / pow (10, (double) -decade) : mantissa * pow (10, (double) decade);
}

SbTicks
sb_ticks_new_log (double low, double high, int max_n)
{
  static const int counts[] = { 9, 3, 1 };
  g_assert (low > 0 && high > low && isfinite (high));
  SbTicks ticks = { .mantissa = 1 };
  for (gsize c = 0; c < G_N_ELEMENTS (counts); c++) {
    int n = ticks.per_decade = counts[c];
    ticks.first = n * (gint64) floor (log10 (low));
    ticks.last = n * (gint64) ceil (log10 (high));
    while (ticks.first <= ticks.last && log_tick (n, ticks.first) < low * (1 - EDGE_RATIO))
      ticks.first++;
    while (ticks.last >= ticks.first && log_tick (n, ticks.last) > high * (1 + EDGE_RATIO))
      ticks.last--;
    if (ticks.last - ticks.first + 1 <= max_n)
      break;
  }
  return ticks;
}

double
sb_ticks_value (const SbTicks *ticks, gint64 i)
{
  if (ticks->per_decade > 0)
    return log_tick (ticks->per_decade, i);
  double count = (double) (i * ticks->mantissa);
  return ticks->exponent < 0 ? count / pow (10, -ticks->exponent) : count * pow (10, ticks->exponent);
}

static void
append_superscript (GString *text, int exponent)
{
  static const char *const digits[] = { "⁰", "¹", "²", "³", "⁴", "⁵", "⁶", "⁷", "⁸", "⁹" };
  g_autofree char *plain = g_strdup_printf ("%d", exponent);
  for (const char *c = plain; *c != '\0'; c++)
    g_string_append (text, *c == '-' ? "⁻" : digits[*c - '0']);
}

static int
largest_power (const SbTicks *ticks)
{
  double largest = fmax (fabs (sb_ticks_value (ticks, ticks->first)), fabs (sb_ticks_value (ticks, ticks->last)));
  return largest > 0 ? (int) floor (log10 (largest) + EDGE_RATIO) : ticks->exponent;
}

/* As few digits as the number has. */
static char *
log_label (double value)
{
  char number[G_ASCII_DTOSTR_BUF_SIZE];
  int power = (int) floor (log10 (value) + EDGE_RATIO);
  gboolean plain = power < LARGEST_EXPONENT && power > -LARGEST_EXPONENT + 2;
  g_ascii_formatd (number, sizeof number, "%.6g", plain ? value : value / pow (10, power));
  GString *text = g_string_new (number);
  if (!plain) {
    g_string_append (text, "×10");
    append_superscript (text, power);
  }
  return g_string_free (text, FALSE);
}

char *
sb_ticks_label (const SbTicks *ticks, gint64 i)
{
  if (ticks->per_decade > 0)
    return log_label (log_tick (ticks->per_decade, i));
  if (i == 0)
    return g_strdup ("0");
  int power = largest_power (ticks);
  gboolean plain = power < LARGEST_EXPONENT && power > -LARGEST_EXPONENT + 2;
  int shift = plain ? 0 : power;
  int decimals = MAX (0, shift - ticks->exponent);
  double value = fabs (sb_ticks_value (ticks, i)) / pow (10, shift);
  char format[16], number[G_ASCII_DTOSTR_BUF_SIZE];
  g_snprintf (format, sizeof format, "%%.%df", MIN (decimals, 17));
  g_ascii_formatd (number, sizeof number, format, value);
  GString *text = g_string_new (i < 0 ? "−" : "");
  g_string_append (text, number);
  if (!plain) {
    g_string_append (text, "×10");
    append_superscript (text, power);
  }
  return g_string_free (text, FALSE);
}
