/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Whether what is left in a window about its baseline is an oscillation, and which. For the files of this folder only.
 */
#pragma once

#include "modes.h"
#include "reading.h"
#include "residual.h"

#define SB_LOOK_FEWEST_SAMPLES 16

/* What becomes known of one window. */
typedef struct SbRingingLook SbRingingLook;
struct SbRingingLook {
  SbChannel channel;
  SbResidual residual;
  double noise; /* noise floor */
  double rms;
  gsize n_loud;
  double peak_hz;
  SbModeFit fit;
  gsize n_fit;      /* points fitted */
  double fit_end_s; /* the last of them, after the window's start */
  SbCrests crests;
  const SbRingingLook *before; /* NULL, or the ringing that is over when the window opens */
};

/* From sample `first` of the look's channel to the end of the active window; `start_s` is a time of the log. Baseline
 * and noise are the caller's to set. */
void sb_look_open (const SbReading *reading, SbRingingLook *look, gsize first, double start_s);

/* Needs the window with its baseline, noise, rms and n_loud; fills the rest. The noise floor is raised where the
 * plateau is noisier than it. */
gboolean sb_look_is_ringing (SbRingingLook *look);
