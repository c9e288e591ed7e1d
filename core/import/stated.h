/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the lines before a table state that columns cannot be read without: "# sample_rate_hz: 2000",
 * "Abtastrate;2 kHz", "Sampling interval [ms]: 0.5", "counts per turn = 65536", "torque constant: 0.45 Nm/A",
 * "torque per volt: 2 Nm/V". */
#pragma once

#include <glib.h>

typedef struct {
  double sample_rate_hz; /* each NaN when not stated */
  double counts_per_turn;
  double wrap_counts;
  double torque_constant_nm_per_a;
  double torque_per_volt_nm;
  double full_scale_nm;
} SbStated;

void sb_stated_init (SbStated *stated);

/* Takes in what a line says, UTF-8 or not, a comment or not; of two statements the first counts. */
void sb_stated_read_line (SbStated *stated, const char *line, gsize length);
