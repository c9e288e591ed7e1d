/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The rows of the measures table. */
#pragma once

#include "measure.h"
#include "number_text.h"

typedef struct {
  const char *key;           /* "mean_torque_slope": JSON, command line, docs */
  const char *name;          /* "Mean torque slope" */
  const char *symbol;        /* "(T₉₀ − T₁₀)/(t₉₀ − t₁₀)" or a letter */
  const char *unit;          /* of the value: "N·m/s" */
  const char *display_unit;  /* "N·m/ms" */
  double display_factor;     /* display value = value * factor */
  SbChannel channel;         /* the signal it is read from; where its evidence is drawn */
  gboolean of_configuration; /* a figure of the repeats together, not of one trial */
  gboolean never_negative;   /* so that no interval goes below 0 */
  gboolean over_window;      /* a mean over the whole window: compare only windows that end alike */
  const char *definition;    /* one or two sentences */
  const char *formula;       /* how it is worked out, in the symbols of docs/methods.md */
  const char *uncertainty;   /* what its standard uncertainty in one trial is made of, or why there is none */
  const char *limits;        /* what it does not tell, and which doubts it can have */
  const char *source;        /* "IEEE Std 181-2011", ... */
} SbMeasureInfo;

const SbMeasureInfo *sb_measure_info (SbMeasureId id);

/* TRUE and the id when `key` names a measure. */
gboolean sb_measure_id_from_key (const char *key, SbMeasureId *id);

/* "12.3 ms": value in the display unit (others: units.h), rounded to where its uncertainty (NaN: unknown, then 4
 * digits) has two significant digits (GUM 7.2.6). With `with_unit` FALSE the unit is left to the heading. (transfer
 * full) */
char *sb_measure_format (SbMeasureId id, double value, double uncertainty, gboolean with_unit);

/* A number rounded alike, in whatever unit it is; "–" when it is not finite. (transfer full) */
char *sb_number_format (double value, double uncertainty);

/* `number`, the words of `value`, behind a "+" where it is above zero and not rounded to zero. Takes `number` over.
 * (transfer full) */
char *sb_number_with_sign (char *number, double value);

/* What a value that is told with its interval is rounded by, and the ends with it: half the interval, which is the
 * uncertainty that is stated (GUM 7.2.6); NaN when it has no width. The one rule for differences everywhere. */
double sb_interval_rounding (const double interval[2]);
