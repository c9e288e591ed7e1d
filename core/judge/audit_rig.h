/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Inside of audit*.c only: rises as a test rig that rings shows them. A shaft between motor and sensor, or a wheel on
 * it, is a resonance x'' = w^2 (u - x) - 2 zeta w x' (standard vibration texts): what goes in straight comes out in
 * waves. */
#pragma once

#include "measure.h"

typedef struct {
  gboolean known;
  double hz, damping; /* damped frequency, damping ratio */
} SbRig;

/* How the torque goes from one level to the other before the rig. */
typedef enum {
  SB_RISE_FORM_RAMP, /* as a limit leaves it */
  SB_RISE_FORM_LAG,
  SB_RISE_FORM_TWO_LAGS,
  SB_RISE_FORM_LAGGED_RAMP,    /* through two lags of three tenths of its length */
  SB_RISE_FORM_LAGGED_RAMP_6,  /* of six tenths */
  SB_RISE_FORM_LAGGED_RAMP_10, /* as long as itself */
  SB_RISE_FORM_HALF_COSINE,
  SB_N_RISE_FORMS,
} SbRiseForm;

/* What is seen of a rise, behind the rig. */
typedef struct {
  double transition_s;              /* from 10 to 90 % */
  double quarter[SB_RISE_QUARTERS]; /* slopes over the mean slope; NaN: not known */
  double overshoot;                 /* share of the step; NaN: not known */
} SbSeenRise;

/* The rise of this form whose 10 to 90 % take `transition_s` behind the rig (NULL or not known: none): the length of
 * its ramp, lag or half cosine, and what is seen of it. FALSE when the rig is slower than that by itself, or more than
 * 20 times faster, so that it does not matter. */
gboolean sb_rig_fit (const SbRig *rig, SbRiseForm form, double transition_s, double *length_s, SbSeenRise *seen);

/* How far two are apart: the largest difference of a quarter or of the overshoot that both have. */
double sb_seen_rise_distance (const SbSeenRise *a, const SbSeenRise *b);
