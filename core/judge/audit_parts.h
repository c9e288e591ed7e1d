/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Inside of audit*.c only: the parts of a setting audit in the order in which they are worked out. */
#pragma once

#include "audit.h"
#include "audit_rig_search.h"

/* A level's rise as a ramp behind the rig. */
typedef struct {
  double
      steeper;  /* the ramp is so many times as steep as the mean slope seen; 1 without a rig, NaN: the rig hides it */
  double power; /* d ln (slope of the ramp) / d ln (mean slope seen); 1 without a rig */
} SbRigRamp;

/* What is argued with, besides the result. */
typedef struct {
  const SbAuditInput **level; /* per level of the result: the trials at it, merged */
  gsize n_levels;
  SbAudit *audit;
  SbAuditChoices choices;
  SbRig rig;                   /* known when rises are seen through its ringing */
  gboolean rings;              /* the torque overshoots, and the rises are no ramps without a rig */
  SbRigRamp *ramp;             /* per level */
  gboolean is_unlike;          /* something else differs between the levels, besides the number of repeats */
  gboolean is_loose;           /* the slope is known to stay within more than the margin only */
  gboolean may_be_moving_mean; /* no second size of step, nor a stated slope, tells a limit from a moving mean */
  GCancellable *cancellable;   /* borrowed; may be NULL */
} SbAuditWork;

/* Fills audit->levels, ->numeric and ->unit, and gives the inputs in their order, those of one level merged; freed with
 * their arrays by sb_audit_inputs_free(). Levels that cannot be ordered with the others are left out, with a reason. */
GPtrArray *sb_audit_order (SbAudit *audit, const SbAuditInput *input, gsize n_input);

/* Fills audit->measure. */
void sb_audit_find_effects (SbAuditWork *work, const SbMargin margin[SB_N_MEASURES]);

/* Whether any two levels are practically equal within this share of the mean at the lowest level. FALSE of a measure
 * that is absent. */
gboolean sb_audit_stays_within (const SbAuditWork *work, SbMeasureId id, double share);

/* All trials of all levels are sampled at one rate, within a hundredth. */
gboolean sb_audit_rates_are_alike (const SbAuditWork *work);

/* Where true figures may lie beside those found, as commands jump somewhere in their sample intervals. */
typedef struct {
  double beyond[2];      /* of the change from the lowest to the highest level, 0 or less and 0 or more */
  double widest;         /* of the difference of any two levels, either way */
  gboolean averages_out; /* over repeats of all levels where clocks run free */
} SbAuditSampling;

/* Of a measure whose points are known. */
SbAuditSampling sb_audit_sampling (const SbAuditWork *work, SbMeasureId id);

static inline const SbAuditMeasure *
sb_audit_measure (const SbAuditWork *work, SbMeasureId id)
{
  return &work->audit->measure[id];
}

static inline SbAuditEffect
sb_audit_effect (const SbAuditWork *work, SbMeasureId id)
{
  return sb_audit_measure (work, id)->effect;
}

static inline gboolean
sb_audit_is_slope (SbMeasureId id)
{
  return id == SB_MEASURE_MEAN_TORQUE_SLOPE || id == SB_MEASURE_PEAK_TORQUE_SLOPE;
}

/* Whether it drifts over the repeats of some level. */
static inline gboolean
sb_audit_drifts (const SbAuditWork *work, SbMeasureId id)
{
  guint drifting = 0;
  for (gsize i = 0; i < work->n_levels; i++)
    drifting |= work->level[i]->drifting;
  return (drifting & 1u << id) != 0;
}

/* The mean torque slope of each trial at a level that has one; n of them. (transfer full) */
double *sb_audit_values (const SbAuditInput *level, SbMeasureId id, gsize *n);

/* How a level's slope stands to that of the level it is measured by, if it were in proportion: 1. */
typedef enum {
  SB_SHARE_UNCLEAR,
  SB_SHARE_FOLLOWS, /* the 95 % interval lies within the choice (10 %) of 1 */
  SB_SHARE_BEHIND,  /* it lies below */
  SB_SHARE_AHEAD,   /* it lies above */
} SbShareKind;

typedef struct {
  SbShareKind kind;
  double ratio, ci95[2];
} SbShare;

/* The slopes of two levels of positive x. */
SbShare sb_audit_share (const SbAuditWork *work, gsize base, gsize level, gboolean inverse);

typedef enum { SB_RISE_UNCLEAR, SB_RISE_STRAIGHT, SB_RISE_ROUNDED } SbRiseKind;

/* Slopes of the quarters of a rise over its mean slope: 1 when it is straight. */
typedef struct {
  SbRiseKind kind;
  double quarter[SB_RISE_QUARTERS], half_width; /* mean over the trials, 95 % for all four; NaN when not known */
  double u;                                     /* standard uncertainty of each mean; NaN when not known */
} SbRise;

SbRise sb_audit_rise (const SbAuditInput *level, double straight_ratio);

/* Finds the ringing of the rig that makes the rises of all levels look most like ramps behind it, if any does: fills
 * ->rig, ->ramp and the audit's rig. */
void sb_audit_find_rig (SbAuditWork *work);

/* The kind of a rise that does not look straight: what it was before the rig. Adds a reason when the rig matters.
 *
 * The likelier of two explanations may be a bad one, so each has a bound of its own besides. The figures (quarters,
 * overshoot) have intervals that hold at once with 95 % (Student, Bonferroni: NIST/SEMATECH e-Handbook, 7.4.7.3). A
 * straight rise says that the setting limits, and is to be shown: all intervals lie within the choice (15 %) of the
 * ramp's figures. A rounded one is refuted when some interval lies wholly beyond that choice from the figures of the
 * rounded form that comes nearest: a test at 5 % that the drive's rise is of such a form to within the choice. */
SbRiseKind sb_audit_rise_before_rig (SbAuditWork *work, gsize level, const SbRise *rise);

/* What rises to another size of step tell. */
typedef enum {
  SB_STEP_ONE_SIZE,
  SB_STEP_UNCLEAR,
  SB_STEP_SLOPE_STAYS,    /* a larger step takes longer, as at a limit */
  SB_STEP_DURATION_STAYS, /* it takes the same time, as through a moving mean or a filter */
  SB_N_STEP_SAYS,
} SbStepSays;

/* Adds a reason for each level that has both sizes. */
SbStepSays sb_audit_compare_steps (SbAuditWork *work);

/* N·m/s that the level's number states, NaN when its unit is none of a torque slope. */
double sb_audit_stated_slope (const SbAuditInput *level);

/* Fills ->proportion, ->ceiling, ->verdict, ->doubted and ->reasons. */
void sb_audit_judge (SbAuditWork *work);

void sb_audit_add_reason (SbAudit *audit, const char *format, ...) G_GNUC_PRINTF (2, 3);
