/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a setting audit makes of figures that noise raises, or that do not stand above it: the drives are the same at
 * every level by the way they are made, and their noise is not. */
#include "audit_fixture.h"
#include "doubt.h"

static const Figures alike[] = { { "1", 1, "", 1000, 1.01, 0.015, 19, 12 },
                                 { "2", 2, "", 1000, 1.01, 0.015, 19, 12 },
                                 { "3", 3, "", 1000, 1.01, 0.015, 19, 12 } };

/* Puts an overshoot into every repeat: the level's mean, some scatter, this bias and this doubt (NULL: none). */
static void
put_overshoot (AuditFixture *fixture, gsize level, double mean, double bias, GPtrArray *doubts)
{
  static const double scatter[N_REPEATS] = { -0.02, 0.01, 0.02, -0.01, 0 };
  for (gsize k = 0; k < N_REPEATS; k++) {
    put (&fixture->measures[level][k], SB_MEASURE_OVERSHOOT, mean * (1 + scatter[k]));
    fixture->measures[level][k].measure[SB_MEASURE_OVERSHOOT].bias = bias;
    fixture->measures[level][k].measure[SB_MEASURE_OVERSHOOT].doubts = doubts;
  }
}

/* 0.66 % and 3.36 % of overshoot in a noise of 0.2 % and 1 %, of a drive that has none: noise is expected to make 2.3 %
 * of that, known to a quarter, so that nothing need be left. Of 10 % it cannot have made all: 7.1 % are left, or 6.5 %.
 */
static void
difference_that_noise_may_have_made_is_not_seen_to_move (void **state)
{
  static const struct {
    double overshoot;
    SbAuditVerdict verdict;
  } cases[] = { { 0.0336, SB_AUDIT_CANNOT_TELL }, { 0.1, SB_AUDIT_SHAPES } };
  AuditFixture *fixture = *state;
  for (gsize c = 0; c < G_N_ELEMENTS (cases); c++) {
    audit_figures (fixture, "gain", FALSE, alike, 2, 0.02);
    put_overshoot (fixture, 0, 0.0066, 0.006, NULL);
    put_overshoot (fixture, 1, cases[c].overshoot, 0.029, NULL);
    const SbAudit *audit = audit_made (fixture, "gain", FALSE, 2);
    assert_int_equal (audit->verdict, cases[c].verdict);
    assert_int_equal (audit->measure[SB_MEASURE_OVERSHOOT].within_noise, cases[c].verdict == SB_AUDIT_CANNOT_TELL);
    assert_close (audit->measure[SB_MEASURE_OVERSHOOT].by_noise, 0.023, 1e-12);
  }
}

/* 2 % of overshoot at one level and 5 % at the other, each repeat of which noise might have read at a crest so far from
 * its own: 3 % lie within 4, and not within 1. */
static void
crests_as_far_apart_as_the_levels_are_not_seen_to_move (void **state)
{
  AuditFixture *fixture = *state;
  g_autoptr (GPtrArray) doubts = g_ptr_array_new_with_free_func (sb_doubt_free);
  g_ptr_array_add (doubts, sb_doubt_new (SB_DOUBT_EITHER, g_strdup ("either crest: as made")));
  for (int near = 0; near < 2; near++) {
    audit_figures (fixture, "gain", FALSE, alike, 2, 0.02);
    put_overshoot (fixture, 0, 0.02, 0, NULL);
    put_overshoot (fixture, 1, 0.05, 0, doubts);
    for (gsize k = 0; k < N_REPEATS; k++) {
      SbMeasure *measure = &fixture->measures[1][k].measure[SB_MEASURE_OVERSHOOT];
      measure->other = measure->value - (near == 1 ? 0.01 : 0.04);
    }
    const SbAudit *audit = audit_made (fixture, "gain", FALSE, 2);
    put_overshoot (fixture, 1, 0, 0, NULL);
    assert_int_equal (audit->measure[SB_MEASURE_OVERSHOOT].within_noise, near == 0);
    assert_int_equal (audit->verdict, near == 1 ? SB_AUDIT_SHAPES : SB_AUDIT_CANNOT_TELL);
  }
}

/* The same without a bias that is known, where either level's figures are in the noise, or one level's only. */
static void
figures_in_the_noise_at_every_level_are_not_seen_to_move (void **state)
{
  AuditFixture *fixture = *state;
  g_autoptr (GPtrArray) doubts = g_ptr_array_new_with_free_func (sb_doubt_free);
  g_ptr_array_add (doubts, sb_doubt_new (SB_DOUBT_IN_NOISE, g_strdup ("in the noise: as made")));
  for (int both = 0; both < 2; both++) {
    audit_figures (fixture, "gain", FALSE, alike, 2, 0.02);
    put_overshoot (fixture, 0, 0.0066, 0, doubts);
    put_overshoot (fixture, 1, 0.0336, 0, both == 1 ? doubts : NULL);
    const SbAudit *audit = audit_made (fixture, "gain", FALSE, 2);
    put_overshoot (fixture, 0, 0, 0, NULL);
    put_overshoot (fixture, 1, 0, 0, NULL);
    assert_int_equal (audit->measure[SB_MEASURE_OVERSHOOT].in_noise, both == 1);
    assert_int_equal (audit->verdict, both == 1 ? SB_AUDIT_NO_EFFECT : SB_AUDIT_SHAPES);
    if (both == 0)
      assert_reason (audit, "The verdict has the doubts of these, which the measures tell: overshoot.");
  }
}

/* 0.66 % and 0.686 % are 4 % apart, where 5 % is the margin and 1.86 * 0.0158 * sqrt (2/5) of them, 1.9 %, what two
 * one-sided tests ask for besides: undecided, and in the noise as it would be if it moved. 0.66 % beside 0.663 stays.
 */
static void
figures_in_the_noise_that_are_undecided_are_told_so (void **state)
{
  AuditFixture *fixture = *state;
  g_autoptr (GPtrArray) doubts = g_ptr_array_new_with_free_func (sb_doubt_free);
  g_ptr_array_add (doubts, sb_doubt_new (SB_DOUBT_IN_NOISE, g_strdup ("in the noise: as made")));
  for (int stays = 0; stays < 2; stays++) {
    audit_figures (fixture, "gain", FALSE, alike, 2, 0.02);
    put_overshoot (fixture, 0, 0.0066, 0, doubts);
    put_overshoot (fixture, 1, stays ? 0.00663 : 0.00686, 0, doubts);
    const SbAudit *audit = audit_made (fixture, "gain", FALSE, 2);
    put_overshoot (fixture, 0, 0, 0, NULL);
    put_overshoot (fixture, 1, 0, 0, NULL);
    assert_int_equal (audit->measure[SB_MEASURE_OVERSHOOT].effect, stays ? SB_EFFECT_STEADY : SB_EFFECT_UNDECIDED);
    assert_int_equal (audit->measure[SB_MEASURE_OVERSHOOT].in_noise, !stays);
    if (!stays)
      assert_reason (audit, "Noise may account for what is seen of these: overshoot.");
  }
}

/* Peak torques, as they are read: 10, 11.5 and 12 N·m, every repeat of a level above every one of the level before.
 * Where noise has made 0, 0.7 and 2 of them, 10, 10.8 and 10 are left: ends alike, 25 of the 75 pairs rising, 25
 * falling, and 10 either way with five ties, which is no trend, though the middle is apart from both by more than the
 * margin of 0.5. Where it has made 2 of each, the trend is as it was. */
static void
trend_that_noise_alone_makes_is_none (void **state)
{
  static const struct {
    double bias[3];
    SbAuditEffect effect;
  } cases[] = { { { 0, 0.7, 2 }, SB_EFFECT_UNDECIDED }, { { 2, 2, 2 }, SB_EFFECT_MOVES } };
  static const double means[] = { 10, 11.5, 12 }, scatter[N_REPEATS] = { -0.2, 0.1, 0.2, -0.1, 0 };
  AuditFixture *fixture = *state;
  for (gsize c = 0; c < G_N_ELEMENTS (cases); c++) {
    g_autoptr (GPtrArray) doubts = g_ptr_array_new_with_free_func (sb_doubt_free);
    g_ptr_array_add (doubts, sb_doubt_new (SB_DOUBT_BIAS, g_strdup ("raised by noise")));
    audit_figures (fixture, "gain", FALSE, alike, 3, 0.02);
    for (gsize i = 0; i < 3; i++)
      for (gsize k = 0; k < N_REPEATS; k++) {
        SbMeasure *measure = &fixture->measures[i][k].measure[SB_MEASURE_PEAK_TORQUE];
        measure->value = means[i] + scatter[k];
        measure->bias = cases[c].bias[i];
        measure->doubts = doubts;
      }
    const SbAudit *audit = audit_made (fixture, "gain", FALSE, 3);
    const SbAuditMeasure *torque = &audit->measure[SB_MEASURE_PEAK_TORQUE];
    gboolean noise = cases[c].effect == SB_EFFECT_UNDECIDED;
    for (gsize i = 0; i < 3 * N_REPEATS; i++)
      fixture->measures[i / N_REPEATS][i % N_REPEATS].measure[SB_MEASURE_PEAK_TORQUE].doubts = NULL;
    assert_int_equal (torque->effect, cases[c].effect);
    assert_int_equal (torque->within_noise, noise);
    assert_int_equal (audit->verdict, noise ? SB_AUDIT_CANNOT_TELL : SB_AUDIT_SHAPES);
    assert_close (torque->jonckheere.statistic, 75, 0);
    assert_int_equal (torque->doubted, noise);
    if (noise)
      assert_reason (audit, "Noise may account for what is seen of these: peak torque.");
  }
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    audit_test (crests_as_far_apart_as_the_levels_are_not_seen_to_move),
    audit_test (difference_that_noise_may_have_made_is_not_seen_to_move),
    audit_test (figures_in_the_noise_at_every_level_are_not_seen_to_move),
    audit_test (figures_in_the_noise_that_are_undecided_are_told_so),
    audit_test (trend_that_noise_alone_makes_is_none),
  };
  return cmocka_run_group_tests_name ("setting audit in noise", tests, NULL, NULL);
}
