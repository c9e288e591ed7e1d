/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "choice_edits.h"

#include <math.h>

static const SbChoiceInfo infos[SB_N_CHOICES] = {
  [SB_CHOICE_MARGIN] = {
    .name = "Practically equal within ±", .unit = "%", .factor = 0.01, .low = 0.1, .high = 100, .step = 1, .digits = 1,
    .explanation = "Share of the reference's mean. The verdict says practically equal when the whole interval of the "
                   "difference lies within it. 5 % unless chosen otherwise.",
  },
  [SB_CHOICE_SLOPE_WINDOW] = {
    .name = "Slope window", .unit = "ms", .zero = "automatic", .factor = 1e-3, .low = 0, .high = 1000, .step = 0.5,
    .digits = 2,
    .explanation = "Time over which the peak torque slope is fitted. Automatic: the larger of 5 samples and 1 ms.",
  },
  [SB_CHOICE_SETTLING_BAND] = {
    .name = "Settling band ±", .unit = "%", .factor = 0.01, .low = 0.1, .high = 50, .step = 0.5, .digits = 1,
    .explanation = "Half width, as a share of the step. 2 % unless chosen otherwise.",
  },
  [SB_CHOICE_SMOOTHING] = {
    .name = "Smoothing of the velocity", .unit = "ms", .zero = "none", .factor = 1e-3, .low = 0, .high = 1000,
    .step = 1, .digits = 1,
    .explanation = "Length of a centred moving mean, before the peak velocity is taken. None unless chosen otherwise.",
  },
  [SB_CHOICE_CUTOFF] = {
    .name = "Smoothness up to", .unit = "Hz", .zero = "automatic", .factor = 1, .low = 0, .high = 10000, .step = 10,
    .digits = 0,
    .explanation = "Highest frequency that counts for the torque smoothness. Automatic: the smaller of 200 Hz and 0.4 "
                   "of the sample rate.",
  },
  [SB_CHOICE_BAND_K] = {
    .name = "Band of mean ± s: times", .unit = "s", .factor = 1, .low = 0.1, .high = 10, .step = 0.5, .digits = 1,
    .explanation = "Half width of that band on the chart, in standard deviations. 1 unless chosen otherwise.",
  },
  [SB_CHOICE_MOVING_BAND] = {
    .name = "Moving band of a lone repeat", .unit = "ms", .zero = "none", .factor = 1e-3, .low = 0, .high = 10000,
    .step = 10, .digits = 0,
    .explanation = "A configuration of one repeat is drawn as its moving mean ± s over this time, which rises before the "
                   "step does. None: as it was logged.",
  },
};

static const char *const steps[SB_N_CHOICES] = {
  [SB_CHOICE_MARGIN] = "change the margin of equality",   [SB_CHOICE_SLOPE_WINDOW] = "change the slope window",
  [SB_CHOICE_SETTLING_BAND] = "change the settling band", [SB_CHOICE_SMOOTHING] = "change the smoothing",
  [SB_CHOICE_CUTOFF] = "change the smoothness cut-off",   [SB_CHOICE_BAND_K] = "change the band's width",
  [SB_CHOICE_MOVING_BAND] = "change the moving band",
};

const SbChoiceInfo *
sb_choice_info (SbChoice choice)
{
  return &infos[choice];
}

static double *
number_of (SbBench *bench, SbChoice choice)
{
  switch (choice) {
  case SB_CHOICE_MARGIN:
    return &bench->margin_ratio;
  case SB_CHOICE_SLOPE_WINDOW:
    return &bench->measure.slope_window_s;
  case SB_CHOICE_SETTLING_BAND:
    return &bench->measure.settling_band_ratio;
  case SB_CHOICE_SMOOTHING:
    return &bench->measure.smoothing_s;
  case SB_CHOICE_CUTOFF:
    return &bench->measure.smoothness_cutoff_hz;
  case SB_CHOICE_MOVING_BAND:
    return &bench->moving_window_s;
  case SB_CHOICE_BAND_K:
  case SB_N_CHOICES:
    break;
  }
  return &bench->band_k;
}

double
sb_choice_get (const SbBench *bench, SbChoice choice)
{
  g_autoptr (SbBench) copy = sb_bench_edit (bench);
  if (choice == SB_CHOICE_MOVING_BAND && !bench->chart.moving_band)
    return 0;
  return *number_of (copy, choice) / infos[choice].factor;
}

void
sb_edit_set_choice (SbDocument *document, SbChoice choice, double shown)
{
  g_return_if_fail (choice < SB_N_CHOICES);
  const SbBench *bench = sb_document_bench (document);
  const SbChoiceInfo *info = &infos[choice];
  double wanted = CLAMP (shown, info->low, info->high);
  if (fabs (sb_choice_get (bench, choice) - wanted) < 1e-9)
    return;
  SbBench *edited = sb_bench_edit (bench);
  if (choice == SB_CHOICE_MOVING_BAND)
    edited->chart.moving_band = wanted > 0;
  if (choice != SB_CHOICE_MOVING_BAND || wanted > 0) /* its window is kept for the next time */
    *number_of (edited, choice) = wanted * info->factor;
  sb_document_push (document, edited, steps[choice]);
}
