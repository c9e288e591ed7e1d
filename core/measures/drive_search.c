/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "drive_search.h"

#include <math.h>
#include <string.h>

/* The search need not end where it leads: the form chosen does, on all points. */
#define SEARCH_TOLERANCE  1e-4
#define SEARCH_ITERATIONS 25
#define FINISH_TOLERANCE  1e-7
#define FINISH_ITERATIONS 60
#define N_STARTS          3
/* Sums of squares that differ by less, as a share, are the same end. */
#define SAME_END 1e-3

/* Of the thinned curve: points over the rise, and how much wider they stand the later they are. */
#define RISE_POINTS 150.0
#define LEAD_POINTS 10.0
#define GROWTH      0.02

/* Of the search for ringing: neighbouring frequencies, trial damping ratios, and what counts as ringing. */
#define FREQUENCY_RATIO   1.06
#define FEWEST_CYCLES     1.5
#define MOST_RING_DAMPING 0.7
/* Below this damping ratio a lag of second order takes ringing upon itself. */
#define LEAST_STILL_DAMPING 0.5

/* Each lag of second order stands after its like of first order. */
static const SbDriveForm forms[] = {
  { TRUE, SB_DRIVE_LAG_NONE, FALSE },   { TRUE, SB_DRIVE_LAG_FIRST, FALSE },   { TRUE, SB_DRIVE_LAG_SECOND, FALSE },
  { FALSE, SB_DRIVE_LAG_FIRST, FALSE }, { FALSE, SB_DRIVE_LAG_SECOND, FALSE },
};

#define N_FORMS G_N_ELEMENTS (forms)

/* First crossing of a level after `from_s`, or NaN. */
static double
crossing (const SbTorqueCurve *curve, double from_s, double level)
{
  for (gsize i = 1; i < curve->n; i++) {
    double a = curve->torque_nm[i - 1], b = curve->torque_nm[i];
    if (curve->t_s[i] > from_s && a < level && b >= level)
      return curve->t_s[i - 1] + (level - a) / (b - a) * (curve->t_s[i] - curve->t_s[i - 1]);
  }
  return NAN;
}

static double
mean_between (const SbTorqueCurve *curve, double from_s, double to_s)
{
  double sum = 0;
  gsize n = 0;
  for (gsize i = 0; i < curve->n; i++)
    if (curve->t_s[i] >= from_s && curve->t_s[i] <= to_s) {
      sum += curve->torque_nm[i];
      n++;
    }
  return n > 0 ? sum / (double) n : (double) NAN;
}

gboolean
sb_rise_guess (const SbTorqueCurve *curve, double from_s, SbRiseGuess *guess)
{
  double end_s = curve->t_s[curve->n - 1], interval_s = curve->t_s[1] - curve->t_s[0];
  guess->base_nm = mean_between (curve, -HUGE_VAL, from_s - 0.5 * interval_s);
  if (!isfinite (guess->base_nm))
    guess->base_nm = curve->torque_nm[0];
  guess->top_nm = mean_between (curve, 0.75 * end_s, end_s);
  double size = guess->top_nm - guess->base_nm;
  guess->t10_s = crossing (curve, from_s, guess->base_nm + 0.1 * size);
  guess->t90_s = crossing (curve, from_s, guess->base_nm + 0.9 * size);
  return size > 0 && isfinite (guess->t10_s) && guess->t90_s > guess->t10_s;
}

/* The curve averaged over stretches that are short where the torque rises and longer the later they are. */
typedef struct {
  SbTorqueCurve curve;
  double *t, *torque, *sd;
} Thinned;

static void
thinned_clear (Thinned *thinned)
{
  g_free (thinned->t);
  g_free (thinned->torque);
  g_free (thinned->sd);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Thinned, thinned_clear)

static double
stretch_at (const SbTorqueCurve *curve, const SbRiseGuess *guess, double t)
{
  double rise = guess->t90_s - guess->t10_s, fine = 6 * rise / RISE_POINTS;
  double early = guess->t10_s - 2 * rise;
  if (t < early)
    return fmax (fine, fmin ((early - curve->t_s[0]) / LEAD_POINTS, early - t));
  double late = t - guess->t90_s - 3 * rise;
  return late > 0 ? fmax (fine, GROWTH * late) : fine;
}

static Thinned
thin (const SbTorqueCurve *curve, const SbRiseGuess *guess)
{
  Thinned thinned
      = { .t = g_new (double, curve->n), .torque = g_new (double, curve->n), .sd = g_new (double, curve->n) };
  gsize n = 0, i = 0;
  while (i < curve->n) {
    double end = curve->t_s[i] + 0.999 * stretch_at (curve, guess, curve->t_s[i]), weights = 0, t = 0, torque = 0;
    gsize first = i;
    for (; i < curve->n && (i == first || curve->t_s[i] < end); i++) {
      double weight = 1 / (curve->sd_nm[i] * curve->sd_nm[i]);
      weights += weight;
      t += weight * curve->t_s[i];
      torque += weight * curve->torque_nm[i];
    }
    thinned.t[n] = t / weights;
    thinned.torque[n] = torque / weights;
    thinned.sd[n++] = 1 / sqrt (weights);
  }
  thinned.curve = (SbTorqueCurve){ n, thinned.t, thinned.torque, thinned.sd };
  return thinned;
}

/* One form fitted to one curve. */
typedef struct {
  SbDriveForm form;
  double x[SB_DRIVE_MOST_PARAMETERS];
  double squares; /* infinite: did not converge */
} Candidate;

static void
set_if_there (SbDriveForm form, double *x, SbTorqueParameter which, double value)
{
  int place = sb_torque_place (form, which);
  if (place >= 0)
    x[place] = value;
}

/* The rise is the slope limit's, the lag's, or both halves'. */
static void
begin_at (SbDriveForm form, const SbRiseGuess *guess, guint start, double *x)
{
  static const double shares[N_STARTS] = { 0.1, 0.45, 0.8 };
  double share = form.slope ? shares[start] : 1, rise = guess->t90_s - guess->t10_s;
  double size = guess->top_nm - guess->base_nm, lag = share * rise / 2.2;
  double damping = form.slope ? 1 : (double[]){ 1, 0.5, 2 }[start];
  x[0] = guess->base_nm;
  x[1] = guess->top_nm;
  x[2] = guess->t10_s - (1 - share) * 0.125 * rise - 0.1 * lag * (1 + start);
  set_if_there (form, x, SB_TORQUE_LOG_SLOPE, log (0.8 * size / rise / fmax (1 - 0.8 * share, 0.2)));
  set_if_there (form, x, SB_TORQUE_LOG_LAG, log (form.lag == SB_DRIVE_LAG_SECOND ? lag / 2 : lag));
  set_if_there (form, x, SB_TORQUE_LOG_LAG_DAMPING, log (damping));
}

static SbDriveEnd
improve (const SbTorqueCurve *curve, Candidate *candidate, double tolerance, gsize most_iterations)
{
  SbTorqueProblem problem = { candidate->form, *curve };
  SbDriveProblem fit = { sb_torque_residuals, &problem, curve->n, sb_torque_n_parameters (candidate->form) };
  SbDriveEnd end = SB_DRIVE_END_FAILED;
  if (curve->n > fit.p)
    end = sb_drive_minimise (&fit, candidate->x, tolerance, most_iterations, &candidate->squares);
  if (end == SB_DRIVE_END_FAILED)
    candidate->squares = HUGE_VAL;
  return end;
}

static Candidate
best_of_starts (const SbTorqueCurve *curve, const SbRiseGuess *guess, SbDriveForm form)
{
  Candidate best = { .form = form, .squares = HUGE_VAL };
  for (guint s = 0; s < N_STARTS; s++) {
    Candidate candidate = { .form = form };
    begin_at (form, guess, s, candidate.x);
    improve (curve, &candidate, SEARCH_TOLERANCE, SEARCH_ITERATIONS);
    if (candidate.squares < best.squares)
      best = candidate;
  }
  return best;
}

/* Bayesian information criterion with the noise's size unknown (Schwarz 1978). A sum of squares that is rounding is
 * held at rounding, or the criterion would choose among roundings. */
static double
criterion (const Candidate *candidate, const SbTorqueCurve *curve)
{
  double n = (double) curve->n, total = 0;
  for (gsize i = 0; i < curve->n; i++)
    total += pow (curve->torque_nm[i] / curve->sd_nm[i], 2);
  double squares = fmax (candidate->squares, 1e-18 * total);
  return n * log (squares / n) + (double) sb_torque_n_parameters (candidate->form) * log (n);
}

static gboolean
is_better (const Candidate *candidate, const Candidate *best, const SbTorqueCurve *curve)
{
  if (!isfinite (candidate->squares))
    return FALSE;
  return !isfinite (best->squares) || criterion (candidate, curve) < criterion (best, curve);
}

/* When the rise of a form is over: where its ringing would begin. */
static double
rise_end (const Candidate *candidate)
{
  double lag = candidate->form.lag == SB_DRIVE_LAG_NONE
                   ? 0
                   : exp (candidate->x[sb_torque_place (candidate->form, SB_TORQUE_LOG_LAG)]);
  return candidate->x[2] + sb_torque_ramp_time (candidate->form, candidate->x) + 2 * lag;
}

typedef struct {
  double amplitude, start, frequency, decay;
} Ring;

/* What a decaying oscillation from `from_s` on takes off the residuals' sum of squares. */
static double
try_ring (const SbTorqueCurve *curve, const double *residual, double from_s, double frequency, double damping,
          Ring *ring)
{
  double rate = 2 * G_PI * frequency, decay = damping * rate, cc = 0, ss = 0, cs = 0, cy = 0, sy = 0;
  for (gsize i = 0; i < curve->n; i++) {
    double y = curve->t_s[i] - from_s;
    if (!(y > 0) || decay * y > 20)
      continue;
    double envelope = exp (-decay * y) / curve->sd_nm[i], c = envelope * cos (rate * y), s = envelope * sin (rate * y);
    cc += c * c;
    ss += s * s;
    cs += c * s;
    cy += c * residual[i];
    sy += s * residual[i];
  }
  double determinant = cc * ss - cs * cs;
  if (!(determinant > 1e-9 * cc * ss))
    return 0;
  double a = (cy * ss - sy * cs) / determinant, b = (sy * cc - cy * cs) / determinant;
  double phase = atan2 (a, b); /* a cos + b sin = A sin (rate y + phase) */
  *ring = (Ring){ hypot (a, b), from_s - phase / rate, frequency, decay };
  return a * cy + b * sy;
}

static gboolean
find_ring (const SbTorqueCurve *curve, const Candidate *best, Ring *ring)
{
  static const double dampings[] = { 0.04, 0.15 };
  SbTorqueProblem problem = { best->form, *curve };
  g_autofree double *residual = g_new (double, curve->n);
  sb_torque_residuals (best->x, &problem, residual, NULL);
  for (gsize i = 0; i < curve->n; i++)
    residual[i] = -residual[i];
  double from_s = rise_end (best), length_s = curve->t_s[curve->n - 1] - from_s, narrowest = HUGE_VAL;
  for (gsize i = 1; i < curve->n; i++)
    if (curve->t_s[i] > from_s)
      narrowest = fmin (narrowest, curve->t_s[i] - curve->t_s[i - 1]);
  double taken = 0;
  for (double f = FEWEST_CYCLES / length_s; length_s > 0 && f < 0.2 / narrowest; f *= FREQUENCY_RATIO)
    for (gsize d = 0; d < G_N_ELEMENTS (dampings); d++) {
      Ring tried = { 0 };
      double share = try_ring (curve, residual, from_s, f, dampings[d], &tried);
      if (share > taken) {
        taken = share;
        *ring = tried;
      }
    }
  return taken > 0;
}

/* A mode that begins with the end of the rise, turns a few times and does not grow; else it stands for something else.
 */
static gboolean
is_ringing (const Candidate *candidate, const SbTorqueCurve *curve)
{
  const double *ring = candidate->x + sb_torque_place (candidate->form, SB_TORQUE_RING_AMPLITUDE);
  double frequency = ring[2], rate = 2 * G_PI * frequency, damping = ring[3] / hypot (ring[3], rate);
  double end_s = curve->t_s[curve->n - 1];
  return frequency > 0 && damping > -0.02 && damping < MOST_RING_DAMPING
         && fabs (ring[1] - rise_end (candidate)) < 0.75 / frequency && (end_s - ring[1]) * frequency > FEWEST_CYCLES;
}

/* A lag of second order that rings would leave nothing to the mode: it begins as two equal lags of first order. */
static Candidate
without_swing (const Candidate *plain, const Candidate *first_order)
{
  Candidate still = *plain;
  if (plain->form.lag != SB_DRIVE_LAG_SECOND
      || plain->x[sb_torque_place (plain->form, SB_TORQUE_LOG_LAG_DAMPING)] > log (LEAST_STILL_DAMPING))
    return still;
  int lag = sb_torque_place (plain->form, SB_TORQUE_LOG_LAG);
  memcpy (still.x, first_order->x, sizeof still.x);
  still.x[lag] = first_order->x[lag] - log (2);
  still.x[lag + 1] = 0;
  return still;
}

static Candidate
with_ring (const Candidate *plain, const Ring *ring)
{
  Candidate candidate = *plain;
  candidate.form.ringing = TRUE;
  double *x = candidate.x + sb_torque_place (candidate.form, SB_TORQUE_RING_AMPLITUDE);
  x[0] = ring->amplitude;
  x[1] = ring->start;
  x[2] = ring->frequency;
  x[3] = ring->decay;
  return candidate;
}

/* A mode on each form, sought in what the best form leaves that cannot swing by itself. */
static void
add_ringing (const SbTorqueCurve *curve, const Candidate plain[N_FORMS], Candidate *best)
{
  Candidate still = { .squares = HUGE_VAL };
  for (gsize k = 0; k < N_FORMS; k++)
    if (plain[k].form.lag != SB_DRIVE_LAG_SECOND && is_better (&plain[k], &still, curve))
      still = plain[k];
  Ring ring = { 0 };
  if (!isfinite (still.squares) || !find_ring (curve, &still, &ring))
    return;
  for (gsize k = 0; k < N_FORMS; k++) {
    Candidate start = without_swing (&plain[k], &plain[k > 0 ? k - 1 : 0]);
    Candidate ringing = with_ring (&start, &ring);
    improve (curve, &ringing, SEARCH_TOLERANCE, SEARCH_ITERATIONS);
    if (is_better (&ringing, best, curve) && is_ringing (&ringing, curve))
      *best = ringing;
  }
}

/* The chosen form again from starts a way off: how many come back, and whether one finds a better end. */
static void
check_again (const SbTorqueCurve *curve, Candidate *best, SbTorqueFit *fit)
{
  double squares[N_STARTS] = { best->squares };
  for (guint s = 1; s < N_STARTS; s++) {
    Candidate again = *best;
    double way = s == 1 ? 0.25 : -0.25;
    for (int k = SB_TORQUE_LOG_SLOPE; k <= SB_TORQUE_LOG_LAG_DAMPING; k++) {
      int place = sb_torque_place (best->form, (SbTorqueParameter) k);
      if (place >= 0)
        again.x[place] += k == SB_TORQUE_LOG_SLOPE ? way : -way;
    }
    set_if_there (best->form, again.x, SB_TORQUE_RING_FREQUENCY,
                  again.x[MAX (0, sb_torque_place (best->form, SB_TORQUE_RING_FREQUENCY))] * (1 + 0.1 * way));
    improve (curve, &again, SEARCH_TOLERANCE, SEARCH_ITERATIONS);
    squares[s] = again.squares;
    if (again.squares < best->squares && (!best->form.ringing || is_ringing (&again, curve)))
      *best = again;
  }
  fit->n_starts = N_STARTS;
  fit->n_agreeing = 0;
  for (guint s = 0; s < N_STARTS; s++)
    fit->n_agreeing += squares[s] <= best->squares * (1 + SAME_END) ? 1 : 0;
}

gboolean
sb_torque_fit (const SbTorqueCurve *curve, const SbRiseGuess *guess, SbTorqueFit *fit)
{
  g_auto (Thinned) thinned = thin (curve, guess);
  Candidate plain[N_FORMS], best = { .squares = HUGE_VAL };
  for (gsize k = 0; k < N_FORMS; k++) {
    plain[k] = best_of_starts (&thinned.curve, guess, forms[k]);
    if (is_better (&plain[k], &best, &thinned.curve))
      best = plain[k];
  }
  if (!isfinite (best.squares))
    return FALSE;
  add_ringing (&thinned.curve, plain, &best);
  check_again (&thinned.curve, &best, fit);
  SbDriveEnd end = improve (curve, &best, FINISH_TOLERANCE, FINISH_ITERATIONS);
  fit->form = best.form;
  memcpy (fit->x, best.x, sizeof fit->x);
  return end == SB_DRIVE_END_CONVERGED;
}
