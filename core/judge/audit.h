/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Does a setting do what its name says? Trials at two or more levels of one setting: what each measure does over the
 * range, and whether the setting limits the torque slope, shapes the response only, or does nothing that can be seen.
 * Definitions: 'Setting audit' of docs/methods.md. */
#pragma once

#include "comparison.h"
#include "drive_model.h"
#include "trend.h"
#include "units.h"

#include <gio/gio.h>

typedef enum {
  SB_AUDIT_CANNOT_TELL,
  SB_AUDIT_LIMITS,    /* the torque slope follows the level; of a rotation range: depends on it */
  SB_AUDIT_SHAPES,    /* the torque slope stays, or the rise is rounded: dead time, rise, ringing move */
  SB_AUDIT_NO_EFFECT, /* nothing moves, and the torque slope is known to stay within the margin */
  SB_N_AUDIT_VERDICTS,
} SbAuditVerdict;

/* "limits the torque slope"; of a rotation range "the torque slope depends on it". */
const char *sb_audit_verdict_words (SbAuditVerdict verdict, gboolean of_range);

/* What a measure does over the levels. */
typedef enum {
  SB_EFFECT_ABSENT,    /* see absent_reason */
  SB_EFFECT_UNDECIDED, /* neither of the next two can be said */
  SB_EFFECT_STEADY,    /* any two levels are practically equal (two one-sided tests within the margin) */
  SB_EFFECT_MOVES,     /* Holm-corrected p below the level, and some two levels are further apart than the margin */
  SB_N_EFFECTS,
} SbAuditEffect;

const char *sb_audit_effect_words (SbAuditEffect effect); /* "moves", "stays", "undecided", "absent" */

typedef enum {
  SB_PROPORTION_UNKNOWN, /* no two levels are positive numbers, or the slope does not move */
  SB_PROPORTION_DIRECT,  /* the slope over the level is the same within 10 % (a choice), from the lowest level on */
  SB_PROPORTION_INVERSE, /* the slope times the level is, from the highest on */
  SB_PROPORTION_NONE,
} SbProportion;

/* What a person may want otherwise. */
typedef struct {
  double level;            /* of p, for a measure that moves; 0.01: many measures and settings are looked at */
  double proportion_ratio; /* slope over level is in proportion, and a stated slope met, within this share; 0.1 */
  double straight_ratio;   /* a rise is straight when its quarters are as steep as its mean within this share; 0.15 */
} SbAuditChoices;

SbAuditChoices sb_audit_choices_default (void);

/* Input: the trials at one level. All borrowed, for the call alone. Levels may come in any order; configurations at one
 * level are one level. */
typedef struct {
  const char *text; /* "0.3 N·m/ms", "off" */
  double value;     /* NaN: a word */
  const char *unit; /* "" when none */
  SbMeasures *const *measures;
  SbTrialFacts *const *facts;
  gsize n;                       /* of both */
  guint drifting;                /* measures, as bits 1u << SbMeasureId, that drift from the first trial to the last */
  const SbDriveModel *drive;     /* of these trials; NULL: not fitted */
  SbMeasures *const *other_step; /* trials at this level, alike but for another size of step; NULL: none */
  gsize n_other_step;
} SbAuditInput;

typedef struct {
  char *text;
  double x; /* the number of the level, or its rank from 1 on when levels are words */
  gsize n;  /* trials */
} SbAuditLevel;

/* One measure at one level, SI. */
typedef struct {
  gsize n;                  /* trials that have it */
  double mean, sd, ci95[2]; /* NaN where n is too small */
} SbAuditPoint;

typedef struct {
  SbAuditEffect effect;
  SbAuditPoint *points;    /* one for each level, in their order; present for absent effects too */
  gboolean has_trend;      /* three values or more at two levels or more */
  SbTheilSen trend;        /* SI per unit of x */
  gboolean trend_of_means; /* of more than 2000 repeats: over the levels' means */
  gboolean has_jonckheere;
  SbJonckheere jonckheere;
  SbWelch change;           /* highest level minus lowest */
  double p, p_holm;         /* two levels: of the change; more: twice the smaller of the change's and Jonckheere's */
  double margin;            /* SI */
  double by_noise;          /* SI, how much of the change noise is expected to have made */
  gboolean within_noise;    /* undecided for that: without it there would be another effect */
  gboolean within_sampling; /* undecided for where in their sample intervals the commands may have jumped */
  gboolean in_noise;        /* undecided since at no level most figures stand above the noise */
  gboolean doubted; /* some trial's figure has doubts, besides a bias and coarse onsets that the effect does not hang
                     * on, or it drifts */
  char *absent_reason;
} SbAuditMeasure;

typedef struct {
  char *setting;
  SbUnits units;     /* that the sentences are written in */
  gboolean of_range; /* the setting is the rotation range: words speak of dependence */
  gboolean numeric;  /* levels are numbers; else ranks */
  double level;      /* of p, below which a measure is seen to move */
  char *unit;        /* of numeric levels; "" when none */
  GPtrArray *levels; /* SbAuditLevel, by rising x */
  SbAuditMeasure measure[SB_N_MEASURES];
  SbProportion proportion;
  int ceiling;          /* index of the first level (of the last, for inverse proportion) from which the slope stays
                         * behind: another limit is reached first; -1: none is seen */
  double ceiling_slope; /* N·m/s; mean of the slopes there, or where they are not one that at `ceiling`; NaN without */
  int shown_to;         /* index of the level up to which the slope is seen to follow, when of those beyond it cannot be
                         * told; -1 else */
  double rig_hz, rig_damping; /* of the ringing that shapes of rises were judged through; NaN: none */
  SbAuditVerdict verdict;
  gboolean doubted;    /* a figure that the verdict rests on has doubts */
  GPtrArray *reasons;  /* char *, sentences with their figures, in the order of the argument */
  GPtrArray *fairness; /* char *, what else differs between the levels; may be empty */
  gatomicrefcount ref_count;
} SbAudit;

/* Never NULL; fewer than two levels or repeats are reasons. `margin` says what counts as equal, per measure, shares
 * being of the mean at the lowest level; `units` are those of the sentences alone. Once `cancellable` (may be NULL) is
 * cancelled, what comes back is unfinished and to be dropped. (transfer full) */
SbAudit *sb_audit_new (const char *setting, gboolean of_range, const SbAuditInput *input, gsize n_input,
                       const SbMargin margin[SB_N_MEASURES], const SbAuditChoices *choices, SbUnits units,
                       GCancellable *cancellable);

/* An audit that is not made, with the reason as its only sentence: no levels, and it cannot tell. (transfer full) */
SbAudit *sb_audit_new_not_made (const char *setting, gboolean of_range, const char *reason);
SbAudit *sb_audit_ref (SbAudit *audit);
void sb_audit_unref (SbAudit *audit);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SbAudit, sb_audit_unref)

const SbAuditLevel *sb_audit_level (const SbAudit *audit, guint index);

/* "limits the torque slope, up to 1.0 N·m/ms", "..., seen up to 0.8 N·m/ms": the words of the verdict, or `words` in
 * their place (NULL: not), with its ceiling or the level it is shown to, and a "?" when doubted. (transfer full) */
char *sb_audit_verdict_text (const SbAudit *audit, const char *words);
