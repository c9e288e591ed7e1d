/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Sentences of the same words told as one: what is a figure, and what a reader makes of the sum, written out by hand.
 */
#include "alike_sentences.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

static void
assert_as_one (const char *a, const char *b, const char *expected)
{
  g_autoptr (GPtrArray) sentences = g_ptr_array_new_with_free_func (g_free);
  g_autofree char *words = sb_sentence_words (a), *other_words = sb_sentence_words (b);
  assert_string_equal (words, other_words);
  g_ptr_array_add (sentences, g_strdup (a));
  g_ptr_array_add (sentences, g_strdup (b));
  g_autofree char *text = sb_sentences_as_one (sentences);
  assert_string_equal (text, expected);
}

static void
assert_apart (const char *a, const char *b)
{
  g_autofree char *words = sb_sentence_words (a), *other_words = sb_sentence_words (b);
  assert_string_not_equal (words, other_words);
}

static void
figures_become_stretches (void **state)
{
  (void) state;
  assert_as_one ("raised by noise: by about 0.33 ms in every repeat",
                 "raised by noise: by about 0.19 ms in every repeat",
                 "raised by noise: by about 0.19 to 0.33 ms in every repeat");
  assert_as_one ("in 5 of 10 trials: coarse.", "in 3 of 10 trials: coarse.", "in 3 to 5 of 10 trials: coarse.");
  assert_as_one ("the interval of ± 2 %, about 1.5e+03 Hz", "the interval of ± 10 %, about 9e+02 Hz",
                 "the interval of ± 2 to 10 %, about 9e+02 to 1.5e+03 Hz");
}

static void
what_is_alike_stays (void **state)
{
  (void) state;
  assert_as_one ("one sample interval of 0.4 ms.", "one sample interval of 0.4 ms.", "one sample interval of 0.4 ms.");
  assert_as_one ("no figure at all", "no figure at all", "no figure at all");
}

static void
of_bounds_the_largest_holds (void **state)
{
  (void) state;
  assert_as_one ("makes up to 2 % of it", "makes up to 1 % of it", "makes up to 2 % of it");
}

static void
other_words_stay_apart (void **state)
{
  (void) state;
  assert_apart ("by about 0.19 ms", "by about 0.19 N·m");
  assert_apart ("as in run-01.csv", "as in run-02.csv");
  assert_apart ("lower by −2 %", "lower by −3 %"); /* −2 to 3 would be another stretch */
  assert_apart ("between 2 to 5 ms", "between 3 to 6 ms");
  assert_apart ("at firmware 1.4a", "at firmware 1.5a");
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    cmocka_unit_test (figures_become_stretches),
    cmocka_unit_test (what_is_alike_stays),
    cmocka_unit_test (of_bounds_the_largest_holds),
    cmocka_unit_test (other_words_stay_apart),
  };
  return cmocka_run_group_tests (tests, NULL, NULL);
}
