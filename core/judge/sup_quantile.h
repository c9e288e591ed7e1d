/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Inside judge only: how far the largest of many studentized differences, one for each instant, goes by chance.
 *
 * The scatter of the repeats is taken to be normal, with the covariance over time that the repeats themselves show; the
 * largest |t| of such curves is simulated, with difference and scatter drawn anew each time, so that at each instant it
 * follows Student's distribution however few the repeats are (Degras 2011, Statistica Sinica 21, 1735-1765, for the
 * simulation of the supremum; Telschow & Schwartzman 2022, Journal of Statistical Planning and Inference 216, 70-94,
 * for studentized curves of few repeats). Draws are made where they matter, beyond a height at one instant chosen by
 * chance, and weighted by how many instants go beyond it (Naiman & Priebe 2001, Journal of Computational and Graphical
 * Statistics 10, 296-328). All three from memory. */
#pragma once

#include <glib.h>

/* Writes the deviations of `n` points from `from` on: row i of them at rows[i * n]; at each point the squares of the
 * rows add up to 1. */
typedef void (*SbFillDeviations) (gpointer data, gsize from, gsize n, double *rows);

/* Deviations are asked for by stretches of points, again and again, so that never all of them are held. */
typedef struct {
  SbFillDeviations fill;
  gpointer data;
  gsize n_rows, n_points;
  double df; /* of the scatter at each point; at least 1 */
} SbDeviations;

/* What the largest |t| over all points exceeds with the probability `chance` (0.05); n_rows at least 4. Seeded: the
 * same deviations give the same value. */
double sb_sup_quantile (const SbDeviations *deviations, double chance);
