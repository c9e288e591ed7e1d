/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A bench log as read from one file: columns of doubles in SI, what was found in the file and what was left out.
 *
 * A log is immutable once read and may be shared between threads. It knows nothing of steps, onsets or repeats:
 * that is a trial's affair (trial.h). */
#pragma once

#include "channel.h"
#include "column_pool.h"
#include "jump.h"
#include "layout.h"
#include "note.h"
#include "propose.h"
#include "setback.h"
#include "aside.h"

/* One thing that was wrong with the file, or worth telling. Faults of one kind are counted, not repeated: the
 * log keeps the first SB_LOG_MAX_FAULTS by line and the total in n_faults. */
typedef struct {
  guint64 line; /* 1-based line of the file; 0 when it concerns the whole file */
  char *column; /* name as in the header; NULL when it concerns the whole line */
  int kind;     /* SbFaultKind */
  char *what;   /* "'n/a' is no number", "time does not increase (0.512 after 0.512)" */
} SbFault;

#define SB_LOG_MAX_FAULTS 1000

/* What faults have in common, so that thousands of them can be told in one line. */
typedef enum {
  SB_FAULT_NO_NUMBER,     /* a cell that is no number */
  SB_FAULT_EMPTY_CELL,    /* a cell without anything in a column with a role */
  SB_FAULT_OVERLOAD,      /* what an instrument writes when the signal is beyond its range */
  SB_FAULT_TOO_LARGE,     /* a number that is no measurement */
  SB_FAULT_CELL_COUNT,    /* a row with too few or too many cells */
  SB_FAULT_OPEN_QUOTE,    /* a row with a quote that is not closed */
  SB_FAULT_TIME_BACKWARD, /* a row before the one before it */
  SB_FAULT_TIME_ALONE,    /* a row far ahead of the rows before and behind it */
  SB_FAULT_TIME_REPEATED, /* a row at the time of the one before it */
  SB_FAULT_LONG_LINE,     /* a line longer than 1 MiB */
  SB_FAULT_CUT_ROW,       /* the last row, which ends in the middle */
  SB_FAULT_ZERO_TAIL,     /* the file ends in zero bytes: room that was reserved and not filled */
  SB_FAULT_COLUMN,        /* a column that is read past although its name speaks of a quantity */
  SB_FAULT_DESCRIPTION,   /* a comment that contradicts or says nothing */
  SB_N_FAULT_KINDS,
} SbFaultKind;

/* All faults of one kind in one column. */
typedef struct {
  SbFaultKind kind;
  char *column; /* NULL when they concern whole lines */
  guint64 n;
  guint64 first_line;
} SbFaultGroup;

/* "3,214 cells that are no numbers, first at line 88, column 'torque'". (transfer full) */
char *sb_fault_group_text (const SbFaultGroup *group);

/* Circumstances, of which a log keeps a summary and not the rows. */
typedef enum {
  SB_ASIDE_CURRENT,     /* A; not of a current that stands for the torque */
  SB_ASIDE_TEMPERATURE, /* °C */
  SB_ASIDE_SUPPLY,      /* V */
  SB_N_ASIDES,
} SbAsideKind;

/* How a column of the file was understood. */
typedef struct {
  char *name;    /* as in the header, white space trimmed */
  char *unit;    /* as understood, "ms", "rpm"; "" when the header named none and SI was assumed */
  SbRole role;   /* SB_ROLE_OTHER: read past */
  int channel;   /* SbChannel that was read from it, or -1 */
  double factor; /* SI value = factor * written value; a power of ten is applied before rounding: 1.1 ms is 0.0011 s */
} SbLogColumn;

/* "setting NAME: VALUE [UNIT]" of the comment lines. */
typedef struct {
  char *name;   /* "torque slope" */
  char *text;   /* value and unit as written, "0.6 N·m/ms" */
  double value; /* NaN when the value is a word, such as "off" */
  char *unit;   /* "" when none */
} SbSetting;

typedef struct {
  /* Where it came from. */
  char *path;      /* as given to the reader */
  char *name;      /* base name, for people */
  char sha256[65]; /* of the bytes of the file, lower-case hexadecimal */
  guint64 size_bytes;

  /* Values. channel[c] is NULL when no column has that role; channel[SB_CHANNEL_TIME] is never NULL.
   * n_rows values each; time strictly increases. */
  gsize n_rows;
  double *channel[SB_N_CHANNELS];
  double torque_constant_nm_per_a; /* with which the torque was made of a motor current; NaN when it was logged */
  char *estimated_torque;          /* the column of the torque when its name says that it is no measured one; or NULL */
  SbAside aside[SB_N_ASIDES];

  /* rows + rows_left_out = data rows of the file, always. */
  gsize n_rows_left_out;
  GPtrArray *faults; /* SbFault, by line */
  guint64 n_faults;
  GArray *setbacks;           /* SbSetback: where the clock was set back and went on (setback.h) */
  GArray *jumps;              /* SbJump: where the clock jumps ahead (jump.h) */
  GPtrArray *fault_groups;    /* SbFaultGroup, in the order of their first faults; theirs add up to n_faults */
  GPtrArray *notes;           /* SbNote: sentences worth telling that are no faults: more tables, headers passed over */
  guint64 n_repeated_headers; /* lines within the table that say the header again; no data rows */
  guint64 end_line;           /* the first line that is none of the table's any more; 0: it goes on to the end */
  guint64 n_rows_of_others;   /* of recordings that the file goes on with where the time starts again; not read */
  guint64 n_other_tables;     /* behind the table that was read; none of their rows counts */

  /* The dialect as found. */
  SbLayout *layout;    /* which it was read with */
  char delimiter;      /* ',', ';' or '\t' */
  char decimal;        /* '.' or ',' */
  guint64 header_line; /* 1-based; 0 when there was no header */
  GPtrArray *columns;  /* SbLogColumn, in file order */

  /* What the comment lines say. */
  GPtrArray *settings;                            /* SbSetting, in file order */
  char *device, *firmware, *operator_name, *date; /* NULL when not stated */
  double rotation_deg;                            /* NaN when not stated */
  double inertia_kg_m2;                           /* NaN when not stated */

  SbColumnPool *column_pool; /* where the columns' memory came from; NULL: the system */
  gatomicrefcount ref_count;
} SbLog;

typedef enum {
  SB_LOG_ERROR_OPEN,      /* no such file, no permission, a directory */
  SB_LOG_ERROR_NOT_A_LOG, /* binary, empty, header only */
  SB_LOG_ERROR_NO_TIME,   /* no column can be the time */
  SB_LOG_ERROR_NO_SIGNAL, /* time alone: neither torque nor velocity nor angle nor command */
  SB_LOG_ERROR_NO_ROWS,   /* every data row was faulty */
  SB_LOG_ERROR_LAYOUT,    /* the layout does not fit the file, or a value is missing from it */
} SbLogError;

#define SB_LOG_ERROR (sb_log_error_quark ())
GQuark sb_log_error_quark (void);

/* Called from the reading thread now and then; fraction is 0..1. */
typedef void (*SbProgressFunc) (double fraction, gpointer user_data);

/* Reads the file at `path` in blocks of 1 MiB. Columns without a role are read past. Faulty rows (a cell that is no
 * number in a column with a role, too few or too many cells, time that does not increase) are left out whole, counted
 * and listed. Where the time starts again (restart.h) another table begins. A line is a row: quoted cells of rows do
 * not span lines (names of a header may), and a line longer than 1 MiB is a faulty row. On failure
 * returns NULL and sets an error in SB_LOG_ERROR or G_IO_ERROR_CANCELLED whose message names file, line where there is
 * one, and remedy. `cancellable` and `progress` may be NULL. (transfer full) */
SbLog *
sb_log_read (const char *path, GCancellable *cancellable, SbProgressFunc progress, gpointer user_data, GError **error);

/* The same, with columns of memory from `pool` (may be NULL), which they go back to with the log. (transfer full) */
SbLog *sb_log_read_pooled (const char *path, SbColumnPool *pool, GCancellable *cancellable, GError **error);

/* The same from memory, as if it were a file called `name`; `block_size` 0 means the usual 1 MiB (tests feed every
 * size). (transfer full) */
SbLog *sb_log_read_memory (const char *name, const char *bytes, gsize n_bytes, gsize block_size, GError **error);

typedef struct {
  SbLayout *layout;              /* exactly this one, its lines included; NULL: one is proposed */
  GPtrArray *known;              /* SbLayout: that with the signature of what was proposed is applied to it; or NULL */
  const SbDialectChoices *fixed; /* for the proposal; or NULL */
  SbColumnPool *pool;            /* where the columns' memory comes from; NULL: the system */
  const GPtrArray *notes;        /* SbNote: told of the log first of all, for what led to the layout; or NULL */
} SbReadOptions;

/* The same as sb_log_read by what is stated in `options` (may be NULL). (transfer full) */
SbLog *sb_log_read_with (const char *path, const SbReadOptions *options, GCancellable *cancellable,
                         SbProgressFunc progress, gpointer user_data, GError **error);

/* The same from memory. (transfer full) */
SbLog *sb_log_read_memory_with (const char *name, const char *bytes, gsize n_bytes, gsize block_size,
                                const SbReadOptions *options, GError **error);

/* "Most rows are left out (1,194 rows at the same time as the one before, first at line 3): ...", when they are; else
 * NULL. (transfer full) */
char *sb_log_most_left_out (const SbLog *log);

SbLog *sb_log_ref (SbLog *log);
void sb_log_unref (SbLog *log);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SbLog, sb_log_unref)
