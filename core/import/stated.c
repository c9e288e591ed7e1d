/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "stated.h"

#include "log_build.h"
#include "number_text.h"

#include <math.h>
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
    = { { "hz", 1 },      { "khz", 1e3 },   { "1/s", 1 },    { "s/s", 1 },    { "samples/s", 1 }, { "sa/s", 1 },
        { "ksa/s", 1e3 }, { "msa/s", 1e6 }, { "ks/s", 1e3 }, { "ms/s", 1e6 }, { NULL, 0 } };
static const Size times[] = { { "s", 1 }, { "ms", 1e3 }, { "us", 1e6 }, { "µs", 1e6 }, { "ns", 1e9 }, { NULL, 0 } };
static const Size numbers[] = { { "counts", 1 }, { "counts/rev", 1 }, { "counts/turn", 1 }, { "counts/revolution", 1 },
                                { "cpr", 1 },    { "", 1 },           { NULL, 0 } };
static const Size constants[] = { { "nm/a", 1 }, { "mnm/a", 1e-3 }, { NULL, 0 } };
static const Size scales[] = { { "nm/v", 1 }, { "mnm/v", 1e-3 }, { "nm/mv", 1e3 }, { NULL, 0 } };
static const Size torques[] = { { "nm", 1 }, { "mnm", 1e-3 }, { NULL, 0 } };

/* Keys without blanks, dashes and underscores, small; those of other languages from memory. */
static const struct {
  const char *key;
  SbStatedKind kind;
  const Size *sizes;
  const char *unit; /* of a number without one; NULL: a number without unit says nothing */
  gboolean inverse; /* a time stands for its rate */
} keys[] = {
  { "sampleratehz", SB_STATED_SAMPLE_RATE, rates, "hz", FALSE },
  { "samplerate", SB_STATED_SAMPLE_RATE, rates, "hz", FALSE },
  { "samplingrate", SB_STATED_SAMPLE_RATE, rates, "hz", FALSE },
  { "samplefrequency", SB_STATED_SAMPLE_RATE, rates, "hz", FALSE },
  { "samplingfrequency", SB_STATED_SAMPLE_RATE, rates, "hz", FALSE },
  { "fs", SB_STATED_SAMPLE_RATE, rates, NULL, FALSE },
  { "abtastrate", SB_STATED_SAMPLE_RATE, rates, "hz", FALSE },
  { "abtastfrequenz", SB_STATED_SAMPLE_RATE, rates, "hz", FALSE },
  { "fréquenced'échantillonnage", SB_STATED_SAMPLE_RATE, rates, "hz", FALSE },
  { "frequenzadicampionamento", SB_STATED_SAMPLE_RATE, rates, "hz", FALSE },
  { "frecuenciademuestreo", SB_STATED_SAMPLE_RATE, rates, "hz", FALSE },
  { "sampleinterval", SB_STATED_SAMPLE_RATE, times, NULL, TRUE },
  { "samplingintervals", SB_STATED_SAMPLE_RATE, times, "s", TRUE },
  { "sampleintervals", SB_STATED_SAMPLE_RATE, times, "s", TRUE },
  { "samplinginterval", SB_STATED_SAMPLE_RATE, times, NULL, TRUE },
  { "sampleperiod", SB_STATED_SAMPLE_RATE, times, NULL, TRUE },
  { "samplingperiod", SB_STATED_SAMPLE_RATE, times, NULL, TRUE },
  { "abtastzeit", SB_STATED_SAMPLE_RATE, times, NULL, TRUE },
  { "abtastintervall", SB_STATED_SAMPLE_RATE, times, NULL, TRUE },
  { "encoderresolution", SB_STATED_COUNTS_PER_TURN, numbers, NULL, FALSE },
  { "kt", SB_STATED_TORQUE_CONSTANT, constants, NULL, FALSE },
  { "countsperturn", SB_STATED_COUNTS_PER_TURN, numbers, "", FALSE },
  { "countsperrev", SB_STATED_COUNTS_PER_TURN, numbers, "", FALSE },
  { "countsperrevolution", SB_STATED_COUNTS_PER_TURN, numbers, "", FALSE },
  { "wrapcounts", SB_STATED_WRAP_COUNTS, numbers, "", FALSE },
  { "torqueconstantnmpera", SB_STATED_TORQUE_CONSTANT, constants, "nm/a", FALSE },
  { "torqueconstant", SB_STATED_TORQUE_CONSTANT, constants, NULL, FALSE },
  { "drehmomentkonstante", SB_STATED_TORQUE_CONSTANT, constants, NULL, FALSE },
  { "torquepervoltnm", SB_STATED_TORQUE_PER_VOLT, torques, "nm", FALSE },
  { "torquepervolt", SB_STATED_TORQUE_PER_VOLT, scales, NULL, FALSE },
  { "torquescale", SB_STATED_TORQUE_PER_VOLT, scales, NULL, FALSE },
  { "fullscalenm", SB_STATED_FULL_SCALE, torques, "nm", FALSE },
  { "fullscaletorque", SB_STATED_FULL_SCALE, torques, NULL, FALSE },
  { "fullscale", SB_STATED_FULL_SCALE, torques, NULL, FALSE },
};

void
sb_stated_init (SbStated *stated)
{
  const double nothing = (double) NAN;
  *stated = (SbStated){ nothing, nothing, nothing, nothing, nothing, nothing, { { { 0 }, 0, 0, 0, 0, 0 } } };
}

static double *
place_of (SbStated *stated, SbStatedKind kind)
{
  double *places[SB_N_STATED]
      = { &stated->sample_rate_hz,           &stated->counts_per_turn,    &stated->wrap_counts,
          &stated->torque_constant_nm_per_a, &stated->torque_per_volt_nm, &stated->full_scale_nm };
  return places[kind];
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

static gboolean
is_within (double value)
{
  return fabs (value) >= SMALLEST_VALUE && fabs (value) <= LARGEST_VALUE;
}

/* Whether `text` is a number in any style; what is beyond the limits is none. */
static gboolean
is_number (const char *text, gsize length)
{
  static const SbNotedStyle any = { ',', '.', '\0' };
  double value;
  return length > 0 && sb_noted_read (text, length, &any, &value) != SB_NOTED_NONE && is_within (value);
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
  const char *delimiters = ";\t,|", *ignored = " ._·*[]()\"'";
  char *unit = fold (rest, strcspn (rest, delimiters), ignored);
  const char *next = rest + strcspn (rest, delimiters);
  if (*unit != '\0' || *next == '\0')
    return unit;
  g_free (unit);
  return fold (next + 1, strcspn (next + 1, delimiters), ignored);
}

/* `comma_ends`: commas part the cells, so that one is no sign of the number. */
static void
take (SbStated *stated, const char *key, const char *key_unit, const char *text, gboolean comma_ends, guint64 line)
{
  gsize length = sb_noted_length (text, comma_ends);
  for (guint i = 0; i < G_N_ELEMENTS (keys); i++) {
    SbStatement *said = &stated->said[keys[i].kind];
    if (strcmp (keys[i].key, key) != 0 || said->line > 0 || length >= sizeof said->number || !is_number (text, length))
      continue;
    g_autofree char *written = unit_behind (text + length);
    const char *unit = *written != '\0' ? written : key_unit != NULL ? key_unit : keys[i].unit;
    const Size *size = unit != NULL ? find_size (keys[i].sizes, unit) : NULL;
    if (size == NULL)
      continue;
    *said = (SbStatement){ .line = line, .factor = size->factor, .inverse = keys[i].inverse };
    memcpy (said->number, text, length);
  }
}

void
sb_stated_read_line (SbStated *stated, const char *line, gsize length, guint64 number)
{
  if (length > LONGEST_LINE)
    return;
  g_autofree char *text = g_strndup (line, length);
  gsize start = strspn (text, "#%/;|\"' \t\xef\xbb\xbf");
  char *separator = strpbrk (text + start, ":=;,\t|");
  if (separator == NULL)
    return;
  g_autofree char *key = fold (text + start, (gsize) (separator - text) - start, " _-.\"");
  g_autofree char *unit = NULL;
  cut_unit (key, &unit);
  const char *value = separator + 1;
  gsize n_before = strspn (value, " \t\"");
  gboolean comma_ends = *separator == ',' && memchr (value, '"', n_before) == NULL;
  take (stated, key, unit, value + n_before, comma_ends, number);
}

void
sb_stated_settle (SbStated *stated, const SbNotedStyle *style)
{
  for (guint i = 0; i < SB_N_STATED; i++) {
    SbStatement *said = &stated->said[i];
    double *place = place_of (stated, (SbStatedKind) i), value;
    *place = (double) NAN;
    if (said->line == 0)
      continue;
    said->reading = sb_noted_read (said->number, strlen (said->number), style, &value);
    if (said->reading == SB_NOTED_UNCLEAR || said->reading == SB_NOTED_NONE)
      continue;
    gboolean whole = i == SB_STATED_COUNTS_PER_TURN || i == SB_STATED_WRAP_COUNTS;
    said->parted = whole && fabs (value - rint (value)) > 0;
    if (is_within (value) && !said->parted)
      *place = said->inverse ? said->factor / value : value * said->factor;
  }
}

char *
sb_stated_doubt (const SbStated *stated, SbStatedKind kind)
{
  const SbStatement *said = &stated->said[kind];
  if (said->line == 0)
    return NULL;
  g_autofree char *quoted = sb_text_quote (said->number, strlen (said->number));
  g_autofree char *place = g_strdup_printf ("line %" G_GUINT64_FORMAT " states %s, which", said->line, quoted);
  if (said->parted)
    return g_strdup_printf ("%s is no whole number: write it without a decimal sign", place);
  if (said->reading == SB_NOTED_UNCLEAR) {
    g_autofree char *unclear = sb_noted_unclear (said->number, strlen (said->number));
    return g_strdup_printf ("%s %s", place, unclear);
  }
  return said->reading == SB_NOTED_BY_TABLE
             ? g_strdup_printf ("%s is taken for a number in thousands, because of the signs of the table", place)
             : NULL;
}
