/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A simple model of a drive, fitted to the mean curves of one configuration: the torque follows the delayed command
 * through a slope limit, a ceiling and at most a lag and one ringing mode; J dω/dt = T − b ω − Tc sgn ω turns it into
 * velocity. Definitions, sources and limits: 'Drive model' of docs/methods.md.
 *
 * Torque and motion are fitted one after the other: the motion is driven by the torque as it was measured, so that what
 * the torque's model misses does not bend the inertia. Standard errors are type A (GUM): the fit is made linear at its
 * result and put to each repeat; a single repeat gives them from its residuals. */
#pragma once

#include "ensemble.h"
#include "trial_facts.h"
#include "units.h"

typedef enum {
  SB_DRIVE_DELAY,
  SB_DRIVE_SLOPE_LIMIT,
  SB_DRIVE_LEVEL, /* torque that is reached */
  SB_DRIVE_CEILING,
  SB_DRIVE_LAG_TIME,
  SB_DRIVE_LAG_DAMPING,
  SB_DRIVE_RINGING_AMPLITUDE,
  SB_DRIVE_RINGING_FREQUENCY,
  SB_DRIVE_RINGING_DAMPING,
  SB_DRIVE_INERTIA,
  SB_DRIVE_DAMPING,
  SB_DRIVE_FRICTION,
  SB_N_DRIVE_PARAMETERS,
} SbDriveParameterId;

typedef struct {
  const char *key, *name, *symbol;
  const char *unit, *display_unit; /* value in display unit = value in unit * display_factor */
  double display_factor;
  const char *what; /* a sentence */
} SbDriveParameterInfo;

const SbDriveParameterInfo *sb_drive_parameter_info (SbDriveParameterId id);

/* One parameter: either identified, or not, and then why. */
typedef struct {
  gboolean identified;
  double value, standard_error; /* in `unit`; the error NaN when nothing can be said of it */
  double ci95[2];               /* Student t; NaN likewise */
  char *reason;                 /* why it cannot be had from these logs, for sb_figures_write(); NULL when identified */
} SbDriveParameter;

/* What keeps torque or speed from more, in a stretch of time. */
typedef enum {
  SB_DRIVE_LIMIT_DELAY,    /* nothing has arrived yet */
  SB_DRIVE_LIMIT_SLOPE,    /* the slope limit binds */
  SB_DRIVE_LIMIT_CEILING,  /* the ceiling binds */
  SB_DRIVE_LIMIT_COMMAND,  /* neither: the command is followed */
  SB_DRIVE_LIMIT_FRICTION, /* of the speed: damping and friction take nine tenths of the torque or more */
  SB_DRIVE_LIMIT_TRAVEL,   /* of the speed: the end of travel stops the motion */
} SbDriveLimit;

const char *sb_drive_limit_key (SbDriveLimit limit);   /* "slope", as in the JSON */
const char *sb_drive_limit_words (SbDriveLimit limit); /* "the slope limit binds" */

typedef struct {
  SbDriveLimit limit;
  double from_s, to_s; /* after the onset */
} SbDriveStretch;

typedef enum { SB_DRIVE_LAG_NONE, SB_DRIVE_LAG_FIRST, SB_DRIVE_LAG_SECOND } SbDriveLag;

/* Which terms the data asked for, by the smallest Bayesian information criterion (Schwarz 1978). */
typedef struct {
  gboolean slope; /* a slope limit; else the rise is that of the lag alone */
  SbDriveLag lag;
  gboolean ringing;
} SbDriveForm;

/* "slope limit, lag of first order, ringing". (transfer full) */
char *sb_drive_form_words (SbDriveForm form);

typedef struct {
  gboolean present;
  char *absent_reason; /* why there is no fit; NULL when there is */
  SbDriveForm form;
  SbDriveParameter parameter[SB_N_DRIVE_PARAMETERS];
  GArray *stretches; /* SbDriveStretch, by the time they begin; those of the speed overlap those of the torque */
  GPtrArray *doubts; /* SbDoubt, sentences */
  double window_s[2];
  gsize n_trials;
  gboolean has_motion;                      /* a velocity was fitted */
  double torque_rms_nm, velocity_rms_rad_s; /* of mean curve minus model in the window; NaN without */
  double *torque,
      *velocity; /* the model on the ensemble's grid; NaN outside the window; velocity NULL without motion */
  gsize n_points;
  gatomicrefcount ref_count;
} SbDriveModel;

/* `facts` are those of the ensemble's n trials. The ensemble should have torque, velocity and command curves and keep
 * its trials; what is missing is said in the result. Never NULL. Some 10 ms. (transfer full) */
SbDriveModel *sb_drive_model_new (const SbEnsemble *ensemble, SbTrialFacts *const *facts, gsize n);
SbDriveModel *sb_drive_model_ref (SbDriveModel *model);
void sb_drive_model_unref (SbDriveModel *model);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SbDriveModel, sb_drive_model_unref)

SbShownUnit sb_drive_parameter_shown_unit (SbDriveParameterId id, SbUnits units);

/* "0.0503 ± 0.0004 kg·m²" rounded after GUM 7.2.6; "–" when not identified. With `with_unit` FALSE the unit is left to
 * the heading. (transfer full) */
char *sb_drive_parameter_format (const SbDriveModel *model, SbDriveParameterId id, SbUnits units, gboolean with_unit);

/* "2.2 to 42.1 ms: the slope limit binds"; all of them, with "; " between. (transfer full) */
char *sb_drive_stretch_text (const SbDriveStretch *stretch);
char *sb_drive_model_limits_text (const SbDriveModel *model);
