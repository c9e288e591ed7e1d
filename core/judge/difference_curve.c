/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "difference_curve.h"

#include "difference_stretches.h"
#include "sampling_rule.h"
#include "statistics.h"
#include "steady_math.h"
#include "sup_quantile.h"

#include <math.h>

#define ALPHA 0.05
/* Scatter below this share of the figures is the rounding of sums. */
#define ROUNDING_RATIO 1e-12
#define N_QUANTILES    64

/* One side at the common instants. */
typedef struct {
  gsize n;              /* repeats */
  double *mean, *error; /* of the mean: sd / sqrt (n) */
} Side;

static void
side_clear (Side *side)
{
  g_free (side->mean);
  g_free (side->error);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Side, side_clear)

double
sb_difference_curve_time (const SbDifferenceCurve *curve, gsize k)
{
  return (double) (curve->first + (gint64) k) * curve->step_s;
}

/* The points of an ensemble that all its repeats cover, [from, end). */
static void
covered (const SbEnsemble *ensemble, gsize *from, gsize *end)
{
  *from = 0;
  *end = ensemble->n_points;
  if (ensemble->count == NULL)
    return;
  while (*from < *end && ensemble->count[*from] < ensemble->n_trials)
    ++*from;
  while (*from < *end && ensemble->count[*end - 1] < ensemble->n_trials)
    --*end;
}

/* The common instants: FALSE when there are fewer than two. */
static gboolean
place (SbDifferenceCurve *curve, const SbEnsemble *reference, const SbEnsemble *other)
{
  const SbEnsemble *sides[] = { reference, other };
  double first_s = -INFINITY, last_s = INFINITY;
  curve->step_s = MAX (reference->grid_step_s, other->grid_step_s);
  for (gsize i = 0; i < G_N_ELEMENTS (sides); i++) {
    gsize from, end;
    covered (sides[i], &from, &end);
    if (from >= end)
      return FALSE;
    first_s = MAX (first_s, (double) (sides[i]->first + (gint64) from) * sides[i]->grid_step_s);
    last_s = MIN (last_s, (double) (sides[i]->first + (gint64) end - 1) * sides[i]->grid_step_s);
  }
  /* Grids with one step meet but for rounding. */
  double first = ceil (first_s / curve->step_s - 1e-6), last = floor (last_s / curve->step_s + 1e-6);
  if (!(last > first))
    return FALSE;
  curve->first = (gint64) first;
  curve->n_points = (gsize) (last - first) + 1;
  return TRUE;
}

/* Mean and its error at the curve's instants; between points of the side's own grid on the straight line. */
static void
read_side (const SbDifferenceCurve *curve, const SbEnsemble *ensemble, Side *side)
{
  const SbMeanCurve *own = ensemble->curve[curve->channel];
  double ratio = curve->step_s / ensemble->grid_step_s, root = sqrt ((double) ensemble->n_trials);
  side->n = ensemble->n_trials;
  side->mean = g_new (double, curve->n_points);
  side->error = g_new (double, curve->n_points);
  for (gsize k = 0; k < curve->n_points; k++) {
    double place = (double) (curve->first + (gint64) k) * ratio - (double) ensemble->first;
    double whole = CLAMP (floor (place + 1e-6), 0, (double) (ensemble->n_points - 1));
    gsize at = (gsize) whole, next = MIN (at + 1, ensemble->n_points - 1);
    double share = place - whole;
    if (share < 1e-6)
      next = at;
    side->mean[k] = next == at ? own->mean[at] : own->mean[at] + share * (own->mean[next] - own->mean[at]);
    double sd = next == at ? own->sd[at] : own->sd[at] + share * (own->sd[next] - own->sd[at]);
    side->error[k] = sd / root;
  }
}

static double
largest_size (const double *values, gsize n)
{
  double largest = 0;
  for (gsize k = 0; k < n; k++)
    largest = MAX (largest, fabs (values[k]));
  return largest;
}

/* Degrees of freedom of Welch & Satterthwaite over the whole curve: the ratio of its mean numerator and denominator,
 * each made free of bias by E s⁴ = σ⁴ (n + 1) / (n - 1). A figure for each instant would be little more than chance. */
static double
curve_df (const Side *a, const Side *b, const double *error, gsize n_points)
{
  double numerator = 0, denominator = 0, na = (double) a->n, nb = (double) b->n;
  for (gsize k = 0; k < n_points; k++) {
    if (isnan (error[k]))
      continue;
    double u = sb_pow (a->error[k] / error[k], 2), v = 1 - u;
    numerator += u * u * (na - 1) / (na + 1) + v * v * (nb - 1) / (nb + 1) + 2 * u * v;
    denominator += u * u / (na + 1) + v * v / (nb + 1);
  }
  return rint (CLAMP (numerator / denominator, MIN (na, nb) - 1, na + nb - 2));
}

/* 97.5 % points of Student's t over 1 / df, in which they are nearly straight. */
typedef struct {
  double least, step; /* of 1 / df */
  double t[N_QUANTILES];
} Quantiles;

static void
quantiles_init (Quantiles *quantiles, double df_low, double df_high)
{
  quantiles->least = 1 / df_high;
  quantiles->step = (1 / df_low - 1 / df_high) / (N_QUANTILES - 1);
  for (int i = 0; i < N_QUANTILES; i++)
    quantiles->t[i] = sb_student_t (1 - ALPHA / 2, 1 / (quantiles->least + i * quantiles->step));
}

static double
quantile_at (const Quantiles *quantiles, double df)
{
  double place = quantiles->step > 0 ? (1 / df - quantiles->least) / quantiles->step : 0;
  gsize at = (gsize) CLAMP (place, 0, N_QUANTILES - 2);
  return quantiles->t[at] + (place - (double) at) * (quantiles->t[at + 1] - quantiles->t[at]);
}

/* Welch's interval at each instant by itself. */
static void
fill_pointwise (SbDifferenceCurve *curve, const Side *a, const Side *b, const double *error)
{
  Quantiles quantiles;
  double na = (double) a->n, nb = (double) b->n;
  quantiles_init (&quantiles, MIN (na, nb) - 1, na + nb - 2);
  for (gsize k = 0; k < curve->n_points; k++) {
    double u = sb_pow (a->error[k] / error[k], 2), v = 1 - u;
    double df = 1 / (u * u / (na - 1) + v * v / (nb - 1));
    curve->half_pointwise[k] = isnan (error[k]) ? (double) NAN : quantile_at (&quantiles, df) * error[k];
  }
}

/* Where deviations come from: the repeats of both sides at the judged points. */
typedef struct {
  const SbDifferenceCurve *curve;
  const Side *side[2];
  SbTrial *const *trials[2];
  gsize n[2]; /* repeats looked at */
  gsize *judged, n_judged;
  double *values; /* scratch, one for each instant */
} Source;

/* The deviations of one side's repeats from their mean at `n` judged points, scaled to add up to the variance of the
 * mean that they leave. */
static void
fill_side (const Source *source, int which, const gsize *judged, gsize n, double *rows)
{
  const SbDifferenceCurve *curve = source->curve;
  SbEnsemble grid = { .grid_step_s = curve->step_s,
                      .first = curve->first + (gint64) judged[0],
                      .n_points = judged[n - 1] - judged[0] + 1 };
  gsize n_repeats = source->n[which];
  g_autofree double *mean = g_new0 (double, n);
  for (gsize i = 0; i < n_repeats; i++) {
    sb_ensemble_resample (&grid, source->trials[which][i], curve->channel, source->values);
    for (gsize k = 0; k < n; k++) {
      /* At the edge an instant may lie a rounding beyond the last sample: it deviates from the mean by nothing. */
      double value = source->values[judged[k] - judged[0]];
      rows[i * n + k] = isnan (value) ? source->side[which]->mean[judged[k]] : value;
      mean[k] += rows[i * n + k];
    }
  }
  double scale = 1 / sqrt ((double) n_repeats * (double) (n_repeats - 1));
  for (gsize i = 0; i < n_repeats; i++)
    for (gsize k = 0; k < n; k++)
      rows[i * n + k] = scale * (rows[i * n + k] - mean[k] / (double) n_repeats);
}

/* To length 1 at each point. */
static void
normalise (double *rows, gsize n_rows, gsize n_points)
{
  g_autofree double *square = g_new0 (double, n_points);
  for (gsize i = 0; i < n_rows; i++)
    for (gsize k = 0; k < n_points; k++)
      square[k] += rows[i * n_points + k] * rows[i * n_points + k];
  for (gsize k = 0; k < n_points; k++)
    square[k] = 1 / sqrt (MAX (square[k], G_MINDOUBLE));
  for (gsize i = 0; i < n_rows; i++)
    for (gsize k = 0; k < n_points; k++)
      rows[i * n_points + k] *= square[k];
}

static void
fill_deviations (gpointer data, gsize from, gsize n, double *rows)
{
  const Source *source = data;
  fill_side (source, 0, source->judged + from, n, rows);
  fill_side (source, 1, source->judged + from, n, rows + source->n[0] * n);
  normalise (rows, source->n[0] + source->n[1], n);
}

static double
critical_value (const SbDifferenceCurve *curve, const Side *a, SbTrial *const *reference, const Side *b,
                SbTrial *const *other, const double *error)
{
  g_autofree gsize *judged = g_new (gsize, curve->n_points);
  g_autofree double *values = g_new (double, curve->n_points);
  Source source = { .curve = curve,
                    .side = { a, b },
                    .trials = { reference, other },
                    .n = { MIN (curve->n_reference, SB_DIFFERENCE_MOST_REPEATS),
                           MIN (curve->n_other, SB_DIFFERENCE_MOST_REPEATS) },
                    .judged = judged,
                    .values = values };
  for (gsize k = 0; k < curve->n_points; k++)
    if (!isnan (error[k]))
      judged[source.n_judged++] = k;
  SbDeviations deviations = { fill_deviations, &source, source.n[0] + source.n[1], source.n_judged, curve->df };
  return sb_sup_quantile (&deviations, ALPHA);
}

/* Repeats of both sides below which one deviation a side stands for its scatter at all instants: it would seem to be
 * the same at each of them. */
#define FEWEST_SHOWING_TIME 5

static gsize
count_judged (const double *error, gsize n_points)
{
  gsize n = 0;
  for (gsize k = 0; k < n_points; k++)
    n += isnan (error[k]) ? 0 : 1;
  return n;
}

/* The error of the difference at each instant, NaN where neither side scatters; FALSE when that is everywhere. */
static gboolean
find_errors (SbDifferenceCurve *curve, const Side *a, const Side *b, double *error)
{
  gsize n = curve->n_points;
  double least = ROUNDING_RATIO * MAX (largest_size (a->mean, n), largest_size (b->mean, n));
  gboolean any = FALSE;
  for (gsize k = 0; k < n; k++) {
    double size = hypot (a->error[k], b->error[k]);
    error[k] = size > least ? size : (double) NAN;
    any = any || size > least;
    curve->difference[k] = b->mean[k] - a->mean[k];
  }
  return any;
}

/* How late the onsets of a side are at most, on an average of its repeats. */
static double
mean_late_s (SbTrial *const *trials, gsize n)
{
  double sum = 0;
  n = MIN (n, SB_DIFFERENCE_MOST_REPEATS);
  for (gsize i = 0; i < n; i++)
    sum += trials[i]->onset_late_s;
  return sum / (double) n;
}

/* The mean curve between its instants, on a straight line. */
static double
mean_at (const Side *side, gsize n_points, double place)
{
  double inside = CLAMP (place, 0, (double) (n_points - 1));
  gsize at = MIN ((gsize) inside, n_points - 2);
  return side->mean[at] + (inside - (double) at) * (side->mean[at + 1] - side->mean[at]);
}

/* Onsets late by a and b, somewhere within the sides' sample intervals, move the curves of one drive by b - a against
 * each other: what the reference does within that is no difference. */
static void
fill_shift (SbDifferenceCurve *curve, const Side *reference, double reference_late_s, double other_late_s)
{
  double step_s = curve->step_s;
  gsize n = curve->n_points;
  if (sb_onsets_are_as_late (reference_late_s, other_late_s))
    return;
  curve->shift_s[0] = -reference_late_s;
  curve->shift_s[1] = other_late_s;
  curve->by_shift[0] = g_new0 (double, n);
  curve->by_shift[1] = g_new0 (double, n);
  for (gsize k = 0; k < n; k++) {
    double first = (double) k + curve->shift_s[0] / step_s, last = (double) k + curve->shift_s[1] / step_s;
    for (double place = first;; place = fmin (floor (place) + 1, last)) {
      double more = mean_at (reference, n, place) - reference->mean[k];
      curve->by_shift[0][k] = fmin (curve->by_shift[0][k], more);
      curve->by_shift[1][k] = fmax (curve->by_shift[1][k], more);
      if (!(place < last))
        break;
    }
  }
}

/* NULL, or why the two ensembles have no difference curve. */
static char *
why_not (const SbEnsemble *reference, const SbEnsemble *other, SbChannel channel)
{
  if (reference->n_trials < 2 || other->n_trials < 2)
    return g_strdup_printf ("needs two repeats on either side; there are %" G_GSIZE_FORMAT " and %" G_GSIZE_FORMAT,
                            reference->n_trials, other->n_trials);
  if (reference->curve[channel] == NULL || other->curve[channel] == NULL)
    return g_strdup_printf ("not every repeat of the %s has this channel",
                            reference->curve[channel] == NULL ? "reference" : "other configuration");
  return NULL;
}

static char *
fill (SbDifferenceCurve *curve, const SbEnsemble *reference, SbTrial *const *reference_trials, const SbEnsemble *other,
      SbTrial *const *other_trials)
{
  if (!place (curve, reference, other))
    return g_strdup ("the repeats have no time in common");
  gsize n = curve->n_points;
  g_auto (Side) a = { 0 };
  g_auto (Side) b = { 0 };
  read_side (curve, reference, &a);
  read_side (curve, other, &b);
  curve->difference = g_new (double, n);
  curve->half_pointwise = g_new (double, n);
  curve->half_simultaneous = g_new (double, n);
  g_autofree double *error = g_new (double, n);
  if (!find_errors (curve, &a, &b, error))
    return g_strdup ("the repeats of a side are the very same: without scatter there is nothing to judge by");
  curve->df = curve_df (&a, &b, error, n);
  fill_pointwise (curve, &a, &b, error);
  curve->by_bound = curve->n_reference + curve->n_other < FEWEST_SHOWING_TIME;
  curve->critical = curve->by_bound ? sb_student_t (1 - ALPHA / 2 / (double) count_judged (error, n), curve->df)
                                    : critical_value (curve, &a, reference_trials, &b, other_trials, error);
  for (gsize k = 0; k < n; k++)
    curve->half_simultaneous[k] = curve->critical * error[k];
  fill_shift (curve, &a, mean_late_s (reference_trials, a.n), mean_late_s (other_trials, b.n));
  curve->stretches = sb_difference_stretches_new (curve);
  return NULL;
}

SbDifferenceCurve *
sb_difference_curve_new (const SbEnsemble *reference, SbTrial *const *reference_trials, const SbEnsemble *other,
                         SbTrial *const *other_trials, SbChannel channel)
{
  g_return_val_if_fail (reference != NULL && other != NULL, NULL);
  SbDifferenceCurve *curve = g_new0 (SbDifferenceCurve, 1);
  g_atomic_ref_count_init (&curve->ref_count);
  curve->channel = channel;
  curve->n_reference = reference->n_trials;
  curve->n_other = other->n_trials;
  curve->absent_reason = why_not (reference, other, channel);
  if (curve->absent_reason == NULL)
    curve->absent_reason = fill (curve, reference, reference_trials, other, other_trials);
  curve->present = curve->absent_reason == NULL;
  return curve;
}

SbDifferenceCurve *
sb_difference_curve_ref (SbDifferenceCurve *curve)
{
  g_atomic_ref_count_inc (&curve->ref_count);
  return curve;
}

void
sb_difference_curve_unref (SbDifferenceCurve *curve)
{
  if (curve == NULL || !g_atomic_ref_count_dec (&curve->ref_count))
    return;
  g_free (curve->absent_reason);
  g_free (curve->difference);
  g_free (curve->half_pointwise);
  g_free (curve->half_simultaneous);
  g_free (curve->by_shift[0]);
  g_free (curve->by_shift[1]);
  g_clear_pointer (&curve->stretches, g_array_unref);
  g_free (curve);
}
