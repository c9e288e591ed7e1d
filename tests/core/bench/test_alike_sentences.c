/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Sentences of one kind: what is a number of its own, and what belongs to a name. */
#include "alike_sentences.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

static gboolean
are_of_one_kind (const char *a, const char *b)
{
  g_autofree char *kind = sb_sentence_kind (a), *other_kind = sb_sentence_kind (b);
  return g_str_equal (kind, other_kind);
}

static void
numbers_make_no_kind (void **state)
{
  (void) state;
  assert_true (are_of_one_kind ("by about 0.33 ms in every repeat", "by about 1.9 ms in every repeat"));
  assert_true (are_of_one_kind ("± 2 %, about 1.5e+03 Hz", "± 10 %, about 9e+02 Hz"));
  assert_true (are_of_one_kind ("the repeats' own 2 of 'gain 2'", "the repeats' own 3 of 'gain 2'"));
}

static void
other_words_and_names_do (void **state)
{
  (void) state;
  assert_false (are_of_one_kind ("by about 0.19 ms", "by about 0.19 N·m"));
  assert_false (are_of_one_kind ("as in run-01.csv", "as in run-02.csv"));
  assert_false (are_of_one_kind ("at firmware 1.4a", "at firmware 1.5a"));
  assert_false (are_of_one_kind ("of column 'torque 2 [V]'", "of column 'torque 5 [V]'"));
  assert_false (are_of_one_kind ("of \"trial 2 again\"", "of \"trial 5 again\""));
  assert_false (are_of_one_kind ("of 'one 2", "of 'one 3'"));
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    cmocka_unit_test (numbers_make_no_kind),
    cmocka_unit_test (other_words_and_names_do),
  };
  return cmocka_run_group_tests (tests, NULL, NULL);
}
