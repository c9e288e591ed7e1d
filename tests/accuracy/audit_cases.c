/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "audit_cases.h"

#include <gsl/gsl_errno.h>
#include <math.h>

#define SUBSTEPS        4
#define BEFORE_S        0.03
#define AFTER_S         0.22
#define RINGING_AFTER_S 0.5  /* a rig that rings is logged for longer */
#define LEAST_STEPS_HZ  8000 /* of the simulation */

/* A drive as it is at one level: torque that follows the step along a ramp, through two equal lags, and rings when the
 * ramp ends; a flywheel with viscous and Coulomb friction. */
typedef struct {
  double slope_nm_per_s, lag_s, dead_s, ring_nm, ring_hz, ring_damping;
  double step_nm, inertia, viscous, coulomb;
  double rig_hz, rig_damping; /* of the shaft to the sensor and the wheel; 0: it is stiff */
} Drive;

/* How a bench tests it. */
typedef struct {
  double rate_hz, torque_noise_nm, velocity_noise;
  double slope_sd, dead_sd, torque_sd, friction_sd; /* from repeat to repeat, shares */
} Bench;

static double
between (AuditCases *cases, double least, double most)
{
  return least + (most - least) * made_uniform (&cases->random);
}

static double
scattered (AuditCases *cases, double value, double share)
{
  return value * (1 + share * made_normal (&cases->random));
}

/* Answer of two equal lags to a unit ramp: x - 2 tau + (x + 2 tau) e^(-x / tau) (standard control texts). */
static double
lagged_ramp (double x, double lag_s)
{
  return x <= 0 ? 0 : x - 2 * lag_s + (x + 2 * lag_s) * exp (-x / lag_s);
}

static double
torque_at (const Drive *drive, double t)
{
  double x = t - drive->dead_s, ramp_s = drive->step_nm / drive->slope_nm_per_s;
  double torque = drive->slope_nm_per_s * (lagged_ramp (x, drive->lag_s) - lagged_ramp (x - ramp_s, drive->lag_s));
  double since = x - ramp_s - 3 * drive->lag_s, rate = 2 * G_PI * drive->ring_hz;
  if (since <= 0 || drive->ring_nm <= 0)
    return torque;
  double decay = drive->ring_damping * rate / sqrt (1 - drive->ring_damping * drive->ring_damping);
  return torque + drive->ring_nm * exp (-decay * since) * sin (rate * since);
}

/* A resonance, exact over steps of constant input (standard vibration texts). */
typedef struct {
  gboolean stiff;
  double of_d[2], of_v[2], x, v;
} Rig;

static Rig
rig_new (const Drive *drive, double dt)
{
  if (drive->rig_hz <= 0)
    return (Rig){ .stiff = TRUE };
  double wd = 2 * G_PI * drive->rig_hz, wn = wd / sqrt (1 - drive->rig_damping * drive->rig_damping);
  double decay = drive->rig_damping * wn, e = exp (-decay * dt), c = cos (wd * dt), s = sin (wd * dt);
  return (Rig){ .of_d = { e * (c + decay / wd * s), e * s / wd },
                .of_v = { -e * wn * wn / wd * s, e * (c - decay / wd * s) } };
}

/* The torque behind it in the middle of the step. */
static double
rig_turn (Rig *rig, double torque)
{
  if (rig->stiff)
    return torque;
  double d = rig->x - torque, before = rig->x;
  rig->x = torque + rig->of_d[0] * d + rig->of_d[1] * rig->v;
  rig->v = rig->of_v[0] * d + rig->of_v[1] * rig->v;
  return (before + rig->x) / 2;
}

/* One repeat, measured. Of the drive's own figures each is a little another, and the step falls anywhere between two
 * samples. */
static SbMeasures *
measure_repeat (AuditCases *cases, SbTrial *trial, const Drive *nominal, const Bench *bench)
{
  Drive drive = *nominal;
  drive.slope_nm_per_s = scattered (cases, drive.slope_nm_per_s, bench->slope_sd);
  drive.dead_s = scattered (cases, drive.dead_s, bench->dead_sd);
  drive.step_nm = scattered (cases, drive.step_nm, bench->torque_sd);
  drive.coulomb = scattered (cases, drive.coulomb, bench->friction_sd);
  double shift_s = made_uniform (&cases->random) / bench->rate_hz, velocity = 0, at_s = -BEFORE_S;
  double *const *channel = trial->log->channel;
  const double *t = channel[SB_CHANNEL_TIME];
  double dt = 1 / bench->rate_hz / fmax (SUBSTEPS, ceil (LEAST_STEPS_HZ / bench->rate_hz));
  Rig rig = rig_new (&drive, dt);
  for (gsize i = 0; i < trial->log->n_rows; i++) {
    for (; at_s < t[i] - dt / 2; at_s += dt) {
      double torque = rig_turn (&rig, torque_at (&drive, at_s + dt / 2 + shift_s));
      double net = torque - drive.viscous * velocity - drive.coulomb;
      velocity = velocity <= 0 && net < 0 ? 0 : velocity + net / drive.inertia * dt;
    }
    channel[SB_CHANNEL_TORQUE][i] = (rig.stiff ? torque_at (&drive, t[i] + shift_s) : rig.x)
                                    + bench->torque_noise_nm * made_normal (&cases->random);
    channel[SB_CHANNEL_VELOCITY][i] = velocity + bench->velocity_noise * made_normal (&cases->random);
  }
  return sb_measures_new (trial, NULL);
}

static Drive
draw_drive (AuditCases *cases)
{
  return (Drive){ .slope_nm_per_s = between (cases, 600, 2000),
                  .lag_s = between (cases, 0.0001, 0.00025),
                  .dead_s = between (cases, 0.002, 0.006),
                  .ring_nm = made_uniform (&cases->random) < 0.5 ? 0 : between (cases, 0.2, 0.8),
                  .ring_hz = between (cases, 25, 60),
                  .ring_damping = between (cases, 0.05, 0.15),
                  .step_nm = between (cases, 8, 16),
                  .inertia = between (cases, 0.03, 0.06),
                  .viscous = between (cases, 0.15, 0.30),
                  .coulomb = between (cases, 0.3, 0.8) };
}

static Bench
draw_bench (AuditCases *cases, const Drive *drive)
{
  static const double rates_hz[] = { 2000, 4000, 8000 };
  static const double coarse_hz[] = { 500, 1000, 1000 };
  gsize rate = MIN ((gsize) between (cases, 0, 3), 2);
  gboolean rough = cases->bench == AUDIT_BENCH_ROUGH || cases->bench == AUDIT_BENCH_RINGING_ROUGH;
  double more = rough ? 2 : 1;
  return (Bench){ .rate_hz = cases->bench == AUDIT_BENCH_RINGING_COARSE ? coarse_hz[rate] : rates_hz[rate],
                  .torque_noise_nm = more * between (cases, 0.001, 0.01) * drive->step_nm,
                  .velocity_noise = between (cases, 0.01, 0.1),
                  .slope_sd = rough ? between (cases, 0.015, 0.03) : between (cases, 0.003, 0.015),
                  .dead_sd = more * between (cases, 0.01, 0.05),
                  .torque_sd = more * between (cases, 0.002, 0.01),
                  .friction_sd = more * between (cases, 0.01, 0.1) };
}

/* Levels of a setting in a unit of its own: three to five, each 1.3 to 1.9 times the one below. */
static gsize
draw_levels (AuditCases *cases, double levels[AUDIT_MOST_LEVELS])
{
  gsize n = 3 + MIN ((gsize) between (cases, 0, 3), 2);
  levels[0] = between (cases, 1, 10);
  for (gsize i = 1; i < n; i++)
    levels[i] = levels[i - 1] * between (cases, 1.3, 1.9);
  return n;
}

/* One of the ways to shape: the share 0 to 1 is that of the level in the range of levels. */
static void
shape_response (Drive *drive, int way, double share, double strength)
{
  if (way == 0)
    drive->dead_s += strength * 0.008 * (1 - share); /* up to 4 to 8 ms */
  else if (way == 1)
    drive->lag_s += strength * 0.8 * drive->step_nm / drive->slope_nm_per_s
                    * share; /* two lags, longer together than the ramp */
  else
    drive->ring_nm = strength * drive->step_nm * (0.03 + 0.12 * share);
}

/* Fills the drives at the levels; the index of the first level above the ceiling, or -1. */
static int
draw_case (AuditCases *cases, AuditTruth truth, const double *levels, gsize n, Drive *drives)
{
  Drive base = draw_drive (cases);
  double strength = between (cases, 0.5, 1), lowest = between (cases, 150, 300), ceiling = INFINITY;
  int way = MIN ((int) between (cases, 0, 3), 2), first_above = -1;
  if (truth == AUDIT_TRUTH_HIDDEN_CEILING) {
    first_above = 2 + MIN ((int) between (cases, 0, (double) n - 2), (int) n - 3);
    double below = levels[first_above - 1], above = levels[first_above];
    ceiling = lowest / levels[0] * (below + (above - below) * between (cases, 0, 0.5));
  }
  for (gsize i = 0; i < n; i++) {
    drives[i] = base;
    if (truth == AUDIT_TRUTH_LIMITER || truth == AUDIT_TRUTH_HIDDEN_CEILING)
      drives[i].slope_nm_per_s = fmin (lowest * levels[i] / levels[0], ceiling);
    else if (truth == AUDIT_TRUTH_SHAPER)
      shape_response (&drives[i], way, (levels[i] - levels[0]) / (levels[n - 1] - levels[0]), strength);
  }
  return first_above;
}

gboolean
audit_bench_rings (AuditBench bench)
{
  return bench >= AUDIT_BENCH_RINGING;
}

/* One rig for all levels. */
static void
set_rig (AuditCases *cases, Drive *drives, gsize n)
{
  if (!audit_bench_rings (cases->bench))
    return;
  double hz = between (cases, 20, 120), damping = between (cases, 0.05, 0.3);
  for (gsize i = 0; i < n; i++) {
    drives[i].rig_hz = hz;
    drives[i].rig_damping = damping;
  }
}

static AuditSaid
said_of (const SbAudit *audit, int first_above)
{
  switch (audit->verdict) {
  case SB_AUDIT_LIMITS:
    if (audit->ceiling < 0)
      return first_above >= 0 && audit->shown_to >= 0 ? AUDIT_SAID_OPEN : AUDIT_SAID_LIMITS;
    return first_above < 0 || audit->ceiling == first_above ? AUDIT_SAID_CEILING : AUDIT_SAID_WRONG_CEILING;
  case SB_AUDIT_SHAPES:
    return AUDIT_SAID_SHAPES;
  case SB_AUDIT_NO_EFFECT:
    return AUDIT_SAID_NONE;
  case SB_AUDIT_CANNOT_TELL:
  case SB_N_AUDIT_VERDICTS:
    break;
  }
  return AUDIT_SAID_CANNOT_TELL;
}

/* The trials of one level, measured: all levels share a log, whose columns each repeat writes anew. */
typedef struct {
  SbMeasures *measures[AUDIT_REPEATS];
  SbTrialFacts *facts[AUDIT_REPEATS];
} Level;

static void
test_level (AuditCases *cases, SbTrial *trial, const Drive *drive, const Bench *bench, Level *level)
{
  for (gsize k = 0; k < AUDIT_REPEATS; k++) {
    level->measures[k] = measure_repeat (cases, trial, drive, bench);
    level->facts[k] = sb_trial_facts_new (trial);
  }
}

static SbTrial *
make_log (AuditCases *cases, double rate_hz, double step_nm)
{
  double after_s = audit_bench_rings (cases->bench) ? RINGING_AFTER_S : AFTER_S;
  gsize before = (gsize) lround (BEFORE_S * rate_hz), n = before + (gsize) lround (after_s * rate_hz) + 1;
  MadeLog log = make_step_log (cases->made, n, before, 1 / rate_hz, step_nm);
  log.torque = make_column (cases->made, n);
  log.velocity = make_column (cases->made, n);
  return make_trial (cases->made, &log, NULL);
}

static void
tell (const SbAudit *audit, AuditTruth truth, const Drive *drive)
{
  g_print ("%s: %s (rig %.0f Hz, %.2f)\n", audit_truth_words (truth), sb_audit_verdict_words (audit->verdict, FALSE),
           drive->rig_hz, drive->rig_damping);
  for (guint i = 0; i < audit->reasons->len; i++)
    g_print ("    %s\n", (const char *) g_ptr_array_index (audit->reasons, i));
}

AuditSaid
audit_cases_draw (AuditCases *cases, AuditTruth truth)
{
  double levels[AUDIT_MOST_LEVELS];
  SbMargin margins[SB_N_MEASURES];
  Drive drives[AUDIT_MOST_LEVELS];
  Level tested[AUDIT_MOST_LEVELS];
  SbAuditInput input[AUDIT_MOST_LEVELS];
  char texts[AUDIT_MOST_LEVELS][G_ASCII_DTOSTR_BUF_SIZE];
  for (int m = 0; m < SB_N_MEASURES; m++)
    margins[m] = (SbMargin){ .ratio = 0.05, .absolute = NAN }; /* as a bench has it */
  gsize n = draw_levels (cases, levels);
  int first_above = draw_case (cases, truth, levels, n, drives);
  Bench bench = draw_bench (cases, &drives[0]);
  set_rig (cases, drives, n);
  SbTrial *trial = make_log (cases, bench.rate_hz, drives[0].step_nm);
  for (gsize i = 0; i < n; i++) {
    test_level (cases, trial, &drives[i], &bench, &tested[i]);
    g_ascii_formatd (texts[i], sizeof texts[i], "%.3g", levels[i]);
    input[i] = (SbAuditInput){ .text = texts[i],
                               .value = levels[i],
                               .unit = "",
                               .measures = tested[i].measures,
                               .facts = tested[i].facts,
                               .n = AUDIT_REPEATS };
  }
  SbAuditChoices choices = sb_audit_choices_default ();
  SbAudit *audit = sb_audit_new ("setting", FALSE, input, n, margins, &choices, (SbUnits){ 0 }, NULL);
  AuditSaid said = said_of (audit, first_above);
  if (cases->verbose && said != audit_right (truth))
    tell (audit, truth, &drives[0]);
  sb_audit_unref (audit);
  for (gsize i = 0; i < n; i++)
    for (gsize k = 0; k < AUDIT_REPEATS; k++) {
      sb_measures_unref (tested[i].measures[k]);
      sb_trial_facts_unref (tested[i].facts[k]);
    }
  made_trials_free (cases->made);
  cases->made = made_trials_new ();
  return said;
}

void
audit_cases_init (AuditCases *cases, guint64 seed)
{
  gsl_set_error_handler_off (); /* as the program does */
  *cases = (AuditCases){ .made = made_trials_new (), .random = { seed } };
  for (int i = 0; i < 16; i++) /* seeds of few bits need some turns */
    made_uniform (&cases->random);
}

void
audit_cases_clear (AuditCases *cases)
{
  g_clear_pointer (&cases->made, made_trials_free);
}

AuditSaid
audit_right (AuditTruth truth)
{
  static const AuditSaid right[AUDIT_N_TRUTHS] = {
    [AUDIT_TRUTH_LIMITER] = AUDIT_SAID_LIMITS,
    [AUDIT_TRUTH_HIDDEN_CEILING] = AUDIT_SAID_CEILING,
    [AUDIT_TRUTH_SHAPER] = AUDIT_SAID_SHAPES,
    [AUDIT_TRUTH_NONE] = AUDIT_SAID_NONE,
  };
  return right[truth];
}

const char *
audit_truth_words (AuditTruth truth)
{
  static const char *const words[AUDIT_N_TRUTHS] = {
    [AUDIT_TRUTH_LIMITER] = "limits the slope",
    [AUDIT_TRUTH_HIDDEN_CEILING] = "limits the slope, below a hidden ceiling",
    [AUDIT_TRUTH_SHAPER] = "shapes the response",
    [AUDIT_TRUTH_NONE] = "has no effect",
  };
  return words[truth];
}

const char *
audit_bench_words (AuditBench bench)
{
  static const char *const words[AUDIT_N_BENCHES] = {
    [AUDIT_BENCH_USUAL] = "A stiff rig, 2000 to 8000 samples per second, repeats whose slope scatters by 0.3 to 1.5 %, "
                          "noise of 0.1 to 1 % of the step",
    [AUDIT_BENCH_ROUGH] = "The same where repeats scatter twice as much or more (the slope by 1.5 to 3 %) in twice the "
                          "noise",
    [AUDIT_BENCH_RINGING] = "A rig that rings at 20 to 120 Hz with a damping ratio of 0.05 to 0.3, scatter and noise "
                            "as in the first",
    [AUDIT_BENCH_RINGING_COARSE] = "The same rigs at 500 or 1000 samples per second",
    [AUDIT_BENCH_RINGING_ROUGH] = "The same rigs with the scatter and noise of the second, 2000 to 8000 samples per "
                                  "second",
  };
  return words[bench];
}
