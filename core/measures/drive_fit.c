/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "drive_fit.h"

#include <gsl/gsl_blas.h>
#include <gsl/gsl_eigen.h>
#include <gsl/gsl_errno.h>
#include <gsl/gsl_multifit_nlinear.h>

#include <math.h>
#include <string.h>

#define G_TOLERANCE 1e-10
/* Largest such cosine. */
#define STATIONARY  1e-5
#define F_TOLERANCE 1e-10
/* Of the largest eigenvalue of JᵀJ with columns of length 1; below it a direction is open. */
#define OPEN_RATIO 1e-9
/* A parameter belongs to an open direction when it is more than this much of it. */
#define OPEN_SHARE 0.1

static int
fill_residuals (const gsl_vector *x, void *data, gsl_vector *f)
{
  const SbDriveProblem *problem = data;
  problem->residuals (x->data, problem->data, f->data, NULL);
  return GSL_SUCCESS;
}

static int
fill_jacobian (const gsl_vector *x, void *data, gsl_matrix *jacobian)
{
  const SbDriveProblem *problem = data;
  g_assert (jacobian->tda == problem->p);
  problem->residuals (x->data, problem->data, NULL, jacobian->data);
  return GSL_SUCCESS;
}

static gboolean
all_finite (const double *x, gsize n)
{
  for (gsize i = 0; i < n; i++)
    if (!isfinite (x[i]))
      return FALSE;
  return TRUE;
}

/* No parameter has a say in the residuals any more: the cosine between them and its column is next to nothing (Moré
 * 1978). A start at the minimum leaves GSL without a step that leads down, which is no failure. */
static gboolean
is_stationary (const gsl_matrix *jacobian, const gsl_vector *f)
{
  double length = gsl_blas_dnrm2 (f);
  for (gsize k = 0; k < jacobian->size2; k++) {
    gsl_vector_const_view column = gsl_matrix_const_column (jacobian, k);
    double product = 0;
    gsl_blas_ddot (&column.vector, f, &product);
    if (fabs (product) > STATIONARY * gsl_blas_dnrm2 (&column.vector) * length)
      return FALSE;
  }
  return TRUE;
}

SbDriveEnd
sb_drive_minimise (const SbDriveProblem *problem, double *x, double tolerance, gsize most_iterations, double *squares)
{
  gsl_multifit_nlinear_parameters parameters = gsl_multifit_nlinear_default_parameters ();
  parameters.solver = gsl_multifit_nlinear_solver_cholesky;
  gsl_multifit_nlinear_workspace *work
      = gsl_multifit_nlinear_alloc (gsl_multifit_nlinear_trust, &parameters, problem->n, problem->p);
  SbDriveProblem copy = *problem;
  gsl_multifit_nlinear_fdf fdf
      = { .f = fill_residuals, .df = fill_jacobian, .n = problem->n, .p = problem->p, .params = &copy };
  gsl_vector_view start = gsl_vector_view_array (x, problem->p);
  int info = 0, status = gsl_multifit_nlinear_init (&start.vector, &fdf, work);
  if (status == GSL_SUCCESS)
    status
        = gsl_multifit_nlinear_driver (most_iterations, tolerance, G_TOLERANCE, F_TOLERANCE, NULL, NULL, &info, work);
  const gsl_vector *found = gsl_multifit_nlinear_position (work), *f = gsl_multifit_nlinear_residual (work);
  SbDriveEnd end = SB_DRIVE_END_FAILED;
  if (all_finite (found->data, problem->p) && all_finite (f->data, problem->n)) {
    gboolean done = status == GSL_SUCCESS || is_stationary (gsl_multifit_nlinear_jac (work), f);
    end = done ? SB_DRIVE_END_CONVERGED : SB_DRIVE_END_UNDERWAY;
    memcpy (x, found->data, problem->p * sizeof *x);
    *squares = 0;
    for (gsize i = 0; i < problem->n; i++)
      *squares += f->data[i] * f->data[i];
  }
  gsl_multifit_nlinear_free (work);
  return end;
}

/* JᵀJ with columns scaled to length 1; a column of zeros stays one. */
static void
fill_normal (const SbDriveTangent *tangent, gsize n, double *normal, double *length)
{
  gsize p = tangent->p;
  memset (normal, 0, p * p * sizeof *normal);
  for (gsize i = 0; i < n; i++) {
    const double *row = tangent->jacobian + i * p;
    for (gsize a = 0; a < p; a++)
      for (gsize b = 0; b <= a; b++)
        normal[a * p + b] += row[a] * row[b];
  }
  for (gsize a = 0; a < p; a++)
    length[a] = normal[a * p + a] > 0 ? sqrt (normal[a * p + a]) : 1;
  for (gsize a = 0; a < p; a++)
    for (gsize b = 0; b <= a; b++)
      normal[b * p + a] = normal[a * p + b] /= length[a] * length[b];
}

/* Adds what one eigenvector gives to the inverse, or marks the parameters that it leaves open. */
static void
take_direction (SbDriveTangent *tangent, const gsl_vector *value, const gsl_matrix *vectors, gsize k,
                const double *length)
{
  gsize p = tangent->p;
  double largest = gsl_vector_max (value), own = gsl_vector_get (value, k);
  for (gsize a = 0; a < p; a++) {
    double va = gsl_matrix_get (vectors, a, k);
    if (!(own > OPEN_RATIO * largest)) {
      tangent->open[a] = tangent->open[a] || fabs (va) > OPEN_SHARE;
      continue;
    }
    for (gsize b = 0; b < p; b++)
      tangent->inverse[a * p + b] += va * gsl_matrix_get (vectors, b, k) / own / length[a] / length[b];
  }
}

void
sb_drive_tangent_init (SbDriveTangent *tangent, const SbDriveProblem *problem, const double *x)
{
  gsize p = problem->p;
  *tangent = (SbDriveTangent){ .p = p, .jacobian = g_new0 (double, problem->n *p) };
  problem->residuals (x, problem->data, NULL, tangent->jacobian);
  double normal[SB_DRIVE_MOST_PARAMETERS * SB_DRIVE_MOST_PARAMETERS], length[SB_DRIVE_MOST_PARAMETERS] = { 0 };
  fill_normal (tangent, problem->n, normal, length);
  gsl_matrix_view matrix = gsl_matrix_view_array (normal, p, p);
  gsl_vector *value = gsl_vector_alloc (p);
  gsl_matrix *vectors = gsl_matrix_alloc (p, p);
  gsl_eigen_symmv_workspace *work = gsl_eigen_symmv_alloc (p);
  if (gsl_eigen_symmv (&matrix.matrix, value, vectors, work) == GSL_SUCCESS)
    for (gsize k = 0; k < p; k++)
      take_direction (tangent, value, vectors, k, length);
  else
    for (gsize a = 0; a < p; a++)
      tangent->open[a] = TRUE;
  gsl_eigen_symmv_free (work);
  gsl_matrix_free (vectors);
  gsl_vector_free (value);
}

void
sb_drive_tangent_clear (SbDriveTangent *tangent)
{
  g_clear_pointer (&tangent->jacobian, g_free);
}

void
sb_drive_tangent_step (const SbDriveTangent *tangent, gsize n, const double *f, double *step)
{
  gsize p = tangent->p;
  double gradient[SB_DRIVE_MOST_PARAMETERS] = { 0 };
  for (gsize i = 0; i < n; i++)
    for (gsize a = 0; a < p; a++)
      gradient[a] += tangent->jacobian[i * p + a] * f[i];
  for (gsize a = 0; a < p; a++) {
    step[a] = 0;
    for (gsize b = 0; b < p; b++)
      step[a] -= tangent->inverse[a * p + b] * gradient[b];
  }
}

double
sb_drive_residual_variance (const double *f, gsize n, gsize p)
{
  double squares = 0, products = 0;
  for (gsize i = 0; i < n; i++) {
    squares += f[i] * f[i];
    products += i > 0 ? f[i] * f[i - 1] : 0;
  }
  double r = squares > 0 ? CLAMP (products / squares, 0, 0.999) : 0;
  return squares / (double) (n - p) * (1 + r) / (1 - r);
}
