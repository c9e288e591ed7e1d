/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Numbers against the C library's strtod in the C locale, which rounds correctly (ISO C, annex F). */
#include "close.h"
#include "number.h"

#include <stdlib.h>
#include <string.h>

#define N_RANDOM 300000

static void
assert_like_strtod (const char *text)
{
  double expected = strtod (text, NULL), actual = 0.0;
  if (!sb_number_read (text, strlen (text), '.', 0, &actual))
    fail_msg ("%s is not read", text);
  if (memcmp (&actual, &expected, sizeof actual) != 0)
    fail_msg ("%s is read as %.17g (%a), strtod says %.17g (%a)", text, actual, actual, expected, expected);
}

/* Sign, up to `max_digits` digits with a decimal sign somewhere, and in every other case an exponent. */
static void
append_random_number (GString *text, GRand *random, int max_digits, int max_exponent)
{
  int n_digits = g_rand_int_range (random, 1, max_digits + 1);
  int point = g_rand_int_range (random, 0, n_digits + 2);
  g_string_assign (text, g_rand_boolean (random) ? "-" : "");
  for (int i = 0; i < n_digits; i++) {
    if (i == point)
      g_string_append_c (text, '.');
    g_string_append_c (text, (char) ('0' + g_rand_int_range (random, 0, 10)));
  }
  if (g_rand_boolean (random))
    g_string_append_printf (text, "e%d", g_rand_int_range (random, -max_exponent, max_exponent + 1));
}

/* The minus of mathematics is a minus, whichever way the digits are read; a part of its bytes is none. */
static void
number_with_the_minus_of_mathematics_is_the_same_number (void **state)
{
  static const char *const numbers[] = { "0", "1.5", "0.1e-3", "123456789012345678901234567890", "4.9e-324", "1e400" };
  for (guint i = 0; i < G_N_ELEMENTS (numbers); i++) {
    g_autofree char *plain = g_strconcat ("-", numbers[i], NULL),
                    *other = g_strconcat ("\xe2\x88\x92", numbers[i], NULL);
    double expected = strtod (plain, NULL), actual = 0.0;
    assert_true (sb_number_read (other, strlen (other), '.', 0, &actual));
    assert_memory_equal (&actual, &expected, sizeof actual);
  }
  double exponent = 0.0, expected = 1.5e-3;
  assert_true (sb_number_read ("1.5e\xe2\x88\x92"
                               "3",
                               8, '.', 0, &exponent));
  assert_memory_equal (&exponent, &expected, sizeof exponent);
  static const char *const none[] = { "\xe2\x88\x92",
                                      "\xe2\x88"
                                      "1",
                                      "\xe2"
                                      "1",
                                      "-\xe2\x88\x92"
                                      "1",
                                      "\xe2\x88\x93"
                                      "1" };
  for (guint i = 0; i < G_N_ELEMENTS (none); i++)
    assert_false (sb_number_read (none[i], strlen (none[i]), '.', 0, &exponent));
}

static void
number_equals_strtod_for_random_text (void **state)
{
  static const struct {
    int max_digits, max_exponent;
  } kinds[] = { { 8, 3 }, { 19, 22 }, { 21, 40 }, { 40, 340 } };
  g_autoptr (GRand) random = g_rand_new_with_seed (20);
  g_autoptr (GString) text = g_string_new (NULL);
  for (int i = 0; i < N_RANDOM; i++) {
    guint kind = (guint) i % G_N_ELEMENTS (kinds);
    append_random_number (text, random, kinds[kind].max_digits, kinds[kind].max_exponent);
    assert_like_strtod (text->str);
  }
}

static double
random_double (GRand *random)
{
  guint64 bits = ((guint64) g_rand_int (random) << 32) | g_rand_int (random);
  double number;
  bits &= ~(G_GUINT64_CONSTANT (1) << 63);
  memcpy (&number, &bits, sizeof number);
  return number;
}

static void
number_reads_every_printed_double_back (void **state)
{
  g_autoptr (GRand) random = g_rand_new_with_seed (21);
  for (int i = 0; i < N_RANDOM; i++) {
    char text[64];
    double number = random_double (random);
    if (!isfinite (number))
      continue;
    g_snprintf (text, sizeof text, "%.*g", 15 + i % 6, number);
    assert_like_strtod (text);
  }
}

/* The middle between a double and the next, exact, then a last digit less and more: nearest-even, down, up. */
static void
number_equals_strtod_around_midpoints (void **state)
{
  g_autoptr (GRand) random = g_rand_new_with_seed (22);
  for (int i = 0; i < 20000; i++) {
    char text[1400];
    double number = random_double (random);
    if (i % 2)
      number = (double) g_rand_int (random) * g_rand_double (random) * (i % 4 == 1 ? 1e-3 : 1e6);
    double next = nextafter (number, (double) INFINITY);
    if (!isfinite (number) || !isfinite (next))
      continue;
    long double middle = ((long double) number + (long double) next) / 2.0L;
    g_snprintf (text, sizeof text, "%.1100Lg", middle);
    assert_like_strtod (text);
    char *mantissa_end = strchr (text, 'e');
    char *last = mantissa_end != NULL ? mantissa_end - 1 : text + strlen (text) - 1;
    if (!g_ascii_isdigit (*last) || *last == '0' || *last == '9')
      continue;
    ++*last;
    assert_like_strtod (text);
    *last = (char) (*last - 2);
    assert_like_strtod (text);
  }
}

/* Midpoints short enough for integer arithmetic: odd numbers of 54 bits, and 64-bit ones ending in 2^10, times powers
 * of ten in the text only. */
static void
number_equals_strtod_at_short_midpoints (void **state)
{
  g_autoptr (GRand) random = g_rand_new_with_seed (23);
  for (int i = 0; i < 100000; i++) {
    char text[64];
    guint64 number = ((guint64) g_rand_int (random) << 32) | g_rand_int (random);
    guint64 middle
        = i % 2 ? (number >> 10) | (G_GUINT64_CONSTANT (1) << 53) | 1 : (number & ~G_GUINT64_CONSTANT (0x7ff)) | 0x400;
    int delta = i % 3 - 1;
    g_snprintf (text, sizeof text, i % 5 ? "%" G_GUINT64_FORMAT : "%" G_GUINT64_FORMAT ".0",
                middle + (guint64) (gint64) delta);
    assert_like_strtod (text);
    g_snprintf (text, sizeof text, "%" G_GUINT64_FORMAT "e%d", middle, i % 45 - 22);
    assert_like_strtod (text);
  }
}

static void
number_equals_strtod_at_the_ends_of_the_range (void **state)
{
  static const char *const texts[] = {
    "0",
    "-0",
    "0.0",
    "-0.000",
    "0e9999",
    "0e-9999",
    "00000000000000000000000000000001",
    ".5",
    "5.",
    "+.5e1",
    "1e22",
    "1e23",
    "9007199254740992",
    "9007199254740993",
    "9007199254740993e22",
    "18446744073709551615",
    "18446744073709551616",
    "9999999999999999999",
    "99999999999999999999",
    "1e308",
    "1.7976931348623157e308",
    "1.7976931348623158e308",
    "1.7976931348623159e308",
    "1e309",
    "-1e400",
    "1e99999999999999999999",
    "-1e-99999999999999999999",
    "2.2250738585072014e-308",
    "2.2250738585072011e-308",
    "4.9406564584124654e-324",
    "2.4703282292062327e-324",
    "2.4703282292062328e-324",
    "1e-400",
    "0.1",
    "0.3",
    "123456.789",
    "3.141592653589793238462",
  };
  for (guint i = 0; i < G_N_ELEMENTS (texts); i++)
    assert_like_strtod (texts[i]);
}

static void
number_of_a_hundred_thousand_digits_is_read (void **state)
{
  g_autoptr (GString) text = g_string_new ("0.");
  for (int i = 0; i < 100000; i++)
    g_string_append_c (text, '0');
  g_string_append (text, "25e100001");
  assert_like_strtod (text->str);
}

/* A power of ten in the unit is no second rounding: 1.1 ms is the double nearest to 0.0011. */
static void
number_shifted_by_a_power_of_ten_is_rounded_once (void **state)
{
  g_autoptr (GRand) random = g_rand_new_with_seed (24);
  g_autoptr (GString) text = g_string_new (NULL);
  for (int i = 0; i < 100000; i++) {
    int shift = -(i % 10);
    double actual;
    do
      append_random_number (text, random, 19, 5);
    while (strchr (text->str, 'e') != NULL);
    assert_true (sb_number_read (text->str, text->len, '.', shift, &actual));
    g_string_append_printf (text, "e%d", shift);
    double expected = strtod (text->str, NULL);
    assert_memory_equal (&actual, &expected, sizeof actual);
  }
}

static void
number_has_the_decimal_sign_asked_for (void **state)
{
  double value = 0.0;
  assert_true (sb_number_read ("-1,25", 5, ',', 0, &value));
  assert_close (value, -1.25, 0.0);
  assert_true (sb_number_read ("0,12345678901234567890123", 25, ',', 0, &value));
  assert_close (value, 0.12345678901234567890123, 0.0);
  assert_false (sb_number_read ("1.25", 4, ',', 0, &value));
  assert_false (sb_number_read ("1,25", 4, '.', 0, &value));
}

static void
number_refuses_all_other_text (void **state)
{
  static const char *const texts[]
      = { "",      " 1",   "1 ",    "+",   "-",   ".",   "e5",    "1e",    "1e+", "1e5.", "--1",      "1-",
          "1.2.3", "0x10", "0x1p3", "nan", "inf", "1_0", "1'000", "1,000", "1d5", "1f",   "Infinity", "١" };
  for (guint i = 0; i < G_N_ELEMENTS (texts); i++) {
    double value = 42.0;
    if (sb_number_read (texts[i], strlen (texts[i]), '.', 0, &value))
      fail_msg ("'%s' is read as %g", texts[i], value);
    assert_close (value, 42.0, 0.0);
  }
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    cmocka_unit_test (number_with_the_minus_of_mathematics_is_the_same_number),
    cmocka_unit_test (number_equals_strtod_for_random_text),
    cmocka_unit_test (number_reads_every_printed_double_back),
    cmocka_unit_test (number_equals_strtod_around_midpoints),
    cmocka_unit_test (number_equals_strtod_at_short_midpoints),
    cmocka_unit_test (number_equals_strtod_at_the_ends_of_the_range),
    cmocka_unit_test (number_of_a_hundred_thousand_digits_is_read),
    cmocka_unit_test (number_shifted_by_a_power_of_ten_is_rounded_once),
    cmocka_unit_test (number_has_the_decimal_sign_asked_for),
    cmocka_unit_test (number_refuses_all_other_text),
  };
  return cmocka_run_group_tests (tests, NULL, NULL);
}
