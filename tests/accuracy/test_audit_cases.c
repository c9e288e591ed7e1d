/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Of drives whose setting works in a known way the audit is right in 95 of 100 cases, and where it is not it rather
 * cannot tell than says what is wrong. The goals are the project's own; the long run is in docs/methods.md. */
#include "audit_cases.h"
#include "draws.h"

/* Of each kind: few, so that the test is short. */
#define N_DRIVES DRAWS (12)

typedef struct {
  gsize n_right, n_wrong;
} Score;

static Score
score_of (AuditCases *cases, AuditTruth truth)
{
  Score score = { 0 };
  for (int i = 0; i < N_DRIVES; i++) {
    AuditSaid said = audit_cases_draw (cases, truth);
    score.n_right += said == audit_right (truth) ? 1 : 0;
    score.n_wrong += said != audit_right (truth) && said != AUDIT_SAID_CANNOT_TELL && said != AUDIT_SAID_OPEN ? 1 : 0;
  }
  print_message ("           %s: %zu of %d right, %zu wrong\n", audit_truth_words (truth), score.n_right, N_DRIVES,
                 score.n_wrong);
  return score;
}

static int
cases_setup (void **state)
{
  AuditCases *cases = g_new0 (AuditCases, 1);
  audit_cases_init (cases, 7);
  *state = cases;
  return 0;
}

static int
cases_teardown (void **state)
{
  audit_cases_clear (*state);
  g_free (*state);
  return 0;
}

static void
audit_is_right_of_usual_drives (void **state)
{
  for (int truth = 0; truth < AUDIT_N_TRUTHS; truth++) {
    Score score = score_of (*state, (AuditTruth) truth);
    assert_true ((double) score.n_right + 1 >= 0.95 * N_DRIVES); /* one more than the mean may be by chance */
    assert_true (score.n_wrong <= 1);
  }
}

static void
audit_of_rough_drives_rather_cannot_tell_than_is_wrong (void **state)
{
  ((AuditCases *) *state)->bench = AUDIT_BENCH_ROUGH;
  for (int truth = 0; truth < AUDIT_N_TRUTHS; truth++)
    assert_true (score_of (*state, (AuditTruth) truth).n_wrong <= 1);
}

/* Waves of the rig in the rise are no rounding, and what the rig makes of steep ramps is no ceiling. */
static void
audit_on_a_rig_that_rings_tells_limits (void **state)
{
  ((AuditCases *) *state)->bench = AUDIT_BENCH_RINGING;
  for (int truth = 0; truth < AUDIT_N_TRUTHS; truth++) {
    Score score = score_of (*state, (AuditTruth) truth);
    gboolean limits = truth == AUDIT_TRUTH_LIMITER || truth == AUDIT_TRUTH_HIDDEN_CEILING;
    assert_true (!limits || (double) score.n_right + 1 >= 0.95 * N_DRIVES);
    assert_true (score.n_wrong <= 1);
  }
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    cmocka_unit_test_setup_teardown (audit_is_right_of_usual_drives, cases_setup, cases_teardown),
    cmocka_unit_test_setup_teardown (audit_on_a_rig_that_rings_tells_limits, cases_setup, cases_teardown),
    cmocka_unit_test_setup_teardown (audit_of_rough_drives_rather_cannot_tell_than_is_wrong, cases_setup,
                                     cases_teardown),
  };
  return cmocka_run_group_tests_name ("audits of simulated drives", tests, NULL, NULL);
}
