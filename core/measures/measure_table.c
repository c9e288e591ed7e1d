/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure_table.h"

#include <string.h>

#define IEEE_181 "IEEE Std 181-2011"

static const SbMeasureInfo table[SB_N_MEASURES] = {
  [SB_MEASURE_PEAK_VELOCITY] = {
    .key = "peak_velocity", .name = "Peak velocity", .symbol = "ω_max", .unit = "rad/s", .display_unit = "rad/s",
    .display_factor = 1, .channel = SB_CHANNEL_VELOCITY,
    .definition = "Largest velocity in the active window, after the chosen smoothing (none by default).",
    .formula = "ω_max = max ω(t), 0 ≤ t ≤ end of the active window.",
    .uncertainty = "√(s² + bias² + c²): s = σ/√(1 + 0.93·ln m), the scatter of the largest of m normal values"
                   " (tables of order statistics, from memory, to 5 %); the bias, see the limits; c = √(1/80)/2 of"
                   " the second difference at the largest sample, what a crest between two samples rises above them."
                   " None with a smoothing.",
    .limits = "The largest of many noisy samples lies above the truth: by σ·Φ⁻¹((m − 3/8)/(m + 1/4)) (Blom 1958,"
              " from memory), where (m + 1)/2 is the number of samples above the largest value less this bias, and σ"
              " the standard deviation before the onset. Beyond 1 % it is *raised by noise*; it is told, counts in"
              " the uncertainty and is not taken off. Choose a smoothing (centred moving mean of the stated length)"
              " when it matters, and state it. *Crest between samples* where c is beyond 1 %.",
    .source = "definition",
  },
  [SB_MEASURE_MEAN_VELOCITY] = {
    .key = "mean_velocity", .name = "Mean velocity", .symbol = "ω_mean", .unit = "rad/s", .display_unit = "rad/s",
    .display_factor = 1, .channel = SB_CHANNEL_VELOCITY, .over_window = TRUE,
    .definition = "Time mean of the velocity over the active window, by the trapezoidal rule.",
    .formula = "ω_mean = (1/(t₂ − t₁)) ∫ ω dt. Where the onset or the end lies between two samples, the velocity "
               "there is interpolated.",
    .uncertainty = "σ·√(Σ wᵢ²), wᵢ being the samples' shares of the time, and the onset's times (ω_mean − ω(t₀))/(t₂"
                   " − t₁).",
    .limits = "Depends on where the window ends: compare only windows of the same length. Beyond 2 % of a difference"
              " the figure, or the comparison, says *windows of unequal length*.",
    .source = "definition",
  },
  [SB_MEASURE_VELOCITY_DEVIATION] = {
    .key = "velocity_deviation", .name = "Velocity deviation", .symbol = "s_ω", .unit = "rad/s",
    .display_unit = "rad/s", .display_factor = 1, .channel = SB_CHANNEL_VELOCITY, .of_configuration = TRUE,
    .definition = "Square root of the time mean, over the active window, of the variance between repeats at each "
                  "instant: the size of the band in one number.",
    .formula = "s_ω = √((1/(t₂ − t₁)) ∫ s(t)² dt), s(t) being the sample standard deviation (n − 1) of the repeats "
               "at t.",
    .uncertainty = "None: it is a figure of the repeats together.",
    .limits = "Needs two repeats. It is a figure of the repeats together, so it has no spread and no test of its "
              "own. The noise of the velocity itself is in it: *raised by noise* where that may make more than 1 %. Of"
              " two or three repeats it is known to 71 or 50 % only (1/√(2(n − 1)) of a normal scatter): *few"
              " repeats*.",
    .source = "ISO 5725-2",
  },
  [SB_MEASURE_VELOCITY_RISE_TIME] = {
    .key = "velocity_rise_time", .name = "Velocity rise time", .symbol = "t_r", .unit = "s", .display_unit = "ms",
    .display_factor = 1e3, .channel = SB_CHANNEL_VELOCITY,
    .definition = "From the onset to the first crossing of 90 % of the peak velocity.",
    .formula = "ω(t_r) = 0.9 ω_max, first crossing, linear between samples; of the smoothed velocity when a "
               "smoothing is chosen.",
    .uncertainty = "The spread and the bias of the first passage (see *Passages*) through a level that is as"
                   " uncertain as the peak, and the onset's. None with a smoothing.",
    .limits = "A velocity that still climbs at the end of the window has a rise time that follows from the window,"
              " not from the motor. *Raised by noise* with the peak; noise that crosses the level early lowers it. *Coarse* as"
              " the dead time.",
    .source = "definition",
  },
  [SB_MEASURE_PEAK_TORQUE] = {
    .key = "peak_torque", .name = "Peak torque", .symbol = "T_max", .unit = "N·m", .display_unit = "N·m",
    .display_factor = 1, .channel = SB_CHANNEL_TORQUE,
    .definition = "Largest torque in the active window.",
    .formula = "T_max = max T(t), 0 ≤ t ≤ end of the active window.",
    .uncertainty = "As of the peak velocity, with σ_T.",
    .limits = "*Raised by noise* and *crest between samples* as the peak velocity, with σ_T. It holds what the sensor reads without a torque: *zero"
              " offset?* where the base level is off what the command has it at (0 without a command; in proportion to"
              " both steps) by more than 2 % of the step and three of its standard uncertainties. A step towards zero"
              " has none.",
    .source = "definition",
  },
  [SB_MEASURE_MEAN_TORQUE_SLOPE] = {
    .key = "mean_torque_slope", .name = "Mean torque slope", .symbol = "(T₉₀ − T₁₀)/(t₉₀ − t₁₀)", .unit = "N·m/s",
    .display_unit = "N·m/ms", .display_factor = 1e-3, .channel = SB_CHANNEL_TORQUE,
    .definition = "Slope of the straight line through the crossings of 10 % and 90 % of the torque step.",
    .formula = "(T₉₀ − T₁₀)/(t₉₀ − t₁₀), with T₁₀ and T₉₀ at 10 % and 90 % between base and top level.",
    .uncertainty = "Those of the crossings: slope·√(u₁₀² + u₉₀²)/(t₉₀ − t₁₀); a level that is off changes step and"
                   " duration alike.",
    .limits = "Fewer than five samples between the crossings are *under-resolved*; the doubt names the steepest"
              " slope the log could show, 0.8 ΔT/(4 Δ). *Touched again* and *left again* as the transition duration.",
    .source = IEEE_181,
  },
  [SB_MEASURE_PEAK_TORQUE_SLOPE] = {
    .key = "peak_torque_slope", .name = "Peak torque slope", .symbol = "(dT/dt)_max", .unit = "N·m/s",
    .display_unit = "N·m/ms", .display_factor = 1e-3, .channel = SB_CHANNEL_TORQUE,
    .definition = "Largest first derivative between 10 % and 90 % of the torque step, one slope window wider at each "
                  "end, of a local quadratic least-squares fit over the slope window.",
    .formula = "On even times the slope at sample i is Σ k·T(i + k) / (Δ Σ k²), k = −m..m, which is the quadratic"
               " (and the straight-line) fit; on uneven times the quadratic is fitted to the times as they are. The"
               " slope window has 2m + 1 samples: the larger of 5 samples and 1 ms unless another is chosen, always"
               " odd.",
    .uncertainty = "√(s² + (bias − f)²): s = σ_T·‖c‖/Δ/√(1 + 0.93·ln m), with σ_T the noise about the base level,"
                   " ‖c‖ = 1/√(Σ k²) and m and bias as in the limits; f is what the window flattens.",
    .limits = "Averages over the slope window: where the rise bends within it, the figure is *flattened*, told from"
              " 1 % on where it exceeds three times its noise: f is what a quartic over the same window (Savitzky &"
              " Golay 1964, first derivative, cubic and quartic) has more. It hides in noise beyond that. A peak"
              " within three times σ_T·‖c‖/Δ is *in the noise*. The largest of many noisy slopes lies above the true"
              " one: by σ·Φ⁻¹((m − 3/8)/(m + 1/4)) of m independent ones (Blom 1958, from memory), where m = 1 +"
              " 3.7·h^0.27·s/w, s being the samples whose slope over three times the window w = 2h + 1 is within σ"
              " of the largest (the factor was found by simulation); beyond 1 % of the slope it is *raised by"
              " noise*, and the doubt says by how much. It is not taken off. Times that are not those of the samples"
              " are a noise of the slope times σ_t, the jitter over √2; where that is more than σ_T, s is the whole"
              " rise, e = Φ⁻¹(…)·σ_t·‖c‖/Δ raises the figure by e/(1 − e) of it, 0.5 at most, and the doubt is"
              " *raised by jitter*: whether the samples or their times were uneven is not to be seen. Times that"
              " jitter by more than 0.1·√2·Δ bend a quartic more than a rise does: where the rise takes less than 4/3 of the"
              " window, or the figure less its bias lies above the mean slope by more than five times its uncertainty, the"
              " doubt is *flattening not judged*, and no bias is put down to jitter. Of a *held* torque (see *Time base*)"
              " the window has five values at least. *Under-resolved* as the mean torque slope.",
    .source = "Savitzky & Golay 1964",
  },
  [SB_MEASURE_TORQUE_TRANSITION_TIME] = {
    .key = "torque_transition_time", .name = "Transition duration", .symbol = "t₉₀ − t₁₀", .unit = "s",
    .display_unit = "ms", .display_factor = 1e3, .channel = SB_CHANNEL_TORQUE,
    .never_negative = TRUE,
    .definition = "Time between the crossings of 10 % and 90 % of the torque step.",
    .formula = "t₉₀ − t₁₀, crossings as under *State levels*.",
    .uncertainty = "Those of the crossings and of the levels.",
    .limits = "*Under-resolved* as the mean torque slope. *Touched again* where noise decides which crest of a"
              " ringing rise passes 10 % or 90 % for good: the doubt gives the figure that it could as well be, and"
              " the uncertainty holds it. *Left again* where the torque falls below 10 % or 90 % behind the crossing"
              " that counts, the first, and before it is at 90 % or at its top level: the doubt says how far and when.",
    .source = IEEE_181,
  },
  [SB_MEASURE_DEAD_TIME] = {
    .key = "dead_time", .name = "Dead time", .symbol = "t₁₀ − t₀", .unit = "s", .display_unit = "ms",
    .display_factor = 1e3, .channel = SB_CHANNEL_TORQUE,
    .definition = "From the onset to the crossing of 10 % of the torque step.",
    .formula = "T(t₁₀) = base + 10 % of the step, crossing as under *State levels*.",
    .uncertainty = "Those of the crossing, of the base level and of the onset.",
    .limits = "The onset of a command that jumps is its first sample at the new level; the jump lies up to one"
              " sample interval earlier (standard uncertainty Δ/√12, GUM 4.3.7), the figure is too short by half of"
              " it on average, and *coarse* where that matters (see *Time base*). Negative, with a doubt, when the torque follows a slow"
              " command so closely that it passes 10 % before the command is half way; beyond two standard"
              " uncertainties the time of the command is asked about. *Touched again* and *left again* as the"
              " transition duration. Absent with an estimated onset, which is carried back from the rise and does not"
              " tell how long before it the command came.",
    .source = IEEE_181,
  },
  [SB_MEASURE_OVERSHOOT] = {
    .key = "overshoot", .name = "Overshoot", .symbol = "(T_max − T_top)/(T_top − T_base)", .unit = "1",
    .display_unit = "%", .display_factor = 100, .channel = SB_CHANNEL_TORQUE,
    .never_negative = TRUE,
    .definition = "How far the largest torque after the 90 % crossing stands above the top level, as a share of the "
                  "step.",
    .formula = "(T_max − T_top)/(T_top − T_base), with T_max after the crossing of 90 %.",
    .uncertainty = "That of an extremum, as of the peak velocity with σ_T, of the top level times 1 + overshoot and"
                   " of the base level times the overshoot, over the step.",
    .limits = "An overshoot is *in the noise* within three standard deviations of it, or as far as the largest of so"
              " many samples of noise alone reaches in one log of a hundred (4.6 standard deviations for 4000"
              " samples). *Raised by noise* as the peak velocity, beyond 1 % of the step or 2 % of the overshoot;"
              " *crest between samples* beyond 1 % of the step.",
    .source = IEEE_181,
  },
  [SB_MEASURE_UNDERSHOOT] = {
    .key = "undershoot", .name = "Undershoot", .symbol = "(T_top − T_min)/(T_top − T_base)", .unit = "1",
    .display_unit = "%", .display_factor = 100, .channel = SB_CHANNEL_TORQUE,
    .never_negative = TRUE,
    .definition = "How far the smallest torque between the first overshoot and the end lies below the top level, as a "
                  "share of the step; 0 when it never returns below.",
    .formula = "(T_top − T_min)/(T_top − T_base), with T_min from the first crossing of the top level on.",
    .uncertainty = "As of the overshoot. None of an undershoot of 0, which is one by definition.",
    .limits = "As for the overshoot. A torque that breaks off within the active window (end of travel) counts as "
              "undershoot: end the window before.",
    .source = IEEE_181,
  },
  [SB_MEASURE_SETTLING_TIME] = {
    .key = "settling_time", .name = "Settling time", .symbol = "t_s", .unit = "s", .display_unit = "ms",
    .display_factor = 1e3, .channel = SB_CHANNEL_TORQUE,
    .never_negative = TRUE,
    .definition = "From the onset to the last time the torque leaves the band around the top level: ± 2 % of the step "
                  "unless another is chosen.",
    .formula = "From the last sample outside the band, the line to the next one gives the instant. Of a noisy torque"
               " the samples are those of its local mean: a quadratic by least squares over the fewest samples that"
               " bring the noise so far down that it leaves the band by itself in no more than one log of ten"
               " thousand, over twice the transition duration at most.",
    .uncertainty = "The spread and the bias of the last passage into the band (see *Passages*), those of the levels"
                   " over the pace there, and the onset's. With a local mean, of what it makes of the curve, at one"
                   " sample in each third of half its window.",
    .limits = "Absent when the active window ends outside the band, or when the torque is inside it for less than"
              " the last twentieth of the active window: it has not been seen to settle. A torque whose noise would"
              " leave the band by itself in more than one log of ten thousand is *in the noise*: its local mean is"
              " judged, and the doubt says so with the window. Absent where even that is too noisy, with the band"
              " that would do. Where a crest comes within the noise of the band's edge it is in or out by chance: the"
              " doubt *near the band's edge* gives the time that it could as well be. Noise lifts crests over the"
              " edge that are within it, so that a lightly damped torque seems to settle later, by several half-periods"
              " where many crests come near; how much later is told, and not taken off. *Coarse* as the dead time. The envelope rule of textbooks"
              " (4/σ) is not this time.",
    .source = IEEE_181 "; counted from the onset, as control texts do",
  },
  [SB_MEASURE_RINGING_FREQUENCY] = {
    .key = "ringing_frequency", .name = "Ringing frequency", .symbol = "f", .unit = "Hz", .display_unit = "Hz",
    .display_factor = 1, .channel = SB_CHANNEL_TORQUE,
    .never_negative = TRUE,
    .definition = "Damped frequency of the strongest decaying oscillation fitted to the residual in the ringing "
                  "window.",
    .formula = "r(t) = Σ Aᵢ e^(−αᵢt) cos(2πfᵢt + φᵢ) + offset + drift·t + R e^(−βt), t from the start of the ringing "
               "window; at most three modes, the strongest by energy is reported, with the standard error of the fit. "
               "R e^(−βt) is what is left of the rise there; it is fitted where it halves the remaining sum of squares,"
               " or where white noise alone would gain as much in fewer than one record of a thousand (F test).",
    .uncertainty = "The standard error of the fit, for noise of the colour that the fit leaves, and what the fits"
                   " with and without a rest of the rise differ by where neither is certain (see *Ringing*).",
    .limits = "The section *Ringing* says when one is reported and how it is cross-checked.",
    .source = "Hua & Sarkar 1990; least squares",
  },
  [SB_MEASURE_RINGING_DAMPING] = {
    .key = "ringing_damping", .name = "Ringing damping ratio", .symbol = "ζ = α/√(α² + (2πf)²)", .unit = "1",
    .display_unit = "1", .display_factor = 1, .channel = SB_CHANNEL_TORQUE,
    .definition = "Damping ratio of the same oscillation, with α its decay rate.",
    .formula = "ζ = α/√(α² + (2πf)²), with α and f of the fitted oscillation; the logarithmic decrement over one "
               "cycle is 2πζ/√(1 − ζ²).",
    .uncertainty = "The standard error of the fit, for noise of the colour that the fit leaves, and what the fits"
                   " with and without a rest of the rise differ by where neither is certain (see *Ringing*).",
    .limits = "The section *Ringing* says when one is reported and how it is cross-checked. It is *decaying* when ζ"
              " exceeds twice its standard error, else *sustained*. *Rest of the rise* where two fits, neither out of"
              " question, differ by more than 1.5 times the uncertainty: the doubt gives both.",
    .source = "Hua & Sarkar 1990; least squares",
  },
  [SB_MEASURE_RINGING_AMPLITUDE] = {
    .key = "ringing_amplitude", .name = "Ringing amplitude", .symbol = "A_rms", .unit = "N·m", .display_unit = "N·m",
    .display_factor = 1, .channel = SB_CHANNEL_TORQUE, .over_window = TRUE,
    .never_negative = TRUE,
    .definition = "Root mean square of the torque about its top level in the ringing window, with the noise floor "
                  "taken off in quadrature.",
    .formula = "A_rms = √(mean r² − floor²), 0 when the floor is the larger.",
    .uncertainty = "u(A²)/(A + √(A² + u(A²))), with u(A²)² = 4σ²A²/n + 2σ⁴(1/n + 1/n_base) + (2·mean r·u(top))², σ"
                   " the noise floor, n the samples of the window.",
    .limits = "*Window opened by chance* where noise decides at which crest the torque first passes its top level"
              " and the amplitude is another by 5 % or more then: the doubt gives it, and the uncertainty holds it."
              " Drift of the plateau counts as well; where no ringing is found the doubt says so. Of an oscillation"
              " that dies away a longer window gives less: beyond 2 % of a difference between their ends the figure,"
              " or the comparison, says *windows of unequal length*.",
    .source = "definition",
  },
  [SB_MEASURE_RINGING_CYCLES] = {
    .key = "ringing_cycles", .name = "Ringing cycles", .symbol = "N", .unit = "1", .display_unit = "1",
    .display_factor = 1, .channel = SB_CHANNEL_TORQUE,
    .never_negative = TRUE,
    .definition = "Number of crests that stand above twice the noise floor, one to a cycle.",
    .formula = "Tops of the residual (averaged over a twelfth of a cycle), one between two passages below zero, "
               "until the fitted modes have sunk below the limit or three cycles pass without one.",
    .uncertainty = "None: it is a count.",
    .limits = "A crest near the limit may be counted or not by chance of the noise. 0 when there is no ringing: "
              "that is a count, not a gap.",
    .source = "definition",
  },
  [SB_MEASURE_TORQUE_SMOOTHNESS] = {
    .key = "torque_smoothness", .name = "Torque smoothness", .symbol = "SAL", .unit = "1", .display_unit = "1",
    .display_factor = 1, .channel = SB_CHANNEL_TORQUE,
    .definition = "Spectral arc length of the torque's rate over the transition; negative, and smoother nearer to "
                  "zero. Its cut-off frequency is the smaller of 200 Hz and 0.4 of the sample rate unless another is "
                  "chosen.",
    .formula = "The torque's rate (slope window as for the peak torque slope; of a log sampled at more than 40 times"
               " the cut-off, every so many samples that at least 20 times it remain, 4096 points at most), from one"
               " slope window before the 10 % crossing to one after the 90 % crossing, is padded with zeros to "
               "2^(⌈log₂ N⌉ + 4) points; magnitudes M of its spectrum are divided by the largest; from the first to "
               "the last bin with M ≥ 0.05 below the cut-off frequency, SAL = −Σ √((Δf/B)² + ΔM²), B being the "
               "bandwidth between these bins.",
    .uncertainty = "σ_T·‖∂SAL/∂T‖, by the derivatives of arc, spectrum and slopes; and what one point fewer at"
                   " either end does, times how far that end is known: an even chance over its interval, and its"
                   " crossing.",
    .limits = "Compare only with the same cut-off and slope window. Its window hangs on the crossings: *touched"
              " again* as the transition duration. The threshold makes it blind to ripple under 5 % of the largest"
              " magnitude.",
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
