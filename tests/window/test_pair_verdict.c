/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The head of the card of a compared pair. What each sign stands for is said in judgement_card.h. */
#include "close.h"
#include "pair_verdict.h"
#include "verdict_words.h"

#include <string.h>

typedef struct {
  SbBench *bench;
  SbComparison comparison;
} Fixture;

static char one_repeat[] = "needs two trials on either side; there are 1 and 3";
static char one_figure[] = "it is one figure for each configuration";

static int
setup (void **state)
{
  Fixture *fixture = g_new0 (Fixture, 1);
  fixture->bench = sb_bench_new ();
  *state = fixture;
  return 0;
}

static int
teardown (void **state)
{
  Fixture *fixture = *state;
  sb_bench_unref (fixture->bench);
  g_free (fixture);
  return 0;
}

static void
set_verdicts (Fixture *fixture, int n_differ, int n_equal, int n_open)
{
  for (int m = 0; m < SB_N_MEASURES; m++) {
    SbMeasureComparison *measure = &fixture->comparison.measure[m];
    *measure = (SbMeasureComparison){ .present = m < n_differ + n_equal + n_open };
    measure->verdict = m < n_differ             ? SB_VERDICT_DIFFERS
                       : m < n_differ + n_equal ? SB_VERDICT_PRACTICALLY_EQUAL
                                                : SB_VERDICT_UNDECIDED;
    measure->absent_reason = measure->present ? NULL : m == SB_MEASURE_VELOCITY_DEVIATION ? one_figure : one_repeat;
  }
}

static void
every_comparison_has_the_sign_of_its_verdict (void **state)
{
  static const struct {
    int n_differ, n_equal, n_open;
    SbJudgementMark mark;
    const char *words;
  } cases[] = {
    { 0, 0, 0, SB_MARK_OPEN, "not compared" },
    { 0, 10, 3, SB_MARK_OPEN, "0 measures differ, 10 are practically equal, 3 undecided" },
    { 0, 0, 3, SB_MARK_OPEN, "0 measures differ, 0 are practically equal, 3 undecided" },
    { 0, 1, 0, SB_MARK_EQUAL, "0 measures differ, 1 is practically equal, 0 undecided" },
    { 1, 2, 3, SB_MARK_DIFFER, "1 measure differs, 2 are practically equal, 3 undecided" },
  };
  Fixture *fixture = *state;
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++) {
    set_verdicts (fixture, cases[i].n_differ, cases[i].n_equal, cases[i].n_open);
    g_autofree char *words = sb_pair_verdict_words (fixture->bench, &fixture->comparison);
    assert_int_equal (sb_pair_mark (&fixture->comparison), cases[i].mark);
    assert_string_equal (words, cases[i].words);
  }
}

static void
own_words_do_not_make_a_comparison (void **state)
{
  Fixture *fixture = *state;
  assert_true (sb_bench_set_word (fixture->bench, "differs", "apart", NULL));
  set_verdicts (fixture, 0, 0, 0);
  g_autofree char *none = sb_pair_verdict_words (fixture->bench, &fixture->comparison);
  assert_string_equal (none, "not compared");
  set_verdicts (fixture, 2, 1, 0);
  g_autofree char *some = sb_pair_verdict_words (fixture->bench, &fixture->comparison);
  assert_string_equal (some, "apart: 2 measures; practically equal: 1; undecided: 0");
}

static void
why_nothing_is_compared_is_told_once_for_each_reason (void **state)
{
  Fixture *fixture = *state;
  set_verdicts (fixture, 0, 0, 0);
  g_autoptr (GPtrArray) why = sb_pair_why_not_compared (&fixture->comparison);
  assert_int_equal (why->len, 2);
  assert_true (g_str_has_prefix (g_ptr_array_index (why, 0), "Peak velocity, Mean velocity, Velocity rise time, "));
  assert_true (g_str_has_suffix (g_ptr_array_index (why, 0), ": needs two trials on either side; there are 1 and 3"));
  assert_string_equal (g_ptr_array_index (why, 1), "Velocity deviation: it is one figure for each configuration");
  set_verdicts (fixture, 0, 1, 0);
  g_autoptr (GPtrArray) nothing = sb_pair_why_not_compared (&fixture->comparison);
  assert_int_equal (nothing->len, 0);
}

#define pair_test(name) cmocka_unit_test_setup_teardown (name, setup, teardown)

int
main (void)
{
  const struct CMUnitTest tests[] = {
    pair_test (every_comparison_has_the_sign_of_its_verdict),
    pair_test (own_words_do_not_make_a_comparison),
    pair_test (why_nothing_is_compared_is_told_once_for_each_reason),
  };
  return cmocka_run_group_tests_name ("verdict of a pair", tests, NULL, NULL);
}
