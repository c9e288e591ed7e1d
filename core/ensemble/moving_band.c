/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "moving_band.h"

#include <math.h>

#define TIME_SLACK_RATIO 1e-9

typedef struct {
  double n, mean, m2; /* m2: sum of squared distances from the mean */
} Moments;

static Moments
merge (Moments a, Moments b)
{
  double n = a.n + b.n, distance = b.mean - a.mean, share = b.n / n;
  return (Moments){ n, a.mean + distance * share, a.m2 + b.m2 + distance * distance * a.n * share };
}

static Moments
of_one (double y)
{
  return (Moments){ 1, y, 0 };
}

/* A queue of samples as two halves that meet at `split`: `older` holds, for each sample from the split back, the
 * moments of it and all up to the split; `newer` is one running sum of those after it. When the older half is used up,
 * the newer one is turned into it. Each sample is so merged three times at most. */
typedef struct {
  const double *y;
  GArray *older; /* Moments; [split - 1 - i] for sample i */
  gsize split, end;
  Moments newer;
} Window;

static void
take_in (Window *w)
{
  Moments one = of_one (w->y[w->end++]);
  w->newer = w->newer.n > 0 ? merge (w->newer, one) : one;
}

static void
turn_over (Window *w, gsize begin)
{
  g_array_set_size (w->older, 0);
  for (gsize i = w->end; i-- > begin;) {
    Moments all = of_one (w->y[i]);
    if (w->older->len > 0)
      all = merge (all, g_array_index (w->older, Moments, w->older->len - 1));
    g_array_append_val (w->older, all);
  }
  w->split = w->end;
  w->newer = (Moments){ 0 };
}

static Moments
moments_from (Window *w, gsize begin)
{
  if (begin >= w->split)
    turn_over (w, begin);
  Moments old = g_array_index (w->older, Moments, w->split - 1 - begin);
  return w->newer.n > 0 ? merge (old, w->newer) : old;
}

void
sb_moving_band (const double *time_s, const double *y, gsize n, double window_s, double *mean, double *sd)
{
  double half = window_s / 2 * (1 + TIME_SLACK_RATIO);
  g_autoptr (GArray) older = g_array_new (FALSE, FALSE, sizeof (Moments));
  Window window = { .y = y, .older = older };
  for (gsize i = 0, begin = 0; i < n; i++) {
    while (window.end < n && (window.end <= i || time_s[window.end] - time_s[i] <= half))
      take_in (&window);
    while (begin < i && time_s[i] - time_s[begin] > half)
      begin++;
    Moments m = moments_from (&window, begin);
    mean[i] = m.mean;
    sd[i] = m.n > 1 ? sqrt (m.m2 / (m.n - 1)) : 0;
  }
}
