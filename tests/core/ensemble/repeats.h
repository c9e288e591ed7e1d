/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Trials with known curves, for the tests of what is made of several. */
#pragma once

#include "close.h"
#include "ensemble.h"

/* A curve by its time after the onset. */
typedef double (*Curve) (double tau_s, double parameter);

typedef struct {
  double onset_s;
  double begin_s, end_s; /* of the log, after the onset */
  double active_s;       /* end of the active window, after the onset; 0: the last sample */
  double interval_s;
  double shift_s;         /* moves all samples against the onset: the sampling is not tied to the step */
  Curve torque, velocity; /* NULL: not logged */
  double parameter;
} Repeat;

/* What a test holds; freed by the fixture, also when the test fails. */
typedef struct {
  GPtrArray *trials;
  SbEnsemble *ensemble, *second;
  GPtrArray *arrays;
} Repeats;

static inline int
repeats_setup (void **state)
{
  Repeats *repeats = g_new0 (Repeats, 1);
  repeats->trials = g_ptr_array_new_with_free_func ((GDestroyNotify) sb_trial_unref);
  repeats->arrays = g_ptr_array_new_with_free_func (g_free);
  *state = repeats;
  return 0;
}

static inline int
repeats_teardown (void **state)
{
  Repeats *repeats = *state;
  sb_ensemble_unref (repeats->ensemble);
  sb_ensemble_unref (repeats->second);
  g_ptr_array_unref (repeats->trials);
  g_ptr_array_unref (repeats->arrays);
  g_free (repeats);
  return 0;
}

static inline double *
repeats_array (Repeats *repeats, gsize n)
{
  double *array = g_new0 (double, n + 1);
  g_ptr_array_add (repeats->arrays, array);
  return array;
}

static inline void
append_cell (GString *text, double value)
{
  char digits[G_ASCII_DTOSTR_BUF_SIZE];
  g_string_append_printf (text, ",%s", g_ascii_dtostr (digits, sizeof digits, value));
}

/* Through the importer, with a command that steps at the onset; onset and end are set by hand. Owned by `repeats`. */
static inline SbTrial *
repeats_add (Repeats *repeats, const Repeat *repeat)
{
  g_autoptr (GString) text = g_string_new ("time_s,command_Nm");
  g_string_append (text, repeat->torque != NULL ? ",torque_Nm" : "");
  g_string_append (text, repeat->velocity != NULL ? ",velocity_rad_s\n" : "\n");
  int n = (int) lround ((repeat->end_s - repeat->begin_s) / repeat->interval_s) + 1;
  double last_s = 0;
  for (int i = 0; i < n; i++) {
    double tau = repeat->begin_s + i * repeat->interval_s + repeat->shift_s;
    char digits[G_ASCII_DTOSTR_BUF_SIZE];
    last_s = repeat->onset_s + tau;
    g_string_append (text, g_ascii_dtostr (digits, sizeof digits, last_s));
    append_cell (text, tau >= 0 ? 8 : 0);
    if (repeat->torque != NULL)
      append_cell (text, repeat->torque (tau, repeat->parameter));
    if (repeat->velocity != NULL)
      append_cell (text, repeat->velocity (tau, repeat->parameter));
    g_string_append_c (text, '\n');
  }
  g_autoptr (SbLog) log = sb_log_read_memory ("repeat.csv", text->str, text->len, 0, NULL);
  assert_non_null (log);
  SbTrialChoices choices
      = SB_TRIAL_CHOICES_BY_HAND (repeat->onset_s, repeat->active_s > 0 ? repeat->onset_s + repeat->active_s : last_s);
  SbTrial *trial = sb_trial_new (log, &choices, NULL);
  assert_non_null (trial);
  g_ptr_array_add (repeats->trials, trial);
  return trial;
}

#define ALL_CHANNELS (~0u)

static inline SbEnsemble *
repeats_average (Repeats *repeats, SbSpan span)
{
  repeats->ensemble
      = sb_ensemble_new ((SbTrial *const *) repeats->trials->pdata, repeats->trials->len, span, ALL_CHANNELS);
  assert_non_null (repeats->ensemble);
  return repeats->ensemble;
}

/* Time after the onset of grid point k. */
static inline double
grid_time_s (const SbEnsemble *ensemble, gsize k)
{
  return (double) (ensemble->first + (gint64) k) * ensemble->grid_step_s;
}
