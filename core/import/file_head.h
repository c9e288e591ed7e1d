/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The part of a file that is looked at for a proposal: lines of text as they come, the last ones kept, and what they
 * state. Inside of propose.c. */
#pragma once

#include "log_build.h"
#include "stated.h"
#include "tables.h"

#include "encoding.h"

/* The part of a file that is looked at. */
typedef struct {
  SbSource *source;
  const char *name;
  const SbDialectChoices *fixed;
  GCancellable *cancellable;

  SbEncoding encoding;
  SbUtf16 utf16;
  char *chunk;    /* bytes as read */
  gsize n_chunk;  /* of the last chunk */
  guint n_chunks; /* so far */
  gboolean at_end;
  const char *kind_of_bytes, *kind_of_text; /* what it is instead of a table (file_kind.h); NULL: none of these */

  GString *text; /* UTF-8, or bytes that are as good */
  GArray *lines; /* SbLine: the complete ones of text */
  guint64 first_line;
  SbStated stated; /* by the lines before stated_end */
  guint64 stated_end;
  guint64 zero_line;   /* the first line with a zero byte; 0: none */
  guint64 long_line;   /* the first line that is too long; 0: none */
  guint64 cut_line;    /* a line too long to keep, of which the end is wanted; 0: none */
  SbFoundTable *open;  /* goes on from the lines no longer kept */
  SbFoundTable *owned; /* the same, while it is ours to free */
} SbFileHead;

/* `fixed` may be NULL; all is borrowed. */
void sb_file_head_init (SbFileHead *head, SbSource *source, const char *name, const SbDialectChoices *fixed,
                        GCancellable *cancellable);
void sb_file_head_clear (SbFileHead *head);

/* Reads the next bytes into `chunk`; sets at_end when there are none. */
gboolean sb_file_head_read (SbFileHead *head, GError **error);

/* Puts them behind the text, as UTF-8. */
void sb_file_head_append (SbFileHead *head);

/* Finds the complete lines of the text. One that is too long counts as a blank one. */
void sb_file_head_cut (SbFileHead *head);

/* Takes in what the lines before `end` say that columns may want. */
void sb_file_head_read_stated (SbFileHead *head, guint64 end);

/* Forgets all but the last `n_kept` lines, and the bytes of a line that is too long. */
void sb_file_head_forget (SbFileHead *head, guint n_kept);
