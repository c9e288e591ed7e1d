#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# How long the window hears nothing while choices are made on a bench of 200 configurations of 50 trials, beside the same
# choices on one of 10 configurations, in one run. Not part of the tests.
#
#     sh tests/bench/choices.sh BUILD      BUILD of a release build: build/release
#
# Exits 1 when a choice blocks the main loop for more than 50 ms of the processor's time. Needs 150 MB of room in TMPDIR.
set -eu
[ $# -eq 1 ] || { echo "usage: sh tests/bench/choices.sh BUILD" >&2; exit 64; }
build=$(realpath "$1")
cd "$(dirname "$0")/../.."
ninja -C "$build" tests/bench/bench_choices >/dev/null
export GDK_DEBUG=gl-disable GSK_RENDERER=cairo HEADLESS_TIMEOUT=900

echo "Longest time between two polls, median of 5 turns, in ms. Load average $(cut -d' ' -f1 /proc/loadavg)."
# shellcheck disable=SC2016 # expanded by the inner shell
tests/window/headless --no-wm sh -c '
    "$1" 10 50 300 5 | sed "s/^/baseline\t/"
    "$1" 200 50 300 5 | sed "s/^/large\t/"' sh "$build/tests/bench/bench_choices" | awk -F '\t' '
    BEGIN { printf "%-38s %10s %10s %10s %10s %7s\n", "", "10 x 50", "200 x 50", "200 x 50", "200 x 50", "ratio"
            printf "%-38s %10s %10s %10s %10s %7s\n", "", "processor", "processor", "wall", "worst wall", "" }
    $2 ~ /^#/ { next }
    $1 == "baseline" { base[$2] = $4; next }
    { late_now = $4 > 50
      printf "%-38s %10.1f %10.1f %10.1f %10.1f %7.2f%s\n", $2, base[$2], $4, $3, $5, $4 / base[$2], late_now ? "  too long" : ""
      late += late_now; n++ }
    END { exit late > 0 || n == 0 }'
