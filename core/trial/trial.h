/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One step response: a stretch of a log with its onset, its active window, its signals turned along the step and the
 * facts of its time base. Definitions: 'Signals' and 'Time base' of docs/methods.md.
 *
 * A trial is immutable and keeps its log alive. Signals are borrowed from the log where they are the log's own
 * values and owned where they were mirrored or derived. */
#pragma once

#include "log.h"
#include "steps.h"

typedef enum {
  SB_ONSET_FROM_COMMAND,
  SB_ONSET_FROM_TORQUE,   /* estimated: line through the 10 % and 50 % crossings, carried back to the base level */
  SB_ONSET_FROM_VELOCITY, /* estimated, likewise */
  SB_ONSET_BY_HAND,
} SbOnsetFrom;

/* "command", "torque", "velocity", "hand": as in the JSON. */
const char *sb_onset_from_key (SbOnsetFrom from);

/* What a person may decide about one trial; NaN means: find it. Times are times of the log, s. */
typedef struct {
  double onset_s;
  double active_end_s;
  double from_s, to_s; /* the stretch of the log that is the trial; NaN: from its start, to its end */
} SbTrialChoices;

#define SB_TRIAL_CHOICES_NONE ((SbTrialChoices){ .onset_s = NAN, .active_end_s = NAN, .from_s = NAN, .to_s = NAN })

/* Onset and end placed by hand, in the whole log. */
#define SB_TRIAL_CHOICES_BY_HAND(onset, active_end)                                                                    \
  ((SbTrialChoices){ .onset_s = (onset), .active_end_s = (active_end), .from_s = NAN, .to_s = NAN })

/* TRUE unless the choices narrow the log to a stretch. */
gboolean sb_trial_choices_whole (const SbTrialChoices *choices);

/* A hole in the time base longer than three sample intervals. */
typedef struct {
  double start_s, end_s; /* times of the log */
} SbGap;

typedef struct {
  SbLog *log;

  /* Samples of the stretch, in the log's own time. signal[c][i] is NULL-channel when neither logged nor derivable;
   * signal[TIME] is time_s. With `mirrored` every signal but the time is the log's times -1, so that the step goes up.
   */
  gsize n_samples;
  const double *time_s;
  const double *signal[SB_N_CHANNELS];
  gboolean derived[SB_N_CHANNELS];
  gboolean mirrored;

  double sample_interval_s; /* median of the time differences, rounded to 12 significant digits: the differences of
                             * decimal times carry rounding of that order, and equal rates must compare equal */
  double jitter_s;          /* 1.4826 * MAD of the time differences */
  double interval_drift;    /* (interval at the end - at the start) / interval; 0 when within the jitter */
  double stamp_sd_s; /* what its times are off by, standard, if the samples were taken evenly: by their jitter, or as
                      * the clock is too coarse for them (sampling.h); 0 of even times */
  double refresh_s[SB_N_CHANNELS]; /* from one value to the next, of a channel of which the log says each value several
                                    * times; 0: each row has one of its own */
  GArray *gaps;                    /* SbGap */
  gboolean ends_at_jump;           /* the clock jumps ahead behind the last sample (jump.h): more was logged */

  double onset_s; /* time of the log */
  SbOnsetFrom onset_from;
  double onset_uncertainty_s; /* standard: of a command's jump, an even chance over the sample interval before it (GUM
                               * 4.3.7); of a response, by its noise and sampling; else 0 */
  double onset_late_s; /* the command moved up to so much before the onset: of a jump, which is found at its first
                        * sample at the new level, the sample interval before it; else 0 */
  GArray *steps;       /* SbStep of the stretch's command; empty without a command or when it does not step */
  double command_base_nm, command_top_nm; /* state levels of the (mirrored) command; NaN without a command */
  double active_end_s;                    /* time of the log: end of the commanded level, or of the log, or by hand */
  gsize active_first;                     /* first sample at or after the onset */
  gsize active_last;                      /* last sample at or before the end of the active window; > active_first */

  char *unit_doubt[SB_N_CHANNELS]; /* what speaks against the unit of this channel ("the torque rises to 1000 times its
                                    * command"); NULL: nothing (unit_doubts.h) */
  gboolean is_unit_confirmed[SB_N_CHANNELS]; /* by a person */
  char *short_torque;                        /* that the torque falls short of command and motion alike; else NULL */

  GPtrArray *notes; /* SbNote: what had to be assumed, in plain words; may be empty */

  double *owned[SB_N_CHANNELS];
  gatomicrefcount ref_count;
} SbTrial;

typedef enum {
  SB_TRIAL_ERROR_TOO_SHORT, /* fewer samples than an onset needs */
  SB_TRIAL_ERROR_NO_STEP,   /* neither the command nor a response moves */
} SbTrialError;

#define SB_TRIAL_ERROR (sb_trial_error_quark ())
GQuark sb_trial_error_quark (void);

/* The first step of `log`, or of the stretch of it that the choices name, as far as the clock does not jump ahead:
 * what was logged beyond a jump is left out, with a note. A missing velocity is derived from the angle;
 * a missing torque from the velocity when the log states an inertia. `choices` may be NULL. On failure NULL, with a
 * message that names the file, what is missing and what to do. (transfer full) */
SbTrial *sb_trial_new (SbLog *log, const SbTrialChoices *choices, GError **error);

SbTrial *sb_trial_ref (SbTrial *trial);
void sb_trial_unref (SbTrial *trial);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SbTrial, sb_trial_unref)
