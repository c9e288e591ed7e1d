/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The ringing of one trial as curves, for a chart: what is left of the signal in the ringing window, the fitted modes,
 * and the spectrum. */
#pragma once

#include "measure.h"

typedef struct {
  gsize n;
  double *t_s;  /* after the onset */
  double *rest; /* torque less its level, or velocity less its quadratic trend; N·m or rad/s */
  double *fit;  /* the modes on the line through what they leave; NULL: no mode was found */
  gsize n_bins;
  double *hz;
  double *amplitude; /* of a steady oscillation that would give this much there */
} SbRingingCurve;

/* NULL when the trial has no ringing window. `ringing` is of this trial. (transfer full) */
SbRingingCurve *sb_ringing_curve_new (const SbTrial *trial, const SbRinging *ringing);
void sb_ringing_curve_free (SbRingingCurve *curve);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SbRingingCurve, sb_ringing_curve_free)
