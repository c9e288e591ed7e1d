/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "unit.h"

#include <string.h>

#define POWER(n)  n, 1.0, FALSE
#define FACTOR(f) 0, f, TRUE

static const SbUnit units[] = {
  { "s", SB_DIMENSION_TIME, POWER (0), "s sec secs second seconds" },
  { "ms", SB_DIMENSION_TIME, POWER (-3), "ms msec msecs millisecond milliseconds millis" },
  { "µs", SB_DIMENSION_TIME, POWER (-6), "us usec usecs microsecond microseconds micros" },
  { "ns", SB_DIMENSION_TIME, POWER (-9), "ns nsec nsecs nanosecond nanoseconds nanos" },

  { "rad", SB_DIMENSION_ANGLE, POWER (0), "rad rads radian radians" },
  { "mrad", SB_DIMENSION_ANGLE, POWER (-3), "mrad milliradian milliradians" },
  { "deg", SB_DIMENSION_ANGLE, FACTOR (0.017453292519943295), "deg degs degree degrees" },
  { "turns", SB_DIMENSION_ANGLE, FACTOR (6.283185307179586), "turn turns rev revs revolution revolutions" },

  { "rad/s", SB_DIMENSION_VELOCITY, POWER (0), "rad/s rads rads1 rad/sec radsec radian/s radians/s radians/second" },
  { "deg/s", SB_DIMENSION_VELOCITY, FACTOR (0.017453292519943295),
    "deg/s degs degs1 deg/sec degsec dps degree/s degrees/s degrees/second" },
  { "rpm", SB_DIMENSION_VELOCITY, FACTOR (0.10471975511965977),
    "rpm r/min rmin rev/min revmin revs/min 1/min min1 turns/min u/min" },
  { "turns/s", SB_DIMENSION_VELOCITY, FACTOR (6.283185307179586), "turns/s turn/s turnss r/s rev/s revs/s rps" },

  { "N·m", SB_DIMENSION_TORQUE, POWER (0), "nm newtonmetre newtonmetres newtonmeter newtonmeters" },
  { "mN·m", SB_DIMENSION_TORQUE, POWER (-3), "mnm millinewtonmetre millinewtonmetres millinewtonmeter" },
  { "N·cm", SB_DIMENSION_TORQUE, POWER (-2), "ncm" },
  { "kgf·m", SB_DIMENSION_TORQUE, FACTOR (9.80665), "kgfm kpm" },
  { "kgf·cm", SB_DIMENSION_TORQUE, FACTOR (0.0980665), "kgfcm kpcm" },
  { "lbf·ft", SB_DIMENSION_TORQUE, FACTOR (1.3558179483314004), "lbfft lbft ftlbf ftlb ftlbs" },
  { "lbf·in", SB_DIMENSION_TORQUE, FACTOR (0.1129848290276167), "lbfin lbin inlbf inlb inlbs" },
  { "ozf·in", SB_DIMENSION_TORQUE, FACTOR (0.00706155181422604375), "ozfin ozin inozf inoz" },
};

/* Spellings differ in the sign of multiplication, in how a power of -1 is written and in the code point of micro;
 * folding takes these differences out. */
static const struct {
  const char *from, *to;
} foldings[] = {
  { "⁻¹", "1" }, { "^-1", "1" }, { "**-1", "1" },  { "µ", "u" },     { "μ", "u" }, { "°", "deg" },
  { "·", "" },   { "⋅", "" },    { "•", "" },      { "∙", "" },      { "×", "" },  { "*", "" },
  { ".", "" },   { "-", "" },    { "_per_", "/" }, { " per ", "/" }, { "_", "" },  { " ", "" },
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

static gboolean
is_spelling_of (const SbUnit *unit, const char *folded)
{
  gsize length = strlen (folded);
  for (const char *p = unit->spellings; p != NULL; p = strchr (p, ' ')) {
    if (*p == ' ')
      p++;
    gsize here = strcspn (p, " ");
    if (here == length && memcmp (p, folded, length) == 0)
      return TRUE;
  }
  return FALSE;
}

static const SbUnit *
find_in (const char *folded, SbDimension from)
{
  for (guint i = 0; i < G_N_ELEMENTS (units); i++)
    if (units[i].dimension >= from && is_spelling_of (&units[i], folded))
      return &units[i];
  return NULL;
}

const SbUnit *
sb_unit_find (const char *spelling)
{
  gboolean mega = spelling[0] == 'M' && spelling[1] == 'N';
  if (mega || *spelling == '\0' || strlen (spelling) > LONGEST_SPELLING)
    return NULL;
  g_autofree char *folded = fold (spelling);
  /* "rad_s" and "rads" fold alike, and so do "deg_s" and "degs": a separator makes it a velocity. */
  gboolean apart
      = strpbrk (spelling, "_ .*-^") != NULL || strstr (spelling, "·") != NULL || strstr (spelling, "⁻") != NULL;
  return find_in (folded, apart && g_str_has_suffix (folded, "s") ? SB_DIMENSION_VELOCITY : SB_DIMENSION_TIME);
}

SbDimension
sb_channel_dimension (SbChannel channel)
{
  static const SbDimension dimensions[SB_N_CHANNELS] = {
    [SB_CHANNEL_TIME] = SB_DIMENSION_TIME,     [SB_CHANNEL_COMMAND] = SB_DIMENSION_TORQUE,
    [SB_CHANNEL_ANGLE] = SB_DIMENSION_ANGLE,   [SB_CHANNEL_VELOCITY] = SB_DIMENSION_VELOCITY,
    [SB_CHANNEL_TORQUE] = SB_DIMENSION_TORQUE,
  };
  return dimensions[channel];
}

char *
sb_unit_list (SbDimension dimension)
{
  GString *list = g_string_new (NULL);
  const char *last = NULL;
  for (guint i = 0; i < G_N_ELEMENTS (units); i++) {
    if (units[i].dimension != dimension)
      continue;
    if (last != NULL)
      g_string_append_printf (list, "%s%s", list->len > 0 ? ", " : "", last);
    last = units[i].name;
  }
  g_string_append_printf (list, " or %s", last);
  return g_string_free (list, FALSE);
}
