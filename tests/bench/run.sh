#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Speed and memory of `measure --json --chart` against a script with pandas, scipy and matplotlib that does the same.
# Not part of the tests: the figures mean something only on a machine that has nothing else to do.
#
#     sh tests/bench/run.sh PROGRAM      PROGRAM of a release build: build/release/app/slewbench
#
# Needs the Debian packages gcc, libc6-dev, time, python3-pandas, python3-scipy, python3-matplotlib, and 1 GB of room
# in TMPDIR (/tmp when that is not set), which it gives back.
set -eu

fail() {
    echo "bench: $*" >&2
    exit 1
}

packages="gcc libc6-dev time python3-pandas python3-scipy python3-matplotlib"
[ $# -eq 1 ] || fail "usage: sh tests/bench/run.sh PROGRAM"
{ [ -f "$1" ] && [ -x "$1" ]; } ||
    fail "$1 is no program. Build one: meson setup build/release --buildtype=release && ninja -C build/release"
program=$(realpath "$1")
cd "$(dirname "$0")"

for tool in gcc /usr/bin/time /usr/bin/python3; do
    command -v "$tool" >/dev/null || fail "$tool is missing. Install: $packages"
done
/usr/bin/python3 -c 'import matplotlib, pandas, scipy' 2>/dev/null ||
    fail "Debian's python3 lacks pandas, scipy or matplotlib. Install: $packages"
[ -d "${TMPDIR:-/tmp}" ] || fail "TMPDIR ($TMPDIR) is no folder."
room=$(df -Pk "${TMPDIR:-/tmp}" | awk 'NR == 2 { print int($4 / 1024) }')
[ "$room" -ge 1100 ] || fail "${TMPDIR:-/tmp} has only $room MB of room; 1100 are needed. Set TMPDIR to another folder."

work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
trap 'exit 1' INT TERM HUP
gcc -std=c17 -O2 -o "$work/make_logs" make_logs.c -lm

echo "Best of 5, 3 and 2 runs, alternately, logs in the page cache. Load average $(cut -d' ' -f1 /proc/loadavg)."
echo "script: one thread; threads: the same with a thread per core ($(nproc)); program: as a user runs it."
echo
printf '%-20s %8s %8s %8s %7s %7s %8s %8s %6s\n' '' script threads program ratio ratio script program memory
printf '%-20s %8s %8s %8s %7s %7s %8s %8s %6s  %s\n' 'logs x rows' s s s script threads MB MB ratio goal

# bench N_LOGS N_ROWS TIMES GOAL_RATIO GOAL_MEMORY
agreed=0
bench() {
    folder="$work/$1 x $2"
    "$work/make_logs" "$folder" "$1" "$2"
    /usr/bin/python3 time_both.py "$program" "$folder" "$3" "$4" "$5" || agreed=1
    rm -rf "$folder"
}
bench 20 3000 5 25 0
bench 40 100000 3 8 0
bench 20 1000000 2 8 0.3334
exit $agreed
