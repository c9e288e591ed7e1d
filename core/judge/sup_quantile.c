/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sup_quantile.h"

#include "steady_math.h"

#include <gsl/gsl_cdf.h>
#include <gsl/gsl_randist.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#define SEED         20110621
#define N_PILOT      32
#define N_DRAWS      128
#define PILOT_SHARE  4.0 /* chance at one instant that draws begin from, in multiples of the chance looked for */
#define DRAWS_SHARE  2.5
#define GOLDEN       0.6180339887498949
#define BLOCK_POINTS 256
#define N_BLOCKS     16 /* held at a time */
#define FEW_POINTS   40 /* of a block; worked out one by one */

typedef struct {
  double highest; /* of |t| */
  double weight;  /* probability that the draw stands for */
} Draw;

/* Some of the deviations in blocks of points, so that a block of all rows stays in the processor's first cache: row i
 * of block b is at[(b * n_rows + i) * BLOCK_POINTS]. Points past the last are 0. */
typedef struct {
  double *rows; /* as they are filled in */
  float *at;
  gsize n_rows, n_blocks; /* blocks in use */
} Blocks;

/* Vectors of one draw, n_rows values each: the difference, then as many that make up the scatter. And what came of it.
 */
typedef struct {
  double *difference, *scatter;
  gsize n_beyond; /* points */
  double highest2;
} Vectors;

typedef struct {
  const SbDeviations *deviations;
  Blocks blocks;
  gsl_rng *random;
  gsize n_scatter;
  double *along; /* the deviations of one point */
} Simulation;

static void
blocks_init (Blocks *blocks, const SbDeviations *deviations)
{
  gsize n = deviations->n_rows * N_BLOCKS * BLOCK_POINTS;
  *blocks = (Blocks){ g_new (double, n), g_new (float, n), deviations->n_rows, 0 };
}

/* The points from `from` on, as many as are left or can be held. */
static void
blocks_fill (Blocks *blocks, const SbDeviations *deviations, gsize from)
{
  gsize n = MIN (deviations->n_points - from, N_BLOCKS * BLOCK_POINTS), n_rows = blocks->n_rows;
  deviations->fill (deviations->data, from, n, blocks->rows);
  blocks->n_blocks = (n + BLOCK_POINTS - 1) / BLOCK_POINTS;
  memset (blocks->at, 0, blocks->n_blocks * n_rows * BLOCK_POINTS * sizeof *blocks->at);
  for (gsize i = 0; i < n_rows; i++)
    for (gsize k = 0; k < n; k++)
      blocks->at[((k / BLOCK_POINTS) * n_rows + i) * BLOCK_POINTS + k % BLOCK_POINTS] = (float) blocks->rows[i * n + k];
}

static double
tail (double height, double df)
{
  return 2 * gsl_cdf_tdist_Q (height, df);
}

static double
height_of_tail (double probability, double df)
{
  return gsl_cdf_tdist_Qinv (MIN (probability, 1) / 2, df);
}

/* Length of the way that the direction of the deviations goes on its sphere, which says how often they are new. */
static double
way (const Simulation *s)
{
  const SbDeviations *deviations = s->deviations;
  gsize step = N_BLOCKS * BLOCK_POINTS - 1; /* stretches share their ends */
  double *rows = s->blocks.rows, length = 0;
  for (gsize from = 0; from + 1 < deviations->n_points; from += step) {
    gsize n = MIN (deviations->n_points - from, step + 1);
    deviations->fill (deviations->data, from, n, rows);
    for (gsize k = 0; k + 1 < n; k++) {
      double cosine = 0;
      for (gsize i = 0; i < deviations->n_rows; i++)
        cosine += rows[i * n + k] * rows[i * n + k + 1];
      length += sb_acos (CLAMP (cosine, -1, 1));
    }
  }
  return length;
}

/* The smaller of two bounds on the chance of going beyond `height` anywhere: Bonferroni's, and the expected Euler
 * characteristic of a smooth curve of Student's t (Worsley 1994, from memory). It tells where to begin. */
static double
bound (const SbDeviations *deviations, double length, double height)
{
  double df = deviations->df, one = tail (height, df);
  double smooth = one + length / G_PI * sb_pow (1 + height * height / df, -(df - 1) / 2);
  return MIN ((double) deviations->n_points * one, smooth);
}

static double
height_of_bound (const Simulation *s, double alpha)
{
  const SbDeviations *deviations = s->deviations;
  double length = way (s), low = 0;
  double high = height_of_tail (alpha / (double) deviations->n_points, deviations->df);
  for (int i = 0; i < 40; i++) {
    double middle = (low + high) / 2;
    if (bound (deviations, length, middle) > alpha)
      low = middle;
    else
      high = middle;
  }
  return high;
}

/* Reflects `vector` so that the first axis comes to lie `along` a direction. */
static void
reflect (const double *along, gsize n, double *vector)
{
  double first = along[0] - 1, square = 2 * (1 - along[0]); /* of the axis's difference from the direction */
  if (square < 1e-12)
    return;
  double product = first * vector[0];
  for (gsize i = 1; i < n; i++)
    product += along[i] * vector[i];
  double factor = 2 * product / square;
  vector[0] -= factor * first;
  for (gsize i = 1; i < n; i++)
    vector[i] -= factor * along[i];
}

/* Vectors given that |t| at `point` is what one instant exceeds with the probability `chance`. The scatter is a Wishart
 * matrix by its triangular factor (Bartlett 1933), begun at that point. */
static void
draw_vectors (Simulation *s, gsize point, double chance, Vectors *vectors)
{
  gsize n = s->deviations->n_rows;
  double df = s->deviations->df;
  double t = height_of_tail (chance, df);
  double radius = sqrt (gsl_ran_chisq (s->random, df + 1)), size = sqrt (df + t * t);
  s->deviations->fill (s->deviations->data, point, 1, s->along);
  vectors->difference[0] = radius * t / size;
  for (gsize i = 1; i < n; i++)
    vectors->difference[i] = gsl_ran_gaussian_ziggurat (s->random, 1);
  reflect (s->along, n, vectors->difference);
  for (gsize j = 0; j < s->n_scatter; j++) {
    double *column = vectors->scatter + j * n;
    memset (column, 0, j * sizeof *column);
    column[j] = j == 0 ? radius * sqrt (df) / size : sqrt (gsl_ran_chisq (s->random, df - (double) j));
    for (gsize i = j + 1; i < n; i++)
      column[i] = gsl_ran_gaussian_ziggurat (s->random, 1);
    reflect (s->along, n, column);
  }
}

/* values += factor * row, over a whole block: a fixed length, so that compilers make wide instructions of it. */
static inline void
add_row (float *restrict values, const float *restrict row, float factor)
{
  for (int k = 0; k < BLOCK_POINTS; k++)
    values[k] += factor * row[k];
}

static inline void
add_four_rows (float *restrict values, const float *restrict rows, const double *factors)
{
  float a = (float) factors[0], b = (float) factors[1], c = (float) factors[2], d = (float) factors[3];
  for (int k = 0; k < BLOCK_POINTS; k++)
    values[k] += (a * rows[k] + b * rows[BLOCK_POINTS + k])
                 + (c * rows[2 * BLOCK_POINTS + k] + d * rows[3 * BLOCK_POINTS + k]);
}

static void
project (const float *rows, gsize n_rows, const double *vector, float *values)
{
  gsize i = 0;
  memset (values, 0, BLOCK_POINTS * sizeof *values);
  for (; i + 4 <= n_rows; i += 4)
    add_four_rows (values, rows + i * BLOCK_POINTS, vector + i);
  for (; i < n_rows; i++)
    add_row (values, rows + i * BLOCK_POINTS, (float) vector[i]);
}

static double
project_point (const float *rows, gsize n_rows, const double *vector, int k)
{
  double value = 0;
  for (gsize i = 0; i < n_rows; i++)
    value += vector[i] * (double) rows[i * BLOCK_POINTS + (gsize) k];
  return value;
}

/* What the points of a block have come to: t² = square / scatter, the scatter being summed up part by part. */
typedef struct {
  float square[BLOCK_POINTS], scatter[BLOCK_POINTS], part[BLOCK_POINTS];
  int beyond[BLOCK_POINTS]; /* points that are beyond the height still */
  int n_beyond;
} Block;

static void
add_part (Block *block)
{
  for (int k = 0; k < BLOCK_POINTS; k++)
    block->scatter[k] += block->part[k] * block->part[k];
}

static void
list_beyond (Block *block, float height2)
{
  int n = 0;
  for (int k = 0; k < BLOCK_POINTS; k++) {
    block->beyond[n] = k; /* without a branch: what is not kept is written over */
    n += block->square[k] > height2 * block->scatter[k] ? 1 : 0;
  }
  block->n_beyond = n;
}

/* The next part of the scatter at the few points listed. */
static void
work_listed (Block *block, const float *rows, gsize n_rows, const double *vector, float height2)
{
  int n_left = 0;
  for (int b = 0; b < block->n_beyond; b++) {
    int k = block->beyond[b];
    float part = (float) project_point (rows, n_rows, vector, k);
    block->scatter[k] += part * part;
    if (block->square[k] > height2 * block->scatter[k])
      block->beyond[n_left++] = k;
  }
  block->n_beyond = n_left;
}

/* Leaves the points whose t² is beyond `height2` listed: for most the first parts of the scatter tell that it is not.
 */
static void
work_block (const Simulation *s, const Vectors *vectors, const float *rows, float height2, Block *block)
{
  gsize n_rows = s->blocks.n_rows;
  memset (block->scatter, 0, sizeof block->scatter);
  project (rows, n_rows, vectors->difference, block->square);
  for (int k = 0; k < BLOCK_POINTS; k++)
    block->square[k] *= block->square[k] * (float) s->deviations->df;
  block->n_beyond = BLOCK_POINTS;
  for (gsize j = 0; j < s->n_scatter && block->n_beyond > 0; j++) {
    const double *vector = vectors->scatter + j * n_rows;
    if (block->n_beyond > FEW_POINTS) {
      project (rows, n_rows, vector, block->part);
      add_part (block);
      list_beyond (block, height2);
    } else {
      work_listed (block, rows, n_rows, vector, height2);
    }
  }
}

/* Point and height of draw `index` of n are spread evenly over all that there are: the fractional parts of the
 * multiples of the golden ratio lie apart from one another (Niederreiter 1978, from memory). */
static void
draw_one (Simulation *s, double height, gsize index, gsize n_draws, Vectors *vectors)
{
  double whole, place = modf (((double) index + 0.5) * GOLDEN, &whole), chance = tail (height, s->deviations->df);
  draw_vectors (s, (gsize) (place * (double) s->deviations->n_points),
                chance * ((double) index + 0.5) / (double) n_draws, vectors);
  vectors->n_beyond = 0;
  vectors->highest2 = height * height;
}

/* Takes one draw over the points that are held. */
static void
follow (const Simulation *s, double height, Vectors *vectors)
{
  const Blocks *blocks = &s->blocks;
  Block block;
  for (gsize b = 0; b < blocks->n_blocks; b++) {
    work_block (s, vectors, blocks->at + b * blocks->n_rows * BLOCK_POINTS, (float) (height * height), &block);
    vectors->n_beyond += (gsize) block.n_beyond;
    for (int i = 0; i < block.n_beyond; i++) {
      int k = block.beyond[i];
      vectors->highest2 = MAX (vectors->highest2, (double) block.square[k] / (double) block.scatter[k]);
    }
  }
}

/* All draws first, then the points stretch by stretch, each draw over all of a stretch. */
static void
make_draws (Simulation *s, double height, gsize n, Draw *draws)
{
  gsize n_points = s->deviations->n_points, n_rows = s->deviations->n_rows, size = n_rows * (1 + s->n_scatter);
  double chance = tail (height, s->deviations->df);
  g_autofree double *values = g_new (double, n *size);
  g_autofree Vectors *vectors = g_new (Vectors, n);
  for (gsize b = 0; b < n; b++) {
    vectors[b] = (Vectors){ .difference = values + b * size, .scatter = values + b * size + n_rows };
    draw_one (s, height, b, n, &vectors[b]);
  }
  for (gsize from = 0; from < n_points; from += N_BLOCKS * BLOCK_POINTS) {
    blocks_fill (&s->blocks, s->deviations, from);
    for (gsize b = 0; b < n; b++)
      follow (s, height, &vectors[b]);
  }
  for (gsize b = 0; b < n; b++)
    draws[b] = (Draw){ sqrt (vectors[b].highest2), (double) n_points * chance / (double) MAX (vectors[b].n_beyond, 1) };
}

static int
by_height_falling (const void *a, const void *b)
{
  double x = ((const Draw *) a)->highest, y = ((const Draw *) b)->highest;
  return (x < y) - (x > y);
}

/* From n draws beyond `height`: what is exceeded with the probability alpha. NaN when that lies below `height`. */
static double
quantile_beyond (Simulation *s, double height, gsize n, double alpha)
{
  g_autofree Draw *draws = g_new (Draw, n);
  double sum = 0;
  make_draws (s, height, n, draws);
  qsort (draws, n, sizeof *draws, by_height_falling);
  for (gsize b = 0; b < n; b++) {
    double next = sum + draws[b].weight / (double) n;
    if (next >= alpha) {
      double above = b > 0 ? draws[b - 1].highest : draws[b].highest;
      return above + (draws[b].highest - above) * (alpha - sum) / (next - sum);
    }
    sum = next;
  }
  return NAN;
}

/* Begins lower until the quantile is beyond. At the height that one instant alone exceeds with the probability alpha it
 * always is, but for the chance of the draws. */
static double
quantile_from (Simulation *s, double height, gsize n, double alpha)
{
  double df = s->deviations->df, lowest = height_of_tail (alpha, df);
  for (;;) {
    height = MAX (height, lowest);
    double quantile = quantile_beyond (s, height, n, alpha);
    if (!isnan (quantile))
      return quantile;
    if (height <= lowest)
      return lowest;
    height = height_of_tail (2 * tail (height, df), df);
  }
}

/* A covariance from few repeats hangs together over time more than the true one, so that too little would be exceeded;
 * this share of the chance makes up for it (found by simulation, tests/accuracy). */
static double
chance_for_few (double alpha, gsize n_rows)
{
  return alpha * (1 - 2 / (double) n_rows);
}

double
sb_sup_quantile (const SbDeviations *deviations, double chance)
{
  gsize n = deviations->n_rows;
  double alpha = chance_for_few (chance, n);
  Simulation s = { .deviations = deviations, .n_scatter = MIN (n, (gsize) ceil (deviations->df)) };
  blocks_init (&s.blocks, deviations);
  s.along = g_new (double, n);
  s.random = gsl_rng_alloc (gsl_rng_taus2);
  gsl_rng_set (s.random, SEED);
  double df = deviations->df, begin = height_of_bound (&s, alpha);
  double pilot = quantile_from (&s, height_of_tail (PILOT_SHARE * tail (begin, df), df), N_PILOT, alpha);
  double quantile = quantile_from (&s, height_of_tail (DRAWS_SHARE * tail (pilot, df), df), N_DRAWS, alpha);
  gsl_rng_free (s.random);
  g_free (s.along);
  g_free (s.blocks.rows);
  g_free (s.blocks.at);
  return quantile;
}
