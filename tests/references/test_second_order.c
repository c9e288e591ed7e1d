/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The torque step of a second-order system against its closed forms, for twenty damping ratios:
 * data/second_order_grid.csv, made by root finding on y (t) = 1 - exp (-zeta t) (cos wd t + zeta / wd sin wd t) with 12
 * digits, for wn = 1.
 *
 * As in any log, the top level is found by histogram. IEEE Std 181 leaves half a bin to it, and some figures turn on
 * that: a ringing whose crests fade slowly leaves a band of 2 % a whole half-period earlier or later. So the test takes
 * three steps: a slow twin agrees with the table at the true level; the level is right to half a bin; and at that level
 * every figure agrees with the twin, up to what straight lines between samples leave. */
#include "measure.h"
#include "table.h"

#define WN_RAD_PER_S 100.0
#define STEP_NM      10.0
#define ONSET_S      0.25
#define INTERVAL_S   0.0001

enum { ZETA, WD, MP, TP, TR0100, TR1090, T50, TS2, TS5, DELTA, UNDERSHOOT };

typedef struct {
  GPtrArray *grid;
  SbTrial *trial;
  SbMeasures *measures;
} Responses;

static int
setup (void **state)
{
  *state = g_new0 (Responses, 1);
  return 0;
}

static int
teardown (void **state)
{
  Responses *responses = *state;
  g_clear_pointer (&responses->grid, g_ptr_array_unref);
  g_clear_pointer (&responses->trial, sb_trial_unref);
  g_clear_pointer (&responses->measures, sb_measures_unref);
  g_free (responses);
  return 0;
}

static double
response (double zeta, double t)
{
  double wd = sqrt (1 - zeta * zeta);
  return t <= 0 ? 0 : 1 - exp (-zeta * t) * (cos (wd * t) + zeta / wd * sin (wd * t));
}

typedef double (*Condition) (double zeta, double t, double level, double limit);

static double
above (double zeta, double t, double level, double limit)
{
  return response (zeta, t) - limit * level;
}

static double
outside (double zeta, double t, double level, double limit)
{
  return fabs (response (zeta, t) - level) - limit * level;
}

/* Where the condition changes sign first, going by `step` from `t`. */
static double
sign_change (Condition condition, double zeta, double t, double step, double level, double limit)
{
  gboolean before = condition (zeta, t, level, limit) > 0;
  while ((condition (zeta, t + step, level, limit) > 0) == before)
    t += step;
  for (int i = 0; i < 60; i++) {
    step /= 2;
    if ((condition (zeta, t + step, level, limit) > 0) == before)
      t += step;
  }
  return t;
}

/* The ringing is then a millionth of the step, and there are samples enough for 256 bins. */
static double
duration (double zeta)
{
  return fmax (log (1e6) / zeta, 50);
}

static double
twin_rise (double zeta, double level)
{
  return sign_change (above, zeta, 0, 1e-3, level, 0.9) - sign_change (above, zeta, 0, 1e-3, level, 0.1);
}

static double
twin_settling (double zeta, double level)
{
  return sign_change (outside, zeta, duration (zeta), -1e-3, level, 0.02);
}

static void
measure_response (Responses *responses, guint row)
{
  double zeta = table_number (responses->grid, row, ZETA);
  int n_before = (int) lround (ONSET_S / INTERVAL_S);
  int n = n_before + (int) (duration (zeta) / WN_RAD_PER_S / INTERVAL_S);
  g_autoptr (GString) text = g_string_new ("time_s,command_Nm,torque_Nm\n");
  for (int i = 0; i < n; i++) {
    char torque[G_ASCII_DTOSTR_BUF_SIZE];
    double tau_s = (i - n_before) * INTERVAL_S;
    g_ascii_dtostr (torque, sizeof torque, STEP_NM * response (zeta, tau_s * WN_RAD_PER_S));
    g_string_append_printf (text, "%d.%04d,%d,%s\n", i / 10000, i % 10000, i < n_before ? 0 : (int) STEP_NM, torque);
  }
  g_autoptr (SbLog) log = sb_log_read_memory ("second order.csv", text->str, text->len, 0, NULL);
  g_clear_pointer (&responses->trial, sb_trial_unref);
  g_clear_pointer (&responses->measures, sb_measures_unref);
  responses->trial = sb_trial_new (log, NULL, NULL);
  assert_non_null (responses->trial);
  responses->measures = sb_measures_new (responses->trial, NULL);
}

static double
value_of (Responses *responses, SbMeasureId id)
{
  const SbMeasure *measure = &responses->measures->measure[id];
  if (!measure->present)
    print_error ("absent: %s\n", measure->absent_reason);
  assert_true (measure->present);
  return measure->value;
}

static void
the_slow_twin_agrees_with_the_table (void **state)
{
  Responses *responses = *state;
  responses->grid = table_read ("second_order_grid.csv");
  assert_int_equal (responses->grid->len, 20);
  for (guint row = 0; row < responses->grid->len; row++) {
    double zeta = table_number (responses->grid, row, ZETA);
    assert_close_relative (twin_rise (zeta, 1), table_number (responses->grid, row, TR1090), 1e-11);
    assert_close_relative (twin_settling (zeta, 1), table_number (responses->grid, row, TS2), 1e-9);
  }
}

/* Samples are 0.01 / wn apart: a chord misses a curve by h² y'' / 8, some 10^-5 of the step. */
#define CHORD 1e-4

static void
step_response_figures_agree_with_closed_forms (void **state)
{
  Responses *responses = *state;
  responses->grid = table_read ("second_order_grid.csv");
  for (guint row = 0; row < responses->grid->len; row++) {
    const double zeta = table_number (responses->grid, row, ZETA), mp = table_number (responses->grid, row, MP);
    const double dip = table_number (responses->grid, row, UNDERSHOOT);
    const double half_bin = (0.5 + mp) / 256 / 2; /* from the middle of the rise to the crest, in 256 bins */
    print_message ("           zeta %g\n", zeta);
    measure_response (responses, row);
    double level = responses->measures->transition.top_nm / STEP_NM;
    assert_close (level, 1, half_bin);
    assert_close (responses->measures->transition.base_nm, 0, 1e-12);

    double rise = twin_rise (zeta, level), over = (1 + mp) / level - 1, under = fmax (0, 1 - (1 - dip) / level);
    assert_close (value_of (responses, SB_MEASURE_OVERSHOOT), fmax (0, over), CHORD);
    assert_close (value_of (responses, SB_MEASURE_OVERSHOOT), mp, 2 * half_bin);
    assert_close (value_of (responses, SB_MEASURE_UNDERSHOOT), over > 0 ? under : 0, CHORD);
    assert_close (value_of (responses, SB_MEASURE_TORQUE_TRANSITION_TIME) * WN_RAD_PER_S, rise, CHORD);
    assert_close_relative (value_of (responses, SB_MEASURE_MEAN_TORQUE_SLOPE),
                           0.8 * level * STEP_NM * WN_RAD_PER_S / rise, CHORD);
    assert_close (value_of (responses, SB_MEASURE_SETTLING_TIME) * WN_RAD_PER_S, twin_settling (zeta, level),
                  10 * CHORD);
  }
}

/* A free decay is what is fitted, so clean samples leave little but the level's half bin. Above zeta 0.3 less than a
 * seventh of a crest is left after a period: hardly a ringing. */
static void
ringing_figures_agree_with_closed_forms (void **state)
{
  Responses *responses = *state;
  responses->grid = table_read ("second_order_grid.csv");
  for (guint row = 0; table_number (responses->grid, row, ZETA) < 0.31; row++) {
    const double zeta = table_number (responses->grid, row, ZETA), wd = table_number (responses->grid, row, WD);
    print_message ("           zeta %g\n", zeta);
    measure_response (responses, row);
    assert_close_relative (value_of (responses, SB_MEASURE_RINGING_FREQUENCY), wd * WN_RAD_PER_S / (2 * G_PI), 2e-3);
    assert_close_relative (value_of (responses, SB_MEASURE_RINGING_DAMPING), zeta, 0.02);
  }
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    cmocka_unit_test_setup_teardown (the_slow_twin_agrees_with_the_table, setup, teardown),
    cmocka_unit_test_setup_teardown (step_response_figures_agree_with_closed_forms, setup, teardown),
    cmocka_unit_test_setup_teardown (ringing_figures_agree_with_closed_forms, setup, teardown),
  };
  return cmocka_run_group_tests_name ("second-order closed forms", tests, NULL, NULL);
}
