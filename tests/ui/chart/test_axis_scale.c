/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "close.h"

#include "axis_scale.h"

#include <string.h>

/* Joins the labels of all ticks with blanks. */
static char *
labels_of (double low, double high, int max_n)
{
  SbTicks ticks = sb_ticks_new (low, high, max_n);
  GString *text = g_string_new (NULL);
  for (gint64 i = ticks.first; i <= ticks.last; i++) {
    g_autofree char *label = sb_ticks_label (&ticks, i);
    g_string_append_printf (text, "%s%s", text->len > 0 ? " " : "", label);
  }
  return g_string_free (text, FALSE);
}

/* By hand: the finest of 1, 2, 5 times a power of ten with no more than max_n multiples in the range. */
static void
ticks_are_those_a_person_would_choose (void **state)
{
  static const struct {
    double low, high;
    int max_n;
    const char *labels;
  } cases[] = {
    { 0, 1, 6, "0 0.2 0.4 0.6 0.8 1.0" },
    { 0, 1, 11, "0 0.1 0.2 0.3 0.4 0.5 0.6 0.7 0.8 0.9 1.0" },
    { 0, 1, 5, "0 0.5 1.0" },
    { -0.03, 0.36, 5, "0 0.1 0.2 0.3" },
    { -0.03, 0.36, 8, "0 0.05 0.10 0.15 0.20 0.25 0.30 0.35" },
    { -30, 360, 5, "0 100 200 300" },
    { -0.5, 0.5, 4, "−0.5 0 0.5" },
    { -0.5, 0.5, 5, "−0.4 −0.2 0 0.2 0.4" },
    { 12.01, 12.04, 4, "12.01 12.02 12.03 12.04" },
    { 0.1, 0.3, 3, "0.1 0.2 0.3" },
    { -2e-3, 2e-3, 5, "−0.002 −0.001 0 0.001 0.002" },
    { 0, 3e6, 4, "0 1×10⁶ 2×10⁶ 3×10⁶" },
    { 0, 2e-7, 3, "0 1×10⁻⁷ 2×10⁻⁷" },
    { 999000, 1001000, 3, "0.999×10⁶ 1.000×10⁶ 1.001×10⁶" },
  };
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++) {
    g_autofree char *labels = labels_of (cases[i].low, cases[i].high, cases[i].max_n);
    if (strcmp (labels, cases[i].labels) != 0)
      fail_msg ("%g to %g, %d: got \"%s\"", cases[i].low, cases[i].high, cases[i].max_n, labels);
  }
}

/* Property, over ranges of 24 decades. */
static void
ticks_lie_in_the_range_and_number_no_more_than_asked (void **state)
{
  for (int power = -12; power <= 12; power++)
    for (int k = 1; k < 100; k++)
      for (int max_n = 2; max_n < 12; max_n++) {
        double high = k * pow (10, power), low = -0.37 * high;
        SbTicks ticks = sb_ticks_new (low, high, max_n);
        assert_true (ticks.last >= ticks.first && ticks.last - ticks.first < max_n);
        assert_true (sb_ticks_value (&ticks, ticks.first) >= low - 1e-5 * ticks.step);
        assert_true (sb_ticks_value (&ticks, ticks.last) <= high + 1e-5 * ticks.step);
      }
}

/* 3 * 0.1 in doubles is 0.30000000000000004; the tick is at the double nearest to 0.3. */
static void
tick_values_are_rounded_once (void **state)
{
  SbTicks ticks = sb_ticks_new (0, 1, 11);
  assert_true (memcmp (&(double){ 0.3 }, &(double){ sb_ticks_value (&ticks, 3) }, sizeof (double)) == 0);
  assert_true (memcmp (&(double){ 0.7 }, &(double){ sb_ticks_value (&ticks, 7) }, sizeof (double)) == 0);
}

/* Algebra: x = f⁻¹(f(x)), for an axis to the right and one upwards. */
static void
scale_and_its_inverse_round_trip (void **state)
{
  const SbAxisScale scales[] = { { -0.02, 0.4, 40, 500, FALSE }, { -3, 12, 300, 20, FALSE }, { 0.1, 4, 10, 90, TRUE } };
  for (gsize s = 0; s < G_N_ELEMENTS (scales); s++) {
    assert_close (sb_axis_scale_at (&scales[s], scales[s].low), scales[s].at_low, 1e-9);
    assert_close (sb_axis_scale_at (&scales[s], scales[s].high), scales[s].at_high, 1e-9);
    for (int i = -10; i <= 20; i++) {
      double value = scales[s].low + 0.1 * i * (scales[s].high - scales[s].low);
      if (scales[s].logarithmic && value <= 0)
        continue;
      assert_close (sb_axis_scale_value (&scales[s], sb_axis_scale_at (&scales[s], value)), value, 1e-12);
    }
  }
}

/* Each power of ten is as long as the next: 10 lies half way between 1 and 100. */
static void
logarithmic_scale_gives_powers_of_ten_the_same_length (void **state)
{
  SbAxisScale scale = { 1, 100, 0, 200, TRUE };
  assert_close (sb_axis_scale_at (&scale, 10), 100, 1e-9);
  assert_close (sb_axis_scale_value (&scale, 50), sqrt (10), 1e-12);
}

static void
assert_log_ticks (double low, double high, int max_n, const char *const *labels, gsize n)
{
  SbTicks ticks = sb_ticks_new_log (low, high, max_n);
  assert_int_equal (ticks.last - ticks.first + 1, n);
  for (gsize i = 0; i < n; i++) {
    char *label = sb_ticks_label (&ticks, ticks.first + (gint64) i);
    gboolean same = g_str_equal (label, labels[i]);
    g_free (label);
    if (!same)
      fail_msg ("tick %zu of %g to %g is not %s", i, low, high, labels[i]);
  }
}

static void
logarithmic_ticks_are_at_1_2_5_or_all_or_powers (void **state)
{
  static const char *const three[] = { "0.1", "0.2", "0.5", "1", "2" };
  static const char *const all[] = { "2", "3", "4", "5" };
  static const char *const powers[] = { "0.001", "0.01", "0.1", "1", "10", "100" };
  assert_log_ticks (0.08, 4.5, 6, three, G_N_ELEMENTS (three));
  assert_log_ticks (1.5, 5.5, 6, all, G_N_ELEMENTS (all));
  assert_log_ticks (0.0009, 200, 7, powers, G_N_ELEMENTS (powers));
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    cmocka_unit_test (ticks_are_those_a_person_would_choose),
    cmocka_unit_test (ticks_lie_in_the_range_and_number_no_more_than_asked),
    cmocka_unit_test (tick_values_are_rounded_once),
    cmocka_unit_test (scale_and_its_inverse_round_trip),
    cmocka_unit_test (logarithmic_scale_gives_powers_of_ten_the_same_length),
    cmocka_unit_test (logarithmic_ticks_are_at_1_2_5_or_all_or_powers),
  };
  return cmocka_run_group_tests (tests, NULL, NULL);
}
