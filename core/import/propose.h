/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The head of a file -> how it seems to be written: a layout, the lines it was found in, and what a person may pick.
 *
 * A proposal depends on the head of the file and on the choices alone. It is made before any row is read; a preamble of
 * any length is passed over line by line. */
#pragma once

#include "layout.h"

#include <gio/gio.h>

#define SB_AUTOMATIC (-1)

/* What a person has fixed of the dialect; everything else is found. */
typedef struct {
  int encoding;               /* SbEncoding, or SB_AUTOMATIC */
  char delimiter;             /* as in SbLayout; 0: automatic */
  char decimal;               /* '.' or ','; 0: automatic */
  int thousands;              /* as in SbLayout; SB_AUTOMATIC */
  int quote;                  /* as in SbLayout; SB_AUTOMATIC */
  const char *comment_prefix; /* "": no line is a comment; NULL: automatic (borrowed) */
  gint64 header_line;         /* 1-based; 0: there is no header; SB_AUTOMATIC */
  gint64 units_line;          /* 0: there is no units row; SB_AUTOMATIC */
  int table;                  /* from 0; SB_AUTOMATIC: the first with a time and a signal, but for a row alone
                                 whose time is ahead of the rows behind it */
} SbDialectChoices;

#define SB_DIALECT_AUTOMATIC                                                                                           \
  ((SbDialectChoices){ .encoding = SB_AUTOMATIC,                                                                       \
                       .thousands = SB_AUTOMATIC,                                                                      \
                       .quote = SB_AUTOMATIC,                                                                          \
                       .header_line = SB_AUTOMATIC,                                                                    \
                       .units_line = SB_AUTOMATIC,                                                                     \
                       .table = SB_AUTOMATIC })

/* One table among the lines looked at. */
typedef struct {
  guint64 header_line; /* 0: it has none */
  guint64 first_line;  /* of the data rows */
  guint64 last_line;   /* 0: it goes on beyond the lines looked at */
  char *title;         /* the line before its header that names it; "" */
  guint n_columns;
} SbTable;

typedef struct {
  SbLayout *layout;
  GPtrArray *lines;         /* char *: some 40 lines from before the header on, as UTF-8, without their ends */
  guint64 first_shown_line; /* the line number of the first of them */
  GPtrArray *tables;        /* SbTable, in file order; layout->table is the one proposed */
} SbProposal;

/* `fixed` and `cancellable` may be NULL. NULL with SB_LOG_ERROR_OPEN or _NOT_A_LOG (no text, no table in it), or with
 * G_IO_ERROR_CANCELLED. A proposal without time or signal is no error: the roles may be stated. (transfer full) */
SbProposal *
sb_propose_file (const char *path, const SbDialectChoices *fixed, GCancellable *cancellable, GError **error);

/* The same from memory, as if it were a file called `name`. (transfer full) */
SbProposal *
sb_propose_memory (const char *name, const char *bytes, gsize n_bytes, const SbDialectChoices *fixed, GError **error);

void sb_proposal_free (SbProposal *proposal);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SbProposal, sb_proposal_free)
