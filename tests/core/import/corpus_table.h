/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is written in each log of corpus/: made by reading the files, never by running the importer.
 *
 * A value is stated as the number that is written, by C's strtod, times the exact size of its unit; a power of ten is
 * written as an exponent, because it belongs to the one rounding. Factors: 2 pi rad in a turn of 360 degrees or 60
 * seconds; the decimal products of NIST SP 811's pound 0.45359237 kg, ounce of a sixteenth, inch 0.0254 m, foot 0.3048
 * m and standard gravity 9.80665 m/s^2, which have no more digits than these. */
#pragma once

#include "log.h"

typedef struct {
  SbChannel channel;
  guint row;
  const char *number; /* as written, with a decimal point */
  double factor;      /* of the unit; 0 stands for 1 */
} CorpusCell;

typedef struct {
  const char *file;
  char delimiter, decimal, thousands;
  SbEncoding encoding;
  guint header_line, units_line;
  gsize n_rows, n_left_out;
  const char *columns; /* "time ms, torque, -": role and unit of each as written; - is read past */
  CorpusCell cells[3];
  const char *fault; /* "4 torque_Nm: 'n/a' is no number": the first; NULL: there is none */
  const char *note;  /* part of a note; NULL: there is none to look for */
} CorpusLog;

#define RAD_PER_DEG   0.017453292519943295
#define RAD_PER_TURN  6.283185307179586
#define RAD_S_PER_RPM 0.10471975511965977

#define UTF8     SB_ENCODING_UTF8
#define LATIN1   SB_ENCODING_LATIN1
#define LE       SB_ENCODING_UTF16_LE
#define BE       SB_ENCODING_UTF16_BE
#define TIME     SB_CHANNEL_TIME
#define COMMAND  SB_CHANNEL_COMMAND
#define ANGLE    SB_CHANNEL_ANGLE
#define VELOCITY SB_CHANNEL_VELOCITY
#define TORQUE   SB_CHANNEL_TORQUE

/* The three rows that most of the logs have: 0.02, 1.25 and 7.125 N·m. */
#define USUAL                                                                                                          \
  {                                                                                                                    \
    { TORQUE, 0, "0.02", 0 }, { TORQUE, 1, "1.25", 0 },                                                                \
    {                                                                                                                  \
      TORQUE, 2, "7.125", 0                                                                                            \
    }                                                                                                                  \
  }

/* clang-format off */
static const CorpusLog corpus_logs[] = {
  /* Delimiters and decimal signs. */
  { "comma-point.csv", ',', '.', 0, UTF8, 1, 0, 4, 0, "time s, command N·m, torque N·m", { { TORQUE, 2, "-3.5e-1", 0
    }, { COMMAND, 1, "8", 0 }, { TIME, 3, "0.003", 0 } }, NULL, NULL },
  { "semicolon-comma.csv", ';', ',', 0, UTF8, 1, 0, 4, 0, "time s, command N·m, torque N·m", { { TORQUE, 2, "-3.5e-1",
    0 }, { TORQUE, 3, "7.125", 0 }, { TIME, 3, "0.003", 0 } }, NULL, NULL },
  { "semicolon-point.csv", ';', '.', 0, UTF8, 1, 0, 4, 0, "time s, command N·m, torque N·m", { { TORQUE, 2, "-3.5e-1",
    0 }, { TORQUE, 3, "7.125", 0 }, { TIME, 3, "0.003", 0 } }, NULL, NULL },
  { "tab-comma.txt", '\t', ',', 0, UTF8, 1, 0, 3, 0, "time s, torque N·m", USUAL, NULL, NULL },
  { "tab-point.tsv", '\t', '.', 0, UTF8, 1, 0, 3, 0, "time s, torque N·m", USUAL, NULL, NULL },
  { "bar-point.csv", '|', '.', 0, UTF8, 1, 0, 3, 0, "time s, torque N·m, -", USUAL, NULL, NULL },
  { "bar-framed.txt", '|', '.', 0, UTF8, 1, 0, 3, 0, "-, time s, torque N·m", USUAL, NULL, NULL },
  { "blanks-aligned.txt", ' ', '.', 0, UTF8, 1, 0, 3, 0, "time s, torque N·m", { { TIME, 2, "10.2", 0 }, { TORQUE, 0,
    "0.02", 0 }, { TORQUE, 2, "-7.125", 0 } }, NULL, NULL },
  { "blanks-comma.txt", ' ', ',', 0, UTF8, 1, 0, 3, 0, "time s, torque N·m", { { TORQUE, 1, "100.25", 0 }, { TORQUE,
    0, "0.02", 0 }, { TIME, 2, "0.2", 0 } }, NULL, NULL },
  { "blanks-brackets.txt", ' ', '.', 0, UTF8, 1, 0, 3, 0, "time ms, torque N·m, velocity rpm", { { TIME, 2, "0.2e-3",
    0 }, { TORQUE, 2, "7.125", 0 }, { VELOCITY, 2, "60", RAD_S_PER_RPM } }, NULL, NULL },
  { "blanks-names.txt", ' ', '.', 0, UTF8, 1, 0, 3, 0, "time s, torque N·m", USUAL, NULL, NULL },
  { "blanks-and-tabs.dat", ' ', '.', 0, UTF8, 1, 0, 3, 0, "time s, torque N·m", USUAL, NULL, NULL },
  { "comma-and-blank.csv", ',', '.', 0, UTF8, 1, 0, 3, 0, "time s, torque N·m", USUAL, NULL, NULL },
  { "integers.csv", ',', '.', 0, UTF8, 1, 0, 3, 0, "time ms, torque N·m", { { TIME, 2, "2e-3", 0 }, { TORQUE, 2, "-7",
    0 }, { TORQUE, 1, "1", 0 } }, NULL, NULL },
  { "integers-semicolon.csv", ';', '.', 0, UTF8, 1, 0, 3, 0, "time ms, torque N·m", { { TIME, 2, "2e-3", 0 }, {
    TORQUE, 2, "-7", 0 }, { TORQUE, 1, "1", 0 } }, NULL, NULL },
  /* Thousands. */
  { "thousands-comma.csv", ';', '.', ',', UTF8, 1, 0, 3, 0, "time ms, velocity rpm", { { TIME, 2, "1000.5e-3", 0 }, {
    VELOCITY, 1, "998.5", RAD_S_PER_RPM }, { VELOCITY, 2, "1234.5", RAD_S_PER_RPM } }, NULL, NULL },
  { "thousands-point.csv", ';', ',', '.', UTF8, 1, 0, 3, 0, "time ms, velocity rpm", { { TIME, 2, "1000.5e-3", 0 }, {
    VELOCITY, 1, "998.5", RAD_S_PER_RPM }, { VELOCITY, 2, "1234.5", RAD_S_PER_RPM } }, NULL, NULL },
  { "thousands-blank.csv", ';', ',', ' ', UTF8, 1, 0, 3, 0, "time ms, velocity rpm", { { TIME, 2, "1000.5e-3", 0 }, {
    VELOCITY, 1, "998.5", RAD_S_PER_RPM }, { VELOCITY, 2, "1234.5", RAD_S_PER_RPM } }, NULL, NULL },
  { "thousands-nbsp.csv", ';', ',', ' ', UTF8, 1, 0, 3, 0, "time ms, velocity rpm", { { TIME, 2, "1000.5e-3", 0 }, {
    VELOCITY, 2, "1234567.5", RAD_S_PER_RPM }, { TIME, 1, "999.5e-3", 0 } }, NULL, NULL },
  { "thousands-nbsp-latin1.csv", ';', ',', ' ', LATIN1, 1, 0, 3, 0, "time ms, velocity rpm", { { TIME, 2, "1000.5e-3",
    0 }, { VELOCITY, 2, "1234567.5", RAD_S_PER_RPM }, { TIME, 1, "999.5e-3", 0 } }, NULL, NULL },
  { "thousands-thin.csv", ';', ',', ' ', UTF8, 1, 0, 3, 0, "time ms, velocity rpm", { { TIME, 2, "1000.5e-3", 0 }, {
    VELOCITY, 2, "1234.5", RAD_S_PER_RPM }, { TIME, 1, "999.5e-3", 0 } }, NULL, NULL },
  { "thousands-apostrophe.csv", ';', '.', '\'', UTF8, 1, 0, 3, 0, "time ms, velocity rpm", { { TIME, 2, "1000.5e-3", 0
    }, { VELOCITY, 2, "1234567.5", RAD_S_PER_RPM }, { TIME, 1, "999.5e-3", 0 } }, NULL, NULL },
  { "thousands-quoted.csv", ',', '.', ',', UTF8, 1, 0, 3, 0, "time ms, velocity rpm", { { TIME, 2, "1000.5e-3", 0 }, {
    VELOCITY, 1, "998.5", RAD_S_PER_RPM }, { VELOCITY, 2, "1234.5", RAD_S_PER_RPM } }, NULL, NULL },
  { "thousands-later.csv", ';', ',', '.', UTF8, 1, 0, 120, 0, "time ms, velocity rpm", { { VELOCITY, 99, "990.5",
    RAD_S_PER_RPM }, { VELOCITY, 100, "1000.5", RAD_S_PER_RPM }, { VELOCITY, 119, "1190.5", RAD_S_PER_RPM } }, NULL,
    NULL },
  { "thousands-no-decimals.csv", ';', ',', '.', UTF8, 1, 0, 3, 0, "time ms, velocity rpm", { { TIME, 1, "999e-3", 0 },
    { VELOCITY, 1, "1234567", RAD_S_PER_RPM }, { VELOCITY, 2, "12345678", RAD_S_PER_RPM } }, NULL, NULL },
  /* Quotes. */
  { "quoted-double.csv", ',', '.', 0, UTF8, 1, 0, 3, 0, "time s, torque N·m", USUAL, NULL, NULL },
  { "quoted-single.csv", ',', '.', 0, UTF8, 1, 0, 3, 0, "time s, torque N·m, -", USUAL, NULL, NULL },
  { "quoted-delimiters.csv", ',', '.', 0, UTF8, 1, 0, 3, 0, "time s, -, torque N·m", USUAL, NULL, NULL },
  { "quoted-header-over-two-lines.csv", ',', '.', 0, UTF8, 1, 0, 3, 0, "time ms, torque N·m", { { TIME, 2, "2.5e-3", 0
    }, { TORQUE, 0, "0.02", 0 }, { TORQUE, 2, "7.125", 0 } }, NULL, NULL },
  { "quote-open.csv", ',', '.', 0, UTF8, 1, 0, 3, 1, "time s, torque N·m", { { TORQUE, 0, "0.02", 0 }, { TORQUE, 1,
    "7.125", 0 }, { TORQUE, 2, "8.5", 0 } }, "3: a quote is opened and not closed in this line", NULL },
  /* Encodings and line ends. */
  { "utf8-mark.csv", ';', ',', 0, UTF8, 1, 0, 3, 0, "time s, torque N·m", USUAL, NULL, NULL },
  { "utf16le-mark.csv", ';', ',', 0, LE, 1, 0, 3, 0, "time µs, torque N·m", { { TIME, 1, "1.5e-6", 0 }, { TORQUE, 0,
    "0.02", 0 }, { TORQUE, 2, "7.125", 0 } }, NULL, NULL },
  { "utf16be-mark.csv", ';', ',', 0, BE, 1, 0, 3, 0, "time µs, torque N·m", { { TIME, 1, "1.5e-6", 0 }, { TORQUE, 0,
    "0.02", 0 }, { TORQUE, 2, "7.125", 0 } }, NULL, NULL },
  { "utf16le-plain.txt", '\t', '.', 0, LE, 1, 0, 3, 0, "time s, torque N·m", USUAL, NULL, NULL },
  { "utf16be-plain.txt", '\t', '.', 0, BE, 1, 0, 3, 0, "time s, torque N·m", USUAL, NULL, NULL },
  { "latin1.csv", ';', ',', 0, LATIN1, 2, 0, 3, 0, "time µs, angle deg, torque N·m", { { TIME, 1, "1.5e-6", 0 }, {
    ANGLE, 2, "-45", RAD_PER_DEG }, { TORQUE, 2, "7.125", 0 } }, NULL, NULL },
  { "line-end-crlf.csv", ',', '.', 0, UTF8, 1, 0, 4, 0, "time s, command N·m, torque N·m", { { TORQUE, 2, "-3.5e-1", 0
    }, { TORQUE, 3, "7.125", 0 }, { TIME, 3, "0.003", 0 } }, NULL, NULL },
  { "line-end-cr.csv", ',', '.', 0, UTF8, 1, 0, 4, 0, "time s, command N·m, torque N·m", { { TORQUE, 2, "-3.5e-1", 0
    }, { TORQUE, 3, "7.125", 0 }, { TIME, 3, "0.003", 0 } }, NULL, NULL },
  { "line-end-mixed.csv", ',', '.', 0, UTF8, 1, 0, 3, 0, "time s, torque N·m", USUAL, NULL, NULL },
  { "line-end-missing.csv", ',', '.', 0, UTF8, 1, 0, 4, 0, "time s, command N·m, torque N·m", { { TORQUE, 2,
    "-3.5e-1", 0 }, { TORQUE, 3, "7.125", 0 }, { TIME, 3, "0.003", 0 } }, NULL, NULL },
  { "packed.csv.gz", ',', '.', 0, UTF8, 1, 0, 4, 0, "time s, command N·m, torque N·m", { { TORQUE, 2, "-3.5e-1", 0 },
    { TORQUE, 3, "7.125", 0 }, { TIME, 3, "0.003", 0 } }, NULL, NULL },
  { "packed-in-two.csv.gz", ',', '.', 0, UTF8, 1, 0, 4, 0, "time s, command N·m, torque N·m", { { TORQUE, 2,
    "-3.5e-1", 0 }, { TORQUE, 3, "7.125", 0 }, { TIME, 3, "0.003", 0 } }, NULL, NULL },
  { "packed-utf16.csv.gz", ';', ',', 0, LE, 1, 0, 3, 0, "time s, torque N·m", USUAL, NULL, NULL },
  /* Comments, preambles, units rows. */
  { "comments-hash.csv", ',', '.', 0, UTF8, 3, 0, 3, 0, "time s, torque N·m", USUAL, NULL, NULL },
  { "comments-percent.csv", ',', '.', 0, UTF8, 2, 0, 3, 0, "time s, torque N·m", USUAL, NULL, NULL },
  { "comments-slashes.csv", ',', '.', 0, UTF8, 2, 0, 3, 0, "time s, torque N·m", USUAL, NULL, NULL },
  { "comments-semicolon.csv", ',', '.', 0, UTF8, 3, 0, 3, 0, "time s, torque N·m", USUAL, NULL, NULL },
  { "comment-is-header.txt", ' ', '.', 0, UTF8, 2, 0, 3, 0, "time s, torque N·m", USUAL, NULL, NULL },
  { "first-name-missing.csv", ';', ',', 0, UTF8, 1, 0, 3, 0, "-, time s, torque N·m", USUAL, NULL, NULL },
  { "units-row.csv", ';', ',', 0, UTF8, 1, 2, 3, 0, "time ms, torque mN·m, velocity rpm, -", { { TIME, 2, "2.5e-3", 0
    }, { TORQUE, 2, "7125e-3", 0 }, { VELOCITY, 1, "30", RAD_S_PER_RPM } }, NULL, NULL },
  { "units-row-brackets.csv", ',', '.', 0, UTF8, 1, 2, 3, 0, "time ms, torque N·m", { { TIME, 2, "2.5e-3", 0 }, {
    TORQUE, 0, "0.02", 0 }, { TORQUE, 2, "7.125", 0 } }, NULL, NULL },
  { "units-row-after-blank.csv", ',', '.', 0, UTF8, 1, 3, 3, 0, "time ms, torque N·cm", { { TIME, 2, "2.5e-3", 0 }, {
    TORQUE, 0, "2e-2", 0 }, { TORQUE, 2, "712.5e-2", 0 } }, NULL, NULL },
  { "preamble-colons.csv", ',', '.', 0, UTF8, 7, 0, 3, 0, "time s, torque N·m", USUAL, NULL, NULL },
  { "preamble-cells.csv", ',', '.', 0, UTF8, 5, 0, 3, 0, "time s, torque N·m, velocity rad/s", USUAL, NULL, NULL },
  { "preamble-pairs-with-units.csv", ',', '.', 0, UTF8, 5, 0, 3, 0, "time s, torque N·m", USUAL, NULL, NULL },
  { "preamble-pairs-before-samples.csv", '\t', '.', 0, UTF8, 5, 0, 3, 0, "time samples, torque N·m", { { TIME, 1, "0.0005",
    0 }, { TORQUE, 1, "1.25", 0 }, { TORQUE, 2, "7.125", 0 } }, NULL, NULL },
  { "preamble-numbers.csv", ';', ',', 0, UTF8, 4, 0, 3, 0, "time s, command N·m, torque N·m", USUAL, NULL, NULL },
  /* Headers and tables. */
  { "header-repeated.csv", ',', '.', 0, UTF8, 1, 0, 4, 0, "time s, torque N·m", { { TORQUE, 2, "7.125", 0 }, { TORQUE,
    3, "8", 0 }, { TIME, 3, "0.3", 0 } }, NULL, "repeated on 2 lines" },
  { "header-and-units-repeated.csv", ';', ',', 0, UTF8, 1, 2, 3, 0, "time ms, torque N·m", USUAL, NULL,
    "repeated on 1 line" },
  { "table-before.csv", ';', ',', 0, UTF8, 6, 0, 3, 0, "time s, torque N·m", USUAL, NULL, "table 2 of the file" },
  { "table-behind.csv", ',', '.', 0, UTF8, 1, 0, 3, 0, "time s, torque N·m", USUAL, NULL,
    "another table (header at line 7)" },
  { "tables-of-logs.csv", ',', '.', 0, UTF8, 1, 0, 2, 0, "time s, torque N·m", { { TORQUE, 0, "0.02", 0 }, { TORQUE,
    1, "1.25", 0 }, { TIME, 1, "0.1", 0 } }, NULL, "another table (header at line 5)" },
  { "test-started-again.csv", ',', '.', 0, UTF8, 1, 0, 3, 0, "time s, torque N·m", USUAL, NULL, "another table" },
  { "columns-empty-at-end.csv", ',', '.', 0, UTF8, 1, 0, 3, 0, "time s, torque N·m", USUAL, NULL, NULL },
  { "column-name-empty.csv", ',', '.', 0, UTF8, 1, 0, 3, 0, "time s, torque N·m, -", USUAL, NULL, NULL },
  { "delimiter-at-end.csv", ';', ',', 0, UTF8, 1, 0, 3, 0, "time s, torque N·m", USUAL, NULL, NULL },
  { "delimiter-at-end-of-rows.csv", ';', ',', 0, UTF8, 1, 0, 3, 0, "time s, torque N·m", USUAL, NULL, NULL },
  { "blank-lines.csv", ',', '.', 0, UTF8, 3, 0, 3, 0, "time s, torque N·m", USUAL, NULL, NULL },
  /* Faults. */
  { "row-cut.csv", ',', '.', 0, UTF8, 1, 0, 2, 1, "time s, command N·m, torque N·m", { { TORQUE, 0, "0.02", 0 }, {
    TORQUE, 1, "1.25", 0 }, { TIME, 1, "0.1", 0 } }, "4: the file ends in this row, after 2 of 3 cells", NULL },
  { "number-cut.csv", ',', '.', 0, UTF8, 1, 0, 2, 1, "time s, command N·m, torque N·m", { { TORQUE, 0, "0.02", 0 }, {
    TORQUE, 1, "1.25", 0 }, { TIME, 1, "0.1", 0 } }, "4 torque_Nm: the file ends in this cell", NULL },
  { "decimals-cut.csv", ',', '.', 0, UTF8, 1, 0, 2, 1, "time s, command N·m, torque N·m", { { TORQUE, 0, "0.02", 0 }, {
    TORQUE, 1, "1.25", 0 }, { TIME, 1, "0.1", 0 } }, "4 torque_Nm: the file ends in this cell", NULL },
  { "cells-no-numbers.csv", ',', '.', 0, UTF8, 1, 0, 2, 3, "time s, torque N·m", { { TORQUE, 0, "1.25", 0 }, { TORQUE,
    1, "7.125", 0 }, { TIME, 1, "0.4", 0 } }, "2 torque_Nm: 'n/a' is no number", NULL },
  { "cells-too-few.csv", ',', '.', 0, UTF8, 1, 0, 2, 2, "time s, torque N·m, velocity rad/s", { { TORQUE, 0, "0.02", 0
    }, { TORQUE, 1, "8", 0 }, { VELOCITY, 1, "5", 0 } }, "3: the row has 2 cells, the header 3", NULL },
  { "cell-too-large.csv", ',', '.', 0, UTF8, 1, 0, 2, 1, "time s, torque N·m", { { TORQUE, 0, "0.02", 0 }, { TORQUE,
    1, "7.125", 0 }, { TIME, 1, "0.2", 0 } }, "3 torque_Nm: '1e101' is too large", NULL },
  { "time-backward.csv", ',', '.', 0, UTF8, 1, 0, 3, 1, "time s, torque N·m", USUAL,
    "4: time does not increase (0.1 s after 0.2 s)", NULL },
  { "time-repeated.csv", ',', '.', 0, UTF8, 1, 0, 3, 1, "time s, torque N·m", USUAL,
    "4: time does not increase (0.1 s after 0.1 s)", NULL },
  /* Eight rows, then the time falls to the start: a recording of its own when it goes on from there for four rows. */
  { "time-starts-again.csv", ',', '.', 0, UTF8, 1, 0, 8, 0, "time s, torque N·m", USUAL, NULL,
    "the time starts again at line 10 (table 2, 5 rows). The recording that is read has 8 rows" },
  { "time-starts-again-twice.csv", ';', '.', 0, UTF8, 1, 0, 8, 0, "time s, torque N·m", USUAL, NULL,
    "at line 11 (table 2, 6 rows), line 17 (table 3, 4 rows)" },
  { "time-clock-beside.csv", ';', ',', 0, UTF8, 1, 0, 3, 0, "-, time ms, torque N·m", { { TIME, 2, "2.5e-3", 0 }, { TORQUE,
    1, "1.25", 0 }, { TORQUE, 2, "7.125", 0 } }, NULL, "column 'Zeit [ms]': is read as the time, and the other time in "
    "'Uhrzeit' is read past; to read that one, give it the role time and the unit clock time" },
  { "time-seconds-beside.csv", ',', '.', 0, UTF8, 1, 0, 3, 0, "time s, -, torque N·m", USUAL,
    "1 device time [ms]: time is already read from the column 'time_s'; this one is read past; to read this one, give it "
    "the role time in the import sheet or a layout", NULL },
  { "time-clock-starts-again.csv", ',', '.', 0, UTF8, 1, 0, 8, 0, "time clock time, torque N·m", USUAL, NULL,
    "the time starts again at line 10 (table 2, 5 rows)" },
  { "time-samples-start-again.csv", ',', '.', 0, UTF8, 2, 0, 8, 0, "time samples, torque N·m", USUAL, NULL,
    "the time starts again at line 11 (table 2, 6 rows)" },
  { "time-counter-16-bits.csv", ',', '.', 0, UTF8, 1, 0, 6, 0, "time µs, torque N·m", USUAL, NULL,
    "at line 8 as a counter of 16 bits" },
  { "time-counter-followed.csv", ',', '.', 0, UTF8, 1, 0, 16, 0, "time µs, torque N·m", { { TIME, 9, "65600e-6", 0 }, { TIME,
    15, "66200e-6", 0 }, { TORQUE, 2, "7.125", 0 } }, NULL, "of 16 bits that begins again, at line 11; it was followed" },
  { "time-falls-for-three-rows.csv", ',', '.', 0, UTF8, 1, 0, 8, 3, "time s, torque N·m", USUAL,
    "10: time does not increase (0 s after 0.7 s)", NULL },
  { "time-falls-three-intervals.csv", ',', '.', 0, UTF8, 1, 0, 5, 4, "time s, torque N·m", USUAL,
    "6: time does not increase (0 s after 0.3 s)", NULL },
  { "time-block-told-twice.csv", ',', '.', 0, UTF8, 1, 0, 13, 5, "time s, torque N·m", USUAL,
    "14: time does not increase (0.7 s after 1.1 s)", NULL },
  { "words-at-end.csv", ',', '.', 0, UTF8, 1, 0, 3, 1, "time s, torque N·m", USUAL,
    "6: the row has 1 cell, the header 2", NULL },
  /* Numbers and units. */
  /* Units in the cells: bits as without them. */
  { "units-in-cells.csv", ',', '.', 0, UTF8, 1, 0, 3, 0, "time ms, torque N·m, velocity rpm", { { TIME, 1, "100.5e-3",
    0 }, { TORQUE, 2, "7.125", 0 }, { VELOCITY, 1, "-30", RAD_S_PER_RPM } }, NULL, NULL },
  { "units-in-cells-comma.csv", ';', ',', 0, UTF8, 1, 0, 3, 0, "time ms, torque N·m, angle deg", { { TIME, 1, "1.5e-3",
    0 }, { TORQUE, 0, "0.02", 0 }, { ANGLE, 1, "45", RAD_PER_DEG } }, NULL, NULL },
  { "units-in-some-cells.csv", ',', '.', 0, UTF8, 1, 0, 3, 1, "time s, torque N·m", USUAL,
    "5 torque_Nm: '8000 mNm' is in mN·m, the column in N·m", NULL },
  { "exponents.csv", ',', '.', 0, UTF8, 1, 0, 3, 0, "time s, torque N·m", USUAL, NULL, NULL },
  { "long-numbers.csv", ',', '.', 0, UTF8, 1, 0, 3, 0, "time s, torque N·m", { { TORQUE, 0,
    "0.020000000000000000416333634234433702658861875534", 0 }, { TORQUE, 2, "7.1249999999999999999999999", 0 }, {
    TIME, 1, "0.1000000000000000055511151231257827", 0 } }, NULL, NULL },
  { "unit-time-ms.csv", ',', '.', 0, UTF8, 1, 0, 3, 0, "time ms, torque N·m", { { TIME, 1, "1.1e-3", 0 }, { TORQUE, 1,
    "2", 0 }, { TIME, 2, "9.5e-3", 0 } }, NULL, NULL },
  { "unit-time-us.csv", ',', '.', 0, UTF8, 1, 0, 3, 0, "time µs, torque N·m", { { TIME, 1, "1.1e-6", 0 }, { TORQUE, 1,
    "2", 0 }, { TIME, 2, "9.5e-6", 0 } }, NULL, NULL },
  { "unit-time-ns.csv", ',', '.', 0, UTF8, 1, 0, 3, 0, "time ns, torque N·m", { { TIME, 1, "1.1e-9", 0 }, { TORQUE, 1,
    "2", 0 }, { TIME, 2, "9.5e-9", 0 } }, NULL, NULL },
  { "unit-angle-deg.csv", ',', '.', 0, UTF8, 1, 0, 3, 0, "time s, angle deg", { { TIME, 1, "1.5", 0 }, { ANGLE, 1,
    "90", RAD_PER_DEG }, { ANGLE, 2, "90", RAD_PER_DEG } }, NULL, NULL },
  { "unit-angle-mrad.csv", ',', '.', 0, UTF8, 1, 0, 3, 0, "time s, angle mrad", { { TIME, 1, "1.5", 0 }, { ANGLE, 1,
    "90.5e-3", 0 }, { ANGLE, 2, "90.5e-3", 0 } }, NULL, NULL },
  { "unit-angle-turns.csv", ',', '.', 0, UTF8, 1, 0, 3, 0, "time s, angle turns", { { TIME, 1, "1.5", 0 }, { ANGLE, 1,
    "0.25", RAD_PER_TURN }, { ANGLE, 2, "0.25", RAD_PER_TURN } }, NULL, NULL },
  { "unit-speed-rpm.csv", ',', '.', 0, UTF8, 1, 0, 3, 0, "time s, velocity rpm", { { TIME, 1, "1.5", 0 }, { VELOCITY,
    1, "30", RAD_S_PER_RPM }, { VELOCITY, 2, "30", RAD_S_PER_RPM } }, NULL, NULL },
  { "unit-speed-deg.csv", ',', '.', 0, UTF8, 1, 0, 3, 0, "time s, velocity deg/s", { { TIME, 1, "1.5", 0 }, {
    VELOCITY, 1, "90", RAD_PER_DEG }, { VELOCITY, 2, "90", RAD_PER_DEG } }, NULL, NULL },
  { "unit-speed-turns.csv", ',', '.', 0, UTF8, 1, 0, 3, 0, "time s, velocity turns/s", { { TIME, 1, "1.5", 0 }, {
    VELOCITY, 1, "0.5", RAD_PER_TURN }, { VELOCITY, 2, "0.5", RAD_PER_TURN } }, NULL, NULL },
  { "unit-torque-mnm.csv", ',', '.', 0, UTF8, 1, 0, 3, 0, "time s, torque mN·m", { { TIME, 1, "1.5", 0 }, { TORQUE, 1,
    "1250.5e-3", 0 }, { TORQUE, 0, "0", 0 } }, NULL, NULL },
  { "unit-torque-ncm.csv", ',', '.', 0, UTF8, 1, 0, 3, 0, "time s, torque N·cm", { { TIME, 1, "1.5", 0 }, { TORQUE, 1,
    "125.5e-2", 0 }, { TORQUE, 0, "0", 0 } }, NULL, NULL },
  { "unit-torque-kgfcm.csv", ',', '.', 0, UTF8, 1, 0, 3, 0, "time s, torque kgf·cm", { { TIME, 1, "1.5", 0 }, {
    TORQUE, 1, "10", 0.0980665 }, { TORQUE, 0, "0", 0 } }, NULL, NULL },
  { "unit-torque-lbfin.csv", ',', '.', 0, UTF8, 1, 0, 3, 0, "time s, torque lbf·in", { { TIME, 1, "1.5", 0 }, {
    TORQUE, 1, "10", 0.1129848290276167 }, { TORQUE, 0, "0", 0 } }, NULL, NULL },
  { "unit-torque-lbfft.csv", ',', '.', 0, UTF8, 1, 0, 3, 0, "time s, torque lbf·ft", { { TIME, 1, "1.5", 0 }, {
    TORQUE, 1, "10", 1.3558179483314004 }, { TORQUE, 0, "0", 0 } }, NULL, NULL },
  { "unit-torque-ozfin.csv", ',', '.', 0, UTF8, 1, 0, 3, 0, "time s, torque ozf·in", { { TIME, 1, "1.5", 0 }, {
    TORQUE, 1, "10", 0.00706155181422604375 }, { TORQUE, 0, "0", 0 } }, NULL, NULL },
  { "unit-prefix-in-words.csv", ',', '.', 0, UTF8, 1, 0, 3, 0, "time ms, command N·cm, torque mN·m", { { TIME, 1,
    "1.5e-3", 0 }, { COMMAND, 1, "800e-2", 0 }, { TORQUE, 2, "7125.5e-3", 0 } }, NULL, NULL },
  { "units-row-in-numbers.csv", ',', '.', 0, UTF8, 1, 2, 3, 0, "time 10 µs, command 0.1 N·m, torque 0.1 N·m", { { TIME,
    1, "150e-5", 0 }, { COMMAND, 1, "80e-1", 0 }, { TORQUE, 2, "71.25e-1", 0 } }, NULL,
    "its unit is written '0.1Nm': each number is taken for so many times 0.1 N·m" },
  { "names-german.csv", ';', ',', 0, UTF8, 1, 0, 3, 0, "time ms, command N·m, torque N·m, velocity rpm", { { COMMAND,
    1, "8", 0 }, { TORQUE, 1, "7.25", 0 }, { VELOCITY, 1, "30", RAD_S_PER_RPM } }, NULL, NULL },
  { "names-french.csv", ';', ',', 0, UTF8, 1, 0, 3, 0, "time s, torque N·m, velocity rpm", { { TIME, 1, "1.5", 0 }, {
    TORQUE, 1, "7.25", 0 }, { VELOCITY, 1, "30", RAD_S_PER_RPM } }, NULL, NULL },
  /* A torque transducer in volts. */
  { "torque-volts.csv", ';', '.', 0, UTF8, 2, 0, 3, 0, "time ms, torque V", { { TORQUE, 0, "-0.008", 2.5 }, { TORQUE, 2,
    "2.85", 2.5 }, { TIME, 2, "2e-3", 0 } }, NULL, NULL },
  { "torque-millivolts.csv", ',', '.', 0, UTF8, 2, 0, 3, 0, "time s, command N·m, torque mV", { { TORQUE, 0, "-8e-3",
    2.5 }, { TORQUE, 2, "2850e-3", 2.5 }, { COMMAND, 2, "5", 0 } }, NULL, NULL },
  /* Names over two lines; a line of other words above the names is none of them. */
  { "header-two-lines.csv", ';', ',', 0, UTF8, 1, 3, 3, 0, "time ms, command N·m, torque N·m, velocity rpm", { { COMMAND,
    1, "8", 0 }, { TORQUE, 2, "7.125", 0 }, { VELOCITY, 1, "30", RAD_S_PER_RPM } }, NULL, NULL },
  { "header-groups.csv", ',', '.', 0, UTF8, 1, 0, 3, 0, "time s, command N·m, torque N·m, angle deg, velocity rpm", { {
    COMMAND, 1, "8", 0 }, { TORQUE, 2, "7.125", 0 }, { ANGLE, 1, "45", RAD_PER_DEG } }, NULL, NULL },
  { "header-broken-names.csv", ';', ',', 0, UTF8, 1, 0, 3, 0, "time s, command N·m, torque N·m", { { COMMAND, 1, "8", 0
    }, { TORQUE, 2, "7.125", 0 }, { TIME, 1, "0.1", 0 } }, NULL, NULL },
  { "header-below-words.csv", ';', ',', 0, UTF8, 2, 3, 3, 0, "time s, command N·m, torque N·m, velocity rpm", { {
    COMMAND, 1, "8", 0 }, { TORQUE, 2, "7.125", 0 }, { VELOCITY, 1, "30", RAD_S_PER_RPM } }, NULL, NULL },
  { "header-two-lines-again.csv", ',', '.', 0, UTF8, 1, 3, 3, 0, "time s, torque N·m, velocity rpm", { { TORQUE, 2,
    "7.125", 0 }, { VELOCITY, 2, "60", RAD_S_PER_RPM }, { TIME, 2, "0.2", 0 } }, NULL, "the header is repeated on 1 line"
    },
  /* Volts are no torque without a factor. */
  { "volts-unnamed-beside-speed.csv", ',', '.', 0, UTF8, 1, 0, 3, 0, "time ms, velocity rpm, -", { { TIME, 2, "2.5e-3", 0 }, {
    VELOCITY, 1, "30", RAD_S_PER_RPM }, { VELOCITY, 2, "60", RAD_S_PER_RPM } }, "1 ch1 (V): is in volts, and no column names "
    "a torque: taken for the signal of a torque transducer (if it is none, give it the role supply or other); the torque in V "
    "cannot be read without the torque in N·m that one volt stands for; state it in the import sheet or a layout", NULL },
  /* An angle that goes round with the field, a unit that nobody knows, and columns that say as much as each other. */
  { "angle-electrical.csv", ';', ',', 0, UTF8, 1, 0, 3, 0, "time s, -, torque N·m", USUAL,
    "1 Elektrischer Winkel [deg]: its name says that it is the electrical angle, which is that of the shaft times the pole "
    "pairs of the motor; the column is read past. Divide it by the pole pairs, and leave the word out", NULL },
  { "unit-unknown-sign.csv", ',', '.', 0, UTF8, 1, 0, 3, 0, "time s, -, torque N·m", USUAL,
    "1 torque_‰: the unit '‰' is not one for torque (N·m, mN·m, kN·m, daN·m, N·cm, kgf·m, kgf·cm, gf·cm, lbf·ft, lbf·in, ozf·in, A, mA, V, "
    "mV or %); the column is read past", NULL },
  { "unit-stated-beside.csv", ',', '.', 0, UTF8, 1, 0, 3, 0, "time s, -, torque mN·m", USUAL,
    "1 torque: torque is already read from the column 'torque_mNm'; this one is read past", NULL },
  { "time-of-each-channel.csv", ';', ',', 0, UTF8, 1, 0, 3, 0, "time s, command N·m, -, torque N·m", USUAL, NULL,
    "the other time in 't2 [s]' is read past" },
  { "torque-filtered-and-raw.csv", ',', '.', 0, UTF8, 1, 0, 3, 0, "time s, torque N·m, -", USUAL,
    "1 Torque raw [Nm]: torque is already read from the column 'Torque filtered [Nm]'; this one is read past",
    "'Torque raw [Nm]' may be the torque as well as 'Torque filtered [Nm]', and only the order of the columns decides" },
  { "torque-twice.csv", ',', '.', 0, UTF8, 1, 0, 3, 0, "time s, torque N·m, -", USUAL,
    "1 torque_Nm: torque is already read from the column 'torque_Nm' (column 2); this one is read past",
    "'torque_Nm' (column 3) may be the torque as well as 'torque_Nm' (column 2)" },
  /* One bad time stamp is one bad row, and the marks of a full instrument are no values. */
  { "time-one-far-ahead.csv", ',', '.', 0, UTF8, 1, 0, 7, 1, "time s, torque N·m", { { TORQUE, 1, "1.25", 0 }, { TIME, 2, "0.3",
    0 }, { TIME, 6, "0.7", 0 } }, "4: its time stands alone (1.2 s, and the next row goes on at 0.3 s from the row before)", NULL },
  { "cells-overload.csv", ',', '.', 0, UTF8, 1, 0, 3, 2, "time s, torque N·m", USUAL,
    "4 torque_Nm: '9.9E+37' is an overload mark of an instrument", NULL },
  /* Ticks of a stated length, hundredths of a newton metre, and a rate that is not that of the times (2.5 kHz). */
  { "time-ticks.csv", ',', '.', 0, UTF8, 1, 0, 3, 0, "time 100 µs, command N·m, torque N·m", { { TIME, 1, "4e-4", 0 }, { TIME,
    2, "8e-4", 0 }, { TORQUE, 2, "7.125", 0 } }, NULL, "its unit is written '100us': each number is taken for so many times 100 µs" },
  { "time-ticks-50us.csv", ',', '.', 0, UTF8, 1, 0, 12, 0, "time 50 µs, command N·m, torque N·m", { { TIME, 1, "10e-5", 5 }, { TIME,
    11, "110e-5", 5 }, { TORQUE, 2, "7.125", 0 } }, NULL, "its unit is written '50us': each number is taken for so many times 50 µs" },
  { "time-ticks-250us.csv", ';', ',', 0, UTF8, 1, 0, 3, 0, "time 250 µs, command N·m, torque N·m", { { TIME, 1, "2e-5", 25 }, { TIME,
    2, "4e-5", 25 }, { TORQUE, 2, "7.125", 0 } }, NULL, "its unit is written '250us': each number is taken for so many times 250 µs" },
  { "time-ticks-in-brackets.csv", ',', '.', 0, UTF8, 1, 0, 12, 0, "time 50 µs, command N·m, torque N·m", { { TIME, 1, "10e-5", 5 },
    { TIME, 11, "110e-5", 5 }, { TORQUE, 2, "7.125", 0 } }, NULL, "its unit is written '50 us'" },
  { "time-ticks-interval.csv", ',', '.', 0, UTF8, 2, 0, 12, 0, "time samples, command N·m, torque N·m", { { TIME, 1, "5e-4", 0 },
    { TIME, 11, "5.5e-3", 0 }, { TORQUE, 2, "7.125", 0 } }, NULL,
    "'ticks': rises by 10 in a row, and a sample rate of 2000 Hz is stated: taken for ticks of 50 µs" },
  { "time-interval-stated.csv", ',', '.', 0, UTF8, 2, 0, 12, 0, "time ms, command N·m, torque N·m", { { TIME, 1, "0.5e-3", 0 },
    { TIME, 11, "5.5e-3", 0 }, { TORQUE, 2, "7.125", 0 } }, NULL,
    "'time': names no unit and rises by 0.5 in a row, and a sample rate is stated: taken for the time in ms" },
  { "unit-one-hundredth.csv", ';', ',', 0, UTF8, 1, 0, 3, 0, "time ms, torque N·cm", { { TORQUE, 0, "2e-2", 0 }, { TORQUE, 1,
    "125e-2", 0 }, { TORQUE, 2, "712.5e-2", 0 } }, NULL, "its unit is written '1/100 Nm'" },
  { "preamble-rate-other.csv", ',', '.', 0, UTF8, 2, 0, 12, 0, "time s, torque N·m", USUAL, NULL,
    "a sample rate of 1000 Hz is stated, and the times show one of 2500 Hz: the times count" },
  /* An encoder is asked about, not passed over. */
  { "encoder-unstated.csv", ',', '.', 0, UTF8, 1, 0, 3, 0, "time ms, -, torque N·m", USUAL,
    "1 encoder: names an encoder or raw numbers: taken for the angle in counts; the angle in counts cannot be read without "
    "the number of counts in a turn; state it in the import sheet or a layout", NULL },
  { "encoder-raw.csv", ';', ',', 0, UTF8, 2, 0, 3, 0, "time ms, angle counts, torque N·m", { { ANGLE, 0, "0", 0 }, {
    ANGLE, 1, "1024", RAD_PER_TURN / 4096 }, { TORQUE, 2, "7.125", 0 } }, NULL, NULL },
  /* Room that the logger reserved and did not fill. */
  { "tail-of-zeros.csv", ',', '.', 0, UTF8, 1, 0, 3, 0, "time s, torque N·m", USUAL, "5: the file ends in 4096 zero bytes, "
    "which were left out: room that the logger reserved and did not fill", NULL },
  { "tail-of-zeros-utf16.csv", ';', ',', 0, LE, 1, 0, 3, 1, "time s, torque N·m", USUAL,
    "5: the file ends in this row, after 1 of 2 cells", NULL },
  { "markdown.txt", '|', '.', 0, UTF8, 1, 0, 3, 0, "-, time s, torque N·m", USUAL, NULL, NULL },
  { "unit-time-min.csv", ',', '.', 0, UTF8, 1, 0, 3, 0, "time min, torque N·m", { { TIME, 1, "0.5", 60 }, { TORQUE, 2,
    "7.125", 0 }, { TIME, 2, "1", 60 } }, NULL, NULL },
  { "unit-time-h.csv", ',', '.', 0, UTF8, 1, 0, 3, 0, "time h, torque N·m, -", { { TIME, 1, "0.5", 3600 }, { TORQUE, 2,
    "7.125", 0 }, { TIME, 2, "1", 3600 } }, NULL, NULL },
  /* Forms of the bench: thousands of turns a minute, percent of full scale, the minus of mathematics, no-break blanks
   * around numbers, minutes and seconds that go on beyond the hour. */
  { "unit-krpm.csv", ',', '.', 0, UTF8, 1, 0, 3, 0, "time s, velocity krpm, torque N·m", { { VELOCITY, 1, "0.5",
    104.71975511965977 }, { VELOCITY, 2, "1.25", 104.71975511965977 }, { TORQUE, 2, "7.125", 0 } }, NULL, NULL },
  { "unit-percent-fs.csv", ',', '.', 0, UTF8, 2, 0, 3, 0, "time s, torque %, command %", { { TORQUE, 1, "6.25", 0.2 }, {
    TORQUE, 2, "35.625", 0.2 }, { COMMAND, 1, "40", 0.2 } }, NULL, NULL },
  { "minus-sign.csv", ';', ',', 0, UTF8, 1, 0, 3, 0, "time s, torque N·m, velocity rad/s", { { TORQUE, 0, "-0.02", 0 }, {
    TORQUE, 2, "-7.125", 0 }, { VELOCITY, 1, "-1.5e-3", 0 } }, NULL, NULL },
  { "blanks-no-break-around.csv", ';', ',', 0, UTF8, 1, 0, 3, 0, "time s, torque N·m", USUAL, NULL, NULL },
  { "time-minutes.csv", ',', '.', 0, UTF8, 1, 0, 3, 0, "time clock time, torque N·m", { { TIME, 1, "0.1", 0 }, { TIME,
    2, "0.225", 0 }, { TORQUE, 2, "7.125", 0 } }, NULL, NULL },
  /* 59:59.999 is a thousandth of a second before the full hour, and so is 23:59:59.999 before midnight. */
  { "time-minutes-over-hour.csv", ',', '.', 0, UTF8, 1, 0, 4, 0, "time clock time, torque N·m", { { TIME, 2, "0.002", 0 },
    { TIME, 3, "0.003", 0 }, { TORQUE, 2, "7.125", 0 } }, NULL,
    "the minutes and seconds pass the full hour at line 4 and go on as of the next hour" },
  { "time-minutes-then-hours.csv", ',', '.', 0, UTF8, 1, 0, 4, 0, "time clock time, torque N·m", { { TIME, 1, "0.1", 0 },
    { TIME, 2, "0.2", 0 }, { TIME, 3, "0.3", 0 } }, NULL, NULL },
  { "time-clock-over-midnight.csv", ',', '.', 0, UTF8, 1, 0, 3, 0, "time clock time, torque N·m", { { TIME, 1, "0.001",
    0 }, { TIME, 2, "0.002", 0 }, { TORQUE, 2, "7.125", 0 } }, NULL,
    "the time of day passes midnight at line 4 and goes on as of the next day" },
  { "time-date-with-solidi.csv", ',', '.', 0, UTF8, 1, 2, 3, 0, "time clock time, command lbf·in, torque lbf·in", { { TIME,
    1, "0.001", 0 }, { TIME, 2, "0.002", 0 }, { TORQUE, 0, "0.25", 0.1129848290276167 } }, NULL, NULL },
  { "time-whole-seconds.csv", ',', '.', 0, UTF8, 1, 0, 3, 9, "time clock time, torque N·m", { { TIME, 1, "1", 0 }, {
    TORQUE, 1, "4.5", 0 }, { TIME, 2, "2", 0 } }, "3: time does not increase (0 s after 0 s)",
    "most rows say the same time as the one before" },
  { "names-dutch.txt", '\t', ',', 0, UTF8, 2, 3, 3, 0, "time ms, torque N·m, velocity rpm", { { TIME, 2, "2.5e-3", 0 }, {
    VELOCITY, 1, "30", RAD_S_PER_RPM }, { TORQUE, 2, "7.125", 0 } }, NULL, NULL },
  { "names-windows-1250.csv", ';', ',', 0, LATIN1, 1, 0, 3, 0, "time ms, velocity rpm, torque N·m", { { TIME, 2, "2.5e-3", 0
    }, { VELOCITY, 2, "60", RAD_S_PER_RPM }, { TORQUE, 2, "7.125", 0 } }, NULL, "are taken for Latin-1 (Windows-1252): if they "
    "look wrong, state the encoding (Windows-1250 for central Europe)" },
  { "names-in-another-encoding.csv", ',', '.', 0, LATIN1, 1, 0, 3, 0, "time s, torque N·m", USUAL, NULL,
    "the names of the columns are in another encoding" },
  { "torque-estimated.csv", ',', '.', 0, UTF8, 1, 0, 3, 0, "time s, torque N·m", USUAL, NULL,
    "the torque is estimated and not measured, by the name of its column 'Torque est. [Nm]'" },
  { "torque-estimated-beside.csv", ',', '.', 0, UTF8, 1, 0, 3, 0, "time s, -, torque N·m", USUAL,
    "1 calc. torque [Nm]: torque is already read from the column 'torque meas. [Nm]'; this one is read past", NULL },
  /* Braces before the table do not make it JSON. */
  { "preamble-json.csv", ',', '.', 0, UTF8, 2, 0, 3, 0, "time s, torque N·m", USUAL, NULL, NULL },
  /* A scope's export of channels alone. A row that is left out took its time: the third row kept is sample 3. */
  { "time-none-rate-before.csv", ',', '.', 0, UTF8, 5, 0, 3, 1, "command N·m, torque N·m", { { TIME, 1, "0.0005", 0 }, {
    TIME, 2, "0.0015", 0 }, { TORQUE, 2, "7.125", 0 } }, "8 CH2 torque [Nm]: 'overload' is an overload mark of an instrument",
    "the lines before the table state a sample rate: each row is taken for one sample, 2000 of them in a second; confirm" },
  { "time-none-interval-before.csv", ';', ',', 0, UTF8, 5, 0, 3, 0, "command N·m, torque N·m", { { TIME, 1, "0.0001", 0 }, {
    TIME, 2, "0.0002", 0 }, { TORQUE, 2, "7.125", 0 } }, NULL,
    "the lines before the table state a sample rate: each row is taken for one sample, 10000 of them in a second; confirm" },
  /* A unit for one column in a line of its own, units in comments, and units that are not known. */
  { "units-horizontal-and-vertical.csv", ',', '.', 0, UTF8, 4, 3, 3, 0, "time ms, command mN·m, torque mN·m", { { TIME, 2, "1e-3", 0 }, { TORQUE, 0, "20e-3", 0 }, { TORQUE, 2, "7125e-3", 0 } }, NULL,
    NULL },
  { "units-horizontal-alone.csv", ',', '.', 0, UTF8, 3, 0, 3, 0, "time µs, command N·m, torque N·m", { { TIME, 1, "500e-6", 0 }, { TIME, 2, "1000e-6", 0 }, { TORQUE, 2, "7.125", 0 } }, NULL,
    NULL },
  { "units-of-one-column-each.csv", ';', '.', 0, UTF8, 4, 0, 3, 0, "time ms, command N·m, torque mN·m", { { TIME, 2, "2e-3", 0 }, { TORQUE, 0, "20e-3", 0 }, { TORQUE, 2, "7125e-3", 0 } }, NULL,
    NULL },
  { "units-horizontal-unknown.csv", ',', '.', 0, UTF8, 2, 0, 4, 0, "time , command N·m, torque N·m", { { TIME, 1, "0.01", 0 }, { TIME, 2, "0.02", 0 }, { TORQUE, 2, "7.125", 0 } }, NULL,
    "line 1 states its unit as 'frob', which is none that is known: taken for s; state the unit" },
  { "units-comment-below-names.csv", ',', '.', 0, UTF8, 1, 2, 3, 0, "time ms, command N·m, torque mN·m", { { TIME, 2, "2e-3", 0 }, { TORQUE, 0, "20e-3", 0 }, { TORQUE, 2, "7125e-3", 0 } }, NULL,
    NULL },
  { "units-one-unknown-above.csv", ',', '.', 0, UTF8, 2, 1, 3, 0, "time ms, command N·m, torque N·m, -", { { TIME, 2, "2e-3", 0 }, { TORQUE, 0, "0.02", 0 }, { TORQUE, 2, "7.125", 0 } }, "2 speed: the unit 'frob' is not one for velocity (rad/s, mrad/s, deg/s, rpm, krpm, turns/s or %); the column is read past",
    NULL },
  { "units-none-known.csv", ',', '.', 0, UTF8, 1, 0, 3, 1, "time s, command N·m, torque N·m", USUAL, "2 time_s: 'zork' is no number",
    "if they are units, none of them is known" },
  /* The length of a tick, and an interval whose unit is in the cell behind it. */
  { "time-tick-us.csv", ',', '.', 0, UTF8, 2, 0, 3, 0, "time samples, command N·m, torque N·m", { { TIME, 1, "500e-6", 0 }, { TIME, 2, "1000e-6", 0 }, { TORQUE, 2, "7.125", 0 } }, NULL,
    NULL },
  { "time-dt-next-cell.csv", ';', ',', 0, UTF8, 2, 0, 3, 0, "time samples, command N·m, torque N·m", { { TIME, 1, "0.5e-3", 0 }, { TIME, 2, "1.0e-3", 0 }, { TORQUE, 2, "7.125", 0 } }, NULL,
    NULL },
  /* One bad stamp of a clock: one row. */
  { "clock-bad-second.csv", ',', '.', 0, UTF8, 1, 0, 4, 1, "time clock time, command N·m, torque N·m", { { TIME, 1, "0.0010", 0 }, { TIME, 3, "0.0020", 0 }, { TORQUE, 1, "7.125", 0 } }, "3: its time stands alone (86400.0005 s, and the next row goes on at 0.001 s from the row before)",
    NULL },
  { "clock-first-ahead.csv", ',', '.', 0, UTF8, 1, 0, 6, 1, "time clock time, command N·m, torque N·m",
    { { TIME, 0, "0", 0 }, { TIME, 5, "0.0025", 0 }, { TORQUE, 0, "1.25", 0 } },
    "2: its time stands alone, ahead of the rows behind it", "table 2 of the file was read; one is before it" },
  { "clock-bad-first.csv", ',', '.', 0, UTF8, 1, 0, 4, 1, "time clock time, command N·m, torque N·m", { { TIME, 0, "0", 0 }, { TIME, 3, "0.0015", 0 }, { TORQUE, 0, "1.25", 0 } }, "2 time: '10:00:00' is written with or without date, zone or hours, unlike the others",
    NULL },
  { "clock-number-first.csv", ',', '.', 0, UTF8, 1, 0, 4, 1, "time clock time, command N·m, torque N·m", { { TIME, 0, "0", 0 }, { TIME, 3, "0.0015", 0 }, { TORQUE, 0, "1.25", 0 } }, "2 time: '12.5' is no clock time",
    NULL },
  { "clock-night-stamp.csv", ',', '.', 0, UTF8, 1, 0, 4, 1, "time clock time, command N·m, torque N·m", { { TIME, 1, "0.0005", 0 }, { TIME, 2, "0.0015", 0 }, { TORQUE, 2, "7.5", 0 } }, "4: its time stands alone (50399 s, and the next row goes on at 0.0015 s from the row before)",
    NULL },
  /* Units above the names, behind a line of delimiters alone, and below or in a comment. */
  { "units-row-above.csv", ',', '.', 0, UTF8, 2, 1, 3, 0, "time ms, command N·m, torque N·m, velocity rpm", { { TIME, 2, "2e-3", 0 }, { TORQUE, 2, "7.125", 0 }, { VELOCITY, 1,
    "30", RAD_S_PER_RPM } }, NULL, NULL },
  { "units-row-after-delimiters.csv", ',', '.', 0, UTF8, 1, 3, 3, 0, "time ms, command N·m, torque N·m, velocity rpm", { { TIME, 2, "2e-3", 0 }, { TORQUE, 2, "7.125", 0 }, { VELOCITY, 1,
    "30", RAD_S_PER_RPM } }, NULL, NULL },
  { "units-row-below-comment.csv", ';', ',', 0, UTF8, 2, 3, 3, 0, "time ms, command N·m, torque N·m, velocity rpm", { { TIME, 2, "2e-3", 0 }, { TORQUE, 2, "7.125", 0 }, { VELOCITY, 1,
    "30", RAD_S_PER_RPM } }, NULL, NULL },
  { "units-row-in-comment.csv", ',', '.', 0, UTF8, 1, 2, 3, 0, "time ms, command N·m, torque N·m, velocity rpm", { { TIME, 2, "2e-3", 0 }, { TORQUE, 2, "7.125", 0 }, { VELOCITY, 1,
    "30", RAD_S_PER_RPM } }, NULL, NULL },
  /* 7.1 may have been 7.125 before the file was cut. */
  { "decimals-fewer-at-end.csv", ',', '.', 0, UTF8, 1, 0, 3, 0, "time s, command N·m, torque N·m", { { TORQUE, 1, "1.25",
    0 }, { TORQUE, 2, "7.1", 0 }, { TIME, 1, "0.1", 0 } }, NULL,
    "the last line, 4, has no line end, and its last number has fewer decimals than those before" },
  { "unit-speed-in-words.csv", ',', '.', 0, UTF8, 1, 0, 3, 0, "time ms, velocity rpm, torque N·m", { { TIME, 2, "2e-3", 0 }, {
    VELOCITY, 1, "30", RAD_S_PER_RPM }, { TORQUE, 2, "7.125", 0 } }, NULL, NULL },
  /* Beyond the lines that are looked at, 1503 rows of some 16 bytes. */
  { "thousands-far-behind.csv", ';', ',', 0, UTF8, 1, 0, 1503, 0, "time ms, command N·m, velocity rpm", { { VELOCITY, 1499,
    "149.9", RAD_S_PER_RPM }, { VELOCITY, 1500, "1000.5", RAD_S_PER_RPM }, { VELOCITY, 1502, "1002.5", RAD_S_PER_RPM } }, NULL,
    "line 1502, column 'speed_rpm': '1’000,5' has its thousands apart" },
  /* A title of as many words as there are columns; the names behind it hold units and more blanks. */
  { "title-of-three-words.csv", '\t', '.', 0, UTF8, 4, 0, 3, 0, "time ms, torque N·m, velocity rpm", { { TIME, 2, "2e-3", 0 },
    { TORQUE, 2, "7.125", 0 }, { VELOCITY, 1, "30", RAD_S_PER_RPM } }, NULL, NULL },
  { "thousands-apostrophe-latin1.csv", ';', ',', '\'', LATIN1, 1, 0, 3, 0, "time ms, velocity rpm, -", { { VELOCITY, 0, "999.5",
    RAD_S_PER_RPM }, { VELOCITY, 1, "1000.5", RAD_S_PER_RPM }, { VELOCITY, 2, "1190.5", RAD_S_PER_RPM } }, NULL, NULL },
  /* A number of the row, remarks that nobody made, and columns that a row of units leaves out. */
  { "sample-number.csv", ';', '.', 0, UTF8, 2, 0, 3, 0, "time samples, torque mN·m, -", { { TIME, 0, "0.0005", 0 }, { TIME, 2,
    "0.0015", 0 }, { TORQUE, 2, "7.125", 0 } }, NULL, NULL },
  { "last-column-empty.csv", '\t', '.', 0, UTF8, 1, 0, 3, 0, "time ms, command mN·m, velocity rpm, -", { { TIME, 2, "3e-3", 0
    }, { COMMAND, 1, "8", 0 }, { VELOCITY, 1, "30", RAD_S_PER_RPM } }, NULL, NULL },
  { "units-row-above-some.csv", ',', '.', 0, UTF8, 2, 1, 3, 0, "time ms, command N·m, torque mN·m, -, -", { { TIME, 2,
    "2e-3", 0 }, { COMMAND, 1, "8", 0 }, { TORQUE, 2, "7.125", 0 } }, NULL, NULL },
  /* Units of the channels in the order of their columns, and of all columns, behind a word. */
  { "preamble-units-per-channel.csv", ',', '.', 0, UTF8, 4, 2, 3, 0, "time ms, command N·m, torque mN·m", { { TIME, 2,
    "1e-3", 0 }, { COMMAND, 1, "8", 0 }, { TORQUE, 2, "7.125", 0 } }, NULL, NULL },
  { "preamble-units-of-all.csv", ',', '.', 0, UTF8, 4, 2, 3, 0, "time ms, command N·m, torque mN·m", { { TIME, 2,
    "1e-3", 0 }, { COMMAND, 1, "8", 0 }, { TORQUE, 2, "7.125", 0 } }, NULL, NULL },
  { "preamble-units-two-columns.csv", ',', '.', 0, UTF8, 3, 2, 3, 0, "time , torque V", { { TORQUE, 0, "0.01", 2 }, {
    TORQUE, 1, "0.625", 2 }, { TORQUE, 2, "3.5625", 2 } }, NULL, "'CH1': is in volts, and no column names a torque" },
  /* A blank line, and numbers behind it that look like words to commas. */
  { "thousands-blank-quoted.csv", ',', ',', ' ', UTF8, 1, 0, 3, 0, "time µs, torque mN·m", { { TIME, 1, "1500.5e-6", 0 }, {
    TORQUE, 1, "1.25", 0 }, { TORQUE, 2, "7.125", 0 } }, NULL, NULL },
  /* "2,500" where commas stand between the cells is 2500; "65.536" above decimal commas is 65536. */
  { "preamble-rate-thousands.csv", ',', '.', 0, UTF8, 2, 0, 3, 0, "time samples, command N·m, torque N·m", { { TIME, 0, "0.0004", 0 }, { TIME,
    2, "0.0012", 0 }, { TORQUE, 2, "7.125", 0 } }, NULL, "column 'sample': line 1 states '2,500', which is taken for a number in "
    "thousands" },
  { "preamble-counts-thousands.csv", ';', ',', 0, UTF8, 2, 0, 3, 0, "time s, angle counts, torque N·m", { { ANGLE, 1, "16384",
    RAD_PER_TURN / 65536 }, { ANGLE, 2, "32768", RAD_PER_TURN / 65536 }, { TORQUE, 2, "7.125", 0 } }, NULL,
    "column 'Winkel [counts]': line 1 states '65.536', which is taken for a number in thousands" },
  { "units-row-latin1.csv", ',', '.', 0, LATIN1, 1, 2, 3, 0, "time µs, command N·m, angle deg", { { TIME, 1, "1500e-6", 0 }, {
    COMMAND, 1, "8", 0 }, { ANGLE, 1, "45", RAD_PER_DEG } }, NULL, NULL },
  { "tables-two-delimiters.csv", ',', '.', 0, UTF8, 1, 0, 3, 0, "time s, torque N·m", USUAL, NULL, "line 6" },
};

/* clang-format on */
