/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Writes logs of step tests for the benchmark, fast and the same each time: make_logs FOLDER N_LOGS N_ROWS.
 *
 * Five columns, about 40 bytes a row. The step comes at three tenths of the log; the torque rises in 8 ms and rings at
 * 38 Hz, the velocity saturates. Numbers are written in fixed point by hand: printf would take most of a minute for the
 * largest set. */
#include <errno.h>
#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

#define STEP_NM        12.0
#define RISE_S         0.008
#define DELAY_S        0.003
#define RING_NM        0.9
#define RING_RAD_S     (2 * 3.14159265358979323846 * 38.0)
#define RING_DECAY     14.4 /* 1/s: a damping ratio of 0.06 */
#define TOP_RAD_S      45.0
#define VELOCITY_TAU_S 0.22
#define ROW_ROOM       128

typedef struct {
  double interval_s, step_s, level_nm, top_rad_s;
  uint64_t chance;
} Log;

/* Uniform in -1..1: splitmix64 (public domain, Vigna). */
static double
scatter (uint64_t *state)
{
  uint64_t z = *state += UINT64_C (0x9e3779b97f4a7c15);
  z = (z ^ (z >> 30)) * UINT64_C (0xbf58476d1ce4e5b9);
  z = (z ^ (z >> 27)) * UINT64_C (0x94d049bb133111eb);
  z ^= z >> 31;
  return (double) (int64_t) z * 0x1p-63;
}

static double
torque_at (const Log *log, double after)
{
  double rising = after - DELAY_S;
  if (rising <= 0)
    return 0;
  if (rising < RISE_S)
    return log->level_nm * rising / RISE_S;
  double since = rising - RISE_S;
  double ring = since < 2 ? RING_NM * exp (-RING_DECAY * since) * sin (RING_RAD_S * since) : 0;
  return log->level_nm + ring;
}

static double
velocity_at (const Log *log, double after, double *angle_rad)
{
  double moving = after - DELAY_S - RISE_S / 2;
  *angle_rad = -4.7;
  if (moving <= 0)
    return 0;
  double reached = 1 - exp (-moving / VELOCITY_TAU_S);
  *angle_rad += log->top_rad_s * (moving - VELOCITY_TAU_S * reached);
  return log->top_rad_s * reached;
}

/* `value` with `decimals` digits after the point, then `end`. */
static char *
put (char *to, double value, int decimals, char end)
{
  int64_t scale = 1;
  for (int i = 0; i < decimals; i++)
    scale *= 10;
  int64_t whole = llrint (value * (double) scale);
  char digits[24];
  int n = 0;
  if (whole < 0)
    *to++ = '-';
  whole = whole < 0 ? -whole : whole;
  for (; n <= decimals || whole > 0; n++) {
    digits[n] = (char) ('0' + whole % 10);
    whole /= 10;
  }
  while (n > 0) {
    *to++ = digits[--n];
    if (n == decimals && n > 0)
      *to++ = '.';
  }
  *to++ = end;
  return to;
}

static char *
put_row (char *to, Log *log, double t)
{
  double after = t - log->step_s, angle;
  double velocity = velocity_at (log, after, &angle) + 0.03 * scatter (&log->chance);
  double torque = torque_at (log, after) + 0.002 * scatter (&log->chance);
  to = put (to, t, 5, ',');
  to = put (to, after >= 0 ? STEP_NM : 0, 3, ',');
  to = put (to, angle, 4, ',');
  to = put (to, velocity, 4, ',');
  return put (to, torque, 4, '\n');
}

static int
write_log (const char *path, Log log, long n_rows)
{
  FILE *file = fopen (path, "wb");
  if (file == NULL)
    return 0;
  fputs ("# device: bench generator\n# rotation_deg: 900\n"
         "time_s,command_Nm,angle_rad,velocity_rad_s,torque_Nm\n",
         file);
  static char block[1 << 20];
  char *end = block;
  for (long i = 0; i < n_rows; i++) {
    end = put_row (end, &log, (double) i * log.interval_s);
    if (end - block > (long) sizeof block - ROW_ROOM || i + 1 == n_rows) {
      fwrite (block, 1, (size_t) (end - block), file);
      end = block;
    }
  }
  int good = !ferror (file);
  return fclose (file) == 0 && good;
}

/* The log `number`, its step and levels a little off those of the others. */
static Log
make_log (long number, long n_rows)
{
  Log log = { .interval_s = n_rows >= 1000000 ? 1e-5 : (n_rows >= 100000 ? 1e-4 : 5e-4), .chance = (uint64_t) number };
  log.step_s = log.interval_s * (double) n_rows * (0.3 + 0.005 * scatter (&log.chance));
  log.level_nm = STEP_NM * (1 + 0.02 * scatter (&log.chance));
  log.top_rad_s = TOP_RAD_S * (1 + 0.03 * scatter (&log.chance));
  return log;
}

int
main (int argc, char **argv)
{
  long n_logs = argc == 4 ? strtol (argv[2], NULL, 10) : 0, n_rows = argc == 4 ? strtol (argv[3], NULL, 10) : 0;
  if (n_logs < 1 || n_rows < 100) {
    fprintf (stderr, "usage: make_logs FOLDER N_LOGS N_ROWS (at least 100 rows)\n");
    return EXIT_FAILURE;
  }
  int good = mkdir (argv[1], 0777) == 0 || errno == EEXIST;
  for (long number = 1; good && number <= n_logs; number++) {
    char path[4096];
    snprintf (path, sizeof path, "%s/run-%02ld.csv", argv[1], number);
    good = write_log (path, make_log (number, n_rows), n_rows);
  }
  if (!good)
    fprintf (stderr, "make_logs: %s: %s\n", argv[1], strerror (errno));
  return good ? EXIT_SUCCESS : EXIT_FAILURE;
}
