/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Writes the accuracy tables of docs/methods.md to the standard output: bias and root mean square error of every
 * measure, in percent of the true value, over noise, sample rate and ringing. */
#include "simulation.h"

#include <stdio.h>
#include <stdlib.h>

#define N_NOISES 3
#define N_RATES  3

static const double noises[N_NOISES] = { 0.001, 0.01, 0.03 };
static const double rates_hz[N_RATES] = { 1e3, 4e3, 16e3 };
static const double zetas[] = { 0.1, 0.35, 0.7 };

#define CASE(z, rate, noise)                                                                                           \
  {                                                                                                                    \
    .torque = { .zeta = (z), .wn_rad_per_s = 250 }, .step_nm = 10, .dead_s = 2e-3, .velocity_rad_per_s = 40,           \
    .velocity_lag_s = 0.05, .rate_hz = (rate), .before_s = 0.1, .after_s = 0.4, .noise_ratio = (noise)                 \
  }

/* Two significant digits of a percentage. */
static void
print_percent (double share)
{
  double percent = 100 * fabs (share);
  int digits = percent >= 9.95 ? 0 : percent >= 0.995 ? 1 : percent >= 0.0995 ? 2 : 3;
  printf ("%s%.*f", digits < 3 || percent >= 0.0005 ? (share < 0 ? "−" : "+") : "", digits, percent);
}

/* Shares of the step are compared with the step: of a small one the noise makes any multiple. */
static gboolean
is_share_of_step (SbMeasureId id)
{
  return id == SB_MEASURE_OVERSHOOT || id == SB_MEASURE_UNDERSHOOT;
}

static void
print_cell (SbMeasureId id, const Tally *tally)
{
  if (tally->n < tally->n_absent) {
    printf (" absent |");
    return;
  }
  double truth = is_share_of_step (id) ? 1 : fabs (tally->truth / (double) tally->n),
         rmse = 100 * tally_rmse (tally) / truth;
  printf (" ");
  print_percent (tally_bias (tally) / truth);
  printf (" (%.*f) |", rmse >= 9.95 ? 0 : rmse >= 0.995 ? 1 : rmse >= 0.0995 ? 2 : 3, rmse);
}

static void
run (double zeta, double noise, double rate_hz, gsize n_draws, Tally *tally)
{
  Case c = CASE (zeta, rate_hz, noise);
  Simulation simulation;
  simulation_init (&simulation, &c, 1 + (guint64) (zeta * 1000));
  for (gsize d = 0; d < n_draws; d++) {
    SbMeasures *measures = simulation_draw (&simulation, NULL);
    for (int id = 0; id < SB_N_MEASURES; id++)
      tally_add (&tally[id], &measures->measure[id], simulation_truth (&simulation, (SbMeasureId) id));
    sb_measures_unref (measures);
  }
  simulation_clear (&simulation);
}

static void
write_table (double zeta, gsize n_draws)
{
  static Tally tally[N_NOISES][N_RATES][SB_N_MEASURES];
  memset (tally, 0, sizeof tally);
  for (gsize k = 0; k < N_NOISES; k++)
    for (gsize r = 0; r < N_RATES; r++)
      run (zeta, noises[k], rates_hz[r], n_draws, tally[k][r]);

  printf ("\n**Damping ratio %g** (overshoot %.0f %%).\n\n| measure |", zeta,
          100 * extremum ((SecondOrder){ zeta, 1 }, 1));
  for (gsize k = 0; k < N_NOISES; k++)
    for (gsize r = 0; r < N_RATES; r++)
      printf (" %g %%, %g kHz |", 100 * noises[k], rates_hz[r] / 1e3);
  printf ("\n|---|");
  for (gsize k = 0; k < N_NOISES * N_RATES; k++)
    printf ("---|");
  printf ("\n");
  for (int id = 0; id < SB_N_MEASURES; id++) {
    if (isnan (tally[0][0][id].truth) || (tally[0][0][id].n == 0 && tally[0][N_RATES - 1][id].n == 0))
      continue;
    printf ("| %s |", sb_measure_info ((SbMeasureId) id)->name);
    for (gsize k = 0; k < N_NOISES; k++)
      for (gsize r = 0; r < N_RATES; r++)
        print_cell ((SbMeasureId) id, &tally[k][r][id]);
    printf ("\n");
  }
}

int
main (int argc, char **argv)
{
  gsize n_draws = argc > 1 ? (gsize) strtoul (argv[1], NULL, 10) : 400;
  if (n_draws < 2) {
    fprintf (stderr, "usage: write_tables [DRAWS], two or more\n");
    return 64;
  }
  printf ("Bias, and in brackets the root mean square error, in percent of the true value (overshoot and "
          "undershoot: of the step); %zu draws for each cell.\n",
          n_draws);
  for (gsize z = 0; z < G_N_ELEMENTS (zetas); z++)
    write_table (zetas[z], n_draws);
  return 0;
}
