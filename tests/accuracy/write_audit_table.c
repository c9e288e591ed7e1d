/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Writes the table of the setting audit in docs/methods.md to the standard output: what was said of settings whose
 * workings are known. With a second argument, the reasons of each verdict that is not right as well. */
#include "audit_cases.h"

#include <stdio.h>
#include <stdlib.h>

#define SEED 20

static void
write_table (gsize n, AuditBench bench, guint64 seed, gboolean verbose)
{
  AuditCases cases;
  audit_cases_init (&cases, seed);
  cases.verbose = verbose;
  cases.bench = bench;
  printf ("| the setting in truth | limits | limits, up to the right level | up to another level | open beyond a level "
          "| shapes | no effect | "
          "cannot tell |\n|---|---|---|---|---|---|---|---|\n");
  for (int truth = 0; truth < AUDIT_N_TRUTHS; truth++) {
    gsize count[AUDIT_N_SAID] = { 0 };
    for (gsize i = 0; i < n; i++)
      count[audit_cases_draw (&cases, (AuditTruth) truth)]++;
    printf ("| %s |", audit_truth_words ((AuditTruth) truth));
    for (int said = 0; said < AUDIT_N_SAID; said++)
      printf (said == (int) audit_right ((AuditTruth) truth) ? " **%zu** |" : " %zu |", count[said]);
    printf ("\n");
  }
  audit_cases_clear (&cases);
}

int
main (int argc, char **argv)
{
  gsize n = argc > 1 ? (gsize) strtoul (argv[1], NULL, 10) : 1000;
  if (n < 1) {
    fprintf (stderr, "usage: write_audit_table [DRIVES [reasons|- [BENCH|- [SEED]]]]\n");
    return 64;
  }
  AuditBench only = argc > 3 && argv[3][0] != '-' ? (AuditBench) strtoul (argv[3], NULL, 10) : AUDIT_N_BENCHES;
  guint64 seed = argc > 4 ? strtoull (argv[4], NULL, 10) : SEED;
  printf ("Of %zu seeded drives of each kind (seed %" G_GUINT64_FORMAT
          "), tested %d times at each of three to five levels, the audit said (right in bold):\n",
          n, seed, AUDIT_REPEATS);
  for (int bench = 0; bench < AUDIT_N_BENCHES; bench++) {
    if (only != AUDIT_N_BENCHES && bench != (int) only)
      continue;
    printf ("\n%s:\n\n", audit_bench_words ((AuditBench) bench));
    write_table (n, (AuditBench) bench, seed, argc > 2 && argv[2][0] != '-');
  }
  return 0;
}
