/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What each measure does over the levels. */
#include "audit_parts.h"
#include "comparable.h"
#include "crest_rule.h"
#include "doubt.h"
#include "noise_rule.h"

#include "steady_math.h"

#include <gsl/gsl_cdf.h>
#include <gsl/gsl_statistics_double.h>
#include <math.h>

/* As in a comparison: less is the rounding of sums. */
#define ROUNDING_RATIO 1e-12
/* More figures have too many pairs; the trend is that of the levels' means then. */
#define MOST_PAIRED 2000
/* Levels whose scatters are as unlike by chance are held to scatter unlike. */
#define UNLIKE_LEVEL 0.05
#define MOST_UNEQUAL 1.5 /* repeats of a level over those of another */

double *
sb_audit_values (const SbAuditInput *level, SbMeasureId id, gsize *n)
{
  double *values = g_new (double, level->n + 1);
  *n = 0;
  for (gsize i = 0; i < level->n; i++)
    if (level->measures[i]->measure[id].present)
      values[(*n)++] = level->measures[i]->measure[id].value;
  return values;
}

/* What noise is expected to have raised the level's repeats by. */
static double
mean_bias (const SbAuditInput *level, SbMeasureId id)
{
  double sum = 0;
  gsize n = 0;
  for (gsize i = 0; i < level->n; i++)
    if (level->measures[i]->measure[id].present) {
      sum += level->measures[i]->measure[id].bias;
      n++;
    }
  return n > 0 ? sum / (double) n : 0;
}

static SbAuditPoint
point_of (const SbAuditInput *level, SbMeasureId id)
{
  gsize n;
  g_autofree double *values = sb_audit_values (level, id, &n);
  SbAuditPoint point = { n, NAN, NAN, { NAN, NAN } };
  if (n > 0)
    point.mean = gsl_stats_mean (values, 1, n);
  if (n < 2)
    return point;
  point.sd = gsl_stats_sd (values, 1, n);
  double half = gsl_cdf_tdist_Pinv (0.975, (double) n - 1) * point.sd / sqrt ((double) n);
  point.ci95[0] = point.mean - half;
  point.ci95[1] = point.mean + half;
  return point;
}

static const char *
first_reason (const SbAuditInput *level, SbMeasureId id)
{
  for (gsize i = 0; i < level->n; i++)
    if (!level->measures[i]->measure[id].present && level->measures[i]->measure[id].absent_reason != NULL)
      return level->measures[i]->measure[id].absent_reason;
  return "no repeat has one";
}

static gboolean
reads_different_signals (const SbAuditWork *work, SbMeasureId id)
{
  gsize n = 0, n_velocity = 0;
  for (gsize k = 0; k < work->n_levels; k++)
    for (gsize i = 0; i < work->level[k]->n; i++)
      if (work->level[k]->measures[i]->measure[id].present) {
        n++;
        n_velocity += sb_measures_channel (work->level[k]->measures[i], id) == SB_CHANNEL_VELOCITY ? 1 : 0;
      }
  return n_velocity > 0 && n_velocity < n;
}

/* NULL when the levels can be held against each other. */
static char *
why_not (const SbAuditWork *work, SbMeasureId id, const SbAuditPoint *points)
{
  if (sb_measure_info (id)->of_configuration)
    return g_strdup ("it is one figure for each configuration: without scatter there is nothing to judge it by");
  if (work->n_levels < 2)
    return g_strdup ("there are not two levels");
  double scatter = 0, size = 0;
  for (gsize i = 0; i < work->n_levels; i++) {
    if (points[i].n == 0)
      return g_strdup_printf ("there is no such figure at %s: %s", work->level[i]->text,
                              first_reason (work->level[i], id));
    if (points[i].n < 2)
      return g_strdup_printf ("needs two repeats at each level; at %s one has it", work->level[i]->text);
    scatter += points[i].sd;
    size = fmax (size, fabs (points[i].mean));
  }
  if (reads_different_signals (work, id))
    return g_strdup ("different signals: some repeats read it from the torque, others from the velocity");
  if (id == SB_MEASURE_TORQUE_SMOOTHNESS && !sb_audit_rates_are_alike (work))
    return g_strdup (SB_NOT_COMPUTED_ALIKE);
  return scatter > ROUNDING_RATIO * size
             ? NULL
             : g_strdup (
                 "every repeat of a level gives the very same figure: without scatter there is nothing to judge "
                 "by");
}

static gboolean
welch_of (const SbAuditPoint *a, const SbAuditPoint *b, SbWelch *welch)
{
  return sb_welch (a->mean, a->sd, a->n, b->mean, b->sd, b->n, welch);
}

/* How far two levels are apart at most. */
static double
farthest_apart (const SbAuditPoint *points, gsize n_levels)
{
  double least = points[0].mean, most = points[0].mean;
  for (gsize i = 1; i < n_levels; i++) {
    least = fmin (least, points[i].mean);
    most = fmax (most, points[i].mean);
  }
  return most - least;
}

/* Scatter of a repeat about its level's mean. */
typedef struct {
  gboolean one; /* the same at all levels */
  double sd, df;
} Scatter;

/* All levels' together unless Bartlett's test finds them unlike (NIST/SEMATECH e-Handbook, 1.3.5.7): settings rarely
 * change how repeats scatter, and few repeats a level know it badly each. Of levels of unequal repeats the largest
 * would speak for all, which the test is too weak to object to: then each has its own. */
static Scatter
scatter_of (const SbAuditPoint *points, gsize n_levels)
{
  double df = 0, squares = 0, logs = 0, inverse = 0;
  for (gsize i = 0; i < n_levels; i++) {
    double own = (double) points[i].n - 1, ratio = (double) points[i].n / (double) points[0].n;
    if (!(points[i].sd > 0) || !(own > 0) || ratio > MOST_UNEQUAL || ratio < 1 / MOST_UNEQUAL)
      return (Scatter){ 0 };
    df += own;
    squares += own * points[i].sd * points[i].sd;
    logs += own * 2 * sb_log (points[i].sd);
    inverse += 1 / own;
  }
  double between = (double) n_levels - 1, correction = 1 + (inverse - 1 / df) / (3 * between);
  double bartlett = (df * sb_log (squares / df) - logs) / correction;
  return (Scatter){ gsl_cdf_chisq_Q (bartlett, between) > UNLIKE_LEVEL, sqrt (squares / df), df };
}

static gboolean
are_equal (const SbAuditPoint *a, const SbAuditPoint *b, const Scatter *scatter, double margin)
{
  SbWelch welch;
  if (scatter->one)
    return fabs (b->mean - a->mean)
               + gsl_cdf_tdist_Pinv (0.95, scatter->df) * scatter->sd * sqrt (1 / (double) a->n + 1 / (double) b->n)
           < margin;
  if (welch_of (a, b, &welch))
    return welch.ci90[0] > -margin && welch.ci90[1] < margin;
  return fabs (b->mean - a->mean) < margin; /* neither of them scatters */
}

/* Whether any two levels are practically equal. Levels further apart than the margin are not, whatever their scatter:
 * few settings ask for all pairs. */
static gboolean
is_steady (const SbAuditPoint *points, gsize n_levels, double margin)
{
  if (!(farthest_apart (points, n_levels) < margin))
    return FALSE;
  Scatter scatter = scatter_of (points, n_levels);
  for (gsize i = 0; i < n_levels; i++)
    for (gsize j = i + 1; j < n_levels; j++)
      if (!are_equal (&points[i], &points[j], &scatter, margin))
        return FALSE;
  return TRUE;
}

gboolean
sb_audit_stays_within (const SbAuditWork *work, SbMeasureId id, double share)
{
  const SbAuditMeasure *measure = sb_audit_measure (work, id);
  return measure->effect != SB_EFFECT_ABSENT
         && is_steady (measure->points, work->n_levels, share * fabs (measure->points[0].mean));
}

static void
find_trend_of_means (const SbAuditWork *work, SbAuditMeasure *measure)
{
  g_autofree double *x = g_new (double, work->n_levels + 1);
  g_autofree double *y = g_new (double, work->n_levels + 1);
  for (gsize i = 0; i < work->n_levels; i++) {
    x[i] = sb_audit_level (work->audit, (guint) i)->x;
    y[i] = measure->points[i].mean;
  }
  measure->has_trend = work->n_levels <= MOST_PAIRED && sb_theil_sen (x, y, work->n_levels, &measure->trend);
  measure->trend_of_means = measure->has_trend;
}

/* Every repeat that has the figure, with the place of its level, and less so many times what noise is expected to have
 * raised it by. Returns how many; the arrays hold that many of all repeats. */
static gsize
take_repeats (const SbAuditWork *work, SbMeasureId id, double less_bias, double **x, double **y)
{
  gsize n = 0;
  for (gsize i = 0; i < work->n_levels; i++)
    n += work->level[i]->n;
  *x = g_new (double, n + 1);
  *y = g_new (double, n + 1);
  n = 0;
  for (gsize i = 0; i < work->n_levels; i++)
    for (gsize k = 0; k < work->level[i]->n; k++) {
      const SbMeasure *measure = &work->level[i]->measures[k]->measure[id];
      if (!measure->present)
        continue;
      (*x)[n] = sb_audit_level (work->audit, (guint) i)->x;
      (*y)[n++] = measure->value - less_bias * measure->bias;
    }
  return n;
}

static void
find_trend (const SbAuditWork *work, SbMeasureId id, SbAuditMeasure *measure)
{
  g_autofree double *x = NULL, *y = NULL;
  gsize n = take_repeats (work, id, 0, &x, &y);
  if (n > MOST_PAIRED)
    find_trend_of_means (work, measure);
  else
    measure->has_trend = sb_theil_sen (x, y, n, &measure->trend);
  measure->has_jonckheere = sb_jonckheere (x, y, n, &measure->jonckheere);
}

typedef gboolean (*Condition) (const GPtrArray *doubts);

static gboolean
have_bias (const GPtrArray *doubts)
{
  return sb_doubts_have (doubts, SB_DOUBT_BIAS);
}

/* Some trial's figure has doubts that meet the condition. */
static gboolean
has_doubts (const SbAuditWork *work, SbMeasureId id, Condition condition)
{
  for (gsize i = 0; i < work->n_levels; i++)
    for (gsize k = 0; k < work->level[i]->n; k++) {
      const SbMeasure *measure = &work->level[i]->measures[k]->measure[id];
      if (measure->present && condition (measure->doubts))
        return TRUE;
    }
  return FALSE;
}

/* With the trend's, of three levels or more. */
static double
p_with_trend (const SbAuditWork *work, gboolean has_jonckheere, const SbJonckheere *jonckheere, double p)
{
  return work->n_levels > 2 && has_jonckheere ? fmin (1, 2 * fmin (p, jonckheere->p)) : p;
}

static void
test_measure (const SbAuditWork *work, SbMeasureId id, const SbMargin *margin, SbAuditMeasure *measure)
{
  measure->points = g_new (SbAuditPoint, work->n_levels + 1);
  for (gsize i = 0; i < work->n_levels; i++)
    measure->points[i] = point_of (work->level[i], id);
  measure->absent_reason = why_not (work, id, measure->points);
  if (measure->absent_reason != NULL)
    return;
  const SbAuditPoint *first = &measure->points[0], *last = &measure->points[work->n_levels - 1];
  measure->effect = SB_EFFECT_UNDECIDED;
  measure->margin = sb_margin_size (margin, first->mean);
  measure->doubted = has_doubts (work, id, sb_doubts_beside_weighed) || sb_audit_drifts (work, id);
  find_trend (work, id, measure);
  if (!welch_of (first, last, &measure->change)) /* of three levels, one in the middle scatters alone */
    measure->change = (SbWelch){
      .difference = last->mean - first->mean, .df = NAN, .p = 1, .ci95 = { NAN, NAN }, .ci90 = { NAN, NAN }
    };
  measure->p = p_with_trend (work, measure->has_jonckheere, &measure->jonckheere, measure->change.p);
}

static SbAuditEffect
effect_of (const SbAuditWork *work, const SbAuditPoint *points, double margin, double p_holm)
{
  if (is_steady (points, work->n_levels, margin))
    return SB_EFFECT_STEADY;
  return p_holm < work->choices.level && farthest_apart (points, work->n_levels) > margin ? SB_EFFECT_MOVES
                                                                                          : SB_EFFECT_UNDECIDED;
}

/* A measure while the noise is taken from it, and the highest level moved. */
typedef struct {
  const SbAuditWork *work;
  SbMeasureId id;
  double beside;
} Judged;

static int
effect_without (gconstpointer subject, double share)
{
  const Judged *judged = subject;
  const SbAuditWork *work = judged->work;
  const SbAuditMeasure *measure = &work->audit->measure[judged->id];
  g_autofree SbAuditPoint *points = g_memdup2 (measure->points, sizeof *points * work->n_levels);
  for (gsize i = 0; i < work->n_levels; i++)
    points[i].mean -= share * mean_bias (work->level[i], judged->id);
  points[work->n_levels - 1].mean += judged->beside;
  SbWelch change;
  double p = welch_of (&points[0], &points[work->n_levels - 1], &change) ? change.p : 1;
  g_autofree double *x = NULL, *y = NULL;
  gsize n = take_repeats (work, judged->id, share, &x, &y);
  SbJonckheere jonckheere;
  gboolean has_jonckheere = sb_jonckheere (x, y, n, &jonckheere);
  if (fabs (judged->beside) > 0) /* how far the levels between them would move is not known: no trend speaks for it */
    jonckheere.p = p;
  p = p_with_trend (work, has_jonckheere, &jonckheere, p);
  return (int) effect_of (work, points, measure->margin, sb_noise_corrected (p, measure->p_holm, measure->p));
}

/* At every level most figures do not stand above the noise. */
static gboolean
is_in_noise (const SbAuditWork *work, SbMeasureId id)
{
  for (gsize i = 0; i < work->n_levels; i++) {
    gsize n = 0, n_in_noise = 0;
    for (gsize k = 0; k < work->level[i]->n; k++) {
      const SbMeasure *measure = &work->level[i]->measures[k]->measure[id];
      n += measure->present ? 1 : 0;
      n_in_noise += measure->present && sb_doubts_have (measure->doubts, SB_DOUBT_IN_NOISE) ? 1 : 0;
    }
    if (2 * n_in_noise <= n)
      return FALSE;
  }
  return TRUE;
}

static gboolean
has_bias (const SbAuditWork *work, SbMeasureId id)
{
  for (gsize i = 0; i < work->n_levels; i++)
    if (fabs (mean_bias (work->level[i], id)) > 0)
      return TRUE;
  return FALSE;
}

/* As much of the change from the lowest to the highest level as noise may make by its choice of crests. */
static double
by_crests (const SbAuditWork *work, SbMeasureId id)
{
  const SbAuditInput *low = work->level[0], *high = work->level[work->n_levels - 1];
  g_autoptr (SbSummary) at_low = sb_summary_new (low->measures, low->n, NULL);
  g_autoptr (SbSummary) at_high = sb_summary_new (high->measures, high->n, NULL);
  return sb_by_crests (id, &at_low->measure[id], &at_high->measure[id]);
}

/* As in a comparison; of levels that stay, any two have to. */
static gboolean
late_onsets_turn (const SbAuditWork *work, SbMeasureId id, const SbAuditSampling *sampling)
{
  const SbAuditMeasure *measure = sb_audit_measure (work, id);
  if (!(sampling->widest > 0) || measure->effect == SB_EFFECT_UNDECIDED)
    return FALSE;
  if (measure->effect == SB_EFFECT_STEADY)
    return !is_steady (measure->points, work->n_levels, measure->margin - sampling->widest);
  for (int end = 0; end < 2; end++) {
    Judged judged = { work, id, sampling->beyond[end] };
    double found = measure->change.difference, left = found + judged.beside;
    if (!(left * found > 0) || effect_without (&judged, 0) != SB_EFFECT_MOVES)
      return TRUE;
    if (!measure->within_noise
        && (fabs (left) <= by_crests (work, id)
            || sb_noise_may_account (SB_EFFECT_MOVES, TRUE, left, measure->by_noise, effect_without, &judged)))
      return TRUE;
  }
  return FALSE;
}

/* As a comparison decides. */
static void
decide (const SbAuditWork *work, SbMeasureId id, SbAuditMeasure *measure)
{
  Judged judged = { work, id, 0 };
  measure->effect = effect_of (work, measure->points, measure->margin, measure->p_holm);
  gboolean moves = measure->effect == SB_EFFECT_MOVES;
  measure->by_noise = mean_bias (work->level[work->n_levels - 1], id) - mean_bias (work->level[0], id);
  measure->in_noise = measure->effect != SB_EFFECT_STEADY && is_in_noise (work, id);
  gboolean hangs = measure->effect != SB_EFFECT_UNDECIDED && has_bias (work, id)
                   && sb_noise_may_account ((int) measure->effect, moves, measure->change.difference, measure->by_noise,
                                            effect_without, &judged);
  measure->within_noise = moves && (hangs || fabs (measure->change.difference) <= by_crests (work, id));
  measure->doubted = measure->doubted || (hangs && has_doubts (work, id, have_bias));
  SbAuditSampling sampling = sb_audit_sampling (work, id);
  gboolean turned = late_onsets_turn (work, id, &sampling);
  measure->within_sampling = turned && !sampling.averages_out;
  measure->doubted = measure->doubted || (turned && sampling.averages_out);
  if (measure->within_noise || measure->in_noise || measure->within_sampling)
    measure->effect = SB_EFFECT_UNDECIDED;
}

/* Holm's correction counts the measures that could be tested. */
void
sb_audit_find_effects (SbAuditWork *work, const SbMargin margin[SB_N_MEASURES])
{
  SbAuditMeasure *measures = work->audit->measure;
  double p[SB_N_MEASURES];
  gsize n = 0;
  for (int m = 0; m < SB_N_MEASURES && !g_cancellable_is_cancelled (work->cancellable); m++) {
    test_measure (work, (SbMeasureId) m, &margin[m], &measures[m]);
    if (measures[m].effect != SB_EFFECT_ABSENT)
      p[n++] = measures[m].p;
  }
  sb_holm (p, n);
  n = 0;
  for (int m = 0; m < SB_N_MEASURES; m++) {
    SbAuditMeasure *measure = &measures[m];
    if (measure->effect == SB_EFFECT_ABSENT)
      continue;
    measure->p_holm = p[n++];
    decide (work, (SbMeasureId) m, measure);
  }
}
