/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Making an SbLog: for the files of this folder only. Nobody changes a log once the reader has handed it out. */
#pragma once

#include "log.h"
#include "source.h"

/* An empty log with one reference. */
SbLog *sb_log_new (const char *path);

/* Counts a fault and keeps it while there is room. `line` and `column` as in SbFault. */
void sb_log_add_fault (SbLog *log, SbFaultKind kind, guint64 line, const char *column, const char *format, ...)
    G_GNUC_PRINTF (5, 6);

/* Text of a file as UTF-8: bytes that are no UTF-8 are taken for Windows-1252, the usual code page of instruments.
 * (transfer full) */
char *sb_text_to_utf8 (const char *text, gsize length);

/* The same for a file of which the encoding is known: what was UTF-16 is UTF-8 already. (transfer full) */
char *sb_text_to_utf8_from (const char *text, gsize length, SbEncoding encoding);

/* "'n/a'": text of a file for a message, shortened when long. (transfer full) */
char *sb_text_quote (const char *text, gsize length);

/* The proposal for the bytes of `source`, from which they can be read again afterwards. (transfer full) */
SbProposal *sb_propose_source (SbSource *source, const char *name, const SbDialectChoices *fixed,
                               GCancellable *cancellable, GError **error);

/* Where the text begins without the blanks around it; *length is what is left. Libcsv trims blanks around a cell but
 * keeps those inside quotes. */
const char *sb_text_trim (const char *text, gsize *length);
