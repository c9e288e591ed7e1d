/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Writes the coverage table of 'Difference curve' in docs/methods.md to the standard output. */
#include "difference_cases.h"

#include <gsl/gsl_errno.h>
#include <stdio.h>
#include <stdlib.h>

int
main (int argc, char **argv)
{
  static const gsize sizes[][2] = { { 5, 5 }, { 5, 10 }, { 10, 10 } };
  gsize n_draws = argc > 1 ? (gsize) strtoul (argv[1], NULL, 10) : 2000;
  gsize n_points = argc > 2 ? (gsize) strtoul (argv[2], NULL, 10) : 400;
  if (n_draws < 2 || n_points < 10) {
    fprintf (stderr, "usage: write_coverage [DRAWS [INSTANTS]], two or more and ten or more\n");
    return 64;
  }
  gsl_set_error_handler_off ();
  printf ("Draws whose simultaneous band holds the true difference at all %zu instants (and, in brackets, instants at "
          "which "
          "the pointwise band does not hold it), in percent; %zu draws for each cell.\n\n| deviations of the repeats |",
          n_points, n_draws);
  for (gsize s = 0; s < G_N_ELEMENTS (sizes); s++)
    printf (" n = %zu, %zu |", sizes[s][0], sizes[s][1]);
  printf ("\n|---|---|---|---|\n");
  for (gsize i = 0; i < n_difference_cases; i++) {
    printf ("| %s |", difference_cases[i].name);
    for (gsize s = 0; s < G_N_ELEMENTS (sizes); s++) {
      DifferenceTally tally
          = simulate_difference (&difference_cases[i], sizes[s][0], sizes[s][1], n_points, n_draws, 1 + i);
      printf (" %.1f (%.1f) |", 100 * (double) tally.n_covered / (double) tally.n_draws,
              100 * (double) tally.n_outside / (double) tally.n_instants);
      fflush (stdout);
    }
    printf ("\n");
  }
  return 0;
}
