/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the lines before a table state that columns cannot be read without: "# sample_rate_hz: 2000",
 * "Abtastrate;2 kHz", "Sampling interval [ms]: 0.5", "dt_us,500", "Tick length,100,us", "counts per turn = 65536",
 * "torque constant: 0.45 Nm/A", "torque per volt: 2 Nm/V". */
#pragma once

#include "noted_number.h"
#include "stated_units.h"

typedef enum {
  SB_STATED_SAMPLE_RATE,
  SB_STATED_COUNTS_PER_TURN,
  SB_STATED_WRAP_COUNTS,
  SB_STATED_TORQUE_CONSTANT,
  SB_STATED_TORQUE_PER_VOLT,
  SB_STATED_FULL_SCALE,
  SB_N_STATED,
} SbStatedKind;

/* A value as it is written; its signs can be understood only beside a table. */
typedef struct {
  char number[40]; /* as written */
  guint64 line;    /* 0: nothing is stated */
  double factor;   /* of its unit */
  gboolean inverse;
  SbNoted reading;  /* how sb_stated_settle took it */
  gboolean parted;  /* it should be a whole number and is none: refused */
  gboolean of_tick; /* the length of a tick, of which a row may have more than one */
  char unit[16];    /* one that is not known, or "?" for an interval without one: refused; "" else */
} SbStatement;

typedef struct {
  double sample_rate_hz; /* each NaN when not stated, not settled or in doubt */
  double counts_per_turn;
  double wrap_counts;
  double torque_constant_nm_per_a;
  double torque_per_volt_nm;
  double full_scale_nm;
  SbStatedUnits units; /* of columns */
  SbStatement said[SB_N_STATED];
} SbStated;

void sb_stated_init (SbStated *stated);

/* Takes in what a line says, UTF-8 or not, a comment or not; of two statements the first counts. `number` is that of
 * the line, from 1. */
void sb_stated_read_line (SbStated *stated, const char *line, gsize length, guint64 number);

/* Makes numbers of all that was read, beside a table of this style. */
void sb_stated_settle (SbStated *stated, const SbNotedStyle *style);

/* "line 3 states '2,500', which may be 2500 or 2.5: write it as one of these": why a value that is stated is not taken,
 * or what one was taken for that its table decided; NULL when there is nothing to tell. (transfer full) */
char *sb_stated_doubt (const SbStated *stated, SbStatedKind kind);
