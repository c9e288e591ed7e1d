/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "roles_values.h"

#include "convert.h"
#include "number_text.h"
#include "vocabulary.h"

#include <math.h>

static gboolean
is_torque (const SbLayoutColumn *column)
{
  return column->role == SB_ROLE_TORQUE || column->role == SB_ROLE_COMMAND;
}

void
sb_roles_take_rate (SbLayout *layout, const SbStated *stated)
{
  layout->sample_rate_hz = stated->sample_rate_hz;
  g_free (layout->question);
  layout->question = sb_stated_doubt (stated, SB_STATED_SAMPLE_RATE);
}

void
sb_roles_leave_tick (SbLayout *layout, const SbStated *stated)
{
  gboolean counted = FALSE;
  for (guint i = 0; i < layout->columns->len; i++) {
    const SbLayoutColumn *column = sb_layout_column (layout, i);
    counted = counted || (column->role == SB_ROLE_TIME && sb_layout_column_has (column, SB_DIMENSION_SAMPLES));
  }
  if (stated->said[SB_STATED_SAMPLE_RATE].of_tick && !counted) {
    layout->sample_rate_hz = (double) NAN;
    g_clear_pointer (&layout->question, g_free);
  }
}

static gboolean
counts_ticks (const SbLayoutColumn *column)
{
  gboolean guessed = column->certainty == SB_CERTAINTY_GUESSED && !sb_words_say (column->name, SB_WORD_SAMPLE);
  return column->role == SB_ROLE_TIME && sb_layout_column_has (column, SB_DIMENSION_SAMPLES)
         && (guessed || sb_words_say_tick (column->name) || sb_words_say (column->name, SB_WORD_TIME));
}

void
sb_roles_take_tick (SbLayout *layout, const SbShape *shapes, const SbStated *stated)
{
  for (guint i = 0; i < layout->columns->len; i++) {
    SbLayoutColumn *column = sb_layout_column (layout, i);
    double step = 1.0;
    SbRise rise = counts_ticks (column) ? sb_shape_rise (&shapes[i], &step) : SB_RISES_NOT;
    gboolean of_tick = stated->said[SB_STATED_SAMPLE_RATE].of_tick;
    if (rise == SB_RISES_NOT || rise == SB_RISES_BY_ONE || !(stated->sample_rate_hz > 0) || of_tick)
      continue;
    layout->sample_rate_hz = stated->sample_rate_hz * step;
    g_autofree char *by = sb_number_plain (step), *rate = sb_number_plain (stated->sample_rate_hz);
    g_autofree char *tick = sb_seconds_plain (1.0 / layout->sample_rate_hz);
    g_free (column->question);
    column->question
        = g_strdup_printf ("rises by %s in a row, and a sample rate of %s Hz is stated: taken for ticks of "
                           "%s",
                           by, rate, tick);
    column->certainty = SB_CERTAINTY_GUESSED;
  }
}

void
sb_roles_take_values (SbLayoutColumn *column, const SbStated *stated)
{
  if (sb_layout_column_has (column, SB_DIMENSION_COUNTS)) {
    column->counts_per_turn = stated->counts_per_turn;
    column->wrap = stated->wrap_counts;
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
  if (wanted != NULL && counts_ticks (column)) {
    char *of_ticks = g_strconcat (wanted, ", that is, how many ticks go by in a second", NULL);
    g_free (wanted);
    wanted = of_ticks;
  }
  char *asked = wanted != NULL && doubt != NULL ? g_strdup_printf ("%s (%s)", wanted, doubt)
                                                : g_strdup (wanted != NULL ? wanted : doubt);
  char *question = join (guessed ? column->question : NULL, asked);
  g_free (column->question);
  column->question = question;
  column->certainty = wanted != NULL ? SB_CERTAINTY_MISSING : SB_CERTAINTY_GUESSED;
}
