/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure_result.h"

#include "at_rest.h"
#include "derived_words.h"
#include "measure_table.h"

#include <math.h>
#include <stdarg.h>
#include <string.h>

/* A base level from fewer samples than this is said to be doubtful. */
#define FEW_BASE_SAMPLES 5
/* A sample interval beyond this share of a time from the onset is told. */
#define COARSE_SHARE 0.1

SbMeasure *
sb_reading_measure (SbReading *reading, SbMeasureId id)
{
  return &reading->measures->measure[id];
}

const char *
sb_samples (gsize n)
{
  return n == 1 ? "sample" : "samples";
}

void
sb_measure_add_doubt (SbMeasure *measure, SbDoubtKind kind, const char *format, ...)
{
  va_list arguments;
  va_start (arguments, format);
  if (measure->doubts == NULL)
    measure->doubts = g_ptr_array_new_with_free_func (sb_doubt_free);
  g_ptr_array_add (measure->doubts, sb_doubt_new (kind, g_strdup_vprintf (format, arguments)));
  va_end (arguments);
}

void
sb_reading_doubt_derived (const SbReading *reading, SbMeasure *measure, SbChannel channel)
{
  g_autofree char *words = sb_trial_derived_words (reading->trial, channel);
  if (words != NULL)
    sb_measure_add_doubt (measure, SB_DOUBT_DERIVED, "derived channel: %s", words);
}

/* Shares of the step and times are the same in any unit of their signal. */
static gboolean
is_in_unit_of (SbMeasureId id, SbChannel channel)
{
  const char *part = channel == SB_CHANNEL_TORQUE ? "N·m" : "rad/s";
  return sb_measure_info (id)->channel == channel && strstr (sb_measure_info (id)->unit, part) != NULL;
}

static void
doubt_unit (const SbReading *reading, SbMeasure *measure, SbMeasureId id)
{
  const SbTrial *trial = reading->trial;
  SbChannel channel = sb_measure_info (id)->channel;
  if (trial->unit_doubt[channel] != NULL && is_in_unit_of (id, channel))
    sb_measure_add_doubt (measure, trial->is_unit_confirmed[channel] ? SB_DOUBT_TOLD : SB_DOUBT_UNIT,
                          "unit in doubt: %s%s", trial->unit_doubt[channel],
                          trial->is_unit_confirmed[channel] ? ", but a person has stated its unit"
                                                            : "; a layout that states the units would settle it");
  if (trial->short_torque != NULL && is_in_unit_of (id, SB_CHANNEL_TORQUE))
    sb_measure_add_doubt (measure, SB_DOUBT_CUT_OFF, "%s", trial->short_torque);
}

static void
doubt_gaps (const SbReading *reading, SbMeasure *measure)
{
  const SbTrial *trial = reading->trial;
  guint n_inside = 0;
  SbGap longest = { 0, 0 };
  for (guint i = 0; trial->gaps != NULL && i < trial->gaps->len; i++) {
    SbGap gap = g_array_index (trial->gaps, SbGap, i);
    if (gap.end_s - trial->onset_s <= measure->window_s[0] || gap.start_s - trial->onset_s >= measure->window_s[1])
      continue;
    n_inside++;
    if (gap.end_s - gap.start_s > longest.end_s - longest.start_s)
      longest = gap;
  }
  double start_ms = 1e3 * (longest.start_s - trial->onset_s), length_ms = 1e3 * (longest.end_s - longest.start_s);
  if (n_inside == 1)
    sb_measure_add_doubt (measure, SB_DOUBT_TOLD,
                          "gap in the window: no samples for %.4g ms from %.4g ms after the onset", length_ms,
                          start_ms);
  else if (n_inside > 1)
    sb_measure_add_doubt (measure, SB_DOUBT_TOLD,
                          "gap in the window: %u gaps, the longest of %.4g ms from %.4g ms after the onset", n_inside,
                          length_ms, start_ms);
}

/* Samples behind it may be later than they say: what needs them and samples before it is in doubt. */
static void
doubt_setbacks (const SbReading *reading, SbMeasure *measure)
{
  const SbTrial *trial = reading->trial;
  const double *time_s = trial->log->channel[SB_CHANNEL_TIME];
  for (guint i = 0; i < trial->log->setbacks->len; i++) {
    const SbSetback *setback = &g_array_index (trial->log->setbacks, SbSetback, i);
    double before_s = time_s[setback->row - 1] - trial->onset_s, at_s = time_s[setback->row] - trial->onset_s;
    if (at_s <= fmin (measure->window_s[0], 0) || before_s >= measure->window_s[1])
      continue;
    sb_measure_add_doubt (measure, SB_DOUBT_TOLD,
                          "clock set back: %" G_GUINT64_FORMAT " rows from line %" G_GUINT64_FORMAT
                          " on have times that were there already, with other values; what follows from %.4g ms after "
                          "the onset on may be later than it says",
                          setback->n_rows, setback->line, 1e3 * at_s);
    return;
  }
}

/* A window that reaches to where the clock jumps ahead might have gone on. */
static void
doubt_jump (const SbReading *reading, SbMeasure *measure)
{
  const SbTrial *trial = reading->trial;
  double last_s = trial->time_s[trial->n_samples - 1] - trial->onset_s;
  if (!trial->ends_at_jump || measure->window_s[1] < last_s - trial->sample_interval_s / 2)
    return;
  for (guint i = 0; i < trial->log->jumps->len; i++) {
    const SbJump *jump = &g_array_index (trial->log->jumps, SbJump, i);
    if (jump->before_s - trial->onset_s < last_s - trial->sample_interval_s / 2)
      continue;
    g_autofree char *text = sb_jump_text (jump);
    sb_measure_add_doubt (measure, SB_DOUBT_TOLD, "ends at a jump of the clock: %s; more was logged, but not when",
                          text);
    return;
  }
}

const char *
sb_reading_remedy (const SbReading *reading)
{
  return reading->trial->ends_at_jump ? "the clock jumps ahead there: log it again, or leave the trial out"
                                      : "log for longer";
}

SbMeasure *
sb_reading_set (SbReading *reading, SbMeasureId id, double value, double from_s, double to_s)
{
  SbMeasure *measure = sb_reading_measure (reading, id);
  measure->value = value;
  measure->window_s[0] = from_s;
  measure->window_s[1] = to_s;
  measure->present = isfinite (value);
  if (measure->present)
    g_clear_pointer (&measure->absent_reason, g_free);
  else
    sb_reading_set_absent (reading, id, "too large or too small to be written as a number: check the units of the log");
  doubt_unit (reading, measure, id);
  sb_reading_doubt_derived (reading, measure, sb_measure_info (id)->channel);
  doubt_gaps (reading, measure);
  doubt_setbacks (reading, measure);
  doubt_jump (reading, measure);
  return measure;
}

void
sb_reading_set_absent (SbReading *reading, SbMeasureId id, const char *format, ...)
{
  SbMeasure *measure = sb_reading_measure (reading, id);
  measure->present = FALSE;
  measure->n_evidence = 0;
  g_clear_pointer (&measure->doubts, g_ptr_array_unref);
  va_list arguments;
  va_start (arguments, format);
  g_free (measure->absent_reason);
  measure->absent_reason = sb_plain_sentence (g_strdup_vprintf (format, arguments));
  va_end (arguments);
}

void
sb_measure_add_evidence (SbMeasure *measure, SbEvidenceKind kind, double t_s, double y, double slope_per_s)
{
  if (measure->n_evidence < SB_MAX_EVIDENCE)
    measure->evidence[measure->n_evidence++] = (SbEvidence){ kind, t_s, y, slope_per_s };
}

void
sb_reading_doubt_onset (const SbReading *reading, SbMeasure *measure)
{
  SbOnsetFrom from = reading->trial->onset_from;
  if (from == SB_ONSET_FROM_TORQUE || from == SB_ONSET_FROM_VELOCITY)
    sb_measure_add_doubt (measure, SB_DOUBT_ONSET,
                          "estimated onset: without a command step it is the line through 10 %% and 50 %% of the %s, "
                          "carried back to the base level, to ± %.2g ms by the noise and the sampling",
                          sb_onset_from_key (from), 1e3 * reading->trial->onset_uncertainty_s);
}

void
sb_reading_doubt_held (const SbReading *reading, SbMeasure *measure, SbChannel channel, const char *so)
{
  double refresh_s = reading->trial->refresh_s[channel];
  if (measure->present && refresh_s > 0)
    sb_measure_add_doubt (measure, SB_DOUBT_TOLD, "held: the log has a new value of the %s every %.4g ms only, %s",
                          sb_channel_key (channel), 1e3 * refresh_s, so);
}

void
sb_reading_count_from_onset (const SbReading *reading, SbMeasure *measure)
{
  double late_s = reading->trial->onset_late_s;
  sb_reading_doubt_onset (reading, measure);
  measure->by_late_onset = late_s;
  if (late_s > COARSE_SHARE * fabs (measure->value))
    sb_measure_add_doubt (
        measure, SB_DOUBT_COARSE,
        "coarse: the command's jump is known to one sample interval of %.3g ms, and the figure may be "
        "longer by as much",
        1e3 * late_s);
  SbChannel channel = sb_measure_info ((SbMeasureId) (measure - reading->measures->measure))->channel;
  sb_reading_doubt_held (reading, measure, channel, "and the figure may be shorter by as much");
}

void
sb_reading_doubt_again (const SbReading *reading, SbMeasure *measure, gsize k, const char *so)
{
  if (isfinite (reading->again_s[k]))
    sb_measure_add_doubt (measure, SB_DOUBT_EITHER,
                          "%s %% level touched again: within the noise the rise crosses it either %.4g ms or %.4g ms "
                          "after the onset, %s",
                          k == 0 ? "10" : "90", 1e3 * (reading->crossing[k].t_s - reading->trial->onset_s),
                          1e3 * reading->again_s[k], so);
}

void
sb_reading_doubt_crossing (const SbReading *reading, SbMeasure *measure, SbMeasureId id, gsize k, double other)
{
  if (!measure->present || !isfinite (reading->again_s[k]) || !isfinite (other))
    return;
  /* two values as likely the one as the other: the mean square distance from either is half their difference's */
  measure->uncertainty = hypot (measure->uncertainty, fabs (other - measure->value) / sqrt (2));
  measure->other = other;
  g_autofree char *figure = sb_figure (id, other, 3);
  g_autofree char *so = g_strdup_printf ("so that the figure could as well be %s", figure);
  sb_reading_doubt_again (reading, measure, k, so);
}

void
sb_reading_doubt_still_rising (const SbReading *reading, SbMeasure *measure)
{
  measure->is_cut_short = TRUE;
  sb_measure_add_doubt (measure, SB_DOUBT_TOLD,
                        "still rising: the torque gains %.3g N·m over the last quarter of the active window, so the "
                        "level it rises to is not reached in it",
                        reading->measures->transition.still_rises_nm);
}

void
sb_measure_doubt_against_step (SbMeasure *measure)
{
  if (measure->present && measure->value < 0)
    sb_measure_add_doubt (measure, SB_DOUBT_TOLD,
                          "against the step: even the largest value along the step is below zero: the step may lead "
                          "towards zero or be another than the one meant, or the log may begin after it");
}

void
sb_measure_doubt_flat_tops (SbMeasure *measure, const char *channel, SbMeasureId id, double top, const SbFlatTops *tops)
{
  g_autofree char *value = sb_figure (id, top, 6);
  if (tops->n_runs == 1)
    sb_measure_add_doubt (measure, SB_DOUBT_CUT_OFF,
                          "cut off?: the %s stands at exactly its largest value, %s, for %" G_GSIZE_FORMAT
                          " samples, which its noise does not let it: the sensor or its input may be at the end of its "
                          "range",
                          channel, value, tops->longest);
  else if (tops->n_runs > 1)
    sb_measure_add_doubt (measure, SB_DOUBT_CUT_OFF,
                          "cut off?: the %s comes back to exactly its largest value, %s, %" G_GSIZE_FORMAT
                          " times, for up to %" G_GSIZE_FORMAT
                          " samples: the sensor or its input may be at the end of its range",
                          channel, value, tops->n_runs, tops->longest);
}

void
sb_reading_doubt_flat_tops (const SbReading *reading, SbMeasure *measure)
{
  const SbTransition *transition = &reading->measures->transition;
  SbFlatTops tops = { transition->n_flat_tops, transition->longest_flat_top };
  sb_measure_doubt_flat_tops (measure, "torque", SB_MEASURE_PEAK_TORQUE,
                              reading->trial->signal[SB_CHANNEL_TORQUE][reading->peak], &tops);
}

void
sb_reading_doubt_levels (const SbReading *reading, SbMeasure *measure)
{
  const SbTransition *transition = &reading->measures->transition;
  if (transition->still_rises_nm > 0)
    sb_reading_doubt_still_rising (reading, measure);
  if (transition->ringing_left_nm > 0)
    sb_measure_add_doubt (
        measure, SB_DOUBT_TOLD,
        "ringing plateau: the torque still rings by ± %.2g N·m at the end of the active window, so the "
        "top level is the middle of the oscillation fitted to it",
        transition->ringing_left_nm);
  else if (!transition->plateau)
    sb_measure_add_doubt (measure, SB_DOUBT_TOLD,
                          "no plateau: the torque does not stay at one level, so the top level is the mean of "
                          "the last quarter of the active window");
  if (fabs (transition->drift_nm) > 0)
    sb_measure_add_doubt (measure, SB_DOUBT_TOLD,
                          "drifting: the torque %s by %.3g N·m over the last quarter of the active window, so that its "
                          "top level is no single one",
                          transition->drift_nm > 0 ? "rises" : "falls", fabs (transition->drift_nm));
  if (transition->n_flat_tops > 0)
    sb_reading_doubt_flat_tops (reading, measure);
  sb_reading_doubt_at_rest (reading, measure);
  if (reading->n_base < FEW_BASE_SAMPLES)
    sb_measure_add_doubt (measure, SB_DOUBT_TOLD,
                          "short base: the base level comes from only %" G_GSIZE_FORMAT " %s before the onset",
                          reading->n_base, sb_samples (reading->n_base));
}
