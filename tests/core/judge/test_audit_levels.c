/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the levels themselves do to an audit: levels that lie too close, zero, other units, and a second size of step.
 * Drives are made as the truth of each case says; verdicts are those of docs/methods.md. */
#include "audit_fixture.h"

#define NM_PER_MS "N·m/ms"

/* Levels 4 % apart within a margin of 5 %: a limit that follows them moves the slope by 40 N·m/s, which the margin of
 * 50 hides, whether something else moves or not. A slope that is known to stay to 0.3 % does not follow them. */
static void
levels_closer_together_than_the_margin_cannot_tell_a_limit (void **state)
{
  static const Figures limit[] = { { "1.0 N·m/ms", 1.0, NM_PER_MS, 1000, 1.01, 0.003, 19, 12 },
                                   { "1.04 N·m/ms", 1.04, NM_PER_MS, 1040, 1.01, 0.003, 19, 12 } };
  Figures figures[2];
  memcpy (figures, limit, sizeof limit);
  for (int i = 0; i < 3; i++) {
    figures[1].slope = i == 2 ? 1000 : 1040;
    figures[1].dead_s = i == 1 ? 0.006 : 0.003;
    const SbAudit *audit = audit_figures (*state, "torque slope", FALSE, figures, 2, 0.003);
    assert_int_equal (audit->verdict, i == 2 ? SB_AUDIT_NO_EFFECT : SB_AUDIT_CANNOT_TELL);
    if (i < 2)
      assert_reason (audit, "The levels lie closer together than the margin of ± 0.05000 N·m/ms");
  }
}

/* 1 % is within the margin of 5 %, and ten times the scatter: practically equal, but no effect that cannot be seen. */
static void
slope_that_is_seen_to_move_is_not_without_detectable_effect (void **state)
{
  static const Figures figures[]
      = { { "10 %", 10, "%", 1000, 1.01, 0.003, 19, 12 }, { "90 %", 90, "%", 1010, 1.01, 0.003, 19, 12 } };
  const SbAudit *audit = audit_figures (*state, "gain", FALSE, figures, 2, 0.001);
  assert_int_equal (audit->measure[SB_MEASURE_MEAN_TORQUE_SLOPE].effect, SB_EFFECT_STEADY);
  assert_int_equal (audit->verdict, SB_AUDIT_CANNOT_TELL);
  assert_reason (audit, "Seen to move for all that, if by no more than the margin: mean torque slope");
}

/* Off leaves the drive's own 3 N·m/ms; 0.5 and 1.0 are limits that are met. A zero that is only the lowest level of a
 * slope that falls throughout is one level more. */
static void
zero_is_left_out_where_the_slope_turns_at_it (void **state)
{
  static const Figures off[] = { { "0 N·m/ms", 0, NM_PER_MS, 3000, 1.01, 0.003, 19, 12 },
                                 { "0.5 N·m/ms", 0.5, NM_PER_MS, 500, 1.01, 0.003, 19, 12 },
                                 { "1.0 N·m/ms", 1.0, NM_PER_MS, 1000, 1.01, 0.003, 19, 12 } };
  static const Figures falls[] = { { "0", 0, "", 1000, 1.01, 0.003, 19, 12 },
                                   { "1", 1, "", 800, 1.01, 0.003, 19, 12 },
                                   { "2", 2, "", 600, 1.01, 0.003, 19, 12 } };
  const SbAudit *audit = audit_figures (*state, "torque slope", FALSE, off, 3, 0.02);
  assert_int_equal (audit->verdict, SB_AUDIT_LIMITS);
  assert_int_equal (audit->proportion, SB_PROPORTION_DIRECT);
  assert_int_equal (audit->levels->len, 2);
  assert_reason (audit, "The level 0 N·m/ms is left out");
  audit = audit_figures (*state, "damping", FALSE, falls, 3, 0.02);
  assert_int_equal (audit->levels->len, 3);
}

/* 500 N·m/s are 0.5 N·m/ms, 20000 µs 20 ms. */
static void
levels_in_units_of_one_dimension_are_converted (void **state)
{
  static const Figures slopes[] = { { "1 N·m/ms", 1, NM_PER_MS, 1000, 1.01, 0.003, 19, 12 },
                                    { "500 N·m/s", 500, "N·m/s", 500, 1.01, 0.003, 19, 12 },
                                    { "2 N·m/ms", 2, NM_PER_MS, 2000, 1.01, 0.003, 19, 12 },
                                    { "2 ms", 2, "ms", 2000, 1.01, 0.003, 19, 12 } };
  static const Figures times[]
      = { { "10 ms", 10, "ms", 960, 1.02, 0.003, 20, 12 }, { "20000 us", 20000, "us", 480, 1.02, 0.003, 18, 12 } };
  const SbAudit *audit = audit_figures (*state, "torque slope", FALSE, slopes, 4, 0.02);
  assert_int_equal (audit->levels->len, 3);
  assert_close (sb_audit_level (audit, 0)->x, 0.5, 1e-12);
  assert_string_equal (sb_audit_level (audit, 0)->text, "500 N·m/s");
  assert_int_equal (audit->proportion, SB_PROPORTION_DIRECT);
  assert_reason (audit, "The level 2 ms is left out: it has another unit");
  audit = audit_figures (*state, "rise", FALSE, times, 2, 0.02);
  assert_int_equal (audit->levels->len, 2);
  assert_close (sb_audit_level (audit, 1)->x, 20, 1e-12);
}

/* Straight rises of 10 and 20 ms to a step of 12 N·m, and to one of 24: of a moving mean they take as long, of a limit
 * twice as long. Without the second step the one cannot be told from the other; nor is it by one in between, 1.4 times
 * as long. */
static void
second_size_of_step_tells_a_moving_mean_from_a_limit (void **state)
{
  static const Figures figures[]
      = { { "10 ms", 10, "ms", 960, 1.02, 0.003, 20, 12 }, { "20 ms", 20, "ms", 480, 1.02, 0.003, 18, 12 } };
  static const struct {
    double slope_ratio; /* of the larger step; 0: there is none */
    SbAuditVerdict verdict;
    gboolean doubted;
    const char *reason;
  } cases[] = {
    { 0, SB_AUDIT_LIMITS, TRUE, "One size of step cannot tell this from a moving mean over a fixed time" },
    { 1, SB_AUDIT_LIMITS, FALSE, "the slope is kept, as by a limit" },
    { 1.4, SB_AUDIT_LIMITS, TRUE, "The other size of step does not tell this from a moving mean over a fixed time" },
    { 2, SB_AUDIT_SHAPES, FALSE, "the duration is kept, not the slope" },
  };
  AuditFixture *fixture = *state;
  for (gsize c = 0; c < G_N_ELEMENTS (cases); c++) {
    audit_figures (fixture, "slew", FALSE, figures, 2, 0.02);
    for (gsize i = 0; i < 2 && cases[c].slope_ratio > 0; i++) {
      Figures larger = figures[i];
      larger.step *= 2;
      larger.slope *= cases[c].slope_ratio;
      for (gsize k = 0; k < N_REPEATS; k++)
        make_repeat (fixture, 2 + i, k, &larger, 0.02);
      fixture->input[i].other_step = fixture->measure_list[2 + i];
      fixture->input[i].n_other_step = N_REPEATS;
    }
    const SbAudit *audit = audit_made (fixture, "slew", FALSE, 2);
    assert_int_equal (audit->verdict, cases[c].verdict);
    assert_int_equal (audit->doubted, cases[c].doubted);
    assert_reason (audit, cases[c].reason);
  }
}

/* A setting whose levels are no times leaves a straight rise in inverse proportion to its number, as a moving mean over
 * so many samples does, or in proportion to it: with one size of step either is in doubt, and levels that are slopes
 * are not where they are met. */
static void
limit_that_may_be_a_moving_mean_is_doubted_whatever_its_levels (void **state)
{
  static const struct {
    Figures figures[2];
    gboolean doubted;
  } cases[] = {
    { { { "3 of 10", 3, "of 10", 1000, 1.02, 0.003, 20, 12 }, { "6 of 10", 6, "of 10", 500, 1.02, 0.003, 18, 12 } },
      TRUE },
    { { { "20 Hz", 20, "Hz", 500, 1.02, 0.003, 18, 12 }, { "40 Hz", 40, "Hz", 1000, 1.02, 0.003, 20, 12 } }, TRUE },
    { { { "low", NAN, "", 500, 1.02, 0.003, 18, 12 }, { "high", NAN, "", 1000, 1.02, 0.003, 20, 12 } }, TRUE },
    { { { "0.5 N·m/ms", 0.5, NM_PER_MS, 500, 1.02, 0.003, 18, 12 },
        { "1.0 N·m/ms", 1.0, NM_PER_MS, 1000, 1.02, 0.003, 20, 12 } },
      FALSE },
  };
  for (gsize c = 0; c < G_N_ELEMENTS (cases); c++) {
    const SbAudit *audit = audit_figures (*state, "smoothing", FALSE, cases[c].figures, 2, 0.02);
    assert_int_equal (audit->verdict, SB_AUDIT_LIMITS);
    assert_int_equal (audit->doubted, cases[c].doubted);
    if (cases[c].doubted)
      assert_reason (audit, "One size of step cannot tell this from a moving mean over a fixed time");
  }
}

/* Slopes that scatter by 4 % of five repeats each: two one-sided tests place the difference of two equal means within
 * 1.86 * 0.0316 * sqrt (2/5) = 3.7 % (s of the five shares is 0.79 of the scatter): a margin of 3 % is not met, and
 * 10 %, by which proportion is told, is. What moves besides is then no limit's doing, with a doubt; nothing moves, or
 * levels closer than twice the 10 %, and it cannot be told. */
static void
slope_that_does_not_follow_is_no_limit_though_its_margin_is_not_met (void **state)
{
  static const struct {
    double last, last_dead_s;
    SbAuditVerdict verdict;
  } cases[]
      = { { 50, 0.006, SB_AUDIT_SHAPES }, { 50, 0.003, SB_AUDIT_CANNOT_TELL }, { 11, 0.006, SB_AUDIT_CANNOT_TELL } };
  AuditFixture *fixture = *state;
  for (gsize c = 0; c < G_N_ELEMENTS (cases); c++) {
    const Figures figures[] = { { "10", 10, "", 1000, 1.01, 0.003, 19, 12 },
                                { "more", cases[c].last, "", 1000, 1.01, cases[c].last_dead_s, 19, 12 } };
    audit_figures (fixture, "gain", FALSE, figures, 2, 0.04);
    const SbAudit *audit = audit_with (fixture, "gain", FALSE, 2, 0.03);
    assert_int_equal (audit->measure[SB_MEASURE_MEAN_TORQUE_SLOPE].effect, SB_EFFECT_UNDECIDED);
    assert_int_equal (audit->verdict, cases[c].verdict);
    assert_int_equal (audit->doubted, cases[c].verdict == SB_AUDIT_SHAPES);
    if (cases[c].verdict == SB_AUDIT_SHAPES)
      assert_reason (audit, "is to stay within ± 10 % (two one-sided tests at 5 %)");
  }
}

/* Of the slope nothing is seen; the dead time is, at a tenth of its scatter, by 1 % of a margin of 5 %. */
static void
effect_within_the_margin_is_not_undetectable (void **state)
{
  static const Figures figures[]
      = { { "10 %", 10, "%", 1000, 1.01, 0.003, 19, 12 }, { "90 %", 90, "%", 1000, 1.01, 0.00303, 19, 12 } };
  const SbAudit *audit = audit_figures (*state, "gain", FALSE, figures, 2, 0.001);
  assert_int_equal (audit->measure[SB_MEASURE_DEAD_TIME].effect, SB_EFFECT_STEADY);
  assert_int_equal (audit->verdict, SB_AUDIT_CANNOT_TELL);
  assert_reason (audit, "Seen to move for all that, if by no more than the margin: dead time.");
}

/* A verdict hangs on when the repeats were made where the slope drifts at one of the levels. */
static void
slope_that_drifts_at_a_level_leaves_a_doubt (void **state)
{
  static const Figures figures[] = { { "0.5 N·m/ms", 0.5, NM_PER_MS, 500, 1.02, 0.003, 18, 12 },
                                     { "1.0 N·m/ms", 1.0, NM_PER_MS, 1000, 1.02, 0.003, 20, 12 } };
  AuditFixture *fixture = *state;
  assert_false (audit_figures (fixture, "slew", FALSE, figures, 2, 0.02)->doubted);
  fixture->input[1].drifting = 1u << SB_MEASURE_MEAN_TORQUE_SLOPE;
  const SbAudit *audit = audit_made (fixture, "slew", FALSE, 2);
  assert_int_equal (audit->verdict, SB_AUDIT_LIMITS);
  assert_true (audit->doubted);
  assert_reason (audit, "These drift from the first repeat of some level to the last");
  assert_reason (audit, "made: mean torque slope.");
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    audit_test (levels_closer_together_than_the_margin_cannot_tell_a_limit),
    audit_test (slope_that_is_seen_to_move_is_not_without_detectable_effect),
    audit_test (zero_is_left_out_where_the_slope_turns_at_it),
    audit_test (levels_in_units_of_one_dimension_are_converted),
    audit_test (second_size_of_step_tells_a_moving_mean_from_a_limit),
    audit_test (limit_that_may_be_a_moving_mean_is_doubted_whatever_its_levels),
    audit_test (slope_that_does_not_follow_is_no_limit_though_its_margin_is_not_met),
    audit_test (effect_within_the_margin_is_not_undetectable),
    audit_test (slope_that_drifts_at_a_level_leaves_a_doubt),
  };
  return cmocka_run_group_tests_name ("levels of a setting audit", tests, NULL, NULL);
}
