/* SPDX-License-Identifier: GPL-3.0-or-later */
/* State levels by the mode of the amplitude histogram: IEEE Std 181-2011. */
#include "measure_result.h"

#include "at_rest.h"
#include "coarse.h"
#include "extremum.h"
#include "flat_tops.h"
#include "levels.h"
#include "noise.h"
#include "ringing_level.h"
#include "still_rising.h"
#include "still_swinging.h"

#include <math.h>

/* A bin should hold so many samples on average, or its fullest neighbour is a matter of chance. */
#define SAMPLES_PER_BIN 16
/* Half width, as a share of the step, of the band that a plateau keeps to; half of the samples after the rise must. */
#define PLATEAU_BAND  0.02
#define PLATEAU_SHARE 0.5
/* A torque that rests farther from zero than the command has it, by this share of the step and so many standard
 * uncertainties, may be that of a sensor that was not zeroed. */
#define OFF_ZERO_SHARE  0.02
#define OFF_ZERO_ERRORS 3
/* A step has to stand out of the base level's noise by so many standard deviations. */
#define STEP_NOISES 5

static gsize
bins_for (gsize n)
{
  return CLAMP (n / SAMPLES_PER_BIN, 1, SB_LEVEL_BINS);
}

static double
mean_of (const double *y, gsize n)
{
  double sum = 0;
  for (gsize i = 0; i < n; i++)
    sum += y[i] - y[0];
  return y[0] + sum / (double) n;
}

/* From the samples before the onset. The first of a rise that begins before it (a command that takes its time; an onset
 * that is an estimate) stays out of both level and noise. */
static void
find_base (SbReading *reading, const double *y)
{
  SbTransition *transition = &reading->measures->transition;
  SbBaseLevel base = sb_level_base (y, reading->n_base);
  transition->base_nm = base.level;
  transition->noise_nm = base.sd;
  transition->step_of_log_nm = sb_coarse_step (y, reading->last + 1, base.sd);
  transition->noise_lag1 = sb_noise_lag1 (y, reading->n_base, base.level, base.sd);
  reading->base_u_nm = base.n >= 2 ? base.sd / sqrt ((double) base.n) : 0;
}

static void
set_peak_torque (SbReading *reading, const double *y)
{
  gsize peak = reading->first;
  for (gsize i = reading->first + 1; i <= reading->last; i++)
    if (y[i] > y[peak])
      peak = i;
  reading->peak = peak;
  SbMeasure *measure = sb_reading_set (reading, SB_MEASURE_PEAK_TORQUE, y[peak], 0, reading->end_s);
  sb_measure_add_evidence (measure, SB_EVIDENCE_PEAK, sb_reading_time (reading, peak), y[peak], 0);
}

/* The mode of what comes after the middle of the rise; on a noisy plateau the mean of what lies within the noise around
 * it, which a single bin is too narrow for. */
static void
find_top (SbReading *reading, const double *y)
{
  SbTransition *transition = &reading->measures->transition;
  double base = transition->base_nm, height = y[reading->peak] - base;
  gsize start = sb_reading_start (reading);
  gsize rise = sb_first_crossing (y, start, reading->last, base + height / 2);
  gsize after = (rise < reading->last ? rise : start) + 1, n = reading->last + 1 - after;

  /* Fine bins that hold the plateau find it at any length; those of a short noisy log hold a sample or two each, and
   * which of them is fullest is a matter of chance: then wider ones. */
  double share, top = sb_level_mode (y + after, n, SB_LEVEL_BINS, &share);
  if (share < PLATEAU_SHARE && bins_for (n) < SB_LEVEL_BINS)
    top = sb_level_mode (y + after, n, bins_for (n), NULL);
  double reach = isfinite (transition->noise_nm) ? 3 * transition->noise_nm : 0;
  if (reach > 1.5 * height / SB_LEVEL_BINS)
    for (int pass = 0; pass < 2; pass++)
      top = sb_level_near (y + after, n, top, reach, &share);
  sb_level_near (y + after, n, top, fmax (reach, PLATEAU_BAND * fabs (top - base)), &share);
  if (isfinite (transition->noise_nm))
    reading->top_u_nm = transition->noise_nm / sqrt (fmax (1, share * (double) n));
  transition->plateau = share >= PLATEAU_SHARE && top > base;
  SbRingingLevel middle;
  gsize over = sb_first_crossing (y, after - 1, reading->last, mean_of (y + after + n / 2, n - n / 2));
  if (sb_ringing_level (reading, over < reading->last ? over + 1 : after, transition->noise_nm, height / SB_LEVEL_BINS,
                        &middle)) {
    transition->top_nm = middle.level_nm;
    transition->ringing_left_nm = middle.left_nm;
    return;
  }
  if (transition->plateau) {
    transition->top_nm = top;
    return;
  }
  gsize quarter = MAX ((reading->last + 1 - reading->first) / 4, 1);
  transition->top_nm = mean_of (y + (reading->last + 1 - quarter), quarter);
}

/* Less than a cycle and a half of a ringing has no middle that could be told. */
static void
judge_swing (SbReading *reading, const double *y)
{
  const SbTransition *transition = &reading->measures->transition;
  if (transition->plateau)
    return;
  double swing
      = sb_still_swinging (y, reading->first, reading->last, reading->peak, transition->base_nm, transition->noise_nm);
  if (swing > 0)
    reading->no_top
        = g_strdup_printf ("cut short: the torque still swings by %.3g N·m over the last quarter of the active "
                           "window, less than a cycle and a half of it, so the level that it swings about "
                           "is not to be told; %s",
                           swing, sb_reading_remedy (reading));
}

/* A torque that still rises at the end has no second state yet; one that drifts, or is cut off, has a doubtful one. */
static void
judge_end (SbReading *reading, const double *y)
{
  SbTransition *transition = &reading->measures->transition;
  double share, step = transition->top_nm - transition->base_nm;
  SbFlatTops tops = sb_flat_tops (y, reading->first, reading->last, PLATEAU_BAND * fabs (step));
  transition->n_flat_tops = tops.n_runs;
  transition->longest_flat_top = tops.longest;
  if (transition->n_flat_tops > 0)
    sb_reading_doubt_flat_tops (reading, sb_reading_measure (reading, SB_MEASURE_PEAK_TORQUE));
  if (transition->ringing_left_nm > 0)
    return;
  judge_swing (reading, y);
  if (reading->no_top != NULL)
    return;
  transition->still_rises_nm = sb_still_rising (reading->trial->time_s, y, reading->first, reading->last,
                                                transition->base_nm, transition->noise_nm, &share);
  if (!(transition->still_rises_nm > 0)) {
    transition->drift_nm = sb_still_drifting (reading->trial->time_s, y, reading->first, reading->last, fabs (step),
                                              transition->noise_nm);
    return;
  }
  sb_reading_doubt_still_rising (reading, sb_reading_measure (reading, SB_MEASURE_PEAK_TORQUE));
  if (share >= SB_CUT_SHORT_SHARE)
    reading->no_top = g_strdup_printf ("cut short: the torque still rises when the active window ends (by %.3g N·m, "
                                       "%.2g %% of its rise, over the last quarter), so the level it rises to is not "
                                       "in it; %s",
                                       transition->still_rises_nm, 100 * share, sb_reading_remedy (reading));
}

/* What the command has it rest at, in proportion to the steps of both, is no offset. */
static void
doubt_zero (SbReading *reading, double step)
{
  const SbTransition *transition = &reading->measures->transition;
  double base = reading->trial->command_base_nm, gain = step / (reading->trial->command_top_nm - base);
  double off = transition->base_nm - (isfinite (base * gain) ? base * gain : 0);
  int direction = reading->trial->mirrored ? -1 : 1;
  if (fabs (off) > fmax (OFF_ZERO_SHARE * step, OFF_ZERO_ERRORS * reading->base_u_nm))
    sb_measure_add_doubt (
        sb_reading_measure (reading, SB_MEASURE_PEAK_TORQUE), SB_DOUBT_TOLD,
        "zero offset?: before the step the torque rests %.3g N·m from where the command has it, "
        "%.2g %% of the step; if its sensor reads that without a torque, this figure is off by as much",
        direction * off, 100 * fabs (off) / step);
}

/* Of a step from one torque to a smaller one the largest value along it is where the torque is least. */
static gboolean
leads_towards_zero (SbReading *reading, double step)
{
  const SbTransition *transition = &reading->measures->transition;
  const SbMeasure *peak = sb_reading_measure (reading, SB_MEASURE_PEAK_TORQUE);
  int direction = reading->trial->mirrored ? -1 : 1;
  if (!(step > 0) || !(transition->top_nm < 0) || !(peak->value < 0))
    return FALSE;
  sb_reading_set_absent (reading, SB_MEASURE_PEAK_TORQUE,
                         "the step leads towards zero, from %.4g to %.4g N·m: it has no peak; the overshoot tells how "
                         "far beyond its level the torque goes",
                         direction * transition->base_nm, direction * transition->top_nm);
  return TRUE;
}

/* What is not at rest before the step, or not at zero, is in the peak. */
static void
judge_rest (SbReading *reading, const double *y, double step)
{
  SbMeasure *peak = sb_reading_measure (reading, SB_MEASURE_PEAK_TORQUE);
  sb_reading_look_at_rest (reading, step);
  if (reading->measures->transition.step_of_log_nm > 0 && !(peak->uncertainty > 0)) /* coarse.c adds its own */
    peak->uncertainty = sb_crest_between_samples (y, reading->trial->n_samples, reading->peak);
  if (leads_towards_zero (reading, step))
    return;
  doubt_zero (reading, step);
  sb_reading_doubt_at_rest (reading, peak);
}

void
sb_measure_torque_levels (SbReading *reading)
{
  const double *y = reading->trial->signal[SB_CHANNEL_TORQUE];
  SbTransition *transition = &reading->measures->transition;
  transition->base_nm = transition->top_nm = NAN;
  if (y == NULL) {
    reading->no_step = g_strdup (reading->measures->measure[SB_MEASURE_PEAK_TORQUE].absent_reason);
    return;
  }
  set_peak_torque (reading, y);
  reading->n_base = reading->first;
  if (reading->n_base == 0) {
    reading->no_step = g_strdup ("no base level: the log has no samples before the onset");
    return;
  }
  find_base (reading, y);
  find_top (reading, y);
  judge_end (reading, y);

  if (transition->noise_nm > 0 && transition->n_flat_tops == 0) {
    reading->peak_largest = sb_largest_of_noisy (y + reading->first, reading->last + 1 - reading->first,
                                                 reading->peak - reading->first, 1, transition->noise_nm);
    sb_measure_doubt_largest (sb_reading_measure (reading, SB_MEASURE_PEAK_TORQUE), SB_MEASURE_PEAK_TORQUE,
                              &reading->peak_largest, "the top level is not raised by noise");
  }
  double step = transition->top_nm - transition->base_nm;
  double noise = isfinite (transition->noise_nm) ? transition->noise_nm : 0;
  if (-step > STEP_NOISES * noise && reading->trial->onset_from == SB_ONSET_FROM_COMMAND) {
    reading->no_step
        = g_strdup_printf ("the torque runs against the command: from %.4g to %.4g N·m along its step; turn "
                           "the sign of one of them (a factor of -1 for its column), or have the command's "
                           "column read as 'other'",
                           transition->base_nm, transition->top_nm);
    sb_reading_set_absent (reading, SB_MEASURE_PEAK_TORQUE, "%s", reading->no_step);
  } else if (!(step > STEP_NOISES * noise) || !(step > 1e-9 * fabs (y[reading->peak])))
    reading->no_step = g_strdup_printf ("no torque step: the torque goes from %.4g to %.4g N·m, with a noise of %.2g "
                                        "N·m before the onset",
                                        transition->base_nm, transition->top_nm, noise);
  else
    judge_rest (reading, y, step);
  sb_measure_doubt_against_step (sb_reading_measure (reading, SB_MEASURE_PEAK_TORQUE));
}
