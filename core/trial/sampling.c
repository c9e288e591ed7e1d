/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sampling.h"

#include "channel.h"
#include "number_text.h"

#include <math.h>
#include <string.h>

/* Rows at the time of the one before: from this share of those that are left on the clock is too coarse. */
#define MANY_REPEATED (1.0 / 9)
/* Runs of equal values that show how long a value is held; more are not looked at. */
#define FEWEST_RUNS 12
#define MOST_RUNS   4096
/* One run in so many may be shorter than the others, by chance or at a row left out. */
#define ODD_RUN_IN 20
/* A run of two refreshes, between which the value did not change, is longer than this many. */
#define ONE_REFRESH 1.5

static guint64
n_repeated_times (const SbLog *log)
{
  guint64 n = 0;
  for (guint i = 0; i < log->fault_groups->len; i++) {
    const SbFaultGroup *group = g_ptr_array_index (log->fault_groups, i);
    n += group->kind == SB_FAULT_TIME_REPEATED ? group->n : 0;
  }
  return n;
}

/* What is left of the rows at one time was taken anywhere in the clock's step. */
static void
find_stamps (SbTrial *trial)
{
  const SbLog *log = trial->log;
  guint64 n = n_repeated_times (log);
  trial->stamp_sd_s = trial->jitter_s / sqrt (2); /* two times are in a difference */
  if ((double) n < MANY_REPEATED * (double) log->n_rows)
    return;
  trial->stamp_sd_s = fmax (trial->stamp_sd_s, trial->sample_interval_s / sqrt (12)); /* GUM 4.3.7 */
  if (n > log->n_rows)                                                                /* the log says so */
    return;
  g_autofree char *rate
      = sb_number_plain (rint ((double) (log->n_rows + n) / (double) log->n_rows / trial->sample_interval_s));
  sb_notes_take (trial->notes, SB_NOTE_TIMES,
                 g_strdup_printf ("many rows say the same time as the one before and are left out (%" G_GUINT64_FORMAT
                                  " of %" G_GUINT64_FORMAT
                                  "): the times are too coarse for them, and those that are left are not "
                                  "those of the samples. Export the log with more decimals, or read it "
                                  "without its times, by the sample rate (about %s Hz)",
                                  n, (guint64) log->n_rows + n, rate));
}

static int
by_size (gconstpointer a, gconstpointer b)
{
  gsize x = *(const gsize *) a, y = *(const gsize *) b;
  return (x > y) - (x < y);
}

/* Lengths of the runs between two changes of value; empty as soon as too many of them are of one row. */
static GArray *
find_runs (const double *y, gsize n, double *smallest, gsize *n_steps)
{
  GArray *runs = g_array_new (FALSE, FALSE, sizeof (gsize));
  g_autoptr (GArray) steps = g_array_new (FALSE, FALSE, sizeof (double));
  gsize last = 0, n_single = 0;
  *smallest = INFINITY;
  for (gsize i = 1; i < n && runs->len < MOST_RUNS; i++) {
    double step = fabs (y[i] - y[i - 1]);
    if (!(step > 0))
      continue;
    gsize run = i - last;
    n_single += run == 1 ? 1 : 0;
    if (n_single > 1 + runs->len / ODD_RUN_IN)
      break;
    if (last > 0)
      g_array_append_val (runs, run);
    g_array_append_val (steps, step);
    *smallest = fmin (*smallest, step);
    last = i;
  }
  if (n_single > 1 + runs->len / ODD_RUN_IN)
    g_array_set_size (runs, 0);
  *n_steps = 0;
  for (guint i = 0; i < steps->len; i++)
    *n_steps += g_array_index (steps, double, i) > 1.5 * *smallest ? 1 : 0;
  return runs;
}

double
sb_refresh_rows (const double *y, gsize n)
{
  double smallest, sum = 0;
  gsize n_unlike, n_near = 0;
  g_autoptr (GArray) runs = find_runs (y, n, &smallest, &n_unlike);
  if (runs->len < FEWEST_RUNS || 2 * n_unlike < runs->len)
    return 0;
  g_array_sort (runs, by_size);
  gsize least = g_array_index (runs, gsize, 1 + runs->len / ODD_RUN_IN);
  if (least < 2)
    return 0;
  for (guint i = 0; i < runs->len; i++) {
    gsize run = g_array_index (runs, gsize, i);
    if (run >= least && (double) run <= ONE_REFRESH * (double) least) {
      sum += (double) run;
      n_near++;
    }
  }
  return 2 * n_near >= runs->len ? sum / (double) n_near : 0;
}

/* What is derived of a signal is refreshed as that is. */
static double
refresh_of_source (const SbTrial *trial, int c)
{
  if (c == SB_CHANNEL_VELOCITY)
    return trial->refresh_s[SB_CHANNEL_ANGLE];
  return c == SB_CHANNEL_TORQUE ? trial->refresh_s[SB_CHANNEL_VELOCITY] : 0;
}

void
sb_sampling_find (SbTrial *trial)
{
  static const SbChannel channels[] = { SB_CHANNEL_ANGLE, SB_CHANNEL_VELOCITY, SB_CHANNEL_TORQUE };
  find_stamps (trial);
  for (gsize i = 0; i < G_N_ELEMENTS (channels); i++) {
    SbChannel c = channels[i];
    if (trial->signal[c] == NULL)
      continue;
    if (trial->owned[c] != NULL) {
      trial->refresh_s[c] = refresh_of_source (trial, (int) c);
      continue;
    }
    double rows = sb_refresh_rows (trial->signal[c], trial->n_samples);
    if (!(rows > 0))
      continue;
    trial->refresh_s[c] = rows * trial->sample_interval_s;
    sb_notes_take (trial->notes, SB_NOTE_HELD,
                   sb_plain_sentence (g_strdup_printf (
                       "the %s is refreshed only every %.3g rows (%.4g ms, %.4g Hz) and said again in between: "
                       "its slopes and times are known to that, whatever the rate of the log",
                       sb_channel_key (c), rows, 1e3 * trial->refresh_s[c], 1 / trial->refresh_s[c])));
  }
}
