/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The words of the drive model: its parameters, its limits, its form. */
#include "drive_model.h"

#include "measure_table.h"

#include <math.h>
#include <string.h>

static const SbDriveParameterInfo infos[SB_N_DRIVE_PARAMETERS] = {
  [SB_DRIVE_DELAY] = { "delay", "Delay", "t_d", "s", "ms", 1e3,
                       "From the onset to the instant at which the drive begins to follow the command." },
  [SB_DRIVE_SLOPE_LIMIT] = { "slope_limit", "Slope limit", "s", "N·m/s", "N·m/ms", 1e-3,
                             "The steepest rise that the drive asks of its motor." },
  [SB_DRIVE_LEVEL] = { "level", "Torque reached", "T_top", "N·m", "N·m", 1, "The torque at which the rise ends." },
  [SB_DRIVE_CEILING] = { "ceiling", "Ceiling", "T_max", "N·m", "N·m", 1,
                         "The most torque that the drive gives, where the command asks for more." },
  [SB_DRIVE_LAG_TIME]
  = { "lag_time", "Lag", "τ", "s", "ms", 1e3,
      "How far a long ramp would stay behind: the time constant of a lag of first order, 2 ζ / ω of "
      "one of second order." },
  [SB_DRIVE_LAG_DAMPING] = { "lag_damping", "Lag damping ratio", "ζ", "1", "1", 1,
                             "Damping ratio of a lag of second order; 1: two equal lags of first order." },
  [SB_DRIVE_RINGING_AMPLITUDE] = { "ringing_amplitude", "Ringing amplitude", "A", "N·m", "N·m", 1,
                                   "First amplitude of the mode that the end of the rise leaves behind." },
  [SB_DRIVE_RINGING_FREQUENCY]
  = { "ringing_frequency", "Ringing frequency", "f", "Hz", "Hz", 1, "Damped frequency of that mode." },
  [SB_DRIVE_RINGING_DAMPING] = { "ringing_damping", "Ringing damping ratio", "ζ_r", "1", "1", 1,
                                 "a / √(a² + (2 π f)²) with the decay rate a of that mode." },
  [SB_DRIVE_INERTIA] = { "inertia", "Inertia", "J", "kg·m²", "kg·m²", 1,
                         "Of all that turns with the shaft; as right as the torque it is weighed with." },
  [SB_DRIVE_DAMPING] = { "damping", "Viscous damping", "b", "N·m·s", "N·m·s", 1, "Torque per velocity that rubs." },
  [SB_DRIVE_FRICTION] = { "friction", "Dry friction", "T_c", "N·m", "N·m", 1, "Torque that rubs at any velocity." },
};

const SbDriveParameterInfo *
sb_drive_parameter_info (SbDriveParameterId id)
{
  return &infos[id];
}

static const char *const limit_keys[] = {
  [SB_DRIVE_LIMIT_DELAY] = "delay",       [SB_DRIVE_LIMIT_SLOPE] = "slope",
  [SB_DRIVE_LIMIT_CEILING] = "ceiling",   [SB_DRIVE_LIMIT_COMMAND] = "command",
  [SB_DRIVE_LIMIT_FRICTION] = "friction", [SB_DRIVE_LIMIT_TRAVEL] = "end of travel",
};

static const char *const limit_words[] = {
  [SB_DRIVE_LIMIT_DELAY] = "nothing has arrived yet",
  [SB_DRIVE_LIMIT_SLOPE] = "the slope limit binds",
  [SB_DRIVE_LIMIT_CEILING] = "the ceiling binds",
  [SB_DRIVE_LIMIT_COMMAND] = "no limit binds, the command is followed",
  [SB_DRIVE_LIMIT_FRICTION] = "damping and friction take nine tenths of the torque or more",
  [SB_DRIVE_LIMIT_TRAVEL] = "the end of travel stops the motion",
};

const char *
sb_drive_limit_key (SbDriveLimit limit)
{
  return limit_keys[limit];
}

const char *
sb_drive_limit_words (SbDriveLimit limit)
{
  return limit_words[limit];
}

char *
sb_drive_form_words (SbDriveForm form)
{
  static const char *const lags[] = {
    [SB_DRIVE_LAG_NONE] = "no lag",
    [SB_DRIVE_LAG_FIRST] = "lag of first order",
    [SB_DRIVE_LAG_SECOND] = "lag of second order",
  };
  return g_strdup_printf ("%s, %s%s", form.slope ? "slope limit" : "no slope limit", lags[form.lag],
                          form.ringing ? ", ringing" : "");
}

SbShownUnit
sb_drive_parameter_shown_unit (SbDriveParameterId id, SbUnits units)
{
  return id == SB_DRIVE_SLOPE_LIMIT ? sb_measure_shown_unit (SB_MEASURE_PEAK_TORQUE_SLOPE, units)
                                    : (SbShownUnit){ infos[id].display_unit, infos[id].display_factor };
}

char *
sb_drive_parameter_format (const SbDriveModel *model, SbDriveParameterId id, SbUnits units, gboolean with_unit)
{
  const SbDriveParameter *parameter = &model->parameter[id];
  SbShownUnit unit = sb_drive_parameter_shown_unit (id, units);
  if (!parameter->identified)
    return g_strdup ("–");
  double value = parameter->value * unit.factor, error = parameter->standard_error * unit.factor;
  g_autofree char *number = sb_number_format (value, error);
  GString *text = g_string_new (number);
  if (isfinite (error)) {
    g_autofree char *spread = sb_number_format (error, error);
    g_string_append_printf (text, " ± %s", spread);
  }
  if (with_unit && strcmp (unit.name, "1") != 0)
    g_string_append_printf (text, " %s", unit.name);
  return g_string_free (text, FALSE);
}

char *
sb_drive_stretch_text (const SbDriveStretch *stretch)
{
  char from[G_ASCII_DTOSTR_BUF_SIZE], to[G_ASCII_DTOSTR_BUF_SIZE];
  g_ascii_formatd (from, sizeof from, "%.1f", 1000 * stretch->from_s);
  g_ascii_formatd (to, sizeof to, "%.1f", 1000 * stretch->to_s);
  return g_strdup_printf ("%s to %s ms: %s", from, to, limit_words[stretch->limit]);
}

char *
sb_drive_model_limits_text (const SbDriveModel *model)
{
  GString *text = g_string_new (NULL);
  for (guint i = 0; i < model->stretches->len; i++) {
    g_autofree char *stretch = sb_drive_stretch_text (&g_array_index (model->stretches, SbDriveStretch, i));
    g_string_append_printf (text, "%s%s", i > 0 ? "; " : "", stretch);
  }
  return g_string_free (text, FALSE);
}
