#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Speed and memory of reading ten logs of a million rows (about 385 MB), all columns kept, on one thread and on two, against
# counting lines, libcsv with empty callbacks, pandas' C reader and R data.table's fread. Exit status 1 when a goal is
# missed. Not part of the tests: the figures mean something only on a machine that has nothing else to do.
#
#     sh tests/bench/import.sh [TIMES]      best of TIMES runs of each, alternately; 5 when left out
#
# Needs 500 MB of room in TMPDIR (/tmp when that is not set), which it gives back, and 2 GB of memory.
set -eu
cd "$(dirname "$0")/../.."
. app/packages.sh

times=${1:-5}
case $times in '' | 0 | *[!0-9]*) fail "usage: sh tests/bench/import.sh [TIMES]" ;; esac
# shellcheck disable=SC2086 # words are wanted apart
need_packages $BUILD_PACKAGES python3-pandas r-base-core r-cran-data.table
[ -d "${TMPDIR:-/tmp}" ] || fail "TMPDIR ($TMPDIR) is no folder."
room=$(df -Pk "${TMPDIR:-/tmp}" | awk 'NR == 2 { print int($4 / 1024) }')
[ "$room" -ge 500 ] || fail "${TMPDIR:-/tmp} has only $room MB of room; 500 are needed. Set TMPDIR to another folder."
build build/release tests/bench/read_logs --buildtype=release

work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
trap 'exit 1' INT TERM HUP
gcc -std=c17 -O2 -o "$work/make_logs" tests/bench/make_logs.c -lm
"$work/make_logs" "$work/logs" 10 1000000
echo "Best of $times, logs in the page cache. Load average $(cut -d' ' -f1-3 /proc/loadavg), $(nproc) processors."
/usr/bin/python3 tests/bench/time_import.py build/release/tests/bench/read_logs "$work/logs" "$times"
