/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a setting audit makes of levels whose commands jump somewhere in sample intervals: true dead times and the place
 * of the jump are chosen, and a dead time is seen short by that share of the interval. */
#include "audit_fixture.h"

static const Figures alike[] = { { "1", 1, "", 1000, 1.01, 0.014, 19, 12 },
                                 { "2", 2, "", 1000, 1.01, 0.014, 19, 12 },
                                 { "3", 3, "", 1000, 1.01, 0.014, 19, 12 } };

/* Dead times of a level, s: `true_s` less the share `phase` of the interval, spread so that their standard deviation is
 * `sd_s` (the squares of the spread add up to 2.5 of 4). */
static void
put_dead_times (AuditFixture *fixture, gsize level, double true_s, double interval_s, double phase, double sd_s)
{
  static const double spread[N_REPEATS] = { -1, 0.5, 1, -0.5, 0 };
  for (gsize k = 0; k < N_REPEATS; k++) {
    SbMeasures *measures = &fixture->measures[level][k];
    put (measures, SB_MEASURE_DEAD_TIME, true_s - phase * interval_s + sd_s * spread[k] / sqrt (2.5 / 4));
    measures->measure[SB_MEASURE_DEAD_TIME].by_late_onset = measures->onset_late_s = interval_s;
    fixture->facts[level][k].sample_interval_s = interval_s;
  }
}

typedef struct {
  double true_s[2], interval_s[2], phase[2], sd_s;
  SbAuditEffect effect;
  gboolean by_sampling, doubted;
} Case;

/* A dead time of 14 ms at both levels is no effect, whatever is seen of it. */
static void
where_commands_jump_is_no_effect (void **state)
{
  static const Case cases[] = {
    { { 0.014, 0.014 }, { 2e-4, 4e-3 }, { 0.5, 0.6 }, 5e-5, SB_EFFECT_UNDECIDED, TRUE, FALSE },
    { { 0.014, 0.009 }, { 2e-4, 4e-3 }, { 0.5, 0.5 }, 5e-5, SB_EFFECT_MOVES, FALSE, FALSE },
    /* seen alike, as they are; the higher level's may be up to 4 ms longer, where 5 % of 14 ms are the margin */
    { { 0.014, 0.014 }, { 2e-4, 4e-3 }, { 0.5, 0.025 }, 5e-5, SB_EFFECT_UNDECIDED, TRUE, FALSE },
    { { 0.014, 0.014 }, { 2e-4, 3e-4 }, { 0.5, 0.5 }, 5e-5, SB_EFFECT_STEADY, FALSE, FALSE },
    /* clocks tied to the command, and free ones: 2 ms / sqrt 12 = 0.577 ms */
    { { 0.014, 0.014 }, { 2e-3, 2e-3 }, { 0.02, 0.98 }, 2e-5, SB_EFFECT_UNDECIDED, TRUE, FALSE },
    { { 0.0141, 0.0122 }, { 2e-3, 2e-3 }, { 0.5, 0.5 }, 5.77e-4, SB_EFFECT_MOVES, FALSE, TRUE },
  };
  AuditFixture *fixture = *state;
  for (gsize c = 0; c < G_N_ELEMENTS (cases); c++) {
    audit_figures (fixture, "gain", FALSE, alike, 2, 0.02);
    for (gsize i = 0; i < 2; i++)
      put_dead_times (fixture, i, cases[c].true_s[i], cases[c].interval_s[i], cases[c].phase[i], cases[c].sd_s);
    const SbAuditMeasure *measure = &audit_made (fixture, "gain", FALSE, 2)->measure[SB_MEASURE_DEAD_TIME];
    if (measure->effect != cases[c].effect)
      print_error ("case %zu\n", c);
    assert_int_equal (measure->effect, cases[c].effect);
    assert_int_equal (measure->within_sampling, cases[c].by_sampling);
    assert_int_equal (measure->doubted, cases[c].doubted);
  }
}

/* 14 ms at all of three levels, the one in the middle sampled at 4 ms: that it stays cannot be told of any two. */
static void
level_between_that_is_coarser_is_weighed (void **state)
{
  AuditFixture *fixture = *state;
  for (int coarse = 0; coarse < 2; coarse++) {
    audit_figures (fixture, "gain", FALSE, alike, 3, 0.02);
    for (gsize i = 0; i < 3; i++)
      put_dead_times (fixture, i, 0.014, i == 1 && coarse ? 4e-3 : 2e-4, i == 1 && coarse ? 0.025 : 0.5, 5e-5);
    const SbAuditMeasure *measure = &audit_made (fixture, "gain", FALSE, 3)->measure[SB_MEASURE_DEAD_TIME];
    assert_int_equal (measure->effect, coarse ? SB_EFFECT_UNDECIDED : SB_EFFECT_STEADY);
    assert_int_equal (measure->within_sampling, coarse);
  }
}

/* Its windows are samples and its spectrum the rate's: between 5000 and 250 Hz there is nothing to compare. */
static void
smoothness_of_other_sample_rates_has_no_effect (void **state)
{
  AuditFixture *fixture = *state;
  for (int unlike = 0; unlike < 2; unlike++) {
    audit_figures (fixture, "gain", FALSE, alike, 2, 0.02);
    for (gsize k = 0; k < N_REPEATS; k++) {
      put (&fixture->measures[0][k], SB_MEASURE_TORQUE_SMOOTHNESS, -1.67 - 0.001 * (double) k);
      put (&fixture->measures[1][k], SB_MEASURE_TORQUE_SMOOTHNESS, -1.88 - 0.001 * (double) k);
      fixture->facts[1][k].sample_interval_s = unlike ? 4e-3 : 2.01e-4;
    }
    const SbAuditMeasure *measure = &audit_made (fixture, "gain", FALSE, 2)->measure[SB_MEASURE_TORQUE_SMOOTHNESS];
    assert_int_equal (measure->effect, unlike ? SB_EFFECT_ABSENT : SB_EFFECT_MOVES);
    if (unlike)
      assert_non_null (strstr (measure->absent_reason, "not computed alike"));
    for (gsize k = 0; k < N_REPEATS; k++)
      fixture->measures[0][k].measure[SB_MEASURE_TORQUE_SMOOTHNESS].present
          = fixture->measures[1][k].measure[SB_MEASURE_TORQUE_SMOOTHNESS].present = FALSE;
  }
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    audit_test (where_commands_jump_is_no_effect),
    audit_test (level_between_that_is_coarser_is_weighed),
    audit_test (smoothness_of_other_sample_rates_has_no_effect),
  };
  return cmocka_run_group_tests_name ("audit_sampling", tests, NULL, NULL);
}
