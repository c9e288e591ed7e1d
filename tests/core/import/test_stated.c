/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What lines before a table state. Expected values are those a reader of the line would take; Hz = 1/s, so that 0.5 ms
 * between samples are 2000 of them in a second. */
#include "close.h"
#include "stated.h"

#include <string.h>

static SbStated
read_lines (const char *lines)
{
  SbStated stated;
  sb_stated_init (&stated);
  g_auto (GStrv) each = g_strsplit (lines, "\n", -1);
  for (guint i = 0; each[i] != NULL; i++)
    sb_stated_read_line (&stated, each[i], strlen (each[i]));
  return stated;
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
    { "fs: 2", (double) NAN },
    { "Sample rate: 1e-300 Hz", (double) NAN },
  };
  for (guint i = 0; i < G_N_ELEMENTS (table); i++) {
    SbStated stated = read_lines (table[i].line);
    if (!is_close (stated.sample_rate_hz, table[i].rate_hz, 0.0))
      fail_msg ("'%s' is %.17g", table[i].line, stated.sample_rate_hz);
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
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    cmocka_unit_test (sample_rate_is_read_in_the_ways_people_write_it),
    cmocka_unit_test (values_of_columns_are_read_and_the_first_counts),
  };
  return cmocka_run_group_tests (tests, NULL, NULL);
}
