/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "convert.h"

#include <math.h>

#define TURN 6.283185307179586

static gboolean
is_positive (double value)
{
  return isfinite (value) && value > 0;
}

/* Constants and scales may be negative: a sensor mounted the other way round. */
static gboolean
is_known (double value)
{
  return isfinite (value) && (value < 0 || value > 0);
}

static gboolean
is_torque (const SbLayoutColumn *column)
{
  return column->role == SB_ROLE_TORQUE || column->role == SB_ROLE_COMMAND;
}

/* A torque or command in A. */
static gboolean
wants_constant (const SbLayoutColumn *column)
{
  return is_torque (column) && sb_layout_column_has (column, SB_DIMENSION_CURRENT);
}

/* A torque or command in V: the signal of a transducer. */
static gboolean
wants_torque_per_volt (const SbLayoutColumn *column)
{
  return is_torque (column) && sb_layout_column_has (column, SB_DIMENSION_VOLTAGE);
}

static const char *
wanted_by_unit (const SbLayout *layout, const SbLayoutColumn *column)
{
  if (sb_layout_column_has (column, SB_DIMENSION_COUNTS) && !is_positive (fabs (column->counts_per_turn)))
    return "the number of counts in a turn";
  if (sb_layout_column_has (column, SB_DIMENSION_SAMPLES) && !is_positive (layout->sample_rate_hz))
    return "the sample rate";
  if (sb_layout_column_has (column, SB_DIMENSION_PERCENT) && !is_known (column->full_scale))
    return is_torque (column) ? "the torque in N·m at full scale" : "the value at full scale";
  if (wants_constant (column) && !is_known (column->torque_constant_nm_per_a))
    return "the torque constant in N·m/A";
  if (wants_torque_per_volt (column) && !is_known (column->torque_per_volt_nm))
    return "the torque in N·m that one volt stands for";
  return NULL;
}

/* A torque that can be read, other than column `index`. */
static gboolean
has_torque (const SbLayout *layout, guint index)
{
  for (guint i = 0; i < layout->columns->len; i++) {
    const SbLayoutColumn *column = sb_layout_column (layout, i);
    if (i != index && column->role == SB_ROLE_TORQUE && wanted_by_unit (layout, column) == NULL)
      return TRUE;
  }
  return FALSE;
}

static gboolean
is_first_current (const SbLayout *layout, guint index)
{
  for (guint i = 0; i < index; i++)
    if (sb_layout_column (layout, i)->role == SB_ROLE_CURRENT)
      return FALSE;
  return TRUE;
}

static void
set_unit (SbConversion *conversion, const SbUnit *unit)
{
  if (unit == NULL)
    return;
  conversion->power_of_ten = unit->power_of_ten;
  conversion->scaled = unit->scaled;
  conversion->factor = unit->factor;
  conversion->zero = unit->zero;
}

static void
set_factor (SbConversion *conversion, double factor)
{
  conversion->factor *= factor;
  conversion->scaled = TRUE;
}

/* What the values of the column make of its unit. */
static void
set_values (SbConversion *conversion, const SbLayout *layout, const SbLayoutColumn *column)
{
  if (column->unit == NULL)
    return;
  switch (column->unit->dimension) {
  case SB_DIMENSION_PERCENT:
    conversion->power_of_ten = column->unit->power_of_ten - 2;
    set_factor (conversion, column->full_scale);
    break;
  case SB_DIMENSION_COUNTS:
    conversion->kind = SB_CONVERT_COUNTER;
    conversion->factor = TURN / column->counts_per_turn;
    break;
  case SB_DIMENSION_SAMPLES:
    conversion->kind = SB_CONVERT_SAMPLES;
    conversion->rate_hz = layout->sample_rate_hz;
    conversion->factor = 1.0 / layout->sample_rate_hz;
    break;
  case SB_DIMENSION_CLOCK:
    conversion->kind = SB_CONVERT_CLOCK;
    break;
  case SB_DIMENSION_CURRENT:
  case SB_DIMENSION_TIME:
  case SB_DIMENSION_ANGLE:
  case SB_DIMENSION_VELOCITY:
  case SB_DIMENSION_TORQUE:
  case SB_DIMENSION_VOLTAGE:
  case SB_DIMENSION_TEMPERATURE:
  case SB_N_DIMENSIONS:
    break;
  }
}

static void
set_stated_factor (SbConversion *conversion, const SbLayoutColumn *column)
{
  if (!is_known (column->factor))
    return;
  if (conversion->channel == SB_CHANNEL_ANGLE)
    conversion->after = column->factor;
  else if (conversion->kind == SB_CONVERT_TRANSDUCER || is_known (conversion->zero))
    conversion->before = column->factor;
  else if (column->factor < 1 || column->factor > 1)
    set_factor (conversion, column->factor);
}

/* In counts for a counter, in rad for an angle of another unit; by the unit, for a factor comes behind it. */
static void
set_wrap (SbConversion *conversion, const SbLayoutColumn *column)
{
  if (conversion->channel != SB_CHANNEL_ANGLE || isnan (column->wrap))
    return;
  conversion->wrap_is_stated = TRUE;
  conversion->wrap = is_positive (column->wrap) ? column->wrap : 0.0;
  if (conversion->kind == SB_CONVERT_NUMBER)
    conversion->wrap *= conversion->factor * pow (10.0, conversion->power_of_ten);
}

const char *
sb_conversion_refuses_factor (const SbLayout *layout, guint index)
{
  const SbLayoutColumn *column = sb_layout_column (layout, index);
  if (column->role != SB_ROLE_TIME || isnan (column->factor))
    return NULL;
  if (sb_layout_column_has (column, SB_DIMENSION_CLOCK))
    return "a clock time takes no factor";
  if (sb_layout_column_has (column, SB_DIMENSION_SAMPLES))
    return "the number of a sample takes no factor but the sample rate";
  return is_positive (column->factor) ? NULL : "the factor of a time must be above 0";
}

SbConversion
sb_conversion_of (const SbLayout *layout, guint index)
{
  const SbLayoutColumn *column = sb_layout_column (layout, index);
  SbConversion conversion = SB_CONVERSION_NONE;
  gboolean unsuited = column->unit != NULL && !sb_unit_suits_role (column->unit, column->role);
  if (column->role == SB_ROLE_OTHER || unsuited || wanted_by_unit (layout, column) != NULL)
    return conversion;
  conversion.kind = SB_CONVERT_NUMBER;
  conversion.channel = sb_role_channel (column->role);
  set_unit (&conversion, column->unit);
  conversion.unit = column->unit != NULL ? column->unit : sb_unit_find (sb_role_unit (column->role));
  set_values (&conversion, layout, column);
  gboolean stands_for_torque = column->role == SB_ROLE_CURRENT && is_known (column->torque_constant_nm_per_a)
                               && is_first_current (layout, index) && !has_torque (layout, index);
  conversion.from_current = stands_for_torque || (wants_constant (column) && column->role == SB_ROLE_TORQUE);
  if (stands_for_torque || wants_constant (column))
    set_factor (&conversion, column->torque_constant_nm_per_a);
  if (wants_torque_per_volt (column)) {
    set_factor (&conversion, column->torque_per_volt_nm);
    if (is_known (column->torque_zero_v)) {
      conversion.kind = SB_CONVERT_TRANSDUCER;
      conversion.zero = column->torque_zero_v;
    }
  }
  set_wrap (&conversion, column);
  set_stated_factor (&conversion, column);
  if (stands_for_torque)
    conversion.channel = SB_CHANNEL_TORQUE;
  conversion.aside = conversion.channel < 0;
  return conversion;
}

char *
sb_conversion_wanted (const SbLayout *layout, guint index)
{
  const SbLayoutColumn *column = sb_layout_column (layout, index);
  const char *wanted = column->role != SB_ROLE_OTHER ? wanted_by_unit (layout, column) : NULL;
  if (wanted != NULL)
    return g_strdup_printf ("the %s in %s cannot be read without %s", sb_role_key (column->role), column->unit->name,
                            wanted);
  gboolean could_stand = column->role == SB_ROLE_CURRENT && is_first_current (layout, index)
                         && !has_torque (layout, index) && !is_known (column->torque_constant_nm_per_a);
  return could_stand ? g_strdup ("the torque cannot be read from this current without the torque constant in N·m/A")
                     : NULL;
}

double
sb_conversion_apply_aside (const SbConversion *conversion, double value)
{
  return (value * conversion->before - conversion->zero) * conversion->factor;
}

/* Whole turns of the counter are counted apart from what it shows, so that nothing is rounded on the way. */
static void
follow_counter (const SbConversion *conversion, double *values, gsize n)
{
  double turns = 0.0, before = n > 0 ? values[0] : 0.0;
  for (gsize i = 0; i < n; i++) {
    double change = values[i] - before;
    before = values[i];
    if (conversion->wrap > 0.0 && fabs (change) > conversion->wrap / 2.0)
      turns -= rint (change / conversion->wrap);
    values[i] = (values[i] + turns * conversion->wrap) * conversion->factor;
  }
}

void
sb_conversion_finish (const SbConversion *conversion, double *values, gsize n)
{
  if (conversion->kind == SB_CONVERT_COUNTER)
    follow_counter (conversion, values, n);
  else if (conversion->kind == SB_CONVERT_TRANSDUCER)
    for (gsize i = 0; i < n; i++)
      values[i] = (values[i] * conversion->before - conversion->zero) * conversion->factor;
  else if (conversion->kind == SB_CONVERT_SAMPLES)
    for (gsize i = 0; i < n; i++)
      values[i] /= conversion->rate_hz;
}

static SbTurns
follow_turns (const SbConversion *conversion, double *values, gsize n, gsize *n_followed)
{
  if (conversion->channel != SB_CHANNEL_ANGLE || conversion->kind != SB_CONVERT_NUMBER)
    return SB_TURNS_PLAIN;
  SbTurns turns = conversion->wrap > 0.0       ? SB_TURNS_BEGIN_AGAIN
                  : conversion->wrap_is_stated ? SB_TURNS_PLAIN
                                               : sb_turns_of (values, n);
  if (turns == SB_TURNS_BEGIN_AGAIN)
    *n_followed = sb_turns_follow (values, n, conversion->wrap > 0.0 ? conversion->wrap : SB_TURN_RAD);
  return turns;
}

SbTurns
sb_conversion_scale (const SbConversion *conversion, double *values, gsize n, gsize *n_followed)
{
  *n_followed = 0;
  SbTurns turns = follow_turns (conversion, values, n, n_followed);
  for (gsize i = 0; (conversion->after < 1 || conversion->after > 1) && i < n; i++)
    values[i] *= conversion->after;
  /* Turned round it begins again as it did. */
  gboolean resized = fabs (conversion->after) < 1 || fabs (conversion->after) > 1;
  return turns == SB_TURNS_PLAIN && resized ? follow_turns (conversion, values, n, n_followed) : turns;
}
