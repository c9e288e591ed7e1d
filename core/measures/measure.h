/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The measures: one table that the window, the JSON, the report, the docs and the tests are driven from.
 *
 * A new measure is one row in measure_table.c, one function and one test. Values are in the SI unit of the row; the
 * display unit is for screens and tables only. Definitions and sources stand in the rows. */
#pragma once

#include "ensemble.h"

typedef enum {
  SB_MEASURE_PEAK_VELOCITY,
  SB_MEASURE_MEAN_VELOCITY,
  SB_MEASURE_VELOCITY_DEVIATION, /* of a configuration, not of a trial */
  SB_MEASURE_VELOCITY_RISE_TIME,
  SB_MEASURE_PEAK_TORQUE,
  SB_MEASURE_MEAN_TORQUE_SLOPE,
  SB_MEASURE_PEAK_TORQUE_SLOPE,
  SB_MEASURE_TORQUE_TRANSITION_TIME,
  SB_MEASURE_DEAD_TIME,
  SB_MEASURE_OVERSHOOT,
  SB_MEASURE_UNDERSHOOT,
  SB_MEASURE_SETTLING_TIME,
  SB_MEASURE_RINGING_FREQUENCY,
  SB_MEASURE_RINGING_DAMPING,
  SB_MEASURE_RINGING_AMPLITUDE,
  SB_MEASURE_RINGING_CYCLES,
  SB_MEASURE_TORQUE_SMOOTHNESS,
  SB_N_MEASURES,
} SbMeasureId;

/* The choices that shape a measure's value. All of them are printed with the results. */
typedef struct {
  double smoothing_s;          /* centred moving mean on the velocity before its peak; 0: none (default) */
  double slope_window_s;       /* 0: the larger of 5 samples and 1 ms (default); made an odd number of samples >= 5 */
  double settling_band_ratio;  /* half width as a share of the step; 0.02 */
  double smoothness_cutoff_hz; /* 0: the smaller of 200 Hz and 0.4 of the sample rate (default) */
} SbMeasureChoices;

#define SB_MEASURE_CHOICES_DEFAULT ((SbMeasureChoices){ 0, 0, 0.02, 0 })

/* What a point of evidence is, so that a chart can draw it rightly. */
typedef enum {
  SB_EVIDENCE_PEAK,     /* an extremum */
  SB_EVIDENCE_CROSSING, /* where a level is crossed; two of them make a secant */
  SB_EVIDENCE_TANGENT,  /* a point with a slope */
  SB_EVIDENCE_LEVEL,    /* a level: y holds from the window's start to its end */
  SB_EVIDENCE_CREST,    /* a counted crest of ringing */
} SbEvidenceKind;

typedef struct {
  SbEvidenceKind kind;
  double t_s;         /* after the onset */
  double y;           /* in the SI unit of the channel */
  double slope_per_s; /* of a tangent; else 0 */
} SbEvidence;

#define SB_MAX_EVIDENCE 16

/* One measure of one trial. */
typedef struct {
  gboolean present;
  double value;               /* SI; meaningless unless present */
  double uncertainty;         /* standard uncertainty, SI; NaN where there is none */
  const char *no_uncertainty; /* then, of a present measure: why (static text); else NULL */
  double bias; /* how far noise is expected to have raised it, SI; negative: lowered; 0 where that is not known */
  double by_late_onset; /* SI, what it would have more at most (negative: less) if the command jumped as early as it may
                         * have (SbMeasures.onset_late_s); 0: it does not count from the onset, or that is no jump */
  double resolution;    /* of the uncertainty, SI: what the steps leave unknown that the signal is logged in, where they
                         * are coarser than its noise; alike in every repeat, so that no mean has less of it; else 0 */
  double other; /* what noise might as well have made it, at another crest (SB_DOUBT_EITHER); NaN: no such thing */
  gboolean is_cut_short; /* it still rises at the end: a longer log would give more */
  double window_s[2];    /* the stretch it was taken from, s after the onset */
  SbEvidence evidence[SB_MAX_EVIDENCE];
  gsize n_evidence;
  char *absent_reason; /* why there is no value; NULL when present */
  GPtrArray *doubts;   /* SbDoubt (doubt.h), plain sentences with their figures, "kind: details" with the kind worded
                        * alike in every trial; NULL when there are none */
} SbMeasure;

#define SB_RISE_QUARTERS 4

/* What several measures share, worked out once per trial; also what a chart needs to show them. */
typedef struct {
  gboolean has_torque_step; /* base, top and the three crossings below exist */
  double base_nm, top_nm;   /* state levels of the torque */
  gboolean plateau;         /* the top is one; else it is the mean of the last quarter */
  double ringing_left_nm; /* amplitude at the end of the window of a torque that has not come to rest, of which the top
                           * is the middle; else 0 */
  double still_rises_nm;  /* gain over the last quarter of the active window of a torque that rises to its end; else 0
                           */
  double drift_nm;        /* gain over that quarter of one that does not lead to a new height; 0 when it is at rest */
  gsize n_flat_tops, longest_flat_top; /* stretches at exactly its largest value, of a torque that looks cut off;
                                        * samples of the longest */
  double noise_nm;       /* standard deviation about the base level before the onset, clipped at 3; NaN when unknown */
  double step_of_log_nm; /* steps that the torque is logged in, where they are coarser than its noise; else 0 */
  double noise_lag1;     /* its lag-1 autocorrelation, about 0 when it is white; NaN when unknown */
  double t10_s, t50_s, t90_s; /* crossings, s after the onset */
  struct {
    gsize n_points;                          /* that the line through it was fitted to; 2: between two samples */
    double uncertainty_s;                    /* standard */
  } crossing[3];                             /* of 10, 50 and 90 % */
  double quarter_nm_per_s[SB_RISE_QUARTERS]; /* slopes of the quarters, in time, between t10 and t90: least-squares
                                              * lines; NaN where a quarter has fewer than 3 samples */
  gsize n_rise;                              /* samples from the 10 % to the 90 % instant */
  double torque_interval_s;                  /* from one value of the torque to the next: the sample interval, or more
                                              * where the log says each several times */
  gsize slope_half;                          /* the slope window is 2 * half + 1 samples */
  double slope_floor_nm_per_s; /* standard deviation that the noise leaves in a slope; NaN when it is unknown */
  double settling_band_nm;     /* half width of the band that the torque settles in */
  gsize settling_half; /* settling is judged on a local mean over 2 * half + 1 samples; 0: on the torque itself */
} SbTransition;

/* One fitted mode: amplitude * e^(-decay t) * cos (2 pi f t + phase), t from the ringing window's start. */
typedef struct {
  double amplitude; /* N·m */
  double decay_per_s;
  double frequency_hz; /* damped */
  double phase_rad;
  double damping_ratio;
  double frequency_sd_hz, damping_ratio_sd;
} SbMode;

typedef enum {
  SB_RINGING_UNKNOWN, /* no ringing window */
  SB_RINGING_NONE,    /* none above noise */
  SB_RINGING_DECAYING,
  SB_RINGING_SUSTAINED,
} SbRingingClass;

#define SB_MAX_MODES 3

typedef struct {
  SbRingingClass ringing_class;
  SbChannel channel;         /* what it was read from: the torque, or the velocity of a log without one; then every N·m
                              * below is rad/s */
  double window_s[2];        /* s after the onset */
  double level_nm;           /* taken off before the fit */
  double floor_nm;           /* noise floor used */
  double rms_nm;             /* root mean square about the level over the window, the floor in it */
  SbMode mode[SB_MAX_MODES]; /* strongest first */
  gsize n_modes;
  double rest_nm, rest_decay_per_s; /* what is left of a first-order rise at the window's start, fitted beside the
                                     * modes; 0 when none is seen */
} SbRinging;

/* All measures of one trial; immutable, shared between threads. */
typedef struct {
  SbMeasure measure[SB_N_MEASURES];
  SbTransition transition;
  SbRinging ringing;
  double onset_late_s;         /* the command moved up to so much before the onset (SbTrial.onset_late_s) */
  double velocity_noise_rad_s; /* standard deviation of the velocity before the onset, or of the steps of one that goes
                                * to and fro by them; NaN when it is not known */
  double velocity_step_rad_s;  /* steps that the velocity is logged in, where they are coarser than its noise; else 0 */
  double smoothness_cutoff_hz; /* that the torque smoothness was taken with; NaN when it is absent */
  gatomicrefcount ref_count;
} SbMeasures;

/* Measures every row of the table whose figure belongs to a trial (a configuration's figure is absent there, with that
 * reason). `choices` may be NULL for the defaults. Needs no grid. (transfer full) */
SbMeasures *sb_measures_new (const SbTrial *trial, const SbMeasureChoices *choices);
SbMeasures *sb_measures_ref (SbMeasures *measures);
void sb_measures_unref (SbMeasures *measures);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SbMeasures, sb_measures_unref)

/* The signal that a measure of this trial is read from: of ringing, the velocity where the log has no torque. */
SbChannel sb_measures_channel (const SbMeasures *measures, SbMeasureId id);

/* A measure over the included repeats of a configuration: GUM type A. */
typedef struct {
  gboolean present;
  double mean, sd;             /* SI; sd NaN with n < 2 or for a configuration's own figure */
  double ci95[2];              /* of the mean, Student t; NaN with n < 2 */
  double standard_uncertainty; /* of the mean, type A: sd / sqrt (n) (GUM 4.2.3), and the resolution beside it; NaN with
                                * n < 2 */
  double resolution;    /* SI, mean of the repeats' SbMeasure.resolution: in the mean, its uncertainty and its interval
                         * as it is in each */
  double repeatability; /* limit r = 2.8 sd: two single repeats differ by more with 5 % probability (ISO 5725-6); NaN
                         * likewise */
  double lag1;          /* autocorrelation of the repeats in their order; NaN with fewer than 10 or no scatter */
  double lone_uncertainty; /* of a lone repeat's figure or a configuration's own; NaN with more, or when not known */
  double bias;             /* SI, mean of what noise is expected to have raised the repeats' figures by */
  double onset_late_s;     /* mean over the repeats; 0 where none counts from a command's jump */
  double by_late_onset;    /* SI, mean over the repeats */
  double apart_by_crests;  /* SI, farthest that noise might have put a repeat's figure, at another crest, from where it
                            * is (SB_DOUBT_EITHER); 0: it does no such thing */
  double crest_floor;      /* of counted crests: mean of the noise floors that they stand above, and the crests that
                            * an e-fold of it hides of the ringing that is seen; 0 where none is, or of other measures */
  double crests_per_fold;
  gsize n_without_ringing; /* repeats that ring none above noise */
  double window_end_s[2];  /* the earliest and the latest end of the repeats' windows, after the onset; NaN without */
  gsize n;                 /* trials that have the measure */
  gsize n_in_noise;        /* of them, whose figure does not stand above the noise (SB_DOUBT_IN_NOISE) */
  gsize n_absent;          /* included trials that do not */
  SbChannel channel;       /* that all of them read it from; repeats that differ in it have no mean */
  char *absent_reason;
  GPtrArray *doubts; /* SbDoubt: each sentence once, with the number of trials it holds for */
} SbMeasureSummary;

/* Half width, in standard deviations, of what holds 95 % of an even spread: 0.95 √3 (GUM G.1.3). */
#define SB_EVEN_95 1.645

/* Windows that end within this ratio of each other are alike to a mean over time; words for those that do not. */
#define SB_ALIKE_WINDOWS   1.02
#define SB_HANGS_ON_WINDOW "a mean over time hangs on how long it is taken for"

/* What the mean's last digits hang on in print (GUM 7.2.6): the scatter of the repeats, or what a lone one's figure is
 * uncertain by; NaN when neither is known. */
double sb_summary_rounding (const SbMeasureSummary *summary);

/* How well a standard deviation of n > 1 normal values is known: 1 / sqrt (2 (n - 1)) of itself (GUM E.4.3). */
double sb_deviation_uncertainty (double deviation, double n);

typedef struct {
  SbMeasureSummary measure[SB_N_MEASURES];
  gatomicrefcount ref_count;
} SbSummary;

/* `measures` holds the n included trials' results in order; `ensemble` (may be NULL) gives the configuration's figures.
 * (transfer full) */
SbSummary *sb_summary_new (SbMeasures *const *measures, gsize n, const SbEnsemble *ensemble);

/* Of the n repeats so many are copies of the log of another one: every figure is doubted for that. Before the summary
 * is shared. */
void sb_summary_doubt_copies (SbSummary *summary, gsize n_copies, gsize n);

SbSummary *sb_summary_ref (SbSummary *summary);
void sb_summary_unref (SbSummary *summary);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SbSummary, sb_summary_unref)
