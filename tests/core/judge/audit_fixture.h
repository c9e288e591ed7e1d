/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Trials made of figures, without logs: what is judged is the judgement. Repeats scatter by fixed shares that add up to
 * nothing, so means are the figures put in. */
#pragma once

#include "audit.h"
#include "close.h"

#include <string.h>

#define N_REPEATS   5
#define MOST_LEVELS 6

/* The figures of one level. */
typedef struct {
  const char *text;
  double value; /* NAN: a word */
  const char *unit;
  double slope;        /* N·m/s, from 10 to 90 % of `step` */
  double straightness; /* steepest over mean slope; the first and the last quarter are as far from 1, either way */
  double dead_s, velocity, step;
} Figures;

typedef struct {
  SbMeasures measures[MOST_LEVELS][N_REPEATS];
  SbTrialFacts facts[MOST_LEVELS][N_REPEATS];
  SbMeasures *measure_list[MOST_LEVELS][N_REPEATS];
  SbTrialFacts *facts_list[MOST_LEVELS][N_REPEATS];
  SbAuditInput input[MOST_LEVELS];
  GPtrArray *settings;
  SbUnits units;
  SbAudit *audit;
} AuditFixture;

static inline int
audit_fixture_setup (void **state)
{
  AuditFixture *fixture = g_new0 (AuditFixture, 1);
  fixture->settings = g_ptr_array_new ();
  *state = fixture;
  return 0;
}

static inline int
audit_fixture_teardown (void **state)
{
  AuditFixture *fixture = *state;
  sb_audit_unref (fixture->audit);
  g_ptr_array_unref (fixture->settings);
  g_free (fixture);
  return 0;
}

#define audit_test(name) cmocka_unit_test_setup_teardown (name, audit_fixture_setup, audit_fixture_teardown)

static inline void
put (SbMeasures *measures, SbMeasureId id, double value)
{
  measures->measure[id].present = TRUE;
  measures->measure[id].value = value;
}

static inline void
make_repeat (AuditFixture *fixture, gsize level, gsize repeat, const Figures *figures, double scatter)
{
  static const double shares[N_REPEATS] = { -1, 0.5, 1, -0.5, 0 };
  SbMeasures *measures = &fixture->measures[level][repeat];
  double share = 1 + scatter * shares[repeat], slope = figures->slope * share;
  put (measures, SB_MEASURE_MEAN_TORQUE_SLOPE, slope);
  put (measures, SB_MEASURE_PEAK_TORQUE_SLOPE, slope * figures->straightness);
  put (measures, SB_MEASURE_TORQUE_TRANSITION_TIME, 0.8 * figures->step / slope);
  put (measures, SB_MEASURE_DEAD_TIME, figures->dead_s * share);
  put (measures, SB_MEASURE_MEAN_VELOCITY, figures->velocity * share);
  put (measures, SB_MEASURE_PEAK_TORQUE, figures->step * share);
  measures->measure[SB_MEASURE_PEAK_TORQUE_SLOPE].window_s[1] = 0.001;
  measures->transition = (SbTransition){ .has_torque_step = TRUE,
                                         .top_nm = figures->step,
                                         .t10_s = figures->dead_s,
                                         .quarter_nm_per_s = { slope * figures->straightness, slope, slope,
                                                               slope * (2 - figures->straightness) },
                                         .t90_s = figures->dead_s + 0.8 * figures->step / slope };
  fixture->facts[level][repeat] = (SbTrialFacts){ .settings = fixture->settings,
                                                  .sample_interval_s = 0.0002,
                                                  .rotation_deg = 900,
                                                  .inertia_kg_m2 = 0.05,
                                                  .command_top_nm = 12,
                                                  .active_end_s = 0.3 };
  fixture->measure_list[level][repeat] = measures;
  fixture->facts_list[level][repeat] = &fixture->facts[level][repeat];
}

static inline const SbAudit *
audit_with (AuditFixture *fixture, const char *setting, gboolean of_range, gsize n_levels, double margin_ratio)
{
  SbMargin margins[SB_N_MEASURES];
  for (int m = 0; m < SB_N_MEASURES; m++)
    margins[m] = (SbMargin){ .ratio = margin_ratio, .absolute = NAN };
  sb_audit_unref (fixture->audit);
  SbAuditChoices choices = sb_audit_choices_default ();
  fixture->audit = sb_audit_new (setting, of_range, fixture->input, n_levels, margins, &choices, fixture->units, NULL);
  return fixture->audit;
}

/* Of the levels as they are made. */
static inline const SbAudit *
audit_made (AuditFixture *fixture, const char *setting, gboolean of_range, gsize n_levels)
{
  return audit_with (fixture, setting, of_range, n_levels, 0.05);
}

/* `scatter` is the share that the farthest repeats are off. */
static inline const SbAudit *
audit_figures (AuditFixture *fixture, const char *setting, gboolean of_range, const Figures *figures, gsize n_levels,
               double scatter)
{
  for (gsize i = 0; i < n_levels; i++) {
    for (gsize k = 0; k < N_REPEATS; k++)
      make_repeat (fixture, i, k, &figures[i], scatter);
    fixture->input[i] = (SbAuditInput){ .text = figures[i].text,
                                        .value = figures[i].value,
                                        .unit = figures[i].unit,
                                        .measures = fixture->measure_list[i],
                                        .facts = fixture->facts_list[i],
                                        .n = N_REPEATS };
  }
  return audit_made (fixture, setting, of_range, n_levels);
}

/* Some reason says so. */
static inline void
assert_reason (const SbAudit *audit, const char *words)
{
  for (guint i = 0; i < audit->reasons->len; i++)
    if (strstr (g_ptr_array_index (audit->reasons, i), words) != NULL)
      return;
  for (guint i = 0; i < audit->reasons->len; i++)
    print_error ("%s\n", (const char *) g_ptr_array_index (audit->reasons, i));
  fail_msg ("no reason says '%s'", words);
}
