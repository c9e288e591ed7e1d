/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Stated figures against repeats whose mean and standard deviation are known: five values a, a ± d, a ± d/2 have the
 * mean a and s = d √(2.5 / 4). Student's t: 2.776 at 4 degrees of freedom (any table of it). */
#include "claim.h"
#include "close.h"
#include "doubt.h"

#include <math.h>
#include <string.h>

#define N_REPEATS 5
#define T_4       2.776445

typedef struct {
  SbMeasures measures[2][N_REPEATS];
  SbTrialFacts facts[N_REPEATS];
  SbMeasures *measure_list[2][N_REPEATS];
  SbTrialFacts *facts_list[N_REPEATS];
  SbSummary *summary[2];
  SbClaimInput input[2];
  SbClaimResult *result;
  SbUnits units;
  GPtrArray *doubts; /* that noise decides at which crest a figure is read */
} Fixture;

static int
setup (void **state)
{
  Fixture *fixture = g_new0 (Fixture, 1);
  for (int i = 0; i < N_REPEATS; i++) {
    fixture->facts[i].sample_interval_s = 0.001;
    fixture->facts_list[i] = &fixture->facts[i];
    for (int c = 0; c < 2; c++) {
      fixture->measure_list[c][i] = &fixture->measures[c][i];
      fixture->measures[c][i].transition = (SbTransition){ .has_torque_step = TRUE, .top_nm = 12 };
    }
  }
  fixture->doubts = g_ptr_array_new_with_free_func (sb_doubt_free);
  g_ptr_array_add (fixture->doubts, sb_doubt_new (SB_DOUBT_EITHER, g_strdup ("near the band's edge: made up")));
  *state = fixture;
  return 0;
}

static int
teardown (void **state)
{
  Fixture *fixture = *state;
  sb_claim_result_unref (fixture->result);
  for (int c = 0; c < 2; c++)
    sb_summary_unref (fixture->summary[c]);
  g_ptr_array_unref (fixture->doubts);
  g_free (fixture);
  return 0;
}

static void
fill (Fixture *fixture, int side, SbMeasureId id, double mean, double d)
{
  static const double shares[N_REPEATS] = { -1, 0.5, 1, -0.5, 0 };
  for (int i = 0; i < N_REPEATS; i++) {
    SbMeasure *measure = &fixture->measures[side][i].measure[id];
    measure->present = TRUE;
    measure->value = mean + d * shares[i];
  }
  sb_summary_unref (fixture->summary[side]);
  fixture->summary[side] = sb_summary_new (fixture->measure_list[side], N_REPEATS, NULL);
  fixture->input[side] = (SbClaimInput){ side == 0 ? "first" : "second",
                                         fixture->summary[side],
                                         fixture->measure_list[side],
                                         fixture->facts_list,
                                         N_REPEATS,
                                         0 };
}

static const SbClaimResult *
check (Fixture *fixture, SbMeasureId id, SbClaimRelation relation, double value, double tolerance, gsize n_sides)
{
  SbClaim claim = { -1, NULL, id, relation, value, tolerance };
  sb_claim_result_unref (fixture->result);
  fixture->result = sb_claim_result_new (&claim, fixture->input, n_sides, fixture->units);
  return fixture->result;
}

static SbClaimVerdict
verdict (Fixture *fixture, SbMeasureId id, SbClaimRelation relation, double value, double tolerance)
{
  return check (fixture, id, relation, value, tolerance, 1)->verdict;
}

/* s = 0.0790569 · d / 0.1; with d 2 the interval of the mean 40 is 40 ± 2.776 · 1.5811 / √5 = 40 ± 1.9632. */
static void
interval_is_held_against_what_is_stated (void **state)
{
  Fixture *fixture = *state;
  fill (fixture, 0, SB_MEASURE_PEAK_VELOCITY, 40, 2);
  const SbClaimSide *side
      = sb_claim_result_side (check (fixture, SB_MEASURE_PEAK_VELOCITY, SB_CLAIM_AT_LEAST, 38, 0, 1), 0);
  double half = T_4 * 2 * sqrt (2.5 / 4) / sqrt (5);
  assert_close (side->interval[0], 40 - half, 1e-4);
  assert_close (side->interval[1], 40 + half, 1e-4);
  assert_int_equal (side->n, 5);
  assert_int_equal (verdict (fixture, SB_MEASURE_PEAK_VELOCITY, SB_CLAIM_AT_LEAST, 38, 0), SB_CLAIM_REACHED);
  assert_int_equal (verdict (fixture, SB_MEASURE_PEAK_VELOCITY, SB_CLAIM_AT_LEAST, 38.1, 0), SB_CLAIM_CANNOT_TELL);
  assert_int_equal (verdict (fixture, SB_MEASURE_PEAK_VELOCITY, SB_CLAIM_AT_LEAST, 41.9, 0), SB_CLAIM_CANNOT_TELL);
  assert_int_equal (verdict (fixture, SB_MEASURE_PEAK_VELOCITY, SB_CLAIM_AT_LEAST, 42, 0), SB_CLAIM_NOT_REACHED);
  assert_int_equal (verdict (fixture, SB_MEASURE_PEAK_VELOCITY, SB_CLAIM_AT_MOST, 42, 0), SB_CLAIM_REACHED);
  assert_int_equal (verdict (fixture, SB_MEASURE_PEAK_VELOCITY, SB_CLAIM_AT_MOST, 41.9, 0), SB_CLAIM_CANNOT_TELL);
  assert_int_equal (verdict (fixture, SB_MEASURE_PEAK_VELOCITY, SB_CLAIM_AT_MOST, 38, 0), SB_CLAIM_NOT_REACHED);
  assert_int_equal (verdict (fixture, SB_MEASURE_PEAK_VELOCITY, SB_CLAIM_ABOUT, 40, 2), SB_CLAIM_REACHED);
  assert_int_equal (verdict (fixture, SB_MEASURE_PEAK_VELOCITY, SB_CLAIM_ABOUT, 40, 1.9), SB_CLAIM_CANNOT_TELL);
  assert_int_equal (verdict (fixture, SB_MEASURE_PEAK_VELOCITY, SB_CLAIM_ABOUT, 44, 2), SB_CLAIM_NOT_REACHED);
  assert_int_equal (verdict (fixture, SB_MEASURE_PEAK_VELOCITY, SB_CLAIM_ABOUT, 36, 2), SB_CLAIM_NOT_REACHED);
}

/* One-sample t test, two-sided at 5 %, power 80 %: 34 for a distance of half a standard deviation, 15 for 0.8, 10 for a
 * whole one (Cohen 1988 and R's power.t.test, n = 33.37, 14.30, 9.94; from memory). */
static void
repeats_that_would_settle_it_are_counted (void **state)
{
  static const struct {
    double deviations;
    gsize n;
  } published[] = { { 0.5, 34 }, { 0.8, 15 }, { 1.0, 10 } };
  Fixture *fixture = *state;
  fill (fixture, 0, SB_MEASURE_PEAK_VELOCITY, 40, 2);
  for (gsize i = 0; i < G_N_ELEMENTS (published); i++) {
    double stated = 40 - published[i].deviations * 2 * sqrt (2.5 / 4);
    const SbClaimResult *result = check (fixture, SB_MEASURE_PEAK_VELOCITY, SB_CLAIM_AT_LEAST, stated, 0, 1);
    assert_int_equal (result->verdict, SB_CLAIM_CANNOT_TELL);
    assert_int_equal (sb_claim_result_side (result, 0)->n_needed, published[i].n);
  }
  assert_non_null (strstr (sb_claim_result_side (fixture->result, 0)->reason, "10 repeats would settle it"));
}

/* 12 N·m sampled each millisecond: 0.8 · 12 / (4 · 0.001) = 2400 N·m/s. */
static void
slope_that_the_log_cannot_show_is_no_failure (void **state)
{
  Fixture *fixture = *state;
  fill (fixture, 0, SB_MEASURE_PEAK_TORQUE_SLOPE, 2000, 20);
  const SbClaimResult *result = check (fixture, SB_MEASURE_PEAK_TORQUE_SLOPE, SB_CLAIM_AT_LEAST, 4000, 0, 1);
  assert_close (sb_claim_result_side (result, 0)->steepest_nm_per_s, 2400, 1e-9);
  assert_int_equal (result->verdict, SB_CLAIM_CANNOT_TELL);
  assert_non_null (
      strstr (sb_claim_result_side (result, 0)->reason, "of slopes above 2.400 N·m/ms this test has too few"));
  fixture->units.slope = SB_SLOPE_UNIT_PER_S;
  result = check (fixture, SB_MEASURE_PEAK_TORQUE_SLOPE, SB_CLAIM_AT_LEAST, 4000, 0, 1);
  assert_non_null (
      strstr (sb_claim_result_side (result, 0)->reason, "of slopes above 2400 N·m/s this test has too few"));
  assert_int_equal (verdict (fixture, SB_MEASURE_PEAK_TORQUE_SLOPE, SB_CLAIM_AT_LEAST, 2300, 0), SB_CLAIM_NOT_REACHED);
}

/* A velocity that still rises when the log ends may reach in a longer one what it does not in this: no more than what
 * is stated at most it cannot get back to. */
static void
what_still_rises_at_the_end_is_not_short_of_it (void **state)
{
  Fixture *fixture = *state;
  fill (fixture, 0, SB_MEASURE_PEAK_VELOCITY, 40, 1);
  assert_int_equal (verdict (fixture, SB_MEASURE_PEAK_VELOCITY, SB_CLAIM_AT_LEAST, 45, 0), SB_CLAIM_NOT_REACHED);
  for (int i = 0; i < N_REPEATS - 1; i++)
    fixture->measures[0][i].measure[SB_MEASURE_PEAK_VELOCITY].is_cut_short = TRUE;
  const SbClaimResult *result = check (fixture, SB_MEASURE_PEAK_VELOCITY, SB_CLAIM_AT_LEAST, 45, 0, 1);
  assert_int_equal (result->verdict, SB_CLAIM_CANNOT_TELL);
  assert_non_null (
      strstr (sb_claim_result_side (result, 0)->reason, "still rises when the log ends in 4 of 5 repeats"));
  assert_int_equal (verdict (fixture, SB_MEASURE_PEAK_VELOCITY, SB_CLAIM_AT_LEAST, 35, 0), SB_CLAIM_REACHED);
  assert_int_equal (verdict (fixture, SB_MEASURE_PEAK_VELOCITY, SB_CLAIM_AT_MOST, 35, 0), SB_CLAIM_NOT_REACHED);
  assert_int_equal (verdict (fixture, SB_MEASURE_PEAK_VELOCITY, SB_CLAIM_AT_MOST, 45, 0), SB_CLAIM_CANNOT_TELL);
  assert_int_equal (verdict (fixture, SB_MEASURE_PEAK_VELOCITY, SB_CLAIM_ABOUT, 40, 5), SB_CLAIM_CANNOT_TELL);
}

static void
time_from_the_onset_is_known_to_a_sample_interval (void **state)
{
  Fixture *fixture = *state;
  fill (fixture, 0, SB_MEASURE_DEAD_TIME, 0.0045, 1e-5);
  assert_int_equal (verdict (fixture, SB_MEASURE_DEAD_TIME, SB_CLAIM_AT_MOST, 0.005, 0), SB_CLAIM_CANNOT_TELL);
  assert_non_null (strstr (sb_claim_result_side (fixture->result, 0)->reason, "sample interval"));
  assert_int_equal (verdict (fixture, SB_MEASURE_DEAD_TIME, SB_CLAIM_AT_MOST, 0.006, 0), SB_CLAIM_REACHED);
}

/* 4.5 ± 0.55 ms (t 2.776, s 0.4 / √0.8 ms), the command having jumped up to 1 ms earlier: up to 6.05 ms. */
static void
time_from_a_jump_may_be_longer_by_a_sample_interval (void **state)
{
  Fixture *fixture = *state;
  for (int i = 0; i < N_REPEATS; i++)
    fixture->measures[0][i].measure[SB_MEASURE_DEAD_TIME].by_late_onset = 1e-3;
  fill (fixture, 0, SB_MEASURE_DEAD_TIME, 0.0045, 5.6e-4);
  assert_int_equal (verdict (fixture, SB_MEASURE_DEAD_TIME, SB_CLAIM_AT_MOST, 0.006, 0), SB_CLAIM_CANNOT_TELL);
  assert_int_equal (verdict (fixture, SB_MEASURE_DEAD_TIME, SB_CLAIM_AT_MOST, 0.0062, 0), SB_CLAIM_REACHED);
  assert_int_equal (verdict (fixture, SB_MEASURE_DEAD_TIME, SB_CLAIM_AT_MOST, 0.0034, 0), SB_CLAIM_NOT_REACHED);
}

/* A repeat's own uncertainty of 3 ms is in the scatter of the repeats, not in what is told of the sample interval: 1
 * ms, which 0.8 ms are within and 1.2 ms are not. */
static void
uncertainty_of_a_repeat_is_no_sample_interval (void **state)
{
  Fixture *fixture = *state;
  for (int i = 0; i < N_REPEATS; i++)
    fixture->measures[0][i].measure[SB_MEASURE_SETTLING_TIME].uncertainty = 0.003;
  fill (fixture, 0, SB_MEASURE_SETTLING_TIME, 0.077, 1e-4);
  assert_int_equal (verdict (fixture, SB_MEASURE_SETTLING_TIME, SB_CLAIM_AT_MOST, 0.0778, 0), SB_CLAIM_CANNOT_TELL);
  assert_non_null (strstr (sb_claim_result_side (fixture->result, 0)->reason, "below one sample interval, 1.000 ms;"));
  assert_int_equal (verdict (fixture, SB_MEASURE_SETTLING_TIME, SB_CLAIM_AT_MOST, 0.0782, 0), SB_CLAIM_REACHED);
}

/* 0.4 ms from what is stated, with a sample interval of 1 ms and repeats 2 ms apart: the onset is known to no more
 * than a sample, however many repeats there are. */
static void
time_within_a_sample_interval_is_promised_no_repeats (void **state)
{
  Fixture *fixture = *state;
  fill (fixture, 0, SB_MEASURE_DEAD_TIME, 0.0046, 2e-3);
  assert_int_equal (verdict (fixture, SB_MEASURE_DEAD_TIME, SB_CLAIM_AT_MOST, 0.005, 0), SB_CLAIM_CANNOT_TELL);
  const SbClaimSide *side = sb_claim_result_side (fixture->result, 0);
  assert_int_equal (side->n_needed, 0);
  assert_non_null (strstr (side->reason, "below one sample interval, 1.000 ms; a higher sample rate would tell"));
  assert_null (strstr (side->reason, "would settle it"));
  assert_int_equal (verdict (fixture, SB_MEASURE_DEAD_TIME, SB_CLAIM_AT_MOST, 0.0057, 0), SB_CLAIM_CANNOT_TELL);
  assert_true (sb_claim_result_side (fixture->result, 0)->n_needed > 0); /* 1.1 ms off: repeats would tell */
}

/* Settling times of which noise decides at which of two crests they are read, the other one 7 ms off. */
static void
fill_two_valued (Fixture *fixture, const double settling_s[N_REPEATS])
{
  for (int i = 0; i < N_REPEATS; i++) {
    SbMeasure *measure = &fixture->measures[0][i].measure[SB_MEASURE_SETTLING_TIME];
    measure->doubts = fixture->doubts;
    measure->other = settling_s[i] < 0.08 ? 0.084 : 0.077;
  }
  fill (fixture, 0, SB_MEASURE_SETTLING_TIME, 0, 0);
  for (int i = 0; i < N_REPEATS; i++)
    fixture->measures[0][i].measure[SB_MEASURE_SETTLING_TIME].value = settling_s[i];
  sb_summary_unref (fixture->summary[0]);
  fixture->summary[0] = sb_summary_new (fixture->measure_list[0], N_REPEATS, NULL);
  fixture->input[0].summary = fixture->summary[0];
}

/* Three at 77 and two at 84 ms: mean 79.8, s 3.83, interval ± 2.776 · 3.83 / √5 = 4.76 ms. 77 ms are 2.8 from the mean,
 * which is less than the 7 ms between the crests; 90 ms are farther, and beyond the interval. */
static void
figures_of_two_crests_have_no_mean_to_be_settled (void **state)
{
  Fixture *fixture = *state;
  fill_two_valued (fixture, (const double[]){ 0.077, 0.084, 0.077, 0.077, 0.084 });
  assert_int_equal (verdict (fixture, SB_MEASURE_SETTLING_TIME, SB_CLAIM_AT_MOST, 0.077, 0), SB_CLAIM_CANNOT_TELL);
  const SbClaimSide *side = sb_claim_result_side (fixture->result, 0);
  assert_close (side->crests_apart, 0.007, 1e-12);
  assert_int_equal (side->n_needed, 0);
  assert_non_null (strstr (side->reason, "at which crest, up to 7.000 ms apart"));
  assert_non_null (strstr (side->reason, "not more repeats"));
  assert_null (strstr (side->reason, "sample interval"));
  assert_int_equal (verdict (fixture, SB_MEASURE_SETTLING_TIME, SB_CLAIM_AT_MOST, 0.090, 0), SB_CLAIM_REACHED);
}

/* All at one crest, 0.1 ms apart: what is stated 2 ms from there is told apart, with the doubt that the other may be.
 */
static void
figures_of_one_crest_are_settled_with_a_doubt (void **state)
{
  Fixture *fixture = *state;
  fill_two_valued (fixture, (const double[]){ 0.0770, 0.0771, 0.0770, 0.0771, 0.0770 });
  assert_int_equal (verdict (fixture, SB_MEASURE_SETTLING_TIME, SB_CLAIM_AT_MOST, 0.079, 0), SB_CLAIM_REACHED);
  assert_close (sb_claim_result_side (fixture->result, 0)->crests_apart, 0, 0);
  assert_true (sb_claim_result_side (fixture->result, 0)->doubted);
}

static void
what_noise_has_raised_is_not_reached_by_it (void **state)
{
  Fixture *fixture = *state;
  fill (fixture, 0, SB_MEASURE_PEAK_TORQUE_SLOPE, 2000, 20);
  assert_int_equal (verdict (fixture, SB_MEASURE_PEAK_TORQUE_SLOPE, SB_CLAIM_AT_LEAST, 1950, 0), SB_CLAIM_REACHED);
  for (int i = 0; i < N_REPEATS; i++)
    fixture->measures[0][i].measure[SB_MEASURE_PEAK_TORQUE_SLOPE].bias = 100;
  assert_int_equal (verdict (fixture, SB_MEASURE_PEAK_TORQUE_SLOPE, SB_CLAIM_AT_LEAST, 1950, 0), SB_CLAIM_CANNOT_TELL);
}

/* The mean 2000 ± 19.6 (see above), less a bias of 100 or -150 as well: it lies from 1880.4 to 2019.6, or from 1980.4
 * to 2169.6. Where the verdict would be another one without the bias, and only there, that is a doubt. */
static void
bias_is_a_doubt_where_it_turns_the_verdict (void **state)
{
  static const struct {
    double bias;
    SbClaimRelation relation;
    double stated;
    SbClaimVerdict verdict;
    gboolean doubted;
  } cases[] = {
    { 100, SB_CLAIM_AT_LEAST, 2300, SB_CLAIM_NOT_REACHED, FALSE },
    { 100, SB_CLAIM_AT_LEAST, 1950, SB_CLAIM_CANNOT_TELL, TRUE },
    { 100, SB_CLAIM_AT_LEAST, 2000, SB_CLAIM_CANNOT_TELL, FALSE },
    { 100, SB_CLAIM_AT_LEAST, 1850, SB_CLAIM_REACHED, FALSE },
    { 100, SB_CLAIM_AT_MOST, 1950, SB_CLAIM_CANNOT_TELL, TRUE },
    { -150, SB_CLAIM_AT_MOST, 2100, SB_CLAIM_CANNOT_TELL, TRUE },
    { -150, SB_CLAIM_AT_MOST, 2200, SB_CLAIM_REACHED, FALSE },
    { -150, SB_CLAIM_AT_LEAST, 1950, SB_CLAIM_REACHED, FALSE },
  };
  Fixture *fixture = *state;
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++) {
    for (int k = 0; k < N_REPEATS; k++)
      fixture->measures[0][k].measure[SB_MEASURE_PEAK_TORQUE_SLOPE].bias = cases[i].bias;
    fill (fixture, 0, SB_MEASURE_PEAK_TORQUE_SLOPE, 2000, 20);
    const SbClaimResult *result
        = check (fixture, SB_MEASURE_PEAK_TORQUE_SLOPE, cases[i].relation, cases[i].stated, 0, 1);
    assert_int_equal (result->verdict, cases[i].verdict);
    assert_int_equal (sb_claim_result_side (result, 0)->doubted, cases[i].doubted);
    /* of the mean, not of the repeats that stand before it */
    assert_non_null (strstr (sb_claim_result_side (result, 0)->reason,
                             cases[i].bias > 0 ? "repeats, the mean perhaps raised by noise by 0.1"
                                               : "repeats, the mean perhaps lowered by noise by 0.15"));
  }
}

/* (1.96 + 0.84)² / 0.1² = 785 for a tenth of a standard deviation (normal approximation; the t test takes two or three
 * more). The number is kept; words call it no practical one. */
static void
hundreds_of_repeats_are_no_practical_number (void **state)
{
  Fixture *fixture = *state;
  fill (fixture, 0, SB_MEASURE_PEAK_VELOCITY, 40, 2);
  double stated = 40 - 0.1 * 2 * sqrt (2.5 / 4);
  const SbClaimResult *result = check (fixture, SB_MEASURE_PEAK_VELOCITY, SB_CLAIM_AT_LEAST, stated, 0, 1);
  assert_in_range (sb_claim_result_side (result, 0)->n_needed, 785, 790);
  assert_non_null (strstr (sb_claim_result_side (result, 0)->reason, "practical number of repeats (up to 200)"));
}

/* Mean 2000, less a bias of 100 it is 1900. 1920 lies between, where no number of repeats tells; 1900 - 0.8 s and
 * 2000 + 0.8 s are a distance of 0.8 deviations from the nearer end, for which 15 settle it (see above). */
static void
repeats_that_would_settle_it_reckon_with_what_noise_has_raised (void **state)
{
  Fixture *fixture = *state;
  double s = 200 * sqrt (2.5 / 4);
  static const gsize n_needed[] = { 15, 0, 15 };
  const double stated[] = { 1900 - 0.8 * s, 1920, 2000 + 0.8 * s };
  fill (fixture, 0, SB_MEASURE_PEAK_TORQUE_SLOPE, 2000, 200);
  for (int i = 0; i < N_REPEATS; i++)
    fixture->measures[0][i].measure[SB_MEASURE_PEAK_TORQUE_SLOPE].bias = 100;
  for (gsize i = 0; i < G_N_ELEMENTS (stated); i++) {
    const SbClaimResult *result = check (fixture, SB_MEASURE_PEAK_TORQUE_SLOPE, SB_CLAIM_AT_LEAST, stated[i], 0, 1);
    assert_int_equal (result->verdict, SB_CLAIM_CANNOT_TELL);
    assert_int_equal (sb_claim_result_side (result, 0)->n_needed, n_needed[i]);
  }
}

static void
repeats_without_scatter_tell_nothing_but_of_counts (void **state)
{
  Fixture *fixture = *state;
  fill (fixture, 0, SB_MEASURE_PEAK_VELOCITY, 40, 1e-12);
  const SbClaimResult *result = check (fixture, SB_MEASURE_PEAK_VELOCITY, SB_CLAIM_AT_LEAST, 30, 0, 1);
  assert_int_equal (result->verdict, SB_CLAIM_CANNOT_TELL);
  assert_non_null (strstr (sb_claim_result_side (result, 0)->reason,
                           "without any scatter: cannot tell: the log's resolution hides by how much"));
  fill (fixture, 0, SB_MEASURE_PEAK_VELOCITY, 40, 1e-9);
  assert_int_equal (verdict (fixture, SB_MEASURE_PEAK_VELOCITY, SB_CLAIM_AT_LEAST, 30, 0), SB_CLAIM_REACHED);
  fill (fixture, 0, SB_MEASURE_RINGING_CYCLES, 3, 0);
  assert_int_equal (verdict (fixture, SB_MEASURE_RINGING_CYCLES, SB_CLAIM_AT_MOST, 4, 0), SB_CLAIM_REACHED);
}

/* What would tell is told: a larger range where the figure is cut off, other repeats where they are copies, else
 * digits. */
static void
repeats_without_scatter_say_what_would_tell (void **state)
{
  Fixture *fixture = *state;
  fill (fixture, 0, SB_MEASURE_PEAK_TORQUE, 9, 0);
  const SbClaimSide *side
      = sb_claim_result_side (check (fixture, SB_MEASURE_PEAK_TORQUE, SB_CLAIM_AT_LEAST, 10, 0, 1), 0);
  assert_non_null (strstr (side->reason, "cannot tell: the log's resolution hides by how much the repeats scatter; "
                                         "logged with more digits, or a finer input, they would tell"));
  for (int i = 0; i < N_REPEATS; i++) {
    fixture->facts[i].active_end_s = 0.5;
    strcpy (fixture->facts[i].sha256, "5f");
  }
  side = sb_claim_result_side (check (fixture, SB_MEASURE_PEAK_TORQUE, SB_CLAIM_AT_LEAST, 10, 0, 1), 0);
  assert_non_null (strstr (side->reason, "cannot tell: copies of one log do not show how far repeats lie apart"));
  assert_null (strstr (side->reason, "more digits"));
  g_autoptr (GPtrArray) doubts = g_ptr_array_new_with_free_func (sb_doubt_free);
  g_ptr_array_add (doubts, sb_doubt_new (SB_DOUBT_CUT_OFF, g_strdup ("cut off: made up")));
  for (int i = 1; i < N_REPEATS; i++)
    fixture->measures[0][i].measure[SB_MEASURE_PEAK_TORQUE].doubts = doubts;
  side = sb_claim_result_side (check (fixture, SB_MEASURE_PEAK_TORQUE, SB_CLAIM_AT_LEAST, 10, 0, 1), 0);
  assert_int_equal (side->n_cut_off, 4);
  assert_non_null (strstr (side->reason, "cannot tell: in 4 of 5 repeats the sensor looks to be at the end of its "
                                         "range; a sensor, or an input, with a larger one would tell"));
  assert_null (strstr (side->reason, "digits"));
}

/* 9.75 N·m in each repeat, in steps of 0.25 N·m: ± 0.95 · 0.125 = 0.11875 N·m. What lies beyond is told, what lies
 * within is not, and a settling time of 3 ± 10 ms is none below 0. */
static void
steps_of_the_log_are_in_the_interval (void **state)
{
  static const struct {
    double stated;
    SbClaimVerdict verdict;
  } cases[] = { { 9.6, SB_CLAIM_REACHED }, { 9.7, SB_CLAIM_CANNOT_TELL }, { 9.9, SB_CLAIM_NOT_REACHED } };
  Fixture *fixture = *state;
  for (int i = 0; i < N_REPEATS; i++)
    fixture->measures[0][i].measure[SB_MEASURE_PEAK_TORQUE].resolution = 0.25 / sqrt (12);
  fill (fixture, 0, SB_MEASURE_PEAK_TORQUE, 9.75, 0);
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++) {
    assert_int_equal (verdict (fixture, SB_MEASURE_PEAK_TORQUE, SB_CLAIM_AT_LEAST, cases[i].stated, 0),
                      cases[i].verdict);
    const SbClaimSide *side = sb_claim_result_side (fixture->result, 0);
    assert_close (side->interval[0], 9.75 - 0.11875, 1e-4);
    assert_close (side->interval[1], 9.75 + 0.11875, 1e-4);
  }
  fill (fixture, 0, SB_MEASURE_SETTLING_TIME, 0.003, 0.01);
  verdict (fixture, SB_MEASURE_SETTLING_TIME, SB_CLAIM_AT_MOST, 0.02, 0);
  assert_true (fabs (sb_claim_result_side (fixture->result, 0)->interval[0]) <= 0);
  assert_true (fabs (fixture->summary[0]->measure[SB_MEASURE_SETTLING_TIME].ci95[0]) <= 0);
}

/* 10,000 N·m that are 10,000 mN·m reach no 10.5 N·m, and miss no 20,000 N·m either. */
static void
figure_whose_unit_is_in_doubt_reaches_and_misses_nothing (void **state)
{
  Fixture *fixture = *state;
  for (int doubted = 0; doubted < 2; doubted++) {
    g_autoptr (GPtrArray) doubts = g_ptr_array_new_with_free_func (sb_doubt_free);
    g_ptr_array_add (doubts, sb_doubt_new (SB_DOUBT_UNIT, g_strdup ("unit in doubt: made up")));
    for (int i = 0; i < N_REPEATS; i++)
      fixture->measures[0][i].measure[SB_MEASURE_PEAK_TORQUE].doubts = doubted ? doubts : NULL;
    fill (fixture, 0, SB_MEASURE_PEAK_TORQUE, 1e4, 10);
    SbClaimVerdict reached = verdict (fixture, SB_MEASURE_PEAK_TORQUE, SB_CLAIM_AT_LEAST, 10.5, 0);
    assert_int_equal (reached, doubted ? SB_CLAIM_CANNOT_TELL : SB_CLAIM_REACHED);
    SbClaimVerdict missed = verdict (fixture, SB_MEASURE_PEAK_TORQUE, SB_CLAIM_AT_LEAST, 2e4, 0);
    assert_int_equal (missed, doubted ? SB_CLAIM_CANNOT_TELL : SB_CLAIM_NOT_REACHED);
    assert_int_equal (sb_claim_result_side (fixture->result, 0)->doubted, doubted);
  }
}

/* The checksum is that of the file's bytes: a copy under another name has it too, and so have other steps of the log,
 * which are repeats of their own. */
static void
copies_of_a_log_are_doubted (void **state)
{
  Fixture *fixture = *state;
  fill (fixture, 0, SB_MEASURE_PEAK_VELOCITY, 40, 2);
  for (int i = 0; i < N_REPEATS; i++) {
    fixture->facts[i].active_end_s = 0.5;
    fixture->facts[i].onset_s = i;
    strcpy (fixture->facts[i].sha256, "5f");
  }
  const SbClaimResult *result = check (fixture, SB_MEASURE_PEAK_VELOCITY, SB_CLAIM_AT_LEAST, 30, 0, 1);
  assert_false (sb_claim_result_side (result, 0)->doubted);
  fixture->facts[3].onset_s = fixture->facts[1].onset_s;
  result = check (fixture, SB_MEASURE_PEAK_VELOCITY, SB_CLAIM_AT_LEAST, 30, 0, 1);
  assert_true (sb_claim_result_side (result, 0)->doubted);
  assert_non_null (strstr (sb_claim_result_side (result, 0)->reason, "5 repeats, some of them copies of one log"));
}

/* Of the measure that is stated, not of another. */
static void
repeats_that_drift_are_doubted (void **state)
{
  Fixture *fixture = *state;
  fill (fixture, 0, SB_MEASURE_PEAK_VELOCITY, 40, 2);
  for (int own = 0; own < 2; own++) {
    fixture->input[0].drifting = 1u << (own ? SB_MEASURE_PEAK_VELOCITY : SB_MEASURE_DEAD_TIME);
    const SbClaimSide *side
        = sb_claim_result_side (check (fixture, SB_MEASURE_PEAK_VELOCITY, SB_CLAIM_AT_LEAST, 30, 0, 1), 0);
    assert_int_equal (side->verdict, SB_CLAIM_REACHED);
    assert_int_equal (side->doubted, own);
    assert_int_equal (strstr (side->reason, "5 repeats, which drift from the first to the last") != NULL, own);
  }
}

static void
one_configuration_is_enough_and_all_share_the_five_percent (void **state)
{
  Fixture *fixture = *state;
  fill (fixture, 0, SB_MEASURE_PEAK_VELOCITY, 30, 2);
  fill (fixture, 1, SB_MEASURE_PEAK_VELOCITY, 40, 2);
  const SbClaimResult *result = check (fixture, SB_MEASURE_PEAK_VELOCITY, SB_CLAIM_AT_LEAST, 35, 0, 2);
  assert_int_equal (result->verdict, SB_CLAIM_REACHED);
  assert_int_equal (result->decisive, 1);
  assert_int_equal (sb_claim_result_side (result, 0)->verdict, SB_CLAIM_NOT_REACHED);
  /* Student's 98.75 % point at 4 degrees of freedom is 3.495406 (tables of Bonferroni's t). */
  assert_close (sb_claim_result_side (result, 1)->interval[0], 40 - 3.495406 * 2 * sqrt (2.5 / 4) / sqrt (5), 1e-4);
  assert_non_null (strstr (sb_claim_result_side (result, 1)->reason, "(97.5 % interval ")); /* 1 − 0.05/2 */
  assert_non_null (strstr (sb_claim_result_side (result, 1)->reason, ", 5 % shared by 2 configurations, "));
  assert_int_equal (check (fixture, SB_MEASURE_PEAK_VELOCITY, SB_CLAIM_AT_LEAST, 50, 0, 2)->verdict,
                    SB_CLAIM_NOT_REACHED);
  assert_int_equal (check (fixture, SB_MEASURE_PEAK_VELOCITY, SB_CLAIM_AT_LEAST, 40, 0, 2)->verdict,
                    SB_CLAIM_CANNOT_TELL);
}

static void
assert_words (const SbClaimResult *result, const char *usual, const char *own)
{
  const char *usual_words[SB_N_CLAIM_VERDICTS], *own_words[SB_N_CLAIM_VERDICTS] = { "open", "met", "missed" };
  for (int v = 0; v < SB_N_CLAIM_VERDICTS; v++)
    usual_words[v] = sb_claim_verdict_words ((SbClaimVerdict) v);
  g_autofree char *in_usual = sb_claim_result_words (result, usual_words);
  g_autofree char *in_own = sb_claim_result_words (result, own_words);
  assert_string_equal (in_usual, usual);
  assert_string_equal (in_own, own);
}

/* Means 30 and 40, each ± 3.495 · 1.5811 / √5 = 2.47 (see above): 20, 35, 40 and 50 are within none or one of the
 * intervals, and beyond the others. */
static void
headline_of_several_hides_no_failure (void **state)
{
  Fixture *fixture = *state;
  fill (fixture, 0, SB_MEASURE_PEAK_VELOCITY, 30, 2);
  fill (fixture, 1, SB_MEASURE_PEAK_VELOCITY, 40, 2);
  const SbClaimResult *result = check (fixture, SB_MEASURE_PEAK_VELOCITY, SB_CLAIM_AT_LEAST, 40, 0, 2);
  assert_int_equal (result->verdict, SB_CLAIM_CANNOT_TELL);
  assert_words (result, "not reached by 1 of 2, cannot tell for 1", "missed: 1; open: 1");
  assert_words (check (fixture, SB_MEASURE_PEAK_VELOCITY, SB_CLAIM_AT_LEAST, 35, 0, 2), "reached by 1 of 2",
                "met (1 / 2)");
  assert_words (check (fixture, SB_MEASURE_PEAK_VELOCITY, SB_CLAIM_AT_LEAST, 20, 0, 2), "reached by all 2",
                "met (2 / 2)");
  assert_words (check (fixture, SB_MEASURE_PEAK_VELOCITY, SB_CLAIM_AT_LEAST, 50, 0, 2), "not reached by any of 2",
                "missed (0 / 2)");
  fill (fixture, 0, SB_MEASURE_PEAK_VELOCITY, 40, 2);
  assert_words (check (fixture, SB_MEASURE_PEAK_VELOCITY, SB_CLAIM_AT_LEAST, 40, 0, 2), "cannot tell", "open");
  assert_words (check (fixture, SB_MEASURE_PEAK_VELOCITY, SB_CLAIM_AT_LEAST, 50, 0, 1), "not reached", "missed");
}

static void
nothing_measured_cannot_be_told (void **state)
{
  Fixture *fixture = *state;
  assert_int_equal (check (fixture, SB_MEASURE_PEAK_VELOCITY, SB_CLAIM_AT_LEAST, 40, 0, 0)->verdict,
                    SB_CLAIM_CANNOT_TELL);
  assert_int_equal (fixture->result->decisive, -1);
  fill (fixture, 0, SB_MEASURE_PEAK_VELOCITY, 40, 2);
  assert_int_equal (verdict (fixture, SB_MEASURE_DEAD_TIME, SB_CLAIM_AT_LEAST, 40, 0), SB_CLAIM_CANNOT_TELL);
  assert_non_null (strstr (sb_claim_result_side (fixture->result, 0)->reason, "no such figure"));
}

static void
claim_is_worded_in_display_units (void **state)
{
  SbClaim claim = { -1, NULL, SB_MEASURE_DEAD_TIME, SB_CLAIM_ABOUT, 0.005, 0.0005 };
  g_autofree char *text = sb_claim_text (&claim, (SbUnits){ 0 });
  assert_string_equal (text, "Dead time about 5 ms ± 0.5 ms");
  SbClaim slope = { -1, NULL, SB_MEASURE_PEAK_TORQUE_SLOPE, SB_CLAIM_AT_LEAST, 2000, 0 };
  g_autofree char *per_ms = sb_claim_text (&slope, (SbUnits){ 0 });
  g_autofree char *per_s = sb_claim_text (&slope, (SbUnits){ .slope = SB_SLOPE_UNIT_PER_S });
  assert_string_equal (per_ms, "Peak torque slope at least 2 N·m/ms");
  assert_string_equal (per_s, "Peak torque slope at least 2000 N·m/s");
}

#define claim_test(name) cmocka_unit_test_setup_teardown (name, setup, teardown)

int
main (void)
{
  const struct CMUnitTest tests[] = {
    claim_test (interval_is_held_against_what_is_stated),
    claim_test (repeats_that_would_settle_it_are_counted),
    claim_test (hundreds_of_repeats_are_no_practical_number),
    claim_test (slope_that_the_log_cannot_show_is_no_failure),
    claim_test (what_still_rises_at_the_end_is_not_short_of_it),
    claim_test (time_from_the_onset_is_known_to_a_sample_interval),
    claim_test (time_from_a_jump_may_be_longer_by_a_sample_interval),
    claim_test (uncertainty_of_a_repeat_is_no_sample_interval),
    claim_test (figures_of_two_crests_have_no_mean_to_be_settled),
    claim_test (figures_of_one_crest_are_settled_with_a_doubt),
    claim_test (what_noise_has_raised_is_not_reached_by_it),
    claim_test (time_within_a_sample_interval_is_promised_no_repeats),
    claim_test (bias_is_a_doubt_where_it_turns_the_verdict),
    claim_test (repeats_that_would_settle_it_reckon_with_what_noise_has_raised),
    claim_test (repeats_without_scatter_tell_nothing_but_of_counts),
    claim_test (repeats_without_scatter_say_what_would_tell),
    claim_test (steps_of_the_log_are_in_the_interval),
    claim_test (figure_whose_unit_is_in_doubt_reaches_and_misses_nothing),
    claim_test (copies_of_a_log_are_doubted),
    claim_test (repeats_that_drift_are_doubted),
    claim_test (one_configuration_is_enough_and_all_share_the_five_percent),
    claim_test (headline_of_several_hides_no_failure),
    claim_test (nothing_measured_cannot_be_told),
    claim_test (claim_is_worded_in_display_units),
  };
  return cmocka_run_group_tests_name ("stated figures", tests, NULL, NULL);
}
