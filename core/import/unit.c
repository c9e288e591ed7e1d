/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "unit.h"

#include "unit_multiple.h"

#include <math.h>
#include <string.h>

#define POWER(n)        n, 1.0, FALSE, 0.0
#define FACTOR(f)       0, f, TRUE, 0.0
#define ABOVE(zero, f)  0, f, (f) < 1.0, zero
#define DEGREE          0.017453292519943295
#define TURN            6.283185307179586
#define TURN_PER_MINUTE 0.10471975511965977

/* The spellings in other languages than English are written from memory. */
static const SbUnit units[] = {
  { "s", SB_DIMENSION_TIME, POWER (0),
    "s sec secs second seconds sek sekunde sekunden sekunder seconde secondes seconden secondo secondi segundo "
    "segundos "
    "sekunda sekundy 秒" },
  { "ms", SB_DIMENSION_TIME, POWER (-3),
    "ms msec msecs millisecond milliseconds millis millisekunden millisecondes millisecondi milisegundos ミリ秒" },
  { "µs", SB_DIMENSION_TIME, POWER (-6),
    "us usec usecs microsecond microseconds micros mikrosekunden microsecondes マイクロ秒" },
  { "ns", SB_DIMENSION_TIME, POWER (-9), "ns nsec nsecs nanosecond nanoseconds nanos" },
  { "min", SB_DIMENSION_TIME, FACTOR (60.0), "min mins minute minutes minuten minuti minutos" },
  { "h", SB_DIMENSION_TIME, FACTOR (3600.0), "h hr hrs hour hours stunde stunden heure heures" },
  { "days", SB_DIMENSION_TIME, FACTOR (86400.0), "day days" },

  { "rad", SB_DIMENSION_ANGLE, POWER (0), "rad rads radian radians radiant radianti radianes ラジアン" },
  { "mrad", SB_DIMENSION_ANGLE, POWER (-3), "mrad milliradian milliradians" },
  { "deg", SB_DIMENSION_ANGLE, FACTOR (DEGREE),
    "deg degs degree degrees degré degrés degre degres gradi grados graus graden grader stopnie stopni stupně stupnů "
    "度" },
  { "turns", SB_DIMENSION_ANGLE, FACTOR (TURN),
    "turn turns rev revs revolution revolutions umdrehung umdrehungen umdr tour tours giri vueltas voltas "
    "omwentelingen "
    "obroty varv otáčky 回転" },

  { "rad/s", SB_DIMENSION_VELOCITY, POWER (0),
    "rad/s rads rads1 rad/sec radsec radps radian/s radians/s radians/second" },
  { "mrad/s", SB_DIMENSION_VELOCITY, POWER (-3), "mrad/s mrads mrads1 mrad/sec" },
  { "deg/s", SB_DIMENSION_VELOCITY, FACTOR (DEGREE),
    "deg/s degs degs1 deg/sec degsec degps dps degree/s degrees/s degrees/second grad/sekunde degrés/seconde "
    "gradi/secondo grados/segundo 度/秒 度/s" },
  { "rpm", SB_DIMENSION_VELOCITY, FACTOR (TURN_PER_MINUTE),
    "rpm r/min rmin rev/min revmin revs/min revolutions/min rev/minute revolutions/minute turns/minute "
    "umdrehungen/minute tours/minute giri/minuto vueltas/minuto revoluciones/minuto 1/min min1 turns/min u/min umin "
    "umdr/min tr/min giri/min obr/min ot/min "
    "varv/min omw/min toeren/min tpm 回転/分" },
  { "krpm", SB_DIMENSION_VELOCITY, FACTOR (1000 * TURN_PER_MINUTE), "krpm kr/min k1/min kmin1" },
  { "turns/s", SB_DIMENSION_VELOCITY, FACTOR (TURN), "turns/s turn/s turnss r/s rev/s revs/s rps tr/s u/s" },

  { "N·m", SB_DIMENSION_TORQUE, POWER (0), "nm newtonmetre newtonmetres newtonmeter newtonmeters" },
  { "mN·m", SB_DIMENSION_TORQUE, POWER (-3), "mnm nmm millinewtonmetre millinewtonmetres millinewtonmeter" },
  { "kN·m", SB_DIMENSION_TORQUE, POWER (3), "knm kilonewtonmetre kilonewtonmetres kilonewtonmeter" },
  { "daN·m", SB_DIMENSION_TORQUE, POWER (1), "danm" },
  { "N·cm", SB_DIMENSION_TORQUE, POWER (-2), "ncm cnm" },
  { "kgf·m", SB_DIMENSION_TORQUE, FACTOR (9.80665), "kgfm kpm" },
  { "kgf·cm", SB_DIMENSION_TORQUE, FACTOR (0.0980665), "kgfcm kpcm" },
  { "gf·cm", SB_DIMENSION_TORQUE, FACTOR (0.0000980665), "gfcm" },
  { "lbf·ft", SB_DIMENSION_TORQUE, FACTOR (1.3558179483314004), "lbfft lbft ftlbf ftlb ftlbs" },
  { "lbf·in", SB_DIMENSION_TORQUE, FACTOR (0.1129848290276167), "lbfin lbin inlbf inlb inlbs" },
  { "ozf·in", SB_DIMENSION_TORQUE, FACTOR (0.00706155181422604375), "ozfin ozin inozf inoz" },

  { "A", SB_DIMENSION_CURRENT, POWER (0), "a amp amps arms aeff ampere amperes ampère ampères アンペア" },
  { "mA", SB_DIMENSION_CURRENT, POWER (-3), "ma marms maeff milliamp milliamps milliampere milliamperes" },

  { "V", SB_DIMENSION_VOLTAGE, POWER (0), "v volt volts ボルト" },
  { "mV", SB_DIMENSION_VOLTAGE, POWER (-3), "mv millivolt millivolts" },

  { "°C", SB_DIMENSION_TEMPERATURE, POWER (0), "degc c celsius centigrade centigradi centigrados" },
  { "°F", SB_DIMENSION_TEMPERATURE, ABOVE (32.0, 5.0 / 9.0), "degf f fahrenheit" },
  { "K", SB_DIMENSION_TEMPERATURE, ABOVE (273.15, 1.0), "kelvin" },

  { "%", SB_DIMENSION_PERCENT, POWER (0),
    "% %fs %f/s %fso %fullscale %offullscale %ofrated pct percent prozent procent procenta pourcent パーセント" },

  { "counts", SB_DIMENSION_COUNTS, POWER (0),
    "counts count cnt cnts ticks tick steps step incs inc increments increment inkremente pulses pulse カウント" },

  { "samples", SB_DIMENSION_SAMPLES, POWER (0), "samples sample smp" },

  { "clock time", SB_DIMENSION_CLOCK, POWER (0),
    "clocktime datetime iso8601 iso hh:mm:ss hh:mm:sssss hh:mm:ssmmm hh:mm:ssfff hh:mm:ss,mmm" },
};

/* Spellings differ in the sign of multiplication, in how a power of -1 is written and in the code point of micro;
 * folding takes these differences out. */
static const struct {
  const char *from, *to;
} foldings[] = {
  { "⁻¹", "1" },   { "^-1", "1" },   { "**-1", "1" },  { "µ", "u" },     { "μ", "u" },     { "°", "deg" },
  { "º", "deg" },  { "˚", "deg" },   { "℃", "degc" },  { "℉", "degf" },  { "％", "%" },    { "·", "" },
  { "⋅", "" },     { "•", "" },      { "∙", "" },      { "×", "" },      { "*", "" },      { "・", "" },
  { ".", "" },     { "-", "" },      { "_per_", "/" }, { " per ", "/" }, { " pro ", "/" }, { " par ", "/" },
  { " al ", "/" }, { " por ", "/" }, { "_", "" },      { " ", "" },
};

/* No unit is longer, spelt out and with every sign. */
#define LONGEST_SPELLING 48

static char *
fold (const char *spelling)
{
  g_autofree char *lower = g_utf8_strdown (spelling, -1);
  GString *folded = g_string_new (NULL);
  const char *p = lower;
  while (*p != '\0') {
    guint i = 0;
    while (i < G_N_ELEMENTS (foldings) && !g_str_has_prefix (p, foldings[i].from))
      i++;
    if (i < G_N_ELEMENTS (foldings)) {
      g_string_append (folded, foldings[i].to);
      p += strlen (foldings[i].from);
    } else {
      g_string_append_c (folded, *p++);
    }
  }
  return g_string_free (folded, FALSE);
}

/* Which units a spelling is looked for among: "rad_s" and "rads" fold alike. */
typedef enum {
  AMONG_ALL,
  AMONG_VELOCITIES, /* and what comes behind them */
  N_AMONG,
} Among;

static GHashTable *
arrange (SbDimension from)
{
  GHashTable *table = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  for (guint i = 0; i < G_N_ELEMENTS (units); i++) {
    g_auto (GStrv) spellings = g_strsplit (units[i].spellings, " ", -1);
    for (guint k = 0; spellings[k] != NULL && units[i].dimension >= from; k++)
      if (!g_hash_table_contains (table, spellings[k]))
        g_hash_table_insert (table, g_strdup (spellings[k]), (gpointer) (gsize) &units[i]); /* read only */
  }
  return table;
}

/* Asked for every cell of a header and for numbers with a unit: arranged once. */
static const SbUnit *
find_in (const char *folded, Among among)
{
  static GHashTable *tables[N_AMONG];
  static gsize arranged = 0;
  if (g_once_init_enter (&arranged)) {
    tables[AMONG_ALL] = arrange (SB_DIMENSION_TIME);
    tables[AMONG_VELOCITIES] = arrange (SB_DIMENSION_VELOCITY);
    g_once_init_leave (&arranged, 1);
  }
  return g_hash_table_lookup (tables[among], folded);
}

/* What letter case alone tells apart: mega, and the kelvin, whose small letter is a thousand. */
static gboolean
case_matters (const char *spelling, const SbUnit **unit)
{
  *unit = NULL;
  if (strcmp (spelling, "K") == 0) {
    *unit = find_in ("kelvin", AMONG_ALL);
    return TRUE;
  }
  return spelling[0] == 'M' && (spelling[1] == 'N' || ((spelling[1] == 'A' || spelling[1] == 'V') && !spelling[2]));
}

static const SbUnit *
find_as_spelt (const char *spelling)
{
  const SbUnit *unit;
  if (*spelling == '\0' || strlen (spelling) > LONGEST_SPELLING)
    return NULL;
  if (case_matters (spelling, &unit))
    return unit;
  g_autofree char *folded = fold (spelling);
  /* "rad_s" and "rads" fold alike, and so do "deg_s" and "degs": a separator makes it a velocity. */
  gboolean apart
      = strpbrk (spelling, "_ .*-^") != NULL || strstr (spelling, "·") != NULL || strstr (spelling, "⁻") != NULL;
  return find_in (folded, apart && g_str_has_suffix (folded, "s") ? AMONG_VELOCITIES : AMONG_ALL);
}

#define LOWEST_POWER (-9)
#define N_POWERS     16

/* "0.1 N·m", "10 µs": written by firmware that logs whole numbers. */
static char *
name_of_multiple (const SbUnit *unit, int power_of_ten)
{
  GString *name = g_string_new (power_of_ten < 0 ? "0." : "1");
  for (int i = 1; i < ABS (power_of_ten); i++)
    g_string_append_c (name, '0');
  g_string_append (name, power_of_ten < 0 ? "1 " : "0 ");
  return g_string_free (g_string_append (name, unit->name), FALSE);
}

/* For as long as the program runs, as those of the table: a unit is known by its address. */
static const SbUnit *
multiple_of (const SbUnit *unit, int power_of_ten)
{
  static SbUnit multiples[G_N_ELEMENTS (units)][N_POWERS];
  static GMutex mutex;
  g_autoptr (GMutexLocker) locker = g_mutex_locker_new (&mutex);
  SbUnit *multiple = &multiples[unit - units][power_of_ten - LOWEST_POWER];
  if (multiple->name == NULL) {
    *multiple = *unit;
    multiple->power_of_ten += power_of_ten;
    multiple->spellings = "";
    multiple->name = name_of_multiple (unit, power_of_ten);
  }
  return multiple;
}

static double
size_of (const SbUnit *unit)
{
  return unit->factor * pow (10.0, unit->power_of_ten);
}

/* So many times `unit`: one of the table if there is one of that size. */
static const SbUnit *
multiply (const SbUnit *unit, int power_of_ten)
{
  gboolean stays_whole = unit->dimension == SB_DIMENSION_COUNTS || unit->dimension == SB_DIMENSION_SAMPLES
                         || unit->dimension == SB_DIMENSION_CLOCK || unit->zero > 0;
  double size = size_of (unit) * pow (10.0, power_of_ten);
  if (power_of_ten == 0)
    return unit;
  for (guint i = 0; !stays_whole && i < G_N_ELEMENTS (units); i++)
    if (units[i].dimension == unit->dimension && !(units[i].zero > 0)
        && fabs (size_of (&units[i]) - size) < 1e-12 * size)
      return &units[i];
  return stays_whole ? NULL : multiple_of (unit, power_of_ten);
}

/* "50 µs": the tick of a firmware's clock. Kept as the multiples are, each once. */
static const SbUnit *
times_of (const SbUnit *unit, double factor, int power_of_ten)
{
  static GHashTable *lengths;
  static GMutex mutex;
  char number[G_ASCII_DTOSTR_BUF_SIZE];
  g_ascii_formatd (number, sizeof number, "%.9g", factor * pow (10.0, power_of_ten));
  char *name = g_strdup_printf ("%s %s", number, unit->name);
  g_autoptr (GMutexLocker) locker = g_mutex_locker_new (&mutex);
  if (lengths == NULL)
    lengths = g_hash_table_new (g_str_hash, g_str_equal);
  SbUnit *length = g_hash_table_lookup (lengths, name);
  if (length != NULL) {
    g_free (name);
    return length;
  }
  length = g_new (SbUnit, 1);
  *length = (SbUnit){ .name = name, .dimension = unit->dimension, .spellings = "" };
  length->power_of_ten = unit->power_of_ten + power_of_ten;
  length->factor = factor;
  length->scaled = TRUE;
  g_hash_table_insert (lengths, name, length);
  return length;
}

/* Many times a second, a millisecond and so on. */
static const SbUnit *
find_length_of_time (const char *spelling)
{
  double factor;
  int power_of_ten;
  const char *counted = sb_unit_number_read (spelling, &factor, &power_of_ten);
  const SbUnit *unit = counted != NULL ? find_as_spelt (counted) : NULL;
  if (unit == NULL || unit->dimension != SB_DIMENSION_TIME || unit->scaled)
    return NULL;
  return factor > 1 ? times_of (unit, factor, power_of_ten) : NULL;
}

const SbUnit *
sb_unit_find (const char *spelling)
{
  int power_of_ten;
  const SbUnit *unit = find_as_spelt (spelling);
  const char *multiplied = unit == NULL ? sb_unit_multiplier_read (spelling, &power_of_ten) : NULL;
  if (unit != NULL)
    return unit;
  if (multiplied == NULL)
    return find_length_of_time (spelling);
  unit = find_as_spelt (multiplied);
  return unit != NULL ? multiply (unit, power_of_ten) : NULL;
}

gboolean
sb_unit_is_in_numbers (const char *spelling)
{
  return g_ascii_isdigit (*spelling) && find_as_spelt (spelling) == NULL && sb_unit_find (spelling) != NULL;
}

const SbUnit *
sb_unit_at (guint index)
{
  return index < G_N_ELEMENTS (units) ? &units[index] : NULL;
}

#define IN(dimension) (1u << SB_DIMENSION_##dimension)

/* What a column of each role may be written in; the dimension of its SI value. */
static const struct {
  guint accepted;
  int own; /* SbDimension, or -1 */
} dimensions[SB_N_ROLES] = {
  [SB_ROLE_TIME] = { IN (TIME) | IN (SAMPLES) | IN (CLOCK), SB_DIMENSION_TIME },
  [SB_ROLE_COMMAND] = { IN (TORQUE) | IN (CURRENT) | IN (VOLTAGE) | IN (PERCENT), SB_DIMENSION_TORQUE },
  [SB_ROLE_ANGLE] = { IN (ANGLE) | IN (COUNTS) | IN (PERCENT), SB_DIMENSION_ANGLE },
  [SB_ROLE_VELOCITY] = { IN (VELOCITY) | IN (PERCENT), SB_DIMENSION_VELOCITY },
  [SB_ROLE_TORQUE] = { IN (TORQUE) | IN (CURRENT) | IN (VOLTAGE) | IN (PERCENT), SB_DIMENSION_TORQUE },
  [SB_ROLE_CURRENT] = { IN (CURRENT) | IN (PERCENT), SB_DIMENSION_CURRENT },
  [SB_ROLE_TEMPERATURE] = { IN (TEMPERATURE), SB_DIMENSION_TEMPERATURE },
  [SB_ROLE_SUPPLY] = { IN (VOLTAGE), SB_DIMENSION_VOLTAGE },
  [SB_ROLE_OTHER] = { 0, -1 },
};

gboolean
sb_unit_suits_role (const SbUnit *unit, SbRole role)
{
  return (dimensions[role].accepted & (1u << unit->dimension)) != 0;
}

const char *
sb_role_unit (SbRole role)
{
  for (guint i = 0; i < G_N_ELEMENTS (units); i++)
    if ((int) units[i].dimension == dimensions[role].own)
      return units[i].name;
  return "";
}

char *
sb_role_unit_list (SbRole role)
{
  GString *list = g_string_new (NULL);
  const char *last = NULL;
  for (guint i = 0; i < G_N_ELEMENTS (units); i++) {
    if (!sb_unit_suits_role (&units[i], role))
      continue;
    if (last != NULL)
      g_string_append_printf (list, "%s%s", list->len > 0 ? ", " : "", last);
    last = units[i].name;
  }
  if (last != NULL)
    g_string_append_printf (list, "%s%s", list->len > 0 ? " or " : "", last);
  return g_string_free (list, FALSE);
}

SbDimension
sb_channel_dimension (SbChannel channel)
{
  return (SbDimension) dimensions[channel].own;
}
