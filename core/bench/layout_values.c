/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "layout_values.h"

#include <math.h>
#include <string.h>

/* What is divided by a value stays finite. */
#define LEAST_SIZE 1e-12

typedef enum {
  ANY_SIGN,
  NO_TIME_BELOW_0,
  NOT_BELOW_0,
} Sign;

typedef struct {
  const char *name;
  gsize offset; /* in SbLayoutColumn */
  Sign sign;
  gboolean may_be_zero;
  double most;
  const char *what, *size; /* in words: without the sizes, and these */
  int dimension;
} Rule;

#define AT(member)    offsetof (SbLayoutColumn, member)
#define FROM_TO(most) most, "a number other than 0", "from 1e-12 to " #most " in size"

static const Rule rules[SB_N_LAYOUT_VALUES] = {
  [SB_LAYOUT_COUNTS_PER_TURN]
  = { "counts_per_turn", AT (counts_per_turn), ANY_SIGN, FALSE, FROM_TO (1e15), SB_DIMENSION_COUNTS },
  [SB_LAYOUT_WRAP] = { "wrap", AT (wrap), NOT_BELOW_0, TRUE, 1e15,
                       "a number in the column's unit, or 0 for an angle that does not begin again", "up to 1e15", -1 },
  [SB_LAYOUT_TORQUE_CONSTANT]
  = { "torque_constant_nm_per_a", AT (torque_constant_nm_per_a), ANY_SIGN, FALSE, FROM_TO (1e6), SB_DIMENSION_CURRENT },
  [SB_LAYOUT_TORQUE_PER_VOLT]
  = { "torque_per_volt_nm", AT (torque_per_volt_nm), ANY_SIGN, FALSE, FROM_TO (1e9), SB_DIMENSION_VOLTAGE },
  [SB_LAYOUT_TORQUE_ZERO]
  = { "torque_zero_v", AT (torque_zero_v), ANY_SIGN, TRUE, 1e6, "a number", "up to 1e6 in size", -1 },
  [SB_LAYOUT_FULL_SCALE]
  = { "full_scale", AT (full_scale), ANY_SIGN, FALSE, 1e12, "a number other than 0, in the SI unit of the role",
      "from 1e-12 to 1e12 in size", SB_DIMENSION_PERCENT },
  [SB_LAYOUT_FACTOR] = { "factor", AT (factor), NO_TIME_BELOW_0, FALSE, 1e12,
                         "a number other than 0, and above 0 for a time", "from 1e-12 to 1e12 in size", -1 },
  [SB_LAYOUT_SAMPLE_RATE]
  = { "sample_rate_hz", 0, NOT_BELOW_0, FALSE, 1e12, "a number above 0", "from 1e-12 to 1e12", SB_DIMENSION_SAMPLES },
};

const char *
sb_layout_value_name (SbLayoutValue value)
{
  return rules[value].name;
}

gboolean
sb_layout_value_is_named (SbLayoutValue value, const char *name)
{
  return strcmp (name, rules[value].name) == 0 || (value == SB_LAYOUT_WRAP && strcmp (name, "wrap_counts") == 0);
}

int
sb_layout_value_dimension (SbLayoutValue value)
{
  return rules[value].dimension;
}

double *
sb_layout_value_place (SbLayoutColumn *column, SbLayoutValue value)
{
  return (double *) (gpointer) ((char *) column + rules[value].offset);
}

double
sb_layout_value_get (const SbLayoutColumn *column, SbLayoutValue value)
{
  return *(const double *) (gconstpointer) ((const char *) column + rules[value].offset);
}

static gboolean
may_be_negative (const Rule *rule, SbRole role)
{
  return rule->sign == ANY_SIGN || (rule->sign == NO_TIME_BELOW_0 && role != SB_ROLE_TIME);
}

gboolean
sb_layout_value_takes (SbLayoutValue value, SbRole role, double number)
{
  const Rule *rule = &rules[value];
  double size = fabs (number);
  return size <= rule->most && (rule->may_be_zero || size >= LEAST_SIZE)
         && (number >= 0 || may_be_negative (rule, role));
}

char *
sb_layout_value_range (SbLayoutValue value)
{
  return g_strconcat (rules[value].what, ", ", rules[value].size, NULL);
}

char *
sb_layout_value_fault (SbLayoutValue value, SbRole role, double number)
{
  const Rule *rule = &rules[value];
  gboolean is_zero = fabs (number) <= 0;
  if (sb_layout_value_takes (value, role, number))
    return NULL;
  if (isnan (number))
    return g_strdup ("is no number");
  if ((number < 0 || is_zero) && !may_be_negative (rule, role))
    return g_strdup (rule->may_be_zero ? "is below 0" : "is not above 0");
  return is_zero ? g_strdup ("is 0") : g_strconcat ("is not ", rule->size, NULL);
}
