/* SPDX-License-Identifier: GPL-3.0-or-later */
/* 95 % intervals of means and of differences hold the truth in 94 to 96 of 100 draws. Of 10,000 draws the share is
 * known to √(0.95 * 0.05 / 10,000) = 0.22 %. */
#include "comparison.h"
#include "make_trial.h"
#include "measure.h"
#include "statistics.h"

#define N_DRAWS 10000

static void
draw (MadeNoise *noise, double *values, gsize n, double mean, double sd)
{
  for (gsize i = 0; i < n; i++)
    values[i] = mean + sd * made_normal (noise);
}

static void
assert_covers (gsize n_inside, const char *what)
{
  print_message ("           %s: %.2f %%\n", what, 100.0 * (double) n_inside / N_DRAWS);
  assert_in_range (n_inside, N_DRAWS * 94 / 100, N_DRAWS * 96 / 100);
}

/* By way of the summary of a configuration, n trials of a normal measure each. */
static void
intervals_of_means_cover_the_truth (void **state)
{
  static const gsize sizes[] = { 2, 5, 10 };
  MadeNoise noise = { 31 };
  for (gsize k = 0; k < G_N_ELEMENTS (sizes); k++) {
    SbMeasures trials[10] = { 0 }, *list[10];
    gsize n_inside = 0;
    for (gsize d = 0; d < N_DRAWS; d++) {
      for (gsize i = 0; i < sizes[k]; i++) {
        trials[i].measure[SB_MEASURE_PEAK_TORQUE].present = TRUE;
        trials[i].measure[SB_MEASURE_PEAK_TORQUE].value = 12 + 0.3 * made_normal (&noise);
        list[i] = &trials[i];
      }
      g_autoptr (SbSummary) summary = sb_summary_new (list, sizes[k], NULL);
      const double *ci95 = summary->measure[SB_MEASURE_PEAK_TORQUE].ci95;
      n_inside += ci95[0] <= 12 && ci95[1] >= 12 ? 1 : 0;
    }
    g_autofree char *what = g_strdup_printf ("mean of %zu", sizes[k]);
    assert_covers (n_inside, what);
  }
}

/* Unequal numbers and unequal spreads: what Welch's method is for. */
static void
intervals_of_differences_cover_the_truth (void **state)
{
  static const struct {
    gsize n_first, n_second;
    double sd_first, sd_second;
  } cases[] = { { 10, 10, 1, 1 }, { 10, 10, 1, 4 }, { 5, 20, 1, 1 }, { 8, 5, 2, 1 } };
  MadeNoise noise = { 37 };
  for (gsize k = 0; k < G_N_ELEMENTS (cases); k++) {
    gsize n_inside = 0, a = cases[k].n_first, b = cases[k].n_second;
    for (gsize d = 0; d < N_DRAWS; d++) {
      double first[20], second[20];
      SbWelch welch;
      draw (&noise, first, a, 5, cases[k].sd_first);
      draw (&noise, second, b, 7, cases[k].sd_second);
      assert_true (
          sb_welch (sb_mean (first, a), sb_sd (first, a), a, sb_mean (second, b), sb_sd (second, b), b, &welch));
      n_inside += welch.ci95[0] <= 2 && welch.ci95[1] >= 2 ? 1 : 0;
    }
    g_autofree char *what
        = g_strdup_printf ("difference of %zu and %zu, spreads %g and %g", a, b, cases[k].sd_first, cases[k].sd_second);
    assert_covers (n_inside, what);
  }
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    cmocka_unit_test (intervals_of_means_cover_the_truth),
    cmocka_unit_test (intervals_of_differences_cover_the_truth),
  };
  return cmocka_run_group_tests_name ("coverage of intervals", tests, NULL, NULL);
}
