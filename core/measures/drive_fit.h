/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Weighted nonlinear least squares of the drive model, and what its result is worth. For the files of this folder. */
#pragma once

#include <glib.h>

#define SB_DRIVE_MOST_PARAMETERS 12

/* Residuals of n points, each divided by its standard deviation, into `f`, and their derivatives by the p parameters
 * into `jacobian`, row by row; either may be NULL. */
typedef void (*SbDriveResiduals) (const double *x, gpointer data, double *f, double *jacobian);

typedef struct {
  SbDriveResiduals residuals;
  gpointer data;
  gsize n, p; /* n > p */
} SbDriveProblem;

typedef enum {
  SB_DRIVE_END_FAILED,    /* not to finite numbers */
  SB_DRIVE_END_UNDERWAY,  /* the iterations were used up, or no step led further */
  SB_DRIVE_END_CONVERGED, /* the last step changed no parameter by more than the tolerance, as a share */
} SbDriveEnd;

/* Levenberg–Marquardt (GSL) from `x`, which is overwritten, as `squares` is, unless it fails. */
SbDriveEnd
sb_drive_minimise (const SbDriveProblem *problem, double *x, double tolerance, gsize most_iterations, double *squares);

/* The result made linear: a change of the residuals by f changes x by −gain · f. */
typedef struct {
  gsize p;
  double inverse[SB_DRIVE_MOST_PARAMETERS * SB_DRIVE_MOST_PARAMETERS]; /* (JᵀJ)⁻¹, without directions that are open */
  double *jacobian;                                                    /* n * p, owned */
  gboolean open[SB_DRIVE_MOST_PARAMETERS]; /* can be changed, alone or with others, and the residuals stay */
} SbDriveTangent;

void sb_drive_tangent_init (SbDriveTangent *tangent, const SbDriveProblem *problem, const double *x);
void sb_drive_tangent_clear (SbDriveTangent *tangent);

/* Change of x for residuals `f` of other data: −(JᵀJ)⁻¹ Jᵀ f. */
void sb_drive_tangent_step (const SbDriveTangent *tangent, gsize n, const double *f, double *step);

/* Variance of residuals f (RSS / (n − p)), enlarged for neighbours that are alike, by (1 + r) / (1 − r) with r their
 * lag-1 autocorrelation where positive. */
double sb_drive_residual_variance (const double *f, gsize n, gsize p);
