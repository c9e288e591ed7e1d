/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What lines before a table state. Expected values are those a reader of the line would take; Hz = 1/s, so that 0.5 ms
 * between samples are 2000 of them in a second. */
#include "close.h"
#include "stated.h"

#include <string.h>

static SbStated
read_beside (const char *lines, const SbNotedStyle *style)
{
  SbStated stated;
  sb_stated_init (&stated);
  g_auto (GStrv) each = g_strsplit (lines, "\n", -1);
  for (guint i = 0; each[i] != NULL; i++)
    sb_stated_read_line (&stated, each[i], strlen (each[i]), i + 1);
  sb_stated_settle (&stated, style);
  return stated;
}

static SbStated
read_lines (const char *lines)
{
  static const SbNotedStyle usual = { ',', '.', '\0' };
  return read_beside (lines, &usual);
}

static void
sample_rate_is_read_in_the_ways_people_write_it (void **state)
{
  static const struct {
    const char *line;
    double rate_hz;
  } table[] = {
    { "# sample_rate_hz: 2000", 2000 },
    { "Sample rate: 2000 Hz", 2000 },
    { "Sampling Rate [kHz];2", 2000 },
    { "Sampling frequency\t2.5 kHz", 2500 },
    { "\"Sample Rate\",\"1000\",,,", 1000 },
    { "% sample_rate = 500", 500 },
    { "Abtastrate;1000,5 Hz;;", 1000.5 },
    { "Fréquence d'échantillonnage : 2 kHz", 2000 },
    { "Sample interval: 0.5 ms", 2000 },
    { "Sample interval (s): 0.0005", 2000 },
    { "Sampling period; 500 us", 2000 },
    { "Sample rate: 2.5 kSa/s", 2500 },
    { "Sample rate: 1.25 MSa/s", 1250000 },
    { "Sample rate: 2.5 kS/s", 2500 },
    { "Abtastintervall: 0,4 ms", 2500 },
    { "Sample interval: 0.5", (double) NAN }, /* of what? */
    { "Sample rate: fast", (double) NAN },
    { "Sample rate: 0 Hz", (double) NAN },
    { "Sample rate: 3 furlongs", (double) NAN },
    { "Sample rate", (double) NAN },
    { "my sample rate: 5", (double) NAN },
    { "Sample Interval,5.000000E-04,s,,", 2000 },
    { "Abtastrate;2;kHz;", 2000 },
    { "\"Sample period\",\"0,5\",\"ms\"", 2000 },
    { "Sample rate,2000,,", 2000 },
    { "Sample interval,0.0005,0.0005", (double) NAN }, /* two of what? */
    { "# fs = 2 kHz", 2000 },
    { "dt,0.5 ms", 2000 },
    { "dt_us: 500", 2000 },
    { "# dt = 0.0005 s", 2000 },
    { "dt: 0.0005", (double) NAN }, /* of what? */
    { "Tick [us],500", 2000 },
    { "Tick length;500;us", 2000 },
    { "tick_us: 500", 2000 },
    { "ticks: 500", (double) NAN }, /* how many there are */
    { "Time step: 500 us/sample", 2000 },
    { "Sample Interval,0.5,frob", (double) NAN },
    { "Sample rate|2|kHz", 2000 },
    { "| Sample interval [ms] | 0.5 |", 2000 },
    { "fs: 2", (double) NAN },
    { "Sample rate: 1e-300 Hz", (double) NAN },
  };
  for (guint i = 0; i < G_N_ELEMENTS (table); i++) {
    SbStated stated = read_lines (table[i].line);
    if (!is_close (stated.sample_rate_hz, table[i].rate_hz, 0.0))
      fail_msg ("'%s' is %.17g", table[i].line, stated.sample_rate_hz);
  }
}

/* The remedy names the line; a statement that can be read behind it counts. */
static void
unit_of_an_interval_that_is_missing_or_unknown_is_told (void **state)
{
  static const struct {
    const char *lines, *doubt;
  } table[] = {
    { "dt: 0.5\n", "line 1 states '0.5', which has no unit: write s, ms or us behind it" },
    { "\nSample Interval,0.5,frob\n",
      "line 2 states '0.5', which is in 'frob', which is no unit of it that is known: write it in s, ms or us" },
    { "Sample rate: 3 furlongs\n",
      "line 1 states '3', which is in 'furlongs', which is no unit of it that is known: write it in Hz or kHz" },
    { "dt: 0.5\ndt: 0.5 ms\n", NULL },
  };
  for (guint i = 0; i < G_N_ELEMENTS (table); i++) {
    SbStated stated = read_lines (table[i].lines);
    g_autofree char *doubt = sb_stated_doubt (&stated, SB_STATED_SAMPLE_RATE);
    if (table[i].doubt == NULL)
      assert_null (doubt);
    else
      assert_string_equal (doubt, table[i].doubt);
  }
}

static void
values_of_columns_are_read_and_the_first_counts (void **state)
{
  SbStated stated = read_lines ("# counts_per_turn: 65536\n# wrap_counts = 4096\n# Torque constant: 450 mNm/A\n"
                                "# full_scale_nm: 25\n# counts per rev: 100\n# torque constant: 3\n"
                                "Torque per volt [mNm/V];2500");
  assert_close (stated.counts_per_turn, 65536, 0.0);
  assert_close (stated.wrap_counts, 4096, 0.0);
  assert_close (stated.torque_constant_nm_per_a, 0.45, 1e-16);
  assert_close (stated.full_scale_nm, 25, 0.0);
  assert_close (stated.torque_per_volt_nm, 2.5, 1e-15);
  assert_close (stated.sample_rate_hz, (double) NAN, 0.0);
  stated = read_lines ("# encoder resolution: 4096 counts/rev\n# Kt: 450 mNm/A");
  assert_close (stated.counts_per_turn, 4096, 0.0);
  assert_close (stated.torque_constant_nm_per_a, 0.45, 1e-16);
  stated = read_lines ("# encoder resolution: 0.1\n# Kt: 450"); /* of what? */
  assert_true (isnan (stated.counts_per_turn) && isnan (stated.torque_constant_nm_per_a));
}

/* "2,500" is 2500 or 2.5: the signs of the table decide, or nobody does. Without a sign for decimals, or with more
 * digits than a group has, there is one way. */
static void
thousands_are_read_as_the_table_has_them_or_refused (void **state)
{
  static const SbNotedStyle commas = { ',', '.', '\0' }, german = { ';', ',', '\0' }, points = { ';', '.', '\0' },
                            tabs = { '\t', '.', '\0' }, grouped = { ';', '.', ',' }, whole = { ';', '\0', '\0' };
  static const struct {
    const char *line;
    const SbNotedStyle *style;
    double rate_hz;
    const char *doubt; /* part of what is told; NULL: nothing is */
  } table[] = {
    { "Sampling rate: 2,500 Hz", &commas, 2500, "states '2,500', which is taken for a number in thousands" },
    { "Sample rate,\"2,500 Hz\"", &commas, 2500, "states '2,500', which is taken for a number in thousands" },
    { "Sampling rate: 2,500 Hz", &grouped, 2500, "states '2,500', which is taken for a number in thousands" },
    { "Sampling rate: 2,500 Hz", &tabs, (double) NAN, "states '2,500', which may be 2500 or 2.5: write it as one" },
    { "Sampling rate: 2,500 Hz", &points, (double) NAN, "states '2,500', which may be 2500 or 2.5: write it as one" },
    { "Sampling rate: 2.500 Hz", &points, 2.5, NULL },
    { "Sample interval: 1.250 ms", &points, 800, NULL },
    { "Sampling rate: 2.500 Hz", &whole, (double) NAN, "states '2.500', which may be 2500 or 2.5: write it as one" },
    { "Abtastrate: 2.500 Hz", &german, 2500, "states '2.500', which is taken for a number in thousands" },
    { "Abtastrate: 2,500 kHz", &german, 2500, NULL },
    { "Sampling rate: 2.500 kHz", &commas, 2500, NULL },
    { "Abtastrate: 2,5 kHz", &commas, 2500, NULL },
    { "Abtastrate: 2500,5 Hz", &commas, 2500.5, NULL },
    { "Sample rate;2'500;Hz", &german, 2500, NULL },
    { "Sample rate: 2 500 Hz", &commas, 2500, NULL },
    { "Sample rate: 1.234.500 Hz", &commas, 1234500, NULL },
    { "Sample rate: 12,500.5 Hz", &german, 12500.5, NULL },
    { "Sample rate: 0.500 kHz", &german, 500, NULL },
    { "Sample rate,2,500", &commas, (double) NAN, NULL }, /* two cells */
  };
  (void) state;
  for (guint i = 0; i < G_N_ELEMENTS (table); i++) {
    SbStated stated = read_beside (table[i].line, table[i].style);
    g_autofree char *doubt = sb_stated_doubt (&stated, SB_STATED_SAMPLE_RATE);
    if (!is_close (stated.sample_rate_hz, table[i].rate_hz, 0.0))
      fail_msg ("'%s' is %.17g", table[i].line, stated.sample_rate_hz);
    if ((doubt == NULL) != (table[i].doubt == NULL) || (doubt != NULL && strstr (doubt, table[i].doubt) == NULL))
      fail_msg ("'%s': %s", table[i].line, doubt != NULL ? doubt : "no doubt");
  }
}

/* An encoder has no 65.536 counts in a turn. */
static void
counts_that_are_no_whole_number_are_refused (void **state)
{
  SbStated stated = read_lines ("a title\n# counts_per_turn: 65.536");
  g_autofree char *doubt = sb_stated_doubt (&stated, SB_STATED_COUNTS_PER_TURN);
  (void) state;
  assert_true (isnan (stated.counts_per_turn));
  assert_string_equal (doubt, "line 2 states '65.536', which is no whole number: write it without a decimal sign");
  assert_close (read_lines ("# counts_per_turn: 65,536").counts_per_turn, 65536, 0.0);
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    cmocka_unit_test (sample_rate_is_read_in_the_ways_people_write_it),
    cmocka_unit_test (unit_of_an_interval_that_is_missing_or_unknown_is_told),
    cmocka_unit_test (values_of_columns_are_read_and_the_first_counts),
    cmocka_unit_test (thousands_are_read_as_the_table_has_them_or_refused),
    cmocka_unit_test (counts_that_are_no_whole_number_are_refused),
  };
  return cmocka_run_group_tests (tests, NULL, NULL);
}
