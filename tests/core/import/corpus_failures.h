/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is said of the files of corpus/ that cannot be read: by reading the files, as in corpus_table.h. */
#pragma once

#include "log.h"

typedef struct {
  const char *file;
  SbLogError code;
  const char *parts[3]; /* of the message */
} CorpusFailure;

static const CorpusFailure corpus_failures[] = {
  { "no-log-empty.csv", SB_LOG_ERROR_NOT_A_LOG, { "no header and no rows", "Export", NULL } },
  { "no-log-comment-only.csv", SB_LOG_ERROR_NOT_A_LOG, { "no header and no rows", "Export", NULL } },
  { "no-log-header-only.csv", SB_LOG_ERROR_NOT_A_LOG, { "no rows after the header in line 1", "Export", NULL } },
  { "no-log-prose.txt", SB_LOG_ERROR_NOT_A_LOG, { "no table was found", "time_s,torque_Nm", NULL } },
  { "no-log-picture.csv", SB_LOG_ERROR_NOT_A_LOG, { "this is no text", "Export", NULL } },
  { "no-log-zero-byte.csv", SB_LOG_ERROR_NOT_A_LOG, { "line 3: this is no text", "zero byte", "Export" } },
  { "no-log-no-time.csv", SB_LOG_ERROR_NO_TIME, { "line 1", "'speed_rpm', 'torque_Nm'", "time_s" } },
  { "no-log-no-time-interval-unclear.csv",
    SB_LOG_ERROR_NO_TIME,
    { "line 3", "no column of the header is the time", "state the sample rate (sample_rate_hz in a layout, or" } },
  { "no-log-time-alone.csv", SB_LOG_ERROR_NO_SIGNAL, { "line 1", "'time_s', 'note'", "torque_Nm" } },
  { "no-log-no-row.csv",
    SB_LOG_ERROR_NO_ROWS,
    { "2 left out", "Line 2, column 'torque_Nm': 'n/a' is no number", "header in line 1" } },
  { "no-log-more-cells-than-names.csv",
    SB_LOG_ERROR_NO_ROWS,
    { "3 left out", "the row has 3 cells, the header 2", NULL } },
  { "no-log-commas-for-both.csv",
    SB_LOG_ERROR_NO_ROWS,
    { "3 left out", "the row has 4 cells, the header 2", "semicolons between the cells" } },
  { "no-log-damaged.csv.gz", SB_LOG_ERROR_NOT_A_LOG, { "is damaged", "compress it again", NULL } },
  { "no-log-cut.csv.gz", SB_LOG_ERROR_NOT_A_LOG, { "ends too early", "Copy", NULL } },
  { "no-log-rate-unclear.csv",
    SB_LOG_ERROR_LAYOUT,
    { "column 'sample': the time in samples cannot be read without the sample rate",
      "line 1 states '2,500', which may be 2500 or 2.5: write it as one of these", NULL } },
  { "no-log-unit-unknown.csv",
    SB_LOG_ERROR_NO_SIGNAL,
    { "the unit 'kg-cm' is not one for torque", "when its numbers are in that unit (else convert them first)", NULL } },
  { "no-log-units-mixed.csv", SB_LOG_ERROR_LAYOUT, { "line 1, column 'torque'", "its cells are in N·m and in mN·m",
    "write all of them in one unit" } },
  { "no-log-units-contradict.csv", SB_LOG_ERROR_LAYOUT, { "line 1, column 'torque_mNm'",
    "its name states mN·m, its cells are in N·m", "write the same unit" } },
  { "no-log-units-row-contradicts.csv", SB_LOG_ERROR_LAYOUT, { "line 1, column 'torque [Nm]'",
    "its name states N·m, the row of units mN·m", "write the same unit" } },
  { "no-log-units-too-few.txt", SB_LOG_ERROR_NO_TIME, { "line 1", "the unit 'one of 3 for 4 columns' is not one for time", NULL } },
  { "no-log-units-with-blanks.txt", SB_LOG_ERROR_NO_TIME, { "line 1", "the unit 'one of 5 for 3 columns'", NULL } },
  { "question-comma.csv", SB_LOG_ERROR_LAYOUT, { "column 'speed_rpm': '1,234' may be", "State the decimal sign in the import sheet or a layout." } },
  { "question-point.csv", SB_LOG_ERROR_LAYOUT, { "column 'speed_rpm': '1.234' may be", "decimal sign", "State the decimal sign in the import sheet or a layout." } },
  { "torque-volts-unstated.csv",
    SB_LOG_ERROR_LAYOUT,
    { "line 1, column 'Torque transducer (V)'", "the torque in N·m that one volt stands for", "State it in the import sheet or a layout" } },
  { "torque-volts-unnamed.csv",
    SB_LOG_ERROR_LAYOUT,
    { "line 1, column 'ch1 (V)'", "as is 'ch2 (V)', and no column names a torque", "role torque, the unit V and its torque per volt" } },
  { "no-log-signal-a-row.csv",
    SB_LOG_ERROR_LAYOUT,
    { "line 1, column 'value'", "the column 'signal' names ('torque_Nm', 'speed_rpm', 'command_Nm')",
      "a column of its own" } },
  { "no-log-names-in-cells.txt", SB_LOG_ERROR_NOT_A_LOG, { "line 2: ", "names beside their numbers", "in a header" } },
  { "no-log-names-in-columns.csv",
    SB_LOG_ERROR_LAYOUT,
    { "line 1, column 't:0'", "names beside their numbers", "in a header" } },
  { "no-log-zeros-inside.csv", SB_LOG_ERROR_NOT_A_LOG, { "line 3: this is no text", "zero byte", "Export" } },
  /* Files of other kinds say what they are. */
  { "no-log-json-lines.jsonl", SB_LOG_ERROR_NOT_A_LOG, { "this is JSON", "Export", "as CSV" } },
  { "no-log-json.json", SB_LOG_ERROR_NOT_A_LOG, { "this is JSON", "Export", "as CSV" } },
  { "no-log-xml.xml", SB_LOG_ERROR_NOT_A_LOG, { "this is XML", "Export", "as CSV" } },
  { "no-log-page.html", SB_LOG_ERROR_NOT_A_LOG, { "this is an HTML page", "Export", "as CSV" } },
  { "no-log-variables.bin", SB_LOG_ERROR_NOT_A_LOG, { "this is a binary file of a numerics program", "as CSV", NULL } },
  { "no-log-sheet.xlsx", SB_LOG_ERROR_NOT_A_LOG, { "an office program (such as .xlsx)", "as CSV", NULL } },
  { "no-log-sheet.ods", SB_LOG_ERROR_NOT_A_LOG, { "this is a spreadsheet (.ods)", "as CSV", NULL } },
  { "no-log-archive.zip", SB_LOG_ERROR_NOT_A_LOG, { "this is a ZIP archive", "Unpack it", NULL } },
};
