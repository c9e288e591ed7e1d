/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The moving band against a slow twin that looks at every window afresh. */
#include "close.h"
#include "moving_band.h"

#define N 800

typedef struct {
  double t[N], y[N], mean[N], sd[N];
} Samples;

static int
setup (void **state)
{
  *state = g_new0 (Samples, 1);
  return 0;
}

static int
teardown (void **state)
{
  g_free (*state);
  return 0;
}

/* Every sample of the window, twice over. */
static void
slow_twin (const Samples *s, gsize i, double window_s, double *mean, double *sd)
{
  double half = window_s / 2 * (1 + 1e-9), sum = 0, squares = 0;
  int m = 0;
  for (gsize j = 0; j < N; j++) {
    if (fabs (s->t[j] - s->t[i]) <= half) {
      sum += s->y[j];
      m++;
    }
  }
  *mean = sum / m;
  for (gsize j = 0; j < N; j++)
    if (fabs (s->t[j] - s->t[i]) <= half)
      squares += (s->y[j] - *mean) * (s->y[j] - *mean);
  *sd = m > 1 ? sqrt (squares / (m - 1)) : 0;
}

static void
assert_like_twin (Samples *s, double window_s, double tolerance)
{
  sb_moving_band (s->t, s->y, N, window_s, s->mean, s->sd);
  for (gsize i = 0; i < N; i++) {
    double mean, sd;
    slow_twin (s, i, window_s, &mean, &sd);
    assert_close (s->mean[i], mean, tolerance * (1 + fabs (mean)));
    assert_close (s->sd[i], sd, tolerance * (1 + sd));
  }
}

static void
fill_uneven (Samples *s)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (181);
  double t = -3;
  for (gsize i = 0; i < N; i++) {
    t += g_rand_double_range (rand, 1e-4, i % 97 == 0 ? 0.2 : 2e-3); /* with holes */
    s->t[i] = t;
    s->y[i] = sin (20 * t) + g_rand_double_range (rand, -0.1, 0.1);
  }
}

static void
moving_band_equals_slow_twin_on_uneven_times (void **state)
{
  Samples *s = *state;
  static const double windows_s[] = { 0, 1e-3, 0.01, 0.05, 0.3, 100 };
  fill_uneven (s);
  for (gsize i = 0; i < G_N_ELEMENTS (windows_s); i++)
    assert_like_twin (s, windows_s[i], 1e-12);
}

static void
moving_band_equals_slow_twin_on_even_times (void **state)
{
  Samples *s = *state;
  for (gsize i = 0; i < N; i++) {
    s->t[i] = (double) i / 2000;
    s->y[i] = (double) ((i * 7919) % 101);
  }
  /* 0.05 s is 50 samples on either side at 2 kHz: the window's edges fall on samples. */
  assert_like_twin (s, 0.05, 1e-12);
}

/* Values of ±1 in turn after a stretch near 10^12: once the window has left the stretch, nothing of it may linger. The
 * window of five holds -1 or 1 three times and the other twice: mean ±1/5, variance (5 - 5/25) / 4 = 1.2. */
static void
moving_band_forgets_a_huge_stretch_wholly (void **state)
{
  Samples *s = *state;
  for (gsize i = 0; i < N; i++) {
    s->t[i] = (double) i;
    s->y[i] = i < N / 2 ? 1e12 + (double) i : (i % 2 == 0 ? 1 : -1);
  }
  sb_moving_band (s->t, s->y, N, 4, s->mean, s->sd);
  for (gsize i = N / 2 + 2; i < N - 2; i++) {
    assert_close (s->mean[i], i % 2 == 0 ? 0.2 : -0.2, 1e-15);
    assert_close (s->sd[i], sqrt (1.2), 1e-15);
  }
}

static void
moving_band_of_one_sample_is_the_sample (void **state)
{
  double t = 5, y = -2, mean = 0, sd = 1;
  sb_moving_band (&t, &y, 1, 0.05, &mean, &sd);
  assert_close (mean, -2, 0);
  assert_close (sd, 0, 0);
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    cmocka_unit_test_setup_teardown (moving_band_equals_slow_twin_on_uneven_times, setup, teardown),
    cmocka_unit_test_setup_teardown (moving_band_equals_slow_twin_on_even_times, setup, teardown),
    cmocka_unit_test_setup_teardown (moving_band_forgets_a_huge_stretch_wholly, setup, teardown),
    cmocka_unit_test (moving_band_of_one_sample_is_the_sample),
  };
  return cmocka_run_group_tests_name ("moving_band", tests, NULL, NULL);
}
