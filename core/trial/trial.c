/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "trial.h"

#include "local_fit.h"
#include "number_text.h"
#include "onset.h"
#include "sampling.h"
#include "time_base.h"
#include "unit_doubts.h"
#include "unit_notes.h"

#include <math.h>

G_DEFINE_QUARK (sb_trial_error_quark, sb_trial_error)

#define MAX_LENGTHS_BEFORE 10
/* An onset and a slope need at least so many samples. */
#define MIN_SAMPLES 8
/* A thousandth of the interval over the log. */
#define DRIFT_WORTH_A_NOTE 0.001
/* Derived channels come from a quadratic over this many samples on either side. */
#define DERIVATIVE_HALF 2

const char *
sb_onset_from_key (SbOnsetFrom from)
{
  static const char *const keys[] = {
    [SB_ONSET_FROM_COMMAND] = "command",
    [SB_ONSET_FROM_TORQUE] = "torque",
    [SB_ONSET_FROM_VELOCITY] = "velocity",
    [SB_ONSET_BY_HAND] = "hand",
  };
  return keys[from];
}

static void
note (SbTrial *trial, const char *text)
{
  sb_notes_take (trial->notes, SB_NOTE_REMARK, g_strdup (text));
}

static void
derive_velocity (SbTrial *trial)
{
  if (trial->signal[SB_CHANNEL_VELOCITY] != NULL || trial->signal[SB_CHANNEL_ANGLE] == NULL)
    return;
  double *velocity = g_new (double, trial->n_samples);
  sb_local_slopes (trial->time_s, trial->signal[SB_CHANNEL_ANGLE], trial->n_samples, DERIVATIVE_HALF, velocity);
  trial->signal[SB_CHANNEL_VELOCITY] = trial->owned[SB_CHANNEL_VELOCITY] = velocity;
  trial->derived[SB_CHANNEL_VELOCITY] = TRUE;
  note (trial, "velocity is derived from the angle by a quadratic over 5 samples");
}

/* The log holds a torque that nobody measured: an estimate, or the motor current times its torque constant. */
static void
mark_torque_not_measured (SbTrial *trial)
{
  if (trial->log->estimated_torque != NULL)
    trial->derived[SB_CHANNEL_TORQUE] = TRUE;
  if (isnan (trial->log->torque_constant_nm_per_a))
    return;
  trial->derived[SB_CHANNEL_TORQUE] = TRUE;
  g_autofree char *constant = sb_number_plain (trial->log->torque_constant_nm_per_a);
  sb_notes_take (trial->notes, SB_NOTE_REMARK,
                 g_strdup_printf ("torque is derived from the motor current with %s N·m/A", constant));
}

/* T = J dω/dt: with the log's inertia alone, friction is not known and not added. */
static void
derive_torque (SbTrial *trial)
{
  double inertia = trial->log->inertia_kg_m2;
  if (trial->signal[SB_CHANNEL_TORQUE] != NULL || trial->signal[SB_CHANNEL_VELOCITY] == NULL || isnan (inertia))
    return;
  double *torque = g_new (double, trial->n_samples);
  sb_local_slopes (trial->time_s, trial->signal[SB_CHANNEL_VELOCITY], trial->n_samples, DERIVATIVE_HALF, torque);
  for (gsize i = 0; i < trial->n_samples; i++)
    torque[i] *= inertia;
  trial->signal[SB_CHANNEL_TORQUE] = trial->owned[SB_CHANNEL_TORQUE] = torque;
  trial->derived[SB_CHANNEL_TORQUE] = TRUE;
  note (trial, "torque is derived from the velocity and the stated inertia; friction is not in it");
}

static void
mirror (SbTrial *trial)
{
  for (int c = 0; c < SB_N_CHANNELS; c++) {
    if (c == SB_CHANNEL_TIME || trial->signal[c] == NULL)
      continue;
    double *turned = trial->owned[c] != NULL ? trial->owned[c] : g_new (double, trial->n_samples);
    for (gsize i = 0; i < trial->n_samples; i++)
      turned[i] = -trial->signal[c][i];
    trial->signal[c] = trial->owned[c] = turned;
  }
  trial->mirrored = TRUE;
}

static void
note_further_steps (SbTrial *trial)
{
  gsize n_more = sb_steps_count (trial->steps) - 1;
  if (n_more == 0)
    return;
  g_autofree char *more
      = n_more == 1 ? g_strdup ("once more") : g_strdup_printf ("%" G_GSIZE_FORMAT " times more", n_more);
  g_autofree char *text = g_strdup_printf (
      "the command steps %s after the first step; in a trial of the whole log the first alone counts", more);
  note (trial, text);
}

/* The first step, which is never a release; with an onset placed by hand (`by_hand_s`, else NaN) the step next to it.
 */
static guint
choose_step (const GArray *steps, double by_hand_s)
{
  guint chosen = 0;
  const SbStep *all = &g_array_index (steps, SbStep, 0);
  for (guint i = 1; i < steps->len; i++)
    if (!all[i].is_release && fabs (all[i].edge_s - by_hand_s) < fabs (all[chosen].edge_s - by_hand_s))
      chosen = i;
  return chosen;
}

/* By one of the command's steps; of a command that holds no levels, by its crossing. */
static gboolean
find_command_onset (SbTrial *trial, double by_hand_s, SbOnset *onset)
{
  const double *t = trial->time_s, *command = trial->signal[SB_CHANNEL_COMMAND];
  gsize n = trial->n_samples;
  g_array_unref (trial->steps);
  trial->steps = sb_steps_find (t, command, n);
  if (trial->steps->len == 0)
    return sb_onset_by_command (t, command, n, onset);
  guint chosen = choose_step (trial->steps, by_hand_s);
  const SbStep *steps = &g_array_index (trial->steps, SbStep, 0);
  gsize end = chosen + 1 < trial->steps->len ? steps[chosen + 1].top_first : n;
  sb_onset_at_step (t, command, end, n, &steps[chosen], onset);
  if (isnan (by_hand_s))
    note_further_steps (trial);
  return TRUE;
}

/* By the command, else by the torque, else by the velocity. FALSE when nothing steps. */
static gboolean
find_onset (SbTrial *trial, double by_hand_s, SbOnset *onset)
{
  const double *command = trial->signal[SB_CHANNEL_COMMAND];
  const double *torque = trial->signal[SB_CHANNEL_TORQUE];
  const double *velocity = trial->signal[SB_CHANNEL_VELOCITY];
  trial->command_base_nm = trial->command_top_nm = NAN;
  if (command != NULL) {
    if (find_command_onset (trial, by_hand_s, onset)) {
      trial->onset_from = SB_ONSET_FROM_COMMAND;
      trial->command_base_nm = onset->direction * onset->base;
      trial->command_top_nm = onset->direction * onset->top;
      return TRUE;
    }
    note (trial, "the command does not step; the onset is estimated from the response");
  }
  if (torque != NULL && sb_onset_by_response (trial->time_s, torque, trial->n_samples, TRUE, onset)) {
    trial->onset_from = SB_ONSET_FROM_TORQUE;
    return TRUE;
  }
  if (velocity != NULL && sb_onset_by_response (trial->time_s, velocity, trial->n_samples, FALSE, onset)) {
    trial->onset_from = SB_ONSET_FROM_VELOCITY;
    return TRUE;
  }
  return FALSE;
}

/* First index with time >= t; n when none. */
static gsize
index_from (const double *time_s, gsize n, double t)
{
  gsize low = 0, high = n;
  while (low < high) {
    gsize middle = low + (high - low) / 2;
    if (time_s[middle] < t)
      low = middle + 1;
    else
      high = middle;
  }
  return low;
}

/* A log may begin after its onset, but not by many times what it lasts: averages span what is between. */
static gboolean
is_within_reach (const SbTrial *trial, double onset_s, GError **error)
{
  double first_s = trial->time_s[0], last_s = trial->time_s[trial->n_samples - 1];
  if (onset_s >= first_s - MAX_LENGTHS_BEFORE * (last_s - first_s))
    return TRUE;
  g_autofree char *onset = sb_number_plain (onset_s), *first = sb_number_plain (first_s),
                  *last = sb_number_plain (last_s);
  g_set_error (error, SB_TRIAL_ERROR, SB_TRIAL_ERROR_TOO_SHORT,
               "%s: the onset at %s s lies before the log, which goes from %s s to %s s. Move the onset.",
               trial->log->name, onset, first, last);
  return FALSE;
}

/* A jump lies in it: the sample interval, or more where the times jitter, or before a hole. Times that jitter more than
 * their samples do make it no shorter. */
static double
interval_before (const SbTrial *trial, gsize i)
{
  double before_s = i > 0 ? trial->time_s[i] - trial->time_s[i - 1] : 0;
  return fmax (before_s, trial->sample_interval_s);
}

static gboolean
place_window (SbTrial *trial, const SbOnset *onset, const SbTrialChoices *choices, GError **error)
{
  const double *t = trial->time_s;
  gsize n = trial->n_samples;
  trial->onset_s = onset->onset_s;
  trial->onset_uncertainty_s = onset->uncertainty_s;
  trial->active_end_s = onset->level_end_s;
  if (!isnan (choices->onset_s) && !is_within_reach (trial, choices->onset_s, error))
    return FALSE;
  if (!isnan (choices->onset_s)) {
    trial->onset_s = choices->onset_s;
    trial->onset_uncertainty_s = 0;
    trial->onset_from = SB_ONSET_BY_HAND;
  }
  if (!isnan (choices->active_end_s))
    trial->active_end_s = MIN (choices->active_end_s, t[n - 1]);
  trial->active_first = index_from (t, n, trial->onset_s);
  trial->active_last = index_from (t, n, nextafter (trial->active_end_s, INFINITY));
  if (trial->active_last < trial->active_first + MIN_SAMPLES) {
    g_set_error (error, SB_TRIAL_ERROR, SB_TRIAL_ERROR_TOO_SHORT,
                 "%s: too few samples between the onset at %.6g s and the end of the active window at %.6g s: "
                 "%" G_GSIZE_FORMAT "; at least %d are needed. Log for longer, or move the onset or the end.",
                 trial->log->name, trial->onset_s, trial->active_end_s,
                 trial->active_last - MIN (trial->active_first, trial->active_last), MIN_SAMPLES);
    return FALSE;
  }
  trial->active_last--;
  if (trial->onset_from == SB_ONSET_FROM_COMMAND && !(t[trial->active_first] > trial->onset_s)) {
    trial->onset_late_s = interval_before (trial, trial->active_first);
    trial->onset_uncertainty_s = trial->onset_late_s / sqrt (12); /* GUM 4.3.7 */
  }
  return TRUE;
}

gboolean
sb_trial_choices_whole (const SbTrialChoices *choices)
{
  return isnan (choices->from_s) && isnan (choices->to_s);
}

/* The samples first..first + *n - 1 of the log that the choices name. */
static gsize
find_stretch (const SbLog *log, const SbTrialChoices *choices, gsize *n)
{
  const double *t = log->channel[SB_CHANNEL_TIME];
  gsize first = isnan (choices->from_s) ? 0 : index_from (t, log->n_rows, choices->from_s);
  gsize end = isnan (choices->to_s) ? log->n_rows : index_from (t, log->n_rows, nextafter (choices->to_s, INFINITY));
  *n = end > first ? end - first : 0;
  return first;
}

static void
fail_too_short (const SbLog *log, const SbTrialChoices *choices, gsize n, GError **error)
{
  g_autofree char *left_out = sb_log_most_left_out (log);
  if (sb_trial_choices_whole (choices))
    g_set_error (error, SB_TRIAL_ERROR, SB_TRIAL_ERROR_TOO_SHORT,
                 "%s: too few usable rows for a step test: %" G_GSIZE_FORMAT "; at least %d are needed. %s.", log->name,
                 n, MIN_SAMPLES, left_out != NULL ? left_out : "Log for longer");
  else
    g_set_error (error, SB_TRIAL_ERROR, SB_TRIAL_ERROR_TOO_SHORT,
                 "%s: too few usable rows from %.6g s to %.6g s for a step test: %" G_GSIZE_FORMAT
                 "; at least %d are needed. Cut the log elsewhere.",
                 log->name, isnan (choices->from_s) ? log->channel[SB_CHANNEL_TIME][0] : choices->from_s,
                 isnan (choices->to_s) ? log->channel[SB_CHANNEL_TIME][log->n_rows - 1] : choices->to_s, n,
                 MIN_SAMPLES);
}

static SbTrial *
trial_of_stretch (SbLog *log, gsize first, gsize n)
{
  SbTrial *trial = g_new0 (SbTrial, 1);
  g_atomic_ref_count_init (&trial->ref_count);
  trial->log = sb_log_ref (log);
  trial->n_samples = n;
  trial->time_s = log->channel[SB_CHANNEL_TIME] + first;
  for (int c = 0; c < SB_N_CHANNELS; c++)
    trial->signal[c] = log->channel[c] != NULL ? log->channel[c] + first : NULL;
  trial->steps = g_array_new (FALSE, FALSE, sizeof (SbStep));
  trial->notes = sb_notes_new ();
  sb_notes_prepend (trial->notes, log->notes);
  sb_unit_notes_of_header (trial->notes, log);
  return trial;
}

/* A rate that changes makes every slope and frequency of one half of the log wrong against the other. */
static void
note_drift (SbTrial *trial)
{
  char percent[G_ASCII_DTOSTR_BUF_SIZE];
  double drift = trial->interval_drift;
  if (fabs (drift) < DRIFT_WORTH_A_NOTE)
    return;
  g_ascii_formatd (percent, sizeof percent, "%.2g", 100 * fabs (drift));
  sb_notes_take (trial->notes, SB_NOTE_REMARK,
                 g_strdup_printf ("the sample interval drifts: it is %s %% %s at the end of the log than "
                                  "at its start",
                                  percent, drift > 0 ? "longer" : "shorter"));
}

/* Rows of a log between two jumps of its clock, or its ends. */
typedef struct {
  gsize first, n;
  const SbJump *before, *after; /* NULL: none */
} Piece;

/* Of the n rows from `first` on those that are in one piece with `at_s`. */
static Piece
find_piece (const SbLog *log, gsize first, gsize n, double at_s)
{
  const double *t = log->channel[SB_CHANNEL_TIME];
  gsize end = first + n;
  Piece piece = { .first = first };
  for (guint i = 0; i < log->jumps->len && piece.after == NULL; i++) {
    const SbJump *jump = &g_array_index (log->jumps, SbJump, i);
    if (jump->row <= first || jump->row >= end)
      continue;
    if (t[jump->row] <= at_s) {
      piece.first = jump->row;
      piece.before = jump;
    } else {
      piece.after = jump;
      end = jump->row;
    }
  }
  piece.n = end - piece.first;
  return piece;
}

static void
note_jump (SbTrial *trial, const SbJump *jump, const char *which)
{
  if (jump == NULL)
    return;
  g_autofree char *text = sb_jump_text (jump);
  sb_notes_take (trial->notes, SB_NOTE_REMARK,
                 g_strdup_printf ("what was logged %s is left out, as its times say nothing of when it "
                                  "was: %s",
                                  which, text));
}

/* Rows with their time base and what is derived; `onset` still to be found. */
static SbTrial *
begin_trial (SbLog *log, gsize first, gsize n)
{
  SbTrial *trial = trial_of_stretch (log, first, n);
  SbTimeBase base = sb_time_base (trial->time_s, trial->n_samples);
  trial->sample_interval_s = base.sample_interval_s;
  trial->jitter_s = base.jitter_s;
  trial->interval_drift = base.drift;
  note_drift (trial);
  trial->gaps = base.gaps;
  mark_torque_not_measured (trial);
  derive_velocity (trial);
  derive_torque (trial);
  sb_sampling_find (trial);
  return trial;
}

/* FALSE with an error when there is no step; with an onset by hand there need not be one. */
static gboolean
find_step (SbTrial *trial, double by_hand_s, SbOnset *onset, GError **error)
{
  if (find_onset (trial, by_hand_s, onset))
    return TRUE;
  *onset = (SbOnset){ .direction = 1, .level_end_s = trial->time_s[trial->n_samples - 1] };
  if (!isnan (by_hand_s))
    return TRUE;
  g_autofree char *left_out = sb_log_most_left_out (trial->log);
  if (left_out != NULL) {
    g_set_error (error, SB_TRIAL_ERROR, SB_TRIAL_ERROR_NO_STEP,
                 "%s: no step found in the %" G_GSIZE_FORMAT " rows that were read. %s.", trial->log->name,
                 trial->log->n_rows, left_out);
    return FALSE;
  }
  g_set_error (error, SB_TRIAL_ERROR, SB_TRIAL_ERROR_NO_STEP,
               "%s: no step found: neither the command nor the torque or velocity leaves its first level. Start "
               "the log before the step, or set the onset by hand.",
               trial->log->name);
  return FALSE;
}

/* Whether the step that was found in all of the log is whole in the piece. An estimate may move with the levels. */
static gboolean
has_step_of (const SbTrial *trial, double onset_s, const SbTrial *whole, double whole_onset_s)
{
  return trial->onset_from == whole->onset_from
         && (trial->onset_from != SB_ONSET_FROM_COMMAND || fabs (onset_s - whole_onset_s) <= trial->sample_interval_s);
}

/* Where the clock jumps ahead, the trial is the piece with the step in it; the steps stay those of all the stretch. */
static SbTrial *
keep_to_piece (SbTrial *whole, const Piece *piece, double by_hand_s, SbOnset *onset, GError **error)
{
  g_autoptr (SbTrial) trial = piece->n >= MIN_SAMPLES ? begin_trial (whole->log, piece->first, piece->n) : NULL;
  double before_s = onset->onset_s;
  if (trial == NULL || !find_step (trial, by_hand_s, onset, NULL)
      || (isnan (by_hand_s) && !has_step_of (trial, onset->onset_s, whole, before_s))) {
    g_autofree char *text = sb_jump_text (piece->before != NULL ? piece->before : piece->after);
    g_set_error (error, SB_TRIAL_ERROR, SB_TRIAL_ERROR_NO_STEP,
                 "%s: %s, at the step, so that no level before it or no rise behind it is left. Log the step again.",
                 whole->log->name, text);
    return NULL;
  }
  g_array_unref (trial->steps);
  trial->steps = g_array_ref (whole->steps);
  trial->ends_at_jump = piece->after != NULL;
  note_jump (trial, piece->before, "before the clock was set");
  note_jump (trial, piece->after, "after the clock was set");
  return g_steal_pointer (&trial);
}

static void
check_units (SbTrial *trial)
{
  SbUnitChecks checks = sb_unit_checks (trial);
  sb_unit_notes_of_motion (trial->notes, checks.of_way, trial->log);
  sb_unit_doubts_find (trial, &checks);
  trial->short_torque = sb_unit_doubts_of_short_torque (&checks, trial->command_top_nm);
  if (trial->short_torque != NULL)
    sb_notes_take (trial->notes, SB_NOTE_UNITS_CONFLICT, g_strdup (trial->short_torque));
}

SbTrial *
sb_trial_new (SbLog *log, const SbTrialChoices *choices, GError **error)
{
  g_return_val_if_fail (log != NULL, NULL);
  SbTrialChoices none = SB_TRIAL_CHOICES_NONE;
  if (choices == NULL)
    choices = &none;
  gsize n, first = find_stretch (log, choices, &n);
  if (n < MIN_SAMPLES) {
    fail_too_short (log, choices, n, error);
    return NULL;
  }
  g_autoptr (SbTrial) trial = begin_trial (log, first, n);
  SbOnset onset = { 0 };
  if (!find_step (trial, choices->onset_s, &onset, error))
    return NULL;
  Piece piece = find_piece (log, first, n, isnan (choices->onset_s) ? onset.onset_s : choices->onset_s);
  if (piece.n < n) {
    g_autoptr (SbTrial) whole = g_steal_pointer (&trial);
    trial = keep_to_piece (whole, &piece, choices->onset_s, &onset, error);
    if (trial == NULL)
      return NULL;
  }
  if (onset.direction < 0)
    mirror (trial);
  if (!place_window (trial, &onset, choices, error))
    return NULL;
  check_units (trial);
  return g_steal_pointer (&trial);
}

SbTrial *
sb_trial_ref (SbTrial *trial)
{
  g_atomic_ref_count_inc (&trial->ref_count);
  return trial;
}

void
sb_trial_unref (SbTrial *trial)
{
  if (trial == NULL || !g_atomic_ref_count_dec (&trial->ref_count))
    return;
  for (int c = 0; c < SB_N_CHANNELS; c++) {
    g_free (trial->owned[c]);
    g_free (trial->unit_doubt[c]);
  }
  g_free (trial->short_torque);
  g_clear_pointer (&trial->gaps, g_array_unref);
  g_array_unref (trial->steps);
  g_ptr_array_unref (trial->notes);
  sb_log_unref (trial->log);
  g_free (trial);
}
