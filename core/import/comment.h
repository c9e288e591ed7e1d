/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the comment lines of a log say: "# device: ...", "# setting torque slope: 0.6 N·m/ms". */
#pragma once

#include "log_build.h"

/* Reads one comment line, of which the first `prefix_length` bytes begin the comment, into the log's description. Keys
 * we do not know are free text. */
void sb_comment_read (SbLog *log, const char *line, gsize length, gsize prefix_length, guint64 line_number);

/* The same for a line before the table that is no comment: "Device;Drive A", "operator = M. Example". */
void sb_preamble_read (SbLog *log, const char *line, gsize length, guint64 line_number);
