/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Inside of audit*.c only: the parts of a setting audit in the order in which they are worked out. */
#pragma once

#include "audit.h"

/* What is argued with, besides the result. */
typedef struct {
  const SbAuditInput **level; /* per level of the result: the trials at it, merged */
  gsize n_levels;
  SbAudit *audit;
} SbAuditWork;

/* Fills audit->levels, ->numeric and ->unit, and gives the inputs in their order, those of one level merged; freed with
 * their arrays by sb_audit_inputs_free(). Levels that cannot be ordered with the others are left out, with a reason. */
GPtrArray *sb_audit_order (SbAudit *audit, const SbAuditInput *input, gsize n_input);

/* Fills audit->measure. */
void sb_audit_find_effects (SbAuditWork *work, const SbMargin margin[SB_N_MEASURES]);

/* The mean torque slope of each trial at a level that has one; n of them. (transfer full) */
double *sb_audit_values (const SbAuditInput *level, SbMeasureId id, gsize *n);

/* How a level's slope stands to that of the level it is measured by, if it were in proportion: 1. */
typedef enum {
  SB_SHARE_UNCLEAR,
  SB_SHARE_FOLLOWS, /* the 95 % interval lies within 10 % of 1 */
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
} SbRise;

SbRise sb_audit_rise (const SbAuditInput *level);

/* N·m/s that the level's number states, NaN when its unit is none of a torque slope. */
double sb_audit_stated_slope (const SbAuditInput *level);

/* Fills ->proportion, ->ceiling, ->verdict, ->doubted and ->reasons. */
void sb_audit_judge (SbAuditWork *work);

void sb_audit_add_reason (SbAudit *audit, const char *format, ...) G_GNUC_PRINTF (2, 3);
