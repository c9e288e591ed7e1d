/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is worth telling of a log or a trial and is no fault: a sentence, and what it is about, so that whoever shows it
 * need not read it. */
#pragma once

#include <glib.h>

typedef enum {
  SB_NOTE_REMARK,         /* how something was read, or derived */
  SB_NOTE_COLUMN,         /* what is to be asked of a column; told with it */
  SB_NOTE_OTHER_TABLES,   /* the file goes on with what was not read */
  SB_NOTE_CLOCK,          /* it jumps, was set back, or is a counter that was followed */
  SB_NOTE_TIMES,          /* too coarse, no column at all, or of another rate than was stated */
  SB_NOTE_HELD,           /* a signal is refreshed less often than the log has rows */
  SB_NOTE_CUT,            /* the file may have been cut within its last number */
  SB_NOTE_ENCODING,       /* of the names is in doubt */
  SB_NOTE_SIGNS,          /* a number was read by the signs of the table */
  SB_NOTE_UNKNOWN_UNITS,  /* a line of units none of which is known */
  SB_NOTE_WRAP,           /* an angle may begin again */
  SB_NOTE_LAYOUT_PASSED,  /* a layout for these columns is not followed */
  SB_NOTE_UNITS_ASSUMED,  /* no unit is named: SI was taken */
  SB_NOTE_UNITS_CONFLICT, /* signals speak against a unit: angle and velocity, torque and command, torque and motion */
  SB_N_NOTE_KINDS,
} SbNoteKind;

typedef struct {
  SbNoteKind kind;
  char *text;
} SbNote;

/* A list of SbNote. (transfer full) */
GPtrArray *sb_notes_new (void);

/* Puts a note behind the others; `text` is taken over. */
void sb_notes_take (GPtrArray *notes, SbNoteKind kind, char *text);

/* Puts copies of `some` before the others. */
void sb_notes_prepend (GPtrArray *notes, const GPtrArray *some);

/* Borrowed. */
const SbNote *sb_notes_get (const GPtrArray *notes, guint index);
const char *sb_notes_text (const GPtrArray *notes, guint index);

/* "layout-passed-over": the kind in JSON. */
const char *sb_note_kind_key (SbNoteKind kind);

/* Whether a person who runs a batch should know of it although it asks nothing: what is left out or doubtful in the
 * figures. */
gboolean sb_note_kind_is_told (SbNoteKind kind);

/* Whether a layout can state what it leaves open. */
gboolean sb_note_kind_is_of_layout (SbNoteKind kind);
