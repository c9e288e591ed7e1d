/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "stated.h"

#include "number.h"

#include <math.h>
#include <stddef.h>
#include <string.h>

#define LONGEST_LINE 200
/* What is beyond is no property of a bench; times and angles that are made with it stay numbers. */
#define SMALLEST_VALUE 1e-12
#define LARGEST_VALUE  1e12

/* How a value may be written; value in the base unit = written * factor, or 1 / that for a time between samples. */
typedef struct {
  const char *spelling; /* letters without blanks and points, small */
  double factor;
} Size;

static const Size rates[]
    = { { "hz", 1 }, { "khz", 1e3 }, { "1/s", 1 }, { "s/s", 1 }, { "samples/s", 1 }, { NULL, 0 } };
static const Size times[] = { { "s", 1 }, { "ms", 1e3 }, { "us", 1e6 }, { "µs", 1e6 }, { "ns", 1e9 }, { NULL, 0 } };
static const Size numbers[] = { { "counts", 1 }, { "counts/rev", 1 }, { "counts/turn", 1 }, { "", 1 }, { NULL, 0 } };
static const Size constants[] = { { "nm/a", 1 }, { "mnm/a", 1e-3 }, { NULL, 0 } };
static const Size scales[] = { { "nm/v", 1 }, { "mnm/v", 1e-3 }, { "nm/mv", 1e3 }, { NULL, 0 } };
static const Size torques[] = { { "nm", 1 }, { "mnm", 1e-3 }, { NULL, 0 } };

/* Keys without blanks, dashes and underscores, small; those of other languages from memory. */
static const struct {
  const char *key;
  gsize at;
  const Size *sizes;
  const char *unit; /* of a number without one; NULL: a number without unit says nothing */
  gboolean inverse; /* a time stands for its rate */
} keys[] = {
  { "sampleratehz", offsetof (SbStated, sample_rate_hz), rates, "hz", FALSE },
  { "samplerate", offsetof (SbStated, sample_rate_hz), rates, "hz", FALSE },
  { "samplingrate", offsetof (SbStated, sample_rate_hz), rates, "hz", FALSE },
  { "samplefrequency", offsetof (SbStated, sample_rate_hz), rates, "hz", FALSE },
  { "samplingfrequency", offsetof (SbStated, sample_rate_hz), rates, "hz", FALSE },
  { "fs", offsetof (SbStated, sample_rate_hz), rates, NULL, FALSE },
  { "abtastrate", offsetof (SbStated, sample_rate_hz), rates, "hz", FALSE },
  { "abtastfrequenz", offsetof (SbStated, sample_rate_hz), rates, "hz", FALSE },
  { "fréquenced'échantillonnage", offsetof (SbStated, sample_rate_hz), rates, "hz", FALSE },
  { "frequenzadicampionamento", offsetof (SbStated, sample_rate_hz), rates, "hz", FALSE },
  { "frecuenciademuestreo", offsetof (SbStated, sample_rate_hz), rates, "hz", FALSE },
  { "sampleinterval", offsetof (SbStated, sample_rate_hz), times, NULL, TRUE },
  { "samplingintervals", offsetof (SbStated, sample_rate_hz), times, "s", TRUE },
  { "sampleintervals", offsetof (SbStated, sample_rate_hz), times, "s", TRUE },
  { "samplinginterval", offsetof (SbStated, sample_rate_hz), times, NULL, TRUE },
  { "sampleperiod", offsetof (SbStated, sample_rate_hz), times, NULL, TRUE },
  { "samplingperiod", offsetof (SbStated, sample_rate_hz), times, NULL, TRUE },
  { "abtastzeit", offsetof (SbStated, sample_rate_hz), times, NULL, TRUE },
  { "countsperturn", offsetof (SbStated, counts_per_turn), numbers, "", FALSE },
  { "countsperrev", offsetof (SbStated, counts_per_turn), numbers, "", FALSE },
  { "countsperrevolution", offsetof (SbStated, counts_per_turn), numbers, "", FALSE },
  { "wrapcounts", offsetof (SbStated, wrap_counts), numbers, "", FALSE },
  { "torqueconstantnmpera", offsetof (SbStated, torque_constant_nm_per_a), constants, "nm/a", FALSE },
  { "torqueconstant", offsetof (SbStated, torque_constant_nm_per_a), constants, NULL, FALSE },
  { "drehmomentkonstante", offsetof (SbStated, torque_constant_nm_per_a), constants, NULL, FALSE },
  { "torquepervoltnm", offsetof (SbStated, torque_per_volt_nm), torques, "nm", FALSE },
  { "torquepervolt", offsetof (SbStated, torque_per_volt_nm), scales, NULL, FALSE },
  { "torquescale", offsetof (SbStated, torque_per_volt_nm), scales, NULL, FALSE },
  { "fullscalenm", offsetof (SbStated, full_scale_nm), torques, "nm", FALSE },
  { "fullscaletorque", offsetof (SbStated, full_scale_nm), torques, NULL, FALSE },
  { "fullscale", offsetof (SbStated, full_scale_nm), torques, NULL, FALSE },
};

void
sb_stated_init (SbStated *stated)
{
  const double nothing = (double) NAN;
  *stated = (SbStated){ nothing, nothing, nothing, nothing, nothing, nothing };
}

/* Small letters without blanks and what joins words; "²" and the like stay. */
static char *
fold (const char *text, gsize length, const char *dropped)
{
  g_autofree char *valid = g_utf8_make_valid (text, (gssize) length);
  g_autofree char *lower = g_utf8_strdown (valid, -1);
  GString *folded = g_string_new (NULL);
  for (const char *p = lower; *p != '\0'; p++)
    if (strchr (dropped, *p) == NULL)
      g_string_append_c (folded, *p);
  return g_string_free (folded, FALSE);
}

/* The bytes of a number at the start of `text`. */
static gsize
number_length (const char *text)
{
  gsize n = strspn (text, "+-0123456789.,");
  gsize exponent = (text[n] == 'e' || text[n] == 'E') ? 1 + strspn (text + n + 1, "+-0123456789") : 0;
  return exponent > 1 ? n + exponent : n;
}

static gboolean
read_value (const char *text, double *value, const char **rest)
{
  gsize n = number_length (text);
  while (n > 0 && (text[n - 1] == ',' || text[n - 1] == '.'))
    n--;
  *rest = text + n;
  return n > 0 && (sb_number_read (text, n, '.', 0, value) || sb_number_read (text, n, ',', 0, value))
         && fabs (*value) >= SMALLEST_VALUE && fabs (*value) <= LARGEST_VALUE;
}

static const Size *
find_size (const Size *sizes, const char *unit)
{
  for (const Size *size = sizes; size->spelling != NULL; size++)
    if (strcmp (size->spelling, unit) == 0)
      return size;
  return NULL;
}

/* "samplingrate[hz]" -> "samplingrate", and *unit "hz". */
static void
cut_unit (char *key, char **unit)
{
  char *open = strpbrk (key, "[(");
  if (open == NULL)
    return;
  *unit = g_strndup (open + 1, strcspn (open + 1, "])"));
  *open = '\0';
}

/* "ms": behind the number, or else in the cell after it, where spreadsheets and scopes put it. (transfer full) */
static char *
unit_behind (const char *rest)
{
  const char *delimiters = ";\t,", *ignored = " ._·*[]()\"'";
  char *unit = fold (rest, strcspn (rest, delimiters), ignored);
  const char *next = rest + strcspn (rest, delimiters);
  if (*unit != '\0' || *next == '\0')
    return unit;
  g_free (unit);
  return fold (next + 1, strcspn (next + 1, delimiters), ignored);
}

static void
take (SbStated *stated, const char *key, const char *key_unit, const char *text)
{
  double value;
  const char *rest;
  for (guint i = 0; i < G_N_ELEMENTS (keys); i++) {
    double *place = (double *) (void *) ((char *) stated + keys[i].at);
    if (strcmp (keys[i].key, key) != 0 || !isnan (*place) || !read_value (text, &value, &rest))
      continue;
    g_autofree char *written = unit_behind (rest);
    const char *unit = *written != '\0' ? written : key_unit != NULL ? key_unit : keys[i].unit;
    const Size *size = unit != NULL ? find_size (keys[i].sizes, unit) : NULL;
    if (size != NULL && keys[i].inverse)
      *place = size->factor / value;
    else if (size != NULL)
      *place = value * size->factor;
  }
}

void
sb_stated_read_line (SbStated *stated, const char *line, gsize length)
{
  if (length > LONGEST_LINE)
    return;
  g_autofree char *text = g_strndup (line, length);
  gsize start = strspn (text, "#%/;\"' \t\xef\xbb\xbf");
  char *separator = strpbrk (text + start, ":=;,\t");
  if (separator == NULL)
    return;
  g_autofree char *key = fold (text + start, (gsize) (separator - text) - start, " _-.\"");
  g_autofree char *unit = NULL;
  cut_unit (key, &unit);
  const char *value = separator + 1;
  value += strspn (value, " \t\"");
  take (stated, key, unit, value);
}
