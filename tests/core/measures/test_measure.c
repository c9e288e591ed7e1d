/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What holds for every trial, however short, noisy or broken off. */
#include "measured.h"

static void
assert_whole (const SbMeasures *r, SbMeasureId id)
{
  const SbMeasure *measure = &r->measure[id];
  if (!measure->present) {
    assert_non_null (measure->absent_reason);
    assert_true (strlen (measure->absent_reason) > 8);
    assert_null (measure->doubts);
    return;
  }
  assert_null (measure->absent_reason);
  assert_true (isfinite (measure->value));
  assert_true (isfinite (measure->window_s[0]) && measure->window_s[0] <= measure->window_s[1]);
  assert_true (isnan (measure->uncertainty) || measure->uncertainty >= 0);
  assert_true (measure->n_evidence >= 1 || id == SB_MEASURE_RINGING_CYCLES);
  for (gsize i = 0; i < measure->n_evidence; i++)
    assert_true (isfinite (measure->evidence[i].t_s) && isfinite (measure->evidence[i].y));
}

/* A step with random length, sampling, noise, ringing, holes and a random end of the plateau. */
static MadeLog
make_random_log (Measured *m, MadeNoise *dice)
{
  gsize n = 24 + (gsize) (made_uniform (dice) * made_uniform (dice) * 400);
  gsize onset = 3 + (gsize) (made_uniform (dice) * (double) (n - 14));
  MadeLog log = make_step_log (m->made, n, onset, 1e-3, 4);
  double zeta = made_uniform (dice), wn = 2000 * made_uniform (dice), noise = 0.3 * made_uniform (dice);
  double collapse_s = made_uniform (dice) < 0.3 ? 0.1 * made_uniform (dice) : 1;
  noise = made_uniform (dice) < 0.3 ? 0 : noise;
  log.torque = made_uniform (dice) < 0.8 ? make_column (m->made, n) : NULL;
  log.velocity = log.torque == NULL || made_uniform (dice) < 0.5 ? make_column (m->made, n) : NULL;
  gsize kept = 0;
  for (gsize i = 0; i < n; i++) {
    if (i > 2 && i + 2 < n && made_uniform (dice) < 0.02)
      continue;
    double t = log.t[i], y = t < collapse_s ? second_order (t, zeta, wn) : -0.2;
    log.t[kept] = t + (made_uniform (dice) < 0.2 ? 3e-4 * made_uniform (dice) : 0);
    log.command[kept] = log.command[i];
    if (log.torque != NULL)
      log.torque[kept] = 4 * y + noise * made_normal (dice);
    if (log.velocity != NULL)
      log.velocity[kept] = 30 * second_order (t, 0.8, wn / 10) + noise * made_normal (dice);
    kept++;
  }
  log.n = kept;
  return log;
}

static void
random_trials_have_a_finite_value_or_a_reason (void **state)
{
  Measured *m = *state;
  MadeNoise dice = { 2024 };
  gsize n_values = 0;
  for (int trial = 0; trial < 600; trial++) {
    MadeLog log = make_random_log (m, &dice);
    const SbMeasures *r = measure_log (m, &log, NULL);
    for (int id = 0; id < SB_N_MEASURES; id++) {
      assert_whole (r, (SbMeasureId) id);
      n_values += r->measure[id].present ? 1 : 0;
    }
  }
  assert_true (n_values > 600 * 4);
}

static void
same_trial_gives_the_same_figures (void **state)
{
  Measured *m = *state;
  MadeLog log = make_second_order (m->made, 0.1, 300, 5, 200, 2000, 5e-4);
  const SbMeasures *first = measure_log (m, &log, NULL);
  SbMeasures *second = sb_measures_new (m->trial, NULL);
  g_ptr_array_add (m->all, second);
  for (int id = 0; id < SB_N_MEASURES; id++)
    assert_memory_equal (&first->measure[id].value, &second->measure[id].value, sizeof (double));
}

/* The defaults of the header are those used when none are given. */
static void
no_choices_are_the_default_choices (void **state)
{
  Measured *m = *state;
  SbMeasureChoices choices = SB_MEASURE_CHOICES_DEFAULT;
  MadeLog log = make_second_order (m->made, 0.3, 300, 5, 200, 2000, 5e-4);
  const SbMeasures *without = measure_log (m, &log, NULL);
  SbMeasures *with = sb_measures_new (m->trial, &choices);
  g_ptr_array_add (m->all, with);
  for (int id = 0; id < SB_N_MEASURES; id++)
    assert_memory_equal (&without->measure[id].value, &with->measure[id].value, sizeof (double));
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
#define T(name) cmocka_unit_test_setup_teardown (name, measured_setup, measured_teardown)
    T (random_trials_have_a_finite_value_or_a_reason),
    T (same_trial_gives_the_same_figures),
    T (no_choices_are_the_default_choices),
  };
  return cmocka_run_group_tests (tests, NULL, NULL);
}
