/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Least-squares fit of decaying oscillations: sum of A e^(-a t) cos (2 pi f t + phi), beside a free offset and drift,
 * so that a level that is a little off or creeps is not taken for damping, and beside R e^(-b t) where a first-order
 * rise is not over when the record begins, so that it does not pull the frequency. For the files of this folder only.
 */
#pragma once

#include "measure.h"
#include "residual.h"

typedef struct {
  SbMode mode[SB_MAX_MODES]; /* strongest, by energy in the record, first; amplitude and phase at t = 0 */
  gsize n_modes;
  double offset, drift_per_s;
  double rest, rest_decay_per_s; /* of the rise, at t = 0; 0 when none is seen */
  double weight; /* of the fit with such a rest against that without one, where neither is certain; else 0 */
  double damping_without[SB_MAX_MODES], damping_with[SB_MAX_MODES]; /* then: what each of them gives for a mode */
  double rms; /* of what the fit leaves, per point of the record */
} SbModeFit;

/* `start_hz` is a first guess of the strongest frequency and sets the scale of time; `noise` the noise to be expected
 * at each point of the record. `interval_s` is that of the samples the record was averaged from. FALSE, `fit`
 * untouched, when nothing can be fitted. */
gboolean sb_modes_fit (const SbRecord *record, double interval_s, double start_hz, double noise, SbModeFit *fit);
