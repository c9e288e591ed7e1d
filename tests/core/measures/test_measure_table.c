/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measured.h"

static void
keys_lead_back_to_their_rows_and_differ (void **state)
{
  for (int i = 0; i < SB_N_MEASURES; i++) {
    const SbMeasureInfo *info = sb_measure_info ((SbMeasureId) i);
    SbMeasureId id = SB_N_MEASURES;
    assert_true (sb_measure_id_from_key (info->key, &id));
    assert_int_equal (id, i); /* so no key occurs twice */
    assert_true (info->name[0] != '\0' && info->symbol[0] != '\0' && info->definition[0] != '\0');
    assert_true (info->display_factor > 0);
  }
  SbMeasureId untouched = SB_MEASURE_OVERSHOOT;
  assert_false (sb_measure_id_from_key ("no_such_measure", &untouched));
  assert_int_equal (untouched, SB_MEASURE_OVERSHOOT);
}

typedef struct {
  SbMeasureId id;
  double value, uncertainty;
  gboolean with_unit;
  const char *expected;
} Formatted;

static void
values_are_rounded_by_their_uncertainty (void **state)
{
  static const Formatted cases[] = {
    /* GUM 7.2.6: 10.057 62 ohm with 27 milliohm is rounded to 10.058 */
    { SB_MEASURE_PEAK_TORQUE, 10.05762, 0.027, FALSE, "10.058" },
    { SB_MEASURE_PEAK_TORQUE, 10.05762, 0.0996, FALSE, "10.06" }, /* 0.0996 is 0.10 to two digits */
    { SB_MEASURE_PEAK_VELOCITY, 1234.5, 120, TRUE, "1230 rad/s" },
    { SB_MEASURE_PEAK_VELOCITY, 1234.5, 12, TRUE, "1234 rad/s" }, /* ties go to even, as printf has it */
    /* the trade's: 3147.63 N·m/s is 3.148 N·m/ms */
    { SB_MEASURE_PEAK_TORQUE_SLOPE, 3147.63, NAN, TRUE, "3.148 N·m/ms" },
    { SB_MEASURE_DEAD_TIME, 0.0123, 0.0002, TRUE, "12.30 ms" },
    { SB_MEASURE_DEAD_TIME, 0.0123, 0.0011, TRUE, "12.3 ms" },
    { SB_MEASURE_OVERSHOOT, 0.0947802, 0.001, TRUE, "9.48 %" },
    { SB_MEASURE_RINGING_DAMPING, 0.050046, 4.3e-5, TRUE, "0.050046" },
    { SB_MEASURE_RINGING_CYCLES, 7, NAN, TRUE, "7" },
    { SB_MEASURE_OVERSHOOT, 0, NAN, TRUE, "0 %" },
    { SB_MEASURE_DEAD_TIME, -0.04, 0.0011, TRUE, "−40.0 ms" },
    { SB_MEASURE_DEAD_TIME, -0.00001, 0.0011, TRUE, "0.0 ms" }, /* no minus before nothing */
    { SB_MEASURE_PEAK_TORQUE, 8, 0, TRUE, "8.000 N·m" },        /* an uncertainty of 0 is one that is not known */
    { SB_MEASURE_RINGING_FREQUENCY, 40, 1e-12, TRUE, "40.000000 Hz" },
  };
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++) {
    char text[64];
    char *formatted = sb_measure_format (cases[i].id, cases[i].value, cases[i].uncertainty, cases[i].with_unit);
    g_strlcpy (text, formatted, sizeof text);
    g_free (formatted);
    assert_string_equal (text, cases[i].expected);
  }
}

/* U = 0.2083 is quoted as 0.21 (GUM 7.2.6): the difference and both ends to hundredths. Without an interval nothing is
 * known. */
static void
value_and_its_interval_are_rounded_by_half_of_it (void **state)
{
  (void) state;
  const double interval[] = { -0.3246, 0.092 }, none[] = { NAN, NAN }, one[] = { 1, 1 };
  assert_close (sb_interval_rounding (interval), 0.2083, 1e-12);
  assert_true (isnan (sb_interval_rounding (none)));
  assert_true (isnan (sb_interval_rounding (one)));
}

/* Never a power of ten where people type none. */
static void
plain_numbers_are_as_people_type_them (void **state)
{
  (void) state;
  static const struct {
    double value;
    const char *expected;
  } cases[] = { { 0.3, "0.3" },
                { 12.5, "12.5" },
                { 999999, "999999" },
                { 1e-5, "0.00001" },
                { -1.25e-7, "-0.000000125" },
                { 1579200, "1579200" },
                { -2e6, "-2000000" } };
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++) {
    char text[64];
    char *plain = sb_number_plain (cases[i].value);
    g_strlcpy (text, plain, sizeof text);
    g_free (plain);
    assert_string_equal (text, cases[i].expected);
  }
}

/* Words with single blanks, so that lines may break anywhere. */
static char *
read_methods (void)
{
  g_autofree char *text = NULL;
  assert_true (g_file_get_contents (METHODS_PATH, &text, NULL, NULL));
  g_auto (GStrv) words = g_strsplit_set (text, " \n", -1);
  GString *joined = g_string_new (NULL);
  for (char **word = words; *word != NULL; word++)
    if (**word != '\0')
      g_string_append_printf (joined, "%s ", *word);
  return g_string_free (joined, FALSE);
}

static int
methods_setup (void **state)
{
  *state = read_methods ();
  return 0;
}

static int
methods_teardown (void **state)
{
  g_free (*state);
  return 0;
}

static void
assert_documented (const char *methods, const char *key, const char *what)
{
  if (strstr (methods, what) == NULL)
    print_error ("docs/methods.md does not say '%s' of %s\n", what, key);
  assert_non_null (strstr (methods, what));
}

static void
every_row_stands_in_the_methods_text (void **state)
{
  for (int i = 0; i < SB_N_MEASURES; i++) {
    const SbMeasureInfo *info = sb_measure_info ((SbMeasureId) i);
    char heading[200], unit[200], symbol[200];
    g_snprintf (heading, sizeof heading, "### %s (`%s`)", info->name, info->key);
    g_snprintf (symbol, sizeof symbol, "Symbol: %s.", info->symbol);
    g_snprintf (unit, sizeof unit, "Unit: %s, shown in %s.", info->unit, info->display_unit);
    const char *section = strstr (*state, heading);
    assert_documented (*state, info->key, heading);
    assert_documented (section, info->key, symbol);
    assert_documented (section, info->key, unit);
    assert_documented (section, info->key, info->definition);
    g_autofree char *formula = g_strconcat ("- Formula: ", info->formula, " - ", NULL);
    g_autofree char *uncertainty = g_strconcat ("- Uncertainty: ", info->uncertainty, " - ", NULL);
    g_autofree char *limits = g_strconcat ("- Limits: ", info->limits, " - ", NULL);
    assert_documented (section, info->key, formula);
    assert_documented (section, info->key, uncertainty);
    assert_documented (section, info->key, limits);
    assert_documented (section, info->key, info->source);
    const char *next = strstr (section + 4, "### ");
    assert_true (next == NULL || strstr (section, info->definition) < next);
    assert_true (next == NULL
                 || (strstr (section, formula) < next && strstr (section, uncertainty) < next
                     && strstr (section, limits) < next));
  }
}

/* "| Dead time | ms | ...": the README's table is one for people, so its wording is its own. */
static void
every_row_stands_in_the_readme_with_its_unit (void **state)
{
  char *text = NULL;
  assert_true (g_file_get_contents (README_PATH, &text, NULL, NULL));
  guint n_missing = 0;
  for (int i = 0; i < SB_N_MEASURES; i++) {
    const SbMeasureInfo *info = sb_measure_info ((SbMeasureId) i);
    g_autofree char *row = g_strdup_printf ("\n| %s | %s | ", info->name, info->display_unit);
    if (strstr (text, row) == NULL) {
      print_error ("the README has no row for %s in %s\n", info->name, info->display_unit);
      n_missing++;
    }
  }
  g_free (text);
  assert_int_equal (n_missing, 0);
}

/* 1.4e+03 is 1400; what is no number by itself stays, a name of a file above all. */
static void
sentences_have_their_numbers_written_out (void **state)
{
  static const struct {
    const char *text, *plain;
  } cases[] = {
    { "gap: no samples for 1.4e+03 ms from 2e+06 ms on", "gap: no samples for 1400 ms from 2000000 ms on" },
    { "a noise of 1.25e-05 N·m.", "a noise of 0.0000125 N·m." },
    { "± 3e-05, -1.5e+04 (1e+03)", "± 0.00003, -15000 (1000)" },
    { "1.23456e+02 Hz", "123.456 Hz" },
    { "run 2e+03.csv, v1e+03, 1.2.3e+04, e+05, 3e+5, 1e+30 stay",
      "run 2e+03.csv, v1e+03, 1.2.3e+04, e+05, 3e+5, 1e+30 stay" },
    { "the sentence with none", "the sentence with none" },
  };
  (void) state;
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++) {
    g_autofree char *plain = sb_plain_sentence (g_strdup (cases[i].text));
    assert_string_equal (plain, cases[i].plain);
  }
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    cmocka_unit_test (keys_lead_back_to_their_rows_and_differ),
    cmocka_unit_test (values_are_rounded_by_their_uncertainty),
    cmocka_unit_test (value_and_its_interval_are_rounded_by_half_of_it),
    cmocka_unit_test (plain_numbers_are_as_people_type_them),
    cmocka_unit_test (every_row_stands_in_the_readme_with_its_unit),
    cmocka_unit_test_setup_teardown (every_row_stands_in_the_methods_text, methods_setup, methods_teardown),
    cmocka_unit_test (sentences_have_their_numbers_written_out),
  };
  return cmocka_run_group_tests (tests, NULL, NULL);
}
