/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "roles_values.h"

#include "convert.h"

#include <math.h>

static gboolean
is_torque (const SbLayoutColumn *column)
{
  return column->role == SB_ROLE_TORQUE || column->role == SB_ROLE_COMMAND;
}

void
sb_roles_take_rate (SbLayout *layout, const SbStated *stated)
{
  if (!isnan (layout->sample_rate_hz))
    return;
  layout->sample_rate_hz = stated->sample_rate_hz;
  g_free (layout->question);
  layout->question = sb_stated_doubt (stated, SB_STATED_SAMPLE_RATE);
}

void
sb_roles_take_values (SbLayoutColumn *column, const SbStated *stated)
{
  if (sb_layout_column_has (column, SB_DIMENSION_COUNTS)) {
    column->counts_per_turn = stated->counts_per_turn;
    column->wrap_counts = isnan (stated->wrap_counts) ? 0.0 : stated->wrap_counts;
  }
  if (sb_layout_column_has (column, SB_DIMENSION_CURRENT) || column->role == SB_ROLE_CURRENT)
    column->torque_constant_nm_per_a = stated->torque_constant_nm_per_a;
  if (sb_layout_column_has (column, SB_DIMENSION_VOLTAGE) && is_torque (column))
    column->torque_per_volt_nm = stated->torque_per_volt_nm;
  if (sb_layout_column_has (column, SB_DIMENSION_PERCENT) && is_torque (column))
    column->full_scale = stated->full_scale_nm;
}

/* The doubts about the values that this column wants; NULL: none. (transfer full) */
static char *
doubt_of (const SbLayout *layout, const SbLayoutColumn *column, const SbStated *stated)
{
  if (stated == NULL || column->role == SB_ROLE_OTHER)
    return NULL;
  if (sb_layout_column_has (column, SB_DIMENSION_SAMPLES))
    return g_strdup (layout->question);
  if (sb_layout_column_has (column, SB_DIMENSION_COUNTS)) {
    char *doubt = sb_stated_doubt (stated, SB_STATED_COUNTS_PER_TURN);
    return doubt != NULL ? doubt : sb_stated_doubt (stated, SB_STATED_WRAP_COUNTS);
  }
  if (sb_layout_column_has (column, SB_DIMENSION_CURRENT))
    return sb_stated_doubt (stated, SB_STATED_TORQUE_CONSTANT);
  if (sb_layout_column_has (column, SB_DIMENSION_VOLTAGE) && is_torque (column))
    return sb_stated_doubt (stated, SB_STATED_TORQUE_PER_VOLT);
  return sb_layout_column_has (column, SB_DIMENSION_PERCENT) && is_torque (column)
             ? sb_stated_doubt (stated, SB_STATED_FULL_SCALE)
             : NULL;
}

static char *
join (const char *first, char *second)
{
  if (first == NULL)
    return second;
  char *both = g_strdup_printf ("%s; %s", first, second);
  g_free (second);
  return both;
}

void
sb_roles_ask_for_values (SbLayout *layout, guint index, const SbStated *stated)
{
  SbLayoutColumn *column = sb_layout_column (layout, index);
  g_autofree char *wanted = sb_conversion_wanted (layout, index);
  g_autofree char *doubt = doubt_of (layout, column, stated);
  if (wanted == NULL && doubt == NULL)
    return;
  gboolean guessed = column->certainty == SB_CERTAINTY_GUESSED && column->question != NULL;
  char *asked = wanted != NULL && doubt != NULL ? g_strdup_printf ("%s (%s)", wanted, doubt)
                                                : g_strdup (wanted != NULL ? wanted : doubt);
  char *question = join (guessed ? column->question : NULL, asked);
  g_free (column->question);
  column->question = question;
  column->certainty = wanted != NULL ? SB_CERTAINTY_MISSING : SB_CERTAINTY_GUESSED;
}
