#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Processor time of the report of 12 configurations and 120 trials with every judgement, which is to be below 2 s. Not part
# of the tests: the figures mean something only on a machine that has nothing else to do.
#
#     sh tests/bench/report.sh PROGRAM      PROGRAM of a release build: build/release/app/slewbench
#
# Needs the Debian packages time, python3-numpy.
set -eu
[ $# -eq 1 ] && [ -x "$1" ] || { echo "usage: sh tests/bench/report.sh PROGRAM" >&2; exit 1; }
program=$(realpath "$1")
make_bench=$(realpath "$(dirname "$0")/make_bench.py")

work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
trap 'exit 1' INT TERM HUP
cd "$work"
/usr/bin/python3 "$make_bench" bench 1000
missed=0
for labels in none all; do
    best=99
    for run in 1 2 3 4 5; do
        rm -rf out
        /usr/bin/time -o time -f '%U %S' "$program" report -o out --labels "$labels" --difference-curves --drive-model \
            --plan 5 --audit 'torque slope' --audit damping --claim 'Alder: peak_torque_slope >= 2 N·m/ms' \
            --claim 'Sedge: peak_torque_slope >= 1 N·m/ms' --claim 'velocity_rise_time <= 500 ms' bench 2>said ||
            { cat said >&2; exit 1; }
        best=$(awk -v best="$best" '{ s = $1 + $2; print s < best ? s : best }' time)
    done
    echo "labels $labels: $best s of the processor, best of 5"
    awk -v best="$best" 'BEGIN { exit !(best < 2) }' || missed=1
done
exit $missed
