/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Least squares for the model of modes.h, a given number of modes at a time (Marquardt 1963; amplitudes, offset and
 * drift are linear and follow from the rest). For modes.c only. */
#pragma once

#include "measure.h"

/* Parameters in `x`: of each mode cosine and sine amplitude, decay, angular frequency; after the modes offset and
 * drift; then, where the rise is not over, what is left of it and its decay. */
#define SB_PER_MODE      4
#define SB_MOST_OF_MODES (SB_PER_MODE * SB_MAX_MODES + 4)
/* A mode makes more than a cycle in the record. */
#define SB_FEWEST_CYCLES 1

/* The record in units of its own: time in radians of the first guess, values in RMS. */
typedef struct {
  const double *u, *y;
  gsize n, n_modes;
  gboolean with_rest;  /* a rest of the rise is fitted beside the modes */
  double fastest_rest; /* its decay per radian at most */
  double rest_is_gone; /* decays that a rest of the rise goes through in the record at least */
  double step;         /* of u, when it is even; else 0 */
} SbModesProblem;

typedef struct {
  double x[SB_MOST_OF_MODES], variance[SB_MOST_OF_MODES * SB_MOST_OF_MODES];
  double squares; /* of what the fit leaves */
} SbModesSolution;

gsize sb_modes_n_parameters (const SbModesProblem *problem);

/* From the decays and frequencies in `x` all that is linear. FALSE when they cannot be told apart. */
gboolean sb_modes_solve_amplitudes (const SbModesProblem *problem, double *x);

/* What the model with `x` leaves of the record, at each of its n points. */
void sb_modes_residuals (const SbModesProblem *problem, const double *x, double *left);

/* From `solution->x`, whose decays and frequencies are a start, to the least sum of squares. It is given up where it
 * does not lead to `goal` or to modes that are any; then FALSE. */
gboolean sb_modes_minimize (const SbModesProblem *problem, double goal, SbModesSolution *solution);
