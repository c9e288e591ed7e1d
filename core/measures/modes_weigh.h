/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How far the noise speaks for a rest of the rise, and what noise that is not white does to a fit. For modes.c only. */
#pragma once

#include "modes_solve.h"

/* Lag-1 autocorrelation of what the fit leaves; 0 where it is no more than what chance does to white noise. */
double sb_modes_lag1 (const SbModesProblem *problem, const SbModesSolution *solution);

/* Power of a first-order autoregression at the angular frequency `omega` (radians per point) over that of white noise
 * of the same variance (any text on time series): 1 of lag1 0, (1 + lag1) / (1 - lag1) at omega 0. */
double sb_modes_noise_power (double lag1, double omega);

/* What a rest of the rise gains, in units of the noise's power where it lies: of white noise without one it is about
 * chi-square with two degrees of freedom. `lag1` is that of what the fit with it leaves. */
double sb_modes_gain (gsize n, double squares_without, double squares_with, double lag1);

/* Weight of the fit with a rest against that without one, by Akaike's criterion (Burnham & Anderson 2002, Model
 * Selection and Multimodel Inference, from memory): two parameters more. */
double sb_modes_weight_of_rest (double gain);

/* The mean of both, each parameter by its weight, with the standard errors of such a mean (Burnham & Anderson, from
 * memory): Σ w √(sd² + (distance from the mean)²). `weight` is that of `b`. */
SbMode sb_modes_mean (const SbMode *a, const SbMode *b, double weight);

/* `mode` stays what it is, with the standard errors of one that is pulled with the chance `weight`. `other`, of the fit
 * that would be right then, has a variance of its own: of unpulled modes the square of the distance of the two is the
 * difference of their variances on average (Hausman 1978, from memory), so that what is beyond it is the pull's. */
void sb_modes_widen (SbMode *mode, const SbMode *other, double weight);
