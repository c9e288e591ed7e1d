/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "deviation.h"

#include "ensemble.h"

#define N_REPEATS 10
#define SCATTER   0.02

/* ω = V (1 - e^(-u/lag)) from the dead time on: its square and its derivative's, integrated. */
static double
true_deviation (const Case *c)
{
  double lag = c->velocity_lag_s, v = c->velocity_rad_per_s, length = c->after_s - c->dead_s - 0.5 / c->rate_hz;
  double e = exp (-length / lag), noise = c->noise_ratio * v;
  double squares = v * v * (length - 2 * lag * (1 - e) + lag / 2 * (1 - e * e));
  double rates = v * v / (2 * lag) * (1 - e * e), place = 1 / (12 * c->rate_hz * c->rate_hz);
  return sqrt ((SCATTER * SCATTER * squares + rates * place) / c->after_s + noise * noise);
}

void
deviation_tally (const Case *c, guint64 seed, gsize n_draws, Tally *tally)
{
  Simulation repeats[N_REPEATS];
  SbTrial *trials[N_REPEATS];
  for (gsize i = 0; i < N_REPEATS; i++) {
    simulation_init (&repeats[i], c, seed + 977 * i);
    trials[i] = repeats[i].trial;
  }
  for (gsize d = 0; d < n_draws; d++) {
    for (gsize i = 0; i < N_REPEATS; i++) {
      repeats[i].gain = 1 + SCATTER * made_normal (&repeats[i].random);
      sb_measures_unref (simulation_draw (&repeats[i], NULL));
    }
    g_autoptr (SbEnsemble) ensemble = sb_ensemble_new (trials, N_REPEATS, SB_SPAN_COMMON, 1u << SB_CHANNEL_VELOCITY);
    SbMeasure measure = { .present = TRUE, .uncertainty = NAN };
    measure.value = sb_ensemble_deviation (ensemble, SB_CHANNEL_VELOCITY);
    tally_add (tally, &measure, true_deviation (c));
  }
  for (gsize i = 0; i < N_REPEATS; i++)
    simulation_clear (&repeats[i]);
}
