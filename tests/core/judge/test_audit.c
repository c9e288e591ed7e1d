/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The verdict of a setting audit on figures whose cause is known: each case is made as the definition of its verdict in
 * docs/methods.md says. */
#include "audit_fixture.h"
#include "doubt.h"

#include <gsl/gsl_sort.h>
#include <math.h>

#define NM_PER_MS "N·m/ms"

static const Figures limiter[] = { { "0.5 N·m/ms", 0.5, NM_PER_MS, 500, 1.02, 0.003, 18, 12 },
                                   { "1 N·m/ms", 1, NM_PER_MS, 1000, 1.02, 0.003, 20, 12 },
                                   { "2 N·m/ms", 2, NM_PER_MS, 1990, 1.03, 0.003, 21, 12 },
                                   { "4 N·m/ms", 4, NM_PER_MS, 3900, 1.05, 0.003, 22, 12 } };

static void
slope_in_proportion_to_the_level_is_a_limit (void **state)
{
  const SbAudit *audit = audit_figures (*state, "torque slope", FALSE, limiter, 4, 0.02);
  assert_int_equal (audit->verdict, SB_AUDIT_LIMITS);
  assert_int_equal (audit->proportion, SB_PROPORTION_DIRECT);
  assert_int_equal (audit->ceiling, -1);
  assert_int_equal (audit->measure[SB_MEASURE_MEAN_TORQUE_SLOPE].effect, SB_EFFECT_MOVES);
  assert_int_equal (audit->measure[SB_MEASURE_DEAD_TIME].effect, SB_EFFECT_STEADY);
  assert_string_equal (audit->unit, NM_PER_MS);
  assert_reason (audit, "in proportion");
  assert_reason (audit, "straight");
}

/* The change is of the ends: 3900 − 500 N·m/s. Theil–Sen: five repeats at each level scatter symmetrically about means
 * that rise by 1000 N·m/s for each N·m/ms or a little less. */
static void
trend_and_change_carry_the_figures_put_in (void **state)
{
  const SbAudit *audit = audit_figures (*state, "torque slope", FALSE, limiter, 4, 0.02);
  const SbAuditMeasure *slope = &audit->measure[SB_MEASURE_MEAN_TORQUE_SLOPE];
  assert_close (slope->change.difference, 3400, 1e-9);
  assert_close (slope->margin, 25, 1e-9);
  assert_true (slope->has_trend);
  assert_close (slope->trend.slope, 980, 30);
  assert_true (slope->trend.ci95[0] < slope->trend.slope && slope->trend.slope < slope->trend.ci95[1]);
  assert_true (slope->has_jonckheere);
  assert_close (slope->jonckheere.statistic, 150, 1e-9); /* all 6 * 25 pairs of other levels rise */
  assert_true (slope->p_holm >= slope->p);
}

static void
levels_are_ordered_and_those_of_one_number_are_one (void **state)
{
  Figures figures[] = { limiter[2], limiter[0], limiter[1], limiter[0] };
  figures[3].text = "0.50 N·m/ms";
  const SbAudit *audit = audit_figures (*state, "torque slope", FALSE, figures, 4, 0.02);
  assert_int_equal (audit->levels->len, 3);
  assert_close (sb_audit_level (audit, 0)->x, 0.5, 0);
  assert_int_equal (sb_audit_level (audit, 0)->n, 2 * N_REPEATS);
  assert_close (sb_audit_level (audit, 2)->x, 2, 0);
  assert_int_equal (audit->verdict, SB_AUDIT_LIMITS);
}

static void
limit_that_another_one_goes_before_has_a_ceiling (void **state)
{
  Figures figures[4];
  memcpy (figures, limiter, sizeof figures);
  figures[2].slope = 1300;
  figures[3].slope = 1302;
  const SbAudit *audit = audit_figures (*state, "torque slope", FALSE, figures, 4, 0.02);
  assert_int_equal (audit->verdict, SB_AUDIT_LIMITS);
  assert_int_equal (audit->ceiling, 2);
  assert_close (audit->ceiling_slope, 1301, 1e-6);
  assert_reason (audit, "another limit is reached first");
  g_autofree char *text = sb_audit_verdict_text (audit, NULL);
  assert_string_equal (text, "limits the torque slope, up to 1.301 N·m/ms");
}

/* Slopes of 1100 and of 1500 N·m/s at the levels beyond: no ceiling gives two slopes, and no mean of them was met at
 * either. */
static void
ceilings_that_are_not_one_are_told_as_such (void **state)
{
  Figures figures[4];
  memcpy (figures, limiter, sizeof figures);
  figures[2].slope = 1100;
  figures[3].slope = 1500;
  const SbAudit *audit = audit_figures (*state, "torque slope", FALSE, figures, 4, 0.02);
  assert_int_equal (audit->verdict, SB_AUDIT_LIMITS);
  assert_int_equal (audit->ceiling, 2);
  assert_close (audit->ceiling_slope, 1100, 1e-6);
  assert_reason (audit, "at 1.100 N·m/ms to 1.500 N·m/ms: another limit is reached first, and not the same one");
}

/* 1.301 N·m/ms are 1301 N·m/s, 20 rad/s 191 rpm (60 / 2 pi). */
static void
sentences_are_in_the_units_that_are_shown (void **state)
{
  Figures figures[4];
  memcpy (figures, limiter, sizeof figures);
  figures[2].slope = 1300;
  figures[3].slope = 1302;
  AuditFixture *fixture = *state;
  fixture->units = (SbUnits){ SB_SLOPE_UNIT_PER_S, SB_VELOCITY_UNIT_RPM };
  const SbAudit *audit = audit_figures (fixture, "torque slope", FALSE, figures, 4, 0.02);
  g_autofree char *text = sb_audit_verdict_text (audit, NULL);
  assert_string_equal (text, "limits the torque slope, up to 1301 N·m/s");
  assert_reason (audit, "at 1301 N·m/s: another limit is reached first");
  assert_reason (audit, " rpm at ");
  for (guint i = 0; i < audit->reasons->len; i++) {
    const char *reason = g_ptr_array_index (audit->reasons, i);
    assert_true (!g_str_has_prefix (reason, "Mean velocity") || strstr (reason, "rad/s") == NULL);
    assert_true (!g_str_has_prefix (reason, "Mean torque slope moves") || strstr (reason, " N·m/s at 0.5") != NULL);
  }
}

/* A rise whose time the setting states: slope times level is what stays. */
static void
slope_in_inverse_proportion_is_a_limit_too (void **state)
{
  static const Figures figures[] = { { "5 ms", 5, "ms", 1920, 1.02, 0.003, 21, 12 },
                                     { "10 ms", 10, "ms", 960, 1.02, 0.003, 20, 12 },
                                     { "20 ms", 20, "ms", 480, 1.02, 0.003, 18, 12 } };
  const SbAudit *audit = audit_figures (*state, "rise", FALSE, figures, 3, 0.02);
  assert_int_equal (audit->verdict, SB_AUDIT_LIMITS);
  assert_int_equal (audit->proportion, SB_PROPORTION_INVERSE);
}

static void
steady_slope_with_another_dead_time_is_shaping (void **state)
{
  static const Figures figures[] = { { "0.3 N·m/ms", 0.3, NM_PER_MS, 990, 1.01, 0.015, 19, 12 },
                                     { "2.0 N·m/ms", 2.0, NM_PER_MS, 998, 1.01, 0.005, 20, 12 } };
  const SbAudit *audit = audit_figures (*state, "torque slope", FALSE, figures, 2, 0.02);
  assert_int_equal (audit->verdict, SB_AUDIT_SHAPES);
  assert_int_equal (audit->measure[SB_MEASURE_DEAD_TIME].effect, SB_EFFECT_MOVES);
  assert_int_equal (audit->measure[SB_MEASURE_MEAN_TORQUE_SLOPE].effect, SB_EFFECT_STEADY);
  assert_reason (audit, "Dead time moves");
  assert_reason (audit, "Mean torque slope stays within ± 0.0495"); /* 5 % of 0.99 N·m/ms */
  assert_reason (audit, "330 % of the 0.3 N·m/ms");                 /* 990 N·m/s over 300, 998 over 2000 */
  assert_reason (audit, "49.9 % of the 2.0 N·m/ms");
}

/* Five repeats -1, 0.5, 1, -0.5 and 0 times 5.5 % off have a deviation of 4.35 %, and each level the same mean. Of
 * three levels with one scatter the half interval of a difference is 1.782 · 4.35 % · √(2/5) = 4.90 %, below the margin
 * of 5 %; of two alone 1.860 · … = 5.11 % (Student's t of 12 and 8 degrees of freedom at 95 %, published tables). */
static void
levels_share_one_scatter_in_what_stays (void **state)
{
  static const Figures figures[] = { { "1", 1, "", 1000, 1.01, 0.015, 19, 12 },
                                     { "2", 2, "", 1000, 1.01, 0.015, 19, 12 },
                                     { "3", 3, "", 1000, 1.01, 0.015, 19, 12 } };
  const SbAudit *audit = audit_figures (*state, "gain", FALSE, figures, 3, 0.055);
  assert_int_equal (audit->measure[SB_MEASURE_DEAD_TIME].effect, SB_EFFECT_STEADY);
  audit = audit_figures (*state, "gain", FALSE, figures, 2, 0.055);
  assert_int_equal (audit->measure[SB_MEASURE_DEAD_TIME].effect, SB_EFFECT_UNDECIDED);
}

/* A level that scatters a fiftieth as much lends the others nothing: Bartlett's statistic is far above 5.99. */
static void
levels_that_scatter_unlike_are_held_each_by_its_own (void **state)
{
  static const Figures figures[] = { { "1", 1, "", 1000, 1.01, 0.015, 19, 12 },
                                     { "2", 2, "", 1000, 1.01, 0.015, 19, 12 },
                                     { "3", 3, "", 1000, 1.01, 0.015, 19, 12 } };
  AuditFixture *fixture = *state;
  audit_figures (fixture, "gain", FALSE, figures, 3, 0.055);
  for (gsize k = 0; k < N_REPEATS; k++)
    make_repeat (fixture, 2, k, &figures[2], 0.055 / 50);
  const SbAudit *audit = audit_made (fixture, "gain", FALSE, 3);
  assert_int_equal (audit->measure[SB_MEASURE_DEAD_TIME].effect, SB_EFFECT_UNDECIDED);
}

/* Five repeats that scatter by 2 % and three by 4 %: Bartlett's test is too weak to tell, and one scatter for both
 * would have a half interval of 4.0 % about a difference of 0.6 %, within the margin. Welch's has 6 %. */
static void
levels_of_unequal_repeats_are_held_each_by_its_own (void **state)
{
  static const Figures figures[]
      = { { "1", 1, "", 1000, 1.01, 0.015, 19, 12 }, { "2", 2, "", 1000, 1.01, 0.015, 19, 12 } };
  AuditFixture *fixture = *state;
  audit_figures (fixture, "gain", FALSE, figures, 2, 0.0253);
  for (gsize k = 0; k < 3; k++)
    make_repeat (fixture, 1, k, &figures[1], 0.0384);
  fixture->input[1].n = 3;
  const SbAudit *audit = audit_made (fixture, "gain", FALSE, 2);
  assert_int_equal (audit->measure[SB_MEASURE_DEAD_TIME].effect, SB_EFFECT_UNDECIDED);
}

/* As of a setting typed in N·m/s: 990 over 0.03 N·m/s is 33000. */
static void
share_beyond_ten_is_a_number_of_times (void **state)
{
  static const Figures figures[] = { { "0.03 N·m/s", 0.03, "N·m/s", 990, 1.01, 0.015, 19, 12 },
                                     { "0.2 N·m/s", 0.2, "N·m/s", 998, 1.01, 0.005, 20, 12 } };
  assert_reason (audit_figures (*state, "torque slope", FALSE, figures, 2, 0.02), "33000 times the 0.03 N·m/s");
}

static void
cancelled_audit_ends_without_a_verdict (void **state)
{
  AuditFixture *fixture = *state;
  audit_figures (fixture, "torque slope", FALSE, limiter, 4, 0.02);
  SbMargin margins[SB_N_MEASURES] = { 0 };
  SbAuditChoices choices = sb_audit_choices_default ();
  GCancellable *cancellable = g_cancellable_new ();
  g_cancellable_cancel (cancellable);
  SbAudit *audit
      = sb_audit_new ("torque slope", FALSE, fixture->input, 4, margins, &choices, (SbUnits){ 0 }, cancellable);
  assert_int_equal (audit->verdict, SB_AUDIT_CANNOT_TELL);
  assert_int_equal (audit->reasons->len, 0);
  sb_audit_unref (audit);
  g_object_unref (cancellable);
}

/* Two equal lags: steepest over mean slope is 1.54 (algebra). */
static void
rounded_rise_is_shaping_even_where_the_slope_moves (void **state)
{
  static const Figures figures[]
      = { { "0 %", 0, "%", 1985, 1.01, 0.003, 20, 12 }, { "60 %", 60, "%", 863, 1.54, 0.006, 20, 12 } };
  const SbAudit *audit = audit_figures (*state, "smoothing", FALSE, figures, 2, 0.02);
  assert_int_equal (audit->verdict, SB_AUDIT_SHAPES);
  assert_reason (audit, "rounded");
}

/* Waves about a rounded rise that no rounded form behind any rig has (fourfold from quarter to quarter, on a torque
 * that hardly overshoots): the likelier explanation is still a bad one, 15 % being allowed. */
static void
likelier_explanation_that_is_far_off_is_none (void **state)
{
  static const double waves[SB_RISE_QUARTERS] = { 2.4, 0.2, 1.2, 0.2 };
  static const Figures figures[] = { { "1", 1, "", 2000, 1, 0.003, 20, 12 },
                                     { "2", 2, "", 1300, 1, 0.003, 19, 12 },
                                     { "3", 3, "", 800, 1, 0.003, 18, 12 } };
  AuditFixture *fixture = *state;
  audit_figures (fixture, "smoothing", FALSE, figures, 3, 0.01);
  for (gsize i = 0; i < 3; i++)
    for (gsize k = 0; k < N_REPEATS; k++) {
      SbMeasures *measures = &fixture->measures[i][k];
      put (measures, SB_MEASURE_OVERSHOOT, 0.03);
      for (gsize q = 0; i == 2 && q < SB_RISE_QUARTERS; q++)
        measures->transition.quarter_nm_per_s[q] = waves[q] * measures->measure[SB_MEASURE_MEAN_TORQUE_SLOPE].value;
    }
  const SbAudit *audit = audit_made (fixture, "smoothing", FALSE, 3);
  assert_reason (audit, "rounded is the likelier, but what is seen is too far from it");
  assert_int_equal (audit->verdict, SB_AUDIT_CANNOT_TELL);
}

/* A filter's bandwidth: the slope is in proportion to it, and yet no limit. */
static void
bandwidth_of_a_filter_is_no_limit (void **state)
{
  Figures figures[4];
  memcpy (figures, limiter, sizeof figures);
  for (gsize i = 0; i < 4; i++)
    figures[i].straightness = 1.54;
  const SbAudit *audit = audit_figures (*state, "bandwidth", FALSE, figures, 4, 0.02);
  assert_int_equal (audit->verdict, SB_AUDIT_SHAPES);
}

static void
nothing_that_moves_is_no_detectable_effect (void **state)
{
  Figures figures[3];
  for (gsize i = 0; i < 3; i++)
    figures[i] = limiter[1];
  figures[0].value = 1, figures[1].value = 5, figures[2].value = 10;
  const SbAudit *audit = audit_figures (*state, "game mode", FALSE, figures, 3, 0.02);
  assert_int_equal (audit->verdict, SB_AUDIT_NO_EFFECT);
  assert_reason (audit, "No other measure is seen to move");
}

/* Repeats that scatter by a third: not even a slope that is known to stay. */
static void
wide_scatter_cannot_tell (void **state)
{
  Figures figures[2] = { limiter[1], limiter[1] };
  figures[1].value = 2;
  figures[1].slope = 1100;
  const SbAudit *audit = audit_figures (*state, "torque slope", FALSE, figures, 2, 0.33);
  assert_int_equal (audit->verdict, SB_AUDIT_CANNOT_TELL);
  assert_reason (audit, "more repeats");
}

static void
setting_that_scales_the_torque_is_no_limit (void **state)
{
  Figures figures[3];
  for (gsize i = 0; i < 3; i++) {
    figures[i] = limiter[i];
    figures[i].step = 6 * (double) (1 << i); /* slope and step alike: the rise takes one time */
    figures[i].slope = 500 * (double) (1 << i);
  }
  const SbAudit *audit = audit_figures (*state, "gain", FALSE, figures, 3, 0.02);
  assert_int_equal (audit->verdict, SB_AUDIT_CANNOT_TELL);
  assert_reason (audit, "scales the torque");
}

static void
words_are_ranked_and_judged_by_the_shape (void **state)
{
  static const Figures figures[] = { { "high", NAN, "", 2000, 1.02, 0.003, 22, 12 },
                                     { "low", NAN, "", 500, 1.02, 0.003, 18, 12 },
                                     { "medium", NAN, "", 900, 1.02, 0.003, 20, 12 } };
  const SbAudit *audit = audit_figures (*state, "slew", FALSE, figures, 3, 0.02);
  assert_string_equal (sb_audit_level (audit, 0)->text, "low");
  assert_close (sb_audit_level (audit, 2)->x, 3, 0);
  assert_false (audit->numeric);
  assert_int_equal (audit->verdict, SB_AUDIT_LIMITS);
  assert_int_equal (audit->proportion, SB_PROPORTION_UNKNOWN);
  assert_reason (audit, "proportion cannot be checked");
}

static void
rotation_range_is_spoken_of_as_dependence (void **state)
{
  static const Figures figures[] = { { "360 deg", 360, "deg", 3150, 1.02, 0.003, 20, 12 },
                                     { "540 deg", 540, "deg", 2680, 1.02, 0.003, 20, 12 },
                                     { "900 deg", 900, "deg", 2280, 1.02, 0.003, 20, 12 } };
  const SbAudit *audit = audit_figures (*state, "rotation range", TRUE, figures, 3, 0.02);
  assert_int_equal (audit->verdict, SB_AUDIT_LIMITS);
  g_autofree char *text = sb_audit_verdict_text (audit, NULL);
  assert_string_equal (text, "the torque slope depends on it");
}

static void
what_else_differs_is_listed (void **state)
{
  AuditFixture *fixture = *state;
  const SbAudit *audit = audit_figures (fixture, "torque slope", FALSE, limiter, 2, 0.02);
  assert_int_equal (audit->fairness->len, 0);
  assert_false (audit->doubted);
  for (gsize k = 0; k < N_REPEATS; k++)
    fixture->facts[1][k].rotation_deg = 540;
  SbMargin margins[SB_N_MEASURES];
  for (int m = 0; m < SB_N_MEASURES; m++)
    margins[m] = (SbMargin){ .ratio = 0.05, .absolute = NAN };
  SbAuditChoices choices = sb_audit_choices_default ();
  SbAudit *unfair = sb_audit_new ("torque slope", FALSE, fixture->input, 2, margins, &choices, (SbUnits){ 0 }, NULL);
  sb_audit_unref (fixture->audit);
  fixture->audit = unfair;
  assert_int_equal (unfair->fairness->len, 1);
  assert_string_equal (g_ptr_array_index (unfair->fairness, 0),
                       "rotation range: 900 deg at 0.5 N·m/ms, 540 deg at 1 N·m/ms");
  assert_true (unfair->doubted);
  assert_reason (unfair, "Something else differs between the levels");
}

/* A configuration that was duplicated tells nothing that the first did not: all figures are those without it. */
static void
repeats_that_stand_in_two_configurations_count_once (void **state)
{
  AuditFixture *fixture = *state;
  double p = audit_figures (fixture, "torque slope", FALSE, limiter, 4, 0.02)->measure[SB_MEASURE_DEAD_TIME].p;
  for (gsize i = 0; i < 4; i++)
    for (gsize k = 0; k < N_REPEATS; k++)
      g_snprintf (fixture->facts[i][k].sha256, 65, "%" G_GSIZE_FORMAT "-%" G_GSIZE_FORMAT, i, k);
  fixture->input[4] = fixture->input[0];
  SbMargin margins[SB_N_MEASURES];
  for (int m = 0; m < SB_N_MEASURES; m++)
    margins[m] = (SbMargin){ .ratio = 0.05, .absolute = NAN };
  sb_audit_unref (fixture->audit);
  SbAuditChoices choices = sb_audit_choices_default ();
  fixture->audit = sb_audit_new ("torque slope", FALSE, fixture->input, 5, margins, &choices, (SbUnits){ 0 }, NULL);
  assert_int_equal (sb_audit_level (fixture->audit, 0)->n, N_REPEATS);
  assert_close (fixture->audit->measure[SB_MEASURE_DEAD_TIME].p, p, 0);
  assert_reason (fixture->audit, "5 repeats stand in two configurations and count once");
}

/* 600 copies of each level's repeats' pointers: slopes of the pairs of means are 955, 967, 971, 990, 993 and 1000 N·m/s
 * for each N·m/ms, their median (3400 / 3.5 + 990) / 2. */
static void
trend_of_very_many_repeats_is_that_of_the_means (void **state)
{
  AuditFixture *fixture = *state;
  audit_figures (fixture, "torque slope", FALSE, limiter, 4, 0.02);
  enum { MANY = 600 };
  SbMeasures *measures[4][MANY];
  SbTrialFacts *facts[4][MANY];
  for (gsize i = 0; i < 4; i++) {
    for (gsize k = 0; k < MANY; k++) {
      measures[i][k] = fixture->input[i].measures[k % N_REPEATS];
      facts[i][k] = fixture->input[i].facts[k % N_REPEATS];
    }
    fixture->input[i].measures = measures[i];
    fixture->input[i].facts = facts[i];
    fixture->input[i].n = MANY;
  }
  SbMargin margins[SB_N_MEASURES];
  for (int m = 0; m < SB_N_MEASURES; m++)
    margins[m] = (SbMargin){ .ratio = 0.05, .absolute = NAN };
  SbAuditChoices choices = sb_audit_choices_default ();
  sb_audit_unref (fixture->audit);
  fixture->audit = sb_audit_new ("torque slope", FALSE, fixture->input, 4, margins, &choices, (SbUnits){ 0 }, NULL);
  assert_int_equal (sb_audit_level (fixture->audit, 0)->n, MANY);
  assert_close (fixture->audit->measure[SB_MEASURE_MEAN_TORQUE_SLOPE].trend.slope, (3400 / 3.5 + 990) / 2, 1e-6);
  assert_reason (fixture->audit, "more than 2000 repeats");
}

/* The slow way: all slopes sorted, the interval's ends by Sen's ranks without ties (n (n - 1) (2 n + 5) / 18). */
static void
trend_of_many_pairs_is_that_of_sorted_slopes (void **state)
{
  enum { N = 61 };
  double x[N], y[N], slopes[N * (N - 1) / 2];
  gsize n = 0;
  for (int i = 0; i < N; i++) {
    x[i] = i;
    y[i] = 0.3 * i + 5 * sin (1.7 * i * i); /* no two alike */
    for (int j = 0; j < i; j++)
      slopes[n++] = (y[i] - y[j]) / (x[i] - x[j]);
  }
  gsl_sort (slopes, 1, n);
  double reach = 1.959964 * sqrt (N * (N - 1.0) * (2.0 * N + 5) / 18);
  SbTheilSen trend;
  assert_true (sb_theil_sen (x, y, N, &trend));
  assert_close (trend.slope, (slopes[n / 2 - 1] + slopes[n / 2]) / 2, 0); /* 1830 of them */
  assert_close (trend.ci95[0], slopes[(gsize) rint (((double) n - reach) / 2) - 1], 0);
  assert_close (trend.ci95[1], slopes[(gsize) rint (((double) n + reach) / 2)], 0);
}

static void
one_level_cannot_be_audited (void **state)
{
  const SbAudit *audit = audit_figures (*state, "torque slope", FALSE, limiter, 1, 0.02);
  assert_int_equal (audit->verdict, SB_AUDIT_CANNOT_TELL);
  assert_reason (audit, "two levels or more; there is one");
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    audit_test (slope_in_proportion_to_the_level_is_a_limit),
    audit_test (trend_and_change_carry_the_figures_put_in),
    audit_test (levels_are_ordered_and_those_of_one_number_are_one),
    audit_test (limit_that_another_one_goes_before_has_a_ceiling),
    audit_test (ceilings_that_are_not_one_are_told_as_such),
    audit_test (slope_in_inverse_proportion_is_a_limit_too),
    audit_test (sentences_are_in_the_units_that_are_shown),
    audit_test (steady_slope_with_another_dead_time_is_shaping),
    audit_test (levels_share_one_scatter_in_what_stays),
    audit_test (levels_that_scatter_unlike_are_held_each_by_its_own),
    audit_test (levels_of_unequal_repeats_are_held_each_by_its_own),
    audit_test (share_beyond_ten_is_a_number_of_times),
    audit_test (cancelled_audit_ends_without_a_verdict),
    audit_test (rounded_rise_is_shaping_even_where_the_slope_moves),
    audit_test (likelier_explanation_that_is_far_off_is_none),
    audit_test (bandwidth_of_a_filter_is_no_limit),
    audit_test (nothing_that_moves_is_no_detectable_effect),
    audit_test (wide_scatter_cannot_tell),
    audit_test (setting_that_scales_the_torque_is_no_limit),
    audit_test (words_are_ranked_and_judged_by_the_shape),
    audit_test (rotation_range_is_spoken_of_as_dependence),
    audit_test (what_else_differs_is_listed),
    audit_test (repeats_that_stand_in_two_configurations_count_once),
    audit_test (trend_of_very_many_repeats_is_that_of_the_means),
    audit_test (trend_of_many_pairs_is_that_of_sorted_slopes),
    audit_test (one_level_cannot_be_audited),
  };
  return cmocka_run_group_tests_name ("setting audit", tests, NULL, NULL);
}
