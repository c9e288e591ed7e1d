/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "steps.h"

#include "levels.h"

#include <gsl/gsl_statistics_double.h>
#include <math.h>

/* A command is looked at in blocks of at least so many samples, and in at most about so many blocks. */
#define BLOCK_SAMPLES 4
#define MAX_BLOCKS    16384
/* What is held for less is a glitch. */
#define HOLD_SAMPLES 8
#define HOLD_S       0.005
/* A log that was triggered by its step has no more than a few samples of the level before. */
#define FIRST_SAMPLES 3
/* Shares of the command's range: what a level may waver by, and what two levels differ by. */
#define WAVER_SHARE 0.005
#define STEP_SHARE  0.02
/* Noise: of block means in standard deviations, of a block's range in its usual range. */
#define WAVER_SDS    5
#define QUIET_RANGES 3
/* The thirds of a level agree within this share of what it may waver by, or within this many standard deviations. */
#define DRIFT_SHARE 0.3
#define DRIFT_SDS   4
/* A release comes back to the level of rest within this share of its step. */
#define RELEASE_SHARE 0.05
/* A sample within this share of the step from a level belongs to it. */
#define LEVEL_SHARE 0.02
#define MAD_TO_SD   1.4826

typedef struct {
  double low, high, mean;
} Block;

/* What the command looks like in blocks, and the limits that follow. */
typedef struct {
  const double *t, *y;
  gsize n;
  gsize n_blocks, block_size; /* the last block may be longer */
  Block *blocks;
  double mean_sd;    /* of a block's mean, by noise */
  double quiet;      /* largest range of a block in which nothing happens */
  double waver;      /* how far a block's mean may be from its level */
  double least_step; /* between two levels */
  double near;       /* how far a sample may be from its level */
} Blocks;

/* A stretch at one level: samples first..last. */
typedef struct {
  gsize first, last;
  double level;
} Level;

static gsize
block_end (const Blocks *b, gsize block)
{
  return block + 1 == b->n_blocks ? b->n : (block + 1) * b->block_size;
}

static void
fill_blocks (Blocks *b)
{
  for (gsize k = 0; k < b->n_blocks; k++) {
    gsize first = k * b->block_size, end = block_end (b, k);
    double low = b->y[first], high = low, sum = 0;
    for (gsize i = first; i < end; i++) {
      double y = b->y[i];
      low = y < low ? y : low;
      high = y > high ? y : high;
      sum += y;
    }
    b->blocks[k] = (Block){ low, high, low < high ? sum / (double) (end - first) : low };
  }
}

/* Upper median of n >= 1 values, which are reordered. */
static double
median (double *x, gsize n)
{
  return gsl_stats_select (x, 1, n, n / 2);
}

/* Range of the block means; with `quiet` >= 0 of those alone in which nothing happens. */
static double
range_of_means (const Blocks *b, double quiet)
{
  double low = INFINITY, high = -INFINITY;
  for (gsize k = 0; k < b->n_blocks; k++) {
    const Block *block = &b->blocks[k];
    if (quiet >= 0 && block->high - block->low > quiet)
      continue;
    low = fmin (low, block->mean);
    high = fmax (high, block->mean);
  }
  return high >= low ? high - low : 0;
}

/* Medians over the blocks are blind to the few that hold an edge or a glitch. */
static void
set_limits (Blocks *b)
{
  gsize n = b->n_blocks;
  g_autofree double *x = g_new (double, n + 1);
  for (gsize k = 0; k < n; k++)
    x[k] = b->blocks[k].high - b->blocks[k].low;
  double usual_range = median (x, n);
  for (gsize k = 0; k + 1 < n; k++)
    x[k] = fabs (b->blocks[k + 1].mean - b->blocks[k].mean);
  b->mean_sd = median (x, n - 1) * MAD_TO_SD / G_SQRT2;
  b->quiet = fmax (QUIET_RANGES * usual_range, WAVER_SHARE * range_of_means (b, -1));
  double range = range_of_means (b, b->quiet);
  b->waver = fmax (WAVER_SHARE * range, WAVER_SDS * b->mean_sd);
  b->least_step = fmax (STEP_SHARE * range, 2 * b->waver);
  b->near = fmax (2 * WAVER_SHARE * range, 1.5 * usual_range);
}

static double
mean_of_blocks (const Blocks *b, gsize first, gsize n)
{
  double sum = 0;
  for (gsize k = first; k < first + n; k++)
    sum += b->blocks[k].mean - b->blocks[first].mean;
  return b->blocks[first].mean + sum / (double) n;
}

/* A piece of a slow ramp or the crest of a wave stays near its mean for a while, but its thirds do not agree. */
static gboolean
is_level (const Blocks *b, gsize first, gsize end)
{
  gsize third = (end - first) / 3;
  if (third == 0)
    return TRUE;
  double one = mean_of_blocks (b, first, third), three = mean_of_blocks (b, end - third, third);
  double two = mean_of_blocks (b, first + third, end - first - 2 * third);
  double limit = fmax (DRIFT_SHARE * b->waver, DRIFT_SDS * b->mean_sd * sqrt (2 / (double) third));
  return fmax (one, fmax (two, three)) - fmin (one, fmin (two, three)) <= limit;
}

/* Adds the level of blocks first..end - 1 when it is held for long enough; or lengthens the one before it when that is
 * the same. */
static void
add_level (const Blocks *b, GArray *levels, gsize first, gsize end)
{
  if (!is_level (b, first, end))
    return;
  Level level = { first * b->block_size, block_end (b, end - 1) - 1, mean_of_blocks (b, first, end - first) };
  Level *before = levels->len > 0 ? &g_array_index (levels, Level, levels->len - 1) : NULL;
  gsize floor = before != NULL ? before->last + 1 : 0;
  level.first = MAX (level.first, floor);
  while (level.first > floor && fabs (b->y[level.first - 1] - level.level) <= b->near)
    level.first--;
  while (level.last + 1 < b->n && fabs (b->y[level.last + 1] - level.level) <= b->near)
    level.last++;
  if (level.last < level.first) /* all of it is the level before, which wavers */
    return;
  if (level.last + 1 - level.first < HOLD_SAMPLES || b->t[level.last] - b->t[level.first] < HOLD_S * (1 - 1e-9))
    return;
  if (before == NULL || fabs (level.level - before->level) > b->least_step) {
    g_array_append_val (levels, level);
    return;
  }
  double weight = (double) (before->last + 1 - before->first), more = (double) (level.last + 1 - level.first);
  before->level += (level.level - before->level) * more / (weight + more);
  before->last = MAX (level.last, before->last);
}

static GArray *
find_levels (const Blocks *b)
{
  GArray *levels = g_array_new (FALSE, FALSE, sizeof (Level));
  gsize k = 0;
  while (k < b->n_blocks) {
    gsize first = k;
    double mean = b->blocks[k].mean;
    while (k < b->n_blocks && b->blocks[k].high - b->blocks[k].low <= b->quiet
           && fabs (b->blocks[k].mean - mean) <= b->waver) {
      mean += (b->blocks[k].mean - mean) / (double) (k - first + 1);
      k++;
    }
    if (k > first)
      add_level (b, levels, first, k);
    else
      k++;
  }
  return levels;
}

/* The level that a log begins at, where it is too short to be told from a glitch anywhere else. */
static void
add_first_level (const Blocks *b, GArray *levels)
{
  const Level *found = levels->len > 0 ? &g_array_index (levels, Level, 0) : NULL;
  if (found == NULL || found->first < FIRST_SAMPLES || fabs (b->y[0] - found->level) <= b->least_step)
    return;
  Level level = { 0, 0, b->y[0] };
  while (level.last + 1 < found->first && fabs (b->y[level.last + 1] - b->y[0]) <= b->near)
    level.last++;
  if (level.last + 1 >= FIRST_SAMPLES)
    g_array_prepend_val (levels, level);
}

double
sb_edge_time (const double *t, const double *y, gsize i, double base, double top)
{
  double near = LEVEL_SHARE * fabs (top - base), middle = (base + top) / 2;
  if (fabs (y[i - 1] - base) <= near && fabs (y[i] - top) <= near)
    return t[i];
  return t[i - 1] + (t[i] - t[i - 1]) * ((middle - y[i - 1]) / (y[i] - y[i - 1]));
}

static SbStep
step_between (const Blocks *b, const Level *base, const Level *top, double rest)
{
  int direction = top->level > base->level ? 1 : -1;
  double middle = (base->level + top->level) / 2, step = fabs (top->level - base->level);
  gsize i = top->first;
  while (i > base->last + 1 && direction * (b->y[i - 1] - middle) >= -1e-12 * step)
    i--;
  return (SbStep){
    .from_s = b->t[base->first + (base->last - base->first) / 2],
    .to_s = b->t[top->last],
    .edge_s = sb_edge_time (b->t, b->y, i, base->level, top->level),
    .base_nm = base->level,
    .top_nm = top->level,
    .direction = direction,
    .is_release = fabs (top->level - rest) <= fmax (RELEASE_SHARE * step, b->waver),
    .base_last = base->last,
    .top_first = top->first,
    .top_last = top->last,
  };
}

GArray *
sb_steps_find (const double *t, const double *command, gsize n)
{
  GArray *steps = g_array_new (FALSE, FALSE, sizeof (SbStep));
  gsize block_size = MAX (BLOCK_SAMPLES, n / MAX_BLOCKS);
  Blocks b = { .t = t, .y = command, .n = n, .n_blocks = n / block_size, .block_size = block_size };
  if (b.n_blocks < 2)
    return steps;
  g_autofree Block *blocks = b.blocks = g_new (Block, b.n_blocks);
  fill_blocks (&b);
  set_limits (&b);
  if (!(b.least_step > 1e-9 * fmax (fabs (blocks[0].low), fabs (blocks[0].high))))
    return steps; /* the rounding of a constant */

  g_autoptr (GArray) levels = find_levels (&b);
  add_first_level (&b, levels);
  for (guint l = 0; l < levels->len; l++) {
    Level *level = &g_array_index (levels, Level, l);
    level->level = sb_level_mode (command + level->first, level->last + 1 - level->first, SB_LEVEL_BINS, NULL);
  }
  for (guint l = 1; l < levels->len; l++) {
    const Level *all = &g_array_index (levels, Level, 0);
    SbStep step = step_between (&b, &all[l - 1], &all[l], all[0].level);
    if (l == 1)
      step.from_s = t[0];
    if (l + 1 == levels->len)
      step.to_s = t[n - 1];
    g_array_append_val (steps, step);
  }
  return steps;
}

gsize
sb_steps_count (const GArray *steps)
{
  gsize n = 0;
  for (guint i = 0; i < steps->len; i++)
    n += g_array_index (steps, SbStep, i).is_release ? 0 : 1;
  return n;
}
