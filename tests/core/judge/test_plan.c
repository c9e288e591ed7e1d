/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Repeats planned of a pair, and where a plan would promise what no number of repeats keeps. Numbers are those of
 * power.t.test (strict = TRUE) of R 4.2.2. */
#include "close.h"
#include "plan.h"

#include <string.h>

#define MEASURE SB_MEASURE_PEAK_TORQUE

typedef struct {
  SbSummary reference, other;
  double difference[SB_N_MEASURES];
  SbPlan *plan;
} Sides;

/* 100 ± 1 and 100 ± 1, a difference of 1 asked for. */
static int
setup (void **state)
{
  static char nothing[] = "the torque does not step";
  Sides *sides = g_new0 (Sides, 1);
  for (int m = 0; m < SB_N_MEASURES; m++)
    sides->reference.measure[m].absent_reason = sides->other.measure[m].absent_reason = nothing;
  sides->reference.measure[MEASURE] = (SbMeasureSummary){ .present = TRUE, .mean = 100, .sd = 1, .n = 5 };
  sides->other.measure[MEASURE] = sides->reference.measure[MEASURE];
  sides->difference[MEASURE] = 1;
  *state = sides;
  return 0;
}

static int
teardown (void **state)
{
  Sides *sides = *state;
  sb_plan_free (sides->plan);
  g_free (sides);
  return 0;
}

static const SbMeasurePlan *
plan (Sides *sides, guint drifting)
{
  SbPlanSide reference = { .summary = &sides->reference, .drifting = drifting }, other = { .summary = &sides->other };
  sides->plan = sb_plan_new (&reference, &other, sides->difference, 0.05);
  return &sides->plan->measure[MEASURE];
}

/* delta = 1: n = 16.71 and 22.02; n = 10, power = .8: delta = 1.324944. */
static void
without_noise_it_is_the_power_of_the_t_test (void **state)
{
  const SbMeasurePlan *measure = plan (*state, 0);
  assert_true (measure->present);
  assert_int_equal (measure->n_80, 17);
  assert_int_equal (measure->n_90, 23);
  assert_int_equal (measure->curve[6].n, 10);
  assert_close (measure->curve[6].difference_80, 1.324944, 1e-5);
}

/* A noise that raises one side by 0.4 more, and a quarter of that, leave 0.5: n = 63.77 and 85.03. */
static void
what_noise_may_make_is_taken_off_first (void **state)
{
  Sides *sides = *state;
  sides->other.measure[MEASURE].bias = 0.4;
  const SbMeasurePlan *measure = plan (sides, 0);
  assert_true (measure->present);
  assert_close (measure->by_noise, 0.5, 1e-12);
  assert_int_equal (measure->n_80, 64);
  assert_int_equal (measure->n_90, 86);
  assert_close (measure->curve[6].difference_80, 1.824944, 1e-5);
}

static void
absent (Sides *sides, guint drifting, const char *reason)
{
  const SbMeasurePlan *measure = plan (sides, drifting);
  assert_false (measure->present);
  assert_non_null (strstr (measure->absent_reason, reason));
}

static void
difference_that_noise_makes_by_itself_takes_no_number (void **state)
{
  Sides *sides = *state;
  sides->reference.measure[MEASURE].bias = 1.6;
  absent (sides, 0, "noise may make 2 times the difference asked for: less noise would tell, not more repeats");
}

static void
difference_within_what_crests_are_apart_takes_no_number (void **state)
{
  Sides *sides = *state;
  sides->reference.measure[MEASURE].apart_by_crests = 1.5;
  absent (sides, 0, "noise may make 1.5 times the difference asked for, by the crests");
}

static void
figures_in_the_noise_on_both_sides_take_no_number (void **state)
{
  Sides *sides = *state;
  sides->reference.measure[MEASURE].n_in_noise = sides->other.measure[MEASURE].n_in_noise = 3;
  absent (sides, 0, "does not stand above the noise");
}

static void
one_side_above_the_noise_is_planned (void **state)
{
  Sides *sides = *state;
  sides->reference.measure[MEASURE].n_in_noise = 5;
  assert_true (plan (sides, 0)->present);
}

static void
repeats_that_drift_take_no_number (void **state)
{
  absent (*state, 1u << MEASURE, "drift from the first to the last");
}

static void
repeats_that_are_others_down_than_up_take_no_number (void **state)
{
  Sides *sides = *state;
  SbPlanSide reference = { .summary = &sides->reference }, other = { .summary = &sides->other };
  other.of_two_ways = 1u << MEASURE;
  sides->plan = sb_plan_new (&reference, &other, sides->difference, 0.05);
  assert_false (sides->plan->measure[MEASURE].present);
  assert_non_null (strstr (sides->plan->measure[MEASURE].absent_reason, "one way into a configuration of its own"));
}

/* Jumps somewhere in intervals that may make 0.3 of the one side and 0.5 of the other are taken off likewise. Sides as
 * late as each other that scatter as a free clock does, by 1/sqrt 12 or more, leave the whole difference of 1. */
static void
what_sampling_may_make_is_taken_off_first (void **state)
{
  Sides *sides = *state;
  SbMeasureSummary *of[] = { &sides->reference.measure[MEASURE], &sides->other.measure[MEASURE] };
  of[0]->by_late_onset = of[0]->onset_late_s = 0.3;
  of[1]->by_late_onset = of[1]->onset_late_s = 0.5;
  const SbMeasurePlan *measure = plan (sides, 0);
  assert_true (measure->present);
  assert_close (measure->by_sampling, 0.5, 1e-12);
  assert_int_equal (measure->n_80, 64);
  assert_int_equal (measure->n_90, 86);
  assert_close (measure->curve[6].difference_80, 1.824944, 1e-5);
  sb_plan_free (sides->plan);
  of[0]->by_late_onset = of[0]->onset_late_s = 0.5;
  assert_int_equal (plan (sides, 0)->n_80, 17);
}

/* Scatter of a fiftieth of the interval: no free clock's. */
static void
difference_that_sampling_makes_by_itself_takes_no_number (void **state)
{
  Sides *sides = *state;
  SbMeasureSummary *of[] = { &sides->reference.measure[MEASURE], &sides->other.measure[MEASURE] };
  for (int k = 0; k < 2; k++) {
    of[k]->by_late_onset = of[k]->onset_late_s = 2;
    of[k]->sd = 0.04;
  }
  absent (sides, 0, "sampling may make 2 times the difference asked for");
}

static void
what_is_not_compared_is_not_planned (void **state)
{
  Sides *sides = *state;
  SbTrialFacts slow = { .sample_interval_s = 1e-3 }, quick = { .sample_interval_s = 1e-4 };
  SbTrialFacts *of_slow[] = { &slow }, *of_quick[] = { &quick };
  SbPlanSide reference = { &sides->reference, of_slow, 1, 0, 0 }, other = { &sides->other, of_quick, 1, 0, 0 };
  sides->reference.measure[SB_MEASURE_TORQUE_SMOOTHNESS] = sides->reference.measure[MEASURE];
  sides->other.measure[SB_MEASURE_TORQUE_SMOOTHNESS] = sides->other.measure[MEASURE];
  sides->difference[SB_MEASURE_TORQUE_SMOOTHNESS] = 1;
  sides->other.measure[MEASURE].channel = SB_CHANNEL_VELOCITY;
  sides->plan = sb_plan_new (&reference, &other, sides->difference, 0.05);
  const SbMeasurePlan *smoothness = &sides->plan->measure[SB_MEASURE_TORQUE_SMOOTHNESS];
  assert_false (smoothness->present);
  assert_non_null (strstr (smoothness->absent_reason, "not computed alike"));
  assert_non_null (strstr (sides->plan->measure[MEASURE].absent_reason, "different signals"));
}

#define CASE(test) cmocka_unit_test_setup_teardown (test, setup, teardown)

int
main (void)
{
  const struct CMUnitTest tests[] = {
    CASE (without_noise_it_is_the_power_of_the_t_test),
    CASE (what_noise_may_make_is_taken_off_first),
    CASE (difference_that_noise_makes_by_itself_takes_no_number),
    CASE (difference_within_what_crests_are_apart_takes_no_number),
    CASE (figures_in_the_noise_on_both_sides_take_no_number),
    CASE (one_side_above_the_noise_is_planned),
    CASE (what_sampling_may_make_is_taken_off_first),
    CASE (difference_that_sampling_makes_by_itself_takes_no_number),
    CASE (what_is_not_compared_is_not_planned),
    CASE (repeats_that_drift_take_no_number),
    CASE (repeats_that_are_others_down_than_up_take_no_number),
  };
  return cmocka_run_group_tests_name ("plan", tests, NULL, NULL);
}
