/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How one file is written: its dialect, and what each of its columns is. It is proposed by the program from the head of
 * the file (propose.h), may be changed and confirmed by a person, and is all that reading needs besides the bytes: the
 * same file and the same layout give the same log.
 *
 * Immutable once shared between threads or kept in a bench; sb_layout_copy() gives one to change. */
#pragma once

#include "role.h"
#include "unit.h"

typedef enum {
  SB_ENCODING_UTF8,     /* with or without byte order mark */
  SB_ENCODING_LATIN1,   /* Windows-1252, which holds ISO 8859-1's letters */
  SB_ENCODING_UTF16_LE, /* with or without byte order mark */
  SB_ENCODING_UTF16_BE,
  SB_ENCODING_WINDOWS_1250, /* central Europe; never found by itself, only stated */
  SB_N_ENCODINGS,
} SbEncoding;

/* Where a column's role and unit come from. */
typedef enum {
  SB_CERTAINTY_STATED,    /* the header or a units row says both */
  SB_CERTAINTY_ASSUMED,   /* the role is stated, the unit is not: SI was taken */
  SB_CERTAINTY_GUESSED,   /* from the shape of the data or a bare letter: to be confirmed */
  SB_CERTAINTY_MISSING,   /* the role is known, but a value is wanted before it can be read (counts per turn) */
  SB_CERTAINTY_CONFIRMED, /* by a person */
} SbCertainty;

typedef struct {
  char *name; /* as in the header, white space trimmed; "column 3" when there is no header */
  SbRole role;
  const SbUnit *unit;     /* NULL: SI, or nothing for a role without unit */
  double counts_per_turn; /* of an angle in counts; NaN when not known */
  double wrap;            /* of an angle: what is written goes back to its start after so many counts, or of its unit
                             when that is another; 0: it does not, as was stated; NaN: not known */
  double
      torque_constant_nm_per_a; /* of a current that stands for the torque, or of a command in A; NaN when not known */
  double torque_per_volt_nm;    /* of a torque or command in V; NaN when not known */
  double torque_zero_v;         /* of the same: the volts at no torque, taken off first; NaN: none */
  double full_scale;            /* what 100 % is, in the SI unit of the role; NaN when not known */
  double factor;                /* what was read is multiplied by it; negative: the sign is turned; NaN: by nothing */
  guint clock_form;             /* of a clock time: SbClockForm of most of its first rows; 0: not known */
  SbCertainty certainty;
  const SbUnit *named_unit; /* what the header says where a person states another; else NULL */
  char *question; /* what a person should look at or state, in a sentence; NULL when there is nothing to ask */
} SbLayoutColumn;

typedef struct {
  char *name; /* what a person called it; "" */

  SbEncoding encoding;
  char delimiter;               /* ',', ';', '\t', '|', or ' ' for runs of blanks */
  char decimal;                 /* '.' or ','; 0: no line looked at has one, the first number that has one tells */
  char thousands;               /* ',', '.', '\'', ' ' (any blank) or 0 for none */
  gboolean is_thousands_stated; /* by a person; else a number far behind may show them */
  char quote;                   /* '"', '\'' or 0 for none */
  char *comment_prefix;         /* "#", "%", "//"; "" when there are no comments */

  guint64 header_line; /* 1-based; 0: there is no header */
  guint64 units_line;  /* 0: there is no units row */
  guint64 first_line;  /* of the data rows */
  guint64 last_line;   /* of the table; 0: it goes on to the next table or the end of the file */
  guint64 lone_line;   /* of a row before them whose time is ahead of all of theirs; 0: there is none */
  guint table;         /* which table of the file, from 0 */
  guint n_tables;      /* how many were found among the lines looked at */

  double sample_rate_hz;      /* for a time given as a sample index, or as none; NaN when not known */
  gboolean is_rate_confirmed; /* by a person */
  char *question;             /* what the lines before the table leave open of the rate, in a sentence; NULL: nothing */
  GPtrArray *columns;         /* SbLayoutColumn, in file order */
  gatomicrefcount ref_count;
} SbLayout;

/* UTF-8, comma, point, '"', "#", header in line 1, no columns; one reference. (transfer full) */
SbLayout *sb_layout_new (void);
SbLayout *sb_layout_copy (const SbLayout *layout);
SbLayout *sb_layout_ref (SbLayout *layout);
void sb_layout_unref (SbLayout *layout);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SbLayout, sb_layout_unref)

/* Adds a column of role "other" without unit; borrowed. */
SbLayoutColumn *sb_layout_add_column (SbLayout *layout, const char *name);
SbLayoutColumn *sb_layout_column (const SbLayout *layout, guint index);

/* Whether its unit is named and of this dimension. */
gboolean sb_layout_column_has (const SbLayoutColumn *column, SbDimension dimension);

/* "column 'T' was read in mN·m, as was stated, though its name says N·m"; NULL when the name's unit counts. (transfer
 * full) */
char *sb_layout_column_overruled (const SbLayoutColumn *column);

/* Gives it the role other, without a unit, and what is to be asked or told of it (taken over; may be NULL). */
void sb_layout_column_set_aside (SbLayoutColumn *column, SbCertainty certainty, char *question);

/* TRUE when reading with either gives the same log: names given by people, certainties and questions do not
 * count, nor does what the same file always shows (clock_form, lone_line). */
gboolean sb_layout_equal (const SbLayout *a, const SbLayout *b);

/* What files of one shape share: 16 hexadecimal digits of the SHA-256 over the names of the columns, letter case and
 * blanks apart, and over how many there are. Where the header stands, and the dialect, do not count. (transfer full) */
char *sb_layout_signature (const SbLayout *layout);

/* TRUE when the signature takes two names of columns for one: "Torque  [Nm]" and "torque[nm]". */
gboolean sb_layout_same_name (const char *a, const char *b);

/* `layout` with the roles, units and values that `known` gives to columns of these names, confirmed. For two layouts
 * with one signature. (transfer full) */
SbLayout *sb_layout_apply (const SbLayout *layout, const SbLayout *known);

/* Some column has it. */
gboolean sb_layout_has_role (const SbLayout *layout, SbRole role);

/* No column has the role time, and a sample rate is known: the rows are the samples, and their number is the time. */
gboolean sb_layout_counts_rows (const SbLayout *layout);

/* TRUE when nothing is guessed and nothing is missing. */
gboolean sb_layout_is_certain (const SbLayout *layout);
