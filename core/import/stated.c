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
/* The unit of an interval without one: of what it is nobody knows. */
#define BARE "?"

/* How a value may be written; value in the base unit = written * factor, or 1 / that for a time between samples. */
typedef struct {
  const char *spelling; /* letters without blanks and points, small */
  double factor;
} Size;

static const Size rates[]
    = { { "hz", 1 },      { "khz", 1e3 },   { "1/s", 1 },    { "s/s", 1 },    { "samples/s", 1 }, { "sa/s", 1 },
        { "ksa/s", 1e3 }, { "msa/s", 1e6 }, { "ks/s", 1e3 }, { "ms/s", 1e6 }, { NULL, 0 } };
static const Size times[] = { { "s", 1 },      { "sec", 1 },      { "seconds", 1 }, { "ms", 1e3 },   { "msec", 1e3 },
                              { "us", 1e6 },   { "µs", 1e6 },     { "μs", 1e6 },    { "usec", 1e6 }, { "ns", 1e9 },
                              { "nsec", 1e9 }, { "sekunden", 1 }, { NULL, 0 } };
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
  gboolean inverse; /* a time stands for its rate, */
  gboolean of_tick; /* that of a clock of which a row may have several ticks */
} keys[] = {
  { "sampleratehz", SB_STATED_SAMPLE_RATE, rates, "hz", FALSE, FALSE },
  { "samplerate", SB_STATED_SAMPLE_RATE, rates, "hz", FALSE, FALSE },
  { "samplingrate", SB_STATED_SAMPLE_RATE, rates, "hz", FALSE, FALSE },
  { "samplefrequency", SB_STATED_SAMPLE_RATE, rates, "hz", FALSE, FALSE },
  { "samplingfrequency", SB_STATED_SAMPLE_RATE, rates, "hz", FALSE, FALSE },
  { "fs", SB_STATED_SAMPLE_RATE, rates, NULL, FALSE, FALSE },
  { "abtastrate", SB_STATED_SAMPLE_RATE, rates, "hz", FALSE, FALSE },
  { "abtastfrequenz", SB_STATED_SAMPLE_RATE, rates, "hz", FALSE, FALSE },
  { "fréquenced'échantillonnage", SB_STATED_SAMPLE_RATE, rates, "hz", FALSE, FALSE },
  { "frequenzadicampionamento", SB_STATED_SAMPLE_RATE, rates, "hz", FALSE, FALSE },
  { "frecuenciademuestreo", SB_STATED_SAMPLE_RATE, rates, "hz", FALSE, FALSE },
  { "sampleinterval", SB_STATED_SAMPLE_RATE, times, BARE, TRUE, FALSE },
  { "samplinginterval", SB_STATED_SAMPLE_RATE, times, BARE, TRUE, FALSE },
  { "sampleperiod", SB_STATED_SAMPLE_RATE, times, BARE, TRUE, FALSE },
  { "samplingperiod", SB_STATED_SAMPLE_RATE, times, BARE, TRUE, FALSE },
  { "dt", SB_STATED_SAMPLE_RATE, times, BARE, TRUE, FALSE },
  { "deltat", SB_STATED_SAMPLE_RATE, times, BARE, TRUE, FALSE },
  { "timestep", SB_STATED_SAMPLE_RATE, times, BARE, TRUE, FALSE },
  { "timeincrement", SB_STATED_SAMPLE_RATE, times, BARE, TRUE, FALSE },
  { "xincrement", SB_STATED_SAMPLE_RATE, times, BARE, TRUE, FALSE },
  { "horizontalinterval", SB_STATED_SAMPLE_RATE, times, BARE, TRUE, FALSE },
  { "abtastzeit", SB_STATED_SAMPLE_RATE, times, BARE, TRUE, FALSE },
  { "abtastintervall", SB_STATED_SAMPLE_RATE, times, BARE, TRUE, FALSE },
  { "abtastperiode", SB_STATED_SAMPLE_RATE, times, BARE, TRUE, FALSE },
  { "zeitschritt", SB_STATED_SAMPLE_RATE, times, BARE, TRUE, FALSE },
  { "périoded'échantillonnage", SB_STATED_SAMPLE_RATE, times, BARE, TRUE, FALSE },
  { "intervalled'échantillonnage", SB_STATED_SAMPLE_RATE, times, BARE, TRUE, FALSE },
  { "pasdetemps", SB_STATED_SAMPLE_RATE, times, BARE, TRUE, FALSE },
  { "periododicampionamento", SB_STATED_SAMPLE_RATE, times, BARE, TRUE, FALSE },
  { "intervallodicampionamento", SB_STATED_SAMPLE_RATE, times, BARE, TRUE, FALSE },
  { "periododemuestreo", SB_STATED_SAMPLE_RATE, times, BARE, TRUE, FALSE },
  { "intervalodemuestreo", SB_STATED_SAMPLE_RATE, times, BARE, TRUE, FALSE },
  { "sampletime", SB_STATED_SAMPLE_RATE, times, NULL, TRUE, FALSE },
  { "samplingtime", SB_STATED_SAMPLE_RATE, times, NULL, TRUE, FALSE },
  { "ts", SB_STATED_SAMPLE_RATE, times, NULL, TRUE, FALSE },
  { "interval", SB_STATED_SAMPLE_RATE, times, NULL, TRUE, FALSE },
  { "loginterval", SB_STATED_SAMPLE_RATE, times, NULL, TRUE, FALSE },
  { "logginginterval", SB_STATED_SAMPLE_RATE, times, NULL, TRUE, FALSE },
  { "recordinginterval", SB_STATED_SAMPLE_RATE, times, NULL, TRUE, FALSE },
  { "timeinterval", SB_STATED_SAMPLE_RATE, times, NULL, TRUE, FALSE },
  { "taktzeit", SB_STATED_SAMPLE_RATE, times, NULL, TRUE, FALSE },
  { "tick", SB_STATED_SAMPLE_RATE, times, NULL, TRUE, TRUE },
  { "ticklength", SB_STATED_SAMPLE_RATE, times, NULL, TRUE, TRUE },
  { "tickperiod", SB_STATED_SAMPLE_RATE, times, NULL, TRUE, TRUE },
  { "tickinterval", SB_STATED_SAMPLE_RATE, times, NULL, TRUE, TRUE },
  { "ticktime", SB_STATED_SAMPLE_RATE, times, NULL, TRUE, TRUE },
  { "tickduration", SB_STATED_SAMPLE_RATE, times, NULL, TRUE, TRUE },
  { "ticksize", SB_STATED_SAMPLE_RATE, times, NULL, TRUE, TRUE },
  { "timertick", SB_STATED_SAMPLE_RATE, times, NULL, TRUE, TRUE },
  { "clocktick", SB_STATED_SAMPLE_RATE, times, NULL, TRUE, TRUE },
  { "clockperiod", SB_STATED_SAMPLE_RATE, times, NULL, TRUE, TRUE },
  { "tickrate", SB_STATED_SAMPLE_RATE, rates, "hz", FALSE, TRUE },
  { "tickfrequency", SB_STATED_SAMPLE_RATE, rates, "hz", FALSE, TRUE },
  { "sampleintervals", SB_STATED_SAMPLE_RATE, times, "s", TRUE, FALSE },
  { "samplingintervals", SB_STATED_SAMPLE_RATE, times, "s", TRUE, FALSE },
  { "encoderresolution", SB_STATED_COUNTS_PER_TURN, numbers, NULL, FALSE, FALSE },
  { "kt", SB_STATED_TORQUE_CONSTANT, constants, NULL, FALSE, FALSE },
  { "countsperturn", SB_STATED_COUNTS_PER_TURN, numbers, "", FALSE, FALSE },
  { "countsperrev", SB_STATED_COUNTS_PER_TURN, numbers, "", FALSE, FALSE },
  { "countsperrevolution", SB_STATED_COUNTS_PER_TURN, numbers, "", FALSE, FALSE },
  { "wrapcounts", SB_STATED_WRAP_COUNTS, numbers, "", FALSE, FALSE },
  { "torqueconstantnmpera", SB_STATED_TORQUE_CONSTANT, constants, "nm/a", FALSE, FALSE },
  { "torqueconstant", SB_STATED_TORQUE_CONSTANT, constants, NULL, FALSE, FALSE },
  { "drehmomentkonstante", SB_STATED_TORQUE_CONSTANT, constants, NULL, FALSE, FALSE },
  { "torquepervoltnm", SB_STATED_TORQUE_PER_VOLT, torques, "nm", FALSE, FALSE },
  { "torquepervolt", SB_STATED_TORQUE_PER_VOLT, scales, NULL, FALSE, FALSE },
  { "torquescale", SB_STATED_TORQUE_PER_VOLT, scales, NULL, FALSE, FALSE },
  { "fullscalenm", SB_STATED_FULL_SCALE, torques, "nm", FALSE, FALSE },
  { "fullscaletorque", SB_STATED_FULL_SCALE, torques, NULL, FALSE, FALSE },
  { "fullscale", SB_STATED_FULL_SCALE, torques, NULL, FALSE, FALSE },
};

void
sb_stated_init (SbStated *stated)
{
  const double nothing = (double) NAN;
  *stated = (SbStated){ nothing, nothing, nothing, nothing, nothing, nothing, { .n = 0 }, { { .line = 0 } } };
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

/* "us/sample" is a time for each. */
static void
cut_of_each (char *unit)
{
  static const char *const each[] = { "/sample", "/tick", "/row", "/count", "/point" };
  for (guint i = 0; i < G_N_ELEMENTS (each); i++)
    if (g_str_has_suffix (unit, each[i]))
      unit[strlen (unit) - strlen (each[i])] = '\0';
}

/* `comma_ends`: commas part the cells, so that one is no sign of the number. */
static void
take (SbStated *stated, const char *key, const char *key_unit, const char *text, gboolean comma_ends, guint64 line)
{
  gsize length = sb_noted_length (text, comma_ends);
  for (guint i = 0; i < G_N_ELEMENTS (keys); i++) {
    SbStatement *said = &stated->said[keys[i].kind];
    if (strcmp (keys[i].key, key) != 0 || (said->line > 0 && *said->unit == '\0') || length >= sizeof said->number
        || !is_number (text, length))
      continue;
    g_autofree char *written = unit_behind (text + length);
    gboolean of_rate = keys[i].kind == SB_STATED_SAMPLE_RATE;
    if (keys[i].inverse)
      cut_of_each (written);
    const char *unit = *written != '\0' ? written : key_unit != NULL ? key_unit : keys[i].unit;
    const Size *size = unit != NULL ? find_size (keys[i].sizes, unit) : NULL;
    if (size == NULL && (unit == NULL || !of_rate || g_ascii_isdigit (*unit) || strlen (unit) >= sizeof said->unit))
      continue;
    *said = (SbStatement){
      .line = line, .factor = size != NULL ? size->factor : 0, .inverse = keys[i].inverse, .of_tick = keys[i].of_tick
    };
    if (size == NULL)
      g_strlcpy (said->unit, unit, sizeof said->unit);
    memcpy (said->number, text, length);
  }
}

/* "dt_ms" -> "dt" and "ms": a last word that is a size of time; NULL when it is none. (transfer full) */
static char *
cut_last_word (char *key)
{
  char *end = key + strlen (key), *last = end;
  while (last > key && strchr ("_ ", last[-1]) == NULL)
    last--;
  g_autofree char *word = fold (last, (gsize) (end - last), ".");
  if (last == key || find_size (times, word) == NULL)
    return NULL;
  last[-1] = '\0';
  return g_steal_pointer (&word);
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
  g_autofree char *raw = g_strndup (text + start, (gsize) (separator - text) - start);
  g_strchomp (raw);
  g_autofree char *unit = cut_last_word (raw);
  g_autofree char *key = fold (raw, strlen (raw), " _-.\"");
  if (unit == NULL)
    cut_unit (key, &unit);
  const char *value = separator + 1;
  gsize n_before = strspn (value, " \t\"");
  gboolean comma_ends = *separator == ',' && memchr (value, '"', n_before) == NULL;
  take (stated, key, unit, value + n_before, comma_ends, number);
  sb_stated_units_take (&stated->units, raw, value, number);
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
    if (is_within (value) && !said->parted && *said->unit == '\0')
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
  if (strcmp (said->unit, BARE) == 0)
    return g_strdup_printf ("%s has no unit: write s, ms or us behind it", place);
  if (*said->unit != '\0')
    return g_strdup_printf ("%s is in '%s', which is no unit of it that is known: write it in %s", place, said->unit,
                            said->inverse ? "s, ms or us" : "Hz or kHz");
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
