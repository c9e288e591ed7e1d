/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "wanted_options.h"

#include "convert.h"

static const char *
option_of (const SbLayoutColumn *column)
{
  gboolean is_torque = column->role == SB_ROLE_TORQUE || column->role == SB_ROLE_COMMAND;
  if (column->unit == NULL)
    return column->role == SB_ROLE_CURRENT ? "--torque-constant" : NULL;
  switch (column->unit->dimension) {
  case SB_DIMENSION_COUNTS:
    return "--counts-per-turn";
  case SB_DIMENSION_SAMPLES:
    return "--sample-rate";
  case SB_DIMENSION_PERCENT:
    return is_torque ? "--full-scale" : NULL;
  case SB_DIMENSION_CURRENT:
    return "--torque-constant";
  case SB_DIMENSION_VOLTAGE:
    return "--torque-per-volt";
  case SB_DIMENSION_CLOCK:
  case SB_DIMENSION_TIME:
  case SB_DIMENSION_ANGLE:
  case SB_DIMENSION_VELOCITY:
  case SB_DIMENSION_TORQUE:
  case SB_DIMENSION_TEMPERATURE:
  case SB_N_DIMENSIONS:
    break;
  }
  return NULL;
}

const char *
sb_wanted_option (const SbLayout *layout, guint index)
{
  g_autofree char *wanted = sb_conversion_wanted (layout, index);
  return wanted != NULL ? option_of (sb_layout_column (layout, index)) : NULL;
}

void
sb_wanted_options_add (GPtrArray *options, const char *path, const SbLogReading *reading)
{
  g_autoptr (SbLayout) layout = sb_log_reading_layout (path, reading, NULL, NULL);
  for (guint i = 0; layout != NULL && i < layout->columns->len; i++) {
    const char *option = sb_wanted_option (layout, i);
    if (option != NULL && !g_ptr_array_find_with_equal_func (options, option, g_str_equal, NULL))
      g_ptr_array_add (options, (gpointer) (gsize) option); /* read only */
  }
}

void
sb_wanted_options_say (const GPtrArray *options)
{
  g_autoptr (GString) list = g_string_new (NULL);
  for (guint i = 0; i < options->len; i++)
    g_string_append_printf (list, "%s%s",
                            i == 0                  ? ""
                            : i + 1 == options->len ? " and "
                                                    : ", ",
                            (const char *) g_ptr_array_index (options, i));
  if (options->len > 0)
    g_printerr ("slewbench: what is missing can be stated with %s.\n", list->str);
}
