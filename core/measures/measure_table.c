/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure_table.h"

#include <string.h>

#define IEEE_181 "IEEE Std 181-2011"

static const SbMeasureInfo table[SB_N_MEASURES] = {
  [SB_MEASURE_PEAK_VELOCITY] = {
    .key = "peak_velocity", .name = "Peak velocity", .symbol = "ω_max", .unit = "rad/s", .display_unit = "rad/s",
    .display_factor = 1, .channel = SB_CHANNEL_VELOCITY,
    .definition = "Largest velocity in the active window, after the chosen smoothing (none by default).",
    .source = "definition",
  },
  [SB_MEASURE_MEAN_VELOCITY] = {
    .key = "mean_velocity", .name = "Mean velocity", .symbol = "ω_mean", .unit = "rad/s", .display_unit = "rad/s",
    .display_factor = 1, .channel = SB_CHANNEL_VELOCITY,
    .definition = "Time mean of the velocity over the active window, by the trapezoidal rule.",
    .source = "definition",
  },
  [SB_MEASURE_VELOCITY_DEVIATION] = {
    .key = "velocity_deviation", .name = "Velocity deviation", .symbol = "s_ω", .unit = "rad/s",
    .display_unit = "rad/s", .display_factor = 1, .channel = SB_CHANNEL_VELOCITY, .of_configuration = TRUE,
    .definition = "Square root of the time mean, over the active window, of the variance between repeats at each "
                  "instant: the size of the band in one number.",
    .source = "ISO 5725-2",
  },
  [SB_MEASURE_VELOCITY_RISE_TIME] = {
    .key = "velocity_rise_time", .name = "Velocity rise time", .symbol = "t_r", .unit = "s", .display_unit = "ms",
    .display_factor = 1e3, .channel = SB_CHANNEL_VELOCITY,
    .definition = "From the onset to the first crossing of 90 % of the peak velocity.",
    .source = "definition",
  },
  [SB_MEASURE_PEAK_TORQUE] = {
    .key = "peak_torque", .name = "Peak torque", .symbol = "T_max", .unit = "N·m", .display_unit = "N·m",
    .display_factor = 1, .channel = SB_CHANNEL_TORQUE,
    .definition = "Largest torque in the active window.",
    .source = "definition",
  },
  [SB_MEASURE_MEAN_TORQUE_SLOPE] = {
    .key = "mean_torque_slope", .name = "Mean torque slope", .symbol = "(T₉₀ − T₁₀)/(t₉₀ − t₁₀)", .unit = "N·m/s",
    .display_unit = "N·m/ms", .display_factor = 1e-3, .channel = SB_CHANNEL_TORQUE,
    .definition = "Slope of the straight line through the crossings of 10 % and 90 % of the torque step.",
    .source = IEEE_181,
  },
  [SB_MEASURE_PEAK_TORQUE_SLOPE] = {
    .key = "peak_torque_slope", .name = "Peak torque slope", .symbol = "(dT/dt)_max", .unit = "N·m/s",
    .display_unit = "N·m/ms", .display_factor = 1e-3, .channel = SB_CHANNEL_TORQUE,
    .definition = "Largest first derivative between 10 % and 90 % of the torque step, one slope window wider at each "
                  "end, of a local quadratic least-squares fit over the slope window.",
    .source = "Savitzky & Golay 1964",
  },
  [SB_MEASURE_TORQUE_TRANSITION_TIME] = {
    .key = "torque_transition_time", .name = "Transition duration", .symbol = "t₉₀ − t₁₀", .unit = "s",
    .display_unit = "ms", .display_factor = 1e3, .channel = SB_CHANNEL_TORQUE,
    .definition = "Time between the crossings of 10 % and 90 % of the torque step.",
    .source = IEEE_181,
  },
  [SB_MEASURE_DEAD_TIME] = {
    .key = "dead_time", .name = "Dead time", .symbol = "t₁₀ − t₀", .unit = "s", .display_unit = "ms",
    .display_factor = 1e3, .channel = SB_CHANNEL_TORQUE,
    .definition = "From the onset to the crossing of 10 % of the torque step.",
    .source = IEEE_181,
  },
  [SB_MEASURE_OVERSHOOT] = {
    .key = "overshoot", .name = "Overshoot", .symbol = "(T_max − T_top)/(T_top − T_base)", .unit = "1",
    .display_unit = "%", .display_factor = 100, .channel = SB_CHANNEL_TORQUE,
    .definition = "How far the largest torque after the 90 % crossing stands above the top level, as a share of the "
                  "step.",
    .source = IEEE_181,
  },
  [SB_MEASURE_UNDERSHOOT] = {
    .key = "undershoot", .name = "Undershoot", .symbol = "(T_top − T_min)/(T_top − T_base)", .unit = "1",
    .display_unit = "%", .display_factor = 100, .channel = SB_CHANNEL_TORQUE,
    .definition = "How far the smallest torque between the first overshoot and the end lies below the top level, as a "
                  "share of the step; 0 when it never returns below.",
    .source = IEEE_181,
  },
  [SB_MEASURE_SETTLING_TIME] = {
    .key = "settling_time", .name = "Settling time", .symbol = "t_s", .unit = "s", .display_unit = "ms",
    .display_factor = 1e3, .channel = SB_CHANNEL_TORQUE,
    .definition = "From the onset to the last time the torque leaves the band around the top level: ± 2 % of the step "
                  "unless another is chosen.",
    .source = IEEE_181 "; counted from the onset, as control texts do",
  },
  [SB_MEASURE_RINGING_FREQUENCY] = {
    .key = "ringing_frequency", .name = "Ringing frequency", .symbol = "f", .unit = "Hz", .display_unit = "Hz",
    .display_factor = 1, .channel = SB_CHANNEL_TORQUE,
    .definition = "Damped frequency of the strongest decaying oscillation fitted to the residual in the ringing "
                  "window.",
    .source = "Hua & Sarkar 1990; least squares",
  },
  [SB_MEASURE_RINGING_DAMPING] = {
    .key = "ringing_damping", .name = "Ringing damping ratio", .symbol = "ζ = α/√(α² + (2πf)²)", .unit = "1",
    .display_unit = "1", .display_factor = 1, .channel = SB_CHANNEL_TORQUE,
    .definition = "Damping ratio of the same oscillation, with α its decay rate.",
    .source = "Hua & Sarkar 1990; least squares",
  },
  [SB_MEASURE_RINGING_AMPLITUDE] = {
    .key = "ringing_amplitude", .name = "Ringing amplitude", .symbol = "A_rms", .unit = "N·m", .display_unit = "N·m",
    .display_factor = 1, .channel = SB_CHANNEL_TORQUE,
    .definition = "Root mean square of the torque about its top level in the ringing window, with the noise floor "
                  "taken off in quadrature.",
    .source = "definition",
  },
  [SB_MEASURE_RINGING_CYCLES] = {
    .key = "ringing_cycles", .name = "Ringing cycles", .symbol = "N", .unit = "1", .display_unit = "1",
    .display_factor = 1, .channel = SB_CHANNEL_TORQUE,
    .definition = "Number of crests that stand above twice the noise floor, one to a cycle.",
    .source = "definition",
  },
  [SB_MEASURE_TORQUE_SMOOTHNESS] = {
    .key = "torque_smoothness", .name = "Torque smoothness", .symbol = "SAL", .unit = "1", .display_unit = "1",
    .display_factor = 1, .channel = SB_CHANNEL_TORQUE,
    .definition = "Spectral arc length of the torque's rate over the transition; negative, and smoother nearer to "
                  "zero. Its cut-off frequency is the smaller of 200 Hz and 0.4 of the sample rate unless another is "
                  "chosen.",
    .source = "Balasubramanian et al. 2012, 2015",
  },
};

const SbMeasureInfo *
sb_measure_info (SbMeasureId id)
{
  g_return_val_if_fail ((int) id >= 0 && id < SB_N_MEASURES, NULL);
  return &table[id];
}

gboolean
sb_measure_id_from_key (const char *key, SbMeasureId *id)
{
  for (int i = 0; i < SB_N_MEASURES; i++)
    if (strcmp (table[i].key, key) == 0) {
      *id = (SbMeasureId) i;
      return TRUE;
    }
  return FALSE;
}
