/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One measured trial with a known torque, for the tests of this folder. */
#pragma once

#include "doubt.h"
#include "make_trial.h"
#include "measure_table.h"

#include <gsl/gsl_errno.h>

typedef struct {
  MadeTrials *made;
  SbMeasures *measures;
  GPtrArray *all; /* SbMeasures *, of several trials */
  SbEnsemble *ensemble;
  SbSummary *summary;
  SbTrial *trial; /* the last one measured; owned by `made` */
} Measured;

static inline int
measured_setup (void **state)
{
  gsl_set_error_handler_off (); /* as the program does */
  Measured *m = g_new0 (Measured, 1);
  m->made = made_trials_new ();
  m->all = g_ptr_array_new_with_free_func ((GDestroyNotify) sb_measures_unref);
  *state = m;
  return 0;
}

static inline int
measured_teardown (void **state)
{
  Measured *m = *state;
  sb_measures_unref (m->measures);
  sb_summary_unref (m->summary);
  sb_ensemble_unref (m->ensemble);
  g_ptr_array_unref (m->all);
  made_trials_free (m->made);
  g_free (m);
  return 0;
}

static inline const SbMeasures *
measure_trial (Measured *m, SbTrial *trial, const SbMeasureChoices *choices)
{
  sb_measures_unref (m->measures);
  m->trial = trial;
  m->measures = sb_measures_new (trial, choices);
  return m->measures;
}

static inline const SbMeasures *
measure_log (Measured *m, const MadeLog *log, const SbMeasureChoices *choices)
{
  return measure_trial (m, make_trial (m->made, log, NULL), choices);
}

/* The value of a measure; fails the test when it is absent. */
static inline double
value_of (const SbMeasures *measures, SbMeasureId id)
{
  const SbMeasure *measure = &measures->measure[id];
  if (!measure->present)
    print_error ("%s is absent: %s\n", sb_measure_info (id)->key, measure->absent_reason);
  assert_true (measure->present);
  return measure->value;
}

/* The first doubt of that kind, or NULL. */
static inline const char *
doubt_of (const SbMeasures *measures, SbMeasureId id, const char *kind)
{
  const GPtrArray *doubts = measures->measure[id].doubts;
  for (guint i = 0; doubts != NULL && i < doubts->len; i++)
    if (g_str_has_prefix (sb_doubts_get (doubts, i)->text, kind))
      return sb_doubts_get (doubts, i)->text;
  return NULL;
}

static inline void
assert_doubt (const SbMeasures *measures, SbMeasureId id, const char *kind, const char *detail)
{
  const char *doubt = doubt_of (measures, id, kind);
  gboolean said = doubt != NULL && strstr (doubt, detail) != NULL;
  if (!said)
    print_error ("%s: '%s' is not '%s: ... %s'\n", sb_measure_info (id)->key, doubt != NULL ? doubt : "no such doubt",
                 kind, detail);
  assert_true (said);
}

static inline void
assert_no_doubts (const SbMeasures *measures, SbMeasureId id)
{
  const GPtrArray *doubts = measures->measure[id].doubts;
  if (doubts != NULL)
    print_error ("%s: %s\n", sb_measure_info (id)->key, sb_doubts_get (doubts, 0)->text);
  assert_null (doubts);
}

static inline void
assert_absent (const SbMeasures *measures, SbMeasureId id, const char *reason)
{
  const char *given = measures->measure[id].absent_reason;
  gboolean said = given != NULL && strstr (given, reason) != NULL;
  assert_false (measures->measure[id].present);
  if (!said)
    print_error ("%s: '%s' does not say '%s'\n", sb_measure_info (id)->key, given != NULL ? given : "no reason",
                 reason);
  assert_true (said);
}

/* Step response of wn²/(s² + 2 zeta wn s + wn²), as in every control text. */
static inline double
second_order (double t, double zeta, double wn)
{
  if (t <= 0)
    return 0;
  double root = sqrt (1 - zeta * zeta), wd = wn * root;
  return 1 - exp (-zeta * wn * t) * (cos (wd * t) + zeta / root * sin (wd * t));
}

/* A second-order step of `size_nm` sampled at `interval_s`; `before` samples before the onset, `after` after it. */
static inline MadeLog
make_second_order (MadeTrials *made, double zeta, double wn, double size_nm, gsize before, gsize after,
                   double interval_s)
{
  MadeLog log = make_step_log (made, before + after, before, interval_s, size_nm);
  log.torque = make_column (made, log.n);
  for (gsize i = 0; i < log.n; i++)
    log.torque[i] = size_nm * second_order (log.t[i], zeta, wn);
  return log;
}

/* The base, a straight rise from `from_s` to `to_s` after the onset, and the top. */
static inline double
ramp (double t, double from_s, double to_s, double base, double top)
{
  double share = (t - from_s) / (to_s - from_s);
  return base + (top - base) * CLAMP (share, 0, 1);
}
