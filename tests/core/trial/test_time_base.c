/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "time_base.h"
#include "trial_fixture.h"

#include <glib/gstdio.h>
#include <locale.h>

/* What a test holds. */
typedef struct {
  double *t;
  SbTimeBase base;
} BaseFixture;

static int
base_setup (void **state)
{
  *state = g_new0 (BaseFixture, 1);
  return 0;
}

static int
base_teardown (void **state)
{
  BaseFixture *fixture = *state;
  g_clear_pointer (&fixture->base.gaps, g_array_unref);
  g_free (fixture->t);
  g_free (fixture);
  return 0;
}

static const SbTimeBase *
base_of (BaseFixture *fixture, gsize n)
{
  g_clear_pointer (&fixture->base.gaps, g_array_unref);
  fixture->base = sb_time_base (fixture->t, n);
  return &fixture->base;
}

/* n times from start + i * interval, both in whole units of the last decimal place, as a log writes them. */
static void
fill_decimal (BaseFixture *fixture, gsize n, gint64 start, gint64 interval, gint64 units_per_s)
{
  g_free (fixture->t);
  fixture->t = g_new (double, n);
  for (gsize i = 0; i < n; i++)
    fixture->t[i] = (double) (start + (gint64) i * interval) / (double) units_per_s;
}

/* The same double: an interval that is only near would make equal rates compare unequal. */
static void
assert_same (double actual, double expected)
{
  assert_close (actual, expected, 0);
}

/* Intervals that rise linearly by `change` of the first: t[i] = i + change * i^2 / (2 m), in ms. */
static void
fill_drifting (BaseFixture *fixture, gsize n, double change)
{
  g_free (fixture->t);
  fixture->t = g_new (double, n);
  for (gsize i = 0; i < n; i++) {
    double x = (double) i;
    fixture->t[i] = 0.001 * (x + change * x * x / (2.0 * (double) (n - 1)));
  }
}

/* By algebra: the interval rises from 1 to 1.02 ms, so that it drifts by 0.02 of the median, 1.01 ms. */
static void
interval_that_rises_over_the_log_is_a_drift (void **state)
{
  fill_drifting (*state, 3001, 0.02);
  assert_close (base_of (*state, 3001)->drift, 0.02 / 1.01, 1e-4);
  fill_drifting (*state, 3001, -0.02);
  assert_close (base_of (*state, 3001)->drift, -0.02 / 0.99, 1e-4);
}

/* 300 samples a second written in whole ms: intervals of 3 and 4 ms in turn are no drift, nor is noise, nor a hole. */
static void
rounded_noisy_and_broken_times_do_not_drift (void **state)
{
  BaseFixture *fixture = *state;
  g_autoptr (GRand) random = g_rand_new_with_seed (5);
  fill_decimal (fixture, 1000, 0, 1, 1000);
  for (gsize i = 0; i < 1000; i++)
    fixture->t[i] = floor ((double) i / 0.3) / 1000.0;
  assert_close (base_of (fixture, 1000)->drift, 0, 0);
  for (gsize i = 0; i < 1000; i++)
    fixture->t[i] = 0.001 * ((double) i + g_rand_double_range (random, 0, 0.5));
  assert_close (base_of (fixture, 1000)->drift, 0, 0);
  for (gsize i = 0; i < 1000; i++)
    fixture->t[i] = 0.001 * (double) (i < 700 ? i : i < 800 ? 2 * i - 700 : i + 100);
  assert_close (base_of (fixture, 1000)->drift, 0, 0);
}

static void
even_decimal_times_have_exactly_the_decimal_interval (void **state)
{
  static const struct {
    gint64 interval, units_per_s;
  } rates[] = { { 4, 10000 }, { 1, 1000 },   { 1, 10000 },     { 5, 10000 }, { 25, 100000 },
                { 2, 1000 },  { 1, 100000 }, { 125, 1000000 }, { 1, 100 } };
  static const gint64 starts_s[] = { 0, 1, 17, 999, 1000 };
  for (gsize r = 0; r < G_N_ELEMENTS (rates); r++)
    for (gsize s = 0; s < G_N_ELEMENTS (starts_s); s++) {
      fill_decimal (*state, 2500, starts_s[s] * rates[r].units_per_s, rates[r].interval, rates[r].units_per_s);
      const SbTimeBase *base = base_of (*state, 2500);
      assert_same (base->sample_interval_s, (double) rates[r].interval / (double) rates[r].units_per_s);
      assert_same (base->jitter_s, 0);
      assert_int_equal (base->gaps->len, 0);
    }
}

static void
even_base_with_a_gap_keeps_the_decimal_interval (void **state)
{
  BaseFixture *fixture = *state;
  fill_decimal (fixture, 1000, 1000 * 10000, 4, 10000);
  for (gsize i = 500; i < 1000; i++)
    fixture->t[i] = (double) (1000 * 10000 + (gint64) i * 4 + 40) / 10000; /* ten samples are missing */
  const SbTimeBase *base = base_of (fixture, 1000);
  assert_same (base->sample_interval_s, 0.0004);
  assert_same (base->jitter_s, 0);
  assert_int_equal (base->gaps->len, 1);
  SbGap gap = g_array_index (base->gaps, SbGap, 0);
  assert_same (gap.start_s, fixture->t[499]);
  assert_same (gap.end_s, fixture->t[500]);
}

static void
hole_of_three_intervals_is_no_gap (void **state)
{
  /* "Longer than three": in quarters of a second, which are exact in binary. */
  BaseFixture *fixture = *state;
  fill_decimal (fixture, 40, 0, 1, 4);
  for (gsize i = 20; i < 40; i++)
    fixture->t[i] += 0.5; /* one hole of exactly three intervals */
  assert_int_equal (base_of (fixture, 40)->gaps->len, 0);
  for (gsize i = 20; i < 40; i++)
    fixture->t[i] += 0.125;
  assert_int_equal (base_of (fixture, 40)->gaps->len, 1);
}

static void
jitter_of_a_known_pattern (void **state)
{
  /* Differences 3, 4, 5 in sixteenths, over and over: median 4; deviations 1, 0, 1: MAD 1; 1.4826 * 1/16. */
  BaseFixture *fixture = *state;
  fixture->t = g_new0 (double, 301);
  for (int i = 1; i <= 300; i++)
    fixture->t[i] = fixture->t[i - 1] + (3 + i % 3) / 16.0;
  const SbTimeBase *base = base_of (fixture, 301);
  assert_close (base->sample_interval_s, 0.25, 1e-12);
  assert_close (base->jitter_s, 1.4826 / 16, 1e-12);
}

static void
jitter_of_an_even_number_of_differences_takes_the_middle_two (void **state)
{
  /* Differences 7 and 9 in sixteenths by turns: median (7 + 9) / 2 = 8; every deviation is 1. */
  BaseFixture *fixture = *state;
  fixture->t = g_new0 (double, 101);
  for (int i = 1; i <= 100; i++)
    fixture->t[i] = fixture->t[i - 1] + (i % 2 == 0 ? 7 : 9) / 16.0;
  const SbTimeBase *base = base_of (fixture, 101);
  assert_close (base->sample_interval_s, 0.5, 1e-12);
  assert_close (base->jitter_s, 1.4826 / 16, 1e-12);
}

static int
compare_doubles (const void *a, const void *b)
{
  double x = *(const double *) a, y = *(const double *) b;
  return (x > y) - (x < y);
}

static double
sorted_median (double *x, gsize n)
{
  qsort (x, n, sizeof *x, compare_doubles);
  return n % 2 == 1 ? x[n / 2] : (x[n / 2 - 1] + x[n / 2]) / 2;
}

static void
jitter_of_random_times_equals_a_sorting_twin (void **state)
{
  BaseFixture *fixture = *state;
  double differences[500];
  for (guint64 run = 0; run < 60; run++) {
    guint64 seed = run + 3;
    gsize n = 2 + (gsize) run * 8;
    g_free (fixture->t);
    fixture->t = g_new0 (double, n);
    for (gsize i = 1; i < n; i++) {
      /* From all different to many alike. */
      double noise = run % 3 == 0 ? next_noise (&seed) : floor (4 * next_noise (&seed)) / 8;
      fixture->t[i] = fixture->t[i - 1] + 1e-3 * (1 + 0.7 * noise);
    }
    for (gsize i = 1; i < n; i++)
      differences[i - 1] = fixture->t[i] - fixture->t[i - 1];
    double median = sorted_median (differences, n - 1);
    for (gsize i = 1; i < n; i++)
      differences[i - 1] = fabs (fixture->t[i] - fixture->t[i - 1] - median);
    double jitter = 1.4826 * sorted_median (differences, n - 1);
    const SbTimeBase *base = base_of (fixture, n);
    assert_close_relative (base->sample_interval_s, median, 1e-9);
    assert_close (base->jitter_s, jitter, 1e-12);
  }
}

static void
two_samples_have_their_difference (void **state)
{
  fill_decimal (*state, 2, 5, 2, 10);
  const SbTimeBase *base = base_of (*state, 2);
  assert_same (base->sample_interval_s, 0.2);
  assert_int_equal (base->gaps->len, 0);
}

#define base_test(name) cmocka_unit_test_setup_teardown (name, base_setup, base_teardown)

/* A locale that writes numbers with a comma, compiled into `folder` from the sources that come with the C library.
 * FALSE where these are not installed. */
static gboolean
use_comma_locale (const char *folder)
{
  g_autofree char *target = g_build_filename (folder, "de_DE.UTF-8", NULL);
  const char *argv[] = { "localedef", "--no-archive", "-i", "de_DE", "-f", "UTF-8", target, NULL };
  g_spawn_sync (NULL, (char **) (gsize) argv, NULL,
                G_SPAWN_SEARCH_PATH | G_SPAWN_STDOUT_TO_DEV_NULL | G_SPAWN_STDERR_TO_DEV_NULL, NULL, NULL, NULL, NULL,
                NULL, NULL);
  g_setenv ("LOCPATH", folder, TRUE);
  return setlocale (LC_NUMERIC, "de_DE.UTF-8") != NULL && strcmp (localeconv ()->decimal_point, ",") == 0;
}

/* Windows run in the locale of the desktop. */
static void
interval_does_not_depend_on_the_locales_decimal_sign (void **state)
{
  BaseFixture *fixture = *state;
  g_autofree char *folder = g_dir_make_tmp ("locale-test-XXXXXX", NULL);
  gboolean comma = use_comma_locale (folder);
  fill_decimal (fixture, 1000, 0, 5, 10000);
  double interval_s = base_of (fixture, 1000)->sample_interval_s;
  setlocale (LC_NUMERIC, "C");
  const char *argv[] = { "rm", "-rf", folder, NULL };
  g_spawn_sync (NULL, (char **) (gsize) argv, NULL, G_SPAWN_SEARCH_PATH, NULL, NULL, NULL, NULL, NULL, NULL);
  assert_close (interval_s, 0.0005, 0);
  if (!comma) /* not skip (), which leaves the fixture behind */
    print_message ("No locale with decimal commas could be compiled: install the package 'locales'.\n");
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    base_test (interval_that_rises_over_the_log_is_a_drift),
    base_test (rounded_noisy_and_broken_times_do_not_drift),
    base_test (even_decimal_times_have_exactly_the_decimal_interval),
    base_test (even_base_with_a_gap_keeps_the_decimal_interval),
    base_test (hole_of_three_intervals_is_no_gap),
    base_test (jitter_of_a_known_pattern),
    base_test (jitter_of_an_even_number_of_differences_takes_the_middle_two),
    base_test (jitter_of_random_times_equals_a_sorting_twin),
    base_test (two_samples_have_their_difference),
    base_test (interval_does_not_depend_on_the_locales_decimal_sign),
  };
  return cmocka_run_group_tests (tests, NULL, NULL);
}
