/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Which form of the torque's model the data ask for, and its parameters. For the files of this folder. */
#pragma once

#include "drive_torque.h"

/* The look of the rise before anything is fitted. */
typedef struct {
  double base_nm, top_nm, t10_s, t90_s;
} SbRiseGuess;

/* Nothing rises before from_s. FALSE when the torque does not rise from its base in the curve: nothing can be fitted.
 */
gboolean sb_rise_guess (const SbTorqueCurve *curve, double from_s, SbRiseGuess *guess);

typedef struct {
  SbDriveForm form;
  double x[SB_DRIVE_MOST_PARAMETERS];
  guint n_starts, n_agreeing; /* starts of the form chosen, and those that came to the same end */
} SbTorqueFit;

/* Fits every form from several starts to a thinned curve, takes the one with the smallest Bayesian information
 * criterion, tries a ringing mode on it, and finishes on all points. FALSE when no form converges. */
gboolean sb_torque_fit (const SbTorqueCurve *curve, const SbRiseGuess *guess, SbTorqueFit *fit);
