/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "drive_parts.h"
#include "measure_table.h"

#include "statistics.h"

#include <math.h>
#include <string.h>

/* Step along a change of the parameters by which a figure's change is taken, as a share of that change. */
#define SMALL_SHARE 1e-3

void
sb_drive_set_absent (SbDriveWork *work, const char *format, ...)
{
  va_list args;
  va_start (args, format);
  g_free (work->model->absent_reason);
  work->model->absent_reason = g_strdup_vprintf (format, args);
  va_end (args);
  work->model->present = FALSE;
}

void
sb_drive_set_open (SbDriveWork *work, SbDriveParameterId id, const char *format, ...)
{
  SbDriveParameter *parameter = &work->model->parameter[id];
  va_list args;
  va_start (args, format);
  g_free (parameter->reason);
  parameter->reason = g_strdup_vprintf (format, args);
  va_end (args);
  parameter->identified = FALSE;
}

/* Figures of one side of the model as a function of its fitted parameters. */
typedef void (*Figures) (const SbDriveWork *work, const double *x, double figures[SB_N_DRIVE_PARAMETERS]);

static double
at_or (const SbTorqueFit *fit, const double *x, SbTorqueParameter which, double otherwise)
{
  int place = sb_torque_place (fit->form, which);
  return place >= 0 ? x[place] : otherwise;
}

static void
torque_figures (const SbDriveWork *work, const double *x, double figures[SB_N_DRIVE_PARAMETERS])
{
  const SbTorqueFit *fit = &work->torque_fit;
  double lag = exp (at_or (fit, x, SB_TORQUE_LOG_LAG, NAN)),
         damping = exp (at_or (fit, x, SB_TORQUE_LOG_LAG_DAMPING, NAN));
  double rate = 2 * G_PI * at_or (fit, x, SB_TORQUE_RING_FREQUENCY, NAN),
         decay = at_or (fit, x, SB_TORQUE_RING_DECAY, NAN);
  figures[SB_DRIVE_DELAY] = x[sb_torque_place (fit->form, SB_TORQUE_DELAY)] + work->command_ramp_s / 2;
  figures[SB_DRIVE_SLOPE_LIMIT] = exp (at_or (fit, x, SB_TORQUE_LOG_SLOPE, NAN));
  figures[SB_DRIVE_LEVEL] = figures[SB_DRIVE_CEILING] = x[sb_torque_place (fit->form, SB_TORQUE_LEVEL)];
  figures[SB_DRIVE_LAG_TIME] = fit->form.lag == SB_DRIVE_LAG_SECOND ? 2 * damping * lag : lag;
  figures[SB_DRIVE_LAG_DAMPING] = damping;
  figures[SB_DRIVE_RINGING_AMPLITUDE] = fabs (at_or (fit, x, SB_TORQUE_RING_AMPLITUDE, NAN));
  figures[SB_DRIVE_RINGING_FREQUENCY] = rate / (2 * G_PI);
  figures[SB_DRIVE_RINGING_DAMPING] = decay / hypot (decay, rate);
}

static void
motion_figures (const SbDriveWork *work, const double *x, double figures[SB_N_DRIVE_PARAMETERS])
{
  SbMotion motion = sb_motion_from (x);
  figures[SB_DRIVE_INERTIA] = motion.inertia_kg_m2;
  figures[SB_DRIVE_DAMPING] = motion.damping_nm_s;
  figures[SB_DRIVE_FRICTION] = motion.friction_nm;
}

/* Residuals of one repeat at the fitted parameters. */
typedef void (*RepeatResiduals) (const SbDriveWork *work, const SbTrial *trial, double *f);

/* One side of the model, fitted. */
typedef struct {
  const SbDriveWork *work;
  const SbDriveProblem *problem;
  const double *x;
  Figures figures;
  RepeatResiduals residuals;
  SbDriveParameterId from, to; /* the parameters of this side */
} Side;

/* How the figures change when the parameters change by `step`, to first order. */
static void
change_along (const Side *side, const double *step, double change[SB_N_DRIVE_PARAMETERS])
{
  double low[SB_N_DRIVE_PARAMETERS] = { 0 }, high[SB_N_DRIVE_PARAMETERS] = { 0 }, moved[SB_DRIVE_MOST_PARAMETERS];
  for (gsize k = 0; k < side->problem->p; k++)
    moved[k] = side->x[k] - SMALL_SHARE * step[k];
  side->figures (side->work, moved, low);
  for (gsize k = 0; k < side->problem->p; k++)
    moved[k] = side->x[k] + SMALL_SHARE * step[k];
  side->figures (side->work, moved, high);
  for (int i = 0; i < SB_N_DRIVE_PARAMETERS; i++)
    change[i] = (high[i] - low[i]) / (2 * SMALL_SHARE);
}

/* Type A: how far each repeat on its own would move the figures (GUM 4.2.3). */
static void
variance_of_repeats (const Side *side, const SbDriveTangent *tangent, double variance[SB_N_DRIVE_PARAMETERS])
{
  const GPtrArray *kept = side->work->ensemble->kept;
  g_autofree double *f = g_new (double, side->problem->n);
  g_autofree double *changes = g_new (double, SB_N_DRIVE_PARAMETERS * kept->len);
  for (guint t = 0; t < kept->len; t++) {
    double step[SB_DRIVE_MOST_PARAMETERS], change[SB_N_DRIVE_PARAMETERS];
    side->residuals (side->work, g_ptr_array_index (kept, t), f);
    sb_drive_tangent_step (tangent, side->problem->n, f, step);
    change_along (side, step, change);
    for (int i = 0; i < SB_N_DRIVE_PARAMETERS; i++)
      changes[(guint) i * kept->len + t] = change[i];
  }
  for (int i = 0; i < SB_N_DRIVE_PARAMETERS; i++) {
    double sd = sb_sd (changes + (guint) i * kept->len, kept->len);
    variance[i] = sd * sd / (double) kept->len;
  }
}

/* From the residuals of the mean curve alone. */
static void
variance_of_residuals (const Side *side, const SbDriveTangent *tangent, double variance[SB_N_DRIVE_PARAMETERS])
{
  gsize p = side->problem->p;
  double change[SB_DRIVE_MOST_PARAMETERS][SB_N_DRIVE_PARAMETERS];
  for (gsize k = 0; k < p; k++) {
    double step[SB_DRIVE_MOST_PARAMETERS] = { 0 };
    step[k] = sqrt (tangent->inverse[k * p + k]);
    change_along (side, step, change[k]);
    for (int i = 0; i < SB_N_DRIVE_PARAMETERS; i++)
      change[k][i] = step[k] > 0 ? change[k][i] / step[k] : 0;
  }
  g_autofree double *f = g_new (double, side->problem->n);
  side->problem->residuals (side->x, side->problem->data, f, NULL);
  double size = sb_drive_residual_variance (f, side->problem->n, p);
  for (int i = 0; i < SB_N_DRIVE_PARAMETERS; i++) {
    variance[i] = 0;
    for (gsize a = 0; a < p; a++)
      for (gsize b = 0; b < p; b++)
        variance[i] += size * change[a][i] * tangent->inverse[a * p + b] * change[b][i];
  }
}

/* Open parameters of the fit make open figures: those that change with them. */
static void
mark_open (SbDriveWork *work, const Side *side, const SbDriveTangent *tangent)
{
  for (gsize k = 0; k < side->problem->p; k++) {
    if (!tangent->open[k])
      continue;
    double step[SB_DRIVE_MOST_PARAMETERS] = { 0 }, change[SB_N_DRIVE_PARAMETERS];
    step[k] = 1;
    change_along (side, step, change);
    for (int i = (int) side->from; i <= (int) side->to; i++)
      work->open[i] = work->open[i] || fabs (change[i]) > 0;
  }
}

static void
set_figures (SbDriveWork *work, const Side *side)
{
  SbDriveTangent tangent;
  double figures[SB_N_DRIVE_PARAMETERS] = { 0 }, variance[SB_N_DRIVE_PARAMETERS];
  sb_drive_tangent_init (&tangent, side->problem, side->x);
  side->figures (work, side->x, figures);
  if (work->by_repeat)
    variance_of_repeats (side, &tangent, variance);
  else
    variance_of_residuals (side, &tangent, variance);
  mark_open (work, side, &tangent);
  sb_drive_tangent_clear (&tangent);
  double freedom = (double) (work->by_repeat ? work->model->n_trials - 1 : side->problem->n - side->problem->p);
  double t = sb_student_t (0.975, freedom);
  for (int i = (int) side->from; i <= (int) side->to; i++) {
    SbDriveParameter *parameter = &work->model->parameter[i];
    parameter->identified = isfinite (figures[i]);
    parameter->value = figures[i];
    parameter->standard_error = sqrt (variance[i]);
    parameter->ci95[0] = figures[i] - t * parameter->standard_error;
    parameter->ci95[1] = figures[i] + t * parameter->standard_error;
  }
}

static double
rms_of (const double *measured, const double *model, gsize n)
{
  double squares = 0;
  for (gsize i = 0; i < n; i++)
    squares += (measured[i] - model[i]) * (measured[i] - model[i]);
  return sqrt (squares / (double) n);
}

static double *
curve_of_nans (gsize n)
{
  double *curve = g_new (double, n);
  for (gsize i = 0; i < n; i++)
    curve[i] = NAN;
  return curve;
}

static void
repeat_torque_residuals (const SbDriveWork *work, const SbTrial *trial, double *f)
{
  g_autofree double *torque = g_new (double, work->ensemble->n_points);
  sb_ensemble_resample (work->ensemble, trial, SB_CHANNEL_TORQUE, torque);
  for (gsize i = 0; i < work->n; i++) {
    double difference = work->model->torque[work->first + i] - torque[work->first + i];
    f[i] = isfinite (difference) ? difference / work->torque_sd_nm[i] : 0;
  }
}

gboolean
sb_drive_fit_torque (SbDriveWork *work)
{
  SbDriveModel *model = work->model;
  SbTorqueCurve curve = { work->n, work->t_s, work->torque_nm, work->torque_sd_nm };
  SbRiseGuess guess;
  if (!sb_rise_guess (&curve, -work->command_ramp_s / 2, &guess)) {
    sb_drive_set_absent (work, "the mean torque does not rise from its level before the step");
    return FALSE;
  }
  if (!sb_torque_fit (&curve, &guess, &work->torque_fit)) {
    sb_drive_set_absent (work, "no form of the model could be brought to fit the mean torque, from any start");
    return FALSE;
  }
  const SbTorqueFit *fit = &work->torque_fit;
  model->form = fit->form;
  model->torque = curve_of_nans (model->n_points);
  sb_torque_evaluate (fit->form, fit->x, work->t_s, work->n, model->torque + work->first);
  model->torque_rms_nm = rms_of (work->torque_nm, model->torque + work->first, work->n);
  SbTorqueProblem problem = { fit->form, curve };
  SbDriveProblem drive = { sb_torque_residuals, &problem, work->n, sb_torque_n_parameters (fit->form) };
  Side side
      = { work, &drive, fit->x, torque_figures, repeat_torque_residuals, SB_DRIVE_DELAY, SB_DRIVE_RINGING_DAMPING };
  set_figures (work, &side);
  return TRUE;
}

/* The motion that the fitted parameters make of this repeat's own torque, against its own velocity: what the torque's
 * noise and scatter do to the velocity is in it. */
static void
repeat_motion_residuals (const SbDriveWork *work, const SbTrial *trial, double *f)
{
  gsize n_points = work->ensemble->n_points;
  g_autofree double *torque = g_new (double, n_points);
  g_autofree double *velocity = g_new (double, n_points);
  g_autofree double *model = g_new (double, work->n);
  sb_ensemble_resample (work->ensemble, trial, SB_CHANNEL_TORQUE, torque);
  sb_ensemble_resample (work->ensemble, trial, SB_CHANNEL_VELOCITY, velocity);
  SbMotion motion = sb_motion_from (work->motion_x);
  sb_motion_run (&motion, torque + work->first, work->n, work->ensemble->grid_step_s, work->start_rad_s, model);
  for (gsize i = 0; i < work->n; i++) {
    double difference = model[i] - velocity[work->first + i];
    f[i] = isfinite (difference) ? difference / work->velocity_sd_rad_s[i] : 0;
  }
}

static void
set_motion_open (SbDriveWork *work, const char *reason)
{
  for (int i = SB_DRIVE_INERTIA; i <= SB_DRIVE_FRICTION; i++)
    sb_drive_set_open (work, (SbDriveParameterId) i, "%s", reason);
}

/* Why the motion says nothing; NULL when it may. */
static const char *
motion_obstacle (const SbDriveWork *work)
{
  double peak = 0, noise = 0;
  if (work->velocity_rad_s == NULL)
    return "not every repeat has a velocity";
  for (gsize i = 0; i < work->n_facts; i++)
    if (work->facts[i]->derived_words[SB_CHANNEL_TORQUE] != NULL)
      return "the torque was not measured but worked out from the velocity, from a current or by the logger";
  for (gsize i = 0; i < work->n; i++) {
    peak = fmax (peak, fabs (work->velocity_rad_s[i]));
    noise = fmax (noise, work->known_spread ? work->velocity_sd_rad_s[i] : 0);
  }
  return peak > 5 * noise && peak > 0 ? NULL : "the shaft hardly moved";
}

void
sb_drive_fit_motion (SbDriveWork *work)
{
  SbDriveModel *model = work->model;
  const char *obstacle = motion_obstacle (work);
  if (obstacle != NULL) {
    set_motion_open (work, obstacle);
    return;
  }
  SbMotionProblem problem = { work->n,         work->ensemble->grid_step_s, work->start_rad_s,
                              work->torque_nm, work->velocity_rad_s,        work->velocity_sd_rad_s };
  guint n_agreeing;
  if (!sb_motion_fit (&problem, work->motion_x, &n_agreeing)) {
    set_motion_open (work, "no start brought the model to fit the mean velocity");
    return;
  }
  if (n_agreeing < 2)
    g_ptr_array_add (
        model->doubts,
        sb_doubt_new (SB_DOUBT_TOLD, g_strdup ("Inertia, damping and friction: only one of several starts led here.")));
  model->has_motion = TRUE;
  SbDriveProblem drive = { sb_motion_residuals, &problem, work->n, SB_MOTION_PARAMETERS };
  Side side
      = { work, &drive, work->motion_x, motion_figures, repeat_motion_residuals, SB_DRIVE_INERTIA, SB_DRIVE_FRICTION };
  set_figures (work, &side);
  model->velocity = curve_of_nans (model->n_points);
  SbMotion motion = sb_motion_from (work->motion_x);
  sb_motion_run (&motion, model->torque + work->first, work->n, problem.step_s, work->start_rad_s,
                 model->velocity + work->first);
  model->velocity_rms_rad_s = rms_of (work->velocity_rad_s, model->velocity + work->first, work->n);
}

SbDriveModel *
sb_drive_model_new (const SbEnsemble *ensemble, SbTrialFacts *const *facts, gsize n)
{
  SbDriveModel *model = g_new0 (SbDriveModel, 1);
  g_atomic_ref_count_init (&model->ref_count);
  model->present = TRUE;
  model->stretches = g_array_new (FALSE, FALSE, sizeof (SbDriveStretch));
  model->doubts = g_ptr_array_new_with_free_func (sb_doubt_free);
  model->n_trials = ensemble->n_trials;
  model->n_points = ensemble->n_points;
  model->torque_rms_nm = model->velocity_rms_rad_s = NAN;
  SbDriveWork work = { .model = model, .ensemble = ensemble, .facts = facts, .n_facts = n };
  if (sb_drive_take_window (&work) && sb_drive_fit_torque (&work)) {
    sb_drive_fit_motion (&work);
    sb_drive_judge (&work);
  }
  sb_drive_work_clear (&work);
  return model;
}

SbDriveModel *
sb_drive_model_ref (SbDriveModel *model)
{
  g_atomic_ref_count_inc (&model->ref_count);
  return model;
}

void
sb_drive_model_unref (SbDriveModel *model)
{
  if (model == NULL || !g_atomic_ref_count_dec (&model->ref_count))
    return;
  for (int i = 0; i < SB_N_DRIVE_PARAMETERS; i++)
    g_free (model->parameter[i].reason);
  g_free (model->absent_reason);
  g_array_unref (model->stretches);
  g_ptr_array_unref (model->doubts);
  g_free (model->torque);
  g_free (model->velocity);
  g_free (model);
}
