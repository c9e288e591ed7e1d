/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The first lines of a file as they were read: each with its number and, in words, what it was taken for. */
#pragma once

#include "log.h"

#include <gtk/gtk.h>

#define SB_TYPE_HEAD_LINES (sb_head_lines_get_type ())
G_DECLARE_FINAL_TYPE (SbHeadLines, sb_head_lines, SB, HEAD_LINES, GtkBox)

GtkWidget *sb_head_lines_new (void);

/* `log` says which rows were left out; NULL while it is not read, or cannot be. */
void sb_head_lines_set (SbHeadLines *lines, const SbProposal *proposal, const SbLayout *layout, const SbLog *log);

typedef enum {
  SB_LINE_PASSED, /* before the table or behind it */
  SB_LINE_COMMENT,
  SB_LINE_HEADER,
  SB_LINE_UNITS,
  SB_LINE_ROW,
  SB_LINE_LEFT_OUT,
} SbLineUse;

/* What line `number` of the file, with this text, is taken for. */
SbLineUse sb_head_line_use (const SbLayout *layout, const SbLog *log, guint64 number, const char *text);
