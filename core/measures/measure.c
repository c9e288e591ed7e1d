/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure_result.h"

#include "coarse.h"
#include "measure_table.h"
#include "noise.h"

#include <math.h>

static const SbMeasureChoices default_choices = { .settling_band_ratio = 0.02 };

static SbMeasures *
measures_new (void)
{
  SbMeasures *measures = g_new0 (SbMeasures, 1);
  g_atomic_ref_count_init (&measures->ref_count);
  for (int id = 0; id < SB_N_MEASURES; id++)
    measures->measure[id].uncertainty = measures->measure[id].other = NAN;
  measures->transition.noise_nm = measures->transition.noise_lag1 = measures->smoothness_cutoff_hz = NAN;
  measures->velocity_noise_rad_s = NAN;
  measures->transition.slope_floor_nm_per_s = NAN;
  return measures;
}

static const char *
missing_channel_words (SbChannel channel)
{
  return channel == SB_CHANNEL_TORQUE
             ? "no torque: it is not in the log and, without a velocity and an inertia, cannot "
               "be derived"
             : "no velocity: neither a velocity nor an angle is in the log";
}

/* Rows whose signal is missing get their reason here, so that the steps need not ask. */
static void
set_missing_channels_absent (SbReading *reading)
{
  for (int i = 0; i < SB_N_MEASURES; i++) {
    SbMeasureId id = (SbMeasureId) i;
    const SbMeasureInfo *info = sb_measure_info (id);
    if (info->of_configuration)
      sb_reading_set_absent (reading, id, "a figure of the repeats together, not of one trial");
    else if (reading->trial->signal[info->channel] == NULL)
      sb_reading_set_absent (reading, id, "%s", missing_channel_words (info->channel));
  }
}

double
sb_reading_even_interval (const SbReading *reading, gsize first, gsize last)
{
  const double *t = reading->trial->time_s;
  if (last <= first)
    return 0;
  double mean = (t[last] - t[first]) / (double) (last - first), worst = 0;
  for (gsize i = first; i < last; i++) {
    double off = fabs (t[i + 1] - t[i] - mean);
    worst = off > worst ? off : worst;
  }
  return worst <= 1e-4 * mean ? mean : 0;
}

/* Averages over many samples: their uncertainty rests on noise that is white. The ringing's modes count for what they
 * leave. */
static void
doubt_noise (SbReading *reading)
{
  static const SbMeasureId ids[] = {
    SB_MEASURE_MEAN_TORQUE_SLOPE, SB_MEASURE_PEAK_TORQUE_SLOPE, SB_MEASURE_TORQUE_TRANSITION_TIME,
    SB_MEASURE_DEAD_TIME,         SB_MEASURE_RINGING_AMPLITUDE, SB_MEASURE_TORQUE_SMOOTHNESS,
  };
  const double *torque = reading->trial->signal[SB_CHANNEL_TORQUE];
  for (gsize i = 0; torque != NULL && i < G_N_ELEMENTS (ids); i++)
    sb_measure_doubt_noise (sb_reading_measure (reading, ids[i]), reading->measures->transition.noise_lag1,
                            reading->n_base);
}

static const char *
why_no_uncertainty (const SbReading *reading, SbMeasureId id)
{
  gboolean of_velocity = sb_measure_info (id)->channel == SB_CHANNEL_VELOCITY;
  if (id == SB_MEASURE_RINGING_CYCLES)
    return "it is a count: a crest near the limit is counted or not by chance of the noise";
  if (of_velocity && reading->choices.smoothing_s > 0)
    return "a smoothing is chosen, and how the noise of a moving mean moves an extremum is not propagated";
  if (id == SB_MEASURE_UNDERSHOOT && !(reading->measures->measure[id].value > 0))
    return "it is 0 by definition: the torque does not pass its top level after the rise";
  if (reading->first < 2)
    return "the noise is not known: there are fewer than two samples before the onset";
  return "no noise is to be seen before the onset that it could be propagated from";
}

/* Every measure has a standard uncertainty or the reason why not. */
static void
explain_missing_uncertainties (SbReading *reading)
{
  for (int i = 0; i < SB_N_MEASURES; i++) {
    SbMeasure *measure = sb_reading_measure (reading, (SbMeasureId) i);
    if (measure->present && !isfinite (measure->uncertainty)) {
      measure->uncertainty = NAN;
      measure->no_uncertainty = why_no_uncertainty (reading, (SbMeasureId) i);
    }
  }
}

SbMeasures *
sb_measures_new (const SbTrial *trial, const SbMeasureChoices *choices)
{
  g_return_val_if_fail (trial != NULL, NULL);
  SbReading reading = {
    .trial = trial,
    .choices = choices != NULL ? *choices : default_choices,
    .first = trial->active_first,
    .last = trial->active_last,
    .end_s = trial->active_end_s - trial->onset_s,
    .measures = measures_new (),
  };
  reading.measures->transition.torque_interval_s = sb_reading_torque_interval (&reading);
  reading.measures->onset_late_s = trial->onset_late_s;
  set_missing_channels_absent (&reading);
  sb_measure_velocity (&reading);
  sb_measure_torque_levels (&reading);
  sb_measure_transition (&reading);
  sb_measure_rise_shape (&reading);
  sb_measure_slope (&reading);
  sb_measure_smoothness (&reading);
  sb_measure_ringing (&reading);
  sb_measure_settling (&reading);
  sb_measure_coarse (&reading);
  doubt_noise (&reading);
  explain_missing_uncertainties (&reading);
  g_free (reading.no_step);
  g_free (reading.no_top);
  return reading.measures;
}

SbChannel
sb_measures_channel (const SbMeasures *measures, SbMeasureId id)
{
  gboolean of_ringing = g_str_has_prefix (sb_measure_info (id)->key, "ringing_");
  gboolean known = measures->ringing.channel != SB_CHANNEL_TIME; /* else nothing was looked at */
  return of_ringing && known ? measures->ringing.channel : sb_measure_info (id)->channel;
}

SbMeasures *
sb_measures_ref (SbMeasures *measures)
{
  g_atomic_ref_count_inc (&measures->ref_count);
  return measures;
}

void
sb_measures_unref (SbMeasures *measures)
{
  if (measures == NULL || !g_atomic_ref_count_dec (&measures->ref_count))
    return;
  for (int id = 0; id < SB_N_MEASURES; id++) {
    g_free (measures->measure[id].absent_reason);
    g_clear_pointer (&measures->measure[id].doubts, g_ptr_array_unref);
  }
  g_free (measures);
}
