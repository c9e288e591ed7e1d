/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The torque without its noise where it rings: the decaying oscillations that were fitted to it. A fit over N samples
 * leaves of a noise s about s √(p / N) with p parameters, which a local mean over a part of a period cannot reach. For
 * the files of this folder only. */
#pragma once

#include "modes.h"

typedef struct {
  SbModeFit fit;   /* without modes: no such curve is known */
  double level_nm; /* that the fit was taken about */
  double start_s;  /* time of the log that its times count from; the curve is known from there on */
  double end_s;    /* end of the stretch that was fitted; behind it the modes go on about the level */
  gsize n_fitted;  /* samples in it */
} SbQuietCurve;

double sb_quiet_curve_at (const SbQuietCurve *curve, double t_s);

/* Farthest that the curve can be from its level at t_s: its envelope. */
double sb_quiet_curve_reach (const SbQuietCurve *curve, double t_s);

/* Standard deviation of what a noise of `noise` leaves in it. */
double sb_quiet_curve_left (const SbQuietCurve *curve, double noise);
