/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Writes the accuracy tables of docs/methods.md to the standard output: bias and root mean square error of every
 * measure, in percent of the true value, over noise, sample rate and ringing; and what its standard uncertainty is of
 * its error. */
#include "deviation.h"

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
  if (!(truth > 0)) {
    printf (" %.2g of 0 |", tally_bias (tally));
    return;
  }
  printf (" ");
  print_percent (tally_bias (tally) / truth);
  printf (" (%.*f) |", rmse >= 9.95 ? 0 : rmse >= 0.995 ? 1 : rmse >= 0.0995 ? 2 : 3, rmse);
}

/* Of one cell: against what is true, and against what the uncertainty is about. */
typedef struct {
  Tally error, jump;
} Cell;

static void
run (double zeta, double noise, double rate_hz, gsize n_draws, Cell *cell)
{
  Case c = CASE (zeta, rate_hz, noise);
  Simulation simulation;
  simulation_init (&simulation, &c, 1 + (guint64) (zeta * 1000));
  for (gsize d = 0; d < n_draws; d++) {
    SbMeasures *measures = simulation_draw (&simulation, NULL);
    for (int i = 0; i < SB_N_MEASURES; i++) {
      SbMeasureId id = (SbMeasureId) i;
      if (id == SB_MEASURE_VELOCITY_DEVIATION)
        continue;
      tally_add (&cell[i].error, &measures->measure[i], simulation_truth (&simulation, id));
      tally_add (&cell[i].jump, &measures->measure[i], simulation_truth_of_jump (&simulation, id));
    }
    sb_measures_unref (measures);
  }
  simulation_clear (&simulation);
  deviation_tally (&c, 1, MAX (n_draws / 10, 2), &cell[SB_MEASURE_VELOCITY_DEVIATION].error);
}

static void
print_ratio (const Tally *tally)
{
  if (tally->n < tally->n_absent || tally->n_known == 0)
    printf (" – |");
  else
    printf (" %.2f |", tally_u_ratio (tally));
}

static void
print_head (const char *title, double zeta)
{
  printf ("\n**%s, damping ratio %g** (overshoot %.0f %%).\n\n| measure |", title, zeta,
          100 * extremum ((SecondOrder){ zeta, 1 }, 1));
  for (gsize k = 0; k < N_NOISES; k++)
    for (gsize r = 0; r < N_RATES; r++)
      printf (" %g %%, %g kHz |", 100 * noises[k], rates_hz[r] / 1e3);
  printf ("\n|---|");
  for (gsize k = 0; k < N_NOISES * N_RATES; k++)
    printf ("---|");
  printf ("\n");
}

static void
write_table (double zeta, gsize n_draws)
{
  static Cell cell[N_NOISES][N_RATES][SB_N_MEASURES];
  memset (cell, 0, sizeof cell);
  for (gsize k = 0; k < N_NOISES; k++)
    for (gsize r = 0; r < N_RATES; r++)
      run (zeta, noises[k], rates_hz[r], n_draws, cell[k][r]);

  for (int uncertainty = 0; uncertainty < 2; uncertainty++) {
    print_head (uncertainty ? "Uncertainty over error" : "Bias (error)", zeta);
    for (int id = 0; id < SB_N_MEASURES; id++) {
      const Cell *any = &cell[0][N_RATES - 1][id];
      if (any->error.n == 0 || (uncertainty && any->jump.n_known == 0))
        continue;
      printf ("| %s |", sb_measure_info ((SbMeasureId) id)->name);
      for (gsize k = 0; k < N_NOISES; k++)
        for (gsize r = 0; r < N_RATES; r++)
          if (uncertainty)
            print_ratio (&cell[k][r][id].jump);
          else
            print_cell ((SbMeasureId) id, &cell[k][r][id].error);
      printf ("\n");
    }
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
          "undershoot: of the step); %zu draws for each cell. Then the stated standard uncertainty over the root mean "
          "square error: 1 is honest, less is bold, more is careful.\n",
          n_draws);
  for (gsize z = 0; z < G_N_ELEMENTS (zetas); z++)
    write_table (zetas[z], n_draws);
  return 0;
}
