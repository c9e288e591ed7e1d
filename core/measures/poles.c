/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "poles.h"

#include <gsl/gsl_blas.h>
#include <gsl/gsl_complex_math.h>
#include <gsl/gsl_eigen.h>

#include <math.h>

/* The snapshots: rows of this many samples, two cycles of what is looked for. */
#define LONGEST_ROW  24
#define SHORTEST_ROW 4
/* Below this share of the largest moment there is nothing but rounding. */
#define RANK_TOLERANCE 1e-12

/* Sums of products of the record with itself, shifted. The first row is summed; each other moment is the one up and to
 * the left of it, less its first product and with the next one. */
static gsl_matrix *
moments (const double *y, gsize n, gsize row)
{
  gsl_matrix *m = gsl_matrix_alloc (row, row);
  gsize length = n + 1 - row;
  for (gsize k = 0; k < row; k++) {
    double sum = 0;
    for (gsize i = 0; i < length; i++)
      sum += y[i] * y[i + k];
    gsl_matrix_set (m, 0, k, sum);
    gsl_matrix_set (m, k, 0, sum);
  }
  for (gsize j = 1; j < row; j++)
    for (gsize k = j; k < row; k++) {
      double sum = gsl_matrix_get (m, j - 1, k - 1) - y[j - 1] * y[k - 1] + y[j - 1 + length] * y[k - 1 + length];
      gsl_matrix_set (m, j, k, sum);
      gsl_matrix_set (m, k, j, sum);
    }
  return m;
}

/* The matrix whose eigenvalues are the poles: (V₁ᵀV₁)⁻¹ V₁ᵀV₂, with V the leading `rank` eigenvectors, V₁ without its
 * last row and V₂ without its first. V has orthonormal columns, so V₁ᵀV₁ is I - u uᵀ with u the last row, whose inverse
 * is known (Sherman & Morrison). */
static gsl_matrix *
shift_matrix (const gsl_matrix *v, gsize rank)
{
  gsize row = v->size1;
  gsl_matrix_const_view v1 = gsl_matrix_const_submatrix (v, 0, 0, row - 1, rank);
  gsl_matrix_const_view v2 = gsl_matrix_const_submatrix (v, 1, 0, row - 1, rank);
  gsl_matrix *shift = gsl_matrix_alloc (rank, rank);
  gsl_blas_dgemm (CblasTrans, CblasNoTrans, 1, &v1.matrix, &v2.matrix, 0, shift);
  double rest = 1;
  for (gsize i = 0; i < rank; i++)
    rest -= gsl_matrix_get (v, row - 1, i) * gsl_matrix_get (v, row - 1, i);
  rest = fmax (rest, 1e-9);
  double along[2 * SB_MAX_POLES] = { 0 };
  for (gsize k = 0; k < rank; k++)
    for (gsize i = 0; i < rank; i++)
      along[k] += gsl_matrix_get (v, row - 1, i) * gsl_matrix_get (shift, i, k);
  for (gsize i = 0; i < rank; i++)
    for (gsize k = 0; k < rank; k++)
      *gsl_matrix_ptr (shift, i, k) += gsl_matrix_get (v, row - 1, i) * along[k] / rest;
  return shift;
}

static gsize
poles_of (gsl_matrix *shift, SbPole *pole)
{
  gsl_vector_complex *values = gsl_vector_complex_alloc (shift->size1);
  gsl_eigen_nonsymm_workspace *workspace = gsl_eigen_nonsymm_alloc (shift->size1);
  gsize n_poles = 0;
  if (gsl_eigen_nonsymm (shift, values, workspace) == 0)
    for (gsize i = 0; i < values->size; i++) {
      gsl_complex z = gsl_vector_complex_get (values, i);
      if (GSL_IMAG (z) > 1e-9 && n_poles < SB_MAX_POLES)
        pole[n_poles++] = (SbPole){ -gsl_complex_logabs (z), gsl_complex_arg (z) };
    }
  gsl_eigen_nonsymm_free (workspace);
  gsl_vector_complex_free (values);
  return n_poles;
}

gsize
sb_poles_estimate (const double *y, gsize n, SbPole pole[SB_MAX_POLES])
{
  gsize row = MIN (n / 2, LONGEST_ROW);
  if (row < SHORTEST_ROW)
    return 0;
  gsl_matrix *m = moments (y, n, row), *v = gsl_matrix_alloc (row, row);
  gsl_vector *values = gsl_vector_alloc (row);
  gsl_eigen_symmv_workspace *workspace = gsl_eigen_symmv_alloc (row);
  gsize n_poles = 0;
  if (gsl_eigen_symmv (m, values, v, workspace) == 0) {
    gsl_eigen_symmv_sort (values, v, GSL_EIGEN_SORT_ABS_DESC);
    gsize rank = 0, most = MIN (2 * SB_MAX_POLES, row - 1);
    while (rank < most && gsl_vector_get (values, rank) > RANK_TOLERANCE * gsl_vector_get (values, 0))
      rank++;
    if (rank >= 2) {
      gsl_matrix *shift = shift_matrix (v, rank);
      n_poles = poles_of (shift, pole);
      gsl_matrix_free (shift);
    }
  }
  gsl_eigen_symmv_free (workspace);
  gsl_vector_free (values);
  gsl_matrix_free (v);
  gsl_matrix_free (m);
  return n_poles;
}
