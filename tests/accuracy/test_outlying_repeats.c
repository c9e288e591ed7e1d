/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How often a repeat is said to stand apart where none does: sets of simulated repeats that differ by their noise and
 * by where between two samples they begin. The level is 5 % of the sets, over all measures together. */
#include "draws.h"
#include "outlying.h"
#include "repeat_remarks.h"
#include "simulation.h"

#define N_SETS        DRAWS (300)
#define LEVEL         0.05
#define MOST_REPEATS  16
#define MOST_MEASURES 14 /* that share the level; fewer would make it easier to stand apart */
#define GRAZING       0.0185

static Simulation simulation;

static int
teardown (void **state)
{
  simulation_clear (&simulation);
  return 0;
}

/* Of the sets: in which some repeat is said to stand apart, one in its settling time, and in which the tests by
 * themselves would have one do so in it. */
typedef struct {
  gsize n_apart, n_settling, n_by_test;
} Counts;

static gboolean is_apart, is_settling;

static void
hear (SbTrialResult *trial, char *fact, const char *what_to_do)
{
  is_apart = is_apart || strstr (fact, "stands apart") != NULL;
  is_settling = is_settling || (strstr (fact, "stands apart") != NULL && strstr (fact, "settling time") != NULL);
  g_free (fact);
}

static void
judge_set (gsize n, Counts *counts)
{
  SbTrialResult trials[MOST_REPEATS] = { { 0 } };
  SbConfigurationResult configuration = { .trials = g_ptr_array_new (), .n_used = n };
  SbOutlying found[SB_MAX_OUTLYING];
  double settling[MOST_REPEATS];
  for (gsize i = 0; i < n; i++) {
    trials[i] = (SbTrialResult){ .included = TRUE, .measures = simulation_draw (&simulation, NULL), .off_mean = NAN };
    g_ptr_array_add (configuration.trials, &trials[i]);
    settling[i] = trials[i].measures->measure[SB_MEASURE_SETTLING_TIME].value;
  }
  is_apart = is_settling = FALSE;
  sb_repeat_remarks_find (&configuration, (SbUnits){ 0 }, hear);
  counts->n_apart += is_apart ? 1 : 0;
  counts->n_settling += is_settling ? 1 : 0;
  counts->n_by_test += sb_outlying_find (settling, n, LEVEL / MOST_MEASURES, found) > 0 ? 1 : 0;
  for (gsize i = 0; i < n; i++)
    sb_measures_unref (trials[i].measures);
  g_ptr_array_unref (configuration.trials);
}

static Counts
judge_sets (double zeta, double noise, gsize n)
{
  Case c = second_order_case (zeta, 2e3, noise);
  c.after_s = 0.25;
  Counts counts = { 0 };
  simulation_init (&simulation, &c, 131);
  for (gsize s = 0; s < N_SETS; s++)
    judge_set (n, &counts);
  teardown (NULL);
  print_message ("           zeta %.3f, noise %g %%, %zu repeats: one apart in %.1f %% of the sets\n", zeta,
                 100 * noise, n, 100 * (double) counts.n_apart / N_SETS);
  return counts;
}

/* The level, and three binomial standard deviations of so many sets. */
static double
most_sets (double level)
{
  return N_SETS * level + 3 * sqrt (N_SETS * level * (1 - level));
}

/* From lightly damped to hardly overshooting, where the arc of the smoothness jumps most. Of 16 repeats docs/methods.md
 * states 8 % of the sets. */
static void
one_stands_apart_in_no_more_sets_than_are_stated (void **state)
{
  static const struct {
    double zeta, noise, level;
    gsize n;
  } cases[] = { { 0.1, 0.002, LEVEL, 10 },
                { 0.2, 0.001, LEVEL, 10 },
                { 0.35, 0.005, 0.08, 16 },
                { 0.7, 0.001, LEVEL, 10 },
                { 0.7, 0.005, 0.08, 16 } };
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++) {
    Counts counts = judge_sets (cases[i].zeta, cases[i].noise, cases[i].n);
    assert_true ((double) counts.n_apart <= most_sets (cases[i].level));
  }
}

/* Extremum k of a second-order response stands Mp^k from the level: zeta for which the third is `share`. */
static double
zeta_of_third_extremum (double share)
{
  double log_mp = log (share) / 3;
  return -log_mp / hypot (G_PI, log_mp);
}

/* The third extremum, of 1.85 %, is within the band of 2 % by itself; noise lifts it over the edge in a few repeats,
 * which settle half a period later: of those the tests alone would make outlying repeats. */
static void
crest_that_grazes_the_band_makes_no_repeat_stand_apart (void **state)
{
  Counts counts = judge_sets (zeta_of_third_extremum (GRAZING), 0.001, 10);
  assert_int_equal (counts.n_settling, 0);
  assert_true ((double) counts.n_apart <= most_sets (LEVEL));
  assert_true ((double) counts.n_by_test > most_sets (LEVEL)); /* or there was nothing to leave out */
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    cmocka_unit_test_teardown (one_stands_apart_in_no_more_sets_than_are_stated, teardown),
    cmocka_unit_test_teardown (crest_that_grazes_the_band_makes_no_repeat_stand_apart, teardown),
  };
  return cmocka_run_group_tests_name ("repeats of which none stands apart", tests, NULL, NULL);
}
