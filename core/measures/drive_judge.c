/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the fitted drive model may claim: which parameters stand, which limit binds when, what to doubt. */
#include "drive_parts.h"
#include "measure_table.h"

#include <math.h>

/* A figure stands when it is at least three times its standard error. */
#define WORST_ERROR (1.0 / 3)
/* Damping and friction may also be known to be nearly nothing: to within this share of the torque. */
#define NEARLY_NOTHING 0.005
/* The torque has to stay below the command by this share of the step, and beyond its errors, to speak of a ceiling. */
#define BELOW_COMMAND  0.02
#define CEILING_ERRORS 3
/* A rise of fewer sample intervals cannot tell its slope. */
#define FEWEST_INTERVALS 2
/* A lag below this many sample intervals is not the drive's alone. */
#define SHORT_LAG 3
/* The drive's slope is its own when it is below this share of the command's. */
#define OWN_SLOPE 0.9
/* Friction counts as binding from this share of the torque on. */
#define TAKEN_BY_FRICTION 0.9
/* Residuals whose RMS is above this many standard errors of the mean curve are more than noise, for which it is 1 at
 * most. */
#define MISFIT 1.5
/* How far the stated inertia may be off before it is told. */
#define INERTIA_OFF 0.1

static void add_doubt (SbDriveWork *work, const char *format, ...) G_GNUC_PRINTF (2, 3);

static void
add_doubt (SbDriveWork *work, const char *format, ...)
{
  va_list args;
  va_start (args, format);
  g_ptr_array_add (work->model->doubts, sb_doubt_new (SB_DOUBT_TOLD, g_strdup_vprintf (format, args)));
  va_end (args);
}

static const SbDriveParameter *
parameter_of (const SbDriveWork *work, SbDriveParameterId id)
{
  return &work->model->parameter[id];
}

static gboolean
is_rough (const SbDriveParameter *parameter)
{
  return !(parameter->standard_error <= WORST_ERROR * fabs (parameter->value));
}

static double
window_end (const SbDriveWork *work)
{
  return work->model->window_s[1];
}

static double
ramp_start (const SbDriveWork *work)
{
  return work->torque_fit.x[sb_torque_place (work->torque_fit.form, SB_TORQUE_DELAY)];
}

static double
ramp_end (const SbDriveWork *work)
{
  return ramp_start (work) + sb_torque_ramp_time (work->torque_fit.form, work->torque_fit.x);
}

static double
steepest (const SbDriveWork *work)
{
  const double *torque = work->model->torque + work->first;
  double most = 0;
  for (gsize i = 1; i < work->n; i++)
    most = fmax (most, torque[i] - torque[i - 1]);
  return most / work->ensemble->grid_step_s;
}

static void
judge_delay (SbDriveWork *work)
{
  if (!isfinite (work->command_top_nm))
    sb_drive_set_open (work, SB_DRIVE_DELAY,
                       "the logs have no command, and the onset is taken from the response itself: a delay before it "
                       "cannot be seen");
}

static void
judge_slope (SbDriveWork *work)
{
  double interval_s = work->ensemble->grid_step_s, ramp_s = ramp_end (work) - ramp_start (work);
  double of_command
      = work->command_ramp_s > 0 ? (work->command_top_nm - work->command_base_nm) / work->command_ramp_s : HUGE_VAL;
  const SbDriveParameter *slope = parameter_of (work, SB_DRIVE_SLOPE_LIMIT);
  g_autofree char *at_least = sb_figure (SB_MEASURE_PEAK_TORQUE_SLOPE, steepest (work), 3);
  g_autofree char *command = sb_figure (SB_MEASURE_PEAK_TORQUE_SLOPE, of_command, 3);
  if (!work->torque_fit.form.slope)
    sb_drive_set_open (work, SB_DRIVE_SLOPE_LIMIT,
                       "the rise is that of the lag alone: a slope limit, if there is one, was never reached and lies "
                       "above %s",
                       at_least);
  else if (slope->value > OWN_SLOPE * of_command)
    sb_drive_set_open (work, SB_DRIVE_SLOPE_LIMIT,
                       "the command itself rises at %s and the torque with it: the slope limit was never "
                       "reached",
                       command);
  else if (ramp_s < FEWEST_INTERVALS * interval_s)
    sb_drive_set_open (work, SB_DRIVE_SLOPE_LIMIT,
                       "the rise takes less than %d sample intervals of %.3g ms: a steeper one would look the same; it "
                       "is at least %s",
                       FEWEST_INTERVALS, 1000 * interval_s, at_least);
  else if (work->open[SB_DRIVE_SLOPE_LIMIT] || is_rough (slope))
    sb_drive_set_open (work, SB_DRIVE_SLOPE_LIMIT, "slope limit and lag cannot be told apart in this rise");
}

static void
judge_ceiling (SbDriveWork *work)
{
  const SbDriveParameter *level = parameter_of (work, SB_DRIVE_LEVEL);
  double missing = work->command_top_nm - level->value, step = work->command_top_nm - work->command_base_nm;
  if (work->open[SB_DRIVE_LEVEL] || !(ramp_end (work) < window_end (work))) {
    static const char rising[] = "the torque was still rising when the window of the fit ended";
    sb_drive_set_open (work, SB_DRIVE_LEVEL, "%s", rising);
    sb_drive_set_open (work, SB_DRIVE_CEILING, "the ceiling was never reached: %s", rising);
  } else if (!isfinite (work->command_top_nm)) {
    sb_drive_set_open (work, SB_DRIVE_CEILING,
                       "the logs have no command: the torque reached may be what was asked for or a ceiling");
  } else if (!(missing > BELOW_COMMAND * step) || !(missing > CEILING_ERRORS * level->standard_error)) {
    sb_drive_set_open (work, SB_DRIVE_CEILING,
                       "the ceiling was never reached: the torque followed the command up to %.4g N·m", level->value);
  } else {
    add_doubt (work,
               "Ceiling: one size of step cannot tell a ceiling from a drive that scales its command to %.0f %%; "
               "a larger step can.",
               100 * (1 - missing / step));
  }
  if (parameter_of (work, SB_DRIVE_LEVEL)->identified && missing < -BELOW_COMMAND * step)
    add_doubt (work, "Torque reached: %.1f %% above the command; the scale of the torque or of the command may be off.",
               -100 * missing / step);
}

static void
judge_lag (SbDriveWork *work)
{
  SbDriveForm form = work->torque_fit.form;
  if (form.lag == SB_DRIVE_LAG_NONE)
    sb_drive_set_open (work, SB_DRIVE_LAG_TIME, "no lag could be told from noise");
  else if (work->open[SB_DRIVE_LAG_TIME] || is_rough (parameter_of (work, SB_DRIVE_LAG_TIME)))
    sb_drive_set_open (work, SB_DRIVE_LAG_TIME, "too short beside the sample interval and the scatter of the repeats");
  else if (parameter_of (work, SB_DRIVE_LAG_TIME)->value < SHORT_LAG * work->ensemble->grid_step_s)
    add_doubt (work, "Lag: shorter than %d sample intervals; sampling and averaging round a rise off by about one.",
               SHORT_LAG);
  if (form.lag != SB_DRIVE_LAG_SECOND)
    sb_drive_set_open (work, SB_DRIVE_LAG_DAMPING, "the data ask for no lag of second order");
  else if (work->open[SB_DRIVE_LAG_DAMPING] || is_rough (parameter_of (work, SB_DRIVE_LAG_DAMPING)))
    sb_drive_set_open (work, SB_DRIVE_LAG_DAMPING, "the lag is too short for its shape to be seen");
}

static void
judge_ringing (SbDriveWork *work)
{
  for (int i = SB_DRIVE_RINGING_AMPLITUDE; i <= SB_DRIVE_RINGING_DAMPING; i++) {
    if (!work->torque_fit.form.ringing)
      sb_drive_set_open (work, (SbDriveParameterId) i, "no ringing could be told from noise");
    else if (work->open[i] || (i != SB_DRIVE_RINGING_DAMPING && is_rough (parameter_of (work, (SbDriveParameterId) i))))
      sb_drive_set_open (work, (SbDriveParameterId) i, "the ringing is too small beside the scatter of the repeats");
  }
}

static void
judge_motion (SbDriveWork *work)
{
  if (!work->model->has_motion)
    return;
  double speed = 0;
  for (gsize i = 0; i < work->n; i++)
    speed = fmax (speed, work->velocity_rad_s[i]);
  double torque = fabs (parameter_of (work, SB_DRIVE_LEVEL)->value);
  const SbDriveParameter *damping = parameter_of (work, SB_DRIVE_DAMPING),
                         *friction = parameter_of (work, SB_DRIVE_FRICTION);
  if (work->open[SB_DRIVE_INERTIA] || is_rough (parameter_of (work, SB_DRIVE_INERTIA)))
    sb_drive_set_open (work, SB_DRIVE_INERTIA, "the velocity hardly depends on it in this log");
  gboolean known_damping = damping->standard_error * speed < NEARLY_NOTHING * torque;
  if (work->open[SB_DRIVE_DAMPING] || (is_rough (damping) && !known_damping))
    sb_drive_set_open (work, SB_DRIVE_DAMPING,
                       "the run was too short or too slow to tell damping from dry friction and inertia");
  gboolean known_friction = friction->standard_error < NEARLY_NOTHING * torque;
  if (work->open[SB_DRIVE_FRICTION] || (is_rough (friction) && !known_friction))
    sb_drive_set_open (work, SB_DRIVE_FRICTION,
                       "the run was too short or too slow to tell dry friction from damping and inertia");
}

static void
add_stretch (SbDriveWork *work, SbDriveLimit limit, double from_s, double to_s)
{
  SbDriveStretch stretch = { limit, fmax (from_s, 0), fmin (to_s, window_end (work)) };
  if (limit == SB_DRIVE_LIMIT_TRAVEL)
    stretch.to_s = to_s;
  if (stretch.to_s > stretch.from_s)
    g_array_append_val (work->model->stretches, stretch);
}

/* From when on damping and friction take most of the torque until the end. */
static double
friction_from (const SbDriveWork *work)
{
  const SbDriveModel *model = work->model;
  SbMotion motion = sb_motion_from (work->motion_x);
  gsize from = work->n;
  for (gsize i = work->n; i-- > 0 && work->t_s[i] > ramp_end (work);) {
    double torque = model->torque[work->first + i], velocity = model->velocity[work->first + i];
    if (!(motion.damping_nm_s * velocity + motion.friction_nm >= TAKEN_BY_FRICTION * torque))
      break;
    from = i;
  }
  return from < work->n ? work->t_s[from] : HUGE_VAL;
}

static void
add_stretches (SbDriveWork *work)
{
  double end_s = window_end (work);
  if (isfinite (work->command_top_nm))
    add_stretch (work, SB_DRIVE_LIMIT_DELAY, 0, ramp_start (work));
  if (parameter_of (work, SB_DRIVE_SLOPE_LIMIT)->identified)
    add_stretch (work, SB_DRIVE_LIMIT_SLOPE, ramp_start (work), ramp_end (work));
  if (parameter_of (work, SB_DRIVE_CEILING)->identified)
    add_stretch (work, SB_DRIVE_LIMIT_CEILING, ramp_end (work), end_s);
  else if (isfinite (work->command_top_nm))
    add_stretch (work, SB_DRIVE_LIMIT_COMMAND, ramp_end (work), end_s);
  if (work->model->has_motion)
    add_stretch (work, SB_DRIVE_LIMIT_FRICTION, friction_from (work), end_s);
  if (isfinite (work->travel_end_s))
    add_stretch (work, SB_DRIVE_LIMIT_TRAVEL, work->travel_end_s, work->ensemble->active_end_s);
}

/* Root mean square of (mean − model) over its own standard deviation. */
static double
misfit (const double *measured, const double *model, const double *sd, gsize n)
{
  double squares = 0;
  for (gsize i = 0; i < n; i++)
    squares += pow ((measured[i] - model[i]) / sd[i], 2);
  return sqrt (squares / (double) n);
}

static void
doubt_misfit (SbDriveWork *work)
{
  const SbDriveModel *model = work->model;
  if (!work->known_spread)
    return;
  double torque = misfit (work->torque_nm, model->torque + work->first, work->torque_sd_nm, work->n);
  if (torque > MISFIT)
    add_doubt (work,
               "Torque: the model leaves %.3g N·m (RMS), %.1f times the standard error of the mean curve; this "
               "drive does more than the model knows, and the errors of the parameters do not tell it.",
               model->torque_rms_nm, torque);
  if (!model->has_motion)
    return;
  double velocity = misfit (work->velocity_rad_s, model->velocity + work->first, work->velocity_sd_rad_s, work->n);
  g_autofree char *leaves = sb_figure (SB_MEASURE_PEAK_VELOCITY, model->velocity_rms_rad_s, 3);
  if (velocity > MISFIT)
    add_doubt (work, "Velocity: the model leaves %s (RMS), %.1f times the standard error of the mean curve.", leaves,
               velocity);
}

static void
doubt_inertia (SbDriveWork *work)
{
  const SbDriveParameter *inertia = parameter_of (work, SB_DRIVE_INERTIA);
  double stated = work->n_facts > 0 ? work->facts[0]->inertia_kg_m2 : (double) NAN;
  double off = fabs (inertia->value - stated);
  if (inertia->identified && off > INERTIA_OFF * stated && off > 2 * inertia->standard_error)
    add_doubt (work,
               "Inertia: the logs state %.4g kg·m², the motion asks for %.4g; the scale of the torque may be off.",
               stated, inertia->value);
}

void
sb_drive_judge (SbDriveWork *work)
{
  judge_delay (work);
  judge_slope (work);
  judge_ceiling (work);
  judge_lag (work);
  judge_ringing (work);
  judge_motion (work);
  add_stretches (work);
  doubt_misfit (work);
  doubt_inertia (work);
  if (work->torque_fit.n_agreeing < 2)
    add_doubt (work, "Torque: only one of %u starts led to this fit.", work->torque_fit.n_starts);
  if (!work->by_repeat)
    add_doubt (work,
               "Standard errors: taken from what the fit leaves of %s; they know nothing of what differs from "
               "repeat to repeat.",
               work->known_spread ? "the mean curves" : "the curve itself");
}
